"""The XMP packet of a photo: camera pose and height from drones, positions, words.

XMP Specification (September 2005) for the packet, the coordinate form of page 85 and the language alternatives.
Makers of drones each use a namespace of their own for the same tags, so pose tags are known by their local name alone.
The aircraft's attitude (`Flight...`) is not the camera's and is never read.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, time
from typing import TYPE_CHECKING, Literal, NamedTuple

from atlasgen.model import LonLat
from atlasgen.model.wording import say
from atlasgen.read.metadata import Notes, by_hand, checked_position, clean_text, in_range, read_time, shown

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

_RDF = "{http://www.w3.org/1999/02/22-rdf-syntax-ns#}"
_LANGUAGE = "{http://www.w3.org/XML/1998/namespace}lang"
_EXIF = "http://ns.adobe.com/exif/1.0/"
_DC = "http://purl.org/dc/elements/1.1/"

# Before and after the word Yaw, Pitch or Roll, best first. Plain names count only in a namespace for cameras, since
# elsewhere they are the aircraft's.
_POSE_NAMES = [("Gimbal", "Degree"), ("Camera", "Degree"), ("Camera", ""), ("", "")]
_POSE_LIMITS_DEG = {"Yaw": 360.0, "Pitch": 180.0, "Roll": 360.0}
# `Longtitude` is how one family of drones spells it.
_POSITION_NAMES = [("GPSLatitude", "GPSLongitude"), ("GpsLatitude", "GpsLongitude"), ("GpsLatitude", "GpsLongtitude")]
_TIME_NAMES = [
    (_EXIF, "DateTimeOriginal"),
    ("http://ns.adobe.com/photoshop/1.0/", "DateCreated"),
    ("http://ns.adobe.com/xap/1.0/", "CreateDate"),
]
# Bounded, so that a number of a million digits is not a number.
_NUMBER = re.compile(r"([+-]?\d{0,20}\.?\d{1,20}(?:[eE][+-]?\d{1,3})?)(?:/(\d{1,20}))?")
_COORDINATE = re.compile(r"(\d{1,3}),(\d{1,2}(?:\.\d+)?)(?:,(\d{1,2}(?:\.\d+)?))?\s*([NSEW])")


class Property(NamedTuple):
    """One property of the packet: namespace, local name, text."""

    space: str
    name: str
    text: str


@dataclass(frozen=True, slots=True)
class XmpFacts:
    """What the packet says; names and units as in `PhotoFile`."""

    lonlat: LonLat | None = None
    altitude_m: float | None = None
    height_above_takeoff_m: float | None = None
    direction_deg: float | None = None
    direction_ref: Literal["T", "M"] | None = None
    yaw_deg: float | None = None
    pitch_deg: float | None = None
    roll_deg: float | None = None
    pose_from: str | None = None
    taken: datetime | None = None
    offset_s: int | None = None
    time_from: str | None = None
    caption: str | None = None
    title: str | None = None
    rights: str | None = None


def read_xmp(packet: bytes | None, notes: Notes) -> XmpFacts:
    """Read an XMP packet; one that cannot be parsed, or is built to do harm, becomes a note."""
    if not packet or not packet.strip(b"\x00 \t\r\n"):
        return XmpFacts()
    try:
        found = properties(packet)
    except ValueError as error:
        notes.bad(say("photo-xmp-not-used", error=f"{error}"), say("photo-sound-xml"))
        return XmpFacts()
    yaw_deg, pitch_deg, roll_deg, pose_from = _pose(found, notes)
    taken, offset_s, time_from = _time(found)
    height = number_of(_first(found, "RelativeAltitude"))
    direction = number_of(_first(found, "GPSImgDirection", _EXIF))
    if direction is not None:
        direction = in_range(direction, (0.0, 360.0), "XMP GPSImgDirection, degrees", notes)
    references: dict[str | None, Literal["T", "M"]] = {"T": "T", "M": "M"}
    return XmpFacts(
        _position(found, notes),
        _altitude(found, notes),
        None if height is None else in_range(height, (-1000.0, 15000.0), "XMP RelativeAltitude, m", notes),
        direction,
        references.get(_first(found, "GPSImgDirectionRef", _EXIF)),
        yaw_deg,
        pitch_deg,
        roll_deg,
        pose_from,
        taken,
        offset_s,
        time_from,
        clean_text(_first(found, "description", _DC) or ""),
        clean_text(_first(found, "title", _DC) or ""),
        clean_text(_first(found, "rights", _DC) or ""),
    )


def properties(packet: bytes) -> list[Property]:
    """List the simple properties, attributes and elements alike, in the order of the packet.

    Of a list the first item counts, of language alternatives the default.

    Raises
    ------
    ValueError
        It is not well formed, or declares entities or a document type.
    """
    from xml.etree.ElementTree import ParseError

    from defusedxml.ElementTree import fromstring

    if packet[:2] in (b"\xff\xfe", b"\xfe\xff"):
        packet = packet.decode("utf-16", errors="replace").encode()
    body = packet[max(packet.find(b"<"), 0) :].rstrip(b"\x00 \t\r\n")
    try:
        root = fromstring(body, forbid_dtd=True)
    except ParseError as error:
        raise ValueError(say("photo-xml-unsound", error=f"{error}")) from error
    found: list[Property] = []
    for rdf in root.iter(f"{_RDF}RDF"):
        for description in rdf:
            found += [_property(name, text) for name, text in description.items() if not name.startswith(_RDF)]
            found += [_property(child.tag, _text(child)) for child in description]
    return found


def _property(tag: str, text: str) -> Property:
    space, _, name = tag.rpartition("}")
    return Property(space.lstrip("{"), name, text.strip())


def _text(element: Element) -> str:
    items = list(element.iter(f"{_RDF}li"))
    if items:
        return next((item for item in items if item.get(_LANGUAGE) == "x-default"), items[0]).text or ""
    return (element.text or element.get(f"{_RDF}resource") or "") if not len(element) else ""


def _first(found: Sequence[Property], name: str, space: str | None = None) -> str | None:
    return next((p.text for p in found if p.name == name and p.text and space in (None, p.space)), None)


def number_of(text: str | None) -> float | None:
    """Read `+39.80` or the rational `699/10`; None where it is neither, or n/0."""
    match = _NUMBER.fullmatch((text or "").strip())
    if not match or (match[2] and not int(match[2])):
        return None
    value = float(match[1]) / int(match[2] or 1)
    return value if abs(value) < float("inf") else None


def _pose(found: Sequence[Property], notes: Notes) -> tuple[float | None, float | None, float | None, str | None]:
    """Yaw, pitch and roll of the first way of naming that is there; the three are never mixed from two."""
    for before, after in _POSE_NAMES:
        near = [p for p in found if before or "camera" in p.space.lower()]
        names = {word: f"{before}{word}{after}" for word in _POSE_LIMITS_DEG}
        angles = {word: number_of(_first(near, name)) for word, name in names.items()}
        told = [names[word] for word, angle in angles.items() if angle is not None]
        if told:
            checked = [
                None if angle is None else in_range(angle, (-limit, limit), f"XMP {names[word]}, degrees", notes)
                for (word, angle), limit in zip(angles.items(), _POSE_LIMITS_DEG.values(), strict=True)
            ]
            return checked[0], checked[1], checked[2], f"XMP {told[0]}"
    return None, None, None, None


def _position(found: Sequence[Property], notes: Notes) -> LonLat | None:
    for lat_name, lon_name in _POSITION_NAMES:
        lat_text, lon_text = _first(found, lat_name), _first(found, lon_name)
        if lat_text is None or lon_text is None:
            continue
        lat_deg, lon_deg = coordinate(lat_text, "NS"), coordinate(lon_text, "EW")
        if lat_deg is not None and lon_deg is not None:
            return checked_position(lon_deg, lat_deg, "XMP", notes)
        notes.bad(
            f"XMP {lat_name} {shown(lat_text)}, {lon_name} {shown(lon_text)}",
            say("photo-xmp-degrees"),
            by_hand("position"),
        )
    return None


def coordinate(text: str, letters: str) -> float | None:
    """Degrees from `DDD,MM,SSk`, `DDD,MM.mmk` (any number of decimals) or decimal degrees; None for anything else.

    `letters` holds the plus and the minus letter, `NS` or `EW`.
    """
    match = _COORDINATE.fullmatch(text.strip())
    if not match:
        return number_of(text) if "/" not in text else None
    degrees, minutes, seconds, letter = match.groups()
    if letter not in letters or float(minutes) > 60 or float(seconds or 0) > 60:
        return None
    size = int(degrees) + float(minutes) / 60 + float(seconds or 0) / 3600
    return -size if letter == letters[1] else size


def _altitude(found: Sequence[Property], notes: Notes) -> float | None:
    height_m = number_of(_first(found, "GPSAltitude", _EXIF))
    if height_m is None or in_range(height_m, (-500.0, 15000.0), "XMP GPSAltitude, m", notes) is None:
        return None
    return -abs(height_m) if _first(found, "GPSAltitudeRef", _EXIF) == "1" else height_m


def _time(found: Sequence[Property]) -> tuple[datetime | None, int | None, str | None]:
    for space, name in _TIME_NAMES:
        try:
            taken, offset_s = read_time(_first(found, name, space) or "")
        except ValueError:
            # A date alone is common here and says too little to be worth a note.
            continue
        # Programs write midnight where they know the day only.
        if space == _EXIF or taken.time() != time():
            return taken, offset_s, f"XMP {name}"
    return None, None, None
