"""Strips and wedges beside a track: what one side could see, cut off where land ends it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely
from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry

from atlasgen.measure.areas import NOWHERE, clipped
from atlasgen.measure.passtrack import Leg

# Ours: strips that land cuts are looked at in slices of this length along the track.
SLICE_M = 5.0
# A boat this near to the bank as drawn counts as on the water; shorelines are no better.
_ASHORE_M = 2.0
# Water this narrow (twice this) between land and the edge of a slice is rounding, and no way past.
_NECK_M = 0.01
# In a sharper turn the record does not tell which way a channel looked, and what it swept is not counted.
_SHARPEST_RAD = np.pi / 2
_ARC_RAD = np.radians(10.0)
_EDGES = (("near", "far"), ("track", "near"))


@dataclass(frozen=True, slots=True)
class Strips:
    """Pieces of ground beside a track, arrays of polygons: `seen` from near to far, `under` from the track to near.

    `hidden` is water within range that lies behind land; empty for pieces that no land cuts. `leg` and `interval`
    number where each piece belongs; the wedge of a turn belongs to the interval before it.
    """

    seen: np.ndarray
    under: np.ndarray
    hidden: np.ndarray
    leg: np.ndarray
    interval: np.ndarray


class _Piece(NamedTuple):
    """One strip (two points on the track) or wedge (one): its three edges, from the back to the front, (n, 2)."""

    leg: int
    interval: int
    track: np.ndarray
    near: np.ndarray
    far: np.ndarray


def strips_of(legs: Sequence[Leg], side: float, water: MultiPolygon) -> Strips:
    """All strips and wedges of one side of a pass: `side` 1 for port (left), -1 for starboard."""
    pieces = [piece for number, leg in enumerate(legs) for piece in _pieces(number, leg, side)]
    pieces = [piece for piece in pieces if np.abs(piece.far - piece.near).max() > 0]
    whole = _rings([(piece.track, piece.far) for piece in pieces])
    afloat = shapely.covers(water, whole)
    free = [piece for piece, covered in zip(pieces, afloat, strict=True) if covered]
    cut = [piece for piece, covered in zip(pieces, afloat, strict=True) if not covered]
    slices = [part for piece in cut for part in _sliced(piece)]
    afloat_parts, shaded = _shaded(cut, slices, water)
    every = free + slices
    seen, under = (_rings([(getattr(p, inner), getattr(p, outer)) for p in every]) for inner, outer in _EDGES)
    at = len(free)
    seen[at:], under[at:] = shapely.intersection(seen[at:], shaded), shapely.intersection(under[at:], shaded)
    hidden = np.full(len(every), NOWHERE, dtype=object)
    hidden[at:] = shapely.difference(afloat_parts, shaded)
    return Strips(
        seen, under, hidden, np.array([p.leg for p in every], int), np.array([p.interval for p in every], int)
    )


def _pieces(number: int, leg: Leg, side: float) -> list[_Piece]:
    fixes = leg.fixes
    places = np.c_[fixes.x_m, fixes.y_m]
    along = np.diff(places, axis=0)
    course = np.arctan2(along[:, 1], along[:, 0])
    outward = side * np.c_[-np.sin(course), np.cos(course)]
    moved = np.flatnonzero(np.hypot(*along.T) > 0)
    found = []
    for i in moved:
        track, out = places[i : i + 2], outward[i]
        near, far = (track + widths[i : i + 2, None] * out for widths in (fixes.near_m, fixes.far_m))
        found.append(_Piece(number, int(i), track, near, far))
    for before, after in pairwise(moved):
        found += _wedge(number, leg, side, (int(before), int(after)), course)
    return found


def _wedge(number: int, leg: Leg, side: float, intervals: tuple[int, int], course: np.ndarray) -> list[_Piece]:
    """Ground that the outer side of a turn sweeps, if it is this side and the turn is not too sharp."""
    before, after = intervals
    turn = (course[after] - course[before] + np.pi) % (2 * np.pi) - np.pi
    if turn * side >= 0 or abs(turn) > _SHARPEST_RAD:
        return []
    angles = course[before] + side * np.pi / 2 + np.linspace(0.0, turn, int(np.ceil(abs(turn) / _ARC_RAD)) + 1)
    spokes = np.c_[np.cos(angles), np.sin(angles)]
    place = np.array([leg.fixes.x_m[after], leg.fixes.y_m[after]])
    near, far = (place + widths[after] * spokes for widths in (leg.fixes.near_m, leg.fixes.far_m))
    return [_Piece(number, before, place[None], near, far)]


def _sliced(piece: _Piece) -> list[_Piece]:
    """Cut a strip across; a wedge stays whole."""
    if len(piece.track) < 2:
        return [piece]
    count = max(int(np.ceil(np.hypot(*(piece.track[1] - piece.track[0])) / SLICE_M)), 1)
    share = np.linspace(0.0, 1.0, count + 1)[:, None]
    edges = [edge[0] * (1 - share) + edge[1] * share for edge in piece[2:]]
    return [_Piece(piece.leg, piece.interval, *(edge[i : i + 2] for edge in edges)) for i in range(count)]


def _rings(edges: Sequence[tuple[np.ndarray, np.ndarray]]) -> np.ndarray:
    """Polygons between an inner and an outer edge that run the same way."""
    if not edges:
        return np.empty(0, dtype=object)
    rings = [np.vstack([inner, outer[::-1], inner[:1]]) for inner, outer in edges]
    lengths = [len(ring) for ring in rings]
    lines = shapely.linearrings(np.vstack(rings), indices=np.repeat(np.arange(len(rings)), lengths))
    return shapely.polygons(lines)


def _shaded(cut: Sequence[_Piece], slices: Sequence[_Piece], water: MultiPolygon) -> tuple[np.ndarray, np.ndarray]:
    """Water of each slice, and what of it hangs together with its place on the track: behind land nothing is seen."""
    if not cut:
        return np.empty(0, dtype=object), np.empty(0, dtype=object)
    counts = [len(_sliced(piece)) for piece in cut]
    whole = _rings([(piece.track, piece.far) for piece in slices])
    tracks = np.array([_line(piece.track) for piece in slices], dtype=object)
    wet, first = [], 0
    for count in counts:
        part = slice(first, first + count)
        local = clipped(water, *shapely.total_bounds(whole[part]))
        wet.append(shapely.intersection(whole[part], local))
        first += count
    afloat = np.concatenate(wet)
    return afloat, _touching(afloat, tracks)


def _line(track: np.ndarray) -> BaseGeometry:
    return shapely.linestrings(track) if len(track) > 1 else shapely.points(track[0])


def _touching(areas: np.ndarray, tracks: np.ndarray) -> np.ndarray:
    """Of each area the parts at the track; where it is all but cut in two, only the near side of the neck."""
    cores = shapely.buffer(areas, -_NECK_M, join_style="mitre")
    necked = shapely.get_num_geometries(cores) > 1
    sound = areas.copy()
    sound[necked] = cores[necked]
    kept = _parts_at(sound, tracks)
    grown = shapely.buffer(kept[necked], _NECK_M, join_style="mitre")
    kept[necked] = shapely.intersection(grown, areas[necked])
    return kept


def _parts_at(areas: np.ndarray, tracks: np.ndarray) -> np.ndarray:
    parts, owner = shapely.get_parts(areas, return_index=True)
    kept = (shapely.get_dimensions(parts) == 2) & (shapely.distance(parts, tracks[owner]) <= _ASHORE_M)
    parts, owner = parts[kept], owner[kept]
    ends = np.searchsorted(owner, np.arange(len(areas) + 1))
    return np.array([MultiPolygon(list(parts[a:b])) for a, b in pairwise(ends)], dtype=object)
