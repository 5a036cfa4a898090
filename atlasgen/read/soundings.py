"""Soundings: delimited text, NMEA 0183 logs, or points of a vector file -> one set of depths.

Every row of every file is either kept or counted under the first reason that rejects it. What a file does not say
(its unit, whether down is positive) is taken from survey.toml; what neither says is assumed openly, in a Problem.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model import Problem, Soundings, Zone
from atlasgen.read.columns import SOUNDING_ROLES, find_columns, heading_of, lonlat_columns
from atlasgen.read.flags import invalid_rows
from atlasgen.read.headless import guessed_columns
from atlasgen.read.nmea import is_nmea, paired_depths, read_nmea
from atlasgen.read.table import Table, read_table
from atlasgen.read.times import joined, times_utc
from atlasgen.units import DEPTH_UNIT_M

if TYPE_CHECKING:
    from pyproj import CRS

SETTING = "soundings.columns"
# The deepest lake known, Baikal (from memory): a larger depth is a sounder's way of saying nothing.
DEEPEST_LAKE_M = 1642.0
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


@dataclass
class _Rows:
    """The rows of one file while they are judged; `reason` 0 is kept, else a place in `reasons`."""

    name: str
    reason: np.ndarray
    reasons: list[str]

    def reject(self, rows: np.ndarray, why: str) -> None:
        """Reject rows that nothing has rejected yet."""
        if why not in self.reasons:
            self.reasons.append(why)
        self.reason[rows & (self.reason == 0)] = self.reasons.index(why) + 1

    @property
    def kept(self) -> np.ndarray:
        """Mask of the rows still standing."""
        return self.reason == 0

    def counts(self) -> Counter[str]:
        """Rejected rows by reason."""
        numbers = np.bincount(self.reason, minlength=len(self.reasons) + 1)[1:]
        return Counter({why: int(count) for why, count in zip(self.reasons, numbers, strict=True) if count})


@dataclass(frozen=True)
class _Piece:
    """The kept soundings of one file; `run` changes where the file's own line column does."""

    lon_deg: np.ndarray
    lat_deg: np.ndarray
    depth_m: np.ndarray
    time_s: np.ndarray
    run: np.ndarray
    rejected: Counter[str]
    problems: list[Problem]


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

    A file that cannot be used becomes a Problem of level `fault` and the others are read all the same. `rejected` of
    the result holds rows by reason: rows read = soundings kept + rows rejected, always. None where nothing was kept.

    Raises
    ------
    InputFault
        PROJ does not know `crs`, or it is no system of places on a map.
    """
    rules = _Rules(columns, crs, depth_unit, depth_positive, zone, no_data)
    _refuse_unknown(crs)
    pieces, files, problems = [], [], []
    for path, name in paths_names:
        try:
            piece = _read_one(path, name, rules)
        except InputFault as fault:
            problems.append(Problem(name, "unusable", f"{fault} This file is not used.", "fault"))
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
            'a coordinate system that PROJ knows, such as "EPSG:32633"',
            "Mend it.",
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
    return Soundings(lon, lat, depth_m, time_s, np.concatenate(line), files, dict(sorted(rejected.items())))


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
        raise InputFault(name, "is a raster", "soundings as points", "Export its cells as CSV: lon, lat, depth.")
    if is_nmea(path):
        return _from_nmea(path, name, rules)
    if suffix in _VECTOR_SUFFIXES:
        return _from_points(path, name, rules)
    return _from_table(read_table(path, name), rules, rules.crs)


def _from_nmea(path: Path, name: str, rules: _Rules) -> _Piece:
    log = read_nmea(path, name)
    if not log.depth_sentences:
        raise InputFault(name, "holds no DPT or DBT sentence", "an NMEA log with depths", "Was the sounder logged?")
    paired = paired_depths(log)
    rows = _Rows(name, np.zeros(len(paired.depth_m), dtype=np.int8), [])
    _judge_depths(rows, paired.depth_m, rules.no_data)
    counts = rows.counts() + Counter(log.rejected) + Counter(paired.rejected)
    problems = _nmea_notes(name, log)
    kept = rows.kept
    columns = (paired.lon_deg[kept], paired.lat_deg[kept], paired.depth_m[kept], paired.time_s[kept])
    return _piece(name, *columns, np.zeros(int(kept.sum()), dtype=int), counts, problems)


def _nmea_notes(name: str, log) -> list[Problem]:
    problems = []
    if log.unchecked:
        said = f"{name}: {log.unchecked:,} sentences carry no checksum; they were used."
        problems.append(Problem(name, "bad_row", said))
    if log.fixes_rejected:
        reasons = ", ".join(f"{count:,} {why}" for why, count in log.fixes_rejected.items())
        problems.append(Problem(name, "bad_row", f"{name}: position sentences not used: {reasons}."))
    if log.offset_m:
        said = (
            f"{name}: the log states the transducer {log.offset_m:.2f} m below the waterline, and that was added. "
            "Leave soundings.draught_m at 0 for it."
        )
        problems.append(Problem(name, "ambiguous", said))
    if np.isnan(log.fix_time_s).all():
        said = f"{name}: no RMC or ZDA sentence gives a date, so these soundings have no time."
        problems.append(Problem(name, "no_time", said))
    return problems


def _from_points(path: Path, name: str, rules: _Rules) -> _Piece:
    from atlasgen.read.points import read_points

    table, problems = read_points(path, name)
    piece = _from_table(table, rules, "EPSG:4326")
    return _Piece(**{**vars(piece), "problems": problems + piece.problems})


def _from_table(table: Table, rules: _Rules, crs_text: str) -> _Piece:
    from pyproj import CRS

    crs = CRS.from_user_input(crs_text)
    found, problems = _columns(table, rules, crs)
    problems += table.problems()
    rows = _Rows(table.name, np.zeros(table.rows, dtype=np.int8), [])
    rows.reject(table.ragged, "wrong number of cells")
    for column in range(len(table.headings)):
        rows.reject(invalid_rows(table, column), "flagged invalid")
    raw = table.numbers(found["depth"])
    for value in rules.no_data:
        rows.reject(np.isclose(raw, value, rtol=1e-9, atol=1e-9), "no-data value")
    x, y = table.numbers(found["lon"]), table.numbers(found["lat"])
    rows.reject(~(np.isfinite(x) & np.isfinite(y) & np.isfinite(raw)), "not a number")
    lon, lat = _lonlat(x, y, crs)
    rows.reject(~_on_earth(lon, lat) | ((x == 0) & (y == 0)), "position out of range")
    unit_m, said = _unit(table, found["depth"], rules.depth_unit)
    problems += said
    depth_m, said = _positive_down(table, found["depth"], rows, raw * unit_m, rules.depth_positive)
    problems += said
    _judge_depths(rows, depth_m, ())
    time_s, said = _times(table, found, rules.zone)
    problems += said
    run = _codes(table.texts(found["line"])) if "line" in found else np.zeros(table.rows, dtype=int)
    kept = rows.kept
    columns = (lon[kept], lat[kept], depth_m[kept], time_s[kept], run[kept])
    return _piece(table.name, *columns, rows.counts(), problems)


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
            f"{table.heading_words}, none of them for depth",
            "a heading such as depth_m",
            f"Name the column in the heading, or in survey.toml as {SETTING}.depth.",
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
        raise InputFault(table.name, f"{heading!r} is in {unit}", "metres, feet or fathoms", "Convert the column.")
    if unit in DEPTH_UNIT_M:
        if stated and stated != unit:
            said = f"{table.name}: {heading!r} says {unit}, survey.toml says {stated}; the heading was followed."
            return DEPTH_UNIT_M[unit], [Problem(table.name, "ambiguous", said)]
        return DEPTH_UNIT_M[unit], []
    if stated:
        return DEPTH_UNIT_M[stated], []
    said = (
        f"{table.name}: nothing says the unit of {heading!r}; metres were assumed. State it in survey.toml as "
        'soundings.depth_unit = "metres", "feet" or "fathoms".'
    )
    return 1.0, [Problem(table.name, "ambiguous", said)]


def _positive_down(
    table: Table, column: int, rows: _Rows, depth_m: np.ndarray, stated: str | None
) -> tuple[np.ndarray, list[Problem]]:
    """Turn depths positive down; where nothing is stated, the sign that 99 % share decides, and it is said."""
    kept = rows.kept
    up, down = int((depth_m[kept] < 0).sum()), int((depth_m[kept] > 0).sum())
    heading = table.headings[column]
    if stated is None and min(up, down) >= 0.01 * max(up + down, 1) and min(up, down) > 0:
        raise _mixed_signs(table, heading, depth_m[kept], up, down)
    negative = stated == "up" or (stated is None and up > down)
    problems = []
    if stated is None and negative:
        said = (
            f"{table.name}: depths in {heading!r} are negative, so they were read as heights below the surface. "
            'State soundings.depth_positive = "up" in survey.toml to confirm.'
        )
        problems.append(Problem(table.name, "ambiguous", said))
    depth_m = -depth_m if negative else depth_m
    rows.reject(depth_m < 0, "depth of the wrong sign")
    return depth_m, problems


def _mixed_signs(table: Table, heading: str, depth_m: np.ndarray, up: int, down: int) -> InputFault:
    values, counts = np.unique(depth_m[depth_m < 0] if up <= down else depth_m[depth_m > 0], return_counts=True)
    common = int(counts.argmax())
    return InputFault(
        table.name,
        f"column {heading!r} has {down:,} depths above and {up:,} below zero; of the fewer, {counts[common]:,} are "
        f"{values[common]:.10g} m",
        "depths of one sign",
        'State soundings.depth_positive = "down" or "up" in survey.toml, or list a value that means "nothing '
        'measured" in soundings.no_data.',
    )


def _judge_depths(rows: _Rows, depth_m: np.ndarray, no_data: tuple[float, ...]) -> None:
    for value in no_data:
        rows.reject(np.isclose(depth_m, value, rtol=1e-9, atol=1e-9), "no-data value")
    rows.reject(depth_m == 0, "zero depth")
    rows.reject(depth_m > DEEPEST_LAKE_M, "deeper than any lake")


def _times(table: Table, found: Mapping[str, int], zone: Zone) -> tuple[np.ndarray, list[Problem]]:
    if "time" not in found and "date" not in found:
        return np.full(table.rows, np.nan), []
    cells = _time_cells(table, found)
    times = times_utc(cells, zone)
    problems = times.problems(table.name)
    lost = int(np.isnan(times.time_s).sum())
    if lost and not times.notes:
        said = f"{table.name}: {lost:,} of {table.rows:,} rows have no time that can be read; their depths are used."
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
    name: str,
    lon: np.ndarray,
    lat: np.ndarray,
    depth_m: np.ndarray,
    time_s: np.ndarray,
    run: np.ndarray,
    rejected: Counter[str],
    problems: list[Problem],
) -> _Piece:
    total = len(depth_m) + sum(rejected.values())
    reasons = ", ".join(f"{count:,} {why}" for why, count in sorted(rejected.items()))
    if not len(depth_m):
        raise InputFault(name, f"none of {total:,} rows can be used ({reasons})", "soundings", "Look at the columns.")
    if rejected:
        said = f"{name}: of {total:,} rows {len(depth_m):,} were used. Left out: {reasons}."
        problems = [*problems, Problem(name, "bad_row", said)]
    return _Piece(lon, lat, depth_m, time_s, run, rejected, problems)
