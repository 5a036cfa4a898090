"""Copies, land, jumps and spikes, each on a handful of soundings.

The tolerance of 5 m is the constant part of THU for Order 1a, IHO S-44 Ed 6.1.0 (2022), Table 1.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lakes import island_lake, square_lake

from atlasgen.measure.cleaning import clean, cleaning_words, copies, jumps, on_land
from atlasgen.model import Soundings
from atlasgen.model.quality import SoundingRules

COPY = "same place and depth as another, and the same time or none"
SPIKE = "spike: stands alone among its neighbours on the line"
LAND = "on land, more than 5 m outside the shoreline"
JUMP = "position jumps faster than 30 m/s"


def run_of(depths, x_m=None, y_m=0.0, time_s=None):
    """Soundings along x, 2 m and 1 s apart; degrees that stand in for places, and the places."""
    count = len(depths)
    x = np.arange(count) * 2.0 if x_m is None else np.asarray(x_m, dtype=float)
    y = np.full(count, y_m)
    time = np.arange(count, dtype=float) if time_s is None else np.asarray(time_s, dtype=float)
    zeros = np.zeros(count, dtype=int)
    file, row = zeros.astype(np.int16), np.arange(count) + 2
    soundings = Soundings(x / 1e5, y / 1e5, np.array(depths, float), time, zeros, ("a.csv",), {}, file, row, (0.0,))
    return soundings, x, y


def cleaned(soundings, x, y, water=None, **rules):
    return clean(soundings, x, y, square_lake() if water is None else water, SoundingRules(**rules))


def test_each_sounding_is_counted_by_reason_and_listed():
    """A spike, a copy and one on land, among ten."""
    depths = [10.0] * 5 + [4.0] + [10.0] * 7
    soundings, x, y = run_of([*depths, 10.0, 10.0], [*np.arange(13) * 2.0, 24.0, 600.0], time_s=[*range(13), 12, 60])
    result = cleaned(soundings, x, y)
    assert np.flatnonzero(~result.used).tolist() == [5, 13, 14]
    assert result.cleaning.counts == {COPY: 1, LAND: 1, SPIKE: 1}
    assert (result.cleaning.read, result.cleaning.kept) == (15, 12)
    assert result.cleaning.examples[SPIKE] == (("a.csv", 7, 4.0),)
    listed = result.left_out
    assert listed.row.tolist() == [7, 15, 16]
    assert [listed.reasons[number] for number in listed.reason] == [SPIKE, COPY, LAND]
    assert "a.csv, line 7, 4.00 m" in result.problems[2].message


def test_what_reading_left_out_is_counted_and_listed_with_it():
    """One no-data value that reading has listed already."""
    soundings, x, y = run_of([10.0] * 8)
    listed = cleaned(*run_of([10.0] * 5 + [3.0] + [10.0] * 5)).left_out
    before = replace(listed, reasons=tuple("no-data value" if why == SPIKE else why for why in listed.reasons))
    result = cleaned(replace(soundings, rejected={"no-data value": 1}, left_out=before), x, y)
    assert (result.cleaning.read, result.cleaning.counts) == (9, {"no-data value": 1})
    assert [result.left_out.reasons[number] for number in result.left_out.reason] == ["no-data value"]
    assert "left out: no-data value (1). audit/soundings_left_out.csv lists them" in cleaning_words(result.cleaning)


@pytest.mark.parametrize(("test", "reason"), [("duplicates", COPY), ("land", LAND), ("jumps", JUMP), ("spikes", SPIKE)])
def test_every_test_can_be_switched_off_and_that_is_said(test, reason):
    """One of each: a fish, a copy, a place on land, a jump of 178 m; without its test it stays."""
    x = [*np.arange(12) * 2.0, 22, 600, 300, 302, 480, 306, 308, 310]
    time = [*range(12), 11, 100, 200, 201, 202, 203, 204, 205]
    soundings, x, y = run_of([*[10.0] * 6, 4.0, *[10.0] * 13], x, time_s=time)
    every = cleaned(soundings, x, y)
    assert every.cleaning.counts == {COPY: 1, LAND: 1, JUMP: 1, SPIKE: 1}
    others = tuple(name for name in ("duplicates", "land", "jumps", "spikes") if name != test)
    without = cleaned(soundings, x, y, clean=others)
    assert set(every.cleaning.counts) - set(without.cleaning.counts) == {reason}
    assert "switched off in survey.toml" in cleaning_words(without.cleaning)


def test_copies_share_place_depth_and_time():
    """The third repeats the first; the others differ in one thing each; unknown times are alike."""
    lon = np.array([1.0, 1.0, 1.0, 1.0, 1.0001, 1.0, 1.0])
    depth = np.array([5.0, 5.001, 5.0, 5.0, 5.0, 5.0, 5.0])
    time = np.array([7.0, 7.0, 7.0, 8.0, 7.0, np.nan, np.nan])
    assert copies(lon, np.zeros(7), depth, time).tolist() == [False, False, True, False, False, False, True]


def test_land_begins_beyond_the_tolerance_and_islands_are_land():
    """The square's bank is at x = 500; the island's at 100."""
    x = np.array([499.0, 504.9, 505.1, 0.0, 96.0, 94.0, 1e6, np.inf])
    land = on_land(x, np.zeros(8), island_lake(), 5.0)
    assert land.tolist() == [False, False, True, True, False, True, True, True]


@settings(deadline=None, max_examples=30)
@given(st.lists(st.tuples(st.floats(-520, 520), st.floats(-520, 520)), min_size=1, max_size=30), st.floats(0, 30))
def test_land_is_what_is_farther_from_the_water(places, tolerance_m):
    """Against shapely's distance, a centimetre about the limit left open for the buffer's round corners."""
    from shapely import Point

    x, y = np.array(places).T
    land = on_land(x, y, island_lake(), tolerance_m)
    for is_land, place in zip(land, places, strict=True):
        distance_m = island_lake().distance(Point(place))
        if abs(distance_m - tolerance_m) > 0.01 + 0.02 * tolerance_m:
            assert bool(is_land) == (distance_m > tolerance_m)


def test_a_position_off_the_way_jumps_and_a_way_that_jumps_and_stays_does_not():
    """400 m in a second and back; 400 m in a second and on from there; a lone end."""
    way, file = np.arange(30) * 2.0, np.zeros(30, dtype=np.int16)
    time, off, moved, end = np.arange(30.0), way.copy(), way.copy(), way.copy()
    off[12] += 400
    moved[12:] += 400
    end[29] += 400
    zeros = np.zeros(30)
    assert np.flatnonzero(jumps(off, zeros, time, file, 30.0)).tolist() == [12]
    assert not jumps(moved, zeros, time, file, 30.0).any()
    assert np.flatnonzero(jumps(end, zeros, time, file, 30.0)).tolist() == [29]
    assert not jumps(off, zeros, np.full(30, np.nan), file, 30.0).any()
    assert not jumps(off, zeros, time, file, 500.0).any()


def test_two_boats_in_one_file_are_left_alone():
    """Every third fix from another boat: too many to be faults."""
    x, file = np.arange(30) * 2.0, np.zeros(30, dtype=np.int16)
    x[2::3] += 400
    assert not jumps(x, np.zeros(30), np.arange(30.0), file, 30.0).any()


def test_soundings_without_times_are_not_tested_for_jumps_and_that_is_said():
    """Ten without a time."""
    result = cleaned(*run_of([10.0] * 10, time_s=[np.nan] * 10))
    assert result.cleaning.skipped == ("10 soundings have no time, so their positions were not tested for jumps.",)


def test_a_survey_that_lies_elsewhere_is_asked_for_its_coordinate_system():
    """All on land."""
    soundings, x, y = run_of([10.0] * 10)
    result = cleaned(soundings, x + 5000, y)
    assert not result.used.any()
    assert "is soundings.crs right?" in result.problems[0].message


DEPTHS = st.sampled_from([3.0, 9.75, 10.0, 10.25, 12.0, 25.0])
ROWS = st.lists(
    st.tuples(DEPTHS, st.sampled_from([0.0, 0.0, 0.0, 300.0, 700.0]), st.booleans()), min_size=1, max_size=30
)


def made(rows):
    """Soundings from drawn rows: depth, a shift in place, and whether the row before stands again."""
    x = np.arange(len(rows)) * 2.0 + [shift for _, shift, _ in rows]
    depth, time = np.array([depth for depth, _, _ in rows]), np.arange(len(rows), dtype=float)
    for place, (_, _, again) in enumerate(rows[1:], start=1):
        if again:
            x[place], depth[place], time[place] = x[place - 1], depth[place - 1], time[place - 1]
    return run_of(depth, x, time_s=time)


def part(soundings, used):
    names = ("lon_deg", "lat_deg", "depth_m", "time_s", "line", "file", "row")
    return replace(soundings, **{name: getattr(soundings, name)[used] for name in names})


@settings(deadline=None)
@given(ROWS)
def test_cleaning_what_is_clean_changes_nothing(rows):
    """And what is read is what is kept and what is counted."""
    soundings, x, y = made(rows)
    once = cleaned(soundings, x, y)
    assert once.cleaning.read == once.cleaning.kept + sum(once.cleaning.counts.values())
    assert len(once.left_out.row) == sum(once.cleaning.counts.values())
    again = cleaned(part(soundings, once.used), x[once.used], y[once.used])
    assert again.used.all()
