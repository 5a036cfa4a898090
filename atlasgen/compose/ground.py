"""The layers that every map shares: land, water, depth tint, what is not known, depth lines, shore, names, tiles."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import shapely
from shapely import LineString, MultiPolygon, Point, box

from atlasgen.compose.depth_lines import LABEL_MM, Level, LineLabel
from atlasgen.compose.drawing import Frame, area, as_lines, as_polygons, dots, hatch, line, text
from atlasgen.compose.furniture import NAME_MM, TEXT_MM, Name, name_beside, place_name
from atlasgen.compose.lettering import Board, text_box, text_width_mm
from atlasgen.compose.textures import texture
from atlasgen.model import DepthBand, NamedArea, Ring, Shape
from atlasgen.model.wording import say

_SHORE_APART_MM = 0.5
# Bands cut from one grid meet only to the rounding of their corners; gaps below this are no gaps.
_SEAM_MM = 0.12
# Tints end under depth lines; their own edge need not be finer than the stroke that closes the seam.
_BAND_TOLERANCE_MM = 0.08
# Less unknown water than this is thinner than its own outline.
_LEAST_UNKNOWN_MM = 1.0
_SOUNDING_CELL_MM = 0.8
_SOUNDING_MM = 0.35


StyledLines = tuple[str, Any]


@dataclass(frozen=True, slots=True)
class Ground:
    """Water on the paper, mm: all of it, its edge, and where no depth is known (empty where no model was made)."""

    water: MultiPolygon
    shore: Any
    unknown: MultiPolygon
    bands: tuple[tuple[float, MultiPolygon], ...]
    dry: MultiPolygon = field(default_factory=MultiPolygon)

    @property
    def has_depths(self) -> bool:
        """Whether a depth model was given for any of the water shown."""
        return bool(self.bands)


def ground_on(frame: Frame, water: Any, rings: Iterable[Ring], bands: Sequence[DepthBand], dry: Any = None) -> Ground:
    """Cut water, shore, depth bands and what has fallen dry to the frame."""
    # Simplifying what is cut may let its edges touch; what is drawn must still be an area.
    wet = as_polygons(shapely.make_valid(frame.cut_area(water)))
    shore = frame.cut_lines(ring.line for ring in rings)
    cut = [
        (band.shade, frame.cut_area(band.area, _BAND_TOLERANCE_MM))
        for band in sorted(bands, key=lambda band: band.from_m)
    ]
    tinted = tuple((shade, area_mm) for shade, area_mm in cut if not area_mm.is_empty)
    bare = frame.cut_area(dry, _BAND_TOLERANCE_MM) if dry is not None and not dry.is_empty else MultiPolygon()
    if not bands and bare.is_empty:
        return Ground(wet, shore, MultiPolygon(), ())
    told = [*(area_mm for _, area_mm in tinted), bare]
    known = shapely.unary_union([shapely.make_valid(area_mm).buffer(_SEAM_MM) for area_mm in told])
    left = wet.difference(known)
    opened = left.buffer(-_LEAST_UNKNOWN_MM / 2).buffer(_LEAST_UNKNOWN_MM / 2).intersection(wet)
    return Ground(wet, shore, as_polygons(opened), tinted, bare)


def ground_shapes(frame: Frame, ground: Ground) -> tuple[Shape, ...]:
    """Land, water left blank, depth tint, and a thin outline round water whose depth is not known."""
    shapes = area("land", frame.paper) + area("water", ground.water)
    for shade, band in ground.bands:
        shapes += area("depth", band, shade)
    shapes += texture("dry", ground.dry)
    other_edges = shapely.union(ground.shore, frame.paper.boundary).buffer(_SHORE_APART_MM)
    return shapes + line("known-edge", as_lines(ground.unknown.boundary.difference(other_edges)))


def level_lines(levels: Sequence[Level]) -> tuple[StyledLines, ...]:
    """Depth lines by weight, their doubtful parts in broken lines of the same weight."""
    styled = []
    for style, major in (("isobath", False), ("isobath-major", True)):
        own = [level for level in levels if level.major is major]
        styled.append((style, as_lines(shapely.GeometryCollection([level.lines for level in own]))))
        styled.append((f"{style}-doubtful", as_lines(shapely.GeometryCollection([level.doubtful for level in own]))))
    return tuple(styled)


def label_shapes(labels: Iterable[LineLabel]) -> tuple[Shape, ...]:
    """Depths along their lines."""
    return tuple(
        text("isobath-major" if label.major else "isobath", label.words, label.at, LABEL_MM, label.turn_deg)
        for label in labels
    )


def sounding_shapes(frame: Frame, points: tuple[Any, Any] | None, taken: Board) -> tuple[Shape, ...]:
    """Soundings as small dots, one for each 0.8 mm of paper, where there is no depth model to show."""
    if points is None or len(points[0]) == 0:
        return ()
    west, south, east, north = frame.bounds_m
    x, y = np.asarray(points[0], dtype=float), np.asarray(points[1], dtype=float)
    inside = (x > west) & (x < east) & (y > south) & (y < north)
    mm = np.column_stack([x[inside] - west, north - y[inside]]) / frame.metres_per_mm
    _, first = np.unique(np.floor(mm / _SOUNDING_CELL_MM), axis=0, return_index=True)
    shown = [tuple(mm[i]) for i in np.sort(first) if taken.is_free(Point(mm[i]).buffer(_SOUNDING_MM))]
    return dots("sounding", shown, _SOUNDING_MM)


def hatched(frame: Frame, areas: Iterable[NamedArea], water: Any) -> tuple[tuple[str, MultiPolygon], ...]:
    """Cut areas that were not surveyed to the water on the paper: reason and area, mm."""
    found = []
    for named in areas:
        region = as_polygons(frame.cut_area(named.area).intersection(shapely.make_valid(water)))
        if not region.is_empty:
            found.append((named.name, region))
    return tuple(found)


def hatch_lines(regions: Iterable[tuple[str, MultiPolygon]]) -> tuple[StyledLines, ...]:
    """Hatching with a thin outline."""
    return tuple(item for _, region in regions for item in (("hatch", hatch(region)), ("hatch-edge", region.boundary)))


def reason_names(regions: Iterable[tuple[str, MultiPolygon]], frame: Frame, board: Board) -> tuple[Name, ...]:
    """Why an area was not surveyed, written in it or beside it."""
    found = []
    for words, region in regions:
        largest = max(region.geoms, key=lambda part: part.area)
        name = place_name(words, largest, board, LineString(), TEXT_MM)
        name = name or name_beside(words, largest, frame.paper, board, TEXT_MM)
        found += [name] if name else []
    return tuple(found)


def place_names(
    frame: Frame, places: Iterable[NamedArea], wet: Any, board: Board, lines: Any, *, beside: bool = False
) -> tuple[Name, ...]:
    """Names of waters, each once, in the largest piece of its water (mm) that is shown; `beside` allows land."""
    land = shapely.difference(frame.paper, wet.buffer(0.4)) if beside else None
    wet = wet.buffer(-0.4)
    found = []
    for named in places:
        pieces = as_polygons(frame.cut_area(named.area).intersection(wet)).geoms
        if not pieces:
            continue
        largest = max(pieces, key=lambda piece: piece.area)
        name = place_name(named.name, largest, board, lines)
        if name is None and land is not None:
            name = name_beside(named.name, largest, land, board)
        found += [name] if name else []
    return tuple(found)


def unknown_names(ground: Ground, board: Board) -> tuple[Name, ...]:
    """Say `depth not known` in each blank piece of water that has room for it."""
    pieces = sorted(ground.unknown.geoms, key=lambda piece: -piece.area)
    words = say("map-depth-not-known")
    names = (place_name(words, piece, board, LineString(), TEXT_MM) for piece in pieces[:3])
    return tuple(name for name in names if name)


def name_shapes(style: str, names: Iterable[Name], size_mm: float = NAME_MM) -> tuple[Shape, ...]:
    """Names as shapes of one text style."""
    return tuple(text(style, name.words, name.at, size_mm, name.turn_deg) for name in names)


def tile_edges_on(frame: Frame, tiles: Iterable[NamedArea], board: Board) -> tuple[StyledLines, tuple[Name, ...]]:
    """Return the borders of tiles that cross the frame, with each tile's label just inside its border."""
    cut = [(tile, edge) for tile in tiles if (edge := frame.cut_lines([tile.area.boundary])).length > 5]
    edges = as_lines(shapely.unary_union([edge for _, edge in cut]))
    board.take(edges.buffer(0.15))
    names = [name for tile, edge in cut for name in _tile_name(tile, edge, frame.cut_area(tile.area), board)]
    return ("tile-edge", as_lines(shapely.line_merge(edges))), tuple(names)


def _tile_name(tile: NamedArea, edge: Any, inside: MultiPolygon, board: Board) -> list[Name]:
    width = text_width_mm(tile.name, TEXT_MM)
    for along in np.arange(4.0, edge.length - 2, 3.0):
        at = edge.interpolate(along)
        for dx, dy in ((width / 2 + 1, 0.7), (-width / 2 - 1, 0.7), (0, TEXT_MM), (0, -0.9)):
            spot = (at.x + dx, at.y + dy)
            paper = text_box(tile.name, spot, TEXT_MM)
            if inside.covers(paper) and board.is_free(paper, apart_mm=0.3):
                board.write(paper)
                return [Name(tile.name, spot, 0.0, paper)]
    return []


def frame_line(frame: Frame) -> tuple[Shape, ...]:
    """Draw the hairline round a map."""
    return line("frame", box(0.1, 0.1, frame.width_mm - 0.1, frame.height_mm - 0.1))
