"""Names and sizes that any common system and memory card can hold.

Sources: Microsoft, "Naming Files, Paths, and Namespaces" (reserved signs and names, no dot or space at the end);
Microsoft, FAT32 File System Specification (2000): a file has at most 2**32 - 1 bytes, a folder at most 65,536 entries,
a long name at most 255 UTF-16 units, 13 of them to an entry and one entry more; both by way of public summaries.
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from pathlib import PurePosixPath

MOST_FILE_BYTES = 2**32 - 1
_MOST_ENTRIES = 65_536
_UNITS_AN_ENTRY = 13
_MOST_UNITS = 255
# What is left of the 260 signs of a path when the drive is named and the path is ended (the same source).
_MOST_PATH_UNITS = 256
_BAD_SIGNS = re.compile(r'[\x00-\x1f\x7f"*/:<>?\\|]')
_RESERVED = re.compile(r"(CON|PRN|AUX|NUL|COM[1-9¹²³]|LPT[1-9¹²³])(\..*)?", re.IGNORECASE | re.DOTALL)


def folded(name: str) -> str:
    """Return a name as a system sees it that knows no capitals: two names that fold alike are one file there."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", name).casefold())


def name_faults(names: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Yield (name, what about it) for posix names that not every common system and card can hold."""
    names = sorted(names)
    for name in names:
        yield from ((name, words) for part in PurePosixPath(name).parts if (words := _part_fault(part)))
        if _units(name) > _MOST_PATH_UNITS:
            yield name, f"is {_units(name)} signs long with its folders; some systems take {_MOST_PATH_UNITS}"
    yield from _same_names(names)
    yield from _full_folders(names)


def size_faults(sizes_bytes: Mapping[str, int]) -> Iterator[tuple[str, str]]:
    """Yield (name, what about it) for files that FAT32 cannot hold."""
    for name, size in sorted(sizes_bytes.items()):
        if size > MOST_FILE_BYTES:
            yield name, f"has {size:,} bytes; a FAT32 card takes {MOST_FILE_BYTES:,} a file"


def _part_fault(part: str) -> str | None:
    if found := _BAD_SIGNS.search(part):
        return f"holds the sign {found.group()!r}, which not every system takes"
    if part.endswith((" ", ".")):
        return "ends with a space or a dot, which some systems drop"
    if _RESERVED.fullmatch(part.rstrip(" ")):
        return "is the name of a device on some systems"
    if _units(part) > _MOST_UNITS:
        return f"is {_units(part)} signs long; at most {_MOST_UNITS} fit"
    return None


def _units(text: str) -> int:
    return len(text.encode("utf-16-le", "surrogatepass")) // 2


def _same_names(names: list[str]) -> Iterator[tuple[str, str]]:
    first: dict[str, str] = {}
    for path in names:
        parts = PurePosixPath(path).parts
        for i in range(1, len(parts) + 1):
            shown = "/".join(parts[:i])
            kept = first.setdefault(folded(shown), shown)
            if kept != shown:
                yield path, f"cannot be told from {kept} on a system that knows no capitals"
                break


def _full_folders(names: list[str]) -> Iterator[tuple[str, str]]:
    below = {(str(p.parent), p.name) for name in names for p in (PurePosixPath(name), *PurePosixPath(name).parents)}
    entries: Counter[str] = Counter()
    for folder, part in below:
        entries[folder] += 1 + -(-_units(part) // _UNITS_AN_ENTRY)
    for folder, count in sorted(entries.items()):
        if count > _MOST_ENTRIES:
            yield folder, f"needs {count:,} directory entries; a FAT32 folder holds {_MOST_ENTRIES:,}"
