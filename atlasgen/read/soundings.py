"""Soundings: delimited text, NMEA 0183 logs, or points of a vector file -> one set of depths.

Every row of every file is either kept or counted under the first reason that rejects it. What a file does not say
(its unit, whether down is positive) is taken from survey.toml; what neither says is assumed openly, in a Problem.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model import Problem, Soundings, Zone
from atlasgen.model.quality import LeftOut
from atlasgen.model.wording import say
from atlasgen.read.columns import SOUNDING_ROLES, find_columns, heading_of, lonlat_columns
from atlasgen.read.flags import invalid_rows
from atlasgen.read.headless import guessed_columns
from atlasgen.read.nmea import is_nmea, paired_depths, read_nmea
from atlasgen.read.sounding_files import line_numbers, without_copies
from atlasgen.read.sounding_rows import (
    Rows,
    joined_left_out,
    judge_depths,
    judge_no_bottom,
    judge_sentinel,
    positive_down,
    reason,
)
from atlasgen.read.table import Table, read_table
from atlasgen.read.times import joined, times_utc
from atlasgen.units import DEPTH_UNIT_M, grouped_words, number_words

if TYPE_CHECKING:
    from pyproj import CRS

SETTING = "soundings.columns"
# A run of soundings ends at a pause of a minute, or, without times, at a jump of 100 m. Ours.
PAUSE_S = 60.0
JUMP_M = 100.0
_EARTH_RADIUS_M = 6371008.8
_VECTOR_SUFFIXES = frozenset({".geojson", ".json", ".gpkg", ".shp", ".kml", ".kmz", ".fgb", ".gml", ".gpx", ".sqlite"})
_RASTER_SUFFIXES = frozenset({".tif", ".tiff", ".asc", ".img", ".vrt", ".nc", ".grd"})
_OTHER_UNITS = frozenset({"cm", "dm", "mm", "km", "in", "inch", "inches", "yd", "yards"})


@dataclass(frozen=True)
class _Rules:
    """How files are read, as survey.toml says."""

    columns: Mapping[str, str | None]
    crs: str
    depth_unit: str | None
    depth_positive: str | None
    zone: Zone
    no_data: tuple[float, ...]


@dataclass(frozen=True)
class _Piece:
    """The kept soundings of one file; `run` changes where the file's own line column does, `row` is the line read."""

    lon_deg: np.ndarray
    lat_deg: np.ndarray
    depth_m: np.ndarray
    time_s: np.ndarray
    run: np.ndarray
    row: np.ndarray
    rejected: Counter[str]
    problems: list[Problem]
    left_out: LeftOut
    draught_in_m: float = 0.0


def read_soundings(
    paths_names: list[tuple[Path, str]],
    *,
    columns: Mapping[str, str | None],
    crs: str,
    depth_unit: str | None,
    depth_positive: str | None,
    zone: Zone,
    no_data: tuple[float, ...],
) -> tuple[Soundings | None, list[Problem]]:
    """Read all sounding files into one set.

    Parameters
    ----------
    columns
        Headings (or places from 1) of `lon`, `lat`, `depth`, `time`; None to find them.
    crs
        Coordinate system of text files, such as "EPSG:4326"; NMEA and vector files state their own.
    depth_unit, depth_positive
        "metres", "feet" or "fathoms", and "down" or "up", for files that do not say; None to infer and say so.
    zone
        For times that name none.
    no_data
        Depths, in the file's unit, that mean nothing was measured.

    Files are taken in the order of their names, so that it does not matter in which they are given; of files with the
    same bytes only the first is read. A file that cannot be used becomes a Problem of level `fault` and the others are
    read all the same. `rejected` of the result holds rows by reason: rows read = soundings kept + rows rejected,
    always; `left_out` lists them. None where nothing was kept.

    Raises
    ------
    InputFault
        PROJ does not know `crs`, or it is no system of places on a map.
    """
    rules = _Rules(columns, crs, depth_unit, depth_positive, zone, no_data)
    _refuse_unknown(crs)
    pieces, files = [], []
    once, problems = without_copies(paths_names)
    for path, name in once:
        try:
            piece = _read_one(path, name, rules)
        except InputFault as fault:
            problems.append(Problem(name, "unusable", f"{fault} {say('input-file-not-used')}", "fault"))
            continue
        problems += piece.problems
        pieces.append(piece)
        files.append(name)
    return (_joined(pieces, tuple(files)) if pieces else None), problems


def _refuse_unknown(crs: str) -> None:
    from pyproj import CRS
    from pyproj.exceptions import CRSError

    try:
        known = CRS.from_user_input(crs)
        usable = known.is_geographic or known.is_projected
    except CRSError:
        usable = False
    if not usable:
        raise InputFault(
            "survey.toml",
            f"soundings.crs = {crs!r}",
            say("input-a-known-crs-such-as"),
            say("input-mend-it"),
        )


def _joined(pieces: list[_Piece], files: tuple[str, ...]) -> Soundings:
    lon, lat, depth_m, time_s = (
        np.concatenate([getattr(piece, key) for piece in pieces]) for key in ("lon_deg", "lat_deg", "depth_m", "time_s")
    )
    line, first = [], 0
    for piece in pieces:
        line.append(_runs(piece) + first)
        first = int(line[-1][-1]) + 1
    rejected = sum((piece.rejected for piece in pieces), Counter())
    return Soundings(
        lon_deg=lon,
        lat_deg=lat,
        depth_m=depth_m,
        time_s=time_s,
        line=np.concatenate(line),
        files=files,
        rejected=dict(sorted(rejected.items())),
        file=np.repeat(np.arange(len(files), dtype=np.int16), [len(piece.depth_m) for piece in pieces]),
        row=np.concatenate([piece.row for piece in pieces]),
        draught_in_m=tuple(piece.draught_in_m for piece in pieces),
        left_out=joined_left_out([piece.left_out for piece in pieces]),
    )


def _runs(piece: _Piece) -> np.ndarray:
    """Count the runs of one file from 0."""
    step_s = np.abs(np.diff(piece.time_s))
    lat = np.radians(piece.lat_deg)
    east = np.diff(np.radians(piece.lon_deg)) * np.cos(lat[1:])
    jump_m = np.hypot(east, np.diff(lat)) * _EARTH_RADIUS_M
    broken = np.where(np.isnan(step_s), jump_m > JUMP_M, step_s > PAUSE_S) | (np.diff(piece.run) != 0)
    return np.r_[0, np.cumsum(broken)]


def _read_one(path: Path, name: str, rules: _Rules) -> _Piece:
    suffix = path.suffix.lower()
    if suffix in _RASTER_SUFFIXES:
        raise InputFault(name, say("input-is-raster"), say("input-soundings-as-points"), say("input-name-it-raster"))
    if is_nmea(path):
        return _from_nmea(path, name, rules)
    if suffix in _VECTOR_SUFFIXES:
        return _from_points(path, name, rules)
    table = read_table(path, name)
    return _from_table(table, rules, rules.crs, line_numbers(path, table))


def _from_nmea(path: Path, name: str, rules: _Rules) -> _Piece:
    log = read_nmea(path, name)
    if not log.depth_sentences:
        raise InputFault(name, say("input-no-dpt"), say("input-log-with-depths"), say("input-was-logged"))
    paired = paired_depths(log)
    rows = Rows.of(name, log.depth_line.astype(np.int32))
    lon, lat, time_s = (_spread(values, paired.placed) for values in (paired.lon_deg, paired.lat_deg, paired.time_s))
    rows.reject(~paired.placed, reason("no fix near"))
    judge_depths(rows, log.depth_m, rules.no_data)
    problems = _nmea_notes(name, log)
    columns = (lon, lat, log.depth_m, time_s)
    piece = _piece(rows, *columns, np.zeros(len(lon), dtype=int), _worded(log.rejected), problems)
    return replace(piece, draught_in_m=log.offset_m)


def _spread(values: np.ndarray, at: np.ndarray) -> np.ndarray:
    """Put values back into their places among all, NaN elsewhere."""
    every = np.full(len(at), np.nan)
    every[at] = values
    return every


def _worded(rejected: Mapping[str, int]) -> Counter[str]:
    """Return counts by reason with the reasons in words."""
    return Counter({reason(why): count for why, count in rejected.items()})


def _counted(reasons: Iterable[tuple[str, int]]) -> str:
    return ", ".join(f"{grouped_words(count)} {why}" for why, count in reasons)


def _nmea_notes(name: str, log) -> list[Problem]:
    problems = []
    if log.unchecked:
        said = say("input-no-checksum", file=name, count=grouped_words(log.unchecked))
        problems.append(Problem(name, "bad_row", said))
    if log.fixes_rejected:
        said = say("input-sentences-not-used", file=name, reasons=_counted(_worded(log.fixes_rejected).items()))
        problems.append(Problem(name, "bad_row", said))
    if log.offset_m:
        said = say("input-log-draught", file=name, metres=number_words(log.offset_m, 2))
        problems.append(Problem(name, "ambiguous", said))
    if np.isnan(log.fix_time_s).all():
        said = say("input-log-no-date", file=name)
        problems.append(Problem(name, "no_time", said))
    return problems


def _from_points(path: Path, name: str, rules: _Rules) -> _Piece:
    from atlasgen.read.points import read_points

    table, problems = read_points(path, name)
    # Points have no lines of text: their number in the file stands for it.
    piece = _from_table(table, rules, "EPSG:4326", table.line_numbers.astype(np.int32))
    return _Piece(**{**vars(piece), "problems": problems + piece.problems})


def _from_table(table: Table, rules: _Rules, crs_text: str, line: np.ndarray) -> _Piece:
    from pyproj import CRS

    crs = CRS.from_user_input(crs_text)
    found, problems = _columns(table, rules, crs)
    problems += table.problems()
    rows = Rows.of(table.name, line)
    rows.reject(table.ragged, reason("wrong number of cells"))
    for column in range(len(table.headings)):
        rows.reject(invalid_rows(table, column), reason("flagged invalid"))
    judge_no_bottom(rows, table, found["depth"])
    raw = table.numbers(found["depth"])
    for value in rules.no_data:
        rows.reject(np.isclose(raw, value, rtol=1e-9, atol=1e-9), reason("no-data value"))
    x, y = table.numbers(found["lon"]), table.numbers(found["lat"])
    rows.reject(~(np.isfinite(x) & np.isfinite(y) & np.isfinite(raw)), reason("not a number"))
    lon, lat = _lonlat(x, y, crs)
    rows.reject(~_on_earth(lon, lat) | ((x == 0) & (y == 0)), reason("position out of range"))
    unit_m, said = _unit(table, found["depth"], rules.depth_unit)
    problems += said
    depth_m, said = positive_down(table, found["depth"], rows, raw * unit_m, rules.depth_positive)
    problems += said
    judge_depths(rows, depth_m, ())
    problems += judge_sentinel(rows, depth_m)
    time_s, said = _times(table, found, rules.zone)
    problems += said
    run = _codes(table.texts(found["line"])) if "line" in found else np.zeros(table.rows, dtype=int)
    return _piece(rows, lon, lat, depth_m, time_s, run, Counter(), problems)


def _columns(table: Table, rules: _Rules, crs: CRS) -> tuple[dict[str, int], list[Problem]]:
    named = dict(rules.columns)
    if not table.has_header and not all(named.get(role) for role in ("lon", "lat", "depth")):
        return guessed_columns(table, crs.is_geographic, SETTING)
    lon, lat, problems = lonlat_columns(table, crs.is_geographic, rules.crs, named, SETTING)
    roles = {role: words for role, words in SOUNDING_ROLES.items() if role not in ("lon", "lat")}
    found, said = find_columns(table, roles, named, SETTING)
    if "depth" not in found:
        raise InputFault(
            table.name,
            say("input-none-for-depth", columns=table.heading_words),
            say("input-heading-depth"),
            say("input-name-depth", key=f"{SETTING}.depth"),
        )
    return {**found, "lon": lon, "lat": lat}, problems + said


def _lonlat(x: np.ndarray, y: np.ndarray, crs: CRS) -> tuple[np.ndarray, np.ndarray]:
    from pyproj import CRS, Transformer

    if crs.equals(CRS.from_epsg(4326), ignore_axis_order=True):
        return x, y
    lon, lat = Transformer.from_crs(crs, "EPSG:4326", always_xy=True).transform(x, y)
    return np.asarray(lon), np.asarray(lat)


def _on_earth(lon: np.ndarray, lat: np.ndarray) -> np.ndarray:
    return np.isfinite(lon) & np.isfinite(lat) & (np.abs(lon) <= 180) & (np.abs(lat) <= 90)


def _unit(table: Table, column: int, stated: str | None) -> tuple[float, list[Problem]]:
    """Metres in the unit of a depth column: from its heading, else from survey.toml, else metres are assumed."""
    heading, unit = table.headings[column], heading_of(table.headings[column]).unit
    if unit in _OTHER_UNITS:
        raise InputFault(
            table.name,
            say("input-is-in-unit", column=f"{heading!r}", unit=unit),
            say("input-depth-units"),
            say("input-convert"),
        )
    if unit in DEPTH_UNIT_M:
        if stated and stated != unit:
            said = say("input-units-differ", file=table.name, column=f"{heading!r}", unit=unit, stated=stated)
            return DEPTH_UNIT_M[unit], [Problem(table.name, "ambiguous", said)]
        return DEPTH_UNIT_M[unit], []
    if stated:
        return DEPTH_UNIT_M[stated], []
    said = say("input-depth-unit-assumed", file=table.name, column=f"{heading!r}")
    return 1.0, [Problem(table.name, "ambiguous", said)]


def _times(table: Table, found: Mapping[str, int], zone: Zone) -> tuple[np.ndarray, list[Problem]]:
    if "time" not in found and "date" not in found:
        return np.full(table.rows, np.nan), []
    cells = _time_cells(table, found)
    times = times_utc(cells, zone)
    problems = times.problems(table.name)
    lost = int(np.isnan(times.time_s).sum())
    if lost and not times.notes:
        said = say("input-rows-no-time", file=table.name, count=grouped_words(lost), rows=grouped_words(table.rows))
        problems.append(Problem(table.name, "no_time", said))
    return times.time_s, problems


def _time_cells(table: Table, found: Mapping[str, int]) -> np.ndarray:
    if "date" not in found or "time" not in found or found["date"] == found["time"]:
        return table.columns[found.get("time", found.get("date", 0))]
    clocks = table.texts(found["time"])
    # A "time" that holds the date as well needs no second column.
    if any(len(clock) > 15 for clock in clocks[:100]):
        return clocks
    return joined(table.texts(found["date"]), clocks)


def _codes(texts: np.ndarray) -> np.ndarray:
    return np.unique(texts.astype(str), return_inverse=True)[1]


def _piece(
    rows: Rows,
    lon: np.ndarray,
    lat: np.ndarray,
    depth_m: np.ndarray,
    time_s: np.ndarray,
    run: np.ndarray,
    unlisted: Counter[str],
    problems: list[Problem],
) -> _Piece:
    """Part the rows of a file; `unlisted` counts what was rejected before there was a row for it."""
    name, kept, rejected = rows.name, rows.kept, rows.counts() + unlisted
    total = len(kept) + sum(unlisted.values())
    reasons = _counted(sorted(rejected.items()))
    if not kept.any():
        raise InputFault(
            name,
            say("input-no-row-usable", count=grouped_words(total), reasons=reasons),
            say("input-soundings"),
            say("input-look-at-columns"),
        )
    if rejected:
        used = {"used": grouped_words(int(kept.sum())), "rows": grouped_words(total)}
        said = say("input-rows-left-out", file=name, reasons=reasons, **used)
        problems = [*problems, Problem(name, "bad_row", said)]
    left_out = rows.left_out(lon, lat, depth_m, time_s)
    left_out = replace(left_out, unlisted=(*left_out.unlisted, *((name, *entry) for entry in sorted(unlisted.items()))))
    return _Piece(
        lon_deg=lon[kept],
        lat_deg=lat[kept],
        depth_m=depth_m[kept],
        time_s=time_s[kept],
        run=run[kept],
        row=rows.line[kept],
        rejected=rejected,
        problems=problems,
        left_out=left_out,
    )
