"""Source: 1 ft = 0.3048 m (NIST Handbook 44); lake levels of the USACE Detroit bulletin, January 2009."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from atlasgen.errors import InputFault
from atlasgen.read.stage import read_stage


@pytest.fixture
def read(tmp_path):
    """Read a text as stage.csv."""

    def reader(text, zone=timedelta(0), full=None):
        path = tmp_path / "stage.csv"
        path.write_text(text, encoding="utf-8")
        return read_stage(path, "stage.csv", zone, full)

    return reader


def test_a_record_is_sorted_by_time(read):
    """Drawn down is negative."""
    record, problems = read("date,stage_m\n2026-05-02 06:00,-0.5\n2026-05-01 06:00,-0.25\n")
    assert record.stage_m.tolist() == [-0.25, -0.5]
    assert record.time_s[1] - record.time_s[0] == 86400.0
    assert (record.file, problems) == ("stage.csv", [])


def test_feet_are_converted(read):
    """-10 ft = -3.048 m."""
    assert pytest.approx(read("date,stage_ft\n2026-05-01,-10\n")[0].stage_m.tolist()) == [-3.048]


def test_a_date_alone_is_noon_local_time(read):
    """Noon of 1 July in Chicago is 17:00 UTC, of 1 December 18:00 UTC."""
    record, _ = read("date,stage_m\n2026-07-01,0\n2026-12-01,0\n", zone=ZoneInfo("America/Chicago"))
    expected = [datetime(2026, 7, 1, 17, tzinfo=UTC).timestamp(), datetime(2026, 12, 1, 18, tzinfo=UTC).timestamp()]
    assert expected == record.time_s.tolist()


def test_of_rows_with_one_time_the_last_stands_and_it_is_said(read):
    """Equal values say nothing."""
    record, (problem,) = read("date,stage_m\n2026-05-01,-1\n2026-05-01,-2\n2026-05-02,3\n2026-05-02,3\n")
    assert record.stage_m.tolist() == [-2.0, 3.0]
    assert "1 times have several stages" in problem.message


def test_a_unit_that_nobody_states_is_assumed_and_said(read):
    """Metres."""
    record, (problem,) = read("date,stage\n2026-05-01,-1\n")
    assert record.stage_m.tolist() == [-1.0]
    assert "metres were assumed" in problem.message


@pytest.mark.parametrize("heading", ["elevation_ft", "level_ft", "stage_ft"])
def test_heights_are_refused_where_the_datum_is_unknown(read, heading):
    """Lake Erie stood 570.783 ft above its datum's zero: no stage. The message names the setting."""
    with pytest.raises(InputFault, match=r"heights and no stages.*level\.elevation_m"):
        read(f"date,{heading}\n2009-01-15,570.783\n")


@pytest.mark.parametrize("heading", ["elevation_ft", "level_ft"])
def test_heights_are_reduced_by_the_datum_where_it_is_known(read, heading):
    """Erie: 570.783 ft over a low water datum of 569.2 ft is 1.583 ft (bulletin, January 2009)."""
    record, (problem,) = read(f"date,{heading}\n2009-01-15,570.783\n", full=569.2 * 0.3048)
    assert pytest.approx(record.stage_m.tolist(), abs=1e-9) == [1.583 * 0.3048]
    assert "were subtracted" in problem.message


def test_low_heights_are_heights_by_their_heading(read):
    """A lake near the sea: 4 m above sea level, full at 5 m."""
    assert read("date,elevation_m\n2026-05-01,4\n", full=5.0)[0].stage_m.tolist() == [-1.0]


def test_a_small_level_is_a_stage_and_it_is_said(read):
    """`level_m` may mean either; 0.4 m is no height of a lake with a datum at 300 m."""
    record, (problem,) = read("date,level_m\n2026-05-01,-0.4\n", full=300.0)
    assert record.stage_m.tolist() == [-0.4]
    assert "level above the datum" in problem.message


def test_nonsense_is_refused(read):
    """500 m below the datum."""
    with pytest.raises(InputFault, match="-500 m from the datum"):
        read("date,stage_m\n2026-05-01,-1\n2026-05-02,-500\n")


def test_bad_rows_are_named_by_line(read):
    """The rest is used."""
    record, (problem,) = read("date,stage_m\n2026-05-01,-1\nsoon,-2\n2026-05-03,low\n")
    assert len(record.time_s) == 1
    assert "2 of 3 rows" in problem.message
    assert "line 3, 4" in problem.message


def test_a_record_without_a_usable_row_is_none(read):
    """Dates that may mean two days are not guessed."""
    record, problems = read("date,stage_m\n1/2/2026,-1\n3/4/2026,-2\n")
    assert record is None
    assert "may mean two dates" in problems[0].message


def test_a_record_without_a_heading_is_refused(read):
    """Its first row is shown."""
    with pytest.raises(InputFault, match=r"has no heading \(its first row is 2026-05-01, -1\)"):
        read("2026-05-01,-1\n2026-05-02,-2\n")


def test_other_columns_are_refused(read):
    """The message says which there are and which are expected."""
    with pytest.raises(InputFault, match=r"'when', 'how high'.*date and stage_m"):
        read("when,how high\n2026-05-01,-1\n")
