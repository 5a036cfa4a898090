"""The list of soundings left out, read back with the standard library's csv."""

from __future__ import annotations

import csv

import numpy as np

from atlasgen.model.quality import LeftOut
from atlasgen.write.soundings_table import COLUMNS, write_soundings_left_out

LEFT_OUT = LeftOut(
    file=np.array([0, 1]),
    row=np.array([7, 0]),
    lon_deg=np.array([9.12345678, np.nan]),
    lat_deg=np.array([-45.0, np.nan]),
    depth_m=np.array([4.0, np.nan]),
    time_s=np.array([0.5, np.nan]),
    reason=np.array([1, 0]),
    files=("a, b.csv", "c.log"),
    reasons=("no fix near", "spike"),
    unlisted=(("c.log", "bad checksum", 12),),
)


def test_each_sounding_is_a_row_and_what_is_unknown_is_empty(tmp_path):
    """A comma in a file's name, a time half a second after 1970 began, and twelve that are only counted."""
    path = tmp_path / "audit" / "soundings_left_out.csv"
    write_soundings_left_out(LEFT_OUT, path)
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    assert rows == [
        list(COLUMNS),
        ["a, b.csv", "7", "9.1234568", "-45.0000000", "4.000", "1970-01-01T00:00:00.500Z", "spike", "1"],
        ["c.log", "", "", "", "", "", "no fix near", "1"],
        ["c.log", "", "", "", "", "", "bad checksum (not listed)", "12"],
    ]


def test_without_soundings_there_is_no_file(tmp_path):
    """Nothing was supplied, so nothing was left out."""
    write_soundings_left_out(None, tmp_path / "soundings_left_out.csv")
    assert list(tmp_path.iterdir()) == []
