"""What a reader may choose in "Find": the codes that stand in the address, with their words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from atlasgen.model import Atlas, SurveyFacts
from atlasgen.model.wording import decimal_text, say
from atlasgen.units import DEPTH_SHORT, FOOT_M, compass_words, set_words
from atlasgen.write.webfind import KINDS
from atlasgen.write.webwords import tile_rows

Choices = list[tuple[str, str]]

# Casts from the bank, and how far relief may lie off; in metres or feet. A cast is rarely shorter or longer; ours.
_WITHIN = {"metric": (5, 10, 15, 20, 30, 40, 50, 60), "imperial": (15, 30, 50, 75, 100, 125, 150, 200)}
_NEAR = {"metric": (20, 40, 60, 80, 100), "imperial": (75, 150, 200, 250, 300)}
_BAND = {"feet": ("6", "9"), "metres": ("2", "3")}
_WAYS = ("n", "ne", "e", "se", "s", "sw", "w", "nw")


def find_choices(atlas: Atlas) -> dict[str, Any]:
    """Return what the page's selects offer. `depths`: whether anything may be asked that rests on depths."""
    facts, profiles = atlas.survey, [profile for profile in atlas.known.profiles.values() if profile]
    over = set_words(profiles[0].slope_over_m, facts.distance_unit) if profiles else ""
    return {
        "depths": bool(profiles),
        "depth_unit": facts.depth_unit,
        "depth_short": DEPTH_SHORT[facts.depth_unit],
        "depth_step": "1" if facts.depth_unit == "feet" else "0.5",
        "within": _distances(_WITHIN, facts),
        "near": _distances(_NEAR, facts),
        "breaks": [(code, say("find-breaks", code=code or "all")) for code in ("", "any", "steep", "very-steep")],
        "slopes": [
            (code, say("find-slopes", code=code or "all", over=over))
            for code in ("", "flat", "gentle", "moderate", "steep", "very-steep")
        ],
        "relief": [(code, say("find-reliefs", code=code or "all")) for code in ("", *KINDS, "any")],
        "faces": _ways("find-facing", {"": "one"}),
        "winds": _ways("find-winds", {"lee-": "lee", "open-": "open"}),
        "tiles": _tiles(atlas),
        "shown": [(code, say("find-showns", code=code or "all")) for code in ("", "some", "air", "shore", "none")],
        "photographed": [
            (code, say("find-photographs", code=code or "all")) for code in ("", "well", "poorly", "near", "none")
        ],
        "sounded": [(code, say("find-soundeds", code=code or "all")) for code in ("", "full", "part", "little")],
        "examples": _examples(facts, bool(profiles)),
    }


def _distances(choices: Mapping[str, tuple[int, ...]], facts: SurveyFacts) -> Choices:
    unit_m = 1.0 if facts.distance_unit == "metric" else FOOT_M
    return [(str(far), set_words(far * unit_m, facts.distance_unit)) for far in choices[facts.distance_unit]]


def _ways(message: str, kinds: dict[str, str]) -> Choices:
    """Return the eight directions for each kind of question, with what begins its code."""
    return [
        ("", say(message, code="all", way="")),
        *(
            (f"{start}{way}", say(message, code=code, way=compass_words(45.0 * number, 8)))
            for start, code in kinds.items()
            for number, way in enumerate(_WAYS)
        ),
    ]


def _tiles(atlas: Atlas) -> Choices:
    rows = [row.tile for row in tile_rows(atlas) if row.has_shore]
    return [
        ("", say("find-tiles", code="all", tile="")),
        *((tile.id, say("find-tiles", code="one", tile=tile.label)) for tile in rows),
    ]


def _examples(facts: SurveyFacts, depths: bool) -> Choices:
    """Return questions to begin with: what the address says, and its words."""
    unit_m, (low, high) = (1.0 if facts.distance_unit == "metric" else FOOT_M), _BAND[facts.depth_unit]
    far = {"metric": (30, 20), "imperial": (100, 75)}[facts.distance_unit]
    within = [set_words(one * unit_m, facts.distance_unit) for one in far]
    unit = DEPTH_SHORT[facts.depth_unit]
    asks = [
        (
            f"depth={low}-{high}&within={far[0]}",
            say(
                "find-example-depth", **{"from": decimal_text(low)}, to=decimal_text(high), unit=unit, within=within[0]
            ),
        ),
        (f"break=any&within={far[1]}", say("find-example-break", within=within[1])),
    ]
    lee = ("wind=lee-w", say("find-example-lee", way=compass_words(270.0, 8)))
    return [*(asks if depths else []), lee]
