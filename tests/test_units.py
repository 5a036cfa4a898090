"""Units and rounding."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from atlasgen import units


def test_units_have_their_published_sizes():
    """International foot, mile and acre: NIST Handbook 44 (2024), Appendix C; knot and fathom by definition."""
    assert (0.3048, 1609.344, pytest.approx(4046.8564224, abs=1e-9)) == (units.FOOT_M, units.MILE_M, units.ACRE_M2)
    assert pytest.approx(0.514444, abs=1e-6) == units.KNOT_MPS
    assert pytest.approx(1.8288) == units.FATHOM_M
    # 400 ft, the height often quoted for drones (14 CFR 107.51), is 121.92 m.
    assert pytest.approx(121.92) == 400 * units.FOOT_M


@pytest.mark.parametrize(
    ("depth_m", "unit", "words"),
    [
        (3.6576, "feet", "12 ft"),
        (3.9, "feet", "12 ft"),
        (3.99, "metres", "3.9 m"),
        (0.3, "metres", "0.3 m"),
        (-0.1, "feet", "dry"),
        (0.0, "feet", "0 ft"),
    ],
)
def test_depths_round_toward_shallower(depth_m, unit, words):
    """A printed depth is never deeper than the water (shoal safety, common practice, no source)."""
    assert units.depth_words(depth_m, unit) == words


@given(st.floats(-20, 400), st.sampled_from(["feet", "metres"]))
def test_printed_depth_is_never_deeper_and_never_a_step_off(depth_m, unit):
    """Rounding loses less than one step and always to the safe side."""
    step = 1.0 if unit == "feet" else 0.1
    lost = depth_m / units.DEPTH_UNIT_M[unit] - units.depth_number(depth_m, unit)
    assert -1e-6 <= lost < step + 1e-6


@pytest.mark.parametrize(
    ("stage_m", "words"),
    [(-0.43, "1.4 ft below full"), (0.0, "at full"), (0.005, "at full"), (0.61, "2.0 ft above full")],
)
def test_level_in_words(stage_m, words):
    """A stage is told against full."""
    assert units.level_words(stage_m, "feet") == words


@pytest.mark.parametrize(
    ("distance_m", "unit", "words"),
    [
        (4.4, "metric", "4 m"),
        (213, "metric", "210 m"),
        (996, "metric", "1.0 km"),
        (3420, "metric", "3.4 km"),
        (100, "imperial", "330 ft"),
        (1609.344, "imperial", "1.0 mi"),
    ],
)
def test_distance_in_words(distance_m, unit, words):
    """Two figures are enough for a distance one reads."""
    assert units.distance_words(distance_m, unit) == words


@pytest.mark.parametrize(
    ("bearing_deg", "points", "words"),
    [(68, 16, "east-north-east"), (359.9, 16, "north"), (44, 8, "north-east"), (224, 4, "south"), (-90, 4, "west")],
)
def test_compass_points(bearing_deg, points, words):
    """The nearest point of the compass, whatever the turn."""
    assert units.compass_words(bearing_deg, points) == words


@pytest.mark.parametrize(
    ("share", "words"), [(0, "0 %"), (0.004, "under 1 %"), (0.5, "50 %"), (0.996, "over 99 %"), (1, "100 %")]
)
def test_percent_never_says_all_or_nothing_unless_it_is(share, words):
    """0 and 100 are kept for none and all."""
    assert units.percent_words(share) == words


def test_heights_and_areas():
    """Tenths below ten, whole numbers above."""
    assert units.height_words(1.7, "metric") == "1.7 m"
    assert units.height_words(84.4, "metric") == "84 m"
    assert units.height_words(84.4, "imperial") == "277 ft"
    assert units.area_words(1_234_500, "metric") == "123 ha"
    assert units.area_words(40468.564224, "imperial") == "10.0 acres"


@pytest.mark.parametrize(("zone", "hour"), [("UTC", 20), ("UTC+05:30", 2), ("UTC-3", 17), ("Etc/GMT-5", 1)])
def test_zones_as_survey_toml_writes_them(zone, hour):
    """Etc/GMT-5 lies east of Greenwich (POSIX sign, tz database)."""
    late = datetime(2026, 3, 4, 20, 30, tzinfo=UTC)
    assert units.local_time(late, units.zone_offset(zone)).hour == hour
    assert units.date_words(late) == "4 March 2026"


def test_lengths_that_were_set_are_told_as_set_or_in_feet():
    """25 m is 82.0 ft; half a metre keeps its three figures."""
    assert [units.set_words(m, "metric") for m in (25.0, 1.5)] == ["25 m", "1.5 m"]
    assert [units.set_words(m, "imperial") for m in (25.0, 0.5)] == ["82 ft", "1.64 ft"]
