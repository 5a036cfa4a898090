"""Dates, offsets and text as files hold them."""

from __future__ import annotations

from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.read.metadata import (
    Notes,
    caption_text,
    clean_text,
    decoded,
    fraction_of_second,
    in_range,
    is_blank_time,
    read_offset,
    read_time,
    shown,
)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("2016:06:23 16:31:59", (datetime(2016, 6, 23, 16, 31, 59), None)),
        ("2016-06-23T16:31:59.25+05:45", (datetime(2016, 6, 23, 16, 31, 59, 250000), 20700)),
        ("2016:06:23 16:31:60", (datetime(2016, 6, 23, 16, 32), None)),
        ("2016-06-23T16:31Z", (datetime(2016, 6, 23, 16, 31), 0)),
    ],
)
def test_times_as_cameras_and_xmp_write_them(text, expected):
    """Exif form, ISO 8601, seconds rounded up to 60, no seconds."""
    assert read_time(text) == expected


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("0000:00:00 00:00:00", "a clock that has been set"),
        ("1970:01:01 00:04:10", "the day clocks restart from"),
        ("1980:01:01 00:00:00", "the day clocks restart from"),
        ("2016:02:30 10:00:00", "a date and time that exist"),
        ("2016:02:20 10:00:77", "seconds up to 60"),
        ("9999:12:31 23:59:60", "a date and time that exist"),
        ("last Tuesday", "such as 2026:06:01 14:05:09"),
    ],
)
def test_times_that_cannot_be_say_why(text, told):
    """The error's text is what the note tells as expected."""
    with pytest.raises(ValueError, match=told):
        read_time(text)


def test_blanks_and_colons_mean_unknown():
    """Exif 2.2 writes an unknown time as blanks between the colons."""
    assert [is_blank_time(text) for text in ("    :  :     :  :  ", "", "0000:00:00")] == [True, True, False]


@pytest.mark.parametrize(
    ("text", "offset_s"), [("-05:00", -18000), ("+0530", 19800), ("Z", 0), ("+14:00", 50400), ("-00:00", 0)]
)
def test_offsets(text, offset_s):
    """±HH:MM of Exif 2.31, and the forms met beside it."""
    assert read_offset(text) == offset_s


@pytest.mark.parametrize("text", ["+25:00", "5", "+05:75", "CET"])
def test_offsets_wider_than_civil_time_or_in_words(text):
    """Civil offsets run from -12:00 to +14:00."""
    with pytest.raises(ValueError, match="offset"):
        read_offset(text)


def test_fractions_are_cut_at_the_microsecond():
    """SubSecTime holds digits after the decimal point; 9999999 must not become the next second."""
    assert [fraction_of_second(text).microseconds for text in ("5", "047", "9999999", "", None)] == [
        500000,
        47000,
        999999,
        0,
        0,
    ]


def test_text_is_cleaned_for_people():
    """Control characters go, blanks fold, direction marks that disguise a name go, 2000 characters stay."""
    assert clean_text("  Old\x00 mill\r\n\tcove \u202egpj.exe ") == "Old mill cove gpj.exe"
    assert clean_text(" \x00\x07 ") is None
    assert len(clean_text("ab " * 2000)) == 2000


@given(st.text(max_size=80))
def test_clean_text_stays_clean(text):
    """Cleaning twice changes nothing, and what is left can be written as UTF-8."""
    once = clean_text(text)
    assert once is None or (clean_text(once) == once and once.encode())


def test_text_of_unknown_encoding():
    """UTF-8 where it is that, Windows Latin else; never an error."""
    assert [decoded(text) for text in ("Cöve".encode(), "Cöve".encode("cp1252"))] == ["Cöve", "Cöve"]
    assert "\ufffd" in decoded(b"\x81\x8d")


@pytest.mark.parametrize(
    ("text", "caption"),
    [
        ("Boat ramp, looking east", "Boat ramp, looking east"),
        ("MAKER DIGITAL CAMERA", None),
        ("DCIM\\100MEDIA\\IMG_0018.JPG", None),
        ("000015", None),
        ("        ", None),
        ("Maker's cove", "Maker's cove"),
        (None, None),
    ],
)
def test_captions_that_only_a_camera_would_write_are_none(text, caption):
    """Blanks, the camera's own name, its file name, a counter."""
    assert caption_text(text, "Maker Model 7") == caption


def test_notes_name_file_value_allowed_and_next_step():
    """One sentence form for all."""
    notes = Notes("shore/a.jpg")
    assert in_range(7.0, (0.0, 5.0), "Height, m", notes) is None
    assert [(p.subject, p.code, p.level, p.message) for p in notes.problems] == [
        (
            "shore/a.jpg",
            "bad_metadata",
            "note",
            "shore/a.jpg: Height, m: 7. Expected 0 to 5; the value was not used.",
        )
    ]


def test_shown_values_are_short_and_printable():
    """A value out of a file may be a megabyte of bells."""
    assert shown("\x07" * 100 + "x" * 100) == "x" * 57 + "..."
