"""How far inland a place is, and how high the land is taken to stand there.

What stands behind a shoreline decides what a picture shows: from a boat all that lies behind a point of land is
hidden, from a drone only what lies close behind it or behind a hill. Without elevations the stand-in is a profile over
the distance from the shoreline: nothing at the water's edge, since banks are seen right down to it; 6 m of ground and
growth together 25 m inland; from there 15 in 100, as in a dammed valley, up to hilltops of 60 m. The figures are ours,
common practice without a source; on the demo's terrain 4 m over 15 m or 10 m over 50 m serve as well. In flat country
they hide too much, never too little: a shore said to be missing costs a second look, one said to be shown has none.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely

from atlasgen.model.views import ViewRules
from atlasgen.place.rasters import between_cells

if TYPE_CHECKING:
    from shapely import MultiPolygon

# Height of the land's outline, ground and growth together, above the shoreline, metres, at arrays of map places of one
# shape; NaN where not known.
GroundHeight = Callable[[np.ndarray, np.ndarray], np.ndarray]

# Ours. Between cells the distance is read straight, so that a straight bank is exact at any size of cell; measured on
# the demo lake, cells of 8 m serve as well as cells of 2 m. A large lake gets coarser ones: 11 m for 40 by 40 km.
FINEST_CELL_M = 3.0
MOST_CELLS = 12_000_000
# So far around the water: from there the hilltops are higher than the profile goes.
MARGIN_M = 400.0
# Within this many cells of the shoreline the distance is measured to the line itself instead of to cells.
_EXACT_CELLS = 2.0


@dataclass(frozen=True, slots=True)
class InlandGrid:
    """Distance inland of cells, metres, negative over water; `inland_m[row, col]`, row 0 at the south.

    Cell (0, 0) is centred on (`x0_m`, `y0_m`). Outside it all is land, as far inland as the edge is.
    """

    inland_m: np.ndarray
    x0_m: float
    y0_m: float
    cell_m: float

    def at(self, x_m: np.ndarray, y_m: np.ndarray) -> np.ndarray:
        """Distance inland at places of any one shape, straight between the cells' middles."""
        return between_cells(self.inland_m, (x_m - self.x0_m) / self.cell_m, (y_m - self.y0_m) / self.cell_m)


def inland_grid(water: MultiPolygon, margin_m: float = MARGIN_M, cell_m: float | None = None) -> InlandGrid:
    """Lay the grid over the metric `water` and `margin_m` around it."""
    from scipy.ndimage import distance_transform_edt

    west, south, east, north = np.array(water.bounds) + margin_m * np.array([-1, -1, 1, 1])
    cell = cell_m or max(FINEST_CELL_M, float(np.sqrt((east - west) * (north - south) / MOST_CELLS)))
    shape = int(np.ceil((north - south) / cell)) + 1, int(np.ceil((east - west) / cell)) + 1
    wet = _water_cells(water, west, south, cell, shape)
    inland = np.empty(shape, np.float32)
    inland[...] = distance_transform_edt(~wet)
    inland -= distance_transform_edt(wet)
    # From cell to cell is half a cell more than from a cell to the line between.
    inland -= np.float32(0.5) * np.sign(inland)
    inland *= np.float32(cell)
    _measure_exactly(inland, water, west, south, cell)
    return InlandGrid(inland, float(west), float(south), float(cell))


def _water_cells(water: MultiPolygon, west: float, south: float, cell: float, shape: tuple[int, int]) -> np.ndarray:
    """Tell the cells whose middle is over water: along each row, every crossing of the shoreline changes sides."""
    a, b = _segments(water)
    rows = (np.stack([a[:, 1], b[:, 1]]) - south) / cell
    first, last = np.ceil(rows.min(axis=0)).astype(int), np.ceil(rows.max(axis=0)).astype(int)
    count = last - first
    segment = np.repeat(np.arange(len(a)), count)
    row = np.arange(len(segment)) - np.repeat(np.cumsum(count) - count, count) + first[segment]
    share = (south + row * cell - a[segment, 1]) / (b[segment, 1] - a[segment, 1])
    x = a[segment, 0] + share * (b[segment, 0] - a[segment, 0])
    column = np.ceil((x - west) / cell).astype(int)
    crossings = np.zeros(shape, np.uint8)
    np.add.at(crossings, (row, column), 1)
    return np.cumsum(crossings, axis=1, dtype=np.uint8) % 2 == 1


def _segments(water: MultiPolygon) -> tuple[np.ndarray, np.ndarray]:
    coords, ring = shapely.get_coordinates(shapely.get_rings(shapely.get_parts(water)), return_index=True)
    joined = ring[1:] == ring[:-1]
    return coords[:-1][joined], coords[1:][joined]


def _measure_exactly(inland: np.ndarray, water: MultiPolygon, west: float, south: float, cell: float) -> None:
    """Put the distance to the line itself into the cells near it, in place."""
    a, b = _segments(water)
    tree = shapely.STRtree(shapely.linestrings(np.stack([a, b], axis=1)))
    row, column = np.nonzero(np.abs(inland) < _EXACT_CELLS * cell)
    points = shapely.points(west + column * cell, south + row * cell)
    (_, _), distance = tree.query_nearest(points, all_matches=False, return_distance=True)
    inland[row, column] = np.copysign(distance, inland[row, column])


def land_height_m(inland_m: np.ndarray, rules: ViewRules, known_m: np.ndarray | None = None) -> np.ndarray:
    """Height of the land's outline above the shoreline at distances inland; -inf over water, which hides nothing.

    `known_m` is that height where it is known (`place.elevation`), NaN elsewhere.
    """
    ramp = rise_share(inland_m, rules)
    beyond = rules.land_slope * np.maximum(inland_m - rules.bank_rises_over_m, 0.0)
    height = np.minimum(rules.bank_height_m * ramp + beyond, max(rules.land_highest_m, rules.bank_height_m))
    if known_m is not None:
        height = np.where(np.isnan(known_m), height, known_m)
    return np.where(inland_m > 0, height, -np.inf)


def rise_share(inland_m: np.ndarray, rules: ViewRules) -> np.ndarray:
    """Share of its full height that a bank, or what grows on it, has reached at distances inland, at most 1."""
    return np.minimum(inland_m * (1 / max(rules.bank_rises_over_m, 1e-6)), 1.0)
