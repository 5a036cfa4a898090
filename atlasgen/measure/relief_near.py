"""Which features of the bed lie off each reach: near it, over water, never across land."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import LineString, MultiPolygon, Point

from atlasgen.model import PointM, Reach
from atlasgen.model.relief import ReliefFeature, ReliefNear
from atlasgen.place.geo import Projection

# A line of sight starts on the bank and may touch a bank where it ends: what it crosses of land must be longer.
_GRAZE_M = 1.0


def relief_of_reaches(
    features: Sequence[ReliefFeature],
    reaches: Sequence[Reach],
    water: MultiPolygon,
    projection: Projection,
    within_m: float = 100.0,
) -> dict[str, tuple[ReliefNear, ...]]:
    """Return for every reach the features within `within_m` of it, the nearest first.

    Distance is from the bank to the nearest edge of the feature's outline; between the two, in a straight line, there
    must be water alone.
    """
    near: dict[str, list[ReliefNear]] = {reach.id: [] for reach in reaches}
    if features and reaches:
        lines = np.array([reach.line for reach in reaches], dtype=object)
        outlines = np.array([feature.outline for feature in features], dtype=object)
        which, reach = shapely.STRtree(lines).query(outlines, predicate="dwithin", distance=within_m)
        sights = shapely.shortest_line(lines[reach], outlines[which])
        for feature, number, sight in zip(which, reach, sights, strict=True):
            if _over_water(sight, water):
                near[reaches[number].id].append(_near(features[feature], reaches[number], sight, projection))
    order = {feature.id: number for number, feature in enumerate(features)}
    return {
        reach: tuple(sorted(found, key=lambda item: (item.edge_m, order[item.feature])))
        for reach, found in near.items()
    }


def _over_water(sight: LineString, water: MultiPolygon) -> bool:
    if sight.length <= _GRAZE_M:
        return True
    shapely.prepare(water)
    if water.contains(sight):
        return True
    return float(shapely.difference(sight, water).length) <= _GRAZE_M


def _near(feature: ReliefFeature, reach: Reach, sight: LineString, projection: Projection) -> ReliefNear:
    top = Point(feature.point)
    bank = reach.line.interpolate(reach.line.project(top))
    grid_deg = float(np.degrees(np.arctan2(top.x - bank.x, top.y - bank.y)) % 360)
    return ReliefNear(
        feature=feature.id,
        edge_m=float(sight.length),
        distance_m=float(reach.line.distance(top)),
        bearing_deg=projection.grid_bearing_to_true(grid_deg, PointM(bank.x, bank.y)),
    )
