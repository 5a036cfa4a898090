"""Side-scan by the numbers: slant to ground range, the blind strip beneath, pings along the track.

Flat bed, sound in straight lines, boat upright: what a boat's record allows. All lengths in metres.
"""

from __future__ import annotations

import numpy as np


def ground_range_m(slant_m: np.ndarray | float, height_m: np.ndarray | float) -> np.ndarray:
    """Distance over the ground to what the sonar meets at a slant range, √(R² - h²); 0 where the bed is beyond it.

    The water column beneath is taken out of a side-scan picture by this (USGS Open-File Report 2010-1332, figure 9).
    """
    square = np.asarray(slant_m, float) ** 2 - np.asarray(height_m, float) ** 2
    return np.sqrt(np.maximum(square, 0.0))


def blind_half_width_m(height_m: np.ndarray | float, steepest_deg: float) -> np.ndarray:
    """Half the width of the strip under the boat that no side sees, h · cot of the steepest useful angle.

    `steepest_deg` is below the horizontal. 10 m above the bed and 70 degrees: 3.640 m.
    """
    return np.asarray(height_m, float) / np.tan(np.radians(steepest_deg))


def ping_interval_s(slant_m: np.ndarray | float, sound_speed_mps: float, ping_rate_hz: float | None) -> np.ndarray:
    """Time from ping to ping: sound must go out and come back, 2R/c, and the instrument may be slower than that."""
    travel_s = 2.0 * np.asarray(slant_m, float) / sound_speed_mps
    return travel_s if ping_rate_hz is None else np.maximum(travel_s, 1.0 / ping_rate_hz)


def ping_spacing_m(
    speed_mps: np.ndarray | float, slant_m: np.ndarray | float, sound_speed_mps: float, ping_rate_hz: float | None
) -> np.ndarray:
    """Way the boat makes from ping to ping.

    Three pings on an object of 1 m at a range of 100 m and 1500 m/s allow 2.5 m/s or 4.86 knots; instrument manuals
    print "up to 4.8 knots" (common practice).
    """
    return np.asarray(speed_mps, float) * ping_interval_s(slant_m, sound_speed_mps, ping_rate_hz)
