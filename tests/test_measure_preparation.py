"""Cleaning, reduction and crossings in one go on a square lake."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from lakes import projection, square_lake

from atlasgen.measure.preparation import prepare_soundings
from atlasgen.model import Soundings, StageRecord
from atlasgen.model.quality import SoundingRules

RECORD = StageRecord(np.array([0.0, 1e6]), np.array([-1.0, -1.0]), "stage.csv")


def soundings(shift_m=0.0):
    """Six runs east, six north, 20 m apart, 10 m of water; one fish; no two runs at one time."""
    along = np.arange(0.0, 120.0, 2.0)
    x = np.concatenate([*[along] * 6, *[np.full(60, 11.0 + 20 * i) for i in range(6)]]) + shift_m
    y = np.concatenate([*[np.full(60, 9.0 + 20 * i) for i in range(6)], *[along] * 6])
    depth = np.full(len(x), 10.0)
    depth[130] = 4.0
    line = np.repeat(np.arange(12), 60)
    lon, lat = projection().lonlats(x, y)
    time = np.arange(len(x)) + line * 600.0
    row = np.arange(len(x)) + 2
    return Soundings(lon, lat, depth, time, line, ("a.csv",), {}, np.zeros(len(x), np.int16), row, (0.0,))


def prepared(given, **rules):
    return prepare_soundings(given, RECORD, square_lake(), projection(), SoundingRules(draught_m=0.3, **rules))


def test_the_soundings_used_are_clean_and_below_datum():
    """10 m + 0.3 m of draught + 1 m of drawdown; the fish is gone and listed; 36 crossings agree."""
    result = prepared(soundings())
    assert np.allclose(result.depth_m, 11.3)
    assert (len(result.x_m), len(result.line), len(result.soundings.depth_m)) == (719, 719, 719)
    assert result.left_out.row.tolist() == [132]
    assert (result.crossings.count, pytest.approx(result.crossings.rms_m, abs=1e-9)) == (36, 0.0)
    assert [step.applied for step in result.reduction] == [True, False, True]
    said = " ".join(result.words)
    for words in ("719 are used", "on the line (1)", "0.3 m was added", "temperature is not stated", "(36 times)"):
        assert words in said


def test_what_no_level_brings_to_the_datum_is_listed_too():
    """The record ends after the first line of sixty: with the fish on the third, 660 are listed with their reason."""
    short = replace(RECORD, time_s=np.array([-1.0, 100.0]), stage_m=np.array([-1.0, -1.0]))
    result = prepare_soundings(soundings(), short, square_lake(), projection(), SoundingRules(draught_m=0.3))
    assert int(result.used.sum()) == 60
    reasons = [result.left_out.reasons[number] for number in result.left_out.reason]
    assert reasons.count("no water level is known for its time") == 659
    assert (len(reasons), result.left_out.row.tolist()) == (660, list(range(62, 722)))


def test_a_fish_that_is_kept_shows_where_lines_cross():
    """Without the test for spikes its two steps are in the crossings or not, but it is among the depths."""
    assert pytest.approx(prepared(soundings(), clean=()).depth_m.min()) == 5.3


def test_no_soundings_and_none_that_can_be_used_are_said():
    """None supplied; all on land."""
    assert prepared(None).words == ("No soundings were supplied.",)
    away = prepared(soundings(shift_m=3000.0))
    assert (len(away.depth_m), away.words[-1]) == (0, "So no depth is stated anywhere.")
