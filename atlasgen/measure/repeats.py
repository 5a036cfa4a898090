"""Finds repeat photographs: pairs that show one bank from nearly the same place at another level or on another day."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import NamedTuple

import shapely

from atlasgen.model import Photo
from atlasgen.model.repeats import RepeatPair, RepeatRules
from atlasgen.model.views import Stretch, View


def find_repeats(
    photos: Sequence[Photo],
    views: Mapping[str, View],
    stage_of_photo_m: Mapping[str, float | None],
    rules: RepeatRules,
) -> tuple[RepeatPair, ...]:
    """Return the pairs among photos, nearest alike first chosen, in the order of the photos; metres and degrees.

    A photo without time, direction or view, or whose camera looks straight down in no known direction, is in none. Of
    the photos of one day a photo is paired with one at most.
    """
    shots = [shot for photo in photos if (shot := _shot(photo, views))]
    pairs = [
        pair
        for i, j in _near(shots, rules.most_apart_m)
        if (pair := _pair(*_in_time(shots[i], shots[j]), stage_of_photo_m, rules))
    ]
    taken_on = {shot.photo.id: shot.taken.date() for shot in shots}
    order = {photo.id: number for number, photo in enumerate(photos)}
    return tuple(sorted(_one_a_day(pairs, taken_on), key=lambda pair: (order[pair.earlier], order[pair.later])))


class _Shot(NamedTuple):
    """A photo that may be in a pair, with what must be known of it."""

    taken: datetime
    heading_deg: float
    view: View
    photo: Photo


def _shot(photo: Photo, views: Mapping[str, View]) -> _Shot | None:
    """Return None where too little is known, or where the place is private: then no distance to it is told."""
    view = views.get(photo.id)
    if photo.taken is None or photo.heading_deg_true is None or photo.is_private or view is None or view.any_heading:
        return None
    return _Shot(photo.taken, photo.heading_deg_true.value, view, photo)


def _near(shots: Sequence[_Shot], within_m: float) -> list[tuple[int, int]]:
    """Return the pairs of shots that stand within a distance of each other, by their numbers."""
    if not shots:
        return []
    places = shapely.points([tuple(shot.photo.point) for shot in shots])
    pairs = shapely.STRtree(places).query(places, "dwithin", within_m).T
    return sorted((int(i), int(j)) for i, j in pairs if i < j)


def _in_time(a: _Shot, b: _Shot) -> tuple[_Shot, _Shot]:
    return (a, b) if (a.taken, a.photo.id) <= (b.taken, b.photo.id) else (b, a)


def _pair(a: _Shot, b: _Shot, stage_of_photo_m: Mapping[str, float | None], rules: RepeatRules) -> RepeatPair | None:
    """Return the pair of two photos, the earlier first, where they keep to the rules."""
    turn_deg = turn_between_deg(a.heading_deg, b.heading_deg)
    before_m, after_m = (stage_of_photo_m.get(shot.photo.id) for shot in (a, b))
    level_m = None if before_m is None or after_m is None else after_m - before_m
    days = (b.taken.date() - a.taken.date()).days
    differs = days >= rules.days or (level_m is not None and abs(level_m) >= rules.level_m)
    if turn_deg > rules.turn_deg or not differs:
        return None
    shared_m = shared_shore_m(a.view.stretches, b.view.stretches)
    longer_m = max(a.view.seen_m, b.view.seen_m)
    if not longer_m or shared_m < rules.shared_share * longer_m or not _one_station(a, b, rules):
        return None
    return RepeatPair(
        earlier=a.photo.id,
        later=b.photo.id,
        apart_m=round(math.dist(a.photo.point, b.photo.point), 2),
        turn_deg=round(turn_deg, 2),
        shared_m=round(shared_m, 1),
        shared_share=round(shared_m / longer_m, 4),
        level_m=None if level_m is None else round(level_m, 4),
        days=days,
    )


def _one_station(a: _Shot, b: _Shot, rules: RepeatRules) -> bool:
    """Tell whether two stations are near enough, as far off as the bank is that they show."""
    off_m = min(stretch.distance_m for shot in (a, b) for stretch in shot.view.stretches)
    one, other = a.photo.height_above_water_m, b.photo.height_above_water_m
    up_m = one.value - other.value if one and other else 0.0
    limit_m = min(max(rules.least_apart_m, rules.apart_share * off_m), rules.most_apart_m)
    return math.hypot(math.dist(a.photo.point, b.photo.point), up_m) <= limit_m


def turn_between_deg(one_deg: float, other_deg: float) -> float:
    """Return the angle between two directions, 0 to 180 degrees."""
    return abs((one_deg - other_deg + 180) % 360 - 180)


def shared_shore_m(one: Iterable[Stretch], other: Iterable[Stretch]) -> float:
    """Return the length of shore, metres, that stands in both lists of stretches."""
    others = list(other)
    overlaps = (min(a.to_m, b.to_m) - max(a.from_m, b.from_m) for a in one for b in others if a.ring == b.ring)
    return math.fsum(length for length in overlaps if length > 0)


def _one_a_day(pairs: Iterable[RepeatPair], taken_on: Mapping[str, object]) -> list[RepeatPair]:
    """Keep for each photo, of all partners of one day, the nearest alike; a degree weighs as much as a metre."""
    met: set[tuple[str, object]] = set()
    kept = []
    for pair in sorted(pairs, key=lambda p: (p.apart_m + p.turn_deg, p.earlier, p.later)):
        meets = {(pair.earlier, taken_on[pair.later]), (pair.later, taken_on[pair.earlier])}
        if not meets & met:
            met |= meets
            kept.append(pair)
    return kept
