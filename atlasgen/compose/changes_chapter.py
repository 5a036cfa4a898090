"""The chapter on what changed since an earlier edition, the same in book and web."""

from __future__ import annotations

from collections.abc import Iterator

from atlasgen.compose.changes_parts import Group, Row
from atlasgen.compose.changes_words import groups, heading
from atlasgen.model import Sentence
from atlasgen.model.changes import Changes
from atlasgen.model.chapters import Cell, Chapter, Column, Paragraph, Table
from atlasgen.model.wording import say


def changes_chapter(changes: Changes, most_rows: int = 40) -> Chapter:
    """Tell what changed since the older edition, at most `most_rows` of each kind; pages are the newer edition's."""
    head = heading(changes)
    how = Sentence(say("changes-how"))
    lead = Paragraph((Sentence(f"{head.editions}."), Sentence(head.lead, strong=True), how))
    tables = [block for group in groups(changes) for block in _blocks(group, most_rows)]
    return Chapter("changes", say("changes-title", edition=changes.old.edition), (lead, *tables))


def _blocks(group: Group, most_rows: int) -> Iterator[Paragraph | Table]:
    if group.lead:
        yield Paragraph((Sentence(group.lead),), group.title)
    caption = "" if group.lead else group.title
    columns = (
        Column(say("changes-column-what"), 1.3),
        Column(say("changes-column-changed"), 2.6),
        Column(say("changes-column-page"), 0.45, numbers=True),
    )
    yield Table(caption, columns, tuple(_cells(row) for row in group.rows[:most_rows]))
    if len(group.rows) > most_rows:
        yield Paragraph((Sentence(say("changes-more", count=len(group.rows) - most_rows)),))


def _cells(row: Row) -> tuple[Cell, Cell, Cell]:
    before = [say("changes-before", sentence=row.old)] if row.old else []
    now = [say("changes-now", sentence=row.new)] if row.new else []
    words = " ".join([row.words, *before, *now]).strip()
    return Cell(row.what), Cell(words), Cell("" if row.page is None else str(row.page), row.page)
