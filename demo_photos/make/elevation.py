"""The elevation raster that the crew made from its own flight: a surface model with holes where photogrammetry fails.

Cells of 3 m: from the true poses, cells of 1, 2, 3 and 5 m give a median overlap of the shoreline seen of 0.976, 0.974,
0.973 and 0.965 and a least one of 0.80 to 0.82 but for 5 m, where it is 0.76 (`benchmarks/shore_seen.py` on such models
without the holes), and a model of 2 m would be about twice as large. Every cell holds the median height of ground and
crowns in it, as a cloud of matched points gives it, with an error of its own and a slow one across the block, in
decimetres. Open water has no texture to match, and farther than `_FLOWN_M` from the water nobody flew: no data there.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
from pyproj import Transformer
from scipy import ndimage

from demo_photos.make.frame import FULL_SUPPLY_M, LAT0_DEG, LON0_DEG, SEED, local_time, stage_m
from demo_photos.make.noise import speckle
from demo_photos.make.terrain import MID, mid_heights
from demo_photos.make.world import lake_canopy

FILE = "elevation.tif"
CELL_M = 3
CRS = "EPSG:32714"  # UTM zone 14 south
SIGMA_M = {"cell": 0.10, "block": 0.05}
_BLOCK_M = 150.0
_FLOWN_M = 350.0
_FLOWN_ON = "2026-03-10 09:30:00"
_NO_DATA = -32768
_STEP_M = 0.1


def write(out: Path) -> None:
    """Write the raster: int16 steps of a decimetre above sea level."""
    import rasterio

    height, west, north = _surface()
    values = np.where(np.isnan(height), _NO_DATA, np.rint((height + FULL_SUPPLY_M) / _STEP_M)).astype(np.int16)
    profile = {
        "driver": "GTiff", "dtype": "int16", "count": 1, "height": values.shape[0], "width": values.shape[1],
        "crs": CRS, "transform": rasterio.Affine(CELL_M, 0, west, 0, -CELL_M, north), "nodata": _NO_DATA,
        "compress": "deflate", "predictor": 2, "zlevel": 9, "tiled": True, "blockxsize": 256, "blockysize": 256,
    }  # fmt: skip
    with rasterio.open(out / FILE, "w", **profile) as file:
        file.write(values, 1)
        file.scales, file.units = (_STEP_M,), ("metre",)


def _surface() -> tuple[np.ndarray, float, float]:
    """Heights above full supply level, NaN where there is no data, row 0 in the north; and the north-west corner."""
    local = f"+proj=tmerc +lat_0={LAT0_DEG} +lon_0={LON0_DEG} +k=1 +ellps=WGS84 +units=m"
    corners = [MID.x0_m + 40, MID.x0_m + MID.n - 40], [MID.y0_m + 40, MID.y0_m + MID.n - 40]
    x, y = (edge.ravel() for edge in np.meshgrid(*corners))
    east, north = Transformer.from_crs(local, CRS, always_xy=True).transform(x, y)
    west, top = (round(value / CELL_M) * CELL_M for value in (east.min(), north.max()))
    columns, rows = (int(span // CELL_M) for span in (east.max() - west, top - north.min()))
    ground, wet = mid_heights(), mid_heights() < stage_m(local_time(_FLOWN_ON))
    surface = np.where(wet, np.nan, ground + lake_canopy().top_m)
    surface[ndimage.distance_transform_edt(ground >= 0) > _FLOWN_M] = np.nan
    back = Transformer.from_crs(CRS, local, always_xy=True)
    height = np.empty((rows, columns), np.float32)
    for row in range(rows):
        height[row] = _row(surface, back, west + CELL_M * np.arange(columns), top - CELL_M * (row + 1))
    x, y = back.transform(
        *np.meshgrid(west + CELL_M * (np.arange(columns) + 0.5), top - CELL_M * (np.arange(rows) + 0.5))
    )
    block = speckle(x, y, _BLOCK_M, 121) + speckle(0.8 * x - 0.6 * y, 0.6 * x + 0.8 * y, _BLOCK_M, 122)
    cells = np.random.default_rng([SEED, 120]).normal(0, SIGMA_M["cell"], height.shape)
    return height + cells + SIGMA_M["block"] * block, west, top


def _row(surface: np.ndarray, back: Transformer, west_m: np.ndarray, south_m: float) -> np.ndarray:
    """Median of the surface over the square metres of each cell of a row; none where most of the cell has none."""
    inner = np.arange(CELL_M) + 0.5
    x, y = np.meshgrid((west_m[:, None] + inner).ravel(), south_m + inner)
    x, y = back.transform(x, y)
    at = tuple(np.rint((place - first) / MID.cell_m).astype(int) for place, first in ((y, MID.y0_m), (x, MID.x0_m)))
    inside = (np.minimum(*at) >= 0) & (np.maximum(*at) < MID.n)
    found = np.where(inside, surface[tuple(np.clip(a, 0, MID.n - 1) for a in at)], np.nan)
    squares = found.reshape(CELL_M, len(west_m), CELL_M).transpose(1, 0, 2).reshape(len(west_m), -1)
    middle = np.full(len(west_m), np.nan)
    known = np.isfinite(squares).sum(axis=1) > CELL_M**2 // 2
    middle[known] = np.nanmedian(squares[known], axis=1)
    return middle
