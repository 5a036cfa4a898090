"""Words from outside: what is no text is taken out of them, or written out where a name must be told."""

from __future__ import annotations

import unicodedata

import click
import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.cli_parts import told
from atlasgen.errors import InputFault
from atlasgen.model import Problem
from atlasgen.model.text import DIRECTION_MARKS, plain_text, visible


def test_the_direction_marks_are_those_of_the_standard():
    """Unicode Standard Annex 9, tables 1 to 3: the signs of these bidirectional classes, and the three marks."""
    classes = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
    steering = {chr(n) for n in range(0x110000) if unicodedata.bidirectional(chr(n)) in classes}
    assert steering | {"\u061c", "\u200e", "\u200f", "\ufeff"} == DIRECTION_MARKS


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("a\tb\n c", "a b c"),
        ("photo\u202egnp.exe", "photognp.exe"),
        ("\x1b[31mred\x07\0", "[31mred"),
        ("half \ud83d, whole \U0001f6a4", "half , whole \U0001f6a4"),
        ("e\u0301t\u00e9", "\u00e9t\u00e9"),
    ],
)
def test_words_keep_their_text_alone(text, plain):
    """Blanks are folded, accents composed, an emoji stays."""
    assert plain_text(text) == plain


@given(st.text())
def test_what_is_shown_drives_no_terminal(text):
    """Neither form holds a control sign or a mark of direction, and all of it can be written as UTF-8."""
    for shown in (plain_text(text), visible(text)):
        assert not DIRECTION_MARKS & set(shown)
        assert all(unicodedata.category(sign) not in ("Cc", "Cs") for sign in shown)
        shown.encode("utf-8")
    assert plain_text(plain_text(text)) == plain_text(text)


def test_a_problem_writes_out_what_its_file_is_called():
    """Of a name with a line end and an escape, each sign is to be seen."""
    problem = Problem("a\n\x1b[2J\u202e.jpg", "damaged", "cut short")
    assert problem.words == r"a\x0a\x1b[2J\u202e.jpg: cut short"


def test_an_error_of_ours_drives_no_terminal():
    """Its lines stay lines."""

    @click.command()
    @told
    def fails() -> None:
        raise InputFault("a\x1b]0;b\x07.csv", "one\ntwo", "a table")

    result = CliRunner().invoke(fails)
    assert result.stderr == "atlasgen: a\\x1b]0;b\\x07.csv: one\ntwo. Expected a table.\n"
