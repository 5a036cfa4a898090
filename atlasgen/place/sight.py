"""What every photo shows: the shoreline in short pieces, the views, and which pieces each of them shows."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from atlasgen.model import Placed, Progress, SeenMetres, ViewRules, Views
from atlasgen.place.geo import Projection
from atlasgen.place.seen import seen_metres, views_of
from atlasgen.place.shore_index import ShoreIndex, shore_index


@dataclass(frozen=True, slots=True)
class Sight:
    """`seen` has one entry a photo, in the order of the placed photos; None where it has no view."""

    shore: ShoreIndex
    views: Views
    seen: tuple[SeenMetres | None, ...]


def see_survey(
    placed: Placed, rules: ViewRules, stage_of: Callable[[datetime | None], float | None], progress: Progress
) -> Sight:
    """Work out what each placed photo covers and shows."""
    progress("working out views", 0, len(placed.photos))
    shore = shore_index(placed.water, placed.rings, placed.reaches, Projection(placed.crs_metric))
    stages = {photo.id: stage_of(photo.taken) for photo in placed.photos}
    views = views_of(placed.photos, shore, rules, stages)
    seen = tuple(
        seen_metres(photo, views.views[photo.id], shore, stages[photo.id]) if photo.id in views.views else None
        for photo in placed.photos
    )
    progress("working out views", len(placed.photos), len(placed.photos))
    return Sight(shore, views, seen)
