"""What `place` works out: where everything is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Literal

from atlasgen.model.common import LonLat, Measured, PointM, Problem
from atlasgen.model.landmarks import Landmark
from atlasgen.model.survey import PhotoFile

if TYPE_CHECKING:
    from shapely import LineString, MultiPolygon, Polygon


@dataclass(frozen=True, slots=True)
class Ring:
    """One closed line of the shoreline, metric, walked with the water on the right hand from its start point."""

    id: str
    line: LineString
    island: bool
    name: str = ""


@dataclass(frozen=True, slots=True)
class Reach:
    """A stretch of shoreline, the unit of linking. `line` is metric; `faces_deg` points over the water."""

    id: str
    ring: str
    from_m: float
    to_m: float
    line: LineString
    midpoint: LonLat
    faces_deg: float
    tile: str
    name: str
    place: str = ""

    @property
    def length_m(self) -> float:
        """Length along the shore."""
        return self.to_m - self.from_m


@dataclass(frozen=True, slots=True)
class Tile:
    """A cell of WebMercatorQuad (`id` z/x/y) or a sheet of the crew's; `label` is what a reader sees."""

    id: str
    label: str
    area: Polygon
    bounds_deg: tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo whose camera is placed: where it stood, which way it looked, and what it is tied to.

    `lonlat`, `point`: the station; of a photo that `is_private` only a place near it.
    `moved_m` is None, or how far a correction moved it from what the file said.
    """

    id: str
    source: PhotoFile
    lonlat: LonLat
    point: PointM
    position_from: Literal["exif", "xmp", "track", "corrections"]
    position_how: str
    position_sigma_m: float | None
    taken: datetime | None
    taken_how: str
    height_above_water_m: Measured | None
    heading_deg_true: Measured | None
    pitch_deg: Measured | None
    roll_deg: Measured | None
    hfov_deg: Measured
    vfov_deg: Measured
    kind: Literal["aerial", "shore"]
    reach: str
    distance_to_shore_m: float
    nearest_chainage_m: float
    tile: str
    over_water: bool
    caption: str | None = None
    is_private: bool = False


@dataclass(frozen=True, slots=True)
class Placed:
    """Where everything is. Tuples are in reading order: along the shore from the start point, then islands.

    `crs_metric` names the projection of all metric geometry, as a PROJ string.
    """

    water: MultiPolygon
    rings: tuple[Ring, ...]
    reaches: tuple[Reach, ...]
    tiles: tuple[Tile, ...]
    photos: tuple[Photo, ...]
    left_out: tuple[Problem, ...]
    problems: tuple[Problem, ...] = ()
    crs_metric: str = ""
    landmarks: tuple[Landmark, ...] = ()
