"""The ground a pass took a picture of, each channel by itself, and the ground beside it that it did not.

Between two positions a channel sees a strip square to the track, never anything twisted; in a turn the strips of the
inner side overlap, and the outer side sweeps the wedge between them. Land ends what a channel sees: behind a spit or an
island there is no picture. Course stands for heading, so a boat set sideways by wind is placed as if it were not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

import numpy as np
from shapely import LineString, MultiLineString, MultiPolygon

from atlasgen.measure.areas import polygons
from atlasgen.measure.passtrack import COARSE, FINE, NO_SWATH, UNKNOWN, Fixes, Leg, fixes_of, legs_of, log_gaps
from atlasgen.measure.strips import Strips, strips_of
from atlasgen.model import SonarPass
from atlasgen.model.sonar import Cause, Channel, NoPicture, SonarRules, SonarRun, Swath

_SIDES: dict[Channel, float] = {"port": 1.0, "starboard": -1.0}
_QUALITIES = {"fine": FINE, "coarse": COARSE, "unknown": UNKNOWN}
_BESIDE: tuple[tuple[Cause, str], ...] = (("under_boat", "under"), ("behind_land", "hidden"))
# A silent stretch counts as run where the boat would have made it at half to twice its usual speed.
_STRAIGHT_ON = (0.5, 2.0)


def run_on_ground(
    run: SonarPass,
    x_m: np.ndarray,
    y_m: np.ndarray,
    height_m: np.ndarray,
    height_from: dict[str, int],
    water: MultiPolygon,
    rules: SonarRules,
) -> SonarRun:
    """Lay one pass on the ground.

    Parameters
    ----------
    run, x_m, y_m
        The pass, and its positions in metric coordinates.
    height_m, height_from
        Height above the bed at each position, NaN where unknown, and how many came from where.
    water
        The water, metric (prepare it when many passes are laid on it).
    """
    fixes = fixes_of(run, x_m, y_m, height_m, rules)
    legs = legs_of(fixes, run, rules)
    strips = {channel: strips_of(legs, side, water) for channel, side in _SIDES.items()}
    swaths = (_swath(run.name, "port", strips["port"], legs), _swath(run.name, "starboard", strips["starboard"], legs))
    missing = [*_lost(run, strips, legs), *_unknown(run, strips, legs), *_paused(run, fixes, water, rules)]
    for cause, pieces in _BESIDE:
        area = polygons(np.concatenate([_of(strips[channel], legs, _seeing, pieces) for channel in _SIDES]))
        if not area.is_empty:
            missing.append(NoPicture(run.name, cause, area))
    return _figures(run, fixes, legs, height_from, swaths, tuple(missing), rules)


def _figures(
    run: SonarPass,
    fixes: Fixes,
    legs: list[Leg],
    height_from: dict[str, int],
    swaths: tuple[Swath, Swath],
    missing: tuple[NoPicture, ...],
    rules: SonarRules,
) -> SonarRun:
    lines = [LineString(np.c_[leg.fixes.x_m, leg.fixes.y_m]) for leg in legs]
    line = MultiLineString([line for line in lines if line.length > 0])
    ranges, pings = run.range_m[np.isfinite(run.range_m)], fixes.pings[np.isfinite(fixes.pings)]
    pings_on_metre = float(np.median(pings)) if pings.size else None
    speeds = run.speed_mps[np.isfinite(run.speed_mps)]
    return SonarRun(
        name=run.name,
        line=line,
        from_s=float(run.time_s[0]),
        to_s=float(run.time_s[-1]),
        length_m=line.length,
        range_m=(float(ranges.min()), float(ranges.max())) if ranges.size else None,
        speed_mps=float(np.median(speeds)) if speeds.size else None,
        spacing_m=1.0 / pings_on_metre if pings_on_metre else None,
        pings_on_metre=pings_on_metre,
        reach_m=float(np.median(fixes.far_m[fixes.swath])) if fixes.swath.any() else None,
        height_from=height_from,
        swaths=swaths,
        no_picture=missing,
        speed_computed=run.speed_computed,
        file=run.file,
        instrument=run.instrument,
    )


def _seeing(leg: Leg) -> np.ndarray:
    return leg.quality != NO_SWATH


def _of(strips: Strips, legs: list[Leg], wanted: Callable[[Leg], np.ndarray], pieces: str = "seen") -> np.ndarray:
    """Pick the pieces of one sort whose interval is wanted; `wanted(leg)` tells for each interval."""
    if not len(strips.leg):
        return strips.seen
    first = np.cumsum([0] + [len(leg.quality) for leg in legs[:-1]])
    picked = np.concatenate([wanted(leg) for leg in legs])[first[strips.leg] + strips.interval]
    return getattr(strips, pieces)[picked]


def _swath(name: str, channel: Channel, strips: Strips, legs: list[Leg]) -> Swath:
    def ran(quality: int) -> Callable[[Leg], np.ndarray]:
        return lambda leg: (leg.quality == quality) & (leg.lost[channel] < 0)

    parts = {word: polygons(_of(strips, legs, ran(quality))) for word, quality in _QUALITIES.items()}
    return Swath(name, channel, **parts)


def _lost(run: SonarPass, strips: dict[Channel, Strips], legs: list[Leg]) -> Iterable[NoPicture]:
    """For every outage the ground that its channel would have seen."""
    for number, outage in enumerate(run.outages):
        area = polygons(_of(strips[outage.channel], legs, _in_outage(outage.channel, number)))
        if not area.is_empty:
            yield NoPicture(run.name, "lost_channel", area, outage.channel, outage.from_s, outage.to_s, outage.why)


def _in_outage(channel: Channel, number: int) -> Callable[[Leg], np.ndarray]:
    return lambda leg: leg.lost[channel] == number


def _unknown(run: SonarPass, strips: dict[Channel, Strips], legs: list[Leg]) -> Iterable[NoPicture]:
    """Tell for each leg the ground within range where height or range is not known."""
    for number, leg in enumerate(legs):
        where = np.flatnonzero(leg.quality == NO_SWATH)
        if not where.size:
            continue
        picked = [(s.leg == number) & np.isin(s.interval, where) for s in strips.values()]
        area = polygons(np.concatenate([s.seen[p] for s, p in zip(strips.values(), picked, strict=True)]))
        if not area.is_empty:
            times = leg.fixes.time_s[where[0]], leg.fixes.time_s[where[-1] + 1]
            yield NoPicture(run.name, "unknown_swath", area, None, float(times[0]), float(times[1]))


def _paused(run: SonarPass, fixes: Fixes, water: MultiPolygon, rules: SonarRules) -> Iterable[NoPicture]:
    """For each pause of the log in which the boat went straight on: the ground it would have seen."""
    speeds = run.speed_mps[np.isfinite(run.speed_mps)]
    usual_mps = float(np.median(speeds)) if speeds.size else np.nan
    for before in log_gaps(fixes, rules):
        ends = fixes.at(np.array([before, before + 1]))
        way_m, took_s = float(np.hypot(np.diff(ends.x_m), np.diff(ends.y_m))[0]), float(np.diff(ends.time_s)[0])
        if not _STRAIGHT_ON[0] <= way_m / took_s / usual_mps <= _STRAIGHT_ON[1]:
            continue
        whole = replace(ends, near_m=np.zeros(2))
        leg = Leg(whole, np.array([NO_SWATH]), {})
        area = polygons(np.concatenate([strips_of([leg], side, water).seen for side in _SIDES.values()]))
        if not area.is_empty:
            yield NoPicture(run.name, "log_gap", area, None, float(ends.time_s[0]), float(ends.time_s[1]))
