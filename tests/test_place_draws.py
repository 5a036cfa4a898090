"""Shares of draws against the normal distribution's table."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from view_scene import photo_at

from atlasgen.model import PointM
from atlasgen.place.camera import COMPASS_SIGMA_DEG, EYE_SIGMA_M, HAND_LEVEL_SIGMA_DEG
from atlasgen.place.draws import POSITION_SIGMA_M, Pose, PoseSigmas, drawn_circles, drawn_frames, pose_sigmas
from atlasgen.place.rays import Camera

SURE = PoseSigmas(0, 0, 0, 0, 0)
NORTH = Camera(PointM(0, 0), 10.0, 0, 0, 0, 90, 60, 4000, 3000)


def share_in_frame(camera, sigmas, xyz, photo_id, draws, *, any_heading=False):
    """Share of the draws in which points are in the frame of one camera."""
    pose = Pose(camera, sigmas, photo_id)
    (frames,) = drawn_frames([pose], draws)
    return (drawn_circles(pose, draws) if any_heading else frames).share(xyz)


def at_bearing(bearing_deg: float, up_deg: float = 0.0, away_m: float = 1000.0) -> np.ndarray:
    """Put a point at a bearing, level or `up_deg` above."""
    turn = math.radians(bearing_deg)
    return np.array([[away_m * math.sin(turn), away_m * math.cos(turn), 10 + away_m * math.tan(math.radians(up_deg))]])


def test_a_sure_pose_knows_the_edge_of_its_frame():
    """44 degrees off the axis is in, 46 is not, and the back is not."""
    xyz = np.concatenate([at_bearing(b) for b in (0, 44, -44, 46, 180)])
    assert share_in_frame(NORTH, SURE, xyz, "p", 24).tolist() == [1, 1, 1, 0, 0]


@pytest.mark.parametrize(("sigmas_inside", "share"), [(-1, 0.1587), (0, 0.5), (1, 0.8413), (2, 0.9772)])
def test_heading_draws_are_normal(sigmas_inside, share):
    """Five degrees of sigma; so many sigmas inside the right edge (any table of the normal distribution)."""
    found = share_in_frame(NORTH, SURE._replace(heading_deg=5), at_bearing(45 - 5 * sigmas_inside), "p", 20_000)
    assert found == pytest.approx([share], abs=0.01)


def test_pitch_draws_are_normal():
    """A point two degrees under the upper edge, with two degrees of sigma."""
    found = share_in_frame(NORTH, SURE._replace(pitch_deg=2), at_bearing(0, 28), "p", 20_000)
    assert found == pytest.approx([0.8413], abs=0.01)


def test_roll_draws_are_normal():
    """The right end of the horizon, lifted out of a low frame by a roll of its own angle: one sigma each way."""
    low = replace(NORTH, vfov_deg=2 * math.degrees(math.atan(math.tan(math.radians(5)) * math.cos(math.radians(5)))))
    edge = at_bearing(math.degrees(math.atan(math.cos(math.radians(5)))))
    assert share_in_frame(low, SURE._replace(roll_deg=5), edge, "p", 20_000) == pytest.approx([0.6827], abs=0.02)


def test_position_and_height_draws():
    """Straight down from 10 m, the frame reaches 10 m across: 2 m short of the edge with 2 m of sigma."""
    down = replace(NORTH, pitch_deg=-90)
    across = np.array([[8.0, 0, 0]])
    assert share_in_frame(down, SURE._replace(position_m=2), across, "p", 20_000) == pytest.approx([0.8413], abs=0.01)
    assert share_in_frame(down, SURE._replace(height_m=2), across, "p", 20_000) == pytest.approx([0.8413], abs=0.01)


def test_any_heading_counts_what_is_in_every_frame():
    """From 10 m and 60 degrees the narrow way: 5.77 m, wherever it is."""
    down = replace(NORTH, pitch_deg=-90)
    around = np.array([[5.7, 0, 0], [0, 5.7, 0], [0, -5.7, 0], [5.9, 0, 0], [0, 5.9, 0]])
    assert share_in_frame(down, SURE, around, "p", 24, any_heading=True).tolist() == [1, 1, 1, 0, 0]
    # Ground at half the height is in a circle half as wide.
    near = np.array([[2.8, 0, 5.0], [3.0, 0, 5.0]])
    assert share_in_frame(down, SURE, near, "p", 24, any_heading=True).tolist() == [1, 0]
    leaning = share_in_frame(down, SURE._replace(pitch_deg=3), np.array([[5.0, 0, 0]]), "p", 4000, any_heading=True)
    # tan of 26.57 degrees: 3.43 degrees of lean to either side, 1.145 sigmas.
    assert leaning == pytest.approx([0.7477], abs=0.02)


def test_draws_are_the_photos_own_and_the_same_every_time():
    """One id, one set of draws; which heading meets which pitch shows in the frame's corner."""
    sigmas = SURE._replace(heading_deg=5, pitch_deg=5)
    xyz = np.concatenate([at_bearing(40 + 0.1 * n, 20) for n in range(60)])
    one, again, other = (share_in_frame(NORTH, sigmas, xyz, name, 24) for name in ("p-1", "p-1", "p-2"))
    assert (one == again).all()
    assert (one != other).any()


def test_the_pose_itself_decides_at_a_single_edge():
    """However few the draws: a hair inside the right edge is in more than half of them, a hair outside in fewer."""
    edge = np.concatenate([at_bearing(44.99), at_bearing(45.01)])
    for draws in (1, 9, 17, 33):
        inside, outside = share_in_frame(NORTH, SURE._replace(heading_deg=10), edge, "p-1", draws)
        assert outside < 0.5 < inside


def test_sigmas_of_a_photo_and_their_defaults():
    """What a photo says counts; what it does not say is the poorest of its kind."""
    photo = photo_at(0, 0, position_sigma_m=None, heading_sigma_deg=7.0)
    assert pose_sigmas(photo)[:3] == (POSITION_SIGMA_M, 1e-6, 7.0)
    bare = replace(
        photo,
        height_above_water_m=replace(photo.height_above_water_m, sigma=None),
        heading_deg_true=None,
        pitch_deg=None,
        roll_deg=None,
    )
    assert pose_sigmas(bare) == (POSITION_SIGMA_M, EYE_SIGMA_M, COMPASS_SIGMA_DEG, HAND_LEVEL_SIGMA_DEG, 0.0)
