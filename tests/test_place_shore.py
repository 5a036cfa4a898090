from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lakes import cove_lake, island_lake, projection, square_lake, two_part_lake
from shapely import LinearRing, MultiPolygon, Point, Polygon, affinity, box
from shapely.geometry import LineString

from atlasgen.model import LonLat, NamedArea, PointM, Reach, Ring
from atlasgen.place.shore import build_rings, cut_reaches, place_finder


def _cut(water: MultiPolygon, length_m: float, start: PointM | None = None) -> tuple[Reach, ...]:
    return cut_reaches(build_rings(water, start), length_m, projection(), lambda _: "tile", lambda _: "")


def _star(radii: list[float]) -> MultiPolygon:
    """Return a lake around (0, 0), whose shore is at the given distances in turn."""
    angles = np.linspace(0, 2 * math.pi, len(radii), endpoint=False)
    return MultiPolygon([Polygon([(r * math.sin(a), r * math.cos(a)) for r, a in zip(radii, angles, strict=True)])])


STARS = st.lists(st.floats(300, 900), min_size=5, max_size=24).map(_star)


def test_the_shore_starts_in_the_north_west_and_goes_clockwise() -> None:
    """Without a start: the northernmost vertex, the westernmost of two; water on the right hand."""
    (ring,) = build_rings(square_lake(), None)
    assert list(ring.line.coords) == [(-500, 500), (500, 500), (500, -500), (-500, -500), (-500, 500)]
    assert (ring.id, ring.island, ring.name) == ("S", False, "main shore")


def test_the_shore_starts_nearest_to_the_start_point() -> None:
    """A new vertex is put in where the start point's nearest place is."""
    (ring,) = build_rings(square_lake(), PointM(530.0, 100.0))
    assert list(ring.line.coords) == [(500, 100), (500, -500), (-500, -500), (-500, 500), (500, 500), (500, 100)]


@pytest.mark.parametrize("start", [PointM(500.0, -500.0), PointM(900.0, -900.0)])
def test_a_start_at_a_vertex_adds_none(start) -> None:
    """Four corners stay four."""
    (ring,) = build_rings(square_lake(), start)
    assert list(ring.line.coords) == [(500, -500), (-500, -500), (-500, 500), (500, 500), (500, -500)]


def test_a_start_at_the_ring_s_own_first_vertex() -> None:
    """The closing vertex is the first one again."""
    corner = square_lake().geoms[0].exterior.coords[0]
    (ring,) = build_rings(square_lake(), PointM(*corner))
    assert ring.line.coords[0] == corner
    assert len(ring.line.coords) == 5


def test_an_island_is_walked_the_other_way() -> None:
    """Counter-clockwise, so that the water is on the right hand again."""
    outer, island = build_rings(island_lake(), None)
    assert (island.id, island.island, island.name) == ("A", True, "island A")
    assert LinearRing(island.line.coords).is_ccw
    assert not LinearRing(outer.line.coords).is_ccw
    assert island.line.length == 800


def test_islands_are_in_the_order_of_the_shore_nearest_to_them() -> None:
    """One island off each bank, met in the order west of north, east, south: a start point turns the order."""
    holes = [box(-20, -480, 20, -440), box(440, -20, 480, 20), box(-120, 440, -80, 480)]
    water = MultiPolygon([Polygon(square_lake().geoms[0].exterior, [hole.exterior for hole in holes])])
    rings = build_rings(water, None)
    assert [ring.id for ring in rings] == ["S", "A", "B", "C"]
    assert [ring.line.centroid.coords[0] for ring in rings[1:]] == [(-100, 460), (460, 0), (0, -460)]
    turned = build_rings(water, PointM(500.0, 300.0))
    assert [ring.line.centroid.coords[0] for ring in turned[1:]] == [(460, 0), (0, -460), (-100, 460)]


def test_an_island_starts_where_it_is_nearest_to_the_shore() -> None:
    """An island with a spit towards the west bank starts at the tip, wherever the start point is."""
    hole = Polygon([(-50, -50), (50, -50), (50, 50), (-50, 50), (-300, 0)])
    water = MultiPolygon([Polygon(square_lake().geoms[0].exterior, [hole.exterior])])
    for start in (None, PointM(500.0, 0.0)):
        assert build_rings(water, start)[1].line.coords[0] == (-300, 0)


def test_no_island_takes_the_main_shore_s_letter() -> None:
    """The nineteenth island is T, the twenty-sixth AA."""
    holes = [box(x, y, x + 20, y + 20).exterior for x in range(-400, 400, 100) for y in range(-400, 400, 200)]
    water = MultiPolygon([Polygon(square_lake().geoms[0].exterior, holes)])
    ids = [ring.id for ring in build_rings(water, None)]
    assert ids[:1] + ids[18:21] + ids[25:28] == ["S", "R", "T", "U", "Z", "AA", "AB"]
    assert len(set(ids)) == len(ids) == 33


def test_the_largest_water_comes_first() -> None:
    """The pond is S2 whatever its place in the file."""
    rings = build_rings(two_part_lake(), None)
    assert [(ring.id, ring.line.length) for ring in rings] == [("S", 4000), ("S2", 1200)]


def test_repeated_vertices_are_dropped() -> None:
    """A shore drawn with the same point twice has no segment of no length."""
    water = MultiPolygon([Polygon([(0, 0), (0, 100), (0, 100), (100, 100), (100, 0), (100, 0)])])
    assert len(build_rings(water, None)[0].line.coords) == 5


def test_reaches_of_the_square_lake() -> None:
    """Forty reaches of 100 m; the first is on the north bank, which faces south."""
    reaches = _cut(square_lake(), 100)
    assert len(reaches) == 40
    first = reaches[0]
    assert (first.id, first.ring, first.from_m, first.to_m) == ("S-0001", "S", 0, 100)
    assert list(first.line.coords) == [(-500, 500), (-400, 500)]
    assert first.midpoint == pytest.approx(projection().lonlat(PointM(-450.0, 500.0)), abs=1e-12)
    assert (first.name, first.tile, first.place) == ("north bank", "tile", "")
    assert first.faces_deg == pytest.approx(180, abs=0.01)


def test_banks_are_named_for_the_side_they_are_on() -> None:
    """North, east, south and west bank, ten reaches each; each faces the middle."""
    reaches = _cut(square_lake(), 100)
    names = [reach.name for reach in reaches]
    assert names == ["north bank"] * 10 + ["east bank"] * 10 + ["south bank"] * 10 + ["west bank"] * 10
    assert [round(reach.faces_deg) % 360 for reach in reaches[4::10]] == [180, 270, 0, 90]


def test_an_island_s_shore_is_named_for_the_way_it_faces() -> None:
    """The west shore of an island faces west."""
    shores = {reach.name: reach for reach in _cut(island_lake(), 50) if reach.ring == "A"}
    west = shores["west shore"]
    assert west.faces_deg == pytest.approx(270, abs=0.01)
    assert {x for x, _ in west.line.coords} == {-100}
    assert shores.keys() >= {"north shore", "east shore", "south shore", "west shore"}


def test_a_reach_over_a_corner_faces_between_the_two_banks() -> None:
    """Half on the north bank, half on the east bank: it is the north-east bank and faces south-west."""
    (corner,) = [
        reach for reach in _cut(square_lake(), 500, PointM(-250.0, 500.0)) if list(reach.line.coords)[1] == (500, 500)
    ]
    assert list(corner.line.coords) == [(250, 500), (500, 500), (500, 250)]
    assert corner.name == "north-east bank"
    assert corner.faces_deg == pytest.approx(225, abs=0.01)


def test_a_reach_round_a_cove_faces_out_of_it() -> None:
    """A reach that goes into the northern cove and out again faces south, as its chord does."""
    reaches = _cut(cove_lake(), 1300, PointM(-350.0, 500.0))
    first = reaches[0]
    assert (first.line.coords[0], first.line.coords[-1]) == ((-350, 500), (350, 500))
    assert first.faces_deg == pytest.approx(180, abs=0.01)


def test_a_reach_that_doubles_back_asks_its_middle() -> None:
    """Ends 20 m apart after 420 m: the head of the narrow inlet decides, which faces south."""
    hairpin = Polygon([(-500, 500), (-10, 500), (-10, 700), (10, 700), (10, 500), (500, 500), (500, 0), (-500, 0)])
    rings = build_rings(MultiPolygon([hairpin]), PointM(-10.0, 500.0))
    ring = replace(rings[0], line=LineString(rings[0].line.coords[:4]))
    (reach,) = cut_reaches([ring], 420, projection(), lambda _: "", lambda _: "")
    assert reach.faces_deg == pytest.approx(180, abs=0.01)


def test_a_ring_of_one_reach_is_the_whole_shore() -> None:
    """A small island is one reach; it has no chord, and faces away from its start."""
    reaches = [reach for reach in _cut(island_lake(), 1000) if reach.ring == "A"]
    assert [(reach.id, reach.name, reach.length_m) for reach in reaches] == [("A-0001", "whole shore", 800)]
    assert reaches[0].line.is_closed
    assert 0 <= reaches[0].faces_deg < 360


def test_bearings_are_true_far_from_the_centre() -> None:
    """A north bank 25 km east of the projection's centre faces 180° plus the convergence, 0.22°."""
    reach = _cut(affinity.translate(square_lake(), 25_000, 0), 1000)[0]
    assert reach.faces_deg == pytest.approx(180.22, abs=0.02)


@given(STARS, st.floats(10, 2000))
@settings(max_examples=60)
def test_reaches_add_up_to_their_ring(water, length_m) -> None:
    """No shore is lost or counted twice, and neighbours meet in the very same point."""
    (ring,) = build_rings(water, None)
    reaches = _cut(water, length_m)
    assert len(reaches) == max(1, round(ring.line.length / length_m))
    assert math.fsum(reach.length_m for reach in reaches) == pytest.approx(ring.line.length, abs=1e-6)
    assert math.fsum(reach.line.length for reach in reaches) == pytest.approx(ring.line.length, abs=1e-6)
    for one, following in zip(reaches, [*reaches[1:], reaches[0]], strict=True):
        assert one.line.coords[-1] == following.line.coords[0]
        assert one.line.length == pytest.approx(one.length_m, abs=1e-6)


@given(STARS)
@settings(max_examples=60)
def test_short_reaches_face_the_water(water) -> None:
    """One step from the middle of a straight reach, the way it faces, is water; one step back is land."""
    plane = projection()
    for reach in _cut(water, 20):
        if len(reach.line.coords) > 2:
            continue
        at, angle = plane.point(reach.midpoint), math.radians(reach.faces_deg)
        step = (math.sin(angle) * 0.01, math.cos(angle) * 0.01)
        assert water.contains(Point(at.x_m + step[0], at.y_m + step[1]))
        assert not water.contains(Point(at.x_m - step[0], at.y_m - step[1]))


@given(STARS, st.floats(0, 360))
@settings(max_examples=30)
def test_turning_the_lake_turns_its_reaches(water, turn_deg) -> None:
    """Same lengths, and each reach faces as many degrees more."""
    start = PointM(*water.geoms[0].exterior.coords[0])
    turned = affinity.rotate(water, -turn_deg, origin=(0, 0))
    turned_start = PointM(*turned.geoms[0].exterior.coords[0])
    for before, after in zip(_cut(water, 100, start), _cut(turned, 100, turned_start), strict=True):
        assert after.length_m == pytest.approx(before.length_m, abs=1e-6)
        assert (after.faces_deg - before.faces_deg - turn_deg + 180) % 360 - 180 == pytest.approx(0, abs=0.05)


def test_tile_and_place_are_asked_at_the_midpoint() -> None:
    """Each reach carries what the two functions say of its midpoint."""
    rings = build_rings(square_lake(), None)
    reaches = cut_reaches(rings, 1000, projection(), lambda at: f"{at.lon_deg:.3f}", lambda at: f"{at.lat_deg:.3f}")
    assert [(reach.tile, reach.place) for reach in reaches] == [
        ("-30.000", "45.004"),
        ("-29.994", "45.000"),
        ("-30.000", "44.996"),
        ("-30.006", "45.000"),
    ]


def test_a_ring_keeps_its_many_vertices() -> None:
    """Every vertex of a fine shoreline is in exactly one reach, or in two where it is a cut."""
    fine = Point(0, 0).buffer(1000, quad_segs=2500)
    reaches = _cut(MultiPolygon([fine]), 100)
    inner = sum(len(reach.line.coords) - 2 for reach in reaches)
    cuts = {reach.line.coords[0] for reach in reaches}
    assert inner + len(cuts & set(fine.exterior.coords)) == pytest.approx(10_000, abs=len(reaches))


def test_the_first_named_area_that_holds_a_place() -> None:
    """In the crew's order; with a metre of grace, and nothing farther out."""
    places = [NamedArea("Otter Cove", box(0, 0, 1, 1)), NamedArea("Long Bay", box(0.5, 0, 2, 1))]
    place_of = place_finder(places)
    assert place_of(LonLat(0.75, 0.5)) == "Otter Cove"
    assert place_of(LonLat(1.5, 0.5)) == "Long Bay"
    assert place_of(LonLat(2.000005, 0.5)) == "Long Bay"
    assert place_of(LonLat(2.001, 0.5)) == ""
    assert place_finder([])(LonLat(0.5, 0.5)) == ""


def test_rings_are_plain_values() -> None:
    """Built twice, they are equal to the last digit."""
    assert build_rings(cove_lake(), PointM(3.3, 9.9)) == build_rings(cove_lake(), PointM(3.3, 9.9))
    assert isinstance(build_rings(cove_lake(), None)[0], Ring)
