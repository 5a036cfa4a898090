"""Writes what the boat and the crew logged: soundings, NMEA log, passes, outages, track, stage, shoreline, areas."""

from __future__ import annotations

import csv
import io
import json
from datetime import UTC, datetime
from functools import reduce
from operator import xor
from pathlib import Path

import numpy as np

from demo_photos.make import boat, regions
from demo_photos.make.frame import SEED, STAGES, stage_m, to_lonlat
from demo_photos.make.shoreline import DECIMALS, rings
from demo_photos.make.terrain import height_at

DRAUGHT_M = 0.3
_TRACK_STEP_S = 10.0


def write_all(out: Path) -> None:
    """Write every log and layer of the survey folder."""
    (out / "tracks").mkdir(parents=True, exist_ok=True)
    _text(out / "shoreline.geojson", shoreline_geojson())
    _text(out / "places.geojson", places_geojson())
    _text(out / "not_surveyed.geojson", not_surveyed_geojson())
    _text(out / "landmarks.csv", landmarks_csv())
    _text(out / "soundings_basin.csv", soundings_csv())
    _text(out / "soundings_cask_arm.nmea", nmea_log())
    _text(out / "passes.csv", passes_csv())
    _text(out / "outages.csv", outages_csv())
    _text(out / "stage.csv", _table(("date", "stage_m"), [(day, f"{value:.2f}") for day, value in STAGES]))
    _text(out / "tracks" / "boat_day1.gpx", track_gpx())


def shoreline_geojson() -> str:
    """Full supply level as one polygon, islands as holes."""
    outlines = [_lonlats(ring.xy_m) for ring in rings()]
    return _features([_feature({"name": "shoreline at full supply level"}, outlines)])


def places_geojson() -> str:
    """Named places, as drawn by hand."""
    return _features([_feature({"name": name, "kind": kind}, [_corners(c)]) for name, kind, c in regions.PLACES])


def not_surveyed_geojson() -> str:
    """Water the crew did not enter, with the reason."""
    return _features([_feature({"reason": reason}, [_corners(c)]) for reason, c in regions.NOT_SURVEYED])


def landmarks_csv() -> str:
    """Ramps, ways in, hazards and places, as the crew wrote them down; one kind is a word of their own."""
    places = [to_lonlat(x, y) for _, _, x, y, _ in regions.LANDMARKS]
    rows = [
        (f"{lon:.6f}", f"{lat:.6f}", name, kind, words)
        for (lon, lat), (name, kind, _, _, words) in zip(places, regions.LANDMARKS, strict=True)
    ]
    return _table(("lon", "lat", "name", "kind", "words"), rows)


def soundings_csv() -> str:
    """Soundings of all plans but the west arm: below the transducer, the day's water, a few faults among them."""
    rng = np.random.default_rng([SEED, 501])
    runs = [piece for plan in boat.sounding_plans() for piece in boat.run(plan)]
    time_s, xy_m = np.concatenate([r.time_s for r in runs]), np.vstack([r.xy_m for r in runs])
    depth_m = _spoilt(_sounded(time_s, xy_m, rng), rng)
    lon, lat = to_lonlat(*(xy_m + rng.normal(0, 0.4, xy_m.shape)).T)
    rows = [(f"{a:.6f}", f"{b:.6f}", f"{d:.2f}", _utc(t)) for a, b, d, t in zip(lon, lat, depth_m, time_s, strict=True)]
    return _table(("lon", "lat", "depth_m", "time"), rows)


def _sounded(time_s: np.ndarray, xy_m: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    """Depth below the transducer with noise of 0.05 m plus 0.5 % of the depth (one sigma each)."""
    stage = stage_m(datetime.fromtimestamp(float(np.median(time_s)), UTC))
    surface = np.array([stage_m(datetime.fromtimestamp(float(t), UTC)) for t in time_s[:: max(len(time_s) // 50, 1)]])
    stage = np.interp(time_s, time_s[:: max(len(time_s) // 50, 1)], surface) if len(time_s) > 50 else stage
    depth = stage - height_at(*xy_m.T) - DRAUGHT_M
    return depth + rng.normal(0, 1, len(depth)) * np.hypot(0.05, 0.005 * depth)


def _spoilt(depth_m: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    """Put in what echo sounders do: nine doubled echoes, six fish, seven lost bottoms (0)."""
    places = rng.choice(len(depth_m), 22, replace=False)
    depth_m = depth_m.copy()
    depth_m[places[:9]] *= 2.04
    depth_m[places[9:15]] *= 0.4
    depth_m[places[15:]] = 0
    return depth_m


def nmea_log() -> str:
    """Return the west arm as NMEA 0183 sentences: RMC, GGA and DPT, with checksums."""
    rng = np.random.default_rng([SEED, 502])
    lines = []
    for piece in boat.run(boat.nmea_plan()):
        depth = _sounded(piece.time_s, piece.xy_m, rng)
        lon, lat = to_lonlat(*(piece.xy_m + rng.normal(0, 0.4, piece.xy_m.shape)).T)
        course = np.degrees(np.arctan2(*(piece.xy_m[-1] - piece.xy_m[0]))) % 360
        for t, a, b, d in zip(piece.time_s, lon, lat, depth, strict=True):
            lines += _fix_sentences(t, a, b, d, piece.speed_mps / (1852 / 3600), course)
    return "\r\n".join(lines) + "\r\n"


def _fix_sentences(time_s: float, lon: float, lat: float, depth_m: float, knots: float, course: float) -> list[str]:
    when = datetime.fromtimestamp(round(time_s), UTC)
    clock, place = f"{when:%H%M%S}.00", f"{_nmea_angle(lat, 2, 'NS')},{_nmea_angle(lon, 3, 'EW')}"
    return [
        _sentence(f"GPRMC,{clock},A,{place},{knots:.1f},{course:.1f},{when:%d%m%y},,,A"),
        _sentence(f"GPGGA,{clock},{place},2,11,0.8,212.6,M,,M,,"),
        _sentence(f"SDDPT,{depth_m:.2f},0.00"),
    ]


def _nmea_angle(value_deg: float, digits: int, signs: str) -> str:
    degrees, minutes = divmod(round(abs(value_deg) * 600000), 600000)
    return f"{degrees:0{digits}d}{minutes / 10000:07.4f},{signs[int(value_deg < 0)]}"


def _sentence(body: str) -> str:
    return f"${body}*{reduce(xor, body.encode()):02X}"


def _numbered_passes() -> list[tuple[str, boat.Run]]:
    runs = [piece for plan in boat.sonar_plans() for piece in boat.run(plan)]
    names = dict.fromkeys(piece.name[:-1] for piece in runs)
    numbers = {name: f"P{i + 1:02d}" for i, name in enumerate(names)}
    return [(numbers[piece.name[:-1]], piece) for piece in runs]


def passes_csv() -> str:
    """Side-scan passes: range setting 30 m in the arms, 40 m in the basin; height of the transducer above the bed."""
    rng = np.random.default_rng([SEED, 503])
    rows = []
    for name, piece in _numbered_passes():
        lon, lat = to_lonlat(*piece.xy_m.T)
        depth = _sounded(piece.time_s, piece.xy_m, rng)
        wide = 40 if np.ptp(piece.xy_m[:, 1]) > np.ptp(piece.xy_m[:, 0]) else 30
        speed = piece.speed_mps + rng.normal(0, 0.06, len(lon))
        rows += [
            (name, _utc(t), f"{a:.6f}", f"{b:.6f}", f"{v:.2f}", wide, f"{h:.2f}")
            for t, a, b, v, h in zip(piece.time_s, lon, lat, speed, depth, strict=True)
        ]
    return _table(("pass", "time", "lon", "lat", "speed_mps", "range_m", "height_m"), rows)


def outages_csv() -> str:
    """One lost starboard channel, from a third to two thirds of the third pass."""
    times = np.concatenate([piece.time_s for name, piece in _numbered_passes() if name == "P03"])
    start, end = times[0] + np.ptp(times) * np.array([0.33, 0.66])
    return _table(
        ("pass", "channel", "from", "to", "why"),
        [("P03", "starboard", _utc(start), _utc(end), "cable worked loose")],
    )


def track_gpx() -> str:
    """Return the boat's track of the first day as GPX 1.1, a new segment after a pause of over two minutes."""
    times, points = boat.day_one()
    at = np.arange(times[0], times[-1], _TRACK_STEP_S)
    gaps = np.flatnonzero(np.diff(times) > 120)
    running = np.all([(at <= times[g]) | (at >= times[g + 1]) for g in gaps], axis=0) if len(gaps) else at > 0
    lon, lat = to_lonlat(*(np.interp(at, times, points[:, i]) for i in (0, 1)))
    segments = np.split(np.arange(len(at)), np.flatnonzero(np.diff(running.astype(int)) == 1) + 1)
    body = "".join(
        "<trkseg>\n"
        + "".join(
            f'<trkpt lat="{lat[i]:.6f}" lon="{lon[i]:.6f}"><time>{_utc(at[i])}</time></trkpt>\n'
            for i in segment
            if running[i]
        )
        + "</trkseg>\n"
        for segment in segments
    )
    head = '<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="1.1" creator="invented track logger" '
    return f'{head}xmlns="http://www.topografix.com/GPX/1/1">\n<trk><name>Boat, day 1</name>\n{body}</trk>\n</gpx>\n'


def _utc(time_s: float) -> str:
    return f"{datetime.fromtimestamp(round(float(time_s)), UTC):%Y-%m-%dT%H:%M:%SZ}"


def _lonlats(xy_m: np.ndarray) -> list[list[float]]:
    lon, lat = to_lonlat(*np.asarray(xy_m, float).T)
    return [[round(float(a), DECIMALS), round(float(b), DECIMALS)] for a, b in zip(lon, lat, strict=True)]


def _corners(corners: tuple) -> list[list[float]]:
    return _lonlats(np.array([*corners, corners[0]], float))


def _feature(properties: dict, outlines: list) -> dict:
    return {"type": "Feature", "properties": properties, "geometry": {"type": "Polygon", "coordinates": outlines}}


def _features(features: list[dict]) -> str:
    lines = ",\n".join(json.dumps(feature, ensure_ascii=False) for feature in features)
    return f'{{"type": "FeatureCollection", "features": [\n{lines}\n]}}\n'


def _table(head: tuple, rows: list) -> str:
    buffer = io.StringIO()
    csv.writer(buffer, lineterminator="\n").writerows([head, *rows])
    return buffer.getvalue()


def _text(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="")
