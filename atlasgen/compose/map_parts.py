"""What each map of the whole lake or of a tile is made from, so that it can be drawn at more than one size."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from atlasgen.compose.lake import Lake
from atlasgen.compose.words import page_range
from atlasgen.model import NamedArea, Page


def overview_parts(ground: Lake, pages: Sequence[Page]) -> dict[str, Any]:
    """Return what the overview shows: states of the shore, cameras, and each tile with its pages."""
    labels = {tile.id: tile.label for tile in ground.placed.tiles}
    pages_of: dict[str, list[int]] = {}
    for page in pages:
        pages_of.setdefault(labels.get(page.tile, ""), []).append(page.number)
    return {
        "reaches": ground.placed.reaches,
        "states": ground.known.reach_state,
        "photos": ground.placed.photos,
        "tiles": ground.tiles,
        "pages_of_tile": {label: page_range(numbers) for label, numbers in pages_of.items()},
        "bands": ground.known.bands,
        "dry": ground.known.dry,
        "places": ground.places,
        "landmarks": ground.placed.landmarks,
    }


def survey_parts(ground: Lake) -> dict[str, Any]:
    """Return what a source diagram shows: where boats ran, and what was left out."""
    return {
        "sounding_lines": ground.known.sounding_lines,
        "pass_lines": ground.known.pass_lines,
        "not_surveyed": ground.not_surveyed,
    }


def state_parts(ground: Lake) -> dict[str, Any]:
    """Return what the map of the audit shows."""
    audit = ground.known.audit
    return {
        "stretches": audit.stretches,
        "total": audit.totals.total,
        "tiles": ground.tiles,
        "places": ground.places,
    }


def tile_parts(ground: Lake, tile: str, area: NamedArea, page_of: Mapping[str, int]) -> dict[str, Any]:
    """Return what a tile's map shows; `page_of` is the page of each photo by its id."""
    return {
        "tile": area,
        "photos": [(page_of[photo.id], photo) for photo in ground.placed.photos if photo.tile == tile],
        "reaches": ground.placed.reaches,
        "states": ground.known.reach_state,
        **ground.depths(),
    }
