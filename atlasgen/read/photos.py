"""The photos of a survey: which files there are, and what each says of itself.

Light on purpose, since every worker process imports it: no numpy, no shapely, Pillow only when a file needs it.
"""

from __future__ import annotations

import hashlib
import math
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Literal

from atlasgen.errors import fault_text
from atlasgen.model import LonLat, PhotoFile, Problem
from atlasgen.model.wording import say
from atlasgen.read.containers import Container, kind_of, open_container
from atlasgen.read.exif import ExifFacts, read_exif
from atlasgen.read.metadata import Notes, caption_text
from atlasgen.read.personal import personal_kinds
from atlasgen.read.xmp import XmpFacts, read_xmp

# Left behind by desktops in every folder that was looked at.
_DESKTOP_FILES = {"thumbs.db", "desktop.ini"}
# Two positions in one file that differ by more than this are not one fix rounded twice; ours, and wide on purpose.
_APART_M = 50.0
_METRES_PER_DEGREE = 111_195.0
# 16-bit colour with alpha, uncompressed, takes 8 bytes a pixel; the rest is metadata and a maker's previews.
_BYTES_PER_PIXEL = 8
_BYTES_BESIDE = 64_000_000


@dataclass(frozen=True, slots=True)
class PhotoJob:
    """One photo to read: where it is, its name in the survey, and the largest picture allowed."""

    path: Path
    file: str
    largest_megapixels: float


def list_photos(photos_dir: Path) -> tuple[list[str], list[Problem]]:
    """List every file under `photos_dir`, posix paths relative to it, sorted; hidden files are passed over.

    Links that lead out of the folder, pipes, devices and folders that cannot be opened become problems. A link to a
    folder inside is not followed: its photos are listed where they are.
    """
    names: list[str] = []
    problems: list[Problem] = []

    def refuse(error: OSError) -> None:
        name = Path(error.filename).relative_to(photos_dir).as_posix()
        why = say("photo-folder-closed", error=f"{error.strerror}")
        problems.append(_unreadable(name, why, say("photo-a-folder")))

    top = photos_dir.resolve()
    for path in _walk(photos_dir, refuse):
        name = path.relative_to(photos_dir).as_posix()
        why = _why_not_listed(path, name, top)
        if why:
            problems.append(_unreadable(printable(name), *why))
        elif path.is_file():
            names.append(name)
    return sorted(names), sorted(problems, key=lambda problem: problem.subject)


def printable(name: str) -> str:
    """Return a file's name in characters that can be written as UTF-8."""
    return name.encode("utf-8", "surrogateescape").decode("utf-8", "backslashreplace")


def _walk(photos_dir: Path, refuse: Callable[[OSError], None]) -> Iterator[Path]:
    for folder, folders, files in os.walk(photos_dir, onerror=refuse):
        folders[:] = [name for name in folders if not name.startswith(".")]
        links = [name for name in folders if (Path(folder) / name).is_symlink()]
        for name in files + links:
            if not name.startswith(".") and name.lower() not in _DESKTOP_FILES:
                yield Path(folder) / name


def _why_not_listed(path: Path, name: str, top: Path) -> tuple[str, str] | None:
    if printable(name) != name:
        return say("photo-name-not-utf8"), say("photo-a-name-in-utf8")
    try:
        # The walk follows no links, so what is none lies where it was found.
        real = path.resolve(strict=True) if path.is_symlink() else top / name
    except (OSError, RuntimeError):
        return say("photo-link-nowhere"), say("photo-a-file-not-a-link")
    if not real.is_relative_to(top):
        return say("photo-link-out"), say("photo-a-file-not-a-link")
    if not real.is_file() and not real.is_dir():
        return say("photo-pipe"), say("photo-a-photo-take-away")
    return None


def _unreadable(name: str, value: str, expected: str, next_step: str = "") -> Problem:
    return Problem(name, "unreadable", fault_text(name, value, expected, next_step), "left_out")


def file_stamp(job: PhotoJob, settled_before_ns: int) -> tuple[str | float, ...] | None:
    """Return what stands for a photo's contents: name, limit, size, times of writing and change, and file number.

    None if the file was written so lately that it may change again without these showing it.
    """
    try:
        stat = job.path.stat()
    except OSError:
        return None
    if max(stat.st_mtime_ns, stat.st_ctime_ns) >= settled_before_ns:
        return None
    return job.file, job.largest_megapixels, stat.st_size, stat.st_mtime_ns, stat.st_ctime_ns, stat.st_ino, stat.st_dev


def read_job(job: PhotoJob) -> PhotoFile | Problem:
    """`read_photo` of one job, for a pool of workers."""
    return read_photo(job.path, job.file, job.largest_megapixels)


def read_photo(path: Path, name: str, largest_megapixels: float) -> PhotoFile | Problem:
    """Read what one photo says of itself; a pure function of the file that never raises.

    `name` is the photo's name in every message. Nothing is decoded, so a picture cut short shows later. Metadata that
    cannot be right costs its own field and gives a note, never the photo.
    """
    try:
        return _read(path, name, largest_megapixels)
    except Exception as error:
        # The one boundary: whatever a file can do to a reader, the others are still to be read.
        why = getattr(error, "strerror", None) or f"{type(error).__name__}: {error}"
        return _unreadable(
            name, say("photo-file-unread", error=why), say("photo-a-photo-that-opens"), say("photo-copy-again")
        )


def _read(path: Path, name: str, largest_megapixels: float) -> PhotoFile | Problem:
    if not path.is_file():
        return _unreadable(name, say("photo-no-regular-file"), say("photo-a-photo"))
    with path.open("rb") as stream:
        head = stream.read(64)
        kind, words = kind_of(head)
        if kind is None:
            return _not_an_image(name, words)
        size_bytes = os.fstat(stream.fileno()).st_size
        if size_bytes > largest_megapixels * 1e6 * _BYTES_PER_PIXEL + _BYTES_BESIDE:
            return _too_large(name, say("photo-file-of", megabytes=f"{size_bytes / 1e6:.0f}"), largest_megapixels)
        data = head + stream.read()
    try:
        container = open_container(data, kind)
    except ValueError as error:
        value = say("photo-but", kind=say("photo-kind", kind=words), fault=f"{error}")
        message = fault_text(name, value, say("photo-a-whole-picture"), say("photo-copy-again"))
        return Problem(name, "damaged", message, "left_out")
    return _refusal(container, name, largest_megapixels) or _photo(container, name, data)


def _not_an_image(name: str, words: str) -> Problem:
    step = say("photo-develop") if words == "raw" else say("photo-save-as-jpeg")
    value = say("photo-it-is", kind=say("photo-kind", kind=words))
    return Problem(name, "not_an_image", fault_text(name, value, say("photo-formats"), step), "left_out")


def _too_large(name: str, value: str, largest_megapixels: float) -> Problem:
    message = fault_text(
        name,
        value,
        say("photo-at-most", megapixels=f"{largest_megapixels:g}"),
        say("photo-save-smaller"),
    )
    return Problem(name, "too_large", message, "left_out")


def _refusal(container: Container, name: str, largest_megapixels: float) -> Problem | None:
    width_px, height_px = container.width_px, container.height_px
    if container.format == "raw":
        return _not_an_image(name, "raw")
    if width_px < 1 or height_px < 1 or width_px * height_px > largest_megapixels * 1e6:
        return _too_large(name, say("photo-pixels", width=width_px, height=height_px), largest_megapixels)
    return None


def _photo(container: Container, name: str, data: bytes) -> PhotoFile:
    notes = Notes(name)
    exif = read_exif(container.exif, notes)
    xmp = read_xmp(container.xmp, notes)
    lonlat, position_from = _position(exif, xmp, notes)
    taken, offset_s = _time(exif, xmp, notes)
    gps = exif.gps
    from_xmp = gps.altitude_m is None and xmp.altitude_m is not None
    turned = gps if gps.direction_deg is not None else xmp
    return PhotoFile(
        file=name,
        sha256=hashlib.sha256(data).hexdigest(),
        size_bytes=len(data),
        format=container.format,
        width_px=container.width_px,
        height_px=container.height_px,
        orientation=1 if container.upright else exif.orientation,
        camera=exif.camera,
        camera_time=taken,
        camera_offset_s=offset_s,
        gps_time=gps.gps_time,
        lonlat=lonlat,
        position_from=position_from,
        position_error_m=gps.position_error_m if position_from == "exif" else None,
        altitude_m=xmp.altitude_m if from_xmp else gps.altitude_m,
        altitude_datum="unknown" if from_xmp else gps.altitude_datum,
        height_above_takeoff_m=xmp.height_above_takeoff_m,
        direction_deg=turned.direction_deg,
        direction_ref=turned.direction_ref if turned.direction_deg is not None else None,
        yaw_deg=xmp.yaw_deg,
        pitch_deg=xmp.pitch_deg,
        roll_deg=xmp.roll_deg,
        pose_from=xmp.pose_from,
        focal_mm=exif.focal_mm,
        focal_35mm=exif.focal_35mm,
        digital_zoom=exif.digital_zoom,
        caption=_caption(exif, xmp),
        copyright=exif.copyright or xmp.rights,
        personal=personal_kinds(container.exif, container.xmp),
        problems=tuple(notes.problems),
    )


def _position(exif: ExifFacts, xmp: XmpFacts, notes: Notes) -> tuple[LonLat | None, Literal["exif", "xmp"] | None]:
    here, there = exif.gps.lonlat, xmp.lonlat
    if here is None:
        return there, "xmp" if there else None
    if there is not None and _distance_m(here, there) > _APART_M:
        apart = f"{_distance_m(here, there):.0f}"
        words = say("photo-positions-apart", file=notes.file, apart=apart, most=f"{_APART_M:.0f}")
        notes.say(words, "ambiguous")
    return here, "exif"


def _distance_m(one: LonLat, other: LonLat) -> float:
    """Distance on a sphere with a flat middle: good to a percent at short range, and large where it must be large."""
    across_deg = abs((one.lon_deg - other.lon_deg + 180) % 360 - 180) * math.cos(math.radians(one.lat_deg))
    return _METRES_PER_DEGREE * math.hypot(across_deg, one.lat_deg - other.lat_deg)


def _time(exif: ExifFacts, xmp: XmpFacts, notes: Notes) -> tuple[datetime | None, int | None]:
    if exif.camera_time is not None or xmp.taken is None:
        return exif.camera_time, exif.camera_offset_s
    words = say("photo-time-from-xmp", file=notes.file, tag=xmp.time_from or "", time=f"{xmp.taken}")
    notes.say(words, "ambiguous")
    return xmp.taken, xmp.offset_s


def _caption(exif: ExifFacts, xmp: XmpFacts) -> str | None:
    # UserComment comes last: apart from people, makers put numbers of their own in it.
    told = exif.caption or caption_text(xmp.caption, exif.camera) or caption_text(xmp.title, exif.camera)
    return told or exif.comment
