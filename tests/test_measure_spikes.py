"""Spikes on beds that can be drawn by hand: a spike goes, a ledge, a hump and two that agree stay.

The floor of 0.5 m is the constant part of TVU for Orders 1a and 1b, IHO S-44 Ed 6.1.0 (2022), Table 1.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from atlasgen.measure.spikes import FLOOR_M, spikes

FLAT = [10.0] * 8


def found(depths, spacing_m=1.0, line=None):
    """Places of the spikes on a straight run along x."""
    z = np.array(depths, dtype=float)
    line = np.zeros(len(z), dtype=int) if line is None else np.asarray(line)
    return np.flatnonzero(spikes(np.arange(len(z)) * spacing_m, np.zeros(len(z)), z, line)).tolist()


@pytest.mark.parametrize("spike_m", [4.0, 20.4, 0.5, 99.0])
def test_a_lone_sounding_is_a_spike(spike_m):
    """A fish, a doubled echo, a number from nowhere."""
    assert found([*FLAT, spike_m, *FLAT]) == [8]


@pytest.mark.parametrize(
    "bed",
    [
        [4.0] * 8 + [10.0] * 8,  # a ledge: the step stays
        [4.0] * 6 + [6.0, 8.5] + [10.0] * 6,  # a slope of 2 m in 1 m
        [10.0] * 6 + [9.0, 7.0, 6.0, 7.0, 9.0] + [10.0] * 6,  # a hump
        [10.0, 10.0, 8.0, 6.0, 8.0, 10.0, 10.0, 10.0],  # a pinnacle with a flank on each side
        [*FLAT, 6.0, 6.2, *FLAT],  # two that agree
        [10.0, 12.0, 14.0, 16.0, 14.0, 12.0, 10.0, 8.0],  # a hole of steep sides
        [*FLAT, 10.5, *FLAT],  # no more than a good sounder may be off
        [4.0, *FLAT],  # the first of a run: a ledge may begin there
    ],
)
def test_a_feature_is_none(bed):
    """Real ledges, humps and holes lose nothing."""
    assert found(bed) == []


def test_a_spike_on_a_slope_and_one_at_the_foot_of_a_ledge_are_found():
    """Steady fall of 1 m a metre; a step of 6 m."""
    slope = np.arange(4.0, 20.0)
    assert found([*slope[:8], 30.0, *slope[8:]]) == [8]
    assert found([*[4.0] * 8, 10.0, 10.0, 22.0, *[10.0] * 6]) == [10]


def test_two_next_to_each_other_that_disagree_are_two_spikes():
    """A fish and a doubled echo."""
    assert found([*FLAT, 5.0, 40.0, *FLAT]) == [8, 9]


def test_where_soundings_are_far_apart_a_lone_rise_may_be_a_hump():
    """4 m of rise between neighbours 30 m away: 1 in 7.5. Between neighbours 1 m away nothing loose stands so."""
    assert found([*FLAT, 6.0, *FLAT], spacing_m=30.0) == []
    assert found([*FLAT, 6.0, *FLAT], spacing_m=1.0) == [8]


def test_a_rough_bed_is_not_shaved():
    """Boulders of a metre and more everywhere: a lone one of 2 m is nothing unusual."""
    rough = 10 + 1.3 * np.random.default_rng(7).standard_normal(200)
    rough[100] = 8.0
    assert 100 not in found(rough)


def test_a_sounding_of_another_run_bears_one_out():
    """The second run crosses 1 m beside the lone sounding and meets the same rock."""
    x = np.r_[np.arange(17.0), np.full(7, 8.0)]
    y = np.r_[np.zeros(17), np.arange(-3.0, 4.0) * 4 + 1]
    z = np.r_[np.full(8, 10.0), 6.0, np.full(8, 10.0), np.full(3, 10.0), 6.3, np.full(3, 10.0)]
    line = np.r_[np.zeros(17, int), np.ones(7, int)]
    assert not spikes(x, y, z, line).any()
    z[20] = 10.0
    assert np.flatnonzero(spikes(x, y, z, line)).tolist() == [8]


def test_runs_do_not_speak_for_each_other():
    """The last of a shallow run and the first of a deep one are neighbours in the file only."""
    assert found([*[4.0] * 6, *[10.0] * 6], line=[0] * 6 + [1] * 6) == []
    assert found([10.0, 10.0, 4.0, 10.0], line=[0] * 4) == []


RUN = st.lists(st.sampled_from([2.0, 5.25, 8.0, 8.25, 8.5, 9.0, 9.5, 14.0, 31.0]), min_size=1, max_size=40)
# The steps of depth are sums of powers of two, so that adding a whole number changes no difference by rounding.


@settings(deadline=None)
@given(RUN, st.integers(0, 60), st.floats(0.3, 20))
def test_another_level_of_the_lake_keeps_the_same_spikes(depths, rise_m, spacing_m):
    """Only differences of depth count."""
    assert found(depths, spacing_m) == found(np.array(depths) + rise_m, spacing_m)


@settings(deadline=None)
@given(RUN, st.floats(0.3, 20))
def test_what_is_clean_stays_clean(depths, spacing_m):
    """A second search over what is left finds nothing, at the places where the soundings were made."""
    x, z = np.arange(len(depths)) * spacing_m, np.array(depths)
    left = ~spikes(x, np.zeros(len(x)), z, np.zeros(len(x), int))
    assert not spikes(x[left], np.zeros(left.sum()), z[left], np.zeros(left.sum(), int)).any()


@settings(deadline=None)
@given(RUN, st.floats(0.3, 20))
def test_the_way_back_finds_the_same(depths, spacing_m):
    """A run read from its end has the same spikes."""
    back = [len(depths) - 1 - place for place in found(depths[::-1], spacing_m)]
    assert found(depths, spacing_m) == sorted(back)


@settings(deadline=None)
@given(st.lists(st.floats(-FLOOR_M / 2, FLOOR_M / 2), max_size=40))
def test_noise_within_the_allowance_loses_nothing(noise):
    """No difference is larger than the floor."""
    assert found(10 + np.array(noise)) == []


def test_no_soundings_are_no_spikes():
    """An empty survey."""
    assert found([]) == []
