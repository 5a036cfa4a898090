"""Chapters as the print templates read them."""

from __future__ import annotations

from types import SimpleNamespace

from atlasgen.model import Atlas, Drawing, Sentence
from atlasgen.model.chapters import Cell, Chapter, Column, Paragraph, Table
from atlasgen.write.book_chapters import chapters_data


class Plain:
    """Leaves every text as it is."""

    def text(self, text: str) -> str:
        return text


def chapter() -> Chapter:
    first, second = (Drawing(f"d{i}", 10, 5, (), f"drawing {i}") for i in (1, 2))
    table = Table("Rows", (Column("Name", 2.0), Column("Depth", numbers=True)), ((Cell("hump 1", 7), Cell("12 ft")),))
    words = Paragraph((Sentence("One."), Sentence("Two.", strong=True)), "Heading")
    return Chapter("relief", "The bed", (words, first, table, second))


def test_blocks_keep_their_order_and_drawings_their_names() -> None:
    """The second drawing after a table is still the second of its chapter."""
    (data,) = chapters_data(SimpleNamespace(chapters=(chapter(),)), Plain())
    assert [block["kind"] for block in data["blocks"]] == ["paragraph", "drawing", "table", "drawing"]
    assert [block.get("name") for block in data["blocks"]][1::2] == ["chapter-relief-1", "chapter-relief-2"]
    drawings = Atlas.chapter_drawings(SimpleNamespace(chapters=(chapter(),)))
    assert {name: drawing.alt for name, drawing in drawings.items()} == {
        "chapter-relief-1": "drawing 1",
        "chapter-relief-2": "drawing 2",
    }


def test_a_cell_may_lead_to_a_page() -> None:
    """The page's number goes along with the text."""
    (data,) = chapters_data(SimpleNamespace(chapters=(chapter(),)), Plain())
    table = data["blocks"][2]
    assert table["rows"] == [[{"text": "hump 1", "page": 7}, {"text": "12 ft", "page": None}]]
    assert table["columns"][1] == {"heading": "Depth", "share": 1.0, "numbers": True}
    assert data["blocks"][0]["sentences"][1] == {"text": "Two.", "strong": True}
