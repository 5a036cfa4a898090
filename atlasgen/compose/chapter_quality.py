"""The chapter on the soundings: what was left out, how depths were reduced, how well lines agree where they cross."""

from __future__ import annotations

import math
from collections.abc import Sequence

from atlasgen.compose.histogram import histogram
from atlasgen.model import ComposeRules, Drawing, Known, Page, Placed, Sentence
from atlasgen.model.chapters import Cell, Chapter, Column, Paragraph, Table
from atlasgen.model.quality import Cleaning, Crossings
from atlasgen.model.wording import say
from atlasgen.units import (
    DEPTH_SHORT,
    DEPTH_UNIT_M,
    count_words,
    decimal_text,
    depth_words,
    number_words,
    percent_words,
)


def quality_chapter(known: Known, placed: Placed, pages: Sequence[Page], rules: ComposeRules) -> Chapter | None:
    """Tell how good the depths are; None if no soundings were supplied."""
    if known.cleaning is None:
        return None
    blocks: list[Paragraph | Table | Drawing] = [Paragraph(_cleaning_words(known.cleaning), say("quality-soundings"))]
    if known.cleaning.counts:
        blocks.append(_cleaning_table(known.cleaning, rules))
    if known.reduction:
        steps = tuple(Sentence(step.words) for step in known.reduction)
        blocks.append(Paragraph(steps, say("quality-reduction", datum=rules.datum)))
    if known.crossings is not None:
        blocks += _crossings(known.crossings, rules)
    return Chapter("quality", say("quality-title"), tuple(blocks))


def _cleaning_words(cleaning: Cleaning) -> tuple[Sentence, ...]:
    text = say("quality-kept", read=count_words(cleaning.read), kept=count_words(cleaning.kept))
    left = cleaning.read - cleaning.kept
    if left:
        text += " " + say("quality-left-out", count=left, number=count_words(left))
    return (Sentence(text, strong=True), *(Sentence(words) for words in cleaning.skipped))


def _cleaning_table(cleaning: Cleaning, rules: ComposeRules) -> Table:
    columns = (
        Column(say("quality-column-why"), 2.6),
        Column(say("quality-column-soundings"), 0.8, numbers=True),
        Column(say("quality-column-example"), 2.6),
    )
    rows = tuple(
        (Cell(reason), Cell(count_words(count)), Cell(_examples(cleaning.examples.get(reason, ()), rules)))
        for reason, count in cleaning.counts.items()
        if count
    )
    return Table("", columns, rows)


def _examples(examples: Sequence[tuple[str, int, float]], rules: ComposeRules) -> str:
    parts = []
    for file, row, depth_m in examples[:2]:
        depth = "" if math.isnan(depth_m) else f" ({depth_words(depth_m, rules.depth_unit)})"
        where = say("quality-file-line", file=file, line=row) if row else file
        parts.append(f"{where}{depth}")
    return ", ".join(parts)


def _crossings(crossings: Crossings, rules: ComposeRules) -> list[Paragraph | Table | Drawing]:
    heading = say("quality-crossings")
    blocks: list[Paragraph | Table | Drawing] = [
        Paragraph(tuple(Sentence(words, strong=not i) for i, words in enumerate(crossings.words)), heading)
    ]
    if crossings.counts and crossings.count:
        blocks.append(_histogram(crossings, rules))
    if crossings.orders and crossings.count:
        blocks.append(Paragraph((Sentence(say("quality-orders")),), say("quality-orders-title")))
        blocks.append(_orders(crossings))
    if len(crossings.bands) > 1:
        blocks.append(_bands(crossings, rules))
    return blocks


def _histogram(crossings: Crossings, rules: ComposeRules) -> Drawing:
    unit_m, short = DEPTH_UNIT_M[rules.depth_unit], DEPTH_SHORT[rules.depth_unit]
    edges = [edge / unit_m for edge in crossings.edges_m]
    middle = max(range(len(crossings.counts)), key=lambda i: (crossings.counts[i], -i))
    alt = say(
        "quality-histogram-alt",
        count=count_words(crossings.count),
        least=number_words(edges[0], 1),
        greatest=number_words(edges[-1], 1),
        most=count_words(crossings.counts[middle]),
        low=number_words(edges[middle], 1),
        high=number_words(edges[middle + 1], 1),
        unit=short,
    )
    return histogram(
        "crossings",
        edges,
        crossings.counts,
        say("quality-histogram-axis", unit=short),
        alt.replace("-", "−"),
        **rules.within_mm(150.0, 62.0),
    )


def _orders(crossings: Crossings) -> Table:
    columns = (
        Column(say("quality-column-order"), 1.4),
        Column(say("quality-column-allowed"), 2.4),
        Column(say("quality-column-within"), 1.6, numbers=True),
    )
    rows = tuple(
        (
            Cell(order.order),
            Cell(decimal_text(f"√({order.a_m:g}² + ({order.b:g} × d)²) m")),
            Cell(percent_words(order.share)),
        )
        for order in crossings.orders
    )
    return Table("", columns, rows)


def _bands(crossings: Crossings, rules: ComposeRules) -> Table:
    unit_m, short = DEPTH_UNIT_M[rules.depth_unit], DEPTH_SHORT[rules.depth_unit]
    columns = (
        Column(say("quality-column-depth", unit=short), 1.4),
        Column(say("quality-column-crossings"), 1.0, numbers=True),
        Column(say("quality-column-rms", unit=short), 1.4, numbers=True),
        Column(say("quality-column-p95", unit=short), 1.4, numbers=True),
    )
    rows = tuple(
        (
            Cell(say("quality-band", start=f"{band.from_m / unit_m:.0f}", end=f"{band.to_m / unit_m:.0f}")),
            Cell(count_words(band.count)),
            Cell(number_words(band.rms_m / unit_m, 2)),
            Cell(say("quality-too-few") if band.p95_m is None else number_words(band.p95_m / unit_m, 2)),
        )
        for band in crossings.bands
    )
    return Table(say("quality-by-depth"), columns, rows)
