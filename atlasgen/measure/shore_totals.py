"""What the states of the pieces add up to: each reach in metres, and totals by ring, by tile and for the lake."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import numpy as np

from atlasgen.measure.adding import PER_METRE, percents, shared_out, whole_cm
from atlasgen.measure.shore_states import distinct_photos, known, moment
from atlasgen.model import Reach
from atlasgen.model.states import (
    SHORE_STATES,
    Pieces,
    PieceStates,
    ReachStates,
    ShoreState,
    ShoreStates,
    Sightings,
    StateTotal,
    StateTotals,
)

# Guards "at least half" against the last bit of a sum of many pieces.
_SAME_M = 1e-6


def reach_summaries(
    reaches: Sequence[Reach], pieces: Pieces, shore: ShoreStates, seen: Sightings
) -> tuple[ReachStates, ...]:
    """Sum each reach from its pieces."""
    every, aerial, from_shore = (
        _lengths_m(pieces, states, len(reaches)) for states in (shore.all, shore.aerial, shore.shore)
    )
    photos = distinct_photos(pieces.reach, len(reaches), seen)
    best, newest = np.full((2, len(reaches)), np.nan)
    np.fmin.at(best, pieces.reach, shore.all.best_gsd_cm)
    np.fmax.at(newest, pieces.reach, shore.all.newest_s)
    return tuple(
        ReachStates(
            reach.id,
            label_of(_named(every[n])),
            _named(every[n]),
            _named(aerial[n]),
            _named(from_shore[n]),
            int(photos[n]),
            known(best[n]),
            moment(newest[n]),
        )
        for n, reach in enumerate(reaches)
    )


def _lengths_m(pieces: Pieces, states: PieceStates, count: int) -> np.ndarray:
    """Metres of each reach in each state, shape (reaches, states)."""
    cell = pieces.reach * len(SHORE_STATES) + states.state
    found = np.bincount(cell, pieces.to_m - pieces.from_m, count * len(SHORE_STATES))
    return found.reshape(count, len(SHORE_STATES))


def _named(lengths_m: np.ndarray) -> dict[ShoreState, float]:
    return dict(zip(SHORE_STATES, lengths_m.tolist(), strict=True))


def label_of(lengths_m: Mapping[ShoreState, float]) -> ShoreState:
    """Return the one word for a length of shore: the best state that at least half of it is in, or better.

    Unlike the state with most metres, this cannot get worse by more photos. What cannot be photographed is left
    aside, and is the word only where there is nothing else.
    """
    possible_m = sum(length_m for state, length_m in lengths_m.items() if state != "cannot")
    if possible_m < _SAME_M:
        return "cannot" if lengths_m["cannot"] else "none"
    so_far_m = 0.0
    for state in SHORE_STATES:
        so_far_m += lengths_m[state]
        if so_far_m >= possible_m / 2 - _SAME_M:
            return state
    return "none"


def state_totals(reaches: Sequence[Reach], lengths_m: Mapping[str, Mapping[ShoreState, float]]) -> StateTotals:
    """Add reaches up in whole centimetres: what is printed for the parts is what is printed for the whole.

    A reach's centimetres are shared out to its states by largest remainders.

    Parameters
    ----------
    lengths_m
        Lengths by state, by reach id: `lengths_m`, `aerial_m` or `shore_m` of the summaries.
    """
    rows = [shared_out(whole_cm(r.to_m) - whole_cm(r.from_m), lengths_m[r.id]) for r in reaches]
    return StateTotals(
        {reach.id: _metres(row) for reach, row in zip(reaches, rows, strict=True)},
        _totals(reaches, rows, lambda reach: reach.ring),
        _totals(reaches, rows, lambda reach: reach.tile),
        _total("all", rows),
    )


def _totals(
    reaches: Sequence[Reach], rows: Sequence[Mapping[ShoreState, int]], group: Callable[[Reach], str]
) -> tuple[StateTotal, ...]:
    members: dict[str, list[Mapping[ShoreState, int]]] = {}
    for reach, row in zip(reaches, rows, strict=True):
        members.setdefault(group(reach), []).append(row)
    return tuple(_total(name, found) for name, found in members.items())


def _total(name: str, rows: Sequence[Mapping[ShoreState, int]]) -> StateTotal:
    whole = {state: sum(row[state] for row in rows) for state in SHORE_STATES}
    length_m = sum(whole.values()) / PER_METRE
    return StateTotal(name, len(rows), length_m, _metres(whole), percents(whole))


def _metres(whole: Mapping[ShoreState, int]) -> dict[ShoreState, float]:
    return {state: length / PER_METRE for state, length in whole.items()}
