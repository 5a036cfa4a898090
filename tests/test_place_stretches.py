"""Angles between lines of sight and banks that can be drawn by hand, and what pieces of two photos make."""

from __future__ import annotations

import math
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from lakes import island_lake, square_lake
from scipy.spatial.transform import Rotation
from view_scene import index_of, photo_at

from atlasgen.model import PointM
from atlasgen.model.views import ViewRules
from atlasgen.place.rays import Camera
from atlasgen.place.seen import see_photos
from atlasgen.place.stretches import Shown, angle_to_bank_deg, how_seen

# A bank that runs east has its water to the south: a sight line that goes north comes over the water.
EAST = (1.0, 0.0)
UNITS = st.tuples(*[st.floats(-1, 1)] * 3).filter(lambda d: math.hypot(*d) > 0.01)


def angle(east_m: float, north_m: float, fall_m: float, toward=EAST) -> float:
    columns = (np.array([float(value)]) for value in (east_m, north_m, fall_m, *toward))
    return float(angle_to_bank_deg(*columns)[0])


@pytest.mark.parametrize(
    ("east_m", "north_m", "fall_m", "degrees"),
    [
        (0, 100, 0, 90),  # level, square on
        (0, 0, 50, 90),  # straight down
        (0, 100, 100, 90),  # half down, square on
        (100, 0, 0, 0),  # level, along the bank
        (-100, 0, 0, 0),
        (100, 100, 0, 45),
        (100, 0, 100, 45),  # along the bank, from above
        (0, -100, 0, -90),  # level, from behind
        (0, -100, 100, 0),  # from behind, 45 degrees down
        (0, -100, 50, math.degrees(math.asin((50 - 100) / math.hypot(50, 100)))),
        (0, -50, 100, math.degrees(math.asin((100 - 50) / math.hypot(50, 100)))),
        (0, 100, -5, 90),  # up to a bank that stands above: as level
    ],
)
def test_angles_by_hand(east_m, north_m, fall_m, degrees):
    """Square on and straight down 90, along the bank 0, from behind negative while the line is low."""
    assert angle(east_m, north_m, fall_m) == pytest.approx(degrees, abs=1e-6)


@given(UNITS)
def test_over_the_water_it_is_the_angle_between_two_lines(d):
    """As the scalar product gives it: of the line of sight and the bank's run, both without a sense."""
    east, north, fall = d[0], abs(d[1]), abs(d[2])
    between = math.degrees(math.acos(min(abs(east) / math.hypot(east, north, fall), 1.0)))
    assert angle(east, north, fall) == pytest.approx(between, abs=1e-4)


@given(st.floats(-180, 180), st.floats(0, 90), st.floats(-0.5, 0.5), st.floats(-0.5, 0.5))
def test_there_is_no_jump(bearing_deg, down_deg, more_bearing_deg, more_down_deg):
    """Half a degree of turn and of tilt moves its sine by less than 0.03."""

    def sine(bearing: float, down: float) -> float:
        flat = math.cos(math.radians(down))
        sin, cos = math.sin(math.radians(bearing)), math.cos(math.radians(bearing))
        return math.sin(math.radians(angle(sin * flat, cos * flat, math.sin(math.radians(down)))))

    there = sine(bearing_deg + more_bearing_deg, min(max(down_deg + more_down_deg, 0), 90))
    assert abs(there - sine(bearing_deg, down_deg)) < 0.03


@given(UNITS, st.floats(0, 360))
def test_turning_the_world_changes_nothing(d, turn_deg):
    """Bank and line of sight turned together (SciPy's rotations)."""
    turned = Rotation.from_euler("z", turn_deg, degrees=True)
    east, north, down = turned.apply([d[0], d[1], -d[2]])
    toward = turned.apply([*EAST, 0.0])[:2]
    assert angle(east, north, -down, toward) == pytest.approx(angle(*d), abs=1e-4)


@given(UNITS, st.floats(0, 1))
def test_the_steeper_the_better_seen(d, more_m):
    """Rising over one place beside the bank, at any side, the sine of the angle grows towards 1 or stays."""
    east, north, fall = d[0], d[1], abs(d[2])
    low, high = angle(east, north, fall), angle(east, north, fall + more_m)
    assert high >= min(low, 90) - 1e-6


def test_a_photo_from_straight_above_sees_the_bank_squarely():
    """100 m over the north bank: 90 degrees beneath, and nowhere under the 60 of the frame's corner."""
    shore = index_of(square_lake())
    views, (seen,) = see_photos([photo_at(0, 500, height_m=100, pitch_deg=-90)], shore, ViewRules())
    assert seen.angle_deg[np.argmin(seen.distance_m)] > 89
    assert seen.angle_deg.min() == pytest.approx(math.degrees(math.atan2(100, 100)), abs=1)
    assert views.views["p-1"].reaches[0].angle_deg > 45


def gsd_cm(camera: Camera, places: list[tuple[float, float]]) -> np.ndarray:
    """Return what is told of the ground at places beside a bank that runs east."""
    xy_m = np.array(places)
    shore = SimpleNamespace(xy_m=xy_m, toward=np.tile(EAST, (len(xy_m), 1)))
    return how_seen([Shown(camera, 0.0, np.arange(len(xy_m)), np.ones(len(xy_m)))], shore).gsd_cm


def test_from_straight_above_every_pixel_is_as_large():
    """GSD = H Sw / (f imW), of mapping: 120 m, 13.2 mm, 8.8 mm, 5472 px give 3.2895 cm, in the corners too."""
    across_deg = 2 * math.degrees(math.atan(13.2 / 2 / 8.8))
    held = Camera(PointM(0, 0), 120.0, 0.0, -90.0, 0.0, across_deg, 53.0, 5472, 3648)
    assert gsd_cm(held, [(0, 0), (90, 60)]) == pytest.approx([3.2895, 3.2895], abs=1e-4)


def test_a_pixel_spans_its_width_across_the_line_of_sight():
    """3-4-5: 90 m up and 120 m off the middle of the frame is 150 m away, and a pixel is as wide as the lens says."""
    held = Camera(PointM(0, 0), 90.0, 0.0, -math.degrees(math.atan2(90, 120)), 0.0, 60.0, 40.0, 4000, 3000)
    assert gsd_cm(held, [(0, 120)]) == pytest.approx([100 * 150 * 2 * math.tan(math.radians(30)) / 4000])


def test_photos_added_up_together_are_as_each_alone():
    """Pieces of two photos on the same bank, and of one that sees none, are not mixed up."""
    shore = index_of(island_lake())
    photos = [photo_at(0, 0 if n == 1 else 300, heading_deg=90 * n, id=f"p-{n}") for n in range(4)]
    photos.insert(2, photo_at(0, 300, pitch_deg=80, id="sky"))
    views, seen = see_photos(photos, shore, ViewRules())
    for photo, metres in zip(photos, seen, strict=True):
        alone, (again,) = see_photos([photo], shore, ViewRules())
        assert views.views[photo.id] == alone.views[photo.id]
        assert metres.piece.tolist() == again.piece.tolist()
        assert metres.gsd_cm == pytest.approx(again.gsd_cm, rel=1e-6)
        assert metres.angle_deg == pytest.approx(again.angle_deg, abs=1e-3)
        assert metres.distance_m == pytest.approx(again.distance_m, rel=1e-6)
    assert views.views["sky"].stretches == ()
    assert see_photos([], shore, ViewRules())[1] == ()
