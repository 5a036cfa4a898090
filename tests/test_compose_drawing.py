"""Frames, scales, cutting to the paper and shapes made of the pieces."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from pyproj import Proj
from sample_scene import CRS, to_lonlat
from shapely import LineString, MultiLineString, MultiPolygon, Point, Polygon, box

from atlasgen.compose.drawing import (
    Frame,
    area,
    dots,
    frame_around,
    frame_filling,
    grid_convergence_deg,
    hatch,
    line,
    nice_step,
    parts_mm,
    round_scale,
    text,
    wedge,
)
from atlasgen.model import PointM

FRAME = Frame(1000.0, 2000.0, 5.0, 80.0, 60.0)  # 1 : 5000, 400 m by 300 m
metres = st.floats(-3000, 3000, allow_nan=False)


def test_the_top_left_of_the_ground_is_the_top_left_of_the_paper():
    """X runs right, y down: at 5 m to the mm, 100 m east and 50 m south of the corner is (20, 10)."""
    assert FRAME.point_mm(PointM(1100, 1950)) == (20.0, 10.0)
    assert FRAME.to_mm(Point(1100, 1950)).coords[0] == pytest.approx((20, 10))
    assert FRAME.bounds_m == (1000.0, 1700.0, 1400.0, 2000.0)


@given(st.floats(0, 80), st.floats(0, 60))
def test_paper_to_ground_and_back(x_mm, y_mm):
    """A point of the paper comes back to itself."""
    assert FRAME.point_mm(FRAME.point_m(x_mm, y_mm)) == pytest.approx((x_mm, y_mm), abs=1e-9)


def test_corners_run_from_north_west_clockwise():
    """NW, NE, SE, SW, as the model says."""
    frame = Frame(-200.0, 150.0, 5.0, 80.0, 60.0)
    nw, ne, se, sw = frame.corners(to_lonlat)
    assert nw.lon_deg < ne.lon_deg
    assert sw.lon_deg < se.lon_deg
    assert nw.lat_deg > sw.lat_deg
    assert nw == to_lonlat(PointM(-200, 150))


@pytest.mark.parametrize(
    ("asked", "round_"), [(4.2, 5.0), (5.0, 5.0), (2.51, 3.0), (8.1, 10.0), (11, 12.5), (0.9, 1.0)]
)
def test_scales_are_round_and_never_larger_than_asked(asked, round_):
    """1 : 4200 becomes 1 : 5000."""
    assert round_scale(asked) == pytest.approx(round_)


@given(metres, metres, st.floats(1, 3000), st.floats(1, 3000), st.one_of(st.none(), st.floats(0, 360)))
def test_a_frame_holds_what_it_is_put_around(x, y, wide, tall, toward):
    """The bounds lie inside the margins, wherever the spare room goes."""
    frame = frame_around((x, y, x + wide, y + tall), 84, 62, least_m=250, margin_mm=5, toward_deg=toward)
    inner = frame.paper.buffer(-5 + 1e-6, join_style="mitre")
    assert inner.covers(frame.to_mm(box(x, y, x + wide, y + tall)))
    assert frame.metres_per_mm * 84 >= 250 - 1e-9


def test_spare_room_goes_to_the_side_asked_for():
    """Toward the east, the bounds stand at the left margin."""
    frame = frame_around((0, 0, 10, 10), 84, 62, least_m=252, margin_mm=5, toward_deg=90)
    assert frame.to_mm(box(0, 0, 10, 10)).bounds[0] == pytest.approx(5.0)
    assert frame.to_mm(box(0, 0, 10, 10)).centroid.y == pytest.approx(31.0)


def test_a_filling_frame_cuts_its_height_to_the_lake():
    """A lake of 1500 m by 750 m on 170 mm with margins of 10 mm is 95 mm tall."""
    frame = frame_filling((0, 0, 1500, 750), 170, 190, margin_mm=10)
    assert (frame.metres_per_mm, frame.height_mm) == (10.0, pytest.approx(95.0))


def test_lines_are_cut_to_the_frame_and_joined():
    """A ring whose start lies inside the frame comes back as one line."""
    ring = LineString([(1200, 1900), (1600, 1900), (1600, 1800), (1200, 1800), (1200, 1900)])
    cut = FRAME.cut_lines([ring])
    assert len(cut.geoms) == 1
    assert cut.bounds == pytest.approx((40, 20, 80, 40))


@given(st.lists(st.tuples(metres, metres), min_size=3, max_size=12))
def test_areas_are_cut_to_the_paper_even_when_they_cross_themselves(corners):
    """Whatever polygon is given, what is drawn lies on the paper and covers its valid part."""
    frame = Frame(-1000.0, 1000.0, 20.0, 100.0, 100.0)
    shape = Polygon(corners)
    cut = frame.cut_area(shape)
    assert cut.is_empty or all(-0.05 <= v <= 100.05 for v in cut.bounds)
    wanted = shapely.make_valid(shape).intersection(box(*frame.bounds_m)).area / 400
    if shape.is_valid:
        assert cut.area == pytest.approx(wanted, abs=0.5)


def test_a_hole_stays_a_hole():
    """An island comes back as a second ring."""
    lake = MultiPolygon([Polygon(box(1050, 1750, 1350, 1950).exterior, [box(1150, 1800, 1250, 1900).exterior])])
    (shape,) = area("water", FRAME.cut_area(lake))
    assert [len(part) for part in shape.points] == [4, 4]


def test_coordinates_are_hundredths_without_repeats():
    """0.01 mm is as fine as it is written; points that fall together are one; -0.0 is 0.0."""
    assert parts_mm(LineString([(-0.001, 0), (0.001, 0.004), (1.23456, 2)])) == (((0.0, 0.0), (1.23, 2.0)),)
    assert str(parts_mm(Point(-0.001, 0))[0][0][0]) == "0.0"
    assert parts_mm(box(0, 0, 1, 1)) == (((1.0, 0.0), (1.0, 1.0), (0.0, 1.0), (0.0, 0.0)),)


def test_nothing_makes_no_shape():
    """Empty geometry leaves no empty path behind."""
    assert area("water", MultiPolygon()) == line("shore", MultiLineString()) == dots("sounding", [], 1) == ()
    assert line("shore", LineString([(0, 0), (0.001, 0)])) == ()


def test_an_area_drawn_as_a_line_is_closed():
    """The outline of a box ends where it began."""
    (shape,) = line("hatch-edge", box(0, 0, 1, 1))
    assert shape.points[0][0] == shape.points[0][-1]


def test_turns_are_kept_within_one_circle():
    """370 degrees is 10."""
    assert wedge("camera", (1, 2), 3.0, 370).turn_deg == 10.0
    assert text("place", "Bay", (1, 2), 2.8, -12.34).turn_deg == -12.3


@pytest.mark.parametrize("at", [(0, 0), (20_000, 5_000), (-15_000, 30_000), (1_000, -25_000)])
def test_grid_convergence_agrees_with_proj(at):
    """PROJ's own meridian convergence (proj_factors) is the reference, in size and in sign.

    By hand: south of the equator, east of the centre, a line of equal x that runs north leans to the west.
    """
    place = to_lonlat(PointM(*at))
    expected = Proj(CRS).get_factors(place.lon_deg, place.lat_deg).meridian_convergence
    assert grid_convergence_deg(to_lonlat, PointM(*at)) == pytest.approx(expected, abs=1e-3)


@given(st.floats(0.01, 1e6), st.integers(2, 12))
def test_steps_are_one_two_or_five(span, count):
    """Never 7 or 13: the mantissa is 1, 2 or 5, and no more parts than asked for."""
    step = nice_step(span, count)
    mantissa = step / 10 ** math.floor(math.log10(step) + 1e-9)
    assert min(abs(mantissa - nice) for nice in (1, 2, 5)) < 1e-6
    assert span / step <= count + 1e-6


def test_hatching_stays_inside_and_keeps_its_spacing():
    """Lines at 45 degrees, 2 mm apart, over 20 mm by 20 mm: 400 mm2 / 2 mm = 200 mm of line."""
    region = box(3, 4, 23, 24)
    lines = hatch(region, 2.0)
    assert region.buffer(1e-9).covers(lines)
    assert lines.length == pytest.approx(200, rel=0.03)
    assert hatch(Polygon()).is_empty
