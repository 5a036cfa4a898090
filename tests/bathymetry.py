"""Invented bottoms and boat runs for the tests of `measure`; metric, x east, y north, depths positive down."""

from __future__ import annotations

import numpy as np
from shapely import LineString, MultiPolygon, Polygon
from shapely.ops import substring

from atlasgen.model import LonLat, Reach


def pond(size_m: float = 100.0) -> MultiPolygon:
    """Make a square pond whose south-west corner is (0, 0)."""
    return MultiPolygon([Polygon([(0, 0), (size_m, 0), (size_m, size_m), (0, size_m)])])


def spit_pond() -> MultiPolygon:
    """Make the pond of 100 m with a spit, x from 48 to 52 m, from its south bank up to y = 90 m."""
    spit = Polygon([(48, 0), (52, 0), (52, 90), (48, 90)])
    return MultiPolygon([pond().geoms[0].difference(spit)])


def runs(
    west_m: float, south_m: float, east_m: float, north_m: float, spacing_m: float, along_m: float
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Boat runs from west to east, `spacing_m` apart, a sounding every `along_m`: x, y and the run's number."""
    x, y = np.meshgrid(np.arange(west_m, east_m + 1e-9, along_m), np.arange(south_m, north_m + 1e-9, spacing_m))
    line = np.repeat(np.arange(len(x)), x.shape[1])
    return x.ravel(), y.ravel(), line


def reaches_of(water: MultiPolygon, length_m: float) -> tuple[Reach, ...]:
    """Cut the shore into reaches of about one length, each ring from its first point with the water on the right."""
    rings = [ring for part in water.geoms for ring in (part.exterior, *part.interiors)]
    outer = [ring for part in water.geoms for ring in (True, *(False for _ in part.interiors))]
    found: list[Reach] = []
    for number, (ring, is_outer) in enumerate(zip(rings, outer, strict=True)):
        # Water on the right: clockwise round a lake, counter-clockwise round an island.
        coords = list(ring.coords)
        line = LineString(coords[::-1] if ring.is_ccw == is_outer else coords)
        found += _cut(f"ring {number}", line, length_m)
    return tuple(found)


def reach(name: str, line: LineString, from_m: float = 0.0, ring: str = "shore", tile: str = "t") -> Reach:
    """Make a reach with nothing but its line."""
    return Reach(name, ring, from_m, from_m + line.length, line, LonLat(0, 0), 0.0, tile, name)


def franke(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Franke's test surface: R. Franke, A Critical Comparison of Some Methods for Interpolation, NPS-53-79-003 (1979).

    The second term has (9y + 1) / 10 unsquared, the fourth minus both squares; some manuals misprint the fourth.
    """
    return (
        0.75 * np.exp(-((9 * x - 2) ** 2 + (9 * y - 2) ** 2) / 4)
        + 0.75 * np.exp(-((9 * x + 1) ** 2) / 49 - (9 * y + 1) / 10)
        + 0.5 * np.exp(-((9 * x - 7) ** 2 + (9 * y - 3) ** 2) / 4)
        - 0.2 * np.exp(-((9 * x - 4) ** 2) - (9 * y - 7) ** 2)
    )


def _cut(ring: str, line: LineString, length_m: float) -> list[Reach]:
    count = max(1, round(line.length / length_m))
    ends = [line.length * number / count for number in range(count + 1)]
    return [
        reach(f"{ring} {number}", substring(line, ends[number], ends[number + 1]), ends[number], ring, f"t{number % 2}")
        for number in range(count)
    ]
