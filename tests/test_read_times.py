"""Reference values: Python's datetime and zoneinfo; ISO 8601 forms."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.read.times import joined, moment, times_utc

CHICAGO = ZoneInfo("America/Chicago")
NO_OFFSET = timedelta(0)


@pytest.mark.parametrize(
    "text",
    ["2026-05-01 14:03:20", "2026-05-01T14:03:20", "2026/05/01 14:03:20", "20260501T140320", "2026-05-01 02:03:20 PM"],
)
def test_the_usual_ways_of_writing_a_moment_are_one_moment(text):
    """Separators and am/pm do not matter."""
    assert datetime(2026, 5, 1, 14, 3, 20, tzinfo=UTC) == moment(text, NO_OFFSET)


def test_a_stated_offset_goes_before_the_zone_given():
    """Z and +02:00 are taken at their word, also beside times without a zone."""
    times = times_utc(["2026-05-01T14:00Z", "2026-05-01T14:00+02:00", "2026-05-01T14:00"], timedelta(hours=-5)).time_s
    assert (times - times[0]).tolist() == [0.0, -7200.0, 18000.0]


@given(st.datetimes(datetime(1998, 1, 1), datetime(2090, 1, 1)), st.integers(-14 * 60, 14 * 60))
def test_a_fixed_offset_agrees_with_datetime(wall, minutes):
    """The same wall time in the same offset is the same second as datetime gives."""
    offset = timedelta(minutes=minutes)
    expected = wall.replace(tzinfo=timezone(offset)).timestamp()
    assert times_utc([wall.isoformat()], offset).time_s[0] == pytest.approx(expected, abs=1e-5)


@given(st.datetimes(datetime(1998, 1, 1), datetime(2037, 1, 1)))
def test_a_named_zone_agrees_with_zoneinfo(wall):
    """Summer time is applied as zoneinfo does, the first of a repeated hour included."""
    aware = wall.replace(tzinfo=CHICAGO)
    times = times_utc([wall.isoformat()], CHICAGO)
    exists = aware.astimezone(UTC).astimezone(CHICAGO).replace(tzinfo=None) == wall
    if exists:
        assert times.time_s[0] == pytest.approx(aware.timestamp(), abs=1e-5)


def test_the_repeated_hour_is_said():
    """01:30 on the night clocks go back means two moments."""
    (note,) = times_utc(["2026-11-01 01:30"], CHICAGO).problems("log.csv")
    assert note.code == "ambiguous"
    assert "first of the two" in note.message


@pytest.mark.parametrize(
    ("texts", "day"), [(["01.02.2026"], 1), (["13/02/2026", "1/2/2026"], 13), (["02/13/2026", "2/1/2026"], 13)]
)
def test_day_and_month_are_told_apart_by_dots_or_by_a_number_above_twelve(texts, day):
    """The first of each column is 1 or 13 February."""
    times = times_utc(texts, NO_OFFSET, date_hour=12)
    assert datetime(2026, 2, day, 12, tzinfo=UTC).timestamp() == times.time_s[0]
    assert "first" in times.notes[0][1]


def test_a_date_that_may_be_two_is_not_guessed():
    """1/2/2026 is 1 February or 2 January."""
    times = times_utc(["1/2/2026 10:00", "3/4/2026 10:00"], NO_OFFSET)
    assert np.isnan(times.time_s).all()
    assert times.notes[0][0] == "no_time"


def test_a_date_alone_is_a_moment_only_when_an_hour_is_given():
    """Noon stands for the day where the caller says so."""
    assert np.isnan(times_utc(["2026-05-01"], NO_OFFSET).time_s[0])
    assert times_utc(["2026-05-01"], NO_OFFSET, date_hour=12).time_s[0] % 86400 == 43200.0


def test_numbers_are_seconds_or_milliseconds_since_1970_or_dates():
    """1,700,000,000 s is 14 November 2023, 22:13:20 UTC (unix time)."""
    expected = datetime(2023, 11, 14, 22, 13, 20, tzinfo=UTC).timestamp()
    assert expected == times_utc(np.array([1.7e9]), NO_OFFSET).time_s[0]
    assert expected == times_utc(["1700000000000"], NO_OFFSET).time_s[0]
    assert times_utc(np.array([20260501.0]), NO_OFFSET, date_hour=0).time_s[0] % 86400 == 0.0
    assert np.isnan(times_utc(np.array([12.5]), NO_OFFSET).time_s[0])


@pytest.mark.parametrize(
    "text", ["", "soon", "2026-13-01 00:00", "31.02.2026 10:00", "12:13:14", "2026", "0000-00-00 00:00:00"]
)
def test_what_is_no_moment_is_none(text):
    """Nothing is made up for cells that tell no moment."""
    assert moment(text, NO_OFFSET) is None


def test_date_and_clock_columns_join():
    """A clock may be written without colons."""
    cells = joined(["2026-05-01", "2026-05-01"], ["193232", "19:32:32"])
    assert cells.tolist() == ["2026-05-01 19:32:32", "2026-05-01 19:32:32"]
