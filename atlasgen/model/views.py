"""What a photo shows: the water its frame covers, and the shoreline that is seen in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from atlasgen.model.common import pickled_plainly

if TYPE_CHECKING:
    import numpy as np
    from shapely import Polygon


@dataclass(frozen=True, slots=True)
class ViewRules:
    """How far a photo is believed, and how the land is taken to stand; all defaults are ours (`place.land` says why).

    `range_m`: views end here, however clear the day. Land without known elevations rises from the shoreline evenly to
    `bank_height_m` over the first `bank_rises_over_m`, then by `land_slope` (metres up for each metre inland) to
    `land_highest_m` at most. Where elevations are known, `growth_m` is what stands on the ground, reached over the
    same first metres. Land within `clear_of_camera_m` of the camera hides nothing. `draws`: how often a pose is drawn.
    """

    range_m: float = 3000.0
    bank_height_m: float = 6.0
    bank_rises_over_m: float = 25.0
    land_slope: float = 0.15
    land_highest_m: float = 60.0
    growth_m: float = 3.0
    clear_of_camera_m: float = 15.0
    draws: int = 17


@pickled_plainly
@dataclass(frozen=True, slots=True)
class Stretch:
    """A piece of one ring that a photo shows without a break; `from_m` is below `to_m`, chainages of the ring.

    A piece that runs over the ring's start is two stretches. `distance_m` is the least distance from the station on
    the map, `angle_deg` the mean angle in space between the line of sight and the run of the bank: 90 square on or
    straight down, 0 along the bank, negative where the bank is seen from behind, over the land, on a sight line that
    falls by less than 45° across it (`place.stretches.angle_to_bank_deg`). `gsd_cm`: centimetres a pixel across the
    line of sight, at best and in the middle of the stretch. `probability`: mean share of the draws in which its metres
    are in the frame.
    """

    ring: str
    from_m: float
    to_m: float
    distance_m: float
    angle_deg: float
    gsd_cm: float
    middle_gsd_cm: float
    probability: float

    @property
    def length_m(self) -> float:
        """Length along the shore."""
        return self.to_m - self.from_m


@pickled_plainly
@dataclass(frozen=True, slots=True)
class ReachSeen:
    """How much of a reach a photo shows: `share` of its length, 0 to 1; the rest as in `Stretch`."""

    reach: str
    share: float
    distance_m: float
    angle_deg: float
    gsd_cm: float
    probability: float


@pickled_plainly
@dataclass(frozen=True, slots=True)
class View:
    """What one photo covers and shows. Geometry is metric.

    `footprint` is the water plane within the frame, empty where the frame looks over it; where `includes_horizon`,
    it is cut at `range_m` from the station. `centre_gsd_cm` is at the middle of the frame, None if that misses the
    water within the range. `reaches` are in the order of the shore. `any_heading`: the direction is not known and the
    camera looks straight down, so only what is in the frame whichever way it was turned is counted.
    """

    photo: str
    footprint: Polygon
    includes_horizon: bool
    range_m: float
    centre_gsd_cm: float | None
    stretches: tuple[Stretch, ...]
    reaches: tuple[ReachSeen, ...]
    any_heading: bool = False

    @property
    def seen_m(self) -> float:
        """Length of shoreline seen."""
        return sum(stretch.length_m for stretch in self.stretches)


@dataclass(frozen=True, slots=True)
class Views:
    """Views by photo id, and for photos without one the reason in words."""

    views: Mapping[str, View] = field(default_factory=dict)
    without: Mapping[str, str] = field(default_factory=dict)


class SeenMetres(NamedTuple):
    """The shoreline seen in one photo, piece by piece: arrays of one length, for adding up over photos.

    `piece` numbers the pieces of the shore index, ascending; the others are as in `Stretch`, for each piece.
    """

    piece: np.ndarray
    distance_m: np.ndarray
    angle_deg: np.ndarray
    gsd_cm: np.ndarray
