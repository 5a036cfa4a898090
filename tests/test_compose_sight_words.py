"""What a photo looks across is named only where it is so."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import LineString, box

from atlasgen.compose.sight_words import across_words
from atlasgen.model import NamedArea, PointM

# An arm 200 m wide that runs east; the bank looked at is its north side.
ARM = box(-1000, 0, 1000, 200)
BANK = LineString([(-50, 200), (50, 200)])
PLACES = (NamedArea("Cask Arm", box(-1000, -50, 1000, 250)), NamedArea("Elsewhere", box(2000, 0, 3000, 100)))


@pytest.mark.parametrize(
    ("station", "places", "words"),
    [
        (PointM(0, 0), PLACES, "across Cask Arm"),
        (PointM(0, 0), (), "across the water"),
        (PointM(0, 0), (NamedArea("  ", ARM),), "across the water"),
        (PointM(0, 150), PLACES, ""),
        (PointM(0, 300), PLACES, ""),
        (PointM(0, -400), PLACES, ""),
    ],
    ids=["from the other bank", "no names", "a blank name", "close by", "from behind the bank", "mostly over land"],
)
def test_what_lies_between(station, places, words):
    """The arm from its other side; nothing from close by, from behind, or where most of the way is land."""
    assert words == across_words(station, BANK, ARM, places)


def test_the_place_with_most_of_the_water_is_named():
    """A bay at the camera's feet gives way to the arm beyond it; half and half names neither."""
    bay, arm = NamedArea("Near Bay", box(-100, 0, 100, 40)), NamedArea("Far Arm", box(-100, 40, 100, 200))
    assert across_words(PointM(0, 0), BANK, ARM, (bay, arm)) == "across Far Arm"
    halves = (NamedArea("One", box(-100, 0, 100, 100)), NamedArea("Other", box(-100, 100, 100, 200)))
    assert across_words(PointM(0, 0), BANK, ARM, halves) == "across the water"


@given(st.floats(0, 360), st.floats(-300, 199), st.floats(-200, 200))
def test_a_turned_world_is_described_alike(turn_deg, y_m, x_m):
    """Turning station, bank, water and places together changes no word, away from the thresholds themselves."""
    station = shapely.Point(x_m, y_m)
    way = shapely.shortest_line(station, BANK)
    share = way.intersection(ARM).length / way.length
    assume(abs(way.length - 60) > 0.01)
    assume(abs(share - 0.6) > 0.001)

    def turned(geometry):
        return shapely.affinity.rotate(geometry, turn_deg, origin=(0, 0))

    there = PointM(*turned(station).coords[0])
    places = [NamedArea(place.name, turned(place.area)) for place in PLACES]
    assert across_words(PointM(x_m, y_m), BANK, ARM, PLACES) == across_words(there, turned(BANK), turned(ARM), places)
