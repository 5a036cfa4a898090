"""The tile scheme of web maps: spherical Mercator on a square world, 256 px tiles, row 0 in the north.

EPSG:3857; the scheme is WebMercatorQuad of the OGC Two Dimensional Tile Matrix Set standard, Annex D.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

TILE_PX = 256
RADIUS_M = 6_378_137.0
HALF_M = math.pi * RADIUS_M
CRS = "EPSG:3857"
Bounds = tuple[float, float, float, float]


def pixel_m(zoom: int) -> float:
    """Return the size of a pixel on the equator, which is its size in the projection, metres."""
    return 2 * HALF_M / (TILE_PX << zoom)


def mercator(lon_deg: float, lat_deg: float) -> tuple[float, float]:
    """Return a place in the projection, metres."""
    return RADIUS_M * math.radians(lon_deg), RADIUS_M * math.asinh(math.tan(math.radians(lat_deg)))


def tiles_over(bounds_deg: Bounds, zoom: int) -> tuple[range, range]:
    """Return columns and rows of the tiles that touch west, south, east, north."""
    (west, south), (east, north) = mercator(*bounds_deg[:2]), mercator(*bounds_deg[2:])
    side_m, last = TILE_PX * pixel_m(zoom), (1 << zoom) - 1
    first_x, last_x = (min(max(math.floor((x + HALF_M) / side_m), 0), last) for x in (west, east))
    first_y, last_y = (min(max(math.floor((HALF_M - y) / side_m), 0), last) for y in (north, south))
    return range(first_x, last_x + 1), range(first_y, last_y + 1)


def tile_bounds_m(zoom: int, x: int, y: int) -> Bounds:
    """Return west, south, east, north of a tile in the projection, metres."""
    side_m = TILE_PX * pixel_m(zoom)
    west, north = x * side_m - HALF_M, HALF_M - y * side_m
    return west, north - side_m, west + side_m, north


def finest_zoom(ground_m: float, lat_deg: float, most: int) -> int:
    """Return the zoom whose pixels are as fine as `ground_m`, or at most a fifth coarser; between 0 and `most`."""
    zoom = math.log2(pixel_m(0) * math.cos(math.radians(lat_deg)) / (1.2 * ground_m))
    return min(max(math.ceil(zoom), 0), most)


def whole_zoom(bounds_deg: Bounds, least: int) -> int:
    """Return the finest zoom at which bounds are no larger than one tile, but at least `least`."""
    (west, south), (east, north) = mercator(*bounds_deg[:2]), mercator(*bounds_deg[2:])
    return max(math.floor(math.log2(2 * HALF_M / max(east - west, north - south, 1e-3))), least)


def blocks(columns: range, rows: range, size: int) -> Iterator[tuple[range, range]]:
    """Part a rectangle of tiles into squares of at most `size` by `size` tiles."""
    for y in range(rows.start, rows.stop, size):
        for x in range(columns.start, columns.stop, size):
            yield range(x, min(x + size, columns.stop)), range(y, min(y + size, rows.stop))
