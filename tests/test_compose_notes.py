"""Notes say what the facts bear, and what is not known."""

from __future__ import annotations

import dataclasses

import pytest
from sample_atlas import make_sample_atlas

from atlasgen.compose.notes import (
    coverage_sentences,
    depth_sentences,
    level_sentences,
    page_notes,
    position_sentences,
    shown_sentences,
)
from atlasgen.model import ComposeRules, ReachCoverage, ReachDepth, ReachStates

RULES = ComposeRules(title="A", edition="1")
DEPTH = ReachDepth(40, 212, 1.0, 3.4, 5.6, ((5, 1.0), (10, 2.2), (20, None), (40, 5.2)), True)


def words(sentences):
    return " ".join(sentence.text for sentence in sentences)


def test_depth_is_told_in_feet_toward_the_shallower():
    """3.4 m is 11.15 ft, printed 11; the 20 m station is unknown and said so."""
    assert words(depth_sentences(DEPTH, 5000, RULES)) == (
        "212 soundings within 40 m of this bank: shallowest 3 ft, half of them deeper than 11 ft, deepest 18 ft below "
        "full supply level. Straight out from the middle of the reach: 3 ft at 5 m, 7 ft at 10 m and 17 ft at 40 m "
        "from the bank. At 20 m it is not known."
    )


def test_thousands_are_spaced_once():
    """A count of soundings is readable, and no comma of the sentence is lost."""
    many = dataclasses.replace(DEPTH, soundings=12345)
    text = words(depth_sentences(many, 50000, RULES))
    assert text.startswith("12\N{NO-BREAK SPACE}345 soundings within 40 m of this bank: shallowest 3 ft, half")


def test_one_sounding_is_not_a_range():
    """No median of one."""
    one = dataclasses.replace(DEPTH, soundings=1, profile_m=())
    assert words(depth_sentences(one, 10, RULES)) == (
        "One sounding was taken within 40 m of this bank: 18 ft below full supply level."
    )


def test_unreduced_depths_are_not_called_below_datum():
    """Without a stage record the depths belong to the day."""
    text = words(depth_sentences(dataclasses.replace(DEPTH, reduced=False), 5000, RULES))
    assert "below the water on the day" in text
    assert "No stage record was supplied" in text
    assert "full supply level" not in text


def test_no_soundings_here_and_none_at_all_are_different():
    """Both are said to be unknown; neither prints a number."""
    none_here = ReachDepth(40, 0, None, None, None, ((5, None), (10, None)), True)
    assert words(depth_sentences(none_here, 5000, RULES)) == (
        "No sounding was taken within 40 m of this bank. The depth here is not known."
    )
    assert words(depth_sentences(None, 0, RULES)) == "No soundings were supplied. The depth here is not known."


def test_depths_of_a_supplied_raster_are_told_without_soundings():
    """A model that needs no soundings has depths where none were taken; the note must not deny them."""
    modelled = ReachDepth(40, 0, None, None, None, ((5, 1.0), (10, None)), True)
    assert words(depth_sentences(modelled, 0, RULES)).startswith(
        "No soundings were supplied. The depths are those supplied with the survey. Straight out from the middle"
    )
    assert words(depth_sentences(modelled, 9, RULES)).startswith(
        "No sounding was taken within 40 m of this bank. The depths are those of the model alone."
    )


@pytest.mark.parametrize(
    ("share", "start"),
    [
        (1.0, "All of the water within 40 m of this bank is within 25 m of a sounding."),
        (0.82, "82 % of the water within 40 m of this bank is within 25 m of a sounding. The other 18 % was not"),
        (0.0, "None of the water within 40 m of this bank is within 25 m of a sounding."),
        (None, "No soundings were supplied, so this water counts as not surveyed."),
    ],
)
def test_coverage_in_percent(share, start):
    """Percent of the water near a sounding; all and none in words."""
    assert words(coverage_sentences(ReachCoverage(40, 4000, 25, share, 530), RULES)).startswith(start)


def test_a_stated_reason_is_told_and_a_missing_one_too():
    """Why not, where not."""
    weed = ReachCoverage(40, 4000, 25, 0.1, 5, (("weed", 0.9),))
    assert "The crew marked 90 % of it as not surveyed: weed." in words(coverage_sentences(weed, RULES))
    bare = ReachCoverage(40, 4000, 25, 0.1, 5)
    assert "The crew gave no reason for that." in words(coverage_sentences(bare, RULES))


def test_levels_group_photos_of_one_day_and_tell_the_unknown():
    """Known level, level outside the record, unknown day."""
    photos = make_sample_atlas().placed.photos[:3]
    days = {photos[0].id: "4 March 2026", photos[1].id: "9 June 2026", photos[2].id: ""}
    stages = {photos[0].id: -0.43, photos[1].id: None, photos[2].id: None}
    text = words(level_sentences(photos, stages, days, RULES))
    assert "On 4 March 2026, when photo 1 was taken, the water stood 1.4 ft below full." in text
    assert "The water level on 9 June 2026, when photo 2 was taken, is not known." in text
    assert "When photo 3 was taken is not known, so neither is the water level then." in text


def test_positions_are_grouped_by_how_they_were_obtained():
    """One sentence a way."""
    photos = make_sample_atlas().placed.photos[:3]
    moved = dataclasses.replace(photos[1], position_how="track at 08:37:00 UTC")
    text = words(position_sentences((photos[0], moved, photos[2])))
    assert text == "Photos 1 and 3: position from the photo's own GPS tags. Photo 2: track at 08:37:00 UTC."


def test_a_page_has_its_notes_in_the_order_a_reader_asks():
    """Depth, coverage, level, position."""
    atlas = make_sample_atlas()
    photos = atlas.placed.photos[:1]
    reach = next(reach for reach in atlas.placed.reaches if reach.id == photos[0].reach)
    notes = page_notes(reach, photos, atlas.known, {photos[0].id: "4 March 2026"}, (), RULES)
    assert [note.topic for note in notes] == ["depth", "coverage", "level", "shown", "position"]


def test_other_photographs_of_a_bank_are_named_with_their_pages():
    """How much is shown at all, then where else to look, four at the most."""
    lengths = {"well": 30.0, "poorly": 20.0, "near": 0.0, "none": 50.0, "cannot": 0.0}
    states = ReachStates("S-0001", "poorly", lengths, lengths, lengths, 7, 4.0, None)
    elsewhere = [(3, 1), (9, 2), (11, 1), (12, 4), (13, 1), (14, 1)]
    assert words(shown_sentences(states, elsewhere[:2])) == (
        "50 % of this reach is shown in some photograph. It is also seen on page 3 (photo 1) and page 9 (photo 2)."
    )
    assert "page 12 (photo 4), and 2 more." in words(shown_sentences(states, elsewhere))
    nothing = dataclasses.replace(states, lengths_m=dict.fromkeys(lengths, 0.0) | {"none": 100.0})
    assert words(shown_sentences(nothing, ())) == "No photograph is known to show this bank."


@pytest.mark.parametrize(
    ("depths", "words"),
    [
        ((-0.5, 1.0, 3.0), "the shallowest on ground that is dry with the water low, half of them deeper than 3 ft"),
        ((-0.5, -0.2, 3.0), "half of them or more on ground that is dry with the water low, deepest 9 ft below that."),
        ((-0.5, -0.2, -0.1), "6 soundings were taken within 40 m of this bank. All of them lie on ground that is dry"),
    ],
)
def test_soundings_on_ground_that_the_level_leaves_dry_are_told_so(depths, words):
    """No negative depth, and no depth of what is dry."""
    depth = ReachDepth(40.0, 6, *depths, (), True)
    (first, *_) = depth_sentences(depth, 100, dataclasses.replace(RULES, shown="the water low"))
    assert words in first.text
