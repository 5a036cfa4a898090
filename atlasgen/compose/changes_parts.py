"""What the words about changes are made of: rows in groups, lengths and names of reaches."""

from __future__ import annotations

from typing import NamedTuple

from atlasgen.model.changes import Changes, ReachRef
from atlasgen.units import distance_words, height_words


class Row(NamedTuple):
    """One change: of what, what about it, its page in the newer edition, and sentences before and now, if any."""

    what: str
    words: str
    page: int | None = None
    old: str = ""
    new: str = ""


class Group(NamedTuple):
    """Changes of one kind; `id` is ours, for addresses."""

    id: str
    title: str
    lead: str
    rows: tuple[Row, ...]


def how_far(length_m: float, changes: Changes) -> str:
    """Return a length in the newer edition's unit; short ones with a tenth."""
    unit = changes.new.distance_unit
    return height_words(length_m, unit) if length_m < 3 else distance_words(length_m, unit)


def reach_words(reach: ReachRef) -> str:
    """Return a reach's plain name and its id."""
    name = f"{reach.place}, {reach.name}" if reach.place else reach.name
    return f"{name[:1].upper()}{name[1:]} ({reach.id})"
