"""Geometry packed small for the map: whole millionths of a degree, each point as a step from the one before."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

# One metre on the ground, in degrees of latitude; in longitude the same figure is less than a metre, never more.
SIMPLIFY_DEG = 1 / 111_320
# Coordinates are whole millionths of a degree (0.11 m): no sounding boat knows its place better.
MICRO = 1_000_000

Packed = list[int]


def pack_line(coordinates: Iterable[tuple[float, float]], origin: tuple[int, int]) -> Packed:
    """Pack (lon, lat) degrees as [x0, y0, dx, dy, dx, dy, ...] in millionths of a degree from `origin`."""
    packed: Packed = []
    last_x, last_y = origin
    for lon_deg, lat_deg, *_ in coordinates:
        x, y = round(lon_deg * MICRO), round(lat_deg * MICRO)
        packed += [x - last_x, y - last_y]
        last_x, last_y = x, y
    return packed


def pack_lines(geometry: BaseGeometry, origin: tuple[int, int]) -> list[Packed]:
    """Pack every line of a geometry, simplified to a metre."""
    simple = geometry.simplify(SIMPLIFY_DEG)
    return [pack_line(part.coords, origin) for part in getattr(simple, "geoms", [simple]) if not part.is_empty]


def pack_areas(geometry: BaseGeometry, origin: tuple[int, int]) -> list[list[Packed]]:
    """Pack every polygon of a geometry as its rings, the outer one first; whatever is not a polygon is dropped."""
    simple = geometry.simplify(SIMPLIFY_DEG)
    return [
        [pack_line(ring.coords, origin) for ring in (part.exterior, *part.interiors)]
        for part in getattr(simple, "geoms", [simple])
        if part.geom_type == "Polygon" and not part.is_empty
    ]
