"""Stations ordered into runs: each from the launch point and back within a battery's time.

Legs are straight: no obstacles are known, and no wind. Two ways of making runs are tried, one that joins runs while
that saves way (Clarke and Wright 1964) and one that orders all stations into one tour and cuts it in the best places
(route first, cluster second; Beasley 1983); each run is then shortened by turning parts of it round (2-opt; Croes
1958). The better plan is kept: fewer runs, then less time.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from atlasgen.model import PointM
from atlasgen.model.fieldplan import PlanRules

Order = tuple[int, ...]


def order_runs(stations: Sequence[PointM], rules: PlanRules) -> tuple[Order, ...]:
    """Order all stations into runs of their numbers, each within the rules' time and number of stations.

    Raises
    ------
    ValueError
        A station cannot be reached within one battery: `within_reach` tells beforehand.
    """
    for number, at in enumerate(stations):
        if not within_reach(at, rules):
            raise ValueError(f"station {number} at {at} is beyond one battery of {rules.usable_s:g} s.")
    if not stations:
        return ()
    away = _distances([rules.launch, *stations])
    plans = [_cut(_tour(away), away, rules), _join(away, rules)]
    best = min(([_shorten(run, away) for run in plan] for plan in plans), key=lambda p: _cost(p, away))
    return tuple(tuple(place - 1 for place in run) for run in _in_order(best, away))


def within_reach(at: PointM, rules: PlanRules) -> bool:
    """Tell whether a run to this station alone fits a battery."""
    return run_time_s(2 * math.dist(rules.launch, at), 1, rules) <= rules.usable_s


def run_time_s(length_m: float, stations: int, rules: PlanRules) -> float:
    """Time of a run: climb and landing, the way, and the stops."""
    return rules.climb_s + length_m / rules.speed_mps + stations * rules.seconds_per_station


def run_length_m(places: Sequence[PointM], launch: PointM) -> float:
    """Length of the way from the launch point by all places and back."""
    way = [launch, *places, launch]
    return sum(math.dist(a, b) for a, b in pairwise(way))


def _distances(places: Sequence[PointM]) -> np.ndarray:
    xy = np.asarray(places, float)
    return np.hypot(*(xy[:, None] - xy[None]).transpose(2, 0, 1))


def _cost(plan: Sequence[list[int]], away: np.ndarray) -> tuple[int, float]:
    return len(plan), sum(_length(run, away) for run in plan)


def _length(run: Sequence[int], away: np.ndarray) -> float:
    """Length of a run; place 0 is the launch point, at both ends."""
    way = [0, *run, 0]
    return float(away[way[:-1], way[1:]].sum())


def _fits(run: Sequence[int], away: np.ndarray, rules: PlanRules) -> bool:
    in_time = run_time_s(_length(run, away), len(run), rules) <= rules.usable_s + 1e-9
    return in_time and len(run) <= rules.most_stations


def _tour(away: np.ndarray) -> list[int]:
    """One way by all places: always on to the nearest, then shortened."""
    left, tour = set(range(1, len(away))), [0]
    while left:
        tour.append(min(left, key=lambda place: (away[tour[-1], place], place)))
        left.remove(tour[-1])
    return _shorten(tour[1:], away)


def _shorten(run: list[int], away: np.ndarray) -> list[int]:
    """Turn round parts of a run while that shortens it."""
    way = np.array([0, *run, 0])
    while True:
        step = away[way[:-1], way[1:]]
        # Turning round places i+1 to j exchanges the legs after i and after j.
        saved = step[:, None] + step[None] - away[np.ix_(way[:-1], way[:-1])] - away[np.ix_(way[1:], way[1:])]
        i, j = np.unravel_index(int(np.argmax(np.triu(saved, 2))), saved.shape)
        if saved[i, j] <= 1e-6 or j < i + 2:
            return way[1:-1].tolist()
        way[i + 1 : j + 1] = way[i + 1 : j + 1][::-1]


def _cut(tour: Sequence[int], away: np.ndarray, rules: PlanRules) -> list[list[int]]:
    """Cut a tour into runs that fit: as few as go, and of those the shortest (a shortest path over the cuts)."""
    best: list[tuple[int, float, int]] = [(0, 0.0, 0)]
    for end in range(1, len(tour) + 1):
        options = []
        for start in range(end - 1, -1, -1):
            run = tour[start:end]
            if not _fits(run, away, rules):
                break
            options.append((best[start][0] + 1, best[start][1] + _length(run, away), start))
        best.append(min(options))
    runs, end = [], len(tour)
    while end:
        runs.append(list(tour[best[end][2] : end]))
        end = best[end][2]
    return runs[::-1]


def _join(away: np.ndarray, rules: PlanRules) -> list[list[int]]:
    """Begin with a run for each station and join ends of runs, the greatest saving of way first."""
    run_of = {place: [place] for place in range(1, len(away))}
    saved = away[:1] + away[:, :1] - away
    rows, columns = np.triu_indices(len(away), 1)
    for k in np.argsort(-saved[rows, columns], kind="stable"):
        a, b = int(rows[k]), int(columns[k])
        if a == 0 or run_of[a] is run_of[b]:
            continue
        joined = _joined(run_of[a], run_of[b], a, b)
        if joined and _fits(joined, away, rules):
            run_of |= dict.fromkeys(joined, joined)
    return list({id(run): run for run in run_of.values()}.values())


def _joined(one: list[int], other: list[int], a: int, b: int) -> list[int] | None:
    """Return two runs as one, in which `a` and `b` follow each other; None if either is not at an end."""
    if a not in (one[0], one[-1]) or b not in (other[0], other[-1]):
        return None
    first = one if one[-1] == a else one[::-1]
    return first + (other if other[0] == b else other[::-1])


def _in_order(plan: Sequence[list[int]], away: np.ndarray) -> list[list[int]]:
    """Begin each run at its end nearer to the launch point, and with the run that begins nearest to it."""
    turned = [run if away[0, run[0]] <= away[0, run[-1]] else run[::-1] for run in plan]
    return sorted(turned, key=lambda run: (away[0, run[0]], run))
