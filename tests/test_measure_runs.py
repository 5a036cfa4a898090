"""Runs that can be drawn by hand, and small ones against every order there is."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.measure.runs import order_runs, run_length_m, run_time_s, within_reach
from atlasgen.model import PointM
from atlasgen.model.fieldplan import PlanRules

# 600 s of use at 10 m/s, 10 s a station, nothing for the climb.
RULES = PlanRules(
    launch=PointM(0, 0), speed_mps=10, seconds_per_station=10, climb_s=0, battery_s=800, reserve_share=0.25
)
places = st.lists(
    st.tuples(st.floats(-2000, 2000), st.floats(-2000, 2000)).map(lambda xy: PointM(*xy)), min_size=1, max_size=12
)


def shortest(stations):
    return min(run_length_m(order, RULES.launch) for order in permutations(stations))


def test_the_time_of_a_run_is_climb_way_and_stops():
    """1000 m at 8 m/s is 125 s, 4 stops of 15 s are 60 s, the climb 60 s."""
    assert run_time_s(1000, 4, PlanRules(launch=PointM(0, 0))) == 245.0


def test_a_square_is_flown_round_and_not_across():
    """Four corners of a square in a crossed order: the way home is the square's edge."""
    stations = [PointM(100, 0), PointM(0, 100), PointM(100, 100)]
    (run,) = order_runs(stations, RULES)
    assert pytest.approx(run_length_m([stations[n] for n in run], RULES.launch)) == 400.0


def test_stations_on_either_side_make_two_runs_where_one_is_too_long():
    """2500 m east and west: 5000 m take 500 s each, together 1000 s, more than a battery's 600 s."""
    stations = [PointM(2500, 0), PointM(-2500, 0), PointM(2400, 0), PointM(-2400, 0)]
    runs = order_runs(stations, RULES)
    assert {frozenset({0, 2}), frozenset({1, 3})} == {frozenset(run) for run in runs}


def test_a_run_holds_no_more_stations_than_its_page():
    """Five stations on one spot, two a run: three runs."""
    runs = order_runs([PointM(10, 0)] * 5, replace(RULES, most_stations=2))
    assert sorted(len(run) for run in runs) == [1, 2, 2]


def test_a_station_at_the_limit_is_within_reach_and_one_beyond_is_not():
    """590 s of flight and 10 s of stop are 600 s: 2950 m out and back."""
    assert within_reach(PointM(2950, 0), RULES)
    assert not within_reach(PointM(2951, 0), RULES)


def test_a_station_beyond_reach_is_refused_and_named():
    """It is never dropped in silence."""
    with pytest.raises(ValueError, match=r"station 1 at .* is beyond one battery of 600 s"):
        order_runs([PointM(10, 0), PointM(9000, 0)], RULES)


def test_no_stations_make_no_runs():
    """Nothing to fly."""
    assert order_runs([], RULES) == ()


@given(places)
def test_every_station_is_in_one_run_and_every_run_fits(stations):
    """Each number once; each run within the battery less its reserve."""
    runs = order_runs(stations, RULES)
    assert list(range(len(stations))) == sorted(number for run in runs for number in run)
    for run in runs:
        length_m = run_length_m([stations[number] for number in run], RULES.launch)
        assert run_time_s(length_m, len(run), RULES) <= RULES.usable_s + 1e-6


@given(st.lists(places.map(lambda found: found[0]), min_size=1, max_size=6))
def test_a_small_run_is_near_the_shortest_of_all_orders(stations):
    """Against every order: at most a tenth longer (2-opt ends in a local best)."""
    near = [PointM(p.x_m / 5, p.y_m / 5) for p in stations]
    runs = order_runs(near, RULES)
    assert len(runs) == 1
    assert run_length_m([near[n] for n in runs[0]], RULES.launch) <= 1.1 * shortest(near) + 1e-6


@given(places)
def test_the_same_stations_give_the_same_runs(stations):
    """No chance in it."""
    assert order_runs(stations, RULES) == order_runs(list(stations), RULES)
