"""Where lines of soundings cross, the two depths tell how well the survey repeats itself.

At each crossing the depth is interpolated along both lines between the soundings on either side. What both lines have
in common, such as a wrong draught or sound speed, does not show in the differences; what differs from day to day does.

The differences are compared with IHO S-44 Ed 6.1.0 (2022), section 3.2.3 and Table 1: a sounding's total vertical
uncertainty at 95 % may be TVU(d) = sqrt(a² + (b d)²). The difference of two independent soundings may be sqrt(2) times
that. S-44 is made for the sea: a comparison, not a certificate.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np
import shapely

from atlasgen.model.quality import CrossingBand, Crossings, OrderShare
from atlasgen.model.wording import say
from atlasgen.units import DEPTH_UNIT_M, DepthUnit, grouped_words, number_words

# Order: a in metres, b as a share of the depth.
TVU_ORDERS = {
    "Exclusive Order": (0.15, 0.0075),
    "Special Order": (0.25, 0.0075),
    "Order 1a/1b": (0.5, 0.013),
    "Order 2": (1.0, 0.023),
}
# Ours: between soundings farther apart than this the bed is not known well enough to compare.
LONGEST_STEP_M = 12.0
# Ours: a boat that lies still or turns does not cross its own line; one that comes back has been away for longer and
# on a longer way (where there are no times the way alone tells).
AWAY_S, AWAY_M = 60.0, 100.0
# Ours: with fewer differences the 95 % value is that of the largest one or two.
LEAST_FOR_P95, LEAST_FOR_WORDS = 40, 10
BAND_EDGES_M = (0.0, 5.0, 10.0, 20.0, 50.0, np.inf)
_BLOCK_M, _MOST_BLOCKS = 15.0, 400_000
_PAIRS_AT_ONCE = 4_000_000
_BIN_WIDTHS_M = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0)


def tvu_m(depth_m: float | np.ndarray, a_m: float, b: float) -> float | np.ndarray:
    """Total vertical uncertainty that S-44 allows a sounding, 95 %, metres."""
    return np.sqrt(a_m**2 + (b * np.asarray(depth_m)) ** 2)


def find_crossings(
    x_m: np.ndarray,
    y_m: np.ndarray,
    depth_m: np.ndarray,
    time_s: np.ndarray,
    line: np.ndarray,
    told_in: DepthUnit = "metres",
) -> Crossings:
    """Compare the depths wherever two runs cross, or one crosses itself after a while.

    Parameters
    ----------
    x_m, y_m, depth_m, time_s
        Soundings (n,) in the order in which they were made; those with a depth of NaN are passed over.
    line
        The run of each.
    told_in
        The unit of the words.
    """
    known = np.flatnonzero(np.isfinite(depth_m) & np.isfinite(x_m) & np.isfinite(y_m))
    x, y, z, time, run = x_m[known], y_m[known], depth_m[known], time_s[known], line[known]
    steps = _steps(x, y, run)
    if not len(steps):
        none = np.empty(0)
        return _summary(none, none, none, none, told_in)
    way = np.r_[0.0, np.cumsum(np.hypot(np.diff(x), np.diff(y)))]
    first, second, along_first, along_second = _crossed(x, y, steps, way, run)
    apart = _apart(first, second, way, time, run)
    first, second, along_first, along_second = (v[apart] for v in (first, second, along_first, along_second))
    depth_1 = z[first] + along_first * (z[first + 1] - z[first])
    depth_2 = z[second] + along_second * (z[second + 1] - z[second])
    at_x = x[first] + along_first * (x[first + 1] - x[first])
    at_y = y[first] + along_first * (y[first + 1] - y[first])
    return _summary(at_x, at_y, depth_1 - depth_2, (depth_1 + depth_2) / 2, told_in)


def _steps(x: np.ndarray, y: np.ndarray, run: np.ndarray) -> np.ndarray:
    """Places i from which a step to i + 1 is part of a run, moves, and is short enough to interpolate."""
    length = np.hypot(np.diff(x), np.diff(y))
    return np.flatnonzero((run[1:] == run[:-1]) & (length > 0) & (length <= LONGEST_STEP_M))


def _crossed(
    x: np.ndarray, y: np.ndarray, steps: np.ndarray, way: np.ndarray, run: np.ndarray
) -> tuple[np.ndarray, ...]:
    """Find pairs of steps that cross, and where along each (0 up to, not including, 1), in order of the first."""
    starts, ends = _blocks(x, y, steps)
    boxes = shapely.box(*_bounds(x, y, steps, starts))
    tree = shapely.STRtree(boxes)
    one, other = tree.query(boxes, predicate="intersects")
    # A block meets itself and its neighbours, which is no crossing, and most pairs are of that kind.
    far = way[steps[ends[other] - 1]] - way[steps[starts[one]]] > AWAY_M
    pairs = (one < other) & (far | (run[steps[starts[one]]] != run[steps[starts[other]]]))
    found = [np.empty((4, 0))]
    for a, b in _step_pairs(one[pairs], other[pairs], starts, ends):
        found.append(_meet(x, y, steps[a], steps[b]))
    first, second, along_first, along_second = np.concatenate(found, axis=1)
    order = np.lexsort((second, first))
    return first[order].astype(int), second[order].astype(int), along_first[order], along_second[order]


def _blocks(x: np.ndarray, y: np.ndarray, steps: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Cut the steps into blocks of about _BLOCK_M of way, never across a break: where each begins and ends."""
    way = np.cumsum(np.hypot(x[steps + 1] - x[steps], y[steps + 1] - y[steps]))
    block_m = max(_BLOCK_M, float(way[-1]) / _MOST_BLOCKS)
    new = (np.diff(way // block_m) > 0) | (np.diff(steps) != 1)
    starts = np.r_[0, np.flatnonzero(new) + 1]
    return starts, np.r_[starts[1:], len(steps)]


def _bounds(x: np.ndarray, y: np.ndarray, steps: np.ndarray, starts: np.ndarray) -> tuple[np.ndarray, ...]:
    low = [np.minimum.reduceat(np.minimum(v[steps], v[steps + 1]), starts) for v in (x, y)]
    high = [np.maximum.reduceat(np.maximum(v[steps], v[steps + 1]), starts) for v in (x, y)]
    return (*low, *high)


def _step_pairs(
    one: np.ndarray, other: np.ndarray, starts: np.ndarray, ends: np.ndarray
) -> Iterator[tuple[np.ndarray, np.ndarray]]:
    """Yield every step of one block with every step of the other, in portions small enough for memory."""
    sizes = ends - starts
    number = sizes[one] * sizes[other]
    portion = np.cumsum(number) // _PAIRS_AT_ONCE
    for which in np.split(np.arange(len(one)), np.flatnonzero(np.diff(portion)) + 1):
        a, b, count = one[which], other[which], number[which]
        pair = np.repeat(np.arange(len(which)), count)
        place = np.arange(int(count.sum())) - np.repeat(np.cumsum(count) - count, count)
        wide = sizes[b][pair]
        first, second = starts[a][pair] + place // wide, starts[b][pair] + place % wide
        yield first, second


def _meet(x: np.ndarray, y: np.ndarray, a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Return the steps (a, b) that cross, with the place along each: (4, crossings)."""
    ax, ay, bx, by = x[a + 1] - x[a], y[a + 1] - y[a], x[b + 1] - x[b], y[b + 1] - y[b]
    turn = ax * by - ay * bx
    gap_x, gap_y = x[b] - x[a], y[b] - y[a]
    parallel = turn == 0
    turn = np.where(parallel, 1.0, turn)
    along_a, along_b = (gap_x * by - gap_y * bx) / turn, (gap_x * ay - gap_y * ax) / turn
    # Half open, so that a crossing at a sounding counts once.
    meet = ~parallel & (along_a >= 0) & (along_a < 1) & (along_b >= 0) & (along_b < 1)
    return np.stack([a[meet], b[meet], along_a[meet], along_b[meet]])


def _apart(first: np.ndarray, second: np.ndarray, way: np.ndarray, time: np.ndarray, run: np.ndarray) -> np.ndarray:
    """Whether two steps belong to two runs, or to one that has been away in between."""
    soon = np.abs(time[second] - time[first]) <= AWAY_S
    return (run[first] != run[second]) | (~soon & (way[second] - way[first] > AWAY_M))


def _summary(x: np.ndarray, y: np.ndarray, difference: np.ndarray, depth: np.ndarray, told_in: DepthUnit) -> Crossings:
    if not len(difference):
        return Crossings(x, y, difference, depth, words=(say("measure-no-crossings"),))
    size = np.abs(difference)
    orders = tuple(OrderShare(name, a, b, _share(size, depth, a, b)) for name, (a, b) in TVU_ORDERS.items())
    edges, counts = _histogram(difference)
    found = Crossings(
        x_m=x,
        y_m=y,
        difference_m=difference,
        depth_m=depth,
        mean_m=float(difference.mean()),
        median_m=float(np.median(size)),
        rms_m=_rms(difference),
        p95_m=_p95(size),
        bands=tuple(_bands(difference, depth)),
        orders=orders,
        edges_m=edges,
        counts=counts,
    )
    return _with_words(found, told_in)


def _share(size: np.ndarray, depth: np.ndarray, a_m: float, b: float) -> float:
    return float((size <= np.sqrt(2) * tvu_m(depth, a_m, b)).mean())


def _rms(difference: np.ndarray) -> float:
    return float(np.sqrt(np.mean(difference**2)))


def _p95(size: np.ndarray) -> float | None:
    """Least difference that 95 in 100 do not exceed; None where they are too few."""
    return float(np.quantile(size, 0.95, method="inverted_cdf")) if len(size) >= LEAST_FOR_P95 else None


def _bands(difference: np.ndarray, depth: np.ndarray) -> Iterator[CrossingBand]:
    for low, high in pairwise(BAND_EDGES_M):
        inside = difference[(depth >= low) & (depth < high)]
        if len(inside):
            yield CrossingBand(low, high, len(inside), _rms(inside), _p95(np.abs(inside)))


def _histogram(difference: np.ndarray) -> tuple[tuple[float, ...], tuple[int, ...]]:
    """Bins of a round width, as many on either side of nought, about 20 over all but the outermost hundredth."""
    reach = float(np.quantile(np.abs(difference), 0.99))
    width = next((w for w in _BIN_WIDTHS_M if reach / w <= 12), _BIN_WIDTHS_M[-1])
    half = min(max(1, int(np.ceil(reach / width))), 50)
    edges = np.arange(-half, half + 1) * width
    place = np.clip(np.floor(difference / width).astype(int) + half, 0, 2 * half - 1)
    return tuple(edges.round(6).tolist()), tuple(np.bincount(place, minlength=2 * half).tolist())


def _with_words(found: Crossings, unit: DepthUnit) -> Crossings:
    if found.count < LEAST_FOR_WORDS:
        return replace(found, words=(say("measure-few-crossings", count=found.count),))

    def told(metres: float | None) -> str:
        return say("units-length", number=number_words((metres or 0.0) / DEPTH_UNIT_M[unit], 2), unit=unit)

    repeat = say(
        "measure-crossings" if found.p95_m is None else "measure-crossings-most",
        count=grouped_words(found.count),
        median=told(found.median_m),
        most=told(found.p95_m),
        rms=told(found.rms_m),
        mean=told(found.mean_m),
    )
    shares = [say("measure-order-share", share=round(100 * order.share), order=order.order) for order in found.orders]
    return replace(found, words=(repeat, say("measure-orders", shares=", ".join(shares))))
