"""One band of a georeferenced grid: heights of land, heights of the bed, or depths."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    import numpy as np

# What heights count from.
HeightDatum = Literal["sea level", "ellipsoid"]


@dataclass(frozen=True, slots=True)
class Raster:
    """Values as the file tells them, scale and offset applied, in the file's own unit.

    `values` is float32 (rows, columns), NaN where nothing is known. `transform` (a, b, c, d, e, f) leads from columns
    and rows to the file's own coordinates, x = a col + b row + c and y = d col + e row + f; the corner of the first
    cell is (0, 0) and its middle (0.5, 0.5). `crs` is WKT of the horizontal system, x before y, whatever order its
    authority states. `unit` is the file's word for the unit, `unit_m` its length in metres; both None where it does
    not say, and `unit_m` alone where the word is not known. `vertical` says what the values count from, as the file
    names it ("ellipsoid" for three-dimensional coordinates), None where it does not.
    """

    file: str
    values: np.ndarray
    transform: tuple[float, float, float, float, float, float]
    crs: str
    unit: str | None = None
    unit_m: float | None = None
    vertical: str | None = None

    @property
    def above(self) -> HeightDatum | None:
        """What the values count from, as the file tells it; None where it does not."""
        if self.vertical is None:
            return None
        return "ellipsoid" if "ellips" in self.vertical.casefold() else "sea level"


@dataclass(frozen=True, slots=True)
class DepthContours:
    """Lines of equal depth or elevation, as their file tells them.

    `lines` are n linestrings (or closed rings) on WGS 84, `values` (n,) what each stands for, in the file's own unit.
    `field` is the field that holds them; `unit` and `shows` are what its name tells, None where it tells nothing.
    """

    file: str
    lines: np.ndarray
    values: np.ndarray
    field: str
    unit: Literal["metres", "feet"] | None = None
    shows: Literal["depth", "elevation"] | None = None


@dataclass(frozen=True, slots=True)
class ElevationRules:
    """What the crew says of the land's elevations; None is not said.

    `shows`: the bare ground, or the surface with all that grows and stands on it. `above`: what the elevations count
    from, "datum" being the chart datum itself; `unit` likewise, for files that do not say. `datum_elevation_m` is the
    height of the chart datum above `datum_above`.
    """

    shows: Literal["ground", "surface"] | None = None
    above: Literal["sea level", "ellipsoid", "datum"] | None = None
    unit: Literal["metres", "feet"] | None = None
    datum_elevation_m: float | None = None
    datum_above: HeightDatum | None = None
