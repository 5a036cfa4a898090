"""Supplied contours: depths between them, nothing made up inside the last, nothing guessed of what they mean."""

from __future__ import annotations

from dataclasses import replace

import lakes
import numpy as np
import pytest
import shapely

from atlasgen.measure.contours import supplied_depths
from atlasgen.measure.depth import depth_at
from atlasgen.model import MeasureRules
from atlasgen.model.rasters import DepthContours, Raster
from atlasgen.units import FOOT_M

PROJECTION = lakes.projection()
RULES = MeasureRules()
# In the square lake of 1000 m, the lines of a pyramid upside down: 1 m deeper for every 50 m off the bank.
DEPTHS = (2.0, 4.0, 6.0)


def squares(depths=DEPTHS) -> np.ndarray:
    """Return one closed line for each depth of the pyramid, on WGS 84."""
    half = [500 - 50 * depth for depth in depths]
    return PROJECTION.to_lonlat(np.array([shapely.box(-h, -h, h, h).exterior for h in half], dtype=object))


def contours(values=DEPTHS, **more) -> DepthContours:
    told = {"field": "depth_m", "unit": "metres", "shows": "depth"} | more
    return DepthContours("depth_contours.shp", squares(), np.array(values, dtype=float), **told)


def taken(given: DepthContours, rules: MeasureRules = RULES, raster: Raster | None = None, water=None):
    return supplied_depths(raster, given, water or lakes.square_lake(), PROJECTION, rules)


def test_depths_between_the_lines_are_those_of_the_pyramid():
    """Halfway between bank and line, on a line, between lines: by hand 1, 2, 3 and 5 m."""
    result = taken(contours())
    x = np.array([-450.0, -400.0, 350.0, 250.0])
    np.testing.assert_allclose(depth_at(result.grid, x, np.zeros(4)), [1.0, 2.0, 3.0, 5.0], atol=0.02)
    assert "read as depths in metres, joined by triangles" in result.words
    assert result.problems == ()


def test_inside_the_last_line_nothing_is_made_up():
    """Within 25 m of the 6 m line its own depth, beyond that nothing: the pyramid goes on to 10 m, or does not."""
    grid = taken(contours()).grid
    at = depth_at(grid, np.array([190.0, 150.0, 0.0]), np.zeros(3))
    assert at[0] == pytest.approx(6.0, abs=1e-9)
    assert np.isnan(at[1:]).all()
    assert float(np.nanmax(grid.depth_m)) == pytest.approx(6.0)
    assert set(grid.distance_m[np.isfinite(grid.depth_m)]) == {0.0}


@pytest.mark.parametrize(
    ("given", "rules", "read_as"),
    [
        (contours([d / FOOT_M for d in DEPTHS], unit="feet"), RULES, "depths in feet,"),
        (contours([d / FOOT_M for d in DEPTHS], unit=None), replace(RULES, contours_unit="feet"), "depths in feet,"),
        (contours([-d for d in DEPTHS]), RULES, "depths in metres, negative below the datum"),
        (
            contours([212 - d for d in DEPTHS], field="elev_m", shows="elevation"),
            replace(RULES, full_supply_elevation_m=212.0),
            "bed elevations in metres, the datum being at 212 m",
        ),
    ],
)
def test_feet_signs_and_elevations_come_to_the_same_depths(given, rules, read_as):
    """Four ways to say it, one lake."""
    result = taken(given, rules)
    assert read_as in result.words
    np.testing.assert_allclose(result.grid.depth_m, taken(contours()).grid.depth_m, atol=1e-9)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (contours(unit=None), "does not tell its unit. Expected metres or feet. State depth.contours_unit"),
        (contours(shows=None), "may hold depths or elevations. Expected one of both. State depth.contours_show"),
        (contours(shows="elevation"), "holds elevations. Expected level.elevation_m"),
        (contours([2, -4, 6]), "runs from -4 to 6. Expected depths of one sign"),
    ],
)
def test_what_takes_a_guess_is_refused_by_name(given, words):
    """The file, what was found, what is allowed, what to set."""
    result = taken(given)
    assert result.grid is None
    (problem,) = result.problems
    assert (problem.subject, problem.code, problem.level) == ("depth_contours.shp", "unusable", "fault")
    assert words in problem.message
    assert problem.message.endswith("It is not used.")


def test_an_island_is_not_sounded_over():
    """It has no depth, and from the last line to its bank the depth falls back to zero."""
    grid = taken(contours(), water=lakes.island_lake()).grid
    at = depth_at(grid, np.array([0.0, 90.0, 150.0, 110.0]), np.zeros(4))
    assert np.isnan(at[:2]).all()
    np.testing.assert_allclose(at[2:], [3.0, 0.6], atol=0.1)


def test_contours_elsewhere_are_refused():
    """Another lake's file."""
    far = replace(contours(), lines=shapely.transform(squares(), lambda at: at + 5))
    assert "none of its lines lies in the water" in taken(far).problems[0].message


def test_a_raster_goes_before_contours_and_that_is_said():
    """Both supplied: the raster's words, and one line about the contours."""
    middle = np.arange(-595.0, 600.0, 10.0)
    x, y = np.meshgrid(middle, middle[::-1])
    values = ((500 - np.maximum(np.abs(x), np.abs(y))) / 50).astype(np.float32)
    raster = Raster("bed.tif", values, (10.0, 0.0, -600.0, 0.0, -10.0, 600.0), PROJECTION.crs_text, "m", 1.0)
    result = taken(contours(), raster=raster)
    assert "supplied raster bed.tif" in result.words
    assert [p.message for p in result.problems] == [
        "depth_contours.shp: bed.tif is there too and goes before it. Expected one of both. It is not used."
    ]


def test_a_refused_raster_leaves_the_place_to_the_contours():
    """Its fault is told, and the contours are used."""
    silent = Raster(
        "bed.tif", np.full((4, 4), np.nan, np.float32), (300.0, 0, -600, 0, -300.0, 600), PROJECTION.crs_text, "m", 1.0
    )
    result = taken(contours(), raster=silent)
    assert "supplied contours" in result.words
    assert [p.subject for p in result.problems] == ["bed.tif"]
