"""The tag directories of TIFF, which are also the inside of an Exif block.

Written here because the libraries at hand give up a whole directory at its first bad entry, so that a maker's note
shifted by an editing program would cost the focal length and the direction that follow it. Each entry stands or falls
alone. Layout: TIFF 6.0 section 2 (and BigTIFF); type 129, UTF-8 text, is Exif 3.0.
"""

from __future__ import annotations

import struct
from collections.abc import Mapping
from dataclasses import dataclass, field

EXIF_POINTER = 0x8769
GPS_POINTER = 0x8825

_SIZES = {1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8, 13: 4, 16: 8, 17: 8, 129: 1}
_LETTERS = {1: "B", 3: "H", 4: "L", 6: "b", 7: "B", 8: "h", 9: "l", 11: "f", 12: "d", 13: "L", 16: "Q", 17: "q"}
# Real directories hold under a hundred entries; a count of 65535 is noise, and reading it would only cost time.
_MOST_ENTRIES = 1000


@dataclass(frozen=True, slots=True)
class Entry:
    """One tag's bytes as stored, with its TIFF type and the byte order (`<` or `>`)."""

    type: int
    data: bytes
    order: str

    def numbers(self) -> tuple[float | None, ...]:
        """Every value as a number; a rational with denominator 0 is None, as is every value of a text tag."""
        if self.type in (5, 10):
            letter = "L" if self.type == 5 else "l"
            pairs = struct.iter_unpack(f"{self.order}2{letter}", self.data)
            return tuple(top / bottom if bottom else None for top, bottom in pairs)
        if self.type not in _LETTERS:
            return ()
        count = len(self.data) // _SIZES[self.type]
        return struct.unpack(f"{self.order}{count}{_LETTERS[self.type]}", self.data)


@dataclass(frozen=True, slots=True)
class Tags:
    """The three directories that describe a photo; `broken` names the tags whose values lie outside the block."""

    main: Mapping[int, Entry] = field(default_factory=dict)
    exif: Mapping[int, Entry] = field(default_factory=dict)
    gps: Mapping[int, Entry] = field(default_factory=dict)
    broken: frozenset[int] = frozenset()
    order: str = "<"


def read_tags(block: bytes) -> Tags:
    """Read the main, Exif and GPS directories of a TIFF file or of an Exif block without its `Exif` prefix.

    Raises
    ------
    ValueError
        The block does not begin as TIFF does.
    """
    order = {b"II": "<", b"MM": ">"}.get(bytes(block[:2]), "")
    version = struct.unpack_from(f"{order}H", block, 2)[0] if order and len(block) >= 8 else None
    if version not in (42, 43):
        raise ValueError("it does not begin with a TIFF header")
    big = version == 43
    if big and len(block) < 16:
        raise ValueError("it is cut short")
    (start,) = struct.unpack_from(f"{order}Q", block, 8) if big else struct.unpack_from(f"{order}L", block, 4)
    broken: set[int] = set()
    main = _directory(block, start, order, big, broken)
    exif = _directory(block, _pointer(main, EXIF_POINTER), order, big, broken)
    gps = _directory(block, _pointer(main, GPS_POINTER) or _pointer(exif, GPS_POINTER), order, big, broken)
    return Tags(main, exif, gps, frozenset(broken), order)


def _pointer(directory: Mapping[int, Entry], tag: int) -> int:
    entry = directory.get(tag)
    numbers = entry.numbers() if entry else ()
    return int(numbers[0]) if numbers and numbers[0] else 0


def _directory(block: bytes, start: int, order: str, big: bool, broken: set[int]) -> dict[int, Entry]:
    head, row, inline = ("Q", "HHQ8s", 8) if big else ("H", "HHL4s", 4)
    head_size, row_size = struct.calcsize(order + head), struct.calcsize(order + row)
    if not 0 < start <= len(block) - head_size:
        return {}
    (count,) = struct.unpack_from(order + head, block, start)
    room = (len(block) - start - head_size) // row_size
    found: dict[int, Entry] = {}
    for number in range(min(count, room, _MOST_ENTRIES)):
        tag, kind, values, data = struct.unpack_from(order + row, block, start + head_size + number * row_size)
        size = values * _SIZES.get(kind, 0)
        if size > inline:
            (offset,) = struct.unpack(order + ("Q" if big else "L"), data)
            data = block[offset : offset + size]
        if size and len(data) >= size:
            found.setdefault(tag, Entry(kind, bytes(data[:size]), order))
        elif size:
            broken.add(tag)
    return found
