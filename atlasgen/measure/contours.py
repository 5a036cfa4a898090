"""Depth contours that the crew supplies, in the place of a model of soundings.

Between two lines, and between a line and the bank, depths are interpolated along triangles. Inside the last line of a
basin, and in its sharp bends, every corner of a triangle says the same: the line's own depth is stated there no farther
than `near_sounding_m` from it, and nothing beyond. What a contour does not say, whether the bed falls or rises inside
it, is thus not made up.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import shapely
from shapely import MultiPolygon

from atlasgen.measure.depth import lined_grid
from atlasgen.measure.gridding import COARSEST_CELL_M
from atlasgen.measure.supplied import Supplied, supplied_grid, to_known
from atlasgen.model import MeasureRules, Problem
from atlasgen.model.rasters import DepthContours, Raster
from atlasgen.model.wording import say
from atlasgen.place.geo import Projection
from atlasgen.units import DEPTH_UNIT_M, set_words

# Ours: contours of a lake may run a little above its datum; that much of them is common and not wrong.
_ABOVE_WATER_M = 1e-6


def supplied_depths(
    raster: Raster | None,
    contours: DepthContours | None,
    water: MultiPolygon,
    projection: Projection,
    rules: MeasureRules,
) -> Supplied:
    """Take a supplied raster, else supplied contours, in the place of a model; the metric `water` bounds both."""
    first = supplied_grid(raster, water, projection, rules) if raster else Supplied()
    if contours is None or contours.lines.size == 0:
        return first
    if first.grid is not None and raster is not None:
        said = say("measure-fault-contours-unused", file=contours.file, raster=raster.file)
        return Supplied(first.grid, first.words, (*first.problems, Problem(contours.file, "unused", said)))
    second = contoured_grid(contours, water, projection, rules)
    return Supplied(second.grid, second.words, (*first.problems, *second.problems))


def contoured_grid(
    contours: DepthContours, water: MultiPolygon, projection: Projection, rules: MeasureRules
) -> Supplied:
    """Lay supplied contours over the metric `water` as depths below the datum; refused where their meaning is open."""
    depth_m, read_as, fault = _depths(contours, rules)
    if depth_m is None:
        return _refused(contours, **fault)
    lines = projection.to_metric(contours.lines)
    cell_m = rules.cell_m or COARSEST_CELL_M
    points = _points(lines, depth_m, water, cell_m)
    if len(points) == 0:
        return _refused(contours, "measure-fault-contours-outside")
    grid = lined_grid(points, water, cell_m, rules.near_sounding_m)
    if grid is None:
        return _refused(contours, "measure-fault-contours-no-area")
    cell, near = (set_words(length_m, rules.distance_unit) for length_m in (grid.cell_m, rules.near_sounding_m))
    words = say("measure-contours", file=contours.file, reading=read_as, cell=cell, near=near)
    # As of a supplied raster, every cell with a depth counts as sounded.
    return Supplied(replace(grid, distance_m=to_known(grid), near_sounding_m=0.0), words)


def _depths(contours: DepthContours, rules: MeasureRules) -> tuple[np.ndarray | None, str, dict[str, Any]]:
    """Turn the values into metres below the datum; None, and the facts of `_refused`, where that takes a guess."""
    unit, shows = rules.contours_unit or contours.unit, rules.contours_show or contours.shows
    if unit is None:
        return None, "", {"message": "measure-fault-contours-unit"}
    if shows is None:
        return None, "", {"message": "measure-fault-contours-show"}
    values_m = contours.values * DEPTH_UNIT_M[unit]
    if shows == "elevation":
        full_m = rules.full_supply_elevation_m
        if full_m is None:
            return None, "", {"message": "measure-fault-contours-elevation"}
        return full_m - values_m, say("measure-read-contours-elevation", unit=unit, datum=full_m), {}
    if (values_m < 0).any() and (values_m > 0).any():
        ends = {"least": float(contours.values.min()), "most": float(contours.values.max())}
        return None, "", {"message": "measure-fault-contours-signs", **ends}
    sign = "measure-read-contours" if (values_m >= 0).all() else "measure-read-contours-negative"
    return np.abs(values_m), say(sign, unit=unit), {}


def _points(lines: np.ndarray, depth_m: np.ndarray, water: MultiPolygon, cell_m: float) -> np.ndarray:
    """Return (n, 3) points along the lines, a cell apart at most, those in the water and not above it."""
    dense = shapely.segmentize(lines, cell_m)
    at, line = shapely.get_coordinates(dense, return_index=True)
    shapely.prepare(water)
    kept = (depth_m[line] > -_ABOVE_WATER_M) & shapely.intersects_xy(water, at[:, 0], at[:, 1])
    return np.c_[at, depth_m[line]][kept]


def _refused(contours: DepthContours, message: str, **facts: Any) -> Supplied:
    text = say(message, file=contours.file, field=repr(contours.field), **facts)
    return Supplied(problems=(Problem(contours.file, "unusable", text, "fault"),))
