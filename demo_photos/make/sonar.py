"""A sonar mosaic of the middle of the lake, made as side-scan makes it from the passes: what faces the boat is bright.

Along each pass the bed is lit from the boat, grazing ever more; what stands up throws a shadow away from it; a channel
that was lost and water that no pass reached stay empty. The drowned track crosses it, which the air photo shows dry.
"""

from __future__ import annotations

import csv
from datetime import datetime
from pathlib import Path

import numpy as np
import rasterio
from rasterio.transform import from_origin
from scipy.spatial import cKDTree

from demo_photos.make.frame import SEED, Grid, to_metric
from demo_photos.make.terrain import TRACK, height_at, near_line

MOSAIC = Grid(-250.0, 190.0, 0.6, 760)
# As it hangs below the water, and how low the water stood on the day of the passes.
_TOWED_M, _LEVEL_M = 0.3, -1.45
_RANGE_M, _TRACK_HALF_M = 40.0, 2.6
_RAY_STEPS = 14
_METRIC = "+proj=tmerc +lat_0=-31.6 +lon_0=-96.4 +k=1 +ellps=WGS84 +units=m"


def write_mosaic(survey: Path, path: Path) -> None:
    """Write the mosaic of the passes of `survey` as GeoTIFF, empty where there is no picture."""
    grey, there = mosaic(*_pings(survey))
    edge_m = MOSAIC.cell_m / 2
    place = from_origin(MOSAIC.x0_m - edge_m, MOSAIC.ys[-1] + edge_m, MOSAIC.cell_m, MOSAIC.cell_m)
    profile = {"driver": "GTiff", "width": MOSAIC.n, "height": MOSAIC.n, "count": 1, "dtype": "uint8", "crs": _METRIC}
    packed = {"compress": "jpeg", "jpeg_quality": 70, "tiled": True}
    with (
        rasterio.Env(GDAL_TIFF_INTERNAL_MASK=True),
        rasterio.open(path, "w", transform=place, **profile, **packed) as to,
    ):
        to.write(grey[::-1], 1)
        to.write_mask(there[::-1])


def _pings(survey: Path) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return places about a metre apart along every pass, the way ahead there, and which sides were lost."""
    with (survey / "passes.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    with (survey / "outages.csv").open(encoding="utf-8") as file:
        lost = list(csv.DictReader(file))
    places, ahead, silent = [], [], []
    for name in dict.fromkeys(row["pass"] for row in rows):
        mine = [row for row in rows if row["pass"] == name]
        at = np.column_stack(to_metric(*np.array([[float(row["lon"]), float(row["lat"])] for row in mine]).T))
        time_s = np.array([_seconds(row["time"]) for row in mine])
        along = np.r_[0, np.cumsum(np.hypot(*np.diff(at, axis=0).T))]
        step = np.arange(0, along[-1], 1.0)
        line = np.column_stack([np.interp(step, along, at[:, k]) for k in (0, 1)])
        way = np.gradient(line, axis=0)
        places.append(line)
        ahead.append(way / np.hypot(*way.T)[:, None])
        silent.append(_lost_sides(name, np.interp(step, along, time_s), lost))
    return np.concatenate(places), np.concatenate(ahead), np.concatenate(silent)


def _lost_sides(name: str, time_s: np.ndarray, lost: list[dict[str, str]]) -> np.ndarray:
    """Return (n, 2): whether port and starboard were lost at each time."""
    sides = np.zeros((len(time_s), 2), dtype=bool)
    for row in lost:
        if row["pass"] == name:
            within = (time_s >= _seconds(row["from"])) & (time_s <= _seconds(row["to"]))
            sides[:, ["port", "starboard"].index(row["channel"])] |= within
    return sides


def _seconds(text: str) -> float:
    return datetime.fromisoformat(text.replace("Z", "+00:00")).timestamp()


def mosaic(places: np.ndarray, ahead: np.ndarray, silent: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return brightness (n, n) uint8, row 0 in the south, and where there is a picture."""
    x, y = (values.ravel() for values in MOSAIC.mesh())
    away, ping = cKDTree(places).query(np.column_stack([x, y]), distance_upper_bound=_RANGE_M)
    near = np.flatnonzero(np.isfinite(away))
    offset = np.column_stack([x, y])[near] - places[ping[near]]
    starboard = offset[:, 0] * ahead[ping[near], 1] - offset[:, 1] * ahead[ping[near], 0] > 0
    sonar_m, ground = _LEVEL_M - _TOWED_M, height_at(x, y)
    there = (ground[near] < sonar_m - 0.2) & ~silent[ping[near], starboard.astype(int)]
    near, offset = near[there], offset[there]
    bright = _lit(near, x, y, ground, offset, away[near], sonar_m) * _bottom(x[near], y[near])
    below = np.maximum(sonar_m - height_at(*places[ping[near]].T), 0.5)
    bright[away[near] < 0.36 * below] = 0.03  # straight down a side-scan sees water only
    speckle = np.random.default_rng([SEED, 719]).gamma(6.0, 1 / 6.0, near.size)
    grey, shown = np.zeros(x.size, np.uint8), np.zeros(x.size, dtype=bool)
    grey[near] = np.maximum(255 * np.clip(bright * speckle, 0, 1) ** 0.6, 4)
    shown[near] = True
    return grey.reshape(MOSAIC.n, MOSAIC.n), shown.reshape(MOSAIC.n, MOSAIC.n)


def _lit(near, x, y, ground, offset, away, sonar_m: float) -> np.ndarray:
    """Brightness by how the bed faces the sonar at the places `near`; nothing where it lies in a shadow."""
    gy, gx = (part.ravel()[near] for part in np.gradient(ground.reshape(MOSAIC.n, MOSAIC.n), MOSAIC.cell_m))
    x, y, ground = x[near], y[near], ground[near]
    out = offset / np.maximum(away, 0.1)[:, None]
    slope = gx * out[:, 0] + gy * out[:, 1]
    down = np.maximum(sonar_m - ground, 0.3)
    facing = (slope * away + down) / np.hypot(away, down) / np.sqrt(1 + slope**2)
    sight = (ground - sonar_m) / np.maximum(away, 0.5)
    seen = np.ones(x.size, dtype=bool)
    for share in np.linspace(0.15, 0.97, _RAY_STEPS):
        back = height_at(x - (1 - share) * offset[:, 0], y - (1 - share) * offset[:, 1])
        seen &= (back - sonar_m) / np.maximum(share * away, 0.5) < sight + 0.01
    return np.where(seen, 0.12 + 0.75 * np.clip(facing, 0, 1), 0.03)


def _bottom(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """How strongly the bed itself answers: mud softly and unevenly, the gravel of the old track hard."""
    patches = 0.75 + 0.25 * np.sin(x / 23 + np.sin(y / 31)) * np.cos(y / 27)
    off, _ = near_line(x, y, np.array(TRACK, float))
    return np.where(off < _TRACK_HALF_M, 1.9, patches)
