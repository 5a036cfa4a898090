"""Finishes the laid-out book: viewports for the maps, bookmarks, page labels, places for the real photos.

The book is laid out with tiny stand-in JPEGs, one for each photo, whose streams are exchanged afterwards (see
`binding`). An image of a PDF is drawn in the unit square whatever its pixels (ISO 32000-1, 8.9.5), so the layout
stays as it is.
"""

from __future__ import annotations

import io
import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name, ObjectStreamMode, OutlineItem

from atlasgen.model import LonLat
from atlasgen.write.binding import Shell, Slot

# A printed page number: what stands before its number in figures, and that; or all in small roman figures.
_NUMBERED = re.compile(r"(.*?)(\d+)")
_ROMAN = {"i": 1, "v": 5, "x": 10, "l": 50, "c": 100, "d": 500, "m": 1000}


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


@dataclass(frozen=True, slots=True)
class Finishing:
    """What a laid-out book gets: maps' places, outline, what is printed as each page's number, the maps' projection.

    `old`: for viewers of PDF 1.4, which know neither object streams nor cross-reference streams (both PDF 1.5).
    """

    frames: Sequence[MapFrame]
    bookmarks: Sequence[Bookmark]
    labels: Sequence[str]
    crs: str
    old: bool = False


def finished(laid_out: bytes, stand_ins: Collection[bytes], finishing: Finishing) -> Shell:
    """Return a laid-out book with viewports, outline and page labels, ready for its photos; same input, same bytes.

    Raises
    ------
    ValueError
        A stand-in is not in it: the layout has lost a photo.
    """
    written = io.BytesIO()
    with pikepdf.open(io.BytesIO(laid_out)) as book:
        for page, here in _by_page(finishing.frames).items():
            viewports = [_viewport(book, page, frame, finishing.crs) for frame in here]
            book.pages[page].obj.VP = book.make_indirect(Array(viewports))
        _write_outline(book, finishing.bookmarks)
        _write_labels(book, finishing.labels)
        _write_out_destinations(book)
        book.Root.ViewerPreferences = Dictionary(DisplayDocTitle=True)
        # Says what is the default anyway, and Poppler's pdfinfo takes it for an error.
        if "/Suspects" in book.Root.get("/MarkInfo", {}):
            del book.Root.MarkInfo["/Suspects"]
        streams = ObjectStreamMode.disable if finishing.old else ObjectStreamMode.generate
        book.save(written, deterministic_id=True, object_stream_mode=streams)
    return _shell(written.getvalue(), stand_ins)


def _shell(data: bytes, stand_ins: Collection[bytes]) -> Shell:
    """Find in a finished file the objects that stand for photos; raises ValueError if it lacks one of them."""
    with pikepdf.open(io.BytesIO(data)) as book:
        slots = _slots(book, stand_ins)
        if len(slots) < len(stand_ins):
            raise ValueError(f"{len(stand_ins) - len(slots)} of {len(stand_ins)} photos are not in the laid-out book")
        kept = {key: book.trailer[key] for key in ("/Root", "/Info") if key in book.trailer}
        entries, identifier = Dictionary(kept).unparse(), bytes(book.trailer["/ID"][0])
        at = int(data[data.rindex(b"startxref") :].split()[1])
        is_table = data.startswith(b"xref", at)
        return Shell(data, slots, _opened(entries), identifier, int(book.trailer["/Size"]), at, is_table)


def _slots(book: pikepdf.Pdf, stand_ins: Collection[bytes]) -> dict[bytes, Slot]:
    found: dict[bytes, Slot] = {}
    for item in book.objects:
        if isinstance(item, pikepdf.Stream) and item.get("/Subtype") == Name.Image:
            jpeg = item.read_raw_bytes()
            if jpeg in stand_ins:
                kept = {key: item[key] for key in item.keys() if key not in ("/Width", "/Height", "/Length")}  # noqa: SIM118 - a stream iterates otherwise
                found[jpeg] = Slot(*item.objgen, _opened(Dictionary(kept).unparse()))
    return found


def _opened(dictionary: bytes) -> bytes:
    """Return the entries of a dictionary as it is written, so that others can be added."""
    return dictionary.strip().removeprefix(b"<<").removesuffix(b">>").strip()


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


def _write_labels(book: pikepdf.Pdf, labels: Sequence[str]) -> None:
    """Give each page the number that is printed on it (ISO 32000-1, 12.4.2): runs of numbers that count on."""
    runs: list[Any] = []
    before: tuple[str, str, int] | None = None
    for page, label in enumerate(labels):
        prefix, style, number = _label_parts(label)
        if before is None or before != (prefix, style, number - 1):
            counted = {"/S": Name(style), "/St": number} if number else {}
            runs += [page, Dictionary(counted | ({"/P": prefix} if prefix else {}))]
        before = (prefix, style, number)
    if runs:
        book.Root.PageLabels = book.make_indirect(Dictionary(Nums=Array(runs)))


def _label_parts(label: str) -> tuple[str, str, int]:
    """Return what stands before the number, the style of the number, and the number."""
    if found := _NUMBERED.fullmatch(label):
        return found[1], "/D", int(found[2])
    values = [_ROMAN[letter] for letter in label]
    return "", "/r", sum(-a if a < max(values[i:]) else a for i, a in enumerate(values))


def _write_out_destinations(book: pikepdf.Pdf) -> None:
    """Write where a link leads into the link itself: some readers do not follow a reference to it."""
    for page in book.pages:
        for note in page.obj.get("/Annots", []):
            goal = note.get("/Dest")
            if isinstance(goal, Array) and goal.is_indirect:
                note.Dest = Array(list(goal))
