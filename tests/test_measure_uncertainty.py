"""The bound of error of a depth: honest on lines that it never saw, wider where less is known, and repeatable."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

import numpy as np
import pytest
import shapely
from shapely import MultiPolygon, Point, Polygon

from atlasgen.measure.depth import build_grid, depth_at
from atlasgen.measure.uncertainty import (
    LEAST_BOUND_M,
    LEAST_LINES,
    bound_at,
    fit_bound,
    local_relief,
    sounding_noise_m,
    with_bound,
)
from atlasgen.model import DepthGrid
from atlasgen.model.depths import DepthBound

CELL_M, RELIEF_M = 4.0, 25.0


class Lake(NamedTuple):
    """An invented lake and its soundings in the order in which they were taken."""

    water: MultiPolygon
    x: np.ndarray
    y: np.ndarray
    depth_m: np.ndarray
    line: np.ndarray

    def only(self, kept: np.ndarray) -> Lake:
        return Lake(self.water, self.x[kept], self.y[kept], self.depth_m[kept], self.line[kept])

    def bound(self, cell_m: float = CELL_M) -> DepthBound | None:
        return fit_bound(self.x, self.y, self.depth_m, self.water, cell_m, RELIEF_M, self.line)

    def grid(self) -> DepthGrid:
        grid = build_grid(self.x, self.y, self.depth_m, self.water, CELL_M, np.inf)
        assert grid is not None
        return grid


@cache
def surveyed(seed: int, spacing_m: float = 20.0, noise_m: float = 0.05) -> Lake:
    """Draw a round-cornered lake of 1 km with a bed of waves from 40 to 400 m long, sounded in lines from west to east.

    The waves are drawn by chance, their heights in proportion to their lengths, as a bed of natural roughness has them.
    """
    draw = np.random.default_rng(seed)
    water = MultiPolygon([Polygon([(0, 0), (1000, 0), (900, 1000), (100, 900)]).buffer(-60).buffer(60)])
    x, y = np.meshgrid(np.arange(2.0, 1000, 4.0), np.arange(spacing_m / 2, 1000, spacing_m))
    line = np.repeat(np.arange(len(x)), x.shape[1])
    # The boat holds its lines to a few metres.
    y = y + 2 * np.sin(x / 70 + np.arange(len(x))[:, None])
    x, y = x.ravel(), y.ravel()
    wet = shapely.contains_xy(water, x, y)
    x, y, line = x[wet], y[wet], line[wet]
    to_bank = shapely.distance(water.boundary, shapely.points(x, y))
    shape = np.minimum(to_bank / 100, 1.0)
    depth = shape * (8 + _waves(draw, x, y, count=60)) + draw.normal(0, noise_m, x.size)
    return Lake(water, x, y, np.maximum(depth, 0.1), line)


def _waves(draw: np.random.Generator, x: np.ndarray, y: np.ndarray, count: int) -> np.ndarray:
    total = np.zeros(x.size)
    for length in np.geomspace(40, 400, count):
        heading, phase = draw.uniform(0, 2 * np.pi, 2)
        along = x * np.cos(heading) + y * np.sin(heading)
        total += 0.0012 * length * np.sin(2 * np.pi * along / length + phase)
    return total


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_bound_holds_on_lines_that_took_no_part(seed):
    """Every fifth line is kept from the model and from the fit: 93 to 97 % of its soundings lie inside the bound."""
    lake = surveyed(seed)
    unseen = lake.line % 5 == 2
    known, held = lake.only(~unseen), lake.only(unseen)
    bound = known.bound()
    grid, bound = with_bound(known.grid(), lake.water, bound)
    within = bound_at(grid, held.x, held.y)
    error = np.abs(depth_at(grid, held.x, held.y) - held.depth_m)
    told = np.isfinite(within + error)
    assert told.mean() > 0.9
    assert 0.93 <= (error <= within)[told].mean() <= 0.97
    # What the bound says of itself, fitted to some lines and tried on the others, is as near.
    assert 0.93 <= bound.inside <= 0.97


def test_bound_is_not_bought_with_width():
    """A bound that were everywhere as wide as the lake is deep would hold too: half of it is under a metre here."""
    lake = surveyed(1)
    _, bound = with_bound(lake.grid(), lake.water, lake.bound())
    assert LEAST_BOUND_M <= bound.median_m < 1.0
    # National Map Accuracy Standards (1947): interval = 3.2898 sigma, and a 95 % bound is 1.9600 sigma.
    assert pytest.approx(bound.median_m * 3.2898 / 1.9600, rel=1e-4) == bound.supported_interval_m


def test_bound_grows_with_distance():
    """From a line out to 40 m from it, over a bed of one slope, the bound never shrinks, and it has grown."""
    lake = surveyed(2)
    bound = lake.bound()
    x, y = np.meshgrid(np.arange(2.0, 800, 4.0), np.arange(2.0, 800, 4.0))
    plane = DepthGrid(2 + 0.02 * x, np.abs(y - 402.0), 2.0, 2.0, 4.0, np.inf)
    grid, _ = with_bound(plane, MultiPolygon([Point(400, 400).buffer(5000)]), bound)
    rising = grid.bound_m[100:111, 100]
    assert (np.diff(rising) >= 0).all()
    assert rising[-1] > rising[0]


def test_no_factor_of_the_bound_is_negative():
    """So that it can only grow with distance and relief, on whatever lake."""
    for seed in (1, 2, 3):
        bound = surveyed(seed).bound()
        assert bound.base_m >= LEAST_BOUND_M
        assert min(bound.per_m, bound.per_relief_m, bound.per_relief_per_m) >= 0


def test_bank_counts_as_sounded():
    """Beside the bank the depth is zero and known: the bound there is that of a sounding, far though they all are."""
    far = DepthGrid(np.full((25, 25), 3.0), np.full((25, 25), 500.0), 2.0, 2.0, 4.0, np.inf)
    water = MultiPolygon([shapely.box(0, 0, 100, 100)])
    grid, _ = with_bound(far, water, DepthBound(0.1, 0.01, 0.0, 0.0, RELIEF_M, 5, 100, 0.95))
    # Centres 2 m from the bank, to within half a cell; the middle is 50 m from it.
    assert pytest.approx(0.1 + 0.01 * 2.0, abs=0.011) == grid.bound_m[12, 0]
    assert pytest.approx(0.1 + 0.01 * 50.0, abs=0.021) == grid.bound_m[12, 12]


def test_unknown_depth_has_no_bound():
    """No depth, no bound; outside the grid neither; and none where none was worked out."""
    depth = np.full((5, 5), 3.0)
    depth[2, 2] = np.nan
    grid = DepthGrid(depth, np.zeros((5, 5)), 2.0, 2.0, 4.0, 25.0)
    assert np.isnan(bound_at(grid, np.array([2.0]), np.array([2.0]))).all()
    bounded, _ = with_bound(grid, MultiPolygon([shapely.box(0, 0, 20, 20)]), DepthBound(0.2, 0, 0, 0, 25, 5, 100, 0.95))
    at = bound_at(bounded, np.array([2.0, 10.0, 90.0]), np.array([2.0, 10.0, 2.0]))
    np.testing.assert_allclose(at, [0.2, np.nan, np.nan])


def test_too_few_lines_have_no_bound():
    """Two lines are too few to leave any out; so are three with a handful of soundings; no soundings at all too."""
    lake = surveyed(1)
    few = lake.only(np.isin(lake.line, np.unique(lake.line)[: LEAST_LINES - 1]))
    assert few.bound() is None
    thin = lake.only(np.isin(lake.line, [20, 25, 30]) & (np.arange(len(lake.x)) % 16 == 0))
    assert len(thin.x) < 60
    assert thin.bound() is None
    assert lake.only(np.zeros(len(lake.x), dtype=bool)).bound() is None


def test_three_lines_are_enough():
    """The fewest lines of which one can be left out and two remain."""
    lake = surveyed(1)
    bound = lake.only(np.isin(lake.line, [20, 22, 24])).bound()
    assert bound is not None
    assert bound.lines == LEAST_LINES


def test_bound_is_the_same_every_time():
    """Nothing in it is drawn by chance."""
    assert surveyed(3).bound() == surveyed(3).bound()


def test_order_of_the_lines_hardly_matters():
    """Lines logged in the opposite order fall into other groups: the bound moves by a fifth at most."""
    lake = surveyed(1)
    turned = lake.only(np.arange(len(lake.x))[::-1])
    medians = [with_bound(lake.grid(), lake.water, given.bound())[1].median_m for given in (lake, turned)]
    assert pytest.approx(medians[0], rel=0.2) == medians[1]


def test_soundings_without_a_depth_or_place_are_passed_over():
    """They change nothing."""
    lake = surveyed(1)
    bad = np.array([np.nan, 3.0])
    more = Lake(
        lake.water,
        np.r_[lake.x, 500.0, np.nan],
        np.r_[lake.y, 500.0, 500.0],
        np.r_[lake.depth_m, bad],
        np.r_[lake.line, 900, 900],
    )
    assert lake.bound() == more.bound()


def test_noise_of_a_sounding_is_found():
    """Of a level bed sounded with a normal error of 0.1 m, to a tenth of it; slopes and steps between lines add none."""
    draw = np.random.default_rng(7)
    line = np.repeat(np.arange(20), 200)
    depth = 5 + 0.02 * np.tile(np.arange(200), 20) + 3 * line + draw.normal(0, 0.1, 4000)
    assert pytest.approx(0.1, rel=0.1) == sounding_noise_m(depth, line)
    assert sounding_noise_m(depth[:2], line[:2]) == 0.0


def test_noisy_soundings_widen_the_bound():
    """No bound is below what one sounding is good to: 1.96 times its noise."""
    rough = surveyed(2, noise_m=0.4)
    bound = rough.bound()
    assert bound.base_m >= 1.96 * 0.4 * 0.9
    assert bound.base_m > surveyed(2).bound().base_m


def test_relief_of_a_plane_is_its_slope():
    """k6 of the project's reference values: z = 0.1 x + 0.2 y falls sqrt(0.05) metres per metre; nothing known, none."""
    x, y = np.meshgrid(np.arange(0, 100.0, 2), np.arange(0, 80.0, 2))
    grid = DepthGrid(0.1 * x + 0.2 * y, np.zeros_like(x), 0.0, 0.0, 2.0, 25.0)
    np.testing.assert_allclose(local_relief(grid, 10.0), np.sqrt(0.05), atol=1e-9)
    unknown = DepthGrid(np.full((9, 9), np.nan), np.zeros((9, 9)), 0.0, 0.0, 2.0, 25.0)
    assert (local_relief(unknown, 10.0) == 0).all()
