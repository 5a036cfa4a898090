"""The pictures of the bed in the offline atlas: the crew's layers and the shaded relief, cut into tiles below layers/.

A layer that cannot be read becomes a problem and the others go on; one that has not changed since the last build is
taken over from the edition before, tile by tile.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

import numpy as np

from atlasgen.errors import fault_text
from atlasgen.measure.registration import out_by_m
from atlasgen.model import DepthGrid, Known, Placed, PointM, Problem, Progress
from atlasgen.model.history import HistoricLayer, LayerFile, ScanFit
from atlasgen.model.layer_tiles import LayerTiles, PictureKind, ReliefRules
from atlasgen.model.memory import ANEW, Former, Memory
from atlasgen.place.geo import Projection
from atlasgen.units import MEGABYTE
from atlasgen.write.layer_source import Affine6, LayerSource, opened, shown_mask, stretch_of
from atlasgen.write.layer_tiles import cut_tiles
from atlasgen.write.relief_picture import relief_rgba, write_relief
from atlasgen.write.taking_over import taken_over
from atlasgen.write.tile_scheme import finest_zoom

if TYPE_CHECKING:
    from rasterio import DatasetReader
    from shapely import MultiPolygon

# What lies this far from the water is of no use to somebody who fishes it. Ours.
AROUND_M = 300.0
# The map shows no coarser zoom; closer than 7 cm a pixel no boat knows where it is. Ours.
FARTHEST_ZOOM, CLOSEST_ZOOM = 8, 20
# What messages call the picture that no file of the crew's stands behind.
_RELIEF = "shaded relief"


@dataclass(frozen=True, slots=True)
class BedSources:
    """What is needed to cut the layers: where they lie, what was read of them, and the SHA-256 of inputs by name."""

    survey_dir: Path
    files: tuple[LayerFile, ...]
    inputs: Mapping[str, str]
    relief: ReliefRules


@dataclass(frozen=True, slots=True)
class _Plan:
    """One picture to cut: all that its tiles follow from. `sha256` is that of the crew's file, `grid` the relief's."""

    id: str
    kind: PictureKind
    title: str
    date: Any
    file: str
    sha256: str
    fit: ScanFit | None
    outline: MultiPolygon | None
    grid: DepthGrid | None
    relief: ReliefRules
    crs_metric: str
    water: MultiPolygon
    tiles_mb: float


def cut_layers(
    sources: BedSources,
    placed: Placed,
    known: Known,
    folder: Path | None,
    executor: Executor,
    progress: Progress,
    memory: Memory = ANEW,
    former: Former | None = None,
) -> tuple[tuple[LayerTiles, ...], list[Problem]]:
    """Cut every picture of the bed into `folder`/layers, or only look whether it can be read where that is None.

    Returns the pictures, shaded relief first, and what was met. `former` is the edition before.
    """
    plans = _plans(sources, placed, known)

    def make(numbers: list[int]) -> list[LayerTiles | Problem]:
        return [_cut(plans[number], sources.survey_dir, folder, executor, progress) for number in numbers]

    results = memory.mapped(
        "layer tiles",
        [plan if folder else None for plan in plans],
        make,
        keep=lambda result: isinstance(result, LayerTiles),
        restore=lambda number, layer: _brought_over(layer, folder, former),
    )
    layers = tuple(result for result in results if isinstance(result, LayerTiles))
    problems = [result for result in results if isinstance(result, Problem)]
    if folder is None:
        return (), problems
    told = [_coarser(layer, plan) for layer, plan in zip(results, plans, strict=True) if isinstance(layer, LayerTiles)]
    return layers, [*problems, *filter(None, told)]


def _plans(sources: BedSources, placed: Placed, known: Known) -> list[_Plan]:
    shared = {"relief": sources.relief, "crs_metric": placed.crs_metric, "water": placed.water}
    grid = known.grid_at_datum or known.grid
    plans = []
    if grid is not None:
        bare = replace(grid, distance_m=np.empty(0), bound_m=None)
        named: dict[str, Any] = {"id": "shaded-relief", "kind": "shaded relief", "title": "", "date": None, "file": ""}
        plans.append(
            _Plan(**named, sha256="", fit=None, outline=None, grid=bare, tiles_mb=sources.relief.tiles_mb, **shared)
        )
    rules = {(file.rule.file, file.rule.title): file for file in sources.files}
    for layer in known.layers:
        file = rules[layer.file, layer.title]
        plans.append(_layer_plan(layer, file, sources.inputs.get(layer.file, ""), shared))
    return _named_apart(plans)


def _layer_plan(layer: HistoricLayer, file: LayerFile, sha256: str, shared: Mapping[str, Any]) -> _Plan:
    words = (layer.kind, layer.date.isoformat()) if layer.date else (layer.kind,)
    return _Plan(
        id="-".join(re.sub("[^a-z0-9]+", "-", word) for word in words),
        kind=layer.kind,
        title=layer.title,
        date=layer.date,
        file=layer.file,
        sha256=sha256,
        fit=layer.fit,
        outline=layer.area,
        grid=None,
        tiles_mb=file.rule.tiles_mb,
        **shared,
    )


def _named_apart(plans: Sequence[_Plan]) -> list[_Plan]:
    """Give a number to those that would have one name, in the order of survey.toml."""
    seen: dict[str, int] = {}
    named = []
    for plan in plans:
        seen[plan.id] = seen.get(plan.id, 0) + 1
        named.append(replace(plan, id=f"{plan.id}-{seen[plan.id]}") if seen[plan.id] > 1 else plan)
    return named


def _cut(
    plan: _Plan, survey_dir: Path, folder: Path | None, executor: Executor, progress: Progress
) -> LayerTiles | Problem:
    from rasterio.errors import RasterioError

    with TemporaryDirectory(prefix="atlasgen-relief-") as work:
        try:
            source, area, made = _source(plan, survey_dir, Path(work))
        except (RasterioError, OSError, ValueError) as error:
            name = plan.file or _RELIEF
            text = str(error).replace(str(survey_dir / name), name).strip().rstrip(".")
            why = f"the picture cannot be read ({text or type(error).__name__})"
            words = fault_text(name, why, "an image that GDAL reads", "Export it again.")
            return Problem(name, "unusable", words, "fault")
        return _tiled(plan, source, area, made, folder, executor, progress)


def _tiled(
    plan: _Plan,
    source: LayerSource,
    area: MultiPolygon,
    made: Mapping[str, float],
    folder: Path | None,
    executor: Executor,
    progress: Progress,
) -> LayerTiles | Problem:
    projection = Projection(plan.crs_metric)
    region = _polygons(area.intersection(plan.water.buffer(AROUND_M, quad_segs=4)))
    if region.is_empty:
        words = fault_text(plan.file or _RELIEF, "no part of it lies within 300 m of the lake", "a picture of the lake")
        return Problem(plan.file or _RELIEF, "unusable", f"{words} It is not shown in the offline atlas.", "note")
    lonlat, ground_m = projection.to_lonlat(region), _ground_m(source, region, projection)
    finest = finest_zoom(ground_m, lonlat.centroid.y, CLOSEST_ZOOM)
    home = folder / "layers" / plan.id if folder else None
    tiles = cut_tiles(source, lonlat, finest, FARTHEST_ZOOM, plan.tiles_mb * MEGABYTE, home, executor, progress)
    if isinstance(tiles, Problem) or not tiles:
        shutil.rmtree(home, ignore_errors=True) if home else None
        words = fault_text(plan.file or _RELIEF, "it shows nothing near the lake", "a picture of the lake")
        return tiles if isinstance(tiles, Problem) else Problem(plan.file or _RELIEF, "unusable", words, "note")
    # A strip narrower than two pixels is the raster's own edge, no absence.
    absent = plan.water.difference(area).buffer(-ground_m).buffer(ground_m).intersection(plan.water)
    return LayerTiles(
        plan.id,
        plan.kind,
        plan.title,
        plan.date,
        plan.file,
        round(ground_m, 3),
        finest,
        tiles,
        projection.to_lonlat(_polygons(region.simplify(ground_m))),
        projection.to_lonlat(_polygons(absent.simplify(ground_m / 2))),
        plan.fit is not None,
        _out_by(plan.fit),
        made,
    )


def _source(plan: _Plan, survey_dir: Path, work: Path) -> tuple[LayerSource, MultiPolygon, Mapping[str, float]]:
    """Return the picture, where it shows something (metric), and how it was made where we made it."""
    if plan.grid is not None:
        rgba, made = relief_rgba(plan.grid, plan.relief)
        source = write_relief(work / "relief.tif", rgba, plan.grid, plan.crs_metric)
    with opened(source.path if plan.grid is not None else survey_dir / plan.file) as dataset:
        if plan.grid is None:
            source, made = _crew_source(plan, survey_dir / plan.file, dataset), {}
        return source, _shown_area(plan, source, shown_mask(dataset)), made


def _crew_source(plan: _Plan, path: Path, dataset: DatasetReader) -> LayerSource:
    if plan.fit is not None:
        crs, transform = plan.crs_metric, scan_transform(plan.fit)
    else:
        crs, transform = dataset.crs.to_wkt(), Affine6(*dataset.transform[:6])
    return LayerSource(path, plan.file, crs, transform, dataset.width, dataset.height, stretch_of(dataset))


def scan_transform(fit: ScanFit) -> Affine6:
    """Return how a fitted scan leads from column and row, down, to metric places."""
    (a, b), (d, e) = fit.matrix.tolist()
    x, y = (fit.centre_m - fit.matrix @ fit.centre_px).tolist()
    return Affine6(a, -b, x, d, -e, y)


def _shown_area(plan: _Plan, source: LayerSource, mask: np.ndarray) -> MultiPolygon:
    """Return where a picture shows something, metric: its outline, less what its file marks as empty."""
    import shapely
    from pyproj import Transformer
    from rasterio import Affine
    from rasterio.features import shapes

    if mask.all() and plan.outline is not None:
        return plan.outline
    rows, cols = mask.shape
    to = Affine(*source.transform) * Affine.scale(source.width_px / cols, source.height_px / rows)
    found = [shapely.geometry.shape(shape) for shape, value in shapes(mask.astype(np.uint8), mask, transform=to)]
    metric = Transformer.from_crs(source.crs, plan.crs_metric, always_xy=True)
    flat = shapely.transform(found, lambda xy: np.column_stack(metric.transform(xy[:, 0], xy[:, 1])))
    area = shapely.union_all(flat)
    return _polygons(area if plan.outline is None else area.intersection(plan.outline))


def _polygons(shape) -> MultiPolygon:
    import shapely

    parts = [part for part in shapely.get_parts(shape) if part.geom_type == "Polygon" and part.area > 0]
    return shapely.MultiPolygon(parts)


def _ground_m(source: LayerSource, region: MultiPolygon, projection: Projection) -> float:
    """Return the size of a pixel on the ground in the middle of a region, metres: the root of its area."""
    from pyproj import Transformer

    middle = region.representative_point()
    from_metric = Transformer.from_crs(projection.crs_text, source.crs, always_xy=True)
    to_metric = Transformer.from_crs(source.crs, projection.crs_text, always_xy=True)
    x, y = from_metric.transform(middle.x, middle.y)
    a, b, _, d, e, _ = source.transform
    corners_x, corners_y = to_metric.transform([x, x + a, x + b], [y, y + d, y + e])
    right = np.array([corners_x[1] - corners_x[0], corners_y[1] - corners_y[0]])
    down = np.array([corners_x[2] - corners_x[0], corners_y[2] - corners_y[0]])
    return float(np.sqrt(abs(right[0] * down[1] - right[1] * down[0])))


def _out_by(fit: ScanFit | None) -> float | None:
    out = None if fit is None else out_by_m(fit, np.array([PointM(*fit.centre_m.tolist())]))
    return None if out is None else round(float(out[0]), 2)


def _brought_over(layer: LayerTiles, folder: Path | None, former: Former | None) -> bool:
    """Bring a layer's tiles over from the former edition; False if they are not there as they were written."""
    if folder is None or former is None:
        return False
    names = [(f"{layer.folder}/{tile.zoom}/{tile.x}/{tile.y}.webp", tile.sha256) for tile in layer.tiles]
    whole = all(taken_over(former, name, folder, sha256) for name, sha256 in names)
    if not whole:
        shutil.rmtree(folder / layer.folder, ignore_errors=True)
    return whole


def _coarser(layer: LayerTiles, plan: _Plan) -> Problem | None:
    """Say when a layer's finest zooms were left away for its budget."""
    if not layer.tiles or layer.zooms[1] >= layer.finest:
        return None
    key = "layer.tiles_mb" if layer.file else "relief.tiles_mb"
    times = 2 ** (layer.finest - layer.zooms[1])
    words = (
        f"its tiles would weigh more than {plan.tiles_mb:g} MB; in the offline atlas it is shown up to zoom "
        f"{layer.zooms[1]}, {times} times coarser than the picture. Raise {key} in survey.toml to show more."
    )
    return Problem(layer.file or _RELIEF, "too_large", words)
