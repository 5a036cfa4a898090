"""How much water the lake holds at each stage, and how winding its shore is."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import MultiPolygon

from atlasgen.measure.gridding import raster_polygon
from atlasgen.measure.isobaths import band_edges
from atlasgen.model import DepthGrid
from atlasgen.model.depths import Hypsometry, StageWater
from atlasgen.units import DepthUnit

# Ours: a table of more rows is not read.
MOST_ROWS = 30


def frusta_m3(areas_m2: Sequence[float] | np.ndarray, heights_m: Sequence[float] | np.ndarray) -> np.ndarray:
    """Volume of each slice between level areas, taken as a frustum: h/3 (A1 + A2 + sqrt(A1 A2)).

    Hutchinson, A Treatise on Limnology I (1957); exact for cones and pyramids. One area more than heights.
    """
    upper, lower = np.asarray(areas_m2, dtype=float)[:-1], np.asarray(areas_m2, dtype=float)[1:]
    return np.asarray(heights_m, dtype=float) / 3 * (upper + lower + np.sqrt(upper * lower))


def trapezoids_m3(areas_m2: Sequence[float] | np.ndarray, heights_m: Sequence[float] | np.ndarray) -> np.ndarray:
    """Volume of each slice between level areas by the mean of the two: h/2 (A1 + A2)."""
    areas = np.asarray(areas_m2, dtype=float)
    return np.asarray(heights_m, dtype=float) / 2 * (areas[:-1] + areas[1:])


def shoreline_development(length_m: float, area_m2: float) -> float:
    """Length of the shore over that of a circle of the lake's area, 1 for a circle (Hutchinson 1957)."""
    return length_m / (2 * float(np.sqrt(np.pi * area_m2)))


def hypsometry(grid: DepthGrid, water: MultiPolygon, unit: DepthUnit) -> Hypsometry | None:
    """Area and volume at round depths of the reader's unit, or None where no cell is known.

    Every cell whose centre is in the water stands for an equal part of the lake's own area, so that modelled and
    unmodelled water make up the lake exactly. What is not modelled has an area and no volume.
    """
    depth = np.sort(grid.depth_m[np.isfinite(grid.depth_m)])
    wet = _wet_cells(grid, water)
    if depth.size == 0 or wet == 0:
        return None
    cell_m2 = water.area / max(wet, depth.size)
    levels = np.array(band_edges(float(depth[-1]), unit, MOST_ROWS))
    areas = cell_m2 * (depth.size - np.searchsorted(depth, levels, side="right"))
    # At the datum all modelled water is wet, the cells on the very bank (depth 0) included.
    areas[0] = cell_m2 * depth.size
    slices = frusta_m3(areas, np.diff(levels))
    below = np.r_[np.cumsum(slices[::-1])[::-1], 0.0]
    length_m = float(shapely.length(shapely.boundary(water)))
    return Hypsometry(
        rows=tuple(
            StageWater(0.0 - float(d), float(a), float(v)) for d, a, v in zip(levels, areas, below, strict=True)
        ),
        lake_m2=water.area,
        modelled_m2=float(areas[0]),
        unmodelled_m2=water.area - float(areas[0]),
        volume_m3=float(below[0]),
        trapezoid_m3=float(trapezoids_m3(areas, np.diff(levels)).sum()),
        mean_depth_m=float(below[0] / areas[0]),
        deepest_m=float(depth[-1]),
        shoreline_m=length_m,
        shoreline_development=shoreline_development(length_m, water.area),
    )


def _wet_cells(grid: DepthGrid, water: MultiPolygon) -> int:
    """Count the cells of the whole lake, of the grid's size and on its lines, whose centre is in the water."""
    west, south, east, north = water.bounds
    col, row = (np.floor((west - grid.x0_m) / grid.cell_m), np.floor((south - grid.y0_m) / grid.cell_m))
    x0_m, y0_m = grid.x0_m + col * grid.cell_m, grid.y0_m + row * grid.cell_m
    shape = int((north - y0_m) / grid.cell_m) + 2, int((east - x0_m) / grid.cell_m) + 2
    return int(raster_polygon(water, x0_m, y0_m, grid.cell_m, shape).sum())
