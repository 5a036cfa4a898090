"""A map while it is being made: the ground under it, the paper already taken, and its shapes layer by layer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

import shapely
from shapely import Polygon

from atlasgen.compose import ground as draw
from atlasgen.compose.cameras import camera_shapes, cameras_on, far_camera_shapes
from atlasgen.compose.depth_lines import Level, label_levels, levels_on
from atlasgen.compose.drawing import Frame, ToLonLat, grid_convergence_deg, line
from atlasgen.compose.furniture import NAME_MM, TEXT_MM, Name, scale_and_north
from atlasgen.compose.landmark_signs import landmark_alt, landmark_shapes, on_frame
from atlasgen.compose.legend import Entry, sign_entries
from atlasgen.compose.lettering import Board
from atlasgen.compose.views import Viewed, footprint_shapes, seen_runs, seen_shapes
from atlasgen.model import DepthBand, Drawing, Isobath, NamedArea, Photo, Reach, Ring, Shape
from atlasgen.model.landmarks import Landmark
from atlasgen.model.wording import say
from atlasgen.units import DepthUnit, DistanceUnit

# What a cut leaves of a depth line between words, if shorter than this, is a scratch rather than a line; ours.
_STUB_MM = 4.0

# From the bottom up. What is placed first gets its room first; where it is drawn is decided here.
_LAYERS = (
    "ground", "closed", "soundings", "levels", "tiles", "views", "shore",
    "seen", "reach", "labels", "names", "signs", "cameras", "furniture", "legend", "frame",
)  # fmt: skip


class Sheet:
    """Collects a map's layers; each method places one kind of thing clear of what was placed before it."""

    def __init__(
        self,
        frame: Frame,
        water: Any,
        rings: Iterable[Ring],
        *,
        isobaths: Sequence[Isobath] = (),
        bands: Sequence[DepthBand] = (),
        dry: Any = None,
        depth_unit: DepthUnit = "feet",
    ) -> None:
        self.frame, self.board, self.depth_unit = frame, Board(frame.paper), depth_unit
        self.ground = draw.ground_on(frame, water, rings, bands, dry)
        self.levels: tuple[Level, ...] = levels_on(frame, isobaths, depth_unit)
        self._lines: list[tuple[str, str, Any]] = []
        self._shapes: dict[str, tuple[Shape, ...]] = dict.fromkeys(_LAYERS, ())
        self._closed: Any = Polygon()
        self.told = ""
        self.put_lines("levels", draw.level_lines(self.levels))
        self.put("ground", draw.ground_shapes(frame, self.ground))
        self.put("frame", draw.frame_line(frame))

    def put(self, layer: str, shapes: Iterable[Shape]) -> None:
        """Add shapes to a layer."""
        self._shapes[layer] += tuple(shapes)

    def has(self, layer: str) -> bool:
        """Tell whether anything is drawn in a layer."""
        return bool(self._shapes[layer])

    def put_lines(self, layer: str, lines: Iterable[draw.StyledLines]) -> None:
        """Add lines (style, geometry in mm) that will stop short of every word written on the sheet."""
        self._lines += [(layer, style, geometry) for style, geometry in lines if not geometry.is_empty]

    def shore(self, style: str = "shore") -> None:
        """Draw the shoreline; words keep off it."""
        self.put("shore", line(style, self.ground.shore))
        self.board.take(self.ground.shore.buffer(0.3))

    def reaches(self, reaches: Iterable[Reach]) -> None:
        """Draw the page's reaches heavy, with a tick across each end."""
        lines = self.frame.cut_lines([reach.line for reach in reaches])
        self.board.take(lines.buffer(0.8))
        self.put("reach", line("reach-halo", lines) + line("reach", lines))

    def cameras(self, photos: Iterable[tuple[int, Photo]], to_lonlat: ToLonLat) -> None:
        """Draw cameras inside the frame: numbered dots, on top of all else."""
        self.put("cameras", camera_shapes(cameras_on(self.frame, photos, to_lonlat, self.board), self.board))

    def views(self, items: Sequence[Viewed]) -> None:
        """Tint the water in each photo's frame; words keep off its edge."""
        self.put("views", footprint_shapes(items, self.frame, self.ground.water, self.board))

    def seen(self, items: Sequence[Viewed], rings: Iterable[Ring]) -> bool:
        """Draw a line along the shore that the photos show, with their numbers; tell whether any is on this map."""
        shapes = seen_shapes(seen_runs(items), rings, self.frame, self.ground.water, self.board)
        self.put("seen", shapes)
        return bool(shapes)

    def far_cameras(self, photos: Iterable[tuple[int, Photo, float]], unit: DistanceUnit) -> None:
        """Draw arrows at the edge to cameras beyond the frame: number, photo, distance in metres."""
        for number, photo, distance_m in photos:
            self.put("cameras", far_camera_shapes(number, photo, self.frame, distance_m, unit, self.board))

    def landmarks(self, marks: Sequence[Landmark], *, named: bool = True) -> list[Entry]:
        """Draw the crew's landmarks; return what the key has to say of their signs."""
        signs, names = landmark_shapes(marks, self.frame, self.board, named=named)
        self.put("signs", signs)
        self.put("names", names)
        self.told += landmark_alt(marks, self.frame)
        return sign_entries([mark for mark, _ in on_frame(marks, self.frame)])

    def waterlines(self, lines: Iterable[Any]) -> bool:
        """Draw the edge of the water on low-water images; tell whether any is on this map."""
        edge = self.frame.cut_lines(lines)
        self.put_lines("levels", [("low-water", edge)])
        return not edge.is_empty

    def soundings(self, points: tuple[Any, Any] | None) -> None:
        """Draw single soundings, unless a depth model says more."""
        if not self.ground.has_depths:
            self.put("soundings", draw.sounding_shapes(self.frame, points, self.board))

    def furniture(self, unit: DistanceUnit, to_lonlat: ToLonLat) -> None:
        """Draw scale bar and north arrow, and name the unit of the depths where there are any."""
        middle = self.frame.point_m(self.frame.width_mm / 2, self.frame.height_mm / 2)
        note = say("key-depths-in", unit=self.depth_unit) if self.levels else ""
        land = shapely.difference(self.frame.paper, self.ground.water)
        turn = grid_convergence_deg(to_lonlat, middle)
        self.put("furniture", scale_and_north(self.frame, self.board, unit, turn, note, land))

    def not_surveyed(self, areas: Iterable[NamedArea]) -> None:
        """Hatch what was not surveyed, with the reason."""
        regions = draw.hatched(self.frame, areas, self.ground.water)
        self._closed = shapely.unary_union([region for _, region in regions])
        self._write("reason", draw.reason_names(regions, self.frame, self.board), TEXT_MM)
        self.put_lines("closed", draw.hatch_lines(regions))

    def tiles(self, tiles: Iterable[NamedArea]) -> None:
        """Draw the borders of chart tiles that cross the map, with their labels."""
        edges, names = draw.tile_edges_on(self.frame, tiles, self.board)
        self.put_lines("tiles", [edges])
        self._write("tile", names, TEXT_MM)

    def places(self, places: Iterable[NamedArea], *, beside: bool = False) -> None:
        """Write the names of waters; `beside` lets a name that has no room in its water stand on land."""
        lines = shapely.unary_union([geometry for _, _, geometry in self._lines])
        wet = shapely.make_valid(self.ground.water).difference(self._closed)
        self._write("place", draw.place_names(self.frame, places, wet, self.board, lines, beside=beside), NAME_MM)

    def unknowns(self) -> None:
        """Say where no depth is known."""
        self._write("unknown", draw.unknown_names(self.ground, self.board), TEXT_MM)

    def depths(self) -> None:
        """Label the depth lines; last, for labels give way to everything else that is written."""
        self.put("labels", draw.label_shapes(label_levels(self.levels, self.board)))

    def _write(self, style: str, names: Sequence[Name], size_mm: float) -> None:
        self.put("names", draw.name_shapes(style, names, size_mm))

    def finish(self, id: str, alt: str, to_lonlat: ToLonLat, foot_mm: float = 0.0) -> Drawing:
        """Return the drawing, its layers from the bottom up; `foot_mm` is room below the map, for a legend."""
        mask = shapely.unary_union(self.board.written)
        lines = [
            (layer, line(style, _cut_open(geometry, mask, _STUB_MM if layer == "levels" else 0.0)))
            for layer, style, geometry in self._lines
        ]
        shapes: list[Shape] = []
        for name in _LAYERS:
            shapes += [shape for layer, drawn in lines if layer == name for shape in drawn]
            shapes += self._shapes[name]
        height_mm = round(self.frame.height_mm + foot_mm, 2)
        return Drawing(
            id, self.frame.width_mm, height_mm, tuple(shapes), alt + self.told, self.frame.corners(to_lonlat)
        )


def _cut_open(lines: Any, mask: Any, stub_mm: float) -> Any:
    """Lines outside the written paper, without the stubs that a cut leaves between words."""
    pieces = draw.as_lines(lines.difference(mask)).geoms
    return shapely.MultiLineString([p for p in pieces if p.length >= stub_mm or p.distance(mask) > 1e-6])
