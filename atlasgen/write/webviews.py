"""What each photograph shows, packed for the map: its outline, the shore seen in it, and who shows which reach."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from atlasgen.compose.drawn_views import drawn_view
from atlasgen.compose.pages import photos_of_reaches
from atlasgen.compose.shore_lines import ShoreLines
from atlasgen.model import Atlas, Photo
from atlasgen.model.memory import ANEW, Memory
from atlasgen.model.views import Stretch, View
from atlasgen.model.wording import say
from atlasgen.place.geo import Projection
from atlasgen.write.packing import Packed, pack_line

# An outline may stray by this share of its size: a screen shows it a few hundred pixels wide. Ours.
_STRAY = 0.002
_LEAST_STRAY_M = 0.5
# Stretches closer together than this are drawn as one, about two pixels of a close map. Ours.
_SAME_STRETCH_M = 5.0


def photo_views(
    atlas: Atlas, photos: Sequence[Photo], origin: tuple[int, int], memory: Memory = ANEW
) -> list[dict[str, Any]]:
    """Return for each photo what to add to it: `view`, or `noView`, the reason in words.

    `area` are packed rings, outer one first; `shore` is flat: number of the ring, from and to in whole metres of
    chainage, for one stretch after another; `seen` is the length of shore in metres.
    """
    views, lines = atlas.known.views, ShoreLines(atlas.placed.rings)
    projection = Projection(atlas.placed.crs_metric or atlas.survey.crs_metric)
    numbers = {ring.id: number for number, ring in enumerate(atlas.placed.rings)}
    seen = [(view, photo) for photo in photos if (view := views.views.get(photo.id))]
    shared = (atlas.placed.rings, projection.crs_text, origin)

    def outlines(places: list[int]) -> list[list[Packed]]:
        return [_packed_outline(*seen[place], lines, projection, origin) for place in places]

    areas = memory.mapped("outline", [(view, photo.point, shared) for view, photo in seen], outlines)
    found: dict[str, dict[str, Any]] = {}
    for (view, photo), area in zip(seen, areas, strict=True):
        shore = _packed_shore(view.stretches, numbers)
        found[photo.id] = {"view": {"area": area, "shore": shore, "seen": round(view.seen_m)}}
    return [
        found.get(photo.id) or {"noView": views.without.get(photo.id) or say("web-view-unknown")} for photo in photos
    ]


def shown_by(atlas: Atlas, photos: Sequence[Photo]) -> dict[str, list[int]]:
    """Return by reach id the photos that show it, best first; flat: place in `photos`, percent shown, metres off.

    What is shown at all is shown to at least one percent.
    """
    numbers = {photo.id: number for number, photo in enumerate(photos)}
    seen = {(view.photo, one.reach): one for view in atlas.known.views.views.values() for one in view.reaches}
    return {
        reach: [
            value
            for photo in ranked
            for value in (
                numbers[photo],
                max(1, min(99, round(seen[photo, reach].share * 100)) if seen[photo, reach].share < 1 else 100),
                round(seen[photo, reach].distance_m),
            )
        ]
        for reach, ranked in photos_of_reaches(photos, atlas.known.views).items()
    }


def _packed_outline(
    view: View, photo: Photo, lines: ShoreLines, projection: Projection, origin: tuple[int, int]
) -> list[Packed]:
    area = drawn_view(view, photo.point, lines)
    if area.is_empty:
        return []
    west, south, east, north = area.bounds
    simple = area.simplify(max(_LEAST_STRAY_M, _STRAY * max(east - west, north - south)))
    parts = getattr(projection.to_lonlat(simple), "geoms", None) or [projection.to_lonlat(simple)]
    # A ring need not say its first point again: whoever draws it closes it.
    return [pack_line(ring.coords[:-1], origin) for part in parts for ring in (part.exterior, *part.interiors)]


def _packed_shore(stretches: Iterable[Stretch], numbers: dict[str, int]) -> list[int]:
    packed: list[int] = []
    for stretch in sorted(stretches, key=lambda s: (numbers[s.ring], s.from_m)):
        ring, from_m, to_m = numbers[stretch.ring], round(stretch.from_m), round(stretch.to_m)
        if packed and packed[-3] == ring and from_m - packed[-1] <= _SAME_STRETCH_M:
            packed[-1] = to_m
        else:
            packed += [ring, from_m, to_m]
    return packed
