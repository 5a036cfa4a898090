"""A small survey that the whole job can be run on in seconds: a pond, one true photo, one file that is no picture."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from photo_factory import exif_block, gps_tags, jpeg, picture, put, xmp

from atlasgen.model import LonLat

TAKEOFF_M = 4.0
_SETTINGS = f"""
[survey]
title = "Millpond"
edition = "1"
time_zone = "UTC-06:00"

[level]
elevation_m = 214.0
elevation_above = "sea level"

[shore]
start = [-96.4, -31.5989]

[[camera]]
match = "Tarnwing TW-2"
takeoff_above_water_m = {TAKEOFF_M}
"""


def make_pond(folder: Path) -> Path:
    """Make a pond with two kilometres of shore and one photo of it, so that gaps are left; return the folder."""
    (folder / "photos").mkdir(parents=True)
    (folder / "survey.toml").write_text(_SETTINGS, encoding="utf-8")
    turns = [math.radians(angle) for angle in range(0, 360, 5)]
    ring = [[-96.4 + 0.0042 * math.cos(t), -31.6 + (0.0011 + 0.0006 * math.cos(3 * t)) * math.sin(t)] for t in turns]
    shape = {"type": "Polygon", "coordinates": [[*ring, ring[0]]]}
    (folder / "shoreline.geojson").write_text(json.dumps(shape), encoding="utf-8")
    station = SimpleNamespace(height_m=40.0, heading_deg_true=0.0, pitch_deg=-30.0, lonlat=LonLat(-96.4, -31.6008))
    photograph(folder, [station])
    return folder


def photograph(folder: Path, stations: Iterable[Any]) -> None:
    """Add what the drone would bring home from some stations; its clock and its pose are true."""
    plain = picture(4000, 3000)
    for number, station in enumerate(stations):
        pose = (
            f'drone:RelativeAltitude="{station.height_m - TAKEOFF_M:+.2f}" drone:GimbalRollDegree="+0.00" '
            f'drone:GimbalYawDegree="{(station.heading_deg_true + 180) % 360 - 180:+.2f}" '
            f'drone:GimbalPitchDegree="{station.pitch_deg:+.2f}"'
        )
        (lat, south), (lon, west) = (_dms(station.lonlat.lat_deg), _dms(station.lonlat.lon_deg))
        exif = exif_block(
            {"Make": "Tarnwing", "Model": "TW-2"},
            {"DateTimeOriginal": f"2026:04:20 10:{number:02d}:00", "FocalLengthIn35mmFilm": 24},
            gps_tags(lat, "S" if south else "N", lon, "W" if west else "E"),
        )
        name = f"flown_{len(list((folder / 'photos').iterdir())):02d}.jpg"
        put(folder / "photos", name, jpeg(exif, xmp(pose), plain))


def _dms(degrees: float) -> tuple[tuple[tuple[int, int], ...], bool]:
    """Return degrees, minutes and seconds as Exif writes them, and whether they are negative."""
    whole = round(abs(degrees) * 36_000_000)
    return ((whole // 36_000_000, 1), (whole // 600_000 % 60, 1), (whole % 600_000, 10_000)), degrees < 0
