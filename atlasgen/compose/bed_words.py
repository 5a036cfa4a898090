"""What a page says of the bed off its bank: how far out which depth is, where it breaks, what stands on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from atlasgen.compose.profile_words import break_words, one_in
from atlasgen.compose.words import listing
from atlasgen.model import ComposeRules, Sentence
from atlasgen.model.relief import ProfilePoint, ReachProfile, ReliefFeature, ReliefNear
from atlasgen.units import compass_words, depth_words, distance_words, rise_words

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
        parts = [f"{_depth(p.depth_m, rules)} at {_distance(p.distance_m, rules)}" for p in told]
        found.append(Sentence(f"Straight out from the bank: {listing(parts)}.{_bound(told, rules)}"))
        if unknown:
            where = listing([_distance(point.distance_m, rules) for point in unknown])
            found.append(Sentence(f"At {where} the depth is not known."))
        found += _spread(told, rules)
    found += _reached(profile, rules)
    return tuple(found)


def break_sentences(profile: ReachProfile, rules: ComposeRules) -> tuple[Sentence, ...]:
    """Say how the bottom falls from the bank, and where it breaks."""
    found = []
    if profile.slope_word is not None and profile.slope is not None:
        over = _distance(profile.slope_over_m, rules)
        fall = f" ({one_in(profile.slope)})" if profile.slope > _LEVEL else ""
        found.append(Sentence(f"Over the first {over} from the bank the bottom is {profile.slope_word}{fall}."))
    if profile.steepest is not None:
        words = break_words(profile.steepest, rules.depth_unit, rules.distance_unit)
        found.append(Sentence(f"Its steepest break falls {words}.", strong=True))
    elif any(point.depth_m for point in profile.points):
        found.append(Sentence("No break stands out from what the soundings themselves leave open."))
    return tuple(found)


def relief_sentences(
    near: Sequence[ReliefNear], features: Mapping[str, ReliefFeature], rules: ComposeRules
) -> tuple[Sentence, ...]:
    """Name the humps, holes, ledges and channels within reach of the bank, the nearest first."""
    ordered = sorted(near, key=lambda item: (item.edge_m, item.feature))
    found = [Sentence(_feature(item, features[item.feature], rules)) for item in ordered[:_MOST_FEATURES]]
    if len(ordered) > _MOST_FEATURES:
        found.append(Sentence(f"{len(ordered) - _MOST_FEATURES} more are in the list behind the pages."))
    return tuple(found)


def _bound(told: Sequence[ProfilePoint], rules: ComposeRules) -> str:
    bounds = [point.bound_m for point in told if point.bound_m is not None]
    if not bounds:
        return ""
    within = rise_words(max(bounds), rules.depth_unit)
    return f" In 95 of 100 places like these the depth is within {within} of that."


def _spread(told: Sequence[ProfilePoint], rules: ComposeRules) -> list[Sentence]:
    """Say how much the depth differs along the reach, at the farthest station, where it matters."""
    last = told[-1]
    if last.shallowest_m is None or last.deepest_m is None:
        return []
    least, greatest = _depth(last.shallowest_m, rules), _depth(last.deepest_m, rules)
    if least == greatest:
        return []
    return [Sentence(f"Along this reach it is {least} to {greatest} at {_distance(last.distance_m, rules)}.")]


def _reached(profile: ReachProfile, rules: ComposeRules) -> list[Sentence]:
    hit = [
        f"{_depth(item.depth_m, rules)} deep {_distance(item.distance_m, rules)} out"
        for item in profile.reached
        if item.distance_m is not None
    ]
    return [Sentence(f"It is {listing(hit)}.")] if hit else []


def _feature(item: ReliefNear, feature: ReliefFeature, rules: ComposeRules) -> str:
    name = f"{feature.id[:1].upper()}{feature.id[1:]}"
    way = compass_words(item.bearing_deg, 8)
    height = rise_words(feature.height_m, rules.depth_unit)
    unsure = "" if feature.confidence == "good" else f"; how sure: {feature.confidence}"
    least, greatest = _depth(feature.least_depth_m, rules), _depth(feature.greatest_depth_m, rules)
    if feature.kind in ("hump", "ridge"):
        off = f"{_distance(item.distance_m, rules)} off this bank to the {way}"
        return f"{name} lies {off}: least depth {least}, {height} above the bed around it{unsure}."
    off = f"{_distance(item.edge_m, rules)} off this bank at the nearest, to the {way}"
    if feature.kind == "ledge":
        return f"{name} lies {off}: it drops from {least} to {greatest}{unsure}."
    return f"{name} lies {off}: down to {greatest}, {height} below the bed around it{unsure}."


def _depth(depth_m: float | None, rules: ComposeRules) -> str:
    return depth_words(depth_m or 0.0, rules.depth_unit)


def _distance(distance_m: float, rules: ComposeRules) -> str:
    return distance_words(distance_m, rules.distance_unit)
