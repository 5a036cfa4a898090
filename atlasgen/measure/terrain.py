"""Figures of the bed's form, cell by cell: relief index, slope and aspect, and how much of it errors could explain."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from atlasgen.model import DepthGrid

_TILE_CELLS = 1024
# Ours: with less of the ring known, or all of it on one side, a cell stands at the edge of the known.
_LEAST_SHARE, _MOST_OFFSET = 0.6, 0.35
# Used only where a model has no bound of its own (ours): no sounder and no stage record is better than 5 cm, and
# between soundings the bed's slope may be wrong by 0.65 of what it is thereabouts. 2.58 standard deviations of a normal
# distribution hold 99 %, not 95: this doubt, unlike a bound, was not tried on lines left out.
_LEAST_SIGMA_M, _DOUBT_OF_SLOPE, _SIGMAS = 0.05, 0.65, 2.58
_MAD_TO_SIGMA = 1.4826  # of a normal distribution
_NEAR_CELLS = 21
_SOUNDED_CELLS = 0.75  # a sounding this near, in cells, lies in the cell or at its edge


def relief_index(depth_m: np.ndarray, cell_m: float, inner_m: float, outer_m: float) -> np.ndarray:
    """Bathymetric position index: each cell's height less the mean height of a ring around it, metres, up positive.

    Lundblad et al. (2006), A benthic terrain classification scheme for American Samoa, Marine Geodesy 29:89-111 (from
    memory). Where part of the ring is not known, the plane through the known part is taken at the cell instead of the
    mean: on a whole ring that is the same, on a part of one a mere slope gives nothing. NaN for a cell that is not
    known or whose ring is known for less than 0.6 of its area or on one side only.

    Parameters
    ----------
    depth_m
        Depths on square cells, positive down, NaN where not known.
    inner_m, outer_m
        Radii of the ring; cells whose centre lies from the one to the other belong to it.
    """
    ring = _ring(inner_m / cell_m, outer_m / cell_m)
    index = np.full(depth_m.shape, np.nan, np.float32)
    for core, wide, inside in _tiles(depth_m, len(ring) // 2):
        index[core] = _index_of_tile(depth_m[wide], ring, outer_m / cell_m)[inside]
    return index


def horn_slope(depth_m: np.ndarray, cell_m: float) -> tuple[np.ndarray, np.ndarray]:
    """Slope (rise over run) and the bearing in which the bed falls, degrees clockwise from the grid's north.

    Horn (1981), Hill shading and the reflectance map, Proc. IEEE 69(1):14-47: the eight neighbours weighted 1 2 1.
    NaN where one of the nine cells is not known; of a level cell the bearing is NaN. Row 0 lies at the south.
    """
    padded = np.pad(depth_m, 1, constant_values=np.nan)
    south, north = padded[:-2], padded[2:]
    west = padded[:-2, :-2] + 2 * padded[1:-1, :-2] + padded[2:, :-2]
    east = padded[:-2, 2:] + 2 * padded[1:-1, 2:] + padded[2:, 2:]
    down_east = (east - west) / (8 * cell_m)
    down_north = (north[:, :-2] + 2 * north[:, 1:-1] + north[:, 2:]) - (
        south[:, :-2] + 2 * south[:, 1:-1] + south[:, 2:]
    )
    down_north = down_north / (8 * cell_m)
    slope = np.where(np.isnan(depth_m), np.nan, np.hypot(down_east, down_north))
    bearing = np.degrees(np.arctan2(down_east, down_north)) % 360
    return slope, np.where(slope > 0, bearing, np.nan)


def doubt_m(grid: DepthGrid) -> np.ndarray:
    """Within what each depth is taken to be true, metres: the model's own 95 % bound, else one made of its roughness.

    The latter: 2.58 standard deviations of what sounded cells near it depart from those beside them on the run, and
    0.65 of the mean slope near it for each metre to the nearest sounding.
    """
    if grid.bound_m is not None:
        return np.where(np.isfinite(grid.depth_m), grid.bound_m, np.nan)
    slope, _ = _mean_near(horn_slope(grid.depth_m, grid.cell_m)[0])
    return _SIGMAS * _local_sigma(_residual(grid)) + _DOUBT_OF_SLOPE * slope * grid.distance_m


def between_soundings(grid: DepthGrid) -> np.ndarray:
    """Which cells lie among soundings, not beyond the outermost of them.

    Out there the model runs straight to the bank: a rise that nobody sounded, and that would make a trough of the last
    run. Cells count that stay when what lies within `near_sounding_m` of a sounding is cut back by as much.
    """
    from scipy.ndimage import distance_transform_edt

    near = np.pad(grid.distance_m <= grid.near_sounding_m, 1)
    back = distance_transform_edt(near)[1:-1, 1:-1] * grid.cell_m
    # Half a cell of grace: distances are from cell centre to cell centre, and to a cell's median sounding.
    return back >= grid.near_sounding_m - 0.5 * grid.cell_m


def _tiles(values: np.ndarray, margin: int) -> Iterator[tuple[tuple, tuple, tuple]]:
    """Yield core, core with margin, and the core's place in the latter, of the tiles that hold anything known."""
    rows, cols = values.shape
    for row in range(0, rows, _TILE_CELLS):
        for col in range(0, cols, _TILE_CELLS):
            last = min(row + _TILE_CELLS, rows), min(col + _TILE_CELLS, cols)
            core = slice(row, last[0]), slice(col, last[1])
            if np.isnan(values[core]).all():
                continue
            low = max(row - margin, 0), max(col - margin, 0)
            wide = slice(low[0], min(last[0] + margin, rows)), slice(low[1], min(last[1] + margin, cols))
            inside = slice(row - low[0], last[0] - low[0]), slice(col - low[1], last[1] - low[1])
            yield core, wide, inside


def _ring(inner: float, outer: float) -> np.ndarray:
    """1 in the cells of a ring of two radii, in cells; at least the eight neighbours."""
    size = max(int(np.floor(outer + 1e-9)), 1)
    row, col = np.mgrid[-size : size + 1, -size : size + 1]
    away = np.hypot(row, col)
    ring = (away >= inner - 1e-9) & (away <= max(outer, 1.5) + 1e-9)
    ring[size, size] = False
    return ring.astype(np.float64)


def _index_of_tile(depth_m: np.ndarray, ring: np.ndarray, outer: float) -> np.ndarray:
    known = np.isfinite(depth_m)
    middle = np.median(depth_m[known])
    height = np.where(known, middle - depth_m, 0.0)
    count, east, north, east2, cross, north2, sums, sums_east, sums_north = _moments(known, height, ring)
    held = known & (count >= _LEAST_SHARE * ring.sum() - 0.5)
    count = np.where(held, count, 1.0)
    east, north, mean = east / count, north / count, sums / count
    held &= np.hypot(east, north) <= _MOST_OFFSET * outer
    var_e, var_n, cov = east2 / count - east**2, north2 / count - north**2, cross / count - east * north
    with_e, with_n = sums_east / count - east * mean, sums_north / count - north * mean
    flat = np.where(held, var_e * var_n - cov**2, 1.0)
    up_east, up_north = (var_n * with_e - cov * with_n) / flat, (var_e * with_n - cov * with_e) / flat
    return np.where(held, height - (mean - up_east * east - up_north * north), np.nan)


def _moments(known: np.ndarray, height: np.ndarray, ring: np.ndarray) -> list[np.ndarray]:
    """Return sums over each cell's ring of 1, x, y, xx, xy, yy of the known cells, and h, hx, hy; x, y in cells."""
    from scipy.fft import irfft2, next_fast_len, rfft2

    shape = tuple(next_fast_len(size + ring.shape[0], real=True) for size in known.shape)
    half = len(ring) // 2
    y, x = np.mgrid[-half : half + 1, -half : half + 1].astype(float)
    of_known, of_height = rfft2(known.astype(float), shape), rfft2(height, shape)

    def summed(spectrum: np.ndarray, weights: np.ndarray) -> np.ndarray:
        # A turned kernel makes the convolution a sum over neighbours at +x, +y.
        full = irfft2(spectrum * rfft2((ring * weights)[::-1, ::-1], shape), shape)
        return full[half : half + known.shape[0], half : half + known.shape[1]]

    one = np.ones_like(ring)
    first = [summed(of_known, weights) for weights in (one, x, y, x * x, x * y, y * y)]
    return first + [summed(of_height, weights) for weights in (one, x, y)]


def _residual(grid: DepthGrid) -> np.ndarray:
    """Return what sounded cells depart from the mean of the two sounded ones beside them, scaled to one cell's sigma.

    Cells between the runs lie on planes from run to run: they know of no noise. Of the four lines through a cell those
    with three sounded cells count, by the root of their mean square; NaN where there is none.
    """
    depth = np.where(grid.distance_m <= _SOUNDED_CELLS * grid.cell_m, grid.depth_m, np.nan)
    padded = np.pad(depth, 1, constant_values=np.nan)
    rows, cols = depth.shape
    squares, lines = np.zeros(depth.shape), np.zeros(depth.shape)
    for down, right in ((0, 1), (1, 0), (1, 1), (1, -1)):
        one = padded[1 + down : 1 + down + rows, 1 + right : 1 + right + cols]
        other = padded[1 - down : 1 - down + rows, 1 - right : 1 - right + cols]
        departs = (depth - (one + other) / 2) ** 2 / 1.5
        told = np.isfinite(departs)
        squares += np.where(told, departs, 0.0)
        lines += told
    return np.where(lines > 0, np.sqrt(squares / np.maximum(lines, 1)), np.nan)


def _local_sigma(residual: np.ndarray) -> np.ndarray:
    """Root mean square of the residuals near each cell, cut at five times their usual size."""
    known = np.isfinite(residual)
    if not known.any():
        return np.full(residual.shape, _LEAST_SIGMA_M)
    # Cut: a ledge must not hide itself by the noise it seems to make.
    most = 5 * _MAD_TO_SIGMA * float(np.median(residual[known]))
    square, share = _mean_near(np.minimum(residual, most) ** 2)
    whole = float(np.mean(np.minimum(residual[known], most) ** 2))
    return np.maximum(np.sqrt(np.where(share * _NEAR_CELLS**2 > 5, square, whole)), _LEAST_SIGMA_M)


def _mean_near(values: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Mean of the known values in a square window round each cell, and the share of the window they fill."""
    from scipy.ndimage import uniform_filter

    known = np.isfinite(values)
    share = uniform_filter(known.astype(float), _NEAR_CELLS, mode="constant")
    # Running sums leave rounding of either sign where there is nothing.
    total = np.maximum(uniform_filter(np.where(known, values, 0.0), _NEAR_CELLS, mode="constant"), 0.0)
    return total / np.maximum(share, 0.5 / _NEAR_CELLS**2), share
