"""The camera as a pinhole: where it stood, which way it looked, and the directions of its corners.

Axes: x east, y north (of the lake's map), z up, metres; the water of the day is z = 0. Heading is clockwise from the
map's north, pitch 0 level, negative down and -90 straight down, roll positive where the camera's right side goes down
(the picture's horizon then climbs to the right). A place in the frame is (across, up), each -1 to 1 from edge to edge,
right and up positive. The lens draws straight lines straight; its distortion is not known from the files.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from atlasgen.model import PointM

# Lower left, lower right, upper right, upper left: across, up, ahead.
_CORNERS = np.array([[-1.0, -1, 1], [1, -1, 1], [1, 1, 1], [-1, 1, 1]])


@dataclass(frozen=True)
class Camera:
    """Where a camera stood above the water of the day, how it was held, and how wide it saw; sizes upright."""

    at: PointM
    height_m: float
    heading_deg: float
    pitch_deg: float
    roll_deg: float
    hfov_deg: float
    vfov_deg: float
    width_px: int
    height_px: int

    @cached_property
    def place(self) -> np.ndarray:
        """Its place, shape (3,)."""
        return np.array([self.at.x_m, self.at.y_m, self.height_m])

    @cached_property
    def half_tangents(self) -> tuple[float, float]:
        """Tangents of half the angles across and up."""
        return math.tan(math.radians(self.hfov_deg / 2)), math.tan(math.radians(self.vfov_deg / 2))

    @property
    def pixel_tangent(self) -> float:
        """Width of a pixel at unit distance along the axis."""
        return 2 * self.half_tangents[0] / self.width_px

    @cached_property
    def axes(self) -> np.ndarray:
        """Unit vectors right, up and forward as rows, shape (3, 3)."""
        return camera_axes(self.heading_deg, self.pitch_deg, self.roll_deg)


def camera_axes(
    heading_deg: np.ndarray | float, pitch_deg: np.ndarray | float, roll_deg: np.ndarray | float
) -> np.ndarray:
    """Return unit vectors right, up and forward as rows, shape (..., 3, 3) for angles of shape (...)."""
    h, p, r = (np.radians(np.asarray(angle, float)) for angle in (heading_deg, pitch_deg, roll_deg))
    (sh, ch), (sp, cp), (sr, cr) = ((np.sin(angle), np.cos(angle)) for angle in (h, p, r))
    # Right and up before the roll: (ch, -sh, 0) and (-sh sp, -ch sp, cp).
    right = cr * ch + sr * sh * sp, sr * ch * sp - cr * sh, -sr * cp
    up = sr * ch - cr * sh * sp, -sr * sh - cr * ch * sp, cr * cp
    forward = sh * cp, ch * cp, sp
    axes = np.empty((*np.broadcast_shapes(h.shape, p.shape, r.shape), 3, 3))
    for row, vector in enumerate((right, up, forward)):
        for column, part in enumerate(vector):
            axes[..., row, column] = part
    return axes


def corner_rays(camera: Camera) -> np.ndarray:
    """Return unit directions of the corners, shape (4, 3): lower left, lower right, upper right, upper left."""
    across, up = camera.half_tangents
    return (_CORNERS * [across, up, 1]) @ camera.axes / math.sqrt(across**2 + up**2 + 1)
