"""Tiles -> the plain values that the print templates read: their maps, their pages, and which tiles they join."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from shapely import get_coordinates

from atlasgen.model import Atlas, Tile
from atlasgen.write.book_text import Printable, shorten

_SIDES = ("north", "east", "south", "west")
# Edges of neighbouring tiles differ by rounding; a tenth of a metre in degrees.
_NEAR_DEG = 1e-6


def tile_names(atlas: Atlas) -> dict[str, str]:
    """Return what the templates call each tile, by its id."""
    return {tile.id: f"tile-{i}" for i, tile in enumerate(atlas.placed.tiles, 1)}


def tiles_data(atlas: Atlas, printable: Printable) -> list[dict[str, Any]]:
    """Return every tile: its label, its maps by name if it has any, its pages, the drawn tiles it joins."""
    names = tile_names(atlas)
    drawn = [tile for tile in atlas.placed.tiles if tile.id in atlas.tile_drawings]
    return [_tile(tile, names, drawn, atlas, printable) for tile in atlas.placed.tiles]


def _tile(
    tile: Tile, names: dict[str, str], drawn: Iterable[Tile], atlas: Atlas, printable: Printable
) -> dict[str, Any]:
    survey = names[tile.id].replace("tile-", "tile-survey-")
    return {
        "name": names[tile.id],
        "label": printable.text(shorten(tile.label, 40)),
        "drawing": names[tile.id] if tile.id in atlas.tile_drawings else None,
        "survey": survey if survey in atlas.book_maps else None,
        "pages": [page.number for page in atlas.pages if page.tile == tile.id],
        "joins": sorted(
            ({"side": side, "tile": names[other.id]} for other in drawn if (side := _side(tile, other))),
            key=lambda join: _SIDES.index(join["side"]),
        ),
    }


def _side(tile: Tile, other: Tile) -> str | None:
    """Return on which side of a tile another lies along it; None if it does not, or meets it at a corner only."""
    if tile.id == other.id:
        return None
    shared = tile.area.buffer(_NEAR_DEG).intersection(other.area)
    if shared.is_empty or math.dist(shared.bounds[:2], shared.bounds[2:]) < 10 * _NEAR_DEG:
        return None
    (x0, y0), (x1, y1) = (get_coordinates(t.area.centroid)[0] for t in (tile, other))
    bearing = math.degrees(math.atan2((x1 - x0) * math.cos(math.radians(y0)), y1 - y0)) % 360
    return _SIDES[round(bearing / 90) % 4]
