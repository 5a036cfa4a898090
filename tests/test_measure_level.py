"""Stage and reduction to the datum."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.measure.level import reduce_soundings, reduce_to_datum, stage_at
from atlasgen.model import StageRecord
from atlasgen.units import FOOT_M

DAY_S = 86_400.0
# 2026-06-01, -11 and -21 at noon UTC.
FIRST_S = 1_780_315_200.0
RECORD = StageRecord(FIRST_S + np.array([0, 10, 20]) * DAY_S, np.array([0.0, -1.0, -1.2]), "stage.csv")
metres = st.floats(-50, 400)


def test_stage_is_linear_between_two_readings():
    """Half way between full and a metre down the lake is half a metre down, and both readings are named."""
    stage, how = stage_at(RECORD, FIRST_S + 5 * DAY_S)
    assert pytest.approx(-0.5) == stage
    assert how == "between the readings of 2026-06-01 and 2026-06-11 in stage.csv"


def test_stage_at_a_reading_is_that_reading():
    """At both ends and in the middle the reading itself is given."""
    assert stage_at(RECORD, FIRST_S) == (0.0, "read on 2026-06-01 in stage.csv")
    assert stage_at(RECORD, FIRST_S + 10 * DAY_S) == (-1.0, "read on 2026-06-11 in stage.csv")
    assert stage_at(RECORD, FIRST_S + 20 * DAY_S) == (-1.2, "read on 2026-06-21 in stage.csv")


@pytest.mark.parametrize("time_s", [FIRST_S - 1, FIRST_S + 20 * DAY_S + 1])
def test_stage_is_never_carried_beyond_the_record(time_s):
    """A second before the first or after the last reading the level is unknown, and it says so."""
    stage, how = stage_at(RECORD, time_s)
    assert stage is None
    assert how == "outside stage.csv, which runs from 2026-06-01 to 2026-06-21: the level is unknown"


def test_stage_without_record_or_time_is_unknown_and_says_which():
    """The two reasons are told apart; a record without readings is no record."""
    assert stage_at(None, FIRST_S) == (None, "no stage record: the level is unknown")
    assert stage_at(StageRecord(np.array([]), np.array([])), FIRST_S) == (None, "no stage record: the level is unknown")
    assert stage_at(RECORD, float("nan")) == (None, "no time: the level is unknown")


def test_stages_of_many_times():
    """An array gives an array, NaN where unknown, and how many are known."""
    stages, how = stage_at(RECORD, FIRST_S + np.array([-1, 5, np.nan, 20]) * DAY_S)
    np.testing.assert_allclose(stages, [np.nan, -0.5, np.nan, -1.2])
    assert how == "level known for 2 of 4 times"


def test_reduction_agrees_with_the_lake_erie_bulletin():
    """USACE Detroit levels bulletin, January 2009: Erie 19 in above its Low Water Datum of 569.2 ft (IGLD 1985).

    A sounding of 12.0 ft on that day is charted as 10.417 ft, its bed at 558.783 ft.
    """
    stage_ft = 19 / 12
    assert pytest.approx(570.783, abs=1e-3) == 569.2 + stage_ft
    charted_ft = reduce_to_datum(12.0 * FOOT_M, stage_ft * FOOT_M) / FOOT_M
    assert pytest.approx(10.417, abs=1e-3) == charted_ft
    assert pytest.approx(558.783, abs=1e-3) == 569.2 - charted_ft
    # The same datum in metres, as published: 173.5 m.
    assert pytest.approx(173.5, abs=0.05) == 569.2 * FOOT_M


def test_a_drawn_down_lake_is_deeper_at_full():
    """Sounded 3.3 m under the surface with the lake 1.2 m down: 4.5 m below full supply level."""
    assert pytest.approx(4.5) == reduce_to_datum(3.3, -1.2)


@given(depth=metres, stage=metres, datum=metres)
def test_charted_depth_leads_back_to_the_bed(depth, stage, datum):
    """Bed = water surface - depth, and charted depth = datum - bed, whatever the level."""
    bed = (datum + stage) - depth
    assert pytest.approx(datum - bed, abs=1e-9) == reduce_to_datum(depth, stage)


def test_soundings_within_the_record_are_reduced_and_the_others_left_out():
    """One sounding reduced, one without a time, one from before the record: two have no depth, and are counted."""
    times = FIRST_S + np.array([10, np.nan, -3]) * DAY_S
    result = reduce_soundings(np.array([2.0, 3.0, 4.0]), times, RECORD)
    np.testing.assert_allclose(result.depth_m, [3.0, np.nan, np.nan])
    assert result.reduced
    assert result.counts == {"no_time": 1, "outside_record": 1, "reduced": 1, "unreduced": 0}
    assert result.how == (
        "1 sounding reduced to the datum by stage.csv; 1 without a time left out of depth; "
        "1 outside the record left out of depth"
    )


def test_without_a_record_depths_stay_below_the_days_water_surface():
    """Every sounding is kept as it is and flagged."""
    result = reduce_soundings(np.array([2.0, 3.0]), np.array([FIRST_S, np.nan]), None)
    np.testing.assert_allclose(result.depth_m, [2.0, 3.0])
    assert not result.reduced
    assert result.counts == {"no_time": 1, "outside_record": 0, "reduced": 0, "unreduced": 2}
    assert result.how.endswith("whose level is unknown: there is no stage record")


@pytest.mark.parametrize(
    ("times", "why"),
    [
        ([np.nan, np.nan], "the soundings have no times to look up in the stage record"),
        ([FIRST_S - DAY_S, FIRST_S - DAY_S], "the stage record covers none of the soundings"),
    ],
)
def test_a_record_that_fits_no_sounding_leaves_all_unreduced(times, why):
    """Nothing is thrown away when not one can be reduced, and the reason is told."""
    result = reduce_soundings(np.array([2.0, 3.0]), np.array(times), RECORD)
    np.testing.assert_allclose(result.depth_m, [2.0, 3.0])
    assert (result.reduced, result.counts["unreduced"]) == (False, 2)
    assert result.how.endswith(why)
