"""Side-scan of a whole survey: small lakes by hand, and the demo against what its maker put into it."""

from __future__ import annotations

import csv
import functools
from dataclasses import replace
from datetime import datetime, timedelta
from types import SimpleNamespace

import numpy as np
import pytest
import shapely
from bathymetry import reaches_of
from conftest import DEMO
from shapely import MultiPolygon, box
from sidescan_scene import lake, sonar_pass
from test_measure_sonar import depths_west_of

from atlasgen.config import read_settings
from atlasgen.measure.depth import build_grid
from atlasgen.measure.level import reduce_soundings
from atlasgen.measure.offbank import bank_water
from atlasgen.measure.sidescan import Bed, heights_above_bed, mosaic_coverage, survey_sidescan
from atlasgen.model import MeasureRules, NamedArea, Placed, StageRecord, Survey
from atlasgen.model.sonar import PICTURED, SONAR_CLASSES, SonarRules
from atlasgen.place.geo import Projection

STAGE = StageRecord(np.array([0.0, 100.0]), np.array([-1.0, -2.0]))


def test_recorded_height_goes_first_then_model_and_stage():
    """3 m below datum, 1.5 m drawn down half way, 0.3 m of draught: 1.2 m; unknown east of the model."""
    run = sonar_pass("a", ((20, 50), (120, 50)))
    run.height_above_bed_m[5:] = np.nan
    bed = Bed(depths_west_of(100, lake()), STAGE, True, 0.3)
    height_m, counts = heights_above_bed(run, run.lon_deg, run.lat_deg, bed)
    assert height_m[:5].tolist() == [5.0] * 5
    assert pytest.approx(3.0 - (1 + run.time_s[10] / 100) - 0.3) == height_m[10]
    assert np.isnan(height_m[-1])
    assert sum(counts.values()) == len(height_m)
    assert counts["unknown"] == int(np.isnan(height_m).sum()) > 0


def test_a_dried_place_gives_no_height():
    """A stage below the model's bed."""
    run = sonar_pass("a", ((20, 50), (60, 50)), height_above_bed_m=np.full(21, np.nan))
    dry = StageRecord(np.array([0.0, 100.0]), np.array([-4.0, -4.0]))
    height_m, counts = heights_above_bed(run, run.lon_deg, run.lat_deg, Bed(depths_west_of(100, lake()), dry))
    assert np.isnan(height_m).all()
    assert counts == {"recorded": 0, "depth model": 0, "unknown": 21}


def test_a_mosaic_is_coverage_only_where_no_passes_tell_better():
    """Its outline says nothing of strips under the boat or lost channels, which passes know."""
    mosaic = SimpleNamespace(kind="sonar mosaic", title="Mosaic", area=MultiPolygon([box(0, 0, 9, 9)]))
    photo = SimpleNamespace(kind="air photo", title="Photo", area=mosaic.area)
    assert [given.name for given in mosaic_coverage([mosaic, photo], ())] == ["Mosaic"]
    assert mosaic_coverage([mosaic], (sonar_pass("a", ((20, 50), (120, 50))),)) == []


def _placed(water: MultiPolygon) -> Placed:
    crs = "+proj=aeqd +lat_0=10 +lon_0=10 +datum=WGS84 +units=m"
    return Placed(water, (), reaches_of(water, 100.0), (), (), (), (), crs)


def _in_degrees(run):
    lon, lat = Projection("+proj=aeqd +lat_0=10 +lon_0=10 +datum=WGS84 +units=m").lonlats(run.lon_deg, run.lat_deg)
    return replace(run, lon_deg=lon, lat_deg=lat)


def test_nothing_supplied_is_nothing_known():
    """Neither passes nor outlines: no coverage at all, not a coverage of none."""
    survey = Survey((), lake())
    assert survey_sidescan(survey, _placed(lake()), Bed(), (), MeasureRules()) == (None, {})


def test_outlines_alone():
    """An outline over the western half, without a word on quality."""
    projection = Projection("+proj=aeqd +lat_0=10 +lon_0=10 +datum=WGS84 +units=m")
    half = NamedArea("mosaic", projection.to_lonlat(box(0, 0, 100, 100)))
    survey = Survey((), lake(), sonar_coverage=(half,))
    sonar, reaches = survey_sidescan(survey, _placed(lake()), Bed(), (), MeasureRules())
    assert pytest.approx(10000, abs=0.1) == sonar.area_m2["unknown"]
    assert any("outline only" in sentence for sentence in sonar.methods)
    assert max(reach.near.share["unknown"] for reach in reaches.values()) == pytest.approx(1.0, abs=1e-6)


def test_unknown_heights_are_said():
    """Neither record nor model: no picture, and a sentence that names the pass."""
    run = sonar_pass("P7", ((20, 50), (120, 50)), height_above_bed_m=np.full(51, np.nan))
    survey = Survey((), lake(), passes=(_in_degrees(run),))
    sonar, _ = survey_sidescan(survey, _placed(lake()), Bed(), (), MeasureRules())
    assert sum(sonar.area_m2[name] for name in PICTURED) == 0
    assert any("pass P7" in sentence and "51 positions" in sentence for sentence in sonar.methods)


@functools.cache
def demo():
    """Read, place and measure the demo's sonar, and nothing else of it."""
    from atlasgen.read.passes import read_passes
    from atlasgen.read.soundings import read_soundings
    from atlasgen.read.stage import read_stage
    from atlasgen.read.vectors import read_areas, read_water

    settings = read_settings(DEMO)
    rules, zone = settings.read_rules(), timedelta(hours=-6)
    columns = {"columns": rules.sounding_columns, "crs": rules.sounding_crs, "depth_unit": "metres"}
    soundings, _ = read_soundings(
        [(path, path.name) for path in sorted(DEMO.glob("soundings*"))],
        **columns,
        depth_positive="down",
        zone=timedelta(0),
        no_data=(0.0,),
    )
    water, _ = read_water(DEMO / "shoreline.geojson", "shoreline.geojson")
    survey = Survey(
        (),
        water,
        passes=read_passes([(DEMO / "passes.csv", "passes.csv")], (DEMO / "outages.csv", "outages.csv"), zone)[0],
        stage=read_stage(DEMO / "stage.csv", "stage.csv", zone, None)[0],
        not_surveyed=read_areas(DEMO / "not_surveyed.geojson", "n", ("reason",))[0],
        places=read_areas(DEMO / "places.geojson", "p", ("name",))[0],
    )
    return _measured(survey, soundings)


def _measured(survey: Survey, soundings):
    projection = Projection.for_lake(survey.shoreline)
    water = projection.to_metric(survey.shoreline)
    placed = Placed(water, (), reaches_of(water, 100.0), (), (), (), (), projection.crs_text)
    x, y = projection.points(soundings.lon_deg, soundings.lat_deg)
    depth = reduce_soundings(soundings.depth_m + 0.3, soundings.time_s, survey.stage).depth_m
    used = np.isfinite(depth)
    grid = build_grid(x[used], y[used], depth[used], water, None, 25.0, soundings.line[used])
    reasons = [(area.name, projection.to_metric(area.area)) for area in survey.not_surveyed]
    # The instrument of the demo pings twelve times a second at most, so that its fast pass is coarse.
    rules = MeasureRules(sonar=SonarRules(ping_rate_hz=12.0))
    sonar, reaches = survey_sidescan(survey, placed, Bed(grid, survey.stage, True, 0.3), reasons, rules)
    return SimpleNamespace(sonar=sonar, reaches=reaches, placed=placed, projection=projection, reasons=reasons)


def _holidays(cause: str):
    return [holiday for holiday in demo().sonar.holidays if holiday.cause == cause]


def _reaches_near(shape, within_m: float = 100.0) -> set[str]:
    """Reaches whose water within 100 m shares ground with a shape."""
    strips = bank_water(demo().placed.reaches, demo().placed.water, within_m)
    shared = shapely.area(shapely.intersection(strips, shape))
    return {reach.id for reach, area in zip(demo().placed.reaches, shared, strict=True) if area > 1.0}


def _to_demo_metric(corners):
    """Take corners in the frame of the demo's maker (see its truth file) to the survey's metres."""
    from pyproj import Transformer

    maker = "+proj=tmerc +lat_0=-31.6 +lon_0=-96.4 +k=1 +ellps=WGS84 +units=m"
    lon, lat = Transformer.from_crs(maker, "EPSG:4326", always_xy=True).transform(*np.asarray(corners, float).T)
    return shapely.Polygon(np.column_stack(demo().projection.points(lon, lat)))


def test_demo_areas_add_up_to_the_lake():
    """To a square metre."""
    sonar, water = demo().sonar, demo().placed.water
    assert pytest.approx(water.area, abs=1.0) == sum(sonar.area_m2.values())
    assert pytest.approx(water.area, abs=1.0) == sum(area.area for area in sonar.area.values())


def test_demo_lost_channel():
    """Pass P03 lost its starboard channel; told at the reaches whose water its blank strip touches."""
    lost = _holidays("lost_channel")
    assert {(h.passes[0], h.channel, h.why) for h in lost} == {("P03", "starboard", "cable worked loose")}
    assert {h.share_depth for h in lost} == {1.0}
    (run,) = (run for run in demo().sonar.runs if run.name == "P03")
    (record,) = (r for r in run.no_picture if r.cause == "lost_channel")
    assert record.to_s - record.from_s == 5 * 60 + 54
    # Twenty metres to starboard of P03 at the middle of the outage, from two rows of its log; port ran on.
    assert record.area.contains(_beside_log("P03", (record.from_s + record.to_s) / 2, 20.0))
    assert run.swaths[0].fine.contains(_beside_log("P03", (record.from_s + record.to_s) / 2, -20.0))
    told = {reach for h in lost for reach in h.reaches}
    expected = _reaches_near(shapely.union_all([h.area for h in lost]))
    assert expected <= told
    assert expected
    for reach in expected:
        causes = {cause for cause, _, _ in demo().reaches[reach].out.missing}
        assert "lost_channel" in causes


def _beside_log(name: str, time_s: float, right_m: float) -> shapely.Point:
    """Place to the right of a pass between the two rows of passes.csv around a time."""
    log = (DEMO / "passes.csv").read_text(encoding="utf-8").splitlines()
    rows = [row for row in csv.DictReader(log) if row["pass"] == name]
    times = [datetime.fromisoformat(row["time"]).timestamp() for row in rows]
    after = next(i for i, at in enumerate(times) if at > time_s)
    lon, lat = (np.array([float(rows[i][key]) for i in (after - 1, after)]) for key in ("lon", "lat"))
    x, y = demo().projection.points(lon, lat)
    way = np.array([x[1] - x[0], y[1] - y[0]])
    right = np.array([way[1], -way[0]]) / np.hypot(*way)
    return shapely.Point(np.array([x.mean(), y.mean()]) + right_m * right)


def test_demo_fast_run():
    """Pass P10 at 4.7 m/s is coarse, all others are fine."""
    assert {h.passes[0] for h in _holidays("fast_run")} == {"P10"}
    coarse = {run.name for run in demo().sonar.runs if any(s.coarse.area for s in run.swaths)}
    assert coarse == {"P10"}
    pings = {run.name: run.pings_on_metre for run in demo().sonar.runs}
    assert pytest.approx(12 / 4.7, rel=0.02) == pings.pop("P10")
    assert min(pings.values()) > 5


def test_demo_weed_and_timber():
    """Both polygons with a reason, at the reaches that lie on them."""
    found = {h.why for h in _holidays("reason")}
    assert found == {"weed on the delta, too thick for the boat", "standing timber in the head of Marrow Arm"}
    for why, area in demo().reasons:
        inside = area.intersection(demo().placed.water)
        told = {reach for h in _holidays("reason") if h.why == why for reach in h.reaches}
        assert _reaches_near(inside) == told


def test_demo_missed_corner():
    """The east of Pennywort Inlet, which its maker left out of every log without a word."""
    corner = _to_demo_metric(((560, -1250), (1250, -1250), (1250, -850), (560, -850)))
    inside = corner.intersection(demo().placed.water)
    found = [h for h in _holidays("not_surveyed") if h.area.intersects(inside)]
    covered = shapely.union_all([h.area for h in found])
    # All of it but the rim that lies within the stated 25 m of the last soundings.
    assert shapely.intersection(inside.buffer(-25), covered).area > 0.99 * inside.buffer(-25).area
    largest = max(found, key=lambda h: h.area_m2)
    assert (largest.place, largest.share_depth, largest.passes) == ("Pennywort Inlet", 0.0, ())
    assert _reaches_near(inside.intersection(largest.area)) <= set(largest.reaches)


def test_demo_shares_equal_exact_polygons():
    """Every share of every reach, near and out, within a point of the whole lake's polygons cut with its water."""
    found = demo()
    for width_m, part in ((40.0, "near"), (100.0, "out")):
        strips = bank_water(found.placed.reaches, found.placed.water, width_m)
        for name in SONAR_CLASSES:
            exact = shapely.area(shapely.intersection(strips, found.sonar.area[name])) / shapely.area(strips)
            shares = [getattr(found.reaches[reach.id], part).share[name] for reach in found.placed.reaches]
            assert np.abs(exact - shares).max() < 0.01
        depth = shapely.area(shapely.intersection(strips, found.sonar.depth_known)) / shapely.area(strips)
        shares = [getattr(found.reaches[reach.id], part).depth for reach in found.placed.reaches]
        assert np.abs(depth - shares).max() < 0.01


def test_demo_what_is_missing_adds_up():
    """Shares missing by cause and shares with a better picture than coarse make one, but for what is left unsaid."""
    for reach in demo().reaches.values():
        seen = sum(reach.out.share[name] for name in ("twice", "fine", "unknown"))
        assert pytest.approx(1.0, abs=2e-3) == seen + sum(share for _, _, share in reach.out.missing)
        assert pytest.approx(1.0) == sum(reach.out.share.values())
