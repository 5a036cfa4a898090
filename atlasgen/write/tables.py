"""The machine-readable side of an edition: atlas.json, atlas.gpkg and audit/reaches.csv."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Sequence
from dataclasses import asdict
from datetime import datetime
from pathlib import Path
from typing import Any

from atlasgen.model import Atlas, Known, Measured, Note, Page, Photo, Reach, Tile

# Two writes of a GeoPackage differ by their change time alone; GDAL takes a stated one instead.
_GPKG_DATE = "2026-01-01T00:00:00.000Z"


def atlas_document(atlas: Atlas) -> dict[str, Any]:
    """Return atlas.json as plain values: the public contract, described by shared/atlas.schema.json."""
    return {
        "format": "atlas.json 1",
        "survey": _survey(atlas),
        "photos": _photos(atlas),
        "reaches": _reaches(atlas),
        "tiles": _tiles(atlas),
        "pages": [_page(page, atlas) for page in atlas.pages],
        "left_out": [{"file": p.subject, "code": p.code, "why": p.message} for p in atlas.left_out],
        "problems": [asdict(p) for p in atlas.problems],
        "methods": list(atlas.methods),
    }


def write_atlas_json(atlas: Atlas, path: Path) -> None:
    """Write atlas.json, UTF-8, one value a line."""
    text = json.dumps(atlas_document(atlas), ensure_ascii=False, indent=1, allow_nan=False)
    path.write_text(text + "\n", encoding="utf-8")


def _survey(atlas: Atlas) -> dict[str, Any]:
    facts = atlas.survey
    return {
        "title": facts.title,
        "edition": facts.edition,
        "season": facts.season or None,
        "crew": facts.crew or None,
        "datum": facts.datum,
        "units": {"depth": facts.depth_unit, "distance": facts.distance_unit},
        "time_zone": facts.time_zone,
        "bounds": [round(value, 7) for value in facts.bounds_deg],
        "crs_metric": facts.crs_metric,
        "tile_scheme": facts.tile_scheme,
        "water_m2": round(facts.water_m2, 1),
        "shore_m": round(facts.shore_m, 3),
        "rings": [{"id": r.id, "island": r.island, "name": r.name or None} for r in atlas.placed.rings],
    }


def _photos(atlas: Atlas) -> list[dict[str, Any]]:
    shown = {figure.photo: (page.number, figure.caption) for page in atlas.pages for figure in page.figures}
    stages = atlas.known.stage_of_photo_m
    return [_photo(photo, stages.get(photo.id), *shown[photo.id]) for photo in atlas.placed.photos]


def _photo(photo: Photo, stage_m: float | None, page: int, caption: str) -> dict[str, Any]:
    return {
        "id": photo.id,
        "file": photo.source.file,
        "sha256": photo.source.sha256,
        "taken": _time(photo.taken),
        "taken_from": photo.taken_how,
        "lon": round(photo.lonlat.lon_deg, 7),
        "lat": round(photo.lonlat.lat_deg, 7),
        "position_from": photo.position_from,
        "position_how": photo.position_how,
        "position_sigma_m": _round(photo.position_sigma_m, 1),
        "height_above_water_m": _value(photo.height_above_water_m, 2),
        "height_from": _source(photo.height_above_water_m),
        "heading_deg_true": _value(photo.heading_deg_true, 2),
        "heading_from": _source(photo.heading_deg_true),
        "pitch_deg": _value(photo.pitch_deg, 2),
        "pitch_from": _source(photo.pitch_deg),
        "roll_deg": _value(photo.roll_deg, 2),
        "hfov_deg": _value(photo.hfov_deg, 2),
        "vfov_deg": _value(photo.vfov_deg, 2),
        "fov_from": photo.hfov_deg.source,
        "assumed": _assumed(photo),
        "kind": photo.kind,
        "over_water": photo.over_water,
        "reach": photo.reach,
        "distance_to_shore_m": round(photo.distance_to_shore_m, 2),
        "tile": photo.tile or None,
        "stage_m": _round(stage_m, 3),
        "page": page,
        "caption": caption,
    }


def _assumed(photo: Photo) -> list[str]:
    """Name the values that are assumed rather than read."""
    names = ("height_above_water_m", "heading_deg_true", "pitch_deg", "roll_deg", "hfov_deg", "vfov_deg")
    return [name for name in names if (value := getattr(photo, name)) is not None and value.assumed]


def _reaches(atlas: Atlas) -> list[dict[str, Any]]:
    linked = _grouped(atlas.placed.photos, "reach")
    return [_reach(reach, linked.get(reach.id, []), atlas.known) for reach in atlas.placed.reaches]


def _grouped(items: Iterable[Any], key: str) -> dict[str, list[Any]]:
    groups: dict[str, list[Any]] = {}
    for item in items:
        groups.setdefault(getattr(item, key), []).append(item)
    return groups


def _reach(reach: Reach, photos: list[Photo], known: Known) -> dict[str, Any]:
    state = known.reach_state[reach.id]
    length_m = round(reach.length_m, 3)
    days = [photo.taken for photo in photos if photo.taken]
    return {
        "id": reach.id,
        "ring": reach.ring,
        "name": reach.name,
        "place": reach.place or None,
        "from_m": round(reach.from_m, 3),
        "to_m": round(reach.to_m, 3),
        "length_m": length_m,
        "midpoint": [round(value, 7) for value in reach.midpoint],
        "faces_deg": round(reach.faces_deg, 1) % 360,
        "tile": reach.tile or None,
        "photographed": state,
        "lengths_m": {name: length_m if name == state else 0 for name in ("well", "poorly", "near", "none")},
        "photos": [photo.id for photo in photos],
        "best_gsd_cm": None,
        "newest": _time(max(days)) if days else None,
        "depth": _plain(known.reach_depth.get(reach.id)),
        "coverage": _plain(known.reach_coverage.get(reach.id)),
    }


def _tiles(atlas: Atlas) -> list[dict[str, Any]]:
    photos, reaches = _grouped(atlas.placed.photos, "tile"), _grouped(atlas.placed.reaches, "tile")
    return [_tile(tile, photos.get(tile.id, []), reaches.get(tile.id, [])) for tile in atlas.placed.tiles]


def _tile(tile: Tile, photos: list[Photo], reaches: list[Reach]) -> dict[str, Any]:
    return {
        "id": tile.id,
        "label": tile.label,
        "bounds": [round(value, 7) for value in tile.bounds_deg],
        "photos": len(photos),
        "shore_m": round(sum(reach.length_m for reach in reaches), 3),
        # Which metres a photo shows is not worked out in this edition; a photo nearby is not a shore seen.
        "shore_seen_m": None,
    }


def _page(page: Page, atlas: Atlas) -> dict[str, Any]:
    reach = page.reaches[0]
    return {
        "number": page.number,
        "title": page.title,
        "subtitle": page.subtitle,
        "photos": [figure.photo for figure in page.figures],
        "reaches": list(page.reaches),
        "tile": page.tile or None,
        "depth": _plain(atlas.known.reach_depth.get(reach)),
        "coverage": _plain(atlas.known.reach_coverage.get(reach)),
        "notes": [_note_text(note) for note in page.notes],
    }


def _note_text(note: Note) -> str:
    return f"{note.heading}: {' '.join(sentence.text for sentence in note.sentences)}"


def _plain(value: Any) -> Any:
    """Turn a fact into JSON values with numbers rounded to what they bear."""
    if value is None:
        return None
    return {key: _rounded(item) for key, item in asdict(value).items()}


def _rounded(item: Any) -> Any:
    if isinstance(item, float):
        return round(item, 4)
    return [_rounded(part) for part in item] if isinstance(item, tuple | list) else item


def _value(measured: Measured | None, digits: int) -> float | None:
    return None if measured is None else round(measured.value, digits)


def _source(measured: Measured | None) -> str | None:
    return None if measured is None else measured.source


def _round(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits)


def _time(value: datetime | None) -> str | None:
    return None if value is None else value.isoformat(timespec="seconds").replace("+00:00", "Z")


def write_reaches_csv(rows: Sequence[Any], path: Path) -> None:
    """Write the audit's rows (frozen dataclasses of one kind), one reach a line, UTF-8, CRLF as RFC 4180 has it."""
    text = io.StringIO()
    names = list(asdict(rows[0])) if rows else []
    writer = csv.DictWriter(text, names)
    writer.writeheader()
    writer.writerows({name: _cell(value) for name, value in asdict(row).items()} for row in rows)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text.getvalue(), encoding="utf-8", newline="")


def _cell(value: Any) -> Any:
    if isinstance(value, float):
        return f"{value:.3f}"
    if isinstance(value, datetime):
        return _time(value)
    return " ".join(str(item) for item in value) if isinstance(value, tuple | list) else value


def write_geopackage(atlas: Atlas, path: Path) -> None:
    """Write stations, reaches, tiles, isobaths and unsurveyed areas as layers of one GeoPackage, WGS 84."""
    import geopandas
    import pyogrio

    pyogrio.set_gdal_config_options({"OGR_CURRENT_DATE": _GPKG_DATE})
    try:
        for name, (rows, shapes) in _gpkg_layers(atlas).items():
            if rows:
                frame = geopandas.GeoDataFrame(rows, geometry=shapes, crs="EPSG:4326")
                frame.to_file(path, layer=name, driver="GPKG", engine="pyogrio")
    finally:
        pyogrio.set_gdal_config_options({"OGR_CURRENT_DATE": None})


def _gpkg_layers(atlas: Atlas) -> dict[str, tuple[list[dict], list]]:
    from shapely import MultiLineString, Point

    document, layers = atlas_document(atlas), atlas.layers
    stations = [{key: _flat(value) for key, value in photo.items()} for photo in document["photos"]]
    reaches = [{key: _flat(value) for key, value in reach.items()} for reach in document["reaches"]]
    tiles = [{key: _flat(value) for key, value in tile.items()} for tile in document["tiles"]]
    isobaths = [{"depth_m": round(i.depth_m, 4), "label": i.label, "major": i.major} for i in layers.isobaths]
    return {
        "stations": (stations, [Point(photo.lonlat) for photo in atlas.placed.photos]),
        "reaches": (reaches, [layers.reaches[reach.id] for reach in atlas.placed.reaches]),
        "tiles": (tiles, [tile.area for tile in atlas.placed.tiles]),
        "isobaths": (isobaths, [MultiLineString(list(i.lines)) for i in layers.isobaths]),
        "not_surveyed": ([{"reason": a.name} for a in layers.not_surveyed], [a.area for a in layers.not_surveyed]),
    }


def _flat(value: Any) -> Any:
    return json.dumps(value, ensure_ascii=False) if isinstance(value, list | dict) else value
