"""What atlasgen finds on the bed of the demo lake, against its terrain: `python benchmarks/relief.py`.

The answer sheet (tests/data/demo_truth.json) names five humps, a ledge and a drowned track. Three questions:

resolvable  could the soundings tell it? A hump: at least five sounded cells where the terrain stands more than half its
            rise above the bed around, and that rise at least twice the doubt of the model's depths there. The ledge:
            at least three survey lines with a sounding within 15 m of its brink on both sides. The track, a bank some
            10 m wide: a stretch of at least 60 m (the shortest ridge that is looked for) on whose top no two
            neighbouring sounded places are more than twice its width apart.
found       is a feature of the right kind there: its outline within 15 m of the place?
false       a found feature whose height by the same measure, on the terrain itself read at the model's known cells, is
            less than half of what was said; or where the same finder, given that terrain sounded in every cell and
            good to 10 cm, finds nothing alike: nothing that rises, nothing that lies deep, no ledge.
            What it calls by another name there (a hole that is a piece of a channel) is counted as misnamed.

The terrain has more than the sheet names. Of what the finder sees on it within the model's own doubts, and what at
least five sounded cells hold, the share that it sees on the model is printed too.

Last, a survey that the finder was not made on: other soundings of the same terrain, drawn with 8 cm of noise at the
places of all the lines, of every other, of the rest, and of two lines in three; the model without bounds of its own.

Bars: everything resolvable on the sheet is found, nothing is false.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import shapely
from pyproj import Transformer
from shapely import MultiPolygon

from atlasgen.config import read_settings
from atlasgen.measure.depth import build_grid
from atlasgen.measure.gridding import raster_polygon
from atlasgen.measure.patches import run_cells
from atlasgen.measure.relief import LEAST_SOUNDED, SCALES_M, find_relief
from atlasgen.measure.survey import level_lookup, measure_survey
from atlasgen.measure.terrain import between_soundings, doubt_m, horn_slope, relief_index
from atlasgen.model import DepthGrid, LonLat
from atlasgen.model.relief import ReliefFeature
from atlasgen.pipeline import silent
from atlasgen.place.geo import Projection
from atlasgen.place.sight import see_survey
from atlasgen.place.survey import place_survey
from atlasgen.read.survey import read_survey

CHECKOUT = Path(__file__).resolve().parents[1]
NEAR_M, TRACK_WIDTH_M, LEAST_TRACK_M, LEAST_CROSSINGS = 15.0, 10.0, 60.0, 3
TERRAIN_DOUBT_M, LEAST_OVERLAP = 0.1, 0.25
SOUNDER_NOISE_M, SEED = 0.08, 5
SENSE = {"hump": 1, "ridge": 1, "hole": -1, "channel": -1, "ledge": 0}


@dataclass(frozen=True)
class Ground:
    """Places of the soundings, the lines they belong to, the water, and the terrain's depth at metric places."""

    x: np.ndarray
    y: np.ndarray
    line: np.ndarray
    water: MultiPolygon
    true_depth_m: Callable[[np.ndarray, np.ndarray], np.ndarray]


@dataclass(frozen=True)
class Scene:
    """The demo as the finder had it, and the terrain at the same cells."""

    grid: DepthGrid
    truth: DepthGrid
    sounded: np.ndarray
    features: tuple[ReliefFeature, ...]
    projection: Projection
    ground: Ground


@dataclass(frozen=True)
class Answer:
    """One feature of the answer sheet."""

    name: str
    resolvable: bool
    why: str
    found: str


def main() -> None:
    """Print what there is, what was found, and what is false."""
    import sys

    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--survey", type=Path, default=CHECKOUT / "demo_photos")
    parser.add_argument("--answers", type=Path, default=CHECKOUT / "tests" / "data" / "demo_truth.json")
    options = parser.parse_args()
    sys.path.insert(0, str(CHECKOUT))
    answers = json.loads(options.answers.read_text(encoding="utf-8"))
    scene = demo_scene(options.survey, answers)
    print(report(answer_all(scene, answers["bed"]), true_heights(scene), on_terrain(scene)))
    lines = np.unique(scene.ground.line, return_inverse=True)[1]
    for name, kept in (
        ("all lines", lines >= 0),
        ("every other line", lines % 2 == 0),
        ("the other half", lines % 2 == 1),
        ("two lines in three", lines % 3 > 0),
    ):
        other = sounded_again(scene, kept)
        print(f"\nsounded again on {name}\n{report([], true_heights(other), on_terrain(other))}")


def demo_scene(survey_dir: Path, answers: Mapping) -> Scene:
    """Build the depth model of a survey, find its relief, and read the terrain at its cells."""
    settings = read_settings(survey_dir)
    with ThreadPoolExecutor(2) as executor:
        survey = read_survey(survey_dir, settings.read_rules(), executor, silent)
    # The photos say nothing of the bed.
    survey = replace(survey, photos=())
    level = level_lookup(survey.stage)
    placed = place_survey(survey, settings.place_rules(), level, silent)
    sight = see_survey(placed, settings.view_rules(), level, silent)
    known = measure_survey(survey, placed, sight, settings.measure_rules(), settings.audit_rules(), silent)
    projection = Projection(placed.crs_metric)
    told = np.isfinite(survey.soundings.depth_m)
    x, y = projection.points(survey.soundings.lon_deg[told], survey.soundings.lat_deg[told])
    true_depth_m = _terrain(placed.crs_metric, answers["frame"])
    ground = Ground(x, y, survey.soundings.line[told], placed.water, true_depth_m)
    return _scene(known.grid, x, y, known.relief, projection, ground)


def _terrain(crs_metric: str, frame: str) -> Callable[[np.ndarray, np.ndarray], np.ndarray]:
    from demo_photos.make.terrain import height_at

    to_frame = Transformer.from_crs(crs_metric, frame, always_xy=True)
    return lambda x, y: -height_at(*(values.ravel() for values in to_frame.transform(x, y))).reshape(x.shape)


def _scene(
    grid: DepthGrid,
    x: np.ndarray,
    y: np.ndarray,
    features: tuple[ReliefFeature, ...],
    projection: Projection,
    ground: Ground,
) -> Scene:
    true = np.where(np.isfinite(grid.depth_m), ground.true_depth_m(*_centres(grid)), np.nan)
    return Scene(grid, replace(grid, depth_m=true), run_cells(grid, x, y) >= 0, features, projection, ground)


def sounded_again(scene: Scene, kept: np.ndarray) -> Scene:
    """Sound the terrain at some of the places, with noise, and find the relief of that."""
    ground = scene.ground
    x, y, line = ground.x[kept], ground.y[kept], ground.line[kept]
    noise_m = np.random.default_rng(SEED).normal(0, SOUNDER_NOISE_M, x.size)
    depth = ground.true_depth_m(x, y) + noise_m
    wet = depth > 0
    x, y, line, depth = x[wet], y[wet], line[wet], depth[wet]
    grid = build_grid(x, y, depth, ground.water, scene.grid.cell_m, scene.grid.near_sounding_m, line)
    return _scene(grid, x, y, find_relief(grid, x, y, (), scene.projection, line), scene.projection, ground)


def _centres(grid: DepthGrid) -> tuple[np.ndarray, np.ndarray]:
    rows, cols = grid.depth_m.shape
    return np.meshgrid(grid.x0_m + np.arange(cols) * grid.cell_m, grid.y0_m + np.arange(rows) * grid.cell_m)


def answer_all(scene: Scene, bed: Mapping) -> list[Answer]:
    """Look up every feature of the answer sheet."""
    humps = [_hump(scene, hump) for hump in bed["humps"]]
    return [*humps, _ledge(scene, bed["ledge"]), *_track(scene, bed["track"])]


def _place(scene: Scene, item: Mapping) -> shapely.Point:
    return shapely.Point(scene.projection.point(LonLat(item["lon"], item["lat"])))


def _found(scene: Scene, place: shapely.geometry.base.BaseGeometry, kinds: Sequence[str]) -> str:
    near = [f for f in scene.features if f.kind in kinds and f.outline.distance(place) <= NEAR_M]
    best = max(near, key=lambda f: f.height_m, default=None)
    return "" if best is None else f"{best.id}, least {best.least_depth_m:.1f} m, {best.height_m:.1f} m"


def _hump(scene: Scene, hump: Mapping) -> Answer:
    from scipy.ndimage import label

    place = _place(scene, hump)
    x, y = _centres(scene.grid)
    away = np.hypot(x - place.x, y - place.y)
    # All terrain cells, known or not, count as its footprint; unknown ones hold no sounding.
    half = scene.truth.depth_m <= hump["least_depth_m"] + hump["rise_m"] / 2
    labels, _ = label(half & (away <= 60))
    inside = labels == labels[np.unravel_index(np.argmin(away), away.shape)]
    cells, doubt = int((inside & scene.sounded).sum()), float(np.nanmedian(doubt_m(scene.grid)[inside]))
    told = cells >= LEAST_SOUNDED and hump["rise_m"] >= 2 * doubt
    why = f"rises {hump['rise_m']:.1f} m, {cells} sounded cells on it, doubt {doubt:.2f} m"
    return Answer(hump["name"], told, why, _found(scene, place, ("hump",)))


def _ledge(scene: Scene, ledge: Mapping) -> Answer:
    place = _place(scene, ledge)
    x, y = _centres(scene.grid)
    beside = (np.abs(y - place.y) <= 90) & scene.sounded
    west = {round(v) for v in y[beside & (x < place.x) & (x > place.x - NEAR_M)]}
    east = {round(v) for v in y[beside & (x > place.x) & (x < place.x + NEAR_M)]}
    both = sorted(west & east)
    lines = int(np.sum(np.diff([-1e9, *both]) > 2 * scene.grid.cell_m))
    why = f"{ledge['foot_depth_m'] - ledge['top_depth_m']:.1f} m drop, {lines} survey lines cross it"
    return Answer("ledge", lines >= LEAST_CROSSINGS, why, _found(scene, place, ("ledge",)))


def _track(scene: Scene, points: Sequence[Mapping]) -> list[Answer]:
    """One answer for each resolvable stretch, and one for the rest."""
    line = shapely.LineString([_place(scene, point) for point in points])
    x, y = (values[scene.sounded] for values in _centres(scene.grid))
    places = shapely.points(x, y)
    on_top = places[shapely.distance(places, line) <= TRACK_WIDTH_M / 2]
    at = np.sort(shapely.line_locate_point(line, on_top))
    runs = np.split(at, np.flatnonzero(np.diff(at) > 2 * TRACK_WIDTH_M) + 1)
    stretches = [(run[0], run[-1]) for run in runs if run.size and run[-1] - run[0] >= LEAST_TRACK_M]
    longest = max((float(np.ptp(run)) for run in runs if run.size), default=0.0)
    found = []
    for start, end in stretches:
        part = shapely.ops.substring(line, start, end)
        why = f"{end - start:.0f} m with soundings on its top"
        found.append(Answer(f"track, {start:.0f}-{end:.0f} m", True, why, _found(scene, part, ("ridge", "hump"))))
    rest = line.length - sum(end - start for start, end in stretches)
    why = f"{at.size} sounded cells on its top, the longest stretch without a gap {longest:.0f} m"
    return [*found, Answer(f"track, the other {rest:.0f} m", False, why, "")]


@dataclass(frozen=True)
class OnTerrain:
    """What the finder sees on the terrain itself: with nearly no doubt, and with the doubts of the model."""

    all: tuple[ReliefFeature, ...]
    by_doubt: tuple[ReliefFeature, ...]
    # Those of `by_doubt` that enough sounded cells hold.
    held: tuple[ReliefFeature, ...]


def on_terrain(scene: Scene) -> OnTerrain:
    """Run the finder on the terrain, every cell of it sounded."""
    everything = _terrain_relief(scene, np.full(scene.grid.depth_m.shape, TERRAIN_DOUBT_M))
    by_doubt = _terrain_relief(scene, doubt_m(scene.grid))
    x, y = (values[scene.sounded] for values in _centres(scene.grid))
    held = [f for f in by_doubt if shapely.contains_xy(f.outline, x, y).sum() >= LEAST_SOUNDED]
    return OnTerrain(everything, by_doubt, tuple(held))


def _terrain_relief(scene: Scene, bound_m: np.ndarray) -> tuple[ReliefFeature, ...]:
    inner = np.isfinite(scene.truth.depth_m) & between_soundings(scene.grid)
    depth = np.where(inner, scene.truth.depth_m, np.nan)
    grid = replace(scene.truth, depth_m=depth, distance_m=np.zeros(depth.shape), bound_m=bound_m)
    x, y = _centres(grid)
    # Each row of cells counts as a run.
    return find_relief(grid, x[inner], y[inner], (), scene.projection, np.nonzero(inner)[0])


def alike(feature: ReliefFeature, others: Sequence[ReliefFeature]) -> list[ReliefFeature]:
    """Return those that overlap a feature and rise, lie deep or fall as it does."""
    return [
        other
        for other in others
        if SENSE[other.kind] == SENSE[feature.kind]
        and other.outline.intersection(feature.outline).area >= LEAST_OVERLAP * min(other.area_m2, feature.area_m2)
    ]


def true_heights(scene: Scene) -> list[tuple[ReliefFeature, float, float]]:
    """Each feature with its height by one measure on the model and on the terrain, metres (ledges: slope)."""
    grids = scene.grid, scene.truth
    indices = [[relief_index(grid.depth_m, grid.cell_m, *ring) for ring in SCALES_M] for grid in grids]
    slopes = [horn_slope(grid.depth_m, grid.cell_m)[0] for grid in grids]
    found = []
    for feature in scene.features:
        grid = scene.grid
        outline = feature.outline.buffer(grid.cell_m / 4)
        inside = raster_polygon(outline, grid.x0_m, grid.y0_m, grid.cell_m, grid.depth_m.shape)
        found.append((feature, *_same_measure(feature, inside, indices, slopes)))
    return found


def _same_measure(
    feature: ReliefFeature, inside: np.ndarray, indices: list[list[np.ndarray]], slopes: list[np.ndarray]
) -> tuple[float, float]:
    if feature.kind == "ledge":
        return tuple(float(np.nanmedian(slope[inside])) for slope in slopes)
    sign = 1 if feature.kind in ("hump", "ridge") else -1
    figure = np.max if feature.kind in ("hump", "hole") else np.median

    def height_m(index: np.ndarray) -> float:
        judged = sign * index[inside & np.isfinite(index)]
        return float(figure(judged)) if judged.size else np.inf

    # The scale at which the feature was found is the one that gives the height it was given.
    said = [height_m(index) for index in indices[0]]
    scale = int(np.argmin(np.abs(np.array(said) - feature.height_m)))
    return said[scale], height_m(indices[1][scale])


def report(answers: list[Answer], heights: list[tuple[ReliefFeature, float, float]], terrain: OnTerrain) -> str:
    """Set answers and false features as text, with the counts and whether the bars are met."""
    lines = []
    for a in answers:
        lines.append(f"{'resolvable' if a.resolvable else 'not':10s}  {a.name}: {a.why}; {a.found or 'not found'}")
    ratio = np.median([true / said for _, said, true in heights]) if heights else float("nan")
    features = [feature for feature, _, _ in heights]
    lines.append(f"found in all: {_counts(features)}; height on the terrain over height said, median {ratio:.2f}")
    false = [(f, said, true) for f, said, true in heights if true < said / 2 or not alike(f, terrain.all)]
    for f, said, true in false:
        lines.append(f"false: {f.id} at {f.point.x_m:.0f} {f.point.y_m:.0f}: said {said:.2f}, terrain {true:.2f} m")
    lines += _misnamed(features, terrain)
    seen = [f for f in terrain.held if alike(f, features)]
    lines.append(f"the terrain has, within the model's doubts: {_counts(terrain.by_doubt)}")
    lines.append(f"five sounded cells hold of these: {_counts(terrain.held)}; found of those: {_counts(seen)}")
    told = [a for a in answers if a.resolvable]
    met = f"{sum(bool(a.found) for a in told)} of {len(told)} resolvable features found; " if answers else ""
    lines.append(f"bars: {met}{len(false)} of {len(heights)} found are false")
    return "\n".join(lines)


def _counts(features: Sequence[ReliefFeature]) -> str:
    of_kind = ((sum(f.kind == kind for f in features), kind) for kind in SENSE)
    return f"{len(features)} ({', '.join(f'{count} {kind}s' for count, kind in of_kind)})"


def _misnamed(features: Sequence[ReliefFeature], terrain: OnTerrain) -> list[str]:
    """One line for each feature that the terrain has under other names alone, whatever the doubt."""
    lines = []
    for feature in features:
        kinds = {other.kind for other in alike(feature, (*terrain.all, *terrain.by_doubt))}
        if kinds and feature.kind not in kinds:
            lines.append(
                f"misnamed: {feature.id} ({feature.confidence}), on the terrain a {' or '.join(sorted(kinds))}"
            )
    return lines


if __name__ == "__main__":
    main()
