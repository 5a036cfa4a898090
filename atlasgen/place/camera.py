"""How a camera was held: its height above the water, where it looked, and how wide."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from typing import TYPE_CHECKING, Literal, NamedTuple

from atlasgen.model import Correction, LonLat, Measured, PhotoFile, Problem
from atlasgen.model.rasters import HeightDatum
from atlasgen.model.wording import decimal_text, say
from atlasgen.place.course import Mount, mounted_heading

if TYPE_CHECKING:
    from pygeomag import GeoMag

# Standard uncertainties, ours after common practice, no source: a phone's compass beside a person and a car; the
# gimbal of a drone; a direction or an angle the crew read off a map; a camera held level by hand.
COMPASS_SIGMA_DEG = 10.0
GIMBAL_YAW_SIGMA_DEG = 4.0
GIMBAL_TILT_SIGMA_DEG = 1.0
RIG_TILT_SIGMA_DEG = 5.0
CORRECTION_SIGMA_DEG = 5.0
HAND_LEVEL_SIGMA_DEG = 8.0
# Heights: the crew's word on a photo, and on a camera fixed to a boat, which rides the waves; air pressure drifts by a
# metre or two in a flight; a take-off spot nobody measured; GPS heights are about twice as poor as positions; how a
# person holds a camera.
CORRECTION_HEIGHT_SIGMA_M = 1.0
FIXED_HEIGHT_SIGMA_M = 0.2
BAROMETER_SIGMA_M = 2.0
UNKNOWN_TAKEOFF_SIGMA_M = 4.0
ALTITUDE_SIGMA_M = 10.0
EYE_SIGMA_M = 0.5
# Ellipsoid and sea level are nowhere farther apart (-107 to +86 m, EGM96, from memory).
GEOID_SPAN_M = 110.0
# 43.2666 mm, the diagonal of the 36 by 24 mm frame.
_FILM_DIAGONAL_MM = math.hypot(36, 24)
# Ours: the long side of an ordinary phone's or compact camera's picture.
DEFAULT_LONG_FOV_DEG = 66.0
_DEFAULT_FOV_SIGMA_DEG = 10.0
# Ours: 35 mm equivalents are whole millimetres, and makers crop the frame for some shapes.
_FOV_SIGMA_SHARE = 0.03
# No single shot is wider than 21:9; beyond it the picture was stitched and its focal length says nothing.
_WIDEST_SHAPE = 2.4
# A camera that hangs straight down is not flown leaning back this far: such a pitch is counted from level.
_LEAN_BACK_DEG = 20.0
# Years of each World Magnetic Model (NOAA/NCEI and BGS), half open, and its file in pygeomag.
_MODELS = (
    (2025.0, 2030.0, "wmm/WMM_2025.COF"),
    (2020.0, 2025.0, "wmm/WMM_2020.COF"),
    (2015.0, 2020.0, "wmm/WMM_2015v2.COF"),
    (2010.0, 2015.0, "wmm/WMM_2010.COF"),
)


class TrueHeading(NamedTuple):
    """A compass heading turned to true north, 0 to 360; declination east positive; the model used; what to say."""

    heading_deg_true: float
    declination_deg: float
    model: str
    warning: str | None


@dataclass(frozen=True, slots=True)
class HeightSettings:
    """What the crew said about heights; None is not said.

    `takeoff_above_water_m`, `altitude_above` and `fixed_m`, its height where it is fixed to a boat, belong to the
    photo's camera; `elevation_m` is the chart datum's height above `elevation_above`.
    """

    eye_height_m: float
    aerial_above_m: float
    takeoff_above_water_m: float | None = None
    altitude_above: HeightDatum | None = None
    elevation_m: float | None = None
    elevation_above: HeightDatum | None = None
    fixed_m: float | None = None


@lru_cache(maxsize=4)
def _geomag(file: str) -> GeoMag:
    from pygeomag import GeoMag

    return GeoMag(coefficients_file=file)


def magnetic_to_true(heading_deg: float, at: LonLat, height_m: float, when: datetime | None) -> TrueHeading:
    """Turn a compass heading to true north with the World Magnetic Model of the photo's year.

    True heading = compass heading + declination, east positive. WMM-2025 serves 2025.0 up to 2030.0; earlier years
    have the models before it, back to 2010. Outside them the nearest model is held at its nearest year, and without
    a date at the start of the newest, and that is warned of; so are places where the field is too weak for a compass
    (caution zone under 6000 nT, blackout zone under 2000 nT, WMM2025 technical report).
    """
    from pygeomag import decimal_year_from_date

    year = None if when is None else decimal_year_from_date(when)
    from_year, to_year, file = _model_years(year)
    model = _geomag(file)
    used = from_year if year is None else min(max(year, from_year), to_year)
    field = model.calculate(glat=at.lat_deg, glon=at.lon_deg, alt=height_m / 1000, time=used)
    warning = None
    if year is None or not from_year <= year < to_year:
        warning = _outside_years(year, model.model, used)
    elif field.in_blackout_zone or field.in_caution_zone:
        warning = say("place-fault-magnetic-weak", field=round(field.h))
    return TrueHeading((heading_deg + field.d) % 360, field.d, model.model, warning)


def _outside_years(year: float | None, model: str, used: float) -> str:
    """Say that no magnetic model serves a photo's date, and which stands in."""
    facts = {"first": round(_MODELS[-1][0]), "last": round(_MODELS[0][1]), "model": model, "used": f"{used:.1f}"}
    if year is None:
        return say("place-fault-magnetic-undated", **facts)
    return say("place-fault-magnetic-year", year=f"{year:.1f}", **facts)


def _model_years(year: float | None) -> tuple[float, float, str]:
    if year is None:
        return _MODELS[0]
    return next((model for model in _MODELS if year >= model[0]), _MODELS[-1])


def heading_of(
    photo: PhotoFile,
    correction: Correction | None,
    at: LonLat,
    height_m: float,
    taken: datetime | None,
    mount: Mount | None = None,
) -> tuple[Measured | None, tuple[Problem, ...]]:
    """Work out where the camera looked, degrees from true north.

    In this order: the crew's word, Exif, the gimbal, and for a camera fixed to a boat the course of its track.
    """
    if correction and correction.heading_deg_true is not None:
        return Measured(correction.heading_deg_true % 360, say("place-by-crew"), CORRECTION_SIGMA_DEG), ()
    if photo.direction_deg is not None:
        return _exif_heading(photo.direction_deg, photo, at, height_m, taken)
    if photo.yaw_deg is not None:
        words = say("place-heading-yaw", tag=_tag_words(photo, "Yaw"))
        return Measured(photo.yaw_deg % 360, words, GIMBAL_YAW_SIGMA_DEG), ()
    return (None, ()) if mount is None else _mounted(photo.file, mount, at, taken)


def _mounted(
    file: str, mount: Mount, at: LonLat, taken: datetime | None
) -> tuple[Measured | None, tuple[Problem, ...]]:
    found, why_not = mounted_heading(mount, at, taken)
    if found:
        return found, ()
    return None, (Problem(file, "no_heading", say("place-fault-course", file=file, why=why_not)),)


def _exif_heading(
    direction_deg: float, photo: PhotoFile, at: LonLat, height_m: float, taken: datetime | None
) -> tuple[Measured, tuple[Problem, ...]]:
    """Exif 2.2, tags 16 and 17: the reference is T or M, and T where it is absent."""
    if photo.direction_ref != "M":
        words = say("place-heading-true") if photo.direction_ref == "T" else say("place-heading-default")
        return Measured(direction_deg % 360, words, COMPASS_SIGMA_DEG), ()
    true = magnetic_to_true(direction_deg, at, height_m, taken)
    words = say("place-heading-magnetic", turn=decimal_text(f"{true.declination_deg:+.1f}"), model=true.model)
    told = (Problem(photo.file, "magnetic", f"{photo.file}: {true.warning}"),) if true.warning else ()
    return Measured(true.heading_deg_true, words, COMPASS_SIGMA_DEG), told


def attitude_of(
    photo: PhotoFile, correction: Correction | None, kind: Literal["aerial", "shore"]
) -> tuple[Measured | None, Measured | None, tuple[Problem, ...]]:
    """Work out pitch and roll, degrees: pitch 0 is level, negative looks down, -90 straight down.

    Two conventions are met in XMP. A gimbal's pitch (and any tag that ends in `Degree`) is counted from level as
    here. Plain `Yaw`, `Pitch` and `Roll` in a namespace for cameras belong to cameras that hang straight down: there
    0 is straight down and 90 level, and roll is a sideways lean, which is not a roll about the line of sight and so
    is not used. A pitch that the tag does not explain is told and not used. A shore photo without pitch or roll is
    assumed level; an aerial one has none.
    """
    pitch, problems = _pitch(photo, correction)
    level = Measured(0.0, say("place-level-assumed"), HAND_LEVEL_SIGMA_DEG, assumed=True) if kind == "shore" else None
    roll = None
    if photo.roll_deg is not None and _counts_from(photo) == "level" and -180 <= photo.roll_deg <= 180:
        roll = Measured(photo.roll_deg, _tag_words(photo, "Roll"), GIMBAL_TILT_SIGMA_DEG)
    return pitch or level, roll or level, problems


def _pitch(photo: PhotoFile, correction: Correction | None) -> tuple[Measured | None, tuple[Problem, ...]]:
    if correction and correction.pitch_deg is not None:
        return Measured(correction.pitch_deg, say("place-by-crew"), CORRECTION_SIGMA_DEG), ()
    if photo.pitch_deg is None:
        return None, ()
    zero = _counts_from(photo)
    if zero is None:
        return None, (Problem(photo.file, "ambiguous", _pitch_fault("place-fault-pitch-unclear", photo)),)
    pitch_deg = photo.pitch_deg if zero == "level" else photo.pitch_deg - 90
    if not -120 <= pitch_deg <= 90:
        return None, (Problem(photo.file, "bad_metadata", _pitch_fault("place-fault-pitch", photo)),)
    # A gimbal reads -90.1 when it hangs straight down.
    counted = "place-tilt-from-level" if zero == "level" else "place-tilt-from-down"
    source = say(counted, tag=_tag_words(photo, "Pitch"))
    sigma_deg = GIMBAL_TILT_SIGMA_DEG if zero == "level" else RIG_TILT_SIGMA_DEG
    return Measured(max(pitch_deg, -90.0), source, sigma_deg), ()


def _pitch_fault(message: str, photo: PhotoFile) -> str:
    return say(message, file=photo.file, pitch=photo.pitch_deg, tag=_tag_words(photo, "Pitch"))


def _counts_from(photo: PhotoFile) -> Literal["level", "down"] | None:
    """From where the tag counts its pitch; None if that cannot be told."""
    tag = (photo.pose_from or "").lower().split(":")[-1].split(" ")[-1]
    if "gimbal" in tag or tag.endswith("degree"):
        return "level"
    if photo.pitch_deg is not None and photo.pitch_deg <= -_LEAN_BACK_DEG:
        return "level"
    return "down" if tag in ("yaw", "pitch", "roll") else None


def _tag_words(photo: PhotoFile, angle: Literal["Yaw", "Pitch", "Roll"]) -> str:
    """Name the tag of one angle: the file names that of the first of the three."""
    return re.sub("Yaw|Pitch|Roll", angle, photo.pose_from or f"XMP {angle}", count=1)


def field_of_view(photo: PhotoFile, sensor_width_mm: float | None) -> tuple[Measured, Measured]:
    """Angles that the upright picture spans, degrees: across and up.

    From the 35 mm equivalent: Exif does not say what it is matched on, so the diagonal is, which is the same thing
    for a 3:2 frame and makes a 4:3 frame of "24 mm" 34.6 by 26.0 mm. Else from the focal length and the width of
    the sensor's long side; else the long side is assumed to span 66°. Digital zoom narrows all but the last; whether
    a 35 mm equivalent has it counted in already is not said by Exif either, and a view too narrow never claims a
    shore that the picture does not show.
    """
    across, up = photo.width_px, photo.height_px
    if photo.orientation in (5, 6, 7, 8):
        across, up = up, across
    focal_long_sides, source = _focal_in_long_sides(photo, sensor_width_mm)
    assumed = focal_long_sides is None
    focal = (focal_long_sides or 0.5 / math.tan(math.radians(DEFAULT_LONG_FOV_DEG / 2))) * max(across, up)
    angles = (math.degrees(2 * math.atan(side / 2 / focal)) for side in (across, up))
    sigma_share = _DEFAULT_FOV_SIGMA_DEG / DEFAULT_LONG_FOV_DEG if assumed else _FOV_SIGMA_SHARE
    hfov, vfov = (Measured(angle, source, angle * sigma_share, assumed) for angle in angles)
    return hfov, vfov


def _focal_in_long_sides(photo: PhotoFile, sensor_width_mm: float | None) -> tuple[float | None, str]:
    """Focal length as a multiple of the frame's long side, None if unknown; and its source in words."""
    long_px, short_px = max(photo.width_px, photo.height_px), min(photo.width_px, photo.height_px)
    if long_px > _WIDEST_SHAPE * short_px:
        return None, say("place-view-panorama", angle=DEFAULT_LONG_FOV_DEG)
    zoom = photo.digital_zoom if photo.digital_zoom and photo.digital_zoom > 1 else 1.0
    if photo.focal_35mm and photo.focal_35mm > 0:
        long_mm = _FILM_DIAGONAL_MM * long_px / math.hypot(long_px, short_px)
        words = say("place-view-film-zoom" if zoom > 1 else "place-view-film", focal=photo.focal_35mm, zoom=zoom)
        return photo.focal_35mm * zoom / long_mm, words
    if photo.focal_mm and photo.focal_mm > 0 and sensor_width_mm:
        message = "place-view-sensor-zoom" if zoom > 1 else "place-view-sensor"
        words = say(message, focal=photo.focal_mm, sensor=sensor_width_mm, zoom=zoom)
        return photo.focal_mm * zoom / sensor_width_mm, words
    return None, say("place-view-assumed", angle=DEFAULT_LONG_FOV_DEG)


def height_above_water(
    photo: PhotoFile, correction: Correction | None, stage_m: float | None, settings: HeightSettings
) -> tuple[Measured | None, tuple[Problem, ...]]:
    """Work out the camera's height above the water of that day, metres.

    In this order: the crew's word on the photo, then on its camera; the height above take-off plus that of the
    take-off (taken as at water level if nobody said); the Exif altitude less the water's elevation, only where both
    are stated above the same thing. Failing these a photo that looks aerial has no height and a problem, and a shore
    photo gets the height of a person's eye, marked as assumed; so does one whose altitude would put it under water.
    """
    if correction and correction.height_above_water_m is not None:
        return Measured(correction.height_above_water_m, say("place-by-crew"), CORRECTION_HEIGHT_SIGMA_M), ()
    if settings.fixed_m is not None:
        words = say("place-height-fixed")
        return Measured(settings.fixed_m, words, FIXED_HEIGHT_SIGMA_M), ()
    if photo.height_above_takeoff_m is not None:
        return _above_takeoff(photo.file, photo.height_above_takeoff_m, settings.takeoff_above_water_m)
    datum = _altitude_datum(photo, settings)
    above_m = _altitude_above_water(photo, stage_m, settings)
    if above_m is not None and above_m > 0 and datum is not None and datum == settings.elevation_above:
        message = "place-height-altitude" if stage_m is not None else "place-height-altitude-datum"
        source = say(message, datum="ellipsoid" if datum == "ellipsoid" else "sea-level")
        return Measured(above_m, source, ALTITUDE_SIGMA_M, assumed=stage_m is None), ()
    if looks_aerial(photo, stage_m, settings):
        return None, (_no_height(photo, datum, settings),)
    return Measured(settings.eye_height_m, say("place-height-eye"), EYE_SIGMA_M, True), ()


def _above_takeoff(
    file: str, above_takeoff_m: float, takeoff_m: float | None
) -> tuple[Measured | None, tuple[Problem, ...]]:
    height_m = above_takeoff_m + (takeoff_m or 0.0)
    if height_m <= 0:
        text = say("place-fault-takeoff", file=file, above=above_takeoff_m, under=-height_m)
        return None, (Problem(file, "bad_metadata", text),)
    if takeoff_m is None:
        words = say("place-height-takeoff-unknown")
        return Measured(height_m, words, math.hypot(BAROMETER_SIGMA_M, UNKNOWN_TAKEOFF_SIGMA_M), assumed=True), ()
    words = say("place-height-takeoff", metres=takeoff_m)
    return Measured(height_m, words, BAROMETER_SIGMA_M), ()


def _altitude_datum(photo: PhotoFile, settings: HeightSettings) -> str | None:
    """Tell what the altitude is counted from: the crew's word on the camera, else the file's; None if not known."""
    stated = settings.altitude_above or photo.altitude_datum
    return None if stated == "unknown" else stated


def _altitude_above_water(photo: PhotoFile, stage_m: float | None, settings: HeightSettings) -> float | None:
    """Altitude less the water's elevation, whatever the two are counted from; None if either is unknown."""
    if photo.altitude_m is None or settings.elevation_m is None:
        return None
    return photo.altitude_m - settings.elevation_m - (stage_m or 0.0)


def _no_height(photo: PhotoFile, datum: str | None, settings: HeightSettings) -> Problem:
    altitude_m, water = photo.altitude_m, settings.elevation_above
    if altitude_m is None:
        found = say("place-fault-height-none")
    elif datum is None:
        found = say("place-fault-height-of-what", altitude=altitude_m)
    elif water:
        found = say("place-fault-height-other", altitude=altitude_m, datum=datum, water=water)
    else:
        found = say("place-fault-height-unstated", altitude=altitude_m, datum=datum)
    text = say("place-fault-height", file=photo.file, found=found)
    return Problem(photo.file, "ambiguous" if altitude_m is not None else "missing", text)


def looks_aerial(photo: PhotoFile, stage_m: float | None, settings: HeightSettings) -> bool:
    """Tell an aerial photo by its file alone.

    It has a height above take-off, or the pose of a gimbal or a hanging camera, or an altitude that clears the water
    by `aerial_above_m` whatever the two are counted from.
    """
    if photo.height_above_takeoff_m is not None or photo.pitch_deg is not None:
        return True
    above_m = _altitude_above_water(photo, stage_m, settings)
    return above_m is not None and above_m > settings.aerial_above_m + GEOID_SPAN_M


def kind_of(
    height: Measured | None, photo: PhotoFile, stage_m: float | None, settings: HeightSettings
) -> Literal["aerial", "shore"]:
    """Decide `aerial` or `shore`.

    Aerial: it looks so by its file (`looks_aerial`), or its height passes `aerial_above_m` by more than the height's
    own uncertainty, so that a GPS altitude that is ten metres out does not make a flight of a walk. Anything else,
    and a photo of which no height is known, is a shore photo.
    """
    if looks_aerial(photo, stage_m, settings):
        return "aerial"
    passes = height is not None and height.value - (height.sigma or 0.0) > settings.aerial_above_m
    return "aerial" if passes else "shore"
