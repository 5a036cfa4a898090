"""Shaded relief: brightness of slopes, and what stays blank."""

from __future__ import annotations

import shutil
import subprocess

import numpy as np
import pytest
import rasterio
from rasterio import Affine

from atlasgen.measure.relief_shading import fitting_exaggeration, hillshade, slopes

CELL_M = 5.0


def waves(rows: int = 60, cols: int = 80) -> np.ndarray:
    """Make a bed with slopes in every direction, row 0 in the south."""
    y, x = np.mgrid[:rows, :cols] * CELL_M
    return -12 + 3 * np.sin(x / 31) * np.cos(y / 23) + 0.01 * x - 0.02 * y


def test_a_plane_has_its_own_slope_everywhere_even_at_the_edge():
    """Neighbours that are not known are taken from across the middle, which is exact on a plane."""
    y, x = np.mgrid[:6, :7] * CELL_M
    height = 0.3 * x - 0.1 * y
    height[3:, 5:] = np.nan
    east, north = slopes(height, CELL_M)
    known = np.isfinite(height)
    assert np.allclose(east[known], 0.3)
    assert np.allclose(north[known], -0.1)
    assert np.isnan(east[~known]).all()
    assert np.isnan(north[~known]).all()


def test_the_side_toward_the_sun_is_bright():
    """Sun in the north-west at 45 degrees: a bed that falls to the north-west faces it, its opposite is in shadow."""
    half = np.sqrt(0.5)
    faces, turned, level = hillshade(np.array([half, -half, 0]), np.array([-half, half, 0]), 315, 45, 1)
    assert faces == pytest.approx(1, abs=1e-6)
    assert turned == pytest.approx(0, abs=1e-6)
    assert level == pytest.approx(np.sqrt(0.5))


def test_the_exaggeration_makes_steep_ground_about_45_degrees():
    """The steepest tenth of a bed of 1 in 10 is drawn ten times too steep; a cliff is drawn as it is."""
    assert fitting_exaggeration(np.full(9, 0.1), np.zeros(9)) == 10
    assert fitting_exaggeration(np.full(9, 5.0), np.zeros(9)) == 1
    assert fitting_exaggeration(np.full(9, np.nan), np.zeros(9)) == 20


@pytest.mark.skipif(shutil.which("gdaldem") is None, reason="GDAL's command line tools are not installed")
@pytest.mark.parametrize(("azimuth_deg", "altitude_deg", "times"), [(315, 45, 1), (200, 30, 6)])
def test_hillshade_is_that_of_gdaldem(tmp_path, azimuth_deg, altitude_deg, times):
    """GDAL's `gdaldem hillshade` (Horn's formula) within one of its 255 steps, wherever all nine cells are known."""
    height = waves()
    height[20:25, 30:44] = np.nan
    profile = {"driver": "GTiff", "count": 1, "dtype": "float32", "nodata": -9999, "crs": "EPSG:32614"}
    place = {"width": 80, "height": 60, "transform": Affine(CELL_M, 0, 5e5, 0, -CELL_M, 3e6)}
    with rasterio.open(tmp_path / "bed.tif", "w", **profile, **place) as file:
        file.write(np.nan_to_num(height[::-1], nan=-9999).astype("float32"), 1)
    command = ["gdaldem", "hillshade", "-q", "-z", f"{times}", "-az", f"{azimuth_deg}", "-alt", f"{altitude_deg}"]
    subprocess.run([*command, tmp_path / "bed.tif", tmp_path / "shade.tif"], check=True)
    with rasterio.open(tmp_path / "shade.tif") as file:
        theirs = file.read(1)[::-1].astype(float)
    ours = 1 + 254 * hillshade(*slopes(height, CELL_M), azimuth_deg, altitude_deg, times)
    whole = theirs > 0
    assert whole.sum() > 4000
    assert np.abs(ours - theirs)[whole].max() <= 1.0
