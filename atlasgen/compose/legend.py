"""The key under a map: a sample of each sign and its meaning, in rows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from shapely import LineString, Point, Polygon, box

from atlasgen.compose.drawing import area, dots, hatch, line, text
from atlasgen.compose.landmark_signs import sign_shapes
from atlasgen.compose.lettering import RISE, baseline_below, text_width_mm
from atlasgen.compose.textures import texture
from atlasgen.model import Shape, ShoreState
from atlasgen.model.landmarks import LANDMARK_KINDS, Landmark, LandmarkKind
from atlasgen.model.wording import say

# The states of a reach in the order of a key.
STATES: tuple[ShoreState, ...] = ("well", "poorly", "near", "none")
SIZE_MM = 2.5
PLATE_MM = 3.0  # height of a number plate
_PLATE_TEXT_MM = 2.3
_SAMPLE_MM = 8.0
_GAP_MM = 1.6
_BETWEEN_MM = 5.0
_ROW_MM = 4.6
_TOP_MM = 1.8


def state_name(state: ShoreState) -> str:
    """Return what the state of a bank means to a reader; `near` promises no more than it knows."""
    return say("state-name", state=state)


def plate(words: str, centre: tuple[float, float]) -> tuple[Shape, ...]:
    """Write a number on a small plate centred on a point in mm."""
    rounded = plate_paper(words, centre).buffer(-0.6).buffer(0.6, quad_segs=4)
    return (*area("chip", rounded), text("chip", words, baseline_below(centre, _PLATE_TEXT_MM), _PLATE_TEXT_MM))


def plate_paper(words: str, centre: tuple[float, float]) -> Polygon:
    """Return the paper that a number plate covers, mm."""
    half = (text_width_mm(words, _PLATE_TEXT_MM) + 1.4) / 2
    x, y = centre
    return box(x - half, y - PLATE_MM / 2, x + half, y + PLATE_MM / 2)


@dataclass(frozen=True, slots=True)
class Entry:
    """One sign and its meaning: lines over each other, an area, a texture, a photo's frame, or a dot, maybe a plate."""

    words: str
    lines: tuple[str, ...] = ()
    area: str = ""
    dot: str = ""
    hatch: bool = False
    plate: str = ""
    frame: bool = False
    texture: str = ""
    sign: LandmarkKind | None = None


def sign_entries(marks: Iterable[Landmark], inside: Any = None) -> list[Entry]:
    """Return the entries for the signs of some landmarks, or of those inside an area (metric)."""
    kinds = {mark.kind for mark in marks if inside is None or inside.covers(Point(mark.point))}
    return [Entry(say("landmarks-kind-small", kind=kind), sign=kind) for kind in LANDMARK_KINDS if kind in kinds]


def legend_height_mm(entries: Sequence[Entry], width_mm: float) -> float:
    """Return the room a legend needs below a map."""
    return _TOP_MM + _ROW_MM * len(_rows(entries, width_mm)) if entries else 0.0


def legend(entries: Sequence[Entry], at: tuple[float, float], width_mm: float) -> tuple[Shape, ...]:
    """Write the entries in rows from a top left corner in mm."""
    # The plate covers what thick lines leave outside the map's lower edge.
    shapes = area("plate", box(at[0], at[1], at[0] + width_mm, at[1] + legend_height_mm(entries, width_mm)))
    for number, row in enumerate(_rows(entries, width_mm)):
        x, y = at[0], at[1] + _TOP_MM + _ROW_MM * (number + 0.5)
        for entry in row:
            shapes += _sample(entry, x, y)
            shapes += (text("legend", entry.words, (x + _SAMPLE_MM + _GAP_MM, y + RISE * SIZE_MM / 2), SIZE_MM),)
            x += _room_mm(entry)
    return shapes


def _rows(entries: Sequence[Entry], width_mm: float) -> list[list[Entry]]:
    rows: list[list[Entry]] = []
    left = 0.0
    for entry in entries:
        if not rows or _room_mm(entry) - _BETWEEN_MM > left:
            rows.append([])
            left = width_mm
        rows[-1].append(entry)
        left -= _room_mm(entry)
    return rows


def _room_mm(entry: Entry) -> float:
    return _SAMPLE_MM + _GAP_MM + text_width_mm(entry.words, SIZE_MM) + _BETWEEN_MM


def _sample(entry: Entry, x: float, y: float) -> tuple[Shape, ...]:
    patch = box(x + 0.1, y - 1.4, x + _SAMPLE_MM, y + 1.4)
    if entry.dot or entry.sign:
        return _point_sample(entry, x, y)
    if entry.area:
        return area(entry.area, patch) + line("shore-thin", patch)
    if entry.frame:
        return area("view", patch) + line("view-edge", patch)
    if entry.texture:
        return texture(entry.texture, patch) + line("shore-thin", patch)
    if entry.hatch:
        return line("hatch", hatch(patch)) + line("hatch-edge", patch)
    rule = LineString([(x + 0.1, y), (x + _SAMPLE_MM, y)])
    return tuple(shape for style in entry.lines for shape in line(style, rule))


def _point_sample(entry: Entry, x: float, y: float) -> tuple[Shape, ...]:
    if entry.sign:
        return sign_shapes(entry.sign, (x + _SAMPLE_MM - 2.0, y))
    return dots(entry.dot, [(x + 1.5, y)], 1.0) + (plate(entry.plate, (x + 4.4, y)) if entry.plate else ())
