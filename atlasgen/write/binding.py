"""Binds the photos into the book: one incremental update of the file that lacks them (ISO 32000-1, 7.5.6).

So one photo is in memory at a time, and each byte of it is written once. The book without its photos is plain bytes
that a build can remember; to append photos is to copy files, which another process does beside the rest of a build.
"""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from atlasgen.write.jpeg import readable_jpeg


@dataclass(frozen=True, slots=True)
class Slot:
    """The object that stands for a photo: its number and generation, and its dictionary but for size and length."""

    number: int
    generation: int
    entries: bytes


@dataclass(frozen=True, slots=True)
class Shell:
    """A book that lacks its photos only: the file, and by each stand-in's bytes the object that stands for a photo.

    `entries` are those of its trailer but for size and identifiers, `size` counts its objects, `references_at` is where
    its last cross-references begin, which are a table (7.5.4) for old viewers and else a stream (7.5.8).
    """

    data: bytes
    slots: Mapping[bytes, Slot]
    entries: bytes
    identifier: bytes
    size: int
    references_at: int
    has_table: bool


class _Growing:
    """A file that is being written, its length and the SHA-256 of all that stands in it."""

    def __init__(self, file: BinaryIO) -> None:
        self._file, self.digest, self.length = file, hashlib.sha256(), 0

    def write(self, data: bytes) -> None:
        self.digest.update(data)
        self._file.write(data)
        self.length += len(data)


def bind(shell: Shell, photos: Mapping[bytes, Path], target: Path) -> str:
    """Write the book with its photos, by their stand-ins' bytes; return the SHA-256 of the file.

    Raises
    ------
    InputFault
        A photo is not a JPEG that a PDF can carry.
    """
    with target.open("wb") as file:
        out = _Growing(file)
        out.write(shell.data)
        offsets = {slot.number: _append_photo(out, slot, photos[jpeg]) for jpeg, slot in shell.slots.items()}
        # The second identifier tells this version of the file from others (14.4).
        identifiers = b"<%s><%s>" % (shell.identifier.hex().encode(), out.digest.digest()[:16].hex().encode())
        trailer = b"%s /ID [%s] /Prev %d" % (shell.entries, identifiers, shell.references_at)
        (_append_table if shell.has_table else _append_stream)(out, shell.size, trailer, offsets)
    return out.digest.hexdigest()


def _append_photo(out: _Growing, slot: Slot, photo: Path) -> int:
    """Write a photo under its stand-in's number, with all that the layout said of it; return where it begins."""
    jpeg, frame = readable_jpeg(photo)
    offset = out.length
    size = b"/Width %d /Height %d /Length %d" % (frame.width_px, frame.height_px, len(jpeg))
    out.write(b"%d %d obj\n<< %s %s >>\nstream\n" % (slot.number, slot.generation, slot.entries, size))
    out.write(jpeg)
    out.write(b"\nendstream\nendobj\n")
    return offset


def _append_table(out: _Growing, size: int, trailer: bytes, offsets: Mapping[int, int]) -> None:
    """Append the cross-reference table and the trailer of an update; a row has 20 bytes (7.5.4)."""
    start = out.length
    out.write(b"xref\n")
    for number, offset in sorted(offsets.items()):
        out.write(b"%d 1\n%010d 00000 n \n" % (number, offset))
    out.write(b"trailer\n<< %s /Size %d >>\nstartxref\n%d\n%%%%EOF\n" % (trailer, size, start))


def _append_stream(out: _Growing, size: int, trailer: bytes, offsets: Mapping[int, int]) -> None:
    """Append the cross-reference stream of an update: where each new object begins, and the stream itself (7.5.8)."""
    start = out.length
    rows = sorted({**offsets, size: start}.items())
    table = b"".join(b"\x01" + offset.to_bytes(6) + b"\x00" for _, offset in rows)
    index = b" ".join(b"%d 1" % number for number, _ in rows)
    own = b"/Type /XRef /Size %d /Index [%s] /W [1 6 1] /Length %d" % (size + 1, index, len(table))
    out.write(b"%d 0 obj\n<< %s %s >>\nstream\n%s\nendstream\nendobj\n" % (size, trailer, own, table))
    out.write(b"startxref\n%d\n%%%%EOF\n" % start)


def bind_at_size(shell: Shell, photos: Mapping[bytes, tuple[Path, float | None]], target: Path, copies: Path) -> str:
    """Do `bind` with photos that have a width, points, as large as they are printed; the folder `copies` is for them.

    Raises as `bind` does.
    """
    from atlasgen.write.display_photos import display_copy

    try:
        real = {
            jpeg: path if width_pt is None else display_copy(path, width_pt, copies / path.name)
            for jpeg, (path, width_pt) in photos.items()
        }
        return bind(shell, real, target)
    finally:
        shutil.rmtree(copies, ignore_errors=True)
