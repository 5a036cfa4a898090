"""Rays off many reaches at once are those of one reach at a time, and stop at far banks."""

from __future__ import annotations

import bathymetry
import numpy as np
import pytest
from shapely import LineString, MultiPolygon, Point, box

from atlasgen.measure.rays import cast_rays


def test_rays_stand_square_along_the_reach():
    """100 m of bank: five rays, at 10, 30, 50, 70 and 90 m, due north over a pond of 100 m."""
    (south,) = [r for r in bathymetry.reaches_of(bathymetry.pond(), 100) if r.line.centroid.y == 0]
    rays = cast_rays([south], bathymetry.pond(), 60.0)
    assert sorted(rays.x_m.tolist()) == pytest.approx([10, 30, 50, 70, 90])
    np.testing.assert_allclose(rays.north, 1.0)
    np.testing.assert_allclose(rays.end_m, 60.0)
    assert not rays.far_bank.any()
    assert cast_rays([south], bathymetry.pond(), 150.0).far_bank.all()
    np.testing.assert_allclose(cast_rays([south], bathymetry.pond(), 150.0).end_m, 100.0)


def test_a_spit_is_a_far_bank():
    """From the west bank at y = 40 the spit's side at x = 48 ends the water."""
    west = bathymetry.reach("west", LineString([(0, 30), (0, 50)]))
    (end,) = cast_rays([west], bathymetry.spit_pond(), 100.0).end_m.tolist()
    assert end == pytest.approx(48.0)


def test_a_reach_without_water_has_no_ray():
    """One inland, and one run the wrong way round."""
    inland = bathymetry.reach("inland", LineString([(0, -50), (40, -50)]))
    wrong = bathymetry.reach("wrong", LineString([(20, 0), (80, 0)]))
    rays = cast_rays([inland, wrong], bathymetry.pond(), 50.0)
    assert rays.reach.size == 0


def test_where_the_main_direction_leads_over_land_the_bank_there_decides():
    """A bank with a corner: the middle half looks north-east, the last metres look east, where water is."""
    water = MultiPolygon([box(0, 0, 100, 100).difference(box(0, 0, 40, 60))])
    corner = bathymetry.reach("corner", LineString([(40, 0), (40, 60), (0, 60)]))
    rays = cast_rays([corner], water, 30.0)
    middles = zip(rays.x_m, rays.y_m, rays.east, rays.north, rays.start_m, rays.end_m, strict=True)
    assert rays.reach.size == 5
    for x, y, east, north, start, end in middles:
        half = (start + end) / 2
        assert water.contains(Point(x + east * half, y + north * half))


def test_each_reach_has_an_odd_number_of_rays():
    """One for each 20 m or so, nine at most; one of them stands at the middle."""
    water = MultiPolygon([box(0, 0, 1000, 1000)])
    lengths = (10.0, 50.0, 100.0, 130.0, 900.0)
    reaches = [bathymetry.reach(f"{m:g}", LineString([(m, 0), (0, 0)])) for m in lengths]
    rays = cast_rays(reaches, water, 10.0)
    assert np.bincount(rays.reach).tolist() == [1, 1, 5, 5, 9]
    for number, length in enumerate(lengths):
        assert np.isclose(rays.x_m[rays.reach == number], length / 2).any()
