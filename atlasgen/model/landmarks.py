"""What the crew marks by name: ramps, ways to the water, parking, hazards, places."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from atlasgen.model.common import LonLat, PointM, Problem

LandmarkKind = Literal["hazard", "ramp", "access", "parking", "place", "other"]
# In the order a reader needs them: what can hurt comes first.
LANDMARK_KINDS: tuple[LandmarkKind, ...] = get_args(LandmarkKind)


@dataclass(frozen=True, slots=True)
class LandmarkRow:
    """One row of the crew's landmarks as read; `row` is the line of the file, or the number of the point in it.

    `problems` are told only if the landmark is published: they repeat words of the row.
    """

    file: str
    row: int
    lonlat: LonLat
    kind: LandmarkKind
    name: str = ""
    words: str = ""
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class Landmark:
    """A landmark and the shore that it lies nearest to; `point` is metric, `chainage_m` along the ring of `reach`."""

    id: str
    kind: LandmarkKind
    name: str
    words: str
    lonlat: LonLat
    point: PointM
    reach: str
    chainage_m: float
    distance_to_shore_m: float
    over_water: bool
    tile: str
