"""What is said of a profile: falls as 1 in so many, breaks, bounds and gaps."""

from __future__ import annotations

import pytest

from atlasgen.compose.profile_words import break_words, one_in, profile_alt, unknown_stretches
from atlasgen.model.relief import Break

POINTS = ((0.0, 0.0), (10.0, 1.0), (20.0, None), (30.0, 3.0))
RUNS = (((0.0, 0.0), (10.0, 1.0)), ((30.0, 3.0),))


@pytest.mark.parametrize(
    ("slope", "words"), [(0.05, "1 in 20"), (0.128, "1 in 8"), (1 / 3, "1 in 3"), (0.4, "1 in 2.5"), (1.0, "1 in 1")]
)
def test_falls_are_one_in_so_many(slope, words):
    """Whole numbers, halves where it is steep."""
    assert one_in(slope) == words


def test_a_break_is_told_from_top_to_foot():
    """Depths round toward the shallower: 2.0 m is 6 ft, 4.2 m is 13 ft."""
    found = Break(35.0, 3.1, 0.22, 30.0, 40.0, 2.0, 4.2, "steep")
    assert (
        break_words(found, "feet", "metric")
        == "from 6 ft down to 13 ft between 30 m and 40 m from the bank, steep, 1 in 5"
    )


def test_stretches_without_depths_lie_between_the_runs():
    """From 10 to 30 m here; from the bank too, where the first depth is farther out."""
    assert unknown_stretches(POINTS, RUNS) == [(10.0, 30.0)]
    assert unknown_stretches(POINTS, RUNS[1:]) == [(0.0, 30.0)]


def test_no_break_is_said_only_where_it_was_sought():
    """A drawing of bare depths says nothing of breaks."""
    words = [profile_alt(POINTS, RUNS, None, "metres", "metric", "water", {}, None, sought) for sought in (True, False)]
    assert ["No marked break." in said for said in words] == [True, False]


def test_only_bounds_of_known_depths_are_told():
    """That of the unknown place at 20 m is left out."""
    said = profile_alt(POINTS, RUNS, None, "metres", "metric", "water", {10.0: 0.4, 20.0: 9.0, 30.0: 0.4}, None, False)
    assert "95 in 100 such depths are within 0.4 m of the truth." in said
