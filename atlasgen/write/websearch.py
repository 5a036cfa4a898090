"""What the offline atlas's search needs besides what the map has: file names, kinds of waters, features of the bed."""

from __future__ import annotations

from typing import Any

from atlasgen.compose.bed_words import feature_name
from atlasgen.model import Atlas, Photo
from atlasgen.model.relief import ReliefFeature


def search_data(atlas: Atlas, photos: list[Photo]) -> dict[str, Any]:
    """Return the parts of data.js; `photos` are those of the map, in its order.

    Photos are called as they are published, without folders; where `photos.names` is `none` they have no name.
    """
    named = atlas.survey.photo_names != "none"
    return {
        "search": {
            "files": [photo.source.file.rpartition("/")[2] for photo in photos] if named else None,
            "titles": [page.title for page in atlas.pages],
            "placeKinds": [place.kind for place in atlas.layers.places],
        },
        "relief": relief_data(atlas),
    }


def relief_data(atlas: Atlas) -> list[dict[str, Any]]:
    """Return the features of the bed by name, with their place and the reaches near them, the nearest first."""
    near: dict[str, list[tuple[float, str]]] = {}
    for reach, items in atlas.known.relief_near.items():
        for item in items:
            near.setdefault(item.feature, []).append((item.edge_m, reach))
    return [_feature(feature, near.get(feature.id, [])) for feature in atlas.known.relief]


def _feature(feature: ReliefFeature, near: list[tuple[float, str]]) -> dict[str, Any]:
    return {
        "id": feature.id,
        "name": feature_name(feature.id, first=True),
        "at": [round(value, 6) for value in feature.at],
        "reaches": [reach for _, reach in sorted(near)],
    }
