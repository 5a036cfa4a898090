"""A depth profile in words, for those who cannot see the drawing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

import numpy as np

from atlasgen.model.relief import Break
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
    said = [f"{depth_words(known[i][1], depth_unit)} at {_distance(known[i][0], distance_unit)}" for i in chosen]
    parts = [f"Depth off the bank: {', '.join(said)}."]
    # A gap no wider than the spacing of the depths themselves, at the bank, is not worth a word.
    gaps = [(a, b) for a, b in unknown_stretches(points, runs) if a > 0 or b > typical_step(points)]
    parts += [f"Not known from {_distance(a, distance_unit)} to {_distance(b, distance_unit)}." for a, b in gaps]
    parts += _break_said(steepest, break_sought, depth_unit, distance_unit)
    parts += _bound_said({out: bounds[out] for out, _ in known if out in bounds}, depth_unit, distance_unit)
    if stage_m is not None:
        parts.append(f"The {stage_name} was {level_words(stage_m, depth_unit)}.")
    return " ".join(parts)


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
    top, foot = depth_words(steepest.top_m, depth_unit), depth_words(steepest.foot_m, depth_unit)
    near, far = distance_words(steepest.from_m, distance_unit), distance_words(steepest.to_m, distance_unit)
    return (
        f"from {top} down to {foot} between {near} and {far} from the bank, {steepest.word}, {one_in(steepest.slope)}"
    )


def one_in(slope: float) -> str:
    """Return a fall per metre as `1 in 8`: whole numbers from 1 in 3 on, halves below."""
    run = 1 / slope
    return f"1 in {run:.0f}" if run >= 3 else f"1 in {round(run * 2) / 2:g}"


def _break_said(steepest: Break | None, sought: bool, depth_unit: DepthUnit, distance_unit: DistanceUnit) -> list[str]:
    if steepest is not None:
        return [f"Steepest break: {break_words(steepest, depth_unit, distance_unit)}."]
    return ["No marked break."] if sought else []


def _bound_said(bounds: Mapping[float, float], depth_unit: DepthUnit, distance_unit: DistanceUnit) -> list[str]:
    if not bounds:
        return []
    usual, at = float(np.median(list(bounds.values()))), max(bounds, key=lambda out: bounds[out])
    words = f"95 in 100 such depths are within {rise_words(usual, depth_unit)} of the truth"
    if rise_words(bounds[at], depth_unit) == rise_words(usual, depth_unit):
        return [f"{words}."]
    return [f"{words}; the worst here, at {_distance(at, distance_unit)}, within {rise_words(bounds[at], depth_unit)}."]


def _distance(distance_m: float, unit: DistanceUnit) -> str:
    return "the bank" if distance_m == 0 else distance_words(distance_m, unit)
