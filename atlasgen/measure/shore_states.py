"""The state of each piece of shoreline: seen well, seen poorly, near but not in view, none; and apart, what cannot be.

Pure arrays: pieces of shore, photos, and which photo shows which piece. More photos never reduce what is seen; with a
stated reference date they never make any state worse (without one, a newer photo makes all others older).
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any

import numpy as np
import shapely

from atlasgen.model import Photo, Reach
from atlasgen.model.states import (
    LIMITS,
    SHORE_STATES,
    AuditRules,
    Limit,
    PhotoColumns,
    Pieces,
    PieceStates,
    ShoreStates,
    Sightings,
    StateStretch,
)
from atlasgen.model.views import SeenMetres

WELL, POORLY, NEAR, NONE, CANNOT = range(len(SHORE_STATES))
_DAY_S = 86_400.0
# How many limits each value of `failed` names.
_COUNT = np.array([value.bit_count() for value in range(2 ** len(LIMITS))])
_ALL_FAILED = 2 ** len(LIMITS) - 1


def photo_columns(photos: Sequence[Photo], reaches: Sequence[Reach]) -> PhotoColumns:
    """Return what the audit asks of placed photos, in their order."""
    numbers = {reach.id: number for number, reach in enumerate(reaches)}
    return PhotoColumns(
        np.array([np.nan if photo.taken is None else photo.taken.timestamp() for photo in photos], float),
        np.array([photo.kind == "aerial" for photo in photos], bool),
        np.array([numbers.get(photo.reach, -1) for photo in photos], int),
    )


def sightings(seen: Sequence[SeenMetres | None]) -> Sightings:
    """Put what each photo shows into one table; `seen` is in the order of the photos, None where nothing is known."""
    known = [(number, metres) for number, metres in enumerate(seen) if metres is not None and len(metres.piece)]
    if not known:
        return Sightings(np.empty(0, int), np.empty(0, int), np.empty(0), np.empty(0))
    # In full width: numpy's sums by group take ten times as long where they have to convert.
    return Sightings(
        np.concatenate([metres.piece for _, metres in known], dtype=int),
        np.repeat([number for number, _ in known], [len(metres.piece) for _, metres in known]),
        np.concatenate([metres.gsd_cm for _, metres in known], dtype=float),
        np.concatenate([metres.angle_deg for _, metres in known], dtype=float),
    )


def reason_of_pieces(xy_m: np.ndarray, areas: Sequence[tuple[str, Any]]) -> tuple[np.ndarray, tuple[str, ...]]:
    """Tell which pieces cannot be photographed, and why.

    Parameters
    ----------
    xy_m
        Middles of the pieces, shape (n, 2), metres.
    areas
        Reason and metric polygon; where several hold a piece, the first counts.

    Returns
    -------
    tuple
        Number of the reason of each piece, -1 for none, and the reasons, each once.
    """
    reasons = tuple(dict.fromkeys(reason for reason, _ in areas))
    found = np.full(len(xy_m), -1)
    for reason, area in reversed(areas):
        shapely.prepare(area)
        found[shapely.intersects_xy(area, xy_m[:, 0], xy_m[:, 1])] = reasons.index(reason)
    return found, reasons


def shore_states(
    pieces: Pieces,
    photos: PhotoColumns,
    seen: Sightings,
    rules: AuditRules,
    reason: np.ndarray | None = None,
    reasons: Sequence[str] = (),
) -> ShoreStates:
    """Put each piece into one state, by all photos and by aerial and shore photos alone.

    A piece is `well` where one photo keeps all three limits, `poorly` where photos show it but none does, `near` where
    none shows it but one is linked to its reach, else `none`. A photo without a time fails the limit of age: it may
    be old. `cannot` stands before all of these; photos that show such a piece are counted all the same.
    """
    reference_s = _reference_s(photos, rules)
    why = np.full(len(pieces.from_m), -1) if reason is None else reason
    failed = _failed(photos, seen, rules, reference_s)
    kinds = (np.ones(len(photos.aerial), bool), photos.aerial, ~photos.aerial)
    every, aerial, shore = (_states(pieces, photos, seen, failed, why, kind) for kind in kinds)
    return ShoreStates(every, aerial, shore, why, tuple(reasons), rules, reference_s)


def _reference_s(photos: PhotoColumns, rules: AuditRules) -> float | None:
    if rules.reference is not None:
        return rules.reference.timestamp()
    known = photos.taken_s[np.isfinite(photos.taken_s)]
    return float(known.max()) if len(known) else None


def _failed(photos: PhotoColumns, seen: Sightings, rules: AuditRules, reference_s: float | None) -> np.ndarray:
    """Limits that each sighting breaks, as bits; what is not known keeps no limit."""
    age_days = (np.nan if reference_s is None else reference_s - photos.taken_s) / _DAY_S
    fresh = np.broadcast_to(age_days <= rules.age_limit_days, photos.taken_s.shape)
    kept = (seen.gsd_cm <= rules.gsd_limit_cm, seen.angle_deg >= rules.angle_limit_deg, fresh[seen.photo])
    return sum(((~ok).astype(np.uint8) << bit for bit, ok in enumerate(kept)), np.zeros(len(seen.piece), np.uint8))


def _states(
    pieces: Pieces, photos: PhotoColumns, seen: Sightings, failed: np.ndarray, why: np.ndarray, kind: np.ndarray
) -> PieceStates:
    """States by the photos of one kind."""
    count = len(pieces.from_m)
    of_kind = kind[seen.photo]
    piece, gsd_cm, failed = seen.piece[of_kind], seen.gsd_cm[of_kind], failed[of_kind]
    shown_by = np.bincount(piece, minlength=count)
    best_failed = _best_failed(piece, gsd_cm, failed, count)
    linked = photos.reach[kind & (photos.reach >= 0)]
    near = np.isin(pieces.reach, linked)
    state = np.where(near, NEAR, NONE)
    state[shown_by > 0] = np.where(best_failed[shown_by > 0] == 0, WELL, POORLY)
    state[why >= 0] = CANNOT
    return PieceStates(
        state.astype(np.int8),
        np.where(state == POORLY, best_failed, 0).astype(np.uint8),
        shown_by,
        _extreme(np.fmin, piece, gsd_cm, count),
        _extreme(np.fmax, piece, photos.taken_s[seen.photo[of_kind]], count),
    )


def _best_failed(piece: np.ndarray, gsd_cm: np.ndarray, failed: np.ndarray, count: int) -> np.ndarray:
    """Limits broken by the best photo of each piece: fewest broken, then finest GSD, then the first limits."""
    fewest = np.full(count, len(LIMITS) + 1)
    np.minimum.at(fewest, piece, _COUNT[failed])
    least = _COUNT[failed] == fewest[piece]
    piece, gsd_cm, failed = piece[least], gsd_cm[least], failed[least]
    finest = _extreme(np.fmin, piece, gsd_cm, count)
    chosen = (gsd_cm == finest[piece]) | np.isnan(finest[piece])
    best = np.full(count, _ALL_FAILED, np.uint8)
    np.minimum.at(best, piece[chosen], failed[chosen])
    return best


def _extreme(better: np.ufunc, piece: np.ndarray, values: np.ndarray, count: int) -> np.ndarray:
    found = np.full(count, np.nan)
    better.at(found, piece, values)
    return found


def state_stretches(pieces: Pieces, shore: ShoreStates, seen: Sightings) -> tuple[StateStretch, ...]:
    """Join neighbouring pieces of one ring with one state by all photos, the same failed limits and the same reason."""
    states = shore.all
    first = _run_starts(pieces.ring, states.state, states.failed, shore.reason, ~_follows(pieces))
    stretch = np.repeat(np.arange(len(first)), np.diff(np.append(first, len(pieces.ring))))
    photos = distinct_photos(stretch, len(first), seen)
    gsd, newest = _reduced(np.fmin, states.best_gsd_cm, first), _reduced(np.fmax, states.newest_s, first)
    end = np.append(first[1:], len(pieces.ring)) - 1
    columns = (
        pieces.ring[first], pieces.from_m[first], pieces.to_m[end], states.state[first], states.failed[first],
        photos, gsd, newest, shore.reason[first],
    )  # fmt: skip
    return tuple(
        StateStretch(
            pieces.rings[ring], from_m, to_m, SHORE_STATES[state], failed_limits(failed), shown_by,
            known(best), moment(taken_s), shore.reasons[why] if state == CANNOT else "",
        )
        for ring, from_m, to_m, state, failed, shown_by, best, taken_s, why in zip(
            *(column.tolist() for column in columns), strict=True
        )
    )  # fmt: skip


def _follows(pieces: Pieces) -> np.ndarray:
    """Whether each piece begins where the one before it ends."""
    begins = np.abs(pieces.from_m[1:] - pieces.to_m[:-1]) < 1e-6
    return np.concatenate([[True], begins & (pieces.ring[1:] == pieces.ring[:-1])])[: len(pieces.ring)]


def _run_starts(*columns: np.ndarray) -> np.ndarray:
    """Where a run of equal rows begins; the last column is True where one must."""
    *same, must = columns
    changes = np.any([column[1:] != column[:-1] for column in same], axis=0) | must[1:]
    return np.flatnonzero(np.concatenate([[True], changes])[: len(must)])


def _reduced(better: np.ufunc, values: np.ndarray, first: np.ndarray) -> np.ndarray:
    return better.reduceat(values, first) if len(first) else np.empty(0)


def distinct_photos(group: np.ndarray, count: int, seen: Sightings) -> np.ndarray:
    """Count the different photos that show any piece of each group; `group` numbers the groups by piece."""
    photos = int(seen.photo.max(initial=0)) + 1
    pairs = np.unique(group[seen.piece] * photos + seen.photo)
    return np.bincount(pairs // photos, minlength=count)


def failed_limits(failed: int) -> tuple[Limit, ...]:
    """Name the limits in a value of `PieceStates.failed`."""
    return tuple(limit for bit, limit in enumerate(LIMITS) if failed >> bit & 1)


def known(value: float) -> float | None:
    """Return a number, or None for NaN."""
    return None if np.isnan(value) else float(value)


def moment(time_s: float) -> datetime | None:
    """Return seconds since 1970 as a time, None for NaN."""
    return None if np.isnan(time_s) else datetime.fromtimestamp(time_s, UTC)
