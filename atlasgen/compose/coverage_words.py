"""What is known of the water by side-scan, in the words a crew would use to a customer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime, timedelta

from atlasgen.compose.words import listing
from atlasgen.model import ComposeRules, Sentence
from atlasgen.model.sonar import PICTURED, Cause, Holiday, ReachSonar, SonarClass, SonarCoverage, WaterShares
from atlasgen.units import area_words, date_words, distance_words, local_time, percent_words

# Smaller parts of a page's water than this are not given a sentence; the table of gaps lists them. Ours.
LEAST_SHARE = 0.02
# So many causes are told of one page; more is a list, not a note.
MOST_CAUSES = 4
# What is left of a share by rounding.
_NONE = 1e-6

_SEEN: tuple[tuple[SonarClass, str], ...] = (
    ("twice", "seen by two passes"),
    ("fine", "seen once"),
    ("unknown", "of unknown quality"),
    ("coarse", "coarse"),
)

_PLAIN: Mapping[Cause, str] = {
    "under_boat": "A side-scan sees nothing in the strip right under the boat; {share} of this water lies in such a "
    "strip. That is how the instrument works, and no fault of your display.",
    "behind_land": "{share} of this water lies behind land or an island as seen from the boat, so the sonar "
    "could not look there.",
    "fast_run": "In {share} of this water the boat ran too fast for a fine picture. Big things "
    "show there, small ones may not.",
    "pass_not_run": "In {share} of this water two passes lie too far apart, and the boat ran none between them.",
    "beyond_limit": "{share} of this water lies beyond the limit of the side-scan survey; depths are known there.",
    "not_surveyed": "Neither soundings nor side-scan reach {share} of this water, and the records give no reason. Take "
    "it that there may be a hazard.",
    "log_gap": "In {share} of this water the boat's log pauses, so it is not known that a picture was recorded there.",
    "unknown_swath": "In {share} of this water the range or the height of the sonar was not recorded, so no "
    "picture is counted.",
    "not_recorded": "{share} of this water has no picture, and nothing in the records tells why.",
}


def sonar_sentences(sonar: SonarCoverage | None, reach: ReachSonar | None, rules: ComposeRules) -> tuple[Sentence, ...]:
    """Say for the water a page shows how much of it has a picture, once, twice or coarse, what is missing and why."""
    if sonar is None or reach is None:
        return (Sentence("No side-scan passes were supplied, so nothing is known of a sonar picture here."),)
    shares = reach.out
    if shares.water_m2 == 0:
        return ()
    sentences = [picture_sentence(shares, rules), *_near_sentence(reach, rules)]
    holidays = [holiday for holiday in sonar.holidays if holiday.id in reach.holidays]
    told = [part for part in shares.missing if part[2] >= LEAST_SHARE]
    sentences += [missing_sentence(*part, shares, holidays, rules) for part in told[:MOST_CAUSES]]
    return tuple(sentences)


def picture_sentence(shares: WaterShares, rules: ComposeRules) -> Sentence:
    """Say the shares with a depth and with a picture, `100 m` out or whatever distance the shares are for."""
    within = distance_words(shares.within_m, rules.distance_unit)
    pictured = sum(shares.share[name] for name in PICTURED)
    depth = percent_words(_whole(shares.depth)) if shares.depth > _NONE else "none"
    head = f"Of the water within {within} of this bank, {depth} has a depth"
    if pictured <= _NONE:
        return Sentence(f"{head}, and none a side-scan picture.", strong=True)
    parts = [(percent_words(_whole(shares.share[name])), words) for name, words in _SEEN if shares.share[name] > _NONE]
    text = f"{head}, and {percent_words(_whole(pictured))} a side-scan picture"
    how = parts[0][1] if len(parts) == 1 else listing([" ".join(part) for part in parts])
    return Sentence(f"{text}{',' if len(parts) == 1 else ':'} {how}.", strong=pictured < 0.5)


def _near_sentence(reach: ReachSonar, rules: ComposeRules) -> list[Sentence]:
    """Say the same in short for the water close to the bank, where an angler stands."""
    anywhere = sum(reach.out.share[name] for name in PICTURED) > _NONE
    if not anywhere or reach.near.water_m2 == 0 or reach.near.within_m == reach.out.within_m:
        return []
    pictured = _whole(sum(reach.near.share[name] for name in PICTURED))
    within = distance_words(reach.near.within_m, rules.distance_unit)
    return [Sentence(f"Within {within} of the bank, {percent_words(pictured) if pictured else 'none'} of it has one.")]


def missing_sentence(
    cause: Cause, why: str, share: float, shares: WaterShares, holidays: Sequence[Holiday], rules: ComposeRules
) -> Sentence:
    """Say what is missing in one share of a page's water, and why; `holidays` are those the page touches."""
    much = percent_words(_whole(share))
    if cause == "reason":
        return Sentence(f"{much} could not be surveyed: {why}.")
    if cause == "lost_channel":
        return Sentence(_lost_words(much, why, shares.depth, holidays, rules))
    words = _PLAIN[cause].format(share=much)
    return Sentence(words[0].upper() + words[1:], strong=cause == "not_surveyed")


def _lost_words(much: str, why: str, depth: float, holidays: Sequence[Holiday], rules: ComposeRules) -> str:
    """Tell of a lost channel, whose blank strip a customer might take for a fault of the display."""
    lost = [holiday for holiday in holidays if holiday.cause == "lost_channel" and holiday.why == why]
    text = f"{much} is a blank strip in the picture: the sonar's record was lost there"
    if lost:
        sides = sorted({holiday.channel for holiday in lost if holiday.channel})
        passes = sorted({holiday.passes[0] for holiday in lost if holiday.passes})
        text += f" ({listing([f'{side} side' for side in sides])} of pass {listing(passes)}, {_when(lost[0], rules)})"
    text += f". The reason on record: {why}." if why else "."
    covered = min((holiday.share_depth for holiday in lost), default=depth)
    if covered > 0.99:
        text += " Its depths are good; only the picture is missing, and no fault of your display."
    elif covered > 0:
        text += f" {percent_words(_whole(covered))} of it has depths all the same. It is no fault of your display."
    return text


def _when(holiday: Holiday, rules: ComposeRules) -> str:
    if holiday.from_s is None or holiday.to_s is None:
        return "at times that are not known"
    start, end = (local_time(datetime.fromtimestamp(at, UTC), rules.zone) for at in (holiday.from_s, holiday.to_s))
    clock = "%H:%M:%S" if end - start < timedelta(minutes=2) else "%H:%M"
    if end.date() == start.date():
        return f"{start:{clock}} to {end:{clock}} on {date_words(start.date())}"
    return f"{start:{clock}} on {date_words(start.date())} to {end:{clock}} on {date_words(end.date())}"


def holiday_words(holiday: Holiday, rules: ComposeRules) -> str:
    """Say one gap in one sentence, for a table: cause, size, what is known there all the same."""
    return (
        f"{_cause_words(holiday, rules)}; {area_words(holiday.area_m2, rules.distance_unit)}, {_depth_words(holiday)}"
    )


def _depth_words(holiday: Holiday) -> str:
    share = _whole(holiday.share_depth)
    if share == 1:
        return "depths known throughout"
    return "no depths" if share == 0 else f"depths known over {percent_words(share)}"


def _cause_words(holiday: Holiday, rules: ComposeRules) -> str:
    first, sides = (holiday.passes[0] if holiday.passes else "a pass"), " and ".join(holiday.passes[:2])
    if holiday.cause == "reason":
        return f"not surveyed, reason given: {holiday.why}"
    if holiday.cause == "lost_channel":
        why = f", {holiday.why}" if holiday.why else ""
        return f"{holiday.channel} channel of pass {first} lost {_when(holiday, rules)}{why}"
    if holiday.cause == "fast_run":
        pings = f" ({holiday.pings_on_metre:.1f} pings on a metre)" if holiday.pings_on_metre else ""
        return f"coarse picture only: pass {first} was run too fast for its range{pings}"
    if holiday.cause == "pass_not_run" and holiday.spacing_m and holiday.covers_m:
        apart, reach = (distance_words(m, rules.distance_unit) for m in (holiday.spacing_m, holiday.covers_m))
        return f"pass not run: passes {sides} lie {apart} apart and together reach {reach}"
    return {
        "under_boat": f"strip right under pass {first}",
        "behind_land": f"behind land as seen from pass {first}",
        "log_gap": f"log of pass {first} pauses {_when(holiday, rules)}",
        "unknown_swath": f"range or height of pass {first} not recorded",
        "beyond_limit": "beyond the limit of the side-scan survey",
        "not_surveyed": "neither soundings nor side-scan, no reason on record",
        "pass_not_run": "pass not run",
        "not_recorded": "cause not recorded",
    }[holiday.cause]


def _whole(share: float) -> float:
    """Take rounding out of a share, so that all of it is all of it."""
    return min(max(round(share, 6), 0.0), 1.0)
