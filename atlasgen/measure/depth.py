"""The depth model: soundings and shoreline triangulated into a grid that claims no more than was sounded.

The shoreline is the water's edge at full supply level, so depth there is zero. A cell has a depth only where all of
this holds: its centre is in the water; a sounding lies within `near_sounding_m`, in a straight line and along the
water, so that nothing reaches across an island or a peninsula; and the triangle it lies in holds a sounding, or spans a
notch of the bank no wider than a few cells. There is no exception for the strip between soundings and bank: where the
bank is within `near_sounding_m` of a sounding, so is all that lies between the two.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from shapely import MultiPolygon

from atlasgen.measure.gridding import (
    block_median,
    choose_cell,
    fit_cell,
    raster_polygon,
    raster_triangles,
    triangulate,
)
from atlasgen.model import DepthGrid

# Ours: a triangle with all three corners on the bank says "zero" by its corners alone. In a notch of the bank that is
# near the truth; in a cove it would be an invention.
NOTCH_CELLS = 3.0


@dataclass(frozen=True, slots=True)
class _Frame:
    x0_m: float
    y0_m: float
    cell_m: float
    shape: tuple[int, int]

    @property
    def grid(self) -> tuple[float, float, float, tuple[int, int]]:
        return self.x0_m, self.y0_m, self.cell_m, self.shape

    def cell_of(self, x: np.ndarray, y: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Row and column of the cells that hold the points; points outside the frame take the nearest cell."""
        row = np.floor((y - self.y0_m) / self.cell_m + 0.5).astype(np.int64)
        col = np.floor((x - self.x0_m) / self.cell_m + 0.5).astype(np.int64)
        return np.clip(row, 0, self.shape[0] - 1), np.clip(col, 0, self.shape[1] - 1)


def build_grid(
    x: np.ndarray,
    y: np.ndarray,
    depth_m: np.ndarray,
    water: MultiPolygon,
    cell_m: float | None,
    near_sounding_m: float,
    line: np.ndarray | None = None,
) -> DepthGrid | None:
    """Grid the depths of a lake, or None if its soundings give no cell a depth.

    Parameters
    ----------
    x, y, depth_m
        Soundings, metric, metres below datum; those with a NaN are left out.
    water
        The water at full supply level, metric, islands as holes.
    cell_m
        Cell size, or None to choose it from the soundings (see `choose_cell`); enlarged if the grid would be too big.
    near_sounding_m
        The farthest a value may be from a sounding; infinity for no limit (for trials, never for a chart).
    line
        The run each sounding belongs to, for choosing the cell; None takes them as one run.
    """
    x, y, depth_m, line = _usable(x, y, depth_m, line, water)
    if x.size == 0:
        return None
    cell_m = choose_cell(x, y, line) if cell_m is None else cell_m
    frame = _frame(x, y, water, cell_m, near_sounding_m)
    soundings = _in_water(np.c_[block_median(x, y, depth_m, frame.cell_m)], water)
    if len(soundings) == 0:
        return None
    wet = raster_polygon(water, *frame.grid)
    distance_m = _distance(soundings, frame)
    near = _reached(soundings, frame, wet & (distance_m <= near_sounding_m), near_sounding_m)
    depth = _interpolated(soundings, water, frame)
    depth[~near] = np.nan
    if np.isnan(depth).all():
        return None
    return DepthGrid(depth, distance_m, frame.x0_m, frame.y0_m, frame.cell_m, near_sounding_m)


def lined_grid(points: np.ndarray, water: MultiPolygon, cell_m: float, near_m: float) -> DepthGrid | None:
    """Grid points (n, 3) along lines of equal depth; None if they give no cell a depth.

    A cell has a depth between two depths of different lines, the bank being one of zero; where all corners of its
    triangle agree, only within `near_m` of a point. `distance_m` is that to the nearest point.
    """
    frame = _frame(points[:, 0], points[:, 1], water, cell_m, float("inf"))
    bank = shapely.get_coordinates(shapely.segmentize(shapely.boundary(water), frame.cell_m))
    points = np.vstack([points, np.c_[bank, np.zeros(len(bank))]])
    triangles = triangulate(points)
    crossing = _crosses_land(
        points, triangles, triangles >= len(points) - len(bank), water, _open_water(bank, frame), frame
    )
    triangles = triangles[~crossing]
    flat = np.ptp(points[triangles, 2], axis=1) == 0
    sloping = raster_triangles(points, triangles[~flat], *frame.grid)
    distance_m = _distance(points[: len(points) - len(bank)], frame)
    level = raster_triangles(points, triangles[flat & (points[triangles, 2] > 0).all(axis=1)], *frame.grid)
    depth = np.where(np.isnan(sloping) & (distance_m <= near_m), level, sloping)
    depth[~raster_polygon(water, *frame.grid)] = np.nan
    if np.isnan(depth).all():
        return None
    return DepthGrid(depth, distance_m, frame.x0_m, frame.y0_m, frame.cell_m, near_m)


def depth_at(grid: DepthGrid, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Bilinear depth at points, metres below datum; NaN where a cell that it needs is not known."""
    col = (np.asarray(x, dtype=float) - grid.x0_m) / grid.cell_m
    row = (np.asarray(y, dtype=float) - grid.y0_m) / grid.cell_m
    west, south = np.floor(col), np.floor(row)
    depth = np.zeros(np.shape(col))
    for step_row, step_col in ((0, 0), (0, 1), (1, 0), (1, 1)):
        weight = np.abs(1 - step_row - (row - south)) * np.abs(1 - step_col - (col - west))
        value = _cell_values(grid.depth_m, south + step_row, west + step_col)
        # A point on a cell's very centre line does not need the cells beyond it.
        depth += np.where(weight > 0, weight * value, 0.0)
    return depth


def cells_at(grid: DepthGrid, values: np.ndarray, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Read values, one for each cell of the grid, in the cells that hold the points; NaN outside the grid."""
    row = np.floor((np.asarray(y, dtype=float) - grid.y0_m) / grid.cell_m + 0.5)
    return _cell_values(values, row, np.floor((np.asarray(x, dtype=float) - grid.x0_m) / grid.cell_m + 0.5))


def used_soundings(x: np.ndarray, y: np.ndarray, depth_m: np.ndarray, water: MultiPolygon, cell_m: float) -> np.ndarray:
    """Return the soundings that a model of that cell rests on, one for each cell that holds any: (n, 3) x, y, depth."""
    x, y, depth_m, _ = _usable(x, y, depth_m, None, water)
    return _in_water(np.c_[block_median(x, y, depth_m, cell_m)], water)


def _cell_values(values: np.ndarray, row: np.ndarray, col: np.ndarray) -> np.ndarray:
    rows, cols = values.shape
    inside = (row >= 0) & (row < rows) & (col >= 0) & (col < cols)
    taken = values[np.where(inside, row, 0).astype(np.int64), np.where(inside, col, 0).astype(np.int64)]
    return np.where(inside, taken, np.nan)


def _usable(
    x: np.ndarray, y: np.ndarray, depth_m: np.ndarray, line: np.ndarray | None, water: MultiPolygon
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Keep the finite soundings within the water's bounds: one wild position must not stretch the grid."""
    x, y, depth_m = (np.asarray(values, dtype=float) for values in (x, y, depth_m))
    line = np.zeros(x.size, dtype=np.int64) if line is None else np.asarray(line)
    west, south, east, north = water.bounds
    kept = np.isfinite(depth_m) & (x >= west) & (x <= east) & (y >= south) & (y <= north)
    return x[kept], y[kept], depth_m[kept], line[kept]


def _in_water(soundings: np.ndarray, water: MultiPolygon) -> np.ndarray:
    shapely.prepare(water)
    return soundings[shapely.intersects_xy(water, soundings[:, 0], soundings[:, 1])]


def _frame(x: np.ndarray, y: np.ndarray, water: MultiPolygon, cell_m: float, near_sounding_m: float) -> _Frame:
    """Frame the soundings and what lies near them, within the water's bounds, cell edges on multiples of the cell."""
    west, south, east, north = water.bounds
    west, east = max(west, x.min() - near_sounding_m), min(east, x.max() + near_sounding_m)
    south, north = max(south, y.min() - near_sounding_m), min(north, y.max() + near_sounding_m)
    cell_m = fit_cell(cell_m, east - west, north - south)
    first_col, first_row = np.floor(west / cell_m), np.floor(south / cell_m)
    cols, rows = max(np.ceil(east / cell_m) - first_col, 1), max(np.ceil(north / cell_m) - first_row, 1)
    return _Frame(float((first_col + 0.5) * cell_m), float((first_row + 0.5) * cell_m), cell_m, (int(rows), int(cols)))


def _distance(soundings: np.ndarray, frame: _Frame) -> np.ndarray:
    """Distance of each cell centre to the sounding that stands for the nearest sounded cell, metres.

    That sounding is at hand, so this is never less than the distance to the nearest sounding of all.
    """
    from scipy.ndimage import distance_transform_edt

    place = np.full((*frame.shape, 2), np.nan, dtype=np.float32)
    row, col = frame.cell_of(soundings[:, 0], soundings[:, 1])
    # Relative to the frame, so that single precision holds centimetres.
    place[row, col] = soundings[:, :2] - (frame.x0_m, frame.y0_m)
    near_row, near_col = distance_transform_edt(np.isnan(place[..., 0]), return_distances=False, return_indices=True)
    centre_y = (np.arange(frame.shape[0], dtype=np.float32) * frame.cell_m)[:, None]
    centre_x = (np.arange(frame.shape[1], dtype=np.float32) * frame.cell_m)[None, :]
    nearest = place[near_row, near_col]
    return np.hypot(nearest[..., 0] - centre_x, nearest[..., 1] - centre_y)


def _reached(soundings: np.ndarray, frame: _Frame, allowed: np.ndarray, near_sounding_m: float) -> np.ndarray:
    """Which of the allowed cells are reached from a sounding by steps over allowed cells alone.

    A king's step covers at least a cell's width, so a cell in straight sight of a sounding is always reached; one
    behind land is only if the way round is short enough too.
    """
    from scipy.ndimage import binary_dilation

    if np.isinf(near_sounding_m):
        return allowed
    sounded = np.zeros(frame.shape, dtype=bool)
    sounded[frame.cell_of(soundings[:, 0], soundings[:, 1])] = True
    steps = int(np.ceil(near_sounding_m / frame.cell_m)) + 1
    return binary_dilation(sounded, np.ones((3, 3), dtype=bool), iterations=steps, mask=allowed) & allowed


def _interpolated(soundings: np.ndarray, water: MultiPolygon, frame: _Frame) -> np.ndarray:
    # The whole shore, so that the same soundings give the same depths whatever the frame.
    bank = shapely.get_coordinates(shapely.segmentize(shapely.boundary(water), frame.cell_m))
    # Heights are left out of a triangulation, so the soundings come first: they win over bank points at their place.
    points = np.vstack([soundings, np.c_[bank, np.zeros(len(bank))]])
    triangles = triangulate(points)
    on_bank = triangles >= len(soundings)
    told = ~on_bank.all(axis=1) | _small(points, triangles, NOTCH_CELLS * frame.cell_m)
    triangles, on_bank = triangles[told], on_bank[told]
    crossing = _crosses_land(points, triangles, on_bank, water, _open_water(bank, frame), frame)
    return raster_triangles(points, triangles[~crossing], *frame.grid)


def _small(points: np.ndarray, triangles: np.ndarray, longest_m: float) -> np.ndarray:
    corners = points[triangles, :2]
    edges = corners - np.roll(corners, 1, axis=1)
    return np.hypot(edges[..., 0], edges[..., 1]).max(axis=1, initial=0.0) <= longest_m


def _open_water(bank: np.ndarray, frame: _Frame) -> np.ndarray:
    """Cells with no bank in them or next to them; a spit too thin to hold a cell's centre has banks all the same."""
    from scipy.ndimage import binary_dilation

    banks = np.zeros(frame.shape, dtype=bool)
    banks[frame.cell_of(bank[:, 0], bank[:, 1])] = True
    return ~binary_dilation(banks, np.ones((3, 3), dtype=bool))


def _crosses_land(
    points: np.ndarray,
    triangles: np.ndarray,
    on_bank: np.ndarray,
    water: MultiPolygon,
    open_water: np.ndarray,
    frame: _Frame,
) -> np.ndarray:
    """Which triangles join two soundings over land; `open_water` are the cells without a bank nearby."""
    crossing = np.zeros(len(triangles), dtype=bool)
    for a, b in ((0, 1), (1, 2), (2, 0)):
        joins = np.flatnonzero(~on_bank[:, a] & ~on_bank[:, b])
        ends = points[triangles[joins][:, [a, b]], :2]
        # Exact tests are slow: only edges that come near a bank take them.
        suspect = _leaves(ends, open_water, frame)
        crossing[joins[suspect]] |= ~shapely.covers(water, shapely.linestrings(ends[suspect]))
    return crossing


def _leaves(ends: np.ndarray, cells: np.ndarray, frame: _Frame) -> np.ndarray:
    """Which edges (n, 2, 2) have a point in a cell that is False, looking every half cell."""
    start, along = ends[:, 0], ends[:, 1] - ends[:, 0]
    steps = np.floor(np.hypot(*along.T) / frame.cell_m).astype(np.int64) * 2 + 1
    edge = np.repeat(np.arange(len(ends)), steps)
    share = (np.arange(edge.size) - np.repeat(np.cumsum(steps) - steps, steps) + 0.5) / steps[edge]
    x, y = (start[edge] + along[edge] * share[:, None]).T
    leaves = np.zeros(len(ends), dtype=bool)
    leaves[edge[~cells[frame.cell_of(x, y)]]] = True
    return leaves
