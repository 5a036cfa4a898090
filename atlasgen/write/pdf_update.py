"""Appends the real photos to the laid-out book: one incremental update of the file (ISO 32000-1, 7.5.6)."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any, BinaryIO

import pikepdf
from pikepdf import Array, Dictionary, Name

from atlasgen.write.jpeg import readable_jpeg


class _Hashed:
    """A file opened to be appended to, with the SHA-256 of all that stands in it."""

    def __init__(self, file: BinaryIO, before: Path) -> None:
        self._file, self.digest = file, hashlib.sha256(before.read_bytes())

    def write(self, data: bytes) -> None:
        self.digest.update(data)
        self._file.write(data)

    def tell(self) -> int:
        return self._file.tell()


def append_photos(file: Path, photos: Mapping[bytes, Path]) -> str:
    """Append a new version of each stand-in, the real photo, to `file`: an incremental update (ISO 32000-1, 7.5.6).

    So one photo is in memory at a time, and each is written once; objects exchanged through pikepdf itself would all
    be held until the end. The update's cross-references are of the kind that those before it are: a stream (7.5.8), or,
    for old viewers, a table (7.5.4). Returns the SHA-256 of the whole file, so that it need not be read again.
    """
    with pikepdf.open(file) as book:
        stand_ins = [(item, photos[jpeg]) for jpeg, item in _stand_ins(book, photos).items()]
        if len(stand_ins) < len(photos):
            raise ValueError(f"{len(photos) - len(stand_ins)} of {len(photos)} photos are not in the laid-out book")
        head = {key: book.trailer[key] for key in ("/Root", "/Info", "/ID", "/Size") if key in book.trailer}
        before = _last_cross_references(file)
        append_references = _append_table if _is_table(file, before) else _append_stream
        with file.open("ab") as opened:
            out = _Hashed(opened, file)
            offsets = {item.objgen[0]: _append_photo(out, item, photo) for item, photo in stand_ins}
            append_references(out, head, before, offsets, out.digest.digest()[:16])
    return out.digest.hexdigest()


def _append_table(
    out: _Hashed, head: Mapping[str, Any], before: int, offsets: Mapping[int, int], identifier: bytes
) -> None:
    """Append the cross-reference table and the trailer of an update; a row has 20 bytes (7.5.4)."""
    start = out.tell()
    out.write(b"xref\n")
    for number, offset in sorted(offsets.items()):
        out.write(b"%d 1\n%010d 00000 n \n" % (number, offset))
    own = {"/ID": Array([head["/ID"][0], pikepdf.String(identifier)]), "/Prev": before}
    out.write(b"trailer\n%s\nstartxref\n%d\n%%%%EOF\n" % (Dictionary({**head, **own}).unparse(), start))


def _append_stream(
    out: _Hashed, head: Mapping[str, Any], before: int, offsets: Mapping[int, int], identifier: bytes
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


def _is_table(file: Path, offset: int) -> bool:
    """Tell whether the cross-references at a place are a table."""
    with file.open("rb") as stream:
        stream.seek(offset)
        return stream.read(4) == b"xref"


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


def _append_photo(out: _Hashed, stand_in: pikepdf.Object, photo: Path) -> int:
    """Write a photo under its stand-in's number, with all that the layout said of it; return where it begins."""
    jpeg, frame = readable_jpeg(photo)
    header = Dictionary({key: stand_in[key] for key in stand_in.keys()})  # noqa: SIM118 - a stream iterates otherwise
    header.Width, header.Height, header.Length = frame.width_px, frame.height_px, len(jpeg)
    offset = out.tell()
    out.write(b"%d %d obj\n%s\nstream\n" % (*stand_in.objgen, header.unparse()))
    out.write(jpeg)
    out.write(b"\nendstream\nendobj\n")
    return offset
