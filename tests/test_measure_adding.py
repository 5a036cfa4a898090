"""Numbers that are printed and add up."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from atlasgen.measure.adding import percents, shared_out, whole_cm


def test_whole_centimetres():
    """12.346 m is 1235 cm."""
    assert whole_cm(12.346) == 1235


def test_largest_remainders_by_hand():
    """Ten seats for 47, 16, 16, 21 votes: due are 4.7, 1.6, 1.6, 2.1; the two left go to .7 and the first .6."""
    assert shared_out(10, {"a": 47, "b": 16, "c": 16, "d": 21}) == {"a": 5, "b": 2, "c": 1, "d": 2}


def test_thirds_are_a_hundred_percent():
    """The odd tenth goes to the first."""
    assert percents({"a": 1, "b": 1, "c": 1}) == {"a": 33.4, "b": 33.3, "c": 33.3}


def test_nothing_is_no_percent():
    """No weight, no share."""
    assert percents({"a": 0, "b": 0}) == {"a": 0.0, "b": 0.0}


@given(st.integers(0, 10**6), st.lists(st.floats(0, 1e6), min_size=1, max_size=6).filter(any))
def test_shares_add_up_and_are_within_one_of_their_due(parts, weights):
    """Nothing is lost, nothing is off by a whole part."""
    found = shared_out(parts, dict(enumerate(weights)))
    assert parts == sum(found.values())
    for key, weight in enumerate(weights):
        assert abs(found[key] - weight * parts / sum(weights)) < 1 + 1e-6
