"""A turn-around: one station, many headings, within a short time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from atlasgen.model.common import LonLat, PointM


@dataclass(frozen=True, slots=True)
class TurnAround:
    """Photos that were taken while turning on one spot.

    `photos` and `headings_deg_true` run clockwise from north (a heading a little west of it counts as north).

    `point` and `lonlat` are the station of the member nearest to the middle of all stations, `reach` the one nearest
    to it. `gaps_deg` are the bearings, from and to, clockwise, that no frame covers; `covered_deg` is the rest of 360.
    """

    id: str
    photos: tuple[str, ...]
    headings_deg_true: tuple[float, ...]
    widths_deg: tuple[float, ...]
    point: PointM
    lonlat: LonLat
    reach: str
    first: datetime
    last: datetime
    covered_deg: float
    gaps_deg: tuple[tuple[float, float], ...]
