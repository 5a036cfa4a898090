"""The book, `atlas.pdf`: lays the edition out with the print templates and finishes the file.

Photos are laid out as tiny stand-ins and exchanged for the real ones afterwards (see `pdf`): the layout stays small
in memory, every photo reaches the book as it was prepared, never compressed twice, and the layout of the last build
serves again where only the pixels of photos have changed. A book that would be too large comes in volumes.
"""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass
from datetime import date
from functools import partial
from importlib.metadata import version
from pathlib import Path
from typing import Any

from atlasgen import __version__
from atlasgen.model import Atlas, Drawing, Progress
from atlasgen.model.memory import ANEW, Memory
from atlasgen.resources import resource
from atlasgen.units import MEGABYTE
from atlasgen.workers import aside
from atlasgen.write.binding import Shell, bind_at_size
from atlasgen.write.book_data import book_data, book_drawings, cover_of, document_date, image_names
from atlasgen.write.book_text import BREAK, Printable, copy_faces
from atlasgen.write.display_photos import display_bytes, printed_widths_pt
from atlasgen.write.jpeg import stand_in
from atlasgen.write.pdf import Bookmark, Finishing, MapFrame, finished
from atlasgen.write.spoken import fill_words
from atlasgen.write.svg import remembered_svg
from atlasgen.write.typeset import lay_out_pdf
from atlasgen.write.volumes import Volume, smaller, volume_data, volumes_of

_ASK_MARKS = """query(<mark>).map(mark => {
  let at = mark.location().position()
  (..mark.value, page: at.page, x_pt: at.x.pt(), y_pt: at.y.pt())
})"""
# The widest that a photograph is printed on any paper: the type area of Letter.
_WIDEST_MM = 180.0
# Tagged for readers who hear the page (ISO 14289-1) and for archives (ISO 19005-2, level A); for old viewers the
# archive standard of PDF 1.4 (ISO 19005-1, level B).
STANDARDS: Mapping[bool, tuple[str, ...]] = {False: ("ua-1", "a-2a"), True: ("a-1b",)}
# How often a book is parted anew because a volume came out larger than reckoned.
_MOST_ROUNDS = 4


@dataclass(frozen=True, slots=True)
class Manuscript:
    """All that the layout of one file is made from: data, drawings as SVG and stand-ins, each by its name."""

    data: str
    drawings: Mapping[str, str]
    stand_ins: Mapping[str, bytes]
    dated: date
    standards: tuple[str, ...] = STANDARDS[False]


def begin_book(
    atlas: Atlas,
    pictures: Path,
    folder: Path,
    executor: Executor,
    *,
    work: Path,
    progress: Progress,
    memory: Memory = ANEW,
) -> dict[Path, Callable[[], str]]:
    """Lay the book out, in volumes if it would pass the survey's limit, and have `executor` bind the photos in.

    `pictures/photos/ID.jpg` are the upright photos. Returned is for each file what waits until it is bound, puts it
    into `folder` and returns its SHA-256; it raises `InputFault` for a photo that is not a JPEG that a PDF can carry.

    Parameters
    ----------
    work
        A folder for files on the way, until all are waited for; what is made in it is removed again.

    Raises
    ------
    LayoutFault
        The templates could not be laid out.
    """
    photos = {photo: pictures / "photos" / f"{photo}.jpg" for photo in image_names(atlas)}
    sizes = {photo: _weight(atlas, photo, path) for photo, path in photos.items()}
    limit = atlas.survey.volume_mb * MEGABYTE if atlas.survey.volume_mb else None
    most: float | None = limit
    for left in reversed(range(_MOST_ROUNDS)):
        volumes = volumes_of(atlas, most, sizes)
        files = [folder / volume.file for volume in volumes]
        begun = _begin_volumes(atlas, volumes, photos, files, executor, work, progress, memory)
        if most is None or limit is None:
            break
        hashes = {file: written() for file, written in begun.items()}
        begun = {file: partial(str, sha256) for file, sha256 in hashes.items()}
        most = smaller(most, volumes, [file.stat().st_size for file in files], limit)
        if most is None or not left:
            break
        for file in files:
            file.unlink()
    return begun


def _weight(atlas: Atlas, photo: str, path: Path) -> int:
    size = path.stat().st_size
    return display_bytes(size, atlas.pictures[photo].width_px, _WIDEST_MM) if _is_old(atlas) else size


def _is_old(atlas: Atlas) -> bool:
    return atlas.survey.viewer == "old"


def _begin_volumes(
    atlas: Atlas,
    volumes: Sequence[Volume],
    photos: Mapping[str, Path],
    files: Sequence[Path],
    executor: Executor,
    work: Path,
    progress: Progress,
    memory: Memory,
) -> dict[Path, Callable[[], str]]:
    printable, begun = Printable(), dict[Path, Callable[[], str]]()
    drawings = book_drawings(atlas, printable)
    data = book_data(atlas, _dated(atlas), _versions(), printable)
    data["drawings"] = {
        name: {"width_mm": drawing.width_mm, "height_mm": drawing.height_mm, "alt": drawing.alt}
        for name, drawing in drawings.items()
    }
    old = _is_old(atlas)
    svgs = {name: remembered_svg(drawing, memory, opaque=old) for name, drawing in drawings.items()}
    corners = {name: drawing.corners for name, drawing in drawings.items()}
    labels = {tile.id: tile.label for tile in atlas.placed.tiles}
    for done, (volume, file) in enumerate(zip(volumes, files, strict=True)):
        progress("laying out the book", done, len(volumes))
        own = {"volume": volume_data(volume, volumes, labels), "cover": cover_of(atlas, volume.photos(), printable)}
        here = {image: photos[photo] for photo, image in image_names(atlas).items() if photo in volume.photos()}
        stand_ins = {image: stand_in(number, path, plain=old) for number, (image, path) in enumerate(here.items())}
        text = json.dumps({**data, **own}, ensure_ascii=False)
        manuscript = Manuscript(text, svgs, stand_ins, _dated(atlas), STANDARDS[old])
        shell, widths_pt = memory.remember(
            "book", (manuscript, corners, atlas.survey.crs_metric), partial(_bound, manuscript, drawings, atlas, work)
        )
        by_stand_in = {stand_ins[image]: (path, widths_pt.get(image)) for image, path in here.items()}
        part = work / file.name
        begun[file] = partial(
            _put, aside(executor, bind_at_size, shell, by_stand_in, part, work / file.stem), part, file
        )
    progress("laying out the book", len(volumes), len(volumes))
    return begun


def _bound(
    manuscript: Manuscript, drawings: Mapping[str, Drawing], atlas: Atlas, work: Path
) -> tuple[Shell, Mapping[str, float]]:
    """Return a volume without its photos, and for old viewers how wide each is printed, in points."""
    (laid_out, marks), old = lay_out(manuscript, work / "book"), _is_old(atlas)
    frames, labels = map_frames(marks, drawings), page_labels(marks)
    finishing = Finishing(frames, bookmarks(marks), labels, atlas.survey.crs_metric, old)
    shell = finished(laid_out, set(manuscript.stand_ins.values()), finishing)
    return shell, printed_widths_pt(marks) if old else {}


def _put(bound: Callable[[], str], part: Path, target: Path) -> str:
    """Wait until a volume is bound and put it in its place."""
    try:
        sha256 = bound()
        part.replace(target)
        return sha256
    finally:
        part.unlink(missing_ok=True)


def _dated(atlas: Atlas) -> date:
    return document_date(atlas, os.environ.get("SOURCE_DATE_EPOCH"))


def _versions() -> dict[str, str]:
    return {"atlasgen": __version__, "typst": version("typst"), "pikepdf": version("pikepdf")}


def lay_out(manuscript: Manuscript, folder: Path) -> tuple[bytes, tuple[Mapping[str, Any], ...]]:
    """Lay a manuscript out in `folder`, which is removed again; return the PDF and where each marked thing stands.

    Raises
    ------
    LayoutFault
        With what the typesetter says; a warning counts as a fault, since it may stand for text that is not printed.
    """
    shutil.rmtree(folder, ignore_errors=True)
    try:
        shutil.copytree(resource("templates", "book"), folder)
        fill_words(folder / "words.json")
        copy_faces(folder / "faces")
        _write_all(folder / "drawings", ((f"{name}.svg", svg.encode()) for name, svg in manuscript.drawings.items()))
        _write_all(folder / "photos", ((f"{name}.jpg", jpeg) for name, jpeg in manuscript.stand_ins.items()))
        (folder / "data.json").write_text(manuscript.data, encoding="utf-8")
        standards = manuscript.standards
        marks = lay_out_pdf(folder, "book.typ", folder / "laid_out.pdf", manuscript.dated, _ASK_MARKS, standards)
        return (folder / "laid_out.pdf").read_bytes(), tuple(marks)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _write_all(folder: Path, files: Iterable[tuple[str, bytes]]) -> None:
    folder.mkdir()
    for name, data in files:
        (folder / name).write_bytes(data)


def map_frames(marks: Iterable[Mapping[str, Any]], drawings: Mapping[str, Drawing]) -> list[MapFrame]:
    """Return where the maps stand, for drawings whose corners are known."""
    frames = []
    for mark in marks:
        drawing = drawings.get(mark["drawing"]) if mark["kind"] == "drawing" else None
        if drawing and drawing.corners:
            height_pt = mark["height_pt"] * map_share(drawing)
            place = (mark["page"] - 1, mark["x_pt"], mark["y_pt"], mark["width_pt"], height_pt)
            frames.append(MapFrame(*place, drawing.id, drawing.corners))
    return frames


def page_labels(marks: Iterable[Mapping[str, Any]]) -> list[str]:
    """Return what is printed as the number of each physical page, in order; nothing where nothing is."""
    printed = {mark["page"]: mark["label"] for mark in marks if mark["kind"] == "folio"}
    return [printed.get(page, "") for page in range(1, max(printed, default=0) + 1)]


def map_share(drawing: Drawing) -> float:
    """Return the part of a drawing's height that its map takes, 0 to 1: a key may stand below the map.

    The corners are the map's, whose scale is one in both directions, so their distances tell its shape.
    """
    if drawing.corners is None:
        return 1.0
    from pyproj import Geod

    north_west, north_east, _, south_west = drawing.corners
    geod = Geod(ellps="WGS84")
    across_m, down_m = (geod.inv(*north_west, *corner)[2] for corner in (north_east, south_west))
    return min(1.0, down_m / across_m * drawing.width_mm / drawing.height_mm)


def bookmarks(marks: Iterable[Mapping[str, Any]]) -> list[Bookmark]:
    """Return the outline: sections in order, and every tile, at its map if this file has it, with its pages below."""
    entries: list[Bookmark] = []
    tiles: dict[str, Bookmark] = {}
    for mark in marks:
        page = mark["page"] - 1
        if mark["kind"] == "section":
            entries.append(Bookmark(_title(mark), page))
        elif mark["kind"] in ("tile", "page"):
            title = mark["title"] if mark["kind"] == "tile" else mark["tile_title"]
            if title not in tiles:
                tiles[title] = Bookmark(title.replace(BREAK, ""), page)
                entries.append(tiles[title])
            if mark["kind"] == "page":
                tiles[title].below.append(Bookmark(_title(mark), page))
    return entries


def _title(mark: Mapping[str, Any]) -> str:
    """Return a title without the break marks that only the layout needs."""
    return mark["title"].replace(BREAK, "")
