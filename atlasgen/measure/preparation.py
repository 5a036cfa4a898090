"""The soundings made ready: cleaned, reduced to the datum, and compared where their lines cross."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from shapely import MultiPolygon

from atlasgen.measure.cleaning import Cleaned, clean, cleaning_words, with_left_out
from atlasgen.measure.crossings import find_crossings
from atlasgen.measure.reduction import reduce_depths
from atlasgen.model import Problem, Soundings, StageRecord
from atlasgen.model.quality import Cleaning, Crossings, LeftOut, ReductionStep, SoundingRules
from atlasgen.model.wording import say
from atlasgen.place.geo import Projection


@dataclass(frozen=True, slots=True)
class Prepared:
    """The soundings that are used, metric, below datum (NaN where one has no level), and what became of the others.

    `soundings` are those as recorded, None where none were supplied; `words` are sentences for the method note.
    """

    soundings: Soundings | None
    x_m: np.ndarray
    y_m: np.ndarray
    depth_m: np.ndarray
    line: np.ndarray
    reduced: bool = False
    reduction: tuple[ReductionStep, ...] = ()
    cleaning: Cleaning | None = None
    crossings: Crossings | None = None
    left_out: LeftOut | None = None
    problems: tuple[Problem, ...] = ()
    words: tuple[str, ...] = ()

    @property
    def told(self) -> dict[str, Any]:
        """What `Known` says of it, by the names of its fields."""
        return {
            "reduction": self.reduction,
            "cleaning": self.cleaning,
            "crossings": self.crossings,
            "soundings_left_out": self.left_out,
        }

    @property
    def used(self) -> np.ndarray:
        """Mask of the soundings that give a depth."""
        return np.isfinite(self.depth_m)


def prepare_soundings(
    soundings: Soundings | None,
    record: StageRecord | None,
    water: MultiPolygon,
    projection: Projection,
    rules: SoundingRules,
) -> Prepared:
    """Clean, reduce and compare, in this order; `water` is metric."""
    if soundings is None or not len(soundings.depth_m):
        none = np.empty(0)
        return Prepared(soundings, none, none, none, none.astype(int), words=(say("measure-no-soundings"),))
    x_m, y_m = projection.points(soundings.lon_deg, soundings.lat_deg)
    cleaned = clean(soundings, x_m, y_m, water, rules)
    used, x_m, y_m = _only(soundings, cleaned.used), x_m[cleaned.used], y_m[cleaned.used]
    reduced = reduce_depths(used, record, rules)
    crossings = find_crossings(x_m, y_m, reduced.depth_m, used.time_s, used.line, rules.told_in)
    return Prepared(
        soundings=used,
        x_m=x_m,
        y_m=y_m,
        depth_m=reduced.depth_m,
        line=used.line,
        reduced=reduced.reduced,
        reduction=reduced.steps,
        cleaning=cleaned.cleaning,
        crossings=crossings,
        left_out=_left_out(replace(used, left_out=cleaned.left_out), reduced.depth_m),
        problems=cleaned.problems,
        words=_words(cleaned, reduced.steps, crossings),
    )


def _left_out(soundings: Soundings, depth_m: np.ndarray) -> LeftOut | None:
    """Add those that no level of their day brings to the datum to the list of what cleaning has left out."""
    lost = np.isnan(depth_m)
    if not lost.any():
        return soundings.left_out
    return with_left_out(soundings, lost.astype(int), (say("measure-reason-no-level"),))


def _only(soundings: Soundings, used: np.ndarray) -> Soundings:
    arrays = {
        name: values[used]
        for name in ("lon_deg", "lat_deg", "depth_m", "time_s", "line", "file", "row")
        if (values := getattr(soundings, name)) is not None
    }
    return replace(soundings, **arrays)


def _words(cleaned: Cleaned, steps: tuple[ReductionStep, ...], crossings: Crossings) -> tuple[str, ...]:
    if not cleaned.cleaning.kept:
        return (cleaning_words(cleaned.cleaning), say("measure-no-depth"))
    return (cleaning_words(cleaned.cleaning), *(step.words for step in steps), *crossings.words)
