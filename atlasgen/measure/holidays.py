"""Holidays: connected water without a side-scan picture, or with a coarse one, each of one cause.

A gap is cut where its cause changes. The records tell of lost channels, pauses, unknown swaths, the strip under the
boat, the lee of land and polygons with a reason. Outside the limits of the side-scan survey the cause is told by place:
beyond the limit where there are depths all the same, not surveyed where there is neither. A gap that two passes on
opposite sides leave between them, because they lie farther apart than they reach, is a pass not run. Nothing tells of
the rest, and that is said.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import MultiPolygon, Point, STRtree

from atlasgen.measure.areas import polygons
from atlasgen.measure.sonar import GapKey, Mosaic, Partition, records_of
from atlasgen.model import LonLat, NamedArea, PointM, Reach
from atlasgen.model.sonar import Holiday, NoPicture, SonarRules, SonarRun
from atlasgen.place.geo import Projection

# Ours: a pass whose ground comes this near to a gap lies beside it.
_BESIDE_M = 5.0
# Smaller gaps are rounding at the edges of swaths; nobody asks why they are there.
_SLIVER_M2 = 1.0


@dataclass(frozen=True, slots=True)
class Gaps:
    """All gaps: `key` of each gap, the gap each piece of the partition belongs to, and the holiday of each gap or -1.

    Gaps too small to be listed have no holiday, but they count in the shares of a reach.
    """

    keys: tuple[GapKey, ...]
    gap_of_piece: np.ndarray
    holiday_of_gap: np.ndarray
    holidays: tuple[Holiday, ...]


@dataclass(frozen=True, slots=True)
class _Sides:
    """The passes beside a gap, nearest first, and what they leave between them."""

    passes: tuple[str, ...] = ()
    spacing_m: float | None = None
    covers_m: float | None = None


def find_holidays(
    parts: Partition,
    runs: Sequence[SonarRun],
    reaches: Sequence[Reach],
    places: Sequence[NamedArea],
    projection: Projection,
    rules: SonarRules,
) -> Gaps:
    """List the holidays, the largest first; `places` are metric."""
    areas, number, gap_of_piece = _connected(parts)
    keys = [parts.keys[kind] for kind in number]
    size = shapely.area(np.array(areas, dtype=object))
    sides = _sides(areas, size, keys, runs, rules.holiday_m2)
    keys = [_told(key, side) for key, side in zip(keys, sides, strict=True)]
    listed = [i for i in _by_size(areas, size) if size[i] >= rules.holiday_m2]
    depth = parts.known.areas(np.array([areas[i] for i in listed], dtype=object), 1)[:, 0]
    records = records_of(runs)
    found = []
    for n, i in enumerate(listed):
        at, place, nearest = _where(areas[i], reaches, places, projection)
        share = min(round(float(depth[n]) / float(size[i]), 9), 1.0)
        holiday = Holiday(f"H{n + 1}", keys[i].cause, areas[i], float(size[i]), at, place, nearest, share)
        found.append(_told_by_records(holiday, keys[i], sides[i], records, runs))
    holiday_of_gap = np.full(len(areas), -1)
    holiday_of_gap[listed] = np.arange(len(listed))
    return Gaps(tuple(keys), gap_of_piece, holiday_of_gap, tuple(found))


def _connected(parts: Partition) -> tuple[list[MultiPolygon], list[int], np.ndarray]:
    """Join the pieces of one key to connected gaps: polygon and key of each, and the gap of each piece."""
    areas: list[MultiPolygon] = []
    number: list[int] = []
    gap_of_piece = np.full(len(parts.gaps.pieces), -1)
    for kind in np.unique(parts.gaps.kind).tolist():
        joined = np.array(parts.gaps.merged(kind).geoms, dtype=object)
        mine = np.flatnonzero(parts.gaps.kind == kind)
        inside = shapely.point_on_surface(parts.gaps.pieces[mine])
        nearest = STRtree(joined).nearest(inside)
        gap_of_piece[mine] = len(areas) + nearest
        areas += [MultiPolygon([polygon]) for polygon in joined]
        number += [kind] * len(joined)
    return areas, number, gap_of_piece


def _by_size(areas: Sequence[MultiPolygon], size: np.ndarray) -> list[int]:
    return sorted(range(len(areas)), key=lambda i: (-round(float(size[i])), areas[i].bounds))


def _ground(run: SonarRun) -> MultiPolygon:
    """All the ground that a pass saw or could have seen."""
    swaths = [area for swath in run.swaths for area in (swath.fine, swath.coarse, swath.unknown)]
    return polygons([*swaths, *(record.area for record in run.no_picture)])


def _sides(
    areas: Sequence[MultiPolygon], size: np.ndarray, keys: Sequence[GapKey], runs: Sequence[SonarRun], listed_m2: float
) -> list[_Sides]:
    """Look beside all gaps that will be listed, and those small ones whose cause hangs on it."""
    wanted = (size >= listed_m2) | ((size >= _SLIVER_M2) & np.array([key.cause == "not_recorded" for key in keys]))
    tree = STRtree(np.array([_ground(run) for run in runs], dtype=object))
    return [
        _beside(area, runs, tree.query(area, predicate="dwithin", distance=_BESIDE_M)) if look else _Sides()
        for area, look in zip(areas, wanted, strict=True)
    ]


def _beside(area: MultiPolygon, runs: Sequence[SonarRun], near: np.ndarray) -> _Sides:
    """Order the passes beside a gap; how far apart the nearest and the next one on its other side run."""
    middle = area.representative_point()
    ways = {int(i): _way(middle, runs[i]) for i in near if not runs[i].line.is_empty}
    order = sorted(ways, key=lambda i: (float(np.hypot(*ways[i])), runs[i].name))
    passes = tuple(runs[i].name for i in order)
    across = [i for i in order[1:] if _opposite(ways[order[0]], ways[i])]
    if not across:
        return _Sides(passes)
    reach_m = runs[order[0]].reach_m, runs[across[0]].reach_m
    spacing_m = float(np.hypot(*(ways[order[0]] - ways[across[0]])))
    return _Sides(passes, spacing_m, reach_m[0] + reach_m[1] if reach_m[0] and reach_m[1] else None)


def _way(middle: Point, run: SonarRun) -> np.ndarray:
    """Return the way from a point to the nearest place on a pass, (2,) metres."""
    start, end = shapely.get_coordinates(shapely.shortest_line(middle, run.line))
    return end - start


def _opposite(one: np.ndarray, other: np.ndarray) -> bool:
    """Whether two ways part by more than 120 degrees."""
    return float(one @ other) < -0.5 * float(np.hypot(*one) * np.hypot(*other))


def _told(key: GapKey, sides: _Sides) -> GapKey:
    """Tell that a pass was not run where two passes lie farther apart than they reach toward each other."""
    if key.cause == "not_recorded" and sides.spacing_m and sides.covers_m and sides.spacing_m > sides.covers_m:
        return replace(key, cause="pass_not_run")
    return key


def _told_by_records(
    holiday: Holiday, key: GapKey, sides: _Sides, records: Sequence[NoPicture], runs: Sequence[SonarRun]
) -> Holiday:
    """Add what the records say: passes beside it, times, channel, spacing, pings."""
    holiday = replace(holiday, why=key.why, passes=tuple(dict.fromkeys(filter(None, [key.run, *sides.passes]))))
    if key.record >= 0:
        told = records[key.record]
        holiday = replace(holiday, channel=told.channel, from_s=told.from_s, to_s=told.to_s)
    if key.cause == "pass_not_run":
        holiday = replace(holiday, spacing_m=sides.spacing_m, covers_m=sides.covers_m)
    if key.cause == "fast_run":
        pings = {run.name: run.pings_on_metre for run in runs}
        holiday = replace(holiday, pings_on_metre=pings.get(key.run))
    return holiday


def _where(
    area: MultiPolygon, reaches: Sequence[Reach], places: Sequence[NamedArea], projection: Projection
) -> tuple[LonLat, str, str]:
    """Return a place inside it, the name of the place there ("" if none), and the nearest reach."""
    inside = area.representative_point()
    near_m = [reach.line.distance(inside) for reach in reaches]
    nearest = reaches[int(np.argmin(near_m))] if reaches else None
    named = [place.name for place in places if place.name and place.area.intersects(inside)]
    place = named[0] if named else (nearest.place if nearest else "")
    return projection.lonlat(PointM(inside.x, inside.y)), place, nearest.id if nearest else ""


def pieces_of(parts: Partition, gaps: Gaps) -> Mosaic:
    """Return the gaps' pieces, each with the number of its gap."""
    return Mosaic(parts.gaps.pieces, gaps.gap_of_piece)
