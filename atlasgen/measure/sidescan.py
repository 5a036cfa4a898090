"""Side-scan of the whole survey: passes laid on the ground, water shared out, holidays, and the shares of a reach."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry

from atlasgen.measure.areas import polygons
from atlasgen.measure.depth import depth_at
from atlasgen.measure.holidays import Gaps, find_holidays, pieces_of
from atlasgen.measure.level import stage_at
from atlasgen.measure.offbank import bank_water
from atlasgen.measure.sonar import Partition, limits_of, partition
from atlasgen.measure.swath import run_on_ground
from atlasgen.model import DepthGrid, MeasureRules, NamedArea, Placed, Reach, SonarPass, StageRecord, Survey
from atlasgen.model.history import MOSAIC, HistoricLayer
from atlasgen.model.sonar import (
    MODELLED,
    SONAR_CLASSES,
    Cause,
    GivenCoverage,
    Holiday,
    Quality,
    ReachSonar,
    SonarCoverage,
    SonarRules,
    SonarRun,
    WaterShares,
)
from atlasgen.model.wording import say
from atlasgen.place.geo import Projection
from atlasgen.units import grouped_words

# How far off its reaches a page looks.
OUT_M = 100.0
_RECORDED, _UNKNOWN = "recorded", "unknown"
_STATED: dict[str, Quality] = {"fine": "fine", "coarse": "coarse"}
# A share below this is an edge, not worth a word.
_LEAST_SHARE = 1e-4


@dataclass(frozen=True, slots=True)
class Bed:
    """What tells the height of the sonar above the bed where it was not recorded.

    `reduced` False: the model's depths are below the water of the survey day, whose level is not known.
    """

    grid: DepthGrid | None = None
    stage: StageRecord | None = None
    reduced: bool = True
    draught_m: float = 0.0


def heights_above_bed(run: SonarPass, x_m: np.ndarray, y_m: np.ndarray, bed: Bed) -> tuple[np.ndarray, dict[str, int]]:
    """Height at each position, as recorded or else from depth model and stage, NaN where neither tells; with counts."""
    recorded = np.asarray(run.height_above_bed_m, float)
    model = np.full(len(recorded), np.nan)
    if bed.grid is not None:
        stage_m = stage_at(bed.stage, np.asarray(run.time_s, float))[0] if bed.reduced else 0.0
        model = depth_at(bed.grid, x_m, y_m) + stage_m - bed.draught_m
        # Dried by the stage: no sonar floats there, so the model or the position is out.
        model = np.where(model > 0, model, np.nan)
    silent = np.isnan(recorded)
    source = np.where(~silent, _RECORDED, np.where(np.isnan(model), _UNKNOWN, MODELLED))
    counts = Counter(source.tolist())
    return np.where(silent, model, recorded), {word: counts[word] for word in (_RECORDED, MODELLED, _UNKNOWN)}


def lay_runs(
    passes: Sequence[SonarPass], water: MultiPolygon, projection: Projection, bed: Bed, rules: SonarRules
) -> tuple[SonarRun, ...]:
    """Lay every pass on the ground."""
    shapely.prepare(water)
    runs = []
    for run in passes:
        x_m, y_m = projection.points(run.lon_deg, run.lat_deg)
        height_m, height_from = heights_above_bed(run, x_m, y_m, bed)
        runs.append(run_on_ground(run, x_m, y_m, height_m, height_from, water, rules))
    return tuple(runs)


def given_coverage(areas: Sequence[NamedArea], projection: Projection) -> tuple[GivenCoverage, ...]:
    """Outlines as the crew gave them; their kind `fine` or `coarse` is their quality, anything else says nothing."""
    return tuple(
        GivenCoverage(
            area.name or say("measure-outline-unnamed"),
            polygons(projection.to_metric(area.area)),
            _STATED.get(area.kind.lower(), "unknown"),
        )
        for area in areas
    )


def mosaic_coverage(layers: Sequence[HistoricLayer], passes: Sequence[SonarPass]) -> list[GivenCoverage]:
    """Return the outlines of sonar mosaics as coverage, where no passes tell better what was seen and what was not."""
    return [] if passes else [GivenCoverage(layer.title, layer.area) for layer in layers if layer.kind == MOSAIC]


def measure_sidescan(
    passes: Sequence[SonarPass],
    given: Sequence[GivenCoverage],
    placed: Placed,
    places: Sequence[NamedArea],
    bed: Bed,
    reasons: Sequence[tuple[str, BaseGeometry]],
    off_bank_m: float,
    rules: SonarRules,
) -> tuple[SonarCoverage | None, dict[str, ReachSonar]]:
    """Work out the side-scan coverage of the lake and of the water off each reach.

    None and nothing where neither passes nor outlines were supplied. `places` and `reasons` are metric.
    """
    if not passes and not given:
        return None, {}
    projection = Projection(placed.crs_metric)
    runs = lay_runs(passes, placed.water, projection, bed, rules)
    limits = limits_of(runs, given, placed.water, rules)
    parts = partition(placed.water, runs, given, limits, bed.grid, reasons)
    gaps = find_holidays(parts, runs, placed.reaches, places, projection, rules)
    reach_sonar = off_reaches(parts, gaps, placed.reaches, placed.water, off_bank_m)
    area = {name: parts.classes.merged(kind) for kind, name in enumerate(SONAR_CLASSES)}
    coverage = SonarCoverage(
        runs=runs,
        given=tuple(given),
        area_m2={name: shape.area for name, shape in area.items()},
        area=area,
        depth_known=parts.known.merged(0),
        limits=limits,
        holidays=_with_reaches(gaps, reach_sonar),
        rules=rules,
        methods=methods_of(runs, given, rules),
    )
    return coverage, reach_sonar


def off_reaches(
    parts: Partition, gaps: Gaps, reaches: Sequence[Reach], water: MultiPolygon, off_bank_m: float
) -> dict[str, ReachSonar]:
    """Shares of the water off each reach, within `off_bank_m` and within 100 m, by reach id."""
    near, out = ([*_shares(parts, gaps, bank_water(reaches, water, width), width)] for width in (off_bank_m, OUT_M))
    return {
        reach.id: ReachSonar(close[0], far[0], far[1]) for reach, close, far in zip(reaches, near, out, strict=True)
    }


def _shares(
    parts: Partition, gaps: Gaps, strips: np.ndarray, within_m: float
) -> list[tuple[WaterShares, tuple[str, ...]]]:
    water = shapely.area(strips)
    by_class = parts.classes.areas(strips, len(SONAR_CLASSES))
    depth = parts.known.areas(strips, 1)[:, 0]
    strip, piece, area = pieces_of(parts, gaps).overlaps(strips)
    found = []
    for number, water_m2 in enumerate(water.tolist()):
        mine = strip == number
        of_gap = gaps.gap_of_piece[piece[mine]]
        share = by_class[number] / water_m2 if water_m2 else np.zeros(len(SONAR_CLASSES))
        shares = WaterShares(
            within_m,
            water_m2,
            dict(zip(SONAR_CLASSES, share.tolist(), strict=True)),
            float(depth[number] / water_m2) if water_m2 else 0.0,
            _missing(gaps, of_gap, area[mine], water_m2),
        )
        listed = np.unique(gaps.holiday_of_gap[of_gap])
        found.append((shares, tuple(gaps.holidays[i].id for i in listed if i >= 0)))
    return found


def _missing(gaps: Gaps, of_gap: np.ndarray, area: np.ndarray, water_m2: float) -> tuple[tuple[Cause, str, float], ...]:
    total: Counter[tuple[Cause, str]] = Counter()
    for gap, square_m in zip(of_gap.tolist(), area.tolist(), strict=True):
        total[gaps.keys[gap].cause, gaps.keys[gap].why] += square_m / water_m2
    ranked = sorted(total.items(), key=lambda item: (-item[1], item[0]))
    return tuple((cause, why, share) for (cause, why), share in ranked if share > _LEAST_SHARE)


def _with_reaches(gaps: Gaps, reach_sonar: dict[str, ReachSonar]) -> tuple[Holiday, ...]:
    touched: dict[str, list[str]] = {}
    for reach, sonar in reach_sonar.items():
        for holiday in sonar.holidays:
            touched.setdefault(holiday, []).append(reach)
    return tuple(replace(holiday, reaches=tuple(touched.get(holiday.id, ()))) for holiday in gaps.holidays)


def methods_of(runs: Sequence[SonarRun], given: Sequence[GivenCoverage], rules: SonarRules) -> tuple[str, ...]:
    """Say in sentences how side-scan coverage was worked out, and what was not known."""
    told = []
    if runs:
        coarse = "measure-coarse-rate" if rules.ping_rate_hz else "measure-coarse"
        told.append(say("measure-swath", angle=rules.steepest_deg))
        told.append(say(coarse, pings=rules.pings_on_metre, rate=rules.ping_rate_hz))
    told += _heights_words(runs)
    if any(run.speed_computed for run in runs):
        told.append(say("measure-speed-computed"))
    if any(outline.quality == "unknown" for outline in given):
        told.append(say("measure-outline-only"))
    return tuple(told)


def _heights_words(runs: Sequence[SonarRun]) -> list[str]:
    counts = sum((Counter(run.height_from) for run in runs), Counter())
    told = []
    if counts[MODELLED]:
        told.append(say("measure-height-modelled"))
    if counts[_UNKNOWN]:
        names = ", ".join(run.name for run in runs if run.height_from.get(_UNKNOWN))
        told.append(say("measure-height-unknown", count=grouped_words(counts[_UNKNOWN]), passes=names))
    return told


def survey_sidescan(
    survey: Survey,
    placed: Placed,
    bed: Bed,
    reasons: Sequence[tuple[str, BaseGeometry]],
    rules: MeasureRules,
    mosaics: Sequence[GivenCoverage] = (),
) -> tuple[SonarCoverage | None, dict[str, ReachSonar]]:
    """Do `measure_sidescan` for a survey as it was read; `mosaics` are the outlines of the crew's sonar mosaics."""
    projection = Projection(placed.crs_metric)
    places = [replace(place, area=projection.to_metric(place.area)) for place in survey.places]
    given = (*given_coverage(survey.sonar_coverage, projection), *mosaics)
    return measure_sidescan(survey.passes, given, placed, places, bed, reasons, rules.off_bank_m, rules.sonar)
