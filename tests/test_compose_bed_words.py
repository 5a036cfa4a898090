"""What pages say of the bed: depths out from the bank, breaks, and what stands within reach."""

from __future__ import annotations

import dataclasses

from shapely import box

from atlasgen.compose.bed_words import break_sentences, profile_sentences, relief_sentences
from atlasgen.model import ComposeRules, LonLat, PointM
from atlasgen.model.relief import Break, DepthReached, ProfilePoint, ReachProfile, ReliefFeature, ReliefNear

RULES = ComposeRules(title="Lake", edition="1", depth_unit="feet")
FOOT = 0.3048
STATIONS = (
    ProfilePoint(5.0, 3 * FOOT, 0.5 * FOOT, 2 * FOOT, 4 * FOOT),
    ProfilePoint(10.0, None),
    ProfilePoint(20.0, 9 * FOOT, 1.25 * FOOT, 8 * FOOT, 12 * FOOT),
)
PROFILE = ReachProfile(
    "S-0001", 5, PointM(0, 0), 90.0, STATIONS, STATIONS,
    (DepthReached(5 * FOOT, 9.0), DepthReached(30 * FOOT, None)),
    Break(31.0, 3.0, 0.5, 28.0, 34.0, 10 * FOOT, 20 * FOOT, "steep"),
    0.125, 20.0, "moderate", 4.0, None,
)  # fmt: skip
HUMP = ReliefFeature(
    "hump 3", "hump", PointM(40, 0), LonLat(0, 0), 7 * FOOT, 12 * FOOT, 4 * FOOT, 400.0, 30.0, 20.0, None, 40, 0.3, 0.1,
    "good", box(30, -10, 50, 10),
)  # fmt: skip


def words(sentences) -> str:
    return " ".join(sentence.text for sentence in sentences)


def test_depths_out_from_the_bank_carry_their_bound_and_spread() -> None:
    """The widest bound of the stations told, the unknown one named, the range along the reach at the last."""
    assert words(profile_sentences(PROFILE, RULES)) == (
        "Straight out from the bank: 3 ft at 5 m and 9 ft at 20 m. In 95 of 100 places like these the depth is within "
        "1.2 ft of that. At 10 m the depth is not known. Along this reach it is 8 ft to 12 ft at 20 m. It is 5 ft deep "
        "9 m out."
    )


def test_without_a_bound_none_is_stated() -> None:
    """No bound was worked out: the depths stand alone."""
    bare = tuple(dataclasses.replace(point, bound_m=None) for point in STATIONS)
    assert "95 of 100" not in words(profile_sentences(dataclasses.replace(PROFILE, stations=bare), RULES))


def test_the_break_is_the_one_thing_to_remember() -> None:
    """Slope in a word and as 1 in n; the break strong."""
    fall, steepest = break_sentences(PROFILE, RULES)
    assert fall.text == "Over the first 20 m from the bank the bottom is moderate (1 in 8)."
    assert steepest.strong
    assert steepest.text == (
        "Its steepest break falls from 10 ft down to 20 ft between 28 m and 34 m from the bank, steep, 1 in 2."
    )


def test_no_break_is_said_not_left_out() -> None:
    """A bed that falls evenly."""
    assert "No break stands out" in words(break_sentences(dataclasses.replace(PROFILE, steepest=None), RULES))


def test_features_are_named_nearest_first_and_the_rest_counted() -> None:
    """Three are told, two more counted; a hump by its least depth, a hole by its greatest."""
    hole = dataclasses.replace(HUMP, id="hole 1", kind="hole", confidence="fair")
    features = {"hump 3": HUMP, "hole 1": hole}
    near = (ReliefNear("hole 1", 60.0, 70.0, 180.0), ReliefNear("hump 3", 28.0, 38.0, 90.0))
    assert words(relief_sentences(near, features, RULES)) == (
        "Hump 3 lies 38 m off this bank to the east: least depth 7 ft, 4.0 ft above the bed around it. "
        "Hole 1 lies 60 m off this bank at the nearest, to the south: down to 12 ft, 4.0 ft below the bed around it; "
        "how sure: fair."
    )
    many = {f"hump {i}": dataclasses.replace(HUMP, id=f"hump {i}") for i in range(5)}
    said = relief_sentences([ReliefNear(name, 10.0 + i, 20.0, 0.0) for i, name in enumerate(many)], many, RULES)
    assert len(said) == 4
    assert said[-1].text == "2 more are in the list behind the pages."
