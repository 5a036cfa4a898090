"""Crossings on lines drawn by hand; TVU values computed from IHO S-44 Ed 6.1.0 (2022), section 3.2.3 and Table 1."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString

from atlasgen.measure.crossings import TVU_ORDERS, find_crossings, tvu_m


def crossed(*lines, time_s=None, z=None, told_in="metres"):
    """Crossings of runs given as (x, y, depth) points; an hour between runs unless times are given."""
    x, y, depth = np.array([point for line in lines for point in line], dtype=float).T
    run = np.repeat(np.arange(len(lines)), [len(line) for line in lines])
    time = run * 3600.0 + np.arange(len(x)) if time_s is None else np.array(time_s, dtype=float)
    return find_crossings(x, y, depth if z is None else z, time, run, told_in)


def straight(x0, y0, x1, y1, depth_0, depth_1, step_m=2.0):
    """Make a run from one place to another, a sounding every `step_m`, its depth changing steadily."""
    count = round(float(np.hypot(x1 - x0, y1 - y0)) / step_m) + 1
    return list(zip(*(np.linspace(a, b, count) for a, b in ((x0, x1), (y0, y1), (depth_0, depth_1))), strict=True))


@pytest.mark.parametrize(
    ("order", "values_m"),
    [
        ("Exclusive Order", (0.1546, 0.1677, 0.2121, 0.4039, 0.7649)),
        ("Special Order", (0.2528, 0.2610, 0.2915, 0.4507, 0.7906)),
        ("Order 1a/1b", (0.5042, 0.5166, 0.5636, 0.8201, 1.3928)),
        ("Order 2", (1.0066, 1.0261, 1.1007, 1.5240, 2.5080)),
    ],
)
def test_tvu_is_that_of_s_44(order, values_m):
    """At 5, 10, 20, 50 and 100 m."""
    assert list(values_m) == pytest.approx(tvu_m(np.array([5, 10, 20, 50, 100]), *TVU_ORDERS[order]).tolist(), abs=1e-4)


def test_depths_are_interpolated_along_both_lines():
    """At (5, 5): 5 of 10 m along a run from 10 to 12 m, and along one from 11 to 11.4 m: 11 less 11.2."""
    found = crossed([(0, 5, 10), (10, 5, 12)], [(5, 0, 11), (5, 10, 11.4)])
    assert (found.x_m.tolist(), found.y_m.tolist()) == ([5.0], [5.0])
    assert pytest.approx(found.difference_m.tolist()) == [-0.2]
    assert pytest.approx(found.depth_m.tolist()) == [11.1]
    assert found.words == ("Lines of soundings cross only 1 time: too few to say how well depths repeat.",)


def test_a_crossing_at_a_sounding_counts_once():
    """Both runs have a sounding at (4, 0)."""
    assert crossed(straight(0, 0, 8, 0, 5, 5), straight(4, -4, 4, 4, 5, 5)).count == 1


def test_lines_that_do_not_cross_say_so():
    """Parallel runs, runs that end before, and none at all."""
    parallel = crossed(straight(0, 0, 50, 0, 5, 5), straight(0, 10, 50, 10, 5, 5))
    short = crossed(straight(0, 0, 50, 0, 5, 5), straight(25, 1, 25, 30, 5, 5))
    none = find_crossings(*(np.empty(0) for _ in range(4)), np.empty(0, dtype=int))
    for found in (parallel, short, none):
        assert found.count == 0
        assert found.words == ("No lines of soundings cross, so how well depths repeat was not observed.",)
        assert (found.rms_m, found.p95_m, found.counts) == (None, None, ())


def test_a_step_across_a_gap_and_a_sounding_without_depth_are_not_interpolated():
    """13 m between two soundings; NaN on one side."""
    cross = straight(5, -4, 5, 4, 5, 5)
    assert crossed([(-2, 0, 5), (11, 0, 5)], cross).count == 0
    assert crossed([(0, 0, 5), (4, 0, 5), (6, 0, np.nan), (12, 0, 5)], cross).count == 1
    assert crossed([(0, 0, 5), (4, 0, np.nan), (6, 0, np.nan), (20, 0, 5)], cross).count == 0


def test_a_run_crosses_itself_only_after_a_while():
    """A loop that comes back over its own way after 3 minutes, or after 56 s; without times the 140 m of way count."""
    loop = [(0, 0), (40, 0), (40, 40), (10, 40), (10, -20)]
    points = [p for a, b in pairwise(loop) for p in straight(*a, *b, 7, 7)]
    count = len(points)
    assert crossed(points, time_s=np.arange(count) * 3.0).count == 1
    assert crossed(points, time_s=np.arange(count) * 0.8).count == 0
    assert crossed(points, time_s=[np.nan] * count).count == 1


def grid_of_lines(offset_m, told_in="metres"):
    """Eight runs east at 10 m, eight north at 10 m less `offset_m[i]`: 64 crossings."""
    east = [straight(0, 10 * i, 80, 10 * i, 10, 10) for i in range(8)]
    north = [straight(5 + 10 * i, -5, 5 + 10 * i, 75, *[10 - offset] * 2) for i, offset in enumerate(offset_m)]
    return crossed(*east, *north, told_in=told_in)


def test_repeatability_is_summed_up():
    """Differences 0.1 m (56 times) and 0.4 m (8): squares sum to 0.56 + 1.28, over 64 is 0.02875."""
    found = grid_of_lines([0.1] * 7 + [0.4])
    assert found.count == 64
    assert (found.median_m, found.p95_m) == (pytest.approx(0.1), pytest.approx(0.4))
    assert found.rms_m == pytest.approx(np.sqrt(0.02875))
    assert found.mean_m == pytest.approx((5.6 + 3.2) / 64)
    assert [(band.from_m, band.to_m, band.count) for band in found.bands] == [(5.0, 10.0, 64)]
    assert sum(found.counts) == 64


def test_shares_within_the_orders_are_counted_with_the_root_of_two():
    """At 10 m sqrt(2) x TVU is 0.237, 0.369, 0.731, 1.451 m: 0.3 m is beyond the first only, 0.5 m beyond two."""
    shares = [order.share for order in grid_of_lines([0.0] * 4 + [0.3] * 2 + [0.5] * 2).orders]
    assert shares == [0.5, 0.75, 1.0, 1.0]


def test_words_compare_and_do_not_certify():
    """The allowance, the factor and what does not show are said."""
    repeat, compared = grid_of_lines([0.1] * 8).words
    assert "(64 times)" in repeat
    assert "all lines share does not show" in repeat
    assert compared.startswith("Compared with the vertical allowance of IHO S-44")
    assert "square root of 2" in compared
    assert "certif" not in compared


def test_words_are_in_the_readers_unit():
    """0.3048 m is a foot."""
    offsets = [0.3048] * 8
    assert "by no more than 0.30 m" in grid_of_lines(offsets).words[0]
    assert "by no more than 1.00 ft" in grid_of_lines(offsets, "feet").words[0]


def test_the_histogram_holds_every_difference():
    """Bins of a round width about nought; what lies beyond is in the outermost."""
    found = grid_of_lines([0.01, -0.02, 0.03, -0.04, 0.05, 0.06, 0.07, 5.0])
    widths = np.diff(found.edges_m)
    assert np.allclose(widths, widths[0])
    assert found.edges_m[0] == -found.edges_m[-1]
    assert (sum(found.counts), found.counts[-1]) == (64, 8)


SPOT = st.tuples(st.integers(0, 40), st.integers(0, 40))


@settings(deadline=None, max_examples=60)
@given(st.lists(SPOT, min_size=2, max_size=8), st.lists(SPOT, min_size=2, max_size=8))
def test_no_crossing_is_missed(one, other):
    """Against shapely, step by step, for crossings inside both steps."""
    # An odd shift keeps soundings of one run off the steps of the other.
    first = [(7 * x / 10, 7 * y / 10, 5.0) for x, y in one]
    second = [(7 * x / 10 + 0.0371, 7 * y / 10 + 0.0113, 6.0) for x, y in other]
    found = crossed(first, second, time_s=[0.0] * len(first) + [9.0] * len(second))
    expected = 0
    for a in pairwise(first):
        for b in pairwise(second):
            steps = [LineString([p[:2] for p in step]) for step in (a, b)]
            expected += all(0 < step.length <= 12 for step in steps) and steps[0].crosses(steps[1])
    assert expected == found.count
    assert np.allclose(found.difference_m, -1.0)
