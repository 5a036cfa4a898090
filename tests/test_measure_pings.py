"""Side-scan by the numbers.

Sources: USGS Open-File Report 2010-1332, figure 9, takes the water column out by slant and height; two-way travel time;
"3 pings on a 1 m object at 100 m: up to 4.8 knots" (common practice, instrument manuals); sound speed in fresh water by
Marczak (1997).
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.measure.pings import blind_half_width_m, ground_range_m, ping_interval_s, ping_spacing_m
from atlasgen.units import KNOT_MPS


@pytest.mark.parametrize(
    ("slant_m", "height_m", "expected_m"),
    [(50, 5, 49.749), (100, 10, 99.499), (100, 20, 97.980), (75, 15, 73.485), (13, 5, 12.0), (40, 12, 38.158)],
)
def test_ground_range(slant_m, height_m, expected_m):
    """Pythagoras, to the millimetre."""
    assert pytest.approx(expected_m, abs=1e-3) == float(ground_range_m(slant_m, height_m))


def test_a_bed_beyond_the_range_is_not_reached():
    """10 m of range, 12 m of water."""
    assert float(ground_range_m(10.0, 12.0)) == 0.0


@pytest.mark.parametrize(("slant_m", "expected_ms"), [(50, 66.667), (75, 100.0), (100, 133.333)])
def test_ping_interval(slant_m, expected_ms):
    """2R/c at 1500 m/s."""
    assert pytest.approx(expected_ms, abs=1e-3) == float(ping_interval_s(slant_m, 1500.0, None)) * 1000


def test_ping_interval_in_fresh_water():
    """100 m at 10 °C, 1447.29 m/s: 138.19 ms."""
    assert pytest.approx(138.19, abs=0.01) == float(ping_interval_s(100.0, 1447.29, None)) * 1000


def test_a_slow_instrument_sets_the_interval():
    """12 pings a second at most: 83.3 ms, though sound would be back from 40 m in 54 ms."""
    assert pytest.approx(1 / 12) == float(ping_interval_s(40.0, 1482.4, 12.0))


@pytest.mark.parametrize(("slant_m", "expected_m"), [(50, 0.1333), (100, 0.2667)])
def test_ping_spacing(slant_m, expected_m):
    """2 m/s at 1500 m/s."""
    assert pytest.approx(expected_m, abs=1e-4) == float(ping_spacing_m(2.0, slant_m, 1500.0, None))


def test_the_speed_that_instrument_manuals_print():
    """Three pings on a metre at 100 m are had up to 2.500 m/s, 4.86 knots; manuals print 4.8."""
    spacing_m = ping_spacing_m(np.array([2.5, 4.8 * KNOT_MPS]), 100.0, 1500.0, None)
    assert pytest.approx(3.0) == 1 / spacing_m[0]
    assert 3.0 < 1 / spacing_m[1] < 3.05


@pytest.mark.parametrize(("slant_m", "knots"), [(50, 5.832), (75, 3.888), (100, 2.916)])
def test_speeds_for_five_pings(slant_m, knots):
    """The same formula for five; the requirement of five is common practice, no source at hand."""
    assert pytest.approx(5.0, abs=0.01) == 1 / float(ping_spacing_m(knots * KNOT_MPS, slant_m, 1500.0, None))


def test_the_blind_strip():
    """10 m above the bed and 70 degrees: 3.640 m to each side."""
    assert pytest.approx(3.640, abs=1e-3) == float(blind_half_width_m(10.0, 70.0))


@given(st.floats(1, 200), st.floats(0.01, 1), st.floats(31, 89))
def test_ground_and_slant_make_a_right_triangle(slant_m, share, steepest_deg):
    """R² = h² + g² while the bed is within range, and the blind strip is seen at the stated angle."""
    height_m = slant_m * share
    ground_m = float(ground_range_m(slant_m, height_m))
    assert pytest.approx(slant_m, rel=1e-9) == float(np.hypot(ground_m, height_m))
    blind_m = float(blind_half_width_m(height_m, steepest_deg))
    assert pytest.approx(steepest_deg) == np.degrees(np.arctan2(height_m, blind_m))
