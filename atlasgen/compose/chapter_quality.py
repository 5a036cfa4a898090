"""The chapter on the soundings: what was left out, how depths were reduced, how well lines agree where they cross."""

from __future__ import annotations

import math
from collections.abc import Sequence

from atlasgen.compose.histogram import histogram
from atlasgen.model import ComposeRules, Drawing, Known, Page, Placed, Sentence
from atlasgen.model.chapters import Cell, Chapter, Column, Paragraph, Table
from atlasgen.model.quality import Cleaning, Crossings
from atlasgen.units import DEPTH_SHORT, DEPTH_UNIT_M, count_words, depth_words, percent_words

TITLE = "How good the depths are"
_COMPARED = (
    "The orders of the international standard for hydrographic surveys (IHO S-44, edition 6.1.0) each allow an error "
    "at 95 in 100 soundings that grows with depth. Two soundings may differ by the square root of two times that. The "
    "table compares the crossings with these allowances. It is a comparison, never a certificate: a survey is of an "
    "order only when all that the standard asks is shown."
)


def quality_chapter(known: Known, placed: Placed, pages: Sequence[Page], rules: ComposeRules) -> Chapter | None:
    """Tell how good the depths are; None if no soundings were supplied."""
    if known.cleaning is None:
        return None
    blocks: list[Paragraph | Table | Drawing] = [Paragraph(_cleaning_words(known.cleaning), "Soundings read and kept")]
    if known.cleaning.counts:
        blocks.append(_cleaning_table(known.cleaning, rules))
    if known.reduction:
        steps = tuple(Sentence(step.words) for step in known.reduction)
        blocks.append(Paragraph(steps, f"From the recorded depth to the depth below {rules.datum}"))
    if known.crossings is not None:
        blocks += _crossings(known.crossings, rules)
    return Chapter("quality", TITLE, tuple(blocks))


def _cleaning_words(cleaning: Cleaning) -> tuple[Sentence, ...]:
    text = f"{count_words(cleaning.read)} soundings were read and {count_words(cleaning.kept)} kept."
    left = cleaning.read - cleaning.kept
    if left:
        text += (
            f" The {count_words(left)} left out are listed one by one in audit/soundings_left_out.csv, so that a "
            "person can look."
        )
    return (Sentence(text, strong=True), *(Sentence(words) for words in cleaning.skipped))


def _cleaning_table(cleaning: Cleaning, rules: ComposeRules) -> Table:
    columns = (Column("Why left out", 2.6), Column("Soundings", 0.8, numbers=True), Column("For example", 2.6))
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
        parts.append(f"{file}{f' line {row}' if row else ''}{depth}")
    return ", ".join(parts)


def _crossings(crossings: Crossings, rules: ComposeRules) -> list[Paragraph | Table | Drawing]:
    heading = "Where the boat's lines cross"
    blocks: list[Paragraph | Table | Drawing] = [
        Paragraph(tuple(Sentence(words, strong=not i) for i, words in enumerate(crossings.words)), heading)
    ]
    if crossings.counts and crossings.count:
        blocks.append(_histogram(crossings, rules))
    if crossings.orders and crossings.count:
        blocks.append(Paragraph((Sentence(_COMPARED),), "Compared with a published standard"))
        blocks.append(_orders(crossings))
    if len(crossings.bands) > 1:
        blocks.append(_bands(crossings, rules))
    return blocks


def _histogram(crossings: Crossings, rules: ComposeRules) -> Drawing:
    unit_m, short = DEPTH_UNIT_M[rules.depth_unit], DEPTH_SHORT[rules.depth_unit]
    edges = [edge / unit_m for edge in crossings.edges_m]
    middle = max(range(len(crossings.counts)), key=lambda i: (crossings.counts[i], -i))
    alt = (
        f"Histogram of {count_words(crossings.count)} differences where lines cross, from {edges[0]:.1f} to "
        f"{edges[-1]:.1f} {short}; most of them, {count_words(crossings.counts[middle])}, lie between "
        f"{edges[middle]:.1f} and {edges[middle + 1]:.1f} {short}."
    )
    return histogram(
        "crossings",
        edges,
        crossings.counts,
        f"difference, {short}: the earlier line's depth less the later one's; the outermost bars hold all beyond",
        alt.replace("-", "−"),
    )


def _orders(crossings: Crossings) -> Table:
    columns = (
        Column("Order", 1.4),
        Column("Error allowed at depth d (95 %)", 2.4),
        Column("Crossings within the allowance", 1.6, numbers=True),
    )
    rows = tuple(
        (
            Cell(order.order),
            Cell(f"√({order.a_m:g}² + ({order.b:g} × d)²) m"),
            Cell(percent_words(order.share)),
        )
        for order in crossings.orders
    )
    return Table("", columns, rows)


def _bands(crossings: Crossings, rules: ComposeRules) -> Table:
    unit_m, short = DEPTH_UNIT_M[rules.depth_unit], DEPTH_SHORT[rules.depth_unit]
    columns = (
        Column(f"Depth, {short}", 1.4),
        Column("Crossings", 1.0, numbers=True),
        Column(f"RMS difference, {short}", 1.4, numbers=True),
        Column(f"95 % within, {short}", 1.4, numbers=True),
    )
    rows = tuple(
        (
            Cell(f"{band.from_m / unit_m:.0f} to {band.to_m / unit_m:.0f}"),
            Cell(count_words(band.count)),
            Cell(f"{band.rms_m / unit_m:.2f}"),
            Cell("too few" if band.p95_m is None else f"{band.p95_m / unit_m:.2f}"),
        )
        for band in crossings.bands
    )
    return Table("By depth", columns, rows)
