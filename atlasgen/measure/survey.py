"""The room's way in: works out levels, depths, coverage and the audit of a placed survey."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING, Any

import numpy as np
from shapely import LineString, MultiPolygon

from atlasgen.measure.bedform import BedForm, survey_bedform
from atlasgen.measure.contours import supplied_depths
from atlasgen.measure.coverage import reach_coverage, source_parts
from atlasgen.measure.depth import used_soundings
from atlasgen.measure.depth_model import DepthModel, model_depths
from atlasgen.measure.drawdown import place_layers
from atlasgen.measure.former_repeats import find_former_repeats
from atlasgen.measure.gaps import gaps
from atlasgen.measure.level import stage_at
from atlasgen.measure.offbank import off_bank
from atlasgen.measure.preparation import Prepared, prepare_soundings
from atlasgen.measure.repeats import find_repeats
from atlasgen.measure.shore_audit import audit_shore
from atlasgen.measure.shown import at_shown_stage
from atlasgen.measure.sidescan import Bed, mosaic_coverage, survey_sidescan
from atlasgen.measure.sources import survey_sources
from atlasgen.model import (
    AuditRules,
    DepthGrid,
    Known,
    MeasureRules,
    Placed,
    Problem,
    Progress,
    ReachCoverage,
    StageRecord,
    Survey,
)
from atlasgen.model.memory import ANEW, Memory
from atlasgen.model.sonar import GivenCoverage, SonarCoverage
from atlasgen.model.wording import say
from atlasgen.place.geo import Projection
from atlasgen.place.sight import Sight
from atlasgen.units import set_words

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

Reasoned = tuple[str, MultiPolygon]


def level_lookup(record: StageRecord | None) -> Callable[[datetime | None], float | None]:
    """Return the level against the datum as a function of time, None where it is not known."""
    return lambda taken: None if taken is None else stage_at(record, taken.timestamp())[0]


def measure_survey(
    survey: Survey,
    placed: Placed,
    sight: Sight,
    rules: MeasureRules,
    audit: AuditRules,
    progress: Progress,
    memory: Memory = ANEW,
) -> Known:
    """Work out what is known of depth, level and coverage, and how well each shore is photographed."""
    projection = Projection(placed.crs_metric)
    progress("cleaning soundings", 0, 0)
    sounded = prepare_soundings(survey.soundings, survey.stage, placed.water, projection, rules.soundings)
    survey = replace(survey, soundings=sounded.soundings)
    reasons = [(area.name, projection.to_metric(area.area)) for area in survey.not_surveyed]
    progress("modelling depth", 0, 0)
    supplied = supplied_depths(survey.depth_raster, survey.depth_contours, placed.water, projection, rules)
    modelled_from = (sounded, placed.water, rules, supplied)
    depths = memory.remember("depths", modelled_from, lambda: model_depths(*modelled_from))
    progress("measuring off every reach", 0, 0)
    form = _bedform(sounded, placed, depths.grid, rules, memory)
    audited = audit_shore(placed, sight, audit, [(a.name, projection.to_metric(a.area)) for a in survey.no_photo])
    layers, said = place_layers(survey.layers, placed.reaches, depths.grid, survey.stage, rules.zone, projection)
    progress("laying out the sonar passes", 0, 0)
    mosaics = mosaic_coverage(layers, survey.passes)
    scanned = _side_scan(survey, sounded, placed, depths.grid, reasons, mosaics, rules, memory)
    stage_of = level_lookup(survey.stage)
    stages_m = {photo.id: stage_of(photo.taken) for photo in placed.photos}
    states = {reach: summary.state for reach, summary in audited.reaches.items()}
    known = Known(
        stage_of_photo_m=stages_m,
        reach_depth=_reach_depth(sounded, placed, depths.grid, rules),
        reach_coverage=_reach_coverage(sounded, placed, reasons, rules, memory),
        reach_state=states,
        methods=(*_methods(sounded, depths, rules), *form.methods, *_other_methods(sight, scanned["sonar"])),
        problems=(
            *sounded.problems,
            *supplied.problems,
            *_level_problems(placed, survey.stage),
            *sight.problems,
            *said,
        ),
        layers=layers,
        land_height=sight.shore.ground_height,
        audit=audited,
        gaps=gaps(placed.reaches, states),
        views=sight.views,
        **_repeats(survey, placed, sight, stages_m, projection, rules),
        pass_lines=_pass_lines(survey, projection),
        profiles=form.profiles,
        relief=form.relief,
        relief_near=form.near,
        **_depth_facts(sounded, depths),
        **scanned,
    )
    tied = sounded.reduced or supplied.grid is not None
    return at_shown_stage(
        known, placed.water, lambda: _rests_on(sounded, placed, depths.grid), survey.stage, tied, rules
    )


def _repeats(
    survey: Survey,
    placed: Placed,
    sight: Sight,
    stages_m: Mapping[str, float | None],
    projection: Projection,
    rules: MeasureRules,
) -> dict[str, Any]:
    """Return the photos that show a bank again, within the survey and against the edition before."""
    views = sight.views.views
    return {
        "repeats": find_repeats(placed.photos, views, stages_m, rules.repeats),
        "former_repeats": find_former_repeats(
            placed.photos, views, placed.reaches, survey.previous, projection, rules.repeats
        ),
    }


def _bedform(sounded: Prepared, placed: Placed, grid: DepthGrid | None, rules: MeasureRules, memory: Memory) -> BedForm:
    used = sounded.used
    xy, line = (sounded.x_m[used], sounded.y_m[used]), sounded.line[used]
    made_of = (xy, line, placed.reaches, placed.water, placed.crs_metric, grid, rules)
    return memory.remember("bedform", made_of, lambda: survey_bedform(*xy, placed, grid, rules, line))


def _rests_on(sounded: Prepared, placed: Placed, grid: DepthGrid | None) -> np.ndarray:
    """Return the soundings that the depth model rests on: (n, 3) x, y and depth below the datum."""
    used = sounded.used
    cell_m = grid.cell_m if grid else 1.0
    return used_soundings(sounded.x_m[used], sounded.y_m[used], sounded.depth_m[used], placed.water, cell_m)


def _depth_facts(sounded: Prepared, depths: DepthModel) -> dict[str, Any]:
    """Return what is known of soundings and depths, by the names that Known gives it."""
    return sounded.told | {
        "grid": depths.grid,
        "isobaths": depths.isobaths,
        "bands": depths.bands,
        "depth_bound": depths.bound,
        "hypsometry": depths.hypsometry,
        "soundings_used": int(sounded.used.sum()),
    }


def _side_scan(
    survey: Survey,
    sounded: Prepared,
    placed: Placed,
    grid: DepthGrid | None,
    reasons: Sequence[Reasoned],
    mosaics: Sequence[GivenCoverage],
    rules: MeasureRules,
    memory: Memory,
) -> dict[str, Any]:
    """Return what is known of side-scan and of who surveyed what, by the names that Known gives it."""
    bed = Bed(grid, survey.stage, sounded.reduced, rules.soundings.draught_m)
    sonar, reach_sonar = survey_sidescan(survey, placed, bed, reasons, rules, mosaics)
    sources, tile_sources = survey_sources(
        survey.soundings, sounded.x_m, sounded.y_m, placed, sonar, rules.near_sounding_m, rules.zone, memory
    )
    parts = source_parts(sounded.x_m, sounded.y_m, sounded.line, placed.water, reasons)
    return {
        "sonar": sonar,
        "reach_sonar": reach_sonar,
        "sources": sources,
        "tile_sources": tile_sources,
        "sounding_lines": parts.sounding_lines,
        "not_surveyed": parts.not_surveyed,
    }


def _other_methods(sight: Sight, sonar: SonarCoverage | None) -> tuple[str, ...]:
    return (*filter(None, [sight.method]), *(sonar.methods if sonar else ()))


def _reach_depth(sounded: Prepared, placed: Placed, grid: DepthGrid | None, rules: MeasureRules):
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


def _reach_coverage(
    sounded: Prepared, placed: Placed, reasons: Sequence[Reasoned], rules: MeasureRules, memory: Memory
) -> dict[str, ReachCoverage]:
    used = sounded.used
    xy = (sounded.x_m[used], sounded.y_m[used])
    made_of = (placed.reaches, placed.water, *xy, rules.off_bank_m, rules.near_sounding_m, tuple(reasons))
    return memory.remember("coverage", made_of, lambda: reach_coverage(*made_of))


def _pass_lines(survey: Survey, projection: Projection) -> tuple[LineString, ...]:
    lines = []
    for sonar_pass in survey.passes:
        x_m, y_m = projection.points(sonar_pass.lon_deg, sonar_pass.lat_deg)
        known = np.isfinite(x_m) & np.isfinite(y_m)
        if known.sum() > 1:
            lines.append(LineString(np.column_stack([x_m[known], y_m[known]])).simplify(1.0))
    return tuple(lines)


def _methods(sounded: Prepared, depths: DepthModel, rules: MeasureRules) -> tuple[str, ...]:
    """Say in sentences how the numbers of the pages were made."""
    if sounded.soundings is None and depths.grid is None:
        return (say("measure-no-soundings-no-depth"),)
    within = set_words(rules.off_bank_m, rules.distance_unit)
    off = say("measure-within", within=within)
    return (*(sounded.words if sounded.soundings else ()), *depths.methods, off)


def _level_problems(placed: Placed, record: StageRecord | None) -> list[Problem]:
    """Tell the photos whose day is outside the stage record, once for the record."""
    if record is None:
        return []
    without = [p for p in placed.photos if p.taken and stage_at(record, p.taken.timestamp())[0] is None]
    if not without:
        return []
    files = ", ".join(photo.source.file for photo in without[:3])
    files = say("measure-and-others", files=files) if len(without) > 3 else files
    words = say("measure-fault-levels", count=len(without), files=files)
    return [Problem(record.file or "stage", "no_stage", words)]
