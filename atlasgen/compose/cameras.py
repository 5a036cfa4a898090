"""Cameras on a map: numbered dots with a pointer where the direction is known, moved apart where they would overlap."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shapely import LineString, Point, Polygon

from atlasgen.compose.drawing import Frame, ToLonLat, dots, grid_convergence_deg, line, text, wedge
from atlasgen.compose.lettering import Board, baseline_below, text_box
from atlasgen.model import Photo, Shape
from atlasgen.units import DistanceUnit, distance_words

DOT_MM = 3.3
_POINTER_MM = 3.3  # from the dot's centre to the pointer's tip
_NUMBER_MM = 2.4
_EDGE_MM = 2.6


@dataclass(frozen=True, slots=True)
class Camera:
    """One photo's camera on the paper: station and where its dot stands (mm), direction on the paper if known."""

    number: int
    station: tuple[float, float]
    at: tuple[float, float]
    heading_deg: float | None


def cameras_on(
    frame: Frame, photos: Iterable[tuple[int, Photo]], to_lonlat: ToLonLat, board: Board
) -> tuple[Camera, ...]:
    """Return the cameras inside the frame, each dot at its station or, where that is taken, close by."""
    found: list[Camera] = []
    for number, photo in photos:
        station = frame.point_mm(photo.point)
        heading = paper_heading_deg(photo, to_lonlat)
        at = _clear_spot(station, heading, found, frame)
        board.take(Point(at).buffer(DOT_MM / 2 + 0.2))
        found.append(Camera(number, station, at, heading))
    return tuple(found)


def paper_heading_deg(photo: Photo, to_lonlat: ToLonLat) -> float | None:
    """Return a photo's direction clockwise from the paper's up: true heading less grid convergence."""
    if photo.heading_deg_true is None:
        return None
    return (photo.heading_deg_true.value - grid_convergence_deg(to_lonlat, photo.point)) % 360


def _clear_spot(
    station: tuple[float, float], heading_deg: float | None, others: Sequence[Camera], frame: Frame
) -> tuple[float, float]:
    """Return the station if its dot overlaps nothing, else the nearest spot on rings about it that does not."""
    room = frame.paper.buffer(-_EDGE_MM, join_style="mitre")
    spots = [station]
    for ring in range(1, 8):
        radius = DOT_MM * (0.75 + 0.4 * ring)
        spots += [_polar(station, radius, turn) for turn in range(0, 360, 30)]
    clear = (s for s in spots if room.covers(Point(s)) and all(_is_clear(s, heading_deg, other) for other in others))
    return next(clear, station)


def _is_clear(spot: tuple[float, float], heading_deg: float | None, other: Camera) -> bool:
    """Tell whether a dot at a spot covers neither another dot nor its pointer, and its own pointer that dot neither."""
    if math.dist(spot, other.at) < DOT_MM * 1.12:
        return False
    tip = None if heading_deg is None else _polar(spot, _POINTER_MM, heading_deg)
    theirs = None if other.heading_deg is None else _polar(other.at, _POINTER_MM, other.heading_deg)
    pairs = ((tip, other.at), (theirs, spot))
    return all(math.dist(point, dot) >= DOT_MM / 2 + 0.4 for point, dot in pairs if point is not None)


def _polar(at: tuple[float, float], radius: float, turn_deg: float) -> tuple[float, float]:
    return (at[0] + radius * math.sin(math.radians(turn_deg)), at[1] - radius * math.cos(math.radians(turn_deg)))


def camera_shapes(cameras: Sequence[Camera], board: Board) -> tuple[Shape, ...]:
    """Leaders first, so that no line crosses a number; then each pointer, dot and number."""
    shapes: tuple[Shape, ...] = ()
    for camera in cameras:
        if camera.at != camera.station:
            shapes += line("leader", LineString([camera.station, camera.at]))
            shapes += dots("station", [camera.station], 1.1)
    for camera in cameras:
        shapes += numbered_dot(camera.number, camera.at, camera.heading_deg)
        if camera.heading_deg is None:
            shapes += _query(camera, board)
    return shapes


def numbered_dot(number: int, at: tuple[float, float], heading_deg: float | None) -> tuple[Shape, ...]:
    """Draw a filled dot with a pointer where the direction is known, a hollow one where it is not; number inside."""
    shapes = dots("camera-halo", [at], DOT_MM + 0.7)
    number_at = baseline_below(at, _NUMBER_MM)
    if heading_deg is None:
        hollow = dots("camera-unknown", [at], DOT_MM - 0.3)
        return (*shapes, *hollow, text("camera-number-unknown", str(number), number_at, _NUMBER_MM))
    pointer = wedge("camera", at, _POINTER_MM, heading_deg)
    return (*shapes, pointer, *dots("camera", [at], DOT_MM), text("camera-number", str(number), number_at, _NUMBER_MM))


def _query(camera: Camera, board: Board) -> tuple[Shape, ...]:
    """Write the question mark beside a dot whose direction is unknown, on the first side that is free."""
    spots = [_polar(camera.at, DOT_MM * 0.85, turn) for turn in (60, 300, 120, 240, 90, 270, 0, 180)]
    papers = [text_box("?", baseline_below(spot, _NUMBER_MM), _NUMBER_MM) for spot in spots]
    best = next((i for i, paper in enumerate(papers) if board.is_free(paper.buffer(-0.25))), 0)
    board.write(papers[best], 0.2)
    return (text("camera-query", "?", baseline_below(spots[best], _NUMBER_MM), _NUMBER_MM),)


def far_camera_shapes(
    number: int, photo: Photo, frame: Frame, distance_m: float, unit: DistanceUnit, board: Board
) -> tuple[Shape, ...]:
    """Show a camera beyond the frame: its number at the edge, an arrow toward it, and how far off it stood."""
    middle = (frame.width_mm / 2, frame.height_mm / 2)
    x, y = frame.point_mm(photo.point)
    turn = math.degrees(math.atan2(x - middle[0], middle[1] - y))
    inner = frame.paper.buffer(-(_EDGE_MM + 2.4), join_style="mitre")
    ray = LineString([middle, _polar(middle, frame.width_mm + frame.height_mm, turn)]).intersection(inner)
    at = _clear_of(ray.coords[-1], turn, inner, board)
    board.take(Point(at).buffer(DOT_MM / 2 + 0.3))
    words = distance_words(distance_m, unit)
    stem = LineString([_polar(at, DOT_MM / 2, turn), _polar(at, DOT_MM / 2 + 2.4, turn)])
    shapes = (*line("far", stem), wedge("far", _polar(at, DOT_MM / 2 + 1.2, turn), 1.6, turn))
    shapes += dots("camera-halo", [at], DOT_MM + 0.7) + dots("camera", [at], DOT_MM)
    shapes += (text("camera-number", str(number), baseline_below(at, _NUMBER_MM), _NUMBER_MM),)
    return shapes + _far_words(words, at, turn, board)


def _clear_of(at: tuple[float, float], turn: float, inner: Polygon, board: Board) -> tuple[float, float]:
    """Slide along the edge until the dot is free."""
    edge = inner.exterior
    start = edge.project(Point(at))
    for step in range(0, 40):
        for side in (1, -1):
            spot = edge.interpolate((start + side * step * 1.5) % edge.length)
            if board.is_free(spot.buffer(DOT_MM / 2 + 0.2)):
                return (spot.x, spot.y)
    return at


def _far_words(words: str, at: tuple[float, float], turn: float, board: Board) -> tuple[Shape, ...]:
    size = 2.2
    for side in (turn + 180, turn + 90, turn - 90, turn + 135, turn - 135):
        for radius in (DOT_MM, DOT_MM * 1.4, DOT_MM * 1.8, DOT_MM * 2.2):
            spot = baseline_below(_polar(at, radius, side), size)
            paper = text_box(words, spot, size)
            if board.is_free(paper, apart_mm=0.2):
                board.write(paper)
                return (text("camera-far", words, spot, size),)
    return ()
