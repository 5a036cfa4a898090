"""Ledges on grids made by hand: a step is one, an even slope, however steep, is none."""

from __future__ import annotations

import numpy as np
import pytest

from atlasgen.measure.ledges import find_ledges
from atlasgen.model import DepthGrid

ROW, COL = np.mgrid[0:60, 0:60]


def ledges(depth_m, doubt_m=0.1, sounded=None):
    grid = DepthGrid(depth_m.astype(float), np.zeros((60, 60)), 0.0, 0.0, 5.0, 25.0)
    held = np.ones((60, 60), bool) if sounded is None else sounded
    return list(find_ledges(grid, np.full((60, 60), doubt_m), np.where(held, ROW, -1)))


def step(drop_m, at=30):
    """4 m deep in the west, deeper by the drop from a column on."""
    return 4.0 + drop_m * (at <= COL)


def test_a_step_is_a_ledge_that_runs_along_it():
    """3 m down between two columns: top 4 m, foot 7 m, north and south."""
    (one,) = ledges(step(3.0))
    assert (one.least_depth_m, one.greatest_depth_m, one.height_m) == (4.0, 7.0, 3.0)
    assert min(one.bearing_deg, 180 - one.bearing_deg) < 2
    assert not one.one_run
    assert one.point.x_m == pytest.approx(147.5, abs=5)
    assert one.length_m > 200


@pytest.mark.parametrize("slope", [0.02, 0.2, 1.0])
def test_an_even_slope_is_no_ledge(slope):
    """Steep or not, it is no steeper than what lies around."""
    assert ledges(2 + slope * COL * 5.0) == []


def test_what_the_doubt_explains_is_no_ledge():
    """A step of 3 m where each depth is good to 2.5 m."""
    assert ledges(step(3.0), doubt_m=2.5) == []


def test_a_ledge_rests_on_soundings():
    """Nobody sounded it."""
    assert ledges(step(3.0), sounded=COL < 20) == []


def test_a_round_pit_has_no_ledge_that_crashes():
    """A steep cone: whatever is told of it has a top above its foot."""
    cone = 10 - np.clip(12 - np.hypot(ROW - 30, COL - 30), 0, 8)
    assert all(one.least_depth_m < one.greatest_depth_m for one in ledges(cone))
    assert all(one.least_depth_m < one.greatest_depth_m for one in ledges(20 - cone))
