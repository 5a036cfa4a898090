"""Reader-facing words that stand in book and web alike: cautions, how to read, headings."""

from __future__ import annotations

from collections.abc import Sequence

from atlasgen.compose.profile_words import one_in
from atlasgen.model import LonLat
from atlasgen.model.chapters import Cell
from atlasgen.model.relief import SLOPE_LIMITS

HEADINGS = {
    "depth": "Depth",
    "close": "Close by",
    "bed": "The bed off this bank",
    "coverage": "How well surveyed",
    "level": "Water level",
    "shown": "Photographs of this bank",
    "layers": "Older pictures of this place",
    "position": "Where these were taken",
}

# Usual cautions on water and with drones; common practice, no source. Local rules and licensed practice decide.
CAUTIONS = (
    "This atlas is not for navigation. It shows what the crew saw and measured on the days it states, and no more.",
    "Water levels change. A depth printed here is below the datum; take off what the lake is down today. "
    "Where this atlas says that something is not known, take it that there may be a hazard.",
    "Between soundings the bed was not measured. Stumps, rocks, wire and new bars can stand where the map is smooth.",
    "Wear a life jacket, look before you run, and keep clear of dam walls, spillways, swimmers and nesting birds.",
    "Photographs show the bank on the day they were taken. Plants grow, banks slip, ramps close.",
    "If you fly a drone, the rules of the place and the terms of your licence decide. A picture taken from the air "
    "here does not mean that you may fly there.",
    "A photograph of a bank is no permission to land on it. Respect private land and closed waters.",
)


def slope_words() -> str:
    """Say what the words for slopes mean, with their limits."""
    names = [f"{word} to {one_in(limit)}" for word, limit in SLOPE_LIMITS]
    return f"Slopes are those of the first 20 m from the bank: {', '.join(names)}, very steep beyond."


def how_to_read(datum: str, depth_unit: str, off_bank: str, reach_length: str, start_name: str) -> tuple[str, ...]:
    """Return the guide to a page, sentence groups in the order a reader meets things."""
    return (
        f"The shoreline is cut into reaches of about {reach_length}, counted from {start_name} with the water on "
        "your right hand, then round each island. A photograph stands on the page of the reach that it shows best; "
        "where it is not known what it shows, on that of the nearest.",
        "What is printed in vermilion is about the camera: where it stood, which way it looked, and the reach it is "
        "tied to. What is printed in blue-green is about the water.",
        "A dot with a pointer shows a camera whose direction is known; a dot with a question mark, one whose "
        "direction is not. The number at the dot is the number under the photograph. The tinted water is what lies in "
        "the photograph's frame, and the thin line behind the bank is the shore that it shows.",
        f"Depths are in {depth_unit} below {datum}, rounded toward the shallower. The depth note speaks of the water "
        f"within {off_bank} of the bank.",
        "The coverage note says how much of that water lies near a sounding and in a side-scan picture, and why the "
        "rest does not. Where nothing is known, the page says so.",
        "A depth between soundings is worked out, not measured. Its bound says how far off it may be: in 95 of 100 "
        f"places like it the bed lies within the bound. A broken depth line is doubtful. {slope_words()} A break is "
        "told only where the bed falls half as steeply again as on both sides, by more than the bound.",
    )


def listing(parts: Sequence[str]) -> str:
    """Join words as a sentence does: `a`, `a and b`, `a, b and c`."""
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def lonlat_words(at: LonLat) -> str:
    """Return a place as instruments take it, latitude first, to about a metre."""
    return f"{at.lat_deg:.5f}, {at.lon_deg:.5f}"


def pages_cell(numbers: list[int]) -> Cell:
    """Return the cell of a table that names pages and leads to the first of them."""
    return Cell(number_list(numbers), numbers[0]) if numbers else Cell("none near")


def page_range(numbers: list[int]) -> str:
    """Return `page 3`, `pages 3–9` or `pages 3–5, 9` for ascending page numbers."""
    return f"page{'s' if len(numbers) > 1 else ''} {number_list(numbers)}"


def number_list(numbers: list[int]) -> str:
    """Return `3`, `3–9` or `3–5, 9` for ascending numbers."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs)
