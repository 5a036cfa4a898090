"""Cameras on a map: dots at their stations, moved apart where they would overlap, arrows to those beyond the frame."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_atlas import make_sample_atlas
from shapely import LineString, Point

from atlasgen.compose.cameras import DOT_MM, camera_shapes, cameras_on, far_camera_shapes, numbered_dot
from atlasgen.compose.drawing import Frame
from atlasgen.compose.lettering import Board
from atlasgen.model import LonLat, Measured, PointM

BASE = make_sample_atlas().placed.photos[0]
FRAME = Frame(0.0, 300.0, 5.0, 80.0, 60.0)


def straight(point: PointM) -> LonLat:
    """Let grid north be true north."""
    return LonLat(point.x_m / 111_000, point.y_m / 111_000)


def photo(x: float, y: float, heading: float | None = 0.0):
    toward = None if heading is None else Measured(heading, "EXIF, true", 2.0)
    return replace(BASE, point=PointM(float(x), float(y)), heading_deg_true=toward)


def placed(*photos):
    return cameras_on(FRAME, list(enumerate(photos, 1)), straight, Board(FRAME.paper))


def test_a_lone_camera_stands_at_its_station_and_points_where_it_looked():
    """(200, 150) on the ground is the middle of a map of 400 m by 300 m; no leader is needed."""
    (camera,) = placed(photo(200, 150, 90.0))
    assert (camera.at, camera.station, camera.heading_deg) == ((40, 30), (40, 30), pytest.approx(90.0))
    assert {shape.style for shape in camera_shapes([camera], Board(FRAME.paper))} == {
        "camera",
        "camera-halo",
        "camera-number",
    }


@given(st.lists(st.tuples(st.integers(190, 210), st.integers(140, 160), st.integers(0, 359)), min_size=2, max_size=8))
def test_cameras_of_one_spot_stand_apart_each_tied_to_its_station(shots):
    """Up to eight photos of one turn: no dot over another, and every moved one has its leader."""
    cameras = placed(*(photo(x, y, heading) for x, y, heading in shots))
    assert [
        (a.number, b.number) for a, b in combinations(cameras, 2) if Point(a.at).distance(Point(b.at)) < DOT_MM
    ] == []
    moved = [camera for camera in cameras if camera.at != camera.station]
    leaders = [s.points[0] for s in camera_shapes(cameras, Board(FRAME.paper)) if s.style == "leader"]
    assert [LineString(part).coords[-1] for part in leaders] == [pytest.approx(c.at, abs=0.01) for c in moved]


def test_numbers_hollow_and_filled():
    """A known direction has a pointer on a filled dot, an unknown one neither."""
    assert [s.style for s in numbered_dot(3, (5.0, 5.0), 90.0)] == ["camera-halo", "camera", "camera", "camera-number"]
    assert [s.style for s in numbered_dot(3, (5.0, 5.0), None)] == [
        "camera-halo",
        "camera-unknown",
        "camera-number-unknown",
    ]


def test_a_camera_beyond_the_map_is_an_arrow_toward_it():
    """2 km due east: at the right edge, pointing right, with the distance beside it, inside the frame."""
    shapes = far_camera_shapes(2, photo(2200, 150), FRAME, 2000.0, "metric", Board(FRAME.paper))
    (arrow,) = [s for s in shapes if s.kind == "wedge"]
    assert arrow.turn_deg == pytest.approx(90)
    (x, y) = arrow.points[0][0]
    assert (70 < x < 80, y) == (True, pytest.approx(30, abs=0.1))
    assert [s.text for s in shapes if s.kind == "text"] == ["2", "2.0 km"]
