"""Where each part of a shoreline lies on a strip chart: how much shore a row holds, and what goes into which row."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from atlasgen.compose.drawing import nice_step
from atlasgen.model import Reach
from atlasgen.model.states import Pieces, ShoreStates
from atlasgen.model.wording import say
from atlasgen.units import MILE_M, DepthUnit, DistanceUnit

# The finest step a strip shows, mm on paper: what is said of the shore at a column's middle is drawn as wide as it.
COLUMN_MM = 0.25
# Letters of a ring's name: as many as stand on half a row.
_LONGEST_NAME = 48
# Between rings that share a row.
_BETWEEN_MM = 9.0
# Least room between the numbers along the shore.
_NUMBER_MM = 14.0
AXIS_UNIT_M: Mapping[DistanceUnit, tuple[float, str]] = {"metric": (1000.0, "km"), "imperial": (MILE_M, "mi")}
# Shore in a row, in km or miles. One row of about 4 to 8 km on a page's width is 17 to 34 mm for a kilometre: fine
# enough to find a bank by, small enough to see a lake at once. Ours. Shorter ones are for lakes that fit into one row.
_ROWS: Mapping[DistanceUnit, tuple[float, ...]] = {"metric": (4, 5, 6, 7, 8), "imperial": (2.5, 3, 4, 5)}
_SHORT_ROWS = (0.25, 0.5, 1, 1.5, 2, 2.5, 3)


@dataclass(frozen=True, slots=True)
class StripShore:
    """What a strip chart draws. Arrays are by piece of the shore; NaN where not known.

    `ring_names` (by ring id) are printed at the start of a ring, `tile_labels` are by tile id; the names of waters come
    from the reaches.
    `depth_m` is below datum at `off_bank_m` from the bank; `coverage` the share near a sounding, 0 to 1.
    """

    pieces: Pieces
    reaches: Sequence[Reach]
    states: ShoreStates
    ring_names: Mapping[str, str] = field(default_factory=dict)
    tile_labels: Mapping[str, str] = field(default_factory=dict)
    depth_m: np.ndarray | None = None
    coverage: np.ndarray | None = None
    off_bank_m: float = 20.0
    depth_unit: DepthUnit = "feet"
    distance_unit: DistanceUnit = "metric"

    def ring_name(self, ring: int, *, continued: bool = False) -> str:
        """Name of a ring by its number, cut to what a row can hold; where it goes on, only an island is named again."""
        name = self.ring_names.get(self.pieces.rings[ring], "")
        name = name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 1].rstrip()}…"
        if not (name and continued):
            return name
        return say("strip-continued", ring=name) if ring else ""

    def ring_length_m(self, ring: int) -> float:
        """Length of a ring by its number."""
        return float(self.pieces.to_m[self.pieces.ring == ring].max(initial=0.0))


@dataclass(frozen=True, slots=True)
class Span:
    """A part of one ring on the paper, from left to right; `whole`: it is all of its ring."""

    ring: int
    from_m: float
    to_m: float
    left_mm: float
    metres_per_mm: float
    ring_length_m: float

    @property
    def right_mm(self) -> float:
        """Its right end on the paper."""
        return self.x(self.to_m)

    @property
    def whole(self) -> bool:
        """Whether it shows all of its ring."""
        return self.to_m - self.from_m >= self.ring_length_m - 1e-6

    def x(self, chainage_m: float) -> float:
        """Where a chainage lies on the paper, mm from the left."""
        return self.left_mm + (chainage_m - self.from_m) / self.metres_per_mm

    def columns(self, pieces: Pieces) -> tuple[np.ndarray, np.ndarray]:
        """Return edges in mm, shape (n + 1,), and the number of the piece at each column's middle, shape (n,)."""
        count = max(1, round((self.right_mm - self.left_mm) / COLUMN_MM))
        edges_m = np.linspace(self.from_m, self.to_m, count + 1)
        own = np.flatnonzero(pieces.ring == self.ring)
        middles = (edges_m[1:] + edges_m[:-1]) / 2
        at = np.searchsorted(pieces.from_m[own], middles, "right") - 1
        return self.left_mm + (edges_m - self.from_m) / self.metres_per_mm, own[np.maximum(at, 0)]


def lay_out(
    lengths_m: Sequence[float], least_mm: Sequence[float], row_m: float, left_mm: float, plot_mm: float
) -> list[list[Span]]:
    """Return rows of spans: rings one after the other, a ring cut at full rows only, a short one beside another.

    Parameters
    ----------
    lengths_m, least_mm
        By number of the ring: its length, and the room that its words need.
    """
    scale = row_m / plot_mm
    rows: list[list[Span]] = []
    used_mm = plot_mm
    for ring, length_m in enumerate(lengths_m):
        if used_mm + max(length_m / scale, least_mm[ring]) > plot_mm + 1e-6:
            rows.append([])
            used_mm = 0.0
        starts = np.arange(0, max(1, np.ceil(length_m / row_m - 1e-9))) * row_m
        for from_m in starts.tolist():
            if from_m:
                rows.append([])
            to_m = min(from_m + row_m, length_m)
            rows[-1].append(Span(ring, from_m, to_m, left_mm + used_mm, scale, length_m))
        used_mm += max((rows[-1][-1].to_m - rows[-1][-1].from_m) / scale, least_mm[ring]) + _BETWEEN_MM
    return rows


def shore_in_a_row_m(
    lengths_m: Sequence[float], least_mm: Sequence[float], unit: DistanceUnit, plot_mm: float, rows_on_a_page: int
) -> float:
    """Choose how much shore a row holds: as little as fits everything on one page, else the most."""
    unit_m, _ = AXIS_UNIT_M[unit]
    choices = [count * unit_m for count in (*_SHORT_ROWS, *_ROWS[unit])]
    longest_m = max(lengths_m)
    if longest_m <= choices[len(_SHORT_ROWS)]:
        return next(row_m for row_m in choices if row_m >= longest_m)
    long_rows = choices[len(_SHORT_ROWS) :]
    fitting = (m for m in long_rows if len(lay_out(lengths_m, least_mm, m, 0.0, plot_mm)) <= rows_on_a_page)
    return next(fitting, long_rows[-1])


def number_step_m(metres_per_mm: float, unit: DistanceUnit) -> float:
    """Return the step of the numbers along the shore: 1, 2 or 5 times a power of ten, in km or miles."""
    unit_m, _ = AXIS_UNIT_M[unit]
    return nice_step(_NUMBER_MM * metres_per_mm / unit_m, 1) * unit_m
