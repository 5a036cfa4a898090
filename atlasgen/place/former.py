"""Reach ids that stay: a bank of the edition before keeps the id it had there, however the shore is redrawn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from shapely import LineString

from atlasgen.model import Problem, Reach
from atlasgen.model.wording import say
from atlasgen.place.geo import Projection
from atlasgen.place.matching import SAME_BANK_M, match_lines

_SHOWN = 8


def with_former_ids(
    reaches: Sequence[Reach], previous: Mapping[str, Any] | None, projection: Projection
) -> tuple[tuple[Reach, ...], tuple[Problem, ...]]:
    """Give each reach the id that its bank had in `previous`, an atlas.json; tell what that changed.

    A bank that was not there gets an id that no reach of `previous` had: its own, or the next free number of its ring.
    """
    lines = _former_lines(previous, projection)
    if not lines:
        return tuple(reaches), ()
    matched = match_lines(lines, {reach.id: reach.line for reach in reaches}, SAME_BANK_M)
    kept = {name: former for name, (former, _) in matched.items()}
    taken = set(lines)
    ids = {}
    for reach in reaches:
        ids[reach.id] = kept.get(reach.id) or _free(reach, taken)
        taken.add(ids[reach.id])
    named = tuple(replace(reach, id=ids[reach.id]) for reach in reaches)
    return named, tuple(_told(ids, kept, lines))


def _former_lines(previous: Mapping[str, Any] | None, projection: Projection) -> dict[str, LineString]:
    rows = previous["reaches"] if previous else ()
    with_line = [row for row in rows if len(row.get("line") or ()) > 1]
    return {row["id"]: projection.to_metric(LineString(row["line"])) for row in with_line}


def _free(reach: Reach, taken: set[str]) -> str:
    if reach.id not in taken:
        return reach.id
    numbers = [int(name.rpartition("-")[2]) for name in taken if _is_of(name, reach.ring)]
    return f"{reach.ring}-{max(numbers, default=0) + 1:04d}"


def _is_of(name: str, ring: str) -> bool:
    start, _, number = name.rpartition("-")
    return start == ring and number.isdecimal()


def _told(ids: Mapping[str, str], kept: Mapping[str, str], former: Mapping[str, LineString]) -> Iterator[Problem]:
    """Say which ids are not those that counting along the shore would give, once for the survey."""
    new = [name for plain, name in ids.items() if plain not in kept]
    retired = sorted(set(former) - set(kept.values()))
    moved = [
        say("place-fault-former-is", plain=plain, name=name)
        for plain, name in ids.items()
        if plain in kept and plain != name
    ]
    parts = (("place-fault-former-kept", moved), ("place-fault-former-new", new), ("place-fault-former-gone", retired))
    words = [say(message, count=len(names), names=_some(names)) for message, names in parts if names]
    if words:
        yield Problem("previous", "renumbered", say("place-fault-former", parts="; ".join(words)))


def _some(names: Sequence[str]) -> str:
    shown = ", ".join(names[:_SHOWN])
    return say("place-fault-and-others", names=shown) if len(names) > _SHOWN else shown
