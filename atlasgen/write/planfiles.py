"""The field plan for other programs: GPX 1.1, KML 2.2 with cameras, GeoJSON (RFC 7946) and CSV (RFC 4180).

Heights. In GPX an elevation is above mean sea level, so it is written only where the water's own is known. KML takes
`absolute` (above sea level) in that case too; else `relativeToGround`, which a viewer counts from its own terrain:
over a lake that may be the bed or an old level, and the file says so. KML's tilt is 0 straight down and 90 level, so
it is 90 plus a pitch that is negative downward.
"""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

from shapely.ops import substring

from atlasgen.compose.plan_words import check_height, is_high, plan_cautions, proposal, run_words, station_words
from atlasgen.model import LonLat, Ring
from atlasgen.model.fieldplan import FieldPlan, Run, ShoreSpan, Station
from atlasgen.model.wording import decimal_text, say
from atlasgen.place.geo import Projection
from atlasgen.units import DistanceUnit
from atlasgen.write.csvfile import csv_text

_KML = "http://www.opengis.net/kml/2.2"
_DIGITS = 7
# What XML 1.0 does not allow.
_FORBIDDEN = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
# aabbggrr, as KML has it: the camera's vermilion of the maps.
_CAMERA_KML = "ff2b45c8"
_COLUMNS = (
    "name", "run", "number", "lon", "lat", "height_above_water_m", "heading_deg_true", "pitch_deg", "shows_m", "new_m",
    "distance_m", "gsd_cm", "reaches", "caution",
)  # fmt: skip


def write_plan_files(
    plan: FieldPlan,
    folder: Path,
    *,
    title: str,
    rings: Sequence[Ring],
    projection: Projection,
    unit: DistanceUnit = "metric",
) -> tuple[Path, ...]:
    """Write plan.gpx, plan.kml, plan.geojson, plan.csv and plan_left.csv into `folder`; return their paths."""
    folder.mkdir(parents=True, exist_ok=True)
    texts = {
        "plan.gpx": plan_gpx(plan, title, unit),
        "plan.kml": plan_kml(plan, title, unit),
        "plan.geojson": plan_geojson(plan, title, rings, projection),
        "plan.csv": plan_csv(plan),
        "plan_left.csv": left_csv(plan),
    }
    for name, text in texts.items():
        (folder / name).write_text(text, encoding="utf-8", newline="")
    return tuple(folder / name for name in texts)


def plan_gpx(plan: FieldPlan, title: str, unit: DistanceUnit) -> str:
    """Return GPX 1.1: every station and the launch point as a waypoint, every run as a route."""
    from gpxpy import gpx

    document = gpx.GPX()
    document.creator = "atlasgen"
    document.name, document.description = (
        _clean(say("planfile-title", title=title)),
        _clean(" ".join(plan_cautions(plan, unit))),
    )
    document.waypoints.append(_launch_point(plan, gpx.GPXWaypoint))
    for station in (*plan.stations, *plan.beyond):
        document.waypoints.append(_gpx_point(station, plan, unit, gpx.GPXWaypoint))
    for run in plan.runs:
        route = gpx.GPXRoute(
            say("planfile-run", run=run.number), _clean(f"{run_words(run, plan, unit)} {proposal()}"), run.number
        )
        stations = [_gpx_point(station, plan, unit, gpx.GPXRoutePoint) for station in run.stations]
        ends = [_launch_point(plan, gpx.GPXRoutePoint) for _ in range(2)]
        route.points = [ends[0], *stations, ends[1]]
        document.routes.append(route)
    return document.to_xml(version="1.1")


def _launch_point(plan: FieldPlan, kind: type) -> Any:
    lon, lat = _lonlat(plan.launch)
    point = kind(latitude=lat, longitude=lon, name="LAUNCH", description=_clean(plan.rules.launch_name))
    point.type = "launch"
    return point


def _gpx_point(station: Station, plan: FieldPlan, unit: DistanceUnit, kind: type) -> Any:
    lon, lat = _lonlat(station.lonlat)
    words = _clean(station_words(station, plan.rules, unit))
    point = kind(latitude=lat, longitude=lon, elevation=_above_sea_m(station, plan), name=station.name)
    point.comment, point.description = words, words
    point.type = say("planfile-station") if station.run else say("planfile-station-beyond")
    return point


def _above_sea_m(station: Station, plan: FieldPlan) -> float | None:
    water_m = plan.rules.water_above_sea_m
    return None if water_m is None else round(water_m + station.height_m, 1)


def plan_kml(plan: FieldPlan, title: str, unit: DistanceUnit) -> str:
    """Return KML 2.2: a folder a run with its line and its stations, each with the camera's view."""
    ET.register_namespace("", _KML)
    root = ET.Element(f"{{{_KML}}}kml")
    document = _add(root, "Document")
    _add(document, "name", say("planfile-title", title=title))
    _add(document, "description", " ".join((*plan_cautions(plan, unit), _height_words(plan))))
    style = _add(document, "Style", id="run")
    line = _add(style, "LineStyle")
    _add(line, "color", _CAMERA_KML)
    _add(line, "width", "2")
    launch = _add(document, "Placemark")
    _add(launch, "name", "LAUNCH")
    _add(launch, "description", plan.rules.launch_name)
    _add(_add(launch, "Point"), "coordinates", ",".join(map(str, _lonlat(plan.launch))))
    for run in plan.runs:
        _kml_run(document, run, plan, unit)
    if plan.beyond:
        folder = _add(document, "Folder")
        _add(folder, "name", say("planfile-beyond"))
        for station in plan.beyond:
            _kml_station(folder, station, plan, unit)
    ET.indent(root, " ")
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + ET.tostring(root, encoding="unicode") + "\n"


def _kml_run(document: ET.Element, run: Run, plan: FieldPlan, unit: DistanceUnit) -> None:
    folder = _add(document, "Folder")
    _add(folder, "name", say("planfile-run", run=run.number))
    _add(folder, "description", f"{run_words(run, plan, unit)} {proposal()}")
    legs = _add(folder, "Placemark")
    _add(legs, "name", say("planfile-legs", run=run.number))
    _add(legs, "styleUrl", "#run")
    way = [plan.launch, *(station.lonlat for station in run.stations), plan.launch]
    line = _add(legs, "LineString")
    _add(line, "tessellate", "1")
    _add(line, "coordinates", " ".join(",".join(map(str, _lonlat(place))) for place in way))
    for station in run.stations:
        _kml_station(folder, station, plan, unit)


def _kml_station(folder: ET.Element, station: Station, plan: FieldPlan, unit: DistanceUnit) -> None:
    (lon, lat), (mode, altitude) = _lonlat(station.lonlat), _kml_altitude(station, plan)
    mark = _add(folder, "Placemark")
    _add(mark, "name", station.name)
    _add(mark, "description", f"{station_words(station, plan.rules, unit)} {proposal()}")
    camera = {
        "longitude": lon,
        "latitude": lat,
        "altitude": altitude,
        "heading": station.heading_deg_true,
        "tilt": 90 + station.pitch_deg,
        "roll": 0,
        "altitudeMode": mode,
    }
    view = _add(mark, "Camera")
    for name, value in camera.items():
        _add(view, name, value)
    point = _add(mark, "Point")
    _add(point, "extrude", "1")
    _add(point, "altitudeMode", mode)
    _add(point, "coordinates", f"{lon},{lat},{altitude}")


def _kml_altitude(station: Station, plan: FieldPlan) -> tuple[str, float]:
    above_sea_m = _above_sea_m(station, plan)
    return ("relativeToGround", station.height_m) if above_sea_m is None else ("absolute", above_sea_m)


def _height_words(plan: FieldPlan) -> str:
    if plan.rules.water_above_sea_m is None:
        return say("planfile-heights-ground")
    return say("planfile-heights-sea", height=decimal_text(f"{plan.rules.water_above_sea_m:g}"))


def _add(parent: ET.Element, name: str, text: Any = None, **attributes: str) -> ET.Element:
    child = ET.SubElement(parent, f"{{{_KML}}}{name}", attributes)
    child.text = None if text is None else _clean(str(text))
    return child


def _clean(text: str) -> str:
    return _FORBIDDEN.sub("", text)


def plan_geojson(plan: FieldPlan, title: str, rings: Sequence[Ring], projection: Projection) -> str:
    """Return GeoJSON: stations as points, runs as lines, and what is left of the shore as lines with the reason.

    Points carry no third coordinate: RFC 7946 counts it from the ellipsoid, and the water's height there is unknown.
    """
    lines = {ring.id: ring.line for ring in rings}
    features = [_feature("Point", _lonlat(plan.launch), {"kind": "launch", "name": plan.rules.launch_name})]
    for run in plan.runs:
        way = [plan.launch, *(station.lonlat for station in run.stations), plan.launch]
        facts = {"kind": "run", "run": run.number, "length_m": round(run.length_m, 1), "time_s": round(run.time_s)}
        features.append(_feature("LineString", [_lonlat(place) for place in way], facts))
    for station in (*plan.stations, *plan.beyond):
        facts = {"kind": "station"} | _facts(station, plan)
        facts["shows"] = [_span(span) for span in station.shows]
        features.append(_feature("Point", _lonlat(station.lonlat), facts))
    for left in plan.left:
        line = projection.to_lonlat(substring(lines[left.span.ring], left.span.from_m, left.span.to_m))
        places = [_lonlat(LonLat(*place)) for place in line.coords]
        features.append(_feature("LineString", places, {"kind": "left"} | _span(left.span) | {"why": left.why}))
    document = {
        "type": "FeatureCollection",
        "title": say("planfile-title", title=title),
        "cautions": list(plan_cautions(plan)),
        "features": features,
    }
    return json.dumps(document, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _feature(kind: str, coordinates: Any, properties: dict[str, Any]) -> dict[str, Any]:
    geometry = {"type": kind, "coordinates": coordinates}
    return {"type": "Feature", "geometry": geometry, "properties": properties}


def _span(span: ShoreSpan) -> dict[str, Any]:
    return {"ring": span.ring, "from_m": round(span.from_m, 1), "to_m": round(span.to_m, 1)}


def _check(plan: FieldPlan) -> str:
    return say("planfile-check", check=check_height(plan.rules, "metric")) + " "


def _facts(station: Station, plan: FieldPlan) -> dict[str, Any]:
    """Return what a station's row and feature say; `caution` is for whoever opens the table alone."""
    lon, lat = _lonlat(station.lonlat)
    high = _check(plan) if is_high(station, plan.rules) else ""
    return {
        "name": station.name,
        "run": station.run or None,
        "number": station.number,
        "lon": lon,
        "lat": lat,
        "height_above_water_m": round(station.height_m, 1),
        "heading_deg_true": station.heading_deg_true,
        "pitch_deg": station.pitch_deg,
        "shows_m": round(station.shows_m, 1),
        "new_m": round(station.new_m, 1),
        "distance_m": round(station.distance_m, 1),
        "gsd_cm": round(station.gsd_cm, 2),
        "reaches": " ".join(station.reaches),
        "caution": f"{high}{proposal()}",
    }


def plan_csv(plan: FieldPlan) -> str:
    """Return the stations, one a line, in the order of flight; those beyond one battery last, without a run."""
    rows = [_facts(station, plan) for station in (*plan.stations, *plan.beyond)]
    return csv_text(_COLUMNS, [[row[name] for name in _COLUMNS] for row in rows])


def left_csv(plan: FieldPlan) -> str:
    """Return what the plan does not close, one span a line, with the reason."""
    rows = [[*_span(left.span).values(), round(left.span.length_m, 1), left.why] for left in plan.left]
    return csv_text(["ring", "from_m", "to_m", "length_m", "why"], rows)


def _lonlat(place: LonLat) -> tuple[float, float]:
    return round(place.lon_deg, _DIGITS), round(place.lat_deg, _DIGITS)
