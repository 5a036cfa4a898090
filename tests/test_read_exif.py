"""The Exif block, against values of the standard and exifread as an independent reader."""

from __future__ import annotations

import io
import json
import shutil
import struct
import subprocess
from datetime import datetime

import exifread
import pytest
from hypothesis import given
from hypothesis import strategies as st
from photo_factory import exif_block, gps_tags, jpeg, put, raw_block

from atlasgen.read.exif import ExifFacts, read_exif
from atlasgen.read.metadata import Notes
from atlasgen.read.tiff import EXIF_POINTER


def read(block: bytes | None) -> tuple[ExifFacts, list[str]]:
    """Return the facts and the messages of a block."""
    notes = Notes("a.jpg")
    facts = read_exif(block, notes)
    return facts, [problem.message for problem in notes.problems]


def test_no_block_says_nothing():
    """A photo without Exif is no fault."""
    assert read(None) == (ExifFacts(), [])


def test_a_block_that_is_not_tiff_is_told():
    """Noise in place of the block costs the metadata, not the photo."""
    facts, messages = read(b"noise of some length")
    assert facts == ExifFacts()
    assert messages[0].startswith("a.jpg: the Exif block cannot be read. Expected a TIFF header")


@pytest.mark.parametrize("code", range(1, 9))
def test_orientation_1_to_8(code):
    """Exif 2.2 page 18."""
    assert read(exif_block({"Orientation": code}))[0].orientation == code


@pytest.mark.parametrize("code", [0, 9, 65535])
def test_orientations_that_do_not_exist_are_shown_as_stored(code):
    """1 is the default of TIFF 6.0 tag 274; the note names the value."""
    facts, messages = read(exif_block({"Orientation": code}))
    assert facts.orientation == 1
    assert f"Orientation {code}. Expected 1 to 8" in messages[0]


@pytest.mark.parametrize(
    ("make", "model", "camera"),
    [
        ("Invented", "Shore 5", "Invented Shore 5"),
        ("Invented", "INVENTED Shore 5", "INVENTED Shore 5"),
        ("Invented Imaging Corp.", "Invented S5", "Invented S5"),
        ("", "S5", "S5"),
        ("Invented", "", "Invented"),
        (" ", " ", None),
    ],
)
def test_the_camera_is_named_once(make, model, camera):
    """Makers write their name into the model as well, or not."""
    assert read(exif_block({"Make": make.encode(), "Model": model.encode()}))[0].camera == camera


def test_the_time_with_fraction_and_offset():
    """2024:06:01 20:15:30 with -05:00 (Exif 2.31 OffsetTimeOriginal)."""
    facts, messages = read(
        exif_block(
            exif={
                "DateTimeOriginal": b"2024:06:01 20:15:30",
                "SubSecTimeOriginal": b"25",
                "OffsetTimeOriginal": b"-05:00",
            }
        )
    )
    assert (facts.camera_time, facts.camera_offset_s) == (datetime(2024, 6, 1, 20, 15, 30, 250000), -18000)
    assert messages == []


@pytest.mark.parametrize(
    ("main", "exif", "name", "taken"),
    [
        (
            {"DateTime": b"2024:06:03 08:00:00"},
            {"DateTimeDigitized": b"2024:06:02 08:00:00"},
            "DateTimeDigitized",
            datetime(2024, 6, 2, 8),
        ),
        ({"DateTime": b"2024:06:03 08:00:00"}, {}, "DateTime", datetime(2024, 6, 3, 8)),
    ],
)
def test_a_time_of_second_choice_is_told(main, exif, name, taken):
    """Original, else digitised, else changed; the note says which."""
    facts, messages = read(exif_block(main, exif))
    assert facts.camera_time == taken
    assert f"time taken from {name}, {taken:%Y:%m:%d %H:%M:%S}." in messages[0]


@pytest.mark.parametrize(
    "text", [b"0000:00:00 00:00:00", b"1970:01:01 00:00:00", b"2024:02:30 08:00:00", b"2024:06:01 25:00:00"]
)
def test_times_that_cannot_be_are_told(text):
    """Unset clocks and impossible dates give no time and a note."""
    facts, messages = read(exif_block(exif={"DateTimeOriginal": text}))
    assert facts.camera_time is None
    assert f"DateTimeOriginal '{text.decode()}'" in messages[0]


def test_blank_times_are_unknown_without_a_note():
    """The standard's own way to say that the time is not known."""
    assert read(exif_block(exif={"DateTimeOriginal": b"    :  :     :  :  "})) == (ExifFacts(), [])


def test_one_offset_serves_only_the_time_it_belongs_to():
    """OffsetTime is of DateTime; it holds for DateTimeOriginal where both name the same moment."""
    exif = {"DateTimeOriginal": b"2024:06:01 20:15:30", "OffsetTime": b"+02:00"}
    same, _ = read(exif_block({"DateTime": b"2024:06:01 20:15:30"}, exif))
    other, _ = read(exif_block({"DateTime": b"2024:06:09 07:00:00"}, exif))
    assert (same.camera_offset_s, other.camera_offset_s) == (7200, None)


def test_an_impossible_offset_is_told():
    """The camera's time stays, its offset does not."""
    facts, messages = read(
        exif_block(exif={"DateTimeOriginal": b"2024:06:01 20:15:30", "OffsetTimeOriginal": b"+25:00"})
    )
    assert (facts.camera_time is not None, facts.camera_offset_s) == (True, None)
    assert "offset from UTC '+25:00'" in messages[0]


def test_lens_values_and_their_ways_to_say_unknown():
    """FocalLengthIn35mmFilm 0 is unknown, DigitalZoomRatio 0 is none (Exif 2.2), 0/0 is missing."""
    known, _ = read(
        exif_block(exif={"FocalLength": (880, 100), "FocalLengthIn35mmFilm": 24, "DigitalZoomRatio": (2, 1)})
    )
    unknown, messages = read(
        exif_block(exif={"FocalLength": (0, 0), "FocalLengthIn35mmFilm": 0, "DigitalZoomRatio": (0, 1)})
    )
    assert (known.focal_mm, known.focal_35mm, known.digital_zoom) == (8.8, 24, 2.0)
    assert (unknown.focal_mm, unknown.focal_35mm, unknown.digital_zoom, messages) == (None, None, None, [])


def test_a_focal_length_out_of_this_world_is_told():
    """90 km is no lens."""
    facts, messages = read(exif_block(exif={"FocalLength": (90_000_000, 1)}))
    assert facts.focal_mm is None
    assert messages == ["a.jpg: FocalLength, mm: 9e+07. Expected 0 to 10000; the value was not used."]


def xp(text: str) -> tuple[int, ...]:
    """Return text as the desktop's XP tags hold it."""
    return tuple(text.encode("utf-16-le") + b"\x00\x00")


def test_captions_by_rank():
    """ImageDescription first, then the desktop's title."""
    both, _ = read(exif_block({"ImageDescription": "Döck".encode(), "XPTitle": xp("Title")}))
    title, _ = read(exif_block({"ImageDescription": b"      ", "XPTitle": xp("Träger")}))
    assert (both.caption, title.caption) == ("Döck", "Träger")


@pytest.mark.parametrize(
    ("stored", "comment"),
    [
        (b"ASCII\x00\x00\x00Old mill", "Old mill"),
        (b"UNICODE\x00" + "Öld mill".encode("utf-16-le"), "Öld mill"),
        (b"UNICODE\x00" + "Öld mill".encode("utf-16-be"), "Öld mill"),
        (b"UNICODE\x00\xff\xfe" + "Öld mill".encode("utf-16-le"), "Öld mill"),
        (b"UNICODE\x00" + "Öld mill".encode(), "Öld mill"),
        (b"JIS\x00\x00\x00\x00\x00" + "湖の岸".encode("iso2022_jp"), "湖の岸"),
        (bytes(8) + "Öld mill".encode(), "Öld mill"),
        (bytes(64), None),
        (b"ASCII\x00\x00\x00" + b" " * 40, None),
        (b"no code at all", "no code at all"),
    ],
)
def test_user_comment_in_every_code(stored, comment):
    """The character codes of Exif 2.2 table 6, in both byte orders, and what programs write instead."""
    assert read(exif_block(exif={"UserComment": stored}))[0].comment == comment


def test_copyright_of_photographer_and_editor():
    """Two texts, each ended by NUL (Exif 2.2 tag 33432); a blank one is none."""
    block = raw_block([(0x8298, 2, b"A. Crew\x00B. Desk\x00")])
    only_editor = raw_block([(0x8298, 2, b" \x00B. Desk\x00")])
    assert [read(each)[0].copyright for each in (block, only_editor)] == ["A. Crew; B. Desk", "B. Desk"]


def test_utf_8_text_of_exif_3_is_read():
    """Type 129 of Exif 3.0."""
    assert read(raw_block([(0x010E, 129, "Räche 7\x00".encode())]))[0].caption == "Räche 7"


def test_a_value_outside_the_block_is_told_and_the_next_is_read():
    """A maker's note moved by an editing program must not cost the focal length behind it."""
    entries = [(0x9003, 2, b"2024:06:01 20:15:30\x00"), (0x920A, 5, struct.pack("<2L", 88, 10))]
    block = bytearray(raw_block(entries, pointer=EXIF_POINTER))
    struct.pack_into("<L", block, 26 + 2 + 8, 60_000)
    facts, messages = read(bytes(block))
    assert (facts.camera_time, facts.focal_mm) == (None, 8.8)
    assert messages == ["a.jpg: DateTimeOriginal lies outside the Exif block. Expected values inside it."]


@given(st.binary(max_size=400))
def test_noise_inside_a_block_never_breaks_the_reader(noise):
    """Whatever the bytes, the answer is facts and notes."""
    assert isinstance(read(b"II*\x00\x08\x00\x00\x00" + noise)[0], ExifFacts)


FULL = exif_block(
    {"Make": b"Invented", "Model": b"Shore 5", "Orientation": 6, "ImageDescription": b"Old mill"},
    {
        "DateTimeOriginal": b"2024:06:01 20:15:30",
        "OffsetTimeOriginal": b"+05:45",
        "FocalLength": (358, 100),
        "FocalLengthIn35mmFilm": 20,
    },
    gps_tags(
        GPSAltitude=(1237, 10),
        GPSAltitudeRef=1,
        GPSImgDirection=(12345, 100),
        GPSImgDirectionRef="M",
        GPSDateStamp="2024:06:01",
        GPSTimeStamp=((14, 1), (30, 1), (30, 1)),
    ),
)


def test_the_same_as_an_independent_reader():
    """Every value beside exifread's, on a photo that piexif wrote."""
    facts, messages = read(FULL)
    tags = exifread.process_file(io.BytesIO(jpeg(FULL)), details=False)
    degrees = [float(part) for part in tags["GPS GPSLatitude"].values]
    assert messages == []
    assert facts.gps.lonlat.lat_deg == pytest.approx(-(degrees[0] + degrees[1] / 60 + degrees[2] / 3600), abs=1e-9)
    assert str(tags["GPS GPSLatitudeRef"]) == "S"
    assert facts.gps.altitude_m == -float(tags["GPS GPSAltitude"].values[0])
    assert facts.gps.direction_deg == float(tags["GPS GPSImgDirection"].values[0])
    assert facts.camera_time == datetime.strptime(str(tags["EXIF DateTimeOriginal"]), "%Y:%m:%d %H:%M:%S")
    assert facts.orientation == tags["Image Orientation"].values[0]
    assert facts.focal_mm == float(tags["EXIF FocalLength"].values[0])
    assert facts.focal_35mm == tags["EXIF FocalLengthIn35mmFilm"].values[0]
    assert facts.camera == f"{tags['Image Make']} {tags['Image Model']}"


@pytest.mark.skipif(not shutil.which("exiftool"), reason="exiftool is not installed")
def test_the_same_as_exiftool(tmp_path):
    """The same photo beside exiftool's numbers, where that program is installed."""
    path = put(tmp_path, "a.jpg", jpeg(FULL))
    listed = subprocess.run(["exiftool", "-j", "-n", str(path)], capture_output=True, check=True).stdout
    told, (facts, _) = json.loads(listed)[0], read(FULL)
    assert facts.gps.lonlat == pytest.approx((told["GPSLongitude"], told["GPSLatitude"]), abs=1e-9)
    assert facts.gps.altitude_m == told["GPSAltitude"]
    assert facts.gps.direction_deg == told["GPSImgDirection"]
    assert f"{facts.gps.gps_time:%Y:%m:%d %H:%M:%SZ}" == told["GPSDateTime"]
    assert f"{facts.camera_time:%Y:%m:%d %H:%M:%S}" == told["DateTimeOriginal"]
    assert (facts.camera_offset_s, told["OffsetTimeOriginal"]) == (20700, "+05:45")
    assert (facts.orientation, facts.focal_mm, facts.focal_35mm) == (
        told["Orientation"],
        told["FocalLength"],
        told["FocalLengthIn35mmFormat"],
    )
