"""What every map carries besides the map: scale bar, north arrow, names, legend, and where there is room for them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from shapely import LineString, MultiLineString, Polygon, box
from shapely.affinity import rotate, translate

from atlasgen.compose.drawing import Frame, area, line, text
from atlasgen.compose.lettering import RISE, Board, baseline_below, text_box, text_width_mm
from atlasgen.model import Shape
from atlasgen.units import FOOT_M, MILE_M, DistanceUnit, decimal_text, length_words

TEXT_MM = 2.2
NAME_MM = 2.8
_BAR_MM = 24.0  # longest scale bar
_ARROW_MM = 5.6
_CORNER_MM = 2.2  # from the frame's edge
_STEEPEST_DEG = 60.0  # a steeper name is hard to read; common practice, no source


def scale_length(metres_per_mm: float, unit: DistanceUnit) -> tuple[float, str]:
    """Return the longest round length that fits, metres, and its words: `200 m`, `2 km`, `500 ft`, `0.5 mi`."""
    room_m = metres_per_mm * _BAR_MM
    if unit == "metric":
        length = _round_down(room_m)
        near = length < 1000
        return length, _written(length if near else length / 1000, "metres" if near else "kilometres")
    feet = _round_down(room_m / FOOT_M)
    if feet <= 1000:
        return feet * FOOT_M, _written(feet, "feet")
    miles = room_m / MILE_M
    length = next((m for m in (0.5, 0.25, 0.2) if miles < 1 and m <= miles), None) or _round_down(miles)
    return length * MILE_M, _written(length, "miles")


def _written(length: float, unit: str) -> str:
    return length_words(decimal_text(f"{length:g}"), unit)


def _round_down(value: float) -> float:
    power = 10.0 ** math.floor(math.log10(value) + 1e-9)
    return max(m * power for m in (1.0, 2.0, 5.0) if m * power <= value * (1 + 1e-9))


def scale_and_north(
    frame: Frame, board: Board, unit: DistanceUnit, convergence_deg: float, note: str = "", quiet: Any = None
) -> tuple[Shape, ...]:
    """Return scale bar and north arrow in the corner where they cover least, and take that paper.

    `quiet` is the paper that carries nothing (land); `note` a line under the bar, such as `depths in feet`.
    """
    length_m, words = scale_length(frame.metres_per_mm, unit)
    bar_mm = length_m / frame.metres_per_mm
    width = _ARROW_MM + max(bar_mm + text_width_mm(words, TEXT_MM) / 2, text_width_mm(note, TEXT_MM))
    height = _ARROW_MM + (TEXT_MM * 1.25 if note else 0.0)
    left, top = _quiet_corner(frame, board, width, height, quiet)
    paper = box(left - 0.6, top - 0.6, left + width + 0.6, top + height + 0.6)
    board.write(paper, 0.0)
    shapes = north_arrow((left + 1.4, top + _ARROW_MM / 2), convergence_deg)
    shapes += scale_bar((left + _ARROW_MM, top + _ARROW_MM - 0.6), bar_mm, words)
    if note:
        shapes += (text("furniture-left", note, (left + _ARROW_MM, top + height - 0.1), TEXT_MM),)
    return shapes


def _quiet_corner(frame: Frame, board: Board, width: float, height: float, quiet: Any) -> tuple[float, float]:
    right, bottom = frame.width_mm - width - _CORNER_MM, frame.height_mm - height - _CORNER_MM
    corners = [(_CORNER_MM, bottom), (right, bottom), (_CORNER_MM, _CORNER_MM), (right, _CORNER_MM)]

    def cost(corner: tuple[float, float]) -> float:
        paper = box(corner[0] - 0.5, corner[1] - 0.5, corner[0] + width + 0.5, corner[1] + height + 0.5)
        busy = 0.0 if quiet is None else 1 - quiet.intersection(paper).area / paper.area
        return 10 * board.overlap_mm2(paper) + busy

    return min(corners, key=cost)


def scale_bar(at: tuple[float, float], bar_mm: float, words: str) -> tuple[Shape, ...]:
    """Bar whose left end is at a point in mm: ticks at 0, half and the whole; its length in words above the end."""
    x, y = at
    ticks = [LineString([(x + s * bar_mm, y), (x + s * bar_mm, y - h)]) for s, h in ((0, 1.3), (0.5, 0.8), (1, 1.3))]
    bar = MultiLineString([LineString([at, (x + bar_mm, y)]), *ticks])
    above = y - 2.0
    return (
        *line("scale", bar),
        text("furniture", "0", (x, above), TEXT_MM),
        text("furniture", words, (x + bar_mm, above), TEXT_MM),
    )


def north_arrow(centre: tuple[float, float], convergence_deg: float) -> tuple[Shape, ...]:
    """Arrow to true north centred on a point in mm; true north lies `convergence_deg` anticlockwise of the paper's up.

    The left half is filled: the arrow is no direction mark of a camera.
    """
    half = _ARROW_MM / 2

    def turned(points: Sequence[tuple[float, float]], kind: type) -> Any:
        return translate(rotate(kind(points), -convergence_deg, origin=(0, 0)), *centre)

    outline = turned([(0, -half), (1.1, half), (0, half - 0.9), (-1.1, half)], Polygon)
    dark = turned([(0, -half), (0, half - 0.9), (-1.1, half)], Polygon)
    letter = (centre[0] + 2.1, centre[1] - half + 0.5 + RISE * TEXT_MM / 2)
    return (*area("north", dark), *line("north-line", outline), text("furniture", "N", letter, TEXT_MM))


@dataclass(frozen=True, slots=True)
class Name:
    """A written name: baseline point in mm, size, turn, and the paper it covers."""

    words: str
    at: tuple[float, float]
    turn_deg: float
    paper: Polygon


def place_name(words: str, region: Any, board: Board, lines: Any, size_mm: float = NAME_MM) -> Name | None:
    """Return the name of an area of water written inside it where it crosses fewest lines; None if it has no room.

    `region` is the named water on the paper; `lines` (mm) what a name should rather not cross.
    """
    width = text_width_mm(words, size_mm)
    if not words or region.is_empty or region.area < width * size_mm:
        return None
    shapely.prepare(region)
    turns = _turns(region)
    inside = [name for name in _names(words, region, turns, size_mm) if region.covers(name.paper)]
    costs = [_name_cost(name, region, lines) + (name.turn_deg != turns[0]) * 0.3 for name in inside]
    ranked = sorted(zip(costs, range(len(inside)), strict=True))
    best = next((inside[i] for _, i in ranked if board.is_free(inside[i].paper, apart_mm=0.5)), None)
    if best is not None:
        board.write(best.paper)
    return best


def _names(words: str, region: Any, turns: Iterable[float], size_mm: float) -> Iterable[Name]:
    """Candidate places: a grid of points over the region, each with each turn."""
    x0, y0, x1, y1 = region.bounds
    step = max(0.8, (x1 - x0 + y1 - y0) / 30)
    for turn in turns:
        for y in np.arange(y0 + step / 2, y1, step):
            for x in np.arange(x0 + step / 2, x1, step):
                at = baseline_below((float(x), float(y)), size_mm, turn)
                yield Name(words, at, turn, text_box(words, at, size_mm, turn_deg=turn))


def _name_cost(name: Name, region: Any, lines: Any) -> float:
    """Cost of crossing lines and of leaving the middle of the region."""
    off_middle = name.paper.centroid.distance(region.centroid) / math.sqrt(region.area)
    return lines.intersection(name.paper).length / 3 + 1.5 * off_middle


def _turns(region: Any) -> tuple[float, ...]:
    """Slopes for a name, best first: along the water where it is long and narrow, else level."""
    (ax, ay), (bx, by), (cx, cy) = list(region.minimum_rotated_rectangle.exterior.coords)[:3]
    sides = sorted(((bx - ax, by - ay), (cx - bx, cy - by)), key=lambda side: math.hypot(*side))
    turn = round((math.degrees(math.atan2(sides[1][1], sides[1][0])) + 90) % 180 - 90, 1)
    if abs(turn) > _STEEPEST_DEG:
        return (0.0,)
    is_long = math.hypot(*sides[1]) > 2.5 * math.hypot(*sides[0])
    return (turn, 0.0) if is_long else (0.0, turn)


def name_beside(words: str, region: Any, land: Any, board: Board, size_mm: float = NAME_MM) -> Name | None:
    """Return the name of water too narrow to hold it, written on the land near by; None if it has no room there."""
    centre = region.centroid
    reach = np.arange(size_mm, 30, 1.5)
    candidates: list[tuple[float, int, Name]] = []
    for radius in reach:
        for turn in range(0, 360, 20):
            x = centre.x + radius * 1.6 * math.sin(math.radians(turn))
            y = centre.y - radius * math.cos(math.radians(turn))
            at = baseline_below((x, y), size_mm)
            paper = text_box(words, at, size_mm)
            if land.covers(paper) and board.is_free(paper, apart_mm=0.5):
                candidates.append((region.distance(paper), len(candidates), Name(words, at, 0.0, paper)))
    if not candidates:
        return None
    best = min(candidates)[2]
    board.write(best.paper)
    return best
