"""The soundings that are not used, as a table that a person can look through: audit/soundings_left_out.csv."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import numpy as np

from atlasgen.model.quality import LeftOut
from atlasgen.model.wording import say
from atlasgen.write.csvfile import write_csv

COLUMNS = ("file", "line", "lon", "lat", "depth_m", "time", "reason", "soundings")


def left_out_rows(left_out: LeftOut) -> list[tuple[str, ...]]:
    """One row for each sounding, in the order of COLUMNS, then one for each lot that is only counted.

    `depth_m` is as recorded, before draught, sound speed and stage; `line` is the line of the file. What is unknown is
    an empty cell. `soundings` is how many the row stands for.
    """
    columns = (
        [left_out.files[number] for number in left_out.file],
        ["" if row == 0 else str(row) for row in left_out.row.tolist()],
        _numbers(left_out.lon_deg, 7),
        _numbers(left_out.lat_deg, 7),
        _numbers(left_out.depth_m, 3),
        [_time(time_s) for time_s in left_out.time_s.tolist()],
        [left_out.reasons[number] for number in left_out.reason],
    )
    rows = [(*cells, "1") for cells in zip(*columns, strict=True)]
    counted = [
        (file, "", "", "", "", "", say("table-not-listed", reason=reason), str(n))
        for file, reason, n in left_out.unlisted
    ]
    return rows + counted


def write_soundings_left_out(left_out: LeftOut | None, path: Path) -> None:
    """Write the table, UTF-8, lines ended as RFC 4180 has it; nothing where no soundings were supplied."""
    if left_out is None:
        return
    write_csv(path, COLUMNS, left_out_rows(left_out))


def _numbers(values: np.ndarray, decimals: int) -> list[str]:
    return ["" if not np.isfinite(value) else f"{value:.{decimals}f}" for value in values.tolist()]


def _time(time_s: float) -> str:
    if not np.isfinite(time_s):
        return ""
    return datetime.fromtimestamp(time_s, UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
