"""The audit as values: which shores are photographed, and which are not."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from atlasgen.model.common import PhotoState

if TYPE_CHECKING:
    from shapely import LineString


@dataclass(frozen=True, slots=True)
class AuditRow:
    """One reach in the audit. Metres to the centimetre; `newest` is the time of its newest dated photo."""

    id: str
    ring: str
    from_m: float
    to_m: float
    length_m: float
    tile: str
    state: PhotoState
    photos: int
    newest: datetime | None


@dataclass(frozen=True, slots=True)
class AuditTotal:
    """Shore of a ring, of a tile or of the lake, by state; lengths add up exactly, percents to 100.0."""

    name: str
    reaches: int
    photos: int
    length_m: float
    lengths_m: Mapping[PhotoState, float]
    percent: Mapping[PhotoState, float]


@dataclass(frozen=True, slots=True)
class AuditTable:
    """All reaches, and their totals by ring, by tile and for the lake, in the order of the shore."""

    rows: tuple[AuditRow, ...]
    by_ring: tuple[AuditTotal, ...]
    by_tile: tuple[AuditTotal, ...]
    total: AuditTotal


@dataclass(frozen=True, slots=True)
class Gap:
    """A stretch of one ring without photos. Where it runs over the ring's start, `to_m` is less than `from_m`."""

    ring: str
    from_m: float
    to_m: float
    length_m: float
    reaches: tuple[str, ...]
    line: LineString
