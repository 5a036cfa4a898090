"""The GPS directory of Exif: position, altitude, direction and time as the receiver gave them.

Tags and types: Exif 2.2 (JEITA CP-3451) section 4.6.6; altitude references 2 and 3, and the new meaning of 0 and 1,
are Exif 3.0.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Literal

from atlasgen.model import LonLat
from atlasgen.model.wording import say
from atlasgen.read.metadata import (
    Notes,
    by_hand,
    checked_position,
    decoded,
    in_range,
    shown,
)
from atlasgen.read.tiff import Entry

Datum = Literal["sea level", "ellipsoid", "unknown"]

# The shore of the lowest lake lies 430 m below sea level; no survey camera flies above an airliner.
_ALTITUDES_M = (-500.0, 15000.0)
_FARTHEST_ERROR_M = 100_000.0
# A date of the GPS epoch is a receiver that has not heard a satellite yet.
_NO_DATES = {date(1970, 1, 1), date(1980, 1, 1), date(1980, 1, 6)}
# Frames that agree with WGS 84 to a metre or so, as cameras spell them.
_LIKE_WGS84 = ("WGS84", "WGS1984", "WORLDGEODETIC", "ITRF", "JGD20")


@dataclass(frozen=True, slots=True)
class GpsFacts:
    """What the GPS directory says; names and units as in `PhotoFile`."""

    lonlat: LonLat | None = None
    position_error_m: float | None = None
    altitude_m: float | None = None
    altitude_datum: Datum | None = None
    direction_deg: float | None = None
    direction_ref: Literal["T", "M"] | None = None
    gps_time: datetime | None = None


def read_gps(gps: Mapping[int, Entry], exif_version: str, notes: Notes) -> GpsFacts:
    """Read every GPS tag of use; what cannot be right becomes None and a note."""
    lonlat = _position(gps, notes)
    altitude_m, datum = _altitude(gps, exif_version, notes)
    direction_deg, direction_ref = _direction(gps, notes)
    error_m = number(gps, 0x1F)
    if error_m is not None:
        # No receiver is exact: 0 stands for unknown.
        error_m = in_range(error_m, (0.0, _FARTHEST_ERROR_M), "GPSHPositioningError, m", notes) or None
    return GpsFacts(lonlat, error_m, altitude_m, datum, direction_deg, direction_ref, _time(gps, notes))


def number(tags: Mapping[int, Entry], tag: int) -> float | None:
    """Return the first number of a tag; None where the tag is absent, is text, or is a rational n/0."""
    numbers = tags[tag].numbers() if tag in tags else ()
    value = numbers[0] if numbers else None
    # A float tag may hold NaN or an infinity, which no range check should have to think of.
    return float(value) if value is not None and abs(value) < float("inf") else None


def letter(tags: Mapping[int, Entry], tag: int) -> str:
    """Return the first letter of a reference tag such as `N`, whatever type it was stored as; empty where absent."""
    data = tags[tag].data.strip(b"\x00 ") if tag in tags else b""
    return decoded(data[:1]).upper()


def _position(gps: Mapping[int, Entry], notes: Notes) -> LonLat | None:
    if 2 not in gps or 4 not in gps:
        return None
    try:
        lat_deg = _angle(gps, "GPSLatitude", 1, "NS")
        lon_deg = _angle(gps, "GPSLongitude", 3, "EW")
    except ValueError as error:
        value, expected = error.args
        notes.bad(value, expected, by_hand("position"))
        return None
    if lat_deg is None and lon_deg is None:
        lat_deg = lon_deg = 0.0
    if lat_deg is None or lon_deg is None:
        notes.bad(say("photo-half-a-position"), say("photo-both"), by_hand("position"))
        return None
    lonlat = checked_position(lon_deg, lat_deg, "EXIF", notes)
    if lonlat:
        _doubts(gps, notes)
    return lonlat


def _angle(gps: Mapping[int, Entry], name: str, ref_tag: int, signs: str) -> float | None:
    """Degrees from rationals d, m, s; None where all are 0/0. `signs` holds the plus and the minus letter."""
    numbers = gps[ref_tag + 1].numbers()
    if numbers and all(part is None for part in numbers):
        return None
    if not 1 <= len(numbers) <= 3:
        raise ValueError(f"{name} {shown(decoded(gps[ref_tag + 1].data))!r}", say("photo-rationals"))
    # Seconds 0/0 are the way of some cameras to say that the minutes carry the fraction.
    if len(numbers) == 3 and numbers[2] is None and numbers[1] is not None and numbers[1] % 1:
        numbers = numbers[:2]
    words = " ".join("?" if part is None else f"{part:.8g}" for part in numbers)
    parts = [part for part in numbers if part is not None]
    if len(parts) < len(numbers) or any(abs(part) > 60 for part in parts[1:]):
        raise ValueError(f"{name} {words}", say("photo-degrees-to-60"))
    size = sum(abs(part) / 60**place for place, part in enumerate(parts))
    return -size if _is_negative(gps, name, ref_tag, signs, words, any(part < 0 for part in parts)) else size


def _is_negative(gps: Mapping[int, Entry], name: str, ref_tag: int, signs: str, words: str, minus: bool) -> bool:
    ref = letter(gps, ref_tag)
    if ref == signs[1] or (not ref and minus):
        return True
    if ref != signs[0] or minus:
        value = say("photo-angle-with", name=name, angle=words, ref=ref or say("photo-missing"))
        raise ValueError(value, say("photo-no-minus", plus=signs[0], minus=signs[1]))
    return False


def _doubts(gps: Mapping[int, Entry], notes: Notes) -> None:
    if letter(gps, 0x09) == "V":
        notes.say(say("photo-gps-status", file=notes.file), "ambiguous")
    datum = decoded(gps[0x12].data).strip("\x00 ") if 0x12 in gps else ""
    if datum and not re.sub(r"[^A-Z0-9]", "", datum.upper()).startswith(_LIKE_WGS84):
        notes.say(say("photo-gps-datum", file=notes.file, datum=shown(datum)), "ambiguous")


def _altitude(gps: Mapping[int, Entry], exif_version: str, notes: Notes) -> tuple[float | None, Datum | None]:
    height_m = number(gps, 6)
    if height_m is None or in_range(height_m, _ALTITUDES_M, "GPSAltitude, m", notes) is None:
        return None, None
    ref = gps[5].data[:1] if 5 in gps else b""
    # Stored as text by some programs.
    code = ref[0] - 48 if ref.isdigit() else ref[0] if ref else None
    if code not in (None, 0, 1, 2, 3):
        notes.bad(f"GPSAltitudeRef {code}", say("photo-altitude-refs"))
        return None, None
    datum: Datum = "unknown"
    if code in (2, 3):
        datum = "sea level"
    elif code is not None and exif_version >= "0300":
        datum = "ellipsoid"
    # A minus already there is not turned back into a plus.
    return (-abs(height_m) if code in (1, 3) else height_m), datum


def _direction(gps: Mapping[int, Entry], notes: Notes) -> tuple[float | None, Literal["T", "M"] | None]:
    direction_deg = number(gps, 0x11)
    if direction_deg is None:
        return None, None
    if not 0 <= direction_deg <= 360:
        expected = say("photo-range", low="0", high="360")
        notes.bad(f"GPSImgDirection {direction_deg:.6g}°", expected, by_hand("heading"))
        return None, None
    ref = letter(gps, 0x10)
    if ref not in ("", "T", "M"):
        notes.bad(f"GPSImgDirectionRef {shown(ref)}", say("photo-direction-refs"), by_hand("heading"))
        return None, None
    return direction_deg % 360, ref or None  # type: ignore[return-value]


def _time(gps: Mapping[int, Entry], notes: Notes) -> datetime | None:
    numbers = gps[7].numbers() if 7 in gps else ()
    day = decoded(gps[0x1D].data).strip("\x00 ") if 0x1D in gps else ""
    if len(numbers) != 3 or None in numbers:
        return None
    if not re.search(r"\d", day):
        notes.bad(say("photo-gps-no-date"), say("photo-both"), say("photo-camera-clock"))
        return None
    match = re.match(r"(\d{4})[:/.-](\d{1,2})[:/.-](\d{1,2})", day)
    hours, minutes, seconds = (float(part) for part in numbers if part is not None)
    try:
        stamp = date(*(int(part) for part in match.groups())) if match else None
        if not stamp or stamp in _NO_DATES or not (0 <= hours <= 24 and 0 <= minutes <= 60 and 0 <= seconds <= 61):
            raise ValueError
        # Added up, not put together: 60 s is a rounding of 59.99 and runs over into the next minute.
        span = timedelta(hours=hours, minutes=minutes, seconds=seconds)
        return datetime(stamp.year, stamp.month, stamp.day, tzinfo=UTC) + span
    except (ValueError, OverflowError):
        clock = f"{hours:g}:{minutes:g}:{seconds:g}"
        value = say("photo-gps-time", day=shown(day), time=clock)
        notes.bad(value, say("photo-a-date-that-exists"), say("photo-camera-clock"))
        return None
