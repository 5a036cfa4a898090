"""The sheet of paper: which ground a map shows, metric geometry cut to it in millimetres, and shapes made of that."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
import shapely
from shapely import MultiLineString, MultiPolygon, Polygon, box
from shapely.affinity import affine_transform

from atlasgen.model import LonLat, PointM, Shape

# Finer than any pen or screen shows, and what keeps a map of a long shore small; ours.
SIMPLIFY_MM = 0.03
DIGITS = 2
# Scales a reader can work with, as on printed maps: 1 : 2500 and rounder. Common practice, no source.
_SCALE_STEPS = (1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0)

ToLonLat = Callable[[PointM], LonLat]
Parts = tuple[tuple[tuple[float, float], ...], ...]


@dataclass(frozen=True, slots=True)
class Frame:
    """The ground that a map shows, and its size on paper; x in mm from the left, y in mm from the top.

    `west_m`, `north_m` is the top left corner; `metres_per_mm` the scale (5 is 1 : 5000).
    """

    west_m: float
    north_m: float
    metres_per_mm: float
    width_mm: float
    height_mm: float

    @property
    def bounds_m(self) -> tuple[float, float, float, float]:
        """West, south, east, north of the ground shown, metres."""
        south_m = self.north_m - self.height_mm * self.metres_per_mm
        return (self.west_m, south_m, self.west_m + self.width_mm * self.metres_per_mm, self.north_m)

    @property
    def paper(self) -> Polygon:
        """The frame itself, mm."""
        return box(0, 0, self.width_mm, self.height_mm)

    def to_mm(self, geometry: Any) -> Any:
        """Metric geometry in mm on this paper, not cut."""
        k = 1 / self.metres_per_mm
        return affine_transform(geometry, (k, 0, 0, -k, -self.west_m * k, self.north_m * k))

    def point_mm(self, point: PointM) -> tuple[float, float]:
        """Where a place lies on this paper, mm."""
        return ((point.x_m - self.west_m) / self.metres_per_mm, (self.north_m - point.y_m) / self.metres_per_mm)

    def point_m(self, x_mm: float, y_mm: float) -> PointM:
        """Which place lies at a point of this paper."""
        return PointM(self.west_m + x_mm * self.metres_per_mm, self.north_m - y_mm * self.metres_per_mm)

    def corners(self, to_lonlat: ToLonLat) -> tuple[LonLat, LonLat, LonLat, LonLat]:
        """Longitude and latitude of NW, NE, SE, SW."""
        w, h = self.width_mm, self.height_mm
        nw, ne, se, sw = (to_lonlat(self.point_m(x, y)) for x, y in ((0, 0), (w, 0), (w, h), (0, h)))
        return nw, ne, se, sw

    def cut_lines(self, lines: Iterable[Any]) -> MultiLineString:
        """Return the parts of metric lines inside the frame, in mm, joined where they meet end to end."""
        many = np.array([line for line in lines if not line.is_empty], dtype=object)
        if not many.size:
            return MultiLineString()
        inside = shapely.get_parts(shapely.clip_by_rect(many, *self.bounds_m))
        merged = shapely.line_merge(MultiLineString([p for p in shapely.get_parts(inside) if p.length > 0]))
        return as_lines(self.to_mm(merged).simplify(SIMPLIFY_MM))

    def cut_area(self, area: Any, tolerance_mm: float = SIMPLIFY_MM) -> MultiPolygon:
        """Return the part of a metric area inside the frame, in mm, its edge true to `tolerance_mm`."""
        window = box(*self.bounds_m)
        found = []
        for part in shapely.get_parts(area):
            if shapely.intersects(window, box(*part.bounds)):
                found += as_polygons(_cut_polygon(part, window)).geoms
        return as_polygons(self.to_mm(MultiPolygon(found)).simplify(tolerance_mm))


def _cut_polygon(part: Polygon, window: Polygon) -> Any:
    """Cut fast where that is sound: GEOS's rectangle clip may break a polygon or refuse it, and says so itself."""
    try:
        quick = shapely.clip_by_rect(part, *window.bounds)
        if quick.is_valid:
            return quick
    except shapely.errors.GEOSException:
        pass
    return shapely.intersection(shapely.make_valid(part), window)


def as_lines(geometry: Any) -> MultiLineString:
    """Only the lines of whatever a cut returned."""
    return MultiLineString([p for p in _flat(geometry) if p.geom_type in ("LineString", "LinearRing") and p.length > 0])


def as_polygons(geometry: Any) -> MultiPolygon:
    """Only the areas of whatever a cut returned."""
    return MultiPolygon([p for p in _flat(geometry) if p.geom_type == "Polygon" and p.area > 0])


def _flat(geometry: Any) -> list[Any]:
    parts = list(shapely.get_parts(geometry))
    return [leaf for part in parts for leaf in (_flat(part) if hasattr(part, "geoms") else [part])]


def frame_around(
    bounds_m: Sequence[float],
    width_mm: float,
    height_mm: float,
    *,
    least_m: float = 0.0,
    margin_mm: float = 0.0,
    toward_deg: float | None = None,
) -> Frame:
    """Return the frame at the largest round scale that holds `bounds_m` inside its margins.

    `least_m` is the least ground the frame's width must show. The bounds stand in the middle, or, with `toward_deg`
    (clockwise from up), so that the room left over lies on that side of them.
    """
    wanted = max(least_m / width_mm, _needed_scale(bounds_m, width_mm, height_mm, margin_mm))
    scale = round_scale(wanted)
    west, south, east, north = bounds_m
    spare_x = max(0.0, width_mm - 2 * margin_mm - (east - west) / scale)
    spare_y = max(0.0, height_mm - 2 * margin_mm - (north - south) / scale)
    lean_x, lean_y = (0.0, 0.0) if toward_deg is None else _unit(toward_deg)
    x = (west + east) / 2 + lean_x * spare_x / 2 * scale
    y = (south + north) / 2 + lean_y * spare_y / 2 * scale
    return Frame(x - scale * width_mm / 2, y + scale * height_mm / 2, scale, width_mm, height_mm)


def frame_filling(bounds_m: Sequence[float], width_mm: float, height_mm: float, *, margin_mm: float) -> Frame:
    """Return the frame at the largest scale that holds `bounds_m`, cut in height to what they need."""
    scale = _needed_scale(bounds_m, width_mm, height_mm, margin_mm)
    west, south, east, north = bounds_m
    tall = min(height_mm, max((north - south) / scale + 2 * margin_mm, width_mm / 3))
    x, y = (west + east) / 2, (south + north) / 2
    return Frame(x - scale * width_mm / 2, y + scale * tall / 2, scale, width_mm, tall)


def _needed_scale(bounds_m: Sequence[float], width_mm: float, height_mm: float, margin_mm: float) -> float:
    west, south, east, north = bounds_m
    return max((east - west) / (width_mm - 2 * margin_mm), (north - south) / (height_mm - 2 * margin_mm), 1e-3)


def _unit(turn_deg: float) -> tuple[float, float]:
    return math.sin(math.radians(turn_deg)), math.cos(math.radians(turn_deg))


def round_scale(metres_per_mm: float) -> float:
    """Return the next round scale not larger than asked: 4.2 (1 : 4200) gives 5 (1 : 5000)."""
    power = 10.0 ** math.floor(math.log10(max(metres_per_mm, 1e-3)))
    return next(step * power for step in (*_SCALE_STEPS, 10.0) if step * power >= metres_per_mm * (1 - 1e-9))


def grid_convergence_deg(to_lonlat: ToLonLat, at: PointM) -> float:
    """Return the bearing of grid north from true north at a place, degrees, clockwise positive.

    A true bearing less this is the bearing on the paper. Taken from two places 100 m apart along grid north.
    """
    here, up = to_lonlat(at), to_lonlat(PointM(at.x_m, at.y_m + 100))
    east = (up.lon_deg - here.lon_deg) * math.cos(math.radians(here.lat_deg))
    return math.degrees(math.atan2(east, up.lat_deg - here.lat_deg))


def nice_step(span: float, count: int) -> float:
    """Return the step of 1, 2 or 5 times a power of ten that cuts a span into at most `count` parts."""
    power = 10.0 ** math.floor(math.log10(span / count))
    return next(m * power for m in (1.0, 2.0, 5.0, 10.0) if m * power * count >= span * (1 - 1e-9))


def parts_mm(geometry: Any) -> Parts:
    """Lines, rings and points of a geometry in mm as coordinates, rounded; a ring does not repeat its first point."""
    found = []
    for item in _flat(geometry):
        lines = [item.exterior, *item.interiors] if item.geom_type == "Polygon" else [item]
        for line in lines:
            closed = item.geom_type == "Polygon"
            points = _rounded(line.coords, closed)
            if len(points) > (2 if closed else 0 if item.geom_type == "Point" else 1):
                found.append(points)
    return tuple(found)


def _rounded(coords: Iterable[Sequence[float]], closed: bool) -> tuple[tuple[float, float], ...]:
    # Adding 0.0 turns -0.0 into 0.0, so that equal drawings are equal bytes.
    points = [(round(x, DIGITS) + 0.0, round(y, DIGITS) + 0.0) for x, y in coords]
    kept = points[:1] + [b for a, b in pairwise(points) if a != b]
    return tuple(kept[:-1] if closed and len(kept) > 1 and kept[0] == kept[-1] else kept)


def area(style: str, geometry: Any, shade: float | None = None) -> tuple[Shape, ...]:
    """Shape of an area in mm; nothing where there is none."""
    parts = parts_mm(geometry)
    return (Shape("area", style, parts, shade=shade),) if parts else ()


def line(style: str, geometry: Any) -> tuple[Shape, ...]:
    """Shape of lines in mm (an area gives its outline, closed); nothing where there is none."""
    edges = geometry.boundary if "Polygon" in geometry.geom_type else geometry
    parts = parts_mm(edges)
    return (Shape("line", style, parts),) if parts else ()


def dots(style: str, points: Iterable[Sequence[float]], size_mm: float) -> tuple[Shape, ...]:
    """Shape of dots at points in mm, each a part of its own; nothing where there is none."""
    parts = tuple(_rounded([point], False) for point in points)
    return (Shape("dot", style, parts, size_mm=size_mm),) if parts else ()


def wedge(style: str, at: Sequence[float], size_mm: float, turn_deg: float) -> Shape:
    """Shape of a direction mark: its base at a point in mm, its tip `size_mm` away, `turn_deg` clockwise from up."""
    return Shape("wedge", style, (_rounded([at], False),), size_mm=size_mm, turn_deg=round(turn_deg % 360, 1))


def text(style: str, words: str, at: Sequence[float], size_mm: float, turn_deg: float = 0.0) -> Shape:
    """Shape of words whose baseline starts, centres or ends at a point in mm, as the style says."""
    turn = round(turn_deg, 1) + 0.0
    return Shape("text", style, (_rounded([at], False),), text=words, size_mm=size_mm, turn_deg=turn)


def hatch(region: Any, spacing_mm: float = 1.5, slope_deg: float = 45.0) -> MultiLineString:
    """Parallel lines across an area in mm, for areas that must read without colour."""
    if region.is_empty:
        return MultiLineString()
    x0, y0, x1, y1 = region.bounds
    middle, reach = ((x0 + x1) / 2, (y0 + y1) / 2), math.hypot(x1 - x0, y1 - y0) / 2 + spacing_mm
    # Offsets are counted from the paper's corner, so that neighbouring areas share their lines.
    across = np.array([-math.sin(math.radians(slope_deg)), math.cos(math.radians(slope_deg))])
    along = np.array([across[1], -across[0]])
    first = math.ceil((across @ middle - reach) / spacing_mm)
    last = math.floor((across @ middle + reach) / spacing_mm)
    centre = along @ middle
    ends = [[across * k * spacing_mm + along * (centre + s * reach) for s in (-1, 1)] for k in range(first, last + 1)]
    return as_lines(shapely.intersection(MultiLineString(ends), region))
