"""Coverage of the water off each reach, and the parts of the source diagram."""

from __future__ import annotations

import bathymetry
import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiPolygon, box

from atlasgen.measure.coverage import reach_coverage, sounding_lines, source_parts
from atlasgen.measure.offbank import bank_water, water_around

SOUTH = bathymetry.reach("south", LineString([(70, 0), (30, 0)]))
NOWHERE = np.array([])


def exact_share(reach, water, x, y, off_bank_m, near_m) -> float:
    """Work out the same by polygons: discs round the soundings that the reach's own water holds, cut with the strip."""
    (strip,), (around,) = bank_water([reach], water, off_bank_m), water_around([reach], water, off_bank_m + near_m)
    inside = shapely.intersects_xy(around, x, y)
    discs = shapely.MultiPoint(np.c_[x, y][inside]).buffer(near_m, quad_segs=64)
    return strip.intersection(discs).area / strip.area


def test_a_run_along_the_bank_covers_a_band():
    """A run 25 m off, each sounding speaking for 10 m: from 15 m to 35 m of 40 m, half the water."""
    x = np.arange(0, 100.5, 0.5)
    found = reach_coverage([SOUTH], bathymetry.pond(), x, np.full(x.size, 25.0), 40.0, 10.0)["south"]
    assert pytest.approx(0.5, abs=0.01) == found.share_near_sounding
    assert pytest.approx(1600.0, rel=1e-3) == found.water_m2
    # 81 soundings from x = 30 to 70, both ends a millimetre out, on 0.16 ha.
    assert pytest.approx(79 / 0.16, rel=1e-3) == found.soundings_per_ha
    assert (found.off_bank_m, found.near_sounding_m, found.reasons) == (40.0, 10.0, ())


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.tuples(st.floats(0.5, 99.5), st.floats(0.5, 99.5)), min_size=1, max_size=15),
    st.sampled_from([5.0, 12.0, 25.0]),
    st.integers(0, 89),
)
def test_shares_agree_with_exact_polygons(places, near_m, turn_deg):
    """Within one percentage point, for every reach of a pond turned any way."""
    turn = np.radians(turn_deg)
    matrix = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    x, y = (np.array(places) @ matrix).T
    water = MultiPolygon([shapely.affinity.rotate(bathymetry.pond().geoms[0], turn_deg, origin=(0, 0))])
    reaches = bathymetry.reaches_of(water, 100.0)
    found = reach_coverage(reaches, water, x, y, 40.0, near_m)
    for reach in reaches:
        exact = exact_share(reach, water, x, y, 40.0, near_m)
        assert pytest.approx(exact, abs=0.01) == found[reach.id].share_near_sounding


def test_soundings_beyond_a_spit_do_not_count():
    """The water west of the spit is not covered by a run 8 m away on its east side."""
    west = bathymetry.reach("west of the spit", LineString([(48, 60), (48, 20)]))
    y = np.arange(0.0, 60.0)
    found = reach_coverage([west], bathymetry.spit_pond(), np.full(y.size, 56.0), y, 10.0, 15.0)
    assert (found["west of the spit"].share_near_sounding, found["west of the spit"].soundings_per_ha) == (0.0, 0.0)


def test_without_soundings_coverage_is_unknown_not_zero():
    """No soundings supplied: None, while the water itself is known."""
    found = reach_coverage([SOUTH], bathymetry.pond(), NOWHERE, NOWHERE, 20.0, 10.0)["south"]
    assert (found.share_near_sounding, found.soundings_per_ha) == (None, None)
    assert pytest.approx(800.0, rel=1e-3) == found.water_m2


def test_a_reach_without_water_has_no_shares():
    """A line inland: no water, so no share of it."""
    inland = bathymetry.reach("inland", LineString([(70, -50), (30, -50)]))
    areas = [("weed", box(0, 0, 100, 100))]
    found = reach_coverage([inland], bathymetry.pond(), np.array([50.0]), np.array([5.0]), 20.0, 10.0, areas)["inland"]
    assert (
        found.water_m2,
        found.share_near_sounding,
        found.soundings_per_ha,
        found.reasons,
    ) == (0.0, None, None, ())


def test_reasons_take_their_share_of_the_water():
    """Weed over the west half, twice drawn, and timber over a quarter; a far one is not named."""
    areas = [
        ("timber", box(60, 0, 70, 50)),
        ("weed", box(0, 0, 45, 50)),
        ("weed", box(40, 0, 50, 50)),
        ("closed", box(0, 60, 100, 100)),
    ]
    found = reach_coverage([SOUTH], bathymetry.pond(), NOWHERE, NOWHERE, 20.0, 10.0, areas)["south"]
    assert [reason for reason, _ in found.reasons] == ["weed", "timber"]
    assert pytest.approx([0.5, 0.25], rel=1e-3) == [share for _, share in found.reasons]


def test_runs_become_simple_lines():
    """Two straight runs of 21 soundings are two lines of two points; a sounding alone is no line."""
    x, y, line = bathymetry.runs(0, 0, 40, 10, 10, 2)
    lines = sounding_lines(np.r_[x, 500.0], np.r_[y, 500.0], np.r_[line, 9])
    assert [list(run.coords) for run in lines] == [[(0, 0), (40, 0)], [(0, 10), (40, 10)]]
    assert sounding_lines(NOWHERE, NOWHERE, NOWHERE) == ()


def test_a_run_is_broken_at_a_wide_gap():
    """The boat did not sound the 200 m in between."""
    x = np.array([0.0, 10, 20, 220, 230])
    lines = sounding_lines(x, x * 0, x * 0)
    assert [run.length for run in lines] == [20.0, 10.0]


def test_a_simplified_run_stays_within_the_tolerance():
    """A weaving run keeps within 2 m of every sounding."""
    x = np.arange(0.0, 300.0)
    y = 10 * np.sin(x / 15)
    (run,) = sounding_lines(x, y, x * 0)
    assert shapely.distance(run, shapely.points(x, y)).max() <= 2.0
    assert len(run.coords) < 60


def test_source_parts_keep_to_the_water():
    """The unsurveyed area is cut at the bank, and one wholly on land is not drawn."""
    x, y, line = bathymetry.runs(0, 50, 100, 50, 10, 2)
    areas = [("weed", box(-50, 0, 20, 100)), ("town", box(200, 200, 300, 300))]
    parts = source_parts(x, y, line, bathymetry.pond(), areas)
    assert [(reason, pytest.approx(area.area)) for reason, area in parts.not_surveyed] == [("weed", 2000.0)]
    assert [run.length for run in parts.sounding_lines] == [100.0]
