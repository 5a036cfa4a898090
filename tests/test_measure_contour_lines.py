"""Depth lines made fit to draw: no sounding changes sides, and doubt is drawn as doubt."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiPolygon, Polygon

from atlasgen.measure.contour_lines import Places, doubtful_over, smoothed, split_doubtful
from atlasgen.measure.depth import build_grid, used_soundings
from atlasgen.measure.isobaths import SIMPLIFY_CELLS, draw_isobaths
from atlasgen.model import DepthGrid

POND = MultiPolygon([shapely.box(0, 0, 200, 200)])


def rough_bed(seed: int) -> tuple[DepthGrid, np.ndarray]:
    """Sound a bowl with a ragged bed at 6,000 places: its grid of 2 m and the soundings it rests on."""
    draw = np.random.default_rng(seed)
    x, y = draw.uniform(1, 199, (2, 6000))
    depth = 12 - np.hypot(x - 100, y - 100) / 9 + draw.normal(0, 0.4, x.size)
    grid = build_grid(x, y, depth, POND, 2.0, 25.0)
    assert grid is not None
    return grid, used_soundings(x, y, depth, POND, 2.0)


def closed_lines(grid: DepthGrid, depth_m: float) -> list[LineString]:
    """Trace the closed lines of a depth as the grid has them, unsmoothed."""
    from contourpy import contour_generator

    rows, cols = grid.depth_m.shape
    x, y = grid.x0_m + np.arange(cols) * grid.cell_m, grid.y0_m + np.arange(rows) * grid.cell_m
    lines = contour_generator(x, y, np.ma.masked_invalid(grid.depth_m)).lines(depth_m)
    return [line for line in map(LineString, lines) if line.is_closed and len(line.coords) > 8]


def changed_sides(before: LineString, after: LineString, soundings: np.ndarray) -> int:
    inside = [shapely.contains_xy(Polygon(line.coords).buffer(0), *soundings[:, :2].T) for line in (before, after)]
    return int((inside[0] != inside[1]).sum())


@pytest.mark.parametrize("seed", [1, 2])
def test_no_sounding_changes_sides_by_smoothing(seed):
    """Every sounding in a closed line before smoothing is in it after, and none besides; the lines do lose points."""
    grid, soundings = rough_bed(seed)
    lines = closed_lines(grid, 6.0)
    drawn = smoothed(lines, SIMPLIFY_CELLS * grid.cell_m, Places(soundings))
    assert sum(changed_sides(a, b, soundings) for a, b in zip(lines, drawn, strict=True)) == 0
    assert sum(len(line.coords) for line in drawn) < 0.8 * sum(len(line.coords) for line in lines)


def test_smoothing_without_regard_for_soundings_would_cross_some():
    """The same lines, smoothed as if there were none: soundings change sides, so the check above can fail."""
    grid, soundings = rough_bed(1)
    lines = closed_lines(grid, 6.0)
    careless = smoothed(lines, SIMPLIFY_CELLS * grid.cell_m, Places(np.empty((0, 3))))
    assert sum(changed_sides(a, b, soundings) for a, b in zip(lines, careless, strict=True)) > 0


def test_a_line_bends_round_a_sounding():
    """By hand: the bump of 0.4 m is lost, unless a sounding lies in it; a sounding beside it does not matter."""
    line = LineString([(0, 0), (10, 0), (11, 0.4), (12, 0), (30, 0)])
    straight, bent = LineString([(0, 0), (30, 0)]), line
    assert smoothed([line], 0.5, Places(np.empty((0, 3)))) == (straight,)
    assert smoothed([line], 0.5, Places(np.array([[11.0, 0.2, 5.0]]))) == (bent,)
    assert smoothed([line], 0.5, Places(np.array([[11.0, 0.6, 5.0]]))) == (straight,)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.floats(-1, 1), min_size=4, max_size=40),
    st.lists(st.tuples(st.floats(1, 38), st.floats(-1, 1)), max_size=15),
)
def test_a_line_keeps_its_points_and_its_soundings(heights, places):
    """What is kept are points of the line, in order, ends included; none strays; no sounding lies between the two."""
    line = LineString([(float(i), h) for i, h in enumerate(heights)])
    soundings = np.array([(x, y, 1.0) for x, y in places]).reshape(-1, 3)
    (drawn,) = smoothed([line], 0.5, Places(soundings))
    assert set(drawn.coords) <= set(line.coords)
    assert (drawn.coords[0], drawn.coords[-1]) == (line.coords[0], line.coords[-1])
    assert list(drawn.coords) == sorted(drawn.coords)
    assert shapely.hausdorff_distance(drawn, line) <= 0.5 + 1e-9
    # Both are graphs over x: above and below can be told at once.
    x, y = soundings[(soundings[:, 0] < len(heights) - 1)][:, :2].T
    before, after = (np.interp(x, *np.asarray(given.coords).T) for given in (line, drawn))
    clear = (np.abs(y - before) > 1e-9) & (np.abs(y - after) > 1e-9)
    assert ((y > before) == (y > after))[clear].all()


def test_a_loop_too_small_to_smooth_is_kept():
    """A square of a decimetre would collapse to a point: it keeps its corners."""
    loop = LineString([(0, 0), (0.1, 0), (0.1, 0.1), (0, 0.1), (0, 0)])
    assert smoothed([loop], 5.0, Places(np.empty((0, 3)))) == (loop,)


def test_places_tell_what_lies_in_an_area():
    """A sounding on the edge counts as in it."""
    places = Places(np.array([[5.0, 5.0, 2.0], [10.0, 0.0, 3.0]]))
    held = places.within([shapely.box(4, 4, 6, 6), shapely.box(0, 0, 3, 3), shapely.box(8, 0, 10, 5)])
    assert held.tolist() == [True, False, True]


def test_a_loop_round_a_shoal_is_told_from_one_round_nothing():
    """Only a closed line that holds a sounding as shallow as asked is a shoal."""
    loop, other = (LineString(shapely.box(x, 0, x + 4, 4).exterior.coords) for x in (0, 20))
    places = Places(np.array([[2.0, 2.0, 1.0], [22.0, 2.0, 3.0]]))
    assert places.shoals([loop, other, LineString([(0, 0), (9, 9)])], 2.0) == {loop}
    assert places.shoals([], 2.0) == set()


def test_a_shoal_is_never_dropped():
    """One sounding of 1 m in 9 m of water makes a loop too short to draw, yet it is drawn: it is a danger."""
    x, y = np.meshgrid(np.arange(2.0, 199, 4), np.arange(2.0, 199, 4))
    x, y = x.ravel(), y.ravel()
    depth = np.full(x.size, 9.0)
    depth[(np.abs(x - 102) < 1) & (np.abs(y - 102) < 1)] = 1.0
    grid = build_grid(x, y, depth, POND, 2.0, 25.0)
    soundings = used_soundings(x, y, depth, POND, 2.0)
    lines = {b.label: b.lines for b in draw_isobaths(grid, [(2.0, "2", True), (4.0, "4", False)], soundings)}
    assert any(shapely.Point(102, 102).within(Polygon(line.coords)) for line in lines["4"] if line.is_closed)


def test_doubt_begins_at_half_the_heavy_interval():
    """Interval at least twice the inaccuracy (naval manual of underwater construction, table 4-1, note b)."""
    assert doubtful_over(3.048) == 1.524


def bounded(bound_m: np.ndarray) -> DepthGrid:
    shape = bound_m.shape
    return DepthGrid(np.full(shape, 5.0), np.zeros(shape), 0.5, 0.5, 1.0, 25.0, bound_m)


def test_a_line_is_parted_where_its_depth_is_in_doubt():
    """West half sure, east half in doubt: two parts that meet and make up the line."""
    bound = np.full((10, 60), 0.5)
    bound[:, 30:] = 2.0
    line = LineString([(0.5, 5), (59.5, 5)])
    (sure,), (doubt,) = split_doubtful([line], bounded(bound), 1.5)
    assert sure.coords[-1] == doubt.coords[0]
    assert pytest.approx(30, abs=1.0) == sure.coords[-1][0]
    assert pytest.approx(line.length) == sure.length + doubt.length


@pytest.mark.parametrize(("over_m", "sure", "doubt"), [(1.5, 0, 1), (2.5, 1, 0), (None, 1, 0)])
def test_a_line_of_one_kind_stays_whole(over_m, sure, doubt):
    """All in doubt, all sure, or not asked."""
    line = LineString([(0.5, 5), (20, 5), (59.5, 7)])
    parts = split_doubtful([line], bounded(np.full((10, 60), 2.0)), over_m)
    assert [len(part) for part in parts] == [sure, doubt]
    assert [*parts[0], *parts[1]] == [line]


def test_without_a_bound_nothing_is_in_doubt():
    """No bound was worked out: the words say so, the lines are drawn whole."""
    line = LineString([(0.5, 5), (59.5, 5)])
    grid = DepthGrid(np.full((10, 60), 5.0), np.zeros((10, 60)), 0.5, 0.5, 1.0, 25.0)
    assert split_doubtful([line], grid, 0.1) == ((line,), ())


def test_a_stretch_too_short_to_see_does_not_flicker():
    """Two cells of doubt in a sure line, and two sure cells in a doubtful one, go with what is around them."""
    bound = np.full((10, 60), 0.5)
    bound[:, 20:22] = 2.0
    line = LineString([(0.5, 5), (59.5, 5)])
    assert [len(part) for part in split_doubtful([line], bounded(bound), 1.5)] == [1, 0]
    assert [len(part) for part in split_doubtful([line], bounded(2.5 - bound), 1.5)] == [0, 1]
