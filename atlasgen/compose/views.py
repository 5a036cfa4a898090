"""What photos show, on a map: the water within each frame, and along the bank the shore that is seen in it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from typing import Any, NamedTuple

import numpy as np
import shapely
from shapely import LineString, MultiLineString, Point, Polygon

from atlasgen.compose.drawing import Frame, area, as_lines, as_polygons, line, text
from atlasgen.compose.lettering import Board, baseline_below, text_box
from atlasgen.compose.shore_lines import ShoreLines
from atlasgen.model import Photo, Ring, Shape, View

OFF_SHORE_MM = 1.5  # from the shoreline to the line along it, on the land
NUMBER_MM = 2.2
_LEAST_LABELLED_MM = 3.0
# A low camera sees no water behind land; land so near it hides nothing, as its position is not better known. Ours.
_CLEAR_M = 15.0
_RAYS_DEG = 0.5
# A page's photos or fewer are joined to their frames; the many of a turn-around would only make a star. Ours.
_MOST_WITH_SIDES = 4


class Viewed(NamedTuple):
    """A photo on a page, by its number there, and its view."""

    number: int
    photo: Photo
    view: View


class SeenRun(NamedTuple):
    """A piece of one ring that the same photos show; `from_m` is below `to_m`, `numbers` ascend."""

    ring: str
    from_m: float
    to_m: float
    numbers: tuple[int, ...]


def viewed(photos: Iterable[tuple[int, Photo]], views: Mapping[str, View]) -> tuple[Viewed, ...]:
    """Return the photos that have a view, with it."""
    return tuple(Viewed(n, photo, views[photo.id]) for n, photo in photos if photo.id in views)


def seen_runs(items: Iterable[Viewed]) -> tuple[SeenRun, ...]:
    """Cut the shore that any photo shows where one more or one less shows it; in the order of the rings' names."""
    by_ring: dict[str, list[tuple[float, float, int]]] = {}
    for item in items:
        for stretch in item.view.stretches:
            by_ring.setdefault(stretch.ring, []).append((stretch.from_m, stretch.to_m, item.number))
    return tuple(run for ring in sorted(by_ring) for run in _runs_of(ring, by_ring[ring]))


def _runs_of(ring: str, spans: Sequence[tuple[float, float, int]]) -> list[SeenRun]:
    runs: list[SeenRun] = []
    for from_m, to_m in pairwise(sorted({end for span in spans for end in span[:2]})):
        numbers = tuple(sorted({number for a, b, number in spans if a <= from_m and to_m <= b}))
        if numbers and runs and runs[-1].to_m == from_m and runs[-1].numbers == numbers:
            runs[-1] = runs[-1]._replace(to_m=to_m)
        elif numbers:
            runs.append(SeenRun(ring, from_m, to_m, numbers))
    return runs


def frame_on_water(item: Viewed, frame: Frame, water: Any) -> Any:
    """Return the water within a photo's frame, in mm, cut at the map's edge; for a low camera, at the first land.

    `water` is the map's, in mm.
    """
    print_ = shapely.intersection(frame.to_mm(item.view.footprint), shapely.intersection(water, frame.paper))
    if item.photo.kind == "shore" and not print_.is_empty:
        print_ = shapely.intersection(print_, _open_water(frame.point_mm(item.photo.point), frame, water))
    return as_polygons(print_)


def _open_water(station: tuple[float, float], frame: Frame, water: Any) -> Polygon:
    """Return what can be reached in a straight line from a station without crossing land, mm."""
    at, far = Point(station), 2 * (frame.width_mm + frame.height_mm) + max(map(abs, station))
    ground = shapely.difference(frame.paper, water)
    land = shapely.difference(ground, at.buffer(_CLEAR_M / frame.metres_per_mm))
    turns = np.radians(np.arange(0.0, 360.0, _RAYS_DEG))
    toward = np.column_stack([np.sin(turns), -np.cos(turns)])
    rays = shapely.linestrings(np.stack([np.broadcast_to(station, toward.shape), station + far * toward], axis=1))
    reach = shapely.distance(at, shapely.intersection(rays, land))
    return shapely.make_valid(Polygon(station + np.where(np.isnan(reach), far, reach)[:, None] * toward))


def footprint_shapes(items: Iterable[Viewed], frame: Frame, water: Any, board: Board) -> tuple[Shape, ...]:
    """Tint the water in each frame, pale enough to read the depths through several, and edge each with a hairline."""
    prints = [(item, frame_on_water(item, frame, water)) for item in items]
    tints = tuple(shape for _, print_ in prints for shape in area("view", print_))
    # Where a frame's edge is the bank or the map's edge, a line of its own would say nothing.
    not_drawn = shapely.boundary(shapely.intersection(water, frame.paper)).buffer(0.05)
    edges: tuple[Shape, ...] = ()
    for item, print_ in prints:
        edge = as_lines(shapely.difference(shapely.boundary(print_), not_drawn))
        sides = _sides(frame.point_mm(item.photo.point), frame.to_mm(item.view.footprint), frame)
        sides = sides if len(prints) <= _MOST_WITH_SIDES else MultiLineString()
        board.take(edge.buffer(0.15))
        edges += line("view-edge", edge) + line("view-side", sides)
    return tints + edges


def _sides(station: tuple[float, float], footprint: Any, frame: Frame) -> MultiLineString:
    """Join a station to the near corners of its frame, where the frame begins away from it."""
    at = Point(station)
    if footprint.is_empty or footprint.distance(at) * frame.metres_per_mm < _CLEAR_M:
        return MultiLineString()
    corners = np.asarray(footprint.convex_hull.exterior.coords[:-1]) - station
    middle = np.subtract(footprint.centroid.coords[0], station)
    turn = np.degrees(np.arctan2(*corners.T) - np.arctan2(*middle))
    turn = (turn + 180) % 360 - 180
    # Of the corners on one line of sight, the nearest is where that side of the frame begins.
    away = np.hypot(*corners.T)
    outermost = (turn < turn.min() + 0.5, turn > turn.max() - 0.5)
    ends = [corners[min(np.flatnonzero(side), key=lambda i: away[i])] for side in outermost]
    return as_lines(shapely.intersection(MultiLineString([[station, station + end] for end in ends]), frame.paper))


def seen_shapes(
    runs: Iterable[SeenRun], rings: Iterable[Ring], frame: Frame, water: Any, board: Board
) -> tuple[Shape, ...]:
    """Draw a line on the land along the shore that is seen, a bar at each end, and the photos' numbers behind it."""
    lines = ShoreLines(rings)
    beside = shapely.boundary(shapely.buffer(shapely.simplify(water, 0.05), OFF_SHORE_MM, quad_segs=4))
    drawn: tuple[Shape, ...] = ()
    numbers: list[tuple[str, MultiLineString, LineString]] = []
    for run in runs:
        shore = frame.cut_lines([lines.line(run.ring, run.from_m, run.to_m)])
        for part in shore.geoms:
            along = _along(part, beside, frame)
            board.take(along.buffer(0.4))
            drawn += line("seen", along) + line("seen-end", _bars(part, along, frame))
            numbers.append((" ".join(map(str, run.numbers)), along, part))
    return drawn + tuple(shape for item in numbers for shape in _number(*item, board))


def _along(shore: LineString, beside: Any, frame: Frame) -> MultiLineString:
    """Return the line that keeps off the shore; on land too narrow for it, the shore itself."""
    strip = shore.buffer(OFF_SHORE_MM * 1.08, cap_style="flat").intersection(frame.paper)
    along = as_lines(shapely.line_merge(as_lines(shapely.intersection(beside, strip))))
    return along if along.length > 0.4 * shore.length else as_lines(shore)


def _bars(shore: LineString, along: MultiLineString, frame: Frame) -> MultiLineString:
    """Return short bars from the shore over the ends of the line, except where the map's edge cuts it."""
    inside = frame.paper.buffer(-0.4)
    ends = [Point(shore.coords[i]) for i in (0, -1)]
    bars = [shapely.shortest_line(end, along) for end in ends if inside.covers(end)]
    return as_lines(MultiLineString([_longer(bar, 0.5) for bar in bars if bar.length > 0.2]))


def _longer(bar: LineString, by_mm: float) -> LineString:
    (x0, y0), (x1, y1) = bar.coords
    k = by_mm / bar.length
    return LineString([(x0, y0), (x1 + (x1 - x0) * k, y1 + (y1 - y0) * k)])


def _number(words: str, along: MultiLineString, shore: LineString, board: Board) -> tuple[Shape, ...]:
    """Write the numbers of the photos behind the line, on the first spot along it that is free."""
    whole = max(along.geoms, key=lambda part: part.length)
    if whole.length < _LEAST_LABELLED_MM:
        return ()
    for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8):
        at = whole.interpolate(share, normalized=True)
        foot = shore.interpolate(shore.project(at))
        away = np.subtract(at.coords[0], foot.coords[0])
        for off in (1.5, 2.0, 2.6, 3.4):
            spot = np.add(at.coords[0], away / max(np.hypot(*away), 1e-6) * off)
            where = baseline_below((float(spot[0]), float(spot[1])), NUMBER_MM)
            paper = text_box(words, where, NUMBER_MM)
            if board.is_free(paper, apart_mm=0.1):
                board.write(paper, 0.2)
                return (text("seen-number", words, where, NUMBER_MM),)
    return ()
