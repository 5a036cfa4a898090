"""Copies a bundle onto a card: under temporary names, read back and hashed, then renamed; nothing foreign is touched.

Files that are there already, byte for byte, stay. What an earlier bundle put there and this one does not hold is
removed, if it is still as that bundle wrote it.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from atlasgen.errors import InputFault, OutputRefused
from atlasgen.model import Progress
from atlasgen.ship.cargo import BUNDLE_LIST, Item, read_list
from atlasgen.ship.flushing import flush_out
from atlasgen.write.taking_over import file_sha256

_PART = ".atlasgen-part-"
_CHUNK = 1 << 20
_SHOWN = 10


@dataclass(frozen=True, slots=True)
class Placement:
    """What is to be done on a card: files to write, and files of an earlier bundle that go."""

    write: tuple[Item, ...]
    keep: int
    remove: tuple[str, ...]


def plan_placement(root: Path, items: Sequence[Item]) -> Placement:
    """Compare the card with what is to lie on it.

    Raises
    ------
    OutputRefused
        A file or folder that no bundle of ours wrote, or that was changed since, stands in the way.
    """
    ours, there = _earlier(root), {item.name: _there(root, item.name) for item in items}
    in_the_way = [name for name, found in there.items() if found == "in the way"]
    write, keep = [], 0
    for item in items:
        found = there[item.name]
        if found == item.sha256:
            keep += 1
        elif found is None or found == ours.get(item.name, (0, ""))[1] or item.name == BUNDLE_LIST:
            write.append(item)
        elif found != "in the way":
            in_the_way.append(item.name)
    if in_the_way:
        shown = ", ".join(in_the_way[:_SHOWN]) + (" and others" if len(in_the_way) > _SHOWN else "")
        why = f"what is there is not ours, or was changed since: {shown}"
        raise OutputRefused(str(root), why, "Take them away yourself, or choose another card or folder.")
    wanted = {item.name for item in items}
    gone = [name for name, (_, sha256) in ours.items() if name not in wanted and _there(root, name) == sha256]
    return Placement(tuple(write), keep, tuple(gone))


def _earlier(root: Path) -> dict[str, tuple[int, str]]:
    path = root / BUNDLE_LIST
    return read_list(path.read_bytes(), str(path)) if path.is_file() else {}


def _there(root: Path, name: str) -> str | None:
    """Return the SHA-256 of what stands at a place of the card, None for nothing; links are not followed."""
    path = root
    for part in Path(name).parts[:-1]:
        path = path / part
        if path.is_symlink() or (path.exists() and not path.is_dir()):
            return "in the way"
    path = root / name
    if path.is_symlink() or path.is_dir() or (path.exists() and not path.is_file()):
        return "in the way"
    return file_sha256(path) if path.exists() else None


def place(root: Path, placement: Placement, progress: Progress) -> None:
    """Write everything under temporary names, then give each its own, the list last.

    Raises
    ------
    InputFault
        A source changed while it was copied, or what is read back is not what was written.
    OSError
        The card is full or cannot be written to; files of an earlier bundle are then still as they were.
    """
    root.mkdir(parents=True, exist_ok=True)
    _clear_parts(root)
    done: list[tuple[Path, Path]] = []
    try:
        for number, item in enumerate(placement.write):
            progress("copying", number, len(placement.write))
            done.append((_written(root, item, number), root / item.name))
        _put_in_place(root, done, placement.remove)
        for folder in sorted({final.parent for _, final in done}):
            _flush_folder(folder)
    finally:
        _clear_parts(root)
    progress("copying", len(placement.write), len(placement.write))


def _put_in_place(root: Path, done: Sequence[tuple[Path, Path]], remove: Sequence[str]) -> None:
    """Name the files, drop what is no longer of the bundle, and name the list last: until then the old one holds."""
    lists = [pair for pair in done if pair[1] == root / BUNDLE_LIST]
    for part, final in done:
        if (part, final) not in lists:
            part.replace(final)
    for name in remove:
        (root / name).unlink(missing_ok=True)
        _drop_empty(root, (root / name).parent)
    for part, final in lists:
        part.replace(final)


def _written(root: Path, item: Item, number: int) -> Path:
    folder = (root / item.name).parent
    folder.mkdir(parents=True, exist_ok=True)
    part = folder / f"{_PART}{number}"
    with item.open() as source, part.open("xb") as target:
        digest = hashlib.sha256()
        while piece := source.read(_CHUNK):
            digest.update(piece)
            target.write(piece)
        flush_out(target)
    if digest.hexdigest() != item.sha256:
        raise InputFault(item.name, "it changed while it was copied", "a file that stays as it is", "Bundle again.")
    if file_sha256(part) != item.sha256:
        step = "The card may be failing: try another one."
        raise InputFault(str(root / item.name), "what is read back is not what was written", "the same bytes", step)
    return part


def _clear_parts(root: Path) -> None:
    for part in root.rglob(f"{_PART}*"):
        part.unlink(missing_ok=True)


def _drop_empty(root: Path, folder: Path) -> None:
    while folder != root and not any(folder.iterdir()):
        folder.rmdir()
        folder = folder.parent


def _flush_folder(folder: Path) -> None:
    """Make sure that the new names are on the medium too, where the system lets a folder be flushed."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError:
        pass  # some file systems do not flush folders; the files themselves are flushed
    finally:
        os.close(handle)
