"""The colours of the offline atlas in its three themes, read from the style sheet and held against WCAG 2.2."""

from __future__ import annotations

import json
import re

import pytest

from atlasgen.resources import resource

THEMES = ("paper", "dark", "sunlight")
# Words on what they stand on; "map" are all grounds that letters with a halo may cross.
TEXT = [
    *((ink, ground) for ink in ("ink", "soft", "deep", "camera-text") for ground in ("paper", "ground", "land")),
    ("on-camera", "camera"),
    ("camera", "paper"),  # the number in a ring on the map
    ("paper", "ink"),  # the skip link, and the question asked in sunlight
]
GRAPHICS = [
    *((mark, "paper") for mark in ("camera", "deep", "shore", "focus", "soft", "state-well", "state-near")),
    *((mark, ground) for mark in ("camera", "shore") for ground in ("land", "water", "sounded", "unsounded", "dry")),
    ("deep", "lit"),
    ("deep", "tint-1"),
    ("deep", "tint-4"),
    ("state-well", "water"),
    # Shore that is shown poorly or not at all is drawn on a casing.
    ("state-poorly", "case"),
    ("state-none", "case"),
]


def variables(theme: str) -> dict[str, str]:
    """Return the variables that hold in a theme: its own before those of paper."""
    sheet = resource("templates", "web", "css", "type.css").read_text(encoding="utf-8")
    blocks = dict(re.findall(r'^:root(?:\[data-theme="(\w+)"\])? \{(.*?)^\}', sheet, re.M | re.S))
    own = {name: dict(re.findall(r"--([\w-]+): ([^;]+);", block)) for name, block in blocks.items()}
    return own[""] | own.get(theme, {})


def luminance(colour: str) -> float:
    """Return relative luminance (WCAG 2.2, definition "relative luminance")."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio (WCAG 2.2, definition "contrast ratio")."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_is_that_of_the_standard():
    """Black on white is 21; #777777 on white is 4.48, the usual near miss (WCAG 2.2, from memory)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)


def _too_pale(theme: str, pairs: list[tuple[str, str]], least: float) -> list[tuple[str, str, float]]:
    found = variables(theme)
    ratios = [(ink, ground, round(contrast(found[ink], found[ground]), 2)) for ink, ground in pairs]
    return [pair for pair in ratios if pair[2] < least]


@pytest.mark.parametrize("theme", THEMES)
def test_words_can_be_read(theme):
    """Text has 4.5:1 (WCAG 2.2, 1.4.3), and 7:1 in sunlight (1.4.6)."""
    assert _too_pale(theme, TEXT, 7.0 if theme == "sunlight" else 4.5) == []


@pytest.mark.parametrize("theme", THEMES)
def test_marks_can_be_told_from_what_they_lie_on(theme):
    """Graphics have 3:1 (WCAG 2.2, 1.4.11)."""
    assert _too_pale(theme, GRAPHICS, 3.0) == []


def test_map_and_book_agree_on_the_colours_of_the_states():
    """One code for both: the palette of the maps is the palette of the screen on paper."""
    palette = json.loads(resource("templates", "map", "style.json").read_text(encoding="utf-8"))["palette"]
    found = variables("paper")
    names = ("ink", "camera", "land", "state-well", "state-poorly", "state-near")
    assert {name: palette[name] for name in names} == {name: found[name] for name in names}
    assert palette["water"] == found["deep"]
