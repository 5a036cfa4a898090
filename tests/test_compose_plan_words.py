"""A plan in words."""

from __future__ import annotations

from dataclasses import replace

import pytest
from sample_plan import hand_plan, hand_run, hand_station

from atlasgen.compose.plan_words import (
    is_high,
    left_words,
    minutes_words,
    plan_cautions,
    proposal,
    reckoning_words,
    run_words,
    station_words,
)
from atlasgen.model import PointM


def test_the_first_caution_says_what_the_plan_is_not():
    """No flight clearance, and who decides."""
    first = plan_cautions(hand_plan())[0]
    assert first.startswith(proposal())
    assert "licence" in first
    assert "local law" in first


def test_cautions_name_people_boats_birds_and_homes():
    """The usual ones are there in every plan."""
    words = " ".join(plan_cautions(hand_plan()))
    for who in ("people", "boats", "birds", "private homes", "no trees, wires, masts or hills", "battery"):
        assert who in words


@pytest.mark.parametrize(("height_m", "high"), [(120.0, False), (120.1, True), (121.92, True)])
def test_heights_above_120_m_are_flagged(height_m, high):
    """120 m: Commission Implementing Regulation (EU) 2019/947, UAS.OPEN.010; 400 ft (121.92 m): 14 CFR 107.51(b)."""
    assert is_high(hand_station(1, 1, PointM(0, 0), height_m=height_m), hand_plan().rules) is high


def test_stations_above_the_limit_are_named_with_the_limit():
    """Six by name, the rest by number."""
    plan = hand_plan(runs=(hand_run(1, 9, height_m=130.0),), beyond=())
    expected = (
        "Stations R1-01, R1-02, R1-03, R1-04, R1-05, R1-06 and 3 more are above 120 m (the commonly published limit is "
        "120 m or 400 ft above ground): check the local rule before you fly there."
    )
    assert plan_cautions(plan)[1] == expected


def test_a_lower_limit_of_the_crew_is_the_one_that_is_named():
    """100 m in the settings: stations at 110 m are flagged against 100 m."""
    rules = replace(hand_plan().rules, max_height_m=100.0)
    plan = hand_plan(rules=rules, runs=(hand_run(1, 1, height_m=110.0),), beyond=())
    assert plan_cautions(plan)[1].startswith("Station R1-01 is above 100 m (the commonly published limit is 120 m")


def test_without_high_stations_the_local_rule_is_still_to_be_checked():
    """The local rule may be lower."""
    assert "the local rule may be lower: check it" in plan_cautions(hand_plan())[1]


def test_a_station_in_words():
    """Height, heading, camera and what it shows, in either unit."""
    station = hand_station(1, 1, PointM(0, 0))
    rules = hand_plan().rules
    assert station_words(station, rules, "metric") == (
        "40 m above the water, heading 068° true (east-north-east), camera 20° below level; "
        "shows 80 m of missing shore from 90 m."
    )
    assert station_words(station, rules, "imperial").startswith("131 ft above the water")


def test_a_run_in_words():
    """514 s of a 1500 s battery are 34 %, and 9 min begun."""
    assert run_words(hand_run(1, 3), hand_plan(), "metric") == (
        "3 stations, 1.2 km of straight legs, 80 m of it over land, about 9 min, 34% of a battery; "
        "farthest from the slipway 600 m."
    )


def test_minutes_are_rounded_up():
    """A flight never takes less than it says."""
    assert [minutes_words(s) for s in (60, 60.1, 119, 0)] == ["1 min", "2 min", "2 min", "0 min"]


def test_what_is_left_is_summed_by_reason():
    """One reason, 120 m, one stretch."""
    assert left_words(hand_plan(), "metric") == (("hidden by land from every station tried", "120 m", "1"),)


def test_the_reckoning_names_speed_camera_and_margin():
    """What a crew must know to tell whether the plan fits their craft."""
    words = " ".join(reckoning_words(hand_plan().rules, "metric"))
    for fact in (
        "8 m/s",
        "15 s at each station",
        "25 min",
        "30%",
        "71.6° by 56.8°",
        "10 cm",
        "20°",
        "4 m out of place",
    ):
        assert fact in words
