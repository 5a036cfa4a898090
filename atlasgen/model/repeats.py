"""Repeat photographs: two photos of one bank from nearly the same place, on different days or at different levels."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple


@dataclass(frozen=True, slots=True)
class RepeatRules:
    """When two photos count as the same view again; all limits are ours.

    The stations, heights included where both are known, stand no farther apart than `apart_share` of the distance to
    the bank that both show (from there the bank turns by less than 9 degrees), `least_apart_m` being always near enough
    and `most_apart_m` never. The cameras look within `turn_deg` of one direction. What both show is at least
    `shared_share` of the shore that either shows. The levels differ by `level_m`, or the days by `days`.
    """

    apart_share: float = 0.15
    least_apart_m: float = 5.0
    most_apart_m: float = 30.0
    turn_deg: float = 20.0
    shared_share: float = 0.5
    level_m: float = 0.1
    days: int = 14


@dataclass(frozen=True, slots=True)
class RepeatPair:
    """Two photos that show one bank again, by id, the earlier first.

    `apart_m` lies between the stations on the map, `turn_deg` between the directions, `shared_m` is the shore that both
    show and `shared_share` its part of the longer of the two, `level_m` how much higher the water stood on the later
    (negative: it had fallen; None: not known for both), `days` the calendar days between (UTC).
    """

    earlier: str
    later: str
    apart_m: float
    turn_deg: float
    shared_m: float
    shared_share: float
    level_m: float | None
    days: int

    def other(self, photo: str) -> str:
        """Return the other photo of the pair."""
        return self.later if photo == self.earlier else self.earlier


class FormerRepeat(NamedTuple):
    """A photo, and one of the edition before that shows its bank from nearly the same place.

    `page` and `number` are those of that edition, `stage_m` is the level then, None where it is not known.
    """

    photo: str
    edition: str
    page: int
    number: int
    taken: datetime
    apart_m: float
    turn_deg: float
    stage_m: float | None
