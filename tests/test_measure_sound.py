"""Speed of sound in fresh water against two published fits, TEOS-10 and printed values; the depth correction.

Sources: Bilaniuk and Wong, J. Acoust. Soc. Am. 93 (1993) 1609 and 99 (1996) 3257 (148-point fit); Greenspan and
Tschiegg, J. Acoust. Soc. Am. 31 (1959) 75; TEOS-10 through the library gsw.
"""

from __future__ import annotations

import gsw
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.measure.sound import below_surface, sound_speed_mps

BILANIUK_WONG = (1402.38744, 5.03836171, -5.81172916e-2, 3.34638117e-4, -1.48259672e-6, 3.16585020e-9)
GREENSPAN_TSCHIEGG = (1402.736, 5.03358, -0.0579506, 3.31636e-4, -1.45262e-6, 3.0449e-9)
TEMPERATURES = (0.0, 4.0, 10.0, 15.0, 20.0, 25.0, 30.0)


def fit(coefficients, temperature_c):
    """Evaluate a fit by Horner's rule, another way than the program's."""
    total = 0.0
    for coefficient in reversed(coefficients):
        total = total * temperature_c + coefficient
    return total


@pytest.mark.parametrize(
    ("temperature_c", "expected_mps"),
    list(zip(TEMPERATURES, (1402.385, 1421.633, 1447.289, 1465.960, 1482.380, 1496.728, 1509.167), strict=True)),
)
def test_the_speed_is_that_of_marczak(temperature_c, expected_mps):
    """Its own polynomial, to a thousandth."""
    assert expected_mps == pytest.approx(sound_speed_mps(temperature_c), abs=0.001)


@pytest.mark.parametrize("temperature_c", TEMPERATURES)
def test_two_other_fits_and_teos_10_agree(temperature_c):
    """Within 0.05 m/s; Greenspan and Tschiegg's older values lie 0.3 m/s higher."""
    speed_mps = sound_speed_mps(temperature_c)
    assert fit(BILANIUK_WONG, temperature_c) == pytest.approx(speed_mps, abs=0.05)
    assert float(gsw.sound_speed_t_exact(0.0, temperature_c, 0.0)) == pytest.approx(speed_mps, abs=0.05)
    assert fit(GREENSPAN_TSCHIEGG, temperature_c) - speed_mps == pytest.approx(0.3, abs=0.07)


def test_fresh_water_reaches_800_fathoms_a_second_at_14_2_degrees():
    """Printed in "The Speed of Sound in Water", Canadian Acoustics: 1463 m/s at 14.2 °C, to a tenth of a degree."""
    assert sound_speed_mps(14.1) < 800 * 1.8288 < sound_speed_mps(14.25)


@pytest.mark.parametrize(
    ("temperature_c", "printed_mps"), [(1, 1408), (10, 1448), (15, 1466), (20, 1483), (25, 1497), (30, 1509)]
)
def test_a_printed_table_of_whole_numbers_agrees(temperature_c, printed_mps):
    """Distilled water, after Greenspan and Tschiegg: half a metre of rounding and the 0.3 m/s between the fits."""
    assert printed_mps == pytest.approx(sound_speed_mps(temperature_c), abs=0.85)


def test_a_textbook_formula_agrees_to_a_metre_a_second():
    """1403 + 5 t - 0.06 t² + 0.0003 t³ at 20 °C is 1481.4 m/s (school physics)."""
    assert sound_speed_mps(20.0) == pytest.approx(1403 + 5 * 20 - 0.06 * 20**2 + 0.0003 * 20**3, abs=1.0)


@pytest.mark.parametrize("temperature_c", [-0.1, 95.1, float("nan")])
def test_no_speed_is_stated_outside_the_range(temperature_c):
    """Nothing is extrapolated."""
    with pytest.raises(ValueError, match="0 to 95"):
        sound_speed_mps(temperature_c)


@pytest.mark.parametrize(
    ("temperature_c", "true_m"), [(0, 18.698), (4, 18.955), (10, 19.297), (20, 19.765), (30, 20.122)]
)
def test_20_m_shown_at_1500_is_less_in_cold_water(temperature_c, true_m):
    """20 x c / 1500."""
    assert true_m == pytest.approx(
        float(below_surface(20.0, 0.0, 0.0, sound_speed_mps(temperature_c) / 1500)), abs=1e-3
    )


def test_the_draught_is_not_corrected_whether_it_is_in_the_depth_or_not():
    """0.5 m of draught, 15.5 m shown from the surface (15 m from the transducer), 10 °C: 14.973 m (EM 1110-2-1003)."""
    ratio = sound_speed_mps(10.0) / 1500
    assert below_surface(np.array([15.5]), 0.5, 0.0, ratio) == pytest.approx([14.973], abs=5e-4)
    assert below_surface(np.array([15.0]), 0.0, 0.5, ratio) == pytest.approx([14.973], abs=5e-4)


@given(st.floats(0.1, 100), st.floats(0, 3))
def test_a_sounder_that_knows_the_speed_is_not_corrected(depth_m, draught_m):
    """A ratio of 1 leaves the depth, wherever its draught stands."""
    assert depth_m + draught_m == pytest.approx(float(below_surface(depth_m, 0.0, draught_m, 1.0)))
    assert depth_m + draught_m == pytest.approx(float(below_surface(depth_m + draught_m, draught_m, 0.0, 1.0)))
