"""The sample lake with pictures of the bed and side-scan: an air photo of its west, an old chart, a relief, a gap."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import rasterio
from level_scene import make_level_atlas
from rasterio import Affine
from sample_atlas import CRS, WATER
from shapely import MultiPolygon, Point, box

from atlasgen.measure.registration import fit_scan, to_ground
from atlasgen.model import Atlas, LonLat
from atlasgen.model.history import HistoricLayer, LayerFile, LayerRule
from atlasgen.model.layer_tiles import ReliefRules
from atlasgen.model.memory import ANEW
from atlasgen.model.sonar import Holiday, SonarCoverage, SonarRules
from atlasgen.pipeline import silent
from atlasgen.write.bed_pictures import BedSources, cut_layers

WEST = box(-760, -560, 0, 40)
PHOTO_RULE = LayerRule("low.tif", "air photo", "Low water", date(2020, 4, 18), -3.6)
CHART_RULE = LayerRule("valley.png", "historic chart", "The valley before")
PHOTO, CHART, RELIEF = "air-photo-2020-04-18", "historic-chart", "shaded-relief"


def multi(shape) -> MultiPolygon:
    """Return an area as the model wants it."""
    return MultiPolygon([part for part in getattr(shape, "geoms", [shape]) if part.geom_type == "Polygon"])


def write_photo(path: Path) -> None:
    """Write an air photo of the lake's west: sand above, blue-grey water below, 2 m a pixel."""
    rows, cols = np.mgrid[:300, :380]
    bands = np.stack([150 + 40 * np.sin(cols / 9 + band) - rows / 6 for band in range(3)]).astype(np.uint8)
    place = {"crs": CRS, "transform": Affine(2, 0, -760, 0, -2, 40), "width": 380, "height": 300}
    with rasterio.open(path, "w", driver="GTiff", count=3, dtype="uint8", **place) as file:
        file.write(bands)


def write_chart(path: Path) -> None:
    """Write a scan of an old chart: brown lines on buff."""
    from PIL import Image

    rows, cols = np.mgrid[:300, :760]
    lines = (np.hypot(rows - 150, cols - 380) % 30) < 2
    Image.fromarray(np.where(lines[..., None], (120, 70, 40), (235, 225, 200)).astype(np.uint8)).save(path)


def chart_fit():
    """Lay the chart over the whole lake, two metres a pixel, a little out."""
    pixels = np.array([[0, 0], [760, 0], [760, 300], [0, 300]], dtype=float)
    ground = np.array([[-760, 42], [760, 38], [760, -560], [-763, -560]], dtype=float)
    return fit_scan("points.csv", "similarity", ("a", "b", "c", "d"), pixels, ground)


def placed(rule: LayerRule, area, fit=None) -> HistoricLayer:
    """Place a layer as `measure` would."""
    told = (rule.file, rule.kind, rule.title, rule.date, rule.stage_m, "survey.toml")
    return HistoricLayer(*told, multi(area), fit, None, None, None, ())


def side_scan() -> SonarCoverage:
    """Share the lake out: seen twice in the west, once, coarsely, depths alone, a closed part and a blank."""
    parts = {
        "twice": WATER.intersection(box(-900, -900, -450, 900)),
        "fine": WATER.intersection(box(-450, -900, -200, 900)),
        "coarse": WATER.intersection(box(-200, -900, 0, 900)),
        "depth_only": WATER.intersection(box(0, -900, 300, 900)),
        "not_surveyable": WATER.intersection(box(300, -900, 420, 900)),
        "none": WATER.intersection(box(420, -900, 900, 900)),
    }
    area = {name: multi(shape) for name, shape in parts.items()}
    told = {"place": "", "nearest": "S-0001", "at": LonLat(-96.4, -31.5)}
    coarse = Holiday("h-1", "fast_run", area["coarse"], area["coarse"].area, share_depth=1, passes=("p-7",), **told)
    weed = Holiday("h-2", "reason", area["not_surveyable"], 9e3, share_depth=0, why="weed", **told)
    rules = SonarRules()
    areas = {name: shape.area for name, shape in area.items()}
    return SonarCoverage((), (), areas, area, area["twice"], WATER, (coarse, weed), rules)


def make_picture_atlas(folder: Path, out: Path | None, *, sonar: bool = True) -> Atlas:
    """Build the atlas; pictures are written to `folder` and read from there, and their tiles written into `out`."""
    write_photo(folder / PHOTO_RULE.file)
    write_chart(folder / CHART_RULE.file)
    atlas, fit = make_level_atlas(), chart_fit()
    outline = MultiPolygon([(to_ground(fit, np.array([[0, 0], [760, 0], [760, 300], [0, 300]])), [])])
    layers = (placed(PHOTO_RULE, WEST), placed(CHART_RULE, outline, fit))
    grid = replace(atlas.known.grid, distance_m=np.full(atlas.known.grid.depth_m.shape, 12.0))
    known = replace(atlas.known, layers=layers, grid=grid, sonar=side_scan() if sonar else None)
    atlas = replace(atlas, known=known, placed=replace(atlas.placed, crs_metric=CRS))
    pictures, problems = cut_scene(atlas, folder, out)
    assert problems == []
    return replace(atlas, bed_pictures=pictures)


def cut_scene(atlas: Atlas, folder: Path, out: Path | None, *, tiles_mb: float = 30.0, memory=ANEW, former=None):
    """Cut the pictures of the scene, with threads in the place of processes."""
    rules = ((replace(PHOTO_RULE, tiles_mb=tiles_mb), 380), (replace(CHART_RULE, tiles_mb=tiles_mb), 760))
    files = tuple(LayerFile(rule, width, 300) for rule, width in rules)
    hashes = {rule.file: f"{number}" for number, (rule, _) in enumerate(rules)}
    sources = BedSources(folder, files, hashes, ReliefRules())
    with ThreadPoolExecutor(2) as executor:
        return cut_layers(sources, atlas.placed, atlas.known, out, executor, silent, memory, former)


def water_points(count: int, *, inner_m: float = 3.0) -> list[tuple[Point, str]]:
    """Return places in the water and the class of each by the model, none nearer than `inner_m` to another class."""
    draw = np.random.default_rng(11)
    areas = side_scan().area
    found: list[tuple[Point, str]] = []
    while len(found) < count:
        point = Point(draw.uniform(-700, 700), draw.uniform(-500, 0))
        name = next((name for name, area in areas.items() if area.buffer(-inner_m).contains(point)), None)
        if name:
            found.append((point, name))
    return found
