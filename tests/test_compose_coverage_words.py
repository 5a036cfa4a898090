"""What a page says of side-scan: every sentence against values made by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from shapely import MultiPolygon

from atlasgen.compose.coverage_words import holiday_words, missing_sentence, picture_sentence, sonar_sentences
from atlasgen.model import ComposeRules, LonLat
from atlasgen.model.sonar import (
    SONAR_CLASSES,
    Holiday,
    ReachSonar,
    SonarCoverage,
    SonarRules,
    WaterShares,
)

RULES = ComposeRules("Lake", "1", zone=timedelta(hours=-6))
AT_S = datetime(2026, 3, 12, 18, 5, 58, tzinfo=UTC).timestamp()
NOWHERE = MultiPolygon()


def shares(missing=(), depth=1.0, within_m=100.0, water_m2=10_000.0, **share) -> WaterShares:
    """Make shares; what is not named is depth only."""
    rest = {"depth_only": 1 - sum(share.values())}
    return WaterShares(within_m, water_m2, dict.fromkeys(SONAR_CLASSES, 0.0) | rest | share, depth, tuple(missing))


def holiday(cause="lost_channel", **more) -> Holiday:
    """Make a gap of one hectare with depths throughout."""
    values = {"area_m2": 10_000.0, "share_depth": 1.0, "passes": ("P03", "P04")} | more
    return Holiday("H1", cause, NOWHERE, values.pop("area_m2"), LonLat(0, 0), "", "S-0001", **values)


LOST = holiday(channel="starboard", from_s=AT_S, to_s=AT_S + 354, why="cable worked loose")


def page(reach: ReachSonar, *holidays: Holiday) -> list[str]:
    """Return the sentences of a page."""
    coverage = SonarCoverage((), (), {}, {}, NOWHERE, NOWHERE, tuple(holidays), SonarRules())
    return [sentence.text for sentence in sonar_sentences(coverage, reach, RULES)]


def test_no_passes_supplied():
    """Unknown is said to be unknown."""
    (sentence,) = sonar_sentences(None, None, RULES)
    assert sentence.text == "No side-scan passes were supplied, so nothing is known of a sonar picture here."


def test_the_picture_in_parts():
    """Twice, once and coarse, with what has a depth."""
    found = picture_sentence(shares(depth=0.93, twice=0.1, fine=0.5, coarse=0.05), RULES)
    assert found.text == (
        "Of the water within 100 m of this bank, 93 % has a depth, and 65 % a side-scan picture: "
        "10 % seen by two passes, 50 % seen once and 5 % coarse."
    )
    assert not found.strong


def test_the_picture_in_one_part():
    """No list of one."""
    found = picture_sentence(shares(fine=0.4), RULES)
    assert found.text.endswith("100 % has a depth, and 40 % a side-scan picture, seen once.")
    assert found.strong


def test_no_picture_at_all():
    """Said once, and nothing of the water close by."""
    texts = page(ReachSonar(shares(within_m=40.0, depth=0.0), shares(depth=0.0)))
    assert texts == ["Of the water within 100 m of this bank, none has a depth, and none a side-scan picture."]


def test_the_water_close_by():
    """The angler's own 40 m."""
    texts = page(ReachSonar(shares(within_m=40.0, fine=0.07), shares(fine=0.4)))
    assert texts[1] == "Within 40 m of the bank, 7 % of it has one."
    texts = page(ReachSonar(shares(within_m=40.0), shares(fine=0.4)))
    assert texts[1] == "Within 40 m of the bank, none of it has one."


def test_a_lost_channel_is_no_fault_of_the_display():
    """With side, pass, times at the lake, reason, and that the depths are good."""
    reach = ReachSonar(
        shares(within_m=40.0, fine=0.9),
        shares([("lost_channel", "cable worked loose", 0.13)], fine=0.87),
        ("H1",),
    )
    assert page(reach, LOST)[-1] == (
        "13 % is a blank strip in the picture: the sonar's record was lost there (starboard side of pass P03, 12:05 to "
        "12:11 on 12 March 2026). The reason on record: cable worked loose. Its depths are good; only the picture is "
        "missing, and no fault of your display."
    )


def test_a_lost_channel_over_unknown_depths_does_not_call_them_good():
    """Depths over part of it, or over none."""
    part = missing_sentence("lost_channel", "", 0.1, shares(), [replace(LOST, why="", share_depth=0.6)], RULES)
    assert part.text.endswith(". 60 % of it has depths all the same. It is no fault of your display.")
    none = missing_sentence("lost_channel", "", 0.1, shares(depth=0.0), [], RULES)
    assert none.text == "10 % is a blank strip in the picture: the sonar's record was lost there."


@pytest.mark.parametrize(
    ("cause", "why", "begins"),
    [
        ("reason", "weed", "20 % could not be surveyed: weed."),
        ("under_boat", "", "A side-scan sees nothing in the strip right under the boat; 20 % of this water"),
        ("fast_run", "", "In 20 % of this water the boat ran too fast for a fine picture."),
        ("beyond_limit", "", "20 % of this water lies beyond the limit of the side-scan survey"),
        ("not_surveyed", "", "Neither soundings nor side-scan reach 20 % of this water"),
        ("not_recorded", "", "20 % of this water has no picture, and nothing in the records tells why."),
        ("pass_not_run", "", "In 20 % of this water two passes lie too far apart"),
        ("log_gap", "", "In 20 % of this water the boat's log pauses"),
        ("unknown_swath", "", "In 20 % of this water the range or the height of the sonar was not recorded"),
        ("behind_land", "", "20 % of this water lies behind land"),
    ],
)
def test_every_cause_has_its_words(cause, why, begins):
    """Plain words; only water nobody looked at is marked."""
    found = missing_sentence(cause, why, 0.2, shares(), [], RULES)
    assert found.text.startswith(begins)
    assert found.strong == (cause == "not_surveyed")


def test_small_parts_are_left_to_the_table():
    """One percent is not told, and no more than four causes are."""
    causes = ["under_boat", "log_gap", "fast_run", "beyond_limit", "behind_land"]
    missing = [(cause, "", 0.1) for cause in causes] + [("not_recorded", "", 0.01)]
    texts = page(ReachSonar(shares(within_m=40.0, fine=0.5), shares(missing, fine=0.49)))
    assert len(texts) == 2 + 4


@pytest.mark.parametrize(
    ("gap", "expected"),
    [
        (LOST, "starboard channel of pass P03 lost 12:05 to 12:11 on 12 March 2026, cable worked loose"),
        (holiday("fast_run", pings_on_metre=2.55), "coarse picture only: pass P03 was run too fast for its range"),
        (
            holiday("pass_not_run", spacing_m=133.2, covers_m=68.3),
            "pass not run: passes P03 and P04 lie 130 m apart and together reach 68 m",
        ),
        (holiday("log_gap", from_s=AT_S, to_s=AT_S + 40), "log of pass P03 pauses 12:05:58 to 12:06:38 on 12 March"),
        (
            holiday("log_gap", from_s=AT_S, to_s=AT_S + 86400),
            "log of pass P03 pauses 12:05 on 12 March 2026 to 12:05 on 13 March 2026",
        ),
        (holiday("not_recorded", passes=()), "cause not recorded; 1.0 ha, depths known throughout"),
    ],
)
def test_rows_of_the_table(gap, expected):
    """Cause, size and depths in one line."""
    assert holiday_words(gap, RULES).startswith(expected)


def test_depths_in_a_row():
    """Throughout, in part, none."""
    ends = [holiday_words(holiday("beyond_limit", share_depth=share), RULES).split("ha, ")[1] for share in (1, 0.6, 0)]
    assert ends == ["depths known throughout", "depths known over 60 %", "no depths"]
