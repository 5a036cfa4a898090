"""What goes on a card: every file with its place there, its size and its SHA-256, and the list that says so."""

from __future__ import annotations

import hashlib
import io
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import IO, Literal

from atlasgen import __version__
from atlasgen.errors import InputFault
from atlasgen.write.edition import manifest_hash
from atlasgen.write.taking_over import file_sha256

BUNDLE_LIST = "atlas_bundle.json"
ATLAS_FOLDER = "atlas"
FORMAT = "atlasgen bundle 1"
Owner = Literal["chart", "atlas", "bundle"]
_BLANK = "0" * 64


@dataclass(frozen=True, slots=True)
class Item:
    """One file of a bundle: `name` is its posix place on the card; it is in `source`, or is `text` of our own."""

    name: str
    of: Owner
    size_bytes: int
    sha256: str
    source: Path | None = None
    text: bytes = b""

    def open(self) -> IO[bytes]:
        """Open what is to be copied."""
        return self.source.open("rb") if self.source else io.BytesIO(self.text)


def from_text(name: str, text: bytes) -> Item:
    """Return an item of our own words."""
    return Item(name, "bundle", len(text), hashlib.sha256(text).hexdigest(), text=text)


def from_folder(folder: Path, of: Owner, below: str = "") -> Iterator[Item]:
    """Yield every file of a folder, sorted, to be laid `below` on the card.

    Raises
    ------
    InputFault
        Something in it is neither a file nor a folder (a link, a pipe): it cannot be copied byte for byte.
    """
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if path.is_symlink() or not (path.is_dir() or path.is_file()):
            what = "a link" if path.is_symlink() else "a pipe or a device"
            raise InputFault(str(path), what, "files and folders", "Put the file itself there.")
        if path.is_file():
            place = str(PurePosixPath(below) / name)
            yield Item(place, of, path.stat().st_size, file_sha256(path), path)


def list_text(items: Iterable[Item], facts: Mapping[str, object]) -> bytes:
    """Return the list of a bundle as JSON, with a hash of itself."""
    rows = [{"file": i.name, "of": i.of, "bytes": i.size_bytes, "sha256": i.sha256} for i in sorted(items, key=_name)]
    head = {"format": FORMAT, "self_sha256": _BLANK, "made_with": f"atlasgen {__version__}", **facts}
    text = json.dumps({**head, "files": rows}, indent=1, ensure_ascii=False).encode() + b"\n"
    return text.replace(_BLANK.encode(), manifest_hash(text).encode(), 1)


def _name(item: Item) -> str:
    return item.name


def read_list(text: bytes, name: str) -> dict[str, tuple[int, str]]:
    """Return (bytes, SHA-256) by file from the list of a bundle.

    Raises
    ------
    InputFault
        It is no such list, is not as it was written, or names files outside its folder.
    """
    step = "Bundle again onto an empty card, or copy the card again."
    try:
        document = json.loads(text)
        if document["format"] != FORMAT or document["self_sha256"] != manifest_hash(text):
            raise ValueError("not as it was written")
        rows = {str(row["file"]): (int(row["bytes"]), str(row["sha256"])) for row in document["files"]}
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        raise InputFault(name, f"cannot be used ({error})", "the list of a bundle", step) from None
    for file in rows:
        if PurePosixPath(file).is_absolute() or ".." in PurePosixPath(file).parts or "\\" in file:
            raise InputFault(name, repr(file), "names inside the folder", step)
    return rows
