"""Reader-facing words that stand in book and web alike: cautions, how to read, page numbers."""

from __future__ import annotations

from atlasgen.compose.profile_words import one_in, slope_name
from atlasgen.model import LonLat
from atlasgen.model.chapters import Cell
from atlasgen.model.relief import SLOPE_LIMITS
from atlasgen.model.wording import say
from atlasgen.units import DepthUnit

_CAUTIONS = (
    "words-caution-navigation",
    "words-caution-level",
    "words-caution-between",
    "words-caution-boat",
    "words-caution-photographs",
    "words-caution-drone",
    "words-caution-landing",
)


def cautions() -> tuple[str, ...]:
    """Return the usual cautions on water and with drones; common practice, no source. Local rules decide."""
    return tuple(map(say, _CAUTIONS))


def slope_words() -> str:
    """Say what the words for slopes mean, with their limits."""
    names = [say("words-slope-to", slope=slope_name(word), limit=one_in(limit)) for word, limit in SLOPE_LIMITS]
    return say("words-slopes", slopes=", ".join(names))


def how_to_read(level: str, unit: DepthUnit, off_bank: str, reach_length: str, start_name: str) -> tuple[str, ...]:
    """Return the guide to a page, sentence groups in the order a reader meets things; depths are below `level`."""
    return (
        say("words-read-reaches", length=reach_length, start=start_name),
        say("words-read-colours"),
        say("words-read-cameras"),
        say("words-read-depths", unit=unit, level=level, within=off_bank),
        say("words-read-coverage"),
        say("words-read-bounds", slopes=slope_words()),
    )


def lonlat_words(at: LonLat) -> str:
    """Return a place as instruments take it, latitude first, to about a metre."""
    return f"{at.lat_deg:.5f}, {at.lon_deg:.5f}"


def pages_cell(numbers: list[int]) -> Cell:
    """Return the cell of a table that names pages and leads to the first of them."""
    return Cell(number_list(numbers), numbers[0]) if numbers else Cell(say("words-none-near"))


def page_range(numbers: list[int]) -> str:
    """Return `page 3`, `pages 3–9` or `pages 3–5, 9` for ascending page numbers."""
    return say("words-pages", count=len(numbers), pages=number_list(numbers))


def number_list(numbers: list[int]) -> str:
    """Return `3`, `3–9` or `3–5, 9` for ascending numbers."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs)
