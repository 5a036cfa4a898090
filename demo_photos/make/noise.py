"""Seeded smooth noise that is the same on every grid and at every point: one table of draws, read at any place."""

from __future__ import annotations

from functools import cache

import numpy as np
from scipy import sparse

from demo_photos.make.frame import SEED, Grid

_TABLE = 1024


@cache
def table(seed: int) -> np.ndarray:
    """Return standard normal draws, shape (1024, 1024), float32; the world's lattice repeats after 1024 knots."""
    return np.random.default_rng([SEED, seed]).standard_normal((_TABLE, _TABLE)).astype(np.float32)


def _basis(places_m: np.ndarray, wavelength_m: float) -> tuple[sparse.csr_matrix, np.ndarray]:
    """Cubic B-spline weights of each place on its four lattice knots, and those knots' numbers."""
    at = places_m / wavelength_m
    first = np.floor(at).astype(int) - 1
    f = at - np.floor(at)
    weights = np.stack([(1 - f) ** 3, 3 * f**3 - 6 * f**2 + 4, -3 * f**3 + 3 * f**2 + 3 * f + 1, f**3], -1) / 6
    knots = np.arange(first.min(), first.max() + 4)
    columns = first[:, None] - knots[0] + np.arange(4)
    rows = np.repeat(np.arange(len(at)), 4)
    matrix = sparse.csr_matrix((weights.ravel().astype(np.float32), (rows, columns.ravel())), (len(at), len(knots)))
    return matrix, knots


def noise(grid: Grid, wavelength_m: float, seed: int) -> np.ndarray:
    """Smooth noise on a grid, about unit variance, shape (n, n)."""
    across, kx = _basis(grid.xs, wavelength_m)
    along, ky = _basis(grid.ys, wavelength_m)
    lattice = table(seed)[np.ix_(ky % _TABLE, kx % _TABLE)]
    # 1.9 restores unit variance after the spline's smoothing.
    return np.ascontiguousarray((across @ (along @ lattice).T).T) * np.float32(1.9)


def fbm(grid: Grid, longest_m: float, shortest_m: float, seed: int, gain: float = 0.5) -> np.ndarray:
    """Sum of octaves from `longest_m` down to `shortest_m`, each `gain` times the one before; unit variance.

    Octaves finer than two cells are left out: the grid could not carry them.
    """
    total = np.zeros((grid.n, grid.n), np.float32)
    wave, weight, power, k = longest_m, 1.0, 0.0, 0
    while wave >= shortest_m:
        power += weight**2
        if wave >= 2 * grid.cell_m:
            total += np.float32(weight) * noise(grid, wave, seed * 100 + k)
        wave, weight, k = wave / 2, weight * gain, k + 1
    return total / np.float32(np.sqrt(power))


def upsample(values: np.ndarray, coarse: Grid, fine: Grid) -> np.ndarray:
    """Read `values` on `coarse` at the points of `fine` by smooth (cubic B-spline) interpolation."""
    across, kx = _basis(fine.xs - coarse.x0_m, coarse.cell_m)
    along, ky = _basis(fine.ys - coarse.y0_m, coarse.cell_m)
    inside = values[np.ix_(np.clip(ky, 0, coarse.n - 1), np.clip(kx, 0, coarse.n - 1))]
    return np.ascontiguousarray((across @ (along @ inside).T).T)


def speckle(x: np.ndarray, y: np.ndarray, wavelength_m: float, seed: int) -> np.ndarray:
    """Noise at loose points (bilinear between draws), for textures of single pixels."""
    u, v = x / wavelength_m, y / wavelength_m
    i, j = np.floor(v).astype(np.int32), np.floor(u).astype(np.int32)
    fu, fv = (u - j).astype(np.float32), (v - i).astype(np.float32)
    i0, j0, i1, j1 = i % _TABLE, j % _TABLE, (i + 1) % _TABLE, (j + 1) % _TABLE
    t = table(seed)
    return (t[i0, j0] * (1 - fu) + t[i0, j1] * fu) * (1 - fv) + (t[i1, j0] * (1 - fu) + t[i1, j1] * fu) * fv
