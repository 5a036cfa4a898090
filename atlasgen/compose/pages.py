"""Puts photos on pages: those of one reach together, one to four a page, in order along the shore."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import UTC, datetime
from itertools import pairwise

from atlasgen.model import Photo, Reach

MOST_PHOTOS_A_PAGE = 4
_LONG_AGO = datetime(1, 1, 1, tzinfo=UTC)


def page_groups(photos: Iterable[Photo], reaches: Sequence[Reach]) -> list[tuple[Reach, tuple[Photo, ...], int, int]]:
    """Return `(reach, photos, part, parts)` for each page in reading order; every photo is on exactly one page."""
    by_reach: dict[str, list[Photo]] = defaultdict(list)
    for photo in photos:
        by_reach[photo.reach].append(photo)
    groups = []
    for reach in reaches:
        parts = split_evenly(sorted(by_reach.pop(reach.id, []), key=_along_the_shore), MOST_PHOTOS_A_PAGE)
        groups += [(reach, tuple(part), number, len(parts)) for number, part in enumerate(parts, 1)]
    if by_reach:
        raise KeyError(f"photos tied to reaches that do not exist: {sorted(by_reach)}")
    return groups


def split_evenly(items: Sequence[Photo], most: int) -> list[Sequence[Photo]]:
    """Split into the fewest parts of at most `most`, sizes differing by one at the most: 5 -> 3 + 2, not 4 + 1."""
    count = -(-len(items) // most)
    bounds = [round(len(items) * i / count) for i in range(count + 1)] if count else []
    return [items[a:b] for a, b in pairwise(bounds)]


def _along_the_shore(photo: Photo) -> tuple[float, datetime, str]:
    return photo.nearest_chainage_m, photo.taken or _LONG_AGO, photo.id
