"""The crew's landmarks: a table with lon, lat, name, kind and words, or points of a vector file with those fields.

lon, lat  where it is, WGS 84 degrees; of a vector file the point itself
kind      ramp, access, parking, hazard, place or other; what the trade calls these is understood as well
name      what a reader is to call it
words     what a reader should know of it
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from atlasgen.errors import InputFault
from atlasgen.model import LonLat, Problem
from atlasgen.model.landmarks import LANDMARK_KINDS, LandmarkKind, LandmarkRow
from atlasgen.model.wording import say
from atlasgen.read.columns import find_columns
from atlasgen.read.layers import read_layers
from atlasgen.read.metadata import clean_text
from atlasgen.read.table import read_table

_ROLES = {
    "lon": ("lon", "long", "longitude", "lng", "x"),
    "lat": ("lat", "latitude", "y"),
    "name": ("name", "title", "label"),
    "kind": ("kind", "type", "class", "category"),
    "words": ("words", "description", "desc", "note", "notes", "comment", "remarks"),
}
_TABLES = frozenset({".csv", ".tsv", ".txt"})
# Longer names do not fit a map, longer words no page; ours.
LONGEST = {"name": 80, "words": 400}
# What crews write for a kind; common practice, no source.
_MEANS: dict[str, LandmarkKind] = {
    **dict.fromkeys(("boat ramp", "launch", "boat launch", "launch ramp", "slip", "slipway"), "ramp"),
    **dict.fromkeys(("bank access", "foot access", "footpath", "path", "steps", "walk in", "walk-in"), "access"),
    **dict.fromkeys(("car park", "parking lot", "car parking", "trailer parking"), "parking"),
    **dict.fromkeys(("danger", "obstruction", "rock", "rocks", "stump", "stumps", "shoal", "wreck", "snag"), "hazard"),
    **dict.fromkeys(("landmark", "pier", "jetty", "building", "facility"), "place"),
    **{kind: kind for kind in LANDMARK_KINDS},
}


class _Row(NamedTuple):
    """One row in words; `number` is its line, or its place in a vector file."""

    number: int
    lon: str
    lat: str
    name: str
    kind: str
    words: str


def read_landmarks(files: Sequence[tuple[Path, str]]) -> tuple[tuple[LandmarkRow, ...], list[Problem]]:
    """Read every file of landmarks, rows in order; a row without a usable position is told and left out.

    A kind that is not known is told and its landmark kept as `other`.

    Raises
    ------
    InputFault
        A file cannot be read, or holds no positions.
    """
    found: list[LandmarkRow] = []
    problems: list[Problem] = []
    for path, name in files:
        rows, told = _table_rows(path, name) if path.suffix.lower() in _TABLES else _vector_rows(path, name)
        problems += told
        for row in rows:
            read = _landmark(row, name)
            if isinstance(read, LandmarkRow):
                found.append(read)
            else:
                problems.append(read)
    return tuple(found), problems


def _table_rows(path: Path, name: str) -> tuple[list[_Row], list[Problem]]:
    table = read_table(path, name, as_text=True)
    columns, problems = find_columns(table, _ROLES)
    if not {"lon", "lat"} <= columns.keys():
        raise InputFault(name, table.heading_words, say("input-landmark-columns"), say("input-name-landmark-columns"))
    texts = {role: table.texts(column) for role, column in columns.items()}
    rows = []
    for row in range(table.rows):
        if table.ragged[row]:
            said = say("input-landmark-cells")
            problems.append(_told(name, int(table.line_numbers[row]), said))
        cells = [str(texts[role][row]) if role in texts else "" for role in _ROLES]
        rows.append(_Row(int(table.line_numbers[row]), *cells))
    return rows, problems + table.problems()


def _vector_rows(path: Path, name: str) -> tuple[list[_Row], list[Problem]]:
    import shapely

    layers, problems = read_layers(path, name)
    rows: list[_Row] = []
    number = 0
    for layer in layers:
        for index, shape in enumerate(layer.geometries):
            number += 1
            points = [part for part in shapely.get_parts(shape) if part.geom_type == "Point"]
            if not points:
                said = say("input-landmark-no-point", kind=shape.geom_type)
                problems.append(_told(name, number, said))
            rows += [_Row(number, repr(p.x), repr(p.y), *_fields(layer.fields, index)) for p in points]
    return rows, problems


def _fields(fields, index: int) -> Iterator[str]:
    for role in ("name", "kind", "words"):
        values = (fields[key][index] for key in _ROLES[role] if key in fields)
        texts = (str(value).strip() for value in values if value is not None)
        yield next((text for text in texts if text and text != "nan"), "")


def _told(name: str, number: int, what: str) -> Problem:
    return Problem(name, "bad_row", f"{name}: row {number}: {what}")


def _landmark(row: _Row, name: str) -> LandmarkRow | Problem:
    """Return the landmark, or what is wrong with its position; the cells that are right are not repeated."""
    lon, lat = _degrees(row.lon, 180.0), _degrees(row.lat, 90.0)
    if lon is None:
        return _told(name, row.number, say("input-landmark-lon", value=f"{row.lon[:40]!r}"))
    if lat is None:
        return _told(name, row.number, say("input-landmark-lat", value=f"{row.lat[:40]!r}"))
    kind, problems = _kind(row, name)
    texts = {}
    for role, text in (("name", row.name), ("words", row.words)):
        texts[role], told = _fitted(clean_text(text) or "", role, row, name)
        problems += told
    return LandmarkRow(name, row.number, LonLat(lon, lat), kind, **texts, problems=tuple(problems))


def _degrees(text: str, most: float) -> float | None:
    try:
        value = float(text.replace(",", ".").replace("\u2212", "-").rstrip("° "))
    except ValueError:
        return None
    return value if -most <= value <= most else None


def _kind(row: _Row, name: str) -> tuple[LandmarkKind, list[Problem]]:
    said = " ".join((clean_text(row.kind) or "").casefold().replace("_", " ").split())
    if said in _MEANS:
        return _MEANS[said], []
    known = ", ".join(LANDMARK_KINDS)
    words = say("input-landmark-kind", value=f"{said[:40]!r}", known=known)
    return "other", [_told(name, row.number, words)]


def _fitted(text: str, role: str, row: _Row, name: str) -> tuple[str, list[Problem]]:
    most = LONGEST[role]
    if len(text) <= most:
        return text, []
    said = say("input-landmark-long", role=role, letters=len(text), most=most)
    return text[: most - 1].rstrip() + "…", [_told(name, row.number, said)]
