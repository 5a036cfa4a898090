"""A depth profile in words, for those who cannot see the drawing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

import numpy as np

from atlasgen.model.relief import Break, SlopeWord
from atlasgen.model.wording import say
from atlasgen.units import DepthUnit, DistanceUnit, depth_words, distance_words, level_words, rise_words

Profile = tuple[tuple[float, float | None], ...]

_MOST_SAID = 7  # depths named


def profile_alt(
    points: Profile,
    runs: Sequence[Any],
    stage_m: float | None,
    depth_unit: DepthUnit,
    distance_unit: DistanceUnit,
    stage_name: str,
    bounds: Mapping[float, float],
    steepest: Break | None,
    break_sought: bool,
) -> str:
    """Depths by distance in words, what is not known, the break, the bound, and the water level."""
    known = [(x, depth_m) for x, depth_m in points if depth_m is not None]
    chosen = sorted({round(i) for i in np.linspace(0, len(known) - 1, min(_MOST_SAID, len(known)))})
    said = [_depth_at(known[i], depth_unit, distance_unit) for i in chosen]
    parts = [say("profile-depths", depths=", ".join(said))]
    # A gap no wider than the spacing of the depths themselves, at the bank, is not worth a word.
    gaps = [(a, b) for a, b in unknown_stretches(points, runs) if a > 0 or b > typical_step(points)]
    parts += [_unknown(a, b, distance_unit) for a, b in gaps]
    parts += _break_said(steepest, break_sought, depth_unit, distance_unit)
    parts += _bound_said({out: bounds[out] for out, _ in known if out in bounds}, depth_unit, distance_unit)
    if stage_m is not None:
        parts.append(say("profile-level", name=stage_name, level=level_words(stage_m, depth_unit)))
    return " ".join(parts)


def _depth_at(point: tuple[float, float], depth_unit: DepthUnit, distance_unit: DistanceUnit) -> str:
    out_m, depth_m = point
    depth = depth_words(depth_m, depth_unit)
    if out_m == 0:
        return say("profile-depth-at-bank", depth=depth)
    return say("profile-depth-at", depth=depth, distance=distance_words(out_m, distance_unit))


def _unknown(from_m: float, to_m: float, unit: DistanceUnit) -> str:
    far = distance_words(to_m, unit)
    if from_m == 0:
        return say("profile-unknown-from-bank", far=far)
    return say("profile-unknown", near=distance_words(from_m, unit), far=far)


def unknown_stretches(points: Profile, runs: Sequence[Any]) -> list[tuple[float, float]]:
    """From bank to the first depth, between runs, and from the last depth to the end, metres."""
    edges = [(run[0][0], run[-1][0]) for run in runs]
    starts = [0.0, *(end for _, end in edges)]
    ends = [*(start for start, _ in edges), points[-1][0]]
    return [(a, b) for a, b in zip(starts, ends, strict=True) if b > a]


def typical_step(points: Profile) -> float:
    """Return the usual spacing of a profile's points, metres."""
    return float(np.median([b[0] - a[0] for a, b in pairwise(points)])) if len(points) > 1 else 0.0


def break_words(steepest: Break, depth_unit: DepthUnit, distance_unit: DistanceUnit) -> str:
    """`from 5 ft down to 12 ft between 30 m and 38 m from the bank, steep, 1 in 3`."""
    return say(
        "profile-break",
        top=depth_words(steepest.top_m, depth_unit),
        foot=depth_words(steepest.foot_m, depth_unit),
        near=distance_words(steepest.from_m, distance_unit),
        far=distance_words(steepest.to_m, distance_unit),
        slope=slope_name(steepest.word),
        fall=one_in(steepest.slope),
    )


def slope_name(word: SlopeWord) -> str:
    """Return the word for a slope as it is read: `nearly flat`."""
    return say("words-slope-name", slope=word.replace(" ", "-"))


def one_in(slope: float) -> str:
    """Return a fall per metre as `1 in 8`: whole numbers from 1 in 3 on, halves below."""
    run = 1 / slope
    return say("words-slope-one-in", run=round(run) if run >= 3 else round(run * 2) / 2)


def _break_said(steepest: Break | None, sought: bool, depth_unit: DepthUnit, distance_unit: DistanceUnit) -> list[str]:
    if steepest is not None:
        return [say("profile-steepest", words=break_words(steepest, depth_unit, distance_unit))]
    return [say("profile-no-break")] if sought else []


def _bound_said(bounds: Mapping[float, float], depth_unit: DepthUnit, distance_unit: DistanceUnit) -> list[str]:
    if not bounds:
        return []
    usual, at = float(np.median(list(bounds.values()))), max(bounds, key=lambda out: bounds[out])
    usual_words, worst = rise_words(usual, depth_unit), rise_words(bounds[at], depth_unit)
    if worst == usual_words:
        return [say("profile-bound", usual=usual_words)]
    if at == 0:
        return [say("profile-bound-worst-at-bank", usual=usual_words, worst=worst)]
    return [say("profile-bound-worst", usual=usual_words, worst=worst, distance=distance_words(at, distance_unit))]
