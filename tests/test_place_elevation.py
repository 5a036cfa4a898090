"""Elevations are believed only when all of it is said and the shoreline agrees; then land stands as they tell."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from lakes import square_lake
from pyproj import CRS

from atlasgen.model.rasters import ElevationRules, Raster
from atlasgen.model.views import ViewRules
from atlasgen.place.elevation import known_land
from atlasgen.place.geo import Projection
from atlasgen.place.land import inland_grid

MAP = Projection("+proj=aeqd +lat_0=-31.6 +lon_0=-96.4 +datum=WGS84 +units=m +no_defs")
MAP_WKT = CRS.from_user_input(MAP.crs_text).to_wkt()
LAKE = square_lake()
INLAND = inland_grid(LAKE, 400.0, 5.0)
SAID = ElevationRules("surface", "sea level", "metres", 214.0, "sea level")


def land(rasters, rules=SAID, views=ViewRules()):  # noqa: B008  (frozen)
    return known_land(rasters, rules, LAKE, INLAND, MAP, views)


def raster(add_m: float = 0.0, *, slope: float = 0.1, **more) -> Raster:
    """214 m over the water and at the shoreline, rising by `slope` inland, in cells of 10 m to 600 m off the lake."""
    x, y = np.meshgrid(np.arange(-1095, 1100, 10), np.arange(1095, -1100, -10))
    values = 214 + add_m + slope * np.maximum(np.maximum(np.abs(x), np.abs(y)) - 500, 0)
    return Raster("dem.tif", values.astype(np.float32), (10, 0, -1100, 0, -10, 1100), MAP_WKT, **more)


def inland_of(known, away_m: float) -> float:
    """Height of the land so far west of the lake's west bank."""
    return float(known.height(np.array([-500 - away_m]), np.array([0.0]))[0])


def test_a_surface_is_taken_as_it_is():
    """10 in 100 over 200 m are 20 m above the shoreline; farther than the raster there is nothing known."""
    known = land([raster()])
    assert inland_of(known, 200) == pytest.approx(20, abs=0.2)
    assert np.isnan(inland_of(known, 5000))
    assert known.problems == ()
    assert "elevations of dem.tif, which show what grows on the land" in known.method
    assert "100 % of the shoreline" in known.method
    assert "stand-in" not in known.method


def test_bare_ground_gets_the_growth_that_the_rules_state():
    """3 m more where it is fully grown, 25 m and more from the water, and half of it half-way there."""
    known = land([raster()], replace(SAID, shows="ground"))
    assert inland_of(known, 200) == pytest.approx(23, abs=0.2)
    assert inland_of(known, 12.5) == pytest.approx(1.25 + 1.5, abs=0.3)
    assert "3 m of growth" in known.method


def test_heights_above_the_datum_need_no_elevation_of_it():
    """The crew's levelling starts at the full supply level itself."""
    known = land([raster(-214)], ElevationRules("surface", "datum", "metres"))
    assert inland_of(known, 200) == pytest.approx(20, abs=0.2)


def test_feet_are_feet():
    """By the file's word or the crew's; 1 ft is 0.3048 m."""
    feet = raster(slope=0.1)
    feet = replace(feet, values=feet.values / np.float32(0.3048))
    assert inland_of(land([feet], replace(SAID, unit="feet")), 200) == pytest.approx(20, abs=0.2)
    told = replace(feet, unit="ft", unit_m=0.3048)
    assert inland_of(land([told], replace(SAID, unit=None)), 200) == pytest.approx(20, abs=0.2)


@pytest.mark.parametrize(
    ("rules", "more", "words"),
    [
        (replace(SAID, shows=None), {}, "elevation.shows is not set"),
        (replace(SAID, above=None), {}, "not said what its heights count from"),
        (replace(SAID, datum_elevation_m=None), {}, "the water's elevation is not stated"),
        (replace(SAID, datum_above=None), {}, "the water's elevation is not stated"),
        (replace(SAID, datum_above="ellipsoid"), {}, "the water's elevation is given above ellipsoid"),
        (SAID, {"vertical": "ellipsoid"}, "the file counts from 'ellipsoid'"),
        (SAID, {"unit": "ft", "unit_m": 0.3048}, "the file's unit is 'ft'"),
        (replace(SAID, unit=None), {"unit": "smoot"}, "unit 'smoot'"),
        (SAID, {"add_m": 31.0}, "it stands +31."),
        (SAID, {"add_m": -31.0}, "it stands -30."),
    ],
)
def test_what_is_not_said_or_contradicts_itself_is_not_used(rules, more, words):
    """Each fault names the file and the next step, and the stand-in is used and said."""
    known = land([raster(**more)], rules)
    assert known.height is None
    assert [(problem.subject, problem.code, problem.level) for problem in known.problems] == [
        ("dem.tif", "unusable", "fault")
    ]
    assert words in known.problems[0].message
    assert "could not be used, so what the land hides from a camera is judged by a stand-in" in known.method


def test_what_the_file_says_of_its_datum_is_enough():
    """A vertical system named by the file, and the water's elevation above the same."""
    known = land([raster(vertical="EGM96 height")], replace(SAID, above=None))
    assert known.height is not None
    assert known.problems == ()


def test_small_doubts_are_told_and_the_raster_used():
    """No unit, or a shoreline five metres off: used and said."""
    unsaid, five = land([raster()], replace(SAID, unit=None)), land([raster(5.0)])
    assert ["its unit is not said; taken for metres" in problem.message for problem in unsaid.problems] == [True]
    assert inland_of(unsaid, 200) == pytest.approx(20, abs=0.2)
    assert ["it stands +5." in problem.message for problem in five.problems] == [True]
    assert inland_of(five, 200) == pytest.approx(25, abs=0.2)


def test_without_any_the_stand_in_is_said():
    """Its figures are those of the rules."""
    known = land([], views=ViewRules(bank_height_m=9.0))
    assert known.height is None
    assert known.method.startswith("No elevations were supplied")
    assert "to 9 m within 25 m of the shoreline, and on by 15 m in 100 m up to 60 m" in known.method


def test_a_second_raster_fills_what_the_first_leaves_open():
    """The first file that knows is believed."""
    first, second = raster(), raster(2.0)
    values = first.values.copy()
    values[:, : values.shape[1] // 2] = np.nan
    known = land([replace(first, values=values), second])
    heights = known.height(np.array([-700.0, 700.0]), np.array([0.0, 0.0]))
    assert heights.tolist() == pytest.approx([22, 20], abs=0.3)


def test_where_elevations_end_the_stand_in_is_said():
    """Half of the shoreline outside: so many percent, and what stands elsewhere."""
    half = raster()
    values = half.values.copy()
    values[: len(values) // 2] = np.nan
    known = land([replace(half, values=values)])
    assert "cover 50 % of the shoreline" in known.method
    assert "Elsewhere the land is taken to rise" in known.method
