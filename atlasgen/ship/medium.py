"""What a card or a folder can hold: its file system and the room on it."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

_FAT = {"vfat", "msdos", "fat", "fat32"}
_MOUNTS = Path("/proc/self/mounts")
# The largest cluster that FAT32 is commonly formatted with: what a file at most takes more than its bytes.
_CLUSTER_BYTES = 32_768


@dataclass(frozen=True, slots=True)
class Medium:
    """`is_fat` None: the file system could not be told; it is then held to FAT32's limits, the narrowest in use."""

    system: str
    is_fat: bool | None
    free_bytes: int
    cluster_bytes: int

    def needed_bytes(self, sizes_bytes: Iterable[int]) -> int:
        """Return the room that files of these sizes take, in whole clusters."""
        return sum(-(-size // self.cluster_bytes) * self.cluster_bytes for size in sizes_bytes)


def medium_of(folder: Path) -> Medium:
    """Look at the file system of `folder`, or of its nearest parent that exists."""
    there = next(path for path in (folder, *folder.resolve().parents) if path.exists())
    system = _system(there)
    is_fat = None if system is None else system in _FAT
    cluster = _CLUSTER_BYTES if is_fat is not False or not hasattr(os, "statvfs") else os.statvfs(there).f_frsize
    return Medium(system or "not known", is_fat, shutil.disk_usage(there).free, cluster)


def _system(there: Path) -> str | None:
    """Return the type of the file system where the system tells it (Linux: proc(5), mounts), else None."""
    try:
        rows = [line.split(" ") for line in _MOUNTS.read_text(encoding="utf-8", errors="replace").splitlines()]
    except OSError:
        return None
    resolved = there.resolve()
    found = [
        (len(where.parts), row[2]) for row in rows if len(row) > 2 and _holds(where := _unescaped(row[1]), resolved)
    ]
    return max(found, key=lambda pair: pair[0])[1] if found else None


def _unescaped(field: str) -> Path:
    """Undo the octal escapes of the mount table: space, tab, newline, backslash."""
    for octal, sign in (("\\040", " "), ("\\011", "\t"), ("\\012", "\n"), ("\\134", "\\")):
        field = field.replace(octal, sign)
    return Path(field)


def _holds(mount: Path, path: Path) -> bool:
    return mount == path or mount in path.parents
