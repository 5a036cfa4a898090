"""Finishes the laid-out book: real photos for stand-ins, viewports for the maps, bookmarks.

The book is laid out with tiny stand-in JPEGs, one for each photo, and their streams are exchanged here. An image of
a PDF is drawn in the unit square whatever its pixels (ISO 32000-1, 8.9.5), so the layout stays as it is.
"""

from __future__ import annotations

import hashlib
import io
import os
import re
import shutil
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any, BinaryIO, NamedTuple

import pikepdf
from pikepdf import Array, Dictionary, Name, OutlineItem
from PIL import Image

from atlasgen.errors import InputFault
from atlasgen.model import LonLat

# Within entropy-coded data a marker is FF and anything but 00 (a stuffed FF), RST0-7 or a fill FF (ITU T.81, B.1.1).
_MARKER = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]")
_SOI, _EOI, _SOS = 0xD8, 0xD9, 0xDA
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
_ICC, _ADOBE, _JFIF = b"ICC_PROFILE\x00", b"Adobe", b"JFIF\x00"
# Segments that say how the picture is to be decoded or coloured; every other APPn and all comments are dropped.
_KEPT_APPLICATION_DATA = {0xE0: _JFIF, 0xE2: _ICC, 0xEE: _ADOBE}


class JpegFrame(NamedTuple):
    """What the frame header of a JPEG says (ITU T.81, B.2.2)."""

    width_px: int
    height_px: int
    components: int


@dataclass(frozen=True, slots=True)
class MapFrame:
    """Where a map stands on a page: physical page (0-based), top left corner in points from the page's top left."""

    page: int
    x_pt: float
    y_pt: float
    width_pt: float
    height_pt: float
    name: str
    corners: tuple[LonLat, LonLat, LonLat, LonLat]


@dataclass(frozen=True, slots=True)
class Bookmark:
    """An entry of the outline that leads to the top of a physical page (0-based)."""

    title: str
    page: int
    below: list[Bookmark] = field(default_factory=list)


def finish_book(
    laid_out: Path,
    target: Path,
    photos: Mapping[bytes, Path],
    frames: Sequence[MapFrame],
    bookmarks: Sequence[Bookmark],
    crs: str,
) -> None:
    """Write `target` from `laid_out`: `photos` by their stand-in's bytes, viewports and outline.

    One photo is in memory at a time. The same input gives the same bytes. Files on the way stand beside `laid_out`.

    Raises
    ------
    InputFault
        A photo is not a JPEG that a PDF can carry.
    ValueError
        A stand-in is not in `laid_out`: the layout has lost a photo.
    """
    plain = laid_out.with_suffix(".plain.pdf")
    with pikepdf.open(laid_out) as book:
        for page, here in _by_page(frames).items():
            book.pages[page].obj.VP = book.make_indirect(Array([_viewport(book, page, f, crs) for f in here]))
        _write_outline(book, bookmarks)
        # Says what is the default anyway, and Poppler's pdfinfo takes it for an error.
        del book.Root.MarkInfo["/Suspects"]
        book.save(plain, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    _append_photos(plain, photos)
    shutil.move(plain, target)


def stand_in(index: int, photo: Path) -> bytes:
    """Return a JPEG of 8 by 8 pixels, unlike every other index's by its comment.

    It has the photo's colour components and colour profile, so the layout declares the right colour space.
    """
    with Image.open(photo) as picture:
        mode, profile = ("L" if picture.mode == "L" else "RGB"), picture.info.get("icc_profile")
    buffer = io.BytesIO()
    Image.new(mode, (8, 8)).save(buffer, "JPEG", comment=f"stand-in {index}".encode(), icc_profile=profile)
    return buffer.getvalue()


def strip_jpeg(jpeg: bytes) -> bytes:
    """Return the JPEG without metadata (Exif, XMP, IPTC, comments, anything after its end); pixels untouched.

    Raises
    ------
    ValueError
        It is not a whole JPEG.
    """
    kept = [b"\xff\xd8"]
    for marker, segment in _segments(jpeg):
        application = 0xE0 <= marker <= 0xEF
        wanted = segment[4:].startswith(_KEPT_APPLICATION_DATA.get(marker, b"\x00never")) if application else True
        if wanted and marker != 0xFE:
            kept.append(segment)
    return b"".join(kept)


def jpeg_frame(jpeg: bytes) -> JpegFrame:
    """Return size and number of components.

    Raises
    ------
    ValueError
        It is not a whole JPEG.
    """
    for marker, segment in _segments(jpeg):
        if marker in _FRAMES and len(segment) >= 10:
            return JpegFrame(int.from_bytes(segment[7:9]), int.from_bytes(segment[5:7]), segment[9])
    raise ValueError("no frame header")


def _segments(jpeg: bytes) -> Iterator[tuple[int, bytes]]:
    """Yield `(marker, the whole segment)` up to EOI; entropy-coded data goes with its SOS."""
    if not jpeg.startswith(b"\xff\xd8"):
        raise ValueError("does not begin like a JPEG")
    at = 2
    while at + 2 <= len(jpeg):
        marker, end = jpeg[at + 1], at + 2
        if jpeg[at] != 0xFF:
            raise ValueError(f"no marker at byte {at}")
        if marker == 0xFF:  # a fill byte
            at += 1
            continue
        if marker == _EOI:
            yield marker, jpeg[at:end]
            return
        end += int.from_bytes(jpeg[end : end + 2])
        if marker == _SOS:
            following = _MARKER.search(jpeg, end)
            end = following.start() if following else len(jpeg)
        yield marker, jpeg[at:end]
        at = end
    raise ValueError("ends early")


def _append_photos(file: Path, photos: Mapping[bytes, Path]) -> None:
    """Append a new version of each stand-in, the real photo, to `file`: an incremental update (ISO 32000-1, 7.5.6).

    So one photo is in memory at a time, and each is written once; objects exchanged through pikepdf itself would all
    be held until the end. The update's cross-references are a stream, as those before it are (7.5.8).
    """
    with pikepdf.open(file) as book:
        stand_ins = [(item, photos[jpeg]) for jpeg, item in _stand_ins(book, photos).items()]
        if len(stand_ins) < len(photos):
            raise ValueError(f"{len(photos) - len(stand_ins)} of {len(photos)} photos are not in the laid-out book")
        head = {key: book.trailer[key] for key in ("/Root", "/Info", "/ID", "/Size") if key in book.trailer}
        before = _last_cross_references(file)
        with file.open("ab") as out:
            digest = hashlib.sha256()
            offsets = {item.objgen[0]: _append_photo(out, item, photo, digest) for item, photo in stand_ins}
            _append_cross_references(out, head, before, offsets, digest.digest()[:16])


def _append_cross_references(
    out: BinaryIO, head: Mapping[str, Any], before: int, offsets: Mapping[int, int], identifier: bytes
) -> None:
    """Append the cross-reference stream of an update: where each new object begins, and the stream itself.

    `identifier` tells this version of the file from others (14.4).
    """
    own, start = int(head["/Size"]), out.tell()
    rows = sorted({**offsets, own: start}.items())
    table = b"".join(b"\x01" + offset.to_bytes(6) + b"\x00" for _, offset in rows)
    stream = Dictionary(
        {
            **head,
            "/ID": Array([head["/ID"][0], pikepdf.String(identifier)]),
            "/Type": Name.XRef,
            "/Size": own + 1,
            "/Prev": before,
            "/Index": Array([value for number, _ in rows for value in (number, 1)]),
            "/W": Array([1, 6, 1]),
            "/Length": len(table),
        }
    )
    out.write(b"%d 0 obj\n%s\nstream\n%s\nendstream\nendobj\n" % (own, stream.unparse(), table))
    out.write(b"startxref\n%d\n%%%%EOF\n" % start)


def _stand_ins(book: pikepdf.Pdf, photos: Mapping[bytes, Path]) -> dict[bytes, pikepdf.Object]:
    """Return the stand-ins of the laid-out book, by their bytes."""
    found: dict[bytes, pikepdf.Object] = {}
    for item in book.objects:
        if isinstance(item, pikepdf.Stream) and item.get("/Subtype") == Name.Image:
            jpeg = item.read_raw_bytes()
            if jpeg in photos:
                found[jpeg] = item
    return found


def _last_cross_references(file: Path) -> int:
    """Return the byte offset after the last `startxref`."""
    with file.open("rb") as stream:
        stream.seek(-min(1024, file.stat().st_size), os.SEEK_END)
        return int(stream.read().rpartition(b"startxref")[2].split()[0])


def _append_photo(out: BinaryIO, stand_in: pikepdf.Object, photo: Path, digest: Any) -> int:
    """Write a photo under its stand-in's number, with all that the layout said of it; return where it begins."""
    jpeg, frame = _readable_jpeg(photo)
    digest.update(jpeg)
    header = Dictionary({key: stand_in[key] for key in stand_in.keys()})  # noqa: SIM118 - a stream iterates otherwise
    header.Width, header.Height, header.Length = frame.width_px, frame.height_px, len(jpeg)
    offset = out.tell()
    out.write(b"%d %d obj\n%s\nstream\n" % (*stand_in.objgen, header.unparse()))
    out.write(jpeg)
    out.write(b"\nendstream\nendobj\n")
    return offset


def _readable_jpeg(photo: Path) -> tuple[bytes, JpegFrame]:
    try:
        jpeg = strip_jpeg(photo.read_bytes())
        frame = jpeg_frame(jpeg)
    except ValueError as error:
        raise InputFault(photo.name, str(error), "a whole JPEG", "Prepare the photos again.") from None
    if frame.components not in (1, 3):
        raise InputFault(photo.name, f"{frame.components} colour components", "1 (grey) or 3 (colour)")
    return jpeg, frame


def _by_page(frames: Sequence[MapFrame]) -> dict[int, list[MapFrame]]:
    pages: dict[int, list[MapFrame]] = {}
    for frame in frames:
        pages.setdefault(frame.page, []).append(frame)
    return pages


def _viewport(book: pikepdf.Pdf, page: int, frame: MapFrame, crs: str) -> Dictionary:
    """Return a viewport with its geospatial measure (ISO 32000-2, 12.9 and 12.10).

    GPTS gives latitude before longitude; LPTS the same corners in the unit square of the box, y up.
    """
    top = float(book.pages[page].mediabox[3])
    left, bottom = frame.x_pt, top - frame.y_pt - frame.height_pt
    box = [left, bottom, left + frame.width_pt, bottom + frame.height_pt]
    degrees = [value for corner in frame.corners for value in (corner.lat_deg, corner.lon_deg)]
    measure = Dictionary(
        Type=Name.Measure,
        Subtype=Name.GEO,
        Bounds=Array([0, 0, 0, 1, 1, 1, 1, 0]),
        GPTS=_numbers(degrees, 9),
        LPTS=Array([0, 1, 1, 1, 1, 0, 0, 0]),
        GCS=Dictionary(Type=Name.PROJCS, WKT=_well_known_text(crs)),
    )
    return Dictionary(Type=Name.Viewport, BBox=_numbers(box, 4), Name=frame.name, Measure=book.make_indirect(measure))


@cache
def _well_known_text(crs: str) -> str:
    """Return the projection in the older form of well-known text that readers of geospatial PDF expect."""
    from pyproj import CRS

    return CRS.from_user_input(crs).to_wkt("WKT1_ESRI")


def _numbers(values: Sequence[float], digits: int) -> Array:
    # As decimals: a float would be written with six digits after the point, which is 0.1 m of latitude.
    return Array([Decimal(f"{value:.{digits}f}") for value in values])


def _write_outline(book: pikepdf.Pdf, bookmarks: Sequence[Bookmark]) -> None:
    with book.open_outline() as outline:
        outline.root[:] = [_outline_item(bookmark) for bookmark in bookmarks]
    book.Root.PageMode = Name.UseOutlines


def _outline_item(bookmark: Bookmark) -> OutlineItem:
    item = OutlineItem(bookmark.title, bookmark.page, "Fit")
    item.is_closed = bool(bookmark.below)
    item.children.extend(_outline_item(child) for child in bookmark.below)
    return item
