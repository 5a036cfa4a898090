"""Straight sonar passes over invented water, for the tests of side-scan; metric, x east, y north."""

from __future__ import annotations

import numpy as np
from shapely import MultiPolygon, box

from atlasgen.measure.swath import run_on_ground
from atlasgen.model import SonarPass
from atlasgen.model.sonar import SonarRules, SonarRun

RULES = SonarRules()
# Recorded 5 m above the bed with a range of 13 m: a ground range of exactly 12 m; blind to 5 · cot 70° = 1.820 m.
RANGE_M, HEIGHT_M, REACH_M, BLIND_M = 13.0, 5.0, 12.0, 1.8198512


def lake(width_m: float = 200.0, height_m: float = 100.0, *islands) -> MultiPolygon:
    """Water from (0, 0), with islands cut out."""
    water = box(0, 0, width_m, height_m)
    for island in islands:
        water = water.difference(island)
    return MultiPolygon([water])


def sonar_pass(name: str, places, speed_mps: float = 2.0, outages=(), **columns) -> SonarPass:
    """Make a pass along corner points, a position each second; columns replace those of the pass."""
    corners = np.asarray(places, float)
    steps = np.hypot(*np.diff(corners, axis=0).T)
    way = np.r_[0.0, np.cumsum(steps)]
    at = np.unique(np.r_[np.arange(0.0, way[-1], speed_mps), way])
    x, y = (np.interp(at, way, corners[:, i]) for i in (0, 1))
    values = {
        "time_s": at / speed_mps,
        "speed_mps": np.full(len(at), speed_mps),
        "range_m": np.full(len(at), RANGE_M),
        "height_above_bed_m": np.full(len(at), HEIGHT_M),
    } | columns
    return SonarPass(name, lon_deg=x, lat_deg=y, outages=tuple(outages), **values)


def on_ground(run: SonarPass, water: MultiPolygon, rules: SonarRules = RULES) -> SonarRun:
    """Lay a pass whose longitude and latitude are metres already."""
    return run_on_ground(run, run.lon_deg, run.lat_deg, run.height_above_bed_m, {}, water, rules)


def area_of(run: SonarRun, quality: str = "fine", channel: str | None = None) -> float:
    """Square metres a pass took a picture of."""
    return sum(getattr(s, quality).area for s in run.swaths if channel in (None, s.channel))


def missing(run: SonarRun, cause: str) -> list:
    """Return what the records say of one cause."""
    return [record for record in run.no_picture if record.cause == cause]
