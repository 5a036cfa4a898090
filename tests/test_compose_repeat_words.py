"""What is said where the same bank was photographed again, in both languages."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from sample_atlas import make_sample_atlas

from atlasgen.compose.repeat_words import change_words, limits_words, repeat_notes, tag_words, told_words
from atlasgen.model import ComposeRules
from atlasgen.model.repeats import RepeatPair, RepeatRules
from atlasgen.model.wording import speaking

FIRST, SECOND = make_sample_atlas().placed.photos[:2]
PAIR = RepeatPair(FIRST.id, SECOND.id, 5.2, 3.6, 88.0, 0.8, -0.52, 35)
TAKEN = {FIRST.id: datetime(2026, 3, 10, 15, tzinfo=UTC), SECOND.id: datetime(2026, 4, 14, 17, tzinfo=UTC)}
WHERE = {FIRST.id: (9, 1), SECOND.id: (12, 2)}
RULES = ComposeRules("Sample", "1")


def said(photos) -> str:
    (note,) = repeat_notes(photos, (PAIR,), TAKEN, WHERE, RULES)
    return f"{note.heading}: " + " ".join(sentence.text for sentence in note.sentences)


def test_a_page_names_the_photo_that_shows_its_bank_again():
    """From either side: when, from how far away, on which page, and how the water stood."""
    assert said([FIRST]) == (
        "The same bank on another day: Photo 1 was taken again on 14 April 2026, from 5 m away: photo 2 on page 12. "
        "The water then stood 1.7 ft lower."
    )
    assert said([SECOND]) == (
        "The same bank on another day: Photo 1 repeats an earlier one of 10 March 2026, taken 5 m away: "
        "photo 1 on page 9. The water then stood 1.7 ft higher."
    )
    here = {FIRST.id: (9, 1), SECOND.id: (9, 2)}
    (both,) = repeat_notes([FIRST, SECOND], (PAIR,), TAKEN, here, RULES)
    assert [sentence.text for sentence in both.sentences] == [
        "Photos 1 and 2 show the same bank on 10 March 2026 and again on 14 April 2026, from 5 m away.",
        "The water then stood 1.7 ft lower.",
    ]
    assert repeat_notes([FIRST], (), TAKEN, WHERE, RULES) == ()


@pytest.mark.parametrize(("change_m", "words"), [(None, ""), (0.04, ""), (0.3, "The water then stood 0.3 m higher.")])
def test_a_change_that_is_not_known_or_none_is_not_told(change_m, words):
    """Rounded to a tenth of a metre, 4 cm are nothing."""
    assert change_words(change_m, "metres") == words


def test_how_alike_two_are_is_told_with_the_limits():
    """A reader may judge for himself."""
    assert told_words(PAIR, "metric") == (
        "Stations 5 m apart on the map, directions 4° apart; 35 days between; both show 88 m of the same bank."
    )
    limits = limits_words(RepeatRules(), "metric", "metres")
    assert "at most 30 m apart" in limits
    assert "within 20° of one direction" in limits
    assert "the level differs by 0.1 m or 14 days lie between" in limits
    assert (tag_words("10 Mar 2026", -1.41, "feet"), tag_words("10 Mar 2026", None, "feet")) == (
        "10 Mar 2026, 4.6 ft below full",
        "10 Mar 2026, level not known",
    )


def test_it_is_said_in_german_as_well():
    """The same sense."""
    with speaking("de"):
        assert said([FIRST]) == (
            "Dasselbe Ufer an einem anderen Tag: "
            "Foto 1 wurde am 14.\N{NO-BREAK SPACE}April 2026 wiederholt, 5 m daneben: "
            "Foto 2 auf Seite 12. Das Wasser stand da 1,7 ft tiefer."
        )
