"""Humps, holes, ridges, channels and ledges of the whole depth model, each beyond what errors alone could make.

Two rings of the bathymetric position index find what stands above or below the bed around it. From the top of a hump
the bed falls on every side, or on every side but one, toward a bank for instance; from the bottom of a hole it rises
so. A ridge (a channel) stands out on both its sides and is at least three times as long as wide. What stands out less
than the depths' own 95 % bounds explain is no feature, so on a flat, well sounded bed small things count, and on a
doubtful one only large things.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import shapely

from atlasgen.measure.ledges import find_ledges
from atlasgen.measure.patches import Patch, confidence, patch, patch_outline, run_cells
from atlasgen.measure.terrain import between_soundings, doubt_m, relief_index
from atlasgen.model import DepthGrid, Reach
from atlasgen.model.relief import ReliefFeature, ReliefKind
from atlasgen.place.geo import Projection

# Ours: rings for what is some 20 to 50 m across, and for what is twice that; wider where the cells are coarse.
SCALES_M = ((10.0, 30.0), (30.0, 70.0))
_RING_CELLS = 2.0
# Ours: no sounder tells a rise of less than 15 cm from the waves.
LEAST_RISE_M = 0.15
# Ours: one cell in forty stands out by its 95 % bound through errors alone, one in six hundred by half as much again.
BOUNDS = 1.5
# Ours: a feature is left out that fewer sounded cells hold, each of which stands out itself: what stands out only where
# nobody sounded is the interpolation's. One that fewer than ten hold is marked.
LEAST_SOUNDED = 5
# Ours: between runs a bump of one run is a guess; it must stand this much higher than errors explain.
CLEAR = 2.0
# Ours: a ridge or channel is this much longer than wide, and twice its ring's outer radius long; what is longer than
# three of them is too large for the ring to call it a hump or a hole.
LONG, LEAST_RADII, MOST_RADII = 3.0, 2.0, 3.0
# Ours: the bed may be as high as the top on one side, over no more than this share of the ring.
MOST_OPEN = 1 / 3
# Errors of a top and of the bed beside it go together (stage, draught, the same runs): with a correlation of 0.75,
# which is ours, their difference is in doubt by 0.7 of one bound, and each counts half of that.
_OF_EACH = 0.35
_EIGHT = np.ones((3, 3), dtype=bool)


@dataclass(frozen=True, slots=True)
class _Bed:
    """The model as the search uses it; `up` is 1 for what rises, -1 for what lies deep; heights grow that way."""

    grid: DepthGrid
    height_m: np.ndarray
    doubt_m: np.ndarray
    run_of: np.ndarray
    indices: tuple[np.ndarray, ...]
    rings: tuple[tuple[float, float], ...]
    up: int = 1

    def turned(self) -> _Bed:
        """Return the same bed upside down."""
        return replace(self, height_m=-self.height_m, indices=tuple(-index for index in self.indices), up=-self.up)

    def stands_out(self, index: np.ndarray) -> np.ndarray:
        """Cells that stand out by more than their doubt explains."""
        return index >= np.maximum(BOUNDS * self.doubt_m, LEAST_RISE_M)


def find_relief(
    grid: DepthGrid,
    x: np.ndarray,
    y: np.ndarray,
    reaches: Sequence[Reach],
    projection: Projection,
    line: np.ndarray | None = None,
) -> tuple[ReliefFeature, ...]:
    """Find the features of a depth model, named in the order of the shore: `hump 1`, `hump 2`, `channel 1`.

    Parameters
    ----------
    x, y
        The soundings used for the model, metric.
    reaches
        In the order of the book; a feature is counted at the reach nearest to it.
    line
        The run each sounding belongs to; None takes them as one run.
    """
    grid = replace(grid, depth_m=np.where(between_soundings(grid), grid.depth_m, np.nan))
    rings = _rings(grid.cell_m)
    indices = tuple(relief_index(grid.depth_m, grid.cell_m, *ring) for ring in rings)
    bed = _Bed(grid, -grid.depth_m, doubt_m(grid), run_cells(grid, x, y, line), indices, rings)
    found: list[tuple[ReliefKind, Patch]] = []
    taken = np.zeros(grid.depth_m.shape, dtype=bool)
    # Of what rises the top matters most, of what lies deep its course: a channel is no string of holes.
    found += [("ridge" if _is_long(one) else "hump", one) for one in _closed(bed, taken)]
    found += [("ridge", one) for one in _long(bed, taken)]
    taken = np.zeros(grid.depth_m.shape, dtype=bool)
    found += [("channel", one) for one in _long(bed.turned(), taken)]
    found += [("channel" if _is_long(one) else "hole", one) for one in _closed(bed.turned(), taken)]
    found += [("ledge", one) for one in find_ledges(grid, bed.doubt_m, bed.run_of)]
    return _named([_feature(kind, one, grid, projection) for kind, one in found], reaches)


def _rings(cell_m: float) -> tuple[tuple[float, float], ...]:
    wider = max(1.0, _RING_CELLS * cell_m / SCALES_M[0][0])
    return tuple((inner * wider, outer * wider) for inner, outer in SCALES_M)


def _noise_m(one: Patch) -> float:
    return max(BOUNDS * one.doubt_m, LEAST_RISE_M)


def _told(one: Patch) -> bool:
    """Leave out what a single run tells of, unless it is very clear."""
    return not one.one_run or one.height_m >= CLEAR * _noise_m(one)


def _is_long(one: Patch) -> bool:
    return one.length_m >= LONG * one.width_m


def _closed(bed: _Bed, taken: np.ndarray) -> Iterator[Patch]:
    """Yield what is higher than what lies round it, the larger scale first; its cells are marked as taken."""
    for index, ring in reversed(list(zip(bed.indices, bed.rings, strict=True))):
        inner, outer = ring[0] / bed.grid.cell_m, ring[1] / bed.grid.cell_m
        telling = bed.stands_out(index) & (bed.run_of >= 0)
        for row, col in _tops(bed, index, inner):
            around = _window(row, col, int(MOST_RADII * outer / 2), taken.shape)
            here = row - around[0].start, col - around[1].start
            if taken[row, col] or not _falls_away(bed, around, here, inner, outer):
                continue
            inside = _part(index[around] >= index[row, col] / 2, here)
            if (inside & telling[around]).sum() < LEAST_SOUNDED:
                continue
            one = patch(bed.grid, around, inside, here, float(index[row, col]), bed.doubt_m, bed.run_of)
            if _told(one) and one.length_m <= MOST_RADII * ring[1]:
                taken[around] |= _grown(inside, inner)
                yield one


def _tops(bed: _Bed, index: np.ndarray, inner: float) -> np.ndarray:
    """Cells (k, 2) that stand out and have none higher within the ring's inner radius, the highest first."""
    from scipy.ndimage import maximum_filter

    height = np.where(np.isnan(bed.height_m), -np.inf, bed.height_m)
    highest = maximum_filter(height, 2 * int(inner) + 1, mode="constant", cval=-np.inf)
    tops = bed.stands_out(index) & (height == highest)
    return np.argwhere(tops)[np.argsort(-height[tops], kind="stable")]


def _falls_away(bed: _Bed, around: tuple[slice, slice], here: tuple[int, int], inner: float, outer: float) -> bool:
    """Tell whether the bed falls from a top on all sides, or on all but one narrow one.

    A way is open where the bed could, within its doubt, be as high as the top could be low, or is not known.
    """
    from scipy.ndimage import label

    height, doubt = bed.height_m[around], bed.doubt_m[around]
    level = height[here] - _OF_EACH * doubt[here]
    with np.errstate(invalid="ignore"):
        open_way = np.isnan(height) | (height + _OF_EACH * doubt >= level)
    row, col = np.ogrid[: height.shape[0], : height.shape[1]]
    away = np.hypot(row - here[0], col - here[1])
    ring = (away >= inner) & (away <= outer)
    reached = ring & _part(open_way, here)
    # Ways out are counted where they leave the ring: on its outermost cells.
    _, ways = label(reached & (away > outer - 1.5), _EIGHT)
    whole = np.pi * (outer**2 - inner**2)
    return ways <= 1 and reached.sum() + max(whole - ring.sum(), 0) <= MOST_OPEN * whole


def _long(bed: _Bed, taken: np.ndarray) -> Iterator[Patch]:
    """Yield what stands out on both sides of a line, the finer scale first; coarser ones where no finer one lies."""
    from scipy.ndimage import find_objects, label

    for index, (inner, outer) in zip(bed.indices, bed.rings, strict=True):
        mask = bed.stands_out(index) & ~taken
        mask[mask] = _two_sided(bed, np.nonzero(mask), (inner + outer) / 2 / bed.grid.cell_m)
        labels, count = label(mask, _EIGHT)
        held = np.bincount(labels[bed.run_of >= 0], minlength=count + 1)
        # A way through a patch takes no more than a diagonal for each cell.
        cells = np.bincount(labels.ravel(), minlength=count + 1) * bed.grid.cell_m * 2**0.5
        for number, around in enumerate(find_objects(labels), 1):
            if held[number] < LEAST_SOUNDED or cells[number] < LEAST_RADII * outer:
                continue
            inside = labels[around] == number
            top = np.argmax(np.where(inside, bed.height_m[around], -np.inf))
            height_m = float(np.median(index[around][inside]))
            row, col = np.unravel_index(top, inside.shape)
            here = (int(row), int(col))
            one = patch(bed.grid, around, inside, here, height_m, bed.doubt_m, bed.run_of)
            if not _told(one) or one.length_m < max(LONG * one.width_m, LEAST_RADII * outer):
                continue
            wide = _window_of(around, int(outer / bed.grid.cell_m) + 1, taken.shape)
            taken[wide] |= _grown(labels[wide] == number, outer / bed.grid.cell_m)
            yield one


def _two_sided(bed: _Bed, cells: tuple[np.ndarray, ...], radius: float) -> np.ndarray:
    """Which cells stand above both ends of some line through them, by more than the two depths' doubt."""
    found = np.zeros(cells[0].size, dtype=bool)
    for turn in np.arange(8) * np.pi / 8:
        found |= np.all([_stands_above(bed, cells, side * radius, turn) for side in (1, -1)], axis=0)
    return found


def _stands_above(bed: _Bed, cells: tuple[np.ndarray, ...], away: float, turn: float) -> np.ndarray:
    rows, cols = bed.height_m.shape
    row = np.rint(cells[0] + away * np.sin(turn)).astype(np.int64)
    col = np.rint(cells[1] + away * np.cos(turn)).astype(np.int64)
    inside = (row >= 0) & (row < rows) & (col >= 0) & (col < cols)
    there = np.clip(row, 0, rows - 1), np.clip(col, 0, cols - 1)
    drop = bed.height_m[cells] - bed.height_m[there]
    # NaN, where the bed is not known, compares as no.
    return inside & (drop >= np.hypot(bed.doubt_m[cells], bed.doubt_m[there]))


def _window(row: int, col: int, reach: int, shape: tuple[int, ...]) -> tuple[slice, slice]:
    return (
        slice(max(row - reach, 0), min(row + reach + 1, shape[0])),
        slice(max(col - reach, 0), min(col + reach + 1, shape[1])),
    )


def _window_of(around: tuple[slice, slice], margin: int, shape: tuple[int, ...]) -> tuple[slice, slice]:
    first, second = (
        slice(max(side.start - margin, 0), min(side.stop + margin, size))
        for side, size in zip(around, shape, strict=True)
    )
    return first, second


def _part(mask: np.ndarray, here: tuple[int, int]) -> np.ndarray:
    """Return the connected part of a mask that holds a cell."""
    from scipy.ndimage import label

    labels, _ = label(mask, _EIGHT)
    return labels == labels[here]


def _grown(mask: np.ndarray, cells: float) -> np.ndarray:
    from scipy.ndimage import distance_transform_edt

    return distance_transform_edt(~mask) <= cells


def _feature(kind: ReliefKind, one: Patch, grid: DepthGrid, projection: Projection) -> ReliefFeature:
    bearing, noise_m = None, _noise_m(one)
    if one.bearing_deg is not None:
        bearing = projection.grid_bearing_to_true(one.bearing_deg, one.point) % 180
    return ReliefFeature(
        id="",
        kind=kind,
        point=one.point,
        at=projection.lonlat(one.point),
        least_depth_m=one.least_depth_m,
        greatest_depth_m=one.greatest_depth_m,
        height_m=one.height_m,
        area_m2=one.area_m2,
        length_m=one.length_m,
        width_m=one.width_m,
        bearing_deg=bearing,
        soundings=one.sounded,
        bound_m=one.doubt_m if grid.bound_m is not None else None,
        noise_m=noise_m,
        confidence=confidence(one.sounded, one.one_run, one.height_m, noise_m),
        outline=patch_outline(one, grid),
    )


def _named(features: Sequence[ReliefFeature], reaches: Sequence[Reach]) -> tuple[ReliefFeature, ...]:
    """Give each feature a number of its kind, in the order of the nearest reach, then from west to east."""
    if not features:
        return ()
    tree = shapely.STRtree([reach.line for reach in reaches])
    nearest = tree.nearest(shapely.points([feature.point for feature in features])) if reaches else [0] * len(features)
    order = sorted(range(len(features)), key=lambda number: (nearest[number], features[number].point))
    counts: dict[str, int] = {}
    named: list[Any] = []
    for number in order:
        kind = features[number].kind
        counts[kind] = counts.get(kind, 0) + 1
        named.append(replace(features[number], id=f"{kind} {counts[kind]}"))
    return tuple(named)
