"""Water level: the stage on a date, and depths reduced to the chart datum by it.

Depths are below the day's water (`reduction` has added the draught); a chart gives them below its datum. The rule, for
one sounding: depth below datum = depth below the water - stage, with the stage negative when the lake is drawn down. In
elevations: bed = water surface - depth, charted depth = datum - bed, and a bathymetric map
must state the level it is drawn for (Polk County Water Atlas, "Learn more").
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import overload

import numpy as np

from atlasgen.model import StageRecord
from atlasgen.model.wording import say
from atlasgen.units import grouped_words


@dataclass(frozen=True, slots=True)
class Reduction:
    """Depths after reduction, one for each sounding, NaN where a sounding must be left out of depth.

    `reduced` False: not one of them could be reduced; `depth_m` is then below the water surface of the survey day,
    whose level is unknown. Reduced and unreduced depths are never mixed. `counts` holds `reduced`, `unreduced`,
    `no_time` and `outside_record`; the last two are left out of depth when `reduced` is True.
    """

    depth_m: np.ndarray
    reduced: bool
    counts: Mapping[str, int]
    how: str


@overload
def stage_at(record: StageRecord | None, time_s: float) -> tuple[float | None, str]: ...
@overload
def stage_at(record: StageRecord | None, time_s: np.ndarray) -> tuple[np.ndarray, str]: ...
def stage_at(record: StageRecord | None, time_s: float | np.ndarray) -> tuple[float | np.ndarray | None, str]:
    """Water level against the datum at a time or at many, and in words how it is known.

    Linear between two readings, and never beyond the first or last one: there the level is None (NaN in an array).

    Parameters
    ----------
    record
        The stage record, or None.
    time_s
        Seconds since 1970 UTC, one number or an array; NaN for an unknown time.
    """
    times = np.asarray(time_s, dtype=float)
    stage_m = _interpolated(record, times)
    if times.ndim:
        known = int(np.isfinite(stage_m).sum())
        return stage_m, say("measure-level-many", known=grouped_words(known), count=grouped_words(times.size))
    one = float(stage_m)
    return (None if np.isnan(one) else one), _how(record, float(times))


def reduce_to_datum(depth_m: float | np.ndarray, stage_m: float | np.ndarray) -> float | np.ndarray:
    """Depth below datum from the depth below the day's water surface; all metres, stage negative when drawn down.

    Checked by the USACE Detroit bulletin of January 2009: Lake Erie 19 in above its Low Water Datum of 569.2 ft, so a
    sounding of 12.0 ft is charted as 10.417 ft.
    """
    return depth_m - stage_m


def reduce_soundings(depth_m: np.ndarray, time_s: np.ndarray, record: StageRecord | None) -> Reduction:
    """Reduce every sounding from below the day's water surface to the datum, or say why that cannot be done.

    With a record, soundings without a time or outside it are left out of depth (NaN) and counted. Without a record,
    or when not a single sounding falls within it (a file without a time column, say), all are kept unreduced.
    """
    depth_m, time_s = np.asarray(depth_m, dtype=float), np.asarray(time_s, dtype=float)
    stage_m = _interpolated(record, time_s)
    known = np.isfinite(stage_m)
    no_time = int(np.isnan(time_s).sum())
    counts = {"no_time": no_time, "outside_record": int((~known).sum()) - no_time if _has_readings(record) else 0}
    if not known.any():
        counts |= {"reduced": 0, "unreduced": depth_m.size}
        return Reduction(depth_m, False, counts, _unreduced_words(record, counts))
    counts |= {"reduced": int(known.sum()), "unreduced": 0}
    below_datum_m = np.asarray(reduce_to_datum(depth_m, stage_m))
    return Reduction(below_datum_m, True, counts, _reduced_words(record, counts))


def _has_readings(record: StageRecord | None) -> bool:
    return record is not None and len(record.time_s) > 0


def _interpolated(record: StageRecord | None, time_s: np.ndarray) -> np.ndarray:
    if record is None or not _has_readings(record):
        return np.full(time_s.shape, np.nan)
    return np.interp(time_s, record.time_s, record.stage_m, left=np.nan, right=np.nan)


def _how(record: StageRecord | None, time_s: float) -> str:
    if record is None or not _has_readings(record):
        return say("measure-level-no-record")
    if np.isnan(time_s):
        return say("measure-level-no-time")
    file = record.file or say("measure-the-record")
    first, last = record.time_s[0], record.time_s[-1]
    if not first <= time_s <= last:
        return say("measure-level-outside", file=file, first=_day(first), last=_day(last))
    after = int(np.searchsorted(record.time_s, time_s))
    if record.time_s[after] == time_s:
        return say("measure-level-read", day=_day(time_s), file=file)
    before_s, after_s = record.time_s[after - 1], record.time_s[after]
    return say("measure-level-between", before=_day(before_s), after=_day(after_s), file=file)


def _day(time_s: float) -> str:
    return datetime.fromtimestamp(float(time_s), UTC).strftime("%Y-%m-%d")


def _reduced_words(record: StageRecord | None, counts: Mapping[str, int]) -> str:
    file = (record.file if record else "") or say("measure-the-record")
    text = say("measure-reduced", number=counts["reduced"], count=grouped_words(counts["reduced"]), file=file)
    if counts["no_time"]:
        text = say("measure-reduced-no-time", words=text, count=grouped_words(counts["no_time"]))
    if counts["outside_record"]:
        text = say("measure-reduced-outside", words=text, count=grouped_words(counts["outside_record"]))
    return text


def _unreduced_words(record: StageRecord | None, counts: Mapping[str, int]) -> str:
    if not _has_readings(record):
        return say("measure-unreduced-no-record")
    return say("measure-unreduced-no-time" if counts["no_time"] == counts["unreduced"] else "measure-unreduced-outside")
