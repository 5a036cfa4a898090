"""What stands and lies on the terrain: trees, shrubs, boulders, snags, and the colour of every square of ground."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from scipy import ndimage

from demo_photos.make.frame import SEED, Grid
from demo_photos.make.noise import fbm, noise, table
from demo_photos.make.terrain import DAM_Y_M, MID, RAMP, TRACK, height_at, near_line, round_line, smooth_step

# Colours of matter in plain light, linear RGB.
_GRASS, _STRAW = np.array([0.25, 0.27, 0.115]), np.array([0.47, 0.40, 0.22])
_ROCK, _SAND, _MUD = np.array([0.33, 0.30, 0.27]), np.array([0.55, 0.46, 0.33]), np.array([0.30, 0.24, 0.17])
_CLAY, _WEED, _EARTH = np.array([0.44, 0.31, 0.21]), np.array([0.085, 0.125, 0.045]), np.array([0.50, 0.41, 0.30])
_BROADLEAF, _CONIFER, _SHRUB = (
    np.array([0.125, 0.165, 0.055]),
    np.array([0.055, 0.09, 0.045]),
    np.array([0.2, 0.2, 0.09]),
)
_SNAG, _CONCRETE = np.array([0.36, 0.34, 0.31]), np.array([0.50, 0.49, 0.46])
_TINTS = np.stack([_BROADLEAF, _CONIFER, _SHRUB, _SNAG, _ROCK])
BROADLEAF, CONIFER, SHRUB, SNAG, BOULDER = range(5)
# Shape by kind. A crown is a lens: its rim at `_RIM` of the height, its underside at `_FOOT` about the trunk; the top
# rises from the rim as (1 - d^2) to the power of `_PROFILE`.
_RIM = np.array([0.42, 0.10, 0.0, 0.0, 0.0], np.float32)
_FOOT = np.array([0.20, 0.07, 0.0, 0.0, 0.0], np.float32)
_PROFILE = np.array([0.5, 1.5, 0.5, 0.3, 0.5], np.float32)
_TRUNK = 0.09  # of the crown's radius


@dataclass(frozen=True)
class Stand:
    """Things that stand on the ground: places, radii and heights in metres, kind; arrays of one length."""

    x_m: np.ndarray
    y_m: np.ndarray
    radius_m: np.ndarray
    height_m: np.ndarray
    kind: np.ndarray

    def near(self, grid: Grid, margin_m: float = 8.0) -> Stand:
        """Return those that reach into a grid."""
        far = grid.cell_m * (grid.n - 1) + margin_m
        u, v = self.x_m - grid.x0_m, self.y_m - grid.y0_m
        return self._picked((u > -margin_m) & (u < far) & (v > -margin_m) & (v < far))

    def clear_of(self, x_m: float, y_m: float, room_m: float) -> Stand:
        """Return those that leave `room_m` about a place."""
        return self._picked(np.hypot(self.x_m - x_m, self.y_m - y_m) > room_m + self.radius_m)

    def _picked(self, pick: np.ndarray) -> Stand:
        return Stand(self.x_m[pick], self.y_m[pick], self.radius_m[pick], self.height_m[pick], self.kind[pick])


def _scatter(count: int, seed: int) -> tuple[np.random.Generator, np.ndarray, np.ndarray]:
    rng = np.random.default_rng([SEED, seed])
    side = MID.cell_m * (MID.n - 1)
    return rng, MID.x0_m + rng.uniform(0, side, count), MID.y0_m + rng.uniform(0, side, count)


def _read(values: np.ndarray, grid: Grid, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    at = np.array([(y - grid.y0_m) / grid.cell_m, (x - grid.x0_m) / grid.cell_m])
    return ndimage.map_coordinates(values, at, order=1, mode="nearest")


def _clear_of_works(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Neither on the dam nor on the track or the ramp."""
    dam = (np.abs(y - DAM_Y_M) < 75) & (np.abs(x) < 300)
    track, _ = near_line(x, y, round_line(TRACK))
    ramp, _ = near_line(x, y, round_line(RAMP))
    return ~dam & (track > 7) & (ramp > 12)


@cache
def trees() -> Stand:
    """Woods, single trees, and drowned snags in the head of the north-west arm."""
    rng, x, y = _scatter(290_000, 21)
    coarse = Grid(MID.x0_m, MID.y0_m, 8.0, 481)
    woods = _read(fbm(coarse, 520, 24, 31, 0.62), coarse, x, y)
    ground = height_at(x, y)
    grown = (ground > 0.9 + rng.exponential(0.7, len(x))) & _clear_of_works(x, y)
    wood = woods + 0.1 * np.clip((ground - 10) / 40, -1, 1) > 0.42 + rng.normal(0, 0.12, len(x))
    single = rng.uniform(0, 1, len(x)) < 0.035
    keep = grown & (wood | single)
    x, y, pine = x[keep], y[keep], _read(noise(coarse, 260, 32), coarse, x[keep], y[keep])
    conifer = pine + rng.normal(0, 0.6, len(x)) > 0.75
    size = rng.lognormal(0, 0.28, len(x))
    radius = np.clip(np.where(conifer, 2.0, 3.2) * size, 1.2, 6)
    height = np.clip(np.where(conifer, 11.0, 7.5) * size * rng.uniform(0.8, 1.15, len(x)), 2.5, 19)
    live = Stand(x, y, radius, height, np.where(conifer, CONIFER, BROADLEAF))
    return joined(live, _snags())


def _snags() -> Stand:
    rng = np.random.default_rng([SEED, 22])
    x, y = rng.uniform(-1180, -620, 900), rng.uniform(940, 1240, 900)
    ground = height_at(x, y)
    keep = (ground < -0.8) & (ground > -6)
    x, y, ground = x[keep], y[keep], ground[keep]
    return Stand(x, y, np.full(len(x), 0.7), -ground + rng.uniform(-1.0, 3.2, len(x)), np.full(len(x), SNAG))


@cache
def undergrowth() -> Stand:
    """Shrubs on land and boulders about the shore; drawn near the camera only."""
    rng, x, y = _scatter(620_000, 23)
    ground = height_at(x, y)
    coarse = Grid(MID.x0_m, MID.y0_m, 8.0, 481)
    patch = _read(fbm(coarse, 160, 16, 33), coarse, x, y) + rng.normal(0, 0.4, len(x))
    shrub = (ground > 0.5) & (patch > 0.55) & _clear_of_works(x, y)
    stony = _read(fbm(coarse, 240, 16, 34), coarse, x, y) + rng.normal(0, 0.3, len(x))
    boulder = (np.abs(ground + 1.0) < 2.2) & (stony > 0.75) & _clear_of_works(x, y)
    keep = shrub | boulder
    kind = np.where(boulder, BOULDER, SHRUB)[keep]
    size = rng.lognormal(0, 0.4, len(kind))
    radius = np.clip(np.where(kind == BOULDER, 0.5, 0.95) * size, 0.25, 2.2)
    return Stand(x[keep], y[keep], radius, radius * np.where(kind == BOULDER, 0.75, 1.1), kind)


def joined(*stands: Stand) -> Stand:
    """Put stands together."""
    names = ("x_m", "y_m", "radius_m", "height_m", "kind")
    return Stand(*(np.concatenate([getattr(stand, name) for stand in stands]) for name in names))


@dataclass(frozen=True)
class Canopy:
    """Cover on a grid, each (n, n): height of its top and underside above ground, metres, and its kind (-1: none)."""

    top_m: np.ndarray
    under_m: np.ndarray
    kind: np.ndarray


def canopy(grid: Grid, stand: Stand) -> Canopy:
    """Set a stand on a grid."""
    top, under = np.zeros((2, grid.n * grid.n), np.float32)
    owner = np.full(grid.n * grid.n, -1, np.int32)
    order = np.argsort(stand.radius_m, kind="stable")
    for reach in np.unique(np.ceil(stand.radius_m / grid.cell_m)).astype(int):
        group = order[np.ceil(stand.radius_m[order] / grid.cell_m).astype(int) == reach]
        _stamp(grid, stand, group, reach, top, under, owner)
    kind = np.where(owner >= 0, stand.kind[owner], -1) if len(stand.kind) else owner
    return Canopy(*(values.reshape(grid.n, grid.n) for values in (top, under, kind.astype(np.int8))))


def _stamp(
    grid: Grid,
    stand: Stand,
    group: np.ndarray,
    reach: int,
    top: np.ndarray,
    under: np.ndarray,
    owner: np.ndarray,
) -> None:
    """Raise `top` to the crowns of `group`, whose radius is at most `reach` cells; `under` and `owner` follow."""
    column = np.rint((stand.x_m[group] - grid.x0_m) / grid.cell_m).astype(int)
    row = np.rint((stand.y_m[group] - grid.y0_m) / grid.cell_m).astype(int)
    lumps = table(41)
    for dr in range(-reach, reach + 1):
        for dc in range(-reach, reach + 1):
            r, c = row + dr, column + dc
            ok = (r >= 0) & (r < grid.n) & (c >= 0) & (c < grid.n)
            g, r, c = group[ok], r[ok], c[ok]
            x, y = grid.x0_m + c * grid.cell_m, grid.y0_m + r * grid.cell_m
            d = np.hypot(x - stand.x_m[g], y - stand.y_m[g]) / stand.radius_m[g]
            # Lumps of about a metre break the outline, so that crowns are no cones of revolution.
            d = d + 0.10 * lumps[np.floor(y / 0.9).astype(int) % 1024, np.floor(x / 0.9).astype(int) % 1024]
            g, r, c, d = (values[d < 1] for values in (g, r, c, d))
            whole, rim, foot = stand.height_m[g], _RIM[stand.kind[g]], _FOOT[stand.kind[g]]
            dome = np.clip(1 - d * d, 0, 1) ** _PROFILE[stand.kind[g]]
            height = (whole * (rim + (1 - rim) * dome)).astype(np.float32)
            at = r * grid.n + c
            np.maximum.at(top, at, height)
            won = top[at] == height
            owner[at[won]] = g[won]
            trunk = np.maximum(_TRUNK, 0.55 * grid.cell_m / stand.radius_m[g])
            hollow = np.where(d < trunk, 0, whole * (foot + (rim - foot) * d * d))
            under[at[won]] = hollow[won]


def _mix(colour: np.ndarray, other: np.ndarray, share: np.ndarray) -> None:
    """Blend `other` into `colour` in place."""
    colour += share[..., None].astype(np.float32) * (other.astype(np.float32) - colour)


def ground_colour(grid: Grid, ground: np.ndarray) -> np.ndarray:
    """Colour of bare ground, grass, bank and bed, linear RGB, shape (n, n, 3), float32."""
    x, y = grid.mesh()
    gy, gx = np.gradient(ground, grid.cell_m)
    slope = np.hypot(gx, gy)
    broad, small = fbm(grid, 240, 12, 51, 0.6), fbm(grid, 9, 0.7, 52, 0.75)
    colour = np.empty((*ground.shape, 3), np.float32)
    colour[:] = _STRAW
    _mix(colour, _GRASS, np.clip(0.52 + 0.38 * broad + 0.17 * small, 0, 1))
    _mix(colour, _EARTH, 0.7 * smooth_step(small - 0.4 * broad, 1.0, 1.9))
    _mix(colour, _ROCK, smooth_step(slope + 0.08 * small + 0.06 * broad, 0.5, 0.75))
    _paint_bank(colour, ground + 0.06 * small, slope, broad, small)
    _paint_bed(colour, x, y, ground, small)
    _paint_works(colour, x, y, ground, small)
    colour *= np.clip(1 + 0.10 * small, 0.55, 1.5)[..., None]
    return colour


def _paint_bank(
    colour: np.ndarray, ground: np.ndarray, slope: np.ndarray, broad: np.ndarray, small: np.ndarray
) -> None:
    """Bare rim below the grass: sand, clay or rock from place to place, with faint old waterlines."""
    bare = smooth_step(0.55 + 0.25 * small + 0.12 * broad - ground, 0, 0.35)
    rim = np.empty_like(colour)
    rim[:] = _SAND
    _mix(rim, _CLAY, smooth_step(broad, 0.1, 0.9))
    _mix(rim, _MUD, smooth_step(-broad - 4 * slope, -0.2, 0.7))
    _mix(rim, _ROCK, smooth_step(slope + 0.1 * small + 0.06 * broad, 0.26, 0.42))
    rim *= (1 + 0.05 * np.sin(ground * 21) + 0.04 * np.sin(ground * 47 + 2 * broad))[..., None]
    colour += bare[..., None] * (rim - colour)


def _paint_bed(colour: np.ndarray, x: np.ndarray, y: np.ndarray, ground: np.ndarray, small: np.ndarray) -> None:
    """Mud with depth, and weed: thick on the delta, in patches elsewhere between one and five metres."""
    _mix(colour, _MUD, 0.75 * smooth_step(-ground, 2.5, 7))
    delta = smooth_step(y + 40 * small, 930, 1000) * (np.abs(x) < 420) * smooth_step(-ground, 0.7, 1.3)
    patches = smooth_step(small + 0.7, 0.9, 1.5) * smooth_step(-ground, 1.6, 2.4) * smooth_step(ground, -6, -4)
    _mix(colour, _WEED, np.maximum(0.85 * delta * smooth_step(small, -1.1, 0.2), 0.5 * patches))


def _paint_works(colour: np.ndarray, x: np.ndarray, y: np.ndarray, ground: np.ndarray, small: np.ndarray) -> None:
    """Dam, track and ramp."""
    off, on_dam = np.abs(y - DAM_Y_M), np.abs(x) < 330
    _mix(colour, _ROCK * 1.15, 1.0 * (on_dam & (off < 50) & (ground < 3.4) & (ground > -24)) * (off > 3.4))
    _mix(colour, _CONCRETE, 1.0 * (on_dam & (off < 3.2)))
    _mix(colour, _CONCRETE * 0.8, 1.0 * (on_dam & (np.abs(off - 3.6) < 0.5)))
    for points, half, matter in ((TRACK, 2.4, _EARTH * 1.1), (RAMP, 3.8, _CONCRETE)):
        line = round_line(points)
        rows, columns = _window(x[0], line[:, 0]), _window(y[:, 0], line[:, 1])
        if rows.stop > rows.start and columns.stop > columns.start:
            part = (columns, rows)
            d, _ = near_line(x[part], y[part], line)
            patch = colour[part]
            _mix(patch, matter, 0.85 * (1 - smooth_step(d + 0.4 * small[part], half - 0.7, half + 0.8)))


def _window(places: np.ndarray, values: np.ndarray) -> slice:
    return slice(*np.searchsorted(places, (values.min() - 15, values.max() + 15)))


def cover_colour(cover: Canopy, grid: Grid, colour: np.ndarray) -> None:
    """Paint crowns, shrubs, snags and boulders over the ground, in place."""
    leaf, hue = noise(grid, max(0.8, 2 * grid.cell_m), 61), noise(grid, 14, 62)
    at = np.flatnonzero(cover.kind.ravel() >= 0)
    tint = _TINTS.astype(np.float32)[cover.kind.ravel()[at]]
    leaf, hue = leaf.ravel()[at], hue.ravel()[at]
    tint *= np.clip(1 + 0.20 * leaf + 0.16 * hue, 0.4, 1.8)[:, None]
    tint[:, 0] *= np.clip(1 + 0.14 * hue, 0.6, 1.6)
    colour.reshape(-1, 3)[at] = tint
