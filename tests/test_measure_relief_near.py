"""Features beside reaches: distance to the edge, bearing to the top, and never over land."""

from __future__ import annotations

import bathymetry
import numpy as np
import pytest
from shapely import LineString, Point, box

from atlasgen.measure.relief_near import relief_of_reaches
from atlasgen.model import LonLat, PointM
from atlasgen.model.relief import ReliefFeature
from atlasgen.place.geo import Projection

PROJECTION = Projection("+proj=aeqd +lat_0=45 +lon_0=-30 +datum=WGS84 +units=m +no_defs")
SOUTH = bathymetry.reach("south", LineString([(80, 0), (20, 0)]))


def hump(name: str, x: float, y: float, half_m: float = 5.0) -> ReliefFeature:
    return ReliefFeature(
        name, "hump", PointM(x, y), LonLat(0, 0), 2.0, 3.0, 1.0, 100.0, 10.0, 10.0, None, 12, 0.2, 0.4, "good",
        box(x - half_m, y - half_m, x + half_m, y + half_m),
    )  # fmt: skip


def test_distance_is_to_the_edge_and_bearing_to_the_top():
    """A hump 10 m wide, 40 m due north of the bank; and one 15 m west of the reach's end, 25 m out."""
    north, west = hump("hump 1", 50, 40), hump("hump 2", 5, 25)
    near = relief_of_reaches([north, west], [SOUTH], bathymetry.pond(), PROJECTION)["south"]
    assert [item.feature for item in near] == ["hump 2", "hump 1"]
    assert near[0].edge_m == pytest.approx(np.hypot(10, 20))
    assert near[0].distance_m == pytest.approx(np.hypot(15, 25))
    assert near[0].bearing_deg == pytest.approx(360 - np.degrees(np.arctan2(15, 25)), abs=0.01)
    assert near[1].edge_m == pytest.approx(35)
    assert near[1].distance_m == pytest.approx(40)
    assert np.cos(np.radians(near[1].bearing_deg)) == pytest.approx(1, abs=1e-6)


def test_what_is_farther_than_asked_is_not_told():
    """From 35 m on it is."""
    one = hump("hump 1", 50, 40)
    assert relief_of_reaches([one], [SOUTH], bathymetry.pond(), PROJECTION, 34.9) == {"south": ()}
    assert len(relief_of_reaches([one], [SOUTH], bathymetry.pond(), PROJECTION, 35.1)["south"]) == 1


def test_nothing_is_told_across_a_spit():
    """West bank, a spit at x = 48 to 52, a hump east of it: near in metres, and not over water."""
    west = bathymetry.reach("west", LineString([(0, 20), (0, 60)]))
    water = bathymetry.spit_pond()
    assert not water.contains(Point(50, 40))
    assert relief_of_reaches([hump("hump 1", 60, 40)], [west], water, PROJECTION) == {"west": ()}
    assert len(relief_of_reaches([hump("hump 1", 40, 40)], [west], water, PROJECTION)["west"]) == 1


def test_without_features_every_reach_has_none():
    """An empty mapping would leave a page asking."""
    assert relief_of_reaches([], [SOUTH], bathymetry.pond(), PROJECTION) == {"south": ()}
