"""Sounding files as files: which of them are copies, and on which line a row stands."""

from __future__ import annotations

import hashlib
from collections import Counter
from pathlib import Path

import numpy as np

from atlasgen.model import Problem
from atlasgen.model.wording import say
from atlasgen.read.table import FAST_FROM_BYTES, Table


def without_copies(paths_names: list[tuple[Path, str]]) -> tuple[list[tuple[Path, str]], list[Problem]]:
    """Keep the first of files with the same bytes; what cannot be opened is left to the reader to tell."""
    first: dict[tuple[int, str], str] = {}
    kept, problems = [], []
    sizes = {name: path.stat().st_size if path.is_file() else -1 for path, name in paths_names}
    several = Counter(sizes.values())
    for path, name in sorted(paths_names, key=lambda item: item[1]):
        # Most files differ in size already, and need not be read twice.
        if several[sizes[name]] > 1 and sizes[name] > 0:
            same = first.setdefault((sizes[name], _sha256(path)), name)
            if same != name:
                said = say("input-same-bytes", file=name, other=same)
                problems.append(Problem(name, "bad_row", said))
                continue
        kept.append((path, name))
    return kept, problems


def _sha256(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def line_numbers(path: Path, table: Table) -> np.ndarray:
    """Line of the file for each row of its table; all 0 where the fast parser passed over lines it does not count."""
    line = table.line_numbers.astype(np.int32)
    if path.stat().st_size < FAST_FROM_BYTES or not len(line):
        return line
    with path.open("rb") as file:
        ends, last = 0, b""
        while part := file.read(1 << 24):
            ends, last = ends + part.count(b"\n"), part
    return line if ends + (not last.endswith(b"\n")) == line[-1] else np.zeros_like(line)
