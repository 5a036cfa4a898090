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
# About so many places are looked at before the lines that are settled are dropped: work that fits a core's cache.
_BLOCK_PLACES, _LEAST_BLOCK, _MOST_BLOCK = 8192, 16, 64
# A disc so many times its radius off is looked at as one; it is no more than 15 degrees to either side.
_FAR_RADII, _WIDEST_DEG = 4.0, 15.0
# Between the cells' middles the distance to the shore is wrong by less than this many cells.
_GRID_ERROR_CELLS = 2.0


class Spots(NamedTuple):
    """Discs of shore as a camera sees them, arrays of one length; a single place has the radius 0.

    `turn_deg` is the bearing of the middle from the camera's heading, -180 up to 180, `away_m` its distance.
    """

    turn_deg: np.ndarray
    away_m: np.ndarray
    radius_m: np.ndarray

    def of(self, which: np.ndarray) -> Spots:
        """Return some of them."""
        return Spots(self.turn_deg[which], self.away_m[which], self.radius_m[which])


class SightLines(NamedTuple):
    """Sight lines on the map side by side, and the greatest rise of the land up to each of their steps.

    Line n of `steepest` (lines, steps) runs in the middle of the strip from `first + n` to `first + n + 1` times
    `spacing_deg` off the heading. The rise is infinite where nobody asks.
    """

    first: int
    spacing_deg: float
    radii: np.ndarray
    steepest: np.ndarray
    rise_to: float

    def show(self, spots: Spots) -> np.ndarray:
        """Tell which discs of shore are not hidden all over, bool (n,): of single places, which are open."""
        if not len(self.radii):
            return np.ones(len(spots.away_m), bool)
        nearest = np.maximum(spots.away_m - spots.radius_m, 1e-6)
        last = _last_step(self.radii, nearest)
        goal = np.maximum(self.rise_to / nearest, self.rise_to / np.maximum(spots.away_m + spots.radius_m, 1e-6))
        if not spots.radius_m.any():
            line = np.floor(spots.turn_deg / self.spacing_deg).astype(int) - self.first
            return (last < 0) | (goal >= self.steepest[line, np.maximum(last, 0)])
        first, count = _strips(spots, self.spacing_deg)
        begins = np.cumsum(count) - count
        line = np.arange(count.sum()) + np.repeat(first - self.first - begins, count)
        rise = self.steepest[line, np.repeat(np.maximum(last, 0), count)]
        return (last < 0) | (goal >= np.minimum.reduceat(rise, begins))


class _Wanted(NamedTuple):
    """What is asked of each line: number of the step before its farthest goal, and the rise of its highest goal."""

    last: np.ndarray
    goal: np.ndarray


def spots(camera: Camera, xy_m: np.ndarray, radius_m: np.ndarray | float = 0.0) -> Spots:
    """Return discs of shore about `xy_m` (n, 2) as a camera sees them."""
    dx, dy = xy_m[:, 0] - camera.at.x_m, xy_m[:, 1] - camera.at.y_m
    turn = (np.degrees(np.arctan2(dx, dy)) - camera.heading_deg + 180) % 360 - 180
    return Spots(turn, np.sqrt(dx * dx + dy * dy), np.broadcast_to(radius_m, dx.shape))


def joined(one: Spots, other: Spots) -> Spots:
    """Return the discs of both."""
    return Spots(*(np.concatenate(columns) for columns in zip(one, other, strict=True)))


def is_far(discs: Spots) -> np.ndarray:
    """Tell which discs are narrow as seen from the camera, and do not reach over the line straight behind it."""
    return (discs.away_m > _FAR_RADII * discs.radius_m) & (180 - np.abs(discs.turn_deg) > _WIDEST_DEG)


def sight_lines(
    camera: Camera, shore: ShoreIndex, goals: Spots, farthest_m: float, shore_up_m: float, rules: ViewRules
) -> SightLines:
    """Cast the sight lines that `goals`, and all that lies in them, need; the shoreline stands `shore_up_m` up.

    A place is open when the sight line to it passes above the land all the way. For a camera low over the water that
    means across water, and a bank is never seen from behind; from high up the line clears the land near the camera,
    and where it is steeper than the bank rises, even the bank before its own goal. Land within `clear_of_camera_m`
    hides nothing: a picture is taken past the bush at one's elbow, and the position is not known to the metre.

    A disc stands for all the shore in it, so that far shores need not be looked at piece by piece to be found hidden:
    none of its places has a farther or a higher goal than the disc's far end or its near one. Discs do not reach over
    the line straight behind the camera, nor up to the camera. Goals farther off than `farthest_m` are not asked for;
    how close the lines and their steps lie depends on it.
    """
    rise_to = shore_up_m - camera.height_m
    radii = _radii(rules.clear_of_camera_m, farthest_m, shore.inland.cell_m)
    if not len(radii) or not len(goals.away_m):
        return SightLines(0, _COARSEST_DEG, radii, np.empty((0, 0)), rise_to)
    spacing = float(np.clip(np.degrees(shore.inland.cell_m / radii[-1]), _FINEST_DEG, _COARSEST_DEG))
    strip, count = _strips(goals, spacing)
    first = int(strip.min())
    wanted = _wanted(goals, strip - first, count, radii, rise_to)
    radii = radii[: int(wanted.last.max()) + 1]
    bearing = np.radians(camera.heading_deg + (first + np.arange(len(wanted.last)) + 0.5) * spacing)
    steepest = _steepest(camera, shore, bearing, wanted, radii, shore_up_m, rules)
    return SightLines(first, spacing, radii, steepest, rise_to)


def _strips(places: Spots, spacing_deg: float) -> tuple[np.ndarray, np.ndarray]:
    """Return the number of the first strip that each disc lies in, and how many it lies in."""
    half = np.degrees(np.arcsin(places.radius_m / np.maximum(places.away_m, np.maximum(places.radius_m, 1e-6))))
    first = np.floor((places.turn_deg - half) / spacing_deg).astype(int)
    return first, np.floor((places.turn_deg + half) / spacing_deg).astype(int) - first + 1


def _last_step(radii: np.ndarray, away_m: np.ndarray) -> np.ndarray:
    """Return the number of the last step that can hide a place at a distance, -1 for none."""
    return np.searchsorted(radii, away_m - _GRACE_M - _GRACE_SHARE * away_m) - 1


def _wanted(goals: Spots, strip: np.ndarray, count: np.ndarray, radii: np.ndarray, rise_to: float) -> _Wanted:
    nearest, farthest = np.maximum(goals.away_m - goals.radius_m, 1e-6), goals.away_m + goals.radius_m
    line = np.arange(count.sum()) + np.repeat(strip - np.cumsum(count) + count, count)
    lines = int(line.max()) + 1
    last, goal = np.full(lines, -1), np.full(lines, -np.inf)
    np.maximum.at(last, line, np.repeat(_last_step(radii, farthest), count))
    np.maximum.at(goal, line, np.repeat(np.maximum(rise_to / nearest, rise_to / np.maximum(farthest, 1e-6)), count))
    return _Wanted(last, goal)


def _radii(first_m: float, farthest_m: float, cell_m: float) -> np.ndarray:
    """Distances of the steps along every sight line."""
    if farthest_m <= first_m:
        return np.empty(0)
    even_to = max(first_m, min(farthest_m, cell_m / _STEP_SHARE))
    steps = int(np.ceil(np.log(farthest_m / even_to) / np.log1p(_STEP_SHARE)))
    return np.concatenate([np.arange(first_m, even_to, cell_m), even_to * (1 + _STEP_SHARE) ** np.arange(steps)])


def _steepest(
    camera: Camera,
    shore: ShoreIndex,
    bearing: np.ndarray,
    wanted: _Wanted,
    radii: np.ndarray,
    shore_up_m: float,
    rules: ViewRules,
) -> np.ndarray:
    """Greatest rise of the land as seen from the camera up to each step, shape (lines, steps).

    Infinite where nobody asks: past a line's last goal, and past land that hides every goal behind it. A low camera's
    lines end at the first bank, which saves most of the work; before the nearest shore there is no land at all.
    """
    steepest = np.full((len(bearing), len(radii)), np.inf, np.float32)
    so_far = np.full(len(bearing), -np.inf, np.float32)
    begin = int(np.searchsorted(radii, _open_water_m(camera, shore)))
    steepest[:, :begin] = -np.inf
    # Single precision is exact to a centimetre over 50 km of a lake's own map, and half the work.
    east, north = np.sin(bearing).astype(np.float32)[:, None], np.cos(bearing).astype(np.float32)[:, None]
    steps = radii.astype(np.float32)
    while begin < len(radii):
        live = np.flatnonzero((wanted.last >= begin) & (so_far <= wanted.goal))
        if not len(live):
            break
        end = begin + int(np.clip(_BLOCK_PLACES // len(live), _LEAST_BLOCK, _MOST_BLOCK))
        r = steps[begin:end]
        x, y = np.float32(camera.at.x_m) + east[live] * r, np.float32(camera.at.y_m) + north[live] * r
        ground = shore.ground_height(x, y) if shore.ground_height else None
        rise = land_height_m(shore.inland.at(x, y), rules, ground)
        rise += np.float32(shore_up_m - camera.height_m)
        rise /= r
        rise[:, 0] = np.maximum(rise[:, 0], so_far[live])
        np.maximum.accumulate(rise, axis=1, out=rise)
        steepest[live, begin:end] = rise
        so_far[live] = rise[:, -1]
        begin = end
    return steepest


def _open_water_m(camera: Camera, shore: ShoreIndex) -> float:
    """Return how far there is water all round a camera, with room for the grid's error; negative over land."""
    at = (np.array([value], np.float32) for value in camera.at)
    return -float(shore.inland.at(*at)[0]) - _GRID_ERROR_CELLS * shore.inland.cell_m
