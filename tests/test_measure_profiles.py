"""The bottom off a bank, read from a model: depths, distances, range, bound, and the ray that stands for the reach."""

from __future__ import annotations

import bathymetry
import numpy as np
import pytest
from shapely import LineString

from atlasgen.measure.offbank import off_bank
from atlasgen.measure.profiles import reach_profiles
from atlasgen.model import DepthGrid
from atlasgen.place.geo import Projection

PROJECTION = Projection("+proj=aeqd +lat_0=45 +lon_0=-30 +datum=WGS84 +units=m +no_defs")
WATER = bathymetry.pond(200.0)
SOUTH = bathymetry.reach("south", LineString([(150, 0), (50, 0)]))


def grid_of(bottom, cell_m=5.0, bound=None) -> DepthGrid:
    """Read a bottom at the pond's cells."""
    at = np.arange(cell_m / 2, 200, cell_m)
    x, y = np.meshgrid(at, at)
    depth = bottom(x, y).astype(float)
    return DepthGrid(
        depth, np.zeros(depth.shape), cell_m / 2, cell_m / 2, cell_m, 25.0, None if bound is None else bound(x, y)
    )


def profile(bottom, bound=None, reach=SOUTH, **more):
    return reach_profiles([reach], WATER, grid_of(bottom, bound=bound), PROJECTION, **more)[reach.id]


def slope(x, y):
    """1 in 10 to the north."""
    return y / 10


def test_an_even_slope_is_read_as_it_is():
    """1 in 10: 0.5, 1, 2, 4 m deep at 5, 10, 20, 40 m; 3 m deep at 30 m; moderate; no break."""
    found = profile(slope, depths_m=(3.0, 30.0))
    assert [(p.distance_m, pytest.approx(p.depth_m)) for p in found.stations] == [(5, 0.5), (10, 1), (20, 2), (40, 4)]
    assert found.reached[0].distance_m == pytest.approx(30)
    assert found.reached[1].distance_m is None
    assert found.slope == pytest.approx(0.1)
    assert found.slope_word == "moderate"
    assert found.steepest is None
    assert found.rays == 5
    assert np.cos(np.radians(found.bearing_deg)) == pytest.approx(1, abs=1e-6)
    assert found.far_bank_m is None
    assert [point.distance_m for point in found.points] == list(range(101))


def test_a_ledge_is_its_break():
    """A step of 4 m from 30 to 40 m out."""
    found = profile(lambda x, y: y / 40 + 4 * np.clip((y - 30) / 10, 0, 1), bound=lambda x, y: np.full(x.shape, 0.3))
    assert found.steepest.distance_m == pytest.approx(35, abs=1.5)
    assert found.steepest.depth_m == pytest.approx(2.9, abs=0.3)
    assert found.steepest.word == "steep"


def test_the_bound_is_the_cells():
    """Stated where the model states one; None where it does not, and at the bank."""
    found = profile(slope, bound=lambda x, y: 0.2 + y / 100)
    by = {point.distance_m: point for point in found.points}
    assert by[10.0].bound_m == pytest.approx(0.2 + 12.5 / 100)
    assert by[0.0].bound_m is None
    assert all(point.bound_m is None for point in profile(slope).points)


def test_the_range_is_that_of_all_the_rays():
    """A bed that is deeper in the west: at 20 m out the rays from x = 60 to 140 m read from 2.4 to 3.2 m."""
    found = profile(lambda x, y: y / 10 + (180 - x) / 100)
    at = {point.distance_m: point for point in found.points}[20.0]
    assert (at.shallowest_m, at.deepest_m) == (pytest.approx(2.4), pytest.approx(3.2))
    assert at.depth_m == pytest.approx(2.8)
    assert found.start.x_m == pytest.approx(100)


def test_one_odd_ray_does_not_stand_for_the_reach():
    """A rock before the middle of the bank: the profile told is one of the other four."""
    found = profile(lambda x, y: y / 10 - 1.5 * np.exp(-((x - 100) ** 2 + (y - 40) ** 2) / 50))
    assert abs(found.start.x_m - 100) > 10
    at = {point.distance_m: point for point in found.points}[40.0]
    assert at.depth_m == pytest.approx(4.0, abs=0.05)
    assert at.shallowest_m < 3.0


def test_a_far_bank_ends_the_profile_at_zero():
    """A pond 60 m across: its last point is the far bank, and the stations stop before it."""
    water = bathymetry.pond(60.0)
    grid = grid_of(lambda x, y: 3 - np.abs(y - 30) / 10)
    reach = bathymetry.reach("south", LineString([(40, 0), (20, 0)]))
    found = reach_profiles([reach], water, grid, PROJECTION, stations_m=(5.0, 40.0, 60.0, 80.0))["south"]
    assert found.far_bank_m == pytest.approx(60)
    assert (found.points[-1].distance_m, found.points[-1].depth_m) == (pytest.approx(60), 0.0)
    assert [point.distance_m for point in found.stations] == [5.0, 40.0]


def test_what_is_not_known_stays_unknown():
    """A model that begins 40 m out: unknown before, no slope in a word, and no distance to a depth behind it."""
    found = profile(lambda x, y: np.where(y < 40, np.nan, y / 10), depths_m=(2.0, 6.0))
    by = {point.distance_m: point for point in found.points}
    assert by[0.0].depth_m == 0
    assert by[20.0].depth_m is None
    assert (found.slope, found.slope_word) == (None, None)
    assert found.reached[0].distance_m is None
    assert found.reached[1].distance_m == pytest.approx(60)
    assert found.sounded_from_m == pytest.approx(43)


def test_without_a_model_or_water_there_is_no_profile():
    """None, not an empty one."""
    inland = bathymetry.reach("inland", LineString([(0, -50), (40, -50)]))
    assert reach_profiles([SOUTH], WATER, None, PROJECTION) == {"south": None}
    assert reach_profiles([inland], WATER, grid_of(slope), PROJECTION) == {"inland": None}


def test_profile_and_stations_of_a_reach_tell_the_same_depths():
    """On every reach of a pond with a spit, whose typical ray stands at its middle: metre by metre."""
    water = bathymetry.spit_pond()
    grid = grid_of(lambda x, y: np.where((x < 100) & (y < 100), np.minimum(x, y) / 20 + 1, np.nan))
    reaches = bathymetry.reaches_of(water, 20.0)
    sounding = np.array([50.0]), np.array([50.0]), np.array([3.0])
    stations = off_bank(reaches, water, *sounding, grid, 20.0, True, stations=range(100))
    for reach_id, found in reach_profiles(reaches, water, grid, PROJECTION).items():
        told = dict(stations[reach_id].profile_m)
        points = found.points[:-1]  # the last is the far bank, or as far out as a profile goes
        assert [point.distance_m for point in points] == list(told)
        for point in points:
            depth = told[point.distance_m]
            assert point.depth_m == (None if depth is None else pytest.approx(depth, abs=1e-9))
