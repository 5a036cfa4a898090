"""Which shores are photographed: a state for each reach, the audit table with totals, and the stretches without."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import groupby
from typing import get_args

import numpy as np
from shapely import LineString

from atlasgen.measure.adding import PER_METRE, percents, whole_cm
from atlasgen.model import AuditRow, AuditTable, AuditTotal, Gap, Photo, PhotoState, Reach

STATES: tuple[PhotoState, ...] = get_args(PhotoState)


def reach_states(reaches: Sequence[Reach], links: Mapping[str, str]) -> dict[str, PhotoState]:
    """State of each reach: `near` if a photo is linked to it, else `none`.

    A link alone tells that a camera stood nearest to this reach, not that the photo shows it.

    Parameters
    ----------
    links
        Photo id to reach id.
    """
    linked = set(links.values())
    return {reach.id: "near" if reach.id in linked else "none" for reach in reaches}


def audit_table(
    reaches: Sequence[Reach], states: Mapping[str, PhotoState], photos: Mapping[str, Sequence[Photo]]
) -> AuditTable:
    """Make the audit: one row for each reach, and totals whose lengths are the sums of the rows they stand for.

    Parameters
    ----------
    states
        By reach id.
    photos
        The photos linked to each reach, by reach id; a reach may be absent.
    """
    rows = tuple(_row(reach, states[reach.id], photos.get(reach.id, ())) for reach in reaches)
    return AuditTable(
        rows,
        _totals(rows, lambda row: row.ring),
        _totals(rows, lambda row: row.tile),
        _total("all", rows),
    )


def gaps(reaches: Sequence[Reach], states: Mapping[str, PhotoState]) -> tuple[Gap, ...]:
    """Stretches of shore without a photo: neighbouring reaches in state `none` as one, also over a ring's start.

    Reaches must be in the order of their rings and fill each ring.
    """
    found: list[Gap] = []
    for ring, members in groupby(reaches, key=lambda reach: reach.ring):
        found += (_gap(ring, run) for run in _runs_without(tuple(members), states))
    return tuple(found)


def _row(reach: Reach, state: PhotoState, photos: Sequence[Photo]) -> AuditRow:
    start, end = whole_cm(reach.from_m), whole_cm(reach.to_m)
    taken = [photo.taken for photo in photos if photo.taken is not None]
    return AuditRow(
        reach.id,
        reach.ring,
        start / PER_METRE,
        end / PER_METRE,
        (end - start) / PER_METRE,
        reach.tile,
        state,
        len(photos),
        max(taken, default=None),
    )


def _totals(rows: Sequence[AuditRow], group: Callable[[AuditRow], str]) -> tuple[AuditTotal, ...]:
    names = dict.fromkeys(group(row) for row in rows)
    return tuple(_total(name, [row for row in rows if group(row) == name]) for name in names)


def _total(name: str, rows: Sequence[AuditRow]) -> AuditTotal:
    whole = {state: sum(whole_cm(row.length_m) for row in rows if row.state == state) for state in STATES}
    return AuditTotal(
        name,
        len(rows),
        sum(row.photos for row in rows),
        sum(whole.values()) / PER_METRE,
        {state: length / PER_METRE for state, length in whole.items()},
        percents(whole),
    )


def _runs_without(reaches: Sequence[Reach], states: Mapping[str, PhotoState]) -> Iterator[tuple[Reach, ...]]:
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
