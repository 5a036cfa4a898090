"""What `read` finds in the survey folder."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING, Any, Literal

from atlasgen.model.common import LonLat, Problem, pickled_plainly
from atlasgen.model.history import LayerFile
from atlasgen.model.landmarks import LandmarkRow
from atlasgen.model.quality import LeftOut
from atlasgen.model.rasters import DepthContours, Raster

if TYPE_CHECKING:
    import numpy as np
    from shapely import MultiPolygon, Polygon


@pickled_plainly
@dataclass(frozen=True, slots=True)
class PhotoFile:
    """One readable photo as its file tells it, nothing inferred. Sizes are as stored, before `orientation`.

    `camera_time` is naive (the camera's own clock); `camera_offset_s` its offset from UTC when the file states one.
    `gps_time` is aware UTC. `altitude_datum` is "sea level", "ellipsoid" or "unknown" (Exif GPSAltitudeRef 0 and 1
    mean one thing before Exif 3.0 and another since). `direction_ref` is "T", "M" or None where the tag is absent.
    `yaw_deg`, `pitch_deg`, `roll_deg` are the camera's or gimbal's own from XMP, untouched, with the tag they came
    from in `pose_from`; the aircraft's attitude is never put here. `personal` names the kinds of personal metadata in
    the file, none of which is published.
    """

    file: str
    sha256: str
    size_bytes: int
    format: str
    width_px: int
    height_px: int
    orientation: int = 1
    camera: str | None = None
    camera_time: datetime | None = None
    camera_offset_s: int | None = None
    gps_time: datetime | None = None
    lonlat: LonLat | None = None
    position_from: Literal["exif", "xmp"] | None = None
    position_error_m: float | None = None
    altitude_m: float | None = None
    altitude_datum: Literal["sea level", "ellipsoid", "unknown"] | None = None
    height_above_takeoff_m: float | None = None
    direction_deg: float | None = None
    direction_ref: Literal["T", "M"] | None = None
    yaw_deg: float | None = None
    pitch_deg: float | None = None
    roll_deg: float | None = None
    pose_from: str | None = None
    focal_mm: float | None = None
    focal_35mm: float | None = None
    digital_zoom: float | None = None
    caption: str | None = None
    copyright: str | None = None
    personal: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class Track:
    """Positions by time: arrays of one length, in time order within a segment. `segment` numbers the pieces."""

    time_s: np.ndarray
    lon_deg: np.ndarray
    lat_deg: np.ndarray
    segment: np.ndarray
    files: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Soundings:
    """Depths as recorded, metres, positive down from the transducer's reference (before stage); unknown time is NaN.

    `line` numbers the run a sounding belongs to (a file, or a pause in one); `rejected` counts rows by reason.
    `file` is a place in `files`, `row` the line of that file (0 where it is not known); both None where soundings
    were made otherwise. `draught_in_m` holds, for each file, the draught that its depths include already.
    """

    lon_deg: np.ndarray
    lat_deg: np.ndarray
    depth_m: np.ndarray
    time_s: np.ndarray
    line: np.ndarray
    files: tuple[str, ...] = ()
    rejected: Mapping[str, int] = field(default_factory=dict)
    file: np.ndarray | None = None
    row: np.ndarray | None = None
    draught_in_m: tuple[float, ...] = ()
    left_out: LeftOut | None = None


@dataclass(frozen=True, slots=True)
class Outage:
    """A channel that recorded nothing between two times (seconds since 1970, UTC)."""

    channel: Literal["port", "starboard"]
    from_s: float
    to_s: float
    why: str = ""


@dataclass(frozen=True, slots=True)
class SonarPass:
    """One run of the sonar boat; arrays of one length. NaN where the record is silent.

    `speed_computed`: the record holds no speed for most of it, and positions and times stand in.
    """

    name: str
    time_s: np.ndarray
    lon_deg: np.ndarray
    lat_deg: np.ndarray
    speed_mps: np.ndarray
    range_m: np.ndarray
    height_above_bed_m: np.ndarray
    outages: tuple[Outage, ...] = ()
    speed_computed: bool = False
    file: str = ""
    instrument: str = ""


@dataclass(frozen=True, slots=True)
class StageRecord:
    """Water level against the datum: times in seconds since 1970 UTC, ascending; stages in metres."""

    time_s: np.ndarray
    stage_m: np.ndarray
    file: str = ""


@dataclass(frozen=True, slots=True)
class NamedArea:
    """A polygon (WGS 84) with a name or a reason, as the crew drew it."""

    name: str
    area: Polygon | MultiPolygon
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Correction:
    """The crew's word on one photo; None leaves what the file says. `leave_out` holds the reason, if any.

    `blur` are rectangles (left, top, width, height) in pixels of the upright photo.
    """

    file: str
    lonlat: LonLat | None = None
    heading_deg_true: float | None = None
    pitch_deg: float | None = None
    height_above_water_m: float | None = None
    taken: datetime | None = None
    caption: str | None = None
    leave_out: str | None = None
    blur: tuple[tuple[int, int, int, int], ...] | None = None


@dataclass(frozen=True, slots=True)
class Survey:
    """All that the folder holds. `shoreline` is the water at full supply level, WGS 84, islands as holes.

    `no_photo` are shores that cannot be photographed, with the reason. `sonar_coverage` are outlines of side-scan
    pictures: the pass as name, `fine` or `coarse` as kind where that is known. `previous` is the atlas.json of the
    edition before.
    """

    photos: tuple[PhotoFile, ...]
    shoreline: MultiPolygon
    soundings: Soundings | None = None
    passes: tuple[SonarPass, ...] = ()
    stage: StageRecord | None = None
    track: Track | None = None
    not_surveyed: tuple[NamedArea, ...] = ()
    places: tuple[NamedArea, ...] = ()
    sheets: tuple[NamedArea, ...] = ()
    no_photo: tuple[NamedArea, ...] = ()
    sonar_coverage: tuple[NamedArea, ...] = ()
    layers: tuple[LayerFile, ...] = ()
    private: tuple[NamedArea, ...] = ()
    landmarks: tuple[LandmarkRow, ...] = ()
    corrections: Mapping[str, Correction] = field(default_factory=dict)
    elevation: tuple[Raster, ...] = ()
    depth_raster: Raster | None = None
    depth_contours: DepthContours | None = None
    previous: Mapping[str, Any] | None = None
    problems: tuple[Problem, ...] = ()
    inputs: Mapping[str, str] = field(default_factory=dict)
