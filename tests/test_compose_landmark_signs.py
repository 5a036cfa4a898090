"""Landmarks on the maps: a sign where each belongs, a name where it has room, hazards told by their shape."""

from __future__ import annotations

import pytest
from sample_scene import scene_bands, scene_isobaths, scene_reaches, scene_rings, scene_tiles, scene_water, to_lonlat
from shapely import Polygon

from atlasgen.compose.landmark_signs import sign_shapes
from atlasgen.compose.mapping import locator_map, overview_map, tile_map
from atlasgen.model import PointM
from atlasgen.model.landmarks import LANDMARK_KINDS, Landmark
from atlasgen.write.svg import to_svg

GROUND = {"water": scene_water(), "rings": scene_rings(), "to_lonlat": to_lonlat, "distance_unit": "metric"}
DEPTHS = {"isobaths": scene_isobaths(), "bands": scene_bands(), "depth_unit": "feet"}
REACH = scene_reaches()[3]


def mark(kind: str, name: str, dx: float = 0.0, dy: float = 0.0) -> Landmark:
    foot = REACH.line.interpolate(0.5, normalized=True)
    point = PointM(foot.x + dx, foot.y + dy)
    return Landmark(f"l-{kind}", kind, name, "", to_lonlat(point), point, REACH.id, 0.0, 0.0, True, "")


MARKS = tuple(mark(kind, f"The {kind}", 30.0 * number - 70) for number, kind in enumerate(LANDMARK_KINDS))


def styles(drawing) -> list[str]:
    return [shape.style for shape in drawing.shapes]


def test_a_hazard_has_a_shape_that_nothing_else_has():
    """Told in a grey print: a diamond with a cross; every other kind stands in an upright square."""
    for kind in LANDMARK_KINDS:
        outline = Polygon(sign_shapes(kind, (0.0, 0.0))[0].points[0])
        assert (outline.area / outline.envelope.area < 0.6) == (kind == "hazard")


@pytest.mark.parametrize("drawn", ["locator", "tile", "overview"])
def test_every_map_shows_each_landmark_and_explains_its_sign(drawn):
    """Six kinds, six entries of the key besides the map's own, and words for those who cannot see it."""
    if drawn == "locator":
        drawing = locator_map("a", page_reaches=(REACH,), photos=(), landmarks=MARKS, **GROUND, **DEPTHS)
    elif drawn == "tile":
        tile = next(t for t in scene_tiles() if t.area.contains(REACH.line.centroid))
        drawing = tile_map("a", tile=tile, photos=(), landmarks=MARKS, **GROUND, **DEPTHS)
    else:
        drawing = overview_map(
            "a", reaches=(), states={}, photos=(), tiles=(), pages_of_tile={}, landmarks=MARKS, **GROUND
        )
    keys = {shape.text for shape in drawing.shapes if shape.style == "legend"}
    assert {"hazard", "ramp", "way to the water", "parking", "place", "other"} <= keys
    assert styles(drawing).count("sign-hazard") == 2  # on the map and in its key
    assert "Marked: hazard The hazard, ramp The ramp" in drawing.alt
    assert "m-area-sign-hazard" in to_svg(drawing)


def test_names_keep_clear_of_signs_and_of_each_other():
    """Two landmarks on one spot: both signs, the hazard's name first."""
    marks = (mark("place", "Pillar", 40), mark("hazard", "Stumps", 40))
    drawing = locator_map("a", page_reaches=(REACH,), photos=(), landmarks=marks, **GROUND, **DEPTHS)
    names = [shape.text for shape in drawing.shapes if shape.style == "sign-name"]
    assert names[0] == "Stumps"
    assert len(names) == len(set(names))


def test_without_landmarks_a_map_is_as_it_was():
    """Neither a sign nor a word."""
    drawing = locator_map("a", page_reaches=(REACH,), photos=(), **GROUND, **DEPTHS)
    assert [style for style in styles(drawing) if style.startswith("sign")] == []
    assert "Marked" not in drawing.alt
