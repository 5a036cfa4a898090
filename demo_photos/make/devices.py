"""What each invented device writes into its files: EXIF and XMP as real ones of their kind would."""

from __future__ import annotations

import math
import zlib
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from xml.sax.saxutils import escape

import numpy as np
import piexif
from pygeomag import GeoMag

from demo_photos.make.cameras import BOAT, COMPACT, DRONE, PHONE, Shot
from demo_photos.make.frame import FULL_SUPPLY_M, LOCAL_ZONE, SEED, to_lonlat, true_bearing_deg


@dataclass(frozen=True)
class Noise:
    """Standard errors of what a device records: position on each axis and height, metres; heading and tilt, degrees."""

    position_m: float
    heading_deg: float
    height_m: float
    tilt_deg: float


# Drone and boat carry the survey's own receivers: corrected by a base on the bank, with two antennas for the heading,
# which lie farther apart on the boat (it needs the heading for its side-scan). What is held in the hand knows its place
# and its heading as phones do on a good day. Common practice, no source.
NOISE = {
    DRONE: Noise(0.5, 1.0, 0.5, 0.3),
    BOAT: Noise(0.5, 0.5, 0.5, 0.3),
    PHONE: Noise(2.0, 2.0, 1.0, 0.3),
    COMPACT: Noise(2.0, 2.0, 1.0, 0.3),
}
BOAT_CLOCK_FAST_S, COMPACT_CLOCK_FAST_S = 420, 3750
# The drone takes off from the ramp's head; its relative altitude counts from there.
TAKEOFF_ABOVE_FULL_M = 2.6
FAR_FROM_LAKE = (-96.03, -31.41)
_NAMES = {
    DRONE: ("Tarnwing", "TW-2", 6.7, 24),
    BOAT: ("Oxmarrow", "Skerrycam 4", 4.3, 26),
    PHONE: ("Pellune", "P3", 5.1, 27),
    COMPACT: ("Grelvane", "DC-70", 6.0, 28),
}


@dataclass(frozen=True)
class Recorded:
    """What the device believed: truth with noise. Degrees, metres; heading from true north."""

    lon_deg: float
    lat_deg: float
    heading_deg: float
    pitch_deg: float
    height_above_full_m: float


def rng_of(shot: Shot) -> np.random.Generator:
    """Return the draws of one photo, whatever the order in which photos are made."""
    return np.random.default_rng([SEED, zlib.crc32(shot.file.encode())])


def true_lonlat(shot: Shot) -> tuple[float, float]:
    """Where the camera stood, degrees; the far one's picture stands for a place outside the terrain."""
    return FAR_FROM_LAKE if "far" in shot.traits else to_lonlat(shot.x_m, shot.y_m)


def true_heading_deg(shot: Shot) -> float:
    """Heading from true north."""
    return true_bearing_deg(shot.x_m, shot.y_m, shot.heading_deg)


def declination_deg(shot: Shot) -> float:
    """East declination at the shot's place and date, World Magnetic Model 2025 as pygeomag computes it."""
    lon, lat = true_lonlat(shot)
    start = datetime(shot.when.year, 1, 1, tzinfo=UTC)
    year = shot.when.year + (shot.when - start) / timedelta(days=365)
    return float(GeoMag().calculate(glat=lat, glon=lon, alt=FULL_SUPPLY_M / 1000, time=year).d)


def recorded(shot: Shot) -> Recorded:
    """Add each device's noise to the truth."""
    rng, sigma = rng_of(shot), NOISE[shot.device]
    east, north = rng.normal(0, sigma.position_m, 2)
    lon, lat = to_lonlat(shot.x_m + east, shot.y_m + north)
    if "far" in shot.traits:
        lon, lat = FAR_FROM_LAKE
    if "wrongplace" in shot.traits:
        lon, lat = to_lonlat(shot.x_m - 330, shot.y_m + 260)
    heading = (true_heading_deg(shot) + rng.normal(0, sigma.heading_deg)) % 360
    pitch = max(shot.pitch_deg + rng.normal(0, sigma.tilt_deg), -90.0)
    height = shot.stage_m + shot.height_m + rng.normal(0, sigma.height_m)
    return Recorded(float(lon), float(lat), float(heading), float(pitch), float(height))


def exif_bytes(shot: Shot) -> bytes:
    """EXIF block of the shot's device."""
    make, model, focal_mm, focal_35mm = _NAMES[shot.device]
    fast_s = {BOAT: BOAT_CLOCK_FAST_S, COMPACT: COMPACT_CLOCK_FAST_S}.get(shot.device, 0)
    clock = f"{shot.when.astimezone(LOCAL_ZONE) + timedelta(seconds=fast_s):%Y:%m:%d %H:%M:%S}"
    first = {
        piexif.ImageIFD.Make: make,
        piexif.ImageIFD.Model: model,
        piexif.ImageIFD.Orientation: orientation(shot),
        piexif.ImageIFD.DateTime: clock,
    }
    if shot.caption:
        first[piexif.ImageIFD.ImageDescription] = shot.caption.encode()
    details = {
        piexif.ExifIFD.DateTimeOriginal: clock,
        piexif.ExifIFD.FocalLength: (round(focal_mm * 100), 100),
        piexif.ExifIFD.FocalLengthIn35mmFilm: focal_35mm,
        piexif.ExifIFD.ISOSpeedRatings: 100,
    }
    if shot.device == PHONE:
        details[piexif.ExifIFD.OffsetTimeOriginal] = "-06:00"
    return piexif.dump({"0th": first, "Exif": details, "GPS": _gps(shot)})


def orientation(shot: Shot) -> int:
    """Orientation tag (Exif 2.2, TIFF tag 274) that a device held this way writes."""
    return next((int(trait[4:]) for trait in shot.traits if trait.startswith("turn")), 1)


def _gps(shot: Shot) -> dict:
    if shot.device == COMPACT or shot.traits & {"track", "xmponly"}:
        return {}
    told = recorded(shot)
    lon, lat = (0.0, 0.0) if "zero" in shot.traits else (told.lon_deg, told.lat_deg)
    gps = {
        piexif.GPSIFD.GPSVersionID: (2, 3, 0, 0),
        piexif.GPSIFD.GPSLatitudeRef: "N" if lat >= 0 else "S",
        piexif.GPSIFD.GPSLatitude: _degrees(lat),
        piexif.GPSIFD.GPSLongitudeRef: "E" if lon >= 0 else "W",
        piexif.GPSIFD.GPSLongitude: _degrees(lon),
    }
    if shot.device in (DRONE, PHONE):
        gps[piexif.GPSIFD.GPSAltitudeRef] = 0
        gps[piexif.GPSIFD.GPSAltitude] = (round((FULL_SUPPLY_M + told.height_above_full_m) * 100), 100)
    if shot.device in (BOAT, PHONE) and "zero" not in shot.traits:
        gps[piexif.GPSIFD.GPSDateStamp] = f"{shot.when:%Y:%m:%d}"
        gps[piexif.GPSIFD.GPSTimeStamp] = ((shot.when.hour, 1), (shot.when.minute, 1), (shot.when.second, 1))
    if "zero" not in shot.traits:
        gps[piexif.GPSIFD.GPSHPositioningError] = _plane_error(NOISE[shot.device].position_m)
    return gps | _direction(shot, told)


def _plane_error(each_axis_m: float) -> tuple[int, int]:
    """GPSHPositioningError (Exif 2.31, tag 31): metres in the plane, rounded up to half metres."""
    return 5 * math.ceil(2 * each_axis_m * math.sqrt(2)), 10


def _direction(shot: Shot, told: Recorded) -> dict:
    if shot.device == DRONE or "noheading" in shot.traits:
        return {}
    magnetic = "magnetic" in shot.traits
    heading = (told.heading_deg - (declination_deg(shot) if magnetic else 0)) % 360
    return {
        piexif.GPSIFD.GPSImgDirectionRef: "M" if magnetic else "T",
        piexif.GPSIFD.GPSImgDirection: (round(heading * 100) % 36000, 100),
    }


def _degrees(value_deg: float) -> tuple:
    """Degrees, minutes and seconds as three rationals, seconds to 0.0001 (3 mm)."""
    units = round(abs(value_deg) * 3600 * 10000)
    minutes, seconds = divmod(units, 600000)
    return ((minutes // 60, 1), (minutes % 60, 1), (seconds, 10000))


def xmp_bytes(shot: Shot) -> bytes | None:
    """XMP packet: pose and relative height from the drone, words from whoever captioned the photo."""
    if shot.device == DRONE:
        return _packet(_drone_attributes(shot), shot.caption)
    return _packet("", shot.caption) if shot.caption else None


def _drone_attributes(shot: Shot) -> str:
    told, rng = recorded(shot), np.random.default_rng([SEED, zlib.crc32(shot.file.encode()), 1])
    yaw = (told.heading_deg + 180) % 360 - 180
    flight_yaw = (told.heading_deg + rng.uniform(35, 120) + 180) % 360 - 180
    values = {
        "aero:GimbalYawDegree": f"{yaw:+.2f}",
        "aero:GimbalPitchDegree": f"{told.pitch_deg:+.2f}",
        "aero:GimbalRollDegree": f"{shot.roll_deg:+.2f}",
        "aero:FlightYawDegree": f"{flight_yaw:+.2f}",
        "aero:FlightPitchDegree": f"{rng.normal(-4, 2):+.2f}",
        "aero:FlightRollDegree": f"{rng.normal(0, 2):+.2f}",
        "aero:RelativeAltitude": f"{told.height_above_full_m - TAKEOFF_ABOVE_FULL_M:+.2f}",
    }
    if "xmponly" in shot.traits:
        values["exif:GPSLatitude"] = _xmp_angle(told.lat_deg, "NS")
        values["exif:GPSLongitude"] = _xmp_angle(told.lon_deg, "EW")
    return "".join(f'\n   {name}="{value}"' for name, value in values.items())


def _xmp_angle(value_deg: float, signs: str) -> str:
    """`DDD,MM.mmk` (XMP Specification, September 2005, page 85)."""
    minutes = abs(value_deg) * 60
    return f"{int(minutes // 60)},{minutes % 60:.6f}{signs[int(value_deg < 0)]}"


def _packet(attributes: str, caption: str | None) -> bytes:
    words = ""
    if caption:
        item = f'<rdf:li xml:lang="x-default">{escape(caption)}</rdf:li>'
        words = f"\n   <dc:description><rdf:Alt>{item}</rdf:Alt></dc:description>"
    return (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>\n'
        '<x:xmpmeta xmlns:x="adobe:ns:meta/">\n'
        ' <rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">\n'
        '  <rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"\n'
        '   xmlns:exif="http://ns.adobe.com/exif/1.0/"\n'
        f'   xmlns:aero="http://ns.example.org/aero/1.0/"{attributes}>{words}\n'
        "  </rdf:Description>\n </rdf:RDF>\n</x:xmpmeta>\n"
        '<?xpacket end="w"?>'
    ).encode()
