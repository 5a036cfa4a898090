"""Words for repeat photographs: on a page where the same bank was taken again, and beside the two on the screen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from atlasgen.compose.captions import day_words
from atlasgen.model import ComposeRules, Note, Photo, Sentence
from atlasgen.model.repeats import FormerRepeat, RepeatPair, RepeatRules
from atlasgen.model.wording import say
from atlasgen.units import DepthUnit, DistanceUnit, distance_words, level_words, rise_words, set_words

# Less is nothing once it is rounded to a tenth of a metre.
_NOTHING_M = 0.05


def repeat_notes(
    photos: Sequence[Photo],
    repeats: Sequence[RepeatPair],
    taken: Mapping[str, datetime | None],
    where: Mapping[str, tuple[int, int]],
    rules: ComposeRules,
    formers: Sequence[FormerRepeat] = (),
) -> tuple[Note, ...]:
    """Return the note of a page that names the other photo of each pair, none where there is no pair.

    `where` gives page and number there of every photo, `taken` its time; `formers` are photos of the edition before.
    """
    here = {photo.id: number for number, photo in enumerate(photos, 1)}
    sentences: list[Sentence] = []
    for number, photo in enumerate(photos, 1):
        for pair in repeats:
            if {pair.earlier, pair.later} <= here.keys():
                sentences += _both_here(pair, here, taken, rules) if photo.id == pair.earlier else ()
            elif photo.id in (pair.earlier, pair.later):
                sentences += _of_pair(number, pair, pair.other(photo.id), taken, where, rules)
        for former in formers:
            sentences += _of_former(number, former, rules) if former.photo == photo.id else ()
    return (Note("repeats", say("note-heading", topic="repeats"), tuple(sentences)),) if sentences else ()


def _of_former(number: int, former: FormerRepeat, rules: ComposeRules) -> tuple[Sentence, ...]:
    said = say(
        "repeats-former",
        number=number,
        edition=former.edition,
        day=day_words(former.taken, rules.zone),
        apart=distance_words(former.apart_m, rules.distance_unit),
        other=former.number,
        page=former.page,
    )
    level = "" if former.stage_m is None else level_words(former.stage_m, rules.depth_unit)
    return (Sentence(said), *([Sentence(say("repeats-former-level", level=level))] if level else []))


def _both_here(
    pair: RepeatPair, here: Mapping[str, int], taken: Mapping[str, datetime | None], rules: ComposeRules
) -> tuple[Sentence, ...]:
    said = say(
        "repeats-here",
        number=here[pair.earlier],
        other=here[pair.later],
        day=day_words(taken[pair.earlier], rules.zone),
        later=day_words(taken[pair.later], rules.zone),
        apart=distance_words(pair.apart_m, rules.distance_unit),
    )
    return (Sentence(said), *_change(pair.level_m, rules))


def _of_pair(
    number: int,
    pair: RepeatPair,
    other: str,
    taken: Mapping[str, datetime | None],
    where: Mapping[str, tuple[int, int]],
    rules: ComposeRules,
) -> tuple[Sentence, ...]:
    page, its_number = where[other]
    said = say(
        "repeats-pair",
        when="later" if other == pair.later else "earlier",
        number=number,
        day=day_words(taken[other], rules.zone),
        apart=distance_words(pair.apart_m, rules.distance_unit),
        other=its_number,
        page=page,
    )
    change_m = None if pair.level_m is None else pair.level_m if other == pair.later else -pair.level_m
    return (Sentence(said), *_change(change_m, rules))


def _change(change_m: float | None, rules: ComposeRules) -> tuple[Sentence, ...]:
    words = change_words(change_m, rules.depth_unit)
    return (Sentence(words),) if words else ()


def change_words(change_m: float | None, unit: DepthUnit) -> str:
    """Say how much lower or higher the water then stood; "" where that is not known or nothing at all."""
    if change_m is None or abs(change_m) < _NOTHING_M:
        return ""
    height = rise_words(abs(change_m), unit)
    return say("repeats-fallen", height=height) if change_m < 0 else say("repeats-risen", height=height)


def told_words(pair: RepeatPair, unit: DistanceUnit) -> str:
    """Say how alike the two of a pair are."""
    return say(
        "repeats-told",
        apart=distance_words(pair.apart_m, unit),
        turn=round(pair.turn_deg),
        days=pair.days,
        shared=distance_words(pair.shared_m, unit),
    )


def limits_words(rules: RepeatRules, distance_unit: DistanceUnit, depth_unit: DepthUnit) -> str:
    """Say when two photos count as a pair."""
    return say(
        "repeats-limits",
        most=set_words(rules.most_apart_m, distance_unit),
        turn=round(rules.turn_deg),
        level=rise_words(rules.level_m, depth_unit),
        days=rules.days,
    )


def tag_words(day: str, stage_m: float | None, unit: DepthUnit) -> str:
    """Say when a photo was taken and how the water stood."""
    if stage_m is None:
        return say("repeats-tag-no-level", day=day)
    return say("repeats-tag", day=day, level=level_words(stage_m, unit))
