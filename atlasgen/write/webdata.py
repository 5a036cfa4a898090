"""What the atlas's map draws, as one JSON value for data.js: geometry packed small, words ready to show."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from atlasgen.model import Atlas, Layers, LonLat, NamedArea, Page, Photo, Reach, Tile
from atlasgen.model.memory import ANEW, Memory
from atlasgen.model.wording import say
from atlasgen.resources import resource
from atlasgen.units import DistanceUnit, distance_words
from atlasgen.write.bed_picture_data import picture_data
from atlasgen.write.cover_data import cover_data
from atlasgen.write.landmarks import landmark_data
from atlasgen.write.packing import MICRO, Packed, pack_areas, pack_lines
from atlasgen.write.spoken import script_words
from atlasgen.write.svg import shade_colours
from atlasgen.write.webdepths import told_depths
from atlasgen.write.webfind import find_data
from atlasgen.write.webgrid import grid_data
from atlasgen.write.webrepeats import photo_tags, repeat_data
from atlasgen.write.websearch import search_data
from atlasgen.write.webviews import photo_views, shown_by

# A long cast from the bank, about; of the profile's stations the nearest to it is drawn along the strip. Ours.
STRIP_OFF_BANK_M = 20.0


def map_data(atlas: Atlas, memory: Memory = ANEW) -> dict[str, Any]:
    """Return all that the map and the strip show; plain lists, strings and numbers, None where not known."""
    west, south, east, north = atlas.survey.bounds_deg
    origin = (round(west * MICRO), round(south * MICRO))
    pages_of, off_m = _pages_of_reaches(atlas.pages), _strip_off_bank_m(atlas)
    ring_number = {ring.id: number for number, ring in enumerate(atlas.placed.rings)}
    on_page = atlas.page_of_photo()
    photos = [photo for photo in atlas.placed.photos if photo.id in on_page]  # in the order of the shore
    drawn = replace(atlas.layers, reaches={}, no_photo=())  # the map has its own of these, with more to them
    shown, views = shown_by(atlas, photos), photo_views(atlas, photos, origin, memory)
    return {
        "words": memory.remember("script words", (), script_words),
        "title": atlas.survey.title,
        "origin": list(origin),
        "bounds": [round(value, 6) for value in (west, south, east, north)],
        "imperial": atlas.survey.distance_unit == "imperial",
        "depthUnit": atlas.survey.depth_unit,
        "shownStage": atlas.known.shown_stage_m,
        "grid": grid_data(atlas),
        "told": told_depths(atlas, memory),
        "find": find_data(atlas),
        "offBank": _off_bank_words(off_m, atlas.survey.distance_unit),
        "pictures": picture_data(atlas, origin),
        "cover": cover_data(atlas, origin),
        **memory.remember("ground", (drawn, origin), lambda: _ground(drawn, origin)),
        "landmarks": landmark_data(atlas),
        **search_data(atlas, photos),
        "tiles": [_tile(tile, origin) for tile in atlas.placed.tiles],
        "rings": [{"name": ring.name, "island": ring.island} for ring in atlas.placed.rings],
        "reaches": [
            _reach(atlas, reach, ring_number[reach.ring], pages_of.get(reach.id, []), off_m, origin)
            | {"shownBy": shown.get(reach.id, [])}
            for reach in atlas.placed.reaches
        ],
        "pages": [{"number": page.number, "id": page.id} for page in atlas.pages],
        "repeats": repeat_data(atlas, photos),
        "photos": [a | b for a, b in zip(_photos(atlas, photos), views, strict=True)],
    }


def _ground(layers: Layers, origin: tuple[int, int]) -> dict[str, Any]:
    return {
        "tints": list(shade_colours()),
        "darkTints": json.loads(resource("templates", "map", "depth_ramp.json").read_text(encoding="utf-8"))["samples"],
        "water": pack_areas(layers.water, origin),
        "unsounded": _unsounded(layers, origin),
        "bands": [
            {
                "shade": round(band.shade, 4),
                "area": pack_areas(band.area, origin),
            }
            for band in layers.bands
        ],
        "dry": pack_areas(layers.dry, origin) if layers.dry is not None else [],
        "isobaths": [
            {
                "label": isobath.label,
                "major": isobath.major,
                "lines": [packed for line in isobath.lines for packed in pack_lines(line, origin)],
                "doubtful": [packed for line in isobath.doubtful for packed in pack_lines(line, origin)],
            }
            for isobath in layers.isobaths
        ],
        "soundings": [packed for line in layers.sounding_lines for packed in pack_lines(line, origin)],
        "passes": [packed for line in layers.pass_lines for packed in pack_lines(line, origin)],
        "closed": [_named(area, origin) for area in layers.not_surveyed],
        "places": [_named(area, origin) for area in layers.places],
    }


def _unsounded(layers: Layers, origin: tuple[int, int]) -> list[list[Packed]]:
    """Pack the water that no depth band reaches: there the depth is not known."""
    from shapely import union_all

    known = union_all([band.area for band in layers.bands] + [area for area in [layers.dry] if area])
    return pack_areas(layers.water.difference(known), origin)


def _named(named: NamedArea, origin: tuple[int, int]) -> dict[str, Any]:
    inside = named.area.representative_point()
    return {
        "name": named.name,
        "at": _degrees(LonLat(inside.x, inside.y)),
        "area": pack_areas(named.area, origin),
    }


def _tile(tile: Tile, origin: tuple[int, int]) -> dict[str, Any]:
    return {
        "id": tile.id,
        "label": tile.label,
        "bounds": [round(value, 6) for value in tile.bounds_deg],
        "area": pack_areas(tile.area, origin),
    }


def _reach(
    atlas: Atlas, reach: Reach, ring: int, pages: list[int], off_m: float | None, origin: tuple[int, int]
) -> dict[str, Any]:
    coverage, depth = atlas.known.reach_coverage.get(reach.id), atlas.known.reach_depth.get(reach.id)
    depth_m = dict(depth.profile_m).get(off_m) if depth and off_m is not None else None
    return {
        "id": reach.id,
        "name": ", ".join(filter(None, (reach.place, reach.name))),
        "ring": ring,
        "from": round(reach.from_m, 1),
        "to": round(reach.to_m, 1),
        "pages": pages,
        "state": atlas.known.reach_state[reach.id],
        "depth": None if depth_m is None else round(depth_m, 2),
        "share": _rounded(coverage.share_near_sounding) if coverage else None,
        "lines": pack_lines(atlas.layers.reaches[reach.id], origin),
    }


def _off_bank_words(off_m: float | None, unit: DistanceUnit) -> str:
    if off_m is None:
        return say("script-strip-depth")
    return say("script-strip-depth-off", distance=distance_words(off_m, unit))


def _strip_off_bank_m(atlas: Atlas) -> float | None:
    """Return the station nearest to STRIP_OFF_BANK_M that any profile has a depth at, metres; None if none has."""
    profiles = [depth.profile_m for depth in atlas.known.reach_depth.values() if depth]
    stations = sorted({off_m for profile in profiles for off_m, depth_m in profile if depth_m is not None})
    return min(stations, key=lambda off_m: abs(off_m - STRIP_OFF_BANK_M), default=None)


def _photos(atlas: Atlas, photos: Sequence[Photo]) -> list[dict[str, Any]]:
    on_page = {figure.photo: (page, figure.number) for page in atlas.pages for figure in page.figures}
    stages_m = atlas.known.stage_of_photo_m
    return [
        _photo(photo, *on_page[photo.id]) | {"stage": _rounded(stages_m.get(photo.id)), "when": when}
        for photo, when in zip(photos, photo_tags(atlas, photos), strict=True)
    ]


def _rounded(value: float | None) -> float | None:
    """Round to what atlas.json tells."""
    return None if value is None else round(value, 4)


def _photo(photo: Photo, page: Page, number: int) -> dict[str, Any]:
    heading = photo.heading_deg_true
    return {
        "id": photo.id,
        "at": _degrees(photo.lonlat),
        "heading": None if heading is None else round(heading.value % 360, 1),
        "width": round(photo.hfov_deg.value, 1),
        "page": page.number,
        "number": number,
        "off": round(photo.distance_to_shore_m, 1),
    }


def _degrees(place: LonLat) -> list[float]:
    return [round(place.lon_deg, 6), round(place.lat_deg, 6)]


def _pages_of_reaches(pages: Iterable[Page]) -> dict[str, list[int]]:
    """Reach id to the numbers of the pages that show it, in reading order."""
    found: dict[str, list[int]] = {}
    for page in pages:
        for reach_id in page.reaches:
            found.setdefault(reach_id, []).append(page.number)
    return found
