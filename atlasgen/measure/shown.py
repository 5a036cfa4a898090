"""Everything that is known of depth, told for another level of the water than the datum.

Depths are modelled, bounded and searched for relief at the datum, where the shoreline is the water's edge; only what is
told is then counted from the level shown. So nothing of their honesty changes with it. Ground that the level leaves dry
has a negative depth and is an area of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

import numpy as np
from shapely import MultiPolygon

from atlasgen.measure.depth_model import drawn_lines
from atlasgen.measure.drying import at_stage, dry_and_wet
from atlasgen.measure.profiles import first_reached
from atlasgen.model import Known, MeasureRules, Problem, ReachDepth, StageRecord
from atlasgen.model.relief import Break, ProfilePoint, ReachProfile, ReliefFeature
from atlasgen.model.wording import say
from atlasgen.units import level_words


def at_shown_stage(
    known: Known,
    water: MultiPolygon,
    rests_on: Callable[[], np.ndarray],
    record: StageRecord | None,
    tied: bool,
    rules: MeasureRules,
) -> Known:
    """Return what is known with every depth below the water at `rules.shown_stage_m`; unchanged at the datum.

    Parameters
    ----------
    rests_on
        Gives the soundings that the model rests on, (n, 3): x, y and depth below the datum.
    record
        What the water did in the survey's time, to say when the level shown is outside of it.
    tied
        Whether the depths are below the datum; else no other level can be shown, and that is told.
    """
    stage_m = rules.shown_stage_m
    if stage_m == 0 or known.grid is None:
        return known
    if not tied:
        words = say("measure-fault-level")
        return replace(known, problems=(*known.problems, Problem("level", "no_stage", words)))
    grid = at_stage(known.grid, stage_m)
    dry, wet = dry_and_wet(known.grid, water, stage_m)
    isobaths, bands = drawn_lines(grid, wet, rests_on() + np.array([0.0, 0.0, stage_m]), rules)
    return replace(
        known,
        grid=grid,
        grid_at_datum=known.grid,
        dry=dry,
        shown_stage_m=stage_m,
        isobaths=isobaths,
        bands=bands,
        reach_depth={reach: depth and _depth(depth, stage_m) for reach, depth in known.reach_depth.items()},
        profiles={reach: profile and _profile(profile, stage_m) for reach, profile in known.profiles.items()},
        relief=tuple(_feature(feature, stage_m) for feature in known.relief),
        methods=(*known.methods, _words(stage_m, record, rules)),
    )


def _words(stage_m: float, record: StageRecord | None, rules: MeasureRules) -> str:
    words = say("measure-shown", level=level_words(stage_m, rules.depth_unit))
    if record is not None and float(record.stage_m.min()) <= stage_m <= float(record.stage_m.max()):
        return words
    return say("measure-shown-low" if stage_m < 0 else "measure-shown-high", words=words)


def _moved(values: Any, names: tuple[str, ...], stage_m: float) -> dict[str, Any]:
    """Return the named depths of a value, those that are known, below the water of the stage."""
    told: Mapping[str, float | None] = {name: getattr(values, name) for name in names}
    return {name: depth_m + stage_m for name, depth_m in told.items() if depth_m is not None}


def _depth(depth: ReachDepth, stage_m: float) -> ReachDepth:
    profile = tuple((out_m, None if deep_m is None else deep_m + stage_m) for out_m, deep_m in depth.profile_m)
    return replace(depth, profile_m=profile, **_moved(depth, ("shallowest_m", "median_m", "deepest_m"), stage_m))


def _point(point: ProfilePoint, stage_m: float) -> ProfilePoint:
    return replace(point, **_moved(point, ("depth_m", "shallowest_m", "deepest_m"), stage_m))


def _profile(profile: ReachProfile, stage_m: float) -> ReachProfile:
    points = tuple(_point(point, stage_m) for point in profile.points)
    return replace(
        profile,
        points=points,
        stations=tuple(_point(point, stage_m) for point in profile.stations),
        reached=tuple(replace(r, distance_m=first_reached(points, r.depth_m)) for r in profile.reached),
        steepest=profile.steepest and _break(profile.steepest, stage_m),
    )


def _break(steepest: Break, stage_m: float) -> Break:
    return replace(steepest, **_moved(steepest, ("depth_m", "top_m", "foot_m"), stage_m))


def _feature(feature: ReliefFeature, stage_m: float) -> ReliefFeature:
    return replace(feature, **_moved(feature, ("least_depth_m", "greatest_depth_m"), stage_m))
