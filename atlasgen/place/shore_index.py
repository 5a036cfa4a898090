"""The shoreline cut into short pieces, so that what a photo shows can be asked of all of them at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely

from atlasgen.model import PointM, Reach, Ring
from atlasgen.place.geo import Projection
from atlasgen.place.land import GroundHeight, InlandGrid, inland_grid

if TYPE_CHECKING:
    from shapely import MultiPolygon

# A piece is at most this long; what is said of its middle is said of all of it.
PIECE_M = 2.0
# The bank's direction is that of the chord this far to both sides: the run of the bank, not its ripples.
_CHORD_M = 10.0
# Pieces are asked for by the chunk: about 64 m of shore, small beside a frame and large beside a numpy call.
_CHUNK = 32


@dataclass(frozen=True, slots=True)
class ShoreIndex:
    """Pieces of the shoreline in reading order, and the land behind it; arrays of one length unless said.

    `xy_m` (n, 2) are the pieces' middles, `toward` (n, 2) the unit vectors along the bank with the water on the right
    hand, `reach` and `ring` number `reaches` and `rings`. The first pieces of the reaches are in `reach_first`, with
    one more for the end; a whole number of pieces makes a reach. `chunk_*` are for runs of neighbouring pieces: first
    piece, count, middle (k, 2), radius.
    """

    reaches: tuple[Reach, ...]
    rings: tuple[str, ...]
    xy_m: np.ndarray
    toward: np.ndarray
    from_m: np.ndarray
    to_m: np.ndarray
    reach: np.ndarray
    ring: np.ndarray
    reach_first: np.ndarray
    chunk_first: np.ndarray
    chunk_count: np.ndarray
    chunk_xy_m: np.ndarray
    chunk_radius_m: np.ndarray
    inland: InlandGrid
    projection: Projection | None = None
    ground_height: GroundHeight | None = None

    def north_deg(self, points: Sequence[PointM]) -> np.ndarray:
        """Bearing of the map's north at `points`, degrees from true north: taken off a true heading it is the map's."""
        if self.projection is None or not points:
            return np.zeros(len(points))
        x, y = np.asarray(points, float).T
        turn = self.projection.grid_bearings_to_true(np.zeros(len(points)), x, y)
        return (turn + 180) % 360 - 180

    def near(self, at: PointM, range_m: float) -> np.ndarray:
        """Numbers of the chunks that come within `range_m` of a place."""
        east, north = self.chunk_xy_m[:, 0] - at.x_m, self.chunk_xy_m[:, 1] - at.y_m
        # Squares cost a fifth of numpy's hypot, and this is asked of the whole lake for every photo.
        return np.flatnonzero(east * east + north * north <= (range_m + self.chunk_radius_m) ** 2)

    def pieces_of(self, chunks: np.ndarray) -> np.ndarray:
        """Numbers of the pieces of some chunks, in order."""
        count = self.chunk_count[chunks]
        before = np.cumsum(count) - count
        return np.arange(count.sum()) + np.repeat(self.chunk_first[chunks] - before, count)


def shore_index(
    water: MultiPolygon,
    rings: Sequence[Ring],
    reaches: Sequence[Reach],
    projection: Projection | None = None,
    ground_height: GroundHeight | None = None,
    inland: InlandGrid | None = None,
) -> ShoreIndex:
    """Cut the shoreline for looking at, once for all photos.

    `projection` turns true headings to the map's; without it the map's north is taken as true. `ground_height` gives
    the height of the bare ground above the shoreline; where it is NaN, and without it, `place.land` has a stand-in.
    `inland` is the grid of `water`, if it is known.
    """
    numbers = {ring.id: number for number, ring in enumerate(rings)}
    counts = np.array([max(1, int(np.ceil(reach.length_m / PIECE_M - 1e-9))) for reach in reaches])
    reach = np.repeat(np.arange(len(reaches)), counts)
    ring = np.array([numbers[r.ring] for r in reaches])[reach]
    within = np.arange(len(reach)) - np.repeat(np.cumsum(counts) - counts, counts)
    starts, lengths = np.array([(r.from_m, r.length_m) for r in reaches]).T
    from_m = starts[reach] + lengths[reach] * within / counts[reach]
    to_m = starts[reach] + lengths[reach] * (within + 1) / counts[reach]
    xy, toward = _on_rings(rings, ring, (from_m + to_m) / 2)
    first, count, middle, radius = _chunks(ring, xy)
    return ShoreIndex(
        reaches=tuple(reaches),
        rings=tuple(ring.id for ring in rings),
        xy_m=xy,
        toward=toward,
        from_m=from_m,
        to_m=to_m,
        reach=reach,
        ring=ring,
        reach_first=np.append(0, np.cumsum(counts)),
        chunk_first=first,
        chunk_count=count,
        chunk_xy_m=middle,
        chunk_radius_m=radius,
        inland=inland or inland_grid(water),
        projection=projection,
        ground_height=ground_height,
    )


def _on_rings(rings: Sequence[Ring], ring: np.ndarray, chainage_m: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Places on the rings, and unit vectors along the bank."""
    xy, toward = np.empty((2, len(ring), 2))
    for number, line in enumerate(r.line for r in rings):
        at = np.flatnonzero(ring == number)
        coords = shapely.get_coordinates(line)
        along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(coords, axis=0).T))])
        reach_m = min(_CHORD_M, along[-1] / 4)
        before, middle, after = (
            np.column_stack([np.interp((chainage_m[at] + d) % along[-1], along, axis) for axis in coords.T])
            for d in (-reach_m, 0.0, reach_m)
        )
        chord = after - before
        xy[at], toward[at] = middle, chord / np.maximum(np.hypot(*chord.T), 1e-12)[:, None]
    return xy, toward


def _chunks(ring: np.ndarray, xy: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """First piece, count, middle and radius of the chunks; none spans two rings."""
    within = np.arange(len(ring)) - np.searchsorted(ring, ring)
    first = np.flatnonzero(within % _CHUNK == 0)
    count = np.diff(np.append(first, len(ring)))
    low, high = np.minimum.reduceat(xy, first), np.maximum.reduceat(xy, first)
    return first, count, (low + high) / 2, np.hypot(*(high - low).T) / 2
