"""Tables that a spreadsheet shows and does not run."""

from __future__ import annotations

import csv
import io

import pytest

from atlasgen.write.csvfile import csv_text, harmless

# The first signs: OWASP, "CSV Injection" (from memory), and OWASP ASVS 5.0, requirement 1.2.10, for NUL.
SIGNS = ["=", "+", "-", "@", "\t", "\r", "\n", "\0", "\uff1d", "\uff0b", "\uff0d", "\uff20"]


@pytest.mark.parametrize("sign", SIGNS)
def test_a_cell_that_begins_like_a_formula_becomes_text(sign):
    """An apostrophe in front, and all that was there behind it."""
    assert harmless(f"{sign}HYPERLINK(1)") == f"'{sign}HYPERLINK(1)"


@pytest.mark.parametrize("number", ["-96.4", "+1.5", "-1e-3", "-.5", "-7", -96.4, None, True, 0.0])
def test_a_number_stays_one(number):
    """A longitude in the west begins with a minus too."""
    assert harmless(number) is number


@pytest.mark.parametrize("word", ["-1+cmd|' /C calc'!A0", "-7\n", "+1;=2"])
def test_what_only_begins_like_a_number_is_text(word):
    """The whole cell must be one."""
    assert harmless(word) == f"'{word}"


def test_a_table_comes_back_cell_by_cell():
    """Quotes, commas and line ends of outside words do not open a new cell, which a formula could begin."""
    cells = ['a",=1+1', "b\r\n=1+1", "c;=1", "", "plain"]
    rows = list(csv.reader(io.StringIO(csv_text(["one", "two", "three", "four", "five"], [cells]), newline="")))
    assert rows == [["one", "two", "three", "four", "five"], cells]
