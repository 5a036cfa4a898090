"""Layers of atlas.gpkg that say what is seen: each photo's view, the shore in it, and the state of every metre."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from atlasgen.compose.shore_lines import ShoreLines
from atlasgen.model import Atlas
from atlasgen.model.states import StateStretch
from atlasgen.model.views import Stretch, View
from atlasgen.place.geo import Projection

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

# Rows and their geometries, longitude and latitude.
Layer = tuple[list[dict[str, Any]], list["BaseGeometry"]]


def gis_row(row: Mapping[str, Any]) -> dict[str, Any]:
    """Give a table row cells that a GIS can hold: lists and tables as text."""
    return {key: json.dumps(v, ensure_ascii=False) if isinstance(v, list | dict) else v for key, v in row.items()}


def seen_layers(atlas: Atlas) -> dict[str, Layer]:
    """Return `views`, `views_shore`, `shore_states` and `no_photo`, rows in the order of the shore."""
    projection, lines = Projection(atlas.placed.crs_metric or atlas.survey.crs_metric), ShoreLines(atlas.placed.rings)
    pages = atlas.page_of_photo()
    views = [view for photo in atlas.placed.photos if (view := atlas.known.views.views.get(photo.id))]
    covering = [view for view in views if not view.footprint.is_empty]
    seen = list(_stretches(views))
    states = atlas.known.audit.stretches
    no_photo = atlas.layers.no_photo
    return {
        "views": (
            [_view(view, pages.get(view.photo)) for view in covering],
            _lonlat([view.footprint for view in covering], projection),
        ),
        "views_shore": (
            [_stretch(photo, stretch) for photo, stretch in seen],
            _lonlat([lines.line(s.ring, s.from_m, s.to_m) for _, s in seen], projection),
        ),
        "shore_states": (
            [_state(stretch) for stretch in states],
            _lonlat([lines.line(s.ring, s.from_m, s.to_m) for s in states], projection),
        ),
        "no_photo": ([{"reason": area.name} for area in no_photo], [area.area for area in no_photo]),
    }


def _lonlat(shapes: list[BaseGeometry], projection: Projection) -> list[BaseGeometry]:
    """Take shapes to degrees in one call, which is much quicker than one by one."""
    return list(projection.to_lonlat(np.array(shapes, dtype=object)))


def _stretches(views: list[View]) -> Iterator[tuple[str, Stretch]]:
    yield from ((view.photo, stretch) for view in views for stretch in view.stretches)


def _view(view: View, page: int | None) -> dict[str, Any]:
    return {
        "photo": view.photo,
        "page": page,
        "includes_horizon": view.includes_horizon,
        "any_heading": view.any_heading,
        "range_m": round(view.range_m, 1),
        "area_m2": round(view.footprint.area, 1),
        "centre_gsd_cm": None if view.centre_gsd_cm is None else round(view.centre_gsd_cm, 2),
        "shore_seen_m": round(view.seen_m, 2),
        "reaches_seen": len(view.reaches),
    }


def _stretch(photo: str, stretch: Stretch) -> dict[str, Any]:
    return {
        "photo": photo,
        "ring": stretch.ring,
        "from_m": round(stretch.from_m, 3),
        "to_m": round(stretch.to_m, 3),
        "length_m": round(stretch.length_m, 3),
        "distance_m": round(stretch.distance_m, 1),
        "angle_deg": round(stretch.angle_deg, 1),
        "gsd_cm": round(stretch.gsd_cm, 2),
        "middle_gsd_cm": round(stretch.middle_gsd_cm, 2),
        "probability": round(stretch.probability, 3),
    }


def _state(stretch: StateStretch) -> dict[str, Any]:
    newest = stretch.newest
    return {
        "ring": stretch.ring,
        "from_m": round(stretch.from_m, 3),
        "to_m": round(stretch.to_m, 3),
        "length_m": round(stretch.length_m, 3),
        "state": stretch.state,
        "failed": ", ".join(stretch.failed),
        "photos": stretch.photos,
        "best_gsd_cm": None if stretch.best_gsd_cm is None else round(stretch.best_gsd_cm, 2),
        "newest": None if newest is None else newest.isoformat(timespec="seconds").replace("+00:00", "Z"),
        "reason": stretch.reason or None,
    }
