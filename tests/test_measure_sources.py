"""Rows of the source diagram, for a lake and for its halves."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from types import SimpleNamespace

import numpy as np
import pytest
from bathymetry import runs
from shapely import MultiPolygon, box
from sidescan_scene import BLIND_M, REACH_M, lake, on_ground, sonar_pass

from atlasgen.measure.sources import SoundingTracks, source_tables, survey_sources
from atlasgen.model import Outage, Soundings, Tile
from atlasgen.model.sonar import GivenCoverage
from atlasgen.place.geo import Projection

ZONE = timedelta(hours=-6)
START_S = datetime(2026, 3, 11, 5, tzinfo=UTC).timestamp()
TILES = (Tile("west", "W", box(0, 0, 100, 100), (0, 0, 0, 0)), Tile("east", "E", box(100, 0, 200, 100), (0, 0, 0, 0)))


def tracks(near_m: float = 5.0) -> SoundingTracks:
    """Nine runs 10 m apart over the western 60 m, a sounding every 2 m; at 23:00 on the 10th, lake time, and later."""
    x, y, line = runs(20, 10, 80, 90, 10, 2.0)
    time_s = START_S + 600.0 * line
    return SoundingTracks(x, y, time_s, line, np.zeros(len(x), int), ("a.csv",), near_m)


def test_soundings_by_file():
    """Nine runs of 60 m in two days of the survey's zone, 10 m apart, 2 m from sounding to sounding."""
    (row,), _ = source_tables(lake(), (), tracks(), (), (), ZONE)
    assert (row.what, row.name, row.runs, row.length_m) == ("soundings", "a.csv", 9, 540.0)
    assert row.dates == (date(2026, 3, 10), date(2026, 3, 11))
    assert (row.along_m, row.line_spacing_m) == (2.0, pytest.approx(10.0))
    # Bands of 10 m and half discs at the ends: 60 x 90 m and round ends.
    assert pytest.approx(60 * 90 + 9 * np.pi * 25, rel=0.01) == row.area_m2


def test_a_tile_tells_of_itself_alone():
    """The east has no row of soundings, and half of the pass."""
    run = on_ground(sonar_pass("P1", ((60, 50), (140, 50))), lake())
    lake_rows, by_tile = source_tables(lake(), TILES, tracks(), (run,), (), ZONE)
    assert [row.what for row in lake_rows] == ["soundings", "side-scan"]
    (east,) = by_tile["east"]
    assert (east.name, east.length_m) == ("P1", pytest.approx(40.0))
    assert pytest.approx(2 * 40 * (REACH_M - BLIND_M), rel=1e-4) == east.area_m2
    assert [row.what for row in by_tile["west"]] == ["soundings", "side-scan"]


def test_days_of_a_tile_are_those_of_its_own_runs():
    """The first four runs, y from 10 to 40 m, were made before midnight at the lake."""
    south = Tile("south", "S", box(0, 0, 200, 45), (0, 0, 0, 0))
    _, by_tile = source_tables(lake(), (south,), tracks(), (), (), ZONE)
    (row,) = by_tile["south"]
    assert row.dates == (date(2026, 3, 10), date(2026, 3, 10))
    assert (row.runs, row.length_m) == (4, 240.0)


def test_the_words_of_a_pass():
    """Coarse, a lost channel, speed from positions: each said, with the pings."""
    fast = sonar_pass("a", ((20, 50), (180, 50)), speed_mps=20.0, outages=[Outage("port", 2.0, 4.0, "cable")])
    (row,), _ = source_tables(lake(), (), None, (on_ground(fast, lake()),), (), ZONE)
    assert row.words == ("coarse: 2.9 pings on a one-metre object", "port channel lost for a time: cable")
    assert row.along_m == pytest.approx(2 * 13 * 20 / 1482.4)
    (fine,), _ = source_tables(lake(), (), None, (on_ground(sonar_pass("b", ((20, 50), (80, 50))), lake()),), (), ZONE)
    assert fine.words == ("fine: 28.5 pings on a one-metre object",)
    assert fine.line_spacing_m is None


def test_passes_are_spaced_among_themselves():
    """Two passes 30 m apart."""
    both = [on_ground(sonar_pass(name, ((20, y), (180, y))), lake()) for name, y in (("a", 30), ("b", 60))]
    rows, _ = source_tables(lake(), (), tracks(), both, (), ZONE)
    assert [row.line_spacing_m for row in rows[1:]] == [pytest.approx(30.0)] * 2


def test_outlines_have_an_area_and_no_lines():
    """An outline without a word on quality."""
    (row,), _ = source_tables(lake(), (), None, (), (GivenCoverage("m", MultiPolygon([box(0, 0, 50, 50)])),), ZONE)
    assert (row.what, row.area_m2, row.length_m, row.dates) == ("side-scan coverage", 2500.0, None, None)
    assert row.words == ("how fine is not known",)


def test_nothing_gives_no_rows():
    """No soundings, no passes."""
    assert source_tables(lake(), TILES, None, (), (), ZONE) == ((), {"west": (), "east": ()})


def test_a_surveys_tiles_are_laid_on_the_metric_ground():
    """Tiles come in degrees, the water in metres: each tile tells of the soundings in it, and their lengths add up."""
    degrees = MultiPolygon([box(-96.402, -31.602, -96.398, -31.598)])
    projection = Projection.for_lake(degrees)
    tiles = (
        Tile("west", "W", box(-96.402, -31.602, -96.4, -31.598), (0, 0, 0, 0)),
        Tile("east", "E", box(-96.4, -31.602, -96.398, -31.598), (0, 0, 0, 0)),
    )
    placed = SimpleNamespace(water=projection.to_metric(degrees), tiles=tiles, crs_metric=projection.crs_text)
    x_m, y_m = np.linspace(-150, 150, 61), np.zeros(61)
    lon, lat = projection.lonlats(x_m, y_m)
    run = Soundings(lon, lat, np.full(61, 3.0), np.arange(61.0), np.zeros(61, int), ("run.csv",))
    lake, by_tile = survey_sources(run, x_m, y_m, placed, None, 25.0, timedelta())
    assert [row.name for row in by_tile["west"]] == ["run.csv"]
    assert sum(by_tile[name][0].length_m for name in ("west", "east")) == pytest.approx(lake[0].length_m, rel=0.02)
