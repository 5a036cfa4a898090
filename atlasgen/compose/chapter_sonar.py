"""The chapter on side-scan: what was covered how well, each gap with its cause, and who surveyed what."""

from __future__ import annotations

from collections.abc import Sequence

from atlasgen.compose.coverage_map import class_words, coverage_map
from atlasgen.compose.coverage_words import holiday_words
from atlasgen.compose.words import lonlat_words, pages_cell
from atlasgen.model import ComposeRules, Drawing, Known, Page, Placed, Sentence
from atlasgen.model.chapters import Cell, Chapter, Column, Paragraph, Table
from atlasgen.model.sonar import SONAR_CLASSES, Holiday, SonarCoverage, SourceRow
from atlasgen.model.wording import say
from atlasgen.place.geo import Projection
from atlasgen.units import area_words, date_words, distance_words, percent_words


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
        **rules.within_mm(170.0, 190.0),
    )
    blocks: list[Paragraph | Table | Drawing] = [
        Paragraph((Sentence(say("sonar-lead")),)),
        drawing,
        _classes(sonar, rules),
    ]
    if sonar.holidays:
        rows = tuple(_gap(holiday, numbers[holiday.id], pages, rules) for holiday in sonar.holidays)
        blocks.append(Table(say("sonar-gaps"), _gap_columns(), rows))
    else:
        least = area_words(sonar.rules.holiday_m2, rules.distance_unit)
        blocks.append(Paragraph((Sentence(say("sonar-no-gap", area=least)),)))
    return Chapter("side-scan", say("sonar-title"), tuple(blocks))


def sources_chapter(known: Known, placed: Placed, pages: Sequence[Page], rules: ComposeRules) -> Chapter | None:
    """Tell who surveyed what, when and how well, for the lake and for each tile; None without any source."""
    if not known.sources:
        return None
    whole, columns = say("sources-whole-lake"), _source_columns()
    blocks = [Table(whole, columns, tuple(_source(row, rules) for row in known.sources))]
    for tile in placed.tiles:
        rows = known.tile_sources.get(tile.id, ())
        if rows:
            title = say("sources-tile", tile=tile.label)
            blocks.append(Table(title, columns, tuple(_source(row, rules) for row in rows)))
    return Chapter("sources-table", say("sources-title"), tuple(blocks))


def _gap_columns() -> tuple[Column, ...]:
    return (
        Column(say("sonar-column-number"), 0.35, numbers=True),
        Column(say("sonar-column-where"), 1.5),
        Column(say("sonar-column-cause"), 3.4),
        Column(say("sonar-column-pages"), 0.75),
    )


def _source_columns() -> tuple[Column, ...]:
    return (
        Column(say("sources-column-what"), 0.9),
        Column(say("sources-column-record"), 1.5),
        Column(say("sources-column-when"), 1.2),
        Column(say("sources-column-length"), 0.7, numbers=True),
        Column(say("sources-column-area"), 0.7, numbers=True),
        Column(say("sources-column-how-well"), 2.0),
    )


def _classes(sonar: SonarCoverage, rules: ComposeRules) -> Table:
    whole = sum(sonar.area_m2.values())
    columns = (
        Column(say("sonar-column-coverage"), 2.4),
        Column(say("sonar-column-area"), 1.0, numbers=True),
        Column(say("sonar-column-share"), 1.2, numbers=True),
    )
    rows = tuple(
        (
            Cell(_first_upper(class_words(name))),
            Cell(area_words(sonar.area_m2[name], rules.distance_unit)),
            Cell(percent_words(sonar.area_m2[name] / whole)),
        )
        for name in SONAR_CLASSES
        if sonar.area_m2.get(name)
    )
    return Table(say("sonar-lake-by-coverage"), columns, rows)


def _gap(holiday: Holiday, number: int, pages: Sequence[Page], rules: ComposeRules) -> tuple[Cell, ...]:
    words = holiday_words(holiday, rules)
    on = [page.number for page in pages if set(page.reaches) & set(holiday.reaches)]
    where = say("sonar-gap-where", reach=holiday.nearest, at=lonlat_words(holiday.at))
    return (
        Cell(f"{number}"),
        Cell(f"{holiday.place}, {where}" if holiday.place else where),
        Cell(_first_upper(words)),
        pages_cell(on),
    )


def _source(row: SourceRow, rules: ComposeRules) -> tuple[Cell, ...]:
    name = f"{row.name}, {row.instrument}" if row.instrument else row.name
    spacing_m, unit = row.line_spacing_m, rules.distance_unit
    spacing = [] if spacing_m is None else [say("sources-spacing", distance=distance_words(spacing_m, unit))]
    return (
        Cell(say("sources-what", what=row.what.replace(" ", "-"))),
        Cell(name),
        Cell(_days(row)),
        Cell(say("sources-not-known") if row.length_m is None else distance_words(row.length_m, unit)),
        Cell(area_words(row.area_m2, rules.distance_unit)),
        Cell("; ".join([*spacing, *row.words]) or say("sources-not-known")),
    )


def _days(row: SourceRow) -> str:
    if row.dates is None:
        return say("sources-not-known")
    first, last = (date_words(day, "%b") for day in row.dates)
    return first if first == last else say("sources-days", first=first, last=last)


def _first_upper(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"
