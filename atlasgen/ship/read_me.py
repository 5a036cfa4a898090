"""READ ME FIRST, as plain text and as a page: what is on the card, how to open it, what the depths mean, cautions."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from atlasgen.model.wording import language, say
from atlasgen.resources import resource
from atlasgen.units import area_words, date_words, distance_words, level_words
from atlasgen.write.spoken import say_html

NAMES = ("READ ME FIRST.txt", "READ ME FIRST.html")
_WIDTH = 72
_UNSEEN = {"none": "card-no-photograph-none", "near": "card-no-photograph-near"}


@dataclass(frozen=True, slots=True)
class Holding:
    """What lies on the card besides the read-me: each thing's place, what it is, and the file to open, if any."""

    place: str
    words: str
    link: str = ""


def read_me(
    document: Mapping[str, Any], holdings: Sequence[Holding], atlas_folder: str, pocket: str | None
) -> list[bytes]:
    """Return the two files, in the order of NAMES: text with CRLF and UTF-8's mark for old editors, and HTML.

    Their names are English everywhere: they stand beside a chart that any instrument may read.
    """
    facts = {
        "survey": document["survey"],
        "holdings": holdings,
        "sections": _sections(document, atlas_folder, pocket),
        "caution": document["cautions"][0] if document["cautions"] else say("card-not-for-navigation"),
    }
    text = _text(facts)
    return [b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode(), _html(facts).encode()]


def _sections(document: Mapping[str, Any], folder: str, pocket: str | None) -> list[tuple[str, list[str]]]:
    return [
        (say("card-opening"), _opening(folder, pocket)),
        (say("card-depths"), _depths(document)),
        (say("card-gaps"), _gaps(document)),
        (say("card-cautions"), list(document["cautions"])),
        (say("card-whole"), _whole(folder)),
    ]


def _opening(folder: str, pocket: str | None) -> list[str]:
    phone = "card-opening-phone-pocket" if pocket else "card-opening-phone"
    return [
        say("card-opening-computer", folder=folder),
        say(phone, folder=folder, pocket=pocket),
        say("card-opening-chart"),
    ]


def _depths(document: Mapping[str, Any]) -> list[str]:
    survey = document["survey"]
    days = [day for source in document["sources"] if source["what"] == "soundings" for day in source["dates"] or ()]
    told = [say("card-depths-below", level=survey["depths_below"])]
    if survey["shown_stage_m"]:
        told.append(say("card-depths-datum", datum=survey["datum"]))
    if days:
        told.append(say("card-soundings-taken", first=_day(min(days)), last=_day(max(days))))
    else:
        told.append(say("card-soundings-unknown"))
    taken = [photo["taken"][:10] for photo in document["photos"] if photo["taken"]]
    if taken:
        told.append(say("card-photographs-taken", first=_day(min(taken)), last=_day(max(taken))))
    stages = [photo["stage_m"] for photo in document["photos"] if photo["stage_m"] is not None]
    if stages:
        high, low = (level_words(stage_m, survey["units"]["depth"]) for stage_m in (max(stages), min(stages)))
        stood = "card-lake-stood" if high == low else "card-lake-stood-between"
        told.append(say(stood, level=high, high=high, low=low))
    if chart := survey["chart"]:
        told.append(say("card-chart", edition=chart["edition"], day=_day(chart["date"]), datum=chart["datum"]))
    return told


def _day(text: str) -> str:
    return date_words(date.fromisoformat(text))


def _gaps(document: Mapping[str, Any]) -> list[str]:
    survey = document["survey"]
    distance = survey["units"]["distance"]
    told = [_no_photo(document, state, words, distance) for state, words in _UNSEEN.items()]
    told += [_not_surveyed(area, distance) for area in document["not_surveyed"]]
    told.append(_unsounded(document, distance))
    if (side := document["side_scan"]) and side["area_m2"].get("none"):
        told.append(say("card-no-side-scan", area=area_words(side["area_m2"]["none"], distance)))
    return [words for words in told if words] or [say("card-nothing-missing")]


def _not_surveyed(area: Mapping[str, Any], distance: Any) -> str:
    reason = area["reason"] or say("card-no-reason")
    return say("card-not-surveyed", area=area_words(area["area_m2"], distance), reason=reason)


def _no_photo(document: Mapping[str, Any], state: str, words: str, distance: Any) -> str | None:
    length_m = sum(reach["lengths_m"][state] for reach in document["reaches"])
    whole_m = sum(reach["length_m"] for reach in document["reaches"])
    if length_m < 1:
        return None
    lengths = {"length": distance_words(length_m, distance), "whole": distance_words(whole_m, distance)}
    return say(words, **lengths)


def _unsounded(document: Mapping[str, Any], distance: Any) -> str:
    shares = [
        (r["coverage"]["water_m2"], r["coverage"]["share_near_sounding"]) for r in document["reaches"] if r["coverage"]
    ]
    known = [(area_m2, share) for area_m2, share in shares if share is not None]
    if not known:
        return say("card-no-depths")
    near_m = next(r["coverage"]["near_sounding_m"] for r in document["reaches"] if r["coverage"])
    lacking_m2 = sum(area_m2 * (1 - share) for area_m2, share in known)
    along = area_words(sum(area_m2 for area_m2, _ in known), distance)
    lacking, near = area_words(lacking_m2, distance), distance_words(near_m, distance)
    return say("card-unsounded", lacking=lacking, water=along, distance=near)


def _whole(folder: str) -> list[str]:
    return [say("card-whole-manifest", folder=folder)]


def _text(facts: Mapping[str, Any]) -> str:
    survey = facts["survey"]
    lines = [say("card-title", title=survey["title"], edition=survey["edition"]).upper()]
    lines += [", ".join(filter(None, (survey["season"], survey["crew"])))]
    lines += ["", *textwrap.wrap(facts["caution"], _WIDTH), "", say("card-here").upper(), ""]
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
    return environment.get_template("read_me.html").render(facts, say=say_html, language=language())
