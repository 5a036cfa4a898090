"""What is measured of the water, for atlas.json and atlas.gpkg: depths, relief, side-scan, sources, layers, sets."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, Any

from atlasgen.model import Atlas, Known, LonLat
from atlasgen.model.history import HistoricLayer
from atlasgen.model.quality import Crossings
from atlasgen.model.sonar import Holiday, SonarCoverage
from atlasgen.place.geo import Projection
from atlasgen.write.gis_layers import Layer, gis_row

if TYPE_CHECKING:
    from atlasgen.model.relief import ReachProfile, ReliefFeature

_DIGITS = 3


def measured_document(atlas: Atlas) -> dict[str, Any]:
    """Return the parts of atlas.json that say what is measured of the water; null or empty where nothing is."""
    known, projection = atlas.known, Projection(atlas.placed.crs_metric or atlas.survey.crs_metric)
    return {
        "depths": _depths(known),
        "profiles": [_profile(known, reach.id) for reach in atlas.placed.reaches if known.profiles.get(reach.id)],
        "relief": [_feature(feature, known) for feature in known.relief],
        "side_scan": _side_scan(known),
        "sources": plain(known.sources),
        "layers": [_layer(layer, projection) for layer in known.layers],
        "repeats": plain(known.repeats),
        "turnarounds": [plain(turn, leave=("point",)) for turn in atlas.turnarounds],
    }


def measured_layers(atlas: Atlas) -> dict[str, Layer]:
    """Return the GeoPackage layers `relief`, `holidays`, `side_scan`, `layers`; WGS 84."""
    known, projection = atlas.known, Projection(atlas.placed.crs_metric or atlas.survey.crs_metric)
    sonar = known.sonar
    holidays = sonar.holidays if sonar else ()
    covered = [(name, area) for name, area in sonar.area.items() if not area.is_empty] if sonar else []
    return {
        "relief": (
            [gis_row(_feature(feature, known)) for feature in known.relief],
            [projection.to_lonlat(feature.outline) for feature in known.relief],
        ),
        "holidays": ([gis_row(_holiday(item)) for item in holidays], [projection.to_lonlat(h.area) for h in holidays]),
        "side_scan": (
            [{"coverage": name, "area_m2": round(area.area, 1)} for name, area in covered],
            [projection.to_lonlat(area) for _, area in covered],
        ),
        "layers": (
            [{"file": item.file, "kind": item.kind, "title": item.title} for item in known.layers],
            [projection.to_lonlat(item.area) for item in known.layers],
        ),
    }


def plain(value: Any, leave: tuple[str, ...] = ()) -> Any:
    """Turn values of the model into JSON values: numbers rounded to the millimetre, times as UTC, no NaN."""
    if is_dataclass(value):
        return {f.name: plain(getattr(value, f.name)) for f in fields(value) if f.name not in leave}
    made = next((make for kind, make in _MADE if isinstance(value, kind)), None)
    return made(value) if made else value


# A time is a date, and a place a tuple: what is narrower stands first.
_MADE: tuple[tuple[Any, Callable[[Any], Any]], ...] = (
    (float, lambda value: None if math.isnan(value) else round(value, _DIGITS)),
    (datetime, lambda value: value.astimezone(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")),
    (date, lambda value: value.isoformat()),
    (LonLat, lambda value: {"lon": round(value.lon_deg, 7), "lat": round(value.lat_deg, 7)}),
    (Mapping, lambda value: {key: plain(item) for key, item in value.items()}),
    ((list, tuple), lambda value: [plain(item) for item in value]),
)


def _depths(known: Known) -> dict[str, Any]:
    grid = known.grid
    return {
        "cell_m": grid.cell_m if grid else None,
        "near_sounding_m": grid.near_sounding_m if grid else None,
        "bound": plain(known.depth_bound),
        "hypsometry": plain(known.hypsometry),
        "cleaning": plain(known.cleaning, leave=("examples",)) if known.cleaning else None,
        "reduction": plain(known.reduction),
        "crossings": _crossings(known.crossings),
    }


def _crossings(crossings: Crossings | None) -> dict[str, Any] | None:
    if crossings is None:
        return None
    told = plain(crossings, leave=("x_m", "y_m", "difference_m", "depth_m", "words"))
    return {"count": crossings.count, **told}


def _profile(known: Known, reach: str) -> dict[str, Any]:
    profile = known.profiles[reach]
    assert profile is not None
    return plain(profile, leave=("points", "start")) | {"depths_m": depths_each_metre(profile)}


def depths_each_metre(profile: ReachProfile) -> list[float | None]:
    """Return the depths of a profile at 0, 1, 2, ... metres from the bank, to the centimetre; None where not known."""
    by_distance = {point.distance_m: point.depth_m for point in profile.points}
    last = profile.points[-1].distance_m
    if profile.far_bank_m is not None:
        # The far bank itself is a place of its own, and is told as one.
        last = profile.points[-2].distance_m if len(profile.points) > 1 else 0.0
    found = (by_distance.get(float(out)) for out in range(int(last) + 1))
    return [None if depth_m is None else round(depth_m, 2) for depth_m in found]


def _feature(feature: ReliefFeature, known: Known) -> dict[str, Any]:
    beside = [
        {"reach": reach, **plain(item, leave=("feature",))}
        for reach, items in known.relief_near.items()
        for item in items
        if item.feature == feature.id
    ]
    return plain(feature, leave=("point", "outline")) | {"reaches": beside}


def _side_scan(known: Known) -> dict[str, Any] | None:
    sonar: SonarCoverage | None = known.sonar
    if sonar is None:
        return None
    return {
        "area_m2": plain(sonar.area_m2),
        "rules": plain(sonar.rules),
        "holidays": [_holiday(holiday) for holiday in sonar.holidays],
        "reaches": {reach: plain(shares) for reach, shares in known.reach_sonar.items()},
    }


def _holiday(holiday: Holiday) -> dict[str, Any]:
    told = plain(holiday, leave=("area", "from_s", "to_s"))
    times = {
        name: None if at is None else plain(datetime.fromtimestamp(at, UTC))
        for name, at in (("from", holiday.from_s), ("to", holiday.to_s))
    }
    return told | times


def _layer(layer: HistoricLayer, projection: Projection) -> dict[str, Any]:
    told = plain(layer, leave=("area", "fit", "waterline"))
    west, south, east, north = projection.to_lonlat(layer.area).bounds
    fit = None
    if layer.fit is not None:
        residuals = dict(zip(layer.fit.names, plain(layer.fit.residuals_m.tolist()), strict=True))
        fit = {"kind": layer.fit.kind, "rmse_m": plain(layer.fit.rmse_m), "residuals_m": residuals}
    return told | {"bounds": [round(value, 7) for value in (west, south, east, north)], "fit": fit}
