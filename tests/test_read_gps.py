"""The GPS directory: values of Exif 2.2 (JEITA CP-3451) section 4.6.6 and real dumps, and what cannot be right."""

from __future__ import annotations

import struct
from datetime import UTC, datetime

import piexif
import pytest
from hypothesis import given
from hypothesis import strategies as st
from photo_factory import exif_block, gps_tags, raw_block

from atlasgen.read.gps import GpsFacts, read_gps
from atlasgen.read.metadata import Notes
from atlasgen.read.tiff import GPS_POINTER, read_tags


def read(block: bytes, version: str = "0230") -> tuple[GpsFacts, list[str]]:
    """Return the facts and the messages of a block."""
    notes = Notes("a.jpg")
    facts = read_gps(read_tags(block).gps, version, notes)
    return facts, [problem.message for problem in notes.problems]


def read_tags_of(version: str = "0230", **tags) -> tuple[GpsFacts, list[str]]:
    """Return the facts of a GPS directory with the given tags."""
    return read(exif_block(gps={getattr(piexif.GPSIFD, name): value for name, value in tags.items()}), version)


def test_degrees_minutes_seconds_in_the_south():
    """37°57′03.7203″ S is -37.951033417 (Flinders Peak, GDA Technical Manual; degrees computed)."""
    facts, messages = read(exif_block(gps=gps_tags(lon=((144, 1), (25, 1), (2952440, 100000)))))
    assert facts.lonlat.lat_deg == pytest.approx(-37.951033417, abs=1e-9)
    assert facts.lonlat.lon_deg == pytest.approx(144.424867889, abs=1e-9)
    assert messages == []


def test_minutes_with_a_fraction_and_a_real_camera_dump():
    """Form dd/1,mmmm/100,0/1 of Exif 2.2 page 47; the numbers are a real dump (darktable pull request 941)."""
    facts, _ = read(
        exif_block(
            gps=gps_tags(
                ((47, 1), (547768, 10000), (0, 1)),
                "N",
                ((0, 1), (145588, 10000), (0, 1)),
                "E",
                GPSAltitude=(699, 10),
                GPSAltitudeRef=0,
            )
        )
    )
    assert facts.lonlat.lat_deg == pytest.approx(47.912946667, abs=1e-9)
    assert facts.lonlat.lon_deg == pytest.approx(0.242646667, abs=1e-9)
    assert facts.altitude_m == 69.9


def test_the_place_of_the_xmp_specification():
    """12/1,34/1,56/1 N is 12.582222222° (XMP Specification part 3, section 3.2.3.3; degrees computed)."""
    facts, _ = read(exif_block(gps=gps_tags(((12, 1), (34, 1), (56, 1)), "N")))
    assert facts.lonlat.lat_deg == pytest.approx(12.582222222, abs=1e-9)


def test_seconds_0_0_after_minutes_with_a_fraction_are_not_missing():
    """Some cameras leave the seconds 0/0 where the minutes carry the fraction."""
    facts, messages = read(exif_block(gps=gps_tags(((47, 1), (547768, 10000), (0, 0)), "N")))
    assert facts.lonlat.lat_deg == pytest.approx(47.912946667, abs=1e-9)
    assert messages == []


@pytest.mark.parametrize("zero", [((0, 0),) * 3, ((0, 1),) * 3])
def test_position_0_0_is_a_camera_without_a_fix(zero):
    """Zero degrees and 0/0 rationals in both tags give no position and say why."""
    facts, messages = read(exif_block(gps=gps_tags(zero, "N", zero, "E")))
    assert facts.lonlat is None
    assert messages == [
        "a.jpg: EXIF position 0, 0. Expected a position; a camera without a fix writes 0, 0. "
        "Give its position in corrections.csv."
    ]


def signed(degrees: int) -> bytes:
    """Three signed rationals, as no standard foresees and some programs write."""
    return struct.pack("<6l", degrees, 1, 30, 1, 0, 1)


def block_with_signs(lat: int, lat_ref: bytes | None, lon: int = 100, lon_ref: bytes = b"E\x00") -> bytes:
    """Make a GPS directory with signed degrees."""
    entries = [] if lat_ref is None else [(1, 2, lat_ref)]
    return raw_block([*entries, (2, 10, signed(lat)), (3, 2, lon_ref), (4, 10, signed(lon))], pointer=GPS_POINTER)


def test_a_minus_and_ref_s_are_one_minus():
    """Negative degrees with Ref S are not negated twice, with or without the NUL after the letter."""
    assert [read(block_with_signs(-37, ref))[0].lonlat.lat_deg for ref in (b"S\x00", b"S")] == [-37.5, -37.5]


def test_a_minus_without_a_ref_is_taken_at_its_word():
    """Without a letter the sign is all there is."""
    assert read(block_with_signs(-37, None))[0].lonlat.lat_deg == -37.5


@pytest.mark.parametrize(("lat", "ref", "told"), [(-37, b"N\x00", "with GPSLatitudeRef N"), (37, None, "Ref missing")])
def test_a_hemisphere_that_is_not_told_is_not_guessed(lat, ref, told):
    """A minus with N contradicts itself, and a plus without a letter may be either side of the equator."""
    facts, messages = read(block_with_signs(lat, ref))
    assert facts.lonlat is None
    assert told in messages[0]


@pytest.mark.parametrize(
    ("lat", "told"),
    [
        (((123, 1), (0, 1), (0, 1)), "latitude 123°. Expected -90 to 90; are latitude and longitude swapped?"),
        (((37, 1), (75, 1), (0, 1)), "GPSLatitude 37 75 0. Expected degrees, then minutes and seconds up to 60."),
        (((37, 1), (0, 0), (12, 1)), "GPSLatitude 37 ? 12."),
    ],
)
def test_a_latitude_that_cannot_be_is_left_out_and_told(lat, told):
    """The message names the value and what is allowed."""
    facts, messages = read(exif_block(gps=gps_tags(lat, "N")))
    assert facts.lonlat is None
    assert told in messages[0]


def test_a_position_stored_as_text_is_not_guessed_at():
    """Text with commas for points can be read in more than one way."""
    text = b"52,00000,50,00000,34,01180"
    facts, messages = read(raw_block([(1, 2, b"N"), (2, 2, text), (3, 2, b"E"), (4, 2, text)], pointer=GPS_POINTER))
    assert facts.lonlat is None
    assert "as rationals. Give its position in corrections.csv." in messages[0]


@pytest.mark.parametrize(
    ("ref", "version", "expected"),
    [
        (0, "0230", (12.5, "unknown")),
        (1, "0230", (-12.5, "unknown")),
        (2, "0230", (12.5, "sea level")),
        (3, "0300", (-12.5, "sea level")),
        (0, "0300", (12.5, "ellipsoid")),
        (1, "0300", (-12.5, "ellipsoid")),
    ],
)
def test_the_altitude_reference_before_and_since_exif_3(ref, version, expected):
    """Exif 2.2 page 47 for 0 and 1; 2, 3 and the ellipsoid of Exif 3.0 as ExifTool's tag tables give them."""
    facts, _ = read_tags_of(version, GPSAltitude=(125, 10), GPSAltitudeRef=ref)
    assert (facts.altitude_m, facts.altitude_datum) == expected


def test_an_altitude_that_is_negative_already_is_not_negated_back():
    """A reader before us may have applied the reference already."""
    entries = [(5, 1, b"\x01"), (6, 10, struct.pack("<2l", -125, 10))]
    assert read(raw_block(entries, pointer=GPS_POINTER))[0].altitude_m == -12.5


def test_an_altitude_without_reference_or_out_of_this_world():
    """No reference: the datum is unknown even in an Exif 3.0 file; 99 km: not used, and told."""
    assert read_tags_of("0300", GPSAltitude=(5, 1))[0].altitude_datum == "unknown"
    facts, messages = read_tags_of(GPSAltitude=(99000, 1), GPSAltitudeRef=0)
    assert (facts.altitude_m, facts.altitude_datum) == (None, None)
    assert messages == ["a.jpg: GPSAltitude, m: 99000. Expected -500 to 15000; the value was not used."]


@pytest.mark.parametrize(
    ("tags", "expected"),
    [
        ({"GPSImgDirection": (35999, 100), "GPSImgDirectionRef": "T"}, (359.99, "T")),
        ({"GPSImgDirection": (90, 1), "GPSImgDirectionRef": "M"}, (90.0, "M")),
        ({"GPSImgDirection": (90, 1)}, (90.0, None)),
        ({"GPSImgDirection": (360, 1), "GPSImgDirectionRef": "T"}, (0.0, "T")),
        ({"GPSImgDirection": (0, 0), "GPSImgDirectionRef": "T"}, (None, None)),
        ({"GPSImgDirection": (361, 1), "GPSImgDirectionRef": "T"}, (None, None)),
        ({"GPSImgDirection": (90, 1), "GPSImgDirectionRef": "Q"}, (None, None)),
    ],
)
def test_directions(tags, expected):
    """0 to 359.99, true or magnetic (Exif 2.2 page 50); the reference stays None where it is absent."""
    facts, messages = read_tags_of(**tags)
    assert (facts.direction_deg, facts.direction_ref) == expected
    assert len(messages) == (expected[0] is None and tags["GPSImgDirection"] != (0, 0))


def test_gps_time_is_utc():
    """Date and time stamps together are an aware time (Exif 2.2, tags 7 and 29)."""
    facts, _ = read_tags_of(GPSDateStamp="2014:10:19", GPSTimeStamp=((18, 1), (21, 1), (4579, 100)))
    assert facts.gps_time == datetime(2014, 10, 19, 18, 21, 45, 790000, tzinfo=UTC)


def test_sixty_seconds_run_over_into_the_next_day():
    """59.999 s rounded to 60 at the end of a year."""
    facts, messages = read_tags_of(GPSDateStamp="2025:12:31", GPSTimeStamp=((23, 1), (59, 1), (60, 1)))
    assert facts.gps_time == datetime(2026, 1, 1, tzinfo=UTC)
    assert messages == []


@pytest.mark.parametrize(
    ("tags", "told"),
    [
        ({"GPSTimeStamp": ((18, 1), (21, 1), (45, 1))}, "GPSTimeStamp without GPSDateStamp"),
        ({"GPSDateStamp": "2014:13:19", "GPSTimeStamp": ((18, 1), (21, 1), (45, 1))}, "GPS time 2014:13:19 18:21:45"),
        ({"GPSDateStamp": "1980:01:06", "GPSTimeStamp": ((0, 1), (0, 1), (12, 1))}, "GPS time 1980:01:06 0:0:12"),
        ({"GPSDateStamp": "2014:10:19", "GPSTimeStamp": ((104, 1), (1, 1), (1, 1))}, "GPS time 2014:10:19 104:1:1"),
    ],
)
def test_gps_times_that_cannot_be(tags, told):
    """No time, and a note that names the value; 1980-01-06 is the first day of GPS time."""
    facts, messages = read_tags_of(**tags)
    assert facts.gps_time is None
    assert told in messages[0]


def test_the_receivers_own_error():
    """GPSHPositioningError in metres; 0 stands for unknown."""
    errors = [read_tags_of(GPSHPositioningError=value)[0].position_error_m for value in [(47, 10), (0, 1), (0, 0)]]
    assert errors == [4.7, None, None]


def test_doubts_about_a_position_are_told_and_the_position_kept():
    """A receiver that was not measuring, and a datum that is not WGS 84."""
    facts, messages = read(exif_block(gps=gps_tags(GPSStatus="V", GPSMapDatum="TOKYO")))
    assert facts.lonlat is not None
    assert ["GPSStatus V" in messages[0], "GPSMapDatum TOKYO" in messages[1]] == [True, True]


@pytest.mark.parametrize("datum", ["WGS-84", "WGS84", "WGS-84   ", ""])
def test_usual_spellings_of_wgs_84_are_no_doubt(datum):
    """As real cameras write it."""
    assert read(exif_block(gps=gps_tags(GPSMapDatum=datum)))[1] == []


@given(
    st.integers(-89_999_999, 89_999_999).filter(bool),
    st.integers(-179_999_999, 179_999_999).filter(bool),
    st.sampled_from(["d", "dm", "dms"]),
)
def test_a_position_comes_back_as_it_was_written(lat_micro, lon_micro, form):
    """Degrees written as rationals by piexif, in all three forms, come back to within a millimetre."""
    parts = {
        "d": lambda micro: ((micro, 10**6), (0, 1), (0, 1)),
        "dm": lambda micro: ((micro // 10**6, 1), (micro % 10**6 * 60, 10**6), (0, 1)),
        "dms": lambda micro: (
            (micro // 10**6, 1),
            (micro % 10**6 * 60 // 10**6, 1),
            (micro % 10**6 * 60 % 10**6 * 60, 10**6),
        ),
    }[form]
    gps = gps_tags(
        parts(abs(lat_micro)), "S" if lat_micro < 0 else "N", parts(abs(lon_micro)), "W" if lon_micro < 0 else "E"
    )
    facts, messages = read(exif_block(gps=gps))
    assert facts.lonlat == pytest.approx((lon_micro / 1e6, lat_micro / 1e6), abs=1e-8)
    assert messages == []
