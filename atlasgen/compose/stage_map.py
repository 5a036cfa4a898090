"""The lake at another level: what has fallen dry, and how deep the rest still is."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from shapely import MultiPolygon

from atlasgen.compose.drawing import ToLonLat, frame_filling, line
from atlasgen.compose.legend import Entry, legend, legend_height_mm
from atlasgen.compose.sheet import Sheet
from atlasgen.compose.textures import texture
from atlasgen.measure.drying import at_stage, dry_and_wet
from atlasgen.measure.isobaths import band_edges, depth_bands
from atlasgen.model import DepthGrid, Drawing, Ring
from atlasgen.model.wording import say
from atlasgen.units import DepthUnit, DistanceUnit, area_words, depth_words, level_words


def stage_map(
    id: str,
    grid: DepthGrid,
    stage_m: float,
    *,
    water: MultiPolygon,
    rings: Sequence[Ring],
    to_lonlat: ToLonLat,
    depth_unit: DepthUnit,
    distance_unit: DistanceUnit,
    width_mm: float = 170.0,
    height_mm: float = 118.0,
) -> Drawing:
    """Return the whole lake at a stage: the dry bed, and the depth below that day's water as a tint. All metric."""
    dry, left = dry_and_wet(grid, water, stage_m)
    lowered = at_stage(grid, stage_m)
    deepest_m = max(float(np.nanmax(lowered.depth_m)), 0.0)
    bands = depth_bands(lowered, left, band_edges(deepest_m, depth_unit)) if deepest_m > 0 else ()
    entries = [
        Entry(say("key-fallen-dry", area=area_words(dry.area, distance_unit)), texture="dry"),
        Entry(say("key-water-left", depth=depth_words(deepest_m, depth_unit)), area="audit-water"),
    ]
    foot_mm = legend_height_mm(entries, width_mm)
    frame = frame_filling(water.bounds, width_mm, height_mm - foot_mm, margin_mm=7.0)
    sheet = Sheet(frame, left, rings, bands=bands)
    sheet.put("ground", texture("dry", frame.cut_area(dry)))
    sheet.put("shore", line("shore-thin", frame.cut_lines(ring.line for ring in rings)))
    sheet.furniture(distance_unit, to_lonlat)
    sheet.put("legend", legend(entries, (0.0, frame.height_mm), width_mm))
    alt = say(
        "map-stage",
        level=level_words(stage_m, depth_unit),
        area=area_words(dry.area, distance_unit),
        depth=depth_words(deepest_m, depth_unit),
    )
    return sheet.finish(id, alt, to_lonlat, foot_mm)
