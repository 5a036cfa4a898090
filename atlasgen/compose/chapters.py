"""The chapters behind the pages, in the order of reading; one without anything to say is left out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from atlasgen.compose.chapter_layers import layers_chapter
from atlasgen.compose.chapter_levels import levels_chapter
from atlasgen.compose.chapter_quality import quality_chapter
from atlasgen.compose.chapter_relief import relief_chapter
from atlasgen.compose.chapter_sonar import sonar_chapter, sources_chapter
from atlasgen.model import ComposeRules, Known, Page, Placed
from atlasgen.model.chapters import Chapter
from atlasgen.model.memory import ANEW, Memory

Maker = Callable[[Known, Placed, Sequence[Page], ComposeRules], Chapter | None]


def make_chapters(
    known: Known, placed: Placed, pages: Sequence[Page], rules: ComposeRules, memory: Memory = ANEW
) -> tuple[Chapter, ...]:
    """Make every chapter that has something to say."""
    makers: tuple[Maker, ...] = (
        relief_chapter,
        sonar_chapter,
        quality_chapter,
        partial(levels_chapter, memory=memory),
        sources_chapter,
        layers_chapter,
    )
    made = (maker(known, placed, pages, rules) for maker in makers)
    return tuple(chapter for chapter in made if chapter is not None)
