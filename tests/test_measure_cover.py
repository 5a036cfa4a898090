"""Set cover against sets that can be done by hand, and against every choice there is."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.measure.cover import cover, least_sets, whole_bound


def sets_of(*members):
    return [np.array(sorted(m), int) for m in members]


def fewest(sets):
    """Return the least number of sets by trying every choice."""
    everything = set().union(*(set(s.tolist()) for s in sets))
    for size in range(len(sets) + 1):
        if any(set().union(*(set(s.tolist()) for s in some)) >= everything for some in combinations(sets, size)):
            return size
    raise AssertionError


def test_one_set_that_holds_all_is_enough():
    """The whole beats its parts."""
    assert cover(sets_of({0, 1}, {2, 3}, {0, 1, 2, 3}), np.ones(4)) == [2]


def test_what_greed_takes_first_is_dropped_where_others_hold_it():
    """Greed takes the middle set of four, then both ends, which make the middle needless."""
    sets = sets_of({0, 1, 2, 3}, {0, 1, 4}, {2, 3, 5})
    assert cover(sets, np.ones(6)) == [1, 2]


def test_three_that_greed_takes_are_exchanged_for_two():
    """The textbook trap: rows of 2 and 4 things lure greed away from the two rows that hold all."""
    top, bottom = {0, 1, 2, 3, 4, 5, 6}, {7, 8, 9, 10, 11, 12, 13}
    lure = ({0, 1, 2, 3, 7, 8, 9, 10}, {4, 5, 11, 12}, {6, 13})
    assert cover(sets_of(top, bottom, *lure), np.ones(14)) == [0, 1]


def test_things_without_weight_need_not_be_held():
    """Shore that is already seen costs no station."""
    assert cover(sets_of({0}, {1}), np.array([3.0, 0.0])) == [0]


def test_nothing_to_hold_needs_nothing():
    """No sets, or empty sets, give an empty choice and a bound of 0."""
    assert (cover([], np.ones(3)), least_sets([], 3)) == ([], 0.0)
    assert (cover(sets_of(set()), np.ones(3)), least_sets(sets_of(set()), 3)) == ([], 0.0)


def test_the_bound_of_an_odd_ring_is_one_and_a_half():
    """Three things, three sets of two: each set half, 1.5 in all (a standard example of the relaxation's gap)."""
    bound = least_sets(sets_of({0, 1}, {1, 2}, {2, 0}), 3)
    assert (pytest.approx(1.5), 2) == (bound, whole_bound(bound))


@given(st.lists(st.sets(st.integers(0, 11), min_size=1, max_size=6), min_size=1, max_size=9))
def test_the_choice_holds_all_and_lies_between_bound_and_greed(members):
    """Checked against every choice: bound <= best <= chosen, and all is held."""
    sets = sets_of(*members)
    chosen = cover(sets, np.ones(12))
    best = fewest(sets)
    assert set().union(*members) == set().union(*(set(sets[number].tolist()) for number in chosen))
    assert whole_bound(least_sets(sets, 12)) <= best <= len(chosen)


@given(st.lists(st.sets(st.integers(0, 11), min_size=1, max_size=6), min_size=1, max_size=9))
def test_no_chosen_set_is_needless(members):
    """Without any one of the chosen, something is held by none."""
    sets = sets_of(*members)
    chosen = cover(sets, np.ones(12))
    for number in chosen:
        others = set().union(*(set(sets[n].tolist()) for n in chosen if n != number))
        assert not set(sets[number].tolist()) <= others
