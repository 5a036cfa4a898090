"""The rings by chainage: the line and the places of any stretch, without walking a long ring for each of them."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import shapely
from shapely import LineString

from atlasgen.model import Ring


class ShoreLines:
    """Cuts stretches from rings; chainages are metres from a ring's start, never across it."""

    def __init__(self, rings: Iterable[Ring]) -> None:
        self._rings = {ring.id: _by_chainage(ring.line) for ring in rings}

    def line(self, ring: str, from_m: float, to_m: float) -> LineString:
        """Return a stretch as a line with the ring's own bends."""
        along, xy = self._rings[ring]
        first, end = np.searchsorted(along, from_m, "right"), np.searchsorted(along, to_m, "left")
        return LineString(np.vstack([self.points(ring, [from_m]), xy[first:end], self.points(ring, [to_m])]))

    def points(self, ring: str, chainage_m: Iterable[float]) -> np.ndarray:
        """Return places on a ring, shape (n, 2)."""
        along, xy = self._rings[ring]
        at = np.fromiter(chainage_m, float)
        return np.column_stack([np.interp(at, along, axis) for axis in xy.T])


# Every map of an edition asks for the same rings: each is walked once, known again by its identity, and held.
_WALKED: dict[int, tuple[LineString, np.ndarray, np.ndarray]] = {}
_MOST_WALKED = 1000


def _by_chainage(line: LineString) -> tuple[np.ndarray, np.ndarray]:
    """Chainage and place of each of a ring's points."""
    known = _WALKED.get(id(line))
    if known is None or known[0] is not line:
        if len(_WALKED) >= _MOST_WALKED:
            _WALKED.clear()
        xy = shapely.get_coordinates(line)
        known = line, np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(xy, axis=0).T))]), xy
        _WALKED[id(line)] = known
    return known[1], known[2]
