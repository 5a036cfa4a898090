"""The bottom off each reach: rays from the bank outward, the one that stands for the reach, and where it breaks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from shapely import MultiPolygon

from atlasgen.measure.breaks import slope_word, steepest_break
from atlasgen.measure.depth import cells_at, depth_at
from atlasgen.measure.offbank import BANK_GAP_CELLS
from atlasgen.measure.rays import Rays, cast_rays
from atlasgen.measure.terrain import doubt_m
from atlasgen.model import DepthGrid, PointM, Reach
from atlasgen.model.relief import DepthReached, ProfilePoint, ReachProfile
from atlasgen.place.geo import Projection

OUT_TO_M, STEP_M = 100.0, 1.0
# The slope in a word is that of this much bottom next to the bank; ours.
SLOPE_OVER_M = 20.0
# Ours: the ray that stands for a reach is known about as far as the best known of them.
_LEAST_KNOWN = 0.8
_REACHES_AT_ONCE = 2000


@dataclass(frozen=True, slots=True)
class _Sections:
    """Depth, bound and doubt (rays, distances) along rays; NaN where not known. `sounded_m`: first depth of a cell."""

    distance_m: np.ndarray
    depth_m: np.ndarray
    bound_m: np.ndarray
    doubt_m: np.ndarray
    sounded_m: np.ndarray


def reach_profiles(
    reaches: Sequence[Reach],
    water: MultiPolygon,
    grid: DepthGrid | None,
    projection: Projection,
    depths_m: Sequence[float] = (),
    stations_m: Sequence[float] = (5.0, 10.0, 20.0, 40.0),
    out_to_m: float = OUT_TO_M,
) -> dict[str, ReachProfile | None]:
    """Profile the bottom off every reach; None where there is no depth model or no water lies off the reach.

    Of rays run off each 20 m of the reach, the one that departs least from the median of them all stands for it: a
    median would smear a ledge that lies nearer here than there. What the others show is told as the range.

    Parameters
    ----------
    depths_m
        Depths whose distance from the bank is asked, metres.
    stations_m
        Distances at which the depth is told; those at or beyond the far bank are left out.
    """
    profiles: dict[str, ReachProfile | None] = dict.fromkeys(reach.id for reach in reaches)
    if grid is None or not reaches:
        return profiles
    distance = np.unique(np.r_[np.arange(0.0, out_to_m + 1e-9, STEP_M), stations_m])
    doubt = doubt_m(grid)
    for start in range(0, len(reaches), _REACHES_AT_ONCE):
        part = reaches[start : start + _REACHES_AT_ONCE]
        rays = cast_rays(part, water, out_to_m)
        sections = _sections(rays, grid, doubt, distance[distance <= out_to_m])
        chosen, low, high = _typical(rays, sections.depth_m, len(part))
        bearings = projection.grid_bearings_to_true(np.degrees(np.arctan2(rays.east, rays.north)), rays.x_m, rays.y_m)
        for number in np.flatnonzero(chosen >= 0).tolist():
            reach, ray = part[number], int(chosen[number])
            count = int((rays.reach == number).sum())
            points = _points(rays, sections, ray, low[number], high[number])
            profiles[reach.id] = _profile(
                reach.id, count, rays, sections, ray, points, float(bearings[ray]), depths_m, stations_m
            )
    return profiles


def _sections(rays: Rays, grid: DepthGrid, doubt: np.ndarray, distance: np.ndarray) -> _Sections:
    x = rays.x_m[:, None] + rays.east[:, None] * distance
    y = rays.y_m[:, None] + rays.north[:, None] * distance
    wet = (distance >= rays.start_m[:, None]) & (distance <= rays.end_m[:, None])
    depth = np.where(wet, depth_at(grid, x, y), np.nan)
    known = np.isfinite(depth)
    sounded = np.where(known.any(axis=1), distance[np.argmax(known, axis=1)], np.nan)
    depth = _to_banks(depth, distance, rays, BANK_GAP_CELLS * grid.cell_m)
    bound = np.full(depth.shape, np.nan) if grid.bound_m is None else cells_at(grid, grid.bound_m, x, y)
    bound = np.where(np.isfinite(depth), bound, np.nan)
    return _Sections(distance, depth, bound, cells_at(grid, doubt, x, y), sounded)


def _to_banks(depth: np.ndarray, distance: np.ndarray, rays: Rays, gap_m: float) -> np.ndarray:
    """Run straight from zero at either bank to the nearest known depth, if that is no farther than `gap_m`."""
    known = np.isfinite(depth)
    told = known.any(axis=1)
    row = np.arange(len(depth))
    first = np.argmax(known, axis=1)
    last = known.shape[1] - 1 - np.argmax(known[:, ::-1], axis=1)
    near = told & (distance[first] > 0) & (distance[first] <= gap_m)
    with np.errstate(divide="ignore", invalid="ignore"):
        rising = (depth[row, first] / distance[first])[:, None] * distance
        left_m = rays.end_m - distance[last]
        falling = (depth[row, last] / left_m)[:, None] * (rays.end_m[:, None] - distance)
    far = told & rays.far_bank & (left_m > 0) & (left_m <= gap_m)
    depth = np.where(near[:, None] & (distance < distance[first][:, None]), rising, depth)
    beyond = (distance > distance[last][:, None]) & (distance <= rays.end_m[:, None])
    depth = np.where(far[:, None] & beyond, falling, depth)
    return np.where(distance == 0, 0.0, depth)


def _typical(rays: Rays, depth: np.ndarray, reaches: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """For each reach its typical ray (-1 without rays), and the least and greatest depth (reaches, distances)."""
    counts = np.bincount(rays.reach, minlength=reaches)
    most = max(int(counts.max(initial=0)), 1)
    place = np.arange(rays.reach.size) - np.repeat(np.cumsum(counts) - counts, counts)
    table = np.full((reaches, most, depth.shape[1]), np.nan)
    table[rays.reach, place] = depth
    number = np.full((reaches, most), -1)
    number[rays.reach, place] = np.arange(rays.reach.size)
    low, median, high = _spread(table)
    known = np.isfinite(table)
    held = known.sum(axis=2)
    away = np.where(known, np.abs(table - median[:, None]), 0.0).sum(axis=2) / np.maximum(held, 1)
    usable = (number >= 0) & (held >= _LEAST_KNOWN * held.max(axis=1, initial=0)[:, None])
    # Of equals the one nearest to the middle of the reach, to a millimetre.
    aside = np.abs(np.arange(most) - (counts[:, None] - 1) / 2)
    score = np.where(usable, np.round(away, 3) * 1000 + aside / (most + 1), np.inf)
    chosen = number[np.arange(reaches), np.argmin(score, axis=1)]
    return np.where(counts > 0, chosen, -1), low, high


def _spread(table: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Least, median and greatest of what is known along the second axis; NaN where nothing is."""
    ordered = np.sort(table, axis=1)
    count = np.isfinite(ordered).sum(axis=1)[:, None]

    def at(place: np.ndarray) -> np.ndarray:
        return np.take_along_axis(ordered, np.maximum(place, 0), axis=1)[:, 0]

    return at(count * 0), (at((count - 1) // 2) + at(count // 2 - (count == 0))) / 2, at(count - 1)


def _points(rays: Rays, sections: _Sections, ray: int, low: np.ndarray, high: np.ndarray) -> tuple[ProfilePoint, ...]:
    """Return the points of a ray up to its end; the banks are at zero, by definition of the shoreline."""
    end_m, far = float(rays.end_m[ray]), bool(rays.far_bank[ray])
    wet = sections.distance_m < end_m if far else sections.distance_m <= end_m
    columns = (sections.depth_m[ray], sections.bound_m[ray], low, high)
    told = ([None if np.isnan(value) else value for value in column[wet].tolist()] for column in columns)
    points = [ProfilePoint(*row) for row in zip(sections.distance_m[wet].tolist(), *told, strict=True)]
    points[0] = ProfilePoint(0.0, 0.0)
    return (*points, ProfilePoint(end_m, 0.0)) if far else tuple(points)


def _profile(
    reach: str,
    count: int,
    rays: Rays,
    sections: _Sections,
    ray: int,
    points: tuple[ProfilePoint, ...],
    bearing_deg: float,
    depths_m: Sequence[float],
    stations_m: Sequence[float],
) -> ReachProfile:
    by_distance = {point.distance_m: point for point in points[: -1 if rays.far_bank[ray] else None]}
    sounded = float(sections.sounded_m[ray])
    over = by_distance.get(SLOPE_OVER_M)
    slope = over.depth_m / SLOPE_OVER_M if over and over.depth_m is not None else None
    return ReachProfile(
        reach=reach,
        rays=count,
        start=PointM(float(rays.x_m[ray]), float(rays.y_m[ray])),
        bearing_deg=bearing_deg,
        points=points,
        stations=tuple(by_distance[float(out)] for out in stations_m if float(out) in by_distance),
        reached=tuple(DepthReached(float(depth_m), first_reached(points, float(depth_m))) for depth_m in depths_m),
        steepest=steepest_break(sections.distance_m, sections.depth_m[ray], sections.doubt_m[ray], sounded),
        slope=slope,
        slope_over_m=SLOPE_OVER_M,
        slope_word=None if slope is None else slope_word(slope),
        sounded_from_m=None if np.isnan(sounded) else sounded,
        far_bank_m=float(rays.end_m[ray]) if rays.far_bank[ray] else None,
    )


def first_reached(points: Sequence[ProfilePoint], depth_m: float) -> float | None:
    """Distance at which a depth is first reached, straight between neighbouring known points."""
    before: ProfilePoint | None = None
    for point in points:
        if point.depth_m is not None and point.depth_m >= depth_m:
            if before is None or before.depth_m is None or before.depth_m >= depth_m:
                # Beyond a stretch that is not known nobody can say where it was first reached.
                return point.distance_m if before is None else None
            share = (depth_m - before.depth_m) / (point.depth_m - before.depth_m)
            return before.distance_m + share * (point.distance_m - before.distance_m)
        before = point
    return None
