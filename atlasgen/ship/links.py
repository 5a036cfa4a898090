"""Every reference inside an edition, and whether it leads anywhere."""

from __future__ import annotations

import json
import posixpath
import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from html.parser import HTMLParser
from typing import Any, BinaryIO, cast
from urllib.parse import unquote, urlsplit

from atlasgen.ship.holders import Holder

_URL = re.compile(r"url\(\s*[\"']?([^\"')]+)[\"']?\s*\)")
_REFERENCES = {"href", "src", "poster", "data-src"}


def broken_links(holder: Holder) -> list[tuple[str, str]]:
    """Return (file, what leads nowhere) for HTML, style sheets, book, GeoPackage and atlas.json, all as listed."""
    names = set(holder.names())
    found: list[tuple[str, str]] = []
    for name in sorted(names):
        if name.endswith(".html"):
            found += _of_html(name, _text(holder, name), names)
        elif name.endswith(".css"):
            found += _missing(name, _URL.findall(_text(holder, name)), names)
        elif name.endswith(".pdf"):
            found += [(name, words) for words in _of_pdf(holder, name)]
    if "atlas.json" in names:
        document = json.loads(_text(holder, "atlas.json"))
        found += [("atlas.json", words) for words in _of_document(document, names)]
        if "atlas.gpkg" in names:
            found += [("atlas.gpkg", words) for words in _of_geopackage(holder, "atlas.gpkg", document)]
    return found


def _text(holder: Holder, name: str) -> str:
    with holder.open(name) as file:
        return file.read().decode("utf-8", "replace")


class _References(HTMLParser):
    """Collects what an HTML file refers to, and the places in it that can be referred to."""

    def __init__(self) -> None:
        super().__init__()
        self.references: list[str] = []
        self.places: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note the references and the id of one element."""
        for key, value in attrs:
            if value and key in _REFERENCES:
                self.references.append(value)
            elif value and key == "srcset":
                self.references += [part.split()[0] for part in value.split(",") if part.strip()]
            elif value and key in ("id", "name"):
                self.places.add(value)


def _of_html(name: str, text: str, names: set[str]) -> list[tuple[str, str]]:
    page = _References()
    page.feed(text)
    # Behind ? stands what is set beside the place.
    inside = [unquote(value[1:].split("?")[0]) for value in page.references if value.startswith("#") and len(value) > 1]
    lost = sorted({place for place in inside if place not in page.places})
    return _missing(name, page.references, names) + [(name, f"#{place} is on no page") for place in lost]


def _missing(name: str, references: list[str], names: set[str]) -> list[tuple[str, str]]:
    """Tell the relative references that name no file; what leads out of the edition is not looked up."""
    wanted = set()
    for reference in references:
        parts = urlsplit(reference)
        if parts.path and not parts.scheme and not parts.netloc:
            wanted.add(posixpath.normpath(posixpath.join(posixpath.dirname(name), unquote(parts.path))))
    return [(name, f"{path} is not there") for path in sorted(wanted - names)]


def _of_document(document: dict, names: set[str]) -> Iterator[str]:
    """Check atlas.json: photos have pictures and stand on pages that exist, pages show photos that exist."""
    photos, pages = document.get("photos", []), document.get("pages", [])
    numbers, ids = {page["number"] for page in pages}, {photo["id"] for photo in photos}
    for photo in photos:
        yield from (
            f"{folder}/{photo['id']}.jpg is not there"
            for folder in ("photos", "thumbs")
            if f"{folder}/{photo['id']}.jpg" not in names
        )
        if photo["page"] not in numbers:
            yield f"photo {photo['id']} is said to be on page {photo['page']}, which is not there"
    for page in pages:
        yield from (f"page {page['number']} shows {id}, which is no photo" for id in page["photos"] if id not in ids)


def _of_geopackage(holder: Holder, name: str, document: dict) -> Iterator[str]:
    """Check that the GeoPackage opens, and that its stations are photos, on pages and reaches that exist."""
    with holder.open(name) as file, closing(sqlite3.connect(":memory:")) as database:
        try:
            database.deserialize(file.read())
            if not database.execute("SELECT 1 FROM gpkg_contents WHERE table_name = 'stations'").fetchone():
                return
            rows = database.execute("SELECT id, page, reach FROM stations ORDER BY id").fetchall()
        except sqlite3.Error as error:
            yield f"cannot be opened ({error})"
            return
    there = [{photo["id"] for photo in document["photos"]}, {page["number"] for page in document["pages"]}]
    there.append({reach["id"] for reach in document["reaches"]})
    for row in rows:
        for what, value, known in zip(("photo", "page", "reach"), row, there, strict=True):
            if value not in known:
                yield f"station {row[0]} refers to {what} {value}, which is not in atlas.json"


def _of_pdf(holder: Holder, name: str) -> Iterator[str]:
    """Check that the outline and the inner links of the book lead to pages of it."""
    import pikepdf

    with holder.open(name) as file, pikepdf.open(cast("BinaryIO", file)) as pdf:
        pages = {page.objgen for page in pdf.pages}
        targets = set(_names(pdf))
        for number, page in enumerate(pdf.pages, 1):
            for note in page.get("/Annots", []):
                if not _leads(_target(note), pages, targets):
                    yield f"a link on sheet {number} leads nowhere"
        with pdf.open_outline() as outline:
            yield from (f"the outline's {item.title!r} leads nowhere" for item in _items(outline.root, pages, targets))


def _target(note: Any) -> Any:
    action = note.get("/A")
    return note.get("/Dest") if action is None else action.get("/D")


def _names(pdf: Any) -> Iterator[str]:
    import pikepdf

    names = pdf.Root.get("/Names")
    if names is not None and "/Dests" in names:
        yield from pikepdf.NameTree(names.Dests)


def _items(items: Any, pages: set, targets: set[str]) -> Iterator[Any]:
    for item in items:
        where = item.destination if item.action is None else item.action.get("/D")
        if not _leads(where, pages, targets):
            yield item
        yield from _items(item.children, pages, targets)


def _leads(where: Any, pages: set, targets: set[str]) -> bool:
    """Whether a destination names a page of the file; None is a link of another kind, which is not looked up."""
    import pikepdf

    if where is None:
        return True
    if isinstance(where, pikepdf.Array):
        return len(where) > 0 and getattr(where[0], "objgen", None) in pages
    return str(where) in targets
