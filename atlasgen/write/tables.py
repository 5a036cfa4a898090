"""The machine-readable side of an edition: atlas.json, atlas.gpkg and audit/reaches.csv."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import asdict, fields
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from atlasgen.compose.pages import photos_of_reaches
from atlasgen.measure.adding import PER_METRE, shared_out
from atlasgen.model import Atlas, Isobath, Known, Measured, Note, Page, Photo, Reach, ShoreState, Tile, Views
from atlasgen.write.bed_picture_data import picture_rows
from atlasgen.write.csvfile import write_csv
from atlasgen.write.gis_layers import Layer, gis_row, seen_layers
from atlasgen.write.jsonrows import json_rows
from atlasgen.write.landmarks import landmark_rows
from atlasgen.write.measured import measured_document, measured_layers

if TYPE_CHECKING:
    from shapely import LineString

# Two writes of a GeoPackage differ by their change time alone; GDAL takes a stated one instead.
_GPKG_DATE = "2026-01-01T00:00:00.000Z"


def atlas_document(atlas: Atlas) -> dict[str, Any]:
    """Return atlas.json as plain values: the public contract, described by shared/atlas.schema.json."""
    return {
        "format": "atlas.json 1",
        "survey": _survey(atlas),
        "photos": _photos(atlas),
        "reaches": [row | {"line": _line(atlas.layers.reaches[row["id"]])} for row in _reaches(atlas)],
        "tiles": _tiles(atlas),
        "pages": [_page(page, atlas) for page in atlas.pages],
        "landmarks": landmark_rows(atlas),
        **measured_document(atlas),
        "bed_pictures": picture_rows(atlas),
        "left_out": [{"file": p.subject, "code": p.code, "why": p.message} for p in atlas.left_out],
        "problems": [asdict(p) for p in atlas.problems],
        "methods": list(atlas.methods),
        "cautions": list(atlas.cautions),
        "not_surveyed": _not_surveyed(atlas),
    }


def write_atlas_json(atlas: Atlas, path: Path) -> None:
    """Write atlas.json, UTF-8, one photo, reach or page a line."""
    path.write_text(json_rows(atlas_document(atlas)), encoding="utf-8")


def _survey(atlas: Atlas) -> dict[str, Any]:
    facts = atlas.survey
    return {
        "title": facts.title,
        "edition": facts.edition,
        "season": facts.season or None,
        "crew": facts.crew or None,
        "datum": facts.datum,
        "depths_below": facts.depths_below or facts.datum,
        "shown_stage_m": atlas.known.shown_stage_m,
        "units": {"depth": facts.depth_unit, "distance": facts.distance_unit},
        "language": facts.language,
        "time_zone": facts.time_zone,
        "bounds": [round(value, 7) for value in facts.bounds_deg],
        "crs_metric": facts.crs_metric,
        "tile_scheme": facts.tile_scheme,
        "water_m2": round(facts.water_m2, 1),
        "shore_m": round(facts.shore_m, 3),
        "rings": [{"id": r.id, "island": r.island, "name": r.name or None} for r in atlas.placed.rings],
        "chart": facts.chart and {**asdict(facts.chart), "date": facts.chart.date.isoformat()},
        "budget_mb": facts.budget_mb,
    }


def _not_surveyed(atlas: Atlas) -> list[dict[str, Any]]:
    """Return the areas that the crew could not survey, with their reasons."""
    from pyproj import Geod

    geod = Geod(ellps="WGS84")
    areas = atlas.layers.not_surveyed
    return [{"reason": a.name, "area_m2": round(abs(geod.geometry_area_perimeter(a.area)[0]), 1)} for a in areas]


def _photos(atlas: Atlas) -> list[dict[str, Any]]:
    shown = {figure.photo: (page.number, figure.caption) for page in atlas.pages for figure in page.figures}
    stages, views = atlas.known.stage_of_photo_m, atlas.known.views
    return [
        _photo(photo, stages.get(photo.id), *shown[photo.id]) | _view(photo, views) for photo in atlas.placed.photos
    ]


def _view(photo: Photo, views: Views) -> dict[str, Any]:
    """Return what a photo shows; null where that is not known, and then why."""
    view = views.views.get(photo.id)
    if view is None:
        return {"reaches_seen": None, "no_view_because": views.without.get(photo.id), "centre_gsd_cm": None}
    seen = [
        {
            "reach": seen.reach,
            "share": round(seen.share, 3),
            "distance_m": round(seen.distance_m, 1),
            "angle_deg": round(seen.angle_deg, 1),
            "gsd_cm": round(seen.gsd_cm, 2),
            "probability": round(seen.probability, 3),
        }
        for seen in view.reaches
    ]
    return {"reaches_seen": seen, "no_view_because": None, "centre_gsd_cm": _round(view.centre_gsd_cm, 2)}


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
    linked = {name: [p.id for p in photos] for name, photos in _grouped(atlas.placed.photos, "reach").items()}
    shown = photos_of_reaches(atlas.placed.photos, atlas.known.views)
    return [
        _reach(reach, shown.get(reach.id, []), linked.get(reach.id, []), atlas.known) for reach in atlas.placed.reaches
    ]


def _line(line: LineString) -> list[list[float]]:
    return [[round(lon, 7), round(lat, 7)] for lon, lat in line.coords]


def _grouped(items: Iterable[Any], key: str) -> dict[str, list[Any]]:
    groups: dict[str, list[Any]] = {}
    for item in items:
        groups.setdefault(getattr(item, key), []).append(item)
    return groups


def _reach(reach: Reach, shown: list[str], linked: list[str], known: Known) -> dict[str, Any]:
    states = known.audit.reaches[reach.id]
    cm = known.audit.totals.rows_m[reach.id]
    aerial, from_shore = (_to_the_cm(cm, lengths_m) for lengths_m in (states.aerial_m, states.shore_m))
    return {
        "id": reach.id,
        "ring": reach.ring,
        "name": reach.name,
        "place": reach.place or None,
        "from_m": round(reach.from_m, 3),
        "to_m": round(reach.to_m, 3),
        "length_m": round(math.fsum(cm.values()), 2),
        "midpoint": [round(value, 7) for value in reach.midpoint],
        "faces_deg": round(reach.faces_deg, 1) % 360,
        "tile": reach.tile or None,
        "photographed": states.state,
        "lengths_m": {name: round(length_m, 2) for name, length_m in cm.items()},
        "aerial_m": aerial,
        "shore_m": from_shore,
        "photos": [*shown, *(photo for photo in linked if photo not in shown)],
        "best_gsd_cm": _round(states.best_gsd_cm, 2),
        "newest": _time(states.newest),
        "depth": _plain(known.reach_depth.get(reach.id)),
        "coverage": _plain(known.reach_coverage.get(reach.id)),
    }


def _to_the_cm(whole_m: Mapping[ShoreState, float], lengths_m: Mapping[ShoreState, float]) -> dict[str, float]:
    """Give lengths in whole centimetres that add up to the same as the reach's own."""
    total_cm = round(math.fsum(whole_m.values()) * PER_METRE)
    return {name: round(cm / PER_METRE, 2) for name, cm in shared_out(total_cm, lengths_m).items()}


def _tiles(atlas: Atlas) -> list[dict[str, Any]]:
    photos, reaches = _grouped(atlas.placed.photos, "tile"), _grouped(atlas.placed.reaches, "tile")
    seen = {t.name: t.lengths_m["well"] + t.lengths_m["poorly"] for t in atlas.known.audit.totals.by_tile}
    return [
        _tile(tile, photos.get(tile.id, []), reaches.get(tile.id, []), seen.get(tile.id, 0.0))
        for tile in atlas.placed.tiles
    ]


def _tile(tile: Tile, photos: list[Photo], reaches: list[Reach], seen_m: float) -> dict[str, Any]:
    return {
        "id": tile.id,
        "label": tile.label,
        "bounds": [round(value, 7) for value in tile.bounds_deg],
        "photos": len(photos),
        "shore_m": round(sum(reach.length_m for reach in reaches), 3),
        "shore_seen_m": round(seen_m, 2),
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
    return {field.name: _rounded(getattr(value, field.name)) for field in fields(value)}


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


def audit_rows(atlas: Atlas) -> list[dict[str, Any]]:
    """Return the audit, one row a reach: lengths by state in metres that add up, photos, best GSD, newest day."""
    return [
        {
            **{key: row[key] for key in ("id", "ring", "name", "place", "tile", "from_m", "to_m", "length_m")},
            "state": row["photographed"],
            **{f"{name}_m": length_m for name, length_m in row["lengths_m"].items()},
            **{f"aerial_{name}_m": length_m for name, length_m in row["aerial_m"].items()},
            **{f"shore_{name}_m": length_m for name, length_m in row["shore_m"].items()},
            "photos": len(row["photos"]),
            "best_gsd_cm": row["best_gsd_cm"],
            "newest": row["newest"],
        }
        for row in _reaches(atlas)
    ]


def write_reaches_csv(atlas: Atlas, path: Path) -> None:
    """Write the audit's rows, UTF-8, lines ended as RFC 4180 has it; what is unknown is an empty cell."""
    rows = audit_rows(atlas)
    write_csv(path, list(rows[0]) if rows else [], (row.values() for row in rows))


def write_geopackage(layers: Mapping[str, Layer], path: Path) -> None:
    """Write layers of rows and geometries, longitude and latitude (WGS 84), as one file; those without rows are not."""
    import geopandas
    import pyogrio

    path.unlink(missing_ok=True)

    # Nothing else of an edition waits for the disk either: what a power failure cuts off, its hash tells.
    pyogrio.set_gdal_config_options({"OGR_CURRENT_DATE": _GPKG_DATE, "OGR_SQLITE_SYNCHRONOUS": "OFF"})
    try:
        for name, (rows, shapes) in layers.items():
            if rows:
                frame = geopandas.GeoDataFrame(rows, geometry=shapes, crs="EPSG:4326")
                frame.to_file(path, layer=name, driver="GPKG", engine="pyogrio")
    finally:
        pyogrio.set_gdal_config_options({"OGR_CURRENT_DATE": None, "OGR_SQLITE_SYNCHRONOUS": None})


def load_geopackage_library() -> None:
    """Load what `write_geopackage` needs, in a process that has nothing to do until it is asked to."""
    import geopandas  # noqa: F401


def geopackage_layers(atlas: Atlas) -> dict[str, Layer]:
    """Return the layers of atlas.gpkg: stations, reaches, tiles, isobaths, unsurveyed areas and what is seen."""
    from shapely import Point

    layers = atlas.layers
    isobaths, isobath_lines = _isobath_rows(layers.isobaths)
    return {
        "stations": (
            [gis_row(photo) for photo in _photos(atlas)],
            [Point(photo.lonlat) for photo in atlas.placed.photos],
        ),
        "reaches": (
            [gis_row(reach) for reach in _reaches(atlas)],
            [layers.reaches[reach.id] for reach in atlas.placed.reaches],
        ),
        "tiles": ([gis_row(tile) for tile in _tiles(atlas)], [tile.area for tile in atlas.placed.tiles]),
        "isobaths": (isobaths, isobath_lines),
        "not_surveyed": ([{"reason": a.name} for a in layers.not_surveyed], [a.area for a in layers.not_surveyed]),
        "dry": ([{"level_m": atlas.known.shown_stage_m}], [layers.dry]) if layers.dry is not None else ([], []),
        "landmarks": (landmark_rows(atlas), [Point(mark.lonlat) for mark in atlas.placed.landmarks]),
        **seen_layers(atlas),
        **measured_layers(atlas),
    }


def _isobath_rows(isobaths: Iterable[Isobath]) -> tuple[list[dict], list]:
    """One row for the sure parts of a line and one for the doubtful ones, where it has any, and their shapes."""
    from shapely import MultiLineString

    rows, shapes = [], []
    for isobath in isobaths:
        facts = {"depth_m": round(isobath.depth_m, 4), "label": isobath.label, "major": isobath.major}
        for lines, doubtful in ((isobath.lines, False), (isobath.doubtful, True)):
            if lines:
                rows.append(facts | {"doubtful": doubtful})
                shapes.append(MultiLineString(list(lines)))
    return rows, shapes
