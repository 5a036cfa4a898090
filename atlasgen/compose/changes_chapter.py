"""The chapter on what changed since an earlier edition, the same in book and web."""

from __future__ import annotations

from collections.abc import Iterator

from atlasgen.compose.changes_parts import Group, Row
from atlasgen.compose.changes_words import groups, heading
from atlasgen.model import Sentence
from atlasgen.model.changes import Changes
from atlasgen.model.chapters import Cell, Chapter, Column, Paragraph, Table

_COLUMNS = (Column("What", 1.3), Column("What changed", 2.6), Column("Page", 0.45, numbers=True))


def changes_chapter(changes: Changes, most_rows: int = 40) -> Chapter:
    """Tell what changed since the older edition, at most `most_rows` of each kind; pages are the newer edition's."""
    head = heading(changes)
    how = "Reaches were compared bank by bank, by where they lie, whatever their ids."
    lead = Paragraph((Sentence(f"{head.editions}."), Sentence(head.lead, strong=True), Sentence(how)))
    tables = [block for group in groups(changes) for block in _blocks(group, most_rows)]
    return Chapter("changes", f"Changes since edition {changes.old.edition}", (lead, *tables))


def _blocks(group: Group, most_rows: int) -> Iterator[Paragraph | Table]:
    if group.lead:
        yield Paragraph((Sentence(group.lead),), group.title)
    caption = "" if group.lead else group.title
    yield Table(caption, _COLUMNS, tuple(_cells(row) for row in group.rows[:most_rows]))
    if len(group.rows) > most_rows:
        more = f"And {len(group.rows) - most_rows} more; atlasgen compare lists them all."
        yield Paragraph((Sentence(more),))


def _cells(row: Row) -> tuple[Cell, Cell, Cell]:
    sentences = [f"{word}: {text}" for word, text in (("Before", row.old), ("Now", row.new)) if text]
    words = " ".join([row.words, *sentences]).strip()
    return Cell(row.what), Cell(words), Cell("" if row.page is None else str(row.page), row.page)
