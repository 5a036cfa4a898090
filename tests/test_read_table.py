"""The careful and the fast parser must give one table; expected cells are written by hand."""

from __future__ import annotations

import csv

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from atlasgen.errors import InputFault
from atlasgen.read import table as module
from atlasgen.read.table import read_table


@pytest.fixture(params=["careful", "fast"])
def read(request, tmp_path, monkeypatch):
    """Read bytes as a table with one of the two parsers."""
    monkeypatch.setattr(module, "FAST_FROM_BYTES", 0 if request.param == "fast" else 10**9)

    def reader(data: bytes):
        path = tmp_path / "t.csv"
        path.write_bytes(data)
        return read_table(path, "t.csv")

    return reader


def rows_of(table):
    """Numbers of all columns, row by row."""
    return np.column_stack([table.numbers(n) for n in range(len(table.headings))]).tolist()


@pytest.mark.parametrize(
    "data",
    [
        b"lon,lat,depth\n1.5,2,3\n4,5,6.25\n",
        b"lon;lat;depth\r\n1,5;2;3\r\n4;5;6,25\r\n",
        b"lon\tlat\tdepth\r1.5\t2\t3\r4\t5\t6.25\r",
        b"lon|lat|depth\n1.5|2|3\n\n4|5|6.25\n",
        b"lon lat depth\n 1.5  2 3\n 4 5   6.25\n",
        b"\xef\xbb\xbflon,lat,depth\n1.5,2,3\n4,5,6.25",
        "lon\tlat\tdepth\n1.5\t2\t3\n4\t5\t6.25\n".encode("utf-16"),
        "lon,lat,depth\n1.5,2,3\n4,5,6.25\n".encode("utf-16-le"),
        b"# a logger\n# lon lat depth\n1.5 2 3\n# pause\n4 5 6.25\n",
        b'"lon","lat","depth"\n"1.5","2","3"\n"4","5","6.25"\n',
        b"sep=;\nlon;lat;depth\n1.5;2;3\n4;5;6.25\n",
        b"lon,lat,depth\n,,\n1.5, 2, 3\n4,5,6.25\n   \n",
    ],
    ids=["comma", "decimal comma", "tab, CR", "bar", "blanks", "BOM", "UTF-16", "UTF-16 bare", "comments", "quotes",
         "sep line", "empty lines"],
)  # fmt: skip
def test_one_table_in_many_dresses(read, data):
    """Delimiter, decimal mark, line end, encoding and comments never change what is read."""
    table = read(data)
    assert table.headings == ("lon", "lat", "depth")
    assert rows_of(table) == [[1.5, 2, 3], [4, 5, 6.25]]


def test_a_table_without_a_heading_numbers_its_columns(read):
    """Places stand in for headings."""
    table = read(b"1.5,2,3\n4,5,6.25\n")
    assert (table.headings, table.has_header) == (("column 1", "column 2", "column 3"), False)
    assert rows_of(table) == [[1.5, 2, 3], [4, 5, 6.25]]


def test_a_row_of_units_joins_the_heading(read):
    """Units below the headings are no data."""
    table = read(b"lon,lat,depth\ndeg,deg,ft\n1,2,3\n")
    assert table.headings == ("lon (deg)", "lat (deg)", "depth (ft)")
    assert table.rows == 1


def test_a_bracketed_unit_stays_with_its_heading_between_blanks(read):
    """`Depth (m)` is one heading where blanks part the cells."""
    assert read(b"Lon Lat Depth (m)\n1 2 3\n").headings == ("Lon", "Lat", "Depth(m)")


def test_words_in_a_column_of_numbers_are_no_numbers(read):
    """A word, `nan` and an empty cell read as NaN, and the row stays a row."""
    table = read("lon,lat\n1,2\nx,3\nnan,4\n,5\n\u22126,6\n".encode())
    assert table.rows == 5
    assert [None if np.isnan(n) else n for n in table.numbers(0)] == [1.0, None, None, None, -6.0]


def test_a_row_with_too_many_cells_is_marked(read):
    """Ragged rows stay rows, so that they can be counted; a delimiter at the end is no cell."""
    assert read(b"lon,lat\n1,2,3\n4,5\n6,7\n").ragged.tolist() == [True, False, False]
    assert not read(b"lon,lat\n1,2,\n4,5,\n").ragged.any()


def test_latin_1_is_read_where_utf_8_fails(read):
    """An accented heading of an old logger."""
    assert read("L\u00e4nge,Breite\n1,2\n".encode("latin-1")).headings == ("L\u00e4nge", "Breite")


def test_quoted_cells_may_hold_delimiters_and_line_ends(read):
    """RFC 4180 section 2, rules 6 and 7."""
    assert read(b'n,why\n1,"a, b\nc"\n2,"x"\n').texts(1).tolist() == ["a, b\nc", "x"]


def test_an_open_quotation_mark_swallows_no_rows(read):
    """The rest of the file is not one cell, and it is said."""
    table = read(b'n,why\n1,"a\n2,x\n3,y\n')
    assert table.rows == 3
    assert "quotation mark" in table.notes[0]


def test_line_numbers_are_those_of_the_file(tmp_path):
    """Blank and comment lines count as lines."""
    path = tmp_path / "t.csv"
    path.write_bytes(b"# x\nn,m\n1,2\n\n3,4\n")
    assert read_table(path, "t.csv").line_numbers.tolist() == [3, 5]


@pytest.mark.parametrize(
    ("data", "says"),
    [(b"", "empty"), (b"\n \n", "empty"), (b"# only\n", "only comments"), (b"a,b\n", "no rows"),
     (b"PK\x03\x04\x00\x00\x00\x00\x01\x00zz", "not text")],
)  # fmt: skip
def test_what_is_no_table_is_refused_with_a_next_step(read, data, says):
    """Each message names the file and what to do."""
    with pytest.raises(InputFault, match=says) as fault:
        read(data)
    assert str(fault.value).startswith("t.csv: ")
    assert str(fault.value).endswith(".")


def test_a_file_that_is_not_there_is_an_input_fault(tmp_path):
    """No bare OSError reaches the caller."""
    with pytest.raises(InputFault, match="No such file"):
        read_table(tmp_path / "none.csv", "none.csv")


CELLS = st.one_of(
    st.floats(-1e6, 1e6, allow_nan=False).map(lambda n: f"{n:.4f}"), st.sampled_from(["", "x", "A", "12:30:00", "a,b"])
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=60)
@given(st.lists(st.lists(CELLS, min_size=3, max_size=3), min_size=1, max_size=12))
def test_both_parsers_agree_and_no_row_is_lost(tmp_path, monkeypatch, rows):
    """Any table that the csv module writes is read alike by both, empty rows aside."""
    path = tmp_path / "t.csv"
    with path.open("w", newline="") as file:
        csv.writer(file).writerows([["one", "two", "three"], ["1", "2", "3"], *rows])
    tables = []
    for limit in (0, 10**9):
        monkeypatch.setattr(module, "FAST_FROM_BYTES", limit)
        tables.append(read_table(path, "t.csv"))
    fast, careful = tables
    assert 1 + sum(any(row) for row in rows) == fast.rows == careful.rows
    for column in range(3):
        np.testing.assert_allclose(fast.numbers(column), careful.numbers(column), rtol=1e-12)
