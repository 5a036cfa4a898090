"""Places the crew's layers on the lake, and asks of an image of the drawn-down lake how deep it looks.

An image taken when the lake was down shows the bed as dry ground out to the depth line of that stage (common practice,
no source). Where the crew drew the image's own waterline, its distance from the model's line says how far the two can
be trusted together.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, time, timedelta, timezone

import numpy as np
import shapely
from shapely import MultiLineString, MultiPolygon

from atlasgen.errors import InputFault
from atlasgen.measure.depth import depth_at
from atlasgen.measure.isobaths import draw_isobaths
from atlasgen.measure.level import stage_at
from atlasgen.measure.registration import fit_scan, to_ground
from atlasgen.model import DepthGrid, Problem, Reach, StageRecord, Zone
from atlasgen.model.history import IMAGES, Departure, HistoricLayer, LayerFile, LayerRule, ScanFit
from atlasgen.model.wording import say
from atlasgen.place.geo import Projection

# Ours: a waterline is compared in steps of this length.
_STEP_M = 2.0


def place_layers(
    files: Sequence[LayerFile],
    reaches: Sequence[Reach],
    grid: DepthGrid | None,
    record: StageRecord | None,
    zone: Zone,
    projection: Projection,
) -> tuple[tuple[HistoricLayer, ...], list[Problem]]:
    """Place every layer; one whose control points cannot be used becomes a problem.

    Parameters
    ----------
    zone
        Of a layer's date: its stage is that of noon there.
    """
    layers, problems = [], []
    for file in files:
        try:
            layers.append(_placed(file, reaches, grid, record, zone, projection))
        except InputFault as fault:
            problems.append(Problem(fault.file, "unusable", say("measure-fault-layer", fault=str(fault)), "fault"))
    return tuple(layers), problems


def _placed(
    file: LayerFile,
    reaches: Sequence[Reach],
    grid: DepthGrid | None,
    record: StageRecord | None,
    zone: Zone,
    projection: Projection,
) -> HistoricLayer:
    rule, fit = file.rule, _fit(file, projection)
    area = _area(file, fit, projection)
    stage_m, stage_from = _stage(rule, record, zone)
    looks_m = -stage_m if rule.kind in IMAGES and stage_m is not None and stage_m < 0 else None
    waterline = _depth_line(grid, looks_m, area)
    departure = _departure(file, waterline, area, grid, projection) if waterline is not None else None
    middles = shapely.line_interpolate_point([reach.line for reach in reaches], 0.5, normalized=True)
    covered = shapely.intersects(area, middles)
    return HistoricLayer(
        file=rule.file,
        kind=rule.kind,
        title=rule.title,
        date=rule.date,
        stage_m=stage_m,
        stage_from=stage_from,
        area=area,
        fit=fit,
        looks_m=looks_m,
        waterline=waterline,
        departure=departure,
        reaches=tuple(reach.id for reach, inside in zip(reaches, covered, strict=True) if inside),
    )


def _fit(file: LayerFile, projection: Projection) -> ScanFit | None:
    control = file.control
    if control is None:
        return None
    ground = np.column_stack(projection.points(control.lon_deg, control.lat_deg))
    pixels = np.column_stack([control.col_px, control.row_px])
    return fit_scan(file.rule.control or file.rule.file, file.rule.fit, control.names, pixels, ground)


def _area(file: LayerFile, fit: ScanFit | None, projection: Projection) -> MultiPolygon:
    """Return the layer's outline, by its control points where it has any: the crew gave them for a reason."""
    if fit is None:
        return shapely.multipolygons([projection.to_metric(file.outline)])
    corners = np.array([[0, 0], [1, 0], [1, 1], [0, 1]]) * (file.width_px, file.height_px)
    return MultiPolygon([shapely.Polygon(to_ground(fit, corners))])


def _stage(rule: LayerRule, record: StageRecord | None, zone: Zone) -> tuple[float | None, str]:
    if rule.stage_m is not None:
        return rule.stage_m, "survey.toml"
    if rule.date is None:
        return None, say("measure-level-undated")
    place = timezone(zone) if isinstance(zone, timedelta) else zone
    noon = datetime.combine(rule.date, time(12), place).astimezone(UTC)
    return stage_at(record, noon.timestamp())


def _depth_line(grid: DepthGrid | None, looks_m: float | None, area: MultiPolygon) -> MultiLineString | None:
    """Return the model's line of one depth within an area; None where there is none."""
    if grid is None or looks_m is None:
        return None
    drawn = draw_isobaths(grid, [(looks_m, "", False)])
    inside = [shapely.intersection(line, area) for isobath in drawn for line in isobath.lines]
    lines = [part for part in shapely.get_parts(inside) if part.length > 0]
    return MultiLineString(lines) if lines else None


def _departure(
    file: LayerFile, waterline: MultiLineString, area: MultiPolygon, grid: DepthGrid | None, projection: Projection
) -> Departure | None:
    """Compare the image's own waterline with the model's, only where the model knows the depth."""
    if file.waterline is None or grid is None:
        return None
    own = shapely.intersection(projection.to_metric(file.waterline), area)
    points = _points_along(own)
    if not len(points):
        return None
    xy = shapely.get_coordinates(points)
    known = np.isfinite(depth_at(grid, xy[:, 0], xy[:, 1]))
    if not known.any():
        return None
    away = shapely.distance(points[known], waterline)
    median, p95 = np.percentile(away, [50, 95]).tolist()
    return Departure(own.length, own.length * float(known.mean()), median, p95)


def _points_along(lines) -> np.ndarray:
    points = [
        shapely.line_interpolate_point(line, np.arange(_STEP_M / 2, line.length, _STEP_M))
        for line in shapely.get_parts(lines)
    ]
    return np.concatenate(points) if points else np.empty(0, dtype=object)
