"""What every photo shows: the shoreline in short pieces, the views, and which pieces each of them shows."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from atlasgen.model import Placed, Problem, Progress, SeenMetres, ViewRules, Views
from atlasgen.model.rasters import ElevationRules, Raster
from atlasgen.place.elevation import known_land
from atlasgen.place.geo import Projection
from atlasgen.place.seen import see_photos
from atlasgen.place.shore_index import ShoreIndex, shore_index


@dataclass(frozen=True, slots=True)
class Sight:
    """`seen` has one entry a photo, in the order of the placed photos; None where it has no view.

    `method` says in words what the land's heights rest on, `problems` what was met on the way.
    """

    shore: ShoreIndex
    views: Views
    seen: tuple[SeenMetres | None, ...]
    method: str = ""
    problems: tuple[Problem, ...] = ()


def see_survey(
    placed: Placed,
    rules: ViewRules,
    stage_of: Callable[[datetime | None], float | None],
    progress: Progress,
    rasters: Sequence[Raster] = (),
    elevations: ElevationRules = ElevationRules(),  # noqa: B008  (frozen)
) -> Sight:
    """Work out what each placed photo covers and shows, over land as the elevation `rasters` tell it."""
    progress("working out views", 0, len(placed.photos))
    projection = Projection(placed.crs_metric)
    shore = shore_index(placed.water, placed.rings, placed.reaches, projection)
    land = known_land(rasters, elevations, placed.water, shore.inland, projection, rules)
    shore = replace(shore, ground_height=land.height)
    stages = {photo.id: stage_of(photo.taken) for photo in placed.photos}
    views, seen = see_photos(placed.photos, shore, rules, stages)
    progress("working out views", len(placed.photos), len(placed.photos))
    return Sight(shore, views, seen, land.method, land.problems)
