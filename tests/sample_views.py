"""The sample atlas as its own cameras see it: views, the audit made from them, and a bank nobody may photograph."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from sample_atlas import CRS, WATER, lonlat, make_sample_atlas
from shapely import MultiPolygon, Point

from atlasgen.compose.state_map import state_map, state_words
from atlasgen.measure.gaps import gaps
from atlasgen.measure.shore_audit import audit_shore
from atlasgen.model import Atlas, AuditRules, Measured, NamedArea, Photo, ViewRules
from atlasgen.place.geo import Projection
from atlasgen.place.seen import see_photos
from atlasgen.place.shore_index import shore_index
from atlasgen.place.sight import Sight

NO_PHOTO = (("private garden", MultiPolygon([Point(-480, -430).buffer(90)])),)


def _lower(photo: Photo) -> Photo:
    """Bring a camera in the air down to where its frame holds the bank before it."""
    height = Measured(40.0, "height above take-off", 2.0)
    return replace(photo, height_above_water_m=height) if photo.kind == "aerial" else photo


@cache
def make_seen_atlas() -> Atlas:
    """Return the sample with what each of its photos shows; the sixth, whose direction is not known, has no view."""
    atlas = make_sample_atlas()
    photos = tuple(_lower(photo) for photo in atlas.placed.photos)
    placed, projection = replace(atlas.placed, photos=photos, crs_metric=CRS), Projection(CRS)
    shore = shore_index(WATER, placed.rings, placed.reaches, projection)
    views, seen = see_photos(placed.photos, shore, ViewRules(draws=5))
    audit = audit_shore(placed, Sight(shore, views, seen), AuditRules(), NO_PHOTO)
    states = {name: summary.state for name, summary in audit.reaches.items()}
    known = replace(atlas.known, audit=audit, reach_state=states, gaps=gaps(placed.reaches, states), views=views)
    ground = {"water": WATER, "rings": placed.rings, "to_lonlat": projection.lonlat}
    return replace(
        atlas,
        placed=placed,
        known=known,
        layers=replace(atlas.layers, no_photo=tuple(NamedArea(reason, lonlat(area)) for reason, area in NO_PHOTO)),
        state_map=state_map("states", audit.stretches, audit.totals.total, distance_unit="metric", **ground),
        state_words=state_words(audit, "metric"),
    )
