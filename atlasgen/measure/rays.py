"""Many lines out from the banks at once, square to their reaches, each as far as the far bank."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import MultiPolygon

from atlasgen.model import Reach

# A profile starts at the bank: the water must begin within a metre of it.
START_M = 1.0
# Ours: one ray for each 20 m of a reach, an odd number so that one stands at its middle, nine at most.
_RAY_EVERY_M, _MOST_RAYS = 20.0, 9
# Banks a ray starts on or grazes are told from banks it meets by a millimetre.
_TOUCH_M = 1e-3


@dataclass(frozen=True, slots=True)
class Rays:
    """Rays by row: origin on the bank, unit direction, where water begins and ends along it, and whose they are.

    `end_m` is the far bank, or how far the ray was run where it met none (`far_bank` False). `reach` is the number of
    the reach; rays of one reach stand together, in its order.
    """

    x_m: np.ndarray
    y_m: np.ndarray
    east: np.ndarray
    north: np.ndarray
    start_m: np.ndarray
    end_m: np.ndarray
    far_bank: np.ndarray
    reach: np.ndarray

    def of(self, chosen: np.ndarray) -> Rays:
        """Return some of the rays, by mask or number."""
        return Rays(*(getattr(self, name)[chosen] for name in self.__slots__))


def cast_rays(reaches: Sequence[Reach], water: MultiPolygon, out_to_m: float) -> Rays:
    """Run rays over the water off every reach; a place of the bank from which no ray finds water gives none.

    A ray is square to the middle half of its reach, so that a wave of the bank does not turn it; where that leads over
    land, it is square to the bank at its own foot.
    """
    lines = np.array([reach.line for reach in reaches], dtype=object)
    length = shapely.length(lines)
    count = _rays_of(length)
    reach = np.repeat(np.arange(len(lines)), count)
    share = (np.arange(reach.size) - np.repeat(np.cumsum(count) - count, count) + 0.5) / count[reach]
    at_m = share * length[reach]
    edges = _edges(water)
    main = _square_to(lines[reach], length[reach] / 2, length[reach] / 4)
    rays = _run(lines[reach], at_m, main, reach, water, edges, out_to_m)
    blind = np.flatnonzero(np.isnan(rays.end_m))
    if blind.size:
        own = _square_to(lines[reach[blind]], at_m[blind], np.minimum(START_M, length[reach[blind]] / 4))
        again = _run(lines[reach[blind]], at_m[blind], own, reach[blind], water, edges, out_to_m)
        for name in Rays.__slots__:
            getattr(rays, name)[blind] = getattr(again, name)
    return rays.of(np.isfinite(rays.end_m))


def _rays_of(length_m: np.ndarray) -> np.ndarray:
    count = np.clip(np.round(length_m / _RAY_EVERY_M).astype(np.int64), 1, _MOST_RAYS)
    return count - (count % 2 == 0)


def _square_to(lines: np.ndarray, at_m: np.ndarray, window_m: np.ndarray) -> np.ndarray:
    """Return unit vectors (n, 2) to the right of the lines, over a window about a place of each; water lies there."""
    before, after = (
        shapely.get_coordinates(shapely.line_interpolate_point(lines, at_m + side * window_m)) for side in (-1, 1)
    )
    along = after - before
    size = np.hypot(*along.T)
    along = along / np.where(size > 0, size, 1.0)[:, None]
    return np.where(size[:, None] > 0, np.column_stack([along[:, 1], -along[:, 0]]), np.nan)


def _edges(water: MultiPolygon) -> tuple[np.ndarray, shapely.STRtree]:
    """All edges of the banks, (k, 2, 2), and a tree of them."""
    rings = shapely.get_rings(shapely.get_parts(water))
    coords, ring = shapely.get_coordinates(rings, return_index=True)
    kept = ring[1:] == ring[:-1]
    edges = np.stack([coords[:-1][kept], coords[1:][kept]], axis=1)
    return edges, shapely.STRtree(shapely.linestrings(edges))


def _run(
    lines: np.ndarray,
    at_m: np.ndarray,
    towards: np.ndarray,
    reach: np.ndarray,
    water: MultiPolygon,
    edges: tuple[np.ndarray, shapely.STRtree],
    out_to_m: float,
) -> Rays:
    """Rays from places of lines; those that find no water within a metre have NaN for an end."""
    foot = shapely.get_coordinates(shapely.line_interpolate_point(lines, at_m))
    ray, met_m = _banks_met(foot, towards, edges, out_to_m)
    first, second = _two_least(ray, met_m, len(foot))
    # Water lies between the foot and the first bank met, or, if that is a metre off at most, between the first two.
    first, second = np.minimum(first, out_to_m), np.minimum(second, out_to_m)
    starts_wet = _is_water(foot + towards * (first / 2)[:, None], water)
    late = ~starts_wet & (first <= START_M)
    late &= _is_water(foot + towards * ((first + second) / 2)[:, None], water)
    start = np.where(late, first, 0.0)
    end = np.where(starts_wet, first, np.where(late, second, np.nan))
    far = end < out_to_m - _TOUCH_M
    return Rays(foot[:, 0], foot[:, 1], towards[:, 0], towards[:, 1], start, end, far, reach.copy())


def _banks_met(
    foot: np.ndarray, towards: np.ndarray, edges: tuple[np.ndarray, shapely.STRtree], out_to_m: float
) -> tuple[np.ndarray, np.ndarray]:
    """Pairs (ray, distance) of every crossing of a ray with a bank, the one it starts on left out."""
    usable = np.flatnonzero(np.isfinite(towards).all(axis=1))
    sights = shapely.linestrings(np.stack([foot[usable], foot[usable] + towards[usable] * out_to_m], axis=1))
    number, edge = edges[1].query(sights, predicate="intersects")
    ray = usable[number]
    start, along = edges[0][edge, 0], edges[0][edge, 1] - edges[0][edge, 0]
    turned = towards[ray, 0] * along[:, 1] - towards[ray, 1] * along[:, 0]
    to_start = start - foot[ray]
    with np.errstate(divide="ignore", invalid="ignore"):
        met_m = (to_start[:, 0] * along[:, 1] - to_start[:, 1] * along[:, 0]) / turned
    kept = np.isfinite(met_m) & (met_m > _TOUCH_M)
    return ray[kept], met_m[kept]


def _two_least(ray: np.ndarray, met_m: np.ndarray, count: int) -> tuple[np.ndarray, np.ndarray]:
    """Return the two least distances of each ray, infinity where there are not so many; a corner counts once."""
    order = np.lexsort((met_m, ray))
    ray, met_m = ray[order], met_m[order]
    new = np.r_[True, (ray[1:] != ray[:-1]) | (np.diff(met_m) > _TOUCH_M)] if ray.size else np.empty(0, bool)
    ray, met_m = ray[new], met_m[new]
    place = np.arange(ray.size) - np.searchsorted(ray, ray)
    least = np.full((2, count), np.inf)
    for number in (0, 1):
        least[number, ray[place == number]] = met_m[place == number]
    return least[0], least[1]


def _is_water(places: np.ndarray, water: MultiPolygon) -> np.ndarray:
    shapely.prepare(water)
    known = np.isfinite(places).all(axis=1)
    found = np.zeros(len(places), dtype=bool)
    found[known] = shapely.contains_xy(water, places[known, 0], places[known, 1])
    return found
