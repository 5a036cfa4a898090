"""Repeat photographs for the screen: which two photos flip in one place, and the words beside them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from atlasgen.compose.repeat_words import limits_words, tag_words, told_words
from atlasgen.model import Atlas, Photo
from atlasgen.model.repeats import RepeatRules
from atlasgen.units import date_words, local_time, zone_offset


def photo_tags(atlas: Atlas, photos: Sequence[Photo]) -> list[str]:
    """Return for each photo its day and the level then, in words; "" where the day is not known."""
    zone, stages_m = zone_offset(atlas.survey.time_zone), atlas.known.stage_of_photo_m
    return [
        tag_words(date_words(local_time(photo.taken, zone), "%b"), stages_m.get(photo.id), atlas.survey.depth_unit)
        if photo.taken
        else ""
        for photo in photos
    ]


def repeat_data(atlas: Atlas, photos: Sequence[Photo]) -> Mapping[str, Any]:
    """Return the pairs among the photos shown, by their places in `photos`, with words; and the limits in words."""
    places, survey = {photo.id: number for number, photo in enumerate(photos)}, atlas.survey
    return {
        "limits": limits_words(RepeatRules(), survey.distance_unit, survey.depth_unit),
        "pairs": [
            {
                "photos": [places[pair.earlier], places[pair.later]],
                "words": told_words(pair, survey.distance_unit),
                "apart": pair.apart_m,
                "turn": pair.turn_deg,
            }
            for pair in atlas.known.repeats
            if pair.earlier in places and pair.later in places
        ],
    }
