"""What every photo shows: the shoreline in short pieces, the views, and which pieces each of them shows."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from atlasgen.model import Placed, Problem, Progress, SeenMetres, View, ViewRules, Views
from atlasgen.model.memory import ANEW, Memory
from atlasgen.model.rasters import ElevationRules, Raster
from atlasgen.place.elevation import known_land
from atlasgen.place.geo import Projection
from atlasgen.place.land import inland_grid
from atlasgen.place.seen import see_photos
from atlasgen.place.shore_index import ShoreIndex, shore_index

# A photo's view, or why it has none, and the shore that it shows.
_Seen = tuple[View | None, str | None, SeenMetres | None]


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
    memory: Memory = ANEW,
) -> Sight:
    """Work out what each placed photo covers and shows, over land as the elevation `rasters` tell it.

    `memory` holds the views of photos whose pose, shore and land are those of the last build.
    """
    progress("working out views", 0, len(placed.photos))
    projection = Projection(placed.crs_metric)
    inland = memory.remember("inland", placed.water, lambda: inland_grid(placed.water))
    shore = shore_index(placed.water, placed.rings, placed.reaches, projection, inland=inland)
    land = known_land(rasters, elevations, placed.water, shore.inland, projection, rules)
    shore = replace(shore, ground_height=land.height)
    stages = {photo.id: stage_of(photo.taken) for photo in placed.photos}

    def see(numbers: list[int]) -> list[_Seen]:
        views, seen = see_photos(photos := [placed.photos[number] for number in numbers], shore, rules, stages)
        rows = zip(photos, seen, strict=True)
        return [(views.views.get(photo.id), views.without.get(photo.id), metres) for photo, metres in rows]

    place = (placed.crs_metric, placed.water, placed.rings, placed.reaches, rules, tuple(rasters), elevations)
    parts = [(place, photo, stages[photo.id]) for photo in placed.photos]
    found: list[_Seen] = memory.mapped("view", parts, see)
    progress("working out views", len(placed.photos), len(placed.photos))
    ids = [photo.id for photo in placed.photos]
    views = Views(
        {name: view for name, (view, _, _) in zip(ids, found, strict=True) if view},
        {name: why for name, (_, why, _) in zip(ids, found, strict=True) if why},
    )
    return Sight(shore, views, tuple(metres for _, _, metres in found), land.method, land.problems)
