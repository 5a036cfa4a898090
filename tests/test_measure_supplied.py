"""A supplied depth raster: what its values mean, and that what cannot be told is not used."""

from __future__ import annotations

from dataclasses import replace

import lakes
import numpy as np
import pytest
from shapely import MultiPolygon

from atlasgen.measure.depth import depth_at
from atlasgen.measure.depth_model import model_depths
from atlasgen.measure.preparation import Prepared
from atlasgen.measure.supplied import Supplied, supplied_grid
from atlasgen.model import MeasureRules
from atlasgen.model.rasters import Raster
from atlasgen.units import FOOT_M

PROJECTION = lakes.projection()
RULES = MeasureRules()
CELL_M = 10.0


def bowl(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Depth of a bowl under the square lake: 0 at the bank, 12 m from 120 m off it."""
    return np.minimum(500 - np.maximum(np.abs(x), np.abs(y)), 120) / 10


def raster(values_of_depth=lambda depth: depth, *, unit_m: float | None = 1.0, half_m: float = 600.0, **more) -> Raster:
    """Make a raster of the bowl and of the land around it, the first row in the north."""
    middle = np.arange(-half_m + CELL_M / 2, half_m, CELL_M)
    x, y = np.meshgrid(middle, middle[::-1])
    values = values_of_depth(bowl(x, y)).astype(np.float32)
    transform = (CELL_M, 0.0, -half_m, 0.0, -CELL_M, half_m)
    return Raster("bed.tif", values, transform, PROJECTION.crs_text, None if unit_m is None else "m", unit_m, **more)


def supplied(given: Raster, rules: MeasureRules = RULES, water: MultiPolygon | None = None) -> Supplied:
    return supplied_grid(given, water or lakes.square_lake(), PROJECTION, rules)


def refusal(given: Raster, rules: MeasureRules = RULES) -> str:
    """Return why a raster is not used; it must be the one problem."""
    result = supplied(given, rules)
    assert result.grid is None
    (problem,) = result.problems
    assert (problem.subject, problem.code, problem.level) == ("bed.tif", "unusable", "fault")
    return problem.message


def high(elevation_m: float | None, **more) -> MeasureRules:
    return replace(RULES, full_supply_elevation_m=elevation_m, **more)


@pytest.mark.parametrize(
    ("values", "rules", "read_as"),
    [
        (lambda depth: depth, RULES, "depths below the datum"),
        (lambda depth: depth, high(214.0), "depths below the datum"),
        (lambda depth: depth, high(12.0), "depths below the datum"),
        (lambda depth: -depth, RULES, "heights against the datum, negative below it"),
        (lambda depth: 214 - depth, high(214.0), "bed elevations, the datum being at 214 m"),
        (lambda depth: 12 - depth, high(12.0), "bed elevations, the datum being at 12 m"),
        (lambda depth: -30 - depth, high(-30.0), "bed elevations, the datum being at -30 m"),
    ],
)
def test_depths_and_elevations_are_told_apart(values, rules, read_as):
    """By sign and by the value at the bank, also where both run from 0 to 12; the same depths come of all of them."""
    result = supplied(raster(values), rules)
    assert result.problems == ()
    assert f"bed.tif, read as {read_as}, in cells of 10 m" in result.words
    x, y = np.array([0.0, -450.0, 300.0]), np.array([0.0, 0.0, 470.0])
    np.testing.assert_allclose(depth_at(result.grid, x, y), [12.0, 5.0, 3.0], atol=1e-4)


def test_nothing_is_said_on_land_or_where_the_raster_is_silent():
    """Land, islands and holes of the raster have no depth; what has one counts as sounded."""
    given = raster()
    given.values[:40] = np.nan
    grid = supplied(given, water=lakes.island_lake()).grid
    x, y = np.array([0.0, 550.0, 0.0, 0.0]), np.array([0.0, 0.0, 400.0, -300.0])
    assert np.isfinite(depth_at(grid, x, y)).tolist() == [False, False, False, True]
    known = np.isfinite(grid.depth_m)
    assert set(grid.distance_m[known]) == {0.0}
    assert grid.near_sounding_m == 0.0


def test_feet_become_metres():
    """From the file's unit, or the crew's word where it has none."""
    in_feet = lambda depth: depth / FOOT_M  # noqa: E731
    for given, rules in (
        (raster(in_feet, unit_m=FOOT_M), RULES),
        (raster(in_feet, unit_m=None), replace(RULES, raster_unit="feet")),
    ):
        assert pytest.approx(12.0, abs=1e-4) == np.nanmax(supplied(given, rules).grid.depth_m)


def test_no_unit_is_assumed():
    """Silence of file and crew, and a contradiction between them, are said."""
    assert "its unit is not said. Expected metres or feet. State depth.raster_unit" in refusal(raster(unit_m=None))
    assert "says depth.raster_unit is 'feet'" in refusal(raster(), replace(RULES, raster_unit="feet"))


def test_elevations_need_the_waters_elevation():
    """A vertical datum in the file, or the crew's word, makes elevations of the values: they count from somewhere."""
    for given, rules in (
        (raster(lambda depth: 214 - depth, vertical="EGM96 height"), RULES),
        (raster(lambda depth: 214 - depth), replace(RULES, raster_shows="elevation")),
    ):
        assert "bed elevations, values from 202.0 to 21" in refusal(given, rules)
        assert "level.elevation_m" in refusal(given, rules)
    assert "full supply elevation at the bank: not stated" in refusal(raster(lambda depth: 214 - depth))


def test_elevations_above_something_else_are_refused():
    """Ellipsoid against sea level: tens of metres apart."""
    given = raster(lambda depth: 214 - depth, vertical="ellipsoid")
    assert "above 'ellipsoid'" in refusal(given, high(214.0, elevation_above="sea level"))
    assert supplied(given, high(214.0, elevation_above="ellipsoid")).grid is not None


def test_elevations_that_contradict_the_water_are_refused():
    """A bed that stands 40 m over, or hangs 40 m under, the shoreline has another datum or unit."""
    for off_m in (-40, 40):
        assert "Check unit, sign and level.elevation_m" in refusal(raster(lambda d: 214 + off_m - d), high(214.0))  # noqa: B023


def test_what_can_be_read_in_two_ways_is_not_used():
    """Zero at the bank, full supply level 1.5 m above the sea: it may count from the water or from the sea."""
    given = raster(lambda depth: -depth)
    assert "may be heights against the datum, negative below it or bed elevations" in refusal(given, high(1.5))
    assert "State depth.raster_shows" in refusal(given, high(1.5))
    for shows, deepest_m in (("depth", 12.0), ("elevation", 13.5)):
        grid = supplied(given, high(1.5, raster_shows=shows)).grid
        assert pytest.approx(deepest_m, abs=1e-4) == np.nanmax(grid.depth_m)
    # At the sea's own level both readings are one.
    assert supplied(given, high(0.0)).grid is not None


def test_a_raster_without_a_value_in_the_water_is_refused():
    """Nothing of it can be used."""
    assert "it holds no value in the water" in refusal(raster(lambda depth: depth * np.nan))


def test_a_supplied_raster_takes_the_place_of_the_model():
    """Lines, tints and table are the raster's; the soundings tell how far it can be trusted."""
    x, y = (axis.ravel() for axis in np.meshgrid(np.arange(-480.0, 490, 20), np.arange(-480.0, 490, 40)))
    line = np.repeat(np.arange(25), 49)
    sounded = Prepared(None, x, y, bowl(x, y) + np.random.default_rng(4).normal(0, 0.2, x.size), line, True)
    model = model_depths(sounded, lakes.square_lake(), RULES, supplied(raster()))
    assert pytest.approx(12.0, abs=1e-4) == np.nanmax(model.grid.depth_m)
    # 1.96 standard deviations of the soundings: the raster itself is without error.
    assert pytest.approx(1.96 * 0.2, rel=0.1) == model.bound.base_m
    assert pytest.approx(model.bound.base_m) == np.nanmax(model.grid.bound_m) == np.nanmin(model.grid.bound_m)
    assert 0.93 <= model.bound.inside <= 0.97
    assert model.hypsometry.unmodelled_m2 == pytest.approx(0.0, abs=1.0)
    assert model.methods[0].startswith("The depths are those of the supplied raster bed.tif")
    assert "1,225 soundings" in model.methods[1]


def test_a_supplied_raster_stands_without_soundings_too():
    """Depths, but no bound: there is nothing to compare it with."""
    none = np.empty(0)
    model = model_depths(
        Prepared(None, none, none, none, none.astype(int)), lakes.square_lake(), RULES, supplied(raster())
    )
    assert model.grid is not None
    assert model.bound is None
    assert model.methods[1].startswith("No bound of error is stated for it")


def test_a_refused_raster_leaves_the_model():
    """The soundings are modelled as if it were not there."""
    x, y = (axis.ravel() for axis in np.meshgrid(np.arange(-480.0, 490, 10), np.arange(-480.0, 490, 40)))
    sounded = Prepared(None, x, y, bowl(x, y), np.repeat(np.arange(25), 97), True)
    model = model_depths(sounded, lakes.square_lake(), RULES, supplied(raster(unit_m=None)))
    assert model.methods[0].startswith("The depth model has cells of")
