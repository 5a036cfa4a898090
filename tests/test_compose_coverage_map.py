"""Side-scan coverage on paper: classes by texture, gaps by number, the chapter's rows as their facts."""

from __future__ import annotations

from datetime import date
from types import SimpleNamespace

import pytest
from shapely import LineString, MultiPolygon, box

from atlasgen.compose.chapter_sonar import sonar_chapter, sources_chapter
from atlasgen.compose.coverage_map import coverage_map
from atlasgen.compose.textures import TEXTURED, texture
from atlasgen.model import ComposeRules, LonLat, Ring, Tile
from atlasgen.model.sonar import SONAR_CLASSES, Holiday, SonarCoverage, SonarRules, SourceRow
from atlasgen.place.geo import Projection

RULES = ComposeRules(title="Lake", edition="1")
LAKE = MultiPolygon([box(0, 0, 1000, 800)])
PARTS = {
    "twice": MultiPolygon([box(0, 0, 300, 800)]),
    "coarse": MultiPolygon([box(300, 0, 600, 800)]),
    "depth_only": MultiPolygon([box(600, 0, 900, 800)]),
    "none": MultiPolygon([box(900, 0, 1000, 800)]),
}
GAP = Holiday(
    "H1", "lost_channel", MultiPolygon([box(620, 300, 760, 500)]), 28000.0, LonLat(-96.4, -31.6), "North arm",
    "S-0004", 1.0, ("P03",), ("S-0004",), "cable worked loose", "port", 1.78e9, 1.78e9 + 120,
)  # fmt: skip
WHERE = Projection.for_lake(MultiPolygon([box(-96.405, -31.604, -96.395, -31.596)]))


def sonar(holidays: tuple[Holiday, ...] = (GAP,)) -> SonarCoverage:
    areas = {name: PARTS[name].area if name in PARTS else 0.0 for name in SONAR_CLASSES}
    return SonarCoverage((), (), areas, PARTS, LAKE, LAKE, holidays, SonarRules())


def drawn() -> object:
    ring = Ring("S", LineString(LAKE.geoms[0].exterior.coords), False)
    return coverage_map(
        "c", sonar(), {"H1": 1}, water=LAKE, rings=[ring], to_lonlat=WHERE.lonlat, distance_unit="metric"
    )


def known(**changes: object) -> SimpleNamespace:
    return SimpleNamespace(**{"sonar": sonar(), "sources": (), "tile_sources": {}} | changes)


def placed() -> SimpleNamespace:
    ring = Ring("S", LineString(LAKE.geoms[0].exterior.coords), False)
    tile = Tile("16/1/1", "A 1", box(0, 0, 1, 1), (0, 0, 1, 1))
    return SimpleNamespace(water=LAKE, rings=(ring,), crs_metric=WHERE.crs_text, tiles=(tile,))


def test_every_texture_can_be_told_without_colour() -> None:
    """No two classes share lines of one style, spacing and slope; depths alone have none."""
    lines = {name: [s.points for s in texture(name, box(0, 0, 20, 20)) if s.kind == "line"] for name in TEXTURED}
    found = [str(parts) for parts in lines.values()]
    assert len(set(found)) == len(TEXTURED)
    assert lines["depth_only"] == []


def test_the_map_shows_its_classes_and_numbers_its_gaps() -> None:
    """Shares in the legend, the gap's number inside it, and the same for those who cannot see it."""
    drawing = drawn()
    words = [shape.text for shape in drawing.shapes if shape.kind == "text"]
    assert "side-scan twice: 30 %" in words
    assert "neither depths nor picture: 10 %" in words
    assert "1" in words
    assert "side-scan, coarse, 24.0 ha, 30 %" in drawing.alt
    assert "1 gap listed" in drawing.alt


def test_every_gap_has_a_row_with_its_cause_and_pages() -> None:
    """The lost channel, when, why, how large, with its depths; the page about its reach."""
    pages = [SimpleNamespace(number=7, reaches=("S-0004",)), SimpleNamespace(number=8, reaches=("S-0009",))]
    chapter = sonar_chapter(known(), placed(), pages, RULES)
    table = chapter.blocks[-1]
    ((number, where, cause, page),) = table.rows
    assert number.text == "1"
    assert where.text == "North arm, off S-0004, at -31.60000, -96.40000"
    assert cause.text.startswith("Port channel of pass P03 lost ")
    assert "cable worked loose; 2.8 ha, depths known throughout" in cause.text
    assert (page.text, page.page) == ("7", 7)


def test_no_gap_is_a_finding() -> None:
    """Nothing larger than the stated size."""
    chapter = sonar_chapter(known(sonar=sonar(())), placed(), (), RULES)
    assert "No gap larger than 400 m²" in chapter.blocks[-1].sentences[0].text


@pytest.mark.parametrize("maker", [sonar_chapter, sources_chapter])
def test_nothing_supplied_makes_no_chapter(maker) -> None:
    """No passes, no sources."""
    assert maker(known(sonar=None), placed(), (), RULES) is None


def test_sources_are_told_for_the_lake_and_for_each_tile() -> None:
    """Who, when, how long, how well; what is not known is said."""
    row = SourceRow("soundings", "run.csv", "", (date(2026, 3, 10), date(2026, 3, 11)), 4, 12300.0, 5e4, 2.0, 36.0)
    chapter = sources_chapter(known(sources=(row,), tile_sources={"16/1/1": (row,)}), placed(), (), RULES)
    lake, tile = chapter.blocks
    assert tile.caption == "Tile A 1"
    cells = [cell.text for cell in lake.rows[0]]
    assert cells == ["Soundings", "run.csv", "10 Mar 2026 to 11 Mar 2026", "12.3 km", "5.0 ha", "lines 36 m apart"]
