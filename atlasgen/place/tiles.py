"""Chart tiles: cells of WebMercatorQuad, or the crew's own sheets.

WebMercatorQuad is the tile matrix set of OGC 17-083r4 (Two Dimensional Tile Matrix Set 2.0), Annex D: at zoom z the
world's square is cut into 2^z by 2^z tiles, x counted from the west and y from the north. The standard leaves open to
which tile a point on an edge belongs; here a tile holds its west and north edge, so such a point belongs to the tile
east and south of it.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import shapely

from atlasgen.model import LonLat, NamedArea, Problem, Tile
from atlasgen.model.wording import say

if TYPE_CHECKING:
    from shapely import MultiPolygon
    from shapely.geometry.base import BaseGeometry

# atan(sinh(pi)): the latitude at which the world's map is a square.
LAT_LIMIT_DEG = 85.0511287798066
# A point this share of the world's width (4 micrometres) short of an edge is on the edge: rounding of the logarithm
# is a hundred times smaller, and 1e-9 degrees are thirty times more.
_EDGE = 1e-13
# Two sheets that share less than this part of the smaller one merely touch. Ours.
_OVERLAP_SHARE = 0.001
_WEB_ID = re.compile(r"(\d+)/(\d+)/(\d+)")
# Names that a file must not have on some systems.
_RESERVED = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)", re.IGNORECASE)


def tiles_of(lon_deg: np.ndarray, lat_deg: np.ndarray, zoom: int) -> tuple[np.ndarray, np.ndarray]:
    """Columns and rows of the tiles that hold points; beyond the map's edge, the outermost tile."""
    across = np.asarray(lon_deg, float) / 360 + 0.5
    lat = np.radians(np.clip(lat_deg, -LAT_LIMIT_DEG, LAT_LIMIT_DEG))
    down = 0.5 - np.arcsinh(np.tan(lat)) / (2 * np.pi)
    last = 2**zoom - 1
    x, y = (np.floor((share + _EDGE) * 2**zoom).astype(np.int64) for share in (across, down))
    return np.clip(x, 0, last), np.clip(y, 0, last)


def lay_tiles(water_lonlat: MultiPolygon, zoom: int) -> tuple[Tile, ...]:
    """Lay WebMercatorQuad over a lake: the tiles that touch its water, row by row from the north-west.

    Labels are like `C 7`: the column counted from the lake's westernmost tile, the row from its northernmost.
    """
    x, y = _touching(water_lonlat, zoom)
    order = np.lexsort((x, y))
    bounds = bounds_deg(x[order], y[order], zoom)
    rows = zip(x[order].tolist(), y[order].tolist(), bounds.tolist(), shapely.box(*bounds.T), strict=True)
    west, north = int(x.min()), int(y.min())
    return tuple(
        Tile(f"{zoom}/{column}/{row}", f"{_letters(column - west)} {row - north + 1}", area, tuple(box))
        for column, row, box, area in rows
    )


def _touching(area: BaseGeometry, zoom: int) -> tuple[np.ndarray, np.ndarray]:
    """Columns and rows of the tiles that touch an area.

    Tiles are quartered from the whole world down, and dry ones dropped at each zoom, so that no block of dry tiles is
    ever laid out.
    """
    shapely.prepare(area)
    x = y = np.zeros(1, np.int64)
    for level in range(1, zoom + 1):
        x, y = (
            (2 * x[:, None] + np.array([0, 1, 0, 1])).ravel(),
            (2 * y[:, None] + np.array([0, 0, 1, 1])).ravel(),
        )
        wet = shapely.intersects(area, shapely.box(*bounds_deg(x, y, level).T))
        x, y = x[wet], y[wet]
    return x, y


def bounds_deg(x: np.ndarray, y: np.ndarray, zoom: int) -> np.ndarray:
    """Bounds (n, 4) of tiles: west, south, east, north."""
    lon_deg = [np.asarray(edge) / 2**zoom * 360 - 180 for edge in (x, x + 1)]
    lat_deg = [np.degrees(np.arctan(np.sinh(np.pi * (1 - 2 * np.asarray(edge) / 2**zoom)))) for edge in (y, y + 1)]
    return np.column_stack([lon_deg[0], lat_deg[1], lon_deg[1], lat_deg[0]])


def _letters(number: int) -> str:
    """0 -> A, 25 -> Z, 26 -> AA, as spreadsheet columns go."""
    text = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def sheet_tiles(sheets: Sequence[NamedArea]) -> tuple[tuple[Tile, ...], list[Problem]]:
    """Make tiles of the crew's own sheets (degrees), in the crew's order.

    The id is the name made safe for a file and unique, whatever the case; the label is the name. Where sheets
    overlap the first holds what lies there, and each sheet that loses a part is told.
    """
    taken: set[str] = set()
    tiles = []
    for number, sheet in enumerate(sheets, 1):
        label = sheet.name.strip() or say("place-sheet", number=number)
        tiles.append(Tile(_file_safe(label, taken), label, sheet.area, tuple(sheet.area.bounds)))
    return tuple(tiles), _overlaps(tiles)


def _file_safe(label: str, taken: set[str]) -> str:
    plain = unicodedata.normalize("NFKD", label).encode("ascii", "ignore").decode()
    stem = re.sub(r"[^0-9A-Za-z]+", "-", plain).strip("-")[:60] or "sheet"
    stem = f"sheet-{stem}" if _RESERVED.fullmatch(stem) else stem
    name, number = stem, 1
    while name.lower() in taken:
        number += 1
        name = f"{stem}-{number}"
    taken.add(name.lower())
    return name


def _overlaps(tiles: Sequence[Tile]) -> list[Problem]:
    areas = np.array([tile.area for tile in tiles], object)
    later, earlier = shapely.STRtree(areas).query(areas, predicate="intersects")
    size = shapely.area(areas)
    pairs = [(i, j) for i, j in zip(later.tolist(), earlier.tolist(), strict=True) if j < i]
    losing: dict[int, list[str]] = {}
    for i, j in sorted(pairs):
        if shapely.intersection(areas[i], areas[j]).area > _OVERLAP_SHARE * min(size[i], size[j]):
            losing.setdefault(i, []).append(f'"{tiles[j].label}"')
    return [
        Problem(
            "files.sheets",
            "ambiguous",
            say("place-fault-sheets-overlap", sheet=f'"{tiles[i].label}"', others=", ".join(names)),
        )
        for i, names in losing.items()
    ]


class TileIndex:
    """Finds the tile of a place; a place outside all of them has none.

    WebMercatorQuad tiles (all of one zoom) are found by arithmetic, so that the rule for edges holds exactly; sheets
    by a search tree, edges included, the first in order wins.
    """

    def __init__(self, tiles: Sequence[Tile]) -> None:
        self._tiles = tuple(tiles)
        cells = [_WEB_ID.fullmatch(tile.id) for tile in tiles]
        self._cells = np.array([cell.groups() for cell in cells if cell], np.int64).reshape(-1, 3)
        self._tree = None if len(self._cells) == len(tiles) else shapely.STRtree([tile.area for tile in tiles])

    def at(self, at: LonLat) -> Tile | None:
        """Tile that holds a place, or None."""
        index = int(self.at_many(np.array([at.lon_deg]), np.array([at.lat_deg]))[0])
        return None if index < 0 else self._tiles[index]

    def at_many(self, lon_deg: np.ndarray, lat_deg: np.ndarray) -> np.ndarray:
        """Positions in `tiles` of the tiles that hold points (n,); -1 for a point outside all."""
        lon, lat = np.asarray(lon_deg, float), np.asarray(lat_deg, float)
        if not self._tiles:
            return np.full(len(lon), -1)
        return self._web_at(lon, lat) if self._tree is None else self._sheet_at(self._tree, lon, lat)

    def _web_at(self, lon: np.ndarray, lat: np.ndarray) -> np.ndarray:
        zoom = int(self._cells[0, 0])
        x, y = tiles_of(lon, lat, zoom)
        known = self._cells[:, 2] * 2**zoom + self._cells[:, 1]
        order = np.argsort(known)
        asked = y * 2**zoom + x
        found = order[np.minimum(np.searchsorted(known, asked, sorter=order), len(known) - 1)]
        return np.where(known[found] == asked, found, -1)

    def _sheet_at(self, tree: shapely.STRtree, lon: np.ndarray, lat: np.ndarray) -> np.ndarray:
        point, sheet = tree.query(shapely.points(lon, lat), predicate="intersects")
        first = np.full(len(lon), len(self._tiles))
        np.minimum.at(first, point, sheet)
        return np.where(first == len(self._tiles), -1, first)
