"""Chapters -> the plain values that the print templates read."""

from __future__ import annotations

from typing import Any

from atlasgen.model import Atlas, Drawing
from atlasgen.model.chapters import Chapter, Paragraph, Table
from atlasgen.write.book_text import Printable


def chapters_data(atlas: Atlas, printable: Printable) -> list[dict[str, Any]]:
    """Return every chapter as JSON values; its drawings by name."""
    return [_chapter(chapter, printable) for chapter in atlas.chapters]


def _chapter(chapter: Chapter, printable: Printable) -> dict[str, Any]:
    names = iter(chapter.drawings)
    blocks = [
        {"kind": "drawing", "name": next(names)} if isinstance(block, Drawing) else _block(block, printable)
        for block in chapter.blocks
    ]
    return {"id": chapter.id, "title": printable.text(chapter.title), "blocks": blocks}


def _block(block: Paragraph | Table, printable: Printable) -> dict[str, Any]:
    if isinstance(block, Paragraph):
        sentences = [{"text": printable.text(item.text), "strong": item.strong} for item in block.sentences]
        return {"kind": "paragraph", "heading": printable.text(block.heading), "sentences": sentences}
    columns = [
        {"heading": printable.text(column.heading), "share": column.share, "numbers": column.numbers}
        for column in block.columns
    ]
    rows = [[{"text": printable.text(cell.text), "page": cell.page} for cell in row] for row in block.rows]
    return {"kind": "table", "caption": printable.text(block.caption), "columns": columns, "rows": rows}
