"""What every map of an atlas shows: the lake in metric geometry, what is known of it, and the reader's units."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields
from typing import Any

import numpy as np

from atlasgen.compose.figures import PhotoFacts
from atlasgen.model import ComposeRules, Drawing, Known, NamedArea, Photo, Placed, TurnAround
from atlasgen.model.memory import Memory
from atlasgen.place.geo import Projection


@dataclass(frozen=True, slots=True)
class Lake:
    """What every map of this atlas shows: the metric geometry and the reader's units."""

    projection: Projection
    placed: Placed
    known: Known
    rules: ComposeRules
    places: tuple[NamedArea, ...]
    tiles: tuple[NamedArea, ...]
    not_surveyed: tuple[NamedArea, ...]
    soundings_xy: tuple[np.ndarray, np.ndarray] | None
    facts: PhotoFacts
    sets: tuple[TurnAround, ...]
    memory: Memory

    def draw(self, make: Callable[..., Drawing], id: str, **parts: Any) -> Drawing:
        """Make a map of this ground, or remember it; every part that it is made from is named here."""
        told = parts if "views" in parts else {**parts, "photos": _as_drawn(parts.get("photos", ()))}
        made_of = (make.__name__, id, self.placed.crs_metric, told, self.common())
        return self.memory.remember(
            "map", made_of, lambda: make(id, **parts, **self.common(), to_lonlat=self.projection.lonlat)
        )

    def common(self) -> dict:
        """Arguments that all maps take."""
        return {
            "water": self.placed.water,
            "rings": self.placed.rings,
            "distance_unit": self.rules.distance_unit,
        }

    def depths(self) -> dict:
        """Arguments of maps that show depth; soundings stand in where there is no model."""
        return {
            "isobaths": self.known.isobaths,
            "bands": self.known.bands,
            "depth_unit": self.rules.depth_unit,
            "sounding_points": None if self.known.isobaths else self.soundings_xy,
            "not_surveyed": self.not_surveyed,
            "tile_edges": self.tiles,
            "dry": self.known.dry,
            "waterlines": [layer.waterline for layer in self.known.layers if layer.waterline is not None],
            "places": self.places,
            "landmarks": self.placed.landmarks,
        }


# What no map shows of a photo: where it came from and by what name; the name only finds it its view.
_DRAWN = tuple(field.name for field in fields(Photo) if field.name not in ("id", "source"))


def _as_drawn(photos: Sequence[Photo | tuple[int, Photo]]) -> list[tuple[int | None, tuple[Any, ...]]]:
    """Return all of some photos, numbered or not, that can bear on a map without views."""
    numbered = [item if isinstance(item, tuple) else (None, item) for item in photos]
    return [(number, tuple(getattr(photo, name) for name in _DRAWN)) for number, photo in numbered]
