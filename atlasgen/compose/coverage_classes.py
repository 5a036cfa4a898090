"""How every part of the water was surveyed, as classes of area, with side-scan or without."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from shapely import MultiPolygon, get_parts, union_all

from atlasgen.model import Known
from atlasgen.model.sonar import SONAR_CLASSES, SonarClass

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry


def coverage_classes(known: Known, water: MultiPolygon) -> Mapping[SonarClass, MultiPolygon]:
    """Share the water out among the classes, metric; those that have none of it are left out.

    Without side-scan there are only water with depths, water that the crew could not survey, and the rest.
    """
    if known.sonar is not None:
        found = {name: known.sonar.area[name] for name in SONAR_CLASSES if name in known.sonar.area}
    else:
        found = _by_depth(known, water)
    return {name: area for name, area in found.items() if not area.is_empty}


def _by_depth(known: Known, water: MultiPolygon) -> dict[SonarClass, MultiPolygon]:
    with_depth = union_all([band.area for band in known.bands] + ([known.dry] if known.dry is not None else []))
    reasons = union_all([area for _, area in known.not_surveyed])
    sounded = with_depth.intersection(water)
    closed = reasons.intersection(water).difference(sounded)
    rest = water.difference(union_all([sounded, closed]))
    return {"not_surveyable": _polygons(closed), "depth_only": _polygons(sounded), "none": _polygons(rest)}


def _polygons(shape: BaseGeometry) -> MultiPolygon:
    # Slivers that rounding leaves between areas that meet are nobody's water.
    return MultiPolygon([part for part in get_parts(shape) if part.geom_type == "Polygon" and part.area > 1.0])
