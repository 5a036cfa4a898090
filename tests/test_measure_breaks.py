"""Breaks of profiles drawn by hand: a ledge is one, a slope is none, doubt hides what it explains."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.measure.breaks import slope_word, steepest_break

OUT = np.arange(0.0, 101.0)


def broken(depth_m, doubt_m=0.2, sounded_from_m=3.0):
    depth_m = np.asarray(depth_m, float)
    return steepest_break(OUT, depth_m, np.full(OUT.shape, doubt_m), sounded_from_m)


def ledge(from_m=30.0, to_m=40.0, drop_m=3.0):
    """1 in 50 out, and a ledge."""
    return OUT / 50 + drop_m * np.clip((OUT - from_m) / (to_m - from_m), 0, 1)


def test_a_ledge_is_found_where_it_is():
    """3 m within 10 m, from 30 m out: middle at 35 m, 2.2 m deep there, falling 0.32 m a metre."""
    found = broken(ledge())
    assert found.distance_m == pytest.approx(35, abs=0.5)
    assert found.depth_m == pytest.approx(2.2, abs=0.2)
    assert (found.from_m, found.to_m) == (pytest.approx(30, abs=1), pytest.approx(40, abs=1))
    assert found.slope == pytest.approx(0.32, abs=0.02)
    assert found.foot_m - found.top_m == pytest.approx(3.2, abs=0.4)
    assert found.word == "steep"


def test_what_the_doubt_explains_is_no_break():
    """Two depths good to 3 m each differ by 4.2 m for nothing."""
    assert broken(ledge(), doubt_m=3.0) is None
    assert broken(ledge(drop_m=0.2), doubt_m=0.2) is None


def test_even_and_flattening_slopes_have_no_break():
    """1 in 10 all the way, flat all the way, and a bank that falls at once and flattens out."""
    assert broken(OUT / 10) is None
    assert broken(np.full(101, 4.0)) is None
    assert broken(6 * (1 - np.exp(-OUT / 15))) is None


def test_the_straight_line_to_the_bank_is_no_break():
    """Depths come from soundings from 25 m out; the fall before that is drawn, not sounded."""
    depth = np.where(OUT < 25, OUT * 0.2, 5 + (OUT - 25) * 0.01)
    assert broken(depth, sounded_from_m=25.0) is None


def test_unknown_stretches_are_not_bridged():
    """The ledge itself is not known: nothing is said of it."""
    depth = ledge()
    depth[28:43] = np.nan
    assert broken(depth) is None
    assert broken(np.full(101, np.nan), sounded_from_m=np.nan) is None


@given(st.floats(0.0, 0.3), st.integers(0, 2**32 - 1))
def test_noise_within_the_doubt_makes_no_break(slope, seed):
    """Depths on an even slope that stay within their doubt of it: whatever the draw, no break."""
    wander = np.random.default_rng(seed).uniform(-0.2, 0.2, 101)
    assert broken(OUT * slope + wander, doubt_m=0.3) is None


@pytest.mark.parametrize(
    ("slope", "word"),
    [
        (0.0, "nearly flat"),
        (0.049, "nearly flat"),
        (0.05, "gentle"),
        (0.1, "moderate"),
        (0.2, "steep"),
        (0.5, "very steep"),
        (-0.3, "steep"),
    ],
)
def test_slopes_have_names(slope, word):
    """Limits at 1 in 20, 1 in 10, 1 in 5 and 1 in 2; ours."""
    assert slope_word(slope) == word
