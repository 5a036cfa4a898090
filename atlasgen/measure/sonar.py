"""The water by how well side-scan covers it: exact polygons, worked out block by block.

Classes, the best that applies: `twice`, in fine pictures of two different passes; `fine`; `unknown`, a picture whose
ping spacing nothing tells; `coarse`; and without a picture `not_surveyable`, inside a polygon that gives the reason;
`depth_only`, where the depth model has a depth; `none`. They share out the water without overlap or rest.
An outline of unknown quality never makes a second pass: it may be the picture that the passes themselves made.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely
from shapely import MultiPolygon, STRtree, box
from shapely.geometry.base import BaseGeometry

from atlasgen.measure.areas import NOWHERE, blocks, both, clipped, joined, polygons, without
from atlasgen.measure.gridding import raster_polygon
from atlasgen.model import DepthGrid
from atlasgen.model.sonar import SONAR_CLASSES, Cause, GivenCoverage, NoPicture, SonarClass, SonarRules, SonarRun

# Ours: small enough that a block holds few corners, large enough that there are few blocks.
BLOCK_M = 250.0
# Which record tells why there is no picture, where several could: the first of these.
_TELLING: tuple[Cause, ...] = ("lost_channel", "unknown_swath", "log_gap", "under_boat", "behind_land")
_QUALITIES = ("fine", "unknown", "coarse")


@dataclass(frozen=True, slots=True)
class GapKey:
    """Why some water has no picture, or a coarse one; `record` numbers the NoPicture that tells, -1 where none does."""

    cause: Cause
    why: str = ""
    run: str = ""
    record: int = -1


@dataclass(frozen=True, slots=True)
class Mosaic:
    """Many small polygons that do not overlap, each with the number of its kind; metric."""

    pieces: np.ndarray
    kind: np.ndarray

    def overlaps(self, shapes: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Return every pair of shape and piece that share ground: (shape, piece, square metres)."""
        if not len(self.pieces):
            return np.empty(0, int), np.empty(0, int), np.empty(0)
        shape, piece = STRtree(self.pieces).query(shapes, predicate="intersects")
        area = shapely.area(shapely.intersection(np.asarray(shapes)[shape], self.pieces[piece]))
        return shape[area > 0], piece[area > 0], area[area > 0]

    def areas(self, shapes: np.ndarray, kinds: int) -> np.ndarray:
        """Square metres of each kind in each shape, (shapes, kinds)."""
        shape, piece, area = self.overlaps(shapes)
        total = np.zeros((len(shapes), kinds))
        np.add.at(total, (shape, self.kind[piece]), area)
        return total

    def merged(self, kind: int) -> MultiPolygon:
        """All pieces of one kind as one."""
        return joined(self.pieces[self.kind == kind])


@dataclass(frozen=True, slots=True)
class Partition:
    """The water by class (kinds as SONAR_CLASSES number them), its gaps by `keys`, and what of it has a depth."""

    classes: Mosaic
    gaps: Mosaic
    keys: tuple[GapKey, ...]
    known: Mosaic


@dataclass(slots=True)
class _Pile:
    """Pieces as they are found, with the number of their kind."""

    pieces: list[BaseGeometry] = field(default_factory=list)
    kind: list[int] = field(default_factory=list)

    def put(self, shape: MultiPolygon, kind: int) -> None:
        self.pieces += shape.geoms
        self.kind += [kind] * len(shape.geoms)

    def mosaic(self) -> Mosaic:
        return Mosaic(np.array(self.pieces, dtype=object), np.array(self.kind, dtype=int))


@dataclass(frozen=True, slots=True)
class _Layer:
    """Shapes of one sort with a number each, to be cut into blocks."""

    shapes: np.ndarray
    number: np.ndarray
    tree: STRtree

    @classmethod
    def of(cls, shapes: Sequence[BaseGeometry], numbers: Sequence[int]) -> _Layer:
        """Take the single polygons: a box round a whole pass would be met by every block."""
        parts, owner = shapely.get_parts(np.array(shapes, dtype=object), return_index=True)
        return cls(parts, np.asarray(numbers, dtype=int)[owner], STRtree(parts))

    def within(self, square: BaseGeometry) -> list[tuple[int, BaseGeometry]]:
        """Numbers and what of their shapes lies in a square, in the order given."""
        found = np.sort(self.tree.query(square, predicate="intersects"))
        return [(int(self.number[i]), clipped(self.shapes[i], *square.bounds)) for i in found]


def partition(
    water: MultiPolygon,
    runs: Sequence[SonarRun],
    given: Sequence[GivenCoverage],
    limits: MultiPolygon,
    grid: DepthGrid | None,
    reasons: Sequence[tuple[str, BaseGeometry]],
) -> Partition:
    """Share the water out. All geometry is metric; `reasons` are (words, polygon) of what was left unsurveyed."""
    pictures, names = _pictures(runs, given)
    missing, keys = _missing(runs, sorted({words for words, _ in reasons}), names)
    marks = _Layer.of([area for _, area in reasons], [keys[GapKey("reason", words)] for words, _ in reasons])
    cells = _known_cells(grid, water)
    piles = _Pile(), _Pile(), _Pile()
    for bounds in blocks(water.bounds, BLOCK_M):
        wet = polygons(clipped(water, *bounds))
        if wet.is_empty:
            continue
        square = box(*bounds)
        known = _known_in(grid, cells, wet, bounds)
        local = _Block(wet, [layer.within(square) for layer in pictures], marks.within(square), known)
        local.share_out(missing.within(square), polygons(clipped(limits, *bounds)), keys, names, piles)
    return Partition(piles[0].mosaic(), piles[1].mosaic(), tuple(keys), piles[2].mosaic())


def _pictures(runs: Sequence[SonarRun], given: Sequence[GivenCoverage]) -> tuple[list[_Layer], list[str]]:
    """One layer for each quality, fine first; the number of a shape is that of its pass in the names."""
    names = list(dict.fromkeys([run.name for run in runs] + [outline.name for outline in given]))
    layers = []
    for quality in _QUALITIES:
        areas = [(run.name, getattr(swath, quality)) for run in runs for swath in run.swaths]
        areas += [(outline.name, outline.area) for outline in given if outline.quality == quality]
        layers.append(_Layer.of([area for _, area in areas], [names.index(name) for name, _ in areas]))
    return layers, names


def _missing(
    runs: Sequence[SonarRun], reasons: Sequence[str], names: Sequence[str]
) -> tuple[_Layer, dict[GapKey, int]]:
    """Return what the records say of ground without a picture, and every key that a gap can have with its number."""
    records = records_of(runs)
    keys = [GapKey(r.cause, r.why, r.run, number) for number, r in enumerate(records)]
    keys += [GapKey("reason", words) for words in reasons]
    keys += [GapKey("fast_run", run=name) for name in names]
    keys += [GapKey("beyond_limit"), GapKey("not_surveyed"), GapKey("not_recorded")]
    numbered = {key: number for number, key in enumerate(keys)}
    return _Layer.of([record.area for record in records], list(range(len(records)))), numbered


def records_of(runs: Sequence[SonarRun]) -> list[NoPicture]:
    """Return the records in the order in which GapKey.record numbers them."""
    return [record for cause in _TELLING for run in runs for record in run.no_picture if record.cause == cause]


@dataclass(frozen=True, slots=True)
class _Block:
    """One square of the lake: its water, pictures by quality, polygons with a reason, and where depth is known."""

    water: MultiPolygon
    pictures: list[list[tuple[int, BaseGeometry]]]
    reasons: list[tuple[int, BaseGeometry]]
    known: MultiPolygon

    def share_out(
        self,
        missing: list[tuple[int, BaseGeometry]],
        limits: MultiPolygon,
        keys: dict[GapKey, int],
        names: list[str],
        piles: tuple[_Pile, _Pile, _Pile],
    ) -> None:
        """Put the block's pieces on the piles: classes, gaps, depths known."""
        classes, gaps, known = piles
        for kind, area in self._classes():
            classes.put(area, kind)
        for kind, area in self._gaps(missing, limits, keys, names):
            gaps.put(area, kind)
        known.put(self.known, 0)

    def _classes(self) -> Iterator[tuple[int, MultiPolygon]]:
        fine, twice = _once_and_twice(self.pictures[0])
        unknown, coarse = (polygons([shape for _, shape in found]) for found in self.pictures[1:])
        marked = polygons([shape for _, shape in self.reasons])
        left = self.water
        parts: dict[SonarClass, MultiPolygon] = {
            "twice": twice,
            "fine": fine,
            "unknown": unknown,
            "coarse": coarse,
            "not_surveyable": marked,
            "depth_only": self.known,
        }
        for name, area in parts.items():
            yield SONAR_CLASSES.index(name), both(left, area)
            left = without(left, area)
        yield SONAR_CLASSES.index("none"), left

    def _gaps(
        self, missing: list[tuple[int, BaseGeometry]], limits: MultiPolygon, keys: dict[GapKey, int], names: list[str]
    ) -> Iterator[tuple[int, MultiPolygon]]:
        better = polygons([shape for found in self.pictures[:2] for _, shape in found])
        left = without(self.water, better)
        fast = keys[GapKey("fast_run", run=names[0])] if names else 0
        coarse = [(fast + number, shape) for number, shape in self.pictures[2]]
        # Records are numbered as their keys are, the most telling cause first.
        told = sorted(missing, key=lambda pair: pair[0])
        for kind, shape in [*coarse, *self.reasons, *told]:
            if left.is_empty:
                break
            area = polygons(shape)
            yield kind, both(left, area)
            left = without(left, area)
        yield keys[GapKey("not_recorded")], both(left, limits)
        beyond = without(left, limits)
        yield keys[GapKey("beyond_limit")], both(beyond, self.known)
        yield keys[GapKey("not_surveyed")], without(beyond, self.known)


def _once_and_twice(pictures: list[tuple[int, BaseGeometry]]) -> tuple[MultiPolygon, MultiPolygon]:
    """Ground under one fine picture at least, and under those of two passes; a pass over itself is one."""
    once = twice = NOWHERE
    for number in sorted({number for number, _ in pictures}):
        area = polygons([shape for owner, shape in pictures if owner == number])
        twice = polygons([twice, both(once, area)])
        once = polygons([once, area])
    return once, twice


def _known_cells(grid: DepthGrid | None, water: MultiPolygon) -> np.ndarray:
    """Cells with a depth, and those beside them whose centre is on land: they hold the rim of the same water."""
    from scipy.ndimage import binary_dilation

    if grid is None:
        return np.zeros((0, 0), dtype=bool)
    known = np.isfinite(grid.depth_m)
    wet = raster_polygon(water, grid.x0_m, grid.y0_m, grid.cell_m, known.shape)
    return known | (binary_dilation(known, np.ones((3, 3), dtype=bool)) & ~wet)


def _known_in(
    grid: DepthGrid | None, cells: np.ndarray, wet: MultiPolygon, bounds: tuple[float, float, float, float]
) -> MultiPolygon:
    """Water of a block whose cell of the depth model has a depth."""
    if grid is None:
        return NOWHERE
    west, south, east, north = bounds
    edge_x, edge_y = grid.x0_m - grid.cell_m / 2, grid.y0_m - grid.cell_m / 2
    rows = range(
        max(int((south - edge_y) // grid.cell_m), 0), min(int((north - edge_y) // grid.cell_m) + 1, len(cells))
    )
    strips = []
    for row in rows:
        starts, ends = _stretches(cells[row], (west - edge_x) / grid.cell_m, (east - edge_x) / grid.cell_m)
        # The upper edge of a row is the lower edge of the next to the last bit, so that no hairline is left between.
        y, top = edge_y + row * grid.cell_m, edge_y + (row + 1) * grid.cell_m
        strips.append(shapely.box(edge_x + starts * grid.cell_m, y, edge_x + ends * grid.cell_m, top))
    return both(wet, polygons(np.concatenate(strips))) if strips else NOWHERE


def _stretches(row: np.ndarray, first: float, last: float) -> tuple[np.ndarray, np.ndarray]:
    """Columns at which stretches of True begin and end (one past), between two columns."""
    start, stop = max(int(np.floor(first)), 0), min(int(np.ceil(last)), len(row))
    edges = np.diff(np.r_[False, row[start:stop], False].astype(np.int8)) if stop > start else np.empty(0, np.int8)
    return np.flatnonzero(edges == 1) + start, np.flatnonzero(edges == -1) + start


def limits_of(
    runs: Sequence[SonarRun], given: Sequence[GivenCoverage], water: MultiPolygon, rules: SonarRules
) -> MultiPolygon:
    """Return the surveyed water: what passes and outlines cover, or would have, and what is narrow between these.

    Grown by half of `limits_m` and shrunk by as much, so that bays of the outline narrower than that are filled.
    """
    areas = [area for run in runs for swath in run.swaths for area in (swath.fine, swath.coarse, swath.unknown)]
    areas += [record.area for run in runs for record in run.no_picture] + [outline.area for outline in given]
    outline = shapely.simplify(polygons(areas), rules.tolerance_m)
    half_m = rules.limits_m / 2
    closed = shapely.buffer(shapely.buffer(outline, half_m, quad_segs=4), -half_m, quad_segs=4)
    return both(polygons([closed, outline]), water)
