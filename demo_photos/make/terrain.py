"""The invented terrain: bed and land in one height field, metres above full supply level.

A dammed valley that runs south, its arms, two islands, a flat delta at the inflow, humps, a ledge, a drowned channel
and a drowned track. Everything else in the demo (shoreline, soundings, pictures, answers) is read off this field.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import numpy as np
from scipy import ndimage

from demo_photos.make.frame import Grid
from demo_photos.make.noise import fbm, noise, upsample

MID = Grid(-1920.0, -1792.0, 1.0, 3840)
FAR = Grid(-7200.0, -7200.0, 16.0, 901)

# Valleys: x, y, height of the floor, half-width at which the floor's side reaches full supply level.
_VALLEYS = (
    # the main valley, from above the inflow in the north to below the dam in the south
    (
        (120, 6800, 60, 60), (120, 2300, 9, 40), (60, 1750, 5, 40), (0, 1560, 2.5, 90), (-40, 1420, -0.4, 170),
        (60, 1000, -3, 240),
        (150, 600, -7, 230), (0, 200, -11, 250), (-120, -250, -15, 270), (20, -700, -19, 250), (60, -1150, -22.5, 220),
        (0, -1420, -24, 185), (-60, -1800, -25, 60), (0, -2300, -26, 60), (0, -6800, -40, 60),
    ),
    # the east arm
    (
        (-60, -50, -13.5, 140), (250, -150, -12, 130), (600, -20, -9, 130), (950, -120, -5.5, 110),
        (1300, 60, -2.4, 70),
        (1650, 120, 1.5, 25), (2200, 300, 9, 20), (5000, 900, 60, 20),
    ),
    # the west arm
    (
        (0, -800, -20, 150), (-350, -720, -16, 140), (-700, -880, -12, 125), (-1050, -720, -7.5, 130),
        (-1400, -780, -3, 70), (-1750, -600, 1.5, 20), (-2300, -500, 10, 20), (-5000, -300, 70, 20),
    ),
    # the north-west arm
    (
        (100, 620, -7, 110), (-200, 750, -6.5, 110), (-520, 700, -5.5, 105), (-800, 950, -3.8, 85),
        (-1150, 1050, -1.6, 50), (-1500, 1300, 2, 20), (-2200, 1500, 10, 20), (-5000, 2600, 70, 20),
    ),
    # a short arm in the south-east and a bay in the north-east
    ((40, -1000, -21, 130), (350, -1100, -14, 110), (620, -1000, -7, 80), (840, -1060, -2, 35), (1250, -900, 6, 20)),
    ((150, 650, -7, 110), (450, 760, -4.5, 95), (700, 950, -1.8, 55), (900, 1000, 4, 20)),
)  # fmt: skip

# Islands: x, y, height of the top, fall per metre outward, stretch east-west.
_ISLANDS = ((150, 330, 7.5, 0.15, 0.8), (-190, -470, 11.0, 0.19, 1.25))


@dataclass(frozen=True)
class Hump:
    """A rise of the bed: place, height of its crest, radius of curvature; names are for the answer sheet."""

    name: str
    x_m: float
    y_m: float
    crest_m: float
    curve_m: float


HUMPS = (
    Hump("north hump", 20, 690, -2.2, 150),
    Hump("mid-lake hump", 205, -60, -4.3, 120),
    Hump("dam hump", -10, -930, -8.5, 110),
    Hump("east arm hump", 640, -30, -3.6, 130),
    Hump("west arm hump", -780, -850, -5.2, 130),
)

LEDGE = {"x_m": -150.0, "from_y_m": -190.0, "to_y_m": -10.0, "top_m": -4.4, "fall": 1.15}
TRACK = ((-700, 430), (-520, 330), (-330, 330), (-120, 400), (60, 455), (300, 480), (470, 420), (640, 360))
RAMP = ((470, -420), (330, -455), (215, -470))
DAM_Y_M, DAM_CREST_M, DAM_HALF_M, DAM_UP, DAM_DOWN = -1420.0, 3.2, 4.0, 0.62, 0.5


def smooth_max(a: np.ndarray, b: np.ndarray, soft_m: float) -> np.ndarray:
    """Larger of two heights, rounded over `soft_m` where they meet."""
    gap = np.clip(0.5 + 0.5 * (a - b) / soft_m, 0, 1)
    return b + (a - b) * gap + soft_m * gap * (1 - gap)


def smooth_step(x: np.ndarray, low: float, high: float) -> np.ndarray:
    """0 below `low`, 1 above `high`, smooth between."""
    f = np.clip((x - low) / (high - low), 0, 1)
    return f * f * (3 - 2 * f)


def near_line(x: np.ndarray, y: np.ndarray, line: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Distance to a polyline (k, 2+) and its further columns read at the nearest point: (...,), (..., columns)."""
    best = np.full(x.shape, np.inf, np.float32)
    carried = np.zeros((*x.shape, line.shape[1] - 2), np.float32)
    for a, b in pairwise(line):
        dx, dy = b[:2] - a[:2]
        f = np.clip(((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy), 0, 1)
        d = np.hypot(x - a[0] - f * dx, y - a[1] - f * dy)
        nearer = d < best
        best = np.where(nearer, d, best)
        carried = np.where(nearer[..., None], a[2:] + f[..., None] * (b[2:] - a[2:]), carried)
    return best, carried


def round_line(points: tuple, steps: int = 8) -> np.ndarray:
    """Run a smooth curve through the points (Catmull-Rom), `steps` pieces between two of them."""
    p = np.asarray(points, float)
    p = np.vstack([2 * p[0] - p[1], p, 2 * p[-1] - p[-2]])
    f = np.linspace(0, 1, steps, endpoint=False)[:, None]
    pieces = [
        0.5 * (2 * b + (c - a) * f + (2 * a - 5 * b + 4 * c - d) * f**2 + (3 * b - a - 3 * c + d) * f**3)
        for a, b, c, d in zip(p[:-3], p[1:-2], p[2:-1], p[3:], strict=True)
    ]
    return np.vstack([*pieces, p[-2:-1]])


def _hillside(beyond_m: np.ndarray) -> np.ndarray:
    """Height of the slopes above the valley's side, levelling out on the hilltops."""
    return 95 * (1 - np.exp(-beyond_m * 0.19 / 95)) + 55 * smooth_step(beyond_m, 500, 3000)


def _valley(x: np.ndarray, y: np.ndarray, points: tuple) -> np.ndarray:
    d, carried = near_line(x, y, round_line(points, 4))
    floor, half = carried[..., 0], np.maximum(carried[..., 1], 15)
    side = np.maximum(-floor, 2.5)
    return floor + side * np.minimum(d / half, 1) ** 1.7 + _hillside(np.maximum(d - half, 0))


def _base(grid: Grid) -> np.ndarray:
    """Valleys and hills with all relief coarser than 18 m, on a coarse grid."""
    x, y = grid.mesh()
    wx = x + 52 * noise(grid, 420, 1) + 27 * noise(grid, 160, 3)
    wy = y + 52 * noise(grid, 420, 2) + 27 * noise(grid, 160, 4)
    height = np.full(x.shape, 400, np.float32)
    for points in _VALLEYS:
        height = -smooth_max(-height, -_valley(wx, wy, points), 5.0)
    # Where two bends are equally near, the floor's height jumps: far up the slopes the jump is smoothed away.
    smooth = ndimage.gaussian_filter(height, 60 / grid.cell_m)
    height += smooth_step(height, 8, 30) * (smooth - height)
    d, _ = near_line(wx, wy, round_line(_VALLEYS[0], 4))
    height -= 2.4 * np.exp(-((d / 11) ** 2)) * smooth_step(-height, 2.0, 5.0)
    at_shore = smooth_step(height, -13, -1) * (1 - 0.4 * smooth_step(height, 1, 12))
    hills = smooth_step(height, 3, 60)
    calm = 1 - 0.75 * smooth_step(y, 850, 1150) * smooth_step(-np.abs(x), -450, -300)
    height += fbm(grid, 260, 18, 5, 0.63) * (0.6 + 3.3 * at_shore) * calm
    return height + fbm(grid, 900, 18, 15, 0.5) * 15 * hills


def _roughen(grid: Grid, height: np.ndarray) -> np.ndarray:
    """Add small relief: little on the deep bed, most on the slopes."""
    amount = 0.05 + 0.12 * smooth_step(height, -14, -1) + 0.35 * smooth_step(height, 2, 60)
    return height + fbm(grid, 16, 2, 6, 0.6) * amount


def _lake_features(grid: Grid, height: np.ndarray) -> np.ndarray:
    """Islands, humps, ledge and delta."""
    x, y = grid.mesh()
    wobble = 9 * noise(grid, 60, 7) + 3 * noise(grid, 22, 8)
    for ix, iy, top, fall, stretch in _ISLANDS:
        r = np.hypot((x - ix) / stretch, y - iy) + wobble
        height = smooth_max(height, top - fall * np.maximum(r, 0), 1.2)
    for hump in HUMPS:
        r2 = (x - hump.x_m) ** 2 + (y - hump.y_m) ** 2
        height = smooth_max(height, (hump.crest_m - r2 / (2 * hump.curve_m)).astype(np.float32), 0.5)
    past_end = np.maximum(LEDGE["from_y_m"] - y, y - LEDGE["to_y_m"]).clip(0)
    edge = np.maximum(x - LEDGE["x_m"] + wobble, 0) + 0.3 * past_end
    height = smooth_max(height, LEDGE["top_m"] - LEDGE["fall"] * edge + 0.05 * wobble, 0.4)
    flat = -1.0 - (1420 - y).clip(0, None) * 0.0045 + 0.3 * noise(grid, 70, 9)
    flat = np.where(y > 840, flat - 12 * smooth_step(-y, -930, -840), -50)
    return smooth_max(height, flat.astype(np.float32), 0.35)


def _lay_track(grid: Grid, height: np.ndarray, points: tuple, half_m: float, raise_m: float) -> np.ndarray:
    """Level a way into the ground: its own smoothed profile plus `raise_m`, shoulders over 4 m."""
    line = round_line(points, 40)
    along = ndimage.map_coordinates(height, (line - [grid.x0_m, grid.y0_m]).T[::-1] / grid.cell_m, order=1)
    way = np.column_stack([line, ndimage.gaussian_filter1d(along, 7) + raise_m])
    rows = slice(*np.searchsorted(grid.ys, (line[:, 1].min() - 20, line[:, 1].max() + 20)))
    columns = slice(*np.searchsorted(grid.xs, (line[:, 0].min() - 20, line[:, 0].max() + 20)))
    x, y = np.meshgrid(grid.xs[columns].astype(np.float32), grid.ys[rows].astype(np.float32))
    d, level = near_line(x, y, way)
    share = 1 - smooth_step(d, half_m, half_m + 4)
    height[rows, columns] += share * (level[..., 0] - height[rows, columns])
    return height


def _build_dam(grid: Grid, height: np.ndarray) -> np.ndarray:
    """Put the rockfill dam across the valley; its axis runs east-west."""
    x, y = grid.mesh()
    off = y - DAM_Y_M
    fall = np.where(off > 0, DAM_UP, DAM_DOWN) * (np.abs(off) - DAM_HALF_M).clip(0)
    wall = np.where(np.abs(x) < 420, DAM_CREST_M - fall, -99).astype(np.float32)
    return np.maximum(height, wall)


def _tidy(grid: Grid, height: np.ndarray) -> np.ndarray:
    """Keep one lake and two islands: drown stray islets, fill stray ponds above the dam."""
    water, _ = ndimage.label(height < 0)
    lake = water == water[_index(grid, 0, -300)]
    holes = ndimage.binary_fill_holes(lake) & ~lake
    islets, _ = ndimage.label(holes)
    kept = [islets[_index(grid, x, y)] for x, y, *_ in _ISLANDS]
    stray = (islets > 0) & ~np.isin(islets, kept)
    height = np.where(stray, -0.25 - 0.1 * height, height)
    pond = (height < 0) & ~lake & ~stray & (grid.ys[:, None] > DAM_Y_M + 8)
    return np.where(pond, 0.2 - 0.1 * height, height).astype(np.float32)


def _index(grid: Grid, x_m: float, y_m: float) -> tuple[int, int]:
    return round((y_m - grid.y0_m) / grid.cell_m), round((x_m - grid.x0_m) / grid.cell_m)


@cache
def mid_heights() -> np.ndarray:
    """Heights of the lake and its surroundings on `MID`, float32 metres above full supply level."""
    coarse = Grid(MID.x0_m - 18, MID.y0_m - 18, 6.0, 647)
    height = _roughen(MID, upsample(_base(coarse), coarse, MID).astype(np.float32))
    height = _lake_features(MID, height)
    height = _lay_track(MID, height, TRACK, 2.6, 0.75)
    height = _lay_track(MID, height, RAMP, 4.0, 0.1)
    return _tidy(MID, _build_dam(MID, height))


@cache
def far_heights() -> np.ndarray:
    """Heights of the country around on `FAR`, for the horizon only."""
    return _roughen(FAR, _base(FAR)).astype(np.float32)


def height_at(x_m: np.ndarray, y_m: np.ndarray) -> np.ndarray:
    """Ground or bed height at points inside `MID`, bilinear, float64."""
    at = np.stack([np.atleast_1d(y_m) - MID.y0_m, np.atleast_1d(x_m) - MID.x0_m]) / MID.cell_m
    return ndimage.map_coordinates(mid_heights(), at, order=1, mode="nearest", output=np.float64)
