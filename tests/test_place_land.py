"""Distances inland against shapely's own, and the profile of the land by hand."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from lakes import cove_lake, island_lake, square_lake

from atlasgen.model.views import ViewRules
from atlasgen.place.land import MOST_CELLS, inland_grid, land_height_m


@pytest.mark.parametrize("lake", [square_lake, cove_lake, island_lake])
@pytest.mark.parametrize("cell_m", [3.0, 7.3])
def test_distances_inland_are_those_to_the_shoreline(lake, cell_m):
    """Within half a cell of the distance that shapely measures; near the shore, where it matters, within a tenth."""
    water = lake()
    grid = inland_grid(water, 100.0, cell_m)
    x, y = np.random.default_rng(1).uniform(-590, 590, (2, 3000))
    exact = shapely.distance(shapely.points(x, y), water.boundary)
    exact = np.where(shapely.contains_xy(water, x, y), -exact, exact)
    error = np.abs(grid.at(x, y) - exact)
    corner = np.min([np.hypot(x - cx, y - cy) for cx, cy in shapely.get_coordinates(water)], axis=0) < 3 * cell_m
    assert error.max() < cell_m
    assert np.median(error) < cell_m / 4
    assert error[(np.abs(exact) < cell_m) & ~corner].max() < 0.1 * cell_m


def test_outside_the_grid_it_is_as_at_its_edge():
    """Ten kilometres off is land, as far inland as the grid goes."""
    grid = inland_grid(square_lake(), 100.0, 5.0)
    assert grid.at(np.array([0.0]), np.array([10_000.0])) == pytest.approx([100], abs=5)


def test_a_large_lake_gets_coarser_cells():
    """As many cells as are allowed, and no more."""
    large = shapely.MultiPolygon([shapely.box(0, 0, 30_000, 20_000)])
    grid = inland_grid(large)
    assert 0.9 * MOST_CELLS < grid.inland_m.size < 1.01 * MOST_CELLS
    assert grid.inland_m.dtype == np.float32


def test_the_land_rises_as_stated():
    """Nothing over water and at the edge, 6 m at 25 m, then 15 in 100, 60 m at the most."""
    inland = np.array([-10.0, 0.0, 5.0, 25.0, 125.0, 900.0])
    assert land_height_m(inland, ViewRules()).tolist() == pytest.approx([-np.inf, -np.inf, 1.2, 6, 21, 60])


def test_known_heights_go_before_the_profile():
    """Where the height is not known the profile stands in; over water nothing stands, whatever a raster says."""
    inland = np.array([-10.0, 5.0, 50.0, 25.0])
    known = np.array([7.0, 1.0, 12.0, np.nan])
    assert land_height_m(inland, ViewRules(), known).tolist() == pytest.approx([-np.inf, 1, 12, 6])


def test_a_bank_may_be_a_wall_and_higher_than_the_hills():
    """Rising over nothing, and with hilltops lower than the bank."""
    rules = ViewRules(bank_rises_over_m=0.0, bank_height_m=8.0, land_highest_m=2.0)
    assert land_height_m(np.array([0.5, 100.0]), rules).tolist() == [8, 8]
