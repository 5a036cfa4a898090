"""Patches of cells measured: a row, a block, a bend; what holds them and how sure they are."""

from __future__ import annotations

import numpy as np
import pytest
from shapely import Point

from atlasgen.measure.patches import Patch, confidence, patch, patch_outline, run_cells
from atlasgen.model import DepthGrid

DEPTH = np.arange(100.0).reshape(10, 10)
GRID = DepthGrid(DEPTH, np.zeros((10, 10)), 2.5, 2.5, 5.0, 25.0)
WHOLE = slice(0, 10), slice(0, 10)


def measured(*cells: tuple[int, int], sounded: tuple[tuple[int, int], ...] = (), own_runs: bool = True) -> Patch:
    inside, run_of = np.zeros((10, 10), bool), np.full((10, 10), -1)
    for cell in cells:
        inside[cell] = True
    for cell in sounded:
        run_of[cell] = cell[0] if own_runs else 0
    return patch(GRID, WHOLE, inside, cells[0], 1.0, np.full((10, 10), 0.3), run_of)


def test_a_row_runs_east():
    """Six cells of 5 m in the third row from the south: 30 m by 5 m, bearing 90, depths 22 to 27 m."""
    one = measured(*[(2, col) for col in range(2, 8)])
    assert (one.length_m, one.width_m, one.area_m2) == (30.0, 5.0, 150.0)
    assert one.bearing_deg == pytest.approx(90)
    assert (one.least_depth_m, one.greatest_depth_m) == (22.0, 27.0)
    assert one.point == (12.5, 12.5)
    assert one.doubt_m == 0.3


def test_a_block_runs_nowhere():
    """Four by four cells, 20 m: the longest way is its diagonal."""
    one = measured(*[(row, col) for row in range(3, 7) for col in range(3, 7)])
    assert one.bearing_deg is None
    assert one.area_m2 == 400
    assert one.length_m == pytest.approx((1 + 3 * np.sqrt(2)) * 5)


def test_a_bend_is_as_long_as_the_way_through_it():
    """Up five cells and east five: 43 m along, not the 35 m between its ends."""
    one = measured(*[(row, 1) for row in range(1, 6)], *[(5, col) for col in range(2, 7)])
    assert one.length_m == pytest.approx((1 + 8 - 1 + np.sqrt(2)) * 5, abs=0.01)


def test_the_outline_is_the_edge_of_the_cells():
    """A row of six cells: 30 m by 5 m, to a few hundredths."""
    outline = patch_outline(measured(*[(2, col) for col in range(2, 8)]), GRID)
    assert outline.area == pytest.approx(150, rel=0.01)
    assert outline.contains(Point(12.5, 12.5))
    assert outline.bounds == pytest.approx((10, 10, 40, 15), abs=0.02)


def test_cells_that_meet_at_a_corner_hang_together():
    """Two cells corner to corner are one outline."""
    assert patch_outline(measured((2, 2), (3, 3)), GRID).area > 30


def test_one_run_is_told_from_two():
    """Cells of one row and run are one run; two rows are two, and so are two cells side by side of each of six runs."""
    block = [(row, col) for row in range(2, 8) for col in range(2, 8)]
    row = tuple((3, col) for col in range(2, 8))
    other = tuple((6, col) for col in range(2, 8))
    across = tuple((row, col) for row in range(2, 8) for col in (4, 5))
    assert measured(*block, sounded=row).one_run
    assert not measured(*block, sounded=(*row, *other)).one_run
    assert not measured(*block, sounded=across).one_run
    assert (measured(*block, sounded=row).sounded, measured(*block).sounded) == (6, 0)


def test_a_log_of_one_number_may_hold_several_runs():
    """All cells of run 0: two rows far apart are not one line."""
    block = [(row, col) for row in range(2, 8) for col in range(2, 8)]
    rows = tuple((row, col) for row in (3, 6) for col in range(2, 8))
    assert not measured(*block, sounded=rows, own_runs=False).one_run


def test_soundings_fall_into_their_cells():
    """One at a cell's centre, one at its west edge, which belongs to it, and one outside the grid."""
    x, y = np.array([12.5, 20.0, 400.0]), np.array([7.5, 7.5, 7.5])
    run_of = run_cells(GRID, x, y, np.array([7, 9, 9]))
    assert {tuple(cell): int(run_of[tuple(cell)]) for cell in np.argwhere(run_of >= 0)} == {(1, 2): 0, (1, 4): 1}
    assert run_cells(GRID, x, y).max() == 0


@pytest.mark.parametrize(
    ("sounded", "one_run", "height_m", "expected"),
    [
        (10, False, 1.5, "good"),
        (9, False, 1.5, "fair"),
        (10, False, 1.4, "fair"),
        (9, False, 1.4, "poor"),
        (30, True, 9, "poor"),
    ],
)
def test_confidence_needs_soundings_and_height(sounded, one_run, height_m, expected):
    """Ten cells and half as much again as errors make, which are 1 m here; a single run is never sure."""
    assert confidence(sounded, one_run, height_m, 1.0) == expected
