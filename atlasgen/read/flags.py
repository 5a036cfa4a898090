"""Validity flags in tables: A (valid) and V (void), as sounders and receivers write them, and their relatives."""

from __future__ import annotations

import numpy as np

from atlasgen.read.columns import heading_of
from atlasgen.read.table import Table

_FLAG_WORDS = frozenset({"status", "valid", "validity", "flag", "ok", "fix"})
_GOOD = frozenset({"a", "valid", "ok", "good", "true", "yes"})
_BAD = frozenset({"v", "invalid", "void", "bad", "false", "no"})


def invalid_rows(table: Table, column: int) -> np.ndarray:
    """Mark rows that a flag column calls invalid; none where the column is no flag.

    A flag column has a heading with a word such as status or valid and holds only the usual words for yes and no;
    where the heading says valid, 1 and 0 count as well. An empty flag says nothing.
    """
    none = np.zeros(table.rows, dtype=bool)
    words = set(heading_of(table.headings[column]).base.split("_"))
    if not words & _FLAG_WORDS:
        return none
    cells = table.columns[column]
    if cells.dtype.kind == "f":
        known = np.isin(cells[np.isfinite(cells)], (0, 1)).all()
        return cells == 0 if known and words & {"valid", "validity", "ok"} else none
    import pandas as pd

    texts = pd.Series(cells, dtype="object").str.strip().str.lower()
    if set(texts.unique()) <= _GOOD | _BAD | {""}:
        return texts.isin(_BAD).to_numpy(dtype=bool)
    return none
