"""The columns are our own; expected values are written by hand."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from atlasgen.errors import InputFault
from atlasgen.model import Correction, LonLat
from atlasgen.read.corrections import read_corrections

HEAD = "file,lon,lat,heading_deg,pitch_deg,height_m,taken,caption,leave_out\n"


@pytest.fixture
def read(tmp_path):
    """Read a text as corrections.csv, at UTC-05:00."""

    def reader(text):
        path = tmp_path / "corrections.csv"
        path.write_text(text, encoding="utf-8")
        return read_corrections(path, "corrections.csv", timedelta(hours=-5))

    return reader


def test_a_full_row_is_read(read):
    """Time in the zone given; a comma and a number sign in the caption."""
    corrections, problems = read(HEAD + 'photos/a.jpg,9.5,45.5,68,-20,30,2026-05-01 10:00,"Slip #2, north",\n')
    expected = Correction(
        "photos/a.jpg", LonLat(9.5, 45.5), 68.0, -20.0, 30.0, datetime(2026, 5, 1, 15, tzinfo=UTC), "Slip #2, north"
    )
    assert {"photos/a.jpg": expected} == corrections
    assert problems == []


def test_empty_cells_leave_what_the_file_says(read):
    """A file and nothing more."""
    assert {"a.jpg": Correction("a.jpg")} == read(HEAD + "a.jpg,,,,,,,,\n")[0]


@pytest.mark.parametrize(
    ("cell", "reason"),
    [("yes", "no reason given"), ("X", "no reason given"), ("blurred", "blurred"), ("no", None), ("", None)],
)
def test_leave_out_is_yes_no_or_a_reason(read, cell, reason):
    """A reason is kept in its words."""
    assert reason == read(f"file,leave_out\na.jpg,{cell}\n")[0]["a.jpg"].leave_out


@pytest.mark.parametrize(
    ("column", "cell", "says"),
    [("heading_deg", "400", "0 to 360"), ("heading_deg", "NNE", "0 to 360"), ("pitch_deg", "-91", "-90 to 90"),
     ("height_m", "-3", "0 to 1000"), ("taken", "noon", "a date and time"), ("taken", "2026-05-01", "a date and time")],
)  # fmt: skip
def test_a_bad_cell_is_named_and_the_rest_of_its_row_used(read, column, cell, says):
    """The message gives line, column, value and what is allowed."""
    corrections, (problem,) = read(f"file,{column},caption\na.jpg,,\nb.jpg,{cell},Slip\n")
    assert Correction("b.jpg", caption="Slip") == corrections["b.jpg"]
    assert problem.message.startswith(f"corrections.csv: line 3, {column}: '{cell}'. Expected ")
    assert says in problem.message


@pytest.mark.parametrize(("lon", "lat", "problems"), [("9", "", 1), ("", "45", 1), ("9", "x", 2), ("200", "45", 2)])
def test_half_a_position_is_none(read, lon, lat, problems):
    """Longitude and latitude stand together or not at all."""
    corrections, met = read(f"file,lon,lat\na.jpg,{lon},{lat}\n")
    assert corrections["a.jpg"].lonlat is None
    assert problems == len(met)


def test_360_is_north_and_commas_are_decimal(read):
    """As a spreadsheet with semicolons writes them."""
    correction = read("file;lon;lat;heading_deg\na.jpg;9,5;45,5;360\n")[0]["a.jpg"]
    assert (LonLat(9.5, 45.5), 0.0) == (correction.lonlat, correction.heading_deg_true)


def test_the_last_filled_cell_stands(read):
    """Two rows for one photo are merged, and it is said; slashes of either kind are one."""
    corrections, (problem,) = read("file,caption,pitch_deg\nin\\a.jpg,old,-10\n./in/a.jpg,new,\n")
    assert {"in/a.jpg": Correction("in/a.jpg", caption="new", pitch_deg=-10.0)} == corrections
    assert "several rows" in problem.message


def test_a_row_without_a_file_is_named(read):
    """The other is used."""
    corrections, (problem,) = read("file,caption\n,lost\na.jpg,kept\n")
    assert list(corrections) == ["a.jpg"]
    assert "line 2, file: is empty" in problem.message


def test_an_unquoted_comma_is_said(read):
    """The caption was cut."""
    corrections, (problem,) = read("file,caption\na.jpg,Slip, north\nb.jpg,x\nc.jpg,y\nd.jpg,z\ne.jpg,z\n")
    assert corrections["a.jpg"].caption == "Slip"
    assert "more cells than headings" in problem.message


def test_columns_that_mean_nothing_are_said(read):
    """A misspelt heading does not go unnoticed."""
    _, (problem,) = read("file,captoin\na.jpg,Slip\n")
    assert (problem.code, "'captoin'" in problem.message) == ("unused", True)


def test_a_table_without_a_file_column_is_refused(read):
    """There is nothing to tie the rows to."""
    with pytest.raises(InputFault, match="a column file"):
        read("caption,lon\nSlip,9\n")
