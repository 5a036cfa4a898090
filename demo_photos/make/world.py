"""The lit world at three finenesses: a close patch (0.3 m), the lake (1 m) and the country around (16 m)."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import numpy as np
from scipy import ndimage

from demo_photos.make.cover import Canopy, canopy, cover_colour, ground_colour, joined, trees, undergrowth
from demo_photos.make.frame import Grid
from demo_photos.make.noise import fbm, upsample
from demo_photos.make.terrain import FAR, MID, far_heights, mid_heights, smooth_step

SUN_COLOUR = np.array([1.42, 1.24, 0.98], np.float32)
SKY_LIGHT = np.array([0.30, 0.38, 0.50], np.float32)
PATCH_M = 300.0
_LOW_M = 8.0
PATCH_CELL_M = {"high": 0.3, "low": 0.2}  # for a camera in the air, and for one at eye height


@dataclass(frozen=True)
class Level:
    """One fineness: heights in metres of `ground`, `surface` (with cover) and `under` (underside of crowns).

    `colours` is lit RGB, finest first; where nothing stands, `under` is the ground.
    """

    grid: Grid
    ground: np.ndarray
    surface: np.ndarray
    under: np.ndarray
    colours: tuple[np.ndarray, ...]


@dataclass(frozen=True)
class Ceiling:
    """Highest surface within `reach_m` of every square, so that rays may stride: squares of `cell_m`."""

    reach_m: float
    cell_m: float
    top_m: np.ndarray


def sample(values: np.ndarray, grid: Grid, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Read values (n, n) or (n, n, k) at loose points, bilinear, float32."""
    u = np.clip((x - grid.x0_m) / grid.cell_m, 0, grid.n - 1.001)
    v = np.clip((y - grid.y0_m) / grid.cell_m, 0, grid.n - 1.001)
    i, j = v.astype(np.int32), u.astype(np.int32)
    fu, fv = (u - j).astype(np.float32), (v - i).astype(np.float32)
    at = i * grid.n + j
    if values.ndim == 3:
        fu, fv = fu[:, None], fv[:, None]
    flat = values.reshape(-1, *values.shape[2:])
    low = flat[at] * (1 - fu) + flat[at + 1] * fu
    high = flat[at + grid.n] * (1 - fu) + flat[at + grid.n + 1] * fu
    return low * (1 - fv) + high * fv


def _shadow(grid: Grid, surface: np.ndarray, sun: np.ndarray, reach_m: float) -> np.ndarray:
    """1 in the sun, 0 in cast shadow, soft over a cell or two; shape (n, n)."""
    across = float(np.hypot(sun[0], sun[1]))
    shade = np.zeros(surface.shape, np.float32)
    d = 1.3 * grid.cell_m
    while d < reach_m:
        dr, dc = round(d * sun[1] / across / grid.cell_m), round(d * sun[0] / across / grid.cell_m)
        over = _shifted(surface, dr, dc)
        over -= surface
        over -= np.float32(d * sun[2] / across)
        over *= np.float32(1 / (0.25 + 0.02 * d))
        np.maximum(shade, over, out=shade)
        d += 1.3 * grid.cell_m * (1 + d / 40)
    return 1 - ndimage.gaussian_filter(np.minimum(shade, 1), 0.6)


def _coarse_shadow(grid: Grid, surface: np.ndarray, sun: np.ndarray, reach_m: float) -> np.ndarray:
    """Shadow worked out on cells twice as wide: a quarter of the work, and no picture shows the difference."""
    n = grid.n // 2
    wide = Grid(grid.x0_m + grid.cell_m / 2, grid.y0_m + grid.cell_m / 2, grid.cell_m * 2, n)
    shade = _shadow(wide, surface.reshape(n, 2, n, 2).max((1, 3)), sun, reach_m)
    return ndimage.uniform_filter(shade.repeat(2, 0).repeat(2, 1), 3)


def _shifted(values: np.ndarray, dr: int, dc: int) -> np.ndarray:
    """values[i + dr, j + dc]; outside the grid nothing stands."""
    n = values.shape[0]
    out = np.full_like(values, -1e3)
    into = tuple(slice(max(-k, 0), n - max(k, 0)) for k in (dr, dc))
    out_of = tuple(slice(max(k, 0), n - max(-k, 0)) for k in (dr, dc))
    out[into] = values[out_of]
    return out


def _lit(grid: Grid, surface: np.ndarray, albedo: np.ndarray, sun: np.ndarray, shadow: np.ndarray) -> np.ndarray:
    """Light the ground: sun with cast shadows, sky light dimmed in hollows and under trees; RGB float32."""
    gy, gx = np.gradient(surface, grid.cell_m)
    # Crowns are porous: their slopes count less than a solid's would.
    gx /= 1 + 0.25 * np.abs(gx)
    gy /= 1 + 0.25 * np.abs(gy)
    length = np.sqrt(1 + gx * gx + gy * gy)
    sun = sun.astype(np.float32)
    bright = np.clip((sun[2] - gx * sun[0] - gy * sun[1]) / length, 0, 1) * shadow
    hollow = ndimage.gaussian_filter(surface, 2.2 / grid.cell_m, truncate=2.5) - surface
    open_sky = (0.55 + 0.45 / length) * (1 - 0.45 * np.clip(hollow / 3.5, 0, 1))
    out = np.empty_like(albedo, dtype=np.float32)
    for band in range(3):
        out[..., band] = albedo[..., band] * (bright * SUN_COLOUR[band] + open_sky * SKY_LIGHT[band])
    return out


def _wetted(albedo: np.ndarray, ground: np.ndarray, stage: float) -> np.ndarray:
    """Darken the ground that waves keep wet, a hand above the water."""
    wet = smooth_step(stage + 0.3 - ground, 0, 0.22)
    return albedo * (1 - 0.38 * wet)[..., None]


def _mips(colour: np.ndarray, count: int) -> tuple[np.ndarray, ...]:
    levels = [colour.astype(np.float16)]
    for _ in range(count - 1):
        n = levels[-1].shape[0] // 2
        block = levels[-1][: 2 * n, : 2 * n].astype(np.float32).reshape(n, 2, n, 2, 3)
        levels.append(block.mean((1, 3)).astype(np.float16))
    return tuple(levels)


@cache
def lake_canopy() -> Canopy:
    """Cover of the lake's surroundings on `MID`."""
    return canopy(MID, trees())


@cache
def lake_albedo() -> np.ndarray:
    """Colours of the lake's surroundings in plain light on `MID`, float16, shape (n, n, 3)."""
    colour = ground_colour(MID, mid_heights())
    cover_colour(lake_canopy(), MID, colour)
    return colour.astype(np.float16)


@cache
def country_albedo() -> tuple[np.ndarray, np.ndarray]:
    """Colours of the country around in plain light on `FAR`, and how high its woods stand, metres."""
    woods = smooth_step(fbm(FAR, 520, 32, 31, 0.62), 0.1, 0.6) * (far_heights() > 1)
    colour = ground_colour(FAR, far_heights())
    leaf = np.array([0.095, 0.125, 0.05], np.float32) * (1 + 0.2 * fbm(FAR, 64, 32, 63))[..., None]
    colour += (0.85 * woods)[..., None].astype(np.float32) * (leaf - colour)
    return colour, (6 * woods).astype(np.float32)


class World:
    """The lake under one sun at one stage."""

    def __init__(self, sun: np.ndarray, stage: float) -> None:
        self.sun, self.stage = sun, stage
        self.mid = self._lake()
        self.far = self._country()
        self.ceilings = self._ceilings()

    def _lake(self) -> Level:
        ground, cover = mid_heights(), lake_canopy()
        surface = ground + cover.top_m
        shadow = _coarse_shadow(MID, surface, self.sun, 90)
        lit = _lit(MID, surface, _wetted(lake_albedo(), ground, self.stage), self.sun, shadow)
        return Level(MID, ground, surface, ground + cover.under_m, _mips(lit, 4))

    def _country(self) -> Level:
        ground, (albedo, woods_m) = far_heights(), country_albedo()
        surface = ground + woods_m
        lit = _lit(FAR, surface, albedo, self.sun, _shadow(FAR, surface, self.sun, 600))
        return Level(FAR, ground, surface, ground, _mips(lit, 1))

    def _ceilings(self) -> tuple[Ceiling, ...]:
        """Build the strides' maxima from 16 m squares that begin at FAR's points."""
        n = FAR.n - 1
        far = self.far.surface
        top = np.maximum.reduce([far[:-1, :-1], far[1:, :-1], far[:-1, 1:], far[1:, 1:]])
        m = MID.n // 16
        column, row = (round((at - FAR.x0_m) / 16) for at in (MID.x0_m, MID.y0_m))
        top[row : row + m, column : column + m] = self.mid.surface.reshape(m, 16, m, 16).max((1, 3)) + 1.5
        levels = []
        for factor in (1, 4, 16):
            k = -(-n // factor)
            padded = np.full((k * factor, k * factor), top.min(), np.float32)
            padded[:n, :n] = top
            blocks = padded.reshape(k, factor, k, factor).max((1, 3))
            levels.append(Ceiling(16.0 * factor, 16.0 * factor, ndimage.maximum_filter(blocks, 3)))
        return tuple(levels[::-1])

    def patch(self, camera) -> Level:
        """Make the close patch of a camera: finer relief, leaves, shrubs, boulders; nothing stands in its face."""
        x_m, y_m = _patch_centre(camera)
        cell = PATCH_CELL_M["low" if camera.z_m < _LOW_M else "high"]
        x0, y0 = (round((at - PATCH_M / 2) / cell) * cell for at in (x_m, y_m))
        grid = Grid(x0, y0, cell, round(PATCH_M / cell))
        ground = upsample(mid_heights(), MID, grid).astype(np.float32)
        ground += fbm(grid, 1.8, 0.6, 71, 0.7) * (0.02 + 0.05 * smooth_step(ground, -0.6, 0.9))
        cover = canopy(grid, joined(trees(), undergrowth()).near(grid).clear_of(camera.x_m, camera.y_m, 9.0))
        leafy = (cover.kind >= 0) & (cover.kind <= 1)
        ruffle = 0.35 * fbm(grid, 1.2, 0.6, 72, 0.9) * smooth_step(cover.top_m, 1.0, 2.5) * leafy
        top = np.maximum(cover.top_m + ruffle, cover.under_m).astype(np.float32)
        under = np.clip(cover.under_m + 0.8 * ruffle * (cover.under_m > 0), 0, top)
        colour = ground_colour(grid, ground)
        cover_colour(cover, grid, colour)
        surface = ground + top
        shadow = _shadow(grid, surface, self.sun, 40)
        lit = _lit(grid, surface, _wetted(colour, ground, self.stage), self.sun, shadow)
        return Level(grid, ground, surface, ground + under, _mips(lit, 1))


def _patch_centre(camera) -> tuple[float, float]:
    """Where a camera's close patch does most good: ahead, near the lower part of the frame."""
    reach = PATCH_M / 2
    steep = math.radians(min(camera.pitch_deg, 0) * 0.6 - camera.fov_deg[1] / 4)
    height = max(camera.z_m, 1.0)
    ahead = min(height / math.tan(-steep), 0.92 * reach) if camera.pitch_deg > -80 else 0.0
    ahead = max(ahead, 0.8 * reach) if height < _LOW_M else ahead
    turn = math.radians(camera.heading_deg)
    return camera.x_m + ahead * math.sin(turn), camera.y_m + ahead * math.cos(turn)
