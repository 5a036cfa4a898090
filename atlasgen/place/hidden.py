"""What the land hides: sight lines from a camera over the land before each place."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from atlasgen.model.views import ViewRules
from atlasgen.place.land import land_height_m
from atlasgen.place.rays import Camera
from atlasgen.place.shore_index import ShoreIndex

# Sight lines are cast a cell apart at the farthest piece, within these limits; finer ones change nothing on the demo.
_FINEST_DEG, _COARSEST_DEG = 0.2, 2.0
# A step along a sight line: a cell near by, this share of the distance farther off.
_STEP_SHARE = 0.012
# Ours: so much of a sight line's end cannot hide its own goal; maps and positions are wrong by as much.
_GRACE_M, _GRACE_SHARE = 2.0, 0.005
# So many steps are looked at before the lines that are settled are dropped.
_BLOCK = 32


class _Lines(NamedTuple):
    """Sight lines: bearing on the map, number of the step before the farthest goal, rise of the highest goal."""

    bearing: np.ndarray
    last: np.ndarray
    goal: np.ndarray


def open_to(camera: Camera, shore: ShoreIndex, pieces: np.ndarray, shore_up_m: float, rules: ViewRules) -> np.ndarray:
    """Tell which pieces of the shore no land hides, bool (n,).

    The shoreline stands `shore_up_m` above the water of the day. A piece is open when the sight line to it passes
    above the land all the way. For a camera low over the water that means across water, and a bank is never seen from
    behind; from high up the line clears the land near the camera, and where it is steeper than the bank rises, even
    the bank before its own goal. Land within `clear_of_camera_m` hides nothing: a picture is taken past the bush at
    one's elbow, and the position is not known to the metre.
    """
    dx, dy = (shore.xy_m[pieces] - camera.place[:2]).T
    away = np.hypot(dx, dy)
    radii = _radii(rules.clear_of_camera_m, float(away.max(initial=0.0)), shore.inland.cell_m)
    if not len(radii):
        return np.ones(len(pieces), bool)
    spacing = float(np.clip(np.degrees(shore.inland.cell_m / radii[-1]), _FINEST_DEG, _COARSEST_DEG))
    turn = (np.degrees(np.arctan2(dx, dy)) - camera.heading_deg + 180) % 360 - 180
    numbers, line_of = np.unique(np.floor(turn / spacing), return_inverse=True)
    bearing = np.radians(camera.heading_deg + (numbers + 0.5) * spacing)
    last = np.searchsorted(radii, away - _GRACE_M - _GRACE_SHARE * away) - 1
    goal = (shore_up_m - camera.height_m) / np.maximum(away, 1e-6)
    lines = _Lines(bearing, _greatest(line_of, last, -1), _greatest(line_of, goal, -np.inf))
    steepest = _steepest(camera, shore, lines, radii, shore_up_m, rules)
    return goal >= np.where(last >= 0, steepest[line_of, np.maximum(last, 0)], -np.inf)


def _greatest(group: np.ndarray, values: np.ndarray, least: float) -> np.ndarray:
    """Greatest value of each group, at least `least`."""
    found = np.full(int(group.max()) + 1, least, values.dtype)
    np.maximum.at(found, group, values)
    return found


def _radii(first_m: float, farthest_m: float, cell_m: float) -> np.ndarray:
    """Distances of the steps along every sight line."""
    if farthest_m <= first_m:
        return np.empty(0)
    even_to = max(first_m, min(farthest_m, cell_m / _STEP_SHARE))
    steps = int(np.ceil(np.log(farthest_m / even_to) / np.log1p(_STEP_SHARE)))
    return np.concatenate([np.arange(first_m, even_to, cell_m), even_to * (1 + _STEP_SHARE) ** np.arange(steps)])


def _steepest(
    camera: Camera, shore: ShoreIndex, lines: _Lines, radii: np.ndarray, shore_up_m: float, rules: ViewRules
) -> np.ndarray:
    """Greatest rise of the land as seen from the camera up to each step, shape (lines, steps).

    Infinite where nobody asks: past a line's last goal, and past land that hides every goal behind it. A low camera's
    lines end at the first bank, which saves most of the work.
    """
    steepest = np.full((len(lines.bearing), len(radii)), np.inf, np.float32)
    so_far = np.full(len(lines.bearing), -np.inf, np.float32)
    for begin in range(0, len(radii), _BLOCK):
        live = np.flatnonzero((lines.last >= begin) & (so_far <= lines.goal))
        if not len(live):
            break
        # Single precision is exact to a centimetre over 50 km of a lake's own map, and half the work.
        r = radii[begin : begin + _BLOCK].astype(np.float32)
        x = np.float32(camera.at.x_m) + np.sin(lines.bearing[live]).astype(np.float32)[:, None] * r
        y = np.float32(camera.at.y_m) + np.cos(lines.bearing[live]).astype(np.float32)[:, None] * r
        ground = shore.ground_height(x, y) if shore.ground_height else None
        height = land_height_m(shore.inland.at(x, y), rules, ground)
        rise = (height + np.float32(shore_up_m - camera.height_m)) / r
        rise[:, 0] = np.maximum(rise[:, 0], so_far[live])
        block = np.maximum.accumulate(rise, axis=1)
        steepest[live, begin : begin + _BLOCK] = block
        so_far[live] = block[:, -1]
    return steepest
