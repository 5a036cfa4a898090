"""Sentences built from facts: the notes of a page. What is unknown is said to be unknown."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby

from atlasgen.compose.bed_words import break_sentences, profile_sentences, relief_sentences
from atlasgen.compose.coverage_words import sonar_sentences
from atlasgen.compose.history_words import layer_sentences
from atlasgen.compose.landmark_words import landmark_sentences
from atlasgen.compose.words import HEADINGS, listing
from atlasgen.model import (
    ComposeRules,
    Known,
    Note,
    Photo,
    PointM,
    Reach,
    ReachCoverage,
    ReachDepth,
    ReachStates,
    Sentence,
)
from atlasgen.model.landmarks import Landmark
from atlasgen.model.relief import ReachProfile
from atlasgen.units import count_words, depth_words, distance_words, level_words, percent_words

# More pages than this are not looked up from paper; the web atlas lists them all.
_ELSEWHERE_TOLD = 4


def page_notes(
    reach: Reach,
    photos: Sequence[Photo],
    known: Known,
    dates: Mapping[str, str],
    elsewhere: Sequence[tuple[int, int]],
    rules: ComposeRules,
    landmarks: Sequence[Landmark] = (),
) -> tuple[Note, ...]:
    """Return the notes of one page in the order a reader asks: depth, what is close by, bed, coverage, level and so on.

    `dates` gives each photo's day in words, "" where its time is unknown; `elsewhere` the page and the number there of
    other photos that show this reach, best first.
    """
    profile = known.profiles.get(reach.id)
    notes = (
        ("depth", depth_sentences(known.reach_depth.get(reach.id), known.soundings_used, rules, profile)),
        ("close", landmark_sentences(reach, landmarks, rules.distance_unit)),
        ("bed", _bed_sentences(reach, known, rules)),
        ("coverage", _how_well(reach, known, rules)),
        ("level", level_sentences(photos, known.stage_of_photo_m, dates, rules)),
        ("shown", shown_sentences(known.audit.reaches[reach.id], elsewhere)),
        ("layers", _layer_sentences(reach, known, rules)),
        ("position", position_sentences(photos)),
    )
    return tuple(Note(topic, HEADINGS[topic], sentences) for topic, sentences in notes if sentences)


def _how_well(reach: Reach, known: Known, rules: ComposeRules) -> tuple[Sentence, ...]:
    sounded = coverage_sentences(known.reach_coverage.get(reach.id), rules)
    if known.soundings_used == 0 and known.grid is not None:
        sounded = (Sentence("No soundings were supplied; how the supplied depths were surveyed is not recorded here."),)
    return (*sounded, *sonar_sentences(known.sonar, known.reach_sonar.get(reach.id), rules))


def _bed_sentences(reach: Reach, known: Known, rules: ComposeRules) -> tuple[Sentence, ...]:
    """Say how the bed falls off a reach, and what stands on it within reach of the bank."""
    profile, features = known.profiles.get(reach.id), {feature.id: feature for feature in known.relief}
    fall = break_sentences(profile, rules) if profile else ()
    return (*fall, *relief_sentences(known.relief_near.get(reach.id, ()), features, rules))


def _layer_sentences(reach: Reach, known: Known, rules: ComposeRules) -> tuple[Sentence, ...]:
    middle = reach.line.interpolate(0.5, normalized=True)
    covering = [layer for layer in known.layers if reach.id in layer.reaches]
    at = PointM(middle.x, middle.y)
    return tuple(sentence for layer in covering for sentence in layer_sentences(layer, at, rules))


def depth_sentences(
    depth: ReachDepth | None, soundings_used: int, rules: ComposeRules, profile: ReachProfile | None = None
) -> tuple[Sentence, ...]:
    """Say what the soundings off one reach give, and what they do not."""
    if soundings_used == 0 or depth is None:
        told = _told(depth, profile)
        known = "The depths are those supplied with the survey." if told else "The depth here is not known."
        none = Sentence(f"No soundings were supplied. {known}", strong=True)
        return (none, *_out_from_bank(depth, profile, rules)) if told else (none,)
    within = distance_words(depth.off_bank_m, rules.distance_unit)
    if depth.soundings == 0:
        known = "The depths are those of the model alone." if _told(depth, profile) else "The depth here is not known."
        none = Sentence(f"No sounding was taken within {within} of this bank. {known}", strong=True)
        return (none, *_out_from_bank(depth, profile, rules))
    return (
        _spread_sentence(depth, within, rules),
        *_out_from_bank(depth, profile, rules),
        *_reduction_sentences(depth),
    )


def _told(depth: ReachDepth | None, profile: ReachProfile | None) -> bool:
    """Tell whether any depth off the bank is known, from soundings farther out or a raster; the bank itself apart."""
    at = depth.profile_m if depth else ()
    if profile is not None:
        at = tuple((point.distance_m, point.depth_m) for point in profile.points)
    return any(depth_m is not None for distance_m, depth_m in at if distance_m > 0)


def _out_from_bank(depth: ReachDepth | None, profile: ReachProfile | None, rules: ComposeRules) -> tuple[Sentence, ...]:
    if profile is not None:
        return profile_sentences(profile, rules)
    return _profile_sentences(depth, rules) if depth else ()


def _spread_sentence(depth: ReachDepth, within: str, rules: ComposeRules) -> Sentence:
    low, mid, deep = (
        depth_words(value, rules.depth_unit) if value is not None else "not known"
        for value in (depth.shallowest_m, depth.median_m, depth.deepest_m)
    )
    level = rules.depths_below if depth.reduced else "the water on the day"
    dry = f"on ground that is dry with {level}"
    if deep == "dry":
        them = "It lies" if depth.soundings == 1 else "All of them lie"
        count = "One sounding was" if depth.soundings == 1 else f"{count_words(depth.soundings)} soundings were"
        return Sentence(f"{count} taken within {within} of this bank. {them} {dry}.", strong=True)
    if depth.soundings == 1:
        return Sentence(f"One sounding was taken within {within} of this bank: {deep} below {level}.", strong=True)
    if mid == "dry":
        spread = f"half of them or more {dry}, deepest {deep} below that"
    elif low == "dry":
        spread = f"the shallowest {dry}, half of them deeper than {mid}, deepest {deep} below that"
    else:
        spread = f"shallowest {low}, half of them deeper than {mid}, deepest {deep} below {level}"
    return Sentence(f"{count_words(depth.soundings)} soundings within {within} of this bank: {spread}.", strong=True)


def _profile_sentences(depth: ReachDepth, rules: ComposeRules) -> tuple[Sentence, ...]:
    known = [(at_m, value) for at_m, value in depth.profile_m if value is not None]
    unknown = [at_m for at_m, value in depth.profile_m if value is None]
    sentences = []
    if known:
        parts = [f"{depth_words(v, rules.depth_unit)} at {distance_words(a, rules.distance_unit)}" for a, v in known]
        sentences.append(Sentence(f"Straight out from the middle of the reach: {listing(parts)} from the bank."))
    if known and unknown:
        parts = [distance_words(at_m, rules.distance_unit) for at_m in unknown]
        sentences.append(Sentence(f"At {listing(parts)} it is not known."))
    return tuple(sentences)


def _reduction_sentences(depth: ReachDepth) -> tuple[Sentence, ...]:
    if depth.reduced:
        return ()
    text = "No stage record was supplied, so these depths are not tied to the datum: they are below the water surface "
    return (Sentence(text + "on the day of the survey."),)


def coverage_sentences(coverage: ReachCoverage | None, rules: ComposeRules) -> tuple[Sentence, ...]:
    """Say how densely the water off one reach is sounded, and why not, where not."""
    if coverage is None or coverage.water_m2 <= 0:
        return (Sentence("How well this water was surveyed is not known."),)
    within = distance_words(coverage.off_bank_m, rules.distance_unit)
    return (*_density_sentences(coverage, within, rules), *_reason_sentences(coverage))


def _density_sentences(coverage: ReachCoverage, within: str, rules: ComposeRules) -> tuple[Sentence, ...]:
    share, near = coverage.share_near_sounding, distance_words(coverage.near_sounding_m, rules.distance_unit)
    if share is None:
        return (Sentence("No soundings were supplied, so this water counts as not surveyed."),)
    if share == 0:
        return (
            Sentence(f"None of the water within {within} of this bank is within {near} of a sounding.", strong=True),
        )
    if share == 1:
        return (Sentence(f"All of the water within {within} of this bank is within {near} of a sounding."),)
    text = f"{percent_words(share)} of the water within {within} of this bank is within {near} of a sounding."
    rest = f"The other {percent_words(1 - share)} was not sounded."
    return (Sentence(text), Sentence(rest, strong=share < 0.5))


def _reason_sentences(coverage: ReachCoverage) -> tuple[Sentence, ...]:
    sentences = [
        Sentence(f"The crew marked {percent_words(share)} of it as not surveyed: {reason}.")
        for reason, share in coverage.reasons
    ]
    if not sentences and coverage.share_near_sounding is not None and coverage.share_near_sounding < 0.5:
        sentences.append(Sentence("The crew gave no reason for that."))
    return tuple(sentences)


def level_sentences(
    photos: Sequence[Photo], stage_of_photo_m: Mapping[str, float | None], dates: Mapping[str, str], rules: ComposeRules
) -> tuple[Sentence, ...]:
    """Say the stage at the time of each photo, photos of one day and level together."""

    def same(item: tuple[int, Photo]) -> tuple[str, str]:
        stage_m = stage_of_photo_m.get(item[1].id)
        return dates.get(item[1].id, ""), "" if stage_m is None else level_words(stage_m, rules.depth_unit)

    sentences = []
    for (day, level), group in groupby(sorted(enumerate(photos, 1), key=same), key=same):
        who = _who([number for number, _ in group], len(photos))
        sentences.append(Sentence(_level_text(who, day, level)))
    return tuple(sentences)


def _level_text(who: str, day: str, level: str) -> str:
    if not day:
        return f"When {who} taken is not known, so neither is the water level then."
    if not level:
        return f"The water level on {day}, when {who} taken, is not known."
    return f"On {day}, when {who} taken, the water stood {level}."


def _who(numbers: list[int], of: int) -> str:
    if of == 1:
        return "this photo was"
    if len(numbers) == of:
        return "these photos were"
    return f"photo {numbers[0]} was" if len(numbers) == 1 else f"photos {listing([str(n) for n in numbers])} were"


def shown_sentences(states: ReachStates, elsewhere: Sequence[tuple[int, int]]) -> tuple[Sentence, ...]:
    """Say how much of the reach is shown at all, and where else to look."""
    length_m = sum(states.lengths_m.values())
    seen_m = states.lengths_m["well"] + states.lengths_m["poorly"]
    share = seen_m / length_m if length_m else 0.0
    if share == 0:
        sentences = [Sentence("No photograph is known to show this bank.")]
    elif share > 0.995:
        sentences = [Sentence("All of this reach is shown in some photograph.")]
    else:
        sentences = [Sentence(f"{percent_words(share)} of this reach is shown in some photograph.")]
    if elsewhere:
        places = [f"page {page} (photo {number})" for page, number in elsewhere[:_ELSEWHERE_TOLD]]
        more = f", and {len(elsewhere) - len(places)} more" if len(elsewhere) > len(places) else ""
        sentences.append(Sentence(f"It is also seen on {listing(places) if not more else ', '.join(places)}{more}."))
    return tuple(sentences)


def position_sentences(photos: Sequence[Photo]) -> tuple[Sentence, ...]:
    """Say how each position was obtained, photos of one way together."""

    def way(item: tuple[int, Photo]) -> str:
        return item[1].position_how

    sentences = []
    for how, group in groupby(sorted(enumerate(photos, 1), key=way), key=way):
        numbers = [number for number, _ in group]
        who = f"Photo{'s' if len(numbers) > 1 else ''} {listing([str(n) for n in numbers])}"
        sentences.append(Sentence(f"{who if len(photos) > 1 else 'Station'}: {how}."))
    return tuple(sentences)
