"""The shoreline as rings, and each ring cut into reaches."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import count, product
from string import ascii_uppercase
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely import LineString, Point

from atlasgen.model import LonLat, NamedArea, PointM, Reach, Ring
from atlasgen.model.wording import say
from atlasgen.place.geo import Projection
from atlasgen.units import compass_words

if TYPE_CHECKING:
    from shapely import LinearRing, MultiPolygon, Polygon

# A chord shorter than this share of its reach says little about where the shore faces; the middle of the reach is
# asked instead. Ours: a half circle still has 0.64, a hairpin well under 0.2.
_LEAST_CHORD = 0.2
_MIDDLES = (1.0, 0.5, 0.25, 0.1, 0.02)
# A midpoint lies on the shore, and so does the edge of a cove's polygon drawn along it: about a metre of grace.
_PLACE_GRACE_DEG = 1e-5


def build_rings(water: MultiPolygon, start: PointM | None) -> tuple[Ring, ...]:
    """Make the rings of the metric `water`: outer rings, largest water first, then islands.

    A ring is walked with the water on the right hand: an outer ring clockwise on the map, an island's the other way.
    An outer ring starts at its point nearest to `start`, without it at its northernmost vertex (the westernmost of
    several). An island starts where it is nearest to its outer ring, so that moving `start` leaves it alone; islands
    are in the order of that outer ring's point nearest to them. Outer rings are `S`, `S2`, `S3`, ...; islands
    `A`, `B`, ... `Z`, `AA`, ..., without `S`.
    """
    parts = sorted(water.geoms, key=lambda part: (-part.area, part.bounds))
    outers = [_outer_ring(part, start, number) for number, part in enumerate(parts, 1)]
    letters = _island_letters()
    islands = [
        Ring(letter := next(letters), line, True, say("place-island", letter=letter))
        for part, outer in zip(parts, outers, strict=True)
        for line in _islands(part, outer.line)
    ]
    return (*outers, *islands)


def _outer_ring(part: Polygon, start: PointM | None, number: int) -> Ring:
    coords = _open_coords(part.exterior, clockwise=True)
    if start is None:
        first = min(range(len(coords)), key=lambda i: (-coords[i, 1], coords[i, 0]))
        line = _from_vertex(coords, first)
    else:
        line = _from_point(coords, Point(start))
    name = say("place-main-shore") if number == 1 else say("place-shore", number=number)
    return Ring("S" if number == 1 else f"S{number}", line, False, name)


def _islands(part: Polygon, outer: LineString) -> list[LineString]:
    """Make the islands of one water, each from its point nearest to `outer`, in order along `outer`."""
    shapely.prepare(outer)
    found = []
    for hole in part.interiors:
        bridge = shapely.shortest_line(outer, hole)
        chainage = shapely.line_locate_point(outer, shapely.get_point(bridge, 0))
        line = _from_point(_open_coords(hole, clockwise=False), shapely.get_point(bridge, 1))
        found.append((float(chainage), hole.bounds, line))
    return [line for _, _, line in sorted(found, key=lambda item: item[:2])]


def _island_letters() -> Iterator[str]:
    for length in count(1):
        yield from (word for letters in product(ascii_uppercase, repeat=length) if (word := "".join(letters)) != "S")


def _open_coords(ring: LinearRing, *, clockwise: bool) -> np.ndarray:
    """Vertices without the closing one and without repeats, in the asked direction."""
    coords = shapely.get_coordinates(ring)[:-1]
    coords = coords[np.any(coords != np.roll(coords, 1, axis=0), axis=1)]
    return coords if ring.is_ccw != clockwise else coords[::-1]


def _from_vertex(coords: np.ndarray, first: int) -> LineString:
    turned = np.roll(coords, -first, axis=0)
    return LineString(np.vstack([turned, turned[:1]]))


def _from_point(coords: np.ndarray, near: Point) -> LineString:
    """Close the ring at its point nearest to `near`, which becomes a vertex unless it is one."""
    closed = np.vstack([coords, coords[:1]])
    chainage = float(shapely.line_locate_point(LineString(closed), near))
    along = _chainages(closed)
    before = min(int(np.searchsorted(along, chainage, side="right")) - 1, len(coords) - 1)
    for vertex in (before, before + 1):
        if abs(along[vertex] - chainage) < 1e-9:
            return _from_vertex(coords, vertex % len(coords))
    return _from_vertex(np.insert(coords, before + 1, _at(closed, along, np.array([chainage])), axis=0), before + 1)


def _chainages(coords: np.ndarray) -> np.ndarray:
    """Distance along a line at each of its vertices, metres."""
    return np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(coords, axis=0).T))])


def _at(coords: np.ndarray, along: np.ndarray, chainage: np.ndarray) -> np.ndarray:
    """Points (n, 2) of a line at `chainage`."""
    return np.column_stack([np.interp(chainage, along, coords[:, 0]), np.interp(chainage, along, coords[:, 1])])


def cut_reaches(
    rings: Sequence[Ring],
    reach_length_m: float,
    projection: Projection,
    tile_of: Callable[[LonLat], str],
    place_of: Callable[[LonLat], str],
) -> tuple[Reach, ...]:
    """Cut each ring into equal reaches as near to `reach_length_m` as goes, in reading order.

    Ids are `S-0001`, `A-0001`, ... along each ring. `faces_deg` is the true bearing over the water, square to the
    reach's chord; that is also the length-weighted mean of the normals of its segments, as the segments of a line
    add up to its chord. Where the shore bends back so far that the chord says little, the middle of the reach is
    asked instead. A bank is named for the side of the water it is on (the bank that faces south is the north bank),
    an island's shore for the way it faces; a reach that goes all round is the whole shore.
    """
    return tuple(reach for ring in rings for reach in _cut_ring(ring, reach_length_m, projection, tile_of, place_of))


def _cut_ring(
    ring: Ring,
    reach_length_m: float,
    projection: Projection,
    tile_of: Callable[[LonLat], str],
    place_of: Callable[[LonLat], str],
) -> Iterator[Reach]:
    coords = shapely.get_coordinates(ring.line)
    along = _chainages(coords)
    pieces = max(1, round(along[-1] / reach_length_m))
    cuts = np.linspace(0.0, along[-1], pieces + 1)
    middles = _at(coords, along, (cuts[:-1] + cuts[1:]) / 2)
    lonlats = np.column_stack(projection.lonlats(middles[:, 0], middles[:, 1])).tolist()
    grid_faces = _grid_faces_deg(coords, along, cuts)
    faces = projection.grid_bearings_to_true(grid_faces, middles[:, 0], middles[:, 1]).tolist()
    for index, line in enumerate(_cut_lines(coords, along, cuts)):
        midpoint = LonLat(*lonlats[index])
        yield Reach(
            id=f"{ring.id}-{index + 1:04d}",
            ring=ring.id,
            from_m=float(cuts[index]),
            to_m=float(cuts[index + 1]),
            line=line,
            midpoint=midpoint,
            faces_deg=faces[index],
            tile=tile_of(midpoint),
            name=say("place-whole-shore") if pieces == 1 else _name(faces[index], ring.island),
            place=place_of(midpoint),
        )


def _cut_lines(coords: np.ndarray, along: np.ndarray, cuts: np.ndarray) -> np.ndarray:
    """Lines between neighbouring cuts, all built at once; neighbours share the very same end point."""
    ends = _at(coords, along, cuts)
    # The last cut and the first are one place; interpolation may miss it by a rounding.
    ends[-1] = ends[0]
    low = np.searchsorted(along, cuts[:-1], side="right")
    high = np.maximum(np.searchsorted(along, cuts[1:], side="left"), low)
    parts = [part for i in range(len(low)) for part in (ends[i : i + 1], coords[low[i] : high[i]], ends[i + 1 : i + 2])]
    owner = np.repeat(np.arange(len(low)), high - low + 2)
    return shapely.linestrings(np.concatenate(parts), indices=owner)


def _grid_faces_deg(coords: np.ndarray, along: np.ndarray, cuts: np.ndarray) -> np.ndarray:
    """Direction over the water of each reach on the metric map, degrees."""
    middle, half = (cuts[:-1] + cuts[1:]) / 2, np.diff(cuts) / 2
    chord = np.zeros((len(half), 2))
    weak = np.ones(len(half), bool)
    for share in _MIDDLES:
        reach = half[weak] * share
        chord[weak] = _at(coords, along, middle[weak] + reach) - _at(coords, along, middle[weak] - reach)
        weak &= np.hypot(*chord.T) < _LEAST_CHORD * 2 * half * share
    return (np.degrees(np.arctan2(chord[:, 0], chord[:, 1])) + 90) % 360


def _name(faces_deg: float, island: bool) -> str:
    if island:
        return say("place-island-bank", point=compass_words(faces_deg, 8))
    return say("place-bank", point=compass_words(faces_deg + 180, 8))


def place_finder(places: Sequence[NamedArea]) -> Callable[[LonLat], str]:
    """Make the `place_of` for `cut_reaches`: the first named area that holds a place, or "".

    A metre of grace lets an area drawn along the shore hold that shore.
    """
    areas = shapely.buffer([place.area for place in places], _PLACE_GRACE_DEG)
    shapely.prepare(areas)

    def place_of(at: LonLat) -> str:
        held = np.flatnonzero(shapely.intersects_xy(areas, at.lon_deg, at.lat_deg))
        return places[held[0]].name if len(held) else ""

    return place_of
