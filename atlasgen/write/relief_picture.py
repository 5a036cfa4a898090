"""The shaded relief of the bed as a picture: hillshade of the depth grid in the water's own colour."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import numpy as np

from atlasgen.measure.relief_shading import fitting_exaggeration, hillshade, slopes
from atlasgen.model import DepthGrid
from atlasgen.model.layer_tiles import ReliefRules
from atlasgen.write.layer_source import Affine6, LayerSource

# From turned away from the sun to square to it; the colour of the water's word, made lighter. Brightness rises evenly.
_INK = np.array([[10, 40, 52], [34, 88, 104], [104, 152, 162], [184, 208, 210], [250, 252, 248]], dtype=float)
# By so much of its brightness ground as steep as 45 degrees (as drawn) is darker than level ground, however it lies:
# otherwise slopes along the sun's direction look level. Ours.
_STEEPER_DARKER = 0.3


def relief_rgba(grid: DepthGrid, rules: ReliefRules) -> tuple[np.ndarray, Mapping[str, float]]:
    """Shade a depth grid: (4, rows, columns) of bytes, row 0 in the north, clear where no depth is known.

    Returns the picture, and the sun's place and the exaggeration that were used.
    """
    east, north = slopes(-grid.depth_m, grid.cell_m)
    times = rules.exaggeration or fitting_exaggeration(east, north)
    shade = hillshade(east, north, rules.sun_azimuth_deg, rules.sun_altitude_deg, times)
    steepness = times * np.hypot(east, north)
    shade = shade * (1 - _STEEPER_DARKER * np.minimum(steepness, 1.5) / (1 + np.minimum(steepness, 1.5)) * 2)
    known = np.isfinite(grid.depth_m)
    place = np.where(known, np.clip(shade, 0, 1), 0) * (len(_INK) - 1)
    colours = [np.interp(place, np.arange(len(_INK)), _INK[:, band]) for band in range(3)]
    rgba = np.stack([*colours, np.where(known, 255, 0)])
    made = {
        "sun_azimuth_deg": rules.sun_azimuth_deg,
        "sun_altitude_deg": rules.sun_altitude_deg,
        "exaggeration": times,
        "cell_m": grid.cell_m,
    }
    return np.rint(rgba).astype(np.uint8)[:, ::-1], made


def write_relief(path: Path, rgba: np.ndarray, grid: DepthGrid, crs_metric: str) -> LayerSource:
    """Write the picture as a file that is cut like any other."""
    import rasterio
    from rasterio import Affine

    _, rows, cols = rgba.shape
    half = grid.cell_m / 2
    to = Affine6(grid.cell_m, 0.0, grid.x0_m - half, 0.0, -grid.cell_m, grid.y0_m + (rows - 1) * grid.cell_m + half)
    profile = {"driver": "GTiff", "width": cols, "height": rows, "count": 4, "dtype": "uint8", "photometric": "RGB"}
    with rasterio.open(path, "w", **profile, crs=crs_metric, transform=Affine(*to), alpha="yes") as file:
        file.write(rgba)
    return LayerSource(path, "the shaded relief", crs_metric, to, cols, rows)
