"""Ledges: long steep breaks of the bed, much steeper than the bed around them and deeper than errors explain."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from atlasgen.measure.patches import Patch, patch
from atlasgen.measure.terrain import horn_slope, relief_index
from atlasgen.model import DepthGrid

# Ours: a ledge is at least this steep (1 in 7), twice as steep as the mean of the bed round it, and this long.
LEAST_SLOPE, TIMES_AROUND, LEAST_LENGTH_M, LEAST_DROP_M = 0.15, 2.0, 30.0, 0.3
_AROUND_M, _AROUND_CELLS = (20.0, 60.0), (4.0, 12.0)
_LONG = 2.0
_LEAST_SOUNDED = 5
# Horn's weights: the standard deviation of a gradient, in those of one depth over the cell size.
_HORN_SIGMA = 12**0.5 / 8
_EIGHT = np.ones((3, 3), dtype=bool)


def find_ledges(grid: DepthGrid, doubt_m: np.ndarray, run_of: np.ndarray) -> Iterator[Patch]:
    """Yield the ledges; least and greatest depth are those of top and foot, the height is the drop between them."""
    from scipy.ndimage import find_objects, label

    slope, falls_deg = horn_slope(grid.depth_m, grid.cell_m)
    labels, count = label(_steep(grid, slope, doubt_m), _EIGHT)
    held = np.bincount(labels[run_of >= 0], minlength=count + 1)
    for number, around in enumerate(find_objects(labels), 1):
        if held[number] < _LEAST_SOUNDED:
            continue
        inside = labels[around] == number
        one = _ledge(grid, around, inside, falls_deg, doubt_m, run_of)
        if one is None or one.length_m < max(_LONG * one.width_m, LEAST_LENGTH_M):
            continue
        # Top and foot are two depths: their difference is in doubt by the root of two times the bound of one.
        if one.height_m >= max(2**0.5 * one.doubt_m, LEAST_DROP_M):
            yield one


def _steep(grid: DepthGrid, slope: np.ndarray, doubt_m: np.ndarray) -> np.ndarray:
    """Cells steeper than errors explain, than the least, and than twice the bed around them."""
    inner, outer = (max(m, c * grid.cell_m) for m, c in zip(_AROUND_M, _AROUND_CELLS, strict=True))
    around = slope - relief_index(-slope, grid.cell_m, inner, outer)
    least = np.maximum(LEAST_SLOPE, _HORN_SIGMA * doubt_m / grid.cell_m)
    with np.errstate(invalid="ignore"):
        return (slope >= least) & (slope >= TIMES_AROUND * np.maximum(around, 0.0))


def _ledge(
    grid: DepthGrid,
    around: tuple[slice, slice],
    inside: np.ndarray,
    falls_deg: np.ndarray,
    doubt_m: np.ndarray,
    run_of: np.ndarray,
) -> Patch | None:
    corner = np.array([around[0].start, around[1].start])
    cells = np.argwhere(inside) + corner
    tops, feet = (_edge_depths(grid, cells, inside, around, falls_deg, way) for way in (-1, 1))
    if not (tops.size and feet.size):
        return None
    top_m, foot_m = float(np.median(tops)), float(np.median(feet))
    middle = cells.mean(axis=0)
    nearest = cells[np.argmin(np.hypot(*(cells - middle).T))] - corner
    one = patch(grid, around, inside, tuple(nearest), foot_m - top_m, doubt_m, run_of)
    return replace(one, least_depth_m=top_m, greatest_depth_m=foot_m)


def _edge_depths(
    grid: DepthGrid,
    cells: np.ndarray,
    inside: np.ndarray,
    around: tuple[slice, slice],
    falls_deg: np.ndarray,
    way: int,
) -> np.ndarray:
    """Depths just outside a ledge where the way down (1) or up (-1) leads out of it."""
    turn = np.radians(falls_deg[tuple(cells.T)])
    step = np.rint(np.column_stack([np.cos(turn), np.sin(turn)]) * way).astype(np.int64)
    there = cells + step
    here = there - [around[0].start, around[1].start]
    within = ((here >= 0) & (here < inside.shape)).all(axis=1)
    stays = np.zeros(len(cells), dtype=bool)
    stays[within] = inside[tuple(here[within].T)]
    there = np.clip(there[~stays], 0, np.subtract(grid.depth_m.shape, 1))
    depth = grid.depth_m[tuple(there.T)]
    return depth[np.isfinite(depth)]
