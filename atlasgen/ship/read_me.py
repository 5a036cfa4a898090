"""READ ME FIRST, as plain text and as a page: what is on the card, how to open it, what the depths mean, cautions."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from atlasgen.resources import resource
from atlasgen.units import area_words, date_words, distance_words, level_words

NAMES = ("READ ME FIRST.txt", "READ ME FIRST.html")
_WIDTH = 72
_STATES = {"none": "in no photograph", "near": "with photographs near by that are not known to show it"}


@dataclass(frozen=True, slots=True)
class Holding:
    """What lies on the card besides the read-me: each thing's place, what it is, and the file to open, if any."""

    place: str
    words: str
    link: str = ""


def read_me(
    document: Mapping[str, Any], holdings: Sequence[Holding], atlas_folder: str, pocket: str | None
) -> list[bytes]:
    """Return the two files, in the order of NAMES: text with CRLF and UTF-8's mark for old editors, and HTML."""
    facts = {
        "survey": document["survey"],
        "holdings": holdings,
        "sections": _sections(document, atlas_folder, pocket),
        "caution": document["cautions"][0] if document["cautions"] else "Not for navigation.",
    }
    text = _text(facts)
    return [b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode(), _html(facts).encode()]


def _sections(document: Mapping[str, Any], folder: str, pocket: str | None) -> list[tuple[str, list[str]]]:
    return [
        ("How to open it", _opening(folder, pocket)),
        ("What the depths mean", _depths(document)),
        ("What was not surveyed", _gaps(document)),
        ("Cautions", list(document["cautions"])),
        ("Is it whole?", _whole(folder)),
    ]


def _opening(folder: str, pocket: str | None) -> list[str]:
    small = (
        f' If a phone shows words without pictures, or cannot open a folder, open "{pocket}" instead.' if pocket else ""
    )
    return [
        f'On a computer: open the folder "{folder}" and double-click index.html. Any browser will do. '
        "No network is needed, and none is asked for.",
        f'On a phone or tablet: copy the whole folder "{folder}" to the device, then open index.html in it with the '
        f"browser.{small} The book (PDF) opens everywhere.",
        "The chart's own files belong into the instrument they were made for, as the chart's own guide says.",
    ]


def _depths(document: Mapping[str, Any]) -> list[str]:
    survey = document["survey"]
    days = [day for source in document["sources"] if source["what"] == "soundings" for day in source["dates"] or ()]
    told = [f"Depths are below {survey['depths_below']}. When the lake is lower than that, take off what it is down."]
    if survey["shown_stage_m"]:
        told.append(f"The chart datum is {survey['datum']}; this edition was made for another level of the water.")
    if days:
        told.append(f"Soundings were taken from {_day(min(days))} to {_day(max(days))}.")
    else:
        told.append("On what days soundings were taken is not known.")
    taken = [photo["taken"][:10] for photo in document["photos"] if photo["taken"]]
    if taken:
        told.append(f"Photographs were taken from {_day(min(taken))} to {_day(max(taken))}.")
    stages = [photo["stage_m"] for photo in document["photos"] if photo["stage_m"] is not None]
    if stages:
        high, low = (level_words(stage_m, survey["units"]["depth"]) for stage_m in (max(stages), min(stages)))
        told.append(f"The lake then stood {high}." if high == low else f"The lake then stood between {high} and {low}.")
    if chart := survey["chart"]:
        told.append(
            f"The chart is edition {chart['edition']} of {_day(chart['date'])}; its depths are below {chart['datum']}."
        )
    return told


def _day(text: str) -> str:
    return date_words(date.fromisoformat(text))


def _gaps(document: Mapping[str, Any]) -> list[str]:
    survey = document["survey"]
    distance = survey["units"]["distance"]
    told = [_no_photo(document, state, words, distance) for state, words in _STATES.items()]
    told += [
        f"{area_words(a['area_m2'], distance)} not surveyed: {a['reason'] or 'no reason stated'}."
        for a in document["not_surveyed"]
    ]
    told.append(_unsounded(document, distance))
    if (side := document["side_scan"]) and side["area_m2"].get("none"):
        told.append(f"No side-scan picture, and no reason known, for {area_words(side['area_m2']['none'], distance)}.")
    return [words for words in told if words] or ["Nothing is known to be missing."]


def _no_photo(document: Mapping[str, Any], state: str, words: str, distance: Any) -> str | None:
    length_m = sum(reach["lengths_m"][state] for reach in document["reaches"])
    whole_m = sum(reach["length_m"] for reach in document["reaches"])
    if length_m < 1:
        return None
    return f"{distance_words(length_m, distance)} of {distance_words(whole_m, distance)} of shore: {words}."


def _unsounded(document: Mapping[str, Any], distance: Any) -> str:
    shares = [
        (r["coverage"]["water_m2"], r["coverage"]["share_near_sounding"]) for r in document["reaches"] if r["coverage"]
    ]
    known = [(area_m2, share) for area_m2, share in shares if share is not None]
    if not known:
        return "No depths were supplied: nothing is known of the bed."
    near_m = next(r["coverage"]["near_sounding_m"] for r in document["reaches"] if r["coverage"])
    lacking_m2 = sum(area_m2 * (1 - share) for area_m2, share in known)
    along = area_words(sum(area_m2 for area_m2, _ in known), distance)
    return (
        f"Along the banks, {area_words(lacking_m2, distance)} of {along} of water lie farther than "
        f"{distance_words(near_m, distance)} from any sounding. Elsewhere, what has no depth printed was not sounded."
    )


def _whole(folder: str) -> list[str]:
    return [
        f'The file "{folder}/manifest.json" lists every file of the atlas with its fingerprint (SHA-256). Whoever has '
        "atlasgen can test the card with: atlasgen verify and the place of the card.",
    ]


def _text(facts: Mapping[str, Any]) -> str:
    survey = facts["survey"]
    lines = [f"{survey['title']}, edition {survey['edition']}".upper()]
    lines += [", ".join(filter(None, (survey["season"], survey["crew"])))]
    lines += ["", *textwrap.wrap(facts["caution"], _WIDTH), "", "WHAT IS HERE", ""]
    for holding in facts["holdings"]:
        lines += textwrap.wrap(f"{holding.place}: {holding.words}", _WIDTH, subsequent_indent="    ")
    for heading, paragraphs in facts["sections"]:
        lines += ["", heading.upper(), ""]
        for paragraph in paragraphs:
            lines += textwrap.wrap(paragraph, _WIDTH, initial_indent="- ", subsequent_indent="  ")
    return "\n".join(lines) + "\n"


def _html(facts: Mapping[str, Any]) -> str:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    environment = Environment(
        loader=FileSystemLoader(resource("templates", "bundle")), autoescape=True, undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True, keep_trailing_newline=True,
    )  # fmt: skip
    return environment.get_template("read_me.html").render(facts)
