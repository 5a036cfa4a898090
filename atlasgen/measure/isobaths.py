"""Depth lines and the tinted water between them, drawn from the depth grid."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

import numpy as np
import shapely
from shapely import LineString, MultiPolygon

from atlasgen.measure.contour_lines import Places, smoothed, split_doubtful
from atlasgen.measure.gridding import raster_polygon
from atlasgen.model import DepthBand, DepthGrid, Isobath
from atlasgen.units import DEPTH_UNIT_M, DepthUnit

# Ours: a line may be moved by a quarter of a cell to lose the steps of the grid; that is within what the grid knows,
# as long as no sounding comes to lie on its other side.
SIMPLIFY_CELLS = 0.25
# Ours: a loop shorter than this goes round a single sounding, a loose end shorter than the other says nothing.
SHORTEST_LOOP_CELLS, SHORTEST_END_CELLS = 8.0, 2.0
_ROUND_STEPS = (1.0, 2.0, 5.0)
_SPREAD_CELLS = 2


def isobath_depths(
    deepest_m: float,
    unit: DepthUnit,
    fine_interval: float,
    fine_to: float,
    coarse_interval: float,
    major_every: float,
) -> list[tuple[float, str, bool]]:
    """Depths worth a line, shallow to deep: (metres, number in the reader's unit, major).

    The two-step rule of anglers' charts, every foot to 30 ft and every third foot below, with each tenth foot bold, is
    common practice, no source. Intervals, `fine_to` and `major_every` are in the reader's unit; below `fine_to` lines
    stand on multiples of the coarse interval. No line at zero: that is the shoreline.
    """
    factor = DEPTH_UNIT_M[unit]
    deepest = deepest_m / factor
    fine = list(_multiples(fine_interval, 0.0, min(deepest, fine_to)))
    coarse = list(_multiples(coarse_interval, fine_to, deepest))
    return [(value * factor, f"{value:g}", _is_multiple(value, major_every)) for value in fine + coarse]


def draw_isobaths(
    grid: DepthGrid,
    depths: Iterable[tuple[float, str, bool]],
    soundings: np.ndarray | None = None,
    doubtful_over_m: float | None = None,
) -> tuple[Isobath, ...]:
    """Draw the lines of equal depth; depths without a line are left out.

    Lines are simplified by at most SIMPLIFY_CELLS of a cell, and never across one of the `soundings`. Loops shorter
    than SHORTEST_LOOP_CELLS and loose ends shorter than SHORTEST_END_CELLS are dropped, but not a loop round a sounding
    that reaches up to the next shallower depth of the list: that is a shoal.

    Parameters
    ----------
    depths
        (metres, number in the reader's unit, major), shallow to deep, as from `isobath_depths`.
    soundings
        (n, 3): x, y, depth of the soundings that the model rests on (`used_soundings`).
    doubtful_over_m
        Where the grid's bound is greater, a line goes to `doubtful` (see `doubtful_over`); None takes all as sure.
    """
    if not _can_contour(grid.depth_m):
        return ()
    generator = _contours(grid.depth_m, grid)
    places = Places(np.empty((0, 3)) if soundings is None else soundings)
    drawn, above_m = [], -np.inf
    for depth, label, major in depths:
        lines = _kept(generator.lines(depth), grid, places, above_m)
        sure, doubtful = split_doubtful(smoothed(lines, SIMPLIFY_CELLS * grid.cell_m, places), grid, doubtful_over_m)
        drawn.append(Isobath(depth, label, major, sure, doubtful))
        above_m = depth
    return tuple(isobath for isobath in drawn if isobath.lines or isobath.doubtful)


def band_edges(deepest_m: float, unit: DepthUnit, most: int = 10) -> tuple[float, ...]:
    """Round depths in the reader's unit that part the lake into at most `most` bands, metres, from 0 to the deepest.

    Steps are 1, 2 or 5 times a power of ten (from 0.1 on), the smallest that serves; the last band ends at the first
    round depth not shallower than the deepest.
    """
    factor = DEPTH_UNIT_M[unit]
    deepest = max(deepest_m / factor, 0.1)
    steps = (step * 10.0**power for power in range(-1, 6) for step in _ROUND_STEPS)
    step = next(step for step in steps if np.ceil(deepest / step - 1e-9) <= most)
    count = int(np.ceil(deepest / step - 1e-9))
    return tuple(round(number * step, 6) * factor for number in range(count + 1))


def depth_bands(grid: DepthGrid, water: MultiPolygon, edges_m: Sequence[float]) -> tuple[DepthBand, ...]:
    """Polygons between successive depths; together they cover every cell that has a depth, and nothing else.

    Along the bank a known cell lends its depth to the water of the neighbouring cell whose centre is on land, so that
    the tint ends at the bank. What is shallower than the first edge or deeper than the last belongs to the first and
    last band.
    """
    known = np.isfinite(grid.depth_m)
    if not known.any():
        return ()
    # A bank along the edges of cells gives lines besides the polygons, and those stop the next overlay.
    area = _polygons_only(shapely.intersection(_squares(grid, _with_bank(grid, known, water)), water))
    generator = _contours(_spread(grid.depth_m, known), _padded(grid))
    levels = _open_ended(edges_m, grid.depth_m)
    shades = np.linspace(0, 1, len(levels) - 1) if len(levels) > 2 else [0.5]
    bands = []
    for number, (low, high) in enumerate(pairwise(levels)):
        part = _polygons_only(shapely.intersection(_filled(generator, low, high), area))
        if not part.is_empty:
            bands.append(DepthBand(edges_m[number], edges_m[number + 1], float(shades[number]), part))
    return tuple(bands)


def _multiples(step: float, above: float, up_to: float) -> Iterator[float]:
    """Multiples of `step` above `above` and not beyond `up_to`, free of binary noise."""
    number = int(np.floor(above / step + 1e-9)) + 1
    while number * step <= up_to + 1e-9:
        yield round(number * step, 6)
        number += 1


def _is_multiple(value: float, step: float) -> bool:
    return abs(value / step - round(value / step)) < 1e-6


def _can_contour(depth_m: np.ndarray) -> bool:
    return min(depth_m.shape) >= 2 and bool(np.isfinite(depth_m).any())


def _contours(depth_m: np.ndarray, grid: DepthGrid):
    from contourpy import FillType, LineType, contour_generator

    rows, cols = depth_m.shape
    return contour_generator(
        x=grid.x0_m + np.arange(cols) * grid.cell_m,
        y=grid.y0_m + np.arange(rows) * grid.cell_m,
        z=np.ma.masked_invalid(depth_m),
        line_type=LineType.Separate,
        fill_type=FillType.OuterOffset,
    )


def _kept(parts: Iterable[np.ndarray], grid: DepthGrid, places: Places, above_m: float) -> list[LineString]:
    """Return the lines worth drawing; `above_m` is the next shallower depth that has a line."""
    lines = [LineString(part) for part in parts if len(part) > 1]
    shortest = {True: SHORTEST_LOOP_CELLS * grid.cell_m, False: SHORTEST_END_CELLS * grid.cell_m}
    short = [line.length < shortest[line.is_closed] for line in lines]
    shoals = places.shoals([line for line, drop in zip(lines, short, strict=True) if drop], above_m)
    return [line for line, drop in zip(lines, short, strict=True) if not drop or line in shoals]


def _with_bank(grid: DepthGrid, known: np.ndarray, water: MultiPolygon) -> np.ndarray:
    from scipy.ndimage import binary_dilation

    padded = np.pad(known, 1)
    dry = ~raster_polygon(water, grid.x0_m - grid.cell_m, grid.y0_m - grid.cell_m, grid.cell_m, padded.shape)
    return padded | (binary_dilation(padded, np.ones((3, 3), dtype=bool)) & dry)


def _padded(grid: DepthGrid) -> DepthGrid:
    """Return the frame of a grid as `_spread` widens it; only its place and cell size are of use."""
    shift = _SPREAD_CELLS * grid.cell_m
    return DepthGrid(
        grid.depth_m, grid.distance_m, grid.x0_m - shift, grid.y0_m - shift, grid.cell_m, grid.near_sounding_m
    )


def _spread(depth_m: np.ndarray, known: np.ndarray) -> np.ndarray:
    """Depths carried some cells outward from the known ones, so that contours fill the outermost cells whole."""
    from scipy.ndimage import binary_dilation, distance_transform_edt

    padded = np.pad(depth_m, _SPREAD_CELLS, constant_values=np.nan)
    known = np.pad(known, _SPREAD_CELLS)
    row, col = distance_transform_edt(~known, return_distances=False, return_indices=True)
    within = binary_dilation(known, np.ones((3, 3), dtype=bool), iterations=_SPREAD_CELLS)
    return np.where(within, padded[row, col], np.nan)


def _squares(grid: DepthGrid, cells: np.ndarray) -> MultiPolygon:
    """Union of the cells that are True; `cells` is one cell wider than the grid all round."""
    turns = np.diff(np.pad(cells, ((0, 0), (1, 1))).astype(np.int8), axis=1)
    row, first = np.nonzero(turns == 1)
    last = np.nonzero(turns == -1)[1]
    x = grid.x0_m + (np.arange(cells.shape[1] + 1) - 1.5) * grid.cell_m
    y = grid.y0_m + (np.arange(cells.shape[0] + 1) - 1.5) * grid.cell_m
    return shapely.union_all(shapely.box(x[first], y[row], x[last], y[row + 1]))


def _open_ended(edges_m: Sequence[float], depth_m: np.ndarray) -> list[float]:
    """Return the edges, the first and last moved out so that no depth falls beyond them."""
    low, high = float(np.nanmin(depth_m)), float(np.nanmax(depth_m))
    return [min(edges_m[0], low) - 1.0, *edges_m[1:-1], max(edges_m[-1], high) + 1.0]


def _filled(generator, low_m: float, high_m: float) -> MultiPolygon:
    coords, offsets = generator.filled(low_m, high_m)
    rings = [[part[start:end] for start, end in pairwise(offset)] for part, offset in zip(coords, offsets, strict=True)]
    polygons = [shapely.Polygon(ring[0], ring[1:]) for ring in rings]
    return shapely.make_valid(MultiPolygon(polygons), method="structure", keep_collapsed=False)


def _polygons_only(shape) -> MultiPolygon:
    parts = shapely.get_parts(shape)
    return MultiPolygon([part for part in parts if part.geom_type == "Polygon" and part.area > 0])
