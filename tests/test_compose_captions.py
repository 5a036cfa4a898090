"""Captions say from where, which way, how far, when and at what level."""

from __future__ import annotations

import dataclasses
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from sample_atlas import make_sample_atlas

from atlasgen.compose.captions import day_words, describe, how_known
from atlasgen.model import ComposeRules, Measured, ReachSeen, View
from atlasgen.units import local_time

RULES = ComposeRules(title="A", edition="1", zone=timedelta(hours=5))
PHOTO = dataclasses.replace(make_sample_atlas().placed.photos[0], heading_deg_true=Measured(68.0, "Exif", 2.0))


def caption(photo, stage_m=-0.43):
    return describe(1, photo, "reach S-0142", None, stage_m, RULES).caption


def test_an_aerial_photo():
    """Local time, level in the reader's unit."""
    assert caption(PHOTO) == (
        "From 84 m up, looking east-north-east, 60 m off the nearest bank, reach S-0142. 4 Mar 2026, 13:37. "
        "Water 1.4 ft below full."
    )


def test_a_bank_that_is_seen_is_looked_at():
    """Which way, at what, from how far: of the reach that the page is about."""
    seen = ReachSeen("S-0142", 0.9, 213.0, 70.0, 6.0, 1.0)
    words = describe(1, PHOTO, "reach S-0142", seen, None, RULES)
    assert words.caption.startswith("From 84 m up, looking east-north-east at reach S-0142, 210 m off.")
    assert words.alt.startswith("Aerial photograph. From 84 m up, looking east-north-east at reach S-0142")


def test_what_is_unknown_is_said():
    """No heading, no time, no height."""
    photo = dataclasses.replace(PHOTO, heading_deg_true=None, taken=None, height_above_water_m=None)
    assert caption(photo, None) == (
        "From the air, height not known, direction not known, 60 m off the nearest bank, reach S-0142. Date not known."
    )


def test_straight_down_has_no_compass_point():
    """A frame that looks at its own feet does not look east."""
    photo = dataclasses.replace(PHOTO, pitch_deg=Measured(-89.9, "XMP GimbalPitchDegree"))
    assert "looking straight down" in caption(photo)


def test_an_assumed_height_is_called_about():
    """A reader can tell a measured height from an assumed one."""
    photo = dataclasses.replace(PHOTO, height_above_water_m=Measured(84, "take-off taken as at water level", 5, True))
    assert caption(photo).startswith("From about 84 m up")


def test_a_guessed_eye_height_is_called_a_guess():
    """An altitude in the file, and no elevation of the water to hold it against: it may be a flight."""
    high = dataclasses.replace(PHOTO.source, altitude_m=372.0)
    eye = Measured(1.7, "eye height", 0.5, assumed=True)
    photo = dataclasses.replace(PHOTO, kind="shore", over_water=False, source=high, height_above_water_m=eye)
    unknown = dataclasses.replace(RULES, elevation_known=False)
    words = describe(1, photo, "reach S-0142", None, None, unknown).caption
    assert words.startswith("Taken to be from the bank, at eye height, looking east-north-east")
    assert describe(1, photo, "reach S-0142", None, None, RULES).caption.startswith("From the bank, looking")


def test_what_is_looked_across_is_named():
    """The water between comes before the bank; a photo straight down looks across nothing, and on the bank."""
    seen = ReachSeen("S-0142", 0.9, 213.0, 70.0, 6.0, 1.0)
    words = describe(1, PHOTO, "reach S-0142", seen, None, RULES, across="across Cask Arm").caption
    assert ", looking east-north-east across Cask Arm at reach S-0142, 210 m off." in words
    down = dataclasses.replace(PHOTO, pitch_deg=Measured(-89.0, "XMP GimbalPitchDegree"))
    words = describe(1, down, "reach S-0142", seen, None, RULES, across="across Cask Arm").caption
    assert ", looking straight down on reach S-0142, 210 m off." in words


def test_a_view_without_any_bank_is_said():
    """Looked at and found empty is not the same as unknown."""
    empty = View(PHOTO.id, None, False, 3000.0, None, (), ())
    words = describe(1, PHOTO, "reach S-0142", None, None, RULES, view=empty)
    assert "looking east-north-east, no bank known to be in view, 60 m off the nearest bank" in words.caption
    assert "It is not known to show any shore." in words.alt
    assert "What it shows is not known." in describe(1, PHOTO, "reach S-0142", None, None, RULES).alt


def test_a_bank_right_below_is_close_by():
    """No `0 m off`."""
    seen = ReachSeen("S-0142", 0.9, 0.2, 70.0, 6.0, 1.0)
    assert " at reach S-0142, close by. " in describe(1, PHOTO, "reach S-0142", seen, None, RULES).caption


def test_the_crews_words_come_first_and_end_like_a_sentence():
    """A caption of the crew is kept, whitespace folded."""
    photo = dataclasses.replace(PHOTO, caption="  The old   ramp ", kind="shore", over_water=False)
    assert caption(photo).startswith(
        "The old ramp. From the bank, looking east-north-east, 60 m behind the nearest bank, reach"
    )


def test_how_known_names_source_and_accuracy():
    """Every number can be traced."""
    text = how_known(PHOTO)
    assert "Position: position from the photo's own GPS tags, give or take 10 m." in text
    assert "Direction: 68° true, Exif." in text
    assert "Height above the water: 84 m, height above take-off." in text


def test_a_bearing_is_never_printed_as_360():
    """359.6 rounds to north, 0."""
    assert "Direction: 0° true" in how_known(dataclasses.replace(PHOTO, heading_deg_true=Measured(359.6, "Exif")))


def test_local_time_by_offset_and_by_zone():
    """Both kinds of zone, and the day changes with them."""
    late = datetime(2026, 3, 4, 20, 30, tzinfo=UTC)
    assert day_words(late, timedelta(hours=5)) == "5 March 2026"
    assert local_time(late, ZoneInfo("Etc/GMT-5")).hour == 1
    assert day_words(None, timedelta()) == ""
