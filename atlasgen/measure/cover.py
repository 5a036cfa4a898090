"""Set cover: few sets that hold everything wanted, and a number that no choice can be below."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations
from typing import Any

import numpy as np

# The linear program is solved over at most this many different rows; leaving rows out can only lower the bound.
_MOST_ROWS = 3000
# Of the sets that could be the first of two, those that hold most are tried; ours.
_MOST_TRIED = 60


def incidence(sets: Sequence[np.ndarray], count: int) -> Any:
    """Return the sparse 0/1 matrix (sets, things) of sets of numbers below `count`."""
    from scipy.sparse import csr_array

    lengths = [len(members) for members in sets]
    columns = np.concatenate([*sets, np.empty(0, int)]).astype(np.int32)
    return csr_array((np.ones(len(columns)), columns, np.concatenate([[0], np.cumsum(lengths)])), (len(sets), count))


def cover(sets: Sequence[np.ndarray], weight: np.ndarray) -> list[int]:
    """Choose few of `sets` that together hold all that any of them holds; their numbers, ascending.

    Greedy by the weight newly held (Chvátal 1979), then improved until nothing more is found: sets that the others
    make needless are dropped, and two exchanged for one or three neighbours for two. Things of weight 0 need not be
    held.
    """
    members = [values[weight[values] > 0] for values in sets]
    table = incidence(members, len(weight))
    choice = _Choice(table, members, _greedy(table, np.where(table.sum(axis=0) > 0, weight, 0.0)))
    choice.drop_needless()
    while choice.exchange(2, 1) or choice.exchange(3, 2):
        choice.drop_needless()
    return sorted(choice.chosen)


def _greedy(table: Any, weight: np.ndarray) -> list[int]:
    left, chosen = weight.copy(), []
    while left.any():
        best = int(np.argmax(table @ left))
        chosen.append(best)
        left[table.indices[table.indptr[best] : table.indptr[best + 1]]] = 0.0
    return chosen


class _Choice:
    """The sets chosen so far, and how many of them hold each thing."""

    def __init__(self, table: Any, members: Sequence[np.ndarray], chosen: Sequence[int]) -> None:
        self.members, self.by_thing = members, table.tocsc()
        self.chosen: set[int] = set()
        self.held = np.zeros(table.shape[1], int)
        for number in chosen:
            self._add(number)

    def _add(self, number: int) -> None:
        self.chosen.add(number)
        self.held[self.members[number]] += 1

    def _remove(self, number: int) -> None:
        self.chosen.remove(number)
        self.held[self.members[number]] -= 1

    def drop_needless(self) -> None:
        """Drop sets whose things are all held by others, those that hold least alone first."""
        alone = {number: len(self._alone(number)) for number in self.chosen}
        for number in sorted(self.chosen, key=lambda n: (alone[n], len(self.members[n]), n)):
            if not len(self._alone(number)):
                self._remove(number)

    def exchange(self, out: int, most: int) -> bool:
        """Replace groups of `out` neighbouring sets by at most `most` others; tell whether any was."""
        changed = False
        for group in self._groups(out):
            if self.chosen.issuperset(group):
                changed |= self._replace(group, most)
        return changed

    def _alone(self, number: int) -> np.ndarray:
        things = self.members[number]
        return things[self.held[things] == 1]

    def _groups(self, size: int) -> list[tuple[int, ...]]:
        """Pairs or triples of chosen sets, chained by sets that reach into what two of them hold alone."""
        reach = {number: self._reach(number) for number in sorted(self.chosen)}
        pairs: list[tuple[int, ...]] = [
            (a, b) for a, b in combinations(reach, 2) if np.intersect1d(reach[a], reach[b], True).size
        ]
        if size == 2:
            return pairs
        beside: dict[int, list[tuple[int, ...]]] = {}
        for pair in pairs:
            for number in pair:
                beside.setdefault(number, []).append(pair)
        chains = (tuple(sorted({*a, *b})) for near in beside.values() for a, b in combinations(near, 2))
        return sorted(set(chains))

    def _reach(self, number: int) -> np.ndarray:
        """Return the sets that hold anything that this one holds alone."""
        return np.unique(np.concatenate([_holders(self.by_thing, thing) for thing in self._alone(number)]))

    def _replace(self, group: Sequence[int], most: int) -> bool:
        for number in group:
            self._remove(number)
        things = np.unique(np.concatenate([self.members[number] for number in group]))
        found = _holding_all(things[self.held[things] == 0], self.by_thing, most)
        for number in group if found is None else found:
            self._add(number)
        return found is not None


def _holders(by_thing: Any, thing: int) -> np.ndarray:
    return by_thing.indices[by_thing.indptr[thing] : by_thing.indptr[thing + 1]]


def _holding_all(need: np.ndarray, by_thing: Any, most: int) -> list[int] | None:
    """At most `most` sets that hold all of `need`; None if there are none."""
    if not len(need):
        return []
    # Whoever holds all holds the thing that fewest hold.
    rarest = need[np.argmin(np.diff(by_thing.indptr)[need])]
    holders = _holders(by_thing, rarest)
    rows = by_thing[:, need].tocsr()[holders]
    counts = np.diff(rows.indptr)
    order = np.argsort(-counts, kind="stable")
    if counts[order[0]] == len(need):
        return [int(holders[order[0]])]
    for place in order[: _MOST_TRIED if most > 1 else 0]:
        rest = np.delete(need, rows.indices[rows.indptr[place] : rows.indptr[place + 1]])
        if (others := _holding_all(rest, by_thing, most - 1)) is not None:
            return [int(holders[place]), *others]
    return None


def least_sets(sets: Sequence[np.ndarray], count: int) -> float:
    """Return a proven lower bound on how many of `sets` are needed to hold all that any of them holds.

    By duality of the linear relaxation: give each thing a price so that no set is worth more than 1; whatever is
    chosen must then have at least as many sets as all prices together. The prices come from the solver (HiGHS, through
    scipy), but are first made to keep that promise exactly, so that the bound rests on the sums and not on the
    solver's tolerance.
    """
    from scipy.optimize import linprog

    rows = _different_rows(incidence(sets, count))
    if not rows.shape[0]:
        return 0.0
    solved = linprog(np.ones(rows.shape[1]), A_ub=-rows, b_ub=-np.ones(rows.shape[0]), bounds=(0, None))
    price = np.maximum(-solved.ineqlin.marginals, 0.0)
    return float(price.sum() / max(1.0, float((rows.T @ price).max())))


def whole_bound(bound: float) -> int:
    """Return the least whole number of sets that a bound allows."""
    return math.ceil(bound - 1e-6)


def _different_rows(table: Any) -> Any:
    """Things by the sets that hold them, each pattern once, as a sparse matrix (patterns, sets)."""
    from scipy.sparse import csr_array

    by_thing = table.tocsc()
    by_thing.sort_indices()
    patterns = dict.fromkeys(_holders(by_thing, thing).tobytes() for thing in range(table.shape[1]))
    rows = [np.frombuffer(pattern, by_thing.indices.dtype) for pattern in patterns if pattern]
    rows = rows[:: max(1, math.ceil(len(rows) / _MOST_ROWS))]
    ends = np.concatenate([[0], np.cumsum([len(row) for row in rows])]).astype(int)
    columns = np.concatenate([*rows, np.empty(0, by_thing.indices.dtype)])
    return csr_array((np.ones(len(columns)), columns, ends), (len(rows), table.shape[0]))
