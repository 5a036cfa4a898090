"""GPX tracks and NMEA logs -> positions by time, for photos that carry none.

XML is parsed by defusedxml with document types, entities and external references refused, and cut down to track
points before gpxpy sees it. GPX 1.1 asks for latitudes from -90 to 90 and longitudes from -180 up to but not at 180
(GPX 1.1 schema, latitudeType and longitudeType); times are UTC (same schema, wptType/time).
"""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model import Problem, Track
from atlasgen.model.wording import say
from atlasgen.read.nmea import is_nmea, read_nmea
from atlasgen.units import grouped_words

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

# 6 January 1980, the epoch of GPS time (from memory): an earlier time is a receiver's empty clock.
_GPS_BEGAN_S = 315964800.0


class _Segment(NamedTuple):
    """One piece as recorded: columns time_s, lon_deg, lat_deg."""

    rows: np.ndarray


def read_tracks(paths_names: list[tuple[Path, str]]) -> tuple[Track | None, list[Problem]]:
    """Read all tracks into one, segments in order of their first time and numbered from 0.

    A file that cannot be used becomes a Problem of level `fault`, and the others are read all the same; None where
    no point with a time was found.
    """
    segments: list[_Segment] = []
    problems: list[Problem] = []
    files = []
    for path, name in paths_names:
        try:
            found, said = _segments(path, name)
        except InputFault as fault:
            problems.append(Problem(name, "unusable", f"{fault} {say('input-file-not-used')}", "fault"))
            continue
        problems += said
        segments += found
        files += [name] if found else []
    if not segments:
        return None, problems
    segments.sort(key=lambda segment: segment.rows[0].tolist())
    rows = np.concatenate([segment.rows for segment in segments])
    numbers = np.repeat(np.arange(len(segments)), [len(segment.rows) for segment in segments])
    return Track(rows[:, 0], rows[:, 1], rows[:, 2], numbers, tuple(files)), problems


def _segments(path: Path, name: str) -> tuple[list[_Segment], list[Problem]]:
    raw, counts = _from_nmea(path, name) if is_nmea(path) else _from_gpx(path, name)
    segments = []
    for rows in raw:
        timed = rows[np.isfinite(rows[:, 0])]
        known = timed[timed[:, 0] >= _GPS_BEGAN_S]
        counts["no time"] += len(rows) - len(timed)
        counts["early"] += len(timed) - len(known)
        if len(known):
            segments.append(_Segment(_in_order(known, counts)))
    problems = [Problem(name, "bad_row", f"{name}: {text}") for text in _sentences(counts)]
    if not segments:
        problems.append(Problem(name, "no_time", say("input-track-without-times", file=name)))
    return segments, problems


def _in_order(rows: np.ndarray, counts: Counter[str]) -> np.ndarray:
    """Sort by time and keep the first of equal times, so that interpolation has one answer."""
    back = int((np.diff(rows[:, 0]) < 0).sum())
    counts["back"] += back
    if back:
        rows = rows[np.argsort(rows[:, 0], kind="stable")]
    first = np.r_[True, np.diff(rows[:, 0]) > 0]
    counts["repeated"] += int((~first).sum())
    return rows[first]


# In the order in which they are told; keys of `input-track-points`.
_COUNTED = (
    *("no time", "early", "back", "repeated", "zoneless", "no position"),
    *("route", "waypoint", "bad checksum", "no fix"),
)


def _sentences(counts: Counter[str]) -> list[str]:
    return [
        say("input-track-points", what=key.replace(" ", "-"), count=grouped_words(counts[key]))
        for key in _COUNTED
        if counts[key]
    ]


def _from_nmea(path: Path, name: str) -> tuple[list[np.ndarray], Counter[str]]:
    log = read_nmea(path, name)
    rows = np.column_stack([log.fix_time_s, log.fix_lon_deg, log.fix_lat_deg])
    # A receiver that was off in between has left two pieces.
    breaks = np.flatnonzero(np.abs(np.diff(log.fix_time_s)) > 3600) + 1
    return [piece for piece in np.split(rows, breaks) if len(piece)], Counter(log.fixes_rejected)


def _from_gpx(path: Path, name: str) -> tuple[list[np.ndarray], Counter[str]]:
    import gpxpy

    root = _safe_xml(path, name)
    counts = _bare(root)
    from xml.etree.ElementTree import tostring

    try:
        gpx = gpxpy.parse(tostring(root, encoding="unicode"), version="1.1")
    except (gpxpy.gpx.GPXException, ValueError) as error:
        raise InputFault(name, error, say("input-gpx"), say("input-export-track")) from None
    pieces = []
    for segment in (segment for track in gpx.tracks for segment in track.segments):
        times = [point.time for point in segment.points]
        counts["zoneless"] += sum(time is not None and time.tzinfo is None for time in times)
        rows = [
            (_seconds(time), point.longitude, point.latitude) for time, point in zip(times, segment.points, strict=True)
        ]
        if rows:
            pieces.append(np.array(rows, dtype=float))
    if not pieces:
        raise InputFault(name, _contents(counts), say("input-gpx"), say("input-export-no-plan"))
    return pieces, counts


def _contents(counts: Counter[str]) -> str:
    keys = ("route", "waypoint", "no position")
    found = [say("input-gpx-part", part=k.replace(" ", "-"), count=counts[k]) for k in keys if counts[k]]
    return say("input-no-track-point-but", found=", ".join(found)) if found else say("input-no-track-point")


def _seconds(time) -> float:
    """Seconds since 1970; a time without a zone is UTC."""
    from datetime import UTC

    if time is None:
        return float("nan")
    return (time if time.tzinfo else time.replace(tzinfo=UTC)).timestamp()


def _safe_xml(path: Path, name: str) -> Element:
    from xml.etree.ElementTree import ParseError

    from defusedxml import DefusedXmlException, ElementTree

    try:
        data = path.read_bytes()
    except OSError as error:
        raise InputFault(name, error.strerror, say("input-gpx"), say("input-check-rights")) from None
    try:
        root = ElementTree.fromstring(_declared(data), forbid_dtd=True)
    except DefusedXmlException:
        value, expected = say("input-declares-entities"), say("input-plain-gpx")
        raise InputFault(name, value, expected, say("input-export-track")) from None
    except (ParseError, ValueError, LookupError) as error:
        raise InputFault(
            name, say("input-unsound-xml", error=f"{error}"), say("input-gpx"), say("input-export-track")
        ) from None
    if root.tag.rpartition("}")[2].lower() != "gpx":
        kind = f"{root.tag.rpartition('}')[2]!r}"
        raise InputFault(name, say("input-xml-of-kind", kind=kind), say("input-gpx"), say("input-export-as-gpx"))
    return root


def _declared(data: bytes) -> bytes:
    """Declare the prefixes that a careless exporter used without declaring; other encodings pass untouched."""
    used = set(re.findall(rb"[<\s/]([A-Za-z_][\w.-]*):[A-Za-z_][\w.-]*(?=[\s=/>])", data))
    missing = sorted(p for p in used - {b"xml", b"xmlns"} if b"xmlns:" + p not in data)
    extra = b"".join(b' xmlns:%s="urn:undeclared:%s"' % (prefix, prefix) for prefix in missing)
    return re.sub(rb"<gpx\b", lambda match: match[0] + extra, data, count=1)


def _bare(root: Element) -> Counter[str]:
    """Cut the tree down to tracks, segments, points in range and their times; count what was cut."""
    counts: Counter[str] = Counter()
    for element in root.iter():
        element.tag = element.tag.rpartition("}")[2]
        element.attrib = {key: value for key, value in element.attrib.items() if key in ("lat", "lon")}
    counts["route"], counts["waypoint"] = len(root.findall("rte")), len(root.findall("wpt"))
    _keep(root, "trk")
    for track in root:
        _keep(track, "trkseg")
        for segment in track:
            _keep(segment, "trkpt")
            points = [point for point in segment if _in_range(point)]
            counts["no position"] += len(segment) - len(points)
            segment[:] = points
            for point in points:
                _keep(point, "time")
    return counts


def _keep(parent: Element, tag: str) -> None:
    parent[:] = [child for child in parent if child.tag == tag]


def _in_range(point: Element) -> bool:
    try:
        lat, lon = float(point.get("lat", "")), float(point.get("lon", ""))
    except ValueError:
        return False
    return -90 <= lat <= 90 and -180 <= lon < 180
