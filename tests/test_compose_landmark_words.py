"""What a page says of landmarks: hazards first, all of them, strong; then the rest by kind."""

from __future__ import annotations

from itertools import count

from lakes import projection, square_lake

from atlasgen.compose.landmark_words import hazard_caution, landmark_sentences
from atlasgen.model import PointM
from atlasgen.model.landmarks import LandmarkRow
from atlasgen.model.wording import speaking
from atlasgen.place.landmarks import place_landmarks
from atlasgen.place.shore import build_rings, cut_reaches

REACHES = cut_reaches(build_rings(square_lake(), None), 100, projection(), lambda _: "", lambda _: "")
NORTH = REACHES[1]  # from x -400 to -300 along the north bank, y 500


def marks(*given: tuple[float, float, str, str, str]):
    numbers = count(2)
    rows = [
        LandmarkRow("landmarks.csv", next(numbers), projection().lonlat(PointM(x, y)), kind, name, words)
        for x, y, kind, name, words in given
    ]
    return place_landmarks(rows, [], REACHES, square_lake(), projection(), lambda at: "")[0]


def told(*given) -> list[tuple[str, bool]]:
    return [(s.text, s.strong) for s in landmark_sentences(NORTH, marks(*given), "metric")]


def test_a_hazard_near_the_bank_is_told_first_and_strong():
    """60 m out from the north bank is to the south; with its own words and the caution that it may not be alone."""
    assert told((-350, 560, "ramp", "Old ramp", ""), (-350, 440, "hazard", "Stumps", "Dry when 4 ft down")) == [
        ("Hazard: Stumps, 60 m off this bank to the south. Dry when 4 ft down.", True),
        ("It may not be the only one.", False),
        ("Ramp: Old ramp, 60 m from this bank to the north.", False),
    ]


def test_beyond_the_limit_only_the_nearest_ramp_is_told():
    """A hazard 200 m off is the map's to show; the way to the nearest ramp is asked at every bank."""
    assert told((-350, 300, "hazard", "Stumps", ""), (-350, 800, "ramp", "", "")) == [
        ("The nearest ramp lies 300 m off to the north, as the crow flies.", False)
    ]


def test_every_hazard_is_told_and_of_the_rest_four():
    """A list of seven benches helps nobody; seven hazards do."""
    given = [(-350 + i, 450, "hazard", f"H{i}", "") for i in range(7)]
    given += [(-350 + i, 520, "place", f"P{i}", "") for i in range(7)]
    texts = [text for text, _ in told(*given)]
    assert sum(text.startswith("Hazard") for text in texts) == 7
    assert sum(text.startswith("Place") for text in texts) == 4
    assert "3 more are on the map." in texts


def test_at_the_bank_no_direction_is_told():
    """Within five metres a position does not bear one."""
    assert told((-350, 498, "place", "", "")) == [("Place, at this bank.", False)]


def test_the_caution_says_whether_hazards_are_marked_at_all():
    """Without a list, and with one, absence of a mark is no absence of a hazard."""
    assert hazard_caution(marks((0, 0, "ramp", "", ""))).startswith("The crew supplied no list of hazards")
    assert hazard_caution(marks((0, 0, "hazard", "", ""))).startswith("Hazards are marked where the crew knew")


def test_germans_read_it_in_german():
    """The same facts, in the words of an angler's guide."""
    with speaking("de"):
        assert told((-350, 440, "hazard", "Stümpfe", "")) == [
            ("Gefahrenstelle: Stümpfe, 60 m vor diesem Ufer, Richtung Süd.", True),
            ("Es muss nicht die einzige sein.", False),
        ]
