"""The crew's landmarks as signs on a map: a hazard is a diamond, everything else stands in a small square.

The signs are ours. Shape alone tells a hazard, so that a grey print and any eye tells it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from shapely import LineString, MultiLineString, Point, Polygon, box

from atlasgen.compose.drawing import Frame, area, dots, line, text
from atlasgen.compose.lettering import RISE, Board, baseline_below, text_box, text_width_mm
from atlasgen.model import Shape
from atlasgen.model.landmarks import LANDMARK_KINDS, Landmark, LandmarkKind
from atlasgen.model.wording import say

SIGN_MM = 2.8
_NAME_MM = 2.2
_GAP_MM = 0.8


def sign_shapes(kind: LandmarkKind, at: tuple[float, float]) -> tuple[Shape, ...]:
    """Return the sign of a kind centred on a point, mm."""
    x, y = at
    r = SIGN_MM / 2
    if kind == "hazard":
        cross = [[(x - r / 3, y + s * r / 3), (x + r / 3, y - s * r / 3)] for s in (1, -1)]
        return (*area("sign-hazard", _diamond(at, r * 1.2)), *line("sign-cross", MultiLineString(cross)))
    return (*area("sign-ground", _paper(kind, at)), *_pictures(kind, x, y, r))


def _pictures(kind: LandmarkKind, x: float, y: float, r: float) -> tuple[Shape, ...]:
    if kind == "ramp":
        return area(
            "sign-mark", Polygon([(x - r * 0.6, y - r * 0.45), (x + r * 0.6, y + r * 0.5), (x - r * 0.6, y + r * 0.5)])
        )
    if kind == "access":
        step = r * 0.4
        stair = [(-1.5, -1.2), (-0.5, -1.2), (-0.5, 0), (0.5, 0), (0.5, 1.2), (1.5, 1.2)]
        return line("sign-stroke", LineString([(x + u * step, y + v * step) for u, v in stair]))
    if kind == "parking":
        return (text("sign-letter", "P", baseline_below((x, y), r * 1.5), r * 1.5),)
    if kind == "place":
        return dots("sign-dot", [(x, y)], r * 0.8)
    return line("sign-stroke", LineString([(x - r * 0.5, y), (x + r * 0.5, y)]))


def _diamond(at: tuple[float, float], r: float) -> Polygon:
    x, y = at
    return Polygon([(x, y - r), (x + r, y), (x, y + r), (x - r, y)])


def _paper(kind: LandmarkKind, at: tuple[float, float]) -> Polygon:
    x, y = at
    r = SIGN_MM / 2
    return _diamond(at, r * 1.2) if kind == "hazard" else box(x - r, y - r, x + r, y + r)


def landmark_shapes(
    marks: Sequence[Landmark], frame: Frame, board: Board, *, named: bool
) -> tuple[tuple[Shape, ...], tuple[Shape, ...]]:
    """Return signs and names of the landmarks on a map, each sign where it belongs, each name where it has room."""
    shown = on_frame(marks, frame)
    for mark, at in shown:
        board.take(_paper(mark.kind, at).buffer(0.2))
    # What can hurt is drawn last, so that nothing lies over it, and named first.
    signs = [shape for mark, at in reversed(shown) for shape in sign_shapes(mark.kind, at)]
    names = [shape for mark, at in shown if named for shape in _name(mark, at, board)]
    return tuple(signs), tuple(names)


def on_frame(marks: Iterable[Landmark], frame: Frame) -> list[tuple[Landmark, tuple[float, float]]]:
    """Return the landmarks whose sign fits on the map, with their place in mm, hazards first."""
    room = frame.paper.buffer(-SIGN_MM * 0.7, join_style="mitre")
    placed = ((mark, frame.point_mm(mark.point)) for mark in marks)
    shown = [item for item in placed if room.covers(Point(item[1]))]
    return sorted(shown, key=lambda item: LANDMARK_KINDS.index(item[0].kind))


def _name(mark: Landmark, at: tuple[float, float], board: Board) -> tuple[Shape, ...]:
    """Write a name beside its sign, on the first side where there is room; none where there is none."""
    if not mark.name:
        return ()
    half, r = text_width_mm(mark.name, _NAME_MM) / 2, SIGN_MM / 2
    drop, across = RISE * _NAME_MM / 2, r + _GAP_MM + half
    below, above = r + _GAP_MM + 2 * drop, -r - _GAP_MM - 0.4
    sides = [(across, drop), (-across, drop), (0, below), (0, above)]
    sides += [(side * half, height) for height in (below, above) for side in (1, -1)]
    for dx, dy in sides:
        spot = (at[0] + dx, at[1] + dy)
        paper = text_box(mark.name, spot, _NAME_MM)
        if board.is_free(paper, apart_mm=0.15):
            board.write(paper, 0.2)
            return (text("sign-name", mark.name, spot, _NAME_MM),)
    return ()


def landmark_alt(marks: Iterable[Landmark], frame: Frame) -> str:
    """Name the landmarks on a map for those who cannot see it; "" where there are none."""
    names = [
        say("landmarks-alt-one", kind=mark.kind, named="yes" if mark.name else "no", name=mark.name)
        for mark, _ in on_frame(marks, frame)
    ]
    return f" {say('landmarks-alt', names=', '.join(names))}" if names else ""
