"""The chapter on how much water the lake holds at each level."""

from __future__ import annotations

from collections.abc import Sequence

from atlasgen.compose.stage_map import stage_map
from atlasgen.model import ComposeRules, DepthGrid, Drawing, Known, Page, Placed, Sentence
from atlasgen.model.chapters import Cell, Chapter, Column, Paragraph, Table
from atlasgen.model.depths import Hypsometry, StageWater
from atlasgen.model.memory import ANEW, Memory
from atlasgen.model.wording import say
from atlasgen.place.geo import Projection
from atlasgen.units import (
    area_words,
    depth_words,
    distance_words,
    level_words,
    number_words,
    percent_words,
    rise_words,
    volume_words,
)


def levels_chapter(
    known: Known, placed: Placed, pages: Sequence[Page], rules: ComposeRules, memory: Memory = ANEW
) -> Chapter | None:
    """Tell area and volume against stage; None if no depth is known."""
    if known.hypsometry is None or known.grid is None:
        return None
    table = known.hypsometry
    rows = tuple(_row(row, table, rules) for row in table.rows)
    blocks: list[Paragraph | Table | Drawing] = [Paragraph(_sentences(table, rules)), Table("", _columns(), rows)]
    for number, (stage_m, why) in enumerate(_shown_levels(known, table), 1):
        heading = say("levels-with-water", level=level_words(stage_m, rules.depth_unit))
        blocks.append(Paragraph((Sentence(why),), heading))
        blocks.append(_map(f"level-{number}", stage_m, known.grid_at_datum or known.grid, placed, rules, memory))
    return Chapter("levels", say("levels-title"), tuple(blocks))


def _columns() -> tuple[Column, ...]:
    return (
        Column(say("levels-column-level"), 1.6),
        Column(say("levels-column-area"), 1.2, numbers=True),
        Column(say("levels-column-volume"), 1.4, numbers=True),
        Column(say("levels-column-share"), 1.6, numbers=True),
    )


def _shown_levels(known: Known, table: Hypsometry) -> list[tuple[float, str]]:
    """Choose the lowest level at which a photograph was taken, and the one that halves the water."""
    stages = [stage for stage in known.stage_of_photo_m.values() if stage is not None and stage < 0]
    shown = [(min(stages), say("levels-lowest-photo"))] if stages else []
    below = [row for row in table.rows if row.stage_m < 0 and row.volume_m3 > 0]
    if below:
        half = min(below, key=lambda row: abs(row.volume_m3 - table.volume_m3 / 2))
        share = percent_words(half.volume_m3 / table.volume_m3)
        shown.append((half.stage_m, say("levels-left", share=share)))
    return shown


def _map(id: str, stage_m: float, grid: DepthGrid, placed: Placed, rules: ComposeRules, memory: Memory) -> Drawing:
    made_of = {
        "id": id,
        "grid": grid,
        "stage_m": stage_m,
        "water": placed.water,
        "rings": placed.rings,
        "depth_unit": rules.depth_unit,
        "distance_unit": rules.distance_unit,
        **rules.within_mm(170.0, 118.0),
    }
    to_lonlat = Projection(placed.crs_metric).lonlat
    return memory.remember("stage map", (placed.crs_metric, made_of), lambda: stage_map(**made_of, to_lonlat=to_lonlat))


def _sentences(table: Hypsometry, rules: ComposeRules) -> tuple[Sentence, ...]:
    unit = rules.distance_unit
    found = [
        Sentence(
            say(
                "levels-holds",
                datum=rules.datum,
                area=area_words(table.lake_m2, unit),
                volume=volume_words(table.volume_m3, unit),
                mean=rise_words(table.mean_depth_m, rules.depth_unit),
                most=depth_words(table.deepest_m, rules.depth_unit),
            ),
            strong=True,
        )
    ]
    if table.unmodelled_m2 > 0:
        share = percent_words(table.unmodelled_m2 / table.lake_m2)
        found.append(Sentence(say("levels-unknown", area=area_words(table.unmodelled_m2, unit), share=share)))
    shore = {
        "shore": distance_words(table.shoreline_m, unit),
        "times": number_words(table.shoreline_development, 1),
    }
    found.append(Sentence(say("levels-shore", **shore)))
    return tuple(found)


def _row(row: StageWater, table: Hypsometry, rules: ComposeRules) -> tuple[Cell, ...]:
    share = row.volume_m3 / table.volume_m3 if table.volume_m3 else 0.0
    return (
        Cell(level_words(row.stage_m, rules.depth_unit)),
        Cell(area_words(row.area_m2, rules.distance_unit)),
        Cell(volume_words(row.volume_m3, rules.distance_unit)),
        Cell(percent_words(share)),
    )
