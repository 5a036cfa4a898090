"""Features of the bed that are new, gone or of another depth, told apart by kind and place; names may be given anew."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import shapely

from atlasgen.compose.changes_reaches import Edition
from atlasgen.model import LonLat
from atlasgen.model.changes import FeatureDepth, FeatureRef
from atlasgen.place.geo import Projection, geodesic_m

# Two searches of one hump put its top some soundings apart; the middle of a long ridge slides along it. Ours.
_SAME_PLACE_M = 50.0
_SAME_SHARE = 0.25
# A search on the map looks this much farther than on the earth: the projection stretches by far less.
_STRETCH = 1.01
_STANDS_UP = ("hump", "ridge", "ledge")


def feature_changes(
    old: Edition, new: Edition, depths_compare: bool
) -> tuple[tuple[FeatureRef, ...], tuple[FeatureRef, ...], tuple[FeatureDepth, ...]]:
    """Return the features that are new, gone, and of another depth, in the order of their editions."""
    before, now = old.document["relief"], new.document["relief"]
    pairs = _paired(before, now, new.projection)
    paired = set(pairs.values())
    gone = tuple(_ref(row, old) for i, row in enumerate(before) if i not in paired)
    come = tuple(_ref(row, new) for i, row in enumerate(now) if i not in pairs)
    both = [FeatureDepth(_ref(before[o], old), _ref(now[n], new)) for n, o in sorted(pairs.items())]
    return come, gone, tuple(pair for pair in both if depths_compare and _differs(pair))


def _paired(
    before: Sequence[Mapping[str, Any]], now: Sequence[Mapping[str, Any]], projection: Projection
) -> dict[int, int]:
    """Pair features of one kind, the nearest first, each once: index of the new to index of the old."""
    if not before or not now:
        return {}
    tree = shapely.STRtree(_squares(before, projection))
    near = sorted(
        (apart_m, n, o)
        for n, o in tree.query(_squares(now, projection)).T.tolist()
        if now[n]["kind"] == before[o]["kind"]
        and (apart_m := round(_apart_m(before[o], now[n]), 2))
        <= max(_SAME_PLACE_M, _SAME_SHARE * (now[n]["length_m"] + before[o]["length_m"]))
    )
    pairs: dict[int, int] = {}
    taken: set[int] = set()
    for _, n, o in near:
        if n not in pairs and o not in taken:
            pairs[n] = o
            taken.add(o)
    return pairs


def _squares(rows: Sequence[Mapping[str, Any]], projection: Projection) -> np.ndarray:
    """Return a square about each feature; those of two features meet wherever the two may be one."""
    lon_deg, lat_deg, length_m = np.array([(row["at"]["lon"], row["at"]["lat"], row["length_m"]) for row in rows]).T
    x, y = projection.points(lon_deg, lat_deg)
    half_m = _STRETCH * np.maximum(_SAME_PLACE_M / 2, _SAME_SHARE * length_m)
    return shapely.box(x - half_m, y - half_m, x + half_m, y + half_m)


def _apart_m(a: Mapping[str, Any], b: Mapping[str, Any]) -> float:
    return geodesic_m(LonLat(a["at"]["lon"], a["at"]["lat"]), LonLat(b["at"]["lon"], b["at"]["lat"]))


def _ref(row: Mapping[str, Any], edition: Edition) -> FeatureRef:
    nearest = min(row["reaches"], key=lambda near: (near["distance_m"], near["reach"]), default=None)
    reach = nearest["reach"] if nearest else None
    depth_m = row["least_depth_m"] if row["kind"] in _STANDS_UP else row["greatest_depth_m"]
    page = edition.page_of.get(reach) if reach else None
    at = row["at"]
    return FeatureRef(row["id"], row["kind"], at["lon"], at["lat"], depth_m, row["bound_m"], reach, page)


def _differs(pair: FeatureDepth) -> bool:
    """Tell whether the depths differ by more than the bounds leave open; without a bound it cannot be told."""
    old, new = pair.old, pair.new
    if old.bound_m is None or new.bound_m is None:
        return False
    return abs(new.depth_m - old.depth_m) > math.hypot(old.bound_m, new.bound_m)
