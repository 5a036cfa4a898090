from __future__ import annotations

import math
import tomllib
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.model import Correction, LonLat, PhotoFile, Track
from atlasgen.place.position import (
    CLOCK_SIGMA_S,
    CORRECTION_SIGMA_M,
    FIX_SIGMA_M,
    ClockSetting,
    TimeFix,
    clock_report,
    place_in_time,
    position_of,
)

NOON = datetime(2026, 6, 1, 12, 0, 0)
NOON_UTC = NOON.replace(tzinfo=UTC)
FIVE_WEST = timedelta(hours=-5)
DUBLIN = ZoneInfo("Europe/Dublin")


def _photo(**facts) -> PhotoFile:
    return PhotoFile("photos/a.jpg", "0" * 64, 1, "JPEG", 4000, 3000, **facts)


def _time(photo: PhotoFile, fast_s: float = 0, zone=None, correction: Correction | None = None) -> TimeFix:
    return place_in_time(
        photo, clock_fast_s=fast_s, zone=zone, survey_zone=timedelta(), tolerance_s=30, correction=correction
    )


def test_an_offset_of_its_own_wins_over_every_zone() -> None:
    """Exif's OffsetTimeOriginal: 2024-06-01 20:15:30 at -05:00 is 01:15:30 UTC on the next day (arithmetic)."""
    photo = _photo(camera_time=datetime(2024, 6, 1, 20, 15, 30), camera_offset_s=-5 * 3600)
    fix = _time(photo, zone=timedelta(hours=9))
    assert fix.taken == datetime(2024, 6, 2, 1, 15, 30, tzinfo=UTC)
    assert fix.how == "camera clock with its own offset, UTC-05:00"
    assert fix.problems == ()


def test_gps_time_wins_over_the_camera_s_clock() -> None:
    """It is UTC; a clock within the tolerance is not mentioned."""
    fix = _time(_photo(gps_time=NOON_UTC, camera_time=NOON + timedelta(seconds=12)))
    assert (fix.taken, fix.how, fix.problems) == (NOON_UTC, "GPS time", ())


def test_a_clock_that_disagrees_is_in_the_words() -> None:
    """Beyond the tolerance the difference is said; the zone it was read in too."""
    fix = _time(_photo(gps_time=NOON_UTC, camera_time=NOON - timedelta(minutes=4)))
    assert fix.taken == NOON_UTC
    assert fix.how == (
        "GPS time; the camera clock taken to be in the survey's zone, UTC+00:00, is 4 min behind GPS time"
    )


def test_the_camera_s_zone_then_the_survey_s() -> None:
    """The words say which was taken, and that the survey's is an assumption."""
    photo = _photo(camera_time=NOON)
    own = _time(photo, zone=FIVE_WEST)
    assert (own.taken, own.how) == (NOON_UTC + timedelta(hours=5), "camera clock in the zone set for it, UTC-05:00")
    assumed = _time(photo)
    assert assumed.taken == NOON_UTC
    assert assumed.how == "camera clock taken to be in the survey's zone, UTC+00:00"


def test_a_fast_clock_is_set_back() -> None:
    """Seconds it is fast are taken off before the zone is applied."""
    fix = _time(_photo(camera_time=NOON), fast_s=90, zone=ZoneInfo("Etc/GMT-5"))
    assert fix.taken == datetime(2026, 6, 1, 6, 58, 30, tzinfo=UTC)
    assert fix.how.endswith("Etc/GMT-5, less 90 s that it is fast")


def test_the_crew_s_word_on_time() -> None:
    """Wins over GPS time."""
    said = datetime(2026, 6, 1, 9, 0, tzinfo=UTC)
    fix = _time(_photo(gps_time=NOON_UTC), correction=Correction("photos/a.jpg", taken=said))
    assert (fix.taken, fix.how) == (said, "corrections.csv")


def test_summer_time() -> None:
    """Europe/Dublin is UTC+1 in June and UTC+0 in December (IANA time zone database)."""
    assert _time(_photo(camera_time=NOON), zone=DUBLIN).taken == NOON_UTC - timedelta(hours=1)
    assert _time(_photo(camera_time=NOON.replace(month=12)), zone=DUBLIN).taken == NOON_UTC.replace(month=12)


@pytest.mark.parametrize(
    ("local", "words", "taken"),
    [
        (datetime(2026, 10, 25, 1, 30), "came twice", datetime(2026, 10, 25, 0, 30, tzinfo=UTC)),
        (datetime(2026, 3, 29, 1, 30), "never came", datetime(2026, 3, 29, 1, 30, tzinfo=UTC)),
    ],
)
def test_hours_that_come_twice_or_never(local, words, taken) -> None:
    """Clocks change in Dublin on the last Sundays of March and October at 01:00 UTC."""
    fix = _time(_photo(camera_time=local), zone=DUBLIN)
    assert fix.taken == taken
    assert [problem.code for problem in fix.problems] == ["ambiguous"]
    assert words in fix.problems[0].message


def test_a_doubtful_hour_is_no_matter_with_gps_time() -> None:
    """Nothing is told of a clock that is not used."""
    photo = _photo(camera_time=datetime(2026, 10, 25, 1, 30), gps_time=datetime(2026, 10, 25, 1, 30, tzinfo=UTC))
    assert _time(photo, zone=DUBLIN).problems == ()


@pytest.mark.parametrize("camera_time", [None, datetime(1970, 1, 1, 0, 4), datetime(1, 1, 1), datetime(9999, 12, 31)])
def test_no_usable_time(camera_time) -> None:
    """A missing time, and clocks that were never set."""
    fix = _time(_photo(camera_time=camera_time), fast_s=400 * 86400, zone=timedelta(hours=14))
    assert fix.taken is None
    assert [(problem.code, problem.level) for problem in fix.problems] == [("no_time", "note")]


def test_a_wrong_camera_date_does_not_hurt_gps_time() -> None:
    """Flat battery: GPS time is used as it is."""
    fix = _time(_photo(gps_time=NOON_UTC, camera_time=datetime(1980, 1, 1)))
    assert (fix.taken, fix.problems) == (NOON_UTC, ())


@pytest.mark.parametrize(
    "gps_time", [NOON_UTC - timedelta(weeks=1024, hours=3), datetime(1980, 1, 6, 0, 4, tzinfo=UTC)]
)
def test_a_gps_date_that_cannot_be_right(gps_time) -> None:
    """Weeks counted in ten bits come round after 1024; without a fix the receiver's first day is shown."""
    fix = _time(_photo(gps_time=gps_time, camera_time=NOON))
    assert fix.taken == NOON_UTC
    assert [problem.code for problem in fix.problems] == ["bad_metadata"]
    assert f"{gps_time:%Y-%m-%d}" in fix.problems[0].message


def _report(photos: list[PhotoFile], setting: ClockSetting | None = None):
    return clock_report(photos, setting_of=lambda _: setting or ClockSetting(), survey_zone=timedelta(), tolerance_s=30)


def _pair(ahead_s: float, hour: int = 12, **facts) -> PhotoFile:
    gps = NOON_UTC.replace(hour=hour)
    clock = (gps + timedelta(seconds=ahead_s)).replace(tzinfo=None)
    return _photo(**{"gps_time": gps, "camera_time": clock, "camera": "Fernhill Q1", **facts})


def _advised(message: str) -> dict:
    """Read the advised line as TOML."""
    return tomllib.loads(message.rsplit(", write ", 1)[1].split(". ")[0].removesuffix("."))


def test_three_hundred_photos_give_one_line() -> None:
    """The median of the differences, and the line that mends it."""
    photos = [_pair(200 + i % 7 - 3, hour=i % 24) for i in range(300)]
    (problem,) = _report(photos)
    assert (problem.subject, problem.code, problem.level) == ("Fernhill Q1", "clock", "note")
    assert "3 min ahead of GPS time (+200 s, 300 photos)" in problem.message
    assert 'under [[camera]] with match = "Fernhill Q1"' in problem.message
    assert _advised(problem.message) == {"clock_fast_s": 200}


def test_the_advised_line_mends_the_clock() -> None:
    """With it nothing is left to report; and it adds to what is set already."""
    photos = [_pair(3723), _pair(3725)]
    (problem,) = _report(photos, ClockSetting(clock_fast_s=60))
    fast_s = _advised(problem.message)["clock_fast_s"]
    assert fast_s == 3724
    assert _report(photos, ClockSetting(clock_fast_s=fast_s)) == []


@pytest.mark.parametrize(
    ("ahead_s", "zone"), [(-18001, "UTC-05:00"), (3600, "UTC+01:00"), (20700 + 5, "UTC+05:45"), (-12600, "UTC-03:30")]
)
def test_a_clock_right_to_the_quarter_of_an_hour_is_in_another_zone(ahead_s, zone) -> None:
    """Five hours and a second behind is UTC-05:00, not a slow clock."""
    (problem,) = _report([_pair(ahead_s)])
    assert _advised(problem.message) == {"time_zone": zone}


def test_a_camera_that_writes_its_offset_has_no_zone_to_set() -> None:
    """An hour off is then the clock's own error."""
    (problem,) = _report([_pair(3600, camera_offset_s=0)])
    assert _advised(problem.message) == {"clock_fast_s": 3600}


def test_clocks_within_the_tolerance_are_not_reported() -> None:
    """Nor photos without one of the two times, nor GPS dates that are wrong themselves."""
    rollover = _pair(0, gps_time=NOON_UTC - timedelta(weeks=1024), camera_time=NOON)
    photos = [_pair(30), _photo(gps_time=NOON_UTC), _photo(camera_time=NOON), rollover]
    assert _report(photos) == []


def test_each_camera_has_its_own_line() -> None:
    """In the order of their names; a camera without a name gets other advice."""
    photos = [_pair(100), _pair(-100, camera="Alder 7"), _pair(500, camera=None)]
    problems = _report(photos)
    assert [problem.subject for problem in problems] == ["photos without a camera name", "Alder 7", "Fernhill Q1"]
    assert "corrections.csv" in problems[0].message
    assert _advised(problems[1].message) == {"clock_fast_s": -100}


def test_a_difference_that_is_not_steady_is_told() -> None:
    """Set in mid-season, or two cameras of one name."""
    (problem,) = _report([_pair(100), _pair(105), _pair(400)])
    assert "not steady (from 100 to 400 s)" in problem.message


def _track(*pieces: list[tuple[float, float, float]]) -> Track:
    """Make a track of pieces of (seconds after noon, lon, lat)."""
    rows = np.array([row for piece in pieces for row in piece])
    segment = np.repeat(np.arange(len(pieces)), [len(piece) for piece in pieces])
    return Track(rows[:, 0] + NOON_UTC.timestamp(), rows[:, 1], rows[:, 2], segment)


# One fix every 10 s, 0.0001° of latitude apart: 11.113 m on WGS 84 at 45°.
STEADY = _track([(10.0 * i, -30.0, 45.0 + 0.0001 * i) for i in range(13)])


def _at(seconds: float, track: Track | None = STEADY, **facts):
    return position_of(_photo(**facts), NOON_UTC + timedelta(seconds=seconds), track, None, 60)


def test_the_file_s_own_position() -> None:
    """Before the track; its stated error is its uncertainty, else a default."""
    here = LonLat(-30.1, 45.1)
    fix = _at(5, lonlat=here, position_from="xmp")
    assert (fix.lonlat, fix.source, fix.sigma_m, fix.problems) == (here, "xmp", FIX_SIGMA_M, ())
    assert _at(5, lonlat=here, position_from="exif", position_error_m=12.5).sigma_m == 12.5


def test_the_crew_s_word_on_position() -> None:
    """Wins over the file, and says how far that moved it."""
    here, there = LonLat(-30.0, 45.0), LonLat(-30.0, 45.001)
    correction = Correction("photos/a.jpg", lonlat=there)
    fix = position_of(_photo(lonlat=here, position_from="exif"), None, None, correction, 60)
    assert (fix.lonlat, fix.source, fix.sigma_m) == (there, "corrections", CORRECTION_SIGMA_M)
    assert fix.how == "corrections.csv, 111 m from what the file says"
    assert position_of(_photo(), None, None, correction, 60).how == "corrections.csv"


def test_a_photo_between_two_fixes() -> None:
    """Three tenths of the way; the uncertainty adds fix, speed times that of the time, and straying."""
    fix = _at(43)
    assert fix.lonlat == pytest.approx((-30.0, 45.00043), abs=1e-9)
    assert fix.source == "track"
    assert fix.how == "track at 2026-06-01 12:00:43 UTC, between fixes 10 s apart"
    step_m = Geodesic.WGS84.Inverse(45.0, -30, 45.0001, -30)["s12"]
    assert fix.sigma_m == pytest.approx(
        math.hypot(FIX_SIGMA_M, step_m / 10 * CLOCK_SIGMA_S, 0.3 * step_m / 4), abs=1e-3
    )


def test_a_better_clock_gives_a_better_position() -> None:
    """The same place, with less doubt."""
    rough, fine = (position_of(_photo(), NOON_UTC, STEADY, None, 60, sigma_s) for sigma_s in (30.0, 1.0))
    assert rough.lonlat == fine.lonlat
    assert rough.sigma_m > fine.sigma_m > FIX_SIGMA_M


@given(st.floats(0, 120))
def test_positions_along_a_steady_track(seconds) -> None:
    """On a boat of steady speed, the place is the time's share of the way."""
    assert _at(seconds).lonlat == pytest.approx((-30.0, 45.0 + 0.00001 * seconds), abs=1e-9)


def test_at_a_fix() -> None:
    """No interpolation, and the words say so; the last fix counts too."""
    assert _at(20).how.endswith("at a fix")
    assert _at(120).lonlat == pytest.approx((-30.0, 45.0012), abs=1e-12)


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (-540, "2026-06-01 11:51:00 UTC is 9 min before the track starts (2026-06-01 12:00:00 UTC)"),
        (121, "2026-06-01 12:02:01 UTC is 1 s after the track ends (2026-06-01 12:02:00 UTC)"),
        (7320, "is 2 h after the track ends"),
        (86400 * 3 + 120, "is 3 days after the track ends"),
    ],
)
def test_never_beyond_the_ends_of_the_track(seconds, words) -> None:
    """And the message says by how much."""
    fix = _at(seconds)
    assert (fix.lonlat, fix.source, fix.sigma_m) == (None, None, None)
    (problem,) = fix.problems
    assert (problem.code, problem.level, problem.subject) == ("no_position", "left_out", "photos/a.jpg")
    assert words in problem.message
    assert "corrections.csv" in problem.message


def test_never_across_a_gap() -> None:
    """Longer than allowed within a piece, or between two pieces."""
    gap = _track([(0.0, -30.0, 45.0), (61.0, -30.0, 45.1)])
    assert "falls in a gap of 61 s in the track; allowed are 60 s" in _at(30, gap).problems[0].message
    assert position_of(_photo(), NOON_UTC + timedelta(seconds=30), gap, None, 61).lonlat is not None
    pause = _track([(0.0, -30.0, 45.0), (10.0, -30.0, 45.1)], [(20.0, -30.0, 45.2), (30.0, -30.0, 45.3)])
    assert "in a pause between two pieces of the track" in _at(15, pause).problems[0].message
    assert _at(25, pause).lonlat == pytest.approx((-30.0, 45.25), abs=1e-9)


def test_of_two_tracks_at_once_the_closer_fixes_count() -> None:
    """A second receiver with a fix each 2 s beats one with a fix each 20 s."""
    both = _track([(0.0, -30.0, 45.0), (20.0, -30.0, 45.0)], [(9.0, -31.0, 46.0), (11.0, -31.0, 46.0)])
    assert _at(10, both).lonlat == pytest.approx((-31.0, 46.0), abs=1e-12)


def test_two_fixes_in_one_second() -> None:
    """No division by nothing."""
    twice = _track([(5.0, -30.0, 45.0), (5.0, -30.0, 45.1)])
    assert _at(5, twice).lonlat == (-30.0, 45.0)


@pytest.mark.parametrize(
    ("taken", "track", "words"),
    [
        (NOON_UTC, None, "no track supplied"),
        (NOON_UTC, Track(np.array([]), np.array([]), np.array([]), np.array([])), "no track supplied"),
        (None, STEADY, "without a time the track cannot place it"),
    ],
)
def test_no_position_says_what_was_tried(taken, track, words) -> None:
    """Everything that was looked at is in the message."""
    (problem,) = position_of(_photo(), taken, track, None, 60).problems
    assert f"photos/a.jpg: no position in the file; {words}." in problem.message
