"""The depth grid as the offline atlas carries it: packed to about a byte a cell, with its place on the earth.

Depths are those at the datum, whole centimetres; the browser adds the level that a reader sets. What it does then is
what `measure.drying.at_stage` does, so both tell the same depths.
"""

from __future__ import annotations

import base64
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from atlasgen.measure.contour_lines import doubtful_over
from atlasgen.model import Atlas, DepthGrid, Isobath
from atlasgen.model.wording import say
from atlasgen.place.geo import Projection
from atlasgen.units import grouped

# Ours: about two megabytes of text; a phone should still open the page.
MOST_CELLS = 1_500_000
# Powers of column and row in the polynomials between grid and degrees. Third degree leaves millimetres on a lake of
# 20 km, where a plane would be out by metres.
POWERS = tuple((i, j) for i in range(4) for j in range(4 - i))
# Cells before a cell: to the west, to the south, and both.
_BEFORE = (np.s_[1:, :-1], np.s_[:-1, 1:], np.s_[:-1, :-1])


@dataclass(frozen=True, slots=True)
class Mapping:
    """From column and row to longitude and latitude and back, as polynomials of values scaled to -1 to 1.

    `middle` and `half` scale (column, row, longitude, latitude); the four rows of `forward` and `back` belong to
    longitude, latitude (in halves from the middle) and to column, row.
    """

    middle: tuple[float, ...]
    half: tuple[float, ...]
    forward: tuple[tuple[float, ...], ...]
    back: tuple[tuple[float, ...], ...]


def why_no_levels(atlas: Atlas) -> str:
    """Say why depths cannot be told for another level of the water; empty where they can."""
    known = atlas.known
    grid = known.grid_at_datum or known.grid
    if grid is None or not np.isfinite(grid.depth_m).any():
        return say("web-level-no-model")
    depths = [depth for depth in known.reach_depth.values() if depth and depth.soundings]
    if any(not depth.reduced for depth in depths):
        return say("web-level-no-record")
    cells = int(np.isfinite(grid.depth_m).sum())
    if cells > MOST_CELLS:
        return say("web-level-too-large", cells=grouped(cells))
    return ""


def grid_data(atlas: Atlas) -> dict[str, Any]:
    """Return the grid at the datum for data.js, or `{"why": ...}` where there is none to be had."""
    why, whole = why_no_levels(atlas), atlas.known.grid_at_datum or atlas.known.grid
    if why or whole is None:
        return {"why": why}
    grid = cropped(whole)
    mapping = grid_mapping(grid, Projection(atlas.survey.crs_metric))
    rows, cols = grid.depth_m.shape
    known = np.isfinite(grid.depth_m)
    doubt = _doubt(grid, atlas.known.isobaths)
    return {
        "why": "",
        "rows": rows,
        "cols": cols,
        "known": packed_runs(known),
        "depths": packed_depths(grid.depth_m),
        "doubt": packed_runs(doubt) if doubt.any() else "",
        "middle": list(mapping.middle),
        "half": list(mapping.half),
        "forward": [list(row) for row in mapping.forward],
        "back": [list(row) for row in mapping.back],
    }


def cropped(grid: DepthGrid) -> DepthGrid:
    """Return the part of a grid that holds every known cell."""
    row, col = (np.flatnonzero(np.isfinite(grid.depth_m).any(axis=axis)) for axis in (1, 0))
    part = np.s_[row[0] : row[-1] + 1, col[0] : col[-1] + 1]
    bound = None if grid.bound_m is None else grid.bound_m[part]
    x0, y0 = grid.x0_m + col[0] * grid.cell_m, grid.y0_m + row[0] * grid.cell_m
    return DepthGrid(grid.depth_m[part], grid.distance_m[part], x0, y0, grid.cell_m, grid.near_sounding_m, bound)


def packed_runs(mask: np.ndarray) -> str:
    """Pack a mask, row after row from the south-west, as lengths of runs: False, True, False, ..."""
    flat = mask.ravel()
    turns = np.flatnonzero(np.diff(np.r_[False, flat, not flat[-1]]))
    return _text(varints(np.diff(np.r_[0, turns])))


def packed_depths(depth_m: np.ndarray, per_metre: int = 100) -> str:
    """Pack the known depths in whole parts of a metre, each as what it differs from its known neighbours' plane."""
    known = np.isfinite(depth_m)
    whole = np.where(known, np.rint(np.nan_to_num(depth_m) * per_metre), 0).astype(np.int64)
    west, south, corner = (np.pad(whole, ((1, 0), (1, 0)))[part] for part in _BEFORE)
    has_west, has_south, has_corner = (np.pad(known, ((1, 0), (1, 0)))[part] for part in _BEFORE)
    plane = has_west & has_south & has_corner
    guess = np.where(plane, west + south - corner, np.where(has_west, west, np.where(has_south, south, 0)))
    left = (whole - guess)[known]
    return _text(varints(np.where(left < 0, -2 * left - 1, 2 * left)))


def varints(values: np.ndarray) -> bytes:
    """Write numbers of 0 to 2**35 - 1 in groups of seven bits, the lowest first; the top bit says that more follow."""
    values = np.asarray(values, dtype=np.int64)
    place = np.arange(5)
    size = 1 + (values[:, None] >= np.int64(1) << (7 * place[1:])).sum(axis=1)
    groups = (values[:, None] >> (7 * place)) & 127
    groups |= np.where(place < size[:, None] - 1, 128, 0)
    return groups.astype(np.uint8)[place < size[:, None]].tobytes()


def grid_mapping(grid: DepthGrid, projection: Projection) -> Mapping:
    """Fit the polynomials between cells and degrees by least squares on 25 by 25 places of the grid."""
    col, row = _lattice(grid, 25)
    lon, lat = projection.lonlats(grid.x0_m + col * grid.cell_m, grid.y0_m + row * grid.cell_m)
    all_four = (col, row, lon, lat)
    middle = tuple(float(values.max() + values.min()) / 2 for values in all_four)
    half = tuple(max(float(np.ptp(values)) / 2, 1e-9) for values in all_four)
    u, v, p, q = ((values - m) / h for values, m, h in zip(all_four, middle, half, strict=True))
    return Mapping(middle, half, _fitted(u, v, (p, q)), _fitted(p, q, (u, v)))


def _lattice(grid: DepthGrid, count: int) -> tuple[np.ndarray, np.ndarray]:
    """Return columns and rows spread over a grid and two cells beyond it, where contours may still run."""
    rows, cols = grid.depth_m.shape
    col, row = np.meshgrid(np.linspace(-2, cols + 1, count), np.linspace(-2, rows + 1, count))
    return col.ravel(), row.ravel()


def _terms(u: np.ndarray, v: np.ndarray) -> np.ndarray:
    return np.stack([u**i * v**j for i, j in POWERS], axis=1)


def _fitted(u: np.ndarray, v: np.ndarray, wanted: Sequence[np.ndarray]) -> tuple[tuple[float, ...], ...]:
    found = np.linalg.lstsq(_terms(u, v), np.stack(wanted, axis=1), rcond=None)[0]
    return tuple(tuple(column) for column in found.T.tolist())


def _doubt(grid: DepthGrid, isobaths: Sequence[Isobath]) -> np.ndarray:
    """Which cells have a bound that makes depth lines doubtful; by the interval of the heavy lines that are drawn.

    Where no heavy line is drawn the lake is shallower than their interval, and its deepest line stands for it.
    """
    if grid.bound_m is None or not isobaths:
        return np.zeros(grid.depth_m.shape, dtype=bool)
    major = min((isobath.depth_m for isobath in isobaths if isobath.major), default=isobaths[-1].depth_m)
    return np.nan_to_num(grid.bound_m) > doubtful_over(major)


def _text(data: bytes) -> str:
    return base64.b64encode(data).decode("ascii")
