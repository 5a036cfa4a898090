"""What a page says of the bed off its bank: how far out which depth is, where it breaks, what stands on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from atlasgen.compose.profile_words import break_words, one_in, slope_name
from atlasgen.model import ComposeRules, Sentence
from atlasgen.model.relief import ProfilePoint, ReachProfile, ReliefFeature, ReliefNear
from atlasgen.model.wording import say
from atlasgen.units import compass_words, depth_words, distance_words, listing, rise_words

# More features than these are left to the list behind the pages.
_MOST_FEATURES = 3
# A fall below 1 in 200 is level to anyone who fishes it; ours.
_LEVEL = 0.005


def profile_sentences(profile: ReachProfile, rules: ComposeRules) -> tuple[Sentence, ...]:
    """Say the depths straight out from the bank with their bound, and how far out the chosen depths lie."""
    told = [point for point in profile.stations if point.depth_m is not None]
    unknown = [point for point in profile.stations if point.depth_m is None]
    found = []
    if told:
        parts = [_depth_at(point, rules) for point in told]
        found.append(Sentence(say("bed-straight-out", depths=listing(parts)) + _bound(told, rules)))
        if unknown:
            where = listing([_distance(point.distance_m, rules) for point in unknown])
            found.append(Sentence(say("bed-depth-not-known", distances=where)))
        found += _spread(told, rules)
    found += _reached(profile, rules)
    return tuple(found)


def break_sentences(profile: ReachProfile, rules: ComposeRules) -> tuple[Sentence, ...]:
    """Say how the bottom falls from the bank, and where it breaks."""
    found = []
    if profile.slope_word is not None and profile.slope is not None:
        over = _distance(profile.slope_over_m, rules)
        facts = {"distance": over, "slope": slope_name(profile.slope_word)}
        if profile.slope > _LEVEL:
            found.append(Sentence(say("bed-slope-falls", fall=one_in(profile.slope), **facts)))
        else:
            found.append(Sentence(say("bed-slope", **facts)))
    if profile.steepest is not None:
        words = break_words(profile.steepest, rules.depth_unit, rules.distance_unit)
        found.append(Sentence(say("bed-steepest-break", fall=words), strong=True))
    elif any(point.depth_m for point in profile.points):
        found.append(Sentence(say("bed-no-break")))
    return tuple(found)


def relief_sentences(
    near: Sequence[ReliefNear], features: Mapping[str, ReliefFeature], rules: ComposeRules
) -> tuple[Sentence, ...]:
    """Name the humps, holes, ledges and channels within reach of the bank, the nearest first."""
    ordered = sorted(near, key=lambda item: (item.edge_m, item.feature))
    found = [Sentence(_feature(item, features[item.feature], rules)) for item in ordered[:_MOST_FEATURES]]
    if len(ordered) > _MOST_FEATURES:
        found.append(Sentence(say("bed-more-features", count=len(ordered) - _MOST_FEATURES)))
    return tuple(found)


def _bound(told: Sequence[ProfilePoint], rules: ComposeRules) -> str:
    bounds = [point.bound_m for point in told if point.bound_m is not None]
    if not bounds:
        return ""
    within = rise_words(max(bounds), rules.depth_unit)
    return " " + say("bed-within", bound=within)


def _spread(told: Sequence[ProfilePoint], rules: ComposeRules) -> list[Sentence]:
    """Say how much the depth differs along the reach, at the farthest station, where it matters."""
    last = told[-1]
    if last.shallowest_m is None or last.deepest_m is None:
        return []
    least, greatest = _depth(last.shallowest_m, rules), _depth(last.deepest_m, rules)
    if least == greatest:
        return []
    distance = _distance(last.distance_m, rules)
    return [Sentence(say("bed-along-reach", least=least, greatest=greatest, distance=distance))]


def _reached(profile: ReachProfile, rules: ComposeRules) -> list[Sentence]:
    hit = [
        say("bed-reached-at", depth=_depth(item.depth_m, rules), distance=_distance(item.distance_m, rules))
        for item in profile.reached
        if item.distance_m is not None
    ]
    return [Sentence(say("bed-reached", depths=listing(hit)))] if hit else []


def feature_name(feature: str, *, first: bool = False) -> str:
    """Return what a reader calls a feature, `hump 1`; `first`: at the head of a sentence or a row."""
    kind, _, number = feature.partition(" ")
    return say("bed-feature-first" if first else "bed-feature", kind=kind, number=number)


def _feature(item: ReliefNear, feature: ReliefFeature, rules: ComposeRules) -> str:
    facts = {
        "name": feature_name(feature.id, first=True),
        "way": compass_words(item.bearing_deg, 8),
        "height": rise_words(feature.height_m, rules.depth_unit),
        "least": _depth(feature.least_depth_m, rules),
        "greatest": _depth(feature.greatest_depth_m, rules),
        "sure": feature.confidence,
    }
    if feature.kind in ("hump", "ridge"):
        return say("bed-rise-off", distance=_distance(item.distance_m, rules), **facts)
    edge = _distance(item.edge_m, rules)
    return say("bed-ledge-off" if feature.kind == "ledge" else "bed-hollow-off", distance=edge, **facts)


def _depth_at(point: ProfilePoint, rules: ComposeRules) -> str:
    return say("bed-depth-at", depth=_depth(point.depth_m, rules), distance=_distance(point.distance_m, rules))


def _depth(depth_m: float | None, rules: ComposeRules) -> str:
    return depth_words(depth_m or 0.0, rules.depth_unit)


def _distance(distance_m: float, rules: ComposeRules) -> str:
    return distance_words(distance_m, rules.distance_unit)
