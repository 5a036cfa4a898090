"""Depth lines and tinted bands."""

from __future__ import annotations

import bathymetry
import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, MultiPolygon, Point

from atlasgen.measure.depth import build_grid
from atlasgen.measure.isobaths import band_edges, depth_bands, draw_isobaths, isobath_depths
from atlasgen.model import DepthGrid
from atlasgen.units import FOOT_M


def cone_grid(cell_m: float = 1.0) -> DepthGrid:
    """Make a cone under a round lake of 50 m radius: 25 m deep in the middle, zero at the bank."""
    x, y = np.meshgrid(np.arange(-60, 60.1, cell_m), np.arange(-60, 60.1, cell_m))
    depth = 25 - np.hypot(x, y) / 2
    depth[depth < 0] = np.nan
    return DepthGrid(depth, np.zeros_like(depth), -60.0, -60.0, cell_m, 25.0)


def round_lake() -> MultiPolygon:
    return MultiPolygon([Point(0, 0).buffer(50, quad_segs=90)])


def test_every_foot_to_thirty_then_every_third():
    """Common practice, no source: 1 ft lines to 30 ft, 3 ft lines below, each tenth foot bold; none at zero."""
    depths = isobath_depths(37 * FOOT_M, "feet", 1, 30, 3, 10)
    assert [*map(str, range(1, 31)), "33", "36"] == [label for _, label, _ in depths]
    assert [label for _, label, major in depths if major] == ["10", "20", "30"]
    assert pytest.approx(10 * FOOT_M) == depths[9][0]


def test_metric_lines_by_halves():
    """Intervals are in the reader's unit, and free of binary noise; the deepest point itself may carry a line."""
    depths = isobath_depths(4.0, "metres", 0.5, 2, 1, 1)
    assert depths[:4] == [(0.5, "0.5", False), (1.0, "1", True), (1.5, "1.5", False), (2.0, "2", True)]
    assert depths[4:] == [(3.0, "3", True), (4.0, "4", True)]


@pytest.mark.parametrize("deepest_m", [-1.0, 0.0, 0.2])
def test_a_lake_shallower_than_the_first_line_has_none(deepest_m):
    """A drying or level bed has no depth lines."""
    assert isobath_depths(deepest_m, "feet", 1, 30, 3, 10) == []


@given(st.floats(0, 120), st.sampled_from([0.5, 1, 2]), st.sampled_from([10, 30, 31]), st.sampled_from([3, 5, 6]))
def test_isobath_depths_ascend_and_never_pass_the_deepest(deepest_m, fine, fine_to, coarse):
    """Each line is deeper than the one before, and no line is deeper than the lake."""
    depths = [depth for depth, _, _ in isobath_depths(deepest_m, "metres", fine, fine_to, coarse, 10)]
    assert sorted(set(depths)) == depths
    assert all(0 < depth <= deepest_m + 1e-6 for depth in depths)


def test_isobaths_of_a_cone_are_circles():
    """At depth d the line is a circle of radius 2 (25 - d), within a quarter of a cell."""
    isobaths = draw_isobaths(cone_grid(), [(5.0, "5", False), (15.0, "15", True), (30.0, "30", False)])
    assert [(isobath.label, isobath.major) for isobath in isobaths] == [("5", False), ("15", True)]
    for isobath in isobaths:
        (line,) = isobath.lines
        radius = np.hypot(*np.asarray(line.coords).T)
        assert line.is_closed
        assert np.abs(radius - 2 * (25 - isobath.depth_m)).max() < 0.25


def test_isobath_agrees_with_a_sloping_bottom():
    """On the plane 0.1 x + 0.2 y the 10 m line runs from (100, 0) to (0, 50)."""
    x, y = np.meshgrid(np.arange(101.0), np.arange(51.0))
    grid = DepthGrid(0.1 * x + 0.2 * y, np.zeros_like(x), 0.0, 0.0, 1.0, 25.0)
    ((line,),) = (isobath.lines for isobath in draw_isobaths(grid, [(10.0, "10", True)]))
    assert line.hausdorff_distance(LineString([(100, 0), (0, 50)])) < 1e-6


def test_a_loop_round_a_single_cell_is_dropped():
    """One deep cell in a level bottom makes a loop of a few cells, which says nothing; a wide hollow is kept."""
    depth = np.full((30, 30), 2.0)
    depth[5, 5] = 9.0
    grid = DepthGrid(depth, np.zeros_like(depth), 0.0, 0.0, 1.0, 25.0)
    assert draw_isobaths(grid, [(3.0, "3", False)]) == ()
    depth[15:20, 15:20] = 9.0
    assert [len(isobath.lines) for isobath in draw_isobaths(grid, [(3.0, "3", False)])] == [1]


@pytest.mark.parametrize("shape", [(1, 5), (3, 3)])
def test_a_grid_without_depths_has_no_isobaths(shape):
    """Too small, or nothing known."""
    grid = DepthGrid(np.full(shape, np.nan), np.zeros(shape), 0.0, 0.0, 1.0, 25.0)
    assert draw_isobaths(grid, [(1.0, "1", False)]) == ()
    assert depth_bands(grid, bathymetry.pond(), (0.0, 1.0)) == ()


@pytest.mark.parametrize(
    ("deepest_m", "unit", "edges"),
    [
        (40 * FOOT_M, "feet", [0, 5, 10, 15, 20, 25, 30, 35, 40]),
        (41 * FOOT_M, "feet", [0, 5, 10, 15, 20, 25, 30, 35, 40, 45]),
        (7.3, "metres", [0, 1, 2, 3, 4, 5, 6, 7, 8]),
        (0.0, "metres", [0, 0.1]),
    ],
)
def test_band_edges_are_round(deepest_m, unit, edges):
    """At most ten bands, at round depths in the reader's unit, the last one reaching the deepest."""
    factor = FOOT_M if unit == "feet" else 1.0
    assert pytest.approx([edge * factor for edge in edges]) == list(band_edges(deepest_m, unit))


@given(st.floats(0.2, 500), st.sampled_from(["feet", "metres"]))
def test_band_edges_are_few_and_reach_the_deepest(deepest_m, unit):
    """From one to ten bands; at least four where the lake is deeper than a foot or two."""
    edges = band_edges(deepest_m, unit)
    assert edges[-2] < deepest_m + 1e-6
    assert deepest_m <= edges[-1] + 1e-6
    assert (4 if deepest_m > 0.7 else 1) <= len(edges) - 1 <= 10


def test_bands_of_a_cone_are_rings():
    """Areas agree with pi (R1^2 - R2^2); shades run from 0 to 1; together they are the lake to a half percent."""
    bands = depth_bands(cone_grid(), round_lake(), (0.0, 5.0, 15.0, 25.0))
    assert [(b.from_m, b.to_m, b.shade) for b in bands] == [(0.0, 5.0, 0.0), (5.0, 15.0, 0.5), (15.0, 25.0, 1.0)]
    expected = [np.pi * (50**2 - 40**2), np.pi * (40**2 - 20**2), np.pi * 20**2]
    assert pytest.approx(expected, rel=0.01) == [band.area.area for band in bands]
    assert pytest.approx(np.pi * 50**2, rel=0.005) == sum(band.area.area for band in bands)


def test_bands_cover_every_known_cell_once_and_no_unknown_one():
    """Half a pond sounded: bands are valid, do not overlap, hold each known centre and no unknown one."""
    x, y, line = bathymetry.runs(4, 4, 40, 96, 6, 2)
    water = bathymetry.spit_pond()
    grid = build_grid(x, y, 3 + 0.1 * x + np.sin(y / 9), water, 2.0, 12.0, line)
    bands = depth_bands(grid, water, band_edges(float(np.nanmax(grid.depth_m)), "feet"))
    assert all(band.area.is_valid for band in bands)
    rows, cols = grid.depth_m.shape
    at_x, at_y = np.meshgrid(grid.x0_m + np.arange(cols) * 2.0, grid.y0_m + np.arange(rows) * 2.0)
    # A hair beside the centre, which may lie on the line between two bands.
    held = sum(shapely.contains_xy(band.area, at_x + 1e-4, at_y + 2e-4).astype(int) for band in bands)
    np.testing.assert_array_equal(held, np.isfinite(grid.depth_m).astype(int))
    whole = shapely.union_all([band.area for band in bands])
    assert pytest.approx(whole.area) == sum(band.area.area for band in bands)
    assert whole.difference(water).area < 1e-6


def test_bands_end_at_the_bank():
    """Along a sounded bank that runs askew to the cells no water is left without tint, but for unsounded corners."""
    water = MultiPolygon([shapely.affinity.rotate(bathymetry.pond().geoms[0], 30)])
    x, y, line = bathymetry.runs(-20, -20, 120, 120, 5, 2)
    grid = build_grid(x, y, 4 + 0 * x, water, 2.0, 25.0, line)
    tinted = shapely.union_all([band.area for band in depth_bands(grid, water, (0.0, 2.0, 4.0))])
    corners = shapely.MultiPoint(water.geoms[0].exterior.coords)
    bare = [part for part in shapely.get_parts(water.difference(tinted)) if part.area > 1e-6]
    assert all(part.distance(corners) < 1e-6 for part in bare)
    assert pytest.approx(water.area, rel=0.005) == tinted.area


def test_depths_beyond_the_edges_belong_to_the_outer_bands():
    """A bed that dries and one deeper than the last edge are tinted like their neighbours."""
    depth = np.tile(np.linspace(-1, 9, 20), (20, 1))
    grid = DepthGrid(depth, np.zeros_like(depth), 2.0, 2.0, 4.0, 25.0)
    bands = depth_bands(grid, bathymetry.pond(80.0), (0.0, 4.0, 8.0))
    assert pytest.approx(80.0**2) == sum(band.area.area for band in bands)
    assert [(band.from_m, band.to_m) for band in bands] == [(0.0, 4.0), (4.0, 8.0)]


def test_a_single_known_cell_is_tinted():
    """One cell, one band, the size of the cell."""
    depth = np.full((5, 5), np.nan)
    depth[2, 2] = 3.0
    grid = DepthGrid(depth, np.zeros_like(depth), 40.5, 40.5, 1.0, 25.0)
    (band,) = depth_bands(grid, bathymetry.pond(), (0.0, 5.0))
    assert pytest.approx(1.0) == band.area.area
    assert band.shade == 0.5
