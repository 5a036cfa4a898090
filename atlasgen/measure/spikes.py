"""Spikes: soundings that stand alone above or below their neighbours along the line.

A sounding is a spike when it is beyond the three soundings before it and the three after it (their medians) by more
than the largest of

* FLOOR_M, what a good sounder may be off anyway,
* NOISE_TIMES the noise of the soundings around it, a median absolute deviation of second differences, which a steady
  slope or a ledge leaves at nought,
* what loose bed could rise between it and the farther of its neighbours,

and nothing bears it out. A neighbour that goes a third of the way with it bears it out: so a hump keeps its crest, two
soundings that agree are a feature, and a ledge, which does not come back, is never beyond both sides. So does a
sounding of another run nearby that agrees. The rules are ours; what they take out is listed for a person to look at.
Spikes hide each other, so the search is repeated until nothing is found.
"""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

import numpy as np

# The constant part of the vertical allowance of IHO S-44 Ed 6.1.0 for Orders 1a and 1b, 95 %. Its other part grows with
# depth; the noise that is met stands for that, so that the same lake at another level keeps the same spikes.
FLOOR_M = 0.5
# Of a normal distribution 5 sigma leaves out one sounding in two million.
NOISE_TIMES = 5.0
# tan 30°: loose bed stands no steeper (common knowledge, no source), so a gentler rise between two soundings, up and
# down again unseen by both, may be real. It matters where soundings are far apart.
STEEPEST_LONE_RISE = 0.577
SUPPORT_SHARE = 1 / 3
# Ours: another run bears a sounding out from this near, or from half the spacing of the soundings; never from farther.
NEAR_M, NEAR_AT_MOST_M = 3.0, 8.0
# Fewer soundings in a run do not show what is usual there.
LEAST_RUN = 5
_WINDOW = (-8, -7, -6, -5, -4, -3, -2, 2, 3, 4, 5, 6, 7, 8)
_SAME_PLACE_ON_LINE = 5
# 1.4826 makes a sigma of a median absolute deviation; a second difference has sqrt(1.5) times the noise of a sounding.
_SIGMA_OF_MAD = 1.4826 / np.sqrt(1.5)
_AT_ONCE = 200_000


class _Suspects(NamedTuple):
    """Soundings that stand alone on their line: places in the arrays, signed departure, distance of neighbours."""

    at: np.ndarray
    departure_m: np.ndarray
    apart_m: np.ndarray


def spikes(x_m: np.ndarray, y_m: np.ndarray, depth_m: np.ndarray, line: np.ndarray) -> np.ndarray:
    """Mark the spikes; arrays (n,) in the order of sounding, `line` the run of each."""
    left = np.ones(len(depth_m), dtype=bool)
    active = np.arange(len(depth_m))
    while len(active):
        suspects = _suspects(x_m[active], y_m[active], depth_m[active], line[active])
        at = active[suspects.at]
        borne_out = _borne_out(at, suspects, x_m, y_m, depth_m, line, left)
        left[at[~borne_out]] = False
        if borne_out.all():
            break
        # Elsewhere nothing has changed, and nothing was suspected.
        active = np.flatnonzero(left & np.isin(line, np.unique(line[at])))
    return ~left


def _suspects(x: np.ndarray, y: np.ndarray, z: np.ndarray, line: np.ndarray) -> _Suspects:
    starts = np.flatnonzero(np.r_[True, line[1:] != line[:-1]]) if len(line) else np.empty(0, dtype=int)
    lengths = np.diff(np.r_[starts, len(line)])
    found = [
        _suspects_of(x, y, z, np.repeat(starts[a:b], lengths[a:b]), np.repeat(lengths[a:b], lengths[a:b]))
        for a, b in _portions(lengths)
    ]
    return _Suspects(*(np.concatenate(parts) for parts in zip(*found, strict=True)))


def _portions(lengths: np.ndarray) -> list[tuple[int, int]]:
    """Cut the runs into portions of about _AT_ONCE soundings, so that memory does not grow with the survey."""
    number = np.cumsum(lengths) // _AT_ONCE
    edges = np.r_[0, np.flatnonzero(np.diff(number)) + 1, len(lengths)]
    return [(int(a), int(b)) for a, b in pairwise(edges)]


def _suspects_of(x: np.ndarray, y: np.ndarray, z: np.ndarray, start: np.ndarray, length: np.ndarray) -> _Suspects:
    """Suspects of whole runs that lie one after another from start[0] on."""
    place = np.arange(len(start)) + (start[0] if len(start) else 0)
    end = start + length - 1
    low, high = _envelope(z, place, start, end)
    departure = np.minimum(z[place] - low, 0) + np.maximum(z[place] - high, 0)
    some = (np.abs(departure) > FLOOR_M) & (place > start) & (place < end) & (length >= LEAST_RUN)
    place, start, end, departure = place[some], start[some], end[some], departure[some]
    apart = np.maximum(*(np.hypot(x[place + k] - x[place], y[place + k] - y[place]) for k in (-1, 1)))
    limit = np.maximum(NOISE_TIMES * _noise(z, place, start, end), STEEPEST_LONE_RISE * apart)
    edge = z[place] - departure
    alone = np.abs(departure) > limit
    for k in (-2, -1, 1, 2):
        towards = (z[np.clip(place + k, start, end)] - edge) * np.sign(departure)
        alone &= towards < SUPPORT_SHARE * np.abs(departure)
    return _Suspects(place[alone], departure[alone], apart[alone])


def _envelope(z: np.ndarray, place: np.ndarray, start: np.ndarray, end: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Shallower and deeper of the medians of three before and three after; the run's end stands for any beyond it."""
    before, after = (_median3(*(z[np.clip(place + side * k, start, end)] for k in (1, 2, 3))) for side in (-1, 1))
    return np.minimum(before, after), np.maximum(before, after)


def _median3(a: np.ndarray, b: np.ndarray, c: np.ndarray) -> np.ndarray:
    return np.maximum(np.minimum(a, b), np.minimum(np.maximum(a, b), c))


def _noise(z: np.ndarray, place: np.ndarray, start: np.ndarray, end: np.ndarray) -> np.ndarray:
    """Sigma of the soundings around each place, itself not among them."""
    if not len(place):
        return np.empty(0)
    at = place[:, None] + np.array(_WINDOW)
    inside = (at > start[:, None]) & (at < end[:, None])
    at = np.clip(at, start[:, None] + 1, end[:, None] - 1)
    bend = np.abs(z[at] - (z[at - 1] + z[at + 1]) / 2)
    bend[~inside] = np.nan
    none = ~inside.any(axis=1)
    bend[none] = 0.0
    return _SIGMA_OF_MAD * np.nanmedian(bend, axis=1)


def _borne_out(at, suspects: _Suspects, x, y, z, line, left) -> np.ndarray:
    """Whether a sounding of another run, or of the same one at another time, agrees from near by."""
    if not len(at):
        return np.zeros(0, dtype=bool)
    from scipy.spatial import cKDTree

    near = _round_about(at, x, y, left)
    reach_m = np.clip(suspects.apart_m / 2, NEAR_M, NEAR_AT_MOST_M)
    lists = cKDTree(np.c_[x[near], y[near]]).query_ball_point(np.c_[x[at], y[at]], reach_m)
    which = np.repeat(np.arange(len(at)), [len(found) for found in lists])
    other = near[np.concatenate([np.asarray(found, dtype=int) for found in lists])]
    same_pass = (line[other] == line[at[which]]) & (np.abs(other - at[which]) <= _SAME_PLACE_ON_LINE)
    close = np.abs(z[other] - z[at[which]]) <= np.maximum(FLOOR_M, SUPPORT_SHARE * np.abs(suspects.departure_m[which]))
    return np.bincount(which[~same_pass & close], minlength=len(at)) > 0


def _round_about(at: np.ndarray, x: np.ndarray, y: np.ndarray, left: np.ndarray) -> np.ndarray:
    """Soundings in the squares of NEAR_AT_MOST_M on which suspects lie and in those around: few of millions."""
    col, row = (np.floor(values / NEAR_AT_MOST_M).astype(np.int64) for values in (x, y))
    width = int(np.ptp(col)) + 3
    cell = (row - row.min() + 1) * width + col - col.min() + 1
    around = np.add.outer((-width, 0, width), (-1, 0, 1)).ravel()
    wanted = np.unique(cell[at][:, None] + around)
    place = np.minimum(np.searchsorted(wanted, cell), len(wanted) - 1)
    return np.flatnonzero((wanted[place] == cell) & left)
