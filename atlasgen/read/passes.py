"""Sonar passes and channel outages.

Passes: one or more tables, a row for each moment of a run.

    pass      name or number of the run; without the column, each file is one pass, named after the file
    time      date and time (or `date` and `time`), needed
    lon, lat  WGS 84 degrees, needed
    speed     over ground, m/s (`speed_kn`: knots); without it, from positions and times
    range_m   slant range the sonar was set to, each side
    height_m  height of the sonar above the bed
    sonar     the instrument's name, for the source diagram

Empty cells of speed, range and height are unknown. Two files may use the same name for different passes: both then
carry the file's name too.

Outages: one table, a row for each time a channel recorded nothing.

    pass      the pass; empty: every pass that the times touch
    channel   port, starboard or both
    from, to  date and time; empty: from the start, to the end of the pass
    why       the reason, in words
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Literal

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model import Outage, Problem, SonarPass, Zone
from atlasgen.model.wording import say
from atlasgen.read.columns import SOUNDING_ROLES, find_columns, heading_of, lonlat_columns
from atlasgen.read.table import Table, read_table
from atlasgen.read.times import Times, joined, times_utc
from atlasgen.units import FOOT_M, KNOT_MPS, grouped_words

_ROLES = {
    "pass": ("pass", "pass_id", "pass_no", "run", "line"),
    "time": SOUNDING_ROLES["time"],
    "date": SOUNDING_ROLES["date"],
    "speed": ("speed", "sog", "speed_over_ground"),
    "range": ("range", "slant_range", "range_setting"),
    "height": ("height", "altitude", "height_above_bed", "towfish_height"),
    "instrument": ("sonar", "instrument", "device"),
}
_OUTAGE_ROLES = {
    "pass": _ROLES["pass"],
    "channel": ("channel", "side"),
    "from": ("from", "start", "from_time"),
    "to": ("to", "end", "until", "to_time"),
    "why": ("why", "reason", "cause", "note"),
}
_CHANNELS: dict[str, tuple[Literal["port", "starboard"], ...]] = {
    "port": ("port",),
    "p": ("port",),
    "starboard": ("starboard",),
    "stbd": ("starboard",),
    "s": ("starboard",),
    "both": ("port", "starboard"),
}
_FACTORS = {"knots": KNOT_MPS, "feet": FOOT_M}
# What can be on a survey boat and its sonar; outside, a value is a slip and is said. Ours.
_LIMITS = {"speed": (0.0, 30.0), "range": (0.5, 1000.0), "height": (0.0, 1642.0)}


def read_passes(
    paths_names: list[tuple[Path, str]], outages: tuple[Path, str] | None, zone: Zone
) -> tuple[tuple[SonarPass, ...], list[Problem]]:
    """Read all passes, each in order of time, with their outages; `zone` is for times that name none.

    A file that cannot be used becomes a Problem of level `fault`, and the others are read all the same.
    """
    problems: list[Problem] = []
    by_file: list[tuple[str, list[SonarPass]]] = []
    for path, name in paths_names:
        try:
            found, said = _passes(read_table(path, name, as_text=True), path.stem, zone)
        except InputFault as fault:
            problems.append(Problem(name, "unusable", f"{fault} {say('input-file-not-used')}", "fault"))
            continue
        by_file.append((path.stem, found))
        problems += said
    named = _told_apart(by_file)
    if outages:
        try:
            return _with_outages(named, read_table(*outages, as_text=True), zone, problems), problems
        except InputFault as fault:
            problems.append(Problem(outages[1], "unusable", f"{fault} {say('input-file-not-used')}", "fault"))
    return tuple(run for _, run in named), problems


def _told_apart(by_file: list[tuple[str, list[SonarPass]]]) -> list[tuple[str, SonarPass]]:
    """Pair each pass with the name in its file; where two files share one, the file's name is added."""
    uses = Counter(run.name for _, runs in by_file for run in runs)
    return [
        (run.name, replace(run, name=f"{run.name} ({stem})") if uses[run.name] > 1 else run)
        for stem, runs in by_file
        for run in runs
    ]


def _passes(table: Table, stem: str, zone: Zone) -> tuple[list[SonarPass], list[Problem]]:
    lon, lat, problems = lonlat_columns(table, True, "EPSG:4326", None, "")
    found, said = find_columns(table, _ROLES)
    if "time" not in found and "date" not in found:
        value = say("input-none-for-time", columns=table.heading_words)
        raise InputFault(table.name, value, say("input-a-column", column="time"), say("input-add-it"))
    times = _times(table, found, zone)
    columns = {role: _measured(table, found.get(role), role, problems) for role in _LIMITS}
    data = np.column_stack([times.time_s, table.numbers(lon), table.numbers(lat), *columns.values()])
    good = _good_rows(table, data, problems)
    names = table.words(found["pass"]) if "pass" in found else np.full(table.rows, stem, dtype=object)
    names = np.where(names == "", stem, names)
    order = dict.fromkeys(names[good].tolist())
    sonars = table.words(found["instrument"]) if "instrument" in found else np.full(table.rows, "", dtype=object)
    runs = [_one_pass(table.name, name, data[rows], sonars[rows]) for name, rows in _rows_of(order, names, good)]
    return runs, [*table.problems(), *problems, *said, *times.problems(table.name)]


def _times(table: Table, found: dict[str, int], zone: Zone) -> Times:
    if "time" in found and "date" in found:
        return times_utc(joined(table.texts(found["date"]), table.texts(found["time"])), zone)
    return times_utc(table.texts(found.get("time", found.get("date", 0))), zone)


def _measured(table: Table, column: int | None, role: str, problems: list[Problem]) -> np.ndarray:
    """Column in metres or m/s, NaN where the record is silent or says what cannot be."""
    if column is None:
        return np.full(table.rows, np.nan)
    raw = table.numbers(column)
    values = raw * _FACTORS.get(heading_of(table.headings[column]).unit or "", 1.0)
    low, high = _LIMITS[role]
    odd = np.isfinite(values) & ((values < low) | (values > high))
    bad = int((odd | (np.isnan(raw) & (table.texts(column) != ""))).sum())
    if bad:
        limits = {"low": f"{low:g}", "high": f"{high:g}"}
        heading = f"{table.headings[column]!r}"
        said = say("input-cells-no-number", file=table.name, count=grouped_words(bad), column=heading, **limits)
        problems.append(Problem(table.name, "bad_row", said))
    return np.where(odd, np.nan, values)


def _good_rows(table: Table, data: np.ndarray, problems: list[Problem]) -> np.ndarray:
    """Rows with time and place; the others are counted by what they lack."""
    no_time = np.isnan(data[:, 0])
    no_place = ~((np.abs(data[:, 1]) <= 180) & (np.abs(data[:, 2]) <= 90))
    good = ~(no_time | no_place | table.ragged)
    counts = {
        "time": int(no_time.sum()),
        "position": int((no_place & ~no_time).sum()),
        "cells": int((table.ragged & ~no_time & ~no_place).sum()),
    }
    lacks = [say("input-pass-lacks", what=what, count=grouped_words(count)) for what, count in counts.items() if count]
    reasons = ", ".join(lacks)
    if not good.any():
        value = say("input-no-pass-row", reasons=reasons)
        raise InputFault(table.name, value, say("input-pass-rows"), say("input-mend-them"))
    if reasons:
        used = {"used": grouped_words(int(good.sum())), "rows": grouped_words(table.rows)}
        said = say("input-rows-left-out", file=table.name, reasons=reasons, **used)
        problems.append(Problem(table.name, "bad_row", said))
    return good


def _rows_of(order: Iterable[str], names: np.ndarray, good: np.ndarray) -> Iterator[tuple[str, np.ndarray]]:
    return ((name, good & (names == name)) for name in order)


def _one_pass(file: str, name: str, data: np.ndarray, sonars: np.ndarray) -> SonarPass:
    data = data[np.argsort(data[:, 0], kind="stable")]
    time_s, lon, lat, recorded_mps, range_m, height_m = data.T
    silent = np.isnan(recorded_mps)
    speed_mps = np.where(silent, _speed_mps(time_s, lon, lat), recorded_mps)
    named = ", ".join(dict.fromkeys(sonar for sonar in sonars.tolist() if sonar))
    return SonarPass(
        name,
        time_s,
        lon,
        lat,
        speed_mps,
        range_m,
        height_m,
        speed_computed=bool(silent.mean() > 0.5),
        file=file,
        instrument=named,
    )


def _speed_mps(time_s: np.ndarray, lon: np.ndarray, lat: np.ndarray) -> np.ndarray:
    """Speed from the geodesic way made between the row before and the row after; NaN where no time passes."""
    from pyproj import Geod

    if len(time_s) < 2:
        return np.full(len(time_s), np.nan)
    steps_m = Geod(ellps="WGS84").inv(lon[:-1], lat[:-1], lon[1:], lat[1:])[2]
    way_m = np.r_[0.0, np.cumsum(steps_m)]
    before = np.maximum(np.arange(len(time_s)) - 1, 0)
    after = np.minimum(np.arange(len(time_s)) + 1, len(time_s) - 1)
    span_s = time_s[after] - time_s[before]
    return np.divide(way_m[after] - way_m[before], span_s, out=np.full(len(time_s), np.nan), where=span_s > 0)


def _with_outages(
    named: list[tuple[str, SonarPass]], table: Table, zone: Zone, problems: list[Problem]
) -> tuple[SonarPass, ...]:
    found, said = find_columns(table, _OUTAGE_ROLES)
    problems += table.problems() + said
    if "channel" not in found:
        raise InputFault(table.name, table.heading_words, say("input-outage-columns"), say("input-add-it"))
    cells = {role: table.words(column) for role, column in found.items()}
    empty = np.full(table.rows, "", dtype=object)
    taken: dict[str, list[Outage]] = {run.name: [] for _, run in named}
    for row in range(table.rows):
        values = {role: str(cells.get(role, empty)[row]) for role in _OUTAGE_ROLES}
        fault = _take_outage(values, named, taken, zone)
        if fault:
            said_row = say("input-row-not-used", file=table.name, line=int(table.line_numbers[row]), fault=fault)
            problems.append(Problem(table.name, "bad_row", said_row))
    return tuple(replace(run, outages=tuple(taken[run.name])) for _, run in named)


def _take_outage(
    values: dict[str, str], named: list[tuple[str, SonarPass]], taken: dict[str, list[Outage]], zone: Zone
) -> str:
    """Add one row's outage to its passes; return what is wrong, or ""."""
    channels = _CHANNELS.get(values["channel"].lower())
    if not channels:
        return say("input-outage-channel", value=f"{values['channel']!r}")
    start_s, end_s = (times_utc([values[key]], zone).time_s[0] for key in ("from", "to"))
    for key, time_s in (("from", start_s), ("to", end_s)):
        if values[key] and np.isnan(time_s):
            return say("input-outage-time", key=key, value=f"{values[key]!r}")
    if start_s > end_s:
        return say("input-outage-order", start=f"{values['from']!r}", end=f"{values['to']!r}")
    wanted = _wanted(values["pass"], start_s, end_s)
    runs = [run for stated, run in named if wanted(stated, run)]
    for run in runs:
        from_s = run.time_s[0] if np.isnan(start_s) else start_s
        to_s = run.time_s[-1] if np.isnan(end_s) else end_s
        taken[run.name] += [Outage(channel, float(from_s), float(to_s), values["why"]) for channel in channels]
    known = ", ".join(run.name for _, run in named)
    return "" if runs else say("input-outage-pass", name=f"{values['pass']!r}", known=known)


def _wanted(name: str, start_s: float, end_s: float) -> Callable[[str, SonarPass], bool]:
    """Tell whether a pass is meant: by name where one is given, else by the times."""

    def by_name(stated: str, run: SonarPass) -> bool:
        return name in (stated, run.name)

    def by_time(_: str, run: SonarPass) -> bool:
        return not (end_s < run.time_s[0] or start_s > run.time_s[-1])

    return by_name if name else by_time
