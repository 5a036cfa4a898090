"""Values at places of the map: planes are read exactly, and rasterio's own bilinear reading agrees."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyproj import CRS, Transformer

from atlasgen.model.rasters import Raster
from atlasgen.place.geo import Projection
from atlasgen.place.rasters import MetricGrid, bilinear, metric_grid, sample

MAP = Projection("+proj=aeqd +lat_0=-31.6 +lon_0=-96.4 +datum=WGS84 +units=m +no_defs")
UTM = CRS.from_epsg(32714).to_wkt()
NAN = float("nan")


def utm_plane(turn_deg: float = 0.0, cell_m: float = 10.0, size: int = 60) -> Raster:
    """Values are 0.01 times the UTM easting less that of the map's middle, on a grid about it."""
    east, north = Transformer.from_crs("EPSG:4326", UTM, always_xy=True).transform(-96.4, -31.6)
    cos, sin = cell_m * np.cos(np.radians(turn_deg)), cell_m * np.sin(np.radians(turn_deg))
    half = size / 2
    transform = (cos, sin, east - half * (cos + sin), sin, -cos, north - half * (sin - cos))
    column, row = np.meshgrid(np.arange(size) + 0.5, np.arange(size) + 0.5)
    x = transform[0] * column + transform[1] * row + transform[2]
    return Raster("a.tif", (0.01 * (x - east)).astype(np.float32), transform, UTM)


@pytest.mark.parametrize("turn_deg", [0.0, 30.0, 200.0])
def test_a_plane_is_read_exactly_whatever_the_grids_turn(turn_deg):
    """Straight reading of a plane is the plane, through the projections; the coordinates are pyproj's own."""
    x, y = np.random.default_rng(1).uniform(-190, 190, (2, 500))
    lon, lat = MAP.lonlats(x, y)
    east, _ = Transformer.from_crs("EPSG:4326", UTM, always_xy=True).transform(lon, lat)
    middle, _ = Transformer.from_crs("EPSG:4326", UTM, always_xy=True).transform(-96.4, -31.6)
    found = sample(utm_plane(turn_deg), MAP, x, y)
    assert found == pytest.approx(0.01 * (east - middle), abs=1e-5)


def test_the_grid_of_the_map_reads_as_the_raster_does():
    """Laid out in cells half as wide, the plane stays the plane to a tenth of a millimetre."""
    plane = utm_plane()
    grid = metric_grid(plane, MAP, (-200.0, -200.0, 200.0, 200.0), 5.0)
    x, y = np.random.default_rng(2).uniform(-195, 195, (2, 500))
    assert grid.at(x, y) == pytest.approx(sample(plane, MAP, x, y), abs=1e-4)


def test_outside_the_raster_and_the_grid_nothing_is_known():
    """300 m from the middle the raster ends; a grid beyond it holds NaN, and so does all beside it."""
    plane = utm_plane()
    at = np.array([0.0, 290.0, 310.0, 5000.0, np.inf])
    assert np.isnan(sample(plane, MAP, at, np.zeros(5))).tolist() == [False, False, True, True, True]
    grid = metric_grid(plane, MAP, (-100.0, -100.0, 400.0, 100.0), 5.0)
    assert np.isnan(grid.at(at, np.zeros(5))).tolist() == [False, False, True, True, True]


def test_bilinear_by_hand():
    """The middle of four is their mean; a quarter of the way is a quarter; a cell of no weight may be unknown."""
    values = np.array([[0.0, 4.0], [8.0, NAN]])
    column, row = np.array([0.0, 0.25, 0.0, 0.5, -0.4, -0.6]), np.array([0.0, 0.0, 0.5, 0.5, 0.0, 0.0])
    assert bilinear(values, column, row).tolist() == pytest.approx([0, 1, 4, NAN, 0, NAN], nan_ok=True)
    assert bilinear(np.array([[5.0]]), np.array([0.3]), np.array([-0.3])).tolist() == [5.0]


@given(st.integers(1, 5), st.integers(1, 5), st.floats(-2, 7), st.floats(-2, 7))
def test_a_reading_lies_between_the_cells_about_it(rows, columns, column, row):
    """Never above the greatest nor below the least, and NaN just where the place is off the cells."""
    values = np.random.default_rng(3).normal(0, 1, (rows, columns))
    found = float(bilinear(values, np.array([column]), np.array([row]))[0])
    inside = -0.5 <= column <= columns - 0.5 and -0.5 <= row <= rows - 0.5
    assert inside == np.isfinite(found)
    assert not inside or values.min() - 1e-12 <= found <= values.max() + 1e-12


def test_a_grid_gives_single_precision():
    """Sight lines are followed in it; a wider type would double the work."""
    grid = MetricGrid(np.zeros((3, 3), np.float32), 0.0, 0.0, 1.0)
    assert grid.at(np.array([0.5, 9.0], np.float32), np.array([0.5, 9.0], np.float32)).dtype == np.float32
