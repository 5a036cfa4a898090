"""The book, `atlas.pdf`: lays the edition out with the print templates and finishes the file.

Photos are laid out as tiny stand-ins and exchanged for the real ones afterwards (see `pdf`): the layout stays small
in memory, every photo reaches the book as it was prepared, never compressed twice, and the layout of the last build
serves again where only the pixels of photos have changed. A book that would be too large comes in volumes.
"""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from importlib.metadata import version
from pathlib import Path
from typing import Any

from atlasgen import __version__
from atlasgen.model import Atlas, Drawing, Progress
from atlasgen.model.memory import ANEW, Memory
from atlasgen.resources import resource
from atlasgen.units import MEGABYTE
from atlasgen.write.book_data import book_data, book_drawings, cover_of, document_date, image_names
from atlasgen.write.book_text import BREAK, Printable, copy_faces
from atlasgen.write.display_photos import display_bytes, display_copy, printed_widths_pt
from atlasgen.write.jpeg import stand_in
from atlasgen.write.pdf import Bookmark, Finishing, MapFrame, finish_book
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


def write_book(
    atlas: Atlas, pictures: Path, folder: Path, *, work: Path, progress: Progress, memory: Memory = ANEW
) -> dict[Path, str]:
    """Write the book into `folder`, in volumes if it would pass the survey's limit; return the files' SHA-256.

    `pictures/photos/ID.jpg` are the upright photos. Each file appears when it is whole.

    Parameters
    ----------
    work
        A folder for files on the way; a folder `book` is made in it and removed again.

    Raises
    ------
    InputFault
        A photo is not a JPEG that a PDF can carry.
    LayoutFault
        The templates could not be laid out.
    """
    photos = {photo: pictures / "photos" / f"{photo}.jpg" for photo in image_names(atlas)}
    sizes = {photo: _weight(atlas, photo, path) for photo, path in photos.items()}
    limit = atlas.survey.volume_mb * MEGABYTE if atlas.survey.volume_mb else None
    most: float | None = limit
    for _ in range(_MOST_ROUNDS):
        volumes = volumes_of(atlas, most, sizes)
        files = [folder / volume.file for volume in volumes]
        hashes = _write_volumes(atlas, volumes, photos, files, work, progress, memory)
        written = [file.stat().st_size for file in files]
        most = smaller(most, volumes, written, limit) if most and limit else None
        if most is None:
            break
        for file in files:
            file.unlink()
    return hashes


def _weight(atlas: Atlas, photo: str, path: Path) -> int:
    size = path.stat().st_size
    return display_bytes(size, atlas.pictures[photo].width_px, _WIDEST_MM) if _is_old(atlas) else size


def _is_old(atlas: Atlas) -> bool:
    return atlas.survey.viewer == "old"


def _write_volumes(
    atlas: Atlas,
    volumes: Sequence[Volume],
    photos: Mapping[str, Path],
    files: Sequence[Path],
    work: Path,
    progress: Progress,
    memory: Memory,
) -> dict[Path, str]:
    printable, hashes = Printable(), {}
    drawings = book_drawings(atlas, printable)
    data = book_data(atlas, _dated(atlas), _versions(), printable)
    data["drawings"] = {
        name: {"width_mm": drawing.width_mm, "height_mm": drawing.height_mm, "alt": drawing.alt}
        for name, drawing in drawings.items()
    }
    old = _is_old(atlas)
    svgs = {name: remembered_svg(drawing, memory, opaque=old) for name, drawing in drawings.items()}
    labels = {tile.id: tile.label for tile in atlas.placed.tiles}
    for done, (volume, file) in enumerate(zip(volumes, files, strict=True)):
        progress("laying out the book", done, len(volumes))
        own = {"volume": volume_data(volume, volumes, labels), "cover": cover_of(atlas, volume.photos(), printable)}
        here = {image: photos[photo] for photo, image in image_names(atlas).items() if photo in volume.photos()}
        stand_ins = {image: stand_in(number, path, plain=old) for number, (image, path) in enumerate(here.items())}
        text = json.dumps({**data, **own}, ensure_ascii=False)
        manuscript = Manuscript(text, svgs, stand_ins, _dated(atlas), STANDARDS[old])
        laid_out, marks = _laid_out(manuscript, work, memory)
        finishing = _finishing(marks, drawings, atlas)
        real = _display_copies(here, marks, work / "display") if old else here
        by_stand_in = {stand_ins[name]: path for name, path in real.items()}
        hashes[file] = _finish(laid_out, by_stand_in, finishing, work, file)
        shutil.rmtree(work / "display", ignore_errors=True)
    progress("laying out the book", len(volumes), len(volumes))
    return hashes


def _display_copies(photos: Mapping[str, Path], marks: Sequence[Mapping[str, Any]], folder: Path) -> dict[str, Path]:
    """Make of each photo a copy as large as it is printed; every photo of a volume is printed in it."""
    widths = printed_widths_pt(marks)
    return {image: display_copy(path, widths[image], folder / f"{image}.jpg") for image, path in photos.items()}


def _finishing(marks: Sequence[Mapping[str, Any]], drawings: Mapping[str, Drawing], atlas: Atlas) -> Finishing:
    frames, labels = map_frames(marks, drawings), page_labels(marks)
    return Finishing(frames, bookmarks(marks), labels, atlas.survey.crs_metric, _is_old(atlas))


def _finish(laid_out: bytes, photos: Mapping[bytes, Path], finishing: Finishing, work: Path, target: Path) -> str:
    part, source = target.with_name(f".{target.name}.part"), work / "laid_out.pdf"
    source.parent.mkdir(parents=True, exist_ok=True)
    source.write_bytes(laid_out)
    try:
        sha256 = finish_book(source, part, photos, finishing)
        part.replace(target)
        return sha256
    finally:
        source.unlink(missing_ok=True)
        part.unlink(missing_ok=True)


def _dated(atlas: Atlas) -> date:
    return document_date(atlas, os.environ.get("SOURCE_DATE_EPOCH"))


def _versions() -> dict[str, str]:
    return {"atlasgen": __version__, "typst": version("typst"), "pikepdf": version("pikepdf")}


def _laid_out(manuscript: Manuscript, work: Path, memory: Memory) -> tuple[bytes, tuple[Mapping[str, Any], ...]]:
    """Return the laid-out file, stand-ins for photos, and its marks."""
    return memory.remember("layout", manuscript, lambda: lay_out(manuscript, work / "book"))


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
