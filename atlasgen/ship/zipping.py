"""Packs a bundle into one zip: the same bundle, the same bytes; read back before it takes its name."""

from __future__ import annotations

import hashlib
import shutil
import zipfile
from collections.abc import Sequence
from pathlib import Path, PurePosixPath
from typing import IO

from atlasgen.errors import InputFault, OutputRefused
from atlasgen.model import Progress
from atlasgen.ship.cargo import BUNDLE_LIST, Item
from atlasgen.ship.flushing import flush_out

# Packed already: packing them again costs time and saves nothing.
_PACKED = {".jpg", ".jpeg", ".png", ".webp", ".pdf", ".zip", ".woff2"}
# The earliest date that a zip can state (APPNOTE.TXT 4.4.6 counts years from 1980).
_NO_DATE = (1980, 1, 1, 0, 0, 0)
_CHUNK = 1 << 20


def write_zip(target: Path, items: Sequence[Item], progress: Progress) -> None:
    """Write all items into `target`.

    Raises
    ------
    OutputRefused
        There is a file already that is no bundle of ours.
    InputFault
        A source changed while it was packed, or what is read back is not what was written.
    """
    if target.exists() and not _is_ours(target):
        raise OutputRefused(str(target), "exists and is no bundle of ours", "Choose another name, or take it away.")
    target.parent.mkdir(parents=True, exist_ok=True)
    part = target.with_name(f".{target.name}.part")
    try:
        with part.open("wb") as file:
            _pack(file, items, progress)
            flush_out(file)
        _read_back(part, items)
        part.replace(target)
    finally:
        part.unlink(missing_ok=True)


def _is_ours(target: Path) -> bool:
    try:
        with zipfile.ZipFile(target) as archive:
            return BUNDLE_LIST in archive.namelist()
    except (OSError, zipfile.BadZipFile):
        return False


def _pack(file: IO[bytes], items: Sequence[Item], progress: Progress) -> None:
    with zipfile.ZipFile(file, "w", allowZip64=True) as archive:
        for number, item in enumerate(sorted(items, key=lambda item: item.name)):
            progress("packing", number, len(items))
            info = zipfile.ZipInfo(item.name, _NO_DATE)
            packed = PurePosixPath(item.name).suffix.lower() in _PACKED
            info.compress_type = zipfile.ZIP_STORED if packed else zipfile.ZIP_DEFLATED
            info.external_attr = 0o644 << 16
            info.create_system = 3  # Unix, whatever system packs it (APPNOTE.TXT 4.4.2)
            info.file_size = item.size_bytes
            with item.open() as source, archive.open(info, "w") as member:
                shutil.copyfileobj(source, member, _CHUNK)
        progress("packing", len(items), len(items))


def _read_back(part: Path, items: Sequence[Item]) -> None:
    with zipfile.ZipFile(part) as archive:
        for item in items:
            with archive.open(item.name) as member:
                digest = hashlib.sha256()
                while piece := member.read(_CHUNK):
                    digest.update(piece)
            if digest.hexdigest() != item.sha256:
                raise InputFault(
                    item.name, "packed, it is not what it was", "a file that stays as it is", "Bundle again."
                )
