"""The plan as a whole: it accounts for every missing metre, keeps its bars, and tells what is left."""

from __future__ import annotations

import importlib.util
import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from conftest import CHECKOUT
from lakes import island_lake, projection, square_lake
from sample_plan import index_of

from atlasgen.measure.fieldplan import field_plan
from atlasgen.measure.runs import run_length_m, run_time_s
from atlasgen.measure.stations import missing_pieces, seer, within_limits
from atlasgen.model import PointM
from atlasgen.model.fieldplan import Aim, PlanRules, ShoreSpan
from atlasgen.model.views import ViewRules

# A corner of the square, half of its east bank, and all of the island's ring of 800 m but a bit.
MISSING = (ShoreSpan("S", 900.0, 1100.0), ShoreSpan("S", 1300.0, 1800.0), ShoreSpan("A", 50.0, 800.0))
RULES = PlanRules(launch=PointM(-500, 0), launch_name="the slipway", standoffs_m=(50.0, 120.0))


def benchmark():
    """Load benchmarks/field_plan.py, which draws the lakes and prints the whole table."""
    spec = importlib.util.spec_from_file_location("field_plan_benchmark", CHECKOUT / "benchmarks" / "field_plan.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


BENCH = benchmark()


@pytest.fixture(scope="module")
def island():
    return index_of(island_lake())


@pytest.fixture(scope="module")
def plan(island):
    return field_plan(MISSING, island, island_lake(), projection(), RULES)


def test_missing_is_claimed_or_left_and_nothing_else(plan):
    """Claimed and left add up to what is missing, 1450 m."""
    left_m = sum(left.span.length_m for left in plan.left)
    assert plan.missing_m == pytest.approx(1450)
    assert plan.claimed_m + left_m == pytest.approx(1450)


def test_what_stations_are_first_to_show_adds_up_to_the_claim(plan):
    """Counted station by station and run by run, every metre once."""
    assert plan.claimed_m == pytest.approx(sum(station.new_m for station in plan.stations))
    assert plan.claimed_m == pytest.approx(sum(run.shows_m for run in plan.runs))
    assert all(0 < station.new_m <= station.shows_m + 1e-9 for station in plan.stations)


def test_every_station_shows_what_it_claims_within_the_limits(plan, island):
    """Asked of the audit's own reckoning, without margins, from the rounded pose that the crew is given."""
    see = seer(island, ViewRules())
    for station in plan.stations:
        seen = see(BENCH.station_camera(station, island, RULES))
        fine, square = within_limits(seen, RULES)
        claimed = np.flatnonzero(missing_pieces(station.shows, island))
        assert set(claimed.tolist()) <= set(seen.piece[fine & square].tolist())


def test_runs_are_numbered_timed_and_measured_as_flown(plan):
    """Length and time by the legs themselves; stations count from 1 in each run."""
    assert [run.number for run in plan.runs] == list(range(1, len(plan.runs) + 1))
    for run in plan.runs:
        places = [station.at for station in run.stations]
        way = [RULES.launch, *places, RULES.launch]
        assert run.length_m == pytest.approx(sum(math.dist(a, b) for a, b in pairwise(way)))
        assert run.length_m == pytest.approx(run_length_m(places, RULES.launch))
        assert run.time_s == run_time_s(run.length_m, len(places), RULES)
        assert [station.number for station in run.stations] == list(range(1, len(places) + 1))
        assert 0 <= run.over_land_m < run.length_m


def test_a_leg_over_an_island_is_told(island):
    """From the west bank to one station beyond the island: 200 m of it out, and 200 m back, slightly aslant."""
    east_of_island = (ShoreSpan("S", 1450.0, 1550.0),)
    rules = replace(RULES, skews_deg=(0.0,))
    (run,) = field_plan(east_of_island, island, island_lake(), projection(), rules).runs
    assert (len(run.stations), run.over_land_m) == (1, pytest.approx(400, abs=0.1))


def test_what_only_a_second_battery_reaches_is_told_and_in_no_run(island):
    """With 85 s of flight, 340 m from the launch, the far bank's stations are named as beyond and their shore left."""
    rules = replace(RULES, battery_s=160 / 0.7)
    plan = field_plan(MISSING, island, island_lake(), projection(), rules)
    assert plan.beyond
    assert {station.run for station in plan.beyond} == {0}
    assert "shown only from stations farther than one battery reaches from the launch point and back" in {
        left.why for left in plan.left
    }
    assert plan.beyond[0].name == "B-01"
    for station in plan.stations:
        assert math.dist(station.at, rules.launch) <= 340 + 1e-6


def test_nothing_missing_is_nothing_to_fly(island):
    """An empty plan, not an error."""
    plan = field_plan((), island, island_lake(), projection(), RULES)
    assert (plan.runs, plan.left, plan.missing_m, plan.lower_bound) == ((), (), 0.0, 0)


def test_headings_are_true(plan, island):
    """Turned from the map's north by the convergence at the station, as the shore index has it."""
    for station in plan.stations:
        camera = BENCH.station_camera(station, island, RULES)
        north = float(island.north_deg([station.at])[0])
        assert (camera.heading_deg + north - station.heading_deg_true + 180) % 360 - 180 == pytest.approx(0, abs=1e-9)


def test_the_same_survey_gives_the_same_plan(plan, island):
    """No chance in it."""
    assert plan == field_plan(MISSING, island, island_lake(), projection(), RULES)


def test_a_rehearsal_with_large_errors_closes_less(plan, island):
    """Off by ten sigmas of heading: the plan does not close what it claims, so the rehearsal can fail."""
    loose = replace(plan, rules=replace(RULES, heading_sigma_deg=30.0))
    assert sum(BENCH.rehearse(loose, island, seer(island, ViewRules()), 3)) / 3 < 0.95


def test_a_square_lake_needs_no_more_stations_than_its_bound_by_hand():
    """One open bank of 200 m at 120 m off: a frame counted at 57° spans 130 m of it, so two stations, and no fewer."""
    square = index_of(square_lake())
    rules = replace(RULES, aims=(Aim(40, -20),), standoffs_m=(120.0,), skews_deg=(0.0,))
    plan = field_plan((ShoreSpan("S", 400.0, 600.0),), square, square_lake(), projection(), rules)
    assert (len(plan.stations), plan.lower_bound, plan.left) == (2, 2, ())


@pytest.mark.parametrize("seed", [3, 4])
def test_bars_on_generated_lakes(seed):
    """At most 1.3 stations for each of the proven bound, and 95 % of the claim closed in simulated flights."""
    water = BENCH.lake(seed)
    shore = BENCH.index_of(water)
    plan = BENCH.plan_for(water, shore, BENCH.missing_spans(shore, seed))
    shares = BENCH.rehearse(plan, shore, seer(shore, ViewRules()), 5)
    assert plan.claimed_m > 500
    assert len(plan.stations) <= BENCH.RATIO_BAR * plan.lower_bound
    assert sum(shares) / len(shares) >= BENCH.CLOSED_BAR
