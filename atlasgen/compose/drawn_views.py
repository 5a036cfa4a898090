"""What of a view a map draws: the frame's footprint, ended where the last of the shore that it shows is."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from shapely import MultiPolygon, Point, Polygon

from atlasgen.compose.shore_lines import ShoreLines
from atlasgen.model import PointM
from atlasgen.model.views import Stretch, View

# A view into the distance that shows no shore is drawn this far, no claim how far it sees. Ours.
OPEN_WATER_M = 200.0
# The outline ends a little behind the last bank, so that it does not run along it. Ours.
_BEHIND = 1.04
_BEHIND_M = 4.0
# A stretch bends less than matters between places this far apart.
_STEP_M = 20.0
_ARC_SEGMENTS = 32


def drawn_view(view: View, at: PointM, lines: ShoreLines) -> Polygon | MultiPolygon:
    """Return the water that a map outlines for a view, metric; empty where the frame looks over the water.

    A frame without the horizon ends by itself and is drawn whole. One with it goes on to the stated range, which would
    cover a lake: it is cut just behind the farthest shore that it shows.
    """
    if not view.includes_horizon or view.footprint.is_empty:
        return view.footprint
    far_m = farthest_seen_m(view.stretches, at, lines) * _BEHIND + _BEHIND_M if view.stretches else OPEN_WATER_M
    far_m = min(view.range_m, far_m)
    cut = view.footprint.intersection(Point(at).buffer(far_m, quad_segs=_ARC_SEGMENTS))
    return cut if cut.geom_type in ("Polygon", "MultiPolygon") else Polygon()


def farthest_seen_m(stretches: Sequence[Stretch], at: PointM, lines: ShoreLines) -> float:
    """Return how far off the farthest place of some stretches is, metres; there is at least one."""
    return max(_farthest_m(stretch, at, lines) for stretch in stretches)


def _farthest_m(stretch: Stretch, at: PointM, lines: ShoreLines) -> float:
    count = 2 + int(stretch.length_m / _STEP_M)
    east, north = (lines.points(stretch.ring, np.linspace(stretch.from_m, stretch.to_m, count)) - at).T
    return float(np.hypot(east, north).max())
