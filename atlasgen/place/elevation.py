"""The land's own heights where elevations were supplied: what their figures mean, and whether they can be believed.

An elevation is of use only as a height above the shoreline, so it must count from what the water's own elevation counts
from. Nothing of this is assumed: heights above sea level and above the ellipsoid differ by up to a hundred metres, and
a surface with its trees from the bare ground by a wood's height. Where the words are there, the shoreline checks them:
along it the land stands at the chart datum.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
import shapely

from atlasgen.model import Problem
from atlasgen.model.rasters import ElevationRules, Raster
from atlasgen.model.views import ViewRules
from atlasgen.model.wording import decimal_text, say
from atlasgen.place.geo import Projection
from atlasgen.place.land import FINEST_CELL_M, MOST_CELLS, GroundHeight, InlandGrid, rise_share
from atlasgen.place.rasters import MetricGrid, cell_size_m, metric_grid, sample
from atlasgen.units import DEPTH_UNIT_M

if TYPE_CHECKING:
    from shapely import MultiPolygon

# Ours. Elevations of a steep bank by coarse cells, or of trees at the water's edge, are a few metres off the shoreline;
# feet taken for metres or the wrong datum are off by tens. The second figure is said, the first refused.
_CONTRADICTED_M, _REMARKABLE_M = 10.0, 3.0
# Along the shoreline the land is looked at so often.
_SHORE_STEP_M = 20.0


@dataclass(frozen=True, slots=True)
class KnownLand:
    """`height` of the land's outline above the shoreline, None where no elevation can be used; and what to say."""

    height: GroundHeight | None
    method: str
    problems: tuple[Problem, ...] = field(default=())


class _Above(NamedTuple):
    """A raster whose figures are understood: height above the shoreline = value times `scale` less `datum_m`."""

    raster: Raster
    scale: float
    datum_m: float


def known_land(
    rasters: Sequence[Raster],
    elevations: ElevationRules,
    water: MultiPolygon,
    inland: InlandGrid,
    projection: Projection,
    rules: ViewRules,
) -> KnownLand:
    """Lay the elevations that can be used over the land around the metric `water`, the first file that knows first."""
    used: list[_Above] = []
    problems: list[Problem] = []
    shore = shapely.get_coordinates(shapely.segmentize(water.boundary, _SHORE_STEP_M)).T
    for raster in rasters:
        above, said = _understood(raster, elevations)
        problems += said
        if above is None:
            continue
        said, believed = _against_shore(above, shore, projection)
        problems += said
        used += [above] if believed else []
    if not used:
        return KnownLand(None, _stand_in_words(rules, bool(rasters)), tuple(problems))
    grid = _outline(used, elevations, inland, projection, rules)
    return KnownLand(grid.at, _words(used, elevations, grid, shore, rules), tuple(problems))


def _understood(raster: Raster, rules: ElevationRules) -> tuple[_Above | None, list[Problem]]:
    """Tell what the figures of a raster mean; None, and why, where that is not stated or stated two ways."""
    if rules.shows is None:
        return _refused(raster, "place-fault-raster-shows")
    above, fault = _counts_from(raster, rules)
    if above is None:
        return None, fault
    datum_m = 0.0
    if above != "datum":
        if rules.datum_elevation_m is None or rules.datum_above is None:
            return _refused(raster, "place-fault-raster-water", above=above)
        if rules.datum_above != above:
            return _refused(raster, "place-fault-raster-other", above=above, water=rules.datum_above)
        datum_m = rules.datum_elevation_m
    scale, said = _unit(raster, rules)
    return (None if scale is None else _Above(raster, scale, datum_m)), said


def _counts_from(raster: Raster, rules: ElevationRules) -> tuple[str | None, list[Problem]]:
    """Tell what a raster's heights count from: the crew's word and the file's, which must not contradict each other."""
    told = raster.above
    if rules.above is None and told is None:
        return _refused(raster, "place-fault-raster-above")
    if rules.above is not None and told not in (None, rules.above):
        return _refused(raster, "place-fault-raster-two", told=repr(raster.vertical), stated=repr(rules.above))
    return rules.above or told, []


def _unit(raster: Raster, rules: ElevationRules) -> tuple[float | None, list[Problem]]:
    """Metres in one unit of the raster; where neither file nor crew say, metres are taken, and that is said."""
    stated = None if rules.unit is None else DEPTH_UNIT_M[rules.unit]
    if raster.unit_m is not None:
        if stated is not None and abs(raster.unit_m / stated - 1) > 1e-3:
            return _refused(raster, "place-fault-raster-units", told=repr(raster.unit), stated=repr(rules.unit))
        return raster.unit_m, []
    if stated is not None:
        return stated, []
    if raster.unit is not None:
        return _refused(raster, "place-fault-raster-unit", told=repr(raster.unit))
    return 1.0, [Problem(raster.file, "ambiguous", say("place-fault-raster-no-unit", file=raster.file))]


def _refused(raster: Raster, message: str, **facts: Any) -> tuple[None, list[Problem]]:
    return None, [Problem(raster.file, "unusable", say(message, file=raster.file, **facts), "fault")]


def _height_at(above: _Above, projection: Projection, x_m: np.ndarray, y_m: np.ndarray) -> np.ndarray:
    return sample(above.raster, projection, x_m, y_m) * above.scale - above.datum_m


def _against_shore(above: _Above, shore: np.ndarray, projection: Projection) -> tuple[list[Problem], bool]:
    """Compare a raster with the shoreline, which stands at the chart datum; tell whether it can be believed."""
    off = _height_at(above, projection, *shore)
    off = off[np.isfinite(off)]
    if not len(off):
        return [], True
    median_m, file = float(np.median(off)), above.raster.file
    metres = decimal_text(f"{median_m:+.1f}")
    if abs(median_m) > _CONTRADICTED_M:
        return _refused(above.raster, "place-fault-raster-shore", metres=metres, most=_CONTRADICTED_M)[1], False
    if abs(median_m) > _REMARKABLE_M:
        return [Problem(file, "ambiguous", say("place-fault-raster-off", file=file, metres=metres))], True
    return [], True


def _outline(
    used: Sequence[_Above], elevations: ElevationRules, inland: InlandGrid, projection: Projection, rules: ViewRules
) -> MetricGrid:
    """Lay the rasters over the land about the lake, with the growth that a raster of the bare ground does not show."""
    rows, columns = inland.inland_m.shape
    east, north = inland.x0_m + (columns - 1) * inland.cell_m, inland.y0_m + (rows - 1) * inland.cell_m
    bounds = (inland.x0_m, inland.y0_m, east, north)
    # Sight lines are followed in steps of the inland grid's cells: twice as fine is fine enough.
    cell_m = max(
        min(cell_size_m(above.raster, projection) for above in used) / 2,
        FINEST_CELL_M / 2,
        float(np.sqrt((east - inland.x0_m) * (north - inland.y0_m) / MOST_CELLS)),
    )
    height = np.array(np.nan, np.float32)
    for above in used:
        found = metric_grid(above.raster, projection, bounds, cell_m).values
        height = np.where(np.isnan(height), found * np.float32(above.scale) - np.float32(above.datum_m), height)
    if elevations.shows == "ground":
        x, y = np.meshgrid(*(bounds[axis] + cell_m * np.arange(height.shape[1 - axis]) for axis in (0, 1)))
        height = height + rules.growth_m * np.maximum(rise_share(inland.at(x, y), rules), 0.0)
    return MetricGrid(height.astype(np.float32), bounds[0], bounds[1], cell_m)


def _words(
    used: Sequence[_Above], elevations: ElevationRules, grid: MetricGrid, shore: np.ndarray, rules: ViewRules
) -> str:
    known = float(np.isfinite(grid.at(*shore)).mean())
    told = say(
        "place-land-surface" if elevations.shows == "surface" else "place-land-ground",
        files=", ".join(above.raster.file for above in used),
        growth=rules.growth_m,
        cell=decimal_text(f"{grid.cell_m:.2g}"),
        share=round(100 * known),
    )
    return told if known > 0.9995 else f"{told} {say('place-land-elsewhere', **_stand_in(rules))}"


def _stand_in_words(rules: ViewRules, unused: bool) -> str:
    return say("place-land-unused" if unused else "place-land-none", **_stand_in(rules))


def _stand_in(rules: ViewRules) -> dict[str, float]:
    """How land of unknown height is taken to stand, metres; its slope in 100 m."""
    return {
        "bank": rules.bank_height_m,
        "over": rules.bank_rises_over_m,
        "slope": 100 * rules.land_slope,
        "highest": rules.land_highest_m,
    }
