"""Which line of one edition is which of another: by the bank that they share, not by their names."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np
import shapely

if TYPE_CHECKING:
    from shapely import LineString

# A shoreline that is traced again from a better picture lies some metres beside the old one. Ours.
SAME_BANK_M = 25.0
# Two reaches are the same if at least half of each is the same bank: a shore that is cut anew elsewhere moves every
# border by half a reach at most. Ours.
LEAST_SHARE = 0.5
# Shares nearer than this are equal, and the nearer line is taken: where an inlet is narrower than `within_m`, the
# opposite bank has the whole share too. Ours.
_SHARE_STEP = 0.01


def match_lines(
    old: Mapping[str, LineString], new: Mapping[str, LineString], within_m: float
) -> dict[str, tuple[str, float]]:
    """Match lines one to one and return, in the order of `new`, its ids with (old id, share).

    Parameters
    ----------
    old, new
        Lines by id, in one metric projection.
    within_m
        How far the same bank may be redrawn to the side.

    Returns
    -------
    dict
        The share is the smaller of two: how much of the new line lies beside the old one and no farther than
        `within_m` from it, and how much of the old one so beside the new one, 0 to 1. What lies beyond the ends of a
        line is not beside it. Largest share first; among equal shares the nearest line, then the first id. A line
        that shares less than half with any that is left has no match.
    """
    pairs = _shares(old, new, within_m)
    matched: dict[str, tuple[str, float]] = {}
    taken: set[str] = set()
    for _, _, new_id, old_id, share in sorted(pairs):
        if new_id not in matched and old_id not in taken:
            matched[new_id] = (old_id, share)
            taken.add(old_id)
    return {name: matched[name] for name in new if name in matched}


def _shares(
    old: Mapping[str, LineString], new: Mapping[str, LineString], within_m: float
) -> list[tuple[float, float, str, str, float]]:
    """Return (rank of the share, farthest distance, new id, old id, share) of every pair that shares enough."""
    old_ids, new_ids = sorted(old), sorted(new)
    old_lines = np.array([old[name] for name in old_ids], dtype=object)
    new_lines = np.array([new[name] for name in new_ids], dtype=object)
    if not len(old_lines) or not len(new_lines):
        return []
    of_new, of_old = shapely.STRtree(old_lines).query(new_lines, predicate="dwithin", distance=within_m)
    share = np.minimum(
        _beside(new_lines[of_new], _besides(old_lines, within_m)[of_old]),
        _beside(old_lines[of_old], _besides(new_lines, within_m)[of_new]),
    )
    apart_m = shapely.hausdorff_distance(old_lines[of_old], new_lines[of_new])
    return [
        (-round(s / _SHARE_STEP), round(float(d), 3), new_ids[n], old_ids[o], round(float(s), 4))
        for n, o, s, d in zip(of_new, of_old, share, apart_m, strict=True)
        if s >= LEAST_SHARE
    ]


def _besides(lines: np.ndarray, within_m: float) -> np.ndarray:
    """Return the ground beside each line; flat ends, so that a neighbour along the shore has no part in it."""
    return shapely.buffer(lines, within_m, cap_style="flat")


def _beside(lines: np.ndarray, ground: np.ndarray) -> np.ndarray:
    lengths_m = shapely.length(lines)
    inside_m = shapely.length(shapely.intersection(lines, ground))
    share = np.divide(inside_m, lengths_m, out=np.zeros(len(lines)), where=lengths_m > 0)
    return np.minimum(share, 1.0)
