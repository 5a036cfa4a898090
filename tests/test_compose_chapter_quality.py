"""The chapter on soundings: counts, steps and crossings in words and tables."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np

from atlasgen.compose.chapter_quality import quality_chapter
from atlasgen.model import ComposeRules, Drawing
from atlasgen.model.chapters import Paragraph, Table
from atlasgen.model.quality import Cleaning, CrossingBand, Crossings, OrderShare, ReductionStep

RULES = ComposeRules(title="Lake", edition="1", depth_unit="feet")
FOOT = 0.3048


def crossings(count: int = 3) -> Crossings:
    values = np.array([0.1, -0.1, 0.0])[:count]
    return Crossings(
        values, values, values, values + 3,
        bands=(CrossingBand(0, 3 * FOOT, 1, FOOT, None), CrossingBand(3 * FOOT, 9 * FOOT, 2, 0.5 * FOOT, FOOT)),
        orders=(OrderShare("Order 1a", 0.5, 0.013, 2 / 3),), edges_m=(-FOOT, 0.0, FOOT), counts=(1, 2),
        words=("3 crossings.", "Half of them differ by less than 0.3 ft."),
    )  # fmt: skip


def known(**changes: object) -> SimpleNamespace:
    cleaning = Cleaning(100, 97, {"zero depth": 2, "spike": 1, "on land": 0}, {"spike": (("a.csv", 7, 4 * FOOT),)})
    facts = {"cleaning": cleaning, "crossings": crossings(), "reduction": (ReductionStep("stage", True, "By stage."),)}
    return SimpleNamespace(**facts | changes)


def blocks(facts: SimpleNamespace) -> list:
    return list(quality_chapter(facts, None, (), RULES).blocks)


def test_every_reason_that_rejected_anything_has_its_row() -> None:
    """Two reasons with counts, none for the one that rejected nothing; the example names file, line and depth."""
    table = next(block for block in blocks(known()) if isinstance(block, Table))
    assert [[cell.text for cell in row] for row in table.rows] == [
        ["zero depth", "2", ""],
        ["spike", "1", "a.csv line 7 (4 ft)"],
    ]


def test_the_orders_are_compared_with_and_never_certified_to() -> None:
    """IHO S-44: the allowance is printed as its formula, and the words say what a comparison is worth."""
    found = blocks(known())
    words = " ".join(s.text for block in found if isinstance(block, Paragraph) for s in block.sentences)
    assert "never a certificate" in words
    rows = [row for block in found if isinstance(block, Table) for row in block.rows]
    assert ["Order 1a", "√(0.5² + (0.013 × d)²) m", "67 %"] in [[cell.text for cell in row] for row in rows]


def test_the_histogram_speaks_the_readers_unit() -> None:
    """Edges in feet, the fullest bin told to those who cannot see it."""
    (drawing,) = [block for block in blocks(known()) if isinstance(block, Drawing)]
    assert "from −1.0 to 1.0 ft" in drawing.alt
    assert "2, lie between 0.0 and 1.0 ft" in drawing.alt


def test_no_crossings_leave_their_words_and_nothing_to_look_at() -> None:
    """Lines that never cross: the chapter says so and draws no empty chart."""
    none = np.empty(0)
    facts = known(crossings=Crossings(none, none, none, none, words=("No lines cross.",)))
    assert not [block for block in blocks(facts) if isinstance(block, Drawing)]
    assert "No lines cross." in [s.text for b in blocks(facts) if isinstance(b, Paragraph) for s in b.sentences]


def test_without_soundings_there_is_no_such_chapter() -> None:
    """Nothing was read, so nothing is said."""
    assert quality_chapter(known(cleaning=None), None, (), RULES) is None
