"""What lies off each reach."""

from __future__ import annotations

import bathymetry
import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiPolygon, Polygon, box

from atlasgen.measure import offbank
from atlasgen.measure.depth import build_grid
from atlasgen.measure.offbank import bank_water, off_bank, points_in, water_around
from atlasgen.model import DepthGrid

# From the west corner to the east one along the south bank, the water on the right: so walked from east to west.
SOUTH = bathymetry.reach("south", LineString([(70, 0), (30, 0)]))


def sloping_grid(water: MultiPolygon, cell_m: float = 1.0) -> DepthGrid:
    """Grid a bottom that falls by a tenth going north: depth = y / 10."""
    x, y, line = bathymetry.runs(2, 2, 98, 98, 3, 3)
    return build_grid(x, y, y / 10, water, cell_m, 25.0, line)


def same(area, expected) -> bool:
    """Alike but for a few square centimetres: strips stop a millimetre short of a reach's ends."""
    return area.symmetric_difference(expected).area < 0.1


def test_the_water_off_a_straight_bank_is_a_rectangle():
    """40 m of bank and 20 m out: 800 square metres, square at the ends, none of it on land."""
    (strip,) = bank_water([SOUTH], bathymetry.pond(), 20.0)
    assert same(strip, box(30, 0, 70, 20))


def test_the_water_stops_at_the_far_bank():
    """A reach on a channel 10 m wide has the channel, not what lies beyond."""
    channel = MultiPolygon([box(0, 0, 100, 10), box(0, 15, 100, 60)])
    (strip,) = bank_water([SOUTH], channel, 40.0)
    assert same(strip, box(30, 0, 70, 10))


def test_the_water_beyond_a_spit_does_not_count():
    """The west bank of a spit 4 m wide has no water on the spit's other side, nor past the reach's end."""
    west = bathymetry.reach("west of the spit", LineString([(48, 60), (48, 20)]))
    (strip,) = bank_water([west], bathymetry.spit_pond(), 30.0)
    assert same(strip, box(18, 20, 48, 60))


def test_a_reach_that_ends_at_the_spits_tip_stays_on_its_side():
    """The other side touches the reach's end point only."""
    needle = Polygon([(46, 0), (54, 0), (50, 90)])
    water = MultiPolygon([bathymetry.pond().geoms[0].difference(needle)])
    west = bathymetry.reach("west", LineString([(50, 90), (46, 0)]))
    (strip,) = bank_water([west], water, 20.0)
    assert strip.bounds[2] <= 50.0
    assert strip.area > 90 * 19


def test_round_an_island_the_water_is_a_ring():
    """A small island is a single reach: 10 m of water all round it, rounded at its four corners."""
    water = MultiPolygon([bathymetry.pond().geoms[0].difference(box(45, 45, 55, 55))])
    island = bathymetry.reach("island", LineString([(45, 45), (55, 45), (55, 55), (45, 55), (45, 45)]))
    (strip,) = bank_water([island], water, 10.0)
    assert pytest.approx(4 * 10 * 10 + np.pi * 10**2, rel=0.01) == strip.area


def test_water_around_reaches_past_the_ends():
    """Half discs at both ends are added, still only in the water that hangs together with the reach."""
    (around,) = water_around([SOUTH], bathymetry.pond(), 20.0)
    assert pytest.approx(40 * 20 + np.pi * 20**2 / 2, rel=0.01) == around.area


def test_points_in_agrees_with_one_by_one_in_any_portion(monkeypatch):
    """Each area against each point, edges counted in, whatever the portion."""
    areas = np.array([box(0, 0, 5, 5), box(3, 3, 9, 9), box(20, 20, 21, 21)], dtype=object)
    x, y = np.random.default_rng(1).integers(0, 10, (2, 40)).astype(float)
    expected = [(a, p) for a, area in enumerate(areas) for p in range(40) if area.intersects(shapely.Point(x[p], y[p]))]
    monkeypatch.setattr(offbank, "_SOUNDINGS_AT_ONCE", 7)
    which, point = points_in(areas, x, y)
    assert expected == list(zip(which.tolist(), point.tolist(), strict=True))


def test_depths_off_a_bank_by_hand():
    """Four soundings in the strip, one beyond it, one past its end, one without a depth."""
    x = np.array([40.0, 50, 60, 50, 50, 80, 45])
    y = np.array([5.0, 10, 15, 20, 21, 5, 5])
    depth = np.array([1.0, 2.0, 4.0, 9.0, 50.0, 50.0, np.nan])
    found = off_bank([SOUTH], bathymetry.pond(), x, y, depth, None, 20.0, True)["south"]
    assert (found.soundings, found.shallowest_m, found.median_m, found.deepest_m) == (4, 1.0, 3.0, 9.0)
    assert (found.off_bank_m, found.reduced) == (20.0, True)
    assert found.profile_m == ((5.0, None), (10.0, None), (20.0, None), (40.0, None))


def test_a_reach_without_soundings_has_no_figures():
    """Zero soundings, and None rather than zero for what they would tell."""
    x, y, depth = np.array([50.0]), np.array([90.0]), np.array([3.0])
    found = off_bank([SOUTH], bathymetry.pond(), x, y, depth, None, 20.0, False)["south"]
    assert (found.soundings, found.shallowest_m, found.median_m, found.deepest_m) == (0, None, None, None)
    assert not found.reduced


@pytest.mark.parametrize("depth", [[], [np.nan]])
def test_without_any_depth_nothing_is_known_of_any_reach(depth):
    """No soundings supplied, or none that could be reduced."""
    places = np.zeros(len(depth))
    assert off_bank([SOUTH], bathymetry.pond(), places, places, np.array(depth), None, 20.0, True) == {"south": None}


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(st.floats(-5, 105), st.floats(-5, 105), st.floats(0, 30)), min_size=1, max_size=40))
def test_figures_agree_with_the_soundings_of_the_strip(rows):
    """Count, least, median and greatest of what the strip holds, for every reach round the pond."""
    water = bathymetry.pond()
    x, y, depth = (np.array(values) for values in zip(*rows, strict=True))
    reaches = bathymetry.reaches_of(water, 50.0)
    found = off_bank(reaches, water, x, y, depth, None, 20.0, True)
    for reach, strip in zip(reaches, bank_water(reaches, water, 20.0), strict=True):
        inside = depth[shapely.intersects_xy(strip, x, y)]
        told = found[reach.id]
        assert inside.size == told.soundings
        if inside.size:
            assert [inside.min(), np.median(inside), inside.max()] == [
                told.shallowest_m,
                told.median_m,
                told.deepest_m,
            ]


def test_profile_over_a_sloping_bottom():
    """Depth is a tenth of the distance out from the south bank, at every station."""
    water = bathymetry.pond()
    x, y, _ = bathymetry.runs(2, 2, 98, 98, 3, 3)
    found = off_bank([SOUTH], water, x, y, y / 10, sloping_grid(water), 20.0, True)["south"]
    assert [distance for distance, _ in found.profile_m] == [5.0, 10.0, 20.0, 40.0]
    np.testing.assert_allclose([depth for _, depth in found.profile_m], [0.5, 1.0, 2.0, 4.0], atol=1e-9)


def test_stations_beyond_the_far_bank_are_left_out():
    """On a channel 15 m wide there are stations at 5 m and 10 m only."""
    channel = MultiPolygon([box(0, 0, 100, 15)])
    x, y = np.array([20.0, 80.0]), np.array([7.0, 7.0])
    found = off_bank([SOUTH], channel, x, y, np.array([2.0, 2.0]), None, 20.0, True)["south"]
    assert found.profile_m == ((5.0, None), (10.0, None))


def depths_at(reach, water, grid, *stations: float) -> dict[float, float | None]:
    """Return what the product tells of the bottom at distances of our choice."""
    sounding = np.array([50.0]), np.array([50.0]), np.array([3.0])
    return dict(off_bank([reach], water, *sounding, grid, 10.0, True, stations)[reach.id].profile_m)


def test_a_profile_falls_from_either_bank():
    """Across a channel of 12.5 m: as deep as sounded in its middle, less towards the banks, nothing beyond."""
    channel = MultiPolygon([box(0, 0, 100, 12.5)])
    x, y, line = bathymetry.runs(1, 2, 99, 10.6, 1, 1)
    grid = build_grid(x, y, 3 + 0 * x, channel, 1.0, 25.0, line)
    found = depths_at(SOUTH, channel, grid, *range(1, 20))
    assert list(found) == [*map(float, range(1, 13))]
    assert all(0 < depth <= 3 for depth in found.values())
    assert (found[1.0] < 3, found[12.0] < 3) == (True, True)
    assert pytest.approx(3.0) == max(found.values())


def test_a_profile_is_none_where_nothing_is_known():
    """Known to 20 m out, then unknown: the profile says None and does not end early."""
    x, y, line = bathymetry.runs(2, 2, 98, 14, 3, 3)
    grid = build_grid(x, y, y / 10, bathymetry.pond(), 1.0, 5.0, line)
    found = depths_at(SOUTH, bathymetry.pond(), grid, 0, 10, 20, 30, 50)
    assert found == {0.0: 0.0, 10.0: pytest.approx(1.0), 20.0: None, 30.0: None, 50.0: None}


def test_a_wide_unknown_strip_along_the_bank_is_not_bridged():
    """Soundings begin 30 m out and speak for 10 m: at 10 m from the bank nothing is known."""
    x, y, line = bathymetry.runs(2, 30, 98, 98, 3, 3)
    grid = build_grid(x, y, y / 10, bathymetry.pond(), 1.0, 10.0, line)
    found = depths_at(SOUTH, bathymetry.pond(), grid, 0, 1, 10, 40)
    assert found == {0.0: 0.0, 1.0: None, 10.0: None, 40.0: pytest.approx(4.0)}


def test_without_a_grid_a_profile_knows_only_the_bank():
    """Zero at the water's edge, None from there."""
    assert depths_at(SOUTH, bathymetry.pond(), None, 0, 1, 2) == {0.0: 0.0, 1.0: None, 2.0: None}


def test_a_profile_from_a_slot_looks_square_to_the_bank_itself():
    """The bank runs south-west with a slot 4 m wide in it; square to the reach as a whole the slot's wall is land.

    From the wall at (48, 30) the profile goes east over the slot to its other wall.
    """
    slot = [(48, 48), (48, 20), (52, 20), (52, 52)]
    water = MultiPolygon([Polygon([(0, 0), *slot, (100, 100), (0, 100)])])
    reach = bathymetry.reach("slot", LineString([(80, 80), *slot[::-1], (0, 0)]))
    assert list(depths_at(reach, water, None, 1, 2, 3, 4, 5)) == [1.0, 2.0, 3.0]


def test_a_profile_runs_straight_from_the_bank_to_the_first_cells():
    """Cells of 4 m: between the bank and the first known depth the bottom is a straight line, as in the model."""
    found = depths_at(SOUTH, bathymetry.pond(), sloping_grid(bathymetry.pond(), 4.0), *range(7))
    assert list(found.values()) == pytest.approx([0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6])


def test_a_reach_with_no_water_off_its_midpoint_has_no_profile():
    """A line that lies inland (a fault of the shoreline) has unknown stations and no sounding."""
    inland = bathymetry.reach("inland", LineString([(70, -20), (30, -20)]))
    x, y, depth = np.array([50.0]), np.array([50.0]), np.array([3.0])
    found = off_bank([inland], bathymetry.pond(), x, y, depth, None, 10.0, True)["inland"]
    assert (found.soundings, found.profile_m) == (0, ((5.0, None), (10.0, None), (20.0, None), (40.0, None)))


def test_many_reaches_in_portions_are_the_same_as_one_by_one(monkeypatch):
    """Cutting the lake for 64 reaches at a time or for each alone gives the same water."""
    water = bathymetry.spit_pond()
    reaches = bathymetry.reaches_of(water, 20.0)
    together = bank_water(reaches, water, 15.0)
    monkeypatch.setattr(offbank, "_REACHES_AT_ONCE", 1)
    alone = bank_water(reaches, water, 15.0)
    assert all(a.symmetric_difference(b).area < 1e-6 for a, b in zip(together, alone, strict=True))
