"""The stage record: water level by date, against the chart datum.

    date      date, or date and time (or `date` and `time`); a date alone stands for noon, local time
    stage_m   water level above the datum, metres, negative when drawn down (`stage_ft`: feet)

or, where survey.toml gives the datum's height as level.elevation_m, the water's own height:

    elevation_m (`elevation_ft`, `level_m`)   from which the datum's height is subtracted
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model import Problem, StageRecord, Zone
from atlasgen.model.wording import say
from atlasgen.read.columns import SOUNDING_ROLES, find_columns, heading_of
from atlasgen.read.table import Table, read_table
from atlasgen.read.times import Times, joined, times_utc
from atlasgen.units import DEPTH_UNIT_M

_STAGE = ("stage", "stage_above_datum", "level_above_datum", "relative_level")
_ELEVATION = ("elevation", "elev", "water_elevation", "reservoir_elevation", "water_surface_elevation", "altitude")
_LEVEL = ("level", "water_level", "lake_level", "reservoir_level", "pool", "pool_level", "gauge", "gage_height")
_ROLES = {"time": SOUNDING_ROLES["time"], "date": SOUNDING_ROLES["date"], "stage": _STAGE, "elevation": _ELEVATION}
# No level is drawn down or risen by more; a larger number is no stage. Ours: the highest dams are about 300 m.
_LARGEST_STAGE_M = 200.0
# Levels all above this are heights above sea level, not stages against a full level. Ours.
_SURELY_ABSOLUTE_M = 30.0


def read_stage(
    path: Path, name: str, zone: Zone, full_supply_elevation_m: float | None
) -> tuple[StageRecord | None, list[Problem]]:
    """Read the record, in order of time.

    Parameters
    ----------
    zone
        For dates and times that name none.
    full_supply_elevation_m
        Height of the datum, for records that give the water's own height; None if unknown.

    Returns
    -------
        The record, None if no row can be used, and what was met.

    Raises
    ------
    InputFault
        It cannot be read, has no such columns, or holds what cannot be a stage.
    """
    table = read_table(path, name, as_text=True)
    found, problems = find_columns(table, {**_ROLES, "level": _LEVEL})
    column = next((found[role] for role in ("stage", "elevation", "level") if role in found), None)
    if column is None or not found.keys() & {"time", "date"}:
        raise InputFault(name, table.heading_words, say("input-stage-columns"), say("input-name-columns"))
    level_m, said = _metres(table, column)
    problems += [*said, *table.problems()]
    times = _times(table, found, zone)
    problems += times.problems(name)
    good = np.isfinite(level_m) & np.isfinite(times.time_s) & ~table.ragged
    problems += _bad_rows(table, good)
    if not good.any():
        return None, problems
    stage_m, said = _against_datum(table, column, level_m[good], full_supply_elevation_m)
    problems += said
    _refuse_nonsense(table, column, stage_m)
    time_s, stage_m, said = _in_order(name, times.time_s[good], stage_m)
    return StageRecord(time_s, stage_m, name), problems + said


def _metres(table: Table, column: int) -> tuple[np.ndarray, list[Problem]]:
    heading = table.headings[column]
    unit = heading_of(heading).unit
    if unit in DEPTH_UNIT_M:
        return table.numbers(column) * DEPTH_UNIT_M[unit], []
    if unit is not None:
        value = say("input-is-in-unit", column=f"{heading!r}", unit=unit)
        raise InputFault(table.name, value, say("input-stage-units"), say("input-mend-it"))
    said = say("input-stage-unit-assumed", file=table.name, column=f"{heading!r}")
    return table.numbers(column), [Problem(table.name, "ambiguous", said)]


def _times(table: Table, found: dict[str, int], zone: Zone) -> Times:
    if "time" in found and "date" in found:
        return times_utc(joined(table.texts(found["date"]), table.texts(found["time"])), zone, date_hour=12)
    return times_utc(table.texts(found.get("time", found.get("date", 0))), zone, date_hour=12)


def _bad_rows(table: Table, good: np.ndarray) -> list[Problem]:
    bad = table.line_numbers[~good]
    if not len(bad):
        return []
    lines = ", ".join(str(line) for line in bad[:5]) + (f" {say('input-and-more')}" if len(bad) > 5 else "")
    said = say("input-stage-bad-rows", file=table.name, count=len(bad), rows=table.rows, lines=lines)
    return [Problem(table.name, "bad_row", said)]


def _against_datum(
    table: Table, column: int, level_m: np.ndarray, full_m: float | None
) -> tuple[np.ndarray, list[Problem]]:
    """Turn heights into stages where the heading, or the values of a level, say that they are heights."""
    heading = table.headings[column]
    base = heading_of(heading).base
    absolute = base in _ELEVATION or bool((level_m > _SURELY_ABSOLUTE_M).all())
    if absolute and (full_m is None or base in _STAGE):
        raise InputFault(
            table.name,
            say(
                "input-stage-heights",
                column=f"{heading!r}",
                low=f"{level_m.min():.10g}",
                high=f"{level_m.max():.10g}",
            ),
            say("input-stage-columns"),
            say("input-call-elevation"),
        )
    if absolute:
        said = say("input-stage-subtracted", file=table.name, column=f"{heading!r}", datum=f"{full_m:g}")
        return level_m - full_m, [Problem(table.name, "ambiguous", said)]
    if base in _LEVEL:
        said = say("input-stage-taken", file=table.name, column=f"{heading!r}")
        return level_m, [Problem(table.name, "ambiguous", said)]
    return level_m, []


def _refuse_nonsense(table: Table, column: int, stage_m: np.ndarray) -> None:
    worst = stage_m[np.abs(stage_m).argmax()]
    if abs(worst) > _LARGEST_STAGE_M:
        raise InputFault(
            table.name,
            say("input-stage-far", column=f"{table.headings[column]!r}", metres=f"{worst:.10g}"),
            say("input-stage-within", metres=f"{_LARGEST_STAGE_M:g}"),
            say("input-is-unit-right"),
        )


def _in_order(name: str, time_s: np.ndarray, stage_m: np.ndarray) -> tuple[np.ndarray, np.ndarray, list[Problem]]:
    """Sort by time; of rows with the same time the last in the file stands, and differing ones are said."""
    order = np.argsort(time_s, kind="stable")
    time_s, stage_m = time_s[order], stage_m[order]
    same = np.diff(time_s) == 0
    differing = int((same & (np.diff(stage_m) != 0)).sum())
    last = np.r_[~same, True]
    said = say("input-stage-differ", file=name, count=differing)
    problems = [Problem(name, "ambiguous", said)] if differing else []
    return time_s[last], stage_m[last], problems
