"""The pond as a German crew would publish it: their own words in German, soundings, a stage record, weed."""

from __future__ import annotations

import json
import math
from pathlib import Path
from types import SimpleNamespace

from pond import make_pond, photograph

from atlasgen.model import LonLat

_WORDS = """
[survey]
title = "Mühlweiher"
edition = "2026.1"
season = "Frühjahr 2026"
crew = "Vermessung Nord"
copyright = "© 2026 Vermessung Nord"
time_zone = "UTC-06:00"

[level]
elevation_m = 214.0
elevation_above = "sea level"
datum = "Stauziel"

[units]
depth = "metres"
language = "de"

[[camera]]
match = "Tarnwing TW-2"
takeoff_above_water_m = 4.0
"""
_MIDDLE = (-96.4, -31.6)


def make_german_pond(folder: Path) -> Path:
    """Make the survey; return the folder."""
    make_pond(folder)
    (folder / "survey.toml").write_text(_WORDS, encoding="utf-8")
    views = ((-96.4022, -31.5997, 200.0), (-96.3985, -31.6003, 20.0), (-96.3975, -31.6001, 120.0))
    stations = [
        SimpleNamespace(height_m=38.0, heading_deg_true=deg, pitch_deg=-25.0, lonlat=LonLat(lon, lat))
        for lon, lat, deg in views
    ]
    photograph(folder, stations)
    (folder / "stage.csv").write_text("date,stage_m\n2026-04-16,-0.45\n2026-04-20,-0.50\n", encoding="utf-8")
    (folder / "soundings.csv").write_text(_soundings(), encoding="utf-8")
    _areas(folder / "not_surveyed.geojson", {"reason": "Seerosen"}, -96.3972, -31.6000, 0.0003)
    _areas(folder / "places.geojson", {"name": "Ostarm"}, -96.3975, -31.6000, 0.0012)
    return folder


def _soundings() -> str:
    """Lines along the pond 20 m apart: a bowl 6 m deep with a step in it."""
    rows = ["lon,lat,depth_m,time"]
    for line in range(-6, 7):
        for step in range(-75, 76):
            x, y = step / 75 * 0.0040, line * 0.00018
            off = math.hypot(x / 0.0042, y / 0.0014)
            if off < 0.97:
                depth = 6.0 * (1 - off**2) + (0.8 if off < 0.5 else 0.0)
                rows.append(f"{_MIDDLE[0] + x:.7f},{_MIDDLE[1] + y:.7f},{depth:.2f},2026-04-18T10:{line + 6:02d}:00")
    return "\n".join(rows) + "\n"


def _areas(path: Path, properties: dict[str, str], lon: float, lat: float, half: float) -> None:
    corners = [(lon - half, lat - half), (lon + half, lat - half), (lon + half, lat + half), (lon - half, lat + half)]
    shape = {"type": "Polygon", "coordinates": [[*corners, corners[0]]]}
    feature = {"type": "Feature", "properties": properties, "geometry": shape}
    path.write_text(json.dumps({"type": "FeatureCollection", "features": [feature]}), encoding="utf-8")
