"""Puts the crew's landmarks where they belong along the shore; what a private area holds is not published.

A landmark in a private area is left out whatever `treat` says: rounded to a hundred metres it would lead people to
the wrong ground, perhaps to the very home that is to be left alone. The exception is a hazard on the water: keeping
silent about that could hurt somebody, and it tells nothing of who lives on the bank. What is said of one that was left
out names its row and nothing else, since such messages are published.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from hashlib import sha256
from typing import Any

from atlasgen.model import LonLat, NamedArea, Problem, Reach
from atlasgen.model.landmarks import Landmark, LandmarkRow
from atlasgen.model.wording import say
from atlasgen.place.geo import Projection
from atlasgen.place.linking import Link, nearest_reaches, over_water
from atlasgen.place.private import treatment
from atlasgen.units import number_words

# A car park may lie farther from the water than a camera; beyond this a row is more likely wrong. Ours.
FARTHEST_M = 2000.0
_ID_LENGTH = 10


def place_landmarks(
    rows: Sequence[LandmarkRow],
    private: Sequence[NamedArea],
    reaches: Sequence[Reach],
    water: Any,
    projection: Projection,
    tile_at: Callable[[LonLat], str],
) -> tuple[tuple[Landmark, ...], tuple[Problem, ...]]:
    """Tie each row to its nearest reach and its tile; `water` is metric. In the order of the shore."""
    points = [projection.point(row.lonlat) for row in rows]
    links, wet = nearest_reaches(points, reaches), over_water(points, water)
    placed: dict[str, Landmark] = {}
    problems: list[Problem] = []
    for row, point, link, over in zip(rows, points, links, wet, strict=True):
        id_ = landmark_id(row)
        refused = list(_refused(row, link, over, private))
        if not refused and id_ in placed:
            refused = [say("place-fault-landmark-twice")]
        if refused:
            problems.append(
                Problem(row.file, "bad_row", say("place-fault-landmark", file=row.file, row=row.row, why=refused[0]))
            )
            continue
        problems += row.problems
        placed[id_] = Landmark(
            id_,
            row.kind,
            row.name,
            row.words,
            row.lonlat,
            point,
            link.reach_id,
            link.chainage_m,
            link.distance_m,
            over,
            tile_at(row.lonlat),
        )
    order = {reach.id: number for number, reach in enumerate(reaches)}
    along = sorted(placed.values(), key=lambda mark: (order[mark.reach], mark.chainage_m, mark.id))
    return tuple(along), tuple(problems)


def landmark_id(row: LandmarkRow) -> str:
    """Name a landmark by what and where it is, so that it keeps its id when others come and go."""
    text = f"{row.kind}|{row.name.casefold()}|{row.lonlat.lon_deg:.5f}|{row.lonlat.lat_deg:.5f}"
    return f"l-{sha256(text.encode()).hexdigest()[:_ID_LENGTH]}"


def _refused(row: LandmarkRow, link: Link, over: bool, private: Sequence[NamedArea]) -> Iterator[str]:
    if treatment(row.lonlat, private) and not (row.kind == "hazard" and over):
        yield say("place-fault-landmark-private")
    if not over and link.distance_m > FARTHEST_M:
        distance = number_words(link.distance_m / 1000, 1)
        yield say("place-fault-landmark-far", distance=distance, most=FARTHEST_M / 1000)
