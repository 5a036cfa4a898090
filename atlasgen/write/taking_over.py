"""Takes files of the edition before over into the new one: they are then not written anew."""

from __future__ import annotations

import hashlib
import os
import shutil
from pathlib import Path

from atlasgen.model.memory import Former, Stamp


def file_sha256(path: Path) -> str:
    """Return the SHA-256 of a file, hexadecimal, read in pieces."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def stamp_of(path: Path) -> Stamp:
    """Return a file's stamp; raises OSError where it has none."""
    stat = path.stat()
    return Stamp(stat.st_size, stat.st_mtime_ns, stat.st_ctime_ns, stat.st_ino)


def taken_over(former: Former, name: str, folder: Path, sha256: str) -> bool:
    """Let a file of the edition before stand in `folder` too, once its bytes are known to be right; tell if it does.

    They are known by the file's stamp or, where that says nothing, by its hash. The file gets a second name; where a
    system knows none, a copy is made, unless a new file stands there already.
    """
    source, target = former.folder / name, folder / name
    try:
        stands = former.stamps.get(name) == stamp_of(source) or file_sha256(source) == sha256
        return stands and _linked(source, target)
    except OSError:
        return False


def _linked(source: Path, target: Path) -> bool:
    try:
        os.link(source, target)
    except FileExistsError:
        return _replaced(source, target)
    except FileNotFoundError:
        target.parent.mkdir(parents=True, exist_ok=True)
        return _linked(source, target)
    except OSError:
        shutil.copyfile(source, target)
    return True


def _replaced(source: Path, target: Path) -> bool:
    part = target.with_name(f".{target.name}.kept")
    try:
        os.link(source, part)
        part.replace(target)
    except OSError:
        part.unlink(missing_ok=True)
        return False
    return True
