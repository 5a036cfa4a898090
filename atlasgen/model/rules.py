"""The choices of survey.toml as plain values, one set for each room, so that no room knows the settings file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Any, Literal
from zoneinfo import ZoneInfo

from atlasgen.model.chart import ChartEdition
from atlasgen.model.common import LonLat
from atlasgen.model.history import LayerRule
from atlasgen.model.quality import SoundingRules
from atlasgen.model.repeats import RepeatRules
from atlasgen.model.sonar import SonarRules

Zone = timedelta | ZoneInfo


@dataclass(frozen=True, slots=True)
class CameraRule:
    """What the crew knows of one camera; `match` is sought in the EXIF make and model, whatever the case."""

    match: str = ""
    clock_fast_s: float = 0.0
    zone: Zone | None = None
    sensor_width_mm: float | None = None
    takeoff_above_water_m: float | None = None
    altitude_above: Literal["sea level", "ellipsoid"] | None = None
    height_above_water_m: float | None = None
    looks_deg_right_of_bow: float | None = None


@dataclass(frozen=True, slots=True)
class ReadRules:
    """Where the inputs are (patterns relative to the survey folder) and how the tables are written."""

    files: Mapping[str, tuple[str, ...]]
    largest_megapixels: float
    zone: Zone
    sounding_columns: Mapping[str, str | None]
    sounding_crs: str
    depth_unit: str | None
    depth_positive: str | None
    sounding_zone: Zone
    no_data: tuple[float, ...]
    sheet_name: str
    full_supply_elevation_m: float | None
    layers: tuple[LayerRule, ...] = ()
    contours_field: str | None = None


@dataclass(frozen=True, slots=True)
class PlaceRules:
    """How the shoreline is cut, which tiles are used, and what is taken when a photo does not say."""

    reach_length_m: float = 100.0
    start: LonLat | None = None
    tile_scheme: str = "WebMercatorQuad"
    tile_zoom: int = 16
    farthest_from_lake_m: float = 1000.0
    track_gap_s: float = 120.0
    clock_tolerance_s: float = 30.0
    eye_height_m: float = 1.7
    aerial_above_m: float = 12.0
    zone: Zone = field(default_factory=timedelta)
    cameras: tuple[CameraRule, ...] = ()
    full_supply_elevation_m: float | None = None
    elevation_above: Literal["sea level", "ellipsoid"] | None = None


@dataclass(frozen=True, slots=True)
class MeasureRules:
    """The water a page speaks of, and the depth lines (intervals in the reader's unit)."""

    off_bank_m: float = 40.0
    near_sounding_m: float = 25.0
    cell_m: float | None = None
    raster_shows: Literal["depth", "elevation"] | None = None
    raster_unit: Literal["metres", "feet"] | None = None
    contours_show: Literal["depth", "elevation"] | None = None
    contours_unit: Literal["metres", "feet"] | None = None
    shown_stage_m: float = 0.0
    distance_unit: Literal["metric", "imperial"] = "metric"
    full_supply_elevation_m: float | None = None
    elevation_above: Literal["sea level", "ellipsoid"] | None = None
    zone: Zone = field(default_factory=timedelta)
    depth_unit: Literal["feet", "metres"] = "feet"
    fine_interval: float = 1.0
    fine_to: float = 30.0
    coarse_interval: float = 3.0
    major_every: float = 10.0
    profile_depths: tuple[float, ...] = (5.0, 10.0, 20.0)
    relief_within_m: float = 100.0
    soundings: SoundingRules = field(default_factory=SoundingRules)
    sonar: SonarRules = field(default_factory=SonarRules)
    repeats: RepeatRules = field(default_factory=RepeatRules)


@dataclass(frozen=True, slots=True)
class ComposeRules:
    """The survey's own words and the reader's units; `elevation_known`: the water's elevation is stated."""

    title: str
    edition: str
    season: str = ""
    crew: str = ""
    copyright: str = ""
    datum: str = "full supply level"
    depth_unit: Literal["feet", "metres"] = "feet"
    distance_unit: Literal["metric", "imperial"] = "metric"
    zone: Zone = field(default_factory=timedelta)
    zone_name: str = "UTC"
    start_name: str = "the start point"
    tile_scheme: str = "WebMercatorQuad, zoom 16"
    paper: Literal["a4", "letter", "handheld"] = "a4"
    elevation_known: bool = True
    shown: str = ""
    chart: ChartEdition | None = None
    budget_mb: float | None = None
    volume_mb: float | None = None
    photo_names: Literal["paths", "names", "none"] = "paths"
    sides: Literal["both", "one"] = "both"
    viewer: Literal["current", "old"] = "current"
    # The largest that drawings of a chapter may be; on a small page they are drawn smaller, their words are not.
    widest_mm: float = 170.0
    tallest_mm: float = 205.0

    @property
    def depths_below(self) -> str:
        """The level that depths are told from: the datum, or the water at the stage shown."""
        return self.shown or self.datum

    def within_mm(self, width_mm: float, height_mm: float) -> dict[str, Any]:
        """Return the size of a drawing, no larger than the page allows, as its maker takes it."""
        return {"width_mm": min(width_mm, self.widest_mm), "height_mm": min(height_mm, self.tallest_mm)}


# Long edge of the large and the small picture in pixels, and JPEG quality, by profile. Ours; "standard" fills a phone
# held upright at twice its points, "pocket" is for cards and phones that are short of room.
PROFILES = {"full": (2400, 640, 88), "standard": (1600, 480, 82), "pocket": (1024, 320, 70)}


@dataclass(frozen=True, slots=True)
class WriteRules:
    """Sizes of the published photos, long edge in pixels, and the line that goes into those that carry none.

    `quality` is that of JPEG, 1 to 100; `metadata` what is written into the pictures: caption, copyright, position.
    """

    large_px: int = 1600
    small_px: int = 480
    copyright: str = ""
    quality: int = 82
    metadata: tuple[str, ...] = ("caption", "copyright")
