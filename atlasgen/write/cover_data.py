"""How the water was surveyed, for the map of the offline atlas.

Classes as areas, gaps with their causes, and for every cell of the depth grid how near a sounding is and how far out a
depth may be.
"""

from __future__ import annotations

import base64
from collections.abc import Sequence
from typing import Any

import numpy as np

from atlasgen.compose.coverage_classes import coverage_classes
from atlasgen.compose.coverage_words import holiday_words
from atlasgen.model import Atlas, ComposeRules
from atlasgen.place.geo import Projection
from atlasgen.units import zone_offset
from atlasgen.write.packing import pack_areas
from atlasgen.write.webgrid import cropped, varints

# A distance or a bound is told as at most one of these, metres, the largest of two by two cells: as much as a reader
# can use, and never less than there is. Ours.
NEAR_M = (5.0, 10.0, 15.0, 25.0, 50.0, 100.0)
BOUND_M = (0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 3.0, 5.0, 10.0)
BLOCK = 2


def cover_data(atlas: Atlas, origin: tuple[int, int]) -> dict[str, Any]:
    """Return classes and gaps as packed areas, best class first, and the runs of `near` and `bound` where known."""
    projection = Projection(atlas.survey.crs_metric)
    classes = coverage_classes(atlas.known, atlas.placed.water)
    return {
        "sideScan": atlas.known.sonar is not None,
        "block": BLOCK,
        "steps": {"near": list(NEAR_M), "bound": list(BOUND_M)},
        "classes": [
            {"id": name, "area": pack_areas(projection.to_lonlat(area), origin)} for name, area in classes.items()
        ],
        "gaps": [
            {"words": words, "area": pack_areas(projection.to_lonlat(area), origin)} for words, area in _gaps(atlas)
        ],
        **_cells(atlas),
    }


def _gaps(atlas: Atlas) -> list[tuple[str, Any]]:
    """Return each gap's cause in words, smaller gaps first: of two that meet, the smaller is the one meant."""
    survey, sonar = atlas.survey, atlas.known.sonar
    if sonar is None:
        return list(atlas.known.not_surveyed)
    rules = ComposeRules(
        survey.title, survey.edition, distance_unit=survey.distance_unit, zone=zone_offset(survey.time_zone)
    )
    gaps = sorted(sonar.holidays, key=lambda holiday: (holiday.area_m2, holiday.id))
    return [(holiday_words(holiday, rules), holiday.area) for holiday in gaps]


def _cells(atlas: Atlas) -> dict[str, str]:
    whole = atlas.known.grid_at_datum or atlas.known.grid
    if whole is None or not np.isfinite(whole.depth_m).any():
        return {"near": "", "bound": ""}
    grid = cropped(whole)
    known = np.isfinite(grid.depth_m)
    near = packed_steps(grid.distance_m, known, NEAR_M) if grid.near_sounding_m > 0 else ""
    return {"near": near, "bound": "" if grid.bound_m is None else packed_steps(grid.bound_m, known, BOUND_M)}


def packed_steps(values_m: np.ndarray, known: np.ndarray, steps_m: Sequence[float]) -> str:
    """Pack the smallest step that the values of each block are within, row after row from the south-west.

    Pairs of step and length of its run, over the blocks with a known cell; the number of steps stands for more than the
    last one and for not known.
    """
    rows, cols = (-(-size // BLOCK) * BLOCK for size in known.shape)
    room = ((0, rows - known.shape[0]), (0, cols - known.shape[1]))
    shape = (rows // BLOCK, BLOCK, cols // BLOCK, BLOCK)
    told = np.pad(known, room).reshape(shape).any(axis=(1, 3))
    values = np.where(known, np.nan_to_num(values_m, nan=np.inf), -np.inf)
    largest = np.pad(values, room, constant_values=-np.inf).reshape(shape).max(axis=(1, 3))[told]
    within = np.searchsorted(steps_m, largest)
    ends = np.flatnonzero(np.diff(within, append=-1)) + 1
    runs = np.diff(ends, prepend=0)
    return base64.b64encode(varints(np.stack([within[ends - 1], runs], axis=1).ravel())).decode("ascii")
