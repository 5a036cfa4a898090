"""The way a boat went: the direction of a camera fixed to it, from the course of its track at the photo's moment."""

from __future__ import annotations

import math
from datetime import datetime
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from atlasgen.model import LonLat, Measured, Track
from atlasgen.model.wording import say
from atlasgen.place.geo import bearing_deg, geodesic_m
from atlasgen.units import number_words

# The course is that of the way from so long before the moment to so long after it. Ours: five seconds at walking pace
# are seven metres, well over a receiver's noise, and short beside a turn.
HALF_WINDOW_S = 5.0
# Ours: a boat that made less way than this in the window drifts or lies still, and its track says nothing of its bow.
LEAST_WAY_M = 5.0
# Ours, common practice, no source: fixes seconds apart share most of their error, and differ by about so much; a bow
# points off the course by steering, wind and current by so much.
FIX_NOISE_M = 1.5
BOW_SIGMA_DEG = 5.0
# Ours, as for positions: between fixes farther apart than the window a boat strays by a quarter of the way to the
# nearer one, about 14 degrees.
_STRAY_DEG = 14.0
# A photo that says it was taken so far from the boat was not taken from it.
FARTHEST_FROM_BOAT_M = 100.0


class Mount(NamedTuple):
    """A camera fixed to a boat: where it looks, the boat's track, the widest gap in it, and how sure the time is."""

    looks_deg_right_of_bow: float
    track: Track | None
    gap_s: float
    time_sigma_s: float


def mounted_heading(mount: Mount, at: LonLat, taken: datetime | None) -> tuple[Measured | None, str]:
    """Work out the heading of a fixed camera, degrees from true north, or None and why not.

    It is the course over ground plus the angle from the bow, clockwise. The standard uncertainty adds the fixes'
    noise over the way made, the turn within the uncertainty of the time, and how far a bow points off its course.
    """
    way, why_not = _way(mount, taken)
    if way is None:
        return None, why_not
    if (away_m := geodesic_m(at, way.places[1])) > FARTHEST_FROM_BOAT_M:
        return None, say("place-fault-course-away", metres=round(away_m))
    made_m = geodesic_m(way.places[0], way.places[2])
    if made_m < LEAST_WAY_M:
        return None, say("place-fault-course-still", metres=number_words(made_m, 1), seconds=round(way.seconds))
    course_deg = bearing_deg(way.places[0], way.places[2])
    turn_deg = (mount.looks_deg_right_of_bow + 180) % 360 - 180
    words = say(
        "place-heading-course",
        course=round(course_deg % 360),
        speed=number_words(made_m / way.seconds, 1),
        side="bow" if turn_deg == 0 else "right" if turn_deg > 0 else "left",
        turn=abs(turn_deg),
    )
    # Twice: a hair below 0 is rounded to 360 itself.
    heading_deg = (course_deg + mount.looks_deg_right_of_bow) % 360 % 360
    return Measured(heading_deg, words, _sigma_deg(way, made_m, mount)), ""


class _Way(NamedTuple):
    """Places at the window's start, at the moment and at the window's end; its length; the gap between fixes there."""

    places: tuple[LonLat, LonLat, LonLat]
    seconds: float
    gap_s: float


def _way(mount: Mount, taken: datetime | None) -> tuple[_Way | None, str]:
    """Cut the window out of the piece of track that holds the moment."""
    track = mount.track
    if track is None or not len(track.time_s):
        return None, say("place-fault-no-track")
    if taken is None:
        return None, say("place-fault-course-no-time")
    now_s = taken.timestamp()
    same = track.segment[:-1] == track.segment[1:]
    around = np.flatnonzero((track.time_s[:-1] <= now_s) & (now_s <= track.time_s[1:]) & same)
    if not len(around):
        return None, say("place-fault-course-outside")
    fix = int(around[np.argmin(np.diff(track.time_s)[around])])
    first, last = _without_gaps(track, fix, mount.gap_s)
    if last == first:
        return None, say("place-fault-course-gap", seconds=mount.gap_s)
    times = track.time_s[first : last + 1]
    moments = np.clip([now_s - HALF_WINDOW_S, now_s, now_s + HALF_WINDOW_S], times[0], times[-1])
    east = np.interp(moments, times, np.unwrap(track.lon_deg[first : last + 1], period=360))
    north = np.interp(moments, times, track.lat_deg[first : last + 1])
    before, now, after = (LonLat(*place) for place in zip(east.tolist(), north.tolist(), strict=True))
    gap_s = float(track.time_s[fix + 1] - track.time_s[fix])
    return _Way((before, now, after), float(moments[2] - moments[0]), gap_s), ""


def _without_gaps(track: Track, fix: int, gap_s: float) -> tuple[int, int]:
    """First and last fix of the run about `fix` that the window can touch; the same one twice if that is in a gap."""
    follows = (np.diff(track.time_s) <= gap_s) & (track.segment[:-1] == track.segment[1:])
    if not follows[fix]:
        return fix, fix
    breaks = np.flatnonzero(~follows)
    before, after = breaks[breaks < fix], breaks[breaks > fix]
    return int(before[-1]) + 1 if len(before) else 0, int(after[0]) if len(after) else len(track.time_s) - 1


def _sigma_deg(way: _Way, made_m: float, mount: Mount) -> float:
    noise = math.degrees(math.atan2(math.sqrt(2) * FIX_NOISE_M, made_m))
    stray = _STRAY_DEG if way.gap_s > 2 * HALF_WINDOW_S else 0.0
    return min(math.hypot(noise, _turn_deg_per_s(way) * mount.time_sigma_s, BOW_SIGMA_DEG, stray), 180.0)


def _turn_deg_per_s(way: _Way) -> float:
    """How fast the boat turned: the difference of the courses of both halves, which lie half the window apart."""
    halves = [(bearing_deg(*legs), geodesic_m(*legs)) for legs in pairwise(way.places)]
    if min(length_m for _, length_m in halves) < FIX_NOISE_M:
        return 0.0
    (one, _), (other, _) = halves
    return abs((other - one + 180) % 360 - 180) / (way.seconds / 2)
