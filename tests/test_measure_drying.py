"""The lake drawn down: depths that are left, and ground that is dry."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
import shapely
from shapely import MultiPolygon, Point

from atlasgen.measure.drying import at_stage, dry_area
from atlasgen.model import DepthGrid


def cone_lake() -> tuple[DepthGrid, MultiPolygon]:
    """Round lake of 50 m radius, 25 m deep in the middle, a metre deeper every two metres."""
    x, y = np.meshgrid(np.arange(-60, 61.0), np.arange(-60, 61.0))
    depth = 25 - np.hypot(x, y) / 2
    depth[depth < 0] = np.nan
    grid = DepthGrid(depth, np.zeros_like(depth), -60.0, -60.0, 1.0, 25.0)
    return grid, MultiPolygon([Point(0, 0).buffer(50, quad_segs=90)])


def test_depths_at_a_stage():
    """By hand: 2 m lower, 5 m of water are 3 m and 1 m is ground a metre high; what was unknown is so still."""
    grid = DepthGrid(np.array([[5.0, 1.0, np.nan]]), np.zeros((1, 3)), 0.0, 0.0, 1.0, 25.0)
    np.testing.assert_allclose(at_stage(grid, -2.0).depth_m, [[3.0, -1.0, np.nan]])
    np.testing.assert_allclose(at_stage(grid, 0.5).depth_m, [[5.5, 1.5, np.nan]])
    assert grid.depth_m[0, 0] == 5.0


def test_dry_ground_of_a_cone_is_a_ring():
    """5 m down, water remains within 40 m of the middle: pi (50^2 - 40^2) is dry, to a percent."""
    grid, water = cone_lake()
    dry = dry_area(grid, water, -5.0)
    assert dry.is_valid
    assert pytest.approx(np.pi * (50**2 - 40**2), rel=0.01) == dry.area
    assert not dry.contains(Point(0, 39))
    assert dry.contains(Point(0, 43))


@pytest.mark.parametrize("stage_m", [0.0, 1.5])
def test_nothing_is_dry_at_the_datum_or_above(stage_m):
    """The shoreline is the water's edge at the datum."""
    grid, water = cone_lake()
    assert dry_area(grid, water, stage_m).is_empty


def test_all_known_ground_is_dry_below_the_deepest():
    """Drawn down past its deepest the whole lake is dry."""
    grid, water = cone_lake()
    assert pytest.approx(water.area, rel=0.005) == dry_area(grid, water, -30.0).area


def test_more_falls_dry_as_the_water_falls():
    """Each lower stage holds the ground of the one above it."""
    grid, water = cone_lake()
    areas = [dry_area(grid, water, stage) for stage in (-1.0, -4.0, -12.0)]
    for less, more in pairwise(areas):
        assert less.difference(more).area < 0.01 * less.area
        assert less.area < more.area


def test_unknown_water_is_not_called_dry():
    """Half the pond has no depth: none of it falls dry, whatever the stage; nothing known, nothing dry."""
    depth = np.full((100, 100), 2.0)
    depth[:, 60:] = np.nan
    grid = DepthGrid(depth, np.zeros_like(depth), 0.5, 0.5, 1.0, 25.0)
    water = MultiPolygon([shapely.box(0, 0, 100, 100)])
    dry = dry_area(grid, water, -3.0)
    assert pytest.approx(6000.0) == dry.area
    assert dry.bounds[2] <= 60.0
    unknown = DepthGrid(np.full_like(depth, np.nan), np.zeros_like(depth), 0.5, 0.5, 1.0, 25.0)
    assert dry_area(unknown, water, -3.0).is_empty
