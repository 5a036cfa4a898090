"""The chapter on how much water the lake holds at each level."""

from __future__ import annotations

from collections.abc import Sequence

from atlasgen.model import ComposeRules, Known, Page, Placed, Sentence
from atlasgen.model.chapters import Cell, Chapter, Column, Paragraph, Table
from atlasgen.model.depths import Hypsometry, StageWater
from atlasgen.units import (
    area_words,
    depth_words,
    distance_words,
    level_words,
    percent_words,
    rise_words,
    volume_words,
)

TITLE = "How much water at which level"
_COLUMNS = (
    Column("Level", 1.6),
    Column("Area", 1.2, numbers=True),
    Column("Volume", 1.4, numbers=True),
    Column("Share of the full volume", 1.6, numbers=True),
)


def levels_chapter(known: Known, placed: Placed, pages: Sequence[Page], rules: ComposeRules) -> Chapter | None:
    """Tell area and volume against stage; None if no depth is known."""
    if known.hypsometry is None:
        return None
    table = known.hypsometry
    rows = tuple(_row(row, table, rules) for row in table.rows)
    return Chapter("levels", TITLE, (Paragraph(_sentences(table, rules)), Table("", _COLUMNS, rows)))


def _sentences(table: Hypsometry, rules: ComposeRules) -> tuple[Sentence, ...]:
    unit = rules.distance_unit
    found = [
        Sentence(
            f"At {rules.datum} the lake covers {area_words(table.lake_m2, unit)} and holds "
            f"{volume_words(table.volume_m3, unit)} where its depth is known: "
            f"{rise_words(table.mean_depth_m, rules.depth_unit)} deep in the mean, "
            f"{depth_words(table.deepest_m, rules.depth_unit)} at most.",
            strong=True,
        )
    ]
    if table.unmodelled_m2 > 0:
        share = percent_words(table.unmodelled_m2 / table.lake_m2)
        found.append(
            Sentence(
                f"For {area_words(table.unmodelled_m2, unit)}, {share} of the lake, no depth is known; no volume is "
                "counted there, so the lake holds more than this table says."
            )
        )
    found.append(
        Sentence(
            f"Its shore of {distance_words(table.shoreline_m, unit)} is {table.shoreline_development:.1f} times as "
            "long as that of a round lake of its area. Volumes are added up from slices between the levels, each a "
            "frustum; levels between the rows may be taken straight between them."
        )
    )
    return tuple(found)


def _row(row: StageWater, table: Hypsometry, rules: ComposeRules) -> tuple[Cell, ...]:
    share = row.volume_m3 / table.volume_m3 if table.volume_m3 else 0.0
    return (
        Cell(level_words(row.stage_m, rules.depth_unit)),
        Cell(area_words(row.area_m2, rules.distance_unit)),
        Cell(volume_words(row.volume_m3, rules.distance_unit)),
        Cell(percent_words(share)),
    )
