"""The depth model as the pages use it: grid with its bound, depth lines, tints, the lake's table, and the words."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from shapely import MultiPolygon

from atlasgen.measure.contour_lines import doubtful_over
from atlasgen.measure.depth import build_grid, used_soundings
from atlasgen.measure.hypsometry import hypsometry
from atlasgen.measure.isobaths import band_edges, depth_bands, draw_isobaths, isobath_depths
from atlasgen.measure.preparation import Prepared
from atlasgen.measure.supplied import Supplied
from atlasgen.measure.uncertainty import LEAST_HELD_OUT, LEAST_LINES, bound_against, fit_bound, with_bound
from atlasgen.model import DepthBand, DepthGrid, Isobath, MeasureRules
from atlasgen.model.depths import DepthBound, Hypsometry
from atlasgen.model.wording import say
from atlasgen.units import DEPTH_UNIT_M, DepthUnit, DistanceUnit, grouped_words, number_words, rise_words, set_words


@dataclass(frozen=True, slots=True)
class DepthModel:
    """All that is made of the depths; nothing of it where none are known. `methods` are sentences for the reader."""

    grid: DepthGrid | None = None
    isobaths: tuple[Isobath, ...] = ()
    bands: tuple[DepthBand, ...] = ()
    bound: DepthBound | None = None
    hypsometry: Hypsometry | None = None
    methods: tuple[str, ...] = ()


def model_depths(
    sounded: Prepared, water: MultiPolygon, rules: MeasureRules, supplied: Supplied | None = None
) -> DepthModel:
    """Model the depths of a lake from its prepared soundings, or take a supplied raster's; `water` is metric."""
    used = sounded.used
    x, y, depth, line = (values[used] for values in (sounded.x_m, sounded.y_m, sounded.depth_m, sounded.line))
    if supplied is not None and supplied.grid is not None:
        # Depths below the water of a day that no record ties to the datum say nothing of a raster's.
        bound = bound_against(supplied.grid, x, y, depth, line) if sounded.reduced else None
        return _as_supplied(supplied.grid, supplied.words, bound, water, rules)
    grid = build_grid(x, y, depth, water, rules.cell_m, rules.near_sounding_m, line) if used.any() else None
    if grid is None:
        return DepthModel()
    bound = fit_bound(x, y, depth, water, grid.cell_m, rules.near_sounding_m, line)
    if bound is not None:
        grid, bound = with_bound(grid, water, bound)
    drawn = drawn_model(grid, water, used_soundings(x, y, depth, water, grid.cell_m), rules)
    methods = (_grid_words(grid, sounded.reduced, rules.distance_unit), _bound_words(bound, rules.depth_unit))
    return replace(drawn, bound=bound, methods=(*methods, *drawn.methods))


def _as_supplied(
    grid: DepthGrid, words: str, bound: DepthBound | None, water: MultiPolygon, rules: MeasureRules
) -> DepthModel:
    compared = say("measure-supplied-no-bound")
    if bound is not None:
        grid, bound = with_bound(grid, water, bound)
        agree = _length(bound.base_m, rules.depth_unit)
        compared = say("measure-supplied-bound", soundings=grouped_words(bound.held_out), bound=agree)
    drawn = drawn_model(grid, water, np.empty((0, 3)), rules)
    return replace(drawn, bound=bound, methods=(words, compared, *drawn.methods))


def drawn_model(grid: DepthGrid, water: MultiPolygon, soundings: np.ndarray, rules: MeasureRules) -> DepthModel:
    """Draw lines and tints from a grid and take its table; `soundings` (n, 3) are never crossed by smoothing."""
    isobaths, bands = drawn_lines(grid, water, soundings, rules)
    table = hypsometry(grid, water, rules.depth_unit)
    words = _line_words(grid, _doubtful_over_m(rules), rules)
    return DepthModel(grid, isobaths, bands, None, table, (words, *_table_words(table)))


def drawn_lines(
    grid: DepthGrid, water: MultiPolygon, soundings: np.ndarray, rules: MeasureRules
) -> tuple[tuple[Isobath, ...], tuple[DepthBand, ...]]:
    """Draw depth lines and tints of the `water`; none where all of it is dry."""
    deepest_m = float(np.nanmax(grid.depth_m))
    if deepest_m <= 0:
        return (), ()
    depths = isobath_depths(
        deepest_m, rules.depth_unit, rules.fine_interval, rules.fine_to, rules.coarse_interval, rules.major_every
    )
    isobaths = draw_isobaths(grid, depths, soundings, _doubtful_over_m(rules))
    return isobaths, depth_bands(grid, water, band_edges(deepest_m, rules.depth_unit))


def _doubtful_over_m(rules: MeasureRules) -> float:
    return doubtful_over(rules.major_every * DEPTH_UNIT_M[rules.depth_unit])


def _grid_words(grid: DepthGrid, reduced: bool, unit: DistanceUnit) -> str:
    cell, near = (set_words(length_m, unit) for length_m in (grid.cell_m, grid.near_sounding_m))
    return say("measure-model" if reduced else "measure-model-unreduced", cell=cell, near=near)


def _bound_words(bound: DepthBound | None, unit: DepthUnit) -> str:
    if bound is None:
        return say("measure-no-bound", lines=LEAST_LINES, soundings=LEAST_HELD_OUT)
    return say(
        "measure-bound",
        lines=bound.lines,
        soundings=grouped_words(bound.held_out),
        inside=_exact_percent(bound.inside),
        median=_length(bound.median_m, unit),
        interval=_length(bound.supported_interval_m, unit),
    )


def _line_words(grid: DepthGrid, over_m: float, rules: MeasureRules) -> str:
    if grid.bound_m is None:
        return say("measure-smoothed")
    return say("measure-smoothed-broken", over=_length(over_m, rules.depth_unit))


def _table_words(table: Hypsometry | None) -> tuple[str, ...]:
    if table is None:
        return ()
    left = table.unmodelled_m2 / table.lake_m2
    return (say("measure-volumes-unknown", share=_exact_percent(left)) if left >= 0.0005 else say("measure-volumes"),)


def _exact_percent(share: float) -> str:
    """Percent with one decimal, as it is set in running text."""
    return say("measure-percent", percent=number_words(100 * share, 1))


def _length(metres: float | None, unit: DepthUnit) -> str:
    return say("measure-unknown-amount") if metres is None else rise_words(metres, unit)
