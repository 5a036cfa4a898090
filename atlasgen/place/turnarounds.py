"""Turn-around sets: photos taken from one station within a short time, in many directions.

A set is told by four rules, all ours. At least 4 photos of one camera, which together look over at least 180 degrees:
less is a pair or a panorama of one bank. At most 60 seconds from one to the next: a drone turns an eighth and
photographs in about 10, a person on a beach in 20. Every two stations agree within twice their combined standard
uncertainty, 15 m at the most: a boat that drifts on, or a drone between two stops of a run, is not one station. No two
heights differ by more than that, 3 m at the least.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import NamedTuple

from atlasgen.model import Photo, TurnAround

LEAST_PHOTOS = 4
LEAST_COVERED_DEG = 180.0
LONGEST_PAUSE_S = 60.0
FARTHEST_APART_M = 15.0
# What is taken where a position, or a height, does not state its own uncertainty; ours.
_UNSTATED_SIGMA_M = 5.0
_LEAST_HEIGHT_M = 3.0
# Steeper than this a photo looks at the water below rather than in a direction; ours.
STEEP_DEG = -60.0
# A set is counted clockwise from north; a heading so little west of it counts as north. Ours.
NORTH_WITHIN_DEG = 15.0

Arc = tuple[float, float]


class _Shot(NamedTuple):
    """A photo that may belong to a set: its time and heading are known."""

    taken: datetime
    heading_deg: float
    photo: Photo


def find_turnarounds(photos: Iterable[Photo]) -> tuple[TurnAround, ...]:
    """Return the sets among photos, in the order they were taken; no photo is in two, and their order is no matter.

    A photo without time or direction, or that looks steeply down, is in none.
    """
    by_camera: dict[tuple[str, str], list[_Shot]] = defaultdict(list)
    for photo in photos:
        if photo.taken is not None and photo.heading_deg_true is not None and not _is_steep(photo):
            shot = _Shot(photo.taken, photo.heading_deg_true.value % 360, photo)
            by_camera[photo.source.camera or "", photo.kind].append(shot)
    runs = [run for camera in sorted(by_camera) for run in _runs(by_camera[camera])]
    sets = [run for run in runs if _turns(run)]
    in_time = sorted(sets, key=lambda run: (run[0].taken, run[0].photo.id))
    return tuple(_turnaround(f"T-{number:02d}", run) for number, run in enumerate(in_time, 1))


def _is_steep(photo: Photo) -> bool:
    return photo.pitch_deg is not None and photo.pitch_deg.value <= STEEP_DEG


def _runs(shots: Iterable[_Shot]) -> list[list[_Shot]]:
    """Cut one camera's photos, in the order they were taken, wherever it paused or moved on."""
    runs: list[list[_Shot]] = []
    for shot in sorted(shots, key=lambda shot: (shot.taken, shot.photo.id)):
        goes_on = runs and (shot.taken - runs[-1][-1].taken).total_seconds() <= LONGEST_PAUSE_S
        if goes_on and all(_one_station(shot.photo, other.photo) for other in runs[-1]):
            runs[-1].append(shot)
        else:
            runs.append([shot])
    return runs


def _one_station(a: Photo, b: Photo) -> bool:
    """Tell whether two photos may have been taken from one place in the air or on the bank."""
    sigmas = [_UNSTATED_SIGMA_M if p.position_sigma_m is None else p.position_sigma_m for p in (a, b)]
    apart_m = math.dist((a.point.x_m, a.point.y_m), (b.point.x_m, b.point.y_m))
    return apart_m <= min(2 * math.hypot(*sigmas), FARTHEST_APART_M) and _one_height(a, b)


def _one_height(a: Photo, b: Photo) -> bool:
    one, other = a.height_above_water_m, b.height_above_water_m
    if one is None or other is None:
        return True
    sigmas = [_UNSTATED_SIGMA_M if height.sigma is None else height.sigma for height in (one, other)]
    return abs(one.value - other.value) <= max(_LEAST_HEIGHT_M, min(2 * math.hypot(*sigmas), FARTHEST_APART_M))


def _turns(run: Sequence[_Shot]) -> bool:
    return len(run) >= LEAST_PHOTOS and _covered_deg(gaps_between(_arcs(run))) >= LEAST_COVERED_DEG


def _arcs(run: Iterable[_Shot]) -> list[Arc]:
    """Bearings that each frame covers at its middle, from and to, degrees."""
    halves = [(shot.heading_deg, shot.photo.hfov_deg.value / 2) for shot in run]
    return [(heading - half, heading + half) for heading, half in halves]


def gaps_between(arcs: Iterable[Arc]) -> tuple[Arc, ...]:
    """Return the bearings that no arc covers, (from, to) clockwise within 0 to 360, widest last bearing 360 at most.

    A gap over north is (350, 10). Slivers below half a degree, less than any heading is known to, are none.
    """
    spans = sorted((start % 360, start % 360 + min(end - start, 360.0)) for start, end in arcs)
    if not spans:
        return ((0.0, 360.0),)
    first, reach = spans[0][0], max(spans[0][1], max(end for _, end in spans) - 360)
    found = []
    # The first arc comes again at the end of the turn, and arcs over north reach into the next turn.
    for start, end in [*spans[1:], *((a + 360, b + 360) for a, b in spans)]:
        if start > reach + 0.5 and start <= first + 360:
            found.append((reach % 360, start % 360))
        reach = max(reach, end)
    return tuple(sorted(found))


def _covered_deg(gaps: Iterable[Arc]) -> float:
    return 360.0 - math.fsum(360.0 if gap == (0.0, 360.0) else (gap[1] - gap[0]) % 360 for gap in gaps)


def _turnaround(name: str, run: Sequence[_Shot]) -> TurnAround:
    shots = sorted(run, key=lambda shot: ((shot.heading_deg + NORTH_WITHIN_DEG) % 360, shot.photo.id))
    middle = [math.fsum(shot.photo.point[axis] for shot in run) / len(run) for axis in (0, 1)]
    away_m = {shot.photo.id: round(math.dist(shot.photo.point, middle), 6) for shot in run}
    station = min((shot.photo for shot in shots), key=lambda photo: (away_m[photo.id], photo.id))
    gaps = gaps_between(_arcs(run))
    return TurnAround(
        id=name,
        photos=tuple(shot.photo.id for shot in shots),
        headings_deg_true=tuple(shot.heading_deg for shot in shots),
        widths_deg=tuple(shot.photo.hfov_deg.value for shot in shots),
        point=station.point,
        lonlat=station.lonlat,
        reach=station.reach,
        first=run[0].taken,
        last=run[-1].taken,
        covered_deg=_covered_deg(gaps),
        gaps_deg=gaps,
    )
