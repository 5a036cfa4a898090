"""The arithmetic of web tiles, against two libraries that others rely on."""

from __future__ import annotations

import math

import mercantile
import morecantile
import pytest
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.write.tile_scheme import blocks, finest_zoom, mercator, tile_bounds_m, tiles_over, whole_zoom

PLACES = st.tuples(st.floats(-179.9, 179.9), st.floats(-84.9, 84.9))


@given(PLACES, st.integers(0, 21))
def test_a_place_lies_in_the_tile_that_mercantile_gives_it(place, zoom):
    """Columns and rows are those of the library, but for rounding on a tile's very edge."""
    columns, rows = tiles_over((*place, *place), zoom)
    tile = mercantile.tile(*place, zoom)
    assert len(columns) == len(rows) == 1
    west, south, east, north = tile_bounds_m(zoom, columns[0], rows[0])
    x, y = mercator(*place)
    assert west - 1e-6 <= x <= east + 1e-6
    assert south - 1e-6 <= y <= north + 1e-6
    assert abs(columns[0] - tile.x) <= 1
    assert abs(rows[0] - tile.y) <= 1


@pytest.mark.parametrize(("zoom", "x", "y"), [(0, 0, 0), (12, 951, 2423), (18, 60887, 155090)])
def test_bounds_of_a_tile_are_those_of_the_standard_tile_matrix_set(zoom, x, y):
    """WebMercatorQuad of the OGC standard, through morecantile, and mercantile agree to a tenth of a millimetre."""
    found = tile_bounds_m(zoom, x, y)
    assert found == pytest.approx(tuple(morecantile.tms.get("WebMercatorQuad").xy_bounds(x, y, zoom)), abs=1e-4)
    assert found == pytest.approx(tuple(mercantile.xy_bounds(x, y, zoom)), abs=1e-4)


def test_all_tiles_that_bounds_touch_are_named():
    """The rectangle is that of mercantile's own list."""
    bounds = (-96.412, -31.61, -96.385, -31.588)
    columns, rows = tiles_over(bounds, 16)
    assert {(x, y) for x in columns for y in rows} == {(t.x, t.y) for t in mercantile.tiles(*bounds, 16)}


@given(st.floats(0.02, 60), st.floats(-70, 70))
def test_the_finest_zoom_is_as_fine_as_the_data_within_a_fifth(ground_m, lat_deg):
    """One zoom coarser would lose more than that."""
    zoom = finest_zoom(ground_m, lat_deg, 30)
    pixel_m = math.cos(math.radians(lat_deg)) * 40_075_016.686 / 256 / 2**zoom
    assert pixel_m <= 1.2 * ground_m * (1 + 1e-6)
    assert zoom == 0 or 2 * pixel_m > 1.2 * ground_m * (1 - 1e-6)


def test_the_coarsest_zoom_shows_all_within_about_one_tile():
    """A lake two kilometres wide is no larger than one tile there, and larger one zoom closer."""
    bounds = (-96.41, -31.61, -96.39, -31.59)
    zoom = whole_zoom(bounds, 8)
    (west, south), (east, north) = mercator(*bounds[:2]), mercator(*bounds[2:])
    side_m = tile_bounds_m(zoom, 0, 0)[2] - tile_bounds_m(zoom, 0, 0)[0]
    assert side_m / 2 < max(east - west, north - south) <= side_m
    assert whole_zoom((-20.0, -20.0, 20.0, 20.0), 8) == 8


def test_blocks_cover_a_rectangle_once():
    """No tile is cut twice or forgotten."""
    cut = [(x, y) for columns, rows in blocks(range(3, 12), range(5, 10), 4) for x in columns for y in rows]
    assert sorted(cut) == [(x, y) for x in range(3, 12) for y in range(5, 10)]
