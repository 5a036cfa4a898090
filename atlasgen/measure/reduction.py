"""From recorded depths to depths below the datum: draught, sound speed, stage, each of them told."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from atlasgen.measure.level import Reduction, reduce_soundings
from atlasgen.measure.sound import below_surface, sound_speed_mps
from atlasgen.model import Soundings, StageRecord
from atlasgen.model.quality import SOUND_SPEED, ReductionStep, SoundingRules
from atlasgen.model.wording import say
from atlasgen.units import number_words


class Reduced(NamedTuple):
    """Depths below datum (n,), NaN where a sounding has no level; `reduced` as in `level.Reduction`."""

    depth_m: np.ndarray
    reduced: bool
    steps: tuple[ReductionStep, ...]


def reduce_depths(soundings: Soundings, record: StageRecord | None, rules: SoundingRules) -> Reduced:
    """Take every step that is wanted and possible, and say of each what was done or why it was not."""
    inside_m, add_m, draught = _draught(soundings, rules)
    ratio, speed = _speed(rules)
    depth_m = below_surface(soundings.depth_m, inside_m, add_m, ratio)
    by_stage = _by_stage(depth_m, soundings.time_s, record, rules)
    words = f"{by_stage.how[0].upper()}{by_stage.how[1:]}."
    return Reduced(
        by_stage.depth_m, by_stage.reduced, (draught, speed, ReductionStep("stage", by_stage.reduced, words))
    )


def _by_stage(depth_m: np.ndarray, time_s: np.ndarray, record: StageRecord | None, rules: SoundingRules) -> Reduction:
    if "stage" not in rules.reduce:
        return Reduction(depth_m, False, {"reduced": 0, "unreduced": len(depth_m)}, say("measure-not-by-stage"))
    return reduce_soundings(depth_m, time_s, record)


def _draught(soundings: Soundings, rules: SoundingRules) -> tuple[np.ndarray, np.ndarray, ReductionStep]:
    """Return the draught that is in each recorded depth, what is to be added to it, and the step."""
    stated = _stated_by_files(soundings)
    if rules.depths_from == "surface":
        inside = np.where(stated > 0, stated, rules.draught_m)
        words = say("measure-draught-surface")
        return inside, np.zeros(len(inside)), ReductionStep("draught", False, words)
    wanted = "draught" in rules.reduce
    add = np.where(stated > 0, 0.0, rules.draught_m if wanted else 0.0)
    words = _draught_words(rules.draught_m, wanted, bool(add.any()))
    files = [(n, m) for n, m in zip(soundings.files, soundings.draught_in_m, strict=False) if m > 0]
    if files:
        logs = ", ".join(say("measure-draught-log", file=name, draught=draught_m) for name, draught_m in files)
        words = say("measure-draught-logs", words=words, logs=logs)
    return stated, add, ReductionStep("draught", bool(add.any() or files), words)


def _stated_by_files(soundings: Soundings) -> np.ndarray:
    if soundings.file is None or not soundings.draught_in_m:
        return np.zeros(len(soundings.depth_m))
    return np.array(soundings.draught_in_m)[soundings.file]


def _draught_words(draught_m: float, wanted: bool, added: bool) -> str:
    if added:
        return say("measure-draught-added", draught=draught_m)
    if not draught_m:
        return say("measure-draught-none")
    return say("measure-draught-not-lacking" if wanted else "measure-draught-off", draught=draught_m)


def _speed(rules: SoundingRules) -> tuple[float, ReductionStep]:
    if SOUND_SPEED not in rules.reduce:
        return 1.0, ReductionStep(SOUND_SPEED, False, say("measure-sound-off"))
    if rules.water_temperature_c is None:
        return 1.0, ReductionStep(SOUND_SPEED, False, say("measure-sound-unknown"))
    speed_mps = sound_speed_mps(rules.water_temperature_c)
    ratio = speed_mps / rules.sounder_speed_mps
    words = say(
        "measure-sound",
        ratio=number_words(ratio, 4),
        temperature=rules.water_temperature_c,
        speed=number_words(speed_mps, 1),
        sounder=rules.sounder_speed_mps,
    )
    return ratio, ReductionStep(SOUND_SPEED, True, words)
