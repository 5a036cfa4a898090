"""The depth profile: the bed off a bank, as if the water were cut open at right angles to the shore."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

import numpy as np
from shapely import LineString, MultiLineString, Point, Polygon, box, unary_union
from shapely.ops import substring

from atlasgen.compose.drawing import area, as_lines, as_polygons, dots, line, nice_step, text
from atlasgen.compose.lettering import RISE, TAIL, Board, text_box, text_width_mm
from atlasgen.compose.profile_words import Profile, profile_alt, unknown_stretches
from atlasgen.model import Drawing, Shape
from atlasgen.model.relief import Break, ReachProfile
from atlasgen.model.wording import say
from atlasgen.units import (
    DEPTH_UNIT_M,
    FOOT_M,
    DepthUnit,
    DistanceUnit,
    decimal_text,
    depth_words,
    distance_words,
    length_words,
    level_words,
)

_TICK_MM = 2.3
_LEFT_MM, _RIGHT_MM, _TOP_MM, _BOTTOM_MM = 10.0, 4.0, 5.0, 5.5
_WATER_SHADE = 0.35
_DISTANCE_UNIT_M = {"metric": (1.0, "metres"), "imperial": (FOOT_M, "feet")}
# Ours: a bound that reaches far below the bed must not press the bed flat.
_MOST_BELOW = 1.25


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


def reach_profile(
    id: str,
    profile: ReachProfile,
    stage_m: float | None,
    depth_unit: DepthUnit,
    distance_unit: DistanceUnit,
    *,
    datum: str = "",
    shown_stage_m: float = 0.0,
    stage_name: str = "",
    width_mm: float = 84.0,
    height_mm: float = 40.0,
) -> Drawing | None:
    """Return the profile off a reach with its bound and its break; None if no depth is known but the banks'."""
    if not any(point.depth_m for point in profile.points):
        return None
    depths = tuple((point.distance_m, point.depth_m) for point in profile.points)
    bounds = {point.distance_m: point.bound_m for point in profile.points if point.bound_m is not None}
    return depth_profile(
        id,
        depths,
        stage_m,
        depth_unit,
        distance_unit,
        datum=datum,
        shown_stage_m=shown_stage_m,
        stage_name=stage_name,
        bounds=bounds,
        steepest=profile.steepest,
        break_sought=True,
        width_mm=width_mm,
        height_mm=height_mm,
    )


def depth_profile(
    id: str,
    profile: Profile,
    stage_m: float | None,
    depth_unit: DepthUnit,
    distance_unit: DistanceUnit,
    *,
    datum: str = "",
    shown_stage_m: float = 0.0,
    stage_name: str = "",
    bounds: Mapping[float, float] | None = None,
    steepest: Break | None = None,
    break_sought: bool = False,
    width_mm: float = 84.0,
    height_mm: float = 40.0,
) -> Drawing | None:
    """Return the profile of (distance from the bank, depth below datum or None), metres; None if no depth is known.

    The bed is drawn between neighbouring known depths only; what lies between others is left open and said to be not
    known.

    Parameters
    ----------
    stage_m
        A water level against the datum, None if unknown; `stage_name` says whose.
    datum, shown_stage_m
        The level that depths are below: its name, and where it stands against the datum of `stage_m`.
    bounds
        95 % bound of the depth by distance, metres; shaded where it is known. A bank, at zero, needs none.
    steepest
        The break to mark; with `break_sought` the words say if there is none.
    """
    points = tuple(sorted(profile, key=lambda point: point[0]))
    known = [depth_m for _, depth_m in points if depth_m is not None]
    if not known or points[-1][0] <= 0:
        return None
    datum, stage_name = datum or say("charts-datum"), stage_name or say("charts-water-that-day")
    runs = _known_runs(points)
    edges = _bound_edges(runs, bounds or {})
    lowest = [min(low, _MOST_BELOW * max(known)) for edge in edges for _, _, low in edge]
    day_m = None if stage_m is None else stage_m - shown_stage_m
    plot = _plot(points[-1][0], [*known, *lowest], day_m, depth_unit, width_mm, height_mm)
    board = Board(box(0, 0, width_mm, height_mm), 0.2)
    water, ground, bed = _bed(plot, runs, day_m or 0.0, board)
    bound = _bound(plot, edges, board)
    heavy = _break_bed(plot, steepest, board)
    # In the order in which they claim room for their words.
    above = _levels(plot, stage_m, shown_stage_m, depth_unit, datum, stage_name, board)
    above += _break_name(plot, steepest, depth_unit, distance_unit, board)
    above += _bound_name(plot, edges, board) + _gaps(plot, points, runs, board)
    shapes = water + _grid(plot, depth_unit, board) + ground + bound + bed + heavy + above
    shapes += _distance_ticks(plot, distance_unit)
    alt = profile_alt(
        points, runs, stage_m, depth_unit, distance_unit, stage_name, bounds or {}, steepest, break_sought
    )
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
        number = decimal_text(f"{value:g}").replace("-", "−")
        words = length_words(number, depth_unit) if value == depths[-1] else number
        at = (plot.left - 1.4, plot.y(value * unit_m) + RISE * _TICK_MM / 2)
        shapes += (text("tick-y", words, at, _TICK_MM),)
    return shapes


def _distance_ticks(plot: _Plot, unit: DistanceUnit) -> tuple[Shape, ...]:
    """Ticks at round distances from the bank; the last number names the unit."""
    unit_m, name = _DISTANCE_UNIT_M[unit]
    far = plot.far_m / unit_m
    step = nice_step(far, 5)
    values = [k * step for k in range(int(far / step + 1e-6) + 1)]
    marks = [LineString([(plot.x(v * unit_m), plot.bottom), (plot.x(v * unit_m), plot.bottom + 1)]) for v in values]
    shapes = line("axis", MultiLineString([LineString([(plot.left, plot.bottom), (plot.right, plot.bottom)]), *marks]))
    for value in values:
        number = decimal_text(f"{value:g}") if value else say("charts-bank")
        words = length_words(number, name) if value and value == values[-1] else number
        shapes += (text("tick", words, (plot.x(value * unit_m), plot.bottom + 1.6 + RISE * _TICK_MM), _TICK_MM),)
    return shapes


def _bed(plot: _Plot, runs: Iterable[Any], stage_m: float, board: Board) -> tuple[tuple[Shape, ...], ...]:
    """Return the water as it stood, the ground, and the bed on it; a lone depth is a dot."""
    water: tuple[Shape, ...] = ()
    ground: tuple[Shape, ...] = ()
    lines: tuple[Shape, ...] = ()
    for run in runs:
        bed = [(plot.x(distance_m), plot.y(depth_m)) for distance_m, depth_m in run]
        if len(bed) == 1:
            lines += dots("bed", bed, 1.0)
            continue
        first, last = bed[0][0], bed[-1][0]
        soil = Polygon([*bed, (last, plot.bottom), (first, plot.bottom)])
        column = box(first, plot.y(-stage_m), last, plot.bottom)
        water += area("bed-water", column.difference(soil), _WATER_SHADE)
        ground += area("bed-ground", soil)
        lines += line("bed", LineString(bed))
        board.take(LineString(bed).buffer(0.6))
    return water, ground, lines


def _bound_edges(
    runs: Iterable[Sequence[tuple[float, float]]], bounds: Mapping[float, float]
) -> list[list[tuple[float, float, float]]]:
    """Stretches of (distance, shallowest, deepest) within the bound; a bank, at zero, has none to either side."""
    edges = []
    for run in runs:
        told = [(out, depth, bounds.get(out, 0.0 if depth == 0 else np.nan)) for out, depth in run]
        for is_told, part in groupby(told, key=lambda item: not np.isnan(item[2])):
            stretch = [(out, depth - bound, depth + bound) for out, depth, bound in part] if is_told else []
            if len(stretch) > 1 and any(low > high for _, high, low in stretch):
                edges.append(stretch)
    return edges


def _bound(plot: _Plot, edges: Sequence[Any], board: Board) -> tuple[Shape, ...]:
    """Shade what the bed may be within its bound, its edges broken lines."""
    frame = box(plot.left, plot.top, plot.right, plot.bottom)
    shapes: tuple[Shape, ...] = ()
    for edge in edges:
        upper = LineString([(plot.x(out), plot.y(high)) for out, high, _ in edge])
        lower = LineString([(plot.x(out), plot.y(low)) for out, _, low in edge])
        band = Polygon([*upper.coords, *reversed(lower.coords)]).buffer(0)
        inside = [as_lines(line.intersection(frame)) for line in (upper, lower)]
        shapes += area("bed-bound", as_polygons(band.intersection(frame)))
        shapes += line("bound-edge", inside[0]) + line("bound-edge", inside[1])
        board.take(*(found.buffer(0.2) for found in inside))
    return shapes


def _bound_name(plot: _Plot, edges: Sequence[Any], board: Board) -> tuple[Shape, ...]:
    """Name the shading once, in the water above it or in the ground below it, where there is room."""
    words = say("charts-bound")
    for edge in edges:
        for share in (0.75, 0.5, 0.9, 0.3, 0.62, 0.15):
            out, high, low = edge[int(share * (len(edge) - 1))]
            for y in (plot.y(high) - 1.2, plot.y(low) + 1.2 + RISE * _TICK_MM, plot.y(high) - 3.2, plot.y(low) + 4.5):
                found = _written("bound-name", words, (plot.x(out), y), plot, board)
                if found:
                    return found
    return ()


def _break_bed(plot: _Plot, steepest: Break | None, board: Board) -> tuple[Shape, ...]:
    """Draw the break's bed heavier, with a ring at its middle."""
    if steepest is None:
        return ()
    at = (plot.x(steepest.distance_m), plot.y(steepest.depth_m))
    top, foot = (steepest.from_m, steepest.top_m), (steepest.to_m, steepest.foot_m)
    bed = LineString([(plot.x(top[0]), plot.y(top[1])), at, (plot.x(foot[0]), plot.y(foot[1]))])
    board.take(bed.buffer(0.8), Point(at).buffer(1.1))
    return line("bed-break", bed) + dots("break", [at], 1.7)


def _break_name(
    plot: _Plot, steepest: Break | None, depth_unit: DepthUnit, distance_unit: DistanceUnit, board: Board
) -> tuple[Shape, ...]:
    """Write depth and distance of the break beside it, with a line to it."""
    if steepest is None:
        return ()
    x, y = plot.x(steepest.distance_m), plot.y(steepest.depth_m)
    deep, far = depth_words(steepest.depth_m, depth_unit), distance_words(steepest.distance_m, distance_unit)
    words = say("charts-break", depth=deep, distance=far)
    half = text_width_mm(words, _TICK_MM) / 2
    beside = [(way * (half + 2.2), down) for down in (0.0, -2.5, 2.5, -5.0, 5.0) for way in (1, -1)]
    # Farther off the words may stand above or below the ring as well.
    beside += [(way * half, down) for down in (-8.0, 8.0, -11.0, 11.0, -14.0, -17.0) for way in (1, 0, -1)]
    for right, down in beside:
        found = _written("break-name", words, (x + right, y + down + RISE * _TICK_MM / 2), plot, board)
        if found:
            side = right - np.sign(right) * (half + 0.3)
            end = (x + side, y + down) if abs(down) < 8 else (x + side, y + down - np.sign(down) * 1.2)
            return _leader((x, y), end) + found
    return ()


def _leader(ring: tuple[float, float], end: tuple[float, float]) -> tuple[Shape, ...]:
    """Draw a line from the edge of a ring of 1.7 mm to a point."""
    away = LineString([ring, end])
    return line("break-leader", substring(away, 0.95, away.length)) if away.length > 1.2 else ()


def _written(style: str, words: str, at: tuple[float, float], plot: _Plot, board: Board) -> tuple[Shape, ...]:
    """Write words centred on a point, if they stand inside the plot and cover nothing."""
    paper = text_box(words, at, _TICK_MM, style)
    west, north, east, south = paper.bounds
    inside = west >= plot.left and east <= plot.right and north >= plot.top and south <= plot.bottom
    if not inside or not board.is_free(paper):
        return ()
    board.write(paper)
    return (text(style, words, at, _TICK_MM),)


def _levels(
    plot: _Plot,
    stage_m: float | None,
    shown_stage_m: float,
    unit: DepthUnit,
    datum: str,
    stage_name: str,
    board: Board,
) -> tuple[Shape, ...]:
    """Datum and the day's water level, each named where its name covers nothing."""
    levels: list[tuple[str, float, tuple[str, ...]]] = [("datum", 0.0, (datum,))]
    if stage_m is not None:
        short = level_words(stage_m, unit)
        levels.append(("stage", shown_stage_m - stage_m, (f"{stage_name}, {short}", short)))
    heights = [plot.y(depth_m) for _, depth_m, _ in levels]
    rules = [LineString([(plot.left, y), (plot.right, y)]) for y in heights]
    board.take(*(rule.buffer(0.2) for rule in rules))
    shapes: tuple[Shape, ...] = ()
    for (style, _, words), rule, y in zip(levels, rules, heights, strict=True):
        named = (_level_name(name, y, plot, board) for name in words)
        shapes += line(style, rule) + next(filter(None, named), ())
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
    words = say("charts-not-known")
    for start_m, end_m in unknown_stretches(points, runs):
        width, middle = plot.x(end_m) - plot.x(start_m), (plot.x(start_m) + plot.x(end_m)) / 2
        room = text_width_mm(words, _TICK_MM)
        turn = 0.0 if width > room + 1 else -90.0
        if turn and width < (RISE + TAIL) * _TICK_MM + 0.8:
            continue
        at = (middle + (RISE * _TICK_MM / 2 if turn else 0.0), (plot.top + plot.bottom) / 2)
        for drop in (0.0, 3.0, 6.0, -3.0):
            spot = (at[0], at[1] + drop)
            paper = text_box(words, spot, _TICK_MM, turn_deg=turn)
            if board.is_free(paper):
                board.write(paper)
                shapes += (text("note", words, spot, _TICK_MM, turn),)
                break
    return shapes
