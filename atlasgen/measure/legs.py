"""The lines of a survey: runs of soundings, cut where the boat turned."""

from __future__ import annotations

import numpy as np
import shapely
from shapely import LineString

# Ours: a boat that holds a line wanders less than this, and turns more than this when it leaves it.
STRAY_M, TURN_DEG = 15.0, 45.0
# Ours: what is shorter than this share of a usual line (half of all soundings lie on longer ones) is a turn.
_TURN_SHARE = 0.25
_STEP_M = STRAY_M / 3


def survey_lines(x: np.ndarray, y: np.ndarray, line: np.ndarray) -> np.ndarray:
    """Return the number of the survey line each sounding is on: the runs `line`, each cut at its corners.

    A log without pauses holds many lines, and they must be told apart before one of them can be left out. Turns go
    with the line before them. Soundings dropped here and there, each on another course, are lines of their own.
    """
    x, y, line = np.asarray(x, float), np.asarray(y, float), np.asarray(line)
    number, first = np.zeros(len(x), dtype=np.int64), 0
    for run in np.split(np.arange(len(x)), np.flatnonzero(np.diff(line)) + 1):
        if run.size:
            number[run] = first + _pieces(x[run], y[run])
            first = int(number[run[-1]]) + 1
    return _without_turns(x, y, number, line)


def folds_of(lines: np.ndarray, most: int) -> np.ndarray:
    """Deal the lines out to at most `most` groups in turn, so that a line's neighbours are in other groups than it."""
    return np.unique(lines, return_inverse=True)[1] % most


def _pieces(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Count the straight pieces of one run from 0."""
    along = np.r_[0.0, np.cumsum(np.hypot(np.diff(x), np.diff(y)))]
    # One place for every few metres shows the course and keeps ten million soundings cheap.
    shown = np.flatnonzero(np.diff(np.floor(along / _STEP_M), prepend=-1.0))
    if shown.size < 3:
        return np.zeros(len(x), dtype=np.int64)
    corners = shown[_corners(x[shown], y[shown])]
    return np.searchsorted(corners, np.arange(len(x)), side="right")


def _corners(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Places in a track at which it turns."""
    # The place in the track rides along as a third coordinate, so that the corners can be found again.
    track = LineString(np.column_stack([x, y, np.arange(len(x))]))
    kept = shapely.get_coordinates(shapely.simplify(track, STRAY_M, preserve_topology=False), include_z=True)
    course = np.arctan2(*np.diff(kept[:, :2], axis=0).T)
    turn = np.abs((np.diff(course) + np.pi) % (2 * np.pi) - np.pi)
    return kept[1:-1, 2][turn > np.radians(TURN_DEG)].astype(np.int64)


def _without_turns(x: np.ndarray, y: np.ndarray, number: np.ndarray, line: np.ndarray) -> np.ndarray:
    if number.size == 0:
        return number
    # The way to a piece counts as part of it, else a sounding far from all others would be a turn.
    step = np.hypot(np.diff(x), np.diff(y)) * (np.diff(line) == 0)
    length = np.bincount(number[1:], weights=step, minlength=number[-1] + 1)
    by_length = np.sort(length)
    half = np.searchsorted(np.cumsum(by_length), by_length.sum() / 2)
    begins = length >= _TURN_SHARE * by_length[half]
    begins[0] = True
    return (np.cumsum(begins) - 1)[number]
