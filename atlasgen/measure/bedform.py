"""The bed's form for the whole survey: profiles off every reach, the relief, and what of it lies off which reach."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from atlasgen.measure.profiles import reach_profiles
from atlasgen.measure.relief import BOUNDS, LEAST_SOUNDED, SCALES_M, find_relief
from atlasgen.measure.relief_near import relief_of_reaches
from atlasgen.model import DepthGrid, MeasureRules, Placed
from atlasgen.model.relief import ReachProfile, ReliefFeature, ReliefNear
from atlasgen.model.wording import say
from atlasgen.place.geo import Projection
from atlasgen.units import DEPTH_UNIT_M, listing


@dataclass(frozen=True, slots=True)
class BedForm:
    """Profiles and near features by reach id, features in the order of the shore, and how they were found, in words."""

    profiles: Mapping[str, ReachProfile | None]
    relief: tuple[ReliefFeature, ...] = ()
    near: Mapping[str, tuple[ReliefNear, ...]] = field(default_factory=dict)
    methods: tuple[str, ...] = ()


def survey_bedform(
    x: np.ndarray,
    y: np.ndarray,
    placed: Placed,
    grid: DepthGrid | None,
    rules: MeasureRules,
    line: np.ndarray | None = None,
) -> BedForm:
    """Work out the bed's form from a depth model and the soundings behind it (`find_relief`); empty without a model."""
    if grid is None:
        return BedForm(dict.fromkeys(reach.id for reach in placed.reaches))
    projection = Projection(placed.crs_metric)
    depths_m = [depth * DEPTH_UNIT_M[rules.depth_unit] for depth in rules.profile_depths]
    profiles = reach_profiles(placed.reaches, placed.water, grid, projection, depths_m)
    relief = find_relief(grid, x, y, placed.reaches, projection, line)
    near = relief_of_reaches(relief, placed.reaches, placed.water, projection, rules.relief_within_m)
    return BedForm(profiles, relief, near, _methods(grid))


def _methods(grid: DepthGrid) -> tuple[str, ...]:
    rings = [say("measure-ring", inner=inner, outer=outer) for inner, outer in SCALES_M]
    bound = "no" if grid.bound_m is None else "yes"
    relief = say("measure-relief", bound=bound, rings=listing(rings), times=BOUNDS, cells=LEAST_SOUNDED)
    return (say("measure-profiles", bound=bound), relief)
