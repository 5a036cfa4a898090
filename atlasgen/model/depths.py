"""How well the depth model is known, and how much water the lake holds at each level."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class DepthBound:
    """The 95 % bound of a depth: `base_m + d * per_m + relief * (per_relief_m + d * per_relief_per_m)`.

    `d` is the distance to the nearest sounding or bank, metres; `relief` the mean fall per metre of the bed within
    `relief_within_m`. It was fitted to `held_out` soundings of `lines` lines, left out in turn; `inside` is the share
    of them that lay within the bound fitted to the others. `supported_interval_m` is the depth line interval that half
    of the model's cells support.
    """

    base_m: float
    per_m: float
    per_relief_m: float
    per_relief_per_m: float
    relief_within_m: float
    lines: int
    held_out: int
    inside: float
    median_m: float | None = None
    supported_interval_m: float | None = None


@dataclass(frozen=True, slots=True)
class StageWater:
    """The lake at one stage: `stage_m` above the datum (negative when drawn down), water area and volume below it."""

    stage_m: float
    area_m2: float
    volume_m3: float


@dataclass(frozen=True, slots=True)
class Hypsometry:
    """Area and volume against stage, from the datum downwards, of the water whose depth is known.

    `lake_m2` is the water at full supply level; `modelled_m2` + `unmodelled_m2` make it up, and no volume is stated
    for the latter. `volume_m3` is the sum of frusta between the rows, `trapezoid_m3` the same by mean areas.
    `shoreline_development` is the shore's length over that of a circle of the lake's area.
    """

    rows: tuple[StageWater, ...]
    lake_m2: float
    modelled_m2: float
    unmodelled_m2: float
    volume_m3: float
    trapezoid_m3: float
    mean_depth_m: float
    deepest_m: float
    shoreline_m: float
    shoreline_development: float
