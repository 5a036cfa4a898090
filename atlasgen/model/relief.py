"""What the bed does off each reach, and the humps, ridges, holes, channels and ledges of the whole model."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from atlasgen.model.common import LonLat, PointM

if TYPE_CHECKING:
    from shapely import Polygon

ReliefKind = Literal["hump", "ridge", "hole", "channel", "ledge"]
Confidence = Literal["good", "fair", "poor"]
SlopeWord = Literal["nearly flat", "gentle", "moderate", "steep", "very steep"]

# Fall per metre out below which each word holds: 1 in 20, 1 in 10, 1 in 5, 1 in 2 (2.9, 5.7, 11.3, 26.6 degrees). The
# limits are ours; "very steep" has none.
SLOPE_LIMITS: tuple[tuple[SlopeWord, float], ...] = (
    ("nearly flat", 0.05),
    ("gentle", 0.1),
    ("moderate", 0.2),
    ("steep", 0.5),
)
STEEPEST: SlopeWord = "very steep"


@dataclass(frozen=True, slots=True)
class ProfilePoint:
    """One station of a profile; depth below datum, None where it is not known.

    `bound_m`: the depth is within this of the truth in 95 of 100 cells like it; None where none is stated.
    `shallowest_m` and `deepest_m`: over all the profiles that were run off this reach at this distance.
    """

    distance_m: float
    depth_m: float | None
    bound_m: float | None = None
    shallowest_m: float | None = None
    deepest_m: float | None = None


@dataclass(frozen=True, slots=True)
class Break:
    """The steepest stretch of a profile: `from_m` to `to_m` from the bank, `top_m` and `foot_m` deep.

    `distance_m` and `depth_m` are its middle, `slope` its fall per metre out.
    """

    distance_m: float
    depth_m: float
    slope: float
    from_m: float
    to_m: float
    top_m: float
    foot_m: float
    word: SlopeWord


@dataclass(frozen=True, slots=True)
class DepthReached:
    """How far off the bank a depth is first reached; None where the profile does not reach it as far as it is known."""

    depth_m: float
    distance_m: float | None


@dataclass(frozen=True, slots=True)
class ReachProfile:
    """The bottom off a reach from the bank outward, square to it.

    `points` is the profile most like the others of `rays`; it starts at `start`, on the bank, and runs `bearing_deg`.
    It ends at `far_bank_m`, None where the far bank is farther than the profile was run. Depths nearer to the bank than
    `sounded_from_m` are a straight line to the bank, which is at zero. `slope` is the fall per metre over the first
    `slope_over_m`, `slope_word` its name, both None where that depth is not known.
    """

    reach: str
    rays: int
    start: PointM
    bearing_deg: float
    points: tuple[ProfilePoint, ...]
    stations: tuple[ProfilePoint, ...]
    reached: tuple[DepthReached, ...]
    steepest: Break | None
    slope: float | None
    slope_over_m: float
    slope_word: SlopeWord | None
    sounded_from_m: float | None
    far_bank_m: float | None


@dataclass(frozen=True, slots=True)
class ReliefFeature:
    """A hump, ridge, hole, channel or ledge of the bed.

    `point` is its shallowest place (hole and channel: the deepest; ledge: the middle). `least_depth_m` and
    `greatest_depth_m` are those of `outline`; of a ledge its top and its foot. `height_m` is the rise above the mean of
    the bed around (below it, for holes and channels), for a ledge the drop; `bound_m` the 95 % bound of the depth at
    `point`, `noise_m` the rise that errors alone could make there. `length_m` is the longer side; `bearing_deg`, 0 to
    180, the way it runs, None for what is about as long as wide. `soundings` counts the sounded cells within.
    """

    id: str
    kind: ReliefKind
    point: PointM
    at: LonLat
    least_depth_m: float
    greatest_depth_m: float
    height_m: float
    area_m2: float
    length_m: float
    width_m: float
    bearing_deg: float | None
    soundings: int
    bound_m: float | None
    noise_m: float
    confidence: Confidence
    outline: Polygon


@dataclass(frozen=True, slots=True)
class ReliefNear:
    """A feature within reach of a stretch of bank: metres from the bank to its nearest edge and to its `point`.

    `bearing_deg` points from the nearest place on the bank to the feature's `point`.
    """

    feature: str
    edge_m: float
    distance_m: float
    bearing_deg: float
