"""Where a finished edition lies: a folder, a card or a zip, read in the same way and never unpacked."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath
from typing import IO, Protocol, TypeVar

from atlasgen.errors import InputFault, MissingInput

# A member that says it is larger than this is not one of ours, whatever it unpacks to.
MOST_BYTES = 8 * 2**30


Found = TypeVar("Found")


class Holder(Protocol):
    """The files of an edition by their posix names."""

    def names(self) -> list[str]:
        """Return every file, sorted."""

    def size_bytes(self, name: str) -> int:
        """Return a file's size; raises OSError if it is not there."""

    def open(self, name: str) -> IO[bytes]:
        """Open a file for reading; raises OSError if it is not there or cannot be read."""


class FolderHolder:
    """An edition in a folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def names(self) -> list[str]:
        """Return every file, sorted."""
        return sorted(path.relative_to(self.folder).as_posix() for path in self.folder.rglob("*") if path.is_file())

    def size_bytes(self, name: str) -> int:
        """Return a file's size."""
        return (self.folder / name).stat().st_size

    def open(self, name: str) -> IO[bytes]:
        """Open a file for reading."""
        return (self.folder / name).open("rb")


class ZipHolder:
    """An edition in a zip, below `top` (empty, or a folder's name and a slash)."""

    def __init__(self, archive: zipfile.ZipFile, top: str) -> None:
        self.archive, self.top = archive, top

    def names(self) -> list[str]:
        """Return every file below the top, sorted."""
        inside = (info.filename for info in self.archive.infolist() if not info.is_dir())
        return sorted(name.removeprefix(self.top) for name in inside if name.startswith(self.top))

    def size_bytes(self, name: str) -> int:
        """Return a member's size as the zip states it."""
        return self._info(name).file_size

    def open(self, name: str) -> IO[bytes]:
        """Open a member for reading; its checksum is tested as it is read."""
        info = self._info(name)
        if info.flag_bits & 1:
            raise OSError(0, "it is encrypted")
        if info.file_size > MOST_BYTES:
            raise OSError(0, f"it says it holds {info.file_size:,} bytes")
        return self.archive.open(info)

    def _info(self, name: str) -> zipfile.ZipInfo:
        try:
            return self.archive.getinfo(self.top + name)
        except KeyError:
            raise FileNotFoundError(2, "is not there") from None


@contextmanager
def opened(path: Path, manifest: str) -> Iterator[Holder]:
    """Open a folder or a zip that holds an edition at its top or in one folder below it.

    Raises
    ------
    MissingInput
        Nothing there holds a manifest.
    InputFault
        The zip cannot be read, or a name in it leads out of it.
    """
    if path.is_dir():
        yield FolderHolder(_folder_with(path, manifest))
        return
    try:
        with zipfile.ZipFile(path) as archive:
            _refuse_hostile(path, archive)
            yield ZipHolder(archive, _top_of(path, archive, manifest))
    except FileNotFoundError:
        raise MissingInput(str(path), "Is this the folder or the zip of an atlas?") from None
    except zipfile.BadZipFile as error:
        raise InputFault(path.name, error, "a folder or a zip of an atlas", "Copy it again.") from None


def _folder_with(path: Path, manifest: str) -> Path:
    found = [path] if (path / manifest).is_file() else sorted(p.parent for p in path.glob(f"*/{manifest}"))
    return _only(path, manifest, found)


def _top_of(path: Path, archive: zipfile.ZipFile, manifest: str) -> str:
    names = set(archive.namelist())
    found = [""] if manifest in names else sorted(n.removesuffix(manifest) for n in names if _is_below(n, manifest))
    return _only(path, manifest, found)


def _is_below(name: str, manifest: str) -> bool:
    parts = PurePosixPath(name).parts
    return len(parts) == 2 and parts[1] == manifest


def _only(path: Path, manifest: str, found: list[Found]) -> Found:
    if not found:
        raise MissingInput(str(path / manifest), "Is this the folder of an atlas? Copy the edition again.")
    if len(found) > 1:
        raise InputFault(path.name, f"holds {len(found)} atlases", "one atlas", "Name one of its folders.")
    return found[0]


def _refuse_hostile(path: Path, archive: zipfile.ZipFile) -> None:
    """Refuse names that lead out of the zip, and two members of one name: one would hide behind the other."""
    seen: set[str] = set()
    for name in archive.namelist():
        parts = PurePosixPath(name.replace("\\", "/")).parts
        if not parts or parts[0] == "/" or ".." in parts or ":" in parts[0] or name in seen:
            expected = "names inside the zip, each once"
            raise InputFault(
                path.name, f"a member called {name[:80]!r}", expected, "Do not unpack it; ask for another."
            )
        seen.add(name)
