"""A depth raster that the crew supplies, in the place of the model: what its values mean, and whether that can be told.

Bed elevations must not be taken for depths. What a raster holds is told by its values against the shoreline: at the
bank the water has no depth, and away from it the bed lies deeper. Depths are about zero at the bank and grow inward,
heights against the water are about zero and fall, elevations are about the full supply elevation and fall. Where the
crew's word or exactly one of these readings fits, the raster is used; where two do or none does, that is said.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import reduce
from typing import Any

import numpy as np
from shapely import MultiPolygon

from atlasgen.measure.gridding import FINEST_CELL_M, fit_cell, raster_polygon
from atlasgen.model import DepthGrid, MeasureRules, Problem
from atlasgen.model.rasters import Raster
from atlasgen.model.wording import say
from atlasgen.place.geo import Projection
from atlasgen.place.rasters import cell_size_m, metric_grid
from atlasgen.units import DEPTH_UNIT_M, number_words, set_words

# Ours. Cells of the bank are those that a bank passes within so many cells of; a raster of the lake is about zero deep
# there, steep banks and coarse cells allowed for; and hardly any of it stands above the water.
_BANK_CELLS = 2.0
_BANK_DEPTH_M, _BANK_SHARE = 2.0, 0.4
_ABOVE_WATER_M, _MOST_ABOVE = 1.0, 0.02


@dataclass(frozen=True, slots=True)
class Supplied:
    """The grid that a raster gives, None where it cannot be used; `words` say how it was read."""

    grid: DepthGrid | None = None
    words: str = ""
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class _Reading:
    """One way to read the values: depth = `sign` times the value + `at_zero_m`."""

    shows: str
    words: str
    sign: float
    at_zero_m: float

    def depth_m(self, values_m: np.ndarray) -> np.ndarray:
        return self.sign * values_m + self.at_zero_m


def supplied_grid(raster: Raster, water: MultiPolygon, projection: Projection, rules: MeasureRules) -> Supplied:
    """Lay a supplied raster over the metric `water` as depths below the datum.

    Its cells count as sounded: their distance to a sounding is zero. Nothing is stated where it holds nothing.
    """
    unit_m, fault = _unit_m(raster, rules)
    if unit_m is None:
        return _refused(raster, **fault)
    values = _laid_out(raster, water, projection)
    values.depth_m[:] *= unit_m
    if np.isnan(values.depth_m).all():
        return _refused(raster, "measure-fault-raster-empty")
    reading, fault = _meaning(raster, values, water, rules)
    if reading is None:
        return _refused(raster, **fault)
    grid = replace(values, depth_m=reading.depth_m(values.depth_m), distance_m=to_known(values))
    cell = set_words(grid.cell_m, rules.distance_unit)
    words = say("measure-raster", file=raster.file, reading=reading.words, cell=cell)
    return Supplied(grid, words)


def _unit_m(raster: Raster, rules: MeasureRules) -> tuple[float | None, dict[str, Any]]:
    stated = DEPTH_UNIT_M[rules.raster_unit] if rules.raster_unit else None
    told = repr(raster.unit)
    if stated and raster.unit_m and abs(raster.unit_m / stated - 1) > 1e-3:
        return None, {"message": "measure-fault-raster-units", "told": told, "stated": repr(rules.raster_unit)}
    message = "measure-fault-raster-unit" if raster.unit else "measure-fault-raster-no-unit"
    return raster.unit_m or stated, {"message": message, "told": told}


def _laid_out(raster: Raster, water: MultiPolygon, projection: Projection) -> DepthGrid:
    """Return the raster's own values in the water, on the lake's map; the land is not known."""
    west, south, east, north = water.bounds
    # To half a metre, as the model's cells are.
    cell_m = max(FINEST_CELL_M, float(np.ceil(2 * cell_size_m(raster, projection) - 1e-6)) / 2)
    cell_m = fit_cell(cell_m, east - west, north - south)
    x0_m, y0_m = ((np.floor(low / cell_m) + 0.5) * cell_m for low in (west, south))
    laid = metric_grid(raster, projection, (x0_m, y0_m, east, north), cell_m)
    values = laid.values.astype(np.float64)
    values[~raster_polygon(water, x0_m, y0_m, cell_m, values.shape)] = np.nan
    return DepthGrid(values, np.empty(0), float(x0_m), float(y0_m), cell_m, 0.0)


def to_known(values: DepthGrid) -> np.ndarray:
    """Distance from each cell to the nearest that holds a value, metres; zero in those that do."""
    from scipy.ndimage import distance_transform_edt

    return distance_transform_edt(np.isnan(values.depth_m)) * values.cell_m


def _meaning(
    raster: Raster, values: DepthGrid, water: MultiPolygon, rules: MeasureRules
) -> tuple[_Reading | None, dict[str, Any]]:
    """Tell the one reading that fits; None, and the facts of `_refused`, where none or more than one does."""
    inside = values.depth_m[np.isfinite(values.depth_m)]
    at_bank = _at_bank(values, water)
    if _is_elevation(raster, rules) and rules.full_supply_elevation_m is None:
        return None, {"message": "measure-fault-raster-elevation", "values": _values_words(inside, at_bank)}
    if raster.vertical and _counted_otherwise(raster, rules):
        above = {"told": repr(raster.vertical), "stated": rules.elevation_above}
        return None, {"message": "measure-fault-raster-above", **above}
    fitting = [one for one in _readings(raster, rules) if _fits(one.depth_m(inside), one.depth_m(at_bank))]
    if len(fitting) == 1:
        return fitting[0], {}
    return None, {"values": _values_words(inside, at_bank), **_open_fault(fitting, rules)}


def _values_words(inside: np.ndarray, at_bank: np.ndarray) -> str:
    least, most, bank = (number_words(float(one), 1) for one in (inside.min(), inside.max(), np.median(at_bank)))
    return say("measure-values", least=least, most=most, bank=bank)


def _open_fault(fitting: Sequence[_Reading], rules: MeasureRules) -> dict[str, Any]:
    """Say that several readings fit, or that none does."""
    if fitting:
        both = reduce(lambda one, other: say("measure-or", one=one, other=other), (one.words for one in fitting))
        return {"message": "measure-fault-raster-readings", "readings": both}
    if rules.full_supply_elevation_m is None:
        return {"message": "measure-fault-raster-meaning-unstated"}
    return {"message": "measure-fault-raster-meaning", "full": rules.full_supply_elevation_m}


def _is_elevation(raster: Raster, rules: MeasureRules) -> bool:
    """Whether the crew or, where they are silent, the file's vertical datum says so."""
    return rules.raster_shows == "elevation" or (rules.raster_shows is None and raster.vertical is not None)


def _counted_otherwise(raster: Raster, rules: MeasureRules) -> bool:
    return _is_elevation(raster, rules) and rules.elevation_above not in (None, raster.above)


def _readings(raster: Raster, rules: MeasureRules) -> list[_Reading]:
    """Return the ways to read the values that crew and file leave open, those of one outcome once."""
    full_m, readings = rules.full_supply_elevation_m, []
    if not _is_elevation(raster, rules):
        readings.append(_Reading("depth", say("measure-read-depths"), 1.0, 0.0))
        readings.append(_Reading("depth", say("measure-read-heights"), -1.0, 0.0))
    if rules.raster_shows != "depth" and full_m is not None and (full_m != 0.0 or not readings):
        readings.append(_Reading("elevation", say("measure-read-elevations", datum=full_m), -1.0, full_m))
    return readings


def _fits(depth_m: np.ndarray, at_bank_m: np.ndarray) -> bool:
    deep, bank = float(np.percentile(depth_m, 95)), float(np.median(at_bank_m))
    dry = float((depth_m < -_ABOVE_WATER_M).mean())
    # The bank is the shallow side, even where a wrong datum would make the whole lake deep.
    return dry <= _MOST_ABOVE and abs(bank) <= max(_BANK_DEPTH_M, _BANK_SHARE * deep) and deep > max(bank, 0.0)


def _at_bank(values: DepthGrid, water: MultiPolygon) -> np.ndarray:
    """Return the values nearest to the bank."""
    from scipy.ndimage import distance_transform_edt

    known = np.isfinite(values.depth_m)
    corner = values.x0_m - values.cell_m, values.y0_m - values.cell_m
    rows, cols = known.shape
    wet = raster_polygon(water, *corner, values.cell_m, (rows + 2, cols + 2))
    away = distance_transform_edt(wet)[1:-1, 1:-1]
    near = known & (away <= max(_BANK_CELLS, float(away[known].min())))
    return values.depth_m[near]


def _refused(raster: Raster, message: str, **facts: Any) -> Supplied:
    text = say(message, file=raster.file, **facts)
    return Supplied(problems=(Problem(raster.file, "unusable", text, "fault"),))
