"""German sentences of pages, maps and strips: number, case and order of words as a reader expects them."""

from __future__ import annotations

import dataclasses

import pytest
from sample_atlas import make_sample_atlas

from atlasgen.compose.notes import coverage_sentences, depth_sentences, level_sentences, shown_sentences
from atlasgen.compose.profile_words import break_words
from atlasgen.compose.words import cautions, how_to_read, page_range
from atlasgen.model import ComposeRules, ReachCoverage, ReachDepth, ReachStates
from atlasgen.model.relief import Break
from atlasgen.model.wording import say, speaking

RULES = ComposeRules(title="A", edition="1", datum="Stauziel", depth_unit="metres")
LENGTHS_M = {"well": 60.0, "poorly": 0.0, "near": 0.0, "none": 40.0, "cannot": 0.0}
DEPTH = ReachDepth(40, 212, 1.0, 3.4, 5.6, ((5, 1.0), (20, None), (40, 5.2)), True)


@pytest.fixture(autouse=True)
def _german():
    with speaking("de"):
        yield


def words(sentences):
    return " ".join(sentence.text for sentence in sentences)


def test_depths_are_told_with_a_decimal_comma_and_the_datum_in_the_dative():
    """`unter` and `bei` take the level as it is."""
    assert words(depth_sentences(DEPTH, 5000, RULES)) == (
        "212 Lotungen im Streifen von 40 m vor diesem Ufer: die flachste 1,0 m, die Hälfte tiefer als 3,4 m, die "
        "tiefste 5,6 m unter Stauziel. Aus der Mitte des Uferabschnitts gerade vom Ufer hinaus: 1,0 m bei 5 m und "
        "5,2 m bei 40 m. Bei 20 m ist die Tiefe nicht bekannt."
    )
    lowered = dataclasses.replace(RULES, shown=say("page-depths-below", level=say("units-below-full", height="1,4 m")))
    half_dry = dataclasses.replace(DEPTH, shallowest_m=-0.5, median_m=-0.1, profile_m=())
    assert words(depth_sentences(half_dry, 5000, lowered)) == (
        "212 Lotungen im Streifen von 40 m vor diesem Ufer: mindestens die Hälfte auf Grund, der bei dem Wasserspiegel "
        "1,4 m unter Stauziel trocken ist, die tiefste 5,6 m darunter."
    )


def test_one_sounding_is_singular():
    """And never a range."""
    one = dataclasses.replace(DEPTH, soundings=1, profile_m=())
    assert words(depth_sentences(one, 10, RULES)) == (
        "Im Streifen von 40 m vor diesem Ufer liegt eine einzige Lotung: 5,6 m unter Stauziel."
    )


def test_coverage_says_what_was_not_sounded_and_why():
    """A percentage never begins a sentence in small letters."""
    coverage = ReachCoverage(40, 1000.0, 25, 0.005, 1.0, (("Kraut", 0.4),))
    assert words(coverage_sentences(coverage, RULES)) == (
        "Im Streifen von 40 m vor diesem Ufer liegen unter 1 % des Wassers höchstens 25 m von einer Lotung entfernt. "
        "Der Rest, über 99 %, wurde nicht gelotet. Die Crew hat 40 % davon als nicht vermessen markiert: Kraut."
    )


def test_levels_speak_of_one_of_some_and_of_all_photos():
    """Verb and article follow the number of photos."""
    photos = list(make_sample_atlas().placed.photos[:3])
    days = {photo.id: "4. März 2026" for photo in photos}
    stage_m = {photos[0].id: -0.5, photos[1].id: -0.5, photos[2].id: None}
    assert words(level_sentences(photos, stage_m, days, RULES)) == (
        "Der Wasserstand am 4. März 2026, als Foto 3 entstand, ist nicht bekannt. Am 4. März 2026, als die Fotos 1 und "
        "2 entstanden, stand das Wasser 0,50 m unter Stauziel."
    )
    assert words(level_sentences(photos[:1], stage_m, days, RULES)) == (
        "Am 4. März 2026, als dieses Foto entstand, stand das Wasser 0,50 m unter Stauziel."
    )


def test_other_pages_are_counted_in_words_that_agree():
    """One more photo, or several."""
    states = ReachStates("S-0001", "well", LENGTHS_M, LENGTHS_M, LENGTHS_M, 3, None, None)
    told = [words(shown_sentences(states, [(page, 1) for page in range(2, 2 + count)])) for count in (2, 5, 6)]
    assert told == [
        "Von diesem Uferabschnitt sind 60 % auf Fotos zu sehen. Dieses Ufer ist auch zu sehen auf Seite 2 (Foto 1) und "
        "Seite 3 (Foto 1).",
        "Von diesem Uferabschnitt sind 60 % auf Fotos zu sehen. Dieses Ufer ist auch zu sehen auf Seite 2 (Foto 1), "
        "Seite 3 (Foto 1), Seite 4 (Foto 1), Seite 5 (Foto 1) und auf einem weiteren Foto.",
        "Von diesem Uferabschnitt sind 60 % auf Fotos zu sehen. Dieses Ufer ist auch zu sehen auf Seite 2 (Foto 1), "
        "Seite 3 (Foto 1), Seite 4 (Foto 1), Seite 5 (Foto 1) und auf 2 weiteren Fotos.",
    ]


def test_a_break_is_told_in_one_breath():
    """From top to foot, where, and how steep."""
    steepest = Break(34.0, 2.6, 0.33, 30.0, 38.0, 1.5, 3.7, "very steep")
    assert break_words(steepest, "metres", "metric") == (
        "von 1,5 m auf 3,7 m, zwischen 30 m und 38 m vom Ufer, sehr steil, 1:3"
    )


@pytest.mark.parametrize(("pages", "said"), [([3], "Seite 3"), ([3, 4, 5, 9], "Seiten 3–5, 9")])
def test_pages_are_one_or_several(pages, said):
    """The noun follows."""
    assert page_range(pages) == said


def test_cautions_are_unmistakable():
    """Not for navigation; what is not known may be a hazard."""
    told = " ".join(cautions())
    assert "nicht zur Navigation bestimmt" in told
    assert "müssen Sie mit einer Gefahrenstelle rechnen" in told
    assert "um wie viel der See heute abgesenkt ist" in told


def test_the_guide_names_slopes_as_the_pages_do():
    """And the unit of the survey."""
    told = " ".join(how_to_read("Stauziel", "feet", "40 m", "100 m", "der Staumauer"))
    assert "gezählt ab der Staumauer mit dem Wasser zur rechten Hand" in told
    assert "Tiefen stehen in Fuß unter Stauziel" in told
    assert "fast eben bis 1:20, flach geneigt bis 1:10, mäßig geneigt bis 1:5, steil bis 1:2" in told
