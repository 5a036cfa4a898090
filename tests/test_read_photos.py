"""Listing photos, and one photo read as a whole."""

from __future__ import annotations

import hashlib
import io
import os
import random
import struct
import subprocess
import sys
from datetime import datetime
from pathlib import Path

import piexif
import pytest
from photo_factory import exif_block, gps_tags, heic, jpeg, picture, png, put, raw_block, xmp
from PIL import Image

from atlasgen.model import PhotoFile, Problem
from atlasgen.read.photos import PhotoJob, list_photos, read_job, read_photo


def read(tmp_path: Path, data: bytes, name: str = "a.jpg", megapixels: float = 50) -> PhotoFile | Problem:
    """Write a file and read it."""
    return read_photo(put(tmp_path, name, data), name, megapixels)


def test_files_are_listed_at_any_depth_sorted_without_hidden_ones(tmp_path):
    """Posix paths; hidden files, hidden folders and desktop leftovers are passed over."""
    for name in ("b.jpg", "a/z.heic", "a/b/c.PNG", ".hidden.jpg", ".cache/x.jpg", "Thumbs.db", "a/desktop.ini"):
        put(tmp_path, name, b"x")
    assert list_photos(tmp_path) == (["a/b/c.PNG", "a/z.heic", "b.jpg"], [])


def test_links_pipes_and_loops_are_told_and_do_not_hang(tmp_path):
    """Links out of the folder, links to nowhere, loops and pipes become problems; a link inside is a file."""
    photos = tmp_path / "photos"
    inside = put(photos, "real.jpg", b"x")
    outside = put(tmp_path, "secret.jpg", b"x")
    (photos / "inside.jpg").symlink_to(inside)
    (photos / "outside.jpg").symlink_to(outside)
    (photos / "parent").symlink_to(tmp_path)
    (photos / "loop").symlink_to(photos / "loop")
    (photos / "self").symlink_to(photos)
    (photos / "gone.jpg").symlink_to(photos / "nothing.jpg")
    os.mkfifo(photos / "pipe.jpg")
    names, problems = list_photos(photos)
    assert names == ["inside.jpg", "real.jpg"]
    assert [(p.subject, p.code, p.level) for p in problems] == [
        (name, "unreadable", "left_out") for name in ("gone.jpg", "loop", "outside.jpg", "parent", "pipe.jpg")
    ]
    assert "a link that leads out of the photos folder" in problems[2].message


def test_a_name_that_is_not_utf_8_is_told_in_printable_form(tmp_path):
    """Such a name could be written neither to JSON nor to a page."""
    (tmp_path / os.fsdecode(b"c\xf6ve.jpg")).write_bytes(b"x")
    names, problems = list_photos(tmp_path)
    assert names == []
    assert (problems[0].subject, "rename it" in problems[0].message) == ("c\\xf6ve.jpg", True)


DRONE = xmp(
    'drone:GimbalYawDegree="-134.2" drone:GimbalPitchDegree="-30" drone:RelativeAltitude="+39.80"',
    "<dc:description>From XMP</dc:description>",
)
FULL = exif_block(
    {"Make": b"Invented", "Model": b"Shore 5", "Orientation": 6, "ImageDescription": b"Old mill"},
    {"DateTimeOriginal": b"2024:06:01 20:15:30", "FocalLengthIn35mmFilm": 24},
    gps_tags(GPSImgDirection=(350, 1), GPSImgDirectionRef="M"),
)


def test_one_photo_as_a_whole(tmp_path):
    """Everything a JPEG with Exif and XMP says, beside what was put into it."""
    data = jpeg(FULL, DRONE)
    photo = read(tmp_path, data, "shore/a.jpg")
    assert (photo.file, photo.format, photo.width_px, photo.height_px, photo.orientation) == (
        "shore/a.jpg",
        "JPEG",
        60,
        40,
        6,
    )
    assert (photo.sha256, photo.size_bytes) == (hashlib.sha256(data).hexdigest(), len(data))
    assert photo.lonlat == pytest.approx((144 + 25 / 60, -37.951033417), abs=1e-9)
    assert (photo.position_from, photo.camera, photo.focal_35mm) == ("exif", "Invented Shore 5", 24)
    assert (photo.direction_deg, photo.direction_ref) == (350.0, "M")
    assert (photo.yaw_deg, photo.pitch_deg, photo.pose_from) == (-134.2, -30.0, "XMP GimbalYawDegree")
    assert (photo.height_above_takeoff_m, photo.camera_time) == (39.8, datetime(2024, 6, 1, 20, 15, 30))
    assert (photo.caption, photo.problems) == ("Old mill", ())


@pytest.mark.parametrize("make", [jpeg, png, heic], ids=["jpeg", "png", "heic"])
def test_the_same_metadata_in_three_formats(tmp_path, make):
    """JPEG, PNG with its chunks behind the pixels, HEIC: the type is told by content, whatever the name."""
    photo = read(tmp_path, make(exif_block({"Make": b"Invented"}, {}, gps_tags()), DRONE), "wrong.txt")
    assert (photo.camera, photo.position_from, photo.pitch_deg) == ("Invented", "exif", -30.0)
    assert photo.lonlat.lat_deg == pytest.approx(-37.951033417, abs=1e-9)


def test_a_16_bit_tiff_with_a_position(tmp_path):
    """Measuring cameras write 16-bit TIFF with a GPS directory inside; here one is appended to Pillow's file."""
    stream = io.BytesIO()
    Image.new("I;16", (32, 24), 30000).save(stream, "TIFF", tiffinfo={0x0110: "Band 550", 0x8825: 0})
    data = bytearray(stream.getvalue() + bytes(len(stream.getvalue()) % 2))
    block = raw_block([(1, 2, b"N\0"), (2, 5, degrees(45, 30)), (3, 2, b"W\0"), (4, 5, degrees(98, 15))])
    base = len(data)
    # Offsets in the appended directory count from the start of the file.
    for row in (1, 3):
        at = 10 + 12 * row + 8
        block = block[:at] + struct.pack("<L", struct.unpack_from("<L", block, at)[0] + base) + block[at + 4 :]
    pointer = data.index(struct.pack("<HHL", 0x8825, 4, 1))
    struct.pack_into("<L", data, pointer + 8, base + 8)
    photo = read(tmp_path, bytes(data) + block, "band.tif")
    assert (photo.format, photo.width_px, photo.height_px, photo.camera) == ("TIFF", 32, 24, "Band 550")
    assert photo.lonlat == (-98.25, 45.5)


def degrees(whole: int, minutes: int) -> bytes:
    """Return degrees, minutes and no seconds as rationals."""
    return struct.pack("<6L", whole, 1, minutes, 1, 0, 1)


def test_heic_orientation_is_not_applied_twice(tmp_path):
    """The decoder turns a HEIC itself; the size is that of the upright picture and the orientation 1."""
    path = tmp_path / "a.heic"
    exif = Image.Exif()
    exif[0x0112] = 6
    heic()
    picture().save(path, "HEIF", exif=exif.tobytes())
    photo = read_photo(path, "a.heic", 50)
    assert (photo.format, photo.orientation, photo.width_px, photo.height_px) == ("HEIC", 1, 40, 60)


def test_xmp_fills_in_where_exif_is_silent(tmp_path):
    """Position, time, caption and rights of a photo without Exif; the time of second choice is told."""
    packet = xmp(
        'exif:GPSLatitude="37,57.062005S" exif:GPSLongitude="144,25.492073E" '
        'exif:DateTimeOriginal="2024-06-01T20:15:30-05:00" exif:GPSAltitude="699/10" exif:GPSAltitudeRef="0"',
        "<dc:description>From XMP</dc:description><dc:rights>A. Crew</dc:rights>",
    )
    photo = read(tmp_path, jpeg(None, packet))
    assert (photo.position_from, photo.caption, photo.copyright) == ("xmp", "From XMP", "A. Crew")
    assert (photo.camera_time, photo.camera_offset_s) == (datetime(2024, 6, 1, 20, 15, 30), -18000)
    assert (photo.altitude_m, photo.altitude_datum) == (69.9, "unknown")
    assert [problem.code for problem in photo.problems] == ["ambiguous"]


def test_two_positions_that_differ_are_told_and_exif_is_used(tmp_path):
    """0.001° of latitude is 111 m; 0.0004° is 44 m and within the tolerance of 50 m."""
    notes = []
    for offset in (0.001, 0.0004):
        packet = xmp(f'drone:GpsLatitude="{-37.951033417 + offset}" drone:GpsLongitude="{144 + 25 / 60}"')
        photo = read(tmp_path, jpeg(FULL, packet))
        assert photo.position_from == "exif"
        notes.append([(problem.code, problem.message[:50]) for problem in photo.problems])
    assert notes == [[("ambiguous", "a.jpg: EXIF and XMP positions lie 111 m apart. Exp")], []]


def test_bad_metadata_never_loses_a_photo(tmp_path):
    """Everything wrong at once: the photo stays, each field is None, each fault has its note."""
    exif = exif_block(
        {"Orientation": 0},
        {"DateTimeOriginal": b"0000:00:00 00:00:00", "FocalLength": (90_000_000, 1)},
        gps_tags(((0, 1),) * 3, "N", ((0, 1),) * 3, "E", GPSImgDirection=(400, 1), GPSAltitude=(99_000, 1)),
    )
    photo = read(tmp_path, jpeg(exif, b"<not xml"))
    assert (photo.lonlat, photo.camera_time, photo.direction_deg, photo.altitude_m, photo.focal_mm) == (None,) * 5
    assert photo.orientation == 1
    assert len(photo.problems) == 7
    assert {(problem.code, problem.level) for problem in photo.problems} == {("bad_metadata", "note")}


def test_captions_of_the_maker_come_last(tmp_path):
    """A person's words in XMP go before the free text that makers fill with their own."""
    exif = exif_block({}, {"UserComment": b"ASCII\x00\x00\x00AWB:1,ISO:100"})
    assert read(tmp_path, jpeg(exif, DRONE)).caption == "From XMP"
    assert read(tmp_path, jpeg(exif)).caption == "AWB:1,ISO:100"


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "a.jpg: it is an empty file. Expected JPEG, HEIC, PNG, TIFF, WebP or AVIF."),
        (b"notes of the day\n", "it is plain text"),
        (b"%PDF-1.7 ...", "it is a PDF document"),
        (raw_block([(256, 4, b"\x40\0\0\0"), (257, 4, b"\x40\0\0\0"), (50706, 1, b"\1\4\0\0")]), "Develop it to JPEG"),
    ],
)
def test_what_is_no_photo_is_named(tmp_path, data, told):
    """The message says what it is, what is allowed and what to do."""
    problem = read(tmp_path, data)
    assert (problem.code, problem.level) == ("not_an_image", "left_out")
    assert told in problem.message


def test_absurd_sizes_are_refused_before_decoding(tmp_path):
    """A PNG of a hundred bytes that claims 60000 x 60000 pixels, and one of no height."""
    data = png()
    huge = read(tmp_path, data[:16] + (60_000).to_bytes(4) * 2 + data[24:])
    empty = read(tmp_path, data[:16] + (60).to_bytes(4) + bytes(4) + data[24:])
    assert [(p.code, p.level) for p in (huge, empty)] == [("too_large", "left_out")] * 2
    assert "60000 x 60000 pixels. Expected at most 50 megapixels" in huge.message
    assert isinstance(read(tmp_path, data, megapixels=0.0024), PhotoFile)
    assert read(tmp_path, data, megapixels=0.0023).code == "too_large"


def test_a_file_too_large_to_be_a_photo_is_not_read(tmp_path):
    """Its size alone refuses it: 65 MB where 0.1 megapixels are allowed."""
    path = put(tmp_path, "a.jpg", jpeg())
    os.truncate(path, 65_000_000)
    assert "a file of 65 MB" in read_photo(path, "a.jpg", 0.1).message


def test_files_that_cannot_be_opened_are_told(tmp_path):
    """A folder, a name that is not there, and a pipe that would block for ever."""
    os.mkfifo(tmp_path / "pipe.jpg")
    problems = [read_photo(tmp_path / name, name, 50) for name in ("", "gone.jpg", "pipe.jpg")]
    assert [problem.code for problem in problems] == ["unreadable"] * 3


def test_a_head_without_a_picture_is_damaged(tmp_path):
    """A JPEG cut before its size has nothing to show; cut later, its metadata is still read."""
    whole = jpeg(FULL)
    assert read(tmp_path, whole[:300]).code == "damaged"
    assert read(tmp_path, whole[:-200]).camera == "Invented Shore 5"


def test_a_job_is_the_same_read(tmp_path):
    """What a pool of workers calls."""
    path = put(tmp_path, "a.jpg", jpeg(FULL))
    assert read_job(PhotoJob(path, "a.jpg", 50)) == read_photo(path, "a.jpg", 50)


@pytest.mark.parametrize("make", [jpeg, png, heic], ids=["jpeg", "png", "heic"])
def test_flipped_bytes_never_raise(tmp_path, make):
    """Four hundred copies with up to eight header bytes changed, from a fixed seed: always a photo or a problem."""
    whole, draw = make(FULL, DRONE), random.Random(20260601)
    path, kinds = tmp_path / "a.jpg", set()
    for _ in range(400):
        data = bytearray(whole)
        for _ in range(draw.randint(1, 8)):
            data[draw.randrange(min(len(data), 2500))] = draw.randrange(256)
        path.write_bytes(data[: draw.choice([len(data), draw.randrange(len(data))])])
        result = read_photo(path, "a.jpg", 50)
        kinds.add(type(result))
        assert not (isinstance(result, Problem) and "Error" in result.message), result
    assert kinds == {PhotoFile, Problem}


def test_reading_stays_light():
    """A worker must not pay for numpy, shapely or geopandas, nor for Pillow before a file needs it."""
    code = (
        "import sys, atlasgen.read.photos\n"
        "print([name for name in ('numpy', 'shapely', 'geopandas', 'PIL') if name in sys.modules])"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert out.strip() == "[]"


def test_gps_tags_of_the_factory_are_those_of_piexif():
    """The helper's names are the writer's own."""
    assert gps_tags(GPSDateStamp="2024:06:01")[piexif.GPSIFD.GPSDateStamp] == "2024:06:01"
