"""Small helpers for polygons that every part of coverage uses."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import shapely
from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry

# Cutting polygons leaves slivers of rounding; nothing smaller than this is ground.
_SLIVER_M2 = 1e-5
NOWHERE = MultiPolygon()
# Type numbers of shapely: 0 to 3 are points, lines, rings and polygons, above are collections.
_SINGLE = 3
# All cutting is done on a grid of a thousandth of a millimetre. Without one, GEOS 3.14 lost 103 m² from a union of
# blocks whose edges met almost, but not quite, and called the result valid.
GRID_M = 1e-6


def polygons(shapes: BaseGeometry | Iterable[BaseGeometry]) -> MultiPolygon:
    """Unite shapes and keep what has an area; lines and points that cutting left are dropped."""
    if not isinstance(shapes, BaseGeometry):
        shapes = shapely.union_all(np.array(list(shapes), dtype=object), grid_size=GRID_M)
    parts = shapely.get_parts(shapes)
    while (shapely.get_type_id(parts) > _SINGLE).any():
        parts = shapely.get_parts(parts)
    # Lines and points have no area.
    kept = parts[shapely.area(parts) > _SLIVER_M2]
    return MultiPolygon(list(kept)) if len(kept) else NOWHERE


def joined(pieces: np.ndarray) -> MultiPolygon:
    """Unite pieces that do not overlap: the fast way, checked by area, and the sure one where that does not agree."""
    united = polygons(shapely.union_all(pieces))
    together = float(shapely.area(pieces).sum())
    return united if abs(united.area - together) <= _SLIVER_M2 * (1 + len(pieces)) else polygons(pieces)


def both(one: MultiPolygon, other: MultiPolygon) -> MultiPolygon:
    """Return what two areas share."""
    return NOWHERE if one.is_empty or other.is_empty else polygons(shapely.intersection(one, other, grid_size=GRID_M))


def without(one: MultiPolygon, other: MultiPolygon) -> MultiPolygon:
    """Return what of the one area the other does not cover."""
    return one if one.is_empty or other.is_empty else polygons(shapely.difference(one, other, grid_size=GRID_M))


def clipped(shape: BaseGeometry, west: float, south: float, east: float, north: float) -> BaseGeometry:
    """Cut a shape with a box: the fast way, and the sure one where the fast way fails or leaves a broken shape."""
    try:
        cut = shapely.clip_by_rect(shape, west, south, east, north)
    except shapely.errors.GEOSException:
        # GEOS 3.13 makes rings of three points of a corner that only touches the box.
        cut = None
    if cut is not None and cut.is_valid:
        return cut
    return shapely.intersection(shape, shapely.box(west, south, east, north))


def blocks(bounds: tuple[float, float, float, float], size_m: float) -> list[tuple[float, float, float, float]]:
    """Squares that cover a box, on multiples of their size: row by row from the south-west."""
    west, south, east, north = bounds
    columns = np.arange(np.floor(west / size_m), np.ceil(east / size_m)) * size_m
    rows = np.arange(np.floor(south / size_m), np.ceil(north / size_m)) * size_m
    return [(float(x), float(y), float(x + size_m), float(y + size_m)) for y in rows for x in columns]
