"""What atlas.json and the map of the offline atlas are told of the pictures of the bed: tiles, places, words."""

from __future__ import annotations

from typing import Any

import numpy as np

from atlasgen.model import Atlas
from atlasgen.model.layer_tiles import LayerTiles
from atlasgen.model.wording import number_text, say
from atlasgen.units import compass_words, date_words, level_words, set_words
from atlasgen.write.packing import pack_areas
from atlasgen.write.tile_scheme import TILE_PX
from atlasgen.write.webgrid import packed_runs


def picture_rows(atlas: Atlas) -> list[dict[str, Any]]:
    """Return the pictures of the bed for atlas.json; unknown is None."""
    return [_row(layer) for layer in atlas.bed_pictures]


def _row(layer: LayerTiles) -> dict[str, Any]:
    return {
        "id": layer.id,
        "kind": layer.kind,
        "title": layer.title or None,
        "date": layer.date.isoformat() if layer.date else None,
        "file": layer.file or None,
        "folder": layer.folder,
        "scheme": "WebMercatorQuad",
        "tile_px": TILE_PX,
        "format": "WebP",
        "zooms": list(layer.zooms),
        "tiles": len(layer.tiles),
        "bytes": layer.size_bytes,
        "pixel_m": layer.pixel_m,
        "bounds": [round(value, 7) for value in layer.area.bounds],
        "fitted": layer.fitted,
        "out_by_m": layer.out_by_m,
        "method": dict(layer.made) or None,
    }


def picture_data(atlas: Atlas, origin: tuple[int, int]) -> list[dict[str, Any]]:
    """Return the pictures for the map; the shaded relief first.

    `tiles` holds for each zoom its first column and row, how many of each, and the runs of those that are there.
    """
    return [
        {
            "id": layer.id,
            "kind": layer.kind,
            "name": picture_name(layer),
            "about": _about(layer, atlas),
            "caution": _caution(layer, atlas),
            "folder": layer.folder,
            "tiles": [_tiles_at(layer, zoom) for zoom in range(layer.zooms[0], layer.zooms[1] + 1)],
            "zooms": list(layer.zooms),
            "area": pack_areas(layer.area, origin),
            "absent": pack_areas(layer.absent, origin),
        }
        for layer in atlas.bed_pictures
    ]


def picture_name(layer: LayerTiles) -> str:
    """Return what a reader calls a picture."""
    if layer.kind == "shaded relief":
        return say("pictures-shaded-relief")
    return say("pictures-dated", title=layer.title, date=date_words(layer.date)) if layer.date else layer.title


def _tiles_at(layer: LayerTiles, zoom: int) -> dict[str, Any]:
    places = np.array([(tile.x, tile.y) for tile in layer.tiles if tile.zoom == zoom] or [(0, 0)])
    first, last = places.min(axis=0), places.max(axis=0)
    cols, rows = (last - first + 1).tolist()
    there = np.zeros((rows, cols), dtype=bool)
    there[tuple((places - first).T[::-1])] = any(tile.zoom == zoom for tile in layer.tiles)
    return {"x": int(first[0]), "y": int(first[1]), "cols": cols, "rows": rows, "there": packed_runs(there)}


def _about(layer: LayerTiles, atlas: Atlas) -> str:
    """Say what a picture is, when it was made and how."""
    if layer.kind == "shaded relief":
        made = layer.made
        return say(
            "pictures-relief-about",
            direction=compass_words(made["sun_azimuth_deg"]),
            altitude=number_text(round(made["sun_altitude_deg"])),
            times=number_text(made["exaggeration"]),
            cell=set_words(made["cell_m"], atlas.survey.distance_unit),
        )
    stage_m = next(
        (one.stage_m for one in atlas.known.layers if (one.file, one.title) == (layer.file, layer.title)), None
    )
    level = level_words(stage_m, atlas.survey.depth_unit) if stage_m is not None else ""
    return say(
        "pictures-about",
        kind=layer.kind.replace(" ", "-"),
        date=date_words(layer.date) if layer.date else "",
        dated="yes" if layer.date else "no",
        level=level,
        known="yes" if level else "no",
    )


def _caution(layer: LayerTiles, atlas: Atlas) -> str:
    """Say what to beware of; "" where there is nothing beyond the usual."""
    if layer.kind != "historic chart":
        return ""
    if layer.out_by_m is None:
        return say("pictures-old-chart")
    out_m = max(round(layer.out_by_m), 1)
    return say("pictures-old-chart-out-by", out=set_words(out_m, atlas.survey.distance_unit))
