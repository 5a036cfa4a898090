"""The depth model: what it says, and where it must be silent."""

from __future__ import annotations

import bathymetry
import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPolygon, Polygon

from atlasgen.measure.depth import build_grid, depth_at
from atlasgen.model import DepthGrid

NEAR_M = 25.0


def plane(x, y):
    """k6 of the project's reference values: 0.1 x + 0.2 y."""
    return 0.1 * x + 0.2 * y


def centres(grid: DepthGrid) -> tuple[np.ndarray, np.ndarray]:
    rows, cols = grid.depth_m.shape
    x, y = np.meshgrid(grid.x0_m + np.arange(cols) * grid.cell_m, grid.y0_m + np.arange(rows) * grid.cell_m)
    return x, y


def sounded_grid(water, west, south, east, north, bottom, near_m=NEAR_M, cell_m=1.0) -> DepthGrid:
    x, y, line = bathymetry.runs(west, south, east, north, 5.0, 2.0)
    return build_grid(x, y, bottom(x, y), water, cell_m, near_m, line)


def test_grid_of_a_plane_is_the_plane():
    """Between the outermost soundings the grid is the plane to 1e-9; from there it runs to zero at the bank."""
    grid = sounded_grid(bathymetry.pond(), 10, 10, 90, 90, plane)
    x, y = centres(grid)
    inside = (x > 10) & (x < 90) & (y > 10) & (y < 90)
    np.testing.assert_allclose(grid.depth_m[inside], plane(x, y)[inside], atol=1e-9)
    assert grid.depth_m.shape == (100, 100)
    assert (grid.x0_m, grid.y0_m) == (0.5, 0.5)
    assert np.isfinite(grid.depth_m[(x > 10) & (x < 90)]).all()
    # On y = 50, half way between the bank (0) and the first sounding (10, 50), 11 m deep: half as deep.
    assert pytest.approx(5.5, abs=0.2) == float(depth_at(grid, 5.0, 50.0))


def test_nothing_is_said_farther_from_a_sounding_than_allowed():
    """One run up the middle of the pond: known to 25 m on both sides, unknown beyond, though the bank is at zero."""
    x = np.full(50, 50.0)
    y = np.arange(1.0, 100.0, 2.0)
    grid = build_grid(x, y, np.full(50, 8.0), bathymetry.pond(), 1.0, NEAR_M)
    known_x = centres(grid)[0][np.isfinite(grid.depth_m)]
    assert (known_x.min(), known_x.max()) == (25.5, 74.5)
    assert grid.near_sounding_m == NEAR_M


def test_a_lone_sounding_is_known_all_round_it():
    """A disc, deepest at the sounding."""
    grid = build_grid(np.array([50.5]), np.array([50.5]), np.array([6.0]), bathymetry.pond(), 1.0, 10.0)
    x, y = centres(grid)
    assert (np.isfinite(grid.depth_m) == (np.hypot(x - 50.5, y - 50.5) <= 10)).all()
    assert pytest.approx(6.0) == float(np.nanmax(grid.depth_m))


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.floats(-5, 105), st.floats(-5, 105), st.floats(0, 20)), min_size=1, max_size=25),
    st.sampled_from([bathymetry.pond(), bathymetry.spit_pond()]),
    st.sampled_from([3.0, 10.0, 40.0]),
)
def test_no_value_on_land_nor_too_far_from_a_sounding(rows, water, near_m):
    """Whatever the soundings, every value lies in the water and within the stated distance of a true sounding."""
    x, y, depth = (np.array(values) for values in zip(*rows, strict=True))
    grid = build_grid(x, y, depth, water, 2.0, near_m)
    if grid is None:
        return
    known = np.isfinite(grid.depth_m)
    at_x, at_y = (values[known] for values in centres(grid))
    assert shapely.contains_xy(water, at_x, at_y).all()
    nearest = np.hypot(at_x[:, None] - x, at_y[:, None] - y).min(axis=1)
    assert (nearest <= near_m + 1e-4).all()
    assert (nearest <= grid.distance_m[known] + 1e-4).all()
    assert 0 <= grid.depth_m[known].min() <= grid.depth_m[known].max() <= max(depth.max(), 0)


def test_depth_does_not_reach_across_a_spit():
    """Soundings west of a spit 4 m wide say nothing of the water east of it, 10 m away."""
    grid = sounded_grid(bathymetry.spit_pond(), 10, 10, 45, 70, lambda x, y: 9 + 0 * x)
    x, y = centres(grid)
    east = (x > 52) & (y < 70)
    assert np.isnan(grid.depth_m[east]).all()
    assert np.isfinite(grid.depth_m[(x > 10) & (x < 47) & (y > 10) & (y < 70)]).all()
    assert np.isnan(grid.depth_m[(x > 48) & (x < 52) & (y < 90)]).all()


def test_depth_is_zero_on_both_banks_of_a_spit_between_deep_water():
    """9 m deep on both sides: beside the spit the bottom still rises to its bank, and nothing is joined over it."""
    x, y, line = bathymetry.runs(10, 10, 90, 80, 5, 5)
    grid = build_grid(x, y, 9 + 0 * x, bathymetry.spit_pond(), 1.0, NEAR_M, line)
    x, y = centres(grid)
    for beside in ((x > 47) & (x < 48), (x > 52) & (x < 53)):
        rows = beside & (y > 20) & (y < 70)
        assert (grid.depth_m[rows] < 3).all()
        assert (grid.depth_m[rows] > 0).all()


def test_soundings_hard_by_a_thin_spit_are_not_joined_over_it():
    """3 m deep west of a spit 0.4 m wide, 9 m east of it, both within reach of one triangle: no mean of the two.

    The soundings lie half way between the bank's points, 2 m apart, where a triangle could slip through.
    """
    spit = Polygon([(52, 0), (52.4, 0), (52.4, 100), (52, 100)])
    halves = MultiPolygon(list(bathymetry.pond().geoms[0].difference(spit).geoms))
    y = np.arange(11.0, 90.0, 4.0)
    x = np.r_[np.full(y.size, 50.8), np.full(y.size, 52.5)]
    grid = build_grid(x, np.tile(y, 2), np.repeat([3.0, 9.0], y.size), halves, 2.0, NEAR_M)
    assert np.nanmax(grid.depth_m[centres(grid)[0] < 52]) <= 3.0


def test_an_island_stays_land():
    """No value on the island, soundings all round it."""
    island = Polygon([(45, 45), (55, 45), (55, 55), (45, 55)])
    water = MultiPolygon([bathymetry.pond().geoms[0].difference(island)])
    grid = sounded_grid(water, 2, 2, 98, 98, lambda x, y: 5 + 0 * x)
    x, y = centres(grid)
    on_island = shapely.contains_xy(island, x, y)
    assert (on_island == np.isnan(grid.depth_m)).all()


def test_a_cove_without_soundings_is_not_called_shallow():
    """Banks on three sides say zero, but that is no sounding: the cove is unknown although soundings are near."""
    cove = Polygon([(40, 100), (60, 100), (60, 140), (40, 140)])
    water = MultiPolygon([bathymetry.pond().geoms[0].union(cove)])
    grid = sounded_grid(water, 3, 3, 97, 90, lambda x, y: 5 + 0 * x, near_m=40.0)
    x, y = centres(grid)
    assert np.isnan(grid.depth_m[(y > 112) & (x > 44) & (x < 56)]).all()
    assert np.isfinite(grid.depth_m[(y > 90) & (y < 99) & (x > 10) & (x < 90)]).all()


def test_without_soundings_in_the_water_there_is_no_grid():
    """None at all, on land, or without a depth."""
    water = bathymetry.pond()
    for x, y, depth in (([], [], []), ([200.0], [50.0], [3.0]), ([50.0], [50.0], [np.nan])):
        assert build_grid(np.array(x), np.array(y), np.array(depth), water, 1.0, NEAR_M) is None
    spit = bathymetry.spit_pond()
    assert build_grid(np.array([50.0]), np.array([50.0]), np.array([3.0]), spit, 1.0, NEAR_M) is None


def test_a_sounding_on_land_says_nothing_of_the_water():
    """A fix on the spit, 0.4 m inland, does not make the water beside it known: the nearest one afloat is 10 m off."""
    x, y, line = bathymetry.runs(62, 20, 80, 80, 5, 2)
    depth, line = np.r_[x * 0 + 4, 4.0], np.r_[line, 99]
    stray = build_grid(np.r_[x, 51.6], np.r_[y, 50.0], depth, bathymetry.spit_pond(), 1.0, 5.0, line)
    at_x, _ = centres(stray)
    assert np.isnan(stray.depth_m[at_x < 56]).all()


def test_one_wild_position_does_not_stretch_the_grid():
    """A fix a thousand kilometres off is left out before anything is sized by it."""
    x, y, line = bathymetry.runs(10, 10, 90, 90, 5, 0.4)
    wild = build_grid(np.r_[x, 1e6], np.r_[y, 0], np.r_[x * 0 + 4, 4], bathymetry.pond(), None, NEAR_M, np.r_[line, 99])
    assert (wild.cell_m, wild.depth_m.shape) == (1.0, (100, 100))


def test_cells_stay_in_place_when_soundings_are_added():
    """Cell edges are multiples of the cell, wherever the soundings begin."""
    water = bathymetry.pond(1000.0)
    near = sounded_grid(water, 203, 203, 257, 257, plane, near_m=10.0)
    more = sounded_grid(water, 203, 203, 300, 257, plane, near_m=10.0)
    assert (near.x0_m % 1, near.y0_m % 1) == (0.5, 0.5)
    rows, cols = near.depth_m.shape
    inner = np.s_[15 : rows - 15, 15 : cols - 15]
    np.testing.assert_allclose(near.depth_m[inner], more.depth_m[inner], atol=1e-9)


def test_depth_between_cells_is_bilinear():
    """By hand on four cells: the centre is their mean, a cell's own centre is that cell."""
    grid = DepthGrid(np.array([[1.0, 2.0], [3.0, 6.0]]), np.zeros((2, 2)), 10.0, 20.0, 2.0, NEAR_M)
    depth = depth_at(grid, np.array([11.0, 10.0, 12.0, 11.0]), np.array([21.0, 20.0, 22.0, 20.0]))
    assert depth.tolist() == [3.0, 1.0, 6.0, 1.5]


def test_depth_is_unknown_where_a_needed_cell_is():
    """Next to an unknown cell only the known centre line itself can be told; outside the grid nothing can."""
    grid = DepthGrid(np.array([[1.0, 2.0], [3.0, np.nan]]), np.zeros((2, 2)), 0.0, 0.0, 1.0, NEAR_M)
    depth = depth_at(grid, np.array([0.5, 0.5, 0.0, 1.1, -0.1]), np.array([0.5, 0.0, 0.5, 0.0, 0.0]))
    np.testing.assert_allclose(depth, [np.nan, 1.5, 2.0, np.nan, np.nan])
