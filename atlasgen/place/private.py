"""Positions within areas that the crew keeps private: told to the nearest hundred metres, or to the reach alone.

It is done before anything else is worked out from a position, so that nothing published can give it back: not the
distance to the bank, not the view, not the direction in which something seen from there lies.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely

from atlasgen.model import LonLat, NamedArea

ROUND_TO_M = 100.0
# Half a cell of the grid either way, evenly spread: the standard deviation along one axis is the side over root 12.
ROUNDED_SIGMA_M = ROUND_TO_M / math.sqrt(12)
_METRES_PER_DEGREE = 111_195.0


def treatment(at: LonLat, areas: Sequence[NamedArea]) -> str | None:
    """Return `hide` or `round` for a place in a private area, None outside all of them; the stricter one counts."""
    point = shapely.Point(at.lon_deg, at.lat_deg)
    asked = {_wish(area) for area in areas if area.area.intersects(point)}
    return "hide" if "hide" in asked else "round" if asked else None


def _wish(area: NamedArea) -> str:
    # What is not known to be enough for the crew is hidden.
    return "round" if "round" in (area.name.strip().casefold(), area.kind.strip().casefold()) else "hide"


def rounded(at: LonLat) -> LonLat:
    """Return the middle of the cell of a fixed grid, ROUND_TO_M wide, that holds a place."""
    lat_step = ROUND_TO_M / _METRES_PER_DEGREE
    lat_deg = (math.floor(at.lat_deg / lat_step) + 0.5) * lat_step
    # The same for all places of one row, so that the cells of a row do not overlap.
    lon_step = lat_step / max(math.cos(math.radians(lat_deg)), 0.01)
    return LonLat((math.floor(at.lon_deg / lon_step) + 0.5) * lon_step, lat_deg)
