"""Puts photos on pages: those of one bank together, one to four a page, in order along the shore."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime
from itertools import pairwise

from atlasgen.model import Photo, Reach, ReachSeen, TurnAround, Views

MOST_PHOTOS_A_PAGE = 4
# Reach, photos, part and parts: what stands on one page.
Group = tuple[Reach, tuple[Photo, ...], int, int]
_LONG_AGO = datetime(1, 1, 1, tzinfo=UTC)


def home_reaches(photos: Iterable[Photo], reaches: Sequence[Reach], views: Views) -> dict[str, str]:
    """Return the reach on whose page each photo stands: the one it shows best, else the one it is nearest to."""
    length_m = {reach.id: reach.length_m for reach in reaches}
    homes = {}
    for photo in photos:
        view = views.views.get(photo.id)
        shown = view.reaches if view else ()
        best = max(shown, key=lambda seen: (_pixels_across(seen, length_m[seen.reach]), seen.reach), default=None)
        homes[photo.id] = best.reach if best else photo.reach
    return homes


def keep_sets_together(homes: Mapping[str, str], sets: Iterable[TurnAround]) -> dict[str, str]:
    """Return the homes with every photo of a turn-around set at the reach nearest to its station.

    The photos of a set show banks all round; what they share is where they were taken from.
    """
    return {**homes, **{photo: turn.reach for turn in sets for photo in turn.photos}}


def photos_of_reaches(photos: Iterable[Photo], views: Views) -> dict[str, list[str]]:
    """Return the ids of the photos that show each reach, best first: by how wide it is in the picture."""
    found: dict[str, list[tuple[float, str]]] = defaultdict(list)
    for photo in photos:
        view = views.views.get(photo.id)
        for seen in view.reaches if view else ():
            found[seen.reach].append((-round(_pixels_across(seen, 1.0), 3), photo.id))
    return {reach: [photo for _, photo in sorted(rows)] for reach, rows in found.items()}


def _pixels_across(seen: ReachSeen, length_m: float) -> float:
    """Width of a reach in the picture: the length seen, drawn together by the angle, over the size of a pixel."""
    return seen.share * length_m * abs(math.sin(math.radians(seen.angle_deg))) * 100 / max(seen.gsd_cm, 1e-6)


def page_groups(
    photos: Iterable[Photo], reaches: Sequence[Reach], homes: Mapping[str, str], sets: Sequence[TurnAround] = ()
) -> list[Group]:
    """Return `(reach, photos, part, parts)` for each page in reading order; every photo is on exactly one page.

    `homes` gives the reach of each photo, by photo id. A set of `sets` has a page to itself, after the other photos of
    its reach, its photos clockwise.
    """
    by_reach: dict[str, list[Photo]] = defaultdict(list)
    for photo in photos:
        by_reach[homes[photo.id]].append(photo)
    groups = []
    for reach in reaches:
        parts = _parts_of(by_reach.pop(reach.id, []), sets)
        groups += [(reach, tuple(part), number, len(parts)) for number, part in enumerate(parts, 1)]
    if by_reach:
        raise KeyError(f"photos tied to reaches that do not exist: {sorted(by_reach)}")
    return groups


def _parts_of(photos: Sequence[Photo], sets: Sequence[TurnAround]) -> list[Sequence[Photo]]:
    by_id = {photo.id: photo for photo in photos}
    turns = [[by_id.pop(photo) for photo in turn.photos] for turn in sets if turn.photos[0] in by_id]
    return [*split_evenly(sorted(by_id.values(), key=_along_the_shore), MOST_PHOTOS_A_PAGE), *turns]


def split_evenly(items: Sequence[Photo], most: int) -> list[Sequence[Photo]]:
    """Split into the fewest parts of at most `most`, sizes differing by one at the most: 5 -> 3 + 2, not 4 + 1."""
    count = -(-len(items) // most)
    bounds = [round(len(items) * i / count) for i in range(count + 1)] if count else []
    return [items[a:b] for a, b in pairwise(bounds)]


def _along_the_shore(photo: Photo) -> tuple[float, datetime, str]:
    return photo.nearest_chainage_m, photo.taken or _LONG_AGO, photo.id
