"""The room's way in: works out levels, depths, coverage and the audit of a placed survey."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np
from shapely import LineString, MultiPolygon

from atlasgen.measure.coverage import reach_coverage, source_parts
from atlasgen.measure.depth import build_grid
from atlasgen.measure.drawdown import place_layers
from atlasgen.measure.gaps import gaps
from atlasgen.measure.isobaths import band_edges, depth_bands, draw_isobaths, isobath_depths
from atlasgen.measure.level import Reduction, reduce_soundings, stage_at
from atlasgen.measure.offbank import off_bank
from atlasgen.measure.shore_audit import audit_shore
from atlasgen.model import (
    AuditRules,
    DepthBand,
    DepthGrid,
    Isobath,
    Known,
    MeasureRules,
    Placed,
    Problem,
    Progress,
    Soundings,
    StageRecord,
    Survey,
)
from atlasgen.place.geo import Projection
from atlasgen.place.sight import Sight

if TYPE_CHECKING:
    from collections.abc import Sequence

Reasoned = tuple[str, MultiPolygon]


@dataclass(frozen=True, slots=True)
class _Sounded:
    """The soundings as the rest of the room uses them: metric, below datum, NaN where they give no depth."""

    x_m: np.ndarray
    y_m: np.ndarray
    depth_m: np.ndarray
    line: np.ndarray
    reduced: bool
    how: str

    @property
    def used(self) -> np.ndarray:
        return np.isfinite(self.depth_m)


def level_lookup(record: StageRecord | None) -> Callable[[datetime | None], float | None]:
    """Return the level against the datum as a function of time, None where it is not known."""
    return lambda taken: None if taken is None else stage_at(record, taken.timestamp())[0]


def measure_survey(
    survey: Survey, placed: Placed, sight: Sight, rules: MeasureRules, audit: AuditRules, progress: Progress
) -> Known:
    """Work out what is known of depth, level and coverage, and how well each shore is photographed."""
    projection = Projection(placed.crs_metric)
    sounded = _sounded(survey.soundings, survey.stage, projection, rules)
    reasons = [(area.name, projection.to_metric(area.area)) for area in survey.not_surveyed]
    progress("modelling depth", 0, 0)
    grid, isobaths, bands = _model(sounded, placed, rules)
    progress("measuring off every reach", 0, 0)
    parts = source_parts(sounded.x_m, sounded.y_m, sounded.line, placed.water, reasons)
    stage_of = level_lookup(survey.stage)
    no_photo = [(area.name, projection.to_metric(area.area)) for area in survey.no_photo]
    audited = audit_shore(placed, sight, audit, no_photo)
    states = {reach: summary.state for reach, summary in audited.reaches.items()}
    layers, said = place_layers(survey.layers, placed.reaches, grid, survey.stage, rules.zone, projection)
    return Known(
        stage_of_photo_m={photo.id: stage_of(photo.taken) for photo in placed.photos},
        reach_depth=_reach_depth(sounded, placed, grid, rules),
        reach_coverage=_reach_coverage(sounded, placed, reasons, rules),
        reach_state=states,
        grid=grid,
        isobaths=isobaths,
        bands=bands,
        soundings_used=int(sounded.used.sum()),
        methods=_methods(survey.soundings, sounded, grid, rules),
        problems=(*_level_problems(placed, survey.stage), *said),
        layers=layers,
        audit=audited,
        gaps=gaps(placed.reaches, states),
        views=sight.views,
        sounding_lines=parts.sounding_lines,
        pass_lines=_pass_lines(survey, projection),
        not_surveyed=parts.not_surveyed,
    )


def _sounded(
    soundings: Soundings | None, record: StageRecord | None, projection: Projection, rules: MeasureRules
) -> _Sounded:
    if soundings is None or not len(soundings.depth_m):
        none = np.empty(0)
        return _Sounded(none, none, none, none.astype(int), False, "No soundings were supplied.")
    x_m, y_m = projection.points(soundings.lon_deg, soundings.lat_deg)
    reduction: Reduction = reduce_soundings(soundings.depth_m, soundings.time_s, record, rules.draught_m)
    return _Sounded(x_m, y_m, reduction.depth_m, soundings.line, reduction.reduced, reduction.how)


def _model(
    sounded: _Sounded, placed: Placed, rules: MeasureRules
) -> tuple[DepthGrid | None, tuple[Isobath, ...], tuple[DepthBand, ...]]:
    used = sounded.used
    if not used.any():
        return None, (), ()
    grid = build_grid(
        sounded.x_m[used],
        sounded.y_m[used],
        sounded.depth_m[used],
        placed.water,
        rules.cell_m,
        rules.near_sounding_m,
        sounded.line[used],
    )
    if grid is None:
        return None, (), ()
    deepest_m = float(np.nanmax(grid.depth_m))
    depths = isobath_depths(
        deepest_m, rules.depth_unit, rules.fine_interval, rules.fine_to, rules.coarse_interval, rules.major_every
    )
    return grid, draw_isobaths(grid, depths), depth_bands(grid, placed.water, band_edges(deepest_m, rules.depth_unit))


def _reach_depth(sounded: _Sounded, placed: Placed, grid: DepthGrid | None, rules: MeasureRules):
    return off_bank(
        placed.reaches,
        placed.water,
        sounded.x_m,
        sounded.y_m,
        sounded.depth_m,
        grid,
        rules.off_bank_m,
        sounded.reduced,
    )


def _reach_coverage(sounded: _Sounded, placed: Placed, reasons: Sequence[Reasoned], rules: MeasureRules):
    used = sounded.used
    return reach_coverage(
        placed.reaches,
        placed.water,
        sounded.x_m[used],
        sounded.y_m[used],
        rules.off_bank_m,
        rules.near_sounding_m,
        reasons,
    )


def _pass_lines(survey: Survey, projection: Projection) -> tuple[LineString, ...]:
    lines = []
    for sonar_pass in survey.passes:
        x_m, y_m = projection.points(sonar_pass.lon_deg, sonar_pass.lat_deg)
        known = np.isfinite(x_m) & np.isfinite(y_m)
        if known.sum() > 1:
            lines.append(LineString(np.column_stack([x_m[known], y_m[known]])).simplify(1.0))
    return tuple(lines)


def _methods(
    soundings: Soundings | None, sounded: _Sounded, grid: DepthGrid | None, rules: MeasureRules
) -> tuple[str, ...]:
    """Say in sentences how the numbers of the pages were made."""
    if soundings is None:
        return ("No soundings were supplied, so no depth is stated anywhere.",)
    sentences = [f"{sounded.how[0].upper()}{sounded.how[1:]}."]
    if rules.draught_m:
        sentences.append(f"The transducer's draught of {rules.draught_m:g} m was added.")
    if grid is not None:
        sentences.append(
            f"The depth model has cells of {grid.cell_m:g} m: the median sounding of each cell, joined by triangles "
            f"with the shoreline as depth zero{_bank_words(sounded.reduced)}. No depth is stated farther than "
            f"{grid.near_sounding_m:g} m from a sounding."
        )
    sentences.append(
        f"A page's depth and coverage notes speak of the water within {rules.off_bank_m:g} m of its reach. "
        "Spikes are not cleaned from the soundings, and no bound of error is stated in this edition."
    )
    return tuple(sentences)


def _bank_words(reduced: bool) -> str:
    return " at full supply level" if reduced else ", though the level on the survey day is not known"


def _level_problems(placed: Placed, record: StageRecord | None) -> list[Problem]:
    """Tell the photos whose day is outside the stage record, once for the record."""
    if record is None:
        return []
    without = [p for p in placed.photos if p.taken and stage_at(record, p.taken.timestamp())[0] is None]
    if not without:
        return []
    files = ", ".join(photo.source.file for photo in without[:3]) + (" and others" if len(without) > 3 else "")
    words = (
        f"no level for {len(without)} photos ({files}): they were taken outside the record. Levels are never carried "
        "beyond it; add a reading before and after them."
    )
    return [Problem(record.file or "stage", "no_stage", words)]
