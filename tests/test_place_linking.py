from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given, settings
from hypothesis import strategies as st
from lakes import cove_lake, island_lake, projection, square_lake, two_part_lake
from shapely import LineString, MultiPolygon, Point, Polygon, affinity

from atlasgen.model import PointM, Reach
from atlasgen.place.linking import nearest_reaches, over_water
from atlasgen.place.shore import build_rings, cut_reaches


def _reaches(water: MultiPolygon, length_m: float = 100, start: PointM | None = None) -> tuple[Reach, ...]:
    return cut_reaches(build_rings(water, start), length_m, projection(), lambda _: "", lambda _: "")


def _star(radii: list[float]) -> MultiPolygon:
    angles = np.linspace(0, 2 * math.pi, len(radii), endpoint=False)
    outline = [(r * math.sin(a), r * math.cos(a)) for r, a in zip(radii, angles, strict=True)]
    island = [(x * 0.3, y * 0.3) for x, y in outline]
    return MultiPolygon([Polygon(outline, [island])])


STARS = st.lists(st.floats(300, 900), min_size=5, max_size=30).map(_star)
PLACES = st.tuples(st.floats(-1200, 1200), st.floats(-1200, 1200)).map(lambda xy: PointM(*xy))


def test_links_of_the_square_lake() -> None:
    """A camera 30 m out from the north bank, one 40 m behind the east bank."""
    north, east = nearest_reaches([PointM(-330.0, 470.0), PointM(540.0, 120.0)], _reaches(square_lake()))
    assert north == ("S-0002", pytest.approx(30), pytest.approx(170), pytest.approx((-330, 500)))
    assert east == ("S-0014", pytest.approx(40), pytest.approx(1380), pytest.approx((500, 120)))


def test_beyond_the_corner_the_corner_is_nearest() -> None:
    """A right angle of 30 and 40 m: 50 m; both reaches that meet there are as near, the first one is linked."""
    (link,) = nearest_reaches([PointM(530.0, 540.0)], _reaches(square_lake()))
    assert link == ("S-0010", pytest.approx(50), pytest.approx(1000), pytest.approx((500, 500)))


def test_at_the_start_point_the_first_reach_wins() -> None:
    """The ring's first and last reach meet there."""
    (link,) = nearest_reaches([PointM(-510.0, 510.0)], _reaches(square_lake()))
    assert (link.reach_id, link.chainage_m) == ("S-0001", 0)


def test_ties_go_to_the_first_in_reading_order() -> None:
    """The middle of the square is as far from all four banks; among 5000 m of shore and pond too."""
    (link,) = nearest_reaches([PointM(0.0, 0.0)], _reaches(square_lake(), 1000))
    assert (link.reach_id, link.distance_m) == ("S-0001", 500)
    # Half-way between the square's east bank and the pond's west bank.
    (between,) = nearest_reaches([PointM(750.0, 0.0)], _reaches(two_part_lake(), 1000))
    assert (between.reach_id, between.distance_m) == ("S-0002", 250)


def test_an_island_is_linked_like_any_shore() -> None:
    """A boat 150 m off the island, 250 m off the bank, is tied to the island."""
    (link,) = nearest_reaches([PointM(-250.0, 20.0)], _reaches(island_lake()))
    assert (link.reach_id[0], link.distance_m, link.point) == ("A", 150, (-100, 20))


def test_links_keep_the_order_of_the_points() -> None:
    """Whatever order they are searched in."""
    points = [PointM(float(x), 490.0) for x in (450, -450, 250, -250, 50)]
    links = nearest_reaches(points, _reaches(square_lake()))
    assert [link.point.x_m for link in links] == [450, -450, 250, -250, 50]
    assert [link.reach_id for link in links] == ["S-0010", "S-0001", "S-0008", "S-0003", "S-0006"]


def test_a_reach_of_many_segments() -> None:
    """Chainages go on through the pieces that a fine shoreline is split into."""
    water = MultiPolygon([Point(0, 0).buffer(1000, quad_segs=500)])
    reaches = _reaches(water, 1000, PointM(0.0, 1000.0))
    (ring,) = build_rings(water, PointM(0.0, 1000.0))
    angles = np.radians(np.arange(1, 360, 7))
    points = [PointM(990 * math.sin(a), 990 * math.cos(a)) for a in angles]
    for point, link in zip(points, nearest_reaches(points, reaches), strict=True):
        assert link.chainage_m == pytest.approx(ring.line.project(Point(point)), abs=1e-6)
        (reach,) = [reach for reach in reaches if reach.id == link.reach_id]
        assert reach.from_m <= link.chainage_m <= reach.to_m


@given(STARS, st.lists(PLACES, min_size=1, max_size=8), st.floats(20, 400))
@settings(max_examples=80)
def test_the_nearest_reach_beats_every_other(water, points, length_m) -> None:
    """By brute force; the distance is to the linked point, which lies on the linked reach at its chainage."""
    reaches = _reaches(water, length_m)
    by_id = {reach.id: reach for reach in reaches}
    for point, link in zip(points, nearest_reaches(points, reaches), strict=True):
        distances = {reach.id: reach.line.distance(Point(point)) for reach in reaches}
        assert link.distance_m == pytest.approx(min(distances.values()), abs=1e-9)
        assert distances[link.reach_id] == pytest.approx(link.distance_m, abs=1e-9)
        assert math.dist(point, link.point) == pytest.approx(link.distance_m, abs=1e-9)
        reach = by_id[link.reach_id]
        assert math.dist(reach.line.interpolate(link.chainage_m - reach.from_m).coords[0], link.point) == pytest.approx(
            0, abs=1e-6
        )


@given(STARS, PLACES, st.floats(0, 360))
@settings(max_examples=40)
def test_turning_the_lake_turns_the_answers(water, place, turn_deg) -> None:
    """Same distance and same chainage."""

    def turned(shape):
        return affinity.rotate(shape, turn_deg, origin=(0, 0))

    start = PointM(*water.geoms[0].exterior.coords[0])
    new_start = PointM(*turned(Point(start)).coords[0])
    (before,) = nearest_reaches([place], _reaches(water, 100, start))
    new_place = PointM(*turned(Point(place)).coords[0])
    (after,) = nearest_reaches([new_place], _reaches(turned(water), 100, new_start))
    assert after.distance_m == pytest.approx(before.distance_m, abs=1e-6)
    second_best = sorted(reach.line.distance(Point(place)) for reach in _reaches(water, 100, start))[1]
    # An island as round as the shore is nearest to it everywhere, so where its own ring starts is a toss.
    if second_best - before.distance_m > 1e-6 and before.reach_id.startswith("S-"):
        assert after.reach_id == before.reach_id
        assert after.point == pytest.approx(turned(Point(before.point)).coords[0], abs=1e-6)


def _geodesic_to_line_m(place: tuple[float, float], line: np.ndarray) -> float:
    """Return the distance from (lon, lat) to a line of (lon, lat) vertices: by geographiclib, narrowed down.

    The nearest of 40 samples on each segment is searched again between its neighbours, three times.
    """

    def distance_m(lon: float, lat: float) -> float:
        return Geodesic.WGS84.Inverse(place[1], place[0], lat, lon)["s12"]

    best = math.inf
    for start, end in pairwise(line):
        low, high = 0.0, 1.0
        for _ in range(3):
            shares = np.linspace(low, high, 41)
            found = [distance_m(*(start + share * (end - start))) for share in shares]
            nearest = int(np.argmin(found))
            low, high = shares[max(nearest - 1, 0)], shares[min(nearest + 1, 40)]
            best = min(best, found[nearest])
    return best


@pytest.mark.parametrize("offset_m", [(0, 0), (24_000, 24_000), (-24_000, 10_000)])
@pytest.mark.parametrize("place", [(0.0, 120.0), (-700.0, 300.0), (0.0, 900.0), (480.0, -777.0)])
def test_distances_are_geodesic(offset_m, place) -> None:
    """Equal to brute force on the ellipsoid within 1 cm and 10 ppm, to the corners of a lake 50 km across."""
    plane = projection()
    water = affinity.translate(cove_lake(), *offset_m)
    point = PointM(place[0] + offset_m[0], place[1] + offset_m[1])
    (link,) = nearest_reaches([point], _reaches(water))
    (outline,) = [np.array(part.exterior.coords) for part in plane.to_lonlat(water).geoms]
    expected_m = _geodesic_to_line_m(plane.lonlat(point), outline)
    assert link.distance_m == pytest.approx(expected_m, abs=0.01 + 1e-5 * expected_m)


def test_over_the_water() -> None:
    """Water, land, the island, and the very shoreline, which is land."""
    points = [PointM(-300.0, 0.0), PointM(600.0, 0.0), PointM(0.0, 0.0), PointM(500.0, 0.0)]
    assert over_water(points, island_lake()) == [True, False, False, False]


def test_nothing_to_link() -> None:
    """No points give no links; no reaches is a mistake of the caller."""
    assert nearest_reaches([], _reaches(square_lake())) == []
    assert over_water([], square_lake()) == []
    with pytest.raises(ValueError, match="no reaches to link to"):
        nearest_reaches([PointM(0.0, 0.0)], [])


def test_one_place_many_times() -> None:
    """Points without any spread are sorted and linked all the same."""
    links = nearest_reaches([PointM(0.0, 490.0)] * 3, _reaches(square_lake()))
    assert len(set(links)) == 1
    assert LineString([links[0].point, (0, 490)]).length == 10
