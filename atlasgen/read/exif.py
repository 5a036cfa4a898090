"""The Exif block of a photo: camera, clock, lens, orientation, words. Positions are in `gps`.

Tags, types and defaults: Exif 2.2 (JEITA CP-3451) section 4.6, Exif 2.31 for the offset tags; the XP tags are the
desktop's habit of UTF-16 text, common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from atlasgen.model.wording import say
from atlasgen.read.gps import GpsFacts, number, read_gps
from atlasgen.read.metadata import (
    Notes,
    by_hand,
    caption_text,
    clean_text,
    decoded,
    fraction_of_second,
    in_range,
    is_blank_time,
    read_offset,
    read_time,
    shown,
)
from atlasgen.read.tiff import Entry, Tags, read_tags

_DESCRIPTION, _MAKE, _MODEL, _ORIENTATION = 0x010E, 0x010F, 0x0110, 0x0112
_COPYRIGHT, _XP_TITLE, _COMMENT = 0x8298, 0x9C9B, 0x9286
_VERSION, _FOCAL, _ZOOM, _FOCAL_35MM = 0x9000, 0x920A, 0xA404, 0xA405
# Name, tag of the time, of its fraction and of its offset, the directory; best first.
_CLOCKS = [
    ("DateTimeOriginal", 0x9003, 0x9291, 0x9011, "exif"),
    ("DateTimeDigitized", 0x9004, 0x9292, 0x9012, "exif"),
    ("DateTime", 0x0132, 0x9290, 0x9010, "main"),
]
_READ = {
    _DESCRIPTION: "ImageDescription",
    _MAKE: "Make",
    _MODEL: "Model",
    _ORIENTATION: "Orientation",
    _COPYRIGHT: "Copyright",
    _FOCAL: "FocalLength",
    _ZOOM: "DigitalZoomRatio",
    _FOCAL_35MM: "FocalLengthIn35mmFilm",
    0x0002: "GPSLatitude",
    0x0004: "GPSLongitude",
    0x0006: "GPSAltitude",
    0x0007: "GPSTimeStamp",
    0x0011: "GPSImgDirection",
    0x001D: "GPSDateStamp",
    0x001F: "GPSHPositioningError",
    **{tag: name for name, tag, *_ in _CLOCKS},
}


@dataclass(frozen=True, slots=True)
class ExifFacts:
    """What the Exif block says; names and units as in `PhotoFile`. `comment` is the free text, often the maker's."""

    gps: GpsFacts = field(default_factory=GpsFacts)
    orientation: int = 1
    camera: str | None = None
    camera_time: datetime | None = None
    camera_offset_s: int | None = None
    focal_mm: float | None = None
    focal_35mm: float | None = None
    digital_zoom: float | None = None
    caption: str | None = None
    comment: str | None = None
    copyright: str | None = None


def read_exif(block: bytes | None, notes: Notes) -> ExifFacts:
    """Read an Exif block (from its TIFF header on); what cannot be right becomes None and a note."""
    if not block:
        return ExifFacts()
    try:
        tags = read_tags(block)
    except ValueError as error:
        expected = say("photo-a-tiff-header", fault=f"{error}")
        notes.bad(say("photo-exif-unread"), expected, say("photo-unknown-place-and-time"))
        return ExifFacts()
    lost = sorted(_READ[tag] for tag in tags.broken & _READ.keys())
    if lost:
        value = say("photo-tags-outside", count=len(lost), tags=", ".join(lost))
        notes.bad(value, say("photo-values-inside"))
    camera = _camera(tags)
    taken, offset_s = _camera_time(tags, notes)
    return ExifFacts(
        read_gps(tags.gps, _text(tags.exif, _VERSION), notes),
        _orientation(tags, notes),
        camera,
        taken,
        offset_s,
        _length(tags, _FOCAL, "FocalLength, mm", 10_000.0, notes),
        _length(tags, _FOCAL_35MM, "FocalLengthIn35mmFilm, mm", 10_000.0, notes),
        _length(tags, _ZOOM, "DigitalZoomRatio", 200.0, notes),
        _caption(tags, camera),
        caption_text(_comment(tags), camera),
        _copyright(tags),
    )


def _text(tags: Mapping[int, Entry], tag: int) -> str:
    """Text up to the first NUL; empty where absent."""
    return decoded(tags[tag].data.split(b"\x00")[0]).strip() if tag in tags else ""


def _orientation(tags: Tags, notes: Notes) -> int:
    # Some files hold 0; 1, as stored, is the default of TIFF 6.0 tag 274.
    value = number(tags.main, _ORIENTATION)
    if value is None:
        return 1
    if value not in range(1, 9):
        notes.bad(f"Orientation {value:g}", say("photo-orientations"), say("photo-turn-it"))
        return 1
    return int(value)


def _camera(tags: Tags) -> str | None:
    make = clean_text(_text(tags.main, _MAKE)) or clean_text(_text(tags.exif, _MAKE)) or ""
    model = clean_text(_text(tags.main, _MODEL)) or clean_text(_text(tags.exif, _MODEL)) or ""
    if make and model and model.split()[0].lower() in make.lower().split():
        return model
    return f"{make} {model}".strip() or None


def _camera_time(tags: Tags, notes: Notes) -> tuple[datetime | None, int | None]:
    for place, (name, tag, fraction_tag, offset_tag, directory) in enumerate(_CLOCKS):
        text = _text(tags.main if directory == "main" else tags.exif, tag)
        if is_blank_time(text):
            continue
        try:
            taken, offset_s = read_time(text)
        except ValueError as error:
            notes.bad(f"{name} {shown(text)!r}", str(error), by_hand("time"))
            continue
        if place:
            notes.say(say("photo-time-from", file=notes.file, tag=name, time=text), "ambiguous")
        taken = taken.replace(microsecond=0) + fraction_of_second(_text(tags.exif, fraction_tag))
        return taken, _offset(tags, offset_tag, text, notes) if offset_s is None else offset_s
    return None, None


def _offset(tags: Tags, tag: int, text: str, notes: Notes) -> int | None:
    written = _text(tags.exif, tag)
    if not written and text == _text(tags.main, 0x0132):
        # Phones that write one offset write it for DateTime; it holds for the same moment under another name.
        written = _text(tags.exif, 0x9010)
    if is_blank_time(written.lstrip("+-")):
        return None
    try:
        return read_offset(written)
    except ValueError as error:
        value = say("photo-offset", offset=f"{shown(written)!r}")
        notes.bad(value, str(error), say("photo-zone-from-survey"))
        return None


def _length(tags: Tags, tag: int, what: str, most: float, notes: Notes) -> float | None:
    """Return a value above 0; 0 and n/0 mean unknown, or none, in all three tags that are read so."""
    value = number(tags.exif, tag)
    return in_range(value, (0.0, most), what, notes) if value else None


def _caption(tags: Tags, camera: str | None) -> str | None:
    title = tags.main[_XP_TITLE].data.decode("utf-16-le", errors="ignore") if _XP_TITLE in tags.main else ""
    return caption_text(_text(tags.main, _DESCRIPTION), camera) or caption_text(title.split("\x00")[0], camera)


def _comment(tags: Tags) -> str:
    """Text of UserComment, whose first eight bytes name its code (Exif 2.2 table 6)."""
    data = tags.exif[_COMMENT].data if _COMMENT in tags.exif else b""
    code, body = data[:8].rstrip(b"\x00 "), data[8:]
    if code == b"UNICODE":
        return _utf16(body, tags.order)
    if code == b"JIS":
        return body.decode("iso2022_jp", errors="ignore")
    if code in (b"ASCII", b""):
        return decoded(body.split(b"\x00")[0])
    return decoded(data.split(b"\x00")[0])


def _utf16(body: bytes, order: str) -> str:
    """Two bytes a letter. Exif leaves the byte order open: take the mark, else the order that gives more letters."""
    if body[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return body.decode("utf-16", errors="ignore").split("\x00")[0]
    # Programs that write UTF-8 under this name leave no NUL between Latin letters.
    if b"\x00" not in body.rstrip(b"\x00"):
        try:
            return body.rstrip(b"\x00").decode("utf-8")
        except UnicodeDecodeError:
            pass
    codes = ("utf-16-le", "utf-16-be") if order == "<" else ("utf-16-be", "utf-16-le")
    texts = [body.decode(code, errors="ignore").split("\x00")[0] for code in codes]
    return max(texts, key=lambda text: sum(character < "\u0250" for character in text))


def _copyright(tags: Tags) -> str | None:
    """Photographer and editor are two texts, each ended by NUL (Exif 2.2 tag 33432)."""
    data = tags.main[_COPYRIGHT].data if _COPYRIGHT in tags.main else b""
    parts = (clean_text(decoded(part)) for part in data.split(b"\x00")[:2])
    return "; ".join(part for part in parts if part) or None
