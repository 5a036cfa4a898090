"""A turn-around set as one picture: its photos as thumbnails round a compass rose, north up, gaps left open."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations
from typing import NamedTuple

import numpy as np
from shapely import LineString, Point, Polygon, box

from atlasgen.compose.drawing import area, dots, line, text, wedge
from atlasgen.compose.lettering import baseline_below, text_width_mm
from atlasgen.model import Compass, Drawing, Shape, Thumbnail, TurnAround
from atlasgen.model.wording import say
from atlasgen.units import compass_words

WIDTH_MM = 174.0
_GAP_MM = 3.0
_LEAST_ROSE_MM = 44.0
_ASPECT = 4 / 3  # of a place for a thumbnail; other shapes stand in its middle
# Larger than on the maps: on a phone the whole compass is as wide as three thumbs, and a page full of notes prints it
# at about half this width.
_TEXT_MM = 4.0
_NUMBER_MM = 4.4
_DOT_MM = 5.8
_BAND_MM = 2.0

Box = tuple[float, float, float, float]
Point2 = tuple[float, float]


class _Layout(NamedTuple):
    """Places for thumbnails (n, 4: left, top, width, height) clockwise, their bearings, and the rose; all in mm."""

    boxes: np.ndarray
    bearings_deg: np.ndarray
    centre: Point2
    radius: float
    height: float


def compass(id: str, turn: TurnAround, aspects: Sequence[float], words: Sequence[str], caption: str) -> Compass:
    """Return the compass of a set; `aspects` (width by height) and `words` are in the order of its photos."""
    layout = _layout(len(turn.photos))
    chosen = _choose(turn.headings_deg_true, layout.bearings_deg)
    boxes = [_within(layout.boxes[place], aspect) for place, aspect in zip(chosen, aspects, strict=True)]
    thumbnails = tuple(
        Thumbnail(photo, number, said, *(round(value, 2) for value in place))
        for number, (photo, said, place) in enumerate(zip(turn.photos, words, boxes, strict=True), 1)
    )
    shapes = (
        *_leaders(turn, boxes, layout),
        *_rose(turn, layout),
        *_gap_words(turn, layout, set(range(len(layout.boxes))) - set(chosen)),
        *_plates(boxes),
    )
    drawing = Drawing(id, WIDTH_MM, round(layout.height, 2), shapes, _alt(turn, words))
    return Compass(turn.id, caption, drawing, thumbnails)


def _layout(count: int) -> _Layout:
    """Lay places along the border of the smallest grid that has enough: 3 by 3, 5 by 3, 5 by 5 and so on.

    An odd grid has places due north, east, south and west.
    """
    columns, rows = 3, 3
    while 2 * (columns + rows) - 4 < count:
        columns, rows = (columns + 2, rows) if columns == rows else (columns, rows + 2)
    width = (WIDTH_MM - (columns - 1) * _GAP_MM) / columns
    height = width / _ASPECT
    inner = max((rows - 2) * height + (rows - 3) * _GAP_MM, _LEAST_ROSE_MM)
    spread = (inner - (rows - 2) * height) / max(rows - 3, 1) if rows > 3 else 0.0
    tops = [0.0, *(height + _GAP_MM + i * (height + spread) for i in range(rows - 2)), height + inner + 2 * _GAP_MM]
    if rows == 3:
        tops[1] += (inner - height) / 2
    cells = [*((c, 0) for c in range(columns)), *((columns - 1, r) for r in range(1, rows))]
    cells += [*((c, rows - 1) for c in range(columns - 2, -1, -1)), *((0, r) for r in range(rows - 2, 0, -1))]
    boxes = np.array([(c * (width + _GAP_MM), tops[r], width, height) for c, r in cells])
    bearings = [math.degrees(math.atan2(2 * c / (columns - 1) - 1, 1 - 2 * r / (rows - 1))) % 360 for c, r in cells]
    total = 2 * (height + _GAP_MM) + inner
    return _Layout(boxes, np.array(bearings), (WIDTH_MM / 2, total / 2), inner / 2 - 1.0, total)


def _choose(headings_deg: Sequence[float], bearings_deg: np.ndarray) -> list[int]:
    """Give each photo a place as near its heading as may be: least squares of the turns between, no two the same."""
    from scipy.optimize import linear_sum_assignment

    apart = (np.asarray(headings_deg)[:, None] - bearings_deg + 180) % 360 - 180
    rows, places = linear_sum_assignment(np.round(apart**2, 6))
    return [int(place) for _, place in sorted(zip(rows, places, strict=True))]


def _within(box: Sequence[float], aspect: float) -> Box:
    """Largest rectangle of an aspect in the middle of a box."""
    left, top, width, height = (float(value) for value in box)
    w, h = (width, width / aspect) if aspect >= width / height else (height * aspect, height)
    return (left + (width - w) / 2, top + (height - h) / 2, w, h)


def _polar(centre: Point2, radius: float, turn_deg: float) -> Point2:
    turn = math.radians(turn_deg)
    return (centre[0] + radius * math.sin(turn), centre[1] - radius * math.cos(turn))


def _leaders(turn: TurnAround, boxes: Sequence[Box], layout: _Layout) -> tuple[Shape, ...]:
    """Join the rim, at each photo's heading, to its thumbnail."""
    shapes: tuple[Shape, ...] = ()
    for heading, (left, top, width, height) in zip(turn.headings_deg_true, boxes, strict=True):
        rim = _polar(layout.centre, layout.radius, heading)
        end = (min(max(rim[0], left), left + width), min(max(rim[1], top), top + height))
        shapes += line("leader", LineString([rim, end])) if math.dist(rim, end) > 0.1 else ()
    return shapes


def _rose(turn: TurnAround, layout: _Layout) -> tuple[Shape, ...]:
    centre, radius = layout.centre, layout.radius
    shapes = _covered(turn, layout)
    for bearing in range(0, 360, 15):
        start = radius - (_BAND_MM if bearing % 45 else _BAND_MM + 1.2)
        shapes += line("north-line", LineString([_polar(centre, start, bearing), _polar(centre, radius, bearing)]))
    for letter, bearing in zip(say("compass-letters").split(), range(0, 360, 90), strict=True):
        shapes += (text("tile", letter, baseline_below(_polar(centre, radius * 0.3, bearing), _TEXT_MM), _TEXT_MM),)
    shapes += dots("camera", [centre], 1.6)
    at = [_polar(centre, radius * 0.68, heading) for heading in turn.headings_deg_true]
    if all(math.dist(a, b) > _DOT_MM * 1.12 for a, b in combinations(at, 2)):
        for number, (spot, heading) in enumerate(zip(at, turn.headings_deg_true, strict=True), 1):
            shapes += (wedge("camera", spot, _DOT_MM * 0.95, heading), *dots("camera", [spot], _DOT_MM))
            shapes += (text("camera-number", str(number), baseline_below(spot, _NUMBER_MM), _NUMBER_MM),)
    return shapes


def _covered(turn: TurnAround, layout: _Layout) -> tuple[Shape, ...]:
    """Tint the part of the rim that is in some picture; where none is, the rim is dashed and its ends are barred."""
    centre, radius = layout.centre, layout.radius
    ring = Point(centre).buffer(radius, 64).difference(Point(centre).buffer(radius - _BAND_MM, 64))
    shapes: tuple[Shape, ...] = ()
    for gap in turn.gaps_deg:
        ring = ring.difference(_sector(centre, 2 * radius, *gap))
        rim = LineString([_polar(centre, radius - _BAND_MM / 2, t) for t in _turns(*gap)])
        shapes += line("known-edge", rim)
    return area("strip-photos", ring) + line("view-edge", ring) + shapes


def _turns(from_deg: float, to_deg: float) -> np.ndarray:
    width = (to_deg - from_deg) % 360 or 360.0
    return from_deg + np.linspace(0.0, width, max(2, math.ceil(width / 3)))


def _sector(centre: Point2, radius: float, from_deg: float, to_deg: float) -> Polygon:
    return Polygon([centre, *(_polar(centre, radius, turn) for turn in _turns(from_deg, to_deg))])


def _gap_words(turn: TurnAround, layout: _Layout, free: set[int]) -> tuple[Shape, ...]:
    """Say in the free places of each gap that nothing was photographed there."""
    shapes: tuple[Shape, ...] = ()
    nothing = say("compass-not-photographed")
    for place in sorted(free):
        bearing = float(layout.bearings_deg[place])
        if any((bearing - start) % 360 <= (end - start) % 360 for start, end in turn.gaps_deg):
            left, top, width, height = layout.boxes[place]
            middle = (float(left + width / 2), float(top + height / 2))
            size = _TEXT_MM * min(1.0, 0.9 * float(width) / text_width_mm(nothing, _TEXT_MM))
            shapes += (text("unknown", nothing, baseline_below(middle, size), size),)
    return shapes


def _plates(boxes: Sequence[Box]) -> tuple[Shape, ...]:
    """Write each number in the top left corner of its thumbnail."""
    shapes: tuple[Shape, ...] = ()
    for number, (left, top, _, _) in enumerate(boxes, 1):
        width = max(text_width_mm(str(number), _NUMBER_MM) + 1.6, _DOT_MM)
        at = baseline_below((left + width / 2, top + _DOT_MM / 2), _NUMBER_MM)
        shapes += area("chip", box(left, top, left + width, top + _DOT_MM))
        shapes += (text("chip", str(number), at, _NUMBER_MM),)
    return shapes


def _alt(turn: TurnAround, words: Sequence[str]) -> str:
    said = "; ".join(f"{number} {look}" for number, look in enumerate(words, 1))
    return f"{say('compass-alt', count=len(words), photographs=said)} {gaps_words(turn)}"


def gaps_words(turn: TurnAround) -> str:
    """Say which part of the circle is in no picture, clockwise."""
    if not turn.gaps_deg:
        return say("compass-whole-circle")
    gaps = [
        say("compass-gap", start=compass_words(a), end=compass_words(b), degrees=f"{(b - a) % 360:.0f}")
        for a, b in turn.gaps_deg
    ]
    return say("compass-gaps", gaps=f" {say('compass-and')} ".join(gaps))
