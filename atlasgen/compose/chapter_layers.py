"""The chapter on old charts and low-water images: what each is, what it shows, and how well it fits."""

from __future__ import annotations

from collections.abc import Sequence

from atlasgen.compose.history_words import departure_words, fit_words, looks_words, table_rows
from atlasgen.compose.words import page_range
from atlasgen.model import ComposeRules, Known, Page, Placed, Sentence
from atlasgen.model.chapters import Cell, Chapter, Column, Paragraph, Table
from atlasgen.model.history import HistoricLayer, ScanFit
from atlasgen.model.wording import say
from atlasgen.units import date_words, level_words


def layers_chapter(known: Known, placed: Placed, pages: Sequence[Page], rules: ComposeRules) -> Chapter | None:
    """Tell every layer that the crew gave; None if it gave none."""
    if not known.layers:
        return None
    blocks: list[Paragraph | Table] = [Paragraph((Sentence(say("layers-lead")),))]
    for layer in known.layers:
        blocks.append(Paragraph(_sentences(layer, pages, rules), layer.title))
        if layer.fit is not None:
            blocks.append(_residuals(layer.fit, rules))
    return Chapter("layers", say("layers-title"), tuple(blocks))


def _sentences(layer: HistoricLayer, pages: Sequence[Page], rules: ComposeRules) -> tuple[Sentence, ...]:
    facts = {"kind": layer.kind.replace(" ", "-"), "file": layer.file}
    if layer.date:
        found = [Sentence(say("layers-head-dated", day=date_words(layer.date), **facts))]
    else:
        found = [Sentence(say("layers-head", **facts))]
    if layer.kind in ("air photo", "satellite image"):
        found += _level(layer, rules)
    if layer.fit is not None:
        found.append(Sentence(fit_words(layer.fit, rules)))
    on = [page.number for page in pages if set(page.reaches) & set(layer.reaches)]
    found.append(Sentence(say("layers-covers", pages=page_range(on)) if on else say("layers-covers-none")))
    return tuple(found)


def _level(layer: HistoricLayer, rules: ComposeRules) -> list[Sentence]:
    if layer.stage_m is None:
        return [Sentence(say("layers-no-level", why=layer.stage_from))]
    stood = level_words(layer.stage_m, rules.depth_unit)
    level = Sentence(say("layers-level", level=stood, source=layer.stage_from))
    if layer.looks_m is None:
        return [level, Sentence(say("layers-no-dry-bed"))]
    looks = looks_words(layer.looks_m, rules)
    found = [level, Sentence(say("layers-dry-to", depth=looks), strong=True)]
    if layer.departure is not None:
        found.append(Sentence(departure_words(layer.departure, looks, rules)))
    return found


def _residuals(fit: ScanFit, rules: ComposeRules) -> Table:
    columns = (
        Column(say("layers-column-point"), 2.0),
        Column(say("layers-column-east"), numbers=True),
        Column(say("layers-column-north"), numbers=True),
    )
    rows = tuple(tuple(Cell(text) for text in row) for row in table_rows(fit, rules))
    return Table(say("layers-residuals"), columns, rows)
