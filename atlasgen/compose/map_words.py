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
from atlasgen.compose.legend import STATE_WORDS
from atlasgen.model import NamedArea, Photo, Reach, ShoreState, View
from atlasgen.units import DEPTH_SHORT, DepthUnit, DistanceUnit, area_words, compass_words, distance_words

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
    head = f"Map of reach{'es' if len(reaches) > 1 else ''} {names}, {_extent(frame, distance_unit)}."
    cameras = [
        f"{_camera_words(number, photo, m, bank, distance_unit)} {view_words(views.get(photo.id), distance_unit)}"
        for number, photo, m in away
    ]
    return " ".join([head, *cameras, depth_lines_words(levels, depth_unit)])


def _extent(frame: Frame, unit: DistanceUnit) -> str:
    west, south, east, north = frame.bounds_m
    return f"about {distance_words(east - west, unit)} by {distance_words(north - south, unit)}, north up"


def view_words(view: View | None, unit: DistanceUnit) -> str:
    """Say how much shore a photo shows, and of which reaches: `It shows 260 m of shore, reaches S-0003 to S-0006`."""
    if view is None:
        return "What it shows is not known."
    if not view.reaches:
        return "It is not known to show any shore."
    shore = f"It shows {distance_words(view.seen_m, unit)} of shore"
    spans = _spans([seen.reach for seen in view.reaches])
    if len(spans) > _MOST_SPANS:
        return f"{shore}, parts of {len(view.reaches)} reaches."
    words = [span[0] if len(span) == 1 else f"{span[0]} to {span[-1]}" for span in spans]
    names = words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
    return f"{shore}, {'reaches' if len(view.reaches) > 1 else 'reach'} {names}."


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
    looks = "direction unknown"
    if photo.heading_deg_true is not None:
        looks = f"looking {compass_words(photo.heading_deg_true.value, 8)}"
    where = "on the reach" if distance_m < 1 else f"{distance_words(distance_m, unit)} {side} of it"
    return f"Camera {number} stood {where}, {looks}."


def depth_lines_words(levels: Sequence[Level], unit: DepthUnit) -> str:
    """Say which depth lines are drawn."""
    if not levels:
        return "No depth lines here."
    least, most = levels[0].value, levels[-1].value
    if len(levels) == 1:
        return f"One depth line, at {least:g} {DEPTH_SHORT[unit]}."
    return f"Depth lines from {least:g} to {most:g} {DEPTH_SHORT[unit]}."


def tile_alt(
    tile: NamedArea,
    photos: Sequence[tuple[int, Photo]],
    frame: Frame,
    levels: Sequence[Level],
    distance_unit: DistanceUnit,
    depth_unit: DepthUnit,
) -> str:
    """Say what tile it is, how many cameras stand in it and on which pages their photos are."""
    pages = sorted({page for page, _ in photos})
    where = f", on {page_range_words(pages)}" if pages else ""
    head = f"Map of tile {tile.name}, {_extent(frame, distance_unit)}."
    return f"{head} {_count(len(photos), 'camera')}{where}. {depth_lines_words(levels, depth_unit)}"


def page_range_words(pages: Iterable[int]) -> str:
    """Page numbers in words: `page 4`, `pages 3–9`, `pages 3–5, 8`."""
    runs: list[list[int]] = []
    for page in sorted(set(pages)):
        if runs and page == runs[-1][-1] + 1:
            runs[-1].append(page)
        else:
            runs.append([page])
    words = ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)
    single = len(runs) == 1 and len(runs[0]) == 1
    return f"page {words}" if single else f"pages {words}" if words else "no page"


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
    by_state = "; ".join(f"{counts[state]} {words}" for state, words in STATE_WORDS.items() if counts[state])
    grid = "; ".join(f"{tile.name}: {pages_of_tile[tile.name]}" for tile in tiles if pages_of_tile.get(tile.name))
    head = f"Map of the whole lake, {_extent(frame, unit)}, with {_count(len(photos), 'camera')}."
    shore = f"Of {_count(len(reaches), 'reach', 'reaches')}: {by_state}." if reaches else ""
    return " ".join(part for part in (head, shore, f"Tiles: {grid}." if grid else "") if part)


def source_alt(
    sounding_lines: Sequence[Any],
    pass_lines: Sequence[Any],
    not_surveyed: Sequence[NamedArea],
    water: Any,
    unit: DistanceUnit,
) -> str:
    """Say how much was run, and what was left out and why."""
    runs = (
        _runs_words(sounding_lines, "sounding line", unit)
        + ", "
        + _runs_words(pass_lines, "sonar pass", unit, "sonar passes")
    )
    reasons = [f"{area.name or 'no reason given'} ({area_words(area.area.area, unit)})" for area in not_surveyed]
    left = f"Not surveyed: {'; '.join(reasons)}." if reasons else "No part is marked as not surveyed."
    return f"How the {area_words(water.area, unit)} of water were surveyed: {runs}. {left}"


def _runs_words(lines: Sequence[Any], singular: str, unit: DistanceUnit, plural: str = "") -> str:
    length = sum(line.length for line in lines)
    return _count(len(lines), singular, plural) + (f" of {distance_words(length, unit)} in all" if lines else "")


def _count(number: int, singular: str, plural: str = "") -> str:
    return f"{number or 'no'} {singular if number == 1 else plural or singular + 's'}"
