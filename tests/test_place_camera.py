"""Reference values: WMM2025 and WMM2020 test values (NOAA/NCEI and BGS), Exif 2.2, tables of fields of view."""

from __future__ import annotations

import csv
import math
from collections import Counter
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.model import Correction, LonLat, Measured, PhotoFile
from atlasgen.place.camera import (
    ALTITUDE_SIGMA_M,
    DEFAULT_LONG_FOV_DEG,
    GEOID_SPAN_M,
    HeightSettings,
    attitude_of,
    field_of_view,
    heading_of,
    height_above_water,
    kind_of,
    looks_aerial,
    magnetic_to_true,
)

WMM_VALUES = Path(__file__).parent / "data" / "wmm2025_values.csv"
HERE = LonLat(-30.0, 45.0)
SUMMER = datetime(2026, 6, 1, 12, tzinfo=UTC)


def _photo(width_px: int = 4000, height_px: int = 3000, **facts) -> PhotoFile:
    return PhotoFile("photos/a.jpg", "0" * 64, 1, "JPEG", width_px, height_px, **facts)


def _correction(**facts) -> Correction:
    return Correction("photos/a.jpg", **facts)


# WMM2025 Technical Report, table of test values (first three); the official file of 100 test values (next four);
# WMM2020 test values (last three): year, height km, lat, lon, declination.
DECLINATIONS = [
    (2025, 1, 0, 80, 0, 1.28),
    (2025, 1, 0, 0, 120, -0.16),
    (2025, 1, 0, -80, 240, 68.78),
    (2025, 1, 65, 43, 93, 0.50),
    (2025, 1, 3, -50, -103, 27.96),
    (2027, 7, 96, -46, -85, 17.93),
    (2029, 7, 64, 22, -132, 10.23),
    (2020, 1, 0, 80, 0, -1.28),
    (2020, 1, 0, 0, 120, 0.16),
    (2020, 1, 0, -80, 240, 69.36),
]


@pytest.mark.parametrize(("year", "month", "height_km", "lat_deg", "lon_deg", "declination_deg"), DECLINATIONS)
def test_declination_of_the_official_values(year, month, height_km, lat_deg, lon_deg, declination_deg) -> None:
    """To the rounding of the tables; 2 July is the middle of the year."""
    when = datetime(year, month, 1 if month == 1 else 2, 12, tzinfo=UTC)
    found = magnetic_to_true(0.0, LonLat(lon_deg, lat_deg), height_km * 1000, when)
    assert found.declination_deg == pytest.approx(declination_deg, abs=0.01)
    assert found.heading_deg_true == pytest.approx(declination_deg % 360, abs=0.01)
    assert found.model == ("WMM-2020" if year == 2020 else "WMM-2025")


def test_declination_of_every_official_row() -> None:
    """WMM2025 test values (NOAA/NCEI and BGS): the report's 12 rows, and the 100 that come with the coefficients.

    The publisher rounds to 0.01 degrees, so no row may be off by more than half of that.
    """
    rows = list(csv.DictReader(WMM_VALUES.read_text(encoding="utf-8").splitlines()))
    assert Counter(row["table"] for row in rows) == {"report": 12, "archive": 100}
    for row in rows:
        year, height_km, lat, lon, declination_deg = map(float, list(row.values())[1:])
        begin, end = (datetime(int(year) + years, 1, 1, tzinfo=UTC) for years in (0, 1))
        when = begin + (year - int(year)) * (end - begin)
        found = magnetic_to_true(0.0, LonLat(lon, lat), height_km * 1000, when)
        assert declination_deg == pytest.approx(found.declination_deg, abs=0.005 + 1e-6), row


@given(st.floats(0, 359.99), st.floats(-180, 180), st.floats(-60, 60))
def test_true_is_magnetic_plus_east_declination(heading_deg, lon, lat) -> None:
    """350° with a declination of +15.74° is 5.74° (arithmetic), and so everywhere."""
    found = magnetic_to_true(heading_deg, LonLat(lon, lat), 0.0, SUMMER)
    assert 0 <= found.heading_deg_true < 360
    turned = (found.heading_deg_true - heading_deg - found.declination_deg + 180) % 360 - 180
    assert turned == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    ("when", "model", "words"),
    [
        (datetime(2024, 12, 31, tzinfo=UTC), "WMM-2020", None),
        (datetime(2025, 1, 1, tzinfo=UTC), "WMM-2025", None),
        (datetime(2029, 12, 31, tzinfo=UTC), "WMM-2025", None),
        (datetime(2030, 1, 1, tzinfo=UTC), "WMM-2025", "2030.0 is outside the magnetic model's years"),
        (datetime(2016, 6, 1, tzinfo=UTC), "WMM-2015v2", None),
        (datetime(2010, 1, 1, tzinfo=UTC), "WMM-2010", None),
        (datetime(2009, 12, 31, tzinfo=UTC), "WMM-2010", "Expected 2010 up to 2030; WMM-2010 of 2010.0 is used"),
        (None, "WMM-2025", "the photo's date is unknown"),
    ],
)
def test_each_year_has_its_model(when, model, words) -> None:
    """WMM-2025 is valid from 2025.0 up to 2030.0, half open; outside the models' years it is said."""
    found = magnetic_to_true(10.0, HERE, 0.0, when)
    assert found.model == model
    assert (found.warning is None) if words is None else (words in found.warning)


def test_beyond_its_years_the_model_is_held() -> None:
    """Not drawn out for decades: 1990 and 2009 have the declination of 2010.0."""
    old, start = (magnetic_to_true(0.0, HERE, 0.0, datetime(year, 1, 1, tzinfo=UTC)) for year in (1990, 2010))
    assert old.declination_deg == start.declination_deg


@pytest.mark.parametrize(("at", "weak"), [(LonLat(0, 45), False), (LonLat(-90, 75), True), (LonLat(140, 86), True)])
def test_where_a_compass_cannot_be_trusted(at, weak) -> None:
    """Near the magnetic poles the level field is under 6000 nT (caution zone) or 2000 nT (blackout zone)."""
    warning = magnetic_to_true(0.0, at, 0.0, SUMMER).warning
    assert (warning is not None and "too weak" in warning) == weak


def test_a_magnetic_direction_is_turned_to_true() -> None:
    """WMM2025 at 2025.0, 50° S 103° W, 3 km: 27.96° east."""
    photo = _photo(direction_deg=350.0, direction_ref="M")
    found, problems = heading_of(photo, None, LonLat(-103, -50), 3000.0, datetime(2025, 1, 1, tzinfo=UTC))
    assert found.value == pytest.approx(17.96, abs=0.01)
    assert found.source == "Exif direction, magnetic, turned by +28.0° (WMM-2025)"
    assert problems == ()


def test_a_magnetic_direction_out_of_the_model_s_years_is_told() -> None:
    """Used, with a note on the photo."""
    photo = _photo(direction_deg=350.0, direction_ref="M")
    found, (problem,) = heading_of(photo, None, HERE, 0.0, datetime(2031, 1, 1, tzinfo=UTC))
    assert found is not None
    assert (problem.subject, problem.code, problem.level) == ("photos/a.jpg", "magnetic", "note")
    assert problem.message.startswith("photos/a.jpg: 2031.0 is outside")


@pytest.mark.parametrize(
    ("ref", "source"),
    [("T", "Exif direction, true"), (None, "Exif direction, no reference written, so true by the Exif default")],
)
def test_true_is_the_default_of_exif(ref, source) -> None:
    """Exif 2.2, p. 50: GPSImgDirectionRef is T or M, and T by default."""
    found, problems = heading_of(_photo(direction_deg=360.0, direction_ref=ref), None, HERE, 0.0, SUMMER)
    assert (found.value, found.source, problems) == (0.0, source, ())


def test_the_order_of_headings() -> None:
    """The crew, then Exif, then the gimbal, then none."""
    gimbal = {"yaw_deg": -90.0, "pitch_deg": -30.0, "pose_from": "XMP GimbalYawDegree"}
    everything = _photo(direction_deg=10.0, direction_ref="T", **gimbal)
    said = _correction(heading_deg_true=-45.0)
    assert heading_of(everything, said, HERE, 0.0, SUMMER)[0].value == 315
    assert heading_of(everything, _correction(), HERE, 0.0, SUMMER)[0].value == 10
    found = heading_of(_photo(**gimbal), None, HERE, 0.0, SUMMER)[0]
    assert (found.value, found.source) == (270, "XMP GimbalYawDegree, as its maker wrote it, taken as true")
    assert heading_of(_photo(), None, HERE, 0.0, SUMMER) == (None, ())


@pytest.mark.parametrize(
    ("pitch_deg", "tag", "expected_deg"),
    [
        (-90.0, "XMP GimbalPitchDegree", -90),
        (-90.1, "XMP GimbalYawDegree", -90),
        (0.0, "XMP GimbalYawDegree", 0),
        (12.5, "XMP GimbalYawDegree", 12.5),
        (-35.0, "XMP CameraYawDegree", -35),
        (0.0, "XMP Yaw", -90),
        (5.0, "XMP Yaw", -85),
        (-5.0, "XMP Pitch", -90),
        (90.0, "Camera:Pitch", 0),
        (-60.0, "XMP Yaw", -60),
        (-60.0, "XMP CameraYaw", -60),
        (-60.0, None, -60),
    ],
)
def test_pitch_conventions(pitch_deg, tag, expected_deg) -> None:
    """Tag and range tell whether 0 is level or straight down; common practice, no source."""
    photo = _photo(pitch_deg=pitch_deg, pose_from=tag)
    pitch, _, problems = attitude_of(photo, None, "aerial")
    assert (pitch.value, pitch.assumed, problems) == (expected_deg, False, ())


@pytest.mark.parametrize("tag", ["XMP CameraYaw", None])
def test_a_pitch_that_cannot_be_told_is_not_used(tag) -> None:
    """Level or straight down? Said, and none."""
    pitch, _, (problem,) = attitude_of(_photo(pitch_deg=-10.0, pose_from=tag), None, "aerial")
    assert pitch is None
    assert problem.code == "ambiguous"
    assert "pitch -10°" in problem.message


def test_a_pitch_that_cannot_be_right_is_not_used() -> None:
    """A gimbal that looks over its own head."""
    pitch, _, (problem,) = attitude_of(_photo(pitch_deg=170.0, pose_from="XMP GimbalYawDegree"), None, "aerial")
    assert (pitch, problem.code) == (None, "bad_metadata")


def test_attitude_without_metadata() -> None:
    """A shore photo is assumed level; of an aerial one nothing is known."""
    pitch, roll, problems = attitude_of(_photo(), None, "shore")
    assert (pitch.value, pitch.assumed, roll.value, roll.assumed, problems) == (0, True, 0, True, ())
    assert attitude_of(_photo(), None, "aerial") == (None, None, ())


def test_the_crew_s_pitch_and_the_gimbal_s_roll() -> None:
    """The first wins over the file; the sideways lean of a hanging camera is no roll."""
    photo = _photo(pitch_deg=-30.0, roll_deg=2.0, pose_from="XMP GimbalYawDegree")
    pitch, roll, _ = attitude_of(photo, _correction(pitch_deg=-42.0), "aerial")
    assert (pitch.value, pitch.source, roll.value, roll.assumed) == (-42, "corrections.csv", 2, False)
    assert roll.source == "XMP GimbalRollDegree"
    assert attitude_of(photo, None, "aerial")[0].source == "XMP GimbalPitchDegree, counted from level"
    hanging = _photo(pitch_deg=3.0, roll_deg=4.0, pose_from="XMP Yaw")
    assert attitude_of(hanging, None, "aerial")[1] is None


# Table of fields of view for 36 by 24 mm (50 mm), and 2·atan(d/2f) for the others.
@pytest.mark.parametrize(
    ("focal_35mm", "hfov_deg", "vfov_deg"),
    [(50, 39.60, 26.99), (24, 73.74, 53.13), (28, 65.47, 46.40), (85, 23.91, 16.07)],
)
def test_view_of_a_3_to_2_frame(focal_35mm, hfov_deg, vfov_deg) -> None:
    """Where the shape is that of the film frame there is no doubt what the equivalent means."""
    across, up = field_of_view(_photo(6000, 4000, focal_35mm=focal_35mm), None)
    assert (across.value, up.value) == pytest.approx((hfov_deg, vfov_deg), abs=0.01)
    assert not across.assumed


def test_view_of_a_4_to_3_frame() -> None:
    """Matched on the diagonal, 24 mm is a frame of 34.613 by 25.960 mm: 71.59° by 56.81°, not 73.74° by 53.13°."""
    across, up = field_of_view(_photo(focal_35mm=24), None)
    assert (across.value, up.value) == pytest.approx((71.59, 56.81), abs=0.01)
    assert across.source == "35 mm equivalent 24 mm on the diagonal"


@pytest.mark.parametrize(
    ("orientation", "turned"), [(1, False), (3, False), (5, True), (6, True), (7, True), (8, True)]
)
def test_a_turned_picture_swaps_its_angles(orientation, turned) -> None:
    """Exif 2.2: orientations 5 to 8 exchange width and height."""
    across, up = field_of_view(_photo(focal_35mm=24, orientation=orientation), None)
    expected = (56.81, 71.59) if turned else (71.59, 56.81)
    assert (across.value, up.value) == pytest.approx(expected, abs=0.01)


def test_a_picture_stored_upright_needs_no_turning() -> None:
    """3000 by 4000 pixels: the long side is up."""
    across, up = field_of_view(_photo(3000, 4000, focal_35mm=24), None)
    assert (across.value, up.value) == pytest.approx((56.81, 71.59), abs=0.01)


def test_view_from_the_sensor_s_width() -> None:
    """13.2 by 8.8 mm behind 8.8 mm: the footprint at 120 m is 180 by 120 m."""
    across, up = field_of_view(_photo(5472, 3648, focal_mm=8.8), 13.2)
    sides_m = [2 * 120 * math.tan(math.radians(angle.value / 2)) for angle in (across, up)]
    assert sides_m == pytest.approx([180, 120], abs=1e-9)
    assert (across.assumed, across.source) == (False, "focal length 8.8 mm, sensor 13.2 mm wide")


def test_the_sensor_s_width_is_its_long_side() -> None:
    """A picture stored upright has the short side across."""
    across, up = field_of_view(_photo(3648, 5472, focal_mm=8.8), 13.2)
    assert 2 * math.tan(math.radians(up.value / 2)) == pytest.approx(13.2 / 8.8)
    assert 2 * math.tan(math.radians(across.value / 2)) == pytest.approx(8.8 / 8.8)


@pytest.mark.parametrize("facts", [{}, {"focal_mm": 5.0}, {"focal_35mm": 0.0}, {"focal_mm": 0.0}])
def test_an_unknown_view_is_assumed_and_said(facts) -> None:
    """No focal length, none that the sensor goes with, or Exif's 0 for unknown."""
    across, up = field_of_view(_photo(**facts), None)
    assert across.value == pytest.approx(DEFAULT_LONG_FOV_DEG)
    assert math.tan(math.radians(up.value / 2)) == pytest.approx(0.75 * math.tan(math.radians(33)))
    assert across.assumed
    assert up.assumed
    assert across.source == "assumed: 66° along the long side"


def test_digital_zoom_narrows_the_view() -> None:
    """Twice the zoom, half the frame; below 1 it is a mistake and does nothing."""
    plain, _ = field_of_view(_photo(focal_35mm=24), None)
    zoomed, _ = field_of_view(_photo(focal_35mm=24, digital_zoom=2.0), None)
    assert math.tan(math.radians(zoomed.value / 2)) == pytest.approx(math.tan(math.radians(plain.value / 2)) / 2)
    assert zoomed.source.endswith("digital zoom 2")
    assert field_of_view(_photo(focal_35mm=24, digital_zoom=0.0), None)[0] == plain


def test_a_panorama_is_not_measured_by_its_focal_length() -> None:
    """Three times as wide as high: stitched."""
    across, _ = field_of_view(_photo(9000, 3000, focal_35mm=26), None)
    assert across.assumed
    assert "panorama" in across.source


BARE = HeightSettings(eye_height_m=1.7, aerial_above_m=12.0)
LEVELLED = HeightSettings(1.7, 12.0, elevation_m=250.0, elevation_above="sea level")


def test_the_crew_s_word_on_height() -> None:
    """Wins over all."""
    photo = _photo(height_above_takeoff_m=40.0)
    found, _ = height_above_water(photo, _correction(height_above_water_m=55.0), None, BARE)
    assert (found.value, found.source, found.assumed) == (55, "corrections.csv", False)


def test_height_above_take_off() -> None:
    """Plus the take-off's, which is assumed at water level if nobody said."""
    photo = _photo(height_above_takeoff_m=39.8)
    said, _ = height_above_water(photo, None, None, HeightSettings(1.7, 12.0, takeoff_above_water_m=3.2))
    assert (said.value, said.assumed) == (pytest.approx(43.0), False)
    guessed, _ = height_above_water(photo, None, None, BARE)
    assert (guessed.value, guessed.assumed) == (39.8, True)
    assert "take-off taken as at water level" in guessed.source
    assert guessed.sigma > said.sigma


def test_a_camera_under_water_is_told() -> None:
    """Flown from a cliff nobody spoke of."""
    found, (problem,) = height_above_water(_photo(height_above_takeoff_m=-8.0), None, None, BARE)
    assert (found, problem.code) == (None, "bad_metadata")
    assert "takeoff_above_water_m" in problem.message
    cliff = HeightSettings(1.7, 12.0, takeoff_above_water_m=30.0)
    assert height_above_water(_photo(height_above_takeoff_m=-8.0), None, None, cliff)[0].value == 22


def test_altitude_less_the_water_of_that_day() -> None:
    """291.5 m above sea level over water at 250 m less 1.5 m of drawdown: 43 m."""
    photo = _photo(altitude_m=291.5, altitude_datum="sea level")
    found, problems = height_above_water(photo, None, -1.5, LEVELLED)
    assert (found.value, found.sigma, found.assumed, problems) == (43.0, ALTITUDE_SIGMA_M, False, ())
    assert found.source == "altitude above sea level, less that day's water level"
    unknown_day, _ = height_above_water(photo, None, None, LEVELLED)
    assert (unknown_day.value, unknown_day.assumed) == (41.5, True)
    assert "no water level is known" in unknown_day.source


@pytest.mark.parametrize("datum", ["unknown", "ellipsoid", None])
def test_two_datums_are_never_mixed(datum) -> None:
    """Exif before and since 3.0 means two things by the same mark; the crew's word on the camera decides."""
    photo = _photo(altitude_m=291.5, altitude_datum=datum)
    found, problems = height_above_water(photo, None, 0.0, LEVELLED)
    assert (found.value, found.assumed, problems) == (1.7, True, ())
    stated = HeightSettings(1.7, 12.0, altitude_above="sea level", elevation_m=250.0, elevation_above="sea level")
    assert height_above_water(photo, None, 0.0, stated)[0].value == 41.5


def test_an_elevation_above_nothing_is_no_datum() -> None:
    """Neither the file nor the settings say: two unknowns are not the same thing."""
    settings = HeightSettings(1.7, 12.0, elevation_m=250.0)
    for datum in ("unknown", None, "sea level"):
        found, _ = height_above_water(_photo(altitude_m=260.0, altitude_datum=datum), None, 0.0, settings)
        assert found.assumed


@pytest.mark.parametrize(
    ("facts", "code", "words"),
    [
        ({"altitude_m": 291.5, "altitude_datum": "unknown"}, "ambiguous", "altitude 291.5 m, but not above what"),
        ({"altitude_m": 291.5, "altitude_datum": "ellipsoid"}, "ambiguous", "elevation is above sea level"),
        ({}, "missing", "no height in the file"),
    ],
)
def test_an_aerial_photo_of_unknown_height_is_told(facts, code, words) -> None:
    """With a gimbal's pose no eye height is made up."""
    photo = _photo(pitch_deg=-30.0, pose_from="XMP GimbalYawDegree", **facts)
    found, (problem,) = height_above_water(photo, None, 0.0, LEVELLED)
    assert (found, problem.code) == (None, code)
    assert words in problem.message


def test_an_altitude_under_the_water_is_not_used() -> None:
    """A phone's altitude that is 20 m out: eye height, and assumed."""
    found, problems = height_above_water(_photo(altitude_m=230.0, altitude_datum="sea level"), None, 0.0, LEVELLED)
    assert (found.value, found.assumed, problems) == (1.7, True, ())


def test_an_altitude_that_clears_every_datum_is_aerial() -> None:
    """Sea level and ellipsoid are never farther apart than 110 m, so 123 m over the water is in the air."""
    high = _photo(altitude_m=250 + 12 + GEOID_SPAN_M + 1, altitude_datum="unknown")
    low = _photo(altitude_m=250 + 12 + GEOID_SPAN_M - 1, altitude_datum="unknown")
    assert looks_aerial(high, 0.0, LEVELLED)
    assert not looks_aerial(low, 0.0, LEVELLED)
    assert height_above_water(high, None, 0.0, LEVELLED)[0] is None


@pytest.mark.parametrize(
    ("height", "facts", "kind"),
    [
        (None, {}, "shore"),
        (Measured(1.7, "assumed", 0.5, True), {}, "shore"),
        (Measured(2.0, "takeoff", 2.0), {"height_above_takeoff_m": 2.0}, "aerial"),
        (None, {"pitch_deg": -90.0}, "aerial"),
        (Measured(13.5, "corrections.csv", 1.0), {}, "aerial"),
        (Measured(12.5, "corrections.csv", 1.0), {}, "shore"),
        (Measured(20.0, "altitude", 10.0), {}, "shore"),
        (Measured(23.0, "altitude", 10.0), {}, "aerial"),
        (Measured(12.5, "no uncertainty given"), {}, "aerial"),
    ],
)
def test_aerial_or_shore(height, facts, kind) -> None:
    """By the file's own facts, else by a height that passes 12 m by more than its uncertainty."""
    assert kind_of(height, _photo(**facts), None, BARE) == kind


def test_a_camera_fixed_to_the_boat_has_the_height_the_crew_stated() -> None:
    """It goes before the file's own altitude, and a correction of the photo goes before it."""
    settings = HeightSettings(1.7, 12.0, elevation_m=200.0, elevation_above="sea level", fixed_m=2.1)
    photo = _photo(altitude_m=205.0, altitude_datum="sea level")
    height, problems = height_above_water(photo, None, 0.0, settings)
    assert (height.value, height.assumed, problems) == (2.1, False, ())
    assert height_above_water(photo, _correction(height_above_water_m=3.0), 0.0, settings)[0].value == 3.0
