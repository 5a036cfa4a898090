"""Which column is which: by its heading, and always checked by its values.

Headings are compared without case, accents and punctuation; a unit in brackets or at the end (`Depth (ft)`,
`depth_ft`, `DepthFt`) is taken off and kept. A name given in survey.toml goes before any heading; a number there
means the column's place, from 1.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model import Problem
from atlasgen.model.wording import say
from atlasgen.read.table import Table, read_table

__all__ = ["SOUNDING_ROLES", "Heading", "Table", "find_columns", "heading_of", "lonlat_columns", "read_table"]

# Usual headings in several languages, most telling first; common practice, no source.
_LON = ("lon", "long", "longitude", "lng", "gps_lon", "gps_longitude", "pos_lon", "lon_wgs84", "longitud",
        "longitudine", "laengengrad", "langengrad", "laenge", "lange", "lengdegrad", "pos_x")  # fmt: skip
_LAT = ("lat", "latitude", "gps_lat", "gps_latitude", "pos_lat", "lat_wgs84", "latitud", "latitudine", "latitudin",
        "breitengrad", "breite", "breddegrad", "pos_y")  # fmt: skip
_EASTING = ("easting", "east", "eastings", "rechtswert", "ostwert", "x_coord", "xcoord", "coord_x", "utm_e", "utm_x",
            "e", "x")  # fmt: skip
_NORTHING = ("northing", "north", "northings", "hochwert", "nordwert", "y_coord", "ycoord", "coord_y", "utm_n", "utm_y",
             "n", "y")  # fmt: skip
_DEPTH = ("depth", "water_depth", "dep", "depths", "sounding", "tiefe", "wassertiefe", "profondeur", "profundidad",
          "profundidade", "profondita", "diepte", "waterdiepte", "djup", "dybde", "dybd", "syvyys", "glebokosc",
          "hloubka", "prof", "depth_below_surface", "depth_below_transducer", "dbt", "dpt", "dpth", "z")  # fmt: skip
_TIME = ("datetime", "date_time", "timestamp", "time_utc", "utc_time", "utc", "datetime_utc", "time", "gps_time",
         "datum_zeit", "zeit", "uhrzeit", "heure", "hora", "tijd", "tid", "ora", "clock")  # fmt: skip
_DATE = ("date", "day", "fecha", "data", "datum", "gps_date", "date_utc", "utc_date", "dato")
_LINE = ("line", "profile", "transect", "line_id", "line_no", "lineid", "profil", "transekt", "run", "track", "file")

SOUNDING_ROLES: dict[str, tuple[str, ...]] = {
    "lon": _LON + _EASTING,
    "lat": _LAT + _NORTHING,
    "depth": _DEPTH,
    "time": _TIME,
    "date": _DATE,
    "line": _LINE,
}
_PROJECTED_FIRST = {"lon": _EASTING + _LON, "lat": _NORTHING + _LAT}

_UNITS = {
    "metres": ("m", "meter", "meters", "metre", "metres", "mtr", "mtrs"),
    "feet": ("ft", "feet", "foot"),
    "fathoms": ("fathom", "fathoms", "fm", "ftm"),
    "degrees": ("deg", "degree", "degrees", "dd", "decimal_degrees", "°"),
    "knots": ("kn", "kt", "kts", "knot", "knots"),
    "m/s": ("mps", "m_s", "ms", "m/s"),
}
_UNIT_OF = {word: unit for unit, words in _UNITS.items() for word in words}


class Heading(NamedTuple):
    """A heading without its unit; `unit` is a word of ours, or what stands in the brackets if it is none of them."""

    base: str
    unit: str | None


def heading_of(text: str) -> Heading:
    """Take a heading apart: `Depth (ft)`, `depth_ft`, `DepthFt` -> ("depth", "feet")."""
    bracket = re.search(r"[(\[]\s*([^)\]]*?)\s*[)\]]", text)
    bare = _plain(text[: bracket.start()] if bracket else text)
    if bracket and bare:
        unit = bracket[1].lower()
        return Heading(bare, _UNIT_OF.get(unit, _UNIT_OF.get(_plain(unit), unit or None)))
    base, _, last = bare.rpartition("_")
    return Heading(base, _UNIT_OF[last]) if base and last in _UNIT_OF else Heading(bare, None)


def _plain(text: str) -> str:
    """Lower case, no accents, words joined by `_`; a capital inside a word starts a new one."""
    text = re.sub(r"(?<=[a-z])(?=[A-Z])", "_", text.strip())
    text = unicodedata.normalize("NFKD", text.replace("ß", "ss")).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "_", text.lower()).strip("_")


def find_columns(
    table: Table,
    roles: Mapping[str, Sequence[str]],
    named: Mapping[str, str | None] | None = None,
    setting: str = "",
) -> tuple[dict[str, int], list[Problem]]:
    """Find the column of each role; roles without a column are absent.

    Parameters
    ----------
    roles
        Role to the headings it may have, the most telling first.
    named
        Role to a heading, or a place from 1, that the crew states; None where it states nothing.
    setting
        The key in survey.toml that `named` comes from, for messages.

    Raises
    ------
    InputFault
        A named column is not there.
    """
    headings = [heading_of(text) for text in table.headings]
    found: dict[str, int] = {}
    problems: list[Problem] = []
    for role, synonyms in roles.items():
        name = (named or {}).get(role)
        if name is not None:
            found[role] = _named(table, headings, name, f"{setting}.{role}")
            continue
        best = _best(headings, synonyms) if table.has_header else []
        if len(best) > 1:
            problems.append(_several(table, role, best, setting))
        if best:
            found[role] = best[0]
    return found, problems


def _named(table: Table, headings: list[Heading], name: str, key: str) -> int:
    wanted = name.strip()
    for number, text in enumerate(table.headings):
        if text.strip().lower() == wanted.lower() or (wanted and headings[number].base == _plain(wanted)):
            return number
    if wanted.isdigit() and 1 <= int(wanted) <= len(table.headings):
        return int(wanted) - 1
    raise InputFault(
        table.name,
        say("input-no-column", column=f"{name!r}", key=key),
        say("input-a-column-of", columns=", ".join(map(repr, table.headings)), count=len(table.headings)),
        say("input-mend-name"),
    )


def _best(headings: list[Heading], synonyms: Sequence[str]) -> list[int]:
    """Columns that bear the most telling synonym; metres before other units."""
    for synonym in synonyms:
        hits = [number for number, heading in enumerate(headings) if heading.base == synonym]
        if hits:
            return sorted(hits, key=lambda number: headings[number].unit not in (None, "metres"))
    return []


def _several(table: Table, role: str, columns: list[int], setting: str) -> Problem:
    names = " and ".join(repr(table.headings[number]) for number in columns)
    how = f" {say('input-name-another', key=f'{setting}.{role}')}" if setting else ""
    used = f"{table.headings[columns[0]]!r}"
    message = say("input-two-columns", file=table.name, columns=names, role=role, used=used) + how
    return Problem(table.name, "ambiguous", message)


def lonlat_columns(
    table: Table, geographic: bool, crs: str, named: Mapping[str, str | None] | None, setting: str
) -> tuple[int, int, list[Problem]]:
    """Find the columns of longitude (or easting) and latitude (or northing), checked by value.

    Where the headings promise degrees the other way round and only the swap fits the ranges, the two are swapped
    and it is said.

    Raises
    ------
    InputFault
        No such columns, or values that cannot be what the headings and the CRS promise.
    """
    roles = {role: SOUNDING_ROLES[role] if geographic else _PROJECTED_FIRST[role] for role in ("lon", "lat")}
    found, problems = find_columns(table, roles, named, setting)
    if len(found) < 2:
        step = say("input-name-lonlat-or-key", key=setting) if setting else say("input-name-lonlat")
        missing = " and ".join({"lon": "longitude", "lat": "latitude"}[role] for role in roles if role not in found)
        raise InputFault(
            table.name,
            say("input-none-for", columns=table.heading_words, role=missing),
            say("input-headings-lonlat"),
            step,
        )
    lon, lat = found["lon"], found["lat"]
    if not geographic:
        _refuse_degrees(table, lon, lat, crs)
        return lon, lat, problems
    if _share_within(table, lat, 90) >= 0.5 and _share_within(table, lon, 180) >= 0.5:
        return lon, lat, problems
    if _share_within(table, lon, 90) >= 0.5 and _share_within(table, lat, 180) >= 0.5:
        held = {"column": f"{table.headings[lat]!r}", "range": _range(table, lat)}
        message = say("input-swapped", file=table.name, **held)
        return lat, lon, [*problems, Problem(table.name, "ambiguous", message)]
    raise _no_degrees(table, lon, lat, setting)


def _no_degrees(table: Table, lon: int, lat: int, setting: str) -> InputFault:
    bad, limit = (lat, 90) if _share_within(table, lat, 90) < 0.5 else (lon, 180)
    advice = say("input-name-crs") if setting else say("input-give-wgs84")
    return InputFault(
        table.name,
        say("input-column-runs", column=f"{table.headings[bad]!r}", range=_range(table, bad)),
        say("input-degrees-within", limit=limit),
        advice,
    )


def _refuse_degrees(table: Table, east: int, north: int, crs: str) -> None:
    if _share_within(table, east, 180) > 0.99 and _share_within(table, north, 90) > 0.99:
        raise InputFault(
            table.name,
            say(
                "input-look-like-degrees",
                first=f"{table.headings[east]!r}",
                second=f"{table.headings[north]!r}",
                east=_range(table, east),
                north=_range(table, north),
            ),
            say("input-coordinates-in", crs=f"{crs}"),
            say("input-take-crs-out"),
        )


def _share_within(table: Table, column: int, limit: float) -> float:
    """Share of the finite values within plus or minus `limit`; 1 where there is none to judge by."""
    values = table.numbers(column)
    values = values[np.isfinite(values)]
    return float((np.abs(values) <= limit).mean()) if len(values) else 1.0


def _range(table: Table, column: int) -> str:
    values = table.numbers(column)
    values = values[np.isfinite(values)]
    return f"{values.min():.10g} to {values.max():.10g}"
