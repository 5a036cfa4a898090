"""The book, `atlas.pdf`: lays the edition out with the print templates and finishes the file.

Photos are laid out as tiny stand-ins and exchanged for the real ones afterwards (see `pdf`): the layout stays small
in memory, and every photo reaches the book as it was prepared, never compressed twice.
"""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from importlib.metadata import version
from pathlib import Path
from typing import Any

from atlasgen import __version__
from atlasgen.model import Atlas, Drawing, Progress
from atlasgen.resources import resource
from atlasgen.write.book_data import book_data, book_drawings, document_date
from atlasgen.write.book_text import BREAK, Printable, copy_faces
from atlasgen.write.pdf import Bookmark, MapFrame, finish_book, write_stand_in
from atlasgen.write.svg import to_svg
from atlasgen.write.typeset import lay_out_pdf

_ASK_MARKS = """query(<mark>).map(mark => {
  let at = mark.location().position()
  (..mark.value, page: at.page, x_pt: at.x.pt(), y_pt: at.y.pt())
})"""


@dataclass(frozen=True, slots=True)
class LaidOut:
    """What the layout tells of itself: where each marked thing stands, physical pages counted from 1."""

    file: Path
    marks: tuple[Mapping[str, Any], ...]


def write_book(atlas: Atlas, pictures: Path, target: Path, *, work: Path, progress: Progress) -> None:
    """Write the book; `pictures/photos/ID.jpg` are the upright photos. `target` appears when it is whole.

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
    folder = work / "book"
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    try:
        progress("laying out the book", 0, 2)
        drawings, photos = _stage(atlas, pictures / "photos", folder)
        laid_out = lay_out(folder, atlas)
        progress("laying out the book", 1, 2)
        part = target.with_name(f".{target.name}.part")
        frames = map_frames(laid_out.marks, drawings)
        finish_book(laid_out.file, part, photos, frames, bookmarks(laid_out.marks), atlas.survey.crs_metric)
        part.replace(target)
        progress("laying out the book", 2, 2)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _stage(atlas: Atlas, photo_folder: Path, folder: Path) -> tuple[dict[str, Drawing], dict[str, Path]]:
    """Put templates, faces, drawings, stand-ins and data side by side; return drawings, and photos by stand-in."""
    printable = Printable()
    shutil.copytree(resource("templates", "book"), folder, dirs_exist_ok=True)
    copy_faces(folder / "faces")
    drawings = book_drawings(atlas, printable)
    photos = _write_stand_ins(atlas.page_of_photo(), photo_folder, folder / "photos")
    data = book_data(atlas, _dated(atlas), _versions(), printable)
    data["drawings"] = _write_drawings(drawings, folder / "drawings")
    (folder / "data.json").write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8")
    return drawings, photos


def _dated(atlas: Atlas) -> date:
    return document_date(atlas, os.environ.get("SOURCE_DATE_EPOCH"))


def _versions() -> dict[str, str]:
    return {"atlasgen": __version__, "typst": version("typst"), "pikepdf": version("pikepdf")}


def _write_stand_ins(photos: Iterable[str], photo_folder: Path, folder: Path) -> dict[str, Path]:
    folder.mkdir()
    real = [(photo, photo_folder / f"{photo}.jpg") for photo in sorted(photos)]
    return {write_stand_in(i, path, folder / f"{photo}.jpg"): path for i, (photo, path) in enumerate(real)}


def _write_drawings(drawings: Mapping[str, Drawing], folder: Path) -> dict[str, dict[str, Any]]:
    folder.mkdir()
    for name, drawing in drawings.items():
        (folder / f"{name}.svg").write_text(to_svg(drawing), encoding="utf-8")
    return {
        name: {"width_mm": drawing.width_mm, "height_mm": drawing.height_mm, "alt": drawing.alt}
        for name, drawing in drawings.items()
    }


def lay_out(folder: Path, atlas: Atlas) -> LaidOut:
    """Lay out `folder/book.typ` into `folder/laid_out.pdf`.

    Raises
    ------
    LayoutFault
        With what the typesetter says; a warning counts as a fault, since it may stand for text that is not printed.
    """
    output = folder / "laid_out.pdf"
    marks = lay_out_pdf(folder, "book.typ", output, _dated(atlas), _ASK_MARKS)
    return LaidOut(output, tuple(marks))


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
    """Return the outline: sections in order, and for the pages their tiles with the pages below."""
    entries: list[Bookmark] = []
    tiles: dict[str, Bookmark] = {}
    for mark in marks:
        if mark["kind"] == "section":
            entries.append(Bookmark(_title(mark), mark["page"] - 1))
        elif mark["kind"] == "page":
            if mark["tile"] not in tiles:
                tiles[mark["tile"]] = Bookmark(mark["tile"], mark["page"] - 1)
                entries.append(tiles[mark["tile"]])
            tiles[mark["tile"]].below.append(Bookmark(_title(mark), mark["page"] - 1))
    return entries


def _title(mark: Mapping[str, Any]) -> str:
    """Return a title without the break marks that only the layout needs."""
    return mark["title"].replace(BREAK, "")
