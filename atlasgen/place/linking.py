"""Ties places to the reach they are nearest to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import shapely

from atlasgen.model import PointM, Reach

if TYPE_CHECKING:
    from shapely import MultiPolygon

# Long enough that the tree is small, short enough that a piece's box is mostly shore.
_SEGMENTS_A_PIECE = 10
_MORTON_BITS = 16


class Link(NamedTuple):
    """The shore nearest to a place: its reach, how far it is, where along its ring, and the point itself."""

    reach_id: str
    distance_m: float
    chainage_m: float
    point: PointM


@dataclass(frozen=True, slots=True)
class _Pieces:
    """Short lines that make up the reaches, in reading order: index of the reach, and chainage of the start."""

    lines: np.ndarray
    reach: np.ndarray
    from_m: np.ndarray


def nearest_reaches(points: Sequence[PointM], reaches: Sequence[Reach]) -> list[Link]:
    """Link each metric point to the reach nearest to it, in the order of `points`.

    Of reaches at the same distance, the first in reading order. Distances in the lake's projection are geodesic
    within its scale error (5 ppm over 50 km, see `geo.Projection`), far below a centimetre at the range of a photo.

    Raises
    ------
    ValueError
        There are no reaches.
    """
    if not reaches:
        raise ValueError("no reaches to link to. Expected at least one: has the shoreline been cut?")
    if not points:
        return []
    xy = np.asarray(points, float)
    reach, distance_m, chainage_m, feet = _nearest(xy, _pieces(reaches), np.array([r.to_m for r in reaches]))
    return [
        Link(reaches[index].id, distance, chainage, PointM(*foot))
        for index, distance, chainage, foot in zip(
            reach.tolist(), distance_m.tolist(), chainage_m.tolist(), feet.tolist(), strict=True
        )
    ]


def _nearest(
    xy: np.ndarray, pieces: _Pieces, to_m: np.ndarray
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Reach index, distance, chainage and nearest shore point (n, 2) of each point (n, 2)."""
    order = _morton_order(xy)
    places = shapely.points(xy[order])
    asked, found = shapely.STRtree(pieces.lines).query_nearest(places, all_matches=True)
    piece = np.full(len(xy), len(pieces.lines))
    np.minimum.at(piece, asked, found)
    along = shapely.line_locate_point(pieces.lines[piece], places)
    feet = shapely.line_interpolate_point(pieces.lines[piece], along)
    reach = pieces.reach[piece]
    # Pieces are measured one by one; their sum may pass the reach's end by a rounding.
    chainage = np.minimum(pieces.from_m[piece] + along, to_m[reach])
    back = np.argsort(order)
    return reach[back], shapely.distance(places, feet)[back], chainage[back], shapely.get_coordinates(feet)[back]


def _pieces(reaches: Sequence[Reach]) -> _Pieces:
    coords, owner = shapely.get_coordinates([reach.line for reach in reaches], return_index=True)
    vertex = np.arange(len(coords)) - np.searchsorted(owner, owner)
    last = np.bincount(owner)[owner] - 1
    step = np.where(vertex == 0, 0.0, np.hypot(*(coords - np.roll(coords, 1, axis=0)).T))
    start = np.flatnonzero(vertex == 0)
    along = np.cumsum(step)
    chainage = along - along[start][owner] + np.array([reach.from_m for reach in reaches])[owner]
    first = np.flatnonzero((vertex % _SEGMENTS_A_PIECE == 0) & (vertex < last))
    size = np.minimum(_SEGMENTS_A_PIECE, last[first] - vertex[first]) + 1
    number = np.repeat(np.arange(len(first)), size)
    inside = np.arange(len(number)) - np.repeat(np.cumsum(size) - size, size)
    lines = shapely.linestrings(coords[first[number] + inside], indices=number)
    return _Pieces(lines, owner[first], chainage[first])


def _morton_order(xy: np.ndarray) -> np.ndarray:
    """Order in which neighbours follow each other, so that the search tree's branches stay in the cache."""
    low, span = xy.min(axis=0), np.ptp(xy, axis=0)
    cell = ((xy - low) / np.where(span > 0, span, 1) * (2**_MORTON_BITS - 1)).astype(np.uint64)
    code = np.zeros(len(xy), np.uint64)
    for bit in range(_MORTON_BITS):
        for axis in (0, 1):
            code |= (cell[:, axis] >> np.uint64(bit) & np.uint64(1)) << np.uint64(2 * bit + axis)
    return np.argsort(code, kind="stable")


def over_water(points: Sequence[PointM], water: MultiPolygon) -> list[bool]:
    """Tell for each metric point whether it is over the water; on the very shoreline it is not."""
    if not points:
        return []
    xy = np.asarray(points, float)
    shapely.prepare(water)
    return shapely.contains_xy(water, xy[:, 0], xy[:, 1]).tolist()
