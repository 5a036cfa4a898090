"""Maps that the book alone prints, by the names it gives its drawings: `overview`, `tile-3` for the third tile.

How each tile's water was surveyed (`tile-survey-3`), the overview as large as a page of its own, and on the small page
every map anew: a map that is made smaller keeps the size of its words, one that is printed smaller does not.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from atlasgen.compose.chapters import make_chapters
from atlasgen.compose.lake import Lake
from atlasgen.compose.map_parts import overview_parts, state_parts, survey_parts, tile_parts
from atlasgen.compose.mapping import overview_map, source_diagram, tile_map
from atlasgen.compose.state_map import state_map
from atlasgen.compose.strip import strip_chart
from atlasgen.compose.strip_layout import StripShore
from atlasgen.model import Drawing, Page

# Width and height, mm. The overview fills the type area under its title (templates/book/style.typ says how large that
# is on each paper); maps of the small page leave room for a line or two below.
OVERVIEW_MM = {"a4": (174.0, 238.0), "letter": (179.9, 221.0), "handheld": (84.0, 122.0)}
TILE_SURVEY_MM = (84.0, 62.0)
SMALL_TILE_MM, SMALL_SOURCES_MM, SMALL_STATES_MM, SMALL_CHAPTER_MM = (
    (84.0, 112.0),
    (84.0, 110.0),
    (84.0, 112.0),
    (84.0, 112.0),
)
# Turned, the small page is as wide as it is high.
SMALL_STRIP_MM = (144.0, 70.0)


def book_maps(
    ground: Lake, pages: Sequence[Page], drawn: Mapping[str, Drawing], shore: StripShore
) -> dict[str, Drawing]:
    """Draw what the book prints besides, or in the place of, the drawings that the screen shows too.

    `drawn` are the tiles' maps by tile id: what has none there gets none here.
    """
    paper = ground.rules.paper
    made = {
        "overview": ground.draw(overview_map, "overview", **overview_parts(ground, pages), **_size(OVERVIEW_MM[paper]))
    }
    made |= _tile_surveys(ground, drawn)
    return made | _small_maps(ground, pages, drawn, shore) if paper == "handheld" else made


def _size(size_mm: tuple[float, float]) -> dict[str, Any]:
    return {"width_mm": size_mm[0], "height_mm": size_mm[1]}


def _tiles(ground: Lake, drawn: Mapping[str, Drawing]) -> list[tuple[int, str, Any]]:
    """Return the drawn tiles: number, id and metric area."""
    both = zip(ground.placed.tiles, ground.tiles, strict=True)
    return [(number, tile.id, area) for number, (tile, area) in enumerate(both, 1) if tile.id in drawn]


def _tile_surveys(ground: Lake, drawn: Mapping[str, Drawing]) -> dict[str, Drawing]:
    """Draw how the water of each tile was surveyed."""
    parts = {**survey_parts(ground), **_size(TILE_SURVEY_MM)}
    return {
        f"tile-survey-{number}": ground.draw(
            source_diagram, f"tile-survey-{number}", bounds_m=area.area.bounds, **parts
        )
        for number, _, area in _tiles(ground, drawn)
    }


def _small_maps(
    ground: Lake, pages: Sequence[Page], drawn: Mapping[str, Drawing], shore: StripShore
) -> dict[str, Drawing]:
    page_of = {figure.photo: page.number for page in pages for figure in page.figures}
    made = {
        f"tile-{number}": ground.draw(
            tile_map, f"tile-{number}", **tile_parts(ground, tile, area, page_of), **_size(SMALL_TILE_MM)
        )
        for number, tile, area in _tiles(ground, drawn)
    }
    made["sources"] = ground.draw(source_diagram, "sources", **survey_parts(ground), **_size(SMALL_SOURCES_MM))
    made["states"] = ground.draw(state_map, "states", **state_parts(ground), **_size(SMALL_STATES_MM))
    strips = strip_chart("strip", shore, **_size(SMALL_STRIP_MM))
    made |= {f"strip-{number}": strip for number, strip in enumerate(strips, 1)}
    width_mm, height_mm = SMALL_CHAPTER_MM
    rules = replace(ground.rules, widest_mm=width_mm, tallest_mm=height_mm)
    for chapter in make_chapters(ground.known, ground.placed, pages, rules):
        made |= chapter.drawings
    return made
