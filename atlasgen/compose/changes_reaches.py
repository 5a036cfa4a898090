"""One edition's reaches and pages by id, and which reach of the older edition each of the newer is."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from shapely import LineString, MultiPolygon, box

from atlasgen.model import LonLat
from atlasgen.model.changes import ReachKind, ReachRedrawn, ReachRef, ReachRenumbered, ReachState
from atlasgen.model.wording import say, spoken_here
from atlasgen.place.geo import Projection, geodesic_m
from atlasgen.place.matching import SAME_BANK_M, match_lines

_SHOWN = ("well", "poorly")
_UNSHOWN = ("near", "none")


@dataclass(frozen=True)
class Edition:
    """An atlas.json with its rows by id."""

    document: Mapping[str, Any]

    @property
    def language(self) -> str:
        """The language of its words; editions that do not say are in English."""
        return spoken_here(self.document["survey"].get("language"))

    @cached_property
    def rows(self) -> dict[str, Mapping[str, Any]]:
        """Reach id to its row, along the shore."""
        return {row["id"]: row for row in self.document["reaches"]}

    @cached_property
    def pages(self) -> dict[int, Mapping[str, Any]]:
        """Page number to its row."""
        return {row["number"]: row for row in self.document["pages"]}

    @cached_property
    def page_of(self) -> dict[str, int]:
        """Reach id to the first page that it is on."""
        found: dict[str, int] = {}
        for number, row in self.pages.items():
            for reach in row["reaches"]:
                found.setdefault(reach, number)
        return found

    @cached_property
    def reaches(self) -> dict[str, ReachRef]:
        """Reach id to what is told of it elsewhere."""
        return {
            name: ReachRef(name, row["name"], row["place"], row["tile"], row["length_m"], self.page_of.get(name))
            for name, row in self.rows.items()
        }

    @cached_property
    def bounds(self) -> dict[str, dict[float, float]]:
        """Reach id to the bounds at the stations of its profile, by their distance out, metres."""
        return {
            row["reach"]: {s["distance_m"]: s["bound_m"] for s in row["stations"] if s["bound_m"] is not None}
            for row in self.document["profiles"]
        }

    @cached_property
    def projection(self) -> Projection:
        """A metric projection of its lake."""
        return Projection.for_lake(MultiPolygon([box(*self.document["survey"]["bounds"])]))

    @property
    def tells_lines(self) -> bool:
        """Whether every reach comes with its line."""
        return all("line" in row for row in self.rows.values())


@dataclass(frozen=True, slots=True)
class Pairs:
    """Newer reach id to the older one that is the same bank, the other way round, and what of it is worth telling."""

    old_of: Mapping[str, str]
    new_of: Mapping[str, str]
    renumbered: tuple[ReachRenumbered, ...]
    redrawn: tuple[ReachRedrawn, ...]


def pair_reaches(old: Edition, new: Edition) -> Pairs:
    """Pair the reaches of two editions by their geometry; by their id where that alone does not know them again."""
    with_lines = old.tells_lines and new.tells_lines
    before, now = (_lines(edition, new.projection, with_lines) for edition in (old, new))
    matched = match_lines(before, now, SAME_BANK_M)
    old_of = {name: old_id for name, (old_id, _) in matched.items()}
    taken = set(old_of.values())
    redrawn = [
        ReachRedrawn(old.reaches[name], new.reaches[name], moved_m)
        for name in new.rows
        if name not in old_of
        and name in old.rows
        and name not in taken
        # Farther than its own length away, the id stands for another bank.
        and (moved_m := _apart_m(old.rows[name], new.rows[name])) <= max(_lengths(old, new, name))
    ]
    old_of |= {item.new.id: item.old.id for item in redrawn}
    renumbered = [
        ReachRenumbered(old.reaches[old_id], new.reaches[name], share)
        for name, (old_id, share) in matched.items()
        if name != old_id
    ]
    new_of = {old_id: name for name, old_id in old_of.items()}
    return Pairs(old_of, new_of, tuple(renumbered), tuple(sorted(redrawn, key=lambda r: (-r.moved_m, r.new.id))))


def lines_words(old: Edition, new: Edition) -> tuple[str, str] | None:
    """Say by what reaches had to be paired where an edition does not tell their lines."""
    return None if old.tells_lines and new.tells_lines else (say("changes-what-lines"), say("changes-why-lines"))


def _lengths(old: Edition, new: Edition, name: str) -> tuple[float, float]:
    return old.rows[name]["length_m"], new.rows[name]["length_m"]


def _apart_m(old: Mapping[str, Any], new: Mapping[str, Any]) -> float:
    return round(geodesic_m(LonLat(*old["midpoint"]), LonLat(*new["midpoint"])), 1)


def _lines(edition: Edition, projection: Projection, with_lines: bool) -> dict[str, LineString]:
    """Return the reaches as metric lines: their own, or a straight one across the direction that each faces."""
    if with_lines:
        return {name: projection.to_metric(LineString(row["line"])) for name, row in edition.rows.items()}
    return {name: _stand_in(row, projection) for name, row in edition.rows.items()}


def _stand_in(row: Mapping[str, Any], projection: Projection) -> LineString:
    middle = projection.point(LonLat(*row["midpoint"]))
    along = math.radians(row["faces_deg"] - 90)
    east_m, north_m = (math.sin(along) * row["length_m"] / 2, math.cos(along) * row["length_m"] / 2)
    return LineString(
        [(middle.x_m - east_m, middle.y_m - north_m), (middle.x_m + east_m, middle.y_m + north_m)]
    )  # fmt: skip


def reach_states(old: Edition, new: Edition, pairs: Pairs) -> tuple[ReachState, ...]:
    """Return the reaches whose photographed state changed: shown first, then lost, the largest lengths first."""
    found = []
    for name, old_id in pairs.old_of.items():
        before, now = old.rows[old_id]["photographed"], new.rows[name]["photographed"]
        if before != now:
            lengths_m = _shown_m(old.rows[old_id]), _shown_m(new.rows[name])
            kind = _kind(before, now)
            found.append(ReachState(kind, old.reaches[old_id], new.reaches[name], before, now, *lengths_m))
    order = {"shown": 0, "lost": 1, "other": 2}
    return tuple(sorted(found, key=lambda s: (order[s.kind], -abs(s.new_shown_m - s.old_shown_m), s.new.id)))


def _shown_m(row: Mapping[str, Any]) -> float:
    return round(sum(row["lengths_m"].get(state, 0.0) for state in _SHOWN), 2)


def _kind(before: str, now: str) -> ReachKind:
    if before in _UNSHOWN and now in _SHOWN:
        return "shown"
    return "lost" if before in _SHOWN and now in _UNSHOWN else "other"
