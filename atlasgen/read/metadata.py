"""What Exif and XMP share: saying what is wrong, cleaning text, reading dates, checking a position."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from typing import Literal

from atlasgen.errors import fault_text
from atlasgen.model import LonLat, Problem
from atlasgen.model.text import plain_text
from atlasgen.model.wording import say

LONGEST_TEXT = 2000

# The first day of the clocks that cameras fall back to: Unix, and the file system of memory cards.
_CLOCK_RESETS = {date(1970, 1, 1), date(1980, 1, 1)}
_TIME = re.compile(
    r"(\d{4})[:/.-](\d{1,2})[:/.-](\d{1,2})[T ]+(\d{1,2}):(\d{1,2})(?::(\d{1,2})(?:[.,](\d+))?)?\s*(Z|[+-]\d\d:?\d\d)?"
)
_OFFSET = re.compile(r"([+-])(\d\d):?(\d\d)")
# Civil offsets run from -12:00 to +14:00 (IANA time zone database).
_WIDEST_OFFSET_S = 14 * 3600
# Words that cameras write into every picture; a caption of nothing else says nothing.
_EMPTY_WORDS = {"digital", "still", "stillcamera", "camera", "dsc", "picture", "image", "photo", "default", "untitled"}
_FILE_NAME = re.compile(r"[\w:\\/.~ -]*\.(?:jpe?g|dng|heic|heif|png|tiff?)", re.IGNORECASE)


class Notes:
    """Collects what is said about one photo; each note becomes a `Problem` of level `note`."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.problems: list[Problem] = []

    def bad(self, value: str, expected: str, next_step: str = "") -> None:
        """Say that a value cannot be right and was not used."""
        self.say(fault_text(self.file, value, expected, next_step))

    def say(self, message: str, code: str = "bad_metadata") -> None:
        """Say `message`, which begins with the file's name."""
        self.problems.append(Problem(self.file, code, message))


def by_hand(what: Literal["position", "time", "heading"]) -> str:
    """Return the next step where a value must come from the crew."""
    return say("photo-by-hand", what=what)


def shown(value: object) -> str:
    """Short printable form of a value out of a file, for a message."""
    text = clean_text(str(value)) or ""
    return text if len(text) <= 60 else f"{text[:57]}..."


def decoded(data: bytes) -> str:
    """Text of unknown encoding: UTF-8 where it is that, else Windows Latin, the habit of older programs."""
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def clean_text(text: str) -> str | None:
    """Strip control characters, lone surrogates and direction marks, fold blanks, cut at 2000; None if empty."""
    # Cut twice: cleaning a caption of fifty megabytes to keep its head would take a minute.
    return plain_text(text[: 10 * LONGEST_TEXT])[:LONGEST_TEXT].rstrip() or None


def caption_text(text: str | None, camera: str | None) -> str | None:
    """Return cleaned text that a person may have written, or None for what a camera writes by itself."""
    clean = clean_text(text or "")
    if not clean or _FILE_NAME.fullmatch(clean):
        return None
    # Without a letter it is a counter.
    words = set(re.findall(r"[^\W_]*[^\W\d_][^\W_]*", clean.lower()))
    return clean if words - _EMPTY_WORDS - set(re.findall(r"[^\W_]+", (camera or "").lower())) else None


def is_blank_time(text: str) -> bool:
    """Whether the text is Exif's `unknown`: blanks and colons only."""
    return not re.sub(r"[\s:./-]", "", text)


def read_time(text: str) -> tuple[datetime, int | None]:
    """Read a date and time as cameras and XMP write it: `(naive local time, offset from UTC in seconds or None)`.

    Raises
    ------
    ValueError
        It is no date, an impossible one, or the first day of a clock that was never set; the text says which.
    """
    match = _TIME.fullmatch(text.strip())
    if not match:
        raise ValueError(say("photo-a-date-such-as"))
    year, month, day, hour, minute = (int(part) for part in match.groups()[:5])
    if year == 0:
        raise ValueError(say("photo-a-set-clock"))
    try:
        # The seconds are added so that 60, a rounding of 59.99, runs over into the next minute.
        taken = datetime(year, month, day, hour, minute) + timedelta(seconds=int(match[6] or 0))
    except (ValueError, OverflowError):
        raise ValueError(say("photo-a-date-that-exists")) from None
    if int(match[6] or 0) > 60:
        raise ValueError(say("photo-seconds-to-60"))
    if taken.date() in _CLOCK_RESETS:
        raise ValueError(say("photo-a-set-clock-not-restarted"))
    return taken + fraction_of_second(match[7]), read_offset(match[8]) if match[8] else None


def fraction_of_second(digits: str | None) -> timedelta:
    """Digits after the decimal point as a time, to the microsecond, cut rather than rounded up to a new second."""
    found = re.match(r"\d+", (digits or "").strip())
    return timedelta(microseconds=int(found[0][:6].ljust(6, "0"))) if found else timedelta()


def read_offset(text: str) -> int:
    """Read an offset from UTC, `+05:45`, `-0500` or `Z`, in seconds.

    Raises
    ------
    ValueError
        It is not of that form, or wider than civil time goes.
    """
    if text.strip() == "Z":
        return 0
    match = _OFFSET.fullmatch(text.strip())
    if not match or int(match[3]) > 59:
        raise ValueError(say("photo-an-offset-such-as"))
    offset_s = (int(match[2]) * 60 + int(match[3])) * 60
    if offset_s > _WIDEST_OFFSET_S:
        raise ValueError(say("photo-an-offset-within"))
    return -offset_s if match[1] == "-" else offset_s


def checked_position(lon_deg: float, lat_deg: float, source: Literal["EXIF", "XMP"], notes: Notes) -> LonLat | None:
    """Return a position that can be, or None with a note."""
    if lon_deg == 0 and lat_deg == 0:
        notes.bad(say("photo-position-zero", source=source), say("photo-a-position-not-zero"), by_hand("position"))
    elif not -90 <= lat_deg <= 90:
        value = say("photo-latitude", source=source, degrees=f"{lat_deg:.6g}")
        notes.bad(value, say("photo-latitudes"), by_hand("position"))
    elif not -180 <= lon_deg <= 180:
        value = say("photo-longitude", source=source, degrees=f"{lon_deg:.6g}")
        notes.bad(value, say("photo-range", low="-180", high="180"), by_hand("position"))
    else:
        return LonLat(lon_deg, lat_deg)
    return None


def in_range(value: float, limits: tuple[float, float], what: str, notes: Notes) -> float | None:
    """Return a value inside the limits, or None with a note; `what` names tag and unit as in `FocalLength, mm`."""
    if limits[0] <= value <= limits[1]:
        return value
    notes.bad(f"{what}: {value:.6g}", say("photo-range-not-used", low=f"{limits[0]:g}", high=f"{limits[1]:g}"))
    return None
