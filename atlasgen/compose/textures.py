"""Textures for classes of coverage: they must read in grey print and without colour, so each has its own lines."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from atlasgen.compose.drawing import area, hatch, line
from atlasgen.model import Shape
from atlasgen.model.sonar import SonarClass


class _Lines(NamedTuple):
    style: str
    spacing_mm: float
    slope_deg: float


# Denser is better known: two passes cross, one pass is one set of lines, a coarse picture broken ones far apart.
_LINES: Mapping[str, tuple[_Lines, ...]] = {
    "twice": (_Lines("cover-fine", 1.1, 45.0), _Lines("cover-fine", 1.1, -45.0)),
    "fine": (_Lines("cover-fine", 1.1, 45.0),),
    "unknown": (_Lines("cover-unknown", 1.5, 90.0),),
    "coarse": (_Lines("cover-coarse", 2.2, 45.0),),
    "not_surveyable": (_Lines("hatch", 1.5, 0.0),),
    "dry": (_Lines("dry-dots", 0.9, 0.0),),
}
_GROUND = dict.fromkeys(("twice", "fine", "unknown", "coarse"), "cover-seen")
_GROUND |= {"depth_only": "cover-depth", "dry": "dry"}
TEXTURED: tuple[SonarClass, ...] = ("twice", "fine", "unknown", "coarse", "not_surveyable", "depth_only")


def texture(name: str, region: Any) -> tuple[Shape, ...]:
    """Fill an area in mm with the texture of its class; a class without one stays paper."""
    shapes = area(_GROUND[name], region) if name in _GROUND else ()
    for style, spacing_mm, slope_deg in _LINES.get(name, ()):
        shapes += line(style, hatch(region, spacing_mm, slope_deg))
    return shapes
