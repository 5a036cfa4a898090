"""Relief index and slope against published figures, planes and brute force."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.measure.terrain import between_soundings, doubt_m, horn_slope, relief_index
from atlasgen.model import DepthGrid


def grid_of(depth_m, cell_m=5.0, bound_m=None) -> DepthGrid:
    return DepthGrid(depth_m, np.zeros(depth_m.shape), 0.0, 0.0, cell_m, 25.0, bound_m)


def from_heights(*rows_from_north: tuple[float, ...]) -> np.ndarray:
    """Depths of published height grids, whose first row lies in the north."""
    return -np.array(rows_from_north, dtype=float)[::-1]


def test_horn_slope_of_the_published_example():
    """50 45 50 / 30 30 30 / 8 10 10, cells of 5 m: rise over run 3.80032, 75.25762 degrees.

    Source: the worked example of a GIS's help page on how slope works (Horn's method), 57.29578 degrees a radian.
    """
    slope, bearing = horn_slope(from_heights((50, 45, 50), (30, 30, 30), (8, 10, 10)), 5.0)
    assert slope[1, 1] == pytest.approx(3.80032, abs=1e-5)
    assert np.degrees(np.arctan(slope[1, 1])) == pytest.approx(75.25762, abs=1e-4)
    # It falls to the south; computed from the same two gradients.
    assert bearing[1, 1] == pytest.approx(180.754, abs=1e-3)


def test_horn_aspect_of_the_published_example():
    """101 92 85 / 101 92 85 / 101 91 84: aspect 92.64 degrees (the same help's page on how aspect works)."""
    _, bearing = horn_slope(from_heights((101, 92, 85), (101, 92, 85), (101, 91, 84)), 1.0)
    assert bearing[1, 1] == pytest.approx(92.64, abs=0.01)


def test_horn_slope_of_a_plane():
    """Heights 0.1 x + 0.2 y slopes by 12.6044 degrees everywhere (calculus)."""
    y, x = np.mgrid[0:6, 0:7] * 5.0
    slope, bearing = horn_slope(-(0.1 * x + 0.2 * y), 5.0)
    inner = slope[1:-1, 1:-1]
    np.testing.assert_allclose(np.degrees(np.arctan(inner)), 12.6044, atol=1e-4)
    np.testing.assert_allclose(bearing[1:-1, 1:-1], np.degrees(np.arctan2(-0.1, -0.2)) % 360)
    assert np.isnan(slope[0]).all()
    assert np.isnan(horn_slope(np.zeros((3, 3)), 1.0)[1][1, 1])


def test_the_index_of_a_whole_ring_is_height_less_its_mean():
    """Lundblad et al. (2006), as defined: brute force over the cells whose centres lie in the ring."""
    depth = np.random.default_rng(1).normal(5, 1, (40, 50))
    index = relief_index(depth, 5.0, 10.0, 30.0)
    row, col = np.mgrid[0:40, 0:50]
    for at in ((20, 25), (6, 6), (33, 43)):
        away = np.hypot(row - at[0], col - at[1]) * 5
        ring = (away >= 10) & (away <= 30)
        assert index[at] == pytest.approx(-depth[at] + depth[ring].mean(), abs=1e-5)


@given(st.floats(-0.5, 0.5), st.floats(-0.5, 0.5), st.floats(-3, 40))
def test_a_plane_has_no_relief_whatever_is_unknown(east, north, level):
    """Also beside a hole in the known, where a plain mean would take the slope for a rise."""
    y, x = np.mgrid[0:40, 0:40] * 5.0
    depth = level + east * x + north * y
    depth[np.hypot(x - 100, y - 90) < 30] = np.nan
    index = relief_index(depth, 5.0, 10.0, 30.0)
    assert np.isfinite(index).sum() > 900
    assert np.nanmax(np.abs(index)) < 1e-4


def test_a_cell_at_the_edge_of_the_known_is_not_judged():
    """In a corner a quarter of the ring is known, on an edge half of it."""
    index = relief_index(np.full((30, 30), 4.0), 5.0, 10.0, 30.0)
    assert np.isnan([index[0, 0], index[0, 15], index[15, 29]]).all()
    assert index[15, 15] == 0


def test_a_large_model_is_the_same_piece_by_piece():
    """Tiles of 1024 cells leave no seam."""
    y, x = np.mgrid[0:40, 0:1100]
    index = relief_index(5 + np.sin(x / 3.0) + np.cos(y / 2.0), 1.0, 2.0, 6.0)
    alone = relief_index((5 + np.sin(x / 3.0) + np.cos(y / 2.0))[:, 1000:1060], 1.0, 2.0, 6.0)
    np.testing.assert_allclose(index[:, 1010:1050], alone[:, 10:50], atol=1e-5)


def test_the_models_own_bound_is_taken():
    """Where it has one; else noise is told from the cells, and far from a sounding little is sure."""
    flat = np.random.default_rng(2).normal(5, 0.1, (60, 60))
    assert (doubt_m(grid_of(flat, bound_m=np.full(flat.shape, 0.4))) == 0.4).all()
    without = doubt_m(grid_of(flat))
    assert np.median(without) == pytest.approx(0.258, rel=0.1)
    smooth = np.add.outer(np.arange(60) * 0.5, np.zeros(60))
    np.testing.assert_allclose(doubt_m(grid_of(smooth)), 2.58 * 0.05)
    # It slopes by 1 in 10: over 20 m to a sounding 0.65 of 2 m is in doubt.
    far = doubt_m(replace(grid_of(smooth), distance_m=np.full(smooth.shape, 20.0)))
    np.testing.assert_allclose(far, 2.58 * 0.05 + 1.3)
    assert np.isfinite(doubt_m(grid_of(np.full((3, 3), np.nan)))).all()


def test_what_lies_beyond_the_last_run_is_not_between_soundings():
    """Two runs 30 m apart, seen 25 m far: the water between them counts, what lies outside does not."""
    away = np.abs(np.arange(0, 200, 5.0)[:, None] - np.array([80.0, 110.0])).min(axis=1)
    grid = replace(grid_of(np.full((40, 30), 5.0)), distance_m=np.repeat(away[:, None], 30, axis=1))
    rows = np.flatnonzero(between_soundings(grid)[:, 15]) * 5
    assert (rows.min(), rows.max()) == (75, 115)
    assert len(rows) == 9
