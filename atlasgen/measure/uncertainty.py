"""Within what a depth of the model is true, fitted by leaving whole survey lines out in turn.

Soundings along a line lie so close that leaving out single ones would flatter the model; what counts is the water
between the lines. So groups of whole lines are left out in turn, the model is built from the rest, and its error at
each sounding left out is set against the distance to the nearest sounding that remained and the relief of the bed
there. The bound is the 95th percentile of that error, by quantile regression (Koenker and Bassett, Regression
Quantiles, Econometrica 46 (1978) 33-50) with no negative term, so that it can only grow with distance and relief. It is
then stretched until 95 % of the soundings of each group lie inside the bound fitted to the other groups, the cross
form of split conformal prediction (Vovk, Cross-conformal predictors, Ann. Math. Artif. Intell. 74 (2015) 9-28).
Soundings left out have their own noise, so the bound holds it too.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from shapely import MultiPolygon

from atlasgen.measure.depth import build_grid, cells_at, depth_at
from atlasgen.measure.gridding import raster_polygon
from atlasgen.measure.legs import folds_of, survey_lines
from atlasgen.model import DepthGrid
from atlasgen.model.depths import DepthBound

SHARE = 0.95
# Ours: with fewer lines, or with fewer soundings to miss, a 95th percentile is a guess.
LEAST_LINES, LEAST_HELD_OUT = 3, 60
FOLDS = 8
# Ours: no echo sounder of a small craft tells depths to less than this.
LEAST_BOUND_M = 0.05
# Standard deviations to a 95 % bound, and to the contour interval that the United States National Map Accuracy
# Standards (1947) allow: at most 10 % of the points off by more than half of it, both for a normal error.
_TO_95, _TO_INTERVAL = 1.959964, 3.289707
# Ours: so many cells at most for each trial model, and errors at most for the fit.
_TRIAL_CELLS, _FITTED = 1_000_000, 2_500


@dataclass(frozen=True, slots=True)
class _Misses:
    """Errors of trial models at the soundings left out: what was missed, by how much, and in which trial."""

    terms: np.ndarray
    error_m: np.ndarray
    trial: np.ndarray


def fit_bound(
    x: np.ndarray,
    y: np.ndarray,
    depth_m: np.ndarray,
    water: MultiPolygon,
    cell_m: float,
    relief_within_m: float,
    line: np.ndarray | None = None,
) -> DepthBound | None:
    """Fit the bound of a lake's depth model, or None with fewer than LEAST_LINES lines or LEAST_HELD_OUT errors.

    Parameters
    ----------
    x, y, depth_m, line
        Soundings as for `build_grid`, in the order in which they were taken.
    cell_m
        Cell of the model; the trials take a coarser one where it would give more than a million cells.
    relief_within_m
        How far around a place its relief is taken.
    """
    line = np.zeros(len(x), dtype=np.int64) if line is None else line
    known = np.isfinite(x) & np.isfinite(y) & np.isfinite(depth_m)
    x, y, depth_m, line = x[known], y[known], depth_m[known], survey_lines(x[known], y[known], line[known])
    lines = np.unique(line).size
    if lines < LEAST_LINES:
        return None
    misses = _left_out(x, y, depth_m, folds_of(line, FOLDS), water, _trial_cell(water, cell_m), relief_within_m)
    if len(misses.error_m) < LEAST_HELD_OUT:
        return None
    floor_m = max(LEAST_BOUND_M, _TO_95 * sounding_noise_m(depth_m, line))
    factors, inside = _calibrated(misses, floor_m)
    base_m, per_m, per_relief_m, per_relief_per_m = factors.tolist()
    held_out = len(misses.error_m)
    return DepthBound(base_m, per_m, per_relief_m, per_relief_per_m, relief_within_m, lines, held_out, inside)


def bound_against(
    grid: DepthGrid, x: np.ndarray, y: np.ndarray, depth_m: np.ndarray, line: np.ndarray
) -> DepthBound | None:
    """Return the one bound of a grid that was made without these soundings, or None where too few lie on it.

    Nothing tells where such a grid is better or worse, so the bound is the same everywhere: the 95th percentile of how
    far it misses the soundings, their own noise in it.
    """
    error = np.abs(depth_at(grid, x, y) - depth_m)
    known = np.isfinite(error)
    error, lines = error[known], survey_lines(x[known], y[known], np.asarray(line)[known])
    fold = folds_of(lines, FOLDS)
    if len(error) < LEAST_HELD_OUT or np.unique(lines).size < LEAST_LINES:
        return None
    inside = sum(int((error[fold == one] <= _stretch(error[fold != one])).sum()) for one in np.unique(fold))
    base_m = max(LEAST_BOUND_M, _stretch(error))
    return DepthBound(base_m, 0.0, 0.0, 0.0, 0.0, np.unique(lines).size, len(error), inside / len(error))


def with_bound(grid: DepthGrid, water: MultiPolygon, bound: DepthBound) -> tuple[DepthGrid, DepthBound]:
    """Give every known cell of a grid its bound; the bound comes back with its median over those cells."""
    distance, relief = _distance_and_relief(grid, water, bound.relief_within_m)
    values = bound.base_m + bound.per_m * distance
    values += relief * (bound.per_relief_m + bound.per_relief_per_m * distance)
    values[np.isnan(grid.depth_m)] = np.nan
    median = float(np.nanmedian(values))
    interval = median / _TO_95 * _TO_INTERVAL
    return replace(grid, bound_m=values), replace(bound, median_m=median, supported_interval_m=interval)


def bound_at(grid: DepthGrid, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """95 % bound at points, metres: that of the cell they lie in; NaN outside or where none was worked out."""
    if grid.bound_m is None:
        return np.full(np.shape(x), np.nan)
    return cells_at(grid, grid.bound_m, x, y)


def sounding_noise_m(depth_m: np.ndarray, line: np.ndarray) -> float:
    """Estimate one sounding's own noise (one sigma) from its departure from the mean of its two neighbours.

    Robust (1.4826 times the median absolute value, of a normal error); that departure has 3/2 of one sounding's
    variance.
    """
    middle = (line[2:] == line[1:-1]) & (line[1:-1] == line[:-2])
    departure = (depth_m[1:-1] - (depth_m[2:] + depth_m[:-2]) / 2)[middle]
    return float(1.4826 * np.median(np.abs(departure)) / np.sqrt(1.5)) if departure.size else 0.0


def _trial_cell(water: MultiPolygon, cell_m: float) -> float:
    west, south, east, north = water.bounds
    return max(cell_m, float(np.sqrt((east - west) * (north - south) / _TRIAL_CELLS)))


def _left_out(
    x: np.ndarray,
    y: np.ndarray,
    depth_m: np.ndarray,
    fold: np.ndarray,
    water: MultiPolygon,
    cell_m: float,
    relief_within_m: float,
) -> _Misses:
    """Leave each fold out in turn and collect how far the model of the others misses its soundings."""
    terms, errors, trials = [np.empty((0, 4))], [np.empty(0)], [np.empty(0, dtype=np.int64)]
    for trial in np.unique(fold):
        kept = fold != trial
        grid = build_grid(x[kept], y[kept], depth_m[kept], water, cell_m, np.inf)
        if grid is None:
            continue
        at_x, at_y, at_depth = _evenly(x[~kept], y[~kept], depth_m[~kept])
        error = np.abs(at_depth - depth_at(grid, at_x, at_y))
        distance, relief = (cells_at(grid, v, at_x, at_y) for v in _distance_and_relief(grid, water, relief_within_m))
        usable = np.isfinite(error + distance + relief)
        distance, relief = distance[usable], relief[usable]
        terms.append(np.column_stack([np.ones_like(relief), distance, relief, relief * distance]))
        errors.append(error[usable])
        trials.append(np.full(usable.sum(), trial))
    return _Misses(np.concatenate(terms), np.concatenate(errors), np.concatenate(trials))


def _evenly(x: np.ndarray, y: np.ndarray, depth_m: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """At most 100,000 of the soundings, every n-th."""
    step = -(-len(x) // 100_000)
    return x[::step], y[::step], depth_m[::step]


def _distance_and_relief(grid: DepthGrid, water: MultiPolygon, relief_within_m: float) -> tuple[np.ndarray, np.ndarray]:
    """Return what the bound grows with, cell by cell: distance to the nearest sounding or bank, and the relief."""
    return np.minimum(grid.distance_m, _to_bank(grid, water)), local_relief(grid, relief_within_m)


def _to_bank(grid: DepthGrid, water: MultiPolygon) -> np.ndarray:
    """Distance from each cell's centre to dry land, to within half a cell; infinite where the grid holds no land.

    On the bank the depth is known as at a sounding: it is zero.
    """
    from scipy.ndimage import distance_transform_edt

    rows, cols = grid.depth_m.shape
    south_west = grid.x0_m - grid.cell_m, grid.y0_m - grid.cell_m
    wet = raster_polygon(water, *south_west, grid.cell_m, (rows + 2, cols + 2))
    if wet.all():
        return np.full((rows, cols), np.inf)
    away = distance_transform_edt(wet)[1:-1, 1:-1]
    return np.maximum(away - 0.5, 0) * grid.cell_m


def local_relief(grid: DepthGrid, within_m: float) -> np.ndarray:
    """Mean fall per metre of the bed over the square within `within_m` of each cell; where nothing is known, zero."""
    from scipy.ndimage import uniform_filter

    down, across = np.gradient(grid.depth_m, grid.cell_m)
    fall = np.hypot(down, across)
    known = np.isfinite(fall)
    size = 2 * max(1, round(within_m / grid.cell_m)) + 1
    share = uniform_filter(known.astype(np.float64), size)
    total = uniform_filter(np.where(known, fall, 0.0), size)
    return np.divide(total, share, out=np.zeros_like(total), where=share > 1e-9)


def _calibrated(misses: _Misses, floor_m: float) -> tuple[np.ndarray, float]:
    """Return the bound's four factors, and the share of each trial's errors inside a bound from the other trials."""
    scores, trials = np.empty(len(misses.error_m)), np.unique(misses.trial)
    for trial in trials:
        own = misses.trial == trial
        others = _quantile_fit(misses.terms[~own], misses.error_m[~own], floor_m)
        scores[own] = misses.error_m[own] / (misses.terms[own] @ others)
    factors = _stretch(scores) * _quantile_fit(misses.terms, misses.error_m, floor_m)
    factors[0] = max(factors[0], floor_m)
    inside = sum(int((scores[own] <= _stretch(scores[~own])).sum()) for own in (misses.trial == t for t in trials))
    return factors, inside / len(scores)


def _stretch(scores: np.ndarray) -> float:
    """Return the factor that takes SHARE of the scores to 1, by the rank that conformal prediction asks for."""
    rank = min(int(np.ceil((len(scores) + 1) * SHARE)), len(scores)) - 1
    return float(np.partition(scores, rank)[rank])


def _quantile_fit(terms: np.ndarray, error_m: np.ndarray, floor_m: float) -> np.ndarray:
    """Factors, none negative and the first at least `floor_m`, whose sum is the 95th percentile of the errors."""
    from scipy.optimize import linprog
    from scipy.sparse import csr_array, hstack, identity

    step = -(-len(error_m) // _FITTED)
    terms, error_m = terms[::step], error_m[::step]
    count, factors = terms.shape
    cost = np.r_[np.zeros(factors), np.full(count, SHARE), np.full(count, 1 - SHARE)]
    equal = hstack([csr_array(terms), identity(count), -identity(count)], format="csc")
    limits = [(floor_m, None)] + [(0.0, None)] * (factors - 1 + 2 * count)
    solved = linprog(cost, A_eq=equal, b_eq=error_m, bounds=limits, method="highs")
    return solved.x[:factors]
