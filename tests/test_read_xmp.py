"""The XMP packet: coordinates of the XMP specification, poses by local name, packets built to do harm."""

from __future__ import annotations

from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from photo_factory import XMP_FOOT, XMP_HEAD, xmp

from atlasgen.read.metadata import Notes
from atlasgen.read.xmp import XmpFacts, coordinate, number_of, properties, read_xmp


def read(packet: bytes | None) -> tuple[XmpFacts, list[str]]:
    """Return the facts and the messages of a packet."""
    notes = Notes("a.jpg")
    facts = read_xmp(packet, notes)
    return facts, [problem.message for problem in notes.problems]


@pytest.mark.parametrize(
    ("text", "letters", "degrees"),
    [
        ("12,34,56N", "NS", 12.582222222),  # XMP Specification part 3, section 3.2.3.3
        ("12,34.946N", "NS", 12.582433333),  # its second example; read back as minutes
        ("12,34.94648333N", "NS", 12.582441389),  # the same place with all its digits
        ("37,57.062005S", "NS", -37.951033417),  # Flinders Peak, GDA Technical Manual
        ("144,25.492073E", "EW", 144.424867883),
        ("+46.123456", "NS", 46.123456),
        ("-98.5", "EW", -98.5),
    ],
)
def test_coordinates(text, letters, degrees):
    """`DDD,MM,SSk` and `DDD,MM.mmk` of the XMP Specification (2005) page 85, and decimal degrees."""
    assert coordinate(text, letters) == pytest.approx(degrees, abs=1e-9)


@pytest.mark.parametrize("text", ["12,34,56E", "12,75.0N", "55/1 54/1 4074/100", "55/1", "north", "", "12;34;56N"])
def test_coordinates_that_are_none(text):
    """A letter of the other axis, minutes over 60, rationals without a letter: not guessed at."""
    assert coordinate(text, "NS") is None


@given(st.integers(0, 89), st.integers(0, 59_999_999), st.sampled_from("NS"))
def test_a_coordinate_comes_back_as_it_was_written(degrees, micro_minutes, letter):
    """Degrees and minutes to six decimals, written as the specification says."""
    expected = (degrees + micro_minutes / 6e7) * (-1 if letter == "S" else 1)
    assert coordinate(f"{degrees},{micro_minutes / 1e6:.6f}{letter}", "NS") == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "number"),
    [("+39.80", 39.8), ("699/10", 69.9), ("-0.5", -0.5), ("1e2", 100.0), ("7/0", None), ("9" * 5000, None), ("", None)],
)
def test_numbers(text, number):
    """Signed decimals and rationals; n/0 and a number of 5000 digits are none."""
    assert number_of(text) == number


def test_the_gimbal_is_the_camera_and_the_aircraft_is_not():
    """Attributes in an unknown maker's namespace: gimbal angles are kept untouched, flight angles never used."""
    facts, messages = read(
        xmp(
            'drone:GimbalYawDegree="-134.20" drone:GimbalPitchDegree="-89.90" drone:GimbalRollDegree="+0.00" '
            'drone:FlightYawDegree="+46.00" drone:RelativeAltitude="+39.80"'
        )
    )
    assert (facts.yaw_deg, facts.pitch_deg, facts.roll_deg) == (-134.2, -89.9, 0.0)
    assert (facts.pose_from, facts.height_above_takeoff_m) == ("XMP GimbalYawDegree", 39.8)
    assert messages == []


def test_flight_angles_alone_are_no_pose():
    """Neither the aircraft's attitude nor plain angles outside a camera namespace are the camera's."""
    facts, _ = read(xmp('drone:FlightYawDegree="+46.00" drone:FlightPitchDegree="1.8" drone:Yaw="46" drone:Pitch="2"'))
    assert (facts.yaw_deg, facts.pitch_deg, facts.pose_from) == (None, None, None)


def test_plain_angles_in_a_camera_namespace_as_elements():
    """Another dialect: elements, plain names, a namespace for cameras; the tag's name tells the two apart."""
    facts, _ = read(
        xmp(elements="<cam:Yaw>326.721</cam:Yaw><cam:Pitch>2.28039</cam:Pitch><cam:Roll>-2.08752</cam:Roll>")
    )
    assert (facts.yaw_deg, facts.pitch_deg, facts.roll_deg, facts.pose_from) == (326.721, 2.28039, -2.08752, "XMP Yaw")


def test_a_pose_is_never_mixed_from_two_ways_of_naming():
    """A gimbal pitch alone goes without the camera's yaw of another dialect."""
    facts, _ = read(xmp('drone:GimbalPitchDegree="-30" drone:CameraYaw="12"'))
    assert (facts.yaw_deg, facts.pitch_deg, facts.pose_from) == (None, -30.0, "XMP GimbalPitchDegree")


@pytest.mark.parametrize("name", ["CameraYaw", "CameraYawDegree"])
def test_camera_yaw_in_any_namespace(name):
    """Both spellings of the second dialect."""
    assert read(xmp(f'drone:{name}="12.5"'))[0].pose_from == f"XMP {name}"


def test_an_impossible_pitch_is_told():
    """500° is not an angle of a gimbal."""
    facts, messages = read(xmp('drone:GimbalYawDegree="10" drone:GimbalPitchDegree="500"'))
    assert (facts.yaw_deg, facts.pitch_deg) == (10.0, None)
    assert "XMP GimbalPitchDegree, degrees: 500. Expected -180 to 180" in messages[0]


@pytest.mark.parametrize(
    "attributes",
    [
        'exif:GPSLatitude="37,57.062005S" exif:GPSLongitude="144,25.492073E"',
        'drone:GpsLatitude="-37.951033417" drone:GpsLongitude="+144.424867883"',
        'drone:GpsLatitude="-37.951033417" drone:GpsLongtitude="+144.424867883"',
    ],
)
def test_positions(attributes):
    """The standard's form, decimal degrees of a drone, and the spelling of one family of drones."""
    assert read(xmp(attributes))[0].lonlat == pytest.approx((144.424867883, -37.951033417), abs=1e-9)


def test_positions_that_cannot_be_are_told():
    """0, 0 is no fix; rationals without a letter could be either side of the equator."""
    facts, zero = read(xmp('drone:GpsLatitude="0.0" drone:GpsLongitude="0.0"'))
    other, rational = read(xmp('exif:GPSLatitude="55/1 54/1 4074/100" exif:GPSLongitude="36/1 57/1 4852/100"'))
    assert (facts.lonlat, other.lonlat) == (None, None)
    assert "XMP position 0, 0" in zero[0]
    assert "XMP GPSLatitude 55/1 54/1 4074/100" in rational[0]


def test_altitude_and_direction_of_the_exif_schema():
    """Rationals, the reference 1 for below, the letter of the direction."""
    facts, _ = read(
        xmp(
            'exif:GPSAltitude="699/10" exif:GPSAltitudeRef="1" exif:GPSImgDirection="35000/100" '
            'exif:GPSImgDirectionRef="M"'
        )
    )
    assert (facts.altitude_m, facts.direction_deg, facts.direction_ref) == (-69.9, 350.0, "M")


def test_words_in_the_default_language():
    """Language alternatives: the default counts, wherever it stands."""
    alternatives = '<rdf:Alt><rdf:li xml:lang="de">Mühle</rdf:li><rdf:li xml:lang="x-default">Mill</rdf:li></rdf:Alt>'
    facts, _ = read(
        xmp(
            elements=f"<dc:description>{alternatives}</dc:description>"
            "<dc:title><rdf:Alt><rdf:li>Plain</rdf:li></rdf:Alt></dc:title><dc:rights>© A. Crew</dc:rights>"
        )
    )
    assert (facts.caption, facts.title, facts.rights) == ("Mill", "Plain", "© A. Crew")


@pytest.mark.parametrize(
    ("attributes", "expected"),
    [
        (
            'exif:DateTimeOriginal="2024-06-01T20:15:30-05:00"',
            (datetime(2024, 6, 1, 20, 15, 30), -18000, "XMP DateTimeOriginal"),
        ),
        ('photoshop:DateCreated="2024-06-01T00:00:00"', (None, None, None)),
        ('photoshop:DateCreated="2024-06-01"', (None, None, None)),
    ],
)
def test_times(attributes, expected):
    """With its offset; a date alone, or written as midnight, is no time."""
    facts, messages = read(xmp(attributes))
    assert (facts.taken, facts.offset_s, facts.time_from) == expected
    assert messages == []


BOMB = (
    b'<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;">]>'
    b"<x:xmpmeta xmlns:x='adobe:ns:meta/'>&c;</x:xmpmeta>"
)


@pytest.mark.parametrize(
    "packet",
    [BOMB, b'<!DOCTYPE x SYSTEM "file:///etc/passwd"><x/>', b"<x:xmpmeta", b"no xml", xmp()[:-20], b"<a b='\xff'/>"],
)
def test_packets_that_do_harm_or_are_broken_are_told(packet):
    """Entities, document types and broken XML are refused, and the photo goes on."""
    facts, messages = read(packet)
    assert facts == XmpFacts()
    assert messages[0].startswith("a.jpg: the XMP packet was not used (")


@pytest.mark.parametrize("packet", [None, b"", b"\x00 \n", xmp()])
def test_no_packet_or_an_empty_one_says_nothing(packet):
    """A photo without XMP is no fault."""
    assert read(packet) == (XmpFacts(), [])


def test_padding_wrappers_and_utf_16_are_tolerated():
    """A packet wrapper, NULs behind it, and two-byte text with its mark."""
    inner = f'{XMP_HEAD} drone:CameraYaw="7">{XMP_FOOT}'
    wrapped = f'<?xpacket begin="\ufeff" id="x"?>{inner}<?xpacket end="w"?>'.encode() + b" \n\x00\x00"
    packets = (wrapped, inner.encode("utf-16"))
    assert [read(packet)[0].yaw_deg for packet in packets] == [7.0, 7.0]


@given(st.binary(max_size=200))
def test_noise_never_breaks_the_reader(noise):
    """Whatever the bytes, the answer is facts and notes."""
    assert isinstance(read(noise)[0], XmpFacts)


def test_properties_are_listed_in_order_and_structures_passed_over():
    """Attributes first, then elements; a structure inside has no text of its own."""
    found = properties(xmp('drone:A="1"', "<drone:B> 2 </drone:B><drone:C><rdf:Description drone:D='3'/></drone:C>"))
    assert [(p.name, p.text) for p in found] == [("A", "1"), ("B", "2"), ("C", "")]
