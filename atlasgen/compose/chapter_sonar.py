"""The chapter on side-scan: what was covered how well, each gap with its cause, and who surveyed what."""

from __future__ import annotations

from collections.abc import Sequence

from atlasgen.compose.coverage_map import WORDS, coverage_map
from atlasgen.compose.coverage_words import holiday_words
from atlasgen.compose.words import lonlat_words, pages_cell
from atlasgen.model import ComposeRules, Drawing, Known, Page, Placed, Sentence
from atlasgen.model.chapters import Cell, Chapter, Column, Paragraph, Table
from atlasgen.model.sonar import SONAR_CLASSES, Holiday, SonarCoverage, SourceRow
from atlasgen.place.geo import Projection
from atlasgen.units import area_words, date_words, distance_words, percent_words

TITLE = "Side-scan and its gaps"
SOURCES_TITLE = "Who surveyed what"
_LEAD = (
    "Side-scan makes a picture of the bed to both sides of the boat. Where a picture is missing the reason stands "
    "here as the records tell it. A blank strip is no fault of your display, and a blank does not mean that nothing "
    "is there."
)


def sonar_chapter(known: Known, placed: Placed, pages: Sequence[Page], rules: ComposeRules) -> Chapter | None:
    """Tell the coverage of the whole lake by class and every gap; None if no side-scan was supplied."""
    if known.sonar is None:
        return None
    sonar = known.sonar
    numbers = {holiday.id: number for number, holiday in enumerate(sonar.holidays, 1)}
    drawing = coverage_map(
        "coverage",
        sonar,
        numbers,
        water=placed.water,
        rings=placed.rings,
        to_lonlat=Projection(placed.crs_metric).lonlat,
        distance_unit=rules.distance_unit,
    )
    blocks: list[Paragraph | Table | Drawing] = [Paragraph((Sentence(_LEAD),)), drawing, _classes(sonar, rules)]
    if sonar.holidays:
        rows = tuple(_gap(holiday, numbers[holiday.id], pages, rules) for holiday in sonar.holidays)
        blocks.append(Table("The gaps", _GAP_COLUMNS, rows))
    else:
        least = area_words(sonar.rules.holiday_m2, rules.distance_unit)
        blocks.append(Paragraph((Sentence(f"No gap larger than {least} lies within the surveyed water."),)))
    return Chapter("side-scan", TITLE, tuple(blocks))


def sources_chapter(known: Known, placed: Placed, pages: Sequence[Page], rules: ComposeRules) -> Chapter | None:
    """Tell who surveyed what, when and how well, for the lake and for each tile; None without any source."""
    if not known.sources:
        return None
    blocks = [Table("The whole lake", _SOURCE_COLUMNS, tuple(_source(row, rules) for row in known.sources))]
    for tile in placed.tiles:
        rows = known.tile_sources.get(tile.id, ())
        if rows:
            blocks.append(Table(f"Tile {tile.label}", _SOURCE_COLUMNS, tuple(_source(row, rules) for row in rows)))
    return Chapter("sources-table", SOURCES_TITLE, tuple(blocks))


_GAP_COLUMNS = (
    Column("No.", 0.35, numbers=True),
    Column("Where", 1.5),
    Column("Cause, size and depths", 3.4),
    Column("Pages", 0.75),
)
_SOURCE_COLUMNS = (
    Column("What", 0.9),
    Column("Record", 1.5),
    Column("When", 1.2),
    Column("Length", 0.7, numbers=True),
    Column("Area", 0.7, numbers=True),
    Column("How well", 2.0),
)


def _classes(sonar: SonarCoverage, rules: ComposeRules) -> Table:
    whole = sum(sonar.area_m2.values())
    columns = (
        Column("Coverage", 2.4),
        Column("Area", 1.0, numbers=True),
        Column("Share of the lake", 1.2, numbers=True),
    )
    rows = tuple(
        (
            Cell(f"{WORDS[name][:1].upper()}{WORDS[name][1:]}"),
            Cell(area_words(sonar.area_m2[name], rules.distance_unit)),
            Cell(percent_words(sonar.area_m2[name] / whole)),
        )
        for name in SONAR_CLASSES
        if sonar.area_m2.get(name)
    )
    return Table("The lake by coverage", columns, rows)


def _gap(holiday: Holiday, number: int, pages: Sequence[Page], rules: ComposeRules) -> tuple[Cell, ...]:
    words = holiday_words(holiday, rules)
    on = [page.number for page in pages if set(page.reaches) & set(holiday.reaches)]
    where = f"{holiday.place}, " if holiday.place else ""
    return (
        Cell(f"{number}"),
        Cell(f"{where}off {holiday.nearest}, at {lonlat_words(holiday.at)}"),
        Cell(f"{words[:1].upper()}{words[1:]}"),
        pages_cell(on),
    )


def _source(row: SourceRow, rules: ComposeRules) -> tuple[Cell, ...]:
    name = f"{row.name}, {row.instrument}" if row.instrument else row.name
    spacing = (
        [] if row.line_spacing_m is None else [f"lines {distance_words(row.line_spacing_m, rules.distance_unit)} apart"]
    )
    return (
        Cell(f"{row.what[:1].upper()}{row.what[1:]}"),
        Cell(name),
        Cell(_days(row)),
        Cell("not known" if row.length_m is None else distance_words(row.length_m, rules.distance_unit)),
        Cell(area_words(row.area_m2, rules.distance_unit)),
        Cell("; ".join([*spacing, *row.words]) or "not known"),
    )


def _days(row: SourceRow) -> str:
    if row.dates is None:
        return "not known"
    first, last = row.dates
    return date_words(first, "%b") if first == last else f"{date_words(first, '%b')} to {date_words(last, '%b')}"
