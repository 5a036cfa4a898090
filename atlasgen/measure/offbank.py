"""What lies off each reach: the water beside it, the soundings in that water, and the bottom's profile out from it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, MultiPolygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from atlasgen.measure.depth import depth_at
from atlasgen.model import DepthGrid, Reach, ReachDepth

# Parts of the water touch a reach where they come this near to it; shorelines are good to far less.
_TOUCH_M = 1e-3
# A profile starts at the bank: the water must begin within a metre of the reach's midpoint.
_START_M = 1.0
_STEP_M = 1.0
# Ours: the triangulation runs straight from the bank to the first sounded cells, and so does the profile across the
# cells that straddle the bank.
BANK_GAP_CELLS = 2.0
_REACHES_AT_ONCE, _SOUNDINGS_AT_ONCE = 64, 1_000_000


@dataclass(frozen=True, slots=True)
class _Ray:
    """A line out over the water, square to a reach: `start_m` to `end_m` of it is water, then comes the far bank."""

    x_m: float
    y_m: float
    east: float
    north: float
    start_m: float
    end_m: float
    far_bank: bool


def off_bank(
    reaches: Sequence[Reach],
    water: MultiPolygon,
    x: np.ndarray,
    y: np.ndarray,
    depth_m: np.ndarray,
    grid: DepthGrid | None,
    off_bank_m: float,
    reduced: bool,
    stations: Sequence[float] = (5, 10, 20, 40),
) -> dict[str, ReachDepth | None]:
    """Depths off every reach, by its id; every value None if no soundings were supplied at all.

    The soundings counted are those of `bank_water`. `profile_m` comes from the grid: `(distance, depth)` at the
    stations along the normal at the reach's midpoint, None where the depth is unknown; stations on or beyond the far
    bank are left out.

    Parameters
    ----------
    x, y, depth_m
        Soundings, metric, metres below datum; those with NaN are not counted.
    reduced
        Whether the depths are below the datum, or below the water surface of the survey day.
    stations
        Distances from the bank, metres, ascending.
    """
    known = np.isfinite(depth_m)
    if not known.any():
        return dict.fromkeys((reach.id for reach in reaches), None)
    x, y, depth_m = x[known], y[known], depth_m[known]
    which, sounding = points_in(bank_water(reaches, water, off_bank_m), x, y)
    figures = _figures(len(reaches), which, depth_m[sounding])
    profiles = _profiles(reaches, water, grid, stations)
    return {
        reach.id: ReachDepth(off_bank_m, *figures[number], profiles[number], reduced)
        for number, reach in enumerate(reaches)
    }


def bank_water(reaches: Sequence[Reach], water: MultiPolygon, off_bank_m: float) -> np.ndarray:
    """Return the water within `off_bank_m` of each reach, an array of polygons and multipolygons.

    Square to the reach at both its ends, and only such parts as the reach borders on: not what lies beyond a spit, an
    island or the far bank.
    """
    strips = np.empty(len(reaches), dtype=object)
    for part, local in _with_local_water(reaches, water, off_bank_m):
        lines = np.array([reach.line for reach in reaches[part]], dtype=object)
        strips[part] = _touching(shapely.intersection(_bands(lines, off_bank_m), local), lines)
    return strips


def water_around(reaches: Sequence[Reach], water: MultiPolygon, within_m: float) -> np.ndarray:
    """Return the water within `within_m` of each reach, past its ends too, that hangs together with it."""
    around = np.empty(len(reaches), dtype=object)
    for part, local in _with_local_water(reaches, water, within_m):
        lines = np.array([reach.line for reach in reaches[part]], dtype=object)
        around[part] = _touching(shapely.intersection(shapely.buffer(lines, within_m), local), lines)
    return around


def points_in(areas: np.ndarray, x: np.ndarray, y: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Pairs (area, point) of all points inside or on the edge of each area; in order of area, then point."""
    found = [np.empty((2, 0), dtype=np.int64)]
    # A tree over ten million points at once would take gigabytes.
    for start in range(0, len(x), _SOUNDINGS_AT_ONCE):
        part = slice(start, start + _SOUNDINGS_AT_ONCE)
        pairs = shapely.STRtree(shapely.points(x[part], y[part])).query(areas, predicate="intersects")
        found.append(np.stack([pairs[0], pairs[1] + start]))
    which, point = np.concatenate(found, axis=1)
    order = np.lexsort((point, which))
    return which[order], point[order]


def _figures(
    reaches: int, which: np.ndarray, depth_m: np.ndarray
) -> list[tuple[int, float | None, float | None, float | None]]:
    """Count, shallowest, median and deepest for each reach."""
    order = np.lexsort((depth_m, which))
    depth_m, counts = depth_m[order], np.bincount(which, minlength=reaches)
    ends = np.cumsum(counts)
    figures = []
    for count, end in zip(counts.tolist(), ends.tolist(), strict=True):
        group = depth_m[end - count : end]
        three = (float(group[0]), float(np.median(group)), float(group[-1])) if count else (None, None, None)
        figures.append((count, *three))
    return figures


def _with_local_water(
    reaches: Sequence[Reach], water: MultiPolygon, margin_m: float
) -> Iterator[tuple[slice, BaseGeometry]]:
    """Neighbouring reaches with the water around them: cutting the whole lake anew for each would be slow."""
    for start in range(0, len(reaches), _REACHES_AT_ONCE):
        part = slice(start, start + _REACHES_AT_ONCE)
        west, south, east, north = shapely.total_bounds([reach.line for reach in reaches[part]])
        # Wider than what is looked for, so that a cut along the box is never taken for a bank.
        pad = margin_m + 1.0
        yield part, _clipped(water, west - pad, south - pad, east + pad, north + pad)


def _clipped(water: MultiPolygon, west: float, south: float, east: float, north: float) -> BaseGeometry:
    clipped = shapely.clip_by_rect(water, west, south, east, north)
    if not clipped.is_valid:
        clipped = shapely.intersection(water, shapely.box(west, south, east, north))
    return clipped


def _bands(lines: np.ndarray, width_m: float) -> np.ndarray:
    """Both sides of each line, square at its ends; the land's side is cut away by the water. Rings have no ends."""
    closed = shapely.is_closed(lines)
    # A millimetre short at both ends: a reach that ends at the tip of a spit must not touch the spit's other side.
    bands = shapely.buffer(_without_ends(lines, _TOUCH_M), width_m, cap_style="flat")
    if closed.any():
        rings = [shapely.LinearRing(line.coords) for line in lines[closed]]
        bands[closed] = shapely.buffer(rings, width_m)
    return bands


def _touching(areas: np.ndarray, lines: np.ndarray) -> np.ndarray:
    """Keep of each area the polygons that its line borders on, by more than the line's end points."""
    parts, owner = shapely.get_parts(areas, return_index=True)
    inner = _without_ends(lines, 0.5)
    kept = (shapely.get_dimensions(parts) == 2) & (shapely.distance(parts, inner[owner]) <= _TOUCH_M)
    parts, owner = parts[kept], owner[kept]
    return np.array([MultiPolygon(list(parts[owner == number])) for number in range(len(lines))], dtype=object)


def _without_ends(lines: np.ndarray, cut_m: float) -> np.ndarray:
    cuts = np.minimum(cut_m, shapely.length(lines) / 4)
    return np.array(
        [substring(line, cut, line.length - cut) for line, cut in zip(lines, cuts, strict=True)], dtype=object
    )


def _profiles(
    reaches: Sequence[Reach], water: MultiPolygon, grid: DepthGrid | None, stations: Sequence[float]
) -> list[tuple[tuple[float, float | None], ...]]:
    out_to_m = max(stations, default=0.0) + _STEP_M
    profiles = []
    for part, local in _with_local_water(reaches, water, out_to_m):
        shapely.prepare(local)
        profiles += [_at_stations(_ray(reach.line, local, out_to_m), grid, stations) for reach in reaches[part]]
    return profiles


def _at_stations(
    ray: _Ray | None, grid: DepthGrid | None, stations: Sequence[float]
) -> tuple[tuple[float, float | None], ...]:
    if ray is None:
        return tuple((float(station), None) for station in stations)
    wet = [float(station) for station in stations if station < ray.end_m or not ray.far_bank]
    distance = np.unique(np.r_[np.arange(0.0, ray.end_m, _STEP_M), wet, ray.end_m])
    depth = _depths_along(ray, grid, distance)
    return _known_or_none(wet, depth[np.searchsorted(distance, wet)])


def _known_or_none(distance: Sequence[float] | np.ndarray, depth: np.ndarray) -> tuple[tuple[float, float | None], ...]:
    return tuple(
        (float(out), None if np.isnan(down) else float(down)) for out, down in zip(distance, depth, strict=True)
    )


def _ray(line: LineString, water: BaseGeometry, out_to_m: float) -> _Ray | None:
    """Look out from the midpoint, square to the middle half of the reach; if that is land, square to the bank there."""
    middle = line.length / 2
    for window in (line.length / 4, min(_START_M, line.length / 4)):
        origin = line.interpolate(middle)
        before, after = line.interpolate(middle - window), line.interpolate(middle + window)
        along = np.array([after.x - before.x, after.y - before.y])
        length = float(np.hypot(*along))
        if length == 0:
            continue
        # The water is on the right hand of a reach.
        east, north = along[1] / length, -along[0] / length
        stretch = _first_water(origin.x, origin.y, east, north, water, out_to_m)
        if stretch is not None:
            start, end = stretch
            return _Ray(origin.x, origin.y, east, north, start, end, end < out_to_m - _TOUCH_M)
    return None


def _first_water(
    x: float, y: float, east: float, north: float, water: BaseGeometry, out_to_m: float
) -> tuple[float, float] | None:
    """Distances at which the water that begins at the bank begins and ends, or None."""
    sight = LineString([(x, y), (x + east * out_to_m, y + north * out_to_m)])
    parts = shapely.get_parts(shapely.intersection(sight, water))
    spans = sorted(
        tuple(sorted(np.hypot(*(shapely.get_coordinates(part)[[0, -1]] - (x, y)).T).tolist()))
        for part in parts
        if part.length > _TOUCH_M
    )
    return spans[0] if spans and spans[0][0] <= _START_M else None


def _depths_along(ray: _Ray, grid: DepthGrid | None, distance: np.ndarray) -> np.ndarray:
    """Depths at ascending distances along a ray: from the grid, zero at the banks, straight over the gap between."""
    depth = np.full(len(distance), np.nan)
    if grid is not None:
        depth = depth_at(grid, ray.x_m + ray.east * distance, ray.y_m + ray.north * distance)
        depth[distance < ray.start_m] = np.nan
        gap_m = BANK_GAP_CELLS * grid.cell_m
        depth = _bridged(distance, depth, gap_m)
        if ray.far_bank:
            depth = _bridged((ray.end_m - distance)[::-1], depth[::-1], gap_m)[::-1]
    at_bank = (distance == 0) | (ray.far_bank & (distance >= ray.end_m))
    return np.where(at_bank, 0.0, depth)


def _bridged(from_bank_m: np.ndarray, depth: np.ndarray, gap_m: float) -> np.ndarray:
    """Run straight from zero at the bank to the first known depth, if that is no farther out than `gap_m`."""
    known = np.flatnonzero(np.isfinite(depth))
    if known.size == 0 or not 0 < from_bank_m[known[0]] <= gap_m:
        return depth
    gap, bridged = slice(0, known[0]), depth.copy()
    bridged[gap] = depth[known[0]] * from_bank_m[gap] / from_bank_m[known[0]]
    return bridged
