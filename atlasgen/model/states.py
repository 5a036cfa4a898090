"""The audit metre by metre: how well each piece of shoreline is photographed, and what adds up from that."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Literal, NamedTuple, Protocol, get_args

if TYPE_CHECKING:
    import numpy as np
    from shapely import LineString

ShoreState = Literal["well", "poorly", "near", "none", "cannot"]
Limit = Literal["gsd", "angle", "age"]
# Arrays hold a state as its place in this tuple: best first, and `cannot` apart.
SHORE_STATES: tuple[ShoreState, ...] = get_args(ShoreState)
# Arrays hold the limits that failed as a sum of powers of two: bit 0 is the first of these.
LIMITS: tuple[Limit, ...] = get_args(Limit)


@dataclass(frozen=True, slots=True)
class AuditRules:
    """When a photo shows a bank well: it must keep all three limits at once. The defaults are ours.

    `gsd_limit_cm` 10: a rock or stump of 0.8 m is then 8 pixels wide, about what it takes to tell what a thing is
    (Johnson's criteria of 1958, from memory). `angle_limit_deg` 20, in space between line of sight and bank (90 is
    square on or straight down, negative is from behind at a low height): nearer to the run
    of the bank, its length is drawn together to a third (sin 20 is 0.34). `age_limit_days` 730: two seasons of
    growth, slips and new jetties. Age counts back from `reference`, by default the newest photo's time.
    """

    gsd_limit_cm: float = 10.0
    angle_limit_deg: float = 20.0
    age_limit_days: float = 730.0
    reference: datetime | None = None


class Pieces(Protocol):
    """The shoreline in short pieces, reading order: arrays of one length. The shore index is one of these.

    `ring` numbers `rings`, `reach` numbers the reaches; `from_m` and `to_m` are chainages of the ring, and the pieces
    of a ring follow each other without a gap.
    """

    @property
    def rings(self) -> tuple[str, ...]:
        """Ids of the rings."""

    @property
    def ring(self) -> np.ndarray:
        """Number of each piece's ring."""

    @property
    def reach(self) -> np.ndarray:
        """Number of each piece's reach."""

    @property
    def from_m(self) -> np.ndarray:
        """Chainage of each piece's start."""

    @property
    def to_m(self) -> np.ndarray:
        """Chainage of each piece's end."""


class Sightings(NamedTuple):
    """Every piece that every photo shows: arrays of one length, each pair of piece and photo at most once.

    `angle_deg` is as in `Stretch`: negative where the bank is seen from behind, over the land, at a low height.
    """

    piece: np.ndarray
    photo: np.ndarray
    gsd_cm: np.ndarray
    angle_deg: np.ndarray


class PhotoColumns(NamedTuple):
    """What the audit asks of each photo: time in seconds since 1970 UTC (NaN unknown), kind, number of its reach."""

    taken_s: np.ndarray
    aerial: np.ndarray
    reach: np.ndarray


@dataclass(frozen=True, slots=True)
class PieceStates:
    """The state of each piece: arrays of one length. `state` and `failed` as SHORE_STATES and LIMITS number them.

    `failed` is 0 unless the state is `poorly`; it is of the photo that fails fewest, then has the finest GSD.
    `photos` counts those that show the piece; `best_gsd_cm` and `newest_s` are over these, NaN where there is none.
    """

    state: np.ndarray
    failed: np.ndarray
    photos: np.ndarray
    best_gsd_cm: np.ndarray
    newest_s: np.ndarray


@dataclass(frozen=True, slots=True)
class ShoreStates:
    """The state of each piece by all photos, by aerial and by shore photos alone.

    `reason` numbers `reasons`, -1 where a piece can be photographed. `reference_s` is the time from which age counts,
    None where no photo has one.
    """

    all: PieceStates
    aerial: PieceStates
    shore: PieceStates
    reason: np.ndarray
    reasons: tuple[str, ...]
    rules: AuditRules
    reference_s: float | None


@dataclass(frozen=True, slots=True)
class StateStretch:
    """Neighbouring pieces of one ring in one state; one that runs over the ring's start is two of these.

    `failed` names the limits that the best photo breaks. `photos` counts the photos that show any of it,
    `best_gsd_cm` and `newest` are the best and the newest over its pieces, None where no photo shows it.
    """

    ring: str
    from_m: float
    to_m: float
    state: ShoreState
    failed: tuple[Limit, ...] = ()
    photos: int = 0
    best_gsd_cm: float | None = None
    newest: datetime | None = None
    reason: str = ""

    @property
    def length_m(self) -> float:
        """Length along the shore."""
        return self.to_m - self.from_m


@dataclass(frozen=True, slots=True)
class ReachStates:
    """A reach as its pieces make it: lengths by state that add up to its own, for all photos and for each kind.

    `state` is its one word: the best state that at least half of what can be photographed is in, or better; `cannot`
    where nothing can. `photos` counts those that show any of it.
    """

    reach: str
    state: ShoreState
    lengths_m: Mapping[ShoreState, float]
    aerial_m: Mapping[ShoreState, float]
    shore_m: Mapping[ShoreState, float]
    photos: int
    best_gsd_cm: float | None
    newest: datetime | None


@dataclass(frozen=True, slots=True)
class StateTotal:
    """Shore of a ring, of a tile or of the lake, by state, in whole centimetres that add up exactly.

    `percent` is of all of it and adds to 100.0.
    """

    name: str
    reaches: int
    length_m: float
    lengths_m: Mapping[ShoreState, float]
    percent: Mapping[ShoreState, float]


@dataclass(frozen=True, slots=True)
class StateTotals:
    """The totals by ring, by tile and for the lake, in the order of the shore; `rows_m` by reach id, to the cm."""

    rows_m: Mapping[str, Mapping[ShoreState, float]]
    by_ring: tuple[StateTotal, ...]
    by_tile: tuple[StateTotal, ...]
    total: StateTotal


@dataclass(frozen=True, slots=True)
class Gap:
    """A stretch of one ring without photos. Where it runs over the ring's start, `to_m` is less than `from_m`."""

    ring: str
    from_m: float
    to_m: float
    length_m: float
    reaches: tuple[str, ...]
    line: LineString


@dataclass(frozen=True, slots=True)
class ShoreAudit:
    """The audit: each piece of shoreline with its state, its reaches by id, stretches of one state, and totals."""

    shore: Pieces
    pieces: ShoreStates
    reaches: Mapping[str, ReachStates]
    stretches: tuple[StateStretch, ...]
    totals: StateTotals
