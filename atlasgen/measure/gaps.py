"""Stretches of shore without a photo, for the list that a crew reads."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

import numpy as np
from shapely import LineString

from atlasgen.model import Gap, Reach, ShoreState


def gaps(reaches: Sequence[Reach], states: Mapping[str, ShoreState]) -> tuple[Gap, ...]:
    """Stretches of shore without a photo: neighbouring reaches in state `none` as one, also over a ring's start.

    Reaches must be in the order of their rings and fill each ring.
    """
    found: list[Gap] = []
    for ring, members in groupby(reaches, key=lambda reach: reach.ring):
        found += (_gap(ring, run) for run in _runs_without(tuple(members), states))
    return tuple(found)


def _runs_without(reaches: Sequence[Reach], states: Mapping[str, ShoreState]) -> Iterator[tuple[Reach, ...]]:
    runs = [
        (state == "none", tuple(members)) for state, members in groupby(reaches, key=lambda reach: states[reach.id])
    ]
    if len(runs) > 1 and runs[0][0] and runs[-1][0]:
        runs = [(True, runs[-1][1] + runs[0][1]), *runs[1:-1]]
    yield from (run for without, run in runs if without)


def _gap(ring: str, reaches: Sequence[Reach]) -> Gap:
    coords = np.concatenate([np.asarray(reach.line.coords) for reach in reaches])
    repeated = np.r_[False, (coords[1:] == coords[:-1]).all(axis=1)]
    return Gap(
        ring,
        reaches[0].from_m,
        reaches[-1].to_m,
        sum(reach.length_m for reach in reaches),
        tuple(reach.id for reach in reaches),
        LineString(coords[~repeated]),
    )
