"""Patches of cells as features: place, depths, area, length, the way they run, what holds them, and their outline."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from atlasgen.model import DepthGrid, PointM
from atlasgen.model.relief import Confidence

# Ours, as all limits here: what is this much longer than wide runs somewhere.
_RUNS = 2.0
_GOOD_SOUNDED, _GOOD_RATIO = 10, 1.5
_ONE_RUN_CELLS = 0.75


@dataclass(frozen=True, slots=True)
class Patch:
    """A connected patch of cells: `inside` within the grid's window `around`; metres throughout."""

    around: tuple[slice, slice]
    inside: np.ndarray
    point: PointM
    least_depth_m: float
    greatest_depth_m: float
    height_m: float
    doubt_m: float
    area_m2: float
    length_m: float
    width_m: float
    bearing_deg: float | None
    sounded: int
    one_run: bool


def patch(
    grid: DepthGrid,
    around: tuple[slice, slice],
    inside: np.ndarray,
    here: tuple[int, int],
    height_m: float,
    doubt_m: np.ndarray,
    run_of: np.ndarray,
) -> Patch:
    """Measure a patch; `here` is the cell it is placed at, in the window; `doubt_m` and `run_of` are the whole grid's.

    The length is the longest of the shortest ways between two of its cells, the width its area over its length; the
    bearing (grid, 0 to 180) joins the ends of that way, None for what is about as wide as long.
    """
    depth = grid.depth_m[around][inside]
    area_m2 = float(inside.sum()) * grid.cell_m**2
    one, other, way = _longest_way(inside)
    length_m = (way + 1) * grid.cell_m
    width_m = area_m2 / length_m
    north, east = np.subtract(other, one)
    runs = length_m >= _RUNS * width_m and (north or east)
    row, col = around[0].start + int(here[0]), around[1].start + int(here[1])
    return Patch(
        around=around,
        inside=inside,
        point=PointM(grid.x0_m + col * grid.cell_m, grid.y0_m + row * grid.cell_m),
        least_depth_m=float(np.nanmin(depth)),
        greatest_depth_m=float(np.nanmax(depth)),
        height_m=height_m,
        doubt_m=float(doubt_m[row, col]),
        area_m2=area_m2,
        length_m=length_m,
        width_m=width_m,
        bearing_deg=float(np.degrees(np.arctan2(east, north)) % 180) if runs else None,
        sounded=int((inside & (run_of[around] >= 0)).sum()),
        one_run=_of_one_run(np.where(inside, run_of[around], -1)),
    )


def run_cells(grid: DepthGrid, x: np.ndarray, y: np.ndarray, line: np.ndarray | None = None) -> np.ndarray:
    """Return the number of a run (0 and up) that sounded each cell, the last of several; -1 for cells not sounded.

    `line` is the run each sounding belongs to; None takes them as one run.
    """
    rows, cols = grid.depth_m.shape
    row = np.floor((np.asarray(y) - grid.y0_m) / grid.cell_m + 0.5).astype(np.int64)
    col = np.floor((np.asarray(x) - grid.x0_m) / grid.cell_m + 0.5).astype(np.int64)
    within = (row >= 0) & (row < rows) & (col >= 0) & (col < cols)
    run = np.zeros(row.size, dtype=np.int64) if line is None else np.unique(line, return_inverse=True)[1]
    run_of = np.full((rows, cols), -1, dtype=np.int64)
    run_of[row[within], col[within]] = run[within]
    return run_of


def confidence(sounded: int, one_run: bool, height_m: float, noise_m: float) -> Confidence:
    """`good`: ten sounded cells or more and half as much again as errors explain; `fair`: one of the two.

    `poor`: neither, or a single run of the boat tells of it.
    """
    many, clear = sounded >= _GOOD_SOUNDED, height_m >= _GOOD_RATIO * noise_m
    if one_run or not (many or clear):
        return "poor"
    return "good" if many and clear else "fair"


def _of_one_run(run_of: np.ndarray) -> bool:
    """Tell whether one run alone sounded a patch: one number, and its cells on a line, within half a cell or so.

    The line is asked for because some logs give a whole day one number.
    """
    cells = np.argwhere(run_of >= 0)
    if len(cells) < 3:
        return True
    across = np.linalg.eigvalsh(np.cov(cells.T.astype(float)))[0]
    return len(np.unique(run_of[run_of >= 0])) == 1 and bool(np.sqrt(max(across, 0.0)) < _ONE_RUN_CELLS)


def patch_outline(one: Patch, grid: DepthGrid) -> Polygon:
    """Return the edge of a patch, metric, near its cells' edges; of parts that meet at corners, the largest."""
    row, first, last = _runs_of(one.inside)
    west = grid.x0_m + (one.around[1].start + first - 0.5) * grid.cell_m
    east = grid.x0_m + (one.around[1].start + last + 0.5) * grid.cell_m
    south = grid.y0_m + (one.around[0].start + row - 0.5) * grid.cell_m
    # Grown by a thousandth of a cell, so that cells that meet at a corner hang together.
    more = grid.cell_m / 1000
    whole = shapely.union_all(shapely.box(west - more, south - more, east + more, south + grid.cell_m + more))
    parts = shapely.get_parts(whole.simplify(grid.cell_m / 2))
    return max(parts, key=lambda part: part.area)


def _runs_of(inside: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Row, first and last column of each run of cells along the rows."""
    step = np.diff(np.pad(inside.astype(np.int8), ((0, 0), (1, 1))), axis=1)
    row, first = np.nonzero(step == 1)
    return row, first, np.nonzero(step == -1)[1] - 1


def _longest_way(inside: np.ndarray) -> tuple[tuple[int, int], tuple[int, int], float]:
    """Find two cells far apart along the patch, by two sweeps, and the way between them in cells."""
    from scipy.sparse.csgraph import dijkstra

    cells = np.argwhere(inside)
    steps = _steps(inside, cells)

    def farthest(start: int) -> tuple[int, float]:
        away = dijkstra(steps, directed=False, indices=start)
        return int(np.argmax(away)), float(away.max())

    first, _ = farthest(0)
    second, way = farthest(first)
    return tuple(cells[first]), tuple(cells[second]), way


def _steps(inside: np.ndarray, cells: np.ndarray):
    """Build the graph of steps between neighbouring cells, one long, or the diagonal."""
    from scipy.sparse import csr_array

    number = np.full(np.add(inside.shape, 2), -1, dtype=np.int64)
    number[1:-1, 1:-1][inside] = np.arange(len(cells))
    row, col = cells[:, 0] + 1, cells[:, 1] + 1
    here, there, long = [], [], []
    for down, right in ((0, 1), (1, 0), (1, 1), (1, -1)):
        to = number[row + down, col + right]
        met = to >= 0
        here.append(np.flatnonzero(met))
        there.append(to[met])
        long.append(np.full(met.sum(), np.hypot(down, right)))
    size = (len(cells), len(cells))
    return csr_array((np.concatenate(long), (np.concatenate(here), np.concatenate(there))), size)
