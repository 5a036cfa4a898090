"""Shades the bed as the sun would, were the lake dry: hillshade of the depth grid.

Slopes are those of Horn, "Hill shading and the reflectance map", Proceedings of the IEEE 69 (1981) 14-47: differences
over three by three cells, the nearer ones weighing double. Brightness is the cosine of the angle between the surface
and the sun.
"""

from __future__ import annotations

import numpy as np

# Exaggerations that a reader can picture; ours.
_STEPS = (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 15.0, 20.0)
# The steepest tenth of the bed is drawn at about 45 degrees: beyond it shade no longer tells steep from steeper. Ours.
_STEEP_SHARE = 0.9
_AROUND = ((-1, -1), (-1, 0), (-1, 1), (0, -1), (0, 1), (1, -1), (1, 0), (1, 1))


def slopes(height_m: np.ndarray, cell_m: float) -> tuple[np.ndarray, np.ndarray]:
    """Return the rise per metre to the east and to the north, by Horn's differences; NaN where no height is known.

    `height_m` has row 0 in the south. A neighbour that is not known is taken from across the middle, so that the
    relief reaches the bank; where neither side is known, the bed is taken for level that way.
    """
    filled = _filled(height_m)
    east = (filled[-1, 1] + 2 * filled[0, 1] + filled[1, 1]) - (filled[-1, -1] + 2 * filled[0, -1] + filled[1, -1])
    north = (filled[1, -1] + 2 * filled[1, 0] + filled[1, 1]) - (filled[-1, -1] + 2 * filled[-1, 0] + filled[-1, 1])
    return east / (8 * cell_m), north / (8 * cell_m)


def hillshade(
    east: np.ndarray, north: np.ndarray, azimuth_deg: float, altitude_deg: float, exaggeration: float
) -> np.ndarray:
    """Return how bright slopes lie in the sun: 0 (turned away) to 1 (square to it); NaN stays NaN."""
    azimuth, altitude = np.radians(azimuth_deg), np.radians(altitude_deg)
    x, y = exaggeration * east, exaggeration * north
    toward = np.cos(altitude) * (x * np.sin(azimuth) + y * np.cos(azimuth))
    return np.clip((np.sin(altitude) - toward) / np.sqrt(1 + x * x + y * y), 0.0, None)


def fitting_exaggeration(east: np.ndarray, north: np.ndarray) -> float:
    """Choose how much steeper than true the bed is drawn, from its own steepness."""
    steepness = np.hypot(east, north)
    steepness = steepness[np.isfinite(steepness)]
    steep = float(np.quantile(steepness, _STEEP_SHARE)) if steepness.size else 0.0
    wanted = 1 / steep if steep > 0 else _STEPS[-1]
    return max((step for step in _STEPS if step <= wanted), default=_STEPS[0])


def _filled(height_m: np.ndarray) -> dict[tuple[int, int], np.ndarray]:
    """Return the eight neighbours of every cell by (rows north, columns east), those not known filled in."""
    near = {step: _neighbour(height_m, *step) for step in _AROUND}
    across = {step: 2 * height_m - near[-step[0], -step[1]] for step in _AROUND}
    found = {step: _first_known(near[step], across[step], height_m) for step in _AROUND if 0 in step}
    for north, east in set(_AROUND) - set(found):
        plane = found[north, 0] + found[0, east] - height_m
        found[north, east] = _first_known(near[north, east], across[north, east], plane)
    return found


def _first_known(*values: np.ndarray) -> np.ndarray:
    first, *others = values
    return np.where(np.isfinite(first), first, _first_known(*others)) if others else first


def _neighbour(values: np.ndarray, north: int, east: int) -> np.ndarray:
    rows, cols = values.shape
    return np.pad(values, 1, constant_values=np.nan)[1 + north : 1 + north + rows, 1 + east : 1 + east + cols]
