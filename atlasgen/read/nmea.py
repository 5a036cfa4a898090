"""NMEA 0183 logs: positions (GGA, RMC, GLL) and depths (DPT, DBT), told apart sentence by sentence.

A sentence is `$`, talker and type, fields, and `*` with the exclusive-or of all characters between as two hex digits.
A wrong checksum rejects the sentence; a missing one is accepted and counted. Field meanings from memory of the
NMEA 0183 standard, checked against a reference parser in the tests. Not fixes: status V, quality 0 (none), 6
(estimated), 7 (typed in) and 8 (simulated).

DPT holds the depth below the transducer and an offset: above zero it is the transducer's depth below the waterline
and is added, below zero it is the way down to the keel and is not. DBT holds the depth below the transducer.

Depth sentences carry neither place nor time: both are interpolated between the fixes before and after, by the place
of the sentence among the lines of the log, because a log is written in the order in which things happened.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import reduce
from pathlib import Path
from typing import NamedTuple

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model.wording import say
from atlasgen.units import FATHOM_M, FOOT_M

DAY_S = 86400
# Fixes farther apart than this do not bracket a depth: at 3 m/s a boat has gone 30 m, about a swath of doubt. Ours.
LONGEST_GAP_S = 10.0
# The same where the log has no times, counted in lines.
LONGEST_GAP_LINES = 60
_SENTENCE = re.compile(r"\$([A-Z]{2}[A-Z]{3}),([^*$]*)(?:\*([0-9A-Fa-f]{2}))?")
_EPOCH_DAY = date(1970, 1, 1).toordinal()
_NO_FIX = ("", "0", "6", "7", "8")


@dataclass(frozen=True, slots=True)
class NmeaLog:
    """What one log says. `*_line` are line numbers, ascending; `fix_time_s` UTC, NaN where no date was logged.

    `rejected` counts depth sentences by reason, `fixes_rejected` position sentences; `unchecked` counts sentences
    without a checksum and `offset_m` is the transducer's depth that DPT states and that was added (0 if none).
    """

    fix_line: np.ndarray
    fix_time_s: np.ndarray
    fix_clock_s: np.ndarray
    fix_lon_deg: np.ndarray
    fix_lat_deg: np.ndarray
    depth_line: np.ndarray
    depth_m: np.ndarray
    rejected: Mapping[str, int] = field(default_factory=dict)
    fixes_rejected: Mapping[str, int] = field(default_factory=dict)
    unchecked: int = 0
    offset_m: float = 0.0

    @property
    def depth_sentences(self) -> int:
        """All DPT and DBT sentences met, good or not."""
        return len(self.depth_m) + sum(self.rejected.values())


class PairedDepths(NamedTuple):
    """Depths that have a place; arrays of one length. `rejected` counts those that have none.

    `placed` marks them among all depths of the log.
    """

    lon_deg: np.ndarray
    lat_deg: np.ndarray
    depth_m: np.ndarray
    time_s: np.ndarray
    rejected: Mapping[str, int]
    placed: np.ndarray


class _Fix(NamedTuple):
    line: int
    clock_s: float
    lon_deg: float
    lat_deg: float


class _Gathered:
    """What is filled while the lines are walked."""

    def __init__(self) -> None:
        self.fixes: list[_Fix] = []
        self.dates: list[tuple[int, float, int]] = []
        self.depths: dict[str, list[tuple[int, float]]] = {"DPT": [], "DBT": []}
        self.offsets: set[float] = set()
        self.rejected: Counter[str] = Counter()
        self.fixes_rejected: Counter[str] = Counter()
        self.unchecked = 0


def is_nmea(path: Path) -> bool:
    """Whether the first 8 KB hold an NMEA 0183 sentence of a kind read here."""
    try:
        with path.open("rb") as file:
            head = file.read(8192).decode("latin-1")
    except OSError:
        return False
    return re.search(r"\$[A-Z]{2}(?:GGA|RMC|GLL|DPT|DBT),", head) is not None


def checksum_of(body: str) -> int:
    """Exclusive-or of the characters between `$` and `*`."""
    return reduce(lambda total, char: total ^ ord(char), body, 0)


def read_nmea(path: Path, name: str) -> NmeaLog:
    """Read a log.

    Raises
    ------
    InputFault
        It cannot be opened.
    """
    gathered = _Gathered()
    try:
        with path.open(encoding="latin-1") as file:
            for number, line in enumerate(file, start=1):
                for kind, fields in _sentences(line, gathered):
                    _take(gathered, number, kind, fields)
    except OSError as error:
        raise InputFault(name, error.strerror, say("input-an-nmea-log"), say("input-check-rights")) from None
    return _log_of(gathered)


def _sentences(line: str, gathered: _Gathered) -> Iterator[tuple[str, list[str]]]:
    """Yield the type and fields of each sound sentence in a line; a logger may have put its own time before."""
    for match in _SENTENCE.finditer(line):
        head, body, stated = match.groups()
        kind = head[2:]
        if kind not in ("GGA", "RMC", "GLL", "ZDA", "DPT", "DBT"):
            continue
        if stated is None:
            gathered.unchecked += 1
        elif checksum_of(f"{head},{body}") != int(stated, 16):
            _count(gathered, kind)["bad checksum"] += 1
            continue
        yield kind, [cell.strip() for cell in body.split(",")] + [""] * 12


def _count(gathered: _Gathered, kind: str) -> Counter[str]:
    return gathered.rejected if kind in ("DPT", "DBT") else gathered.fixes_rejected


def _take(gathered: _Gathered, line: int, kind: str, fields: list[str]) -> None:
    if kind in ("DPT", "DBT"):
        _take_depth(gathered, line, kind, fields)
        return
    stated = _date_of(kind, fields)
    clock_s = clock_seconds(fields[4] if kind == "GLL" else fields[0])
    if stated is not None and clock_s is not None:
        gathered.dates.append((line, clock_s, stated))
    if kind != "ZDA":
        _take_fix(gathered, line, kind, fields, clock_s)


def _take_depth(gathered: _Gathered, line: int, kind: str, fields: list[str]) -> None:
    depth_m = _number(fields[0]) if kind == "DPT" else _dbt_metres(fields)
    if depth_m is None:
        gathered.rejected["not a number"] += 1
        return
    if kind == "DPT":
        offset_m = _number(fields[1]) or 0.0
        if offset_m > 0:
            gathered.offsets.add(offset_m)
            depth_m += offset_m
    gathered.depths[kind].append((line, depth_m))


def _dbt_metres(fields: list[str]) -> float | None:
    """Return the metres field; feet or fathoms only where a sounder leaves the metres empty."""
    for at, unit_m in ((2, 1.0), (0, FOOT_M), (4, FATHOM_M)):
        value = _number(fields[at])
        if value is not None:
            return value * unit_m
    return None


def _number(text: str) -> float | None:
    return float(text) if re.fullmatch(r"[+-]?(?:\d+\.?\d*|\.\d+)", text) else None


def _take_fix(gathered: _Gathered, line: int, kind: str, fields: list[str], clock_s: float | None) -> None:
    at = {"GGA": 1, "RMC": 2, "GLL": 0}[kind]
    valid = fields[5] not in _NO_FIX if kind == "GGA" else fields[1 if kind == "RMC" else 5] in ("A", "")
    if not valid:
        gathered.fixes_rejected["no fix"] += 1
        return
    lat = degrees_of(fields[at], fields[at + 1], 90)
    lon = degrees_of(fields[at + 2], fields[at + 3], 180)
    if lat is None or lon is None:
        gathered.fixes_rejected["no position"] += 1
        return
    # Receivers send one fix in several sentences: the first of an epoch stands for it.
    if gathered.fixes and clock_s is not None and gathered.fixes[-1].clock_s == clock_s:
        return
    gathered.fixes.append(_Fix(line, np.nan if clock_s is None else clock_s, lon, lat))


def degrees_of(text: str, side: str, limit: float) -> float | None:
    """Degrees from `ddmm.mmmm` (or `dddmm.mmmm`) and N, S, E or W; None if it is neither."""
    match = re.fullmatch(r"(\d{1,3})(\d\d(?:\.\d*)?)", text)
    if not match or side not in ("N", "S", "E", "W") or float(match[2]) >= 60:
        return None
    degrees = int(match[1]) + float(match[2]) / 60
    if degrees > limit:
        return None
    return -degrees if side in "SW" else degrees


def clock_seconds(text: str) -> float | None:
    """Seconds since midnight from `hhmmss.ss`, or None."""
    match = re.fullmatch(r"(\d\d)(\d\d)(\d\d(?:\.\d*)?)", text)
    if not match or int(match[1]) > 23 or int(match[2]) > 59 or float(match[3]) >= 61:
        return None
    return int(match[1]) * 3600 + int(match[2]) * 60 + float(match[3])


def _date_of(kind: str, fields: list[str]) -> int | None:
    """Day number since 1970 from RMC (ddmmyy, years 80 to 99 are 1980 to 1999) or ZDA; None if there is none."""
    day, month, year = "", "", ""
    if kind == "RMC" and re.fullmatch(r"\d{6}", fields[8]):
        day, month, year = fields[8][:2], fields[8][2:4], ("19" if fields[8][4:] >= "80" else "20") + fields[8][4:]
    elif kind == "ZDA":
        day, month, year = fields[1:4]
    try:
        return date(int(year), int(month), int(day)).toordinal() - _EPOCH_DAY
    except ValueError:
        return None


def _log_of(gathered: _Gathered) -> NmeaLog:
    depths = _one_kind(gathered)
    fixes = gathered.fixes
    clock_s = np.array([fix.clock_s for fix in fixes], dtype=float)
    lines = np.array([fix.line for fix in fixes], dtype=int)
    return NmeaLog(
        fix_line=lines,
        fix_time_s=_dated(lines, clock_s, gathered.dates),
        fix_clock_s=clock_s,
        fix_lon_deg=np.array([fix.lon_deg for fix in fixes], dtype=float),
        fix_lat_deg=np.array([fix.lat_deg for fix in fixes], dtype=float),
        depth_line=np.array([line for line, _ in depths], dtype=int),
        depth_m=np.array([depth_m for _, depth_m in depths], dtype=float),
        rejected=dict(sorted(gathered.rejected.items())),
        fixes_rejected=dict(sorted(gathered.fixes_rejected.items())),
        unchecked=gathered.unchecked,
        offset_m=max(gathered.offsets, default=0.0),
    )


def _one_kind(gathered: _Gathered) -> list[tuple[int, float]]:
    """Sounders often send each ping as DPT and as DBT: only one kind is used, DPT where it is as frequent."""
    dpt, dbt = gathered.depths["DPT"], gathered.depths["DBT"]
    if not dpt or not dbt:
        return dpt or dbt
    used, other = (dpt, dbt) if len(dpt) >= len(dbt) / 2 else (dbt, dpt)
    gathered.rejected["sent twice, as DPT and DBT"] += len(other)
    return used


def _dated(lines: np.ndarray, clock_s: np.ndarray, dates: list[tuple[int, float, int]]) -> np.ndarray:
    """Give each fix the day of the dated sentence nearest in the log, counting the midnights between."""
    if not len(lines) or not dates:
        return np.full(len(lines), np.nan)
    date_line, date_clock_s, day = (np.array(column, dtype=float) for column in zip(*dates, strict=True))
    after = np.clip(np.searchsorted(date_line, lines), 0, len(dates) - 1)
    before = np.maximum(after - 1, 0)
    nearest = np.where(np.abs(date_line[before] - lines) < np.abs(date_line[after] - lines), before, after)
    midnights = _midnights(np.concatenate([lines, date_line]), np.concatenate([clock_s, date_clock_s]))
    across = midnights[: len(lines)] - midnights[len(lines) :][nearest]
    return (day[nearest] + across) * DAY_S + clock_s


def _midnights(lines: np.ndarray, clock_s: np.ndarray) -> np.ndarray:
    """Count the midnights up to each sentence: the clock falls back by more than half a day."""
    order = np.argsort(lines, kind="stable")
    steps = np.diff(np.nan_to_num(clock_s[order]), prepend=np.nan_to_num(clock_s[order[:1]]))
    counts = np.empty(len(lines))
    counts[order] = np.cumsum(-np.round(steps / DAY_S))
    return counts


def paired_depths(log: NmeaLog) -> PairedDepths:
    """Give each depth the place and time interpolated between the fixes around it."""
    count = len(log.depth_line)
    if len(log.fix_line) < 2:
        none = np.empty(0)
        return PairedDepths(
            none, none, none, none, {"no fix near": count} if count else {}, np.zeros(count, dtype=bool)
        )
    after = np.searchsorted(log.fix_line, log.depth_line)
    inside = (after > 0) & (after < len(log.fix_line))
    upper = np.clip(after, 1, len(log.fix_line) - 1)
    lower = upper - 1
    keep = inside & _bracket(log, lower, upper)
    # Two fixes can stand on one line where a log was cut and joined.
    apart = np.maximum(log.fix_line[upper] - log.fix_line[lower], 1)
    share = (log.depth_line - log.fix_line[lower]) / apart
    columns = (log.fix_lon_deg, log.fix_lat_deg, log.fix_time_s)
    lon, lat, time_s = (column[lower] + share * (column[upper] - column[lower]) for column in columns)
    lost = int((~keep).sum())
    rejected = {"no fix near": lost} if lost else {}
    return PairedDepths(lon[keep], lat[keep], log.depth_m[keep], time_s[keep], rejected, keep)


def _bracket(log: NmeaLog, lower: np.ndarray, upper: np.ndarray) -> np.ndarray:
    """Whether two fixes are near enough in time (or, without times, in the log) to interpolate between."""
    step_s = np.mod(log.fix_clock_s[upper] - log.fix_clock_s[lower], DAY_S)
    near_lines = log.fix_line[upper] - log.fix_line[lower] <= LONGEST_GAP_LINES
    return np.where(np.isnan(step_s), near_lines, step_s <= LONGEST_GAP_S)
