"""The pinhole camera, against another library's rotations and by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pinhole import in_frame
from scipy.spatial.transform import Rotation

from atlasgen.model import PointM
from atlasgen.place.rays import Camera, camera_axes, corner_rays

HEADING = st.floats(0, 360)
PITCH = st.floats(-120, 60)
ROLL = st.floats(-180, 180)


def camera(heading_deg=0.0, pitch_deg=0.0, roll_deg=0.0, hfov_deg=90.0, vfov_deg=60.0) -> Camera:
    return Camera(PointM(10, 20), 30.0, heading_deg, pitch_deg, roll_deg, hfov_deg, vfov_deg, 4000, 3000)


def scipy_axes(heading_deg: float, pitch_deg: float, roll_deg: float) -> np.ndarray:
    """Right, up, forward of a camera that first looks north, turned by SciPy about z, its own x, its own y."""
    turned = Rotation.from_euler("ZXY", [-heading_deg, pitch_deg, roll_deg], degrees=True)
    return turned.apply(np.array([[1.0, 0, 0], [0, 0, 1], [0, 1, 0]]))


@given(HEADING, PITCH, ROLL)
def test_axes_are_those_of_another_library(heading_deg, pitch_deg, roll_deg):
    """SciPy's intrinsic rotations give the same three directions."""
    expected = scipy_axes(heading_deg, pitch_deg, roll_deg)
    assert np.allclose(expected, camera_axes(heading_deg, pitch_deg, roll_deg), atol=1e-12)


def test_axes_of_many_angles_at_once():
    """Arrays of angles give arrays of axes."""
    headings = np.array([0.0, 90.0])
    expected = np.stack([camera_axes(0, -30, 5), camera_axes(90, -30, 5)])
    assert np.allclose(expected, camera_axes(headings, -30.0, 5.0))


@pytest.mark.parametrize(
    ("heading_deg", "pitch_deg", "forward"),
    [(0, 0, (0, 1, 0)), (90, 0, (1, 0, 0)), (180, 0, (0, -1, 0)), (0, -90, (0, 0, -1)), (270, -45, (-1, 0, -1))],
)
def test_where_the_camera_looks(heading_deg, pitch_deg, forward):
    """North, east, south, straight down, and down to the west."""
    expected = np.array(forward) / np.linalg.norm(forward)
    assert np.allclose(expected, camera(heading_deg, pitch_deg).axes[2], atol=1e-12)


def test_tilt_from_straight_down_is_90_less_the_depression():
    """KML's camera tilt: 0 straight down, 90 at the horizon, more is sky (OGC KML 2.2, element `tilt`)."""
    for depression_deg in (90, 60, 0, -10):
        tilt_deg = np.degrees(np.arccos(-camera(40, -depression_deg).axes[2, 2]))
        assert tilt_deg == pytest.approx(90 - depression_deg, abs=1e-6)


def test_a_right_side_that_hangs_down_lifts_the_horizon_there():
    """With a roll of 10 a level place ahead on the right appears above the middle, one on the left below."""
    ahead = np.array([[10 + 50, 20 + 100, 30.0], [10 - 50, 20 + 100, 30.0]])
    _, up, _ = in_frame(camera(roll_deg=10), ahead)
    assert (up[0] > 0, up[1] < 0) == (True, True)
    assert up[0] == pytest.approx(0.5 * np.sin(np.radians(10)) / np.tan(np.radians(30)))


def test_the_corners_in_order():
    """Lower left, lower right, upper right, upper left: 45 degrees to the side and 30 up or down, looking north."""
    up = np.tan(np.radians(30))
    expected = np.array([[-1, 1, -up], [1, 1, -up], [1, 1, up], [-1, 1, up]]) / np.sqrt(2 + up**2)
    assert np.allclose(expected, corner_rays(camera()))


@given(HEADING, PITCH, ROLL)
def test_corners_are_at_the_corners_of_the_frame(heading_deg, pitch_deg, roll_deg):
    """Turned however: seen from the camera they fall on the corners."""
    held = camera(heading_deg, pitch_deg, roll_deg)
    across, up, _ = in_frame(held, held.place + 100 * corner_rays(held))
    assert np.allclose(([-1, 1, 1, -1], [-1, -1, 1, 1]), (across, up), atol=1e-6)


def test_a_pixel_at_unit_distance():
    """Ninety degrees are 2 m wide 1 m away, and 4000 pixels share them."""
    assert camera().pixel_tangent == pytest.approx(2 / 4000)
