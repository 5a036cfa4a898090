"""Chapters behind the pages: words, tables and drawings on one matter, the same in book and web."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from atlasgen.model.atlas import Drawing, Sentence


class Cell(NamedTuple):
    """One cell of a table; `page` is the page of this atlas that it leads to, if any."""

    text: str
    page: int | None = None


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its heading, its share of the width against the others, and whether it holds numbers."""

    heading: str
    share: float = 1.0
    numbers: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table with a caption; every row has a cell for every column."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Sentences that belong together, under a heading of their own if it has one."""

    sentences: tuple[Sentence, ...]
    heading: str = ""


@dataclass(frozen=True, slots=True)
class Chapter:
    """A chapter; `id` is ours, short and stable, for addresses."""

    id: str
    title: str
    blocks: tuple[Paragraph | Table | Drawing, ...]

    @property
    def drawings(self) -> dict[str, Drawing]:
        """The chapter's drawings by the names that book and web give them."""
        found = [block for block in self.blocks if isinstance(block, Drawing)]
        return {f"chapter-{self.id}-{number}": drawing for number, drawing in enumerate(found, 1)}
