"""Where the invented lake lies, its levels and dates, and the metric frame in which everything is made.

The lake is placed in the open South Pacific, more than a thousand kilometres from any land, so that nobody takes it
for a real one. Frame: x east, y north, metres, transverse Mercator about `LON0_DEG`, `LAT0_DEG`; heights in metres
above full supply level.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone
from functools import cache

import numpy as np
from pyproj import Geod, Transformer

TITLE = "Ambrellow Reservoir"
LON0_DEG, LAT0_DEG = -96.4, -31.6
FULL_SUPPLY_M = 214.0
LOCAL_ZONE = timezone(timedelta(hours=-6))
SEED = 20260310

# Stage record of the season: local date, metres above full supply level.
STAGES = (
    ("2026-01-06", -0.42),
    ("2026-01-20", -0.61),
    ("2026-02-03", -0.88),
    ("2026-02-17", -1.07),
    ("2026-03-03", -1.29),
    ("2026-03-10", -1.41),
    ("2026-03-11", -1.43),
    ("2026-03-12", -1.44),
    ("2026-03-24", -1.66),
    ("2026-04-02", -1.85),
    ("2026-04-14", -1.93),
)


@dataclass(frozen=True)
class Grid:
    """Square grid of `n` by `n` points, `cell_m` apart; point [0, 0] at (`x0_m`, `y0_m`), rows go north."""

    x0_m: float
    y0_m: float
    cell_m: float
    n: int

    @property
    def xs(self) -> np.ndarray:
        """Eastings of the columns, metres, shape (n,)."""
        return self.x0_m + self.cell_m * np.arange(self.n)

    @property
    def ys(self) -> np.ndarray:
        """Northings of the rows, metres, shape (n,)."""
        return self.y0_m + self.cell_m * np.arange(self.n)

    def mesh(self) -> tuple[np.ndarray, np.ndarray]:
        """Return x, y of every point, float32, shape (n, n)."""
        x, y = np.meshgrid(self.xs.astype(np.float32), self.ys.astype(np.float32))
        return x, y

    def holds(self, x: np.ndarray, y: np.ndarray, margin: int = 2) -> np.ndarray:
        """Tell which points lie inside, at least `margin` cells from the edge."""
        lo, hi = margin * self.cell_m, (self.n - 1 - margin) * self.cell_m
        u, v = x - self.x0_m, y - self.y0_m
        return (u >= lo) & (u <= hi) & (v >= lo) & (v <= hi)


@cache
def _projection() -> tuple[Transformer, Transformer]:
    metric = f"+proj=tmerc +lat_0={LAT0_DEG} +lon_0={LON0_DEG} +k=1 +ellps=WGS84 +units=m"
    return (
        Transformer.from_crs(metric, "EPSG:4326", always_xy=True),
        Transformer.from_crs("EPSG:4326", metric, always_xy=True),
    )


def to_lonlat(x_m: np.ndarray | float, y_m: np.ndarray | float) -> tuple:
    """Metric frame to longitude, latitude in degrees (WGS 84)."""
    return _projection()[0].transform(x_m, y_m)


def to_metric(lon_deg: np.ndarray | float, lat_deg: np.ndarray | float) -> tuple:
    """Longitude, latitude in degrees to the metric frame."""
    return _projection()[1].transform(lon_deg, lat_deg)


def true_bearing_deg(x_m: float, y_m: float, grid_bearing_deg: float) -> float:
    """Bearing from true north of a direction given from grid north (the meridians lean by under 0.02 degrees)."""
    step = 10.0
    turn = math.radians(grid_bearing_deg)
    lon1, lat1 = to_lonlat(x_m, y_m)
    lon2, lat2 = to_lonlat(x_m + step * math.sin(turn), y_m + step * math.cos(turn))
    return Geod(ellps="WGS84").inv(lon1, lat1, lon2, lat2)[0] % 360


def stage_m(when: datetime) -> float:
    """Stage at a time, straight between the readings (each taken at noon, local time)."""
    days = [datetime.fromisoformat(f"{day}T12:00").replace(tzinfo=LOCAL_ZONE).timestamp() for day, _ in STAGES]
    return float(np.interp(when.timestamp(), days, [value for _, value in STAGES]))


def local_time(text: str) -> datetime:
    """`2026-03-10 09:12:30` on the lake's clocks -> aware UTC."""
    return datetime.fromisoformat(text).replace(tzinfo=LOCAL_ZONE).astimezone(UTC)


def sun_direction(when: datetime) -> np.ndarray:
    """Return unit vector to the sun (east, north, up) by the usual low-precision formulas, good to about a degree."""
    day = when.timetuple().tm_yday + when.hour / 24
    declination = math.radians(-23.44 * math.cos(2 * math.pi * (day + 10) / 365.25))
    solar_hour = when.hour + when.minute / 60 + LON0_DEG / 15
    angle = math.radians(15 * (solar_hour - 12))
    lat = math.radians(LAT0_DEG)
    east = -math.cos(declination) * math.sin(angle)
    north = math.cos(lat) * math.sin(declination) - math.sin(lat) * math.cos(declination) * math.cos(angle)
    up = math.sin(lat) * math.sin(declination) + math.cos(lat) * math.cos(declination) * math.cos(angle)
    return np.array([east, north, up])
