"""The maps in words, for those who cannot see them: what is drawn, where, how large, and what is not known."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from shapely import Point
from shapely.ops import nearest_points

from atlasgen.compose.depth_lines import Level
from atlasgen.compose.drawing import Frame
from atlasgen.compose.legend import STATES
from atlasgen.compose.words import page_range
from atlasgen.model import NamedArea, Photo, Reach, ShoreState, View
from atlasgen.model.wording import number_text, say
from atlasgen.units import DepthUnit, DistanceUnit, area_words, compass_words, distance_words, listing

# More spans of reaches than this are counted rather than named; ours.
_MOST_SPANS = 4


def locator_alt(
    reaches: Sequence[Reach],
    away: Iterable[tuple[int, Photo, float]],
    bank: Any,
    frame: Frame,
    levels: Sequence[Level],
    distance_unit: DistanceUnit,
    depth_unit: DepthUnit,
    *,
    views: Mapping[str, View],
) -> str:
    """Name the reaches, say where each camera stood and looked and what shore it shows, and what depths are drawn."""
    names = ", ".join(reach.id for reach in reaches)
    head = say("map-locator", count=len(reaches), reaches=names, size=size_words(frame, distance_unit))
    cameras = [
        f"{_camera_words(number, photo, m, bank, distance_unit)} {view_words(views.get(photo.id), distance_unit)}"
        for number, photo, m in away
    ]
    return " ".join([head, *cameras, depth_lines_words(levels, depth_unit)])


def size_words(frame: Frame, unit: DistanceUnit) -> str:
    """Say how much ground a map shows, and that north is up."""
    west, south, east, north = frame.bounds_m
    return say("map-size", width=distance_words(east - west, unit), height=distance_words(north - south, unit))


def view_words(view: View | None, unit: DistanceUnit) -> str:
    """Say how much shore a photo shows, and of which reaches: `It shows 260 m of shore, reaches S-0003 to S-0006`."""
    if view is None:
        return say("map-view-unknown")
    if not view.reaches:
        return say("map-view-no-shore")
    length, count = distance_words(view.seen_m, unit), len(view.reaches)
    spans = _spans([seen.reach for seen in view.reaches])
    if len(spans) > _MOST_SPANS:
        return say("map-view-many", length=length, count=count)
    names = [span[0] if len(span) == 1 else say("map-span", first=span[0], last=span[-1]) for span in spans]
    return say("map-view", length=length, count=count, reaches=listing(names))


def _spans(names: Sequence[str]) -> list[list[str]]:
    """Put the names of three and more neighbouring reaches together; names come in the order of the shore."""
    spans: list[list[str]] = []
    for name in names:
        if spans and _next_name(spans[-1][-1]) == name:
            spans[-1].append(name)
        else:
            spans.append([name])
    return [part for span in spans for part in ([span] if len(span) > 2 else [[name] for name in span])]


def _next_name(name: str) -> str:
    """Name of the reach that follows, by its number: `S-0003` gives `S-0004`."""
    ring, _, number = name.rpartition("-")
    return f"{ring}-{int(number) + 1:0{len(number)}d}" if number.isdecimal() else ""


def _camera_words(number: int, photo: Photo, distance_m: float, bank: Any, unit: DistanceUnit) -> str:
    at = Point(photo.point.x_m, photo.point.y_m)
    on_bank, _ = nearest_points(bank, at)
    side = compass_words(math.degrees(math.atan2(at.x - on_bank.x, at.y - on_bank.y)), 8)
    looks = say("map-looks-unknown")
    if photo.heading_deg_true is not None:
        looks = say("map-looks", way=compass_words(photo.heading_deg_true.value, 8))
    if distance_m < 1:
        return say("map-camera-on-reach", number=number, looks=looks)
    away = distance_words(distance_m, unit)
    return say("map-camera-off-reach", number=number, distance=away, way=side, looks=looks)


def depth_lines_words(levels: Sequence[Level], unit: DepthUnit) -> str:
    """Say which depth lines are drawn."""
    if not levels:
        return say("map-no-lines")
    least, most = number_text(levels[0].value), say("units-length", number=number_text(levels[-1].value), unit=unit)
    return say("map-one-line", depth=most) if len(levels) == 1 else say("map-lines", least=least, most=most)


def tile_alt(
    tile: NamedArea,
    photos: Sequence[tuple[int, Photo]],
    frame: Frame,
    levels: Sequence[Level],
    distance_unit: DistanceUnit,
    depth_unit: DepthUnit,
) -> str:
    """Say what tile it is, how many cameras stand in it and on which pages their photos are."""
    return say(
        "map-tile-pages" if photos else "map-tile",
        tile=tile.name,
        size=size_words(frame, distance_unit),
        cameras=say("map-cameras", count=len(photos)),
        pages=page_range(sorted({page for page, _ in photos})),
        lines=depth_lines_words(levels, depth_unit),
    )


def overview_alt(
    reaches: Sequence[Reach],
    states: Mapping[str, ShoreState],
    photos: Sequence[Photo],
    tiles: Sequence[NamedArea],
    pages_of_tile: Mapping[str, str],
    frame: Frame,
    unit: DistanceUnit,
) -> str:
    """Count reaches by state, cameras and tiles, and give each tile's pages."""
    counts: Counter[str] = Counter(states.get(reach.id, "none") for reach in reaches)
    by_state = "; ".join(say("state-count", state=state, count=counts[state]) for state in STATES if counts[state])
    named = [tile.name for tile in tiles if pages_of_tile.get(tile.name)]
    grid = [say("map-overview-tile", tile=name, pages=pages_of_tile[name]) for name in named]
    parts = [say("map-overview", size=size_words(frame, unit), cameras=say("map-cameras", count=len(photos)))]
    parts += [say("map-overview-shore", count=len(reaches), states=by_state)] if reaches else []
    parts += [say("map-overview-tiles", tiles="; ".join(grid))] if grid else []
    return " ".join(parts)


def source_alt(
    sounding_lines: Sequence[Any],
    pass_lines: Sequence[Any],
    not_surveyed: Sequence[NamedArea],
    water: Any,
    unit: DistanceUnit,
) -> str:
    """Say how much was run, and what was left out and why."""
    reasons = [_reason_words(area.name, area_words(area.area.area, unit)) for area in not_surveyed]
    return say(
        "map-sources",
        area=area_words(water.area, unit),
        lines=_runs_words("map-sounding-lines", sounding_lines, unit),
        passes=_runs_words("map-passes", pass_lines, unit),
        left=say("map-not-surveyed", reasons="; ".join(reasons)) if reasons else say("map-all-surveyed"),
    )


def _reason_words(reason: str, area: str) -> str:
    return say("map-reason", reason=reason, area=area) if reason else say("map-reason-none", area=area)


def _runs_words(message: str, lines: Sequence[Any], unit: DistanceUnit) -> str:
    return say(message, count=len(lines), length=distance_words(sum(line.length for line in lines), unit))
