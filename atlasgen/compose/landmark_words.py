"""What a page says of the crew's landmarks near its bank: hazards first and loud, then ramps, ways in and the rest."""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely
from shapely import Point

from atlasgen.model import Reach, Sentence
from atlasgen.model.landmarks import LANDMARK_KINDS, Landmark, LandmarkKind
from atlasgen.model.wording import say
from atlasgen.units import DistanceUnit, compass_words, distance_words

# As far as a bank's page looks for landmarks; a long way to cast and a short one to row. Ours.
NEAR_M = 150.0
# Nearer than this it is at the bank: about what a hand-held position bears. Ours.
_AT_BANK_M = 5.0
# More than these of one bank are left to the map; hazards are all told.
_MOST = 4


def kind_words(kind: LandmarkKind) -> str:
    """Return what a kind is called at the head of a line."""
    return say("landmarks-kind", kind=kind)


def hazard_caution(landmarks: Sequence[Landmark]) -> str:
    """Say what the marks of hazards, or their absence, do not mean."""
    marked = any(mark.kind == "hazard" for mark in landmarks)
    return say("landmarks-marked-caution") if marked else say("landmarks-unmarked-caution")


def landmark_sentences(
    reach: Reach, landmarks: Sequence[Landmark], distance_unit: DistanceUnit
) -> tuple[Sentence, ...]:
    """Say what lies within `NEAR_M` of a reach, hazards first, each kind by distance, and the nearest ramp."""
    near = near_landmarks(reach, landmarks)
    hazards = [item for item in near if item[0].kind == "hazard"]
    others = [item for item in near if item[0].kind != "hazard"]
    found = [Sentence(_told(mark, away_m, reach, distance_unit), strong=True) for mark, away_m in hazards]
    found += [Sentence(say("landmarks-not-only-hazard"))] if hazards else []
    found += [Sentence(_told(mark, away_m, reach, distance_unit)) for mark, away_m in others[:_MOST]]
    if len(others) > _MOST:
        found.append(Sentence(say("landmarks-more", count=len(others) - _MOST)))
    return (*found, *_nearest_ramp(reach, landmarks, distance_unit))


def near_landmarks(reach: Reach, landmarks: Sequence[Landmark]) -> list[tuple[Landmark, float]]:
    """Return the landmarks within `NEAR_M` of a reach with their distance in metres, in the order they are told."""
    away = [(mark, float(reach.line.distance(Point(mark.point)))) for mark in landmarks]
    near = [item for item in away if item[1] <= NEAR_M]
    return sorted(near, key=lambda item: (LANDMARK_KINDS.index(item[0].kind), item[1], item[0].id))


def title_of(mark: Landmark) -> str:
    """Return what a landmark is called: its name, else its kind."""
    return mark.name or kind_words(mark.kind)


def _told(mark: Landmark, away_m: float, reach: Reach, unit: DistanceUnit) -> str:
    where = _where(mark, away_m, reach, unit)
    told = say("landmarks-told", kind=mark.kind, named=_named(mark), name=mark.name, where=where)
    return _with_words(told, mark.words)


def _named(mark: Landmark) -> str:
    return "yes" if mark.name else "no"


def _where(mark: Landmark, away_m: float, reach: Reach, unit: DistanceUnit) -> str:
    side = "bank" if away_m < _AT_BANK_M else "water" if mark.over_water else "land"
    return say("landmarks-where", side=side, away=distance_words(away_m, unit), way=_way(mark, reach))


def _way(mark: Landmark, reach: Reach) -> str:
    foot = shapely.shortest_line(reach.line, Point(mark.point)).coords[0]
    east_m, north_m = mark.point.x_m - foot[0], mark.point.y_m - foot[1]
    # The map's north is true to a fraction of a degree; eight points do not show it.
    return compass_words(math.degrees(math.atan2(east_m, north_m)), 8)


def _with_words(text: str, words: str) -> str:
    if not words:
        return text
    return f"{text} {words}" if words.endswith((".", "!", "?", "…")) else f"{text} {words}."


def _nearest_ramp(reach: Reach, landmarks: Sequence[Landmark], unit: DistanceUnit) -> tuple[Sentence, ...]:
    ramps = [(float(reach.line.distance(Point(mark.point))), mark) for mark in landmarks if mark.kind == "ramp"]
    if not ramps:
        return ()
    away_m, ramp = min(ramps, key=lambda item: (item[0], item[1].id))
    if away_m <= NEAR_M:
        return ()
    facts = {"away": distance_words(away_m, unit), "way": _way(ramp, reach)}
    return (Sentence(say("landmarks-nearest-ramp", named=_named(ramp), name=ramp.name, **facts)),)
