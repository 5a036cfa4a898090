"""Sentences built from facts: the notes of a page. What is unknown is said to be unknown."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby

from atlasgen.compose.bed_words import break_sentences, profile_sentences, relief_sentences
from atlasgen.compose.coverage_words import sonar_sentences
from atlasgen.compose.history_words import layer_sentences
from atlasgen.compose.landmark_words import landmark_sentences
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
from atlasgen.model.wording import say
from atlasgen.units import (
    count_words,
    depth_number,
    depth_words,
    distance_words,
    level_words,
    listing,
    percent_words,
)

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
    return tuple(Note(topic, say("note-heading", topic=topic), sentences) for topic, sentences in notes if sentences)


def _how_well(reach: Reach, known: Known, rules: ComposeRules) -> tuple[Sentence, ...]:
    sounded = coverage_sentences(known.reach_coverage.get(reach.id), rules)
    if known.soundings_used == 0 and known.grid is not None:
        sounded = (Sentence(say("note-how-not-recorded")),)
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
        none = Sentence(say("note-no-soundings-but-depths" if told else "note-no-soundings"), strong=True)
        return (none, *_out_from_bank(depth, profile, rules)) if told else (none,)
    within = distance_words(depth.off_bank_m, rules.distance_unit)
    if depth.soundings == 0:
        known = "note-none-near-modelled" if _told(depth, profile) else "note-none-near"
        none = Sentence(say(known, within=within), strong=True)
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
    depths_m = {"shallowest": depth.shallowest_m, "median": depth.median_m, "deepest": depth.deepest_m}
    dry = [name for name, depth_m in depths_m.items() if _is_dry(depth_m, rules)]
    said = {
        name: say("words-not-known") if depth_m is None else depth_words(depth_m, rules.depth_unit)
        for name, depth_m in depths_m.items()
    }
    level = rules.depths_below if depth.reduced else say("note-water-on-the-day")
    message = _spread_message(depth.soundings, dry)
    return Sentence(say(message, count=count_words(depth.soundings), within=within, level=level, **said), strong=True)


def _is_dry(depth_m: float | None, rules: ComposeRules) -> bool:
    return depth_m is not None and depth_number(depth_m, rules.depth_unit) < 0


def _spread_message(soundings: int, dry: Sequence[str]) -> str:
    if "deepest" in dry:
        return "note-one-dry" if soundings == 1 else "note-all-dry"
    if soundings == 1:
        return "note-one"
    if "median" in dry:
        return "note-half-dry"
    return "note-shallowest-dry" if "shallowest" in dry else "note-spread"


def _profile_sentences(depth: ReachDepth, rules: ComposeRules) -> tuple[Sentence, ...]:
    known = [(at_m, value) for at_m, value in depth.profile_m if value is not None]
    unknown = [at_m for at_m, value in depth.profile_m if value is None]
    unit, sentences = rules.distance_unit, []
    if known:
        parts = [
            say("note-depth-at", depth=depth_words(depth_m, rules.depth_unit), distance=distance_words(at_m, unit))
            for at_m, depth_m in known
        ]
        sentences.append(Sentence(say("note-out-from-middle", depths=listing(parts))))
    if known and unknown:
        parts = [distance_words(at_m, unit) for at_m in unknown]
        sentences.append(Sentence(say("note-unknown-at", distances=listing(parts))))
    return tuple(sentences)


def _reduction_sentences(depth: ReachDepth) -> tuple[Sentence, ...]:
    return () if depth.reduced else (Sentence(say("note-not-reduced")),)


def coverage_sentences(coverage: ReachCoverage | None, rules: ComposeRules) -> tuple[Sentence, ...]:
    """Say how densely the water off one reach is sounded, and why not, where not."""
    if coverage is None or coverage.water_m2 <= 0:
        return (Sentence(say("note-coverage-unknown")),)
    within = distance_words(coverage.off_bank_m, rules.distance_unit)
    return (*_density_sentences(coverage, within, rules), *_reason_sentences(coverage))


def _density_sentences(coverage: ReachCoverage, within: str, rules: ComposeRules) -> tuple[Sentence, ...]:
    share, near = coverage.share_near_sounding, distance_words(coverage.near_sounding_m, rules.distance_unit)
    if share is None:
        return (Sentence(say("note-not-surveyed")),)
    if share == 0:
        return (Sentence(say("note-none-covered", within=within, near=near), strong=True),)
    if share == 1:
        return (Sentence(say("note-all-covered", within=within, near=near)),)
    return (
        Sentence(say("note-share-covered", share=percent_words(share), within=within, near=near)),
        Sentence(say("note-rest-not-sounded", share=percent_words(1 - share)), strong=share < 0.5),
    )


def _reason_sentences(coverage: ReachCoverage) -> tuple[Sentence, ...]:
    sentences = [
        Sentence(say("note-marked", share=percent_words(share), reason=reason)) for reason, share in coverage.reasons
    ]
    if not sentences and coverage.share_near_sounding is not None and coverage.share_near_sounding < 0.5:
        sentences.append(Sentence(say("note-no-reason")))
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
        numbers = [str(number) for number, _ in group]
        who = _who(len(numbers), len(photos))
        sentences.append(
            Sentence(say(_level_message(day, level), who=who, numbers=listing(numbers), day=day, level=level))
        )
    return tuple(sentences)


def _level_message(day: str, level: str) -> str:
    if not day:
        return "note-day-unknown"
    return "note-level" if level else "note-level-unknown"


def _who(count: int, of: int) -> str:
    """Name the form that speaks of so many of a page's photos."""
    if count == of:
        return "this" if of == 1 else "all"
    return "one" if count == 1 else "some"


def shown_sentences(states: ReachStates, elsewhere: Sequence[tuple[int, int]]) -> tuple[Sentence, ...]:
    """Say how much of the reach is shown at all, and where else to look."""
    length_m = sum(states.lengths_m.values())
    seen_m = states.lengths_m["well"] + states.lengths_m["poorly"]
    share = seen_m / length_m if length_m else 0.0
    if share == 0:
        sentences = [Sentence(say("note-not-shown"))]
    elif share > 0.995:
        sentences = [Sentence(say("note-all-shown"))]
    else:
        sentences = [Sentence(say("note-share-shown", share=percent_words(share)))]
    return (*sentences, *_elsewhere_sentences(elsewhere))


def _elsewhere_sentences(elsewhere: Sequence[tuple[int, int]]) -> tuple[Sentence, ...]:
    places = [say("note-elsewhere-on", page=page, photo=number) for page, number in elsewhere[:_ELSEWHERE_TOLD]]
    more = len(elsewhere) - len(places)
    if more:
        return (Sentence(say("note-elsewhere-more", pages=", ".join(places), count=more)),)
    return (Sentence(say("note-elsewhere", pages=listing(places))),) if places else ()


def position_sentences(photos: Sequence[Photo]) -> tuple[Sentence, ...]:
    """Say how each position was obtained, photos of one way together."""

    def way(item: tuple[int, Photo]) -> str:
        return item[1].position_how

    sentences = []
    for how, group in groupby(sorted(enumerate(photos, 1), key=way), key=way):
        numbers = [str(number) for number, _ in group]
        message = "note-stations" if len(photos) > 1 else "note-station"
        sentences.append(Sentence(say(message, count=len(numbers), numbers=listing(numbers), how=how)))
    return tuple(sentences)
