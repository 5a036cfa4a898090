"""Gaps and their causes, on lakes small enough to see through."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from bathymetry import reaches_of
from shapely import Polygon, box
from sidescan_scene import RULES, lake, on_ground, sonar_pass
from test_measure_sonar import depths_west_of

from atlasgen.measure.holidays import find_holidays
from atlasgen.measure.sonar import limits_of, partition
from atlasgen.model import NamedArea, Outage
from atlasgen.model.sonar import SonarRules
from atlasgen.place.geo import Projection

HERE = Projection("+proj=aeqd +lat_0=10 +lon_0=10 +datum=WGS84 +units=m")
WATER = lake(400, 300)
REACHES = reaches_of(WATER, 100.0)


def holidays(passes, reasons=(), grid=None, places=(), rules: SonarRules = RULES):
    """Find the holidays of some passes."""
    runs = [on_ground(run, WATER, rules) for run in passes]
    parts = partition(WATER, runs, (), limits_of(runs, (), WATER, rules), grid, reasons)
    return find_holidays(parts, runs, REACHES, places, HERE, rules)


def of(gaps, cause):
    """Holidays of one cause."""
    return [holiday for holiday in gaps.holidays if holiday.cause == cause]


def along(name, y, **more):
    """Make a run east, 200 m long."""
    return sonar_pass(name, ((100, y), (300, y)), **more)


def test_a_pass_not_run_shows_by_its_neighbours():
    """Lines 20 m apart reach 12 m each; the one at 140 m was not run: 40 m between its neighbours, which reach 24."""
    gaps = holidays([along("a", 100), along("b", 120), along("c", 160), along("d", 180)])
    (gap,) = of(gaps, "pass_not_run")
    assert pytest.approx(200 * 16, rel=0.02) == gap.area_m2
    assert sorted(gap.passes) == ["b", "c"]
    assert (pytest.approx(40), pytest.approx(24)) == (gap.spacing_m, gap.covers_m)
    assert of(gaps, "not_recorded") == []


def test_a_lost_channel_is_named_with_its_times():
    """Port of the southern run lost for 40 s; its neighbour does not reach there."""
    lost = along("a", 100, outages=[Outage("port", 20.0, 60.0, "cable")])
    (gap,) = of(holidays([lost, along("b", 125)], grid=depths_west_of(400, WATER)), "lost_channel")
    assert (gap.why, gap.channel, gap.from_s, gap.to_s) == ("cable", "port", 20.0, 60.0)
    assert (gap.passes[0], gap.share_depth) == ("a", 1.0)
    # 80 m by what is from the blind strip to the ground range, or to where b's picture begins.
    assert pytest.approx(80 * (12 - 1.82), rel=0.01) == gap.area_m2


def test_a_fast_run_is_told_as_coarse():
    """Both sides of it, with its pings."""
    gaps = of(holidays([along("a", 100, speed_mps=20.0)]), "fast_run")
    assert [gap.passes[0] for gap in gaps] == ["a", "a"]
    assert {round(gap.pings_on_metre, 2) for gap in gaps} == {2.85}


def test_reasons_places_and_reaches():
    """Weed in the north-west corner, in a bay that has a name."""
    weed = box(0, 200, 100, 300)
    bay = NamedArea("Reed Bay", box(0, 150, 150, 300))
    (gap,) = of(holidays([along("a", 50)], [("weed", weed)], places=[bay]), "reason")
    assert (gap.why, gap.place, pytest.approx(10000)) == ("weed", "Reed Bay", gap.area_m2)
    at = HERE.point(gap.at)
    assert weed.contains(shapely.Point(at.x_m, at.y_m))
    nearest = {reach.id: reach for reach in REACHES}[gap.nearest]
    assert nearest.line.distance(shapely.Point(at.x_m, at.y_m)) == min(
        reach.line.distance(shapely.Point(at.x_m, at.y_m)) for reach in REACHES
    )


def test_beyond_the_limit_depths_make_the_difference():
    """West of 350 m there are soundings; the water east of that has nothing."""
    gaps = holidays([along("a", 150)], grid=depths_west_of(350, WATER))
    assert {gap.share_depth for gap in of(gaps, "beyond_limit")} == {1.0}
    (bare,) = of(gaps, "not_surveyed")
    assert (pytest.approx(50 * 300), 0.0) == (bare.area_m2, bare.share_depth)


def test_small_gaps_are_not_listed_but_counted():
    """A limit larger than any gap lists none; every piece still belongs to a gap with a cause."""
    gaps = holidays([along("a", 100)], rules=SonarRules(holiday_m2=1e6))
    assert gaps.holidays == ()
    assert (gaps.gap_of_piece >= 0).all()
    assert (gaps.holiday_of_gap == -1).all()


def test_gaps_are_connected_across_the_blocks():
    """A strip of 200 m under the boat crosses the blocks' borders and is one gap; largest first, ids in order."""
    found = holidays([along("a", 248.0), along("b", 100.0)])
    assert len(of(found, "under_boat")) == 2
    assert [gap.id for gap in found.holidays] == [f"H{n + 1}" for n in range(len(found.holidays))]
    assert np.all(np.diff([round(gap.area_m2) for gap in found.holidays]) <= 0)


def test_holidays_are_the_same_whatever_the_order():
    """Names aside, nothing hangs on the order of the passes."""
    passes = [along("a", 100), along("b", 140), sonar_pass("c", ((200, 20), (200, 280)))]
    one, other = holidays(passes), holidays(passes[::-1])
    assert [(g.cause, round(g.area_m2, 3)) for g in one.holidays] == [
        (g.cause, round(g.area_m2, 3)) for g in other.holidays
    ]


def test_no_water_left_over():
    """All gaps together are the water without its fine pictures."""
    passes = [along("a", 100), along("b", 150)]
    runs = [on_ground(run, WATER) for run in passes]
    parts = partition(WATER, runs, (), limits_of(runs, (), WATER, RULES), None, [("weed", Polygon())])
    seen = shapely.union_all([swath.fine for run in runs for swath in run.swaths])
    assert pytest.approx(WATER.area - seen.area, abs=1e-3) == shapely.area(parts.gaps.pieces).sum()
