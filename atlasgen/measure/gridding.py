"""From scattered soundings to square cells: cell medians, a triangulation, and rasters of triangles and polygons.

Every raster here is `[row, col]`, row 0 at the south; cell (0, 0) is centred on (`x0_m`, `y0_m`).
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

# Ours: 4000 x 4000 cells keep a lake of ten million soundings under 6 GB of memory (measured).
MOST_CELLS = 16_000_000
# Ours: below a metre the position of a boat's sounding says nothing; 5 m is the station nearest to the bank.
FINEST_CELL_M, COARSEST_CELL_M = 1.0, 5.0
# Cell centres this close to an edge (in cells) count as on it, so that rounding leaves no pinhole between triangles.
_EDGE_CELLS = 1e-9
_TRIANGLES_AT_ONCE, _CELLS_AT_ONCE = 100_000, 2_000_000


def block_median(
    x: np.ndarray, y: np.ndarray, z: np.ndarray, cell_m: float
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """One sounding for each cell that holds any: the median one, at its own position with its own depth.

    Of an even number, the shallower of the two in the middle; of equal depths, the westernmost, then southernmost, so
    the order of the input never matters. Cells lie on multiples of `cell_m`; the result runs row by row from the south.
    Values must be finite.
    """
    x, y, z = (np.asarray(values, dtype=float) for values in (x, y, z))
    if x.size == 0:
        return x, y, z
    # Cell and depth packed in one integer sort several times faster than by separate keys.
    key = _cell_numbers(x, y, cell_m) << np.uint64(32) | _sortable_bits(z)
    order = np.argsort(key)
    key = key[order]
    cell = key >> np.uint64(32)
    starts = np.flatnonzero(np.r_[True, cell[1:] != cell[:-1]])
    counts = np.diff(np.r_[starts, key.size])
    median = key[starts + (counts - 1) // 2]
    low, high = np.searchsorted(key, median, "left"), np.searchsorted(key, median, "right")
    return _least_of_each(x, y, z, order[_ranges(low, high - low)], high - low)


def choose_cell(x: np.ndarray, y: np.ndarray, line: np.ndarray) -> float:
    """Cell size from the spacing of the soundings along their runs, metres.

    The rule is ours: twice the median distance between neighbours of one run, so that a cell on the boat's track holds
    about two soundings and a median means something; up to the next half metre, between FINEST_CELL_M and
    COARSEST_CELL_M; then as much larger as MOST_CELLS asks for.
    """
    step = np.hypot(np.diff(x), np.diff(y))[np.diff(line) == 0]
    step = step[step > 0]
    spacing = float(np.median(step)) if step.size else COARSEST_CELL_M
    cell_m = min(max(np.ceil(4 * spacing) / 2, FINEST_CELL_M), COARSEST_CELL_M)
    return fit_cell(float(cell_m), float(np.ptp(x)), float(np.ptp(y))) if len(x) else cell_m


def fit_cell(cell_m: float, width_m: float, height_m: float) -> float:
    """Return `cell_m`, or the smallest half metre above it with which the area has no more than MOST_CELLS."""
    while (width_m / cell_m + 2) * (height_m / cell_m + 2) > MOST_CELLS:
        least = np.sqrt(width_m * height_m / MOST_CELLS)
        cell_m = float(max(np.floor(2 * cell_m + 1), np.ceil(2 * least)) / 2)
    return cell_m


def triangulate(points: np.ndarray) -> np.ndarray:
    """Delaunay triangles of `points` (n, 2 or more; x, y first), as (m, 3) indices into them.

    Of points at the very same place only the first is used. Points that span no area give no triangles. For speed
    neighbours in the array should be neighbours on the ground.
    """
    places = np.asarray(points, dtype=float)[:, :2]
    _, first = np.unique(places[:, 0] + 1j * places[:, 1], return_index=True)
    kept = np.sort(first)
    if kept.size < 3:
        return np.empty((0, 3), dtype=np.int64)
    try:
        triangles = _triangulate_incremental(places[kept])
    except Exception:  # whatever stops the fast library, the slower one gives the same triangles
        triangles = _triangulate_qhull(places[kept])
    return kept[triangles]


def raster_triangles(
    points: np.ndarray, triangles: np.ndarray, x0_m: float, y0_m: float, cell_m: float, shape: tuple[int, int]
) -> np.ndarray:
    """Linear interpolation over triangles at every cell centre, NaN outside them.

    Parameters
    ----------
    points
        (n, 3): x, y, z.
    triangles
        (m, 3): indices into `points`.
    shape
        (rows, cols) of the grid.
    """
    grid = np.full(shape, np.nan)
    scaled = (np.asarray(points, dtype=float) - (x0_m, y0_m, 0.0)) / (cell_m, cell_m, 1.0)
    for start in range(0, len(triangles), _TRIANGLES_AT_ONCE):
        corners = scaled[triangles[start : start + _TRIANGLES_AT_ONCE]]
        slopes, flat = _slopes(corners)
        corners, slopes = corners[~flat], slopes[~flat]
        for which, row, col in _cells_inside(corners, shape):
            grid[row, col] = _heights(corners, slopes, which, row, col)
    return grid


def raster_polygon(area: BaseGeometry, x0_m: float, y0_m: float, cell_m: float, shape: tuple[int, int]) -> np.ndarray:
    """Which cell centres lie inside a polygon or multipolygon (bool), by the even-odd rule along each row."""
    rows, cols = shape
    start, end = _edges(area, x0_m, y0_m, cell_m)
    low, high = np.minimum(start[:, 1], end[:, 1]), np.maximum(start[:, 1], end[:, 1])
    # Half open, ceil(low) <= row < ceil(high): a vertex on a row's centre line is crossed once, not twice.
    first, stop = (np.clip(np.ceil(value), 0, rows).astype(np.int64) for value in (low, high))
    edge = np.repeat(np.arange(len(start)), stop - first)
    row = _ranges(first, stop - first)
    (ax, ay), (bx, by) = start[edge].T, end[edge].T
    crossing = ax + (bx - ax) * (row - ay) / (by - ay)
    col = np.clip(np.ceil(crossing), 0, cols).astype(np.int64)
    toggles = np.bincount(row * (cols + 1) + col, minlength=rows * (cols + 1)).astype(np.uint8) & 1
    return np.bitwise_xor.accumulate(toggles.reshape(rows, cols + 1), axis=1)[:, :cols].astype(bool)


def _cell_numbers(x: np.ndarray, y: np.ndarray, cell_m: float) -> np.ndarray:
    col, row = np.floor(x / cell_m).astype(np.int64), np.floor(y / cell_m).astype(np.int64)
    col -= col.min()
    row -= row.min()
    number = row * (col.max() + 1) + col
    if number.max() >= 2**32:
        number = np.unique(number, return_inverse=True)[1]
    return number.astype(np.uint64)


def _sortable_bits(z: np.ndarray) -> np.ndarray:
    """32 bits that sort as the values do: IEEE 754 singles with the sign bit turned, negatives inverted."""
    bits = (z + 0.0).astype(np.float32).view(np.uint32)
    sign = np.uint32(1 << 31)
    return np.where(bits & sign, ~bits, bits | sign).astype(np.uint64)


def _least_of_each(
    x: np.ndarray, y: np.ndarray, z: np.ndarray, members: np.ndarray, counts: np.ndarray
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Of each run of `members`, the one least in x, then y, then z."""
    starts = np.cumsum(counts) - counts
    left = np.ones(members.size, dtype=bool)
    least = []
    for values in (x, y, z):
        candidates = np.where(left, values[members], np.inf)
        least.append(np.minimum.reduceat(candidates, starts))
        left &= candidates == np.repeat(least[-1], counts)
    return least[0], least[1], least[2]


def _ranges(starts: np.ndarray, counts: np.ndarray) -> np.ndarray:
    """starts[0], starts[0] + 1, ... (counts[0] of them), then the same from starts[1], and so on."""
    return np.arange(counts.sum()) + np.repeat(starts - np.cumsum(counts) + counts, counts)


def _triangulate_incremental(places: np.ndarray) -> np.ndarray:
    import startinpy

    triangulation = startinpy.DT()
    # The default would merge points within a millimetre, and the indices would no longer be those of the input.
    triangulation.snap_tolerance = 1e-9
    triangulation.insert(np.c_[places, np.zeros(len(places))])
    if triangulation.number_of_vertices() != len(places):
        raise ValueError("points were merged")
    # Its vertex 0 is the point at infinity.
    return np.asarray(triangulation.triangles, dtype=np.int64).reshape(-1, 3) - 1


def _triangulate_qhull(places: np.ndarray) -> np.ndarray:
    from scipy.spatial import Delaunay, QhullError

    try:
        return Delaunay(places).simplices.astype(np.int64)
    except QhullError:
        return np.empty((0, 3), dtype=np.int64)


def _slopes(corners: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Gradient (m, 2) of each triangle's plane, and which have no area."""
    along, across = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    twice_area = along[:, 0] * across[:, 1] - across[:, 0] * along[:, 1]
    flat = twice_area == 0
    area = np.where(flat, 1.0, twice_area)
    slope_x = (along[:, 2] * across[:, 1] - across[:, 2] * along[:, 1]) / area
    slope_y = (across[:, 2] * along[:, 0] - along[:, 2] * across[:, 0]) / area
    return np.c_[slope_x, slope_y], flat


def _cells_inside(corners: np.ndarray, shape: tuple[int, int]) -> Iterator[tuple[np.ndarray, np.ndarray, np.ndarray]]:
    """Yield (triangle, row, col) of the cells inside, in portions small enough for memory."""
    which, row = _rows_crossed(corners, shape[0])
    west, east = _span_of_rows(corners[which], row)
    first = np.maximum(np.ceil(west - _EDGE_CELLS), 0).astype(np.int64)
    last = np.minimum(np.floor(east + _EDGE_CELLS), shape[1] - 1).astype(np.int64)
    width = np.maximum(last - first + 1, 0)
    portion = np.cumsum(width) // _CELLS_AT_ONCE
    for part in np.split(np.arange(row.size), np.flatnonzero(np.diff(portion)) + 1):
        span = np.repeat(part, width[part])
        yield which[span], row[span], _ranges(first[part], width[part])


def _rows_crossed(corners: np.ndarray, rows: int) -> tuple[np.ndarray, np.ndarray]:
    low, high = corners[:, :, 1].min(axis=1), corners[:, :, 1].max(axis=1)
    first = np.maximum(np.ceil(low - _EDGE_CELLS), 0).astype(np.int64)
    last = np.minimum(np.floor(high + _EDGE_CELLS), rows - 1).astype(np.int64)
    count = np.maximum(last - first + 1, 0)
    return np.repeat(np.arange(len(corners)), count), _ranges(first, count)


def _span_of_rows(corners: np.ndarray, row: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Where each triangle meets the centre line of its row, west and east; empty spans come out reversed."""
    west, east = np.full(row.size, np.inf), np.full(row.size, -np.inf)
    for a, b in ((0, 1), (1, 2), (2, 0)):
        ax, ay, bx, by = corners[:, a, 0], corners[:, a, 1], corners[:, b, 0], corners[:, b, 1]
        low, high = np.minimum(ay, by) - _EDGE_CELLS, np.maximum(ay, by) + _EDGE_CELLS
        meets = (low <= row) & (row <= high)
        rise = by - ay
        share = np.clip(np.divide(row - ay, rise, out=np.zeros(row.size), where=rise != 0), 0, 1)
        # A level edge lies on the row as a whole; its other end is met by a neighbouring edge.
        met = ax + (bx - ax) * share
        west = np.where(meets, np.minimum(west, met), west)
        east = np.where(meets, np.maximum(east, met), east)
    nothing = ~np.isfinite(west)
    return np.where(nothing, 1.0, west), np.where(nothing, -1.0, east)


def _heights(
    corners: np.ndarray, slopes: np.ndarray, which: np.ndarray, row: np.ndarray, col: np.ndarray
) -> np.ndarray:
    at, slope = corners[which, 0], slopes[which]
    z = at[:, 2] + slope[:, 0] * (col - at[:, 0]) + slope[:, 1] * (row - at[:, 1])
    # In a sliver rounding could carry the plane beyond its own corners.
    return np.clip(z, corners[:, :, 2].min(axis=1)[which], corners[:, :, 2].max(axis=1)[which])


def _edges(area: BaseGeometry, x0_m: float, y0_m: float, cell_m: float) -> tuple[np.ndarray, np.ndarray]:
    """Start and end of every edge of the area that is not level, in cells."""
    rings = shapely.get_rings(shapely.get_parts(area))
    coords, ring = shapely.get_coordinates(rings, return_index=True)
    coords = (coords - (x0_m, y0_m)) / cell_m
    edge = (ring[1:] == ring[:-1]) & (coords[1:, 1] != coords[:-1, 1])
    return coords[:-1][edge], coords[1:][edge]
