"""What lies between a camera and the bank it looks at is named only where it is water, and most of the way."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point, box
from shapely.affinity import rotate

from atlasgen.compose.sight_words import across_words
from atlasgen.model import NamedArea, PointM

# Water 1000 m by 400 m; the bank looked at runs along its north side, 400 m from a station on the south one.
WATER = box(0, 0, 1000, 400)
BANK = LineString([(450, 400), (550, 400)])
WEST, EAST = NamedArea(" Cask Arm ", box(0, 0, 600, 400)), NamedArea("Main basin", box(600, 0, 1000, 400))


def test_the_place_that_is_crossed_is_named():
    """The way north from (500, 0) lies in Cask Arm alone; the name is written without the blanks of its file."""
    assert across_words(PointM(500, 0), BANK, WATER, (WEST, EAST)) == "across Cask Arm"
    assert across_words(PointM(500, 0), BANK, WATER, (EAST, WEST)) == "across Cask Arm"


def test_without_a_name_it_is_the_water():
    """No places, a place elsewhere, or one that nobody named."""
    for places in ((), (EAST,), (NamedArea("  ", WEST.area),)):
        assert across_words(PointM(500, 0), BANK, WATER, places) == "across the water"


@pytest.mark.parametrize(("top_m", "words"), [(201, "across Cask Arm"), (199, "across the water")])
def test_a_place_is_named_where_it_holds_most_of_the_water_crossed(top_m, words):
    """Of 400 m, 201 are more than half, 199 are not."""
    assert across_words(PointM(500, 0), BANK, WATER, (NamedArea("Cask Arm", box(0, 0, 1000, top_m)),)) == words


@pytest.mark.parametrize(("off_m", "words"), [(59.0, ""), (61.0, "across the water")])
def test_a_bank_nearer_than_60_m_is_not_looked_at_across_anything(off_m, words):
    """It is beside the camera."""
    assert across_words(PointM(500, 400 - off_m), BANK, WATER, ()) == words


@pytest.mark.parametrize(("land_m", "words"), [(150, "across the water"), (170, "")])
def test_land_between_is_not_looked_across(land_m, words):
    """An island in the way leaves 250 m of 400 m wet, 62.5 %; a larger one 230 m, 57.5 %, less than 60 %."""
    water = WATER.difference(box(400, 100, 600, 100 + land_m))
    assert across_words(PointM(500, 0), BANK, water, ()) == words


def test_a_camera_far_inland_looks_over_land():
    """700 m of hill, then 400 m of water: not across the water."""
    assert across_words(PointM(500, -700), BANK, WATER, (WEST,)) == ""


@given(st.integers(0, 359), st.integers(-300, 399))
def test_a_turned_world_gives_the_same_words(by_deg, y_m):
    """Nothing depends on which way north is."""
    station = Point(500, y_m)
    turned = [rotate(shape, by_deg, origin=(0, 0)) for shape in (station, BANK, WATER, WEST.area)]
    words = across_words(PointM(*turned[0].coords[0]), turned[1], turned[2], (NamedArea("Cask Arm", turned[3]),))
    # On the very threshold a turn may round either way.
    if abs(400 - y_m - 60) > 1 and abs(400 / (400 - y_m) - 0.6) > 0.01:
        assert words == across_words(PointM(500, y_m), BANK, WATER, (NamedArea("Cask Arm", WEST.area),))
