"""The book in one call, without the photographs being bound beside other work."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from atlasgen.model import Atlas
from atlasgen.write.book import begin_book


def write_book(atlas: Atlas, folder: Path) -> dict[Path, str]:
    """Write the book beside its pictures and wait for it; return the files' SHA-256."""
    with ThreadPoolExecutor(1) as executor:
        begun = begin_book(atlas, folder, folder, executor, work=folder / "work", progress=lambda *_: None)
        return {file: written() for file, written in begun.items()}
