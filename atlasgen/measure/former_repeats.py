"""Finds in the edition before, by its atlas.json, the photos that show a bank of today from nearly the same place."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any, NamedTuple

from atlasgen.measure.repeats import turn_between_deg
from atlasgen.model import LonLat, Photo, PointM, Reach
from atlasgen.model.repeats import FormerRepeat, RepeatRules
from atlasgen.model.views import View
from atlasgen.place.geo import Projection


class _Former(NamedTuple):
    """A photo of the edition before, with what must be known of it; `seen_m` is the shore it shows by reach."""

    id: str
    taken: datetime
    point: PointM
    heading_deg: float
    height_m: float | None
    stage_m: float | None
    page: int
    number: int
    seen_m: Mapping[str, float]


def find_former_repeats(
    photos: Sequence[Photo],
    views: Mapping[str, View],
    reaches: Sequence[Reach],
    previous: Mapping[str, Any] | None,
    projection: Projection,
    rules: RepeatRules,
) -> tuple[FormerRepeat, ...]:
    """Return for each photo the one of the edition before that is nearest alike, in the order of the photos.

    What both show is told by their shares of reaches, whose ids are carried on; a reach that is new counts as not
    shared. A photo of that edition that is in this one as well is no repeat of itself.
    """
    if previous is None:
        return ()
    lengths_m = {reach.id: reach.length_m for reach in reaches}
    ours = {photo.id for photo in photos}
    former = [one for one in _read(previous, lengths_m, projection) if one.id not in ours]
    found = []
    for photo in photos:
        alike = [pair for one in former if (pair := _pair(photo, one, views.get(photo.id), lengths_m, rules))]
        found += sorted(alike, key=lambda pair: (pair.apart_m + pair.turn_deg, pair.page, pair.number))[:1]
    edition = str(previous["survey"].get("edition", ""))
    return tuple(pair._replace(edition=edition) for pair in found)


def _read(previous: Mapping[str, Any], lengths_m: Mapping[str, float], projection: Projection) -> Iterator[_Former]:
    numbers = {photo: i for page in previous["pages"] for i, photo in enumerate(page.get("photos", ()), 1)}
    for row in previous["photos"]:
        taken, heading_deg, number = row.get("taken"), row.get("heading_deg_true"), numbers.get(row["id"])
        if taken is None or heading_deg is None or number is None or row.get("page") is None or row.get("lon") is None:
            continue
        seen = {one["reach"]: one["share"] * lengths_m.get(one["reach"], 0.0) for one in row.get("reaches_seen") or ()}
        yield _Former(
            row["id"],
            datetime.fromisoformat(taken),
            projection.point(LonLat(row["lon"], row["lat"])),
            heading_deg,
            row.get("height_above_water_m"),
            row.get("stage_m"),
            row["page"],
            number,
            seen,
        )


def _pair(
    photo: Photo, one: _Former, view: View | None, lengths_m: Mapping[str, float], rules: RepeatRules
) -> FormerRepeat | None:
    if view is None or view.any_heading or photo.heading_deg_true is None or photo.is_private or not view.stretches:
        return None
    apart_m = math.dist(photo.point, one.point)
    turn_deg = turn_between_deg(photo.heading_deg_true.value, one.heading_deg)
    if apart_m > rules.most_apart_m or turn_deg > rules.turn_deg:
        return None
    height = photo.height_above_water_m
    up_m = height.value - one.height_m if height and one.height_m is not None else 0.0
    off_m = min(stretch.distance_m for stretch in view.stretches)
    limit_m = min(max(rules.least_apart_m, rules.apart_share * off_m), rules.most_apart_m)
    seen_m = {seen.reach: seen.share * lengths_m.get(seen.reach, 0.0) for seen in view.reaches}
    shared_m = math.fsum(min(length_m, one.seen_m.get(reach, 0.0)) for reach, length_m in seen_m.items())
    longer_m = max(math.fsum(seen_m.values()), math.fsum(one.seen_m.values()))
    if math.hypot(apart_m, up_m) > limit_m or not longer_m or shared_m < rules.shared_share * longer_m:
        return None
    told = (round(apart_m, 2), round(turn_deg, 2), one.stage_m)
    return FormerRepeat(photo.id, "", one.page, one.number, one.taken, *told)
