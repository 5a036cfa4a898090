"""What is known of the water by side-scan, in the words a crew would use to a customer."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

from atlasgen.model import ComposeRules, Sentence
from atlasgen.model.sonar import PICTURED, Cause, Holiday, ReachSonar, SonarClass, SonarCoverage, WaterShares
from atlasgen.model.wording import say
from atlasgen.units import area_words, date_words, distance_words, listing, local_time, number_words, percent_words

# Smaller parts of a page's water than this are not given a sentence; the table of gaps lists them. Ours.
LEAST_SHARE = 0.02
# So many causes are told of one page; more is a list, not a note.
MOST_CAUSES = 4
# What is left of a share by rounding.
_NONE = 1e-6

_SEEN: tuple[SonarClass, ...] = ("twice", "fine", "unknown", "coarse")


def sonar_sentences(sonar: SonarCoverage | None, reach: ReachSonar | None, rules: ComposeRules) -> tuple[Sentence, ...]:
    """Say for the water a page shows how much of it has a picture, once, twice or coarse, what is missing and why."""
    if sonar is None or reach is None:
        return (Sentence(say("sonar-none-supplied")),)
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
    if shares.depth > _NONE:
        head = say("sonar-depths", distance=within, depth=percent_words(_whole(shares.depth)))
    else:
        head = say("sonar-depths-none", distance=within)
    if pictured <= _NONE:
        return Sentence(say("sonar-head-no-picture", head=head), strong=True)
    facts, parts = {"head": head, "share": percent_words(_whole(pictured))}, _seen(shares)
    if len(parts) == 1:
        text = say("sonar-head-picture", how=say("sonar-seen", **parts[0]), **facts)
    else:
        text = say("sonar-head-pictures", how=listing([say("sonar-share-seen", **part) for part in parts]), **facts)
    return Sentence(text, strong=pictured < 0.5)


def _seen(shares: WaterShares) -> list[dict[str, str]]:
    """Return the share of each kind of picture that there is."""
    share = shares.share
    return [{"kind": name, "share": percent_words(_whole(share[name]))} for name in _SEEN if share[name] > _NONE]


def _near_sentence(reach: ReachSonar, rules: ComposeRules) -> list[Sentence]:
    """Say the same in short for the water close to the bank, where an angler stands."""
    anywhere = sum(reach.out.share[name] for name in PICTURED) > _NONE
    if not anywhere or reach.near.water_m2 == 0 or reach.near.within_m == reach.out.within_m:
        return []
    pictured = _whole(sum(reach.near.share[name] for name in PICTURED))
    within = distance_words(reach.near.within_m, rules.distance_unit)
    if not pictured:
        return [Sentence(say("sonar-near-none", distance=within))]
    return [Sentence(say("sonar-near", distance=within, share=percent_words(pictured)))]


def missing_sentence(
    cause: Cause, why: str, share: float, shares: WaterShares, holidays: Sequence[Holiday], rules: ComposeRules
) -> Sentence:
    """Say what is missing in one share of a page's water, and why; `holidays` are those the page touches."""
    much = percent_words(_whole(share))
    if cause == "reason":
        return Sentence(say("sonar-missing-reason", share=much, why=why))
    if cause == "lost_channel":
        return Sentence(_lost_words(much, why, shares.depth, holidays, rules))
    words = say("sonar-missing", cause=cause, share=much)
    return Sentence(words[0].upper() + words[1:], strong=cause == "not_surveyed")


def _lost_words(much: str, why: str, depth: float, holidays: Sequence[Holiday], rules: ComposeRules) -> str:
    """Tell of a lost channel, whose blank strip a customer might take for a fault of the display."""
    lost = [holiday for holiday in holidays if holiday.cause == "lost_channel" and holiday.why == why]
    told = [say("sonar-lost", share=much)]
    if lost:
        sides = [say("sonar-side", side=side) for side in sorted({h.channel for h in lost if h.channel})]
        passes = sorted({holiday.passes[0] for holiday in lost if holiday.passes})
        where = {"sides": listing(sides), "passes": listing(passes), "when": _when(lost[0], rules)}
        told = [say("sonar-lost-when", share=much, **where)]
    if why:
        told.append(say("sonar-lost-why", why=why))
    covered = min((holiday.share_depth for holiday in lost), default=depth)
    if covered > 0.99:
        told.append(say("sonar-lost-depths"))
    elif covered > 0:
        told.append(say("sonar-lost-some-depths", share=percent_words(_whole(covered))))
    return " ".join(told)


def _when(holiday: Holiday, rules: ComposeRules) -> str:
    if holiday.from_s is None or holiday.to_s is None:
        return say("sonar-times-unknown")
    start, end = (local_time(datetime.fromtimestamp(at, UTC), rules.zone) for at in (holiday.from_s, holiday.to_s))
    clock = "%H:%M:%S" if end - start < timedelta(minutes=2) else "%H:%M"
    facts = {"start": f"{start:{clock}}", "end": f"{end:{clock}}", "day": date_words(start.date())}
    if end.date() == start.date():
        return say("sonar-times", **facts)
    return say("sonar-times-days", last=date_words(end.date()), **facts)


def holiday_words(holiday: Holiday, rules: ComposeRules) -> str:
    """Say one gap in one sentence, for a table: cause, size, what is known there all the same."""
    area = area_words(holiday.area_m2, rules.distance_unit)
    return say("sonar-gap", cause=_cause_words(holiday, rules), area=area, depths=_depth_words(holiday))


def _depth_words(holiday: Holiday) -> str:
    share = _whole(holiday.share_depth)
    if share == 1:
        return say("sonar-gap-depths")
    return say("sonar-gap-no-depths") if share == 0 else say("sonar-gap-some-depths", share=percent_words(share))


def _cause_words(holiday: Holiday, rules: ComposeRules) -> str:
    first = holiday.passes[0] if holiday.passes else say("sonar-a-pass")
    if holiday.cause == "reason":
        return say("sonar-gap-reason", why=holiday.why)
    if holiday.cause == "lost_channel":
        facts = {"side": holiday.channel or "", "run": first, "when": _when(holiday, rules)}
        return say("sonar-gap-lost-why", why=holiday.why, **facts) if holiday.why else say("sonar-gap-lost", **facts)
    if holiday.cause == "fast_run":
        return _fast_words(first, holiday.pings_on_metre)
    if holiday.cause == "pass_not_run" and holiday.spacing_m and holiday.covers_m:
        apart, reach = (distance_words(m, rules.distance_unit) for m in (holiday.spacing_m, holiday.covers_m))
        return say("sonar-gap-apart", passes=listing(holiday.passes[:2]), apart=apart, reach=reach)
    if holiday.cause == "log_gap":
        return say("sonar-gap-log", when=_when(holiday, rules), run=first)
    return say("sonar-gap-cause", cause=holiday.cause, run=first)


def _fast_words(run: str, pings_on_metre: float | None) -> str:
    if not pings_on_metre:
        return say("sonar-gap-fast", run=run)
    return say("sonar-gap-fast-pings", run=run, pings=number_words(pings_on_metre, 1))


def _whole(share: float) -> float:
    """Take rounding out of a share, so that all of it is all of it."""
    return min(max(round(share, 6), 0.0), 1.0)
