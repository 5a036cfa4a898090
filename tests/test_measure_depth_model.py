"""The depth model as a whole: from prepared soundings to lines, tints, table and words."""

from __future__ import annotations

from dataclasses import replace

import bathymetry
import numpy as np
import pytest
import shapely

from atlasgen.measure.depth_model import DepthModel, drawn_model, model_depths
from atlasgen.measure.preparation import Prepared
from atlasgen.model import DepthGrid, MeasureRules

RULES = MeasureRules(cell_m=4.0)
WATER = bathymetry.pond(400.0)


def prepared(runs: int = 20, reduced: bool = True) -> Prepared:
    """Sound a bowl of 12 m on a pond of 400 m in runs 20 m apart, a sounding every 4 m, to 5 cm."""
    x, y, line = bathymetry.runs(4, 10, 396, 10 + 20 * (runs - 1), 20, 4)
    draw = np.random.default_rng(5)
    to_bank = np.minimum.reduce([x, y, 400 - x, 400 - y])
    bed = np.minimum(to_bank / 8, 12 + np.sin(x / 40) + np.cos(y / 30))
    return Prepared(None, x, y, np.maximum(bed + draw.normal(0, 0.05, x.size), 0.1), line, reduced)


def test_a_model_holds_all_its_parts():
    """Grid with a bound wherever it has a depth, lines, tints, table, and a sentence for each."""
    model = model_depths(prepared(), WATER, RULES)
    np.testing.assert_array_equal(np.isfinite(model.grid.depth_m), np.isfinite(model.grid.bound_m))
    assert model.bound.lines == 20
    assert 0.9 < model.bound.inside <= 1.0
    assert [b.label for b in model.isobaths if b.major] == ["10", "20", "30"]
    assert pytest.approx(model.hypsometry.modelled_m2, rel=0.01) == sum(band.area.area for band in model.bands)
    assert pytest.approx(WATER.area) == model.hypsometry.lake_m2
    assert model.methods[0].startswith("The depth model has cells of 4 m")
    assert f"{model.bound.inside:.1%} lay inside" in model.methods[1]
    assert f"{model.bound.held_out:,} soundings" in model.methods[1]
    assert "half the interval of the heavy lines" in model.methods[2]
    assert model.methods[3].startswith("Volumes are sums of frusta")


def test_words_speak_the_readers_unit():
    """Half of the interval of 10 ft is 5.0 ft; of 5 m it is 2.5 m."""
    feet = model_depths(prepared(), WATER, RULES).methods[2]
    metres = model_depths(prepared(), WATER, replace(RULES, depth_unit="metres", major_every=5.0)).methods[2]
    assert "more than 5.0 ft" in feet
    assert "more than 2.5 m" in metres


def test_two_lines_make_a_model_without_a_bound():
    """Depths and lines, but no bound: the reader is told what it would take."""
    model = model_depths(prepared(runs=2), WATER, RULES)
    assert model.bound is None
    assert model.grid.bound_m is None
    assert model.isobaths
    assert all(not isobath.doubtful for isobath in model.isobaths)
    assert model.methods[1].startswith("No bound of error is stated: that takes at least 3 survey lines")
    assert "broken" not in model.methods[2]


def test_unknown_depth_of_the_lake_is_stated():
    """Two runs in the south of the pond leave most of it unknown, and the words give the share."""
    model = model_depths(prepared(runs=2), WATER, RULES)
    share = model.hypsometry.unmodelled_m2 / model.hypsometry.lake_m2
    assert share > 0.5
    assert f"The depth of {share:.1%} of the lake is not known" in model.methods[-1]


def test_level_of_the_survey_day_is_said_when_it_is_not_known():
    """Soundings that were not reduced stand below the water of the day, not below the datum."""
    words = {reduced: model_depths(prepared(reduced=reduced), WATER, RULES).methods[0] for reduced in (True, False)}
    assert "at full supply level" in words[True]
    assert "the level on the survey day is not known" in words[False]


def test_soundings_without_a_level_give_no_model():
    """None that has a depth, or none in the water: nothing is drawn and nothing is said."""
    sounded = prepared()
    assert model_depths(replace(sounded, depth_m=np.full(len(sounded.x_m), np.nan)), WATER, RULES) == DepthModel()
    assert model_depths(replace(sounded, x_m=sounded.x_m + 5000), WATER, RULES) == DepthModel()


def test_order_of_soundings_along_with_their_lines_does_not_change_the_grid():
    """Drawn lines and depths are the same, whichever end of the log comes first."""
    sounded = prepared()
    turned = Prepared(
        None, *(getattr(sounded, name)[::-1].copy() for name in ("x_m", "y_m", "depth_m", "line")), reduced=True
    )
    forth, back = (model_depths(given, WATER, RULES) for given in (sounded, turned))
    np.testing.assert_array_equal(forth.grid.depth_m, back.grid.depth_m)
    assert forth.hypsometry == back.hypsometry


def test_doubtful_lines_are_parted_from_sure_ones():
    """A grid that is sure in the west and not in the east: its lines are drawn both ways."""
    x, y = np.meshgrid(np.arange(2.0, 400, 4), np.arange(2.0, 400, 4))
    bound = np.where(x < 200, 0.3, 9.0)
    grid = DepthGrid(2 + y / 40, np.zeros_like(x), 2.0, 2.0, 4.0, 25.0, bound)
    model = drawn_model(grid, WATER, np.empty((0, 3)), RULES)
    west, east = (
        shapely.union_all([line for b in model.isobaths for line in getattr(b, kind)]).bounds
        for kind in ("lines", "doubtful")
    )
    assert west[2] <= 202
    assert east[0] >= 198
