"""The water plane within a frame, and how fine a picture is on the ground.

The earth is taken as flat and light as straight. Over 3 km the surface falls 0.7 m below the level line (d²/2R), and
refraction gives a seventh of it back: less than the bank that is looked at. The distance of the horizon, itself a
figure of the round earth, is never passed.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
import shapely
from shapely import Polygon

from atlasgen.place.rays import Camera, corner_rays

# Mean radius of the earth, 6371008.8 m (IUGG, as GeographicLib and most libraries have it).
EARTH_RADIUS_M = 6_371_008.8
# The circle at which a view is cut, as unit vectors; its chords stay within 0.04 % of the radius.
_CIRCLE = np.column_stack([f(np.radians(np.arange(0.0, 360.0, 3.0))) for f in (np.sin, np.cos)])
_CHORD_SHARE = math.cos(math.radians(1.5))


class Footprint(NamedTuple):
    """The water within a frame (metric, empty if none), whether the frame holds the horizon, and the cut."""

    area: Polygon
    includes_horizon: bool
    range_m: float
    centre_gsd_cm: float | None


def horizon_m(height_m: float) -> float:
    """Distance of the horizon from a camera at `height_m`, metres: sqrt(2Rh + h²), without refraction."""
    return math.sqrt(2 * EARTH_RADIUS_M * height_m + height_m**2)


def footprint(camera: Camera, range_m: float) -> Footprint:
    """Meet the frame with the water plane and cut it at `range_m`, or at the horizon if that is nearer.

    The frame is a pyramid of four planes through the lens, and its water the part of a circle that is on the inner
    side of all four: never beyond the range nor behind the camera, however the camera is held.

    Raises
    ------
    ValueError
        The camera is not above the water, or a field of view is not between 0 and 180°.
    """
    if not camera.height_m > 0:
        raise ValueError(f"height above water {camera.height_m:g} m. Expected more than 0.")
    if not (0 < camera.hfov_deg < 180 and 0 < camera.vfov_deg < 180):
        raise ValueError(f"field of view {camera.hfov_deg:g} by {camera.vfov_deg:g}°. Expected between 0 and 180°.")
    cut_m = min(range_m, horizon_m(camera.height_m))
    corners = corner_rays(camera).tolist()
    area = _water_within(corners, camera, cut_m)
    return Footprint(area, any(up >= 0 for _, _, up in corners), cut_m, _centre_gsd_cm(camera, cut_m))


def _water_within(corners: list[list[float]], camera: Camera, cut_m: float) -> Polygon:
    """Cut a square about the circle by the four planes, and then, only where it reaches out of it, by the circle."""
    # A handful of vertices: plain numbers take a tenth of the time of numpy's calls.
    outline = [(-2 * cut_m, -2 * cut_m), (2 * cut_m, -2 * cut_m), (2 * cut_m, 2 * cut_m), (-2 * cut_m, 2 * cut_m)]
    for this, (bx, by, bz) in enumerate(corners):
        ax, ay, az = corners[(this + 1) % 4]
        outline = _cut(outline, ay * bz - az * by, az * bx - ax * bz, -camera.height_m * (ax * by - ay * bx))
    if len(outline) < 3:
        return Polygon()
    x, y = camera.at
    area = Polygon([(x + east, y + north) for east, north in outline])
    if max(east * east + north * north for east, north in outline) <= (_CHORD_SHARE * cut_m) ** 2:
        return area
    cut = shapely.intersection(area, Polygon(cut_m * _CIRCLE + camera.place[:2]))
    return cut if isinstance(cut, Polygon) else Polygon()


def _cut(outline: list[tuple[float, float]], a: float, b: float, c: float) -> list[tuple[float, float]]:
    """Keep the part of a convex outline where a x + b y + c >= 0 (Sutherland and Hodgman 1974)."""
    sides = [a * x + b * y + c for x, y in outline]
    kept = []
    for number, (x, y) in enumerate(outline):
        side, before = sides[number], sides[number - 1]
        if (side >= 0) != (before >= 0):
            from_x, from_y = outline[number - 1]
            share = before / (before - side)
            kept.append((from_x + share * (x - from_x), from_y + share * (y - from_y)))
        if side >= 0:
            kept.append((x, y))
    return kept


def nadir_circle(camera: Camera, range_m: float) -> Polygon:
    """Return the water that a camera looking nearly straight down shows whichever way it was turned.

    A circle about the place under it, of `sure_radius_m`; empty if there is none.
    """
    radius_m = min(sure_radius_m(camera), range_m)
    return shapely.Point(camera.at).buffer(radius_m, 64) if radius_m > 0 else Polygon()


def sure_radius_m(camera: Camera) -> float:
    """Radius on the water within which a place is in the frame whatever heading and roll; 0 if there is none.

    The frame holds a cone of half its narrower angle about its axis; that cone leans by the pitch's departure from
    straight down.
    """
    sure_deg = min(camera.hfov_deg, camera.vfov_deg) / 2 - abs(camera.pitch_deg + 90)
    return camera.height_m * math.tan(math.radians(max(sure_deg, 0.0)))


def _centre_gsd_cm(camera: Camera, range_m: float) -> float | None:
    """GSD across the line of sight where the middle of the frame meets the water."""
    forward = camera.axes[2]
    if forward[2] >= 0:
        return None
    away_m = camera.height_m / -float(forward[2])
    if away_m * math.hypot(forward[0], forward[1]) > range_m:
        return None
    return 100 * away_m * camera.pixel_tangent
