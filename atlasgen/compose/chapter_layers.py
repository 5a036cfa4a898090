"""The chapter on old charts and low-water images: what each is, what it shows, and how well it fits."""

from __future__ import annotations

from collections.abc import Sequence

from atlasgen.compose.history_words import departure_words, fit_words, looks_words, table_rows
from atlasgen.compose.words import page_range
from atlasgen.model import ComposeRules, Known, Page, Placed, Sentence
from atlasgen.model.chapters import Cell, Chapter, Column, Paragraph, Table
from atlasgen.model.history import HistoricLayer, ScanFit
from atlasgen.units import date_words, level_words

TITLE = "Old charts and low-water images"
_LEAD = (
    "An image taken when the lake was drawn down shows the bed as dry ground out to the depth line of that level. "
    "A historic chart shows how the valley lay; its depths and heights are those of its day."
)


def layers_chapter(known: Known, placed: Placed, pages: Sequence[Page], rules: ComposeRules) -> Chapter | None:
    """Tell every layer that the crew gave; None if it gave none."""
    if not known.layers:
        return None
    blocks: list[Paragraph | Table] = [Paragraph((Sentence(_LEAD),))]
    for layer in known.layers:
        blocks.append(Paragraph(_sentences(layer, pages, rules), layer.title))
        if layer.fit is not None:
            blocks.append(_residuals(layer.fit, rules))
    return Chapter("layers", TITLE, tuple(blocks))


def _sentences(layer: HistoricLayer, pages: Sequence[Page], rules: ComposeRules) -> tuple[Sentence, ...]:
    dated = f" of {date_words(layer.date)}" if layer.date else ", its date not known"
    found = [Sentence(f"{layer.kind[:1].upper()}{layer.kind[1:]}{dated}, file {layer.file}.")]
    if layer.kind in ("air photo", "satellite image"):
        found += _level(layer, rules)
    if layer.fit is not None:
        found.append(Sentence(fit_words(layer.fit, rules)))
    on = [page.number for page in pages if set(page.reaches) & set(layer.reaches)]
    found.append(Sentence(f"It covers the banks of {page_range(on)}." if on else "It covers no bank that has a page."))
    return tuple(found)


def _level(layer: HistoricLayer, rules: ComposeRules) -> list[Sentence]:
    if layer.stage_m is None:
        return [Sentence(f"The water level then is not known: {layer.stage_from}.")]
    level = Sentence(f"The water stood {level_words(layer.stage_m, rules.depth_unit)} then ({layer.stage_from}).")
    if layer.looks_m is None:
        return [level, Sentence("It shows no dry bed.")]
    looks = looks_words(layer.looks_m, rules)
    found = [level, Sentence(f"It shows the bed dry out to the {looks} line, which the maps draw.", strong=True)]
    if layer.departure is not None:
        found.append(Sentence(departure_words(layer.departure, looks, rules)))
    return found


def _residuals(fit: ScanFit, rules: ComposeRules) -> Table:
    columns = (Column("Control point", 2.0), Column("East", numbers=True), Column("North", numbers=True))
    rows = tuple(tuple(Cell(text) for text in row) for row in table_rows(fit, rules))
    return Table("Where each control point lies against the fit", columns, rows)
