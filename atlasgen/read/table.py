"""Delimited text -> columns, whatever wrote it.

Delimiter (tab, semicolon, bar, comma, blanks), decimal comma, encoding (UTF-8, UTF-16, else Latin-1), line ends,
comment lines, a heading or none, and a row of units are found from the first lines and never asked for. Files of
some size go through the fast parser of pandas; whatever it refuses goes row by row through the standard library's
csv. Both give the same table.

Every data line is a row of the table: blank lines, lines of empty cells and comment lines are not.
"""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal, NamedTuple

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model import Problem
from atlasgen.model.wording import say
from atlasgen.read.metadata import clean_text

# Below this size the careful parser is quick enough, and it knows the line number of each row.
FAST_FROM_BYTES = 2_000_000
_SAMPLE_BYTES = 65536
_COMMENTS = ("#", "//", "%", "!")
_NUMBER = re.compile(r"[+-]?(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][+-]?\d+)?")
_UNIT_CELL = re.compile(r"\W*(?:m|ft|feet|metres?|meters?|fathoms?|deg|degrees|dd|utc|kn|m/s|°|-|)\W*", re.I)


@dataclass(frozen=True)
class Table:
    """Columns of one length: float64 where every cell is a number or empty (NaN), else texts.

    `ragged` marks rows with more cells than the table has columns; `line_numbers` are 1-based lines of the file,
    counted from the first row where the fast parser read it.
    """

    name: str
    headings: tuple[str, ...]
    columns: tuple[np.ndarray, ...]
    ragged: np.ndarray
    line_numbers: np.ndarray
    decimal: str = "."
    has_header: bool = True
    notes: tuple[str, ...] = field(default=())

    @property
    def rows(self) -> int:
        """Count of data lines."""
        return len(self.ragged)

    def problems(self) -> list[Problem]:
        """Return what had to be assumed to read the table."""
        return [Problem(self.name, "ambiguous", f"{self.name}: {note}") for note in self.notes]

    @property
    def heading_words(self) -> str:
        """What stands in the first line, for messages."""
        if not self.has_header:
            return say("input-no-heading", row=", ".join(str(cells[0]) for cells in self.columns))
        return say("input-has-columns", columns=", ".join(repr(text) for text in self.headings if text))

    def numbers(self, column: int) -> np.ndarray:
        """Column as float64; NaN for cells that are empty or no number."""
        cells = self.columns[column]
        if cells.dtype.kind == "f":
            return cells
        import pandas as pd

        texts = pd.Series(cells, dtype="object").astype(str).str.strip().str.replace("\u2212", "-")
        if self.decimal == ",":
            texts = texts.str.replace(",", ".")
        return pd.to_numeric(texts, errors="coerce").to_numpy(dtype=float)

    def texts(self, column: int) -> np.ndarray:
        """Column as stripped texts, "" for an empty cell."""
        cells = self.columns[column]
        if cells.dtype.kind != "f":
            return np.array([cell.strip() for cell in cells], dtype=object)
        return np.array(["" if np.isnan(n) else f"{n:.0f}" if n % 1 == 0 else repr(float(n)) for n in cells], object)

    def words(self, column: int) -> np.ndarray:
        """Column as words for a reader: `texts` without control signs and direction marks."""
        texts = self.texts(column)
        clean = {text: clean_text(text) or "" for text in set(texts.tolist())}
        return np.array([clean[text] for text in texts.tolist()], dtype=object)


class _Form(NamedTuple):
    """How a file is written; `skip` lines come before the first row."""

    encoding: str
    delimiter: str
    decimal: str
    headings: tuple[str, ...]
    has_header: bool
    skip: int


def read_table(path: Path, name: str, *, as_text: bool = False) -> Table:
    """Read delimited text.

    Parameters
    ----------
    path, name
        The file, and how messages call it.
    as_text
        Keep every cell as it stands, for tables that hold words.

    Raises
    ------
    InputFault
        Not there, empty, not text, or without a single row.
    """
    sample, size = _head(path, name)
    form = _form_of(sample, name)
    table = None
    if size >= FAST_FROM_BYTES and not as_text:
        table = _read_fast(path, name, form)
    if table is None:
        table = _read_careful(path, name, form, as_text)
    if not table.rows:
        raise InputFault(name, say("input-no-rows"), say("input-heading-and-row"), say("input-export-table"))
    return table


def _head(path: Path, name: str) -> tuple[bytes, int]:
    try:
        with path.open("rb") as file:
            sample = file.read(_SAMPLE_BYTES)
        size = path.stat().st_size
    except OSError as error:
        raise InputFault(name, error.strerror, say("input-a-readable-file"), say("input-check-rights")) from None
    if not sample.strip(b"\xef\xbb\xbf \r\n\t"):
        raise InputFault(name, say("input-is-empty"), say("input-a-table"), say("input-export-table"))
    return sample, size


def encoding_of(sample: bytes, name: str) -> str:
    """Tell the encoding by byte-order mark, the place of zero bytes, or trying UTF-8; Latin-1 is the last resort."""
    if sample.startswith((b"\xff\xfe", b"\xfe\xff")):
        return "utf-16"
    if b"\0" in sample:
        even, odd = sample[::2].count(0), sample[1::2].count(0)
        if max(even, odd) < len(sample) / 8 or min(even, odd) > max(even, odd) / 8:
            raise InputFault(name, say("input-not-text"), say("input-delimited"), say("input-save-as-csv"))
        return "utf-16-le" if odd > even else "utf-16-be"
    try:
        # The sample may end inside a character: the last few bytes are no proof against UTF-8.
        sample[: max(len(sample) - 4, 1)].decode("utf-8") if len(sample) == _SAMPLE_BYTES else sample.decode("utf-8")
    except UnicodeDecodeError as error:
        if error.start < len(sample) - 8:
            return "latin-1"
        return "latin-1" if len(sample) < _SAMPLE_BYTES else "utf-8-sig"
    return "utf-8-sig"


def _form_of(sample: bytes, name: str) -> _Form:
    encoding = encoding_of(sample, name)
    text = sample.decode(encoding, errors="replace")
    lines = text.splitlines()
    if len(sample) == _SAMPLE_BYTES and len(lines) > 1:
        lines.pop()
    forced = ""
    first = 0
    if lines[0].lower().startswith("sep=") and len(lines[0]) == 5:
        forced, first = lines[0][4], 1
    data = [(number, line) for number, line in enumerate(lines) if number >= first and not _is_comment(line)]
    if not data:
        raise InputFault(name, say("input-only-comments"), say("input-a-table"), say("input-export-table"))
    delimiter = forced or _delimiter([line for _, line in data])
    return _heading(lines, data, encoding, delimiter)


def _is_comment(line: str) -> bool:
    line = line.strip().strip('"')
    return not line or line.startswith(_COMMENTS) or not line.strip(",;|\t ")


def split(line: str, delimiter: str) -> list[str]:
    """One line -> its cells; blanks as the delimiter keep a bracketed unit with its heading."""
    if delimiter == " ":
        return re.sub(r"\s+([(\[])", r"\1", line.strip()).split()
    return [cell.strip() for cell in next(csv.reader([line], delimiter=delimiter, skipinitialspace=True), [])]


def _delimiter(lines: list[str]) -> str:
    """Return the first of tab, semicolon, bar, comma, blank that cuts nearly all lines into the same number of cells.

    Semicolons go before commas, because in files with semicolons the comma is often the decimal mark.
    """
    for delimiter in "\t;|, ":
        counts = Counter(len(split(line, delimiter)) for line in lines)
        width, hits = max(counts.items(), key=lambda item: (item[1], item[0]))
        if width > 1 and hits >= 0.8 * len(lines) and len(split(lines[0], delimiter)) > 1:
            return delimiter
    return "," if any("," in line for line in lines) else "\t"


def _heading(lines: list[str], data: list[tuple[int, str]], encoding: str, delimiter: str) -> _Form:
    rows = [split(line, delimiter) for _, line in data]
    has_header = _is_heading(rows[0])
    headings, skip = rows[0], data[0][0] + 1
    if has_header and len(rows) > 1 and _is_units(rows[1], rows[0]):
        headings = [f"{h} ({u.strip('()[] ')})" if u.strip("()[]- ") else h for h, u in zip(*rows[:2], strict=True)]
        skip = data[1][0] + 1
        rows = rows[1:]
    body = rows[1:] if has_header else rows
    if not has_header:
        headings, skip = _commented_heading(lines[: data[0][0]], delimiter, len(rows[0])), data[0][0]
        has_header = bool(headings)
        headings = headings or [f"column {n + 1}" for n in range(_usual_width(rows))]
    # The fast parser needs a name for each cell of a row, also where each row ends in a delimiter.
    width = max(len(headings), _usual_width(body) if body and not any(row[-1] for row in body if row) else 0)
    headings = [*headings, *[""] * (width - len(headings))]
    return _Form(encoding, delimiter, _decimal(body, delimiter), tuple(headings), has_header, skip)


def _usual_width(rows: list[list[str]]) -> int:
    return max(Counter(len(row) for row in rows).items(), key=lambda item: (item[1], item[0]))[0]


def _is_heading(cells: list[str]) -> bool:
    """No number and at least one word of letters: a heading."""
    return not any(_NUMBER.fullmatch(cell) for cell in cells) and any(re.match(r"[^\W\d]", cell) for cell in cells)


def _is_units(cells: list[str], headings: list[str]) -> bool:
    return len(cells) == len(headings) and all(_UNIT_CELL.fullmatch(cell) for cell in cells) and any(cells)


def _commented_heading(lines: list[str], delimiter: str, width: int) -> list[str]:
    """Return the headings where the last comment before the rows has as many words as a row has cells."""
    for line in reversed(lines):
        bare = line.strip().lstrip("#/%! ")
        if bare:
            cells = split(bare, delimiter)
            return cells if len(cells) == width and _is_heading(cells) else []
    return []


def _decimal(rows: list[list[str]], delimiter: str) -> str:
    if delimiter == ",":
        return "."
    cells = [cell for row in rows for cell in row]
    commas = sum(bool(re.fullmatch(r"[+-]?\d+,\d+", cell)) for cell in cells)
    points = sum(bool(re.fullmatch(r"[+-]?\d+\.\d+", cell)) for cell in cells)
    return "," if commas > points else "."


def _read_fast(path: Path, name: str, form: _Form) -> Table | None:
    """Read with pandas; None where a row has too many cells, a quote stays open or the encoding changes."""
    import warnings

    import pandas as pd

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", pd.errors.ParserWarning)
            frame = pd.read_csv(
                path,
                sep=r"\s+" if form.delimiter == " " else form.delimiter,
                header=None,
                names=range(len(form.headings)),
                index_col=False,
                skiprows=form.skip,
                encoding=form.encoding,
                decimal=form.decimal,
                keep_default_na=False,
                na_values=[""],
                skipinitialspace=True,
                low_memory=False,
            )
    except (pd.errors.ParserError, pd.errors.ParserWarning, pd.errors.EmptyDataError, UnicodeError):
        return None
    drop = _no_rows(frame)
    columns = tuple(_column(frame[key], drop, form.decimal) for key in frame)
    frame = frame[~drop]
    lines = np.arange(len(frame)) + form.skip + 1
    return Table(name, form.headings, columns, np.zeros(len(frame), bool), lines, form.decimal, form.has_header)


def _no_rows(frame):
    """Mark comment lines and lines of empty cells."""
    first = frame[0]
    comments = np.zeros(len(frame), dtype=bool)
    if first.dtype.kind not in "iuf":
        comments = first.astype(str).str.strip().str.startswith(_COMMENTS).to_numpy(dtype=bool)
    return comments | frame.isna().all(axis=1).to_numpy()


def _column(series, drop: np.ndarray, decimal: str) -> np.ndarray:
    if series.dtype.kind in "iuf":
        return series.to_numpy(dtype=float)[~drop]
    texts = series.astype("object").where(series.notna(), "").astype(str).to_numpy(dtype=object)[~drop]
    # A comment line among the rows made words of the first column's numbers.
    return _numeric(texts, decimal) if drop.any() else texts


def _read_careful(path: Path, name: str, form: _Form, as_text: bool) -> Table:
    text, notes = _text_of(path, form)
    width = len(form.headings)
    rows, numbers, ragged, number = [], [], [], 0
    try:
        for number, cells in _lines(text, form):
            if number > form.skip and not _is_comment_row(cells):
                while len(cells) > width and not cells[-1].strip():
                    cells.pop()
                ragged.append(len(cells) > width)
                rows.append((cells + [""] * width)[:width])
                numbers.append(number)
    except csv.Error as error:
        value = say("input-line-error", line=number + 1, error=f"{error}")
        raise InputFault(name, value, say("input-delimited-text"), say("input-export-table")) from None
    columns = tuple(np.array(column, dtype=object) for column in zip(*rows, strict=True))
    if not as_text:
        columns = tuple(_numeric(column, form.decimal) for column in columns)
    return Table(
        name,
        form.headings,
        columns,
        np.array(ragged, dtype=bool),
        np.array(numbers, dtype=int),
        form.decimal,
        form.has_header,
        notes,
    )


def _text_of(path: Path, form: _Form) -> tuple[str, tuple[str, ...]]:
    data = path.read_bytes()
    try:
        text = data.decode(form.encoding)
    except UnicodeError:
        text = data.decode("latin-1")
    notes = (say("input-open-quotation"),) if text.count('"') % 2 else ()
    return text.removeprefix("\ufeff"), notes


def _lines(text: str, form: _Form):
    """Yield `(line number, cells)`; a cell in quotes may run over lines."""
    file = io.StringIO(text, newline=None)
    if form.delimiter == " ":
        for number, line in enumerate(file, start=1):
            yield number, line.split()
        return
    quoting: Literal[0, 3] = csv.QUOTE_NONE if text.count('"') % 2 else csv.QUOTE_MINIMAL
    reader = csv.reader(file, delimiter=form.delimiter, skipinitialspace=True, quoting=quoting)
    for cells in reader:
        yield reader.line_num, cells


def _is_comment_row(cells: list[str]) -> bool:
    return not any(cell.strip() for cell in cells) or cells[0].strip().startswith(_COMMENTS)


def _numeric(column: np.ndarray, decimal: str) -> np.ndarray:
    """Turn a column into numbers where each cell is a number or empty, and at least one is a number."""
    import pandas as pd

    texts = pd.Series(column, dtype="object").str.strip()
    if decimal == ",":
        texts = texts.str.replace(",", ".")
    numbers = pd.to_numeric(texts, errors="coerce")
    words = numbers.isna() & (texts != "")
    return column if words.any() or numbers.isna().all() else numbers.to_numpy(dtype=float)
