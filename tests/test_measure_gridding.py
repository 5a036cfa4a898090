"""Cell medians, triangulation and rasters."""

from __future__ import annotations

import statistics
from collections import defaultdict

import bathymetry
import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import LinearNDInterpolator
from scipy.spatial import Delaunay

from atlasgen.measure import gridding

soundings = st.lists(
    st.tuples(st.integers(-40, 40), st.integers(-40, 40), st.integers(-20, 200)), min_size=1, max_size=60
)


def columns(rows: list[tuple[int, int, int]]) -> list[np.ndarray]:
    return [np.array(values, dtype=float) / 10 for values in zip(*rows, strict=True)]


def test_cell_median_keeps_the_sounding_itself():
    """Three soundings in a cell: the middle one, at its own position; the neighbour cell has its own."""
    x, y, z = gridding.block_median([0.1, 0.2, 0.3, 1.5], [0.4, 0.5, 0.6, 0.5], [9.0, 2.0, 3.0, 7.0], 1.0)
    assert (x.tolist(), y.tolist(), z.tolist()) == ([0.3, 1.5], [0.6, 0.5], [3.0, 7.0])


def test_of_two_soundings_the_shallower_stands_for_the_cell():
    """An even number leans to the safe side, also above the datum."""
    assert gridding.block_median([0.1, 0.2], [0.1, 0.2], [4.0, 3.0], 1.0)[2].tolist() == [3.0]
    assert gridding.block_median([0.1, 0.2], [0.1, 0.2], [-0.5, 0.5], 1.0)[2].tolist() == [-0.5]


def test_no_soundings_no_cells():
    """Nothing in, nothing out."""
    assert [values.size for values in gridding.block_median([], [], [], 1.0)] == [0, 0, 0]


@given(soundings)
def test_cell_medians_agree_with_the_standard_library(rows):
    """`statistics.median_low` of each cell, in order of row and column."""
    cells = defaultdict(list)
    x, y, z = columns(rows)
    for east, north, depth in zip(x, y, z, strict=True):
        cells[np.floor(north / 2), np.floor(east / 2)].append(depth)
    expected = [statistics.median_low(cells[cell]) for cell in sorted(cells)]
    assert pytest.approx(expected) == gridding.block_median(x, y, z, 2.0)[2].tolist()


@given(soundings, st.randoms(use_true_random=False))
def test_cell_medians_do_not_depend_on_the_order(rows, random):
    """Shuffled soundings give the same cells, positions and depths, bit for bit."""
    before = gridding.block_median(*columns(rows), 2.0)
    random.shuffle(rows)
    after = gridding.block_median(*columns(rows), 2.0)
    assert [values.tolist() for values in before] == [values.tolist() for values in after]


def test_cells_far_apart_are_told_apart():
    """Of 65,536 columns and more rows than that, the first and the last cell have numbers 2^32 apart."""
    x, y, z = gridding.block_median([0.5, 65_535.5, 0.5], [0.5, 0.5, 65_536.5], [1.0, 2.0, 3.0], 1.0)
    assert z.tolist() == [1.0, 2.0, 3.0]
    assert list(zip(x.tolist(), y.tolist(), strict=True)) == [(0.5, 0.5), (65_535.5, 0.5), (0.5, 65_536.5)]


@pytest.mark.parametrize(("along_m", "cell_m"), [(0.1, 1.0), (0.9, 2.0), (1.1, 2.5), (40.0, 5.0)])
def test_cell_is_twice_the_spacing_along_the_run(along_m, cell_m):
    """Up to the next half metre, from 1 m to 5 m; the step from run to run does not count."""
    assert gridding.choose_cell(*bathymetry.runs(0, 0, 100, 100, 50, along_m)) == cell_m


def test_cell_grows_until_the_grid_is_small_enough():
    """A lake of 20 km by 20 km at 1 m would have 400 million cells; at 5.5 m it has 13 million."""
    x, y, line = np.array([0.0, 0.5, 1.0, 20_000.0]), np.array([0.0, 0.0, 0.0, 20_000.0]), np.array([0, 0, 0, 1])
    assert gridding.choose_cell(x, y, line) == 5.5
    assert (20_000 / 5.5 + 2) ** 2 <= gridding.MOST_CELLS < (20_000 / 5 + 2) ** 2
    assert gridding.fit_cell(0.25, 100, 100) == 0.25


def test_a_lone_sounding_takes_the_coarsest_cell():
    """There is no spacing to go by."""
    assert gridding.choose_cell(np.array([3.0]), np.array([4.0]), np.array([0])) == gridding.COARSEST_CELL_M


def test_a_square_makes_two_triangles():
    """They cover it, and name its corners by their place in the input; a doubled corner is left out."""
    points = np.array([[0.0, 0], [1, 0], [1, 1], [1, 0], [0, 1]])
    triangles = gridding.triangulate(points)
    assert (2, {0, 1, 2, 4}) == (len(triangles), set(triangles.ravel().tolist()))
    assert pytest.approx(1.0) == sum(shapely.Polygon(points[corners]).area for corners in triangles)


@pytest.mark.parametrize("points", [[], [[0, 0]], [[0, 0], [1, 1]], [[0, 0], [1, 1], [2, 2], [5, 5]]])
def test_points_without_area_make_no_triangles(points):
    """None, one, two, or all on one line."""
    assert len(gridding.triangulate(np.array(points, dtype=float).reshape(-1, 2))) == 0


@pytest.mark.parametrize("points", [np.random.default_rng(5).random((300, 2)), np.array([[0.0, 0], [1, 1], [2, 2]])])
def test_the_second_library_gives_the_same_triangles(points, monkeypatch):
    """If the fast library fails, scipy's triangles (Qhull) take their place and are the same."""

    def as_set():
        return {frozenset(corners) for corners in gridding.triangulate(points).tolist()}

    def fails(_):
        raise RuntimeError("broken")

    first = as_set()
    monkeypatch.setattr(gridding, "_triangulate_incremental", fails)
    assert first == as_set()


def test_a_plane_is_rastered_as_the_plane():
    """The plane 0.1 x + 0.2 y, whose slope is 12.6044 degrees by calculus, comes back to 1e-9 and without a pinhole."""
    points = np.random.default_rng(1).uniform(0, 50, (500, 2))
    corners = np.array([[0, 0], [50, 0], [50, 50], [0, 50]])
    points = np.vstack([points, corners])
    points = np.c_[points, points @ (0.1, 0.2)]
    grid = gridding.raster_triangles(points, gridding.triangulate(points), 0.0, 0.0, 1.0, (51, 51))
    row, col = np.indices(grid.shape)
    np.testing.assert_allclose(grid, 0.1 * col + 0.2 * row, atol=1e-9)
    rise_y, rise_x = np.gradient(grid)
    slope_deg = np.degrees(np.arctan(np.hypot(rise_x, rise_y)))
    assert pytest.approx(12.6044, abs=1e-4) == slope_deg.max()


def test_raster_agrees_with_another_interpolator():
    """As scipy's LinearNDInterpolator over the same triangles, inside and outside the hull."""
    points = np.random.default_rng(2).uniform(-20, 30, (200, 3))
    triangulation = Delaunay(points[:, :2])
    grid = gridding.raster_triangles(points, triangulation.simplices, -22.3, -21.7, 0.7, (75, 76))
    x, y = np.meshgrid(-22.3 + 0.7 * np.arange(76), -21.7 + 0.7 * np.arange(75))
    np.testing.assert_allclose(grid, LinearNDInterpolator(triangulation, points[:, 2])(x, y), atol=1e-9)


def test_cells_outside_the_triangles_and_beyond_the_grid_are_harmless():
    """One triangle larger than the grid fills it; one beside it fills nothing; one without area is passed over."""
    points = np.array([[-99.0, -99, 7], [99, -99, 7], [0, 99, 7], [200, 200, 1], [201, 200, 1], [200, 201, 1]])
    inside = gridding.raster_triangles(points, np.array([[0, 1, 2], [0, 0, 1]]), 0.0, 0.0, 1.0, (3, 4))
    assert np.full((3, 4), 7.0).tolist() == inside.tolist()
    assert np.isnan(gridding.raster_triangles(points, np.array([[3, 4, 5]]), 0.0, 0.0, 1.0, (3, 4))).all()


def test_portions_do_not_change_the_raster(monkeypatch):
    """Small portions for memory give the same cells as one large one."""
    points = np.random.default_rng(4).uniform(0, 30, (80, 3))
    triangles = gridding.triangulate(points)
    whole = gridding.raster_triangles(points, triangles, 0.0, 0.0, 0.5, (60, 60))
    monkeypatch.setattr(gridding, "_TRIANGLES_AT_ONCE", 7)
    monkeypatch.setattr(gridding, "_CELLS_AT_ONCE", 50)
    np.testing.assert_array_equal(whole, gridding.raster_triangles(points, triangles, 0.0, 0.0, 0.5, (60, 60)))


@pytest.mark.parametrize(
    ("x", "y", "value"),
    [
        (0, 0, 0.7664205913),
        (0.5, 0.5, 0.3257620893),
        (1, 1, 0.0358695924),
        (0.2, 0.2, 1.2185807042),
        (0.25, 0.75, 0.2724132516),
    ],
)
def test_the_test_surface_is_frankes(x, y, value):
    """Franke, NPS-53-79-003 (1979), as coded in R's `interp`; 1.2185807 at (0.2, 0.2) is printed in a benchmark."""
    assert pytest.approx(value, abs=1e-9) == bathymetry.franke(x, y)


def test_frankes_surface_from_400_points():
    """A triangulation of 400 random points keeps within 0.02 RMS; a reference interpolator gave 0.0120, at most 0.064.

    The mean of the surface over the unit square is 0.4069695895 by numerical integration.
    """
    places = np.random.Generator(np.random.PCG64(42)).random((400, 2))
    points = np.c_[places, bathymetry.franke(*places.T)]
    grid = gridding.raster_triangles(points, gridding.triangulate(points), 0.1, 0.1, 0.025, (33, 33))
    x, y = np.meshgrid(np.linspace(0.1, 0.9, 33), np.linspace(0.1, 0.9, 33))
    wrong = grid - bathymetry.franke(x, y)
    assert np.sqrt((wrong**2).mean()) < 0.02
    fine = (np.arange(1000) + 0.5) / 1000
    assert pytest.approx(0.4069695895, abs=1e-6) == bathymetry.franke(*np.meshgrid(fine, fine)).mean()


def test_a_polygon_with_an_island_is_rastered_cell_by_cell():
    """Agrees with shapely at every cell centre of a ragged shape in two parts with a hole."""
    turn = np.linspace(0, 2 * np.pi, 60, endpoint=False)
    radius = 10 + np.random.default_rng(8).uniform(-3, 3, turn.size)
    ragged = shapely.Polygon(np.c_[radius * np.cos(turn), radius * np.sin(turn)], [[(-2, -2), (3, -2), (0, 4)]])
    area = shapely.MultiPolygon([ragged, shapely.box(20, -5, 25.3, 31)])
    mask = gridding.raster_polygon(area, -14.9, -13.9, 0.31, (90, 130))
    x, y = np.meshgrid(-14.9 + 0.31 * np.arange(130), -13.9 + 0.31 * np.arange(90))
    np.testing.assert_array_equal(mask, shapely.contains_xy(area, x, y))


def test_a_polygon_larger_than_the_grid_fills_it():
    """Edges beyond the grid on all sides are still counted."""
    assert gridding.raster_polygon(shapely.box(-99, -99, 99, 99), 0.0, 0.0, 1.0, (3, 5)).all()
    assert not gridding.raster_polygon(shapely.box(50, 50, 99, 99), 0.0, 0.0, 1.0, (3, 5)).any()
