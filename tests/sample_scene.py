"""An invented lake with bays, an arm, an island and a synthetic depth model, for tests of the drawings."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise

import contourpy
import numpy as np
import shapely
from pyproj import Transformer
from shapely import LineString, MultiPolygon, Point, Polygon, STRtree, box
from shapely.ops import substring

from atlasgen.model import (
    DepthBand,
    Isobath,
    LonLat,
    Measured,
    NamedArea,
    Photo,
    PhotoFile,
    PointM,
    Reach,
    Ring,
)

CRS = "+proj=aeqd +lat_0=-31.5 +lon_0=-96.4 +datum=WGS84 +units=m"
_TO_LONLAT = Transformer.from_crs(CRS, "EPSG:4326", always_xy=True)
FOOT_M = 0.3048


def to_lonlat(point: PointM) -> LonLat:
    """Longitude and latitude of a place in the scene's projection."""
    return LonLat(*_TO_LONLAT.transform(point.x_m, point.y_m))


@cache
def scene_water() -> MultiPolygon:
    """Return a main basin with three bays, a winding arm to the east and one island."""
    basin = LineString([(-700, -150), (-350, 60), (60, 20), (330, 160)]).buffer(230, quad_segs=24)
    arm = LineString([(300, 120), (620, 90), (860, 260), (1180, 230), (1400, 380)]).buffer(75, quad_segs=16)
    bays = [
        LineString([(-620, -200), (-800, -420)]).buffer(70),
        LineString([(-100, 40), (-40, 330)]).buffer(60),
        LineString([(620, 60), (700, -120)]).buffer(45),
        LineString([(60, -100), (140, -300)]).buffer(80),
    ]
    smooth = shapely.unary_union([basin, arm, *bays]).buffer(-25).buffer(50).buffer(-25)
    angles = np.linspace(0, 2 * np.pi, 90, endpoint=False)
    radii = 46 + 9 * np.sin(3 * angles + 1) + 5 * np.sin(5 * angles)
    island = Polygon(np.column_stack([40 + radii * np.cos(angles), 70 + radii * np.sin(angles)]))
    return MultiPolygon([Polygon(_wiggled(smooth.exterior), [island.exterior.coords])])


def _wiggled(ring: LineString) -> np.ndarray:
    """Give the shore the small irregularities of a real one, the same each time."""
    steps = np.arange(0, ring.length, 6.0)
    points = np.array([ring.interpolate(s).coords[0] for s in steps])
    noise = sum(np.sin(steps / period + phase) * size for period, phase, size in ((23, 1, 3), (61, 2, 7), (9, 0, 1.2)))
    ahead = np.roll(points, -1, axis=0) - np.roll(points, 1, axis=0)
    normal = np.column_stack([-ahead[:, 1], ahead[:, 0]]) / np.hypot(*ahead.T)[:, None]
    return points + normal * noise[:, None]


@cache
def _depth_grid() -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """x, y and depth (m, NaN on land) on an 8 m grid: a shelf, a break, and an old channel along the middle."""
    water = scene_water()
    west, south, east, north = water.bounds
    x, y = np.arange(west, east, 8.0), np.arange(south, north, 8.0)
    grid = shapely.points(*np.meshgrid(x, y))
    shore = shapely.distance(STRtree([water.boundary]).geometries[0], grid)
    channel = shapely.distance(
        LineString([(-780, -180), (-350, 10), (60, -60), (330, 130), (620, 90), (860, 260)]), grid
    )
    depth = 6.5 * (1 - np.exp(-shore / 45)) + 4.5 * np.exp(-((channel / 70) ** 2)) * (1 - np.exp(-shore / 30))
    depth -= 3.4 * np.exp(-((shapely.distance(Point(-480, 60), grid) / 45) ** 2))
    return x, y, np.where(shapely.contains(water, grid), depth, np.where(shore < 12, 0.0, np.nan))


@cache
def scene_isobaths(step_ft: int = 2) -> tuple[Isobath, ...]:
    """Depth lines in whole feet; each fifth is major."""
    x, y, depth = _depth_grid()
    generator = contourpy.contour_generator(x, y, np.nan_to_num(depth) / FOOT_M)
    found = []
    for index, feet in enumerate(range(step_ft, 40, step_ft), 1):
        lines = tuple(LineString(line) for line in generator.lines(feet) if len(line) > 3)
        if lines:
            found.append(Isobath(feet * FOOT_M, str(feet), index % 5 == 0, lines))
    return tuple(found)


@cache
def scene_bands(step_ft: int = 2) -> tuple[DepthBand, ...]:
    """Return the water between the depth lines."""
    x, y, depth = _depth_grid()
    generator = contourpy.contour_generator(x, y, np.nan_to_num(depth) / FOOT_M, fill_type="OuterOffset")
    levels = [*range(0, 40, step_ft)]
    found = []
    for low, high in pairwise(levels):
        polygons = []
        for points, offsets in zip(*generator.filled(max(low, 0.01), high), strict=True):
            rings = [points[a:b] for a, b in pairwise(offsets)]
            polygons.append(Polygon(rings[0], rings[1:]))
        area = shapely.make_valid(MultiPolygon(polygons)).intersection(scene_water())
        parts = [part for part in getattr(area, "geoms", [area]) if part.geom_type == "Polygon"]
        if parts:
            found.append(DepthBand(low * FOOT_M, high * FOOT_M, low / 34, MultiPolygon(parts)))
    return tuple(found)


@cache
def scene_rings() -> tuple[Ring, ...]:
    """Return the outer shore and the island."""
    polygon = scene_water().geoms[0]
    shore = LineString(polygon.exterior.coords)
    return (Ring("S", shore, False), Ring("A", LineString(polygon.interiors[0].coords), True, "Heron Island"))


@cache
def scene_reaches() -> tuple[Reach, ...]:
    """Stretches of about 100 m along both rings."""
    reaches = []
    for ring in scene_rings():
        count = max(1, round(ring.line.length / 100))
        step = ring.line.length / count
        for i in range(count):
            line = substring(ring.line, i * step, (i + 1) * step)
            middle = line.interpolate(0.5, normalized=True)
            faces = _bearing_over_water(line)
            place = to_lonlat(PointM(middle.x, middle.y))
            span = (i * step, (i + 1) * step)
            reaches.append(Reach(f"{ring.id}-{i + 1:04d}", ring.id, *span, line, place, faces, "A 1", "north bank"))
    return tuple(reaches)


def _bearing_over_water(line: LineString) -> float:
    (x0, y0), (x1, y1) = line.coords[0], line.coords[-1]
    middle = line.interpolate(0.5, normalized=True)
    along = np.degrees(np.arctan2(x1 - x0, y1 - y0))
    for faces in (along + 90, along - 90):
        radians = np.radians(faces)
        if scene_water().contains(Point(middle.x + 12 * np.sin(radians), middle.y + 12 * np.cos(radians))):
            return float(faces % 360)
    return float((along + 90) % 360)


def scene_photo(
    reach: Reach, index: int = 1, *, off_m: float = 60, along_m: float = 0, heading=0.0, **changes
) -> Photo:
    """Place a camera off the middle of a reach; `heading` is an offset from straight at the bank, None if unknown."""
    middle, faces = reach.line.interpolate(0.5, normalized=True), np.radians(reach.faces_deg)
    x = middle.x + off_m * np.sin(faces) + along_m * np.cos(faces)
    y = middle.y + off_m * np.cos(faces) - along_m * np.sin(faces)
    toward = None if heading is None else Measured((reach.faces_deg + 180 + heading) % 360, "EXIF, true", 2.0)
    photo = Photo(
        id=f"p-{index:04d}",
        source=PhotoFile(f"frame{index:03d}.jpg", f"{index:064x}", 1, "JPEG", 1600, 1200),
        lonlat=to_lonlat(PointM(x, y)),
        point=PointM(float(x), float(y)),
        position_from="exif",
        position_how="from the photo",
        position_sigma_m=5.0,
        taken=None,
        taken_how="unknown",
        height_above_water_m=Measured(80.0, "height above take-off"),
        heading_deg_true=toward,
        pitch_deg=Measured(-15.0, "XMP"),
        roll_deg=None,
        hfov_deg=Measured(66.0, "35 mm equivalent"),
        vfov_deg=Measured(52.0, "35 mm equivalent"),
        kind="aerial",
        reach=reach.id,
        distance_to_shore_m=abs(off_m),
        nearest_chainage_m=(reach.from_m + reach.to_m) / 2,
        tile=reach.tile,
        over_water=True,
    )
    return replace(photo, **changes)


def scene_places() -> tuple[NamedArea, ...]:
    """Named parts of the lake, metric."""
    return (
        NamedArea("Main basin", box(-900, -500, 330, 420)),
        NamedArea("East arm", box(330, -250, 1500, 480)),
        NamedArea("Mill Cove", box(560, -190, 790, 30)),
        NamedArea("Heron Bay", box(-190, 230, 60, 430)),
    )


def scene_tiles() -> tuple[NamedArea, ...]:
    """Six tiles of a grid over the lake, metric."""
    columns, rows = (-1000, -150, 700, 1550), (450, 0, -550)
    return tuple(
        NamedArea(f"{'ABC'[i]} {j + 1}", box(columns[i], rows[j + 1], columns[i + 1], rows[j]))
        for j in range(2)
        for i in range(3)
    )


def scene_not_surveyed() -> tuple[NamedArea, ...]:
    """Where the boats could not go, metric, with the reason."""
    return (
        NamedArea("weed", box(-900, -520, -740, -330).intersection(scene_water())),
        NamedArea("standing timber", box(1150, 120, 1500, 480).intersection(scene_water())),
    )


@cache
def scene_sounding_lines() -> tuple[LineString, ...]:
    """Parallel runs across the water, 40 m apart, cut at 15 m from the bank."""
    inside = scene_water().buffer(-15).difference(shapely.unary_union([a.area for a in scene_not_surveyed()]))
    runs = []
    for x in range(-900, 1500, 40):
        cut = LineString([(x, -700), (x + 120, 700)]).intersection(inside)
        runs += [line for line in getattr(cut, "geoms", [cut]) if line.length > 20]
    return tuple(runs)


def scene_pass_lines() -> tuple[LineString, ...]:
    """Two sonar runs along the lake."""
    return (
        LineString([(-780, -180), (-350, 20), (60, -70), (330, 130), (620, 90), (860, 260), (1120, 230)]),
        LineString([(-700, -60), (-350, 130), (-60, 130), (330, 200), (620, 110)]),
    )
