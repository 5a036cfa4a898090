"""Where the survey boat went and when: planned lines, cut where the water is too thin, run one after another."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import cache

import numpy as np
import shapely

from demo_photos.make.frame import local_time, stage_m
from demo_photos.make.regions import closed_to_boat
from demo_photos.make.shoreline import water
from demo_photos.make.terrain import height_at

LEAST_WATER_M = 0.7
TURN_S = 25.0


@dataclass(frozen=True)
class Run:
    """One line as run: name, times (seconds since 1970, UTC), points (n, 2) in metres, speed over ground."""

    name: str
    time_s: np.ndarray
    xy_m: np.ndarray
    speed_mps: float


@dataclass(frozen=True)
class Plan:
    """A set of lines: `lines` are polylines in metres; a day's start; speed; distance between stored points."""

    name: str
    start: datetime
    lines: tuple[np.ndarray, ...]
    speed_mps: float
    step_m: float


def _parallel(x0: float, x1: float, ys: np.ndarray) -> tuple[np.ndarray, ...]:
    return tuple(np.array([(x0, y), (x1, y)]) for y in ys)


def _upright(y0: float, y1: float, xs: np.ndarray) -> tuple[np.ndarray, ...]:
    return tuple(np.array([(x, y0), (x, y1)]) for x in xs)


def _along_shore(offset_m: float) -> tuple[np.ndarray, ...]:
    inside = water().simplify(6).buffer(-offset_m).simplify(3)
    parts = inside.geoms if hasattr(inside, "geoms") else [inside]
    largest = max(parts, key=lambda part: part.area)
    return tuple(np.asarray(ring.coords) for ring in (largest.exterior, *largest.interiors))


@cache
def sounding_plans() -> tuple[Plan, ...]:
    """Return lines across the depth gradient, cross lines and a shore-following line; the west arm is NMEA's."""
    basin = _parallel(-700, 560, np.arange(-1365, 720, 36.0))
    east = _upright(-330, 250, np.arange(420, 1800, 40.0))
    south_east = _upright(-1250, -850, np.arange(330, 560, 36.0))
    north = _parallel(-400, 950, np.arange(735, 985, 34.0))
    north_west = _upright(560, 1100, np.arange(-900, -260, 40.0))
    cross = tuple(
        np.array(points, float)
        for points in (
            ((60, -1370), (30, -1000), (20, -700), (-120, -250), (0, 200), (130, 600), (70, 960)),
            ((-140, -1370), (-120, -900), (-60, -640), (-230, -100), (-180, 300), (20, 700)),
            ((0, -100), (300, -150), (640, -30), (950, -130), (1300, 50)),
            ((210, 660), (480, 760), (740, 960)),
        )
    )
    return (
        Plan("shore", local_time("2026-03-10 08:05:00"), _along_shore(16), 2.1, 8.0),
        Plan("basin", local_time("2026-03-10 11:10:00"), basin, 2.3, 2.7),
        Plan("arms", local_time("2026-03-11 08:20:00"), east + south_east + north + north_west, 2.2, 2.7),
        Plan("cross", local_time("2026-03-11 13:40:00"), cross, 2.2, 3.5),
    )


@cache
def nmea_plan() -> Plan:
    """Return the west arm, logged as NMEA 0183."""
    return Plan(
        "cask", local_time("2026-03-12 08:30:00"), _upright(-1100, -560, np.arange(-1480, -215, 42.0)), 2.0, 5.0
    )


@cache
def sonar_plans() -> tuple[Plan, ...]:
    """Return side-scan passes: long runs up the basin and along two arms; one of them too fast."""
    at = np.array([(0, -1360), (30, -1000), (10, -700), (-110, -250), (-10, 200), (110, 600), (60, 930)], float)
    east = np.array([(120, -120), (300, -150), (600, -30), (950, -130), (1300, 50), (1500, 80)], float)
    west = np.array([(-120, -790), (-350, -730), (-700, -870), (-1050, -740), (-1400, -770)], float)
    start = local_time("2026-03-12 11:30:00")
    basin = tuple(
        at[:: 1 if i % 2 == 0 else -1] + np.array([offset, 0])
        for i, offset in enumerate((-180, -115, -50, 15, 80, 145))
    )
    arms = tuple(
        line + np.array([0, offset]) for line, offset in ((east, -28), (east[::-1], 34), (west, -26), (west[::-1], 32))
    )
    slow, fast = basin[:4] + basin[5:] + arms, basin[4:5]
    return (
        Plan("side-scan", start, slow, 2.1, 21.0),
        Plan("side-scan fast", local_time("2026-03-12 17:05:00"), fast, 4.7, 47.0),
    )


def _dense(line: np.ndarray, step_m: float) -> np.ndarray:
    shape = shapely.LineString(line)
    return np.array([shape.interpolate(d).coords[0] for d in np.arange(0, shape.length, step_m)])


def _afloat(points: np.ndarray, stage: float) -> np.ndarray:
    wet = shapely.contains_xy(water(), *points.T) & ~shapely.contains_xy(closed_to_boat(), *points.T)
    return wet & (height_at(*points.T) < stage - LEAST_WATER_M)


def _pieces(points: np.ndarray, keep: np.ndarray) -> list[np.ndarray]:
    edges = np.flatnonzero(np.diff(np.concatenate([[0], keep.astype(int), [0]])))
    return [points[a:b] for a, b in zip(edges[::2], edges[1::2], strict=True) if b - a >= 4]


def run(plan: Plan) -> tuple[Run, ...]:
    """Run a plan: every afloat piece of every line, back and forth, turns and transits between."""
    clock, runs, stage, here = plan.start.timestamp(), [], stage_m(plan.start), None
    for number, line in enumerate(plan.lines):
        points = _dense(line, plan.step_m)
        pieces = _pieces(points, _afloat(points, stage))
        if number % 2 and len(line) == 2:
            pieces = [piece[::-1] for piece in pieces[::-1]]
        for part, piece in enumerate(pieces):
            clock += TURN_S + (0 if here is None else float(np.hypot(*(piece[0] - here))) / 4.0)
            times = clock + plan.step_m / plan.speed_mps * np.arange(len(piece))
            runs.append(Run(f"{plan.name}-{number + 1:02d}{chr(97 + part % 26)}", times, piece, plan.speed_mps))
            clock, here = float(times[-1]), piece[-1]
    return tuple(runs)


@cache
def day_one() -> tuple[np.ndarray, np.ndarray]:
    """Return times (n,) and points (n, 2) of the boat on the first day: what its track logger wrote down."""
    plans = [plan for plan in sounding_plans() if plan.start.date() == sounding_plans()[0].start.date()]
    runs = [piece for plan in plans for piece in run(plan)]
    return np.concatenate([r.time_s for r in runs]), np.vstack([r.xy_m for r in runs])


def boat_at(when: datetime) -> tuple[float, float]:
    """Return the boat's true place at a time of the first day, metres."""
    times, points = day_one()
    return tuple(float(np.interp(when.timestamp(), times, points[:, i])) for i in (0, 1))
