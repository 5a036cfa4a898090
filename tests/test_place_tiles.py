"""Sources: OGC 17-083r4 (2-D Tile Matrix Set 2.0) Annex D; mercantile's README and tests; both libraries as oracles."""

from __future__ import annotations

import math

import mercantile
import morecantile
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lakes import in_degrees, island_lake, square_lake, two_part_lake
from pyproj import Transformer
from shapely import MultiPolygon, Point, box, unary_union

from atlasgen.model import LonLat, NamedArea
from atlasgen.place.tiles import (
    LAT_LIMIT_DEG,
    TileIndex,
    bounds_deg,
    lay_tiles,
    sheet_tiles,
    tiles_of,
)

WEB = morecantile.tms.get("WebMercatorQuad")
LONS = st.floats(-179.999, 179.999)
LATS = st.floats(-84.9, 84.9)
ZOOMS = st.integers(0, 20)


def tile_of(at: LonLat, zoom: int) -> tuple[int, int]:
    (x,), (y,) = tiles_of(np.array([at.lon_deg]), np.array([at.lat_deg]), zoom)
    return int(x), int(y)


def tile_bounds_deg(x: int, y: int, zoom: int) -> tuple[float, ...]:
    return tuple(bounds_deg(np.array([x]), np.array([y]), zoom)[0].tolist())


def test_the_tile_matrix_of_the_standard() -> None:
    """Annex D, table 27: latitude limit, cell sizes, and scale denominators at 0.28 mm a pixel."""
    assert pytest.approx(85.0511287798, abs=1e-10) == LAT_LIMIT_DEG
    assert tile_bounds_deg(0, 0, 0) == pytest.approx((-180, -LAT_LIMIT_DEG, 180, LAT_LIMIT_DEG), abs=1e-9)
    for zoom, cell_m in [(0, 156543.0339280410), (14, 9.554628535647032), (18, 0.5971642834779395)]:
        west, _, east, _ = tile_bounds_deg(0, 0, zoom)
        assert math.radians(east - west) * 6378137 / 256 == pytest.approx(cell_m, abs=1e-9)
    west, _, east, _ = tile_bounds_deg(0, 0, 0)
    cell_m = math.radians(east - west) * 6378137 / 256
    assert cell_m / 0.00028 == pytest.approx(559082264.0287178, abs=1e-6)


@pytest.mark.parametrize(("lat_deg", "zoom", "ground_m"), [(45, 16, 1.689036), (60, 15, 2.388657), (40, 14, 7.319270)])
def test_ground_size_of_a_pixel(lat_deg, zoom, ground_m) -> None:
    """Cell size times the cosine of latitude, from a tile's own width."""
    west, _, east, _ = tile_bounds_deg(*tile_of(LonLat(10, lat_deg), zoom), zoom)
    width_m = math.radians(east - west) * 6378137 * math.cos(math.radians(lat_deg))
    assert width_m / 256 == pytest.approx(ground_m, abs=1e-6)


# mercantile's quickstart; the rest computed with mercantile and morecantile, which agree.
@pytest.mark.parametrize(
    ("at", "zoom", "tile"),
    [
        (LonLat(-105.0, 40.0), 1, (0, 0)),
        (LonLat(-90.0, 45.0), 16, (16384, 23574)),
        (LonLat(-105.0, 40.0), 14, (3413, 6202)),
        (LonLat(143.9265, -37.6528), 15, (29484, 20088)),
    ],
)
def test_tile_of_a_point(at, zoom, tile) -> None:
    """The published and agreed tiles."""
    assert tile_of(at, zoom) == tile


def test_bounds_of_a_tile() -> None:
    """Mercantile's README, tile 486/332 at zoom 10, in degrees and in metres."""
    west, south, east, north = tile_bounds_deg(486, 332, 10)
    assert (west, north) == pytest.approx((-9.140625, 53.33087298301705), abs=1e-9)
    assert (east, south) == pytest.approx((-8.7890625, 53.12040528310657), abs=1e-9)
    corner = Transformer.from_crs("EPSG:4326", "EPSG:3857", always_xy=True).transform(west, north)
    assert corner == pytest.approx((-1017529.72053, 7044436.52676), abs=1e-5)


def test_a_point_on_an_edge_belongs_east_and_south() -> None:
    """The corner of 486/332: libraries differ on it; 1e-9° to either side there is no doubt."""
    lon, lat, step = -9.140625, 53.33087298301705, 1e-9
    assert tile_of(LonLat(lon, lat), 10) == (486, 332)
    assert tile_of(LonLat(lon + step, lat - step), 10) == (486, 332)
    assert tile_of(LonLat(lon - step, lat - step), 10) == (485, 332)
    assert tile_of(LonLat(lon + step, lat + step), 10) == (486, 331)
    assert tile_of(LonLat(lon - step, lat + step), 10) == (485, 331)


@given(ZOOMS, st.data())
def test_every_tile_holds_its_north_west_corner(zoom, data) -> None:
    """The rule for edges, at any tile of any zoom, in spite of rounding."""
    last = 2**zoom - 1
    x, y = data.draw(st.integers(0, last)), data.draw(st.integers(0, last))
    west, _, _, north = tile_bounds_deg(x, y, zoom)
    assert tile_of(LonLat(west, north), zoom) == (x, y)


@given(LONS, LATS, ZOOMS)
def test_the_tile_of_a_tile_s_centre_is_that_tile(lon, lat, zoom) -> None:
    """And the tile's bounds hold the point it was found for."""
    x, y = tile_of(LonLat(lon, lat), zoom)
    west, south, east, north = tile_bounds_deg(x, y, zoom)
    assert west - 1e-9 <= lon <= east + 1e-9
    assert south - 1e-9 <= lat <= north + 1e-9
    assert tile_of(LonLat((west + east) / 2, (south + north) / 2), zoom) == (x, y)


@given(LONS, LATS, ZOOMS)
def test_two_libraries_find_the_same_tile(lon, lat, zoom) -> None:
    """Away from edges, which have a test of their own, mercantile and morecantile agree with us."""
    x, y = tile_of(LonLat(lon, lat), zoom)
    around = {tile_of(LonLat(lon + dx, lat + dy), zoom) for dx in (-2e-9, 2e-9) for dy in (-2e-9, 2e-9)}
    if around == {(x, y)}:
        other, third = mercantile.tile(lon, lat, zoom), WEB.tile(lon, lat, zoom)
        assert (x, y) == (other.x, other.y) == (third.x, third.y)
        assert tile_bounds_deg(x, y, zoom) == pytest.approx(tuple(mercantile.bounds(other)), abs=1e-9)


def test_points_beyond_the_map_are_in_its_outermost_tiles() -> None:
    """The poles and the 180th meridian."""
    x, y = tiles_of(np.array([180.0, -180.0]), np.array([90.0, -90.0]), 3)
    assert (x.tolist(), y.tolist()) == ([7, 0], [0, 7])


def test_tiles_of_a_box() -> None:
    """Row by row from the north-west, as mercantile has them."""
    bounds = (-9.2, 53.1, -8.8, 53.4)
    found = {tile.id: tile.bounds_deg for tile in lay_tiles(MultiPolygon([box(*bounds)]), 10)}
    assert list(found) == [f"10/{x}/{y}" for y in (331, 332, 333) for x in (485, 486)]
    assert set(found) == {f"{t.z}/{t.x}/{t.y}" for t in mercantile.tiles(*bounds, 10)}
    assert found["10/486/332"] == tile_bounds_deg(486, 332, 10)


def test_tiles_laid_over_a_lake() -> None:
    """The square lake at zoom 16 lies in 3 columns and 3 rows, labelled from the north-west."""
    water = in_degrees(square_lake())
    tiles = lay_tiles(water, 16)
    x, y = tile_of(LonLat(-30.0, 45.0), 16)
    west, north = tile_of(LonLat(water.bounds[0], water.bounds[3]), 16)
    labels = {tile.id: tile.label for tile in tiles}
    assert labels[f"16/{west}/{north}"] == "A 1"
    assert labels[f"16/{x}/{y}"] == f"{'ABCDE'[x - west]} {y - north + 1}"
    assert {tile.id for tile in tiles} == {f"{t.z}/{t.x}/{t.y}" for t in mercantile.tiles(*water.bounds, 16)}
    assert tiles[0].bounds_deg == tile_bounds_deg(west, north, 16)
    assert tiles[0].area.equals(box(*tiles[0].bounds_deg))


def test_dry_tiles_are_left_out() -> None:
    """Two waters apart: no tile of the land between, yet the labels count it."""
    water = in_degrees(two_part_lake())
    tiles = lay_tiles(water, 18)
    dry = box(*in_degrees(MultiPolygon([box(600, -500, 900, 500)])).bounds)
    assert not [tile for tile in tiles if dry.contains(tile.area)]
    assert unary_union([tile.area for tile in tiles]).buffer(1e-12).contains(water)
    assert len(tiles) < len(list(mercantile.tiles(*water.bounds, 18)))
    columns = {tile.label.split()[0] for tile in tiles}
    west, east = (tile_of(LonLat(lon, 45.0), 18)[0] for lon in water.bounds[::2])
    assert max(columns) == chr(ord("A") + east - west)


def test_no_tile_lies_on_a_large_island_only() -> None:
    """The middle of a big island has no tile."""
    water = in_degrees(island_lake())
    tiles = lay_tiles(water, 20)
    assert TileIndex(tiles).at(LonLat(-30.0, 45.0)) is None


def test_letters_go_on_after_z() -> None:
    """More than 26 columns: AA follows Z."""
    labels = [tile.label for tile in lay_tiles(in_degrees(square_lake()), 20) if tile.label.endswith(" 1")]
    assert labels[24:28] == ["Y 1", "Z 1", "AA 1", "AB 1"]


def test_a_place_on_an_edge_is_found_by_the_same_rule() -> None:
    """A corner shared by four tiles of the lake belongs to the south-eastern one."""
    water = in_degrees(square_lake())
    index = TileIndex(lay_tiles(water, 17))
    x, y = tile_of(LonLat(-30.0, 45.0), 17)
    west, _, _, north = tile_bounds_deg(x, y, 17)
    found = index.at(LonLat(west, north))
    assert found is not None
    assert found.id == f"17/{x}/{y}"


@given(st.lists(st.tuples(st.floats(-30.02, -29.98), st.floats(44.98, 45.02)), min_size=1, max_size=30))
@settings(max_examples=40)
def test_many_places_at_once(places) -> None:
    """The vectorised answer is the single one, and both are right."""
    tiles = lay_tiles(in_degrees(square_lake()), 17)
    index = TileIndex(tiles)
    found = index.at_many(np.array([lon for lon, _ in places]), np.array([lat for _, lat in places]))
    by_id = {tile.id: number for number, tile in enumerate(tiles)}
    for number, (lon, lat) in zip(found.tolist(), places, strict=True):
        x, y = tile_of(LonLat(lon, lat), 17)
        assert number == by_id.get(f"17/{x}/{y}", -1)
        assert index.at(LonLat(lon, lat)) == (None if number < 0 else tiles[number])


def test_without_tiles_no_place_has_one() -> None:
    """An empty index answers None."""
    assert TileIndex(()).at(LonLat(0, 0)) is None


def test_sheets_of_the_crew() -> None:
    """Id safe for a file, label the crew's own words, order theirs."""
    tiles, problems = sheet_tiles([NamedArea("Höft / Nord", box(0, 0, 1, 1)), NamedArea("South", box(0, -1, 1, 0))])
    assert [(tile.id, tile.label) for tile in tiles] == [("Hoft-Nord", "Höft / Nord"), ("South", "South")]
    assert tiles[0].bounds_deg == (0, 0, 1, 1)
    assert problems == []


def test_sheet_ids_are_unique_on_any_disk() -> None:
    """Names that differ in case only, that are empty, or that a system reserves."""
    names = ["North", "north", "North", "", "con", "北"]
    tiles, _ = sheet_tiles([NamedArea(name, box(i, 0, i + 1, 1)) for i, name in enumerate(names)])
    assert [tile.id for tile in tiles] == ["North", "north-2", "North-3", "sheet-4", "sheet-con", "sheet"]
    assert tiles[3].label == "sheet 4"


def test_where_sheets_overlap_the_first_wins_and_it_is_told() -> None:
    """One note for the sheet that loses a part, naming all it loses to."""
    sheets = [NamedArea(name, box(west, 0, west + 2, 1)) for name, west in [("One", 0), ("Two", 1), ("Three", 1.5)]]
    tiles, problems = sheet_tiles(sheets)
    index = TileIndex(tiles)
    assert [index.at(LonLat(lon, 0.5)).label for lon in (0.5, 1.25, 1.75, 2.5, 3.4)] == [
        "One",
        "One",
        "One",
        "Two",
        "Three",
    ]
    assert [(problem.subject, problem.code, problem.level) for problem in problems] == [
        ("files.sheets", "ambiguous", "note")
    ] * 2
    assert 'sheet "Three" overlaps "One", "Two"' in problems[1].message


def test_a_place_outside_all_sheets_has_none() -> None:
    """And one on the outer edge is inside."""
    index = TileIndex(sheet_tiles([NamedArea("One", box(0, 0, 1, 1))])[0])
    assert index.at(LonLat(1.5, 0.5)) is None
    assert index.at(LonLat(1, 1)).id == "One"
    assert index.at_many(np.array([0.5, 2.0]), np.array([0.5, 0.5])).tolist() == [0, -1]


def test_a_sheet_of_two_parts_is_one_tile() -> None:
    """Both parts find it."""
    parts = MultiPolygon([box(0, 0, 1, 1), box(5, 0, 6, 1)])
    index = TileIndex(sheet_tiles([NamedArea("Both", parts)])[0])
    assert {index.at(LonLat(lon, 0.5)).id for lon in (0.5, 5.5)} == {"Both"}
    assert not parts.contains(Point(3, 0.5))
    assert index.at(LonLat(3, 0.5)) is None
