"""Courses of tracks drawn by hand, their bearings against GeographicLib."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.model import Correction, LonLat, PhotoFile, Track
from atlasgen.place.camera import heading_of
from atlasgen.place.course import BOW_SIGMA_DEG, FIX_NOISE_M, Mount, mounted_heading

NOON = datetime(2026, 6, 1, 12, tzinfo=UTC)
HERE = LonLat(-30.0, 45.0)


def track(course_deg, speed_mps: float = 2.0, every_s: float = 1.0, seconds: float = 120.0) -> Track:
    """Go from `HERE` at noon less a minute; `course_deg` is a number or a function of the seconds since the start."""
    places, at, time_s = [HERE], HERE, 0.0
    while time_s < seconds:
        turn = course_deg(time_s) if callable(course_deg) else course_deg
        found = Geodesic.WGS84.Direct(at.lat_deg, at.lon_deg, turn, speed_mps * every_s)
        at = LonLat(found["lon2"], found["lat2"])
        places.append(at)
        time_s += every_s
    times = NOON.timestamp() - 60 + every_s * np.arange(len(places))
    lon, lat = np.array(places).T
    return Track(times, lon, lat, np.zeros(len(places), int))


def heading(way: Track | None, looks_deg: float = 0.0, seconds: float = 0.0, at: LonLat | None = None, **facts):
    mount = Mount(looks_deg, way, facts.get("gap_s", 60.0), facts.get("time_sigma_s", 1.0))
    moment = NOON + timedelta(seconds=seconds)
    if at is None and way is not None:
        at = LonLat(*(float(np.interp(moment.timestamp(), way.time_s, c)) for c in (way.lon_deg, way.lat_deg)))
    return mounted_heading(mount, at or HERE, moment)


def off(one_deg: float, other_deg: float) -> float:
    return abs((one_deg - other_deg + 180) % 360 - 180)


def test_a_straight_track():
    """East at 2 m/s, the camera over the starboard side: south, and the words say how."""
    found, why_not = heading(track(90.0), 90.0)
    assert why_not == ""
    assert off(found.value, 180) < 0.01
    assert found.source == (
        "course of the track at that moment (90°, 2.0 m/s), the camera fixed 90° to the right of the bow"
    )
    assert not found.assumed
    # Over 20 m of way the fixes' noise is atan(1.5 * sqrt 2 / 20), and the bow strays.
    noise_deg = math.degrees(math.atan2(FIX_NOISE_M * math.sqrt(2), 20))
    assert found.sigma == pytest.approx(math.hypot(noise_deg, BOW_SIGMA_DEG), abs=0.05)


@pytest.mark.parametrize(
    ("looks_deg", "words"),
    [(0, "looking over the bow"), (-90, "90° to the left of the bow"), (270, "90° to the left of the bow")],
)
def test_sides_in_words(looks_deg, words):
    """Right of the bow is starboard; more than half a turn is said from the other side."""
    assert heading(track(0.0), looks_deg)[0].source.endswith(words)


@given(st.floats(0, 360), st.floats(-180, 360))
def test_any_course_and_any_side(course_deg, looks_deg):
    """Course plus the angle from the bow, from 0 up to 360."""
    found, _ = heading(track(course_deg, every_s=5.0), looks_deg)
    assert 0 <= found.value < 360
    assert off(found.value, course_deg + looks_deg) < 0.01


def test_courses_that_swing_over_north_have_north_for_their_mean():
    """From 350 to 10 degrees in the window: 0, not 180."""
    found, _ = heading(track(lambda s: 350.0 if s < 60 else 10.0))
    assert off(found.value, 0) < 0.01


def test_a_turn_is_less_sure_and_the_less_so_the_worse_the_clock():
    """Six degrees a second: the course of the moment, and as many more degrees of doubt as the time's seconds."""
    way = track(lambda s: 6.0 * s)
    sure, _ = heading(way, time_sigma_s=0.0)
    doubtful, _ = heading(way, time_sigma_s=3.0)
    # At the 60th second the boat goes about 6 x 60 degrees, less half a step of the drawing.
    assert off(sure.value, 357) < 1
    assert doubtful.sigma == pytest.approx(math.hypot(sure.sigma, 18), abs=1)


def test_standing_still_is_refused():
    """A boat that drifts at 0.2 m/s makes 2 m in the window; one at 0.6 m/s makes 6."""
    found, why_not = heading(track(0.0, speed_mps=0.2))
    assert (found, why_not) == (None, "the boat made 2.0 m in 10 s, so it was nearly standing still")
    assert heading(track(0.0, speed_mps=0.6))[0].sigma > 15


def test_the_slower_the_less_sure():
    """The same noise over less way."""
    sigmas = [heading(track(0.0, speed_mps=speed))[0].sigma for speed in (0.6, 1.0, 2.0, 5.0)]
    assert sigmas == sorted(sigmas, reverse=True)


@pytest.mark.parametrize(
    ("seconds", "why"), [(-61, "the track does not cover its time"), (61, "the track does not cover its time")]
)
def test_outside_the_track_is_refused(seconds, why):
    """Never past its ends; at the very end the window is half as long."""
    assert heading(track(0.0), seconds=seconds, at=HERE) == (None, why)
    assert off(heading(track(0.0), seconds=60)[0].value, 0) < 0.01


def test_gaps_and_pieces_are_not_bridged():
    """Fixes 20 s apart where 15 are allowed, and between two pieces of track; wide steps that are allowed add doubt."""
    sparse = track(0.0, every_s=20.0)
    assert heading(sparse, seconds=5, gap_s=15.0)[1] == "its time falls in a gap of the track longer than 15 s"
    assert heading(sparse, seconds=5)[0].sigma > 14
    apart = Track(sparse.time_s, sparse.lon_deg, sparse.lat_deg, np.arange(len(sparse.time_s)))
    assert heading(apart, seconds=5)[1] == "the track does not cover its time"


def test_the_window_ends_at_a_gap():
    """Two seconds after a pause of five minutes: the course after it, not the way across it."""
    east, north = track(90.0), track(0.0)
    joined = Track(
        np.concatenate([east.time_s, north.time_s + 420]),
        np.concatenate([east.lon_deg, north.lon_deg]),
        np.concatenate([east.lat_deg, north.lat_deg]),
        np.zeros(2 * len(east.time_s), int),
    )
    found, _ = heading(joined, seconds=360 + 2)
    assert off(found.value, 0) < 0.01


def test_without_track_or_time_or_away_from_the_boat():
    """Each reason is said."""
    assert heading(None) == (None, "no track supplied")
    assert mounted_heading(Mount(0, track(0.0), 60, 1), HERE, None) == (None, "without a time the track cannot tell it")
    assert heading(track(0.0), at=LonLat(-30.0, 45.01))[1].startswith("the photo's own position is 99")


def test_order_and_problem_of_a_fixed_camera():
    """The crew's word, Exif and gimbal come first; a refusal names the photo, the reason and the next step."""
    way = track(90.0)
    mount, at = Mount(90.0, way, 60.0, 1.0), LonLat(float(way.lon_deg[60]), float(way.lat_deg[60]))
    plain = PhotoFile("photos/a.jpg", "0" * 64, 1, "JPEG", 4000, 3000)
    exif = PhotoFile("photos/a.jpg", "0" * 64, 1, "JPEG", 4000, 3000, direction_deg=10.0, direction_ref="T")
    said = Correction("photos/a.jpg", heading_deg_true=20.0)
    assert heading_of(exif, said, at, 2.0, NOON, mount)[0].value == 20
    assert heading_of(exif, None, at, 2.0, NOON, mount)[0].value == 10
    assert off(heading_of(plain, None, at, 2.0, NOON, mount)[0].value, 180) < 0.01
    found, (problem,) = heading_of(plain, None, at, 2.0, NOON + timedelta(hours=1), mount)
    assert found is None
    assert (problem.subject, problem.code, problem.level) == ("photos/a.jpg", "no_heading", "note")
    assert "no direction from the track: the track does not cover its time" in problem.message
    assert "corrections.csv" in problem.message
