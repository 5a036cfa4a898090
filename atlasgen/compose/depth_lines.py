"""Depth lines on paper: thinned until they can be told apart, labelled along the line, cut open under each label."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

import numpy as np
import shapely
from shapely import LineString, MultiLineString, Polygon, STRtree

from atlasgen.compose.drawing import Frame
from atlasgen.compose.lettering import RISE, Board, baseline_below, text_width_mm, turned_box
from atlasgen.model import Isobath
from atlasgen.model.wording import decimal_text
from atlasgen.units import DEPTH_UNIT_M, DepthUnit

LABEL_MM = 2.2
# Closer than this, thin lines of one colour run together in print; ours, judged on proofs.
LEAST_APART_MM = 1.3
_REPEAT_MM = 70.0  # a long line is named again after about this much
_STEP_MM = 1.5
_MAX_BEND_MM = 0.25  # farthest the line may stray from its label's baseline
_STEPS = tuple(m * 10.0**p for p in (-1, 0, 1, 2) for m in (1, 2, 4, 5))
_MAJOR_PER_STEP = {1: 5, 2: 5, 4: 5, 5: 4}  # heavy lines at 5, 10, 20 and 20 for steps of 1, 2, 4 and 5
_SPECK_MM = 2.0  # a closed line shorter than this is a blot, not a shape


@dataclass(frozen=True, slots=True)
class Level:
    """One depth line as it lies on the paper, mm; `doubtful` are its parts that are drawn broken, not in `lines`."""

    value: float
    label: str
    major: bool
    lines: MultiLineString
    doubtful: MultiLineString = field(default_factory=MultiLineString)

    @property
    def all_lines(self) -> MultiLineString:
        """The line as a whole, whatever is known of it."""
        return MultiLineString([*self.lines.geoms, *self.doubtful.geoms])

    @property
    def named_lines(self) -> MultiLineString:
        """The parts that carry the depth in figures: the sure ones, or the broken ones where there are no others."""
        return self.lines if not self.lines.is_empty else self.doubtful


@dataclass(frozen=True, slots=True)
class LineLabel:
    """A depth written along its line: baseline centre in mm, and the paper it covers."""

    words: str
    at: tuple[float, float]
    turn_deg: float
    major: bool
    paper: Polygon


def levels_on(frame: Frame, isobaths: Sequence[Isobath], unit: DepthUnit) -> tuple[Level, ...]:
    """Return the depth lines inside the frame, by depth, thinned to an interval whose lines can be told apart."""
    levels = [
        Level(
            round(b.depth_m / DEPTH_UNIT_M[unit], 3),
            decimal_text(b.label),
            b.major,
            _without_specks(frame.cut_lines(b.lines)),
            _without_specks(frame.cut_lines(b.doubtful)),
        )
        for b in sorted(isobaths, key=lambda b: b.depth_m)
    ]
    return _thinned(tuple(level for level in levels if not level.all_lines.is_empty))


def _without_specks(lines: MultiLineString) -> MultiLineString:
    return MultiLineString([part for part in lines.geoms if not part.is_ring or part.length >= _SPECK_MM])


def _thinned(levels: tuple[Level, ...]) -> tuple[Level, ...]:
    if len(levels) < 2 or typical_gap_mm(levels) >= LEAST_APART_MM:
        return levels
    kept = levels
    for step in _STEPS:
        now = tuple(level for level in levels if _is_multiple(level.value, step))
        if not now:
            break
        if len(now) < len(kept):
            kept = tuple(replace(level, major=_is_multiple(level.value, _major_step(step))) for level in now)
        if len(kept) < 2 or (len(now) < len(levels) and typical_gap_mm(kept) >= LEAST_APART_MM):
            break
    return kept


def _is_multiple(value: float, step: float) -> bool:
    return abs(value / step - round(value / step)) < 1e-6


def _major_step(step: float) -> float:
    mantissa = round(step / 10.0 ** math.floor(math.log10(step) + 1e-9))
    return step * _MAJOR_PER_STEP[mantissa]


def typical_gap_mm(levels: Sequence[Level]) -> float:
    """Return the median distance from points along each line to the next deeper one, mm; infinity if no two."""
    gaps = []
    for upper, lower in pairwise(levels):
        lines, next_lines = upper.all_lines, lower.all_lines
        at = shapely.line_interpolate_point(_joined(lines), np.arange(0, lines.length, max(1.0, lines.length / 60)))
        shapely.prepare(next_lines)
        gaps.append(shapely.distance(next_lines, at))
    return float(np.median(np.concatenate(gaps))) if gaps else math.inf


def _joined(lines: MultiLineString) -> LineString:
    """One line through all parts: only its points are sampled, so the jumps between parts hardly matter."""
    return LineString([xy for part in lines.geoms for xy in part.coords])


def label_levels(levels: Sequence[Level], board: Board) -> tuple[LineLabel, ...]:
    """Write the depth on the heavy lines (on all, where fewer than two are heavy), clear of all that is taken."""
    tree = STRtree([level.all_lines for level in levels])
    majors = [i for i, level in enumerate(levels) if level.major]
    minors = [i for i, level in enumerate(levels) if not level.major]
    found: list[LineLabel] = []
    for i in majors + (minors if len(majors) < 2 else []):
        found += _label_level(i, levels[i], tree, board)
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Spot:
    """A place for a label on part number `part` of a line: how many other lines it would cut, and its cost."""

    crossings: int
    cost: float
    part: int
    label: LineLabel


def _label_level(index: int, level: Level, tree: STRtree, board: Board) -> list[LineLabel]:
    spots = sorted(_spots(index, level, tree), key=lambda s: (s.crossings, s.cost, s.part))
    wanted = [1 + int(part.length / _REPEAT_MM) for part in level.named_lines.geoms]
    found: list[LineLabel] = []
    most = sum(wanted) if level.major else 1
    for spot in spots:
        apart = all(spot.label.paper.distance(other.paper) > _REPEAT_MM / 3 for other in found)
        # Only a heavy line that has no label yet may cut one neighbour for it.
        bearable = spot.crossings <= (1 if level.major and not found else 0)
        if (
            len(found) < most
            and wanted[spot.part]
            and apart
            and bearable
            and board.is_free(spot.label.paper, apart_mm=0.3)
        ):
            board.write(spot.label.paper, 0.0)
            found.append(spot.label)
            wanted[spot.part] -= 1
    return found


def _spots(index: int, level: Level, tree: STRtree) -> Iterable[_Spot]:
    width = text_width_mm(level.label, LABEL_MM) + 0.6
    half = RISE * LABEL_MM / 2 + 0.1
    for number, part in enumerate(level.named_lines.geoms):
        for centre, turn, bend in _straights(part, width):
            paper = turned_box(centre, -width / 2, -half, width / 2, half, turn)
            crossings = len(set(tree.query(paper, predicate="intersects").tolist()) - {index})
            label = LineLabel(level.label, baseline_below(centre, LABEL_MM, turn), turn, level.major, paper)
            yield _Spot(crossings, bend * 4 + abs(turn) / 90, number, label)


def _straights(part: LineString, width_mm: float) -> Iterable[tuple[tuple[float, float], float, float]]:
    """Stretches of a line that are nearly straight over a width: their middle, slope (degrees), and bend in mm."""
    if part.length < 2.5 * width_mm:
        return
    middles = np.arange(width_mm, part.length - width_mm, _STEP_MM)
    along = middles[:, None] + np.linspace(-width_mm / 2, width_mm / 2, 5)
    at = shapely.get_coordinates(shapely.line_interpolate_point(part, along.ravel())).reshape(len(middles), 5, 2)
    chord = at[:, -1] - at[:, 0]
    length = np.hypot(*chord.T)
    off = at - at[:, :1]
    across = np.abs(chord[:, None, 0] * off[..., 1] - chord[:, None, 1] * off[..., 0])
    bend = across.max(axis=1) / np.maximum(length, 1e-9)
    # Never upside down: a slope lies within a quarter turn of level.
    turn = (np.degrees(np.arctan2(chord[:, 1], chord[:, 0])) + 90) % 180 - 90
    for k in np.flatnonzero((length >= 0.9 * width_mm) & (bend <= _MAX_BEND_MM)):
        x, y = at[k].mean(axis=0)
        yield (float(x), float(y)), float(turn[k]), float(bend[k])
