"""Pictures of the invented lake by casting one ray for every pixel."""

from __future__ import annotations

import math
import zlib
from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from demo_photos.make.light import developed, haze, sky, water_colour
from demo_photos.make.noise import speckle
from demo_photos.make.terrain import DAM_Y_M
from demo_photos.make.world import Level, World, sample

FARTHEST_M = 9000.0
_LITTER = np.array([0.075, 0.078, 0.045], np.float32)  # shaded ground under trees
_COARSE = 4  # every fourth ray is cast first; its length tells the others where to begin


@dataclass(frozen=True)
class Camera:
    """A camera: place and height in metres (height above full supply level), angles in degrees, frame in pixels.

    Heading clockwise from grid north, pitch up positive, roll clockwise positive (right side down). `focal_35mm` is
    matched on the diagonal of the 36 x 24 mm frame (43.27 mm), whatever the aspect ratio.
    """

    x_m: float
    y_m: float
    z_m: float
    heading_deg: float
    pitch_deg: float
    roll_deg: float
    focal_35mm: float
    width_px: int
    height_px: int

    @property
    def half_tangents(self) -> tuple[float, float]:
        """Tangents of half the horizontal and half the vertical field of view."""
        diagonal = math.hypot(self.width_px, self.height_px)
        half = math.hypot(36, 24) / 2 / self.focal_35mm
        return half * self.width_px / diagonal, half * self.height_px / diagonal

    @property
    def fov_deg(self) -> tuple[float, float]:
        """Horizontal and vertical field of view, degrees."""
        across, up = self.half_tangents
        return 2 * math.degrees(math.atan(across)), 2 * math.degrees(math.atan(up))

    @property
    def axes(self) -> np.ndarray:
        """Unit vectors right, up, forward as rows, shape (3, 3)."""
        h, p, r = (math.radians(angle) for angle in (self.heading_deg, self.pitch_deg, self.roll_deg))
        right = np.array([math.cos(h), -math.sin(h), 0])
        forward = np.array([math.sin(h) * math.cos(p), math.cos(h) * math.cos(p), math.sin(p)])
        up = np.cross(right, forward)
        return np.stack([math.cos(r) * right - math.sin(r) * up, math.sin(r) * right + math.cos(r) * up, forward])

    @property
    def place(self) -> np.ndarray:
        """Where the rays begin, shape (3,)."""
        return np.array([self.x_m, self.y_m, self.z_m])

    def rays(self, rows: np.ndarray, columns: np.ndarray) -> np.ndarray:
        """Return unit directions through pixel centres, shape (k, 3), float32."""
        across, up = self.half_tangents
        u = ((columns + 0.5) / self.width_px * 2 - 1) * across
        v = (1 - (rows + 0.5) / self.height_px * 2) * up
        d = np.stack([u, v, np.ones_like(u)], -1) @ self.axes
        return (d / np.linalg.norm(d, axis=-1, keepdims=True)).astype(np.float32)

    def pixels(self, points: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Rows and columns (float) where points (k, 3) appear, and whether they are within the frame."""
        right, up, forward = self.axes @ (points - self.place).T
        across, high = self.half_tangents
        ahead = np.maximum(forward, 1e-9)
        columns = (right / ahead / across + 1) / 2 * self.width_px - 0.5
        rows = (1 - up / ahead / high) / 2 * self.height_px - 0.5
        inside = (forward > 0) & (np.abs(columns - self.width_px / 2 + 0.5) <= self.width_px / 2)
        return rows, columns, inside & (np.abs(rows - self.height_px / 2 + 0.5) <= self.height_px / 2)


class Scene:
    """A world with the close patch of one camera; casts rays and tells colours."""

    def __init__(self, world: World, patch: Level, stage: float) -> None:
        self.world, self.patch, self.stage = world, patch, stage

    def read(self, name: str, x: np.ndarray, y: np.ndarray, exact: bool = True) -> np.ndarray:
        """Heights named `ground`, `surface` or `under` at loose points, finest level; nearest unless `exact`."""
        read = sample if exact else _nearest
        out = np.empty(len(x), np.float32)
        rest = np.ones(len(x), bool)
        for level in (self.patch, self.world.mid):
            at = np.flatnonzero(rest & level.grid.holds(x, y))
            out[at] = read(getattr(level, name), level.grid, x[at], y[at])
            rest[at] = False
        far = self.world.far  # always smooth: its squares would stand on the skyline as steps
        out[rest] = sample(getattr(far, name), far.grid, x[rest], y[rest])
        return out

    def solid(self, x: np.ndarray, y: np.ndarray, z: np.ndarray, exact: bool = True) -> np.ndarray:
        """Tell which points are inside ground or cover; under crowns there is air."""
        inside = z < self.read("surface", x, y, exact)
        at = np.flatnonzero(inside)
        air = (z[at] < self.read("under", x[at], y[at], exact)) & (z[at] > self.read("ground", x[at], y[at], exact))
        inside[at[air]] = False
        return inside

    def water_at(self, place: np.ndarray, d: np.ndarray, level_m: float) -> np.ndarray:
        """Length of each ray to the water plane; infinite where it does not meet the lake (below the dam: none)."""
        down = np.minimum(d[:, 2], -1e-6)
        t = np.where(d[:, 2] < -1e-6, (level_m - place[..., 2]) / down, np.inf)
        y = place[..., 1] + d[:, 1] * np.where(np.isfinite(t), t, 0)
        return np.where(y > DAM_Y_M, t, np.inf).astype(np.float32)

    def cast(
        self,
        place: np.ndarray,
        d: np.ndarray,
        start: np.ndarray,
        farthest_m: float,
        water: bool = True,
        coarse: float = 1,
    ) -> tuple[np.ndarray, np.ndarray]:
        """Follow rays to the surface or the water.

        `place` is (3,) or (k, 3), `d` unit directions (k, 3), `start` lengths to begin at; `coarse` lengthens the
        strides. Returns lengths (infinite for the sky) and whether the ray ended on water.
        """
        place = np.broadcast_to(place, d.shape).astype(np.float32)
        stop = self.water_at(place, d, self.stage) if water else np.full(len(d), np.inf, np.float32)
        length = np.full(len(d), np.inf, np.float32)
        low = np.zeros(len(d), np.float32)
        live = np.arange(len(d))
        t = start.astype(np.float32).copy()
        before = t.copy()
        o, v, end = place, d, stop
        while len(live):
            x, y, z = (o[:, i] + v[:, i] * t for i in range(3))
            hit = self.solid(x, y, z, exact=False)
            wet = ~hit & (t >= end)
            gone = (t > farthest_m) | ((z > 300) & (v[:, 2] > 0)) | ~self.world.far.grid.holds(x, y)
            low[live[hit]], length[live[hit]] = before[hit], t[hit]
            length[live[wet]] = end[wet]
            go = ~(hit | wet | gone)
            live, o, v, t, end, x, y, z = (a[go] for a in (live, o, v, t, end, x, y, z))
            before = t
            t = np.minimum(t + self._stride(x, y, z, v, t) * coarse, np.maximum(end, before))
        hits = np.flatnonzero(low)
        length[hits] = self._refined(place[hits], d[hits], low[hits], length[hits])
        on_water = np.isfinite(length) & (length >= stop)
        return np.where(on_water, stop, length), on_water

    def _stride(self, x: np.ndarray, y: np.ndarray, z: np.ndarray, v: np.ndarray, t: np.ndarray) -> np.ndarray:
        """Return a stride that cannot pass through anything larger than a pixel or half a cell."""
        cell = np.where(self.patch.grid.holds(x, y), self.patch.grid.cell_m, self.world.mid.grid.cell_m)
        across = np.maximum(np.hypot(v[:, 0], v[:, 1]), 1e-3)
        stride = np.maximum(0.7 * cell, 0.0018 * t)
        far = self.world.far.grid
        for ceiling in self.world.ceilings:
            n = ceiling.top_m.shape[0]
            i = np.clip(((y - far.y0_m) / ceiling.cell_m).astype(np.int32), 0, n - 1)
            j = np.clip(((x - far.x0_m) / ceiling.cell_m).astype(np.int32), 0, n - 1)
            room = z - ceiling.top_m[i, j]
            safe = np.minimum(ceiling.reach_m / across, np.where(v[:, 2] < 0, room / np.maximum(-v[:, 2], 1e-6), 1e9))
            stride = np.where(room > 0, np.maximum(stride, safe), stride)
        return stride.astype(np.float32)

    def _refined(self, o: np.ndarray, v: np.ndarray, low: np.ndarray, high: np.ndarray) -> np.ndarray:
        low, high = low.copy(), high.copy()
        for _ in range(5):
            middle = (low + high) / 2
            x, y, z = (o[:, i] + v[:, i] * middle for i in range(3))
            under = self.solid(x, y, z)
            high, low = np.where(under, middle, high), np.where(under, low, middle)
        return high

    def colour(self, x: np.ndarray, y: np.ndarray, footprint_m: np.ndarray, exact: bool = True) -> np.ndarray:
        """Lit colour of ground and cover at loose points, from the level whose fineness suits the pixel."""
        read = sample if exact else _nearest
        mid, far = self.world.mid, self.world.far
        out = np.empty((len(x), 3), np.float32)
        inside = mid.grid.holds(x, y, 20)
        out[~inside] = sample(far.colours[0], far.grid, x[~inside], y[~inside])
        level = np.clip(np.floor(np.log2(np.maximum(footprint_m, 0.5)) + 0.5), 0, len(mid.colours) - 1)
        for k, colour in enumerate(mid.colours):
            pick = inside & (level == k)
            cell, n = mid.grid.cell_m * 2**k, colour.shape[0]
            shift = mid.grid.cell_m * (2**k - 1) / 2
            grid = type(mid.grid)(mid.grid.x0_m + shift, mid.grid.y0_m + shift, cell, n)
            out[pick] = read(colour, grid, x[pick], y[pick])
        close = self.patch.grid.holds(x, y)
        out[close] = read(self.patch.colours[0], self.patch.grid, x[close], y[close])
        return out

    def seen_colour(self, x: np.ndarray, y: np.ndarray, z: np.ndarray, footprint_m: np.ndarray) -> np.ndarray:
        """Colour of what rays hit: ground with pebbles near by; crowns leafy, darker below, litter under them."""
        out = self.colour(x, y, footprint_m) * _pebbles(x, y, footprint_m)[:, None]
        at = np.flatnonzero(self._is_crown(x, y))
        out[at] = self._crown_colour(x[at], y[at], z[at], footprint_m[at])
        return out

    def _is_crown(self, x: np.ndarray, y: np.ndarray) -> np.ndarray:
        ground = self.read("ground", x, y, exact=False)
        return (self.read("surface", x, y, exact=False) - ground > 0.5) & (ground > -0.4)

    def _crown_colour(self, x: np.ndarray, y: np.ndarray, z: np.ndarray, footprint_m: np.ndarray) -> np.ndarray:
        ground, top, under = (self.read(name, x, y, exact=False) for name in ("ground", "surface", "under"))
        # The side of a crown is sampled here and there about its place, lest the map's colours run down it in streaks.
        aside = 0.9 * speckle(z + 0.35 * x, 1.3 * z - 0.35 * y, 0.7, 84)
        aside = np.where(self._is_crown(x + aside, y - aside), aside, 0)
        out = self.colour(x + aside, y - aside, footprint_m, exact=False)
        share = np.clip(1.15 * (z - ground) / np.maximum(top - ground, 0.5), 0, 1)
        dark = np.where(under - ground > 0.2, 0.42, 0.75)
        out *= (self._leaves(x, y, z, footprint_m) * (dark + (1 - dark) * share))[:, None]
        out[(z - ground < 0.4) & (under - ground > 0.6)] = _LITTER
        return out

    def _leaves(self, x: np.ndarray, y: np.ndarray, z: np.ndarray, footprint_m: np.ndarray) -> np.ndarray:
        """Light and dark of leaves, a factor for each point; finer near the camera, none where pixels are coarse."""
        u, w = 0.8 * x + 0.6 * y + 0.61 * z, 0.8 * y - 0.6 * x + 0.83 * z
        fine = speckle(u, w, 0.42, 81) + 0.8 * speckle(u - w, z * 1.7, 0.19, 82)
        broad = speckle(u + 0.3 * w, z - 0.4 * w, 1.1, 83)
        near = np.clip(1.3 - footprint_m / 0.35, 0, 1)
        middle = np.clip(1.3 - footprint_m / 1.2, 0, 1)
        return np.clip(1 + 0.30 * near * fine + 0.26 * middle * broad, 0.3, 2.0)


def _pebbles(x: np.ndarray, y: np.ndarray, footprint_m: np.ndarray) -> np.ndarray:
    """Light and dark of small stones and tufts, a factor for each point; seen only where pixels are fine."""
    fine = speckle(x, y, 0.05, 85) * np.clip(1.3 - footprint_m / 0.03, 0, 1)
    middle = speckle(x + 0.4 * y, y - 0.4 * x, 0.17, 86) * np.clip(1.3 - footprint_m / 0.12, 0, 1)
    return np.clip(1 + 0.09 * fine + 0.10 * middle, 0.6, 1.5)


def _nearest(values: np.ndarray, grid, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    j = np.clip((x - grid.x0_m) / grid.cell_m + 0.5, 0, grid.n - 1).astype(np.int32)
    i = np.clip((y - grid.y0_m) / grid.cell_m + 0.5, 0, grid.n - 1).astype(np.int32)
    return values.reshape(-1, *values.shape[2:])[i * grid.n + j]


def lengths(scene: Scene, camera: Camera) -> tuple[np.ndarray, np.ndarray]:
    """Length of every pixel's ray, metres (infinite: sky), and whether it meets water; both (height, width)."""
    rows, columns = np.mgrid[0 : camera.height_px, 0 : camera.width_px]
    begin, surely_wet, surely_sky = _foreseen(scene, camera, rows, columns)
    parts = [
        _chunk_lengths(scene, camera, *(a.ravel() for a in chunk))
        for chunk in zip(*(np.array_split(a, 8) for a in (rows, columns, begin, surely_wet, surely_sky)), strict=True)
    ]
    shape = (camera.height_px, camera.width_px)
    return tuple(np.concatenate([part[i] for part in parts]).reshape(shape) for i in (0, 1))


def _foreseen(scene: Scene, camera: Camera, rows: np.ndarray, columns: np.ndarray) -> tuple[np.ndarray, ...]:
    """For every pixel, from rays cast for every fourth: a safe length to begin at; surely water; surely sky."""
    picked = (slice(_COARSE // 2, None, _COARSE), slice(_COARSE // 2, None, _COARSE))
    some_rows, some_columns = rows[picked], columns[picked]
    d = camera.rays(some_rows.ravel(), some_columns.ravel())
    t, wet = (a.reshape(some_rows.shape) for a in scene.cast(camera.place, d, np.full(len(d), 0.5), FARTHEST_M))
    near = ndimage.minimum_filter(np.minimum(t, FARTHEST_M), 3)
    maps = (np.maximum(near * 0.975 - 1.5, 0.5), ndimage.minimum_filter(wet, 3), near >= FARTHEST_M)
    at = tuple(np.minimum(a // _COARSE, n - 1) for a, n in zip((rows, columns), near.shape, strict=True))
    return tuple(values[at] for values in maps)


def _chunk_lengths(
    scene: Scene,
    camera: Camera,
    rows: np.ndarray,
    columns: np.ndarray,
    begin: np.ndarray,
    wet: np.ndarray,
    blue: np.ndarray,
) -> tuple[np.ndarray, np.ndarray]:
    d = camera.rays(rows, columns)
    t = np.where(wet, scene.water_at(camera.place, d, scene.stage), np.inf).astype(np.float32)
    wet = wet & np.isfinite(t)
    rest = np.flatnonzero(~wet & ~blue)
    t[rest], wet[rest] = scene.cast(camera.place, d[rest], begin[rest], FARTHEST_M)
    return t, wet


def picture(scene: Scene, camera: Camera, name: str) -> np.ndarray:
    """Picture as a camera would take it, upright, uint8 RGB (height, width, 3); `name` seeds the grain."""
    t, wet = lengths(scene, camera)
    rows, columns = np.mgrid[0 : camera.height_px, 0 : camera.width_px]
    parts = [
        _shaded(scene, camera, *(a.ravel() for a in chunk))
        for chunk in zip(*(np.array_split(a, 8) for a in (rows, columns, t, wet)), strict=True)
    ]
    return developed(np.concatenate(parts).reshape(camera.height_px, camera.width_px, 3), zlib.crc32(name.encode()))


def _shaded(
    scene: Scene, camera: Camera, rows: np.ndarray, columns: np.ndarray, t: np.ndarray, wet: np.ndarray
) -> np.ndarray:
    """Colour of pixels, linear RGB, shape (k, 3)."""
    d = camera.rays(rows, columns)
    sun = scene.world.sun
    out = sky(d, sun)
    pixel = 2 * camera.half_tangents[0] / camera.width_px
    land = np.isfinite(t) & ~wet
    points = camera.place + d[land] * t[land, None]
    out[land] = scene.seen_colour(*points.T, t[land] * pixel)
    if wet.any():
        out[wet] = water_colour(scene, camera.place + d[wet] * t[wet, None], d[wet], t[wet], pixel)
    seen = np.isfinite(t)
    out[seen] = haze(out[seen], d[seen], t[seen], sun)
    return out
