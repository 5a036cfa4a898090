"""Private areas: who is in them, and how far a rounded place lies from the true one."""

from __future__ import annotations

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st
from shapely import box

from atlasgen.model import LonLat, NamedArea
from atlasgen.place.private import rounded, treatment

HOME = box(9.0, 45.0, 9.01, 45.01)


@pytest.mark.parametrize(
    ("name", "kind", "wish"),
    [("hide", "", "hide"), ("Round ", "", "round"), ("", "round", "round"), ("", "", "hide"), ("home", "", "hide")],
)
def test_what_is_not_said_is_hidden(name, kind, wish):
    """Only the word `round` makes it less."""
    assert treatment(LonLat(9.005, 45.005), [NamedArea(name, HOME, kind)]) == wish
    assert treatment(LonLat(9.02, 45.005), [NamedArea(name, HOME, kind)]) is None


def test_of_two_areas_the_stricter_counts():
    """Whatever their order."""
    areas = [NamedArea("round", HOME), NamedArea("hide", HOME)]
    assert {treatment(LonLat(9.005, 45.005), some) for some in (areas, areas[::-1])} == {"hide"}


@given(st.floats(-179.9, 179.9), st.floats(-80, 80))
def test_a_rounded_place_is_near_and_says_no_more_than_its_cell(lon, lat):
    """Within half a diagonal of 100 m by geodesics (GeographicLib), and the same for its neighbours in the cell."""
    near = rounded(LonLat(lon, lat))
    assert Geodesic.WGS84.Inverse(lat, lon, near.lat_deg, near.lon_deg)["s12"] < 71.5
    assert rounded(near) == pytest.approx(near, abs=1e-9)
