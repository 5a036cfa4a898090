"""Page numbers on a tile: one small plate for each page, beside the cameras of its photos."""

from __future__ import annotations

import math
from collections.abc import Sequence

from shapely import LineString, MultiPoint, Point

from atlasgen.compose.drawing import Frame, line
from atlasgen.compose.legend import PLATE_MM, plate, plate_paper
from atlasgen.compose.lettering import Board
from atlasgen.model import Photo, Shape

_BESIDE_MM = 1.2  # a plate this near needs no line to its camera


def chips_on(frame: Frame, photos: Sequence[tuple[int, Photo]], board: Board) -> tuple[Shape, ...]:
    """Return a plate with each page's number near its cameras, joined to one by a hairline if it must stand off."""
    pages: dict[int, list[tuple[float, float]]] = {}
    for page, photo in photos:
        pages.setdefault(page, []).append(frame.point_mm(photo.point))
    return tuple(shape for page in sorted(pages) for shape in _chip(str(page), pages[page], board))


def _chip(words: str, stations: Sequence[tuple[float, float]], board: Board) -> tuple[Shape, ...]:
    middle = MultiPoint(stations).centroid
    home = min(stations, key=lambda at: (middle.distance(Point(at)), at))
    for spot in _spots(home, words):
        paper = plate_paper(words, spot)
        if board.is_free(paper, apart_mm=0.2):
            board.write(paper, 0.0)
            leader = line("leader", LineString([home, spot])) if paper.distance(Point(home)) > _BESIDE_MM else ()
            return (*leader, *plate(words, spot))
    return ()


def _spots(home: tuple[float, float], words: str) -> list[tuple[float, float]]:
    """Places round a camera, nearest first, east first."""
    west, _, east, _ = plate_paper(words, (0.0, 0.0)).bounds
    half, spots = (east - west) / 2, []
    for away in (0.8, 2.8, 4.8, 6.8, 8.8, 10.8):
        for turn in range(90, 450, 30):
            angle = math.radians(turn)
            x, y = (half + away) * math.sin(angle), (PLATE_MM / 2 + away) * math.cos(angle)
            spots.append((home[0] + x, home[1] - y))
    return spots
