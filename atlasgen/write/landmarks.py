"""The crew's landmarks as rows of atlas.json and atlas.gpkg, and as the offline atlas shows them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from atlasgen.compose.landmark_words import title_of
from atlasgen.model import Atlas, Page
from atlasgen.model.landmarks import LANDMARK_KINDS, Landmark, LandmarkKind
from atlasgen.units import distance_words


@dataclass(frozen=True, slots=True)
class LandmarkEntry:
    """A landmark as the offline atlas lists it, `away` from the shoreline in words.

    `page` is the one nearest along the shore, None where its ring has none.
    """

    mark: Landmark
    title: str
    away: str
    page: Page | None


def landmark_rows(atlas: Atlas) -> list[dict[str, Any]]:
    """Return the landmarks in the order of the shore; what the crew did not say is null."""
    return [
        {
            "id": mark.id,
            "kind": mark.kind,
            "name": mark.name or None,
            "words": mark.words or None,
            "lon": round(mark.lonlat.lon_deg, 7),
            "lat": round(mark.lonlat.lat_deg, 7),
            "reach": mark.reach,
            "chainage_m": round(mark.chainage_m, 2),
            "distance_to_shore_m": round(mark.distance_to_shore_m, 2),
            "over_water": mark.over_water,
            "tile": mark.tile or None,
        }
        for mark in atlas.placed.landmarks
    ]


def landmark_entries(atlas: Atlas) -> tuple[LandmarkEntry, ...]:
    """Return what the list of landmarks shows, hazards first, then as `landmark_rows`."""
    pages = _pages_by_ring(atlas)
    unit = atlas.survey.distance_unit
    entries = [
        LandmarkEntry(
            mark, title_of(mark), distance_words(mark.distance_to_shore_m, unit), _nearest(mark, pages, atlas)
        )
        for mark in atlas.placed.landmarks
    ]
    return tuple(sorted(entries, key=lambda entry: entry.mark.kind != "hazard"))


def landmark_kinds(atlas: Atlas) -> list[LandmarkKind]:
    """Return the kinds that there are, hazards first."""
    there = {mark.kind for mark in atlas.placed.landmarks}
    return [kind for kind in LANDMARK_KINDS if kind in there]


def landmark_data(atlas: Atlas) -> list[dict[str, Any]]:
    """Return the landmarks as data.js carries them."""
    return [
        {
            "id": entry.mark.id,
            "kind": entry.mark.kind,
            "name": entry.mark.name,
            "words": entry.mark.words,
            "at": [round(value, 6) for value in entry.mark.lonlat],
            "reach": entry.mark.reach,
            "page": entry.page.number if entry.page else None,
        }
        for entry in landmark_entries(atlas)
    ]


def _pages_by_ring(atlas: Atlas) -> dict[str, list[tuple[float, Page]]]:
    """Return each ring's pages with the middle of their reach along it, metres."""
    reaches = {reach.id: reach for reach in atlas.placed.reaches}
    found: dict[str, list[tuple[float, Page]]] = {}
    for page in atlas.pages:
        reach = reaches[page.reaches[0]]
        found.setdefault(reach.ring, []).append(((reach.from_m + reach.to_m) / 2, page))
    return found


def _nearest(mark: Landmark, pages: Mapping[str, Sequence[tuple[float, Page]]], atlas: Atlas) -> Page | None:
    """Return the page that is nearest along the ring, which closes on itself."""
    reach = next(reach for reach in atlas.placed.reaches if reach.id == mark.reach)
    length_m = next(ring.line.length for ring in atlas.placed.rings if ring.id == reach.ring)
    on_ring = pages.get(reach.ring, [])
    ahead = [((middle_m - mark.chainage_m) % length_m, page) for middle_m, page in on_ring]
    return min(ahead, key=lambda item: min(item[0], length_m - item[0]))[1] if ahead else None
