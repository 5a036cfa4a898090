"""The shoreline at full supply level, read off the terrain, and chainage along it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import contourpy
import numpy as np
import shapely

from demo_photos.make.frame import to_lonlat, to_metric
from demo_photos.make.terrain import DAM_Y_M, MID, RAMP, mid_heights

SPACING_M = 4.0
START_XY_M = RAMP[-1]
DECIMALS = 7  # RFC 7946 advises no more; 1 cm


@dataclass(frozen=True)
class Ring:
    """One closed line: vertices (n, 2), metres, first = last; chainage runs in this order from vertex 0."""

    xy_m: np.ndarray

    @property
    def chainage_m(self) -> np.ndarray:
        """Distance of each vertex from the start, metres, shape (n,)."""
        return np.concatenate([[0], np.cumsum(np.hypot(*np.diff(self.xy_m, axis=0).T))])

    @property
    def length_m(self) -> float:
        """Length of the whole ring."""
        return float(self.chainage_m[-1])

    def at(self, chainage_m: np.ndarray) -> np.ndarray:
        """Points at chainages, metres, shape (k, 2)."""
        known = self.chainage_m
        return np.column_stack([np.interp(chainage_m, known, self.xy_m[:, i]) for i in (0, 1)])


def _contours() -> list[np.ndarray]:
    rows = MID.ys > DAM_Y_M + 1
    generator = contourpy.contour_generator(MID.xs, MID.ys[rows], mid_heights()[rows])
    closed = [line for line in generator.lines(0.0) if len(line) > 40 and np.allclose(line[0], line[-1])]
    return sorted(closed, key=len, reverse=True)


def _even(line: np.ndarray, start_xy_m: tuple[float, float] | None) -> np.ndarray:
    """Vertices every 4 m or so from the place nearest to `start_xy_m`, as the file will hold them."""
    ring = Ring(line)
    chainages = np.linspace(0, ring.length_m, round(ring.length_m / SPACING_M), endpoint=False)
    points = ring.at(chainages)
    if start_xy_m is not None:
        points = np.roll(points, -int(np.argmin(np.hypot(*(points - start_xy_m).T))), axis=0)
    lon, lat = to_lonlat(*points.T)
    points = np.column_stack(to_metric(np.round(lon, DECIMALS), np.round(lat, DECIMALS)))
    return np.vstack([points, points[:1]])


def _turned(line: np.ndarray, counter_clockwise: bool) -> np.ndarray:
    return line if shapely.LinearRing(line).is_ccw == counter_clockwise else line[::-1]


@cache
def rings() -> tuple[Ring, ...]:
    """Outer ring first (counter-clockwise from the ramp), then the two islands (clockwise), as RFC 7946 has it."""
    outer, *inner = _contours()
    water = shapely.Polygon(outer)
    islands = [line for line in inner if water.contains(shapely.Point(line.mean(0)))][:2]
    lines = [_turned(_even(outer, START_XY_M), True), *(_turned(_even(line, None), False) for line in islands)]
    return tuple(Ring(line) for line in lines)


@cache
def water() -> shapely.Polygon:
    """Return the water at full supply level, metric, islands as holes."""
    outer, *islands = rings()
    return shapely.Polygon(outer.xy_m, [ring.xy_m for ring in islands])
