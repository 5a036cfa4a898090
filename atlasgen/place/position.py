"""When a photo was taken, and where its camera stood."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta, timezone
from statistics import median
from typing import Literal, NamedTuple
from zoneinfo import ZoneInfo

import numpy as np

from atlasgen.model import Correction, LonLat, PhotoFile, Problem, Track, Zone
from atlasgen.model.wording import say
from atlasgen.place.geo import geodesic_m

# Standard uncertainties. Ours, after common practice, no source: a phone's or a drone's fix in the open, and a place
# read off a map by the crew, are good to about five metres.
FIX_SIGMA_M = 5.0
CORRECTION_SIGMA_M = 5.0
# Ours: GPS time is written in whole seconds and may lag the shutter by one; a camera clock set by hand, or corrected
# by a measured difference, is good to a few seconds.
GPS_SIGMA_S = 1.0
CLOCK_SIGMA_S = 3.0
# Ours: between two fixes a boat strays from the straight line by a quarter of the way to the nearer one (about 14°).
_TRACK_WANDER = 0.25
# Zones run from UTC-12:00 to UTC+14:00: a wider difference is no mistake of zones.
_WIDEST_ZONE_ERROR_S = 26 * 3600
_ZONE_STEP_S = 900
# GPS counts weeks in 10 bits (IS-GPS-200, from memory): a receiver past its years shows a date 1024 weeks back.
_GPS_ROLLOVER_S = 1024 * 7 * 86400
# Ours: no photo with Exif is older; a receiver without a fix shows 6 January 1980, a reset clock 1970 or 1980.
_EARLIEST_YEAR = 1990
_LATEST_YEAR = 2200


@dataclass(frozen=True, slots=True)
class TimeFix:
    """When a photo was taken (aware UTC, None if unknown), how that is known, and its standard uncertainty."""

    taken: datetime | None
    how: str
    sigma_s: float | None = None
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class PositionFix:
    """Where a camera stood (None if unknown), from what, how in words, and the standard uncertainty in metres."""

    lonlat: LonLat | None
    source: Literal["exif", "xmp", "track", "corrections"] | None
    how: str
    sigma_m: float | None = None
    problems: tuple[Problem, ...] = ()


class ClockSetting(NamedTuple):
    """What the crew said of a camera's clock: seconds it is fast, and the zone it is set to (None: not said)."""

    clock_fast_s: float = 0.0
    zone: Zone | None = None


def place_in_time(
    photo: PhotoFile,
    *,
    clock_fast_s: float,
    zone: Zone | None,
    survey_zone: Zone,
    tolerance_s: float,
    correction: Correction | None = None,
) -> TimeFix:
    """Work out when a photo was taken.

    The crew's word wins, then GPS time (it is UTC), then the camera's clock less `clock_fast_s`: read with the offset
    it wrote, else in the camera's `zone`, else in `survey_zone`, and the words say which. A GPS time that is itself
    wrong (before 1990, or 1024 weeks off) yields to the camera's clock. A difference beyond `tolerance_s` is in the
    words; `clock_report` turns it into one problem for each camera.
    """
    if correction and correction.taken:
        return TimeFix(correction.taken.astimezone(UTC), say("place-by-crew"), GPS_SIGMA_S)
    clock = _clock_time(photo, ClockSetting(clock_fast_s, zone), survey_zone)
    if photo.gps_time is None:
        return clock
    if clock.taken is None:
        return TimeFix(photo.gps_time, say("place-time-gps"), GPS_SIGMA_S)
    ahead_s = (clock.taken - photo.gps_time).total_seconds()
    if _gps_is_wrong(photo.gps_time, ahead_s):
        return _instead_of_gps(photo.file, photo.gps_time, clock.taken, clock)
    if abs(ahead_s) <= tolerance_s:
        return TimeFix(photo.gps_time, say("place-time-gps"), GPS_SIGMA_S)
    return TimeFix(photo.gps_time, say("place-time-gps-but", clock=clock.how, **_ahead(ahead_s)), GPS_SIGMA_S)


def _instead_of_gps(file: str, gps_time: datetime, clock_time: datetime, clock: TimeFix) -> TimeFix:
    text = say("place-fault-gps-time", file=file, gps=_time_words(gps_time), clock=_time_words(clock_time))
    return replace(clock, problems=(*clock.problems, Problem(file, "bad_metadata", text)))


def _gps_is_wrong(gps_time: datetime, ahead_s: float) -> bool:
    if gps_time.year < _EARLIEST_YEAR:
        return True
    rollovers = round(ahead_s / _GPS_ROLLOVER_S)
    return rollovers != 0 and abs(ahead_s - rollovers * _GPS_ROLLOVER_S) < _WIDEST_ZONE_ERROR_S


def _clock_time(photo: PhotoFile, clock: ClockSetting, survey_zone: Zone) -> TimeFix:
    """Read the camera's clock alone."""
    if photo.camera_time is None or not _EARLIEST_YEAR <= photo.camera_time.year < _LATEST_YEAR:
        return TimeFix(None, say("place-time-none"), None, (_no_time(photo),))
    zone, words = _zone_of(photo, clock, survey_zone)
    local = photo.camera_time - timedelta(seconds=clock.clock_fast_s)
    if clock.clock_fast_s:
        words = say("place-clock-less", clock=words, seconds=clock.clock_fast_s)
    return TimeFix(_to_utc(local, zone), words, CLOCK_SIGMA_S, _doubtful_hour(photo.file, local, zone))


def _no_time(photo: PhotoFile) -> Problem:
    if photo.camera_time is None:
        return Problem(photo.file, "no_time", say("place-fault-no-time", file=photo.file))
    text = say("place-fault-camera-time", file=photo.file, day=f"{photo.camera_time:%Y-%m-%d}")
    return Problem(photo.file, "no_time", text)


def _zone_of(photo: PhotoFile, clock: ClockSetting, survey_zone: Zone) -> tuple[Zone, str]:
    if photo.camera_offset_s is not None:
        own = timedelta(seconds=photo.camera_offset_s)
        return own, say("place-clock", read="own", zone=_zone_words(own))
    if clock.zone is not None:
        return clock.zone, say("place-clock", read="set", zone=_zone_words(clock.zone))
    return survey_zone, say("place-clock", read="survey", zone=_zone_words(survey_zone))


def _to_utc(local: datetime, zone: Zone) -> datetime:
    tz = timezone(zone) if isinstance(zone, timedelta) else zone
    return local.replace(tzinfo=tz).astimezone(UTC)


def _doubtful_hour(file: str, local: datetime, zone: Zone) -> tuple[Problem, ...]:
    """Tell of an hour that came twice or never, at a change of summer time."""
    if isinstance(zone, timedelta):
        return ()
    first, second = (zone.utcoffset(local.replace(fold=fold)) or timedelta() for fold in (0, 1))
    if first == second:
        return ()
    message = "place-fault-hour-twice" if first > second else "place-fault-hour-never"
    time, utc = f"{local:%Y-%m-%d %H:%M:%S}", _time_words(_to_utc(local, zone))
    return (Problem(file, "ambiguous", say(message, file=file, time=time, zone=_zone_words(zone), utc=utc)),)


def clock_report(
    photos: Iterable[PhotoFile],
    *,
    setting_of: Callable[[PhotoFile], ClockSetting],
    survey_zone: Zone,
    tolerance_s: float,
) -> list[Problem]:
    """Compare camera clocks with GPS time where a photo has both: one problem for each camera beyond `tolerance_s`.

    The median difference is told with the line of survey.toml that mends it: a zone when the clock is right to the
    quarter of an hour and wrote no offset of its own, else `clock_fast_s`.
    """
    by_camera: dict[str, list[_Reading]] = {}
    fast_s: dict[str, float] = {}
    for photo in photos:
        clock = setting_of(photo)
        reading = _reading(photo, clock, survey_zone)
        if reading:
            by_camera.setdefault(photo.camera or "", []).append(reading)
            fast_s[photo.camera or ""] = clock.clock_fast_s
    found = (_camera_report(name, by_camera[name], fast_s[name], tolerance_s) for name in sorted(by_camera))
    return [problem for problem in found if problem]


class _Reading(NamedTuple):
    """One photo's camera clock beside its GPS time.

    `ahead_s` is what the clock is ahead, as it is read now; `offset_s` what its face, less what it is known to be
    fast, is ahead of UTC.
    """

    ahead_s: float
    offset_s: float
    how: str
    wrote_offset: bool


def _reading(photo: PhotoFile, clock: ClockSetting, survey_zone: Zone) -> _Reading | None:
    if photo.gps_time is None or photo.camera_time is None:
        return None
    fix = _clock_time(photo, clock, survey_zone)
    if fix.taken is None:
        return None
    ahead_s = (fix.taken - photo.gps_time).total_seconds()
    if _gps_is_wrong(photo.gps_time, ahead_s):
        return None
    face = (photo.camera_time - photo.gps_time.replace(tzinfo=None)).total_seconds()
    return _Reading(ahead_s, face - clock.clock_fast_s, fix.how, photo.camera_offset_s is not None)


def _camera_report(camera: str, readings: list[_Reading], fast_s: float, tolerance_s: float) -> Problem | None:
    ahead = [reading.ahead_s for reading in readings]
    middle_s = median(ahead)
    if abs(middle_s) <= tolerance_s:
        return None
    advice = _clock_advice(camera, readings, fast_s + middle_s, tolerance_s)
    if max(ahead) - min(ahead) > 2 * tolerance_s:
        ends = {"least": f"{min(ahead):.0f}", "most": f"{max(ahead):.0f}"}
        advice = say("place-fault-clock-unsteady", advice=advice, **ends)
    subject = camera or say("place-fault-no-camera-name")
    text = say(
        "place-fault-clock",
        camera=subject,
        clock=readings[0].how,
        seconds=f"{middle_s:+.0f}",
        photos=say("place-fault-clock-photos", count=len(ahead)),
        most=tolerance_s,
        advice=advice,
        **_ahead(middle_s),
    )
    return Problem(subject, "clock", text)


def _clock_advice(camera: str, readings: list[_Reading], fast_s: float, tolerance_s: float) -> str:
    if not camera:
        return say("place-fault-clock-by-hand")
    offset_s = median(reading.offset_s for reading in readings)
    zone_s = round(offset_s / _ZONE_STEP_S) * _ZONE_STEP_S
    is_zone = abs(offset_s - zone_s) <= tolerance_s and -12 * 3600 <= zone_s <= 14 * 3600
    if is_zone and not any(reading.wrote_offset for reading in readings):
        line = f'time_zone = "{_zone_words(timedelta(seconds=zone_s))}"'
    else:
        line = f"clock_fast_s = {round(fast_s)}"
    return say("place-fault-clock-write", camera=json.dumps(camera, ensure_ascii=False), line=line)


def position_of(
    photo: PhotoFile,
    taken: datetime | None,
    track: Track | None,
    correction: Correction | None,
    gap_s: float,
    time_sigma_s: float | None = CLOCK_SIGMA_S,
) -> PositionFix:
    """Work out where the camera stood: the crew's word, else the file's own position, else the track at `taken`.

    The track is followed in a straight line between two fixes of one segment no more than `gap_s` apart, never past
    its ends. Its uncertainty adds the fix's, the boat's speed times that of the time, and how far it may have
    strayed between fixes. Without a position the problem names all that was tried.
    """
    own = _own_position(photo, photo.lonlat) if photo.lonlat else None
    if correction and correction.lonlat:
        return PositionFix(correction.lonlat, "corrections", _moved_words(photo, correction.lonlat), CORRECTION_SIGMA_M)
    if own:
        return own
    fix, why_not = _track_fix(taken, track, gap_s)
    if fix:
        sigma_m = math.hypot(FIX_SIGMA_M, fix.speed_mps * (time_sigma_s or CLOCK_SIGMA_S), fix.to_fix_m * _TRACK_WANDER)
        return PositionFix(fix.lonlat, "track", fix.words, sigma_m)
    text = say("place-fault-no-position", file=photo.file, why=why_not)
    return PositionFix(None, None, say("place-nowhere"), None, (Problem(photo.file, "no_position", text, "left_out"),))


def _moved_words(photo: PhotoFile, to: LonLat) -> str:
    if photo.lonlat is None:
        return say("place-by-crew")
    return say("place-by-crew-moved", metres=round(geodesic_m(photo.lonlat, to)))


def _own_position(photo: PhotoFile, at: LonLat) -> PositionFix:
    source = photo.position_from or "exif"
    if photo.position_error_m:
        return PositionFix(at, source, say("place-by-photo-error", tag=source.upper()), photo.position_error_m)
    return PositionFix(at, source, say("place-by-photo", tag=source.upper()), FIX_SIGMA_M)


class _OnTrack(NamedTuple):
    lonlat: LonLat
    speed_mps: float
    to_fix_m: float
    words: str


def _track_fix(taken: datetime | None, track: Track | None, gap_s: float) -> tuple[_OnTrack | None, str]:
    """Return the place on the track, or None and why."""
    if track is None or not len(track.time_s):
        return None, say("place-fault-no-track")
    if taken is None:
        return None, say("place-fault-track-no-time")
    now_s = taken.timestamp()
    before, after = track.time_s[:-1], track.time_s[1:]
    around = np.flatnonzero((before <= now_s) & (now_s <= after) & (track.segment[:-1] == track.segment[1:]))
    if not len(around):
        return None, _off_track_words(taken, track)
    best = int(around[np.argmin(after[around] - before[around])])
    if (gap := float(after[best] - before[best])) > gap_s:
        return None, say("place-fault-track-gap", time=_time_words(taken), span=_span_words(gap), most=gap_s)
    return _between(track, best, now_s, gap), ""


def _between(track: Track, index: int, now_s: float, gap_s: float) -> _OnTrack:
    """Interpolate between the fixes `index` and `index + 1`."""
    ends = [LonLat(float(track.lon_deg[i]), float(track.lat_deg[i])) for i in (index, index + 1)]
    share = (now_s - float(track.time_s[index])) / gap_s if gap_s else 0.0
    apart_m = geodesic_m(*ends)
    at = LonLat(*(a + share * (b - a) for a, b in zip(*ends, strict=True)))
    how = "place-by-track" if 0 < share < 1 else "place-by-track-fix"
    words = say(how, time=_time_words(datetime.fromtimestamp(now_s, UTC)), seconds=round(gap_s))
    return _OnTrack(at, apart_m / gap_s if gap_s else 0.0, min(share, 1 - share) * apart_m, words)


def _off_track_words(taken: datetime, track: Track) -> str:
    first, last = (datetime.fromtimestamp(float(t), UTC) for t in (track.time_s.min(), track.time_s.max()))
    time = _time_words(taken)
    if taken < first:
        span = _span_words((first - taken).total_seconds())
        return say("place-fault-track-before", time=time, span=span, first=_time_words(first))
    if taken > last:
        span = _span_words((taken - last).total_seconds())
        return say("place-fault-track-after", time=time, span=span, last=_time_words(last))
    return say("place-fault-track-pause", time=time)


def _zone_words(zone: Zone) -> str:
    if isinstance(zone, ZoneInfo):
        return zone.key
    minutes = round(zone.total_seconds() / 60)
    return f"UTC{'-' if minutes < 0 else '+'}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d}"


def _time_words(when: datetime) -> str:
    return f"{when:%Y-%m-%d %H:%M:%S} UTC"


def _ahead(ahead_s: float) -> dict[str, str]:
    """Facts of a message that says how far a clock is ahead of GPS time, or behind it."""
    return {"span": _span_words(abs(ahead_s)), "side": "ahead" if ahead_s > 0 else "behind"}


def _span_words(seconds: float) -> str:
    whole = round(seconds)
    if whole < 120:
        return f"{whole} s"
    if whole < 7200:
        return f"{round(whole / 60)} min"
    if whole < 172800:
        hours, minutes = divmod(round(whole / 60), 60)
        return f"{hours} h {minutes} min" if minutes else f"{hours} h"
    return say("place-days", count=round(whole / 86400))
