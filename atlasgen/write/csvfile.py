"""Tables as CSV (RFC 4180) that a spreadsheet shows and does not run.

A cell that begins like a formula is one to a spreadsheet, and file names, places and sheets come from outside. Such
words get an apostrophe in front, by which spreadsheets mark text; numbers, which may begin with a minus, stay numbers.
The first signs are those of OWASP, "CSV Injection" (= + - @, tab, carriage return, line feed and the full-width forms
of the first four; from memory) and of OWASP ASVS 5.0, 1.2.10, which adds NUL.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

_FORMULA = tuple("=+-@\0\t\r\n\uff1d\uff0b\uff0d\uff20")
_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?")


def harmless(cell: Any) -> Any:
    """Return a cell that no spreadsheet takes for a formula; all else as it is."""
    if isinstance(cell, str) and cell.startswith(_FORMULA) and not _NUMBER.fullmatch(cell):
        return f"'{cell}"
    return cell


def csv_text(columns: Sequence[str], rows: Iterable[Iterable[Any]]) -> str:
    """Return a table with its headings, lines ended as RFC 4180 has it; None is an empty cell."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(columns)
    writer.writerows([harmless(cell) for cell in row] for row in rows)
    return text.getvalue()


def write_csv(path: Path, columns: Sequence[str], rows: Iterable[Iterable[Any]]) -> None:
    """Write a table, UTF-8, and the folder it goes into."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(csv_text(columns, rows), encoding="utf-8", newline="")
