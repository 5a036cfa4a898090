"""The depth profile: the bed off a bank, as if the water were cut open at right angles to the shore."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from typing import Any

import numpy as np
from shapely import LineString, MultiLineString, Polygon, box, unary_union

from atlasgen.compose.drawing import area, dots, line, nice_step, text
from atlasgen.compose.lettering import RISE, TAIL, Board, text_box, text_width_mm
from atlasgen.model import Drawing, Shape
from atlasgen.units import DEPTH_UNIT_M, FOOT_M, DepthUnit, DistanceUnit, depth_words, distance_words, level_words

_TICK_MM = 2.3
_LEFT_MM, _RIGHT_MM, _TOP_MM, _BOTTOM_MM = 10.0, 4.0, 5.0, 5.5
_WATER_SHADE = 0.35
_DEPTH_SHORT = {"feet": "ft", "metres": "m"}
_DISTANCE_UNIT_M = {"metric": (1.0, "m"), "imperial": (FOOT_M, "ft")}
_MOST_SAID = 7  # depths named in the words for those who cannot see the drawing

Profile = tuple[tuple[float, float | None], ...]


@dataclass(frozen=True, slots=True)
class _Plot:
    """The axes: metres to mm. Depth runs down from `top_m` to `bottom_m`, distance right from the bank."""

    left: float
    right: float
    top: float
    bottom: float
    far_m: float
    top_m: float
    bottom_m: float

    def x(self, distance_m: float) -> float:
        return self.left + (self.right - self.left) * distance_m / self.far_m

    def y(self, depth_m: float) -> float:
        return self.top + (self.bottom - self.top) * (depth_m - self.top_m) / (self.bottom_m - self.top_m)


def depth_profile(
    id: str,
    profile: Profile,
    stage_m: float | None,
    depth_unit: DepthUnit,
    distance_unit: DistanceUnit,
    *,
    datum: str = "chart datum",
    width_mm: float = 84.0,
    height_mm: float = 40.0,
) -> Drawing | None:
    """Return the profile of (distance from the bank, depth below datum or None), metres; None if no depth is known.

    `stage_m` is the water level on the day of the photos against the datum, None if unknown. The bed is drawn between
    neighbouring known depths only; what lies between others is left open and said to be not known.
    """
    points = tuple(sorted(profile, key=lambda point: point[0]))
    known = [depth_m for _, depth_m in points if depth_m is not None]
    if not known or points[-1][0] <= 0:
        return None
    plot = _plot(points[-1][0], known, stage_m, depth_unit, width_mm, height_mm)
    board, runs = Board(box(0, 0, width_mm, height_mm), 0.2), _known_runs(points)
    below, bed = _bed(plot, runs, stage_m or 0.0, board)
    above = _levels(plot, stage_m, depth_unit, datum, board) + _gaps(plot, points, runs, board)
    shapes = below + _grid(plot, depth_unit, board) + bed + above + _distance_ticks(plot, distance_unit)
    alt = _profile_alt(points, runs, stage_m, depth_unit, distance_unit)
    return Drawing(id, width_mm, height_mm, shapes, alt)


def _plot(
    far_m: float, known: Sequence[float], stage_m: float | None, unit: DepthUnit, width_mm: float, height_mm: float
) -> _Plot:
    # The day's level may lie below all of the bed that is known: it needs its place in the frame as well.
    level_m = -(stage_m or 0.0)
    highest, deepest = min(0.0, level_m, *known), max(0.0, level_m, *known)
    step = nice_step(max(deepest - highest, 0.5 * DEPTH_UNIT_M[unit]) / DEPTH_UNIT_M[unit], 4) * DEPTH_UNIT_M[unit]
    bottom_m = np.ceil(max(deepest, step) / step - 1e-9) * step
    return _Plot(_LEFT_MM, width_mm - _RIGHT_MM, _TOP_MM, height_mm - _BOTTOM_MM, far_m, highest, float(bottom_m))


def _known_runs(points: Profile) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Stretches of neighbouring known depths."""
    runs = groupby(points, key=lambda point: point[1] is not None)
    return tuple(tuple((x, depth) for x, depth in run if depth is not None) for is_known, run in runs if is_known)


def _grid(plot: _Plot, depth_unit: DepthUnit, board: Board) -> tuple[Shape, ...]:
    """Hairlines at round depths, clear of words; the last number names the unit."""
    unit_m = DEPTH_UNIT_M[depth_unit]
    step = nice_step((plot.bottom_m - plot.top_m) / unit_m, 5)
    depths = [
        k * step for k in range(int(np.ceil(plot.top_m / unit_m / step)), int(plot.bottom_m / unit_m / step + 1e-6) + 1)
    ]
    rules = [LineString([(plot.left, plot.y(d * unit_m)), (plot.right, plot.y(d * unit_m))]) for d in depths]
    shapes = line("grid", MultiLineString(rules).difference(unary_union(board.written)))
    for value in depths:
        words = f"{value:g}".replace("-", "−") + (f" {_DEPTH_SHORT[depth_unit]}" if value == depths[-1] else "")
        at = (plot.left - 1.4, plot.y(value * unit_m) + RISE * _TICK_MM / 2)
        shapes += (text("tick-y", words, at, _TICK_MM),)
    return shapes


def _distance_ticks(plot: _Plot, unit: DistanceUnit) -> tuple[Shape, ...]:
    """Ticks at round distances from the bank; the last number names the unit."""
    unit_m, short = _DISTANCE_UNIT_M[unit]
    far = plot.far_m / unit_m
    step = nice_step(far, 5)
    values = [k * step for k in range(int(far / step + 1e-6) + 1)]
    marks = [LineString([(plot.x(v * unit_m), plot.bottom), (plot.x(v * unit_m), plot.bottom + 1)]) for v in values]
    shapes = line("axis", MultiLineString([LineString([(plot.left, plot.bottom), (plot.right, plot.bottom)]), *marks]))
    for value in values:
        words = "bank" if value == 0 else f"{value:g}" + (f" {short}" if value == values[-1] else "")
        shapes += (text("tick", words, (plot.x(value * unit_m), plot.bottom + 1.6 + RISE * _TICK_MM), _TICK_MM),)
    return shapes


def _bed(plot: _Plot, runs: Iterable[Any], stage_m: float, board: Board) -> tuple[tuple[Shape, ...], tuple[Shape, ...]]:
    """Return the water as it stood, then the ground with the bed on it; a lone depth is a dot."""
    water: tuple[Shape, ...] = ()
    ground: tuple[Shape, ...] = ()
    for run in runs:
        bed = [(plot.x(distance_m), plot.y(depth_m)) for distance_m, depth_m in run]
        if len(bed) == 1:
            ground += dots("bed", bed, 1.0)
            continue
        first, last = bed[0][0], bed[-1][0]
        soil = Polygon([*bed, (last, plot.bottom), (first, plot.bottom)])
        column = box(first, plot.y(-stage_m), last, plot.bottom)
        water += area("bed-water", column.difference(soil), _WATER_SHADE)
        ground += area("bed-ground", soil) + line("bed", LineString(bed))
        board.take(soil.buffer(0.4))
    return water, ground


def _levels(plot: _Plot, stage_m: float | None, unit: DepthUnit, datum: str, board: Board) -> tuple[Shape, ...]:
    """Datum and the day's water level, each named where its name covers nothing."""
    levels = [("datum", 0.0, datum)]
    if stage_m is not None:
        levels.append(("stage", -stage_m, f"water that day, {level_words(stage_m, unit)}"))
    heights = [plot.y(depth_m) for _, depth_m, _ in levels]
    rules = [LineString([(plot.left, y), (plot.right, y)]) for y in heights]
    board.take(*(rule.buffer(0.2) for rule in rules))
    shapes: tuple[Shape, ...] = ()
    for (style, _, words), rule, y in zip(levels, rules, heights, strict=True):
        shapes += line(style, rule) + _level_name(words, y, plot, board)
    return shapes


def _level_name(words: str, y: float, plot: _Plot, board: Board) -> tuple[Shape, ...]:
    width = text_width_mm(words, _TICK_MM)
    for right in np.arange(plot.right, plot.left + width, -2.0):
        for baseline in (y - 0.9, y + 0.8 + RISE * _TICK_MM):
            at = (float(right), baseline)
            paper = text_box(words, at, _TICK_MM, "level-name")
            if board.is_free(paper):
                board.write(paper)
                return (text("level-name", words, at, _TICK_MM),)
    return ()


def _gaps(plot: _Plot, points: Profile, runs: Sequence[Any], board: Board) -> tuple[Shape, ...]:
    """Say `not known` in each stretch without depths that has room for the words, level or upright."""
    shapes: tuple[Shape, ...] = ()
    for start_m, end_m in _unknown_stretches(points, runs):
        width, middle = plot.x(end_m) - plot.x(start_m), (plot.x(start_m) + plot.x(end_m)) / 2
        room = text_width_mm("not known", _TICK_MM)
        turn = 0.0 if width > room + 1 else -90.0
        if turn and width < (RISE + TAIL) * _TICK_MM + 0.8:
            continue
        at = (middle + (RISE * _TICK_MM / 2 if turn else 0.0), (plot.top + plot.bottom) / 2)
        for drop in (0.0, 3.0, 6.0, -3.0):
            spot = (at[0], at[1] + drop)
            paper = text_box("not known", spot, _TICK_MM, turn_deg=turn)
            if board.is_free(paper):
                board.write(paper)
                shapes += (text("note", "not known", spot, _TICK_MM, turn),)
                break
    return shapes


def _unknown_stretches(points: Profile, runs: Sequence[Any]) -> list[tuple[float, float]]:
    """From bank to the first depth, between runs, and from the last depth to the end, metres."""
    edges = [(run[0][0], run[-1][0]) for run in runs]
    starts = [0.0, *(end for _, end in edges)]
    ends = [*(start for start, _ in edges), points[-1][0]]
    return [(a, b) for a, b in zip(starts, ends, strict=True) if b > a]


def _profile_alt(
    points: Profile, runs: Sequence[Any], stage_m: float | None, depth_unit: DepthUnit, distance_unit: DistanceUnit
) -> str:
    """Depths by distance in words, what is not known, and the water level."""
    known = [(x, depth_m) for x, depth_m in points if depth_m is not None]
    chosen = sorted({round(i) for i in np.linspace(0, len(known) - 1, min(_MOST_SAID, len(known)))})
    said = [f"{_depth(known[i][1], depth_unit)} at {_distance(known[i][0], distance_unit)}" for i in chosen]
    parts = [f"Depth off the bank: {', '.join(said)}."]
    # A gap no wider than the spacing of the depths themselves, at the bank, is not worth a word.
    gaps = [(a, b) for a, b in _unknown_stretches(points, runs) if a > 0 or b > _typical_step(points)]
    parts += [f"Not known from {_distance(a, distance_unit)} to {_distance(b, distance_unit)}." for a, b in gaps]
    if stage_m is not None:
        parts.append(f"The water that day was {level_words(stage_m, depth_unit)}.")
    return " ".join(parts)


def _depth(depth_m: float, unit: DepthUnit) -> str:
    # What dries is told as a height, rounded up: its danger is to stand higher than said.
    words = depth_words(depth_m, unit)
    return f"{words[1:]} above the datum" if words.startswith("-") and float(words.split()[0]) else words.lstrip("-")


def _distance(distance_m: float, unit: DistanceUnit) -> str:
    return "the bank" if distance_m == 0 else distance_words(distance_m, unit)


def _typical_step(points: Profile) -> float:
    return float(np.median([b[0] - a[0] for a, b in pairwise(points)])) if len(points) > 1 else 0.0
