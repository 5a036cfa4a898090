"""Depth lines made fit to draw: smoothed without crossing a sounding, and parted where their depth is in doubt."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely
from shapely import LineString, Polygon

from atlasgen.measure.uncertainty import bound_at
from atlasgen.model import DepthGrid

# Ours: a stretch of another kind that is shorter than this would flicker in the drawing and goes with its neighbours.
_SHORTEST_PART_CELLS = 6


class Places:
    """The soundings that a model rests on, (n, 3) x, y, depth, to be found by where they lie."""

    def __init__(self, soundings: np.ndarray) -> None:
        self._depth_m = soundings[:, 2]
        self._tree = shapely.STRtree(shapely.points(soundings[:, :2]))

    def within(self, areas: Sequence[Polygon]) -> np.ndarray:
        """Which areas (bool) hold a sounding."""
        held = np.zeros(len(areas), dtype=bool)
        held[self._tree.query(np.array(areas, dtype=object), predicate="intersects")[0]] = True
        return held

    def shoals(self, loops: Sequence[LineString], depth_m: float) -> set[LineString]:
        """Return the closed lines round a sounding of `depth_m` or less."""
        closed = [loop for loop in loops if loop.is_closed and len(loop.coords) > 3]
        insides = np.array([Polygon(line.coords) for line in closed], dtype=object)
        loop, place = self._tree.query(insides, predicate="intersects")
        return {closed[k] for k in loop[self._depth_m[place] <= depth_m]}


def smoothed(lines: Sequence[LineString], tolerance_m: float, places: Places) -> tuple[LineString, ...]:
    """Simplify lines by at most `tolerance_m`; where that would cross a sounding the line keeps all its points."""
    # The plain method keeps a loop's first point, and so the order of all others.
    simple = shapely.simplify(np.array(lines, dtype=object), tolerance_m, preserve_topology=False)
    return tuple(_uncrossed(line, short, places) for line, short in zip(lines, simple, strict=True))


def _uncrossed(line: LineString, simple: LineString, places: Places) -> LineString:
    if line.is_closed and len(simple.coords) < 4:
        return line
    full = np.asarray(line.coords)
    kept = _positions(full, np.asarray(simple.coords))
    cut = np.flatnonzero(np.diff(kept) > 1)
    between = [Polygon(full[kept[k] : kept[k + 1] + 1]) for k in cut]
    crossed = cut[places.within(between)] if between else cut[:0]
    if crossed.size == 0:
        return simple
    back = [np.arange(kept[k], kept[k + 1]) for k in crossed]
    return LineString(full[np.union1d(kept, np.concatenate(back))])


def _positions(full: np.ndarray, kept: np.ndarray) -> np.ndarray:
    """Places in `full` of the points that were kept, in order."""
    found, at = np.empty(len(kept), dtype=np.int64), 0
    equal: dict[tuple[float, ...], list[int]] = {}
    for number, point in enumerate(map(tuple, full)):
        equal.setdefault(point, []).append(number)
    for number, point in enumerate(map(tuple, kept)):
        found[number] = next(place for place in equal[point] if place >= at)
        at = int(found[number]) + 1
    return found


def doubtful_over(major_interval_m: float) -> float:
    """Return the bound above which a line's depth is in doubt: half of the interval between heavy lines.

    A contour interval should be at least twice the vertical inaccuracy (naval manual of underwater construction, table
    4-1, note b), and by the United States National Map Accuracy Standards (1947) no more than 10 % of points may be off
    by more than half the interval. Both are here asked of the heavy, labelled lines at 95 %; the lines between them
    show the form of the bed.
    """
    return major_interval_m / 2


def split_doubtful(
    lines: Sequence[LineString], grid: DepthGrid, over_m: float | None
) -> tuple[tuple[LineString, ...], tuple[LineString, ...]]:
    """Part lines into those whose depth is sure and those where the grid's bound is more than `over_m`."""
    if over_m is None or grid.bound_m is None:
        return tuple(lines), ()
    parts = [part for line in lines for part in _parted(line, grid, over_m)]
    return tuple(part for part, doubt in parts if not doubt), tuple(part for part, doubt in parts if doubt)


def _parted(line: LineString, grid: DepthGrid, over_m: float) -> list[tuple[LineString, bool]]:
    full = np.asarray(shapely.segmentize(line, grid.cell_m).coords)
    middle = (full[1:] + full[:-1]) / 2
    doubt = _without_flicker(bound_at(grid, middle[:, 0], middle[:, 1]) > over_m)
    if doubt.all() or not doubt.any():
        return [(line, bool(doubt[0]))]
    ends = np.r_[0, np.flatnonzero(np.diff(doubt)) + 1, len(doubt)]
    parts = [LineString(full[a : b + 1]) for a, b in pairwise(ends)]
    return [(part.simplify(0.0), bool(doubt[at])) for part, at in zip(parts, ends[:-1], strict=True)]


def _without_flicker(doubt: np.ndarray) -> np.ndarray:
    """Give stretches of sure line too short to see to the doubt around them, then short doubt to the sure line."""
    for kind in (False, True):
        ends = np.r_[0, np.flatnonzero(np.diff(doubt)) + 1, len(doubt)]
        if len(ends) < 3:
            break
        short = (np.diff(ends) < _SHORTEST_PART_CELLS) & (doubt[ends[:-1]] == kind)
        doubt = doubt ^ np.repeat(short, np.diff(ends))
    return doubt
