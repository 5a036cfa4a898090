"""Draught, sound speed and stage together; the sums are done by hand.

Depth = draught + way of the sound x true speed / the sounder's speed: USACE EM 1110-2-1003, chapter 9.
"""

from __future__ import annotations

import numpy as np
import pytest

from atlasgen.measure.reduction import reduce_depths
from atlasgen.model import Soundings, StageRecord
from atlasgen.model.quality import SoundingRules

RECORD = StageRecord(np.array([0.0, 100.0]), np.array([-1.0, -2.0]), "stage.csv")


def soundings(depth_m, time_s=50.0, **more):
    count = len(depth_m)
    zeros = np.zeros(count)
    return Soundings(zeros, zeros, np.array(depth_m), np.full(count, time_s), zeros.astype(int), ("a.csv",), **more)


def steps(reduced):
    return {step.name: step.applied for step in reduced.steps}


def words(reduced):
    return " ".join(step.words for step in reduced.steps)


def test_all_three_steps_together():
    """15 m at 10 °C and 1500 m/s is 14.473 m, with 0.5 m of draught 14.973 m, with a stage of -1.5 m 16.473 m."""
    rules = SoundingRules(draught_m=0.5, water_temperature_c=10.0)
    reduced = reduce_depths(soundings([15.0]), RECORD, rules)
    assert pytest.approx(reduced.depth_m.tolist(), abs=5e-4) == [16.473]
    assert steps(reduced) == {"draught": True, "sound speed": True, "stage": True}
    for said in ("draught of 0.5 m was added", "multiplied by 0.9649", "10 °C", "1447.3 m/s", "takes 1500 m/s"):
        assert said in words(reduced)


def test_depths_from_the_surface_hold_the_draught_already():
    """15.5 m shown, 0.5 m of it draught: 14.973 m, and nothing is added."""
    rules = SoundingRules(draught_m=0.5, depths_from="surface", water_temperature_c=10.0)
    reduced = reduce_depths(soundings([15.5]), None, rules)
    assert pytest.approx(reduced.depth_m.tolist(), abs=5e-4) == [14.973]
    assert steps(reduced) == {"draught": False, "sound speed": True, "stage": False}
    assert "count from the water's surface" in words(reduced)


def test_a_log_that_states_its_draught_is_not_given_it_twice():
    """Of two files one has 0.4 m in its depths; the other lacks the 0.5 m of the settings."""
    two = soundings([10.4, 10.0], file=np.array([0, 1]), draught_in_m=(0.4, 0.0))
    two = Soundings(two.lon_deg, two.lat_deg, two.depth_m, two.time_s, two.line, ("a.log", "b.csv"), {}, two.file, None,
                    two.draught_in_m)  # fmt: skip
    reduced = reduce_depths(two, None, SoundingRules(draught_m=0.5))
    assert pytest.approx(reduced.depth_m.tolist()) == [10.4, 10.5]
    assert "a.log (0.4 m)" in words(reduced)
    warm = reduce_depths(two, None, SoundingRules(draught_m=0.5, water_temperature_c=10.0))
    assert pytest.approx(warm.depth_m.tolist(), abs=5e-4) == [0.4 + 9.6486, 0.5 + 9.6486]


@pytest.mark.parametrize(
    ("step", "depth_m", "said"),
    [
        ("draught", 15.973, "draught of 0.5 m was not added: switched off"),
        ("sound speed", 17.0, "not corrected for the speed of sound: switched off"),
        ("stage", 14.973, "Depths are below the water surface of the survey day: reduction by stage is switched off"),
    ],
)
def test_every_step_can_be_switched_off_and_that_is_said(step, depth_m, said):
    """The others are taken all the same."""
    rest = tuple(name for name in ("draught", "sound speed", "stage") if name != step)
    reduced = reduce_depths(
        soundings([15.0]), RECORD, SoundingRules(draught_m=0.5, water_temperature_c=10.0, reduce=rest)
    )
    assert [depth_m] == pytest.approx(reduced.depth_m.tolist(), abs=5e-4)
    assert steps(reduced) == {"draught": True, "sound speed": True, "stage": True} | {step: False}
    assert said in words(reduced)


def test_what_is_not_stated_is_not_done_and_that_is_said():
    """No draught, no temperature, no record: the depth as recorded."""
    reduced = reduce_depths(soundings([15.0]), None, SoundingRules())
    assert (reduced.depth_m.tolist(), reduced.reduced) == ([15.0], False)
    for said in ("survey.toml states none", "the water's temperature is not stated", "there is no stage record"):
        assert said in words(reduced)


def test_a_level_is_not_carried_beyond_the_record():
    """At 150 s the record has ended: no depth, and that is said."""
    both = soundings([15.0, 15.0])
    late = Soundings(both.lon_deg, both.lat_deg, both.depth_m, np.array([50.0, 150.0]), both.line, both.files)
    reduced = reduce_depths(late, RECORD, SoundingRules())
    assert [16.5, np.nan] == pytest.approx(reduced.depth_m.tolist(), nan_ok=True)
    assert "1 outside the record left out of depth" in words(reduced)
