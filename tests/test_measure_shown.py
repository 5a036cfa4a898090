"""Depths told for another level: moved, not made anew; what stands above it is dry; nothing else changes."""

from __future__ import annotations

from dataclasses import replace

import lakes
import numpy as np
import pytest
from sample_atlas import make_sample_atlas
from shapely import Point

from atlasgen.measure.profiles import reach_profiles
from atlasgen.measure.shown import at_shown_stage
from atlasgen.model import DepthGrid, MeasureRules, ReachDepth, StageRecord
from atlasgen.place.shore import build_rings, cut_reaches

WATER = lakes.square_lake()
RECORD = StageRecord(np.array([0.0, 86400.0]), np.array([-2.5, 0.0]))
DOWN_M = -2.0


def pyramid() -> DepthGrid:
    """Return a bed a metre deeper for every 50 m off the bank of the square lake, in cells of 5 m."""
    middle = np.arange(-497.5, 500, 5.0)
    x, y = np.meshgrid(middle, middle)
    depth = (500 - np.maximum(np.abs(x), np.abs(y))) / 50
    return DepthGrid(depth, np.zeros_like(depth), middle[0], middle[0], 5.0, 25.0)


@pytest.fixture(scope="module")
def known():
    """Return what is known of the pyramid, at the datum."""
    reaches = cut_reaches(build_rings(WATER, None), 500.0, lakes.projection(), lambda at: "", lambda at: "")[:1]
    grid, reach = pyramid(), reaches[0].id
    depth = ReachDepth(40.0, 3, 0.5, 2.5, 9.0, ((5, 0.1), (10, 0.2), (20, None)), True)
    profiles = reach_profiles(reaches, WATER, grid, lakes.projection(), depths_m=(0.5, 3.0))
    return replace(
        make_sample_atlas().known, grid=grid, reach_depth={reach: depth}, profiles=profiles, relief=(), problems=()
    )


def shown(known, stage_m, *, record=RECORD, tied=True):
    rules = replace(MeasureRules(depth_unit="metres"), shown_stage_m=stage_m)
    return at_shown_stage(known, WATER, lambda: np.empty((0, 3)), record, tied, rules)


def test_at_the_datum_nothing_is_touched(known):
    """The very same value."""
    assert shown(known, 0.0) is known


def test_every_depth_is_less_by_the_drawdown(known):
    """Grid, soundings off the bank, the bed's profile; what was not known stays so."""
    low = shown(known, DOWN_M)
    np.testing.assert_allclose(low.grid.depth_m, known.grid.depth_m - 2)
    assert low.grid_at_datum is known.grid
    (depth,) = low.reach_depth.values()
    assert (depth.shallowest_m, depth.median_m, depth.deepest_m) == (-1.5, 0.5, 7.0)
    assert [deep for _, deep in depth.profile_m] == [pytest.approx(-1.9), pytest.approx(-1.8), None]
    ((before, after),) = zip(known.profiles.values(), low.profiles.values(), strict=True)
    assert [p.depth_m for p in after.stations] == [pytest.approx(p.depth_m - 2) for p in before.stations]
    assert low.hypsometry is known.hypsometry


def test_what_is_dry_is_the_rim_above_the_level(known):
    """By hand: 2 m down, 100 m of bed all around; lines and tints lie inside it only."""
    low = shown(known, DOWN_M)
    assert low.dry.area == pytest.approx(1000**2 - 800**2, rel=0.02)
    assert not low.dry.contains(Point(0, 0))
    assert low.dry.contains(Point(-450, 0))
    assert len(low.bands) > 2
    assert max(band.area.intersection(low.dry).area for band in low.bands) < 1.0
    one = next(i for i in low.isobaths if i.depth_m == 1.0)
    # 1 m below the low water is 3 m below the datum: 150 m off the bank.
    assert {round(abs(c)) for line in one.lines for p in line.coords for c in p if abs(c) > 340} <= set(range(348, 353))


def test_depths_are_reached_farther_out(known):
    """3 m below a level 2 m down is 5 m below the datum: not within the 100 m of the profile; half a metre is not."""
    ((before, after),) = zip(known.profiles.values(), shown(known, -1.0).profiles.values(), strict=True)
    assert [item.distance_m for item in before.reached] == [pytest.approx(25.0, abs=0.5), None]
    assert [item.distance_m for item in after.reached] == [pytest.approx(75.0, abs=0.5), None]


def test_above_the_datum_depths_grow_and_nothing_is_dry(known):
    """A flood of half a metre."""
    high = shown(known, 0.5)
    assert high.dry.is_empty
    np.testing.assert_allclose(high.grid.depth_m, known.grid.depth_m + 0.5)


def test_a_lake_that_is_all_dry_has_no_lines(known):
    """Deeper than its deepest."""
    gone = shown(known, -30.0)
    assert (gone.isobaths, gone.bands) == ((), ())
    assert gone.dry.area == pytest.approx(WATER.area, rel=0.001)


@pytest.mark.parametrize(("stage_m", "said"), [(-2.0, False), (-3.0, True), (0.5, True)])
def test_a_level_that_was_never_recorded_is_allowed_and_said(known, stage_m, said):
    """The record runs from 2.5 m down to full."""
    words = shown(known, stage_m).methods[-1]
    assert "drawn and told as dry" in words
    assert ("No level of the stage record was as" in words) is said


def test_depths_that_no_record_ties_to_the_datum_are_left_and_told(known):
    """Below the water of an unknown day there is no other level to count from."""
    left = shown(known, DOWN_M, tied=False)
    assert left.grid is known.grid
    assert left.shown_stage_m == 0.0
    assert left.problems[-1].message.startswith("level.shown_stage_m: the depths are below the water of the survey day")
