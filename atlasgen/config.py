"""survey.toml -> Settings. Every fault is reported at once, with file and key."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Annotated, Any, Literal
from zoneinfo import available_timezones

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError

from atlasgen.config_depth import DepthSection
from atlasgen.config_elevation import ElevationSection
from atlasgen.config_layers import LayerSection, ReliefSection
from atlasgen.config_publish import BookSection, BundleSection, ChartSection, PhotosSection
from atlasgen.config_sonar import SonarSection
from atlasgen.config_soundings import ReductionKeys
from atlasgen.errors import InputFault, MissingInput, SettingsFault
from atlasgen.model import (
    AuditRules,
    CameraRule,
    ComposeRules,
    LonLat,
    MeasureRules,
    PlaceRules,
    PointM,
    ReadRules,
    ViewRules,
    WriteRules,
)
from atlasgen.model.fieldplan import Aim, PlanRules
from atlasgen.model.rasters import ElevationRules
from atlasgen.model.text import plain_text
from atlasgen.model.wording import say
from atlasgen.units import fixed_offset, zone_offset

SETTINGS_FILE = "survey.toml"


def _is_zone(value: str) -> str:
    if fixed_offset(value) is None and value not in available_timezones():
        raise ValueError('expected "UTC", an offset such as "UTC+05:00", or a zone name such as "Etc/GMT-5"')
    return value


def _is_place(value: tuple[float, float]) -> tuple[float, float]:
    lon, lat = value
    if not (-180 <= lon <= 180 and -90 <= lat <= 90):
        raise ValueError("expected [longitude, latitude] in degrees; are they swapped?")
    return value


def _is_edition(value: str) -> str:
    if not re.fullmatch(r"[0-9A-Za-z][0-9A-Za-z._-]{0,31}", value):
        raise ValueError('expected letters, digits, ".", "-" or "_", at most 32, such as "2026.1"')
    return value


# Every 1 ft to 30 ft, then every 3 ft, heavier every 10 ft: common practice on flat reservoirs, no source.
# The metric set is ours: about the same number of lines at round depths.
_ISOBATHS = {
    "feet": {"fine_interval": 1.0, "fine_to": 30.0, "coarse_interval": 3.0, "major_every": 10.0},
    "metres": {"fine_interval": 0.5, "fine_to": 10.0, "coarse_interval": 1.0, "major_every": 5.0},
}
_PROFILE_DEPTHS = {"feet": (5.0, 10.0, 20.0), "metres": (2.0, 4.0, 6.0)}

Zone = Annotated[str, AfterValidator(_is_zone)]
Place = Annotated[tuple[float, float], AfterValidator(_is_place)]
Text = Annotated[str, AfterValidator(plain_text), Field(max_length=500)]


class _Section(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True)


class SurveySection(_Section):
    """Who and what: the words on the cover."""

    title: Annotated[str, AfterValidator(plain_text), Field(min_length=1, max_length=120)]
    edition: Annotated[str, AfterValidator(_is_edition)]
    season: Text = ""
    crew: Text = ""
    copyright: Text = ""
    time_zone: Zone = "UTC"


class FilesSection(_Section):
    """Where the inputs are, relative to the survey folder; patterns may hold `*`."""

    photos: str = "photos"
    shoreline: str = "shoreline.*"
    soundings: tuple[str, ...] = ("soundings*",)
    passes: tuple[str, ...] = ("passes*",)
    outages: str = "outages.csv"
    stage: str = "stage.csv"
    tracks: tuple[str, ...] = ("tracks/*.gpx",)
    corrections: str = "corrections.csv"
    not_surveyed: str = "not_surveyed.*"
    places: str = "places.*"
    sheets: str = "sheets.*"
    private: str = "private.*"
    landmarks: tuple[str, ...] = ("landmarks.*",)
    no_photo: str = "no_photo.*"
    sonar_coverage: str = "sonar_coverage.*"
    elevation: tuple[str, ...] = ("elevation*.tif", "elevation*.tiff", "elevation*.asc")
    depth_raster: tuple[str, ...] = ("depth_raster*.tif", "depth_raster*.tiff", "depth_raster*.asc")
    depth_contours: str = "depth_contours.*"
    previous: str = "previous_atlas.json"


class LevelSection(_Section):
    """The chart datum and, where known, its height."""

    datum: Text | None = None
    elevation_m: float | None = Field(default=None, ge=-500, le=9000)
    elevation_above: Literal["sea level", "ellipsoid"] | None = None
    shown_stage_m: float = Field(default=0.0, ge=-200, le=50)


class UnitsSection(_Section):
    """What the reader sees; depths and distances are chosen separately. Numbers are written as the language does."""

    depth: Literal["feet", "metres"] = "feet"
    distance: Literal["metric", "imperial"] = "metric"
    language: Literal["en", "de"] = "en"


class ShoreSection(_Section):
    """How the shoreline is cut into reaches."""

    reach_length_m: float = Field(default=100.0, ge=10, le=2000)
    start: Place | None = None
    start_name: Text | None = None


class TilesSection(_Section):
    """The chart's tiles: a WebMercatorQuad zoom, or the crew's sheets (files.sheets) by the name in `sheet_name`."""

    zoom: int = Field(default=16, ge=8, le=20)
    scheme: Literal["WebMercatorQuad", "sheets"] = "WebMercatorQuad"
    sheet_name: str = "name"


class CameraSection(_Section):
    """What the crew knows of one camera; `match` is found in the EXIF make and model, whatever the case."""

    match: Annotated[str, Field(min_length=1, max_length=120)]
    clock_fast_s: float = Field(default=0.0, ge=-86400 * 400, le=86400 * 400)
    time_zone: Zone | None = None
    sensor_width_mm: float | None = Field(default=None, gt=1, le=100)
    takeoff_above_water_m: float | None = Field(default=None, ge=-50, le=1000)
    altitude_above: Literal["sea level", "ellipsoid"] | None = None
    height_above_water_m: float | None = Field(default=None, gt=0, le=60)
    looks_deg_right_of_bow: float | None = Field(default=None, ge=-180, le=360)

    def rule(self) -> CameraRule:
        """Return the same as a plain value."""
        return CameraRule(
            **self.model_dump(exclude={"time_zone"}), zone=zone_offset(self.time_zone) if self.time_zone else None
        )


class ColumnsSection(_Section):
    """Column names of the soundings files, where their headings do not tell."""

    lon: str | None = None
    lat: str | None = None
    depth: str | None = None
    time: str | None = None


class SoundingsSection(ReductionKeys):
    """How the soundings files are to be read, cleaned and reduced."""

    columns: ColumnsSection = ColumnsSection()
    crs: str = "EPSG:4326"
    depth_unit: Literal["metres", "feet", "fathoms"] | None = None
    depth_positive: Literal["down", "up"] | None = None
    time_zone: Zone | None = None
    no_data: tuple[float, ...] = ()


class ViewsSection(_Section):
    """How far a photo is believed, and how the land is taken to stand where no elevations are given."""

    range_m: float = Field(default=3000.0, gt=10, le=20000)
    bank_height_m: float = Field(default=6.0, ge=0, le=60)


class AuditSection(_Section):
    """When a photo shows a bank well: all three limits at once."""

    gsd_limit_cm: float = Field(default=10.0, gt=0, le=500)
    angle_limit_deg: float = Field(default=20.0, ge=0, le=90)
    age_limit_days: float = Field(default=730.0, gt=0, le=36500)


class PlanSection(_Section):
    """What the crew flies on a field day; the limits are those of [audit]."""

    launch: Place | None = None
    launch_name: Text = ""
    height_m: float = Field(default=40.0, ge=5, le=500)
    hfov_deg: float = Field(default=71.6, gt=10, lt=170)
    vfov_deg: float = Field(default=56.8, gt=10, lt=170)
    width_px: int = Field(default=4000, ge=320, le=30000)
    height_px: int = Field(default=3000, ge=240, le=30000)
    speed_mps: float = Field(default=8.0, gt=0, le=40)
    seconds_per_station: float = Field(default=15.0, gt=0, le=600)
    climb_s: float = Field(default=60.0, ge=0, le=1200)
    battery_s: float = Field(default=1500.0, gt=60, le=36000)
    reserve_share: float = Field(default=0.3, ge=0, lt=1)
    max_height_m: float = Field(default=120.0, gt=0, le=500)

    def rules(self, launch: PointM) -> PlanRules:
        """Return the same as plain values; the camera is tried at three tilts."""
        aims = tuple(Aim(self.height_m, pitch_deg) for pitch_deg in (-20.0, -45.0, -70.0))
        return PlanRules(launch=launch, aims=aims, **self.model_dump(exclude={"launch", "launch_name", "height_m"}))


class Settings(_Section):
    """All of survey.toml, defaults filled in."""

    survey: SurveySection
    files: FilesSection = FilesSection()
    level: LevelSection = LevelSection()
    units: UnitsSection = UnitsSection()
    shore: ShoreSection = ShoreSection()
    tiles: TilesSection = TilesSection()
    photos: PhotosSection = PhotosSection()
    camera: tuple[CameraSection, ...] = ()
    soundings: SoundingsSection = SoundingsSection()
    depth: DepthSection = DepthSection()
    sonar: SonarSection = SonarSection()
    views: ViewsSection = ViewsSection()
    elevation: ElevationSection = ElevationSection()
    audit: AuditSection = AuditSection()
    plan: PlanSection = PlanSection()
    book: BookSection = BookSection()
    chart: ChartSection = ChartSection()
    bundle: BundleSection = BundleSection()
    layer: tuple[LayerSection, ...] = ()
    relief: ReliefSection = ReliefSection()

    def read_rules(self) -> ReadRules:
        """Return what the `read` room needs."""
        patterns = {name: (value,) if isinstance(value, str) else value for name, value in self.files}
        soundings = self.soundings
        return ReadRules(
            files=patterns,
            largest_megapixels=self.photos.largest_megapixels,
            zone=zone_offset(self.survey.time_zone),
            sounding_columns=soundings.columns.model_dump(),
            sounding_crs=soundings.crs,
            depth_unit=soundings.depth_unit,
            depth_positive=soundings.depth_positive,
            sounding_zone=zone_offset(soundings.time_zone or self.survey.time_zone),
            no_data=soundings.no_data,
            sheet_name=self.tiles.sheet_name,
            full_supply_elevation_m=self.level.elevation_m,
            layers=tuple(layer.rule() for layer in self.layer),
            contours_field=self.depth.contours_field,
        )

    def place_rules(self) -> PlaceRules:
        """Return what the `place` room needs."""
        return PlaceRules(
            reach_length_m=self.shore.reach_length_m,
            start=LonLat(*self.shore.start) if self.shore.start else None,
            tile_scheme=self.tiles.scheme,
            tile_zoom=self.tiles.zoom,
            farthest_from_lake_m=self.photos.farthest_from_lake_m,
            track_gap_s=self.photos.track_gap_s,
            clock_tolerance_s=self.photos.clock_tolerance_s,
            eye_height_m=self.photos.eye_height_m,
            aerial_above_m=self.photos.aerial_above_m,
            zone=zone_offset(self.survey.time_zone),
            cameras=tuple(camera.rule() for camera in self.camera),
            full_supply_elevation_m=self.level.elevation_m,
            elevation_above=self.level.elevation_above,
        )

    def view_rules(self) -> ViewRules:
        """Return how the views of photos are worked out."""
        return ViewRules(range_m=self.views.range_m, bank_height_m=self.views.bank_height_m)

    def elevation_rules(self) -> ElevationRules:
        """Return what the land's elevations mean."""
        level = self.level
        return ElevationRules(
            **self.elevation.model_dump(), datum_elevation_m=level.elevation_m, datum_above=level.elevation_above
        )

    def audit_rules(self) -> AuditRules:
        """Return when a photo shows a bank well."""
        return AuditRules(**self.audit.model_dump())

    def measure_rules(self) -> MeasureRules:
        """Return what the `measure` room needs."""
        unit = self.units.depth
        depth = {
            "profile_depths": _PROFILE_DEPTHS[unit],
            **_ISOBATHS[unit],
            **self.depth.model_dump(exclude_none=True, exclude={"contours_field"}),
        }
        zone = zone_offset(self.survey.time_zone)
        return MeasureRules(
            depth_unit=self.units.depth,
            zone=zone,
            soundings=self.soundings.rules(self.units.depth),
            sonar=self.sonar.rules(),
            full_supply_elevation_m=self.level.elevation_m,
            elevation_above=self.level.elevation_above,
            shown_stage_m=self.level.shown_stage_m,
            distance_unit=self.units.distance,
            **depth,
        )

    def shown_at(self, stage_m: float | None) -> Settings:
        """Return the same settings with depths told for another stage; None keeps that of the file."""
        level = self.level.model_copy(update={"shown_stage_m": stage_m})
        return self if stage_m is None else self.model_copy(update={"level": level})

    def compose_rules(self) -> ComposeRules:
        """Return what the `compose` room needs."""
        words = self.survey.model_dump(exclude={"time_zone"})
        web = self.tiles.scheme == "WebMercatorQuad"
        return ComposeRules(
            **words,
            datum=self.level.datum or say("words-full-supply-level"),
            depth_unit=self.units.depth,
            distance_unit=self.units.distance,
            zone=zone_offset(self.survey.time_zone),
            zone_name=self.survey.time_zone,
            start_name=self.shore.start_name or say("words-start-point"),
            tile_scheme=say("words-web-tiles", zoom=self.tiles.zoom) if web else say("words-own-sheets"),
            paper=self.book.paper,
            elevation_known=self.level.elevation_m is not None,
            chart=self.chart.rule(),
            budget_mb=self.bundle.budget_mb,
            volume_mb=self.book.limit_mb,
            sides=self.book.sides,
            viewer=self.book.viewer,
            photo_names=self.photos.names,
        )

    def write_rules(self) -> WriteRules:
        """Return what the `write` room needs."""
        return self.photos.write_rules(self.survey.copyright)


def read_settings(survey_dir: Path) -> Settings:
    """Read and check `survey_dir/survey.toml`.

    Raises
    ------
    MissingInput
        There is no survey.toml.
    InputFault
        It is not TOML.
    SettingsFault
        Any keys are unknown, missing or out of range; all of them are named.
    """
    path = survey_dir / SETTINGS_FILE
    if path.exists() and not path.is_file():
        raise InputFault(SETTINGS_FILE, "not a regular file", "a text file", "Make one with: atlasgen new.")
    try:
        table = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except FileNotFoundError:
        raise MissingInput(
            str(path), f"Make one with: atlasgen new {survey_dir.name or 'SURVEY'}, and fill it in."
        ) from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise InputFault(SETTINGS_FILE, error, "TOML 1.0 in UTF-8", "Mend the line it names.") from None
    try:
        return Settings.model_validate(table)
    except ValidationError as error:
        raise SettingsFault(SETTINGS_FILE, [_fault(item) for item in error.errors()]) from None


def _fault(item: Any) -> tuple[str, str]:
    """Turn one pydantic error into `(dotted key, value and what is allowed)`."""
    key = ".".join(str(part + 1) if isinstance(part, int) else str(part)[:80] for part in item["loc"])
    if item["type"] == "missing":
        return key, "is missing and must be given"
    if item["type"] == "extra_forbidden":
        return key, "is not a setting of atlasgen; is it spelled as in `atlasgen new`?"
    message = item["msg"].removeprefix("Value error, ")
    return key, f"{str(item['input'])[:80]!r}: {message[0].lower()}{message[1:]}"
