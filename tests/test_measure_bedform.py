"""The bed's form of a small survey, from the model to what lies off which reach."""

from __future__ import annotations

import bathymetry
import numpy as np
import pytest

from atlasgen.measure.bedform import survey_bedform
from atlasgen.measure.depth import build_grid
from atlasgen.model import MeasureRules, Placed
from atlasgen.units import FOOT_M

WATER = bathymetry.pond(300.0)
REACHES = bathymetry.reaches_of(WATER, 100.0)


@pytest.fixture(scope="module")
def placed() -> Placed:
    fields = dict.fromkeys(Placed.__dataclass_fields__, ())
    crs = "+proj=aeqd +lat_0=45 +lon_0=-30 +datum=WGS84 +units=m +no_defs"
    return Placed(**(fields | {"crs_metric": crs, "water": WATER, "reaches": REACHES}))


def surveyed(bottom):
    x, y, line = bathymetry.runs(3, 3, 297, 297, 10.0, 2.5)
    return x, y, build_grid(x, y, bottom(x, y), WATER, 5.0, 25.0, line)


def bottom(x, y):
    """1 in 10 from every bank down to 6 m, a hump of 2 m 80 m off the middle of the south bank."""
    to_bank = np.minimum.reduce([x, y, 300 - x, 300 - y])
    away = np.hypot(x - 150, y - 80) / 25
    return np.minimum(to_bank / 10, 6) - np.where(away < 1, 2 * np.cos(np.minimum(away, 1) * np.pi / 2) ** 2, 0)


def test_a_hump_is_told_at_the_reach_it_lies_off(placed):
    """The south bank's middle reach names it, the north bank's does not; every reach has a profile."""
    x, y, grid = surveyed(bottom)
    form = survey_bedform(x, y, placed, grid, MeasureRules(depth_unit="feet", profile_depths=(5.0, 10.0)))
    (hump,) = [feature for feature in form.relief if feature.kind == "hump"]
    beside = {reach for reach, near in form.near.items() if any(item.feature == hump.id for item in near)}
    south = {reach.id for reach in REACHES if reach.line.centroid.y == 0}
    north = {reach.id for reach in REACHES if reach.line.centroid.y == 300}
    assert beside & south
    assert not beside & north
    assert set(form.profiles) == set(form.near) == {reach.id for reach in REACHES}
    profile = form.profiles[next(iter(north))]
    assert [item.depth_m for item in profile.reached] == [pytest.approx(5 * FOOT_M), pytest.approx(10 * FOOT_M)]
    assert profile.reached[0].distance_m == pytest.approx(15.2, abs=1)
    assert any("Lundblad" in sentence for sentence in form.methods)


def test_without_a_model_nothing_is_said(placed):
    """No profile, no relief, no method."""
    none = np.empty(0)
    form = survey_bedform(none, none, placed, None, MeasureRules())
    assert set(form.profiles.values()) == {None}
    assert (form.relief, form.near, form.methods) == ((), {}, ())
