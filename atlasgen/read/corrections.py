"""The crew's word on photos. One row for each photo; an empty cell leaves what the file says.

The columns, of which only `file` must be there:

file         the photo, as a path below the survey folder
lon, lat     where the camera stood, WGS 84 degrees, both or none
heading_deg  where it looked, degrees clockwise from true north
pitch_deg    above the horizon positive, -90 straight down
height_m     above the water, metres
taken        date and time
caption      words for the page
leave_out    the reason, or yes
blur         rectangles to make unreadable: left top width height, in pixels of the upright photo; several parted by ;
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

from atlasgen.errors import InputFault
from atlasgen.model import Correction, LonLat, Problem, Zone
from atlasgen.model.wording import say
from atlasgen.read.columns import find_columns
from atlasgen.read.metadata import clean_text
from atlasgen.read.table import Table, read_table
from atlasgen.read.times import moment

_ROLES = {
    "file": ("file", "filename", "file_name", "photo", "name"),
    "lon": ("lon", "longitude", "long"),
    "lat": ("lat", "latitude"),
    "heading_deg": ("heading", "heading_deg_true", "bearing", "direction"),
    "pitch_deg": ("pitch", "tilt"),
    "height_m": ("height", "height_above_water"),
    "taken": ("taken", "time", "datetime"),
    "caption": ("caption", "title"),
    "blur": ("blur", "blurred", "hide"),
    "leave_out": ("leave_out", "leaveout", "exclude", "excluded"),
}
_RANGES = {
    "lon": (-180.0, 180.0),
    "lat": (-90.0, 90.0),
    "heading_deg": (0.0, 360.0),
    "pitch_deg": (-90.0, 90.0),
    # Below the water there is no view; above 1,000 m no small drone flies. Ours.
    "height_m": (0.0, 1000.0),
}
_YES = frozenset({"yes", "y", "true", "x", "1"})
_NO = frozenset({"", "no", "n", "false", "0"})


class _BadCell(Exception):
    """What a cell should have held."""


@dataclass
class _Cells:
    """The words of one row by role, and how to tell what is wrong with them."""

    table: Table
    row: int
    words: dict[str, str]
    columns: dict[str, int]
    problems: list[Problem]

    def take(self, role: str, read: Callable[[str, str], Any]) -> Any:
        """Return the value of one cell; None where it is empty or bad, which is said."""
        text = self.words.get(role, "")
        try:
            return read(role, text) if text else None
        except _BadCell as expected:
            self.tell(role, f"{text!r}. Expected {expected}")
            return None

    def tell(self, role: str, what: str) -> None:
        """Add a Problem that names the line and the column."""
        heading = self.table.headings[self.columns[role]] if role in self.columns else role
        place = f"{self.table.name}: line {self.table.line_numbers[self.row]}, {heading}"
        self.problems.append(Problem(self.table.name, "bad_row", say("input-cell-not-used", place=place, what=what)))


def read_corrections(path: Path, name: str, zone: Zone) -> tuple[dict[str, Correction], list[Problem]]:
    """Read the corrections by file, as written but with forward slashes; `zone` is for times that name none.

    A bad cell is named and not used, the rest of its row is. Of several rows for one file, the last filled cell of
    each column stands.

    Raises
    ------
    InputFault
        It cannot be read, or has no column `file`.
    """
    table = read_table(path, name, as_text=True)
    columns, problems = find_columns(table, _ROLES)
    if "file" not in columns:
        raise InputFault(name, table.heading_words, say("input-a-column", column="file"), say("input-name-columns"))
    problems += table.problems() + _unknown(table, columns)
    texts = {role: table.texts(column) for role, column in columns.items()}
    corrections: dict[str, Correction] = {}
    for row in range(table.rows):
        words = {role: str(column[row]) for role, column in texts.items()}
        cells = _Cells(table, row, words, columns, problems)
        if table.ragged[row]:
            cells.tell("file", say("input-more-cells"))
        correction = _correction(cells, zone)
        if correction is None:
            continue
        if correction.file in corrections:
            said = say("input-several-rows", file=name, photo=correction.file)
            problems.append(Problem(name, "ambiguous", said))
            correction = _merged(corrections[correction.file], correction)
        corrections[correction.file] = correction
    return corrections, problems


def _unknown(table: Table, columns: dict[str, int]) -> list[Problem]:
    unknown = [text for number, text in enumerate(table.headings) if text and number not in columns.values()]
    if not unknown:
        return []
    names = ", ".join(repr(text) for text in unknown)
    said = say("input-unknown-columns", file=table.name, columns=names, known=", ".join(_ROLES))
    return [Problem(table.name, "unused", said)]


def _correction(cells: _Cells, zone: Zone) -> Correction | None:
    file = cells.words["file"].replace("\\", "/").removeprefix("./")
    if not file:
        cells.tell("file", say("input-no-photo-path"))
        return None
    return Correction(
        file=file,
        lonlat=_lonlat(cells),
        heading_deg_true=cells.take("heading_deg", _heading),
        pitch_deg=cells.take("pitch_deg", _number),
        height_above_water_m=cells.take("height_m", _number),
        taken=cells.take("taken", lambda _, text: _moment(text, zone)),
        caption=clean_text(cells.words.get("caption", "")),
        leave_out=_leave_out(clean_text(cells.words.get("leave_out", "")) or ""),
        blur=cells.take("blur", _rectangles),
    )


def _lonlat(cells: _Cells) -> LonLat | None:
    lon, lat = cells.take("lon", _number), cells.take("lat", _number)
    if lon is not None and lat is not None:
        return LonLat(lon, lat)
    for role, value, other in (("lon", lon, "lat"), ("lat", lat, "lon")):
        if value is not None:
            cells.tell(other, say("input-stands-alone", other=role))
    return None


def _number(role: str, text: str) -> float:
    low, high = _RANGES[role]
    try:
        value = float(text.replace(",", ".").replace("\u2212", "-").rstrip("° "))
    except ValueError:
        value = float("nan")
    if not low <= value <= high:
        raise _BadCell(say("input-a-number", low=f"{low:g}", high=f"{high:g}"))
    return value


def _heading(role: str, text: str) -> float:
    return _number(role, text) % 360


def _moment(text: str, zone: Zone) -> Any:
    taken = moment(text, zone)
    if taken is None:
        raise _BadCell(say("input-a-time"))
    return taken


def _rectangles(_: str, text: str) -> tuple[tuple[int, int, int, int], ...]:
    found = []
    for part in filter(None, (part.strip() for part in text.split(";"))):
        words = part.replace(",", " ").split()
        if len(words) != 4 or not all(word.isdecimal() and word.isascii() for word in words):
            raise _BadCell(say("input-rectangles"))
        left, top, width, height = (int(word) for word in words)
        if not (0 < width <= 100_000 and 0 < height <= 100_000 and max(left, top) <= 100_000):
            raise _BadCell(say("input-rectangle-sizes"))
        found.append((left, top, width, height))
    return tuple(found)


def _leave_out(text: str) -> str | None:
    if text.lower() in _NO:
        return None
    return say("input-no-reason") if text.lower() in _YES else text


def _merged(earlier: Correction, later: Correction) -> Correction:
    filled = {item.name: getattr(later, item.name) for item in fields(Correction)}
    kept = {key: getattr(earlier, key) if value is None else value for key, value in filled.items()}
    return Correction(**kept)
