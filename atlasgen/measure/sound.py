"""Speed of sound in fresh water, and depths corrected for it.

An echo sounder times an echo and multiplies by a speed that it takes for granted. Where the water carries sound at
another speed, the way from the transducer to the bed is off in the same proportion; the draught, which is measured
with a tape, is not (depth = speed x time / 2 from the transducer down: USACE EM 1110-2-1003, chapter 9).
"""

from __future__ import annotations

import numpy as np

# W. Marczak, Water as a standard in the measurements of speed of sound in liquids, J. Acoust. Soc. Am. 102 (1997),
# 2776-2779: pure water at one atmosphere, 0 to 95 degrees Celsius, powers of the temperature from 0 to 5.
_MARCZAK = (1402.385, 5.038813, -5.799136e-2, 3.287156e-4, -1.398845e-6, 2.787860e-9)
COLDEST_C, WARMEST_C = 0.0, 95.0


def sound_speed_mps(temperature_c: float) -> float:
    """Speed of sound in fresh water at the surface, m/s (Marczak 1997).

    Depth adds about 0.016 m/s for each metre and a lake's salts less than 1 m/s for each gram in a litre (both from
    memory): to a lake's depth they are a fifth of what one degree changes.

    Raises
    ------
    ValueError
        The temperature is outside the polynomial's range, 0 to 95 °C.
    """
    if not COLDEST_C <= temperature_c <= WARMEST_C:
        raise ValueError(f"{temperature_c} °C: the speed of sound is known for {COLDEST_C:g} to {WARMEST_C:g} °C.")
    return float(np.polynomial.polynomial.polyval(temperature_c, _MARCZAK))


def below_surface(
    depth_m: np.ndarray, draught_in_m: float | np.ndarray, draught_to_add_m: float | np.ndarray, speed_ratio: float
) -> np.ndarray:
    """Depth below the water's surface from the recorded depth, metres.

    Parameters
    ----------
    draught_in_m
        Part of the recorded depth that is draught, added by sounder, log or reader: no sound travelled it.
    draught_to_add_m
        Draught that is in no recorded depth yet.
    speed_ratio
        Speed of sound in this water over the speed that the sounder takes for granted; 1 for no correction.
    """
    return draught_in_m + (np.asarray(depth_m, dtype=float) - draught_in_m) * speed_ratio + draught_to_add_m
