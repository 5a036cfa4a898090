"""Values of a raster at places of the lake's own map."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from pyproj import Transformer

from atlasgen.model.rasters import Raster
from atlasgen.place.geo import Projection

# Cells between the places where coordinates are carried from one map to another exactly.
_NODE_CELLS = 32


@lru_cache(maxsize=32)
def _into(crs_from: str, crs_to: str) -> Transformer:
    return Transformer.from_crs(crs_from, crs_to, always_xy=True)


def sample(raster: Raster, projection: Projection, x_m: np.ndarray, y_m: np.ndarray) -> np.ndarray:
    """Read a raster at map places of any one shape, straight between the middles of its cells (bilinear).

    The result is in the raster's own unit, float64, NaN outside the raster and where a cell that counts is NaN.
    """
    return bilinear(raster.values, *_cells(raster, projection, x_m, y_m))


def _cells(raster: Raster, projection: Projection, x_m: np.ndarray, y_m: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Columns and rows of map places in a raster, counted from the middle of its first cell."""
    east, north = _into(projection.crs_text, raster.crs).transform(np.asarray(x_m, float), np.asarray(y_m, float))
    a, b, c, d, e, f = raster.transform
    east, north, size = east - c, north - f, a * e - b * d
    # What cannot be projected is infinite, and its column not a number: outside.
    with np.errstate(invalid="ignore"):
        return (e * east - b * north) / size - 0.5, (a * north - d * east) / size - 0.5


def cell_size_m(raster: Raster, projection: Projection) -> float:
    """Side of a raster's cell in metres, measured in its middle on the lake's map."""
    a, b, c, d, e, f = raster.transform
    rows, columns = raster.values.shape
    column, row = np.array([0.0, 1.0, 0.0]) + columns / 2, np.array([0.0, 0.0, 1.0]) + rows / 2
    x, y = _into(raster.crs, projection.crs_text).transform(a * column + b * row + c, d * column + e * row + f)
    return float(np.sqrt(abs((x[1] - x[0]) * (y[2] - y[0]) - (x[2] - x[0]) * (y[1] - y[0]))))


def bilinear(values: np.ndarray, column: np.ndarray, row: np.ndarray) -> np.ndarray:
    """Read `values` (rows, columns) at places counted in cells from the middle of the first one.

    Within half a cell of the outermost middles the edge's value holds; farther out there is NaN. A cell without a
    value makes NaN wherever it would count for anything.
    """
    rows, columns = values.shape
    inside = (column >= -0.5) & (column <= columns - 0.5) & (row >= -0.5) & (row <= rows - 0.5)
    u = np.clip(np.where(inside, column, 0.0), 0, columns - 1)
    v = np.clip(np.where(inside, row, 0.0), 0, rows - 1)
    left, low = np.minimum(u.astype(int), max(columns - 2, 0)), np.minimum(v.astype(int), max(rows - 2, 0))
    u, v = u - left, v - low
    right, high = np.minimum(left + 1, columns - 1), np.minimum(low + 1, rows - 1)
    total = np.zeros(np.shape(u))
    for r, c, weight in ((low, left, (1 - u) * (1 - v)), (low, right, u * (1 - v)),
                         (high, left, (1 - u) * v), (high, right, u * v)):  # fmt: skip
        # A corner of no weight must not spoil the others with its NaN.
        total += np.where(weight > 0, values[r, c], 0.0) * weight
    return np.where(inside, total, np.nan)


@dataclass(frozen=True, slots=True)
class MetricGrid:
    """Values on a square grid of the lake's map, for reading many places fast; `values[row, col]`, row 0 in the south.

    Cell (0, 0) is centred on (`x0_m`, `y0_m`).
    """

    values: np.ndarray
    x0_m: float
    y0_m: float
    cell_m: float

    def at(self, x_m: np.ndarray, y_m: np.ndarray) -> np.ndarray:
        """Values at places of any one shape, straight between the cells' middles; NaN outside and beside NaN."""
        rows, columns = self.values.shape
        u, v = (x_m - self.x0_m) / self.cell_m, (y_m - self.y0_m) / self.cell_m
        inside = (u >= 0) & (u <= columns - 1) & (v >= 0) & (v <= rows - 1)
        return np.where(inside, between_cells(self.values, u, v), np.float32(np.nan))


def between_cells(values: np.ndarray, column: np.ndarray, row: np.ndarray) -> np.ndarray:
    """Read a grid of at least 2 by 2 straight between the middles of its cells, at its edge outside; NaN spreads."""
    rows, columns = values.shape
    low, v = _whole_and_part(row, rows)
    left, u = _whole_and_part(column, columns)
    low *= np.int32(columns)
    low += left
    at, flat = low.astype(np.intp), values.reshape(-1)
    # The cells to the east and north are those of a grid that begins later. The mode saves numpy a pass of checks.
    south_west, south_east = flat.take(at, mode="clip"), flat[1:].take(at, mode="clip")
    north_west, north_east = flat[columns:].take(at, mode="clip"), flat[columns + 1 :].take(at, mode="clip")
    return _between(_between(south_west, south_east, u), _between(north_west, north_east, u), v)


def _whole_and_part(cells: np.ndarray, count: int) -> tuple[np.ndarray, np.ndarray]:
    """Split places along one side of a grid into the number of the cell before, and the part of a cell after it."""
    inside = np.maximum(cells, 0)
    inside = np.minimum(inside, count - 1.001, out=inside)
    whole = np.floor(inside)
    return whole.astype(np.int32), np.subtract(inside, whole, out=inside).astype(np.float32, copy=False)


def _between(one: np.ndarray, other: np.ndarray, part: np.ndarray) -> np.ndarray:
    """Straight between two values; the other's array is used up."""
    other -= one
    other *= part
    other += one
    return other


def metric_grid(
    raster: Raster, projection: Projection, bounds_m: tuple[float, float, float, float], cell_m: float
) -> MetricGrid:
    """Lay a raster out on the lake's map over `bounds_m` (west, south, east, north), in its own unit.

    Cells half as wide as the raster's keep what reading it straight gives; as wide as its own they smooth it a second
    time, and coarser ones lose what lies between. Coordinates are carried over exactly at every 32nd cell and straight
    between: over 100 m the curve between two map projections departs from a line by a fifth of a millimetre.
    """
    west, south, east, north = bounds_m
    columns, rows = (int(np.ceil((high - low) / cell_m)) + 1 for low, high in ((west, east), (south, north)))
    values = np.empty((rows, columns), np.float32)
    steps = (np.arange(-(-count // _NODE_CELLS) + 1) * _NODE_CELLS * cell_m for count in (columns, rows))
    nodes = _cells(
        raster, projection, *np.meshgrid(*(low + step for low, step in zip((west, south), steps, strict=True)))
    )
    across = np.arange(columns) / _NODE_CELLS
    # By rows, so that a large lake does not hold a dozen arrays of the whole at once.
    for first in range(0, rows, 256):
        up = np.arange(first, min(first + 256, rows)) / _NODE_CELLS
        places = np.meshgrid(across, up)
        values[first : first + len(up)] = bilinear(raster.values, *(bilinear(node, *places) for node in nodes))
    return MetricGrid(values, float(west), float(south), float(cell_m))
