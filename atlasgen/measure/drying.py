"""The depth model at any stage of the water: what is left of the depths, and what has fallen dry."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from shapely import MultiPolygon

from atlasgen.measure.isobaths import depth_bands
from atlasgen.model import DepthGrid


def at_stage(grid: DepthGrid, stage_m: float) -> DepthGrid:
    """Return the grid with its depths below the water of a stage (above datum, negative when drawn down).

    Negative depths are the height of ground that has fallen dry; what was not known stays unknown.
    """
    return replace(grid, depth_m=grid.depth_m + stage_m)


def dry_area(grid: DepthGrid, water: MultiPolygon, stage_m: float) -> MultiPolygon:
    """Return the ground within `water` that has fallen dry at a stage, as far as the model knows it.

    Empty at the datum and above. Its outer edge is the bank, its inner edge the isobath at the water's depth.
    """
    if stage_m >= 0 or not np.isfinite(grid.depth_m).any():
        return MultiPolygon()
    # Bands take in what lies above the first edge and below the last: the first is all that is dry.
    edges = (0.0, -stage_m, max(float(np.nanmax(grid.depth_m)), -stage_m) + 1.0)
    dry = [band.area for band in depth_bands(grid, water, edges) if band.from_m == 0.0]
    return dry[0] if dry else MultiPolygon()


def dry_and_wet(grid: DepthGrid, water: MultiPolygon, stage_m: float) -> tuple[MultiPolygon, MultiPolygon]:
    """Return what has fallen dry of `water` at a stage, and what is left of it."""
    dry = dry_area(grid, water, stage_m)
    left = water.difference(dry)
    parts = getattr(left, "geoms", [left])
    return dry, MultiPolygon([part for part in parts if part.geom_type == "Polygon" and part.area > 0])
