"""TIFF directories, against piexif as an independent writer."""

from __future__ import annotations

import struct

import pytest
from hypothesis import given
from hypothesis import strategies as st
from photo_factory import exif_block, gps_tags, raw_block

from atlasgen.read.tiff import GPS_POINTER, Entry, Tags, read_tags


def test_three_directories_are_found_in_a_block_of_another_writer():
    """Main, Exif and GPS directories of a block that piexif wrote."""
    tags = read_tags(exif_block({"Make": b"Invented"}, {"FocalLength": (358, 100)}, gps_tags()))
    assert tags.main[0x010F].data == b"Invented\x00"[: len(tags.main[0x010F].data)]
    assert tags.exif[0x920A].numbers() == (3.58,)
    assert tags.gps[2].numbers() == (37.0, 57.0, 3.7203)


def test_one_bad_entry_does_not_cost_the_ones_after_it():
    """An entry that points outside the block is named as broken, and the next tag is still read."""
    block = bytearray(raw_block([(2, 5, bytes(24)), (6, 5, struct.pack("<2L", 12, 1))], pointer=GPS_POINTER))
    struct.pack_into("<L", block, 26 + 2 + 8, 60_000)
    tags = read_tags(bytes(block))
    assert tags.broken == {2}
    assert tags.gps[6].numbers() == (12.0,)


def test_a_rational_with_denominator_0_is_missing_not_infinite():
    """0/0 is the way of cameras to say unknown."""
    assert Entry(5, struct.pack(">4L", 0, 0, 7, 2), ">").numbers() == (None, 3.5)


def test_text_has_no_numbers():
    """A coordinate stored as text must not pass for a number."""
    assert Entry(2, b"52,00000\x00", "<").numbers() == ()


def test_both_byte_orders_say_the_same():
    """II and MM blocks of the same tags give the same numbers."""
    blocks = [raw_block([(0x0112, 3, struct.pack(f"{order}H", 6))], order) for order in "<>"]
    assert [read_tags(block).main[0x0112].numbers() for block in blocks] == [(6,), (6,)]


def test_big_tiff_has_wider_entries():
    """BigTIFF: version 43, 8-byte offsets, 20-byte entries."""
    entry = struct.pack("<HHQ", 256, 4, 1) + struct.pack("<L4x", 1234)
    block = struct.pack("<2sHHHQ", b"II", 43, 8, 0, 16) + struct.pack("<Q", 1) + entry + bytes(8)
    assert read_tags(block).main[256].numbers() == (1234,)


@pytest.mark.parametrize("block", [b"", b"II", b"II*\x00", b"\x00" * 40, b"IIXXabcdefgh"])
def test_what_does_not_begin_as_tiff_is_refused(block):
    """The reader says so instead of reading noise."""
    with pytest.raises(ValueError, match="TIFF header"):
        read_tags(block)


def test_a_directory_that_points_to_itself_ends():
    """The Exif pointer to the main directory is read once, not for ever."""
    tags = read_tags(raw_block([(0x8769, 4, struct.pack("<L", 8))]))
    assert list(tags.exif) == [0x8769]


@given(st.binary(max_size=300), st.sampled_from([b"II*\x00", b"MM\x00*", b"II+\x00", b"MM\x00+"]))
def test_noise_after_a_header_never_breaks_the_reader(noise, head):
    """Whatever follows the header, the answer is tags or the one error that is promised."""
    try:
        assert isinstance(read_tags(head + noise), Tags)
    except ValueError as error:
        assert "it " in str(error)  # noqa: PT017  both outcomes are right, which one depends on the noise
