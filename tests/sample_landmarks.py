"""The sample atlas with landmarks: a ramp, a hazard on the water, a car park, a place with an accent and an attack."""

from __future__ import annotations

from dataclasses import replace

from sample_atlas import CRS, HOSTILE, WATER

from atlasgen.model import Atlas, PointM
from atlasgen.model.landmarks import LandmarkRow
from atlasgen.place.geo import Projection
from atlasgen.place.landmarks import place_landmarks

LANDMARKS = (
    (-330, -90, "ramp", "North ramp", "Concrete, one lane."),
    (-250, -190, "hazard", "Drowned fence", "Posts and wire; dry when 6 ft down."),
    (-300, -40, "parking", "", ""),
    (420, -40, "place", "Châtelet point", ""),
    (300, -350, "hazard", HOSTILE[:80], HOSTILE),
)


def with_landmarks(atlas: Atlas) -> Atlas:
    """Return the atlas with `LANDMARKS` placed on its shore."""
    projection = Projection(CRS)
    rows = [
        LandmarkRow("landmarks.csv", number, projection.lonlat(PointM(x, y)), kind, name, words)
        for number, (x, y, kind, name, words) in enumerate(LANDMARKS, 2)
    ]
    marks, _ = place_landmarks(rows, [], atlas.placed.reaches, WATER, projection, lambda at: atlas.placed.tiles[0].id)
    return replace(atlas, placed=replace(atlas.placed, landmarks=marks))
