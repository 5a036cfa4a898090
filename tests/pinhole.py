"""Where a place falls in the frame of a pinhole camera, place by place: what short cuts are held against."""

from __future__ import annotations

import math

import numpy as np

from atlasgen.place.rays import Camera


def in_frame(camera: Camera, xyz: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Place in the frame (across, up) of points (..., 3), and their depth along the axis, metres.

    A point is in the picture where both are within -1 to 1; one that is not before the camera has NaN there.
    """
    half_across, half_up = (math.tan(math.radians(angle / 2)) for angle in (camera.hfov_deg, camera.vfov_deg))
    right, up, depth = np.moveaxis((xyz - camera.place) @ camera.axes.T, -1, 0)
    ahead = np.where(depth > 1e-6, depth, np.nan)
    return right / ahead / half_across, up / ahead / half_up, depth
