"""What lies between a camera and the bank it looks at, in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import shapely
from shapely import Point

from atlasgen.model import NamedArea, PointM
from atlasgen.model.wording import say

# Nearer than this a bank is beside the camera rather than across anything, and less water than this share of the way
# is not what one looks across; ours.
_LEAST_ACROSS_M = 60.0
_LEAST_WATER = 0.6


def across_words(station: PointM, bank: Any, water: Any, places: Sequence[NamedArea]) -> str:
    """Return `across Cask Arm`, `across the water`, or "" where the bank is near or land lies between.

    `bank` is the reach looked at; all geometry is metric. A place is named where it holds most of the water crossed.
    """
    way = shapely.shortest_line(Point(station), bank)
    wet = shapely.intersection(way, water)
    if way.length < _LEAST_ACROSS_M or wet.length < _LEAST_WATER * way.length:
        return ""
    inside = [(shapely.intersection(wet, place.area).length, place.name.strip()) for place in places]
    most, name = max(inside, default=(0.0, ""), key=lambda item: item[0])
    return say("sight-across", place=name) if name and most > wet.length / 2 else say("sight-across-water")
