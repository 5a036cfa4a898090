"""How the water is shared out: by hand on small lakes, and against polygons cut in another way."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPolygon, box
from sidescan_scene import BLIND_M, REACH_M, RULES, lake, on_ground, sonar_pass

from atlasgen.measure.sonar import Mosaic, limits_of, partition
from atlasgen.model import DepthGrid
from atlasgen.model.sonar import PICTURED, SONAR_CLASSES, GivenCoverage

ONE_SIDE = 100 * (REACH_M - BLIND_M)
EAST = ((20, 50), (120, 50))


def shared_out(water, passes=(), given=(), grid=None, reasons=()):
    """Lay the passes and share the water out."""
    runs = [on_ground(run, water) for run in passes]
    return partition(water, runs, given, limits_of(runs, given, water, RULES), grid, reasons)


def sizes(parts) -> dict[str, float]:
    """Square metres of each class."""
    return {name: parts.classes.merged(kind).area for kind, name in enumerate(SONAR_CLASSES)}


def gap_sizes(parts) -> dict[str, float]:
    """Square metres of each cause."""
    found: dict[str, float] = {}
    for piece, kind in zip(parts.gaps.pieces, parts.gaps.kind, strict=True):
        cause = parts.keys[kind].cause
        found[cause] = found.get(cause, 0.0) + piece.area
    return found


def depths_west_of(x_m: float, water: MultiPolygon, cell_m: float = 5.0) -> DepthGrid:
    """Make a depth model that knows all water west of a line."""
    west, south, east, north = water.bounds
    columns, rows = int((east - west) / cell_m), int((north - south) / cell_m)
    centre = west + cell_m * (np.arange(columns) + 0.5)
    depth = np.tile(np.where(centre < x_m, 3.0, np.nan), (rows, 1))
    return DepthGrid(depth, np.zeros_like(depth), west + cell_m / 2, south + cell_m / 2, cell_m, 25.0)


def test_one_pass():
    """Two strips are fine; the rest is nothing."""
    found = sizes(shared_out(lake(), [sonar_pass("a", EAST)]))
    assert pytest.approx(2 * ONE_SIDE, rel=1e-6) == found["fine"]
    assert pytest.approx(20000 - 2 * ONE_SIDE, rel=1e-6) == found["none"]
    assert {found[name] for name in SONAR_CLASSES} == {found["fine"], found["none"], 0}


def test_a_run_made_twice_counts_twice():
    """The same line under two names; under one name it is one pass over itself."""
    twice = sizes(shared_out(lake(), [sonar_pass("a", EAST), sonar_pass("b", EAST[::-1])]))
    assert pytest.approx(2 * ONE_SIDE, rel=1e-6) == twice["twice"]
    assert twice["fine"] == 0
    again = sonar_pass("a", EAST)
    assert sizes(shared_out(lake(), [again, replace(again)]))["twice"] == 0


def test_coarse_over_fine_is_fine_once():
    """A coarse picture is no second look."""
    found = sizes(shared_out(lake(), [sonar_pass("a", EAST), sonar_pass("b", EAST, speed_mps=20.0)]))
    assert pytest.approx(2 * ONE_SIDE, rel=1e-6) == found["fine"]
    assert (found["twice"], found["coarse"]) == (0, 0)


def test_outlines_count_as_far_as_they_say():
    """Stated fine, an outline is a pass of its own; unstated, it may be the pass's own picture."""
    outline = MultiPolygon([box(0, 0, 200, 100)])
    fine = sizes(shared_out(lake(), [sonar_pass("a", EAST)], [GivenCoverage("m", outline, "fine")]))
    assert pytest.approx(2 * ONE_SIDE, rel=1e-6) == fine["twice"]
    unknown = sizes(shared_out(lake(), [sonar_pass("a", EAST)], [GivenCoverage("m", outline)]))
    assert (unknown["twice"], pytest.approx(20000 - 2 * ONE_SIDE)) == (0, unknown["unknown"])
    same = sizes(shared_out(lake(), [sonar_pass("a", EAST)], [GivenCoverage("a", outline, "fine")]))
    assert (same["twice"], pytest.approx(20000)) == (0, same["fine"])


def test_without_a_picture_reason_goes_before_depth():
    """West of 100 m the depth is known; a polygon with a reason lies across that line."""
    weed = box(90, 0, 110, 100)
    found = sizes(shared_out(lake(), grid=depths_west_of(100, lake()), reasons=[("weed", weed)]))
    assert pytest.approx(2000) == found["not_surveyable"]
    assert pytest.approx(9000) == found["depth_only"]
    assert pytest.approx(9000) == found["none"]


def test_the_rim_of_a_cell_on_land_counts_with_its_neighbour():
    """Cells of 5 m, a bank at 4 m: the metre of water in cells whose centre is on land is not left over."""
    water = MultiPolygon([box(4, 4, 196, 96)])
    grid = depths_west_of(300, lake())
    grid = replace(grid, depth_m=np.where(shapely.contains_xy(water, *_centres(grid)), 3.0, np.nan))
    found = sizes(shared_out(water, grid=grid))
    assert (pytest.approx(water.area), pytest.approx(0.0)) == (found["depth_only"], found["none"])


def _centres(grid):
    rows, columns = grid.depth_m.shape
    return np.meshgrid(grid.x0_m + grid.cell_m * np.arange(columns), grid.y0_m + grid.cell_m * np.arange(rows))


def test_causes_share_out_what_has_no_picture():
    """Beneath the boat, between two runs inside the limits, and beyond them with and without depths."""
    runs = [sonar_pass("a", ((20, 30), (120, 30))), sonar_pass("b", ((20, 70), (120, 70)))]
    found = gap_sizes(shared_out(lake(), runs, grid=depths_west_of(60, lake())))
    assert pytest.approx(2 * 100 * 2 * BLIND_M, rel=1e-6) == found["under_boat"]
    # 40 m apart, 12 m each way: a strip of 16 m is left between, and the limits close over it.
    assert pytest.approx(1600, rel=0.02) == found["not_recorded"]
    assert pytest.approx(60 * 100 - 40 * 64, rel=0.01) == found["beyond_limit"]
    assert pytest.approx(20000 - 2 * ONE_SIDE * 2) == sum(found.values())


tracks = st.lists(
    st.tuples(st.floats(0, 400), st.floats(0, 300), st.floats(0, 400), st.floats(0, 300), st.sampled_from([2.0, 20.0])),
    min_size=1,
    max_size=4,
)


def _passes(ends):
    return [sonar_pass(f"p{i}", ((a, b), (c + 1, d)), speed_mps=speed) for i, (a, b, c, d, speed) in enumerate(ends)]


@settings(max_examples=25)
@given(tracks)
def test_classes_and_causes_agree_with_polygons_cut_whole(ends):
    """Areas add up, and each equals the one that unions and overlays of the whole lake give, far within a point."""
    island = box(180, 120, 240, 160)
    water = lake(400, 300, island)
    weed = box(0, 200, 100, 300)
    runs = [on_ground(run, water) for run in _passes(ends)]
    parts = partition(water, runs, (), limits_of(runs, (), water, RULES), depths_west_of(150, water), [("weed", weed)])
    found = sizes(parts)
    assert pytest.approx(water.area, abs=1e-3) == sum(found.values())
    fine = [shapely.union_all([s.fine for s in run.swaths]) for run in runs]
    coarse = shapely.union_all([s.coarse for run in runs for s in run.swaths])
    once = shapely.union_all(fine)
    twice = shapely.union_all([a.intersection(b) for i, a in enumerate(fine) for b in fine[:i]])
    assert pytest.approx(twice.area, abs=0.01) == found["twice"]
    assert pytest.approx(once.area - twice.area, abs=0.01) == found["fine"]
    assert pytest.approx(coarse.difference(once).area, abs=0.01) == found["coarse"]
    bare = water.difference(shapely.union_all([once, coarse]))
    assert pytest.approx(bare.intersection(weed).area, abs=0.01) == found["not_surveyable"]
    assert pytest.approx(water.area - once.area, abs=0.01) == sum(gap_sizes(parts).values())


@settings(max_examples=15)
@given(tracks, st.randoms(use_true_random=False))
def test_the_order_of_passes_does_not_matter(ends, random):
    """Areas by class are the same however the passes come."""
    passes = _passes(ends)
    shuffled = random.sample(passes, len(passes))
    one, other = sizes(shared_out(lake(400, 300), passes)), sizes(shared_out(lake(400, 300), shuffled))
    assert pytest.approx(one, abs=1e-3) == other


@settings(max_examples=15)
@given(tracks)
def test_adding_a_pass_never_lowers_coverage(ends):
    """Water in a class or a better one only grows."""
    passes, water = _passes(ends), lake(400, 300)
    less, more = sizes(shared_out(water, passes[:-1])), sizes(shared_out(water, passes))
    for best in range(1, len(PICTURED) + 1):
        at_least = [sum(found[name] for name in SONAR_CLASSES[:best]) for found in (less, more)]
        assert at_least[1] >= at_least[0] - 1e-3


def test_limits_close_over_narrow_gaps_only():
    """Two runs 40 m apart are one surveyed water; a third far off does not draw the water between to it."""
    runs = [
        on_ground(sonar_pass(name, ((20, y), (120, y))), lake(600, 600))
        for name, y in (("a", 30), ("b", 70), ("c", 400))
    ]
    limits = limits_of(runs, (), lake(600, 600), RULES)
    assert limits.covers(box(25, 45, 115, 55))
    assert not limits.intersects(box(20, 190, 120, 300))


def test_a_mosaic_measures_shapes():
    """Half of one piece and a quarter of another."""
    mosaic = Mosaic(np.array([box(0, 0, 10, 10), box(10, 0, 20, 10)], dtype=object), np.array([0, 1]))
    assert mosaic.areas(np.array([box(5, 0, 12.5, 10), box(50, 50, 60, 60)]), 2).tolist() == [[50.0, 25.0], [0.0, 0.0]]
