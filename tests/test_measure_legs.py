"""Survey lines told apart in what the boat logged."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.measure.legs import folds_of, survey_lines


def lawn(lines: int, spacing_m: float = 40.0, length_m: float = 300.0, step_m: float = 2.0) -> np.ndarray:
    """Make a track up and down `lines` lines, turns logged as well, as one log without a pause; (n, 2)."""
    corners = [(k * spacing_m, length_m * ((k + end) % 2)) for k in range(lines) for end in (0, 1)]
    corners = np.array(corners, dtype=float)
    legs = [a + (b - a) * np.arange(0, 1, step_m / np.hypot(*(b - a)))[:, None] for a, b in pairwise(corners)]
    return np.vstack(legs)


def test_a_log_without_a_pause_holds_its_lines():
    """Six lines up and down; each turn goes with the line before it, but for the sounding at the very corner."""
    x, y = lawn(6).T
    number = survey_lines(x, y, np.zeros(len(x)))
    assert number[-1] == 5
    assert (np.diff(number) >= 0).all()
    middles = [np.median(number[(np.abs(x - 40 * k) < 1) & (y > 50) & (y < 250)]) for k in range(6)]
    assert middles == [0, 1, 2, 3, 4, 5]


def test_runs_of_the_log_are_never_joined():
    """Two runs in one straight line stay two."""
    x, line = np.arange(0, 200.0, 2), np.repeat([7, 3], 50)
    number = survey_lines(x, np.zeros(100), line)
    assert number.tolist() == [0] * 50 + [1] * 50


def test_a_boat_that_wanders_holds_its_line():
    """Ten metres to either side, slowly, is no turn."""
    x = np.arange(0, 600.0, 2)
    assert (survey_lines(x, 10 * np.sin(x / 60), np.zeros(x.size)) == 0).all()


def test_scattered_soundings_are_lines_of_their_own():
    """A lead dropped here and there: no line holds many soundings."""
    x, y = np.random.default_rng(3).uniform(0, 1000, (2, 200))
    number = survey_lines(x, y, np.zeros(200))
    assert np.bincount(number).max() <= 12
    assert number[-1] >= 50


def test_no_soundings_no_lines():
    """Nothing in, nothing out; one sounding is a line."""
    none = np.empty(0)
    assert survey_lines(none, none, none).tolist() == []
    assert survey_lines(np.array([1.0]), np.array([1.0]), np.array([0])).tolist() == [0]


def test_a_boat_at_anchor_is_one_line():
    """The same place a hundred times."""
    assert (survey_lines(np.full(100, 5.0), np.full(100, 5.0), np.zeros(100)) == 0).all()


@given(st.lists(st.integers(0, 30), min_size=1, max_size=60), st.integers(2, 8))
def test_lines_are_dealt_out_in_turn(lines, most):
    """Neighbouring lines are in different groups, groups differ by one line at most, no line is split."""
    fold = folds_of(np.array(sorted(lines)), most)
    each = [int(fold[np.array(sorted(lines)) == one][0]) for one in sorted(set(lines))]
    assert each == [k % most for k in range(len(each))]
    assert all(len(set(fold[np.array(sorted(lines)) == one])) == 1 for one in set(lines))
