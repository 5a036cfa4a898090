"""A page's photos in words, and a turn-around set as one picture: views, reaches and places brought together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from atlasgen.compose.captions import describe, reach_name, turn_caption, turn_words
from atlasgen.compose.compass import compass
from atlasgen.compose.sight_words import across_words
from atlasgen.model import Compass, ComposeRules, Figure, NamedArea, Photo, Reach, ReachSeen, TurnAround, View
from atlasgen.model.memory import Memory


class PhotoFacts(NamedTuple):
    """What is known of each photo, by its id; water and places are metric.

    `homes` names the reach that each photo shows best, else the one it is nearest to.
    """

    views: Mapping[str, View]
    reaches: Mapping[str, Reach]
    homes: Mapping[str, str]
    stage_m: Mapping[str, float | None]
    water: Any
    places: Sequence[NamedArea]
    rules: ComposeRules


def figures_of(numbered: Sequence[tuple[int, Photo]], facts: PhotoFacts, memory: Memory) -> tuple[Figure, ...]:
    """Return the figures of a page's photos, or remember them; all that one is made from is named here."""
    homes = [facts.homes[photo.id] for _, photo in numbered]
    told = [(facts.views.get(photo.id), facts.stage_m.get(photo.id)) for _, photo in numbered]
    banks = [facts.reaches.get(home) for home in homes]
    made_of = (numbered, homes, told, banks, facts.water, facts.places, facts.rules)
    return memory.remember("figures", made_of, lambda: tuple(figure_of(n, photo, facts) for n, photo in numbered))


def figure_of(number: int, photo: Photo, facts: PhotoFacts) -> Figure:
    """Return a photo's figure: it speaks of the reach that the photo shows best."""
    home, stage_m = facts.homes[photo.id], facts.stage_m.get(photo.id)
    view, seen = facts.views.get(photo.id), _seen(photo, facts)
    across = _across(photo, facts) if seen else ""
    return describe(number, photo, reach_name(home), seen, stage_m, facts.rules, view=view, across=across)


def _seen(photo: Photo, facts: PhotoFacts) -> ReachSeen | None:
    """How a photo shows its home reach, None if it is not known to."""
    view = facts.views.get(photo.id)
    home = facts.homes[photo.id]
    return next((seen for seen in view.reaches if seen.reach == home), None) if view else None


def _across(photo: Photo, facts: PhotoFacts) -> str:
    return across_words(photo.point, facts.reaches[facts.homes[photo.id]].line, facts.water, facts.places)


def compass_of(id: str, turn: TurnAround, photos: Sequence[Photo], facts: PhotoFacts) -> Compass:
    """Return the compass of a set, whose photos are given in its order."""
    words = [turn_words(photo, _seen(photo, facts), _across(photo, facts), facts.rules) for photo in photos]
    caption = turn_caption(turn, photos[0], facts.stage_m.get(photos[0].id), facts.rules)
    return compass(id, turn, [_aspect(photo) for photo in photos], words, caption)


def _aspect(photo: Photo) -> float:
    """Width by height of a photo held upright."""
    width, height = photo.source.width_px, photo.source.height_px
    return height / width if photo.source.orientation in (5, 6, 7, 8) else width / height
