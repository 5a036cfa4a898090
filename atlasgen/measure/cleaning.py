"""Which soundings are used: no copies, none on land, none that jump, no spikes; each other one is counted and listed.

What the files themselves tell (flags, zeros, depths that stand for nothing) has been left out in reading; here are the
tests that need the water, the other soundings or the way of the boat. Cleaning what is clean changes nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import reduce
from typing import NamedTuple

import numpy as np
import shapely
from shapely import MultiPolygon

from atlasgen.measure.gridding import raster_polygon
from atlasgen.measure.spikes import spikes
from atlasgen.model import Problem, Soundings
from atlasgen.model.quality import TESTS, Cleaning, LeftOut, SoundingRules
from atlasgen.model.wording import say
from atlasgen.read.sounding_rows import LISTED_AT_MOST, joined_left_out
from atlasgen.units import grouped_words, number_words

# Where `_reasons` tells of land.
_ON_LAND = 1
LIST_FILE = "audit/soundings_left_out.csv"
# Receivers that round their times to a second put two fixes at one time.
_TIME_STEP_S = 1.0
# Ours: a receiver that has lost itself for longer is not to be told from one that has found itself.
LONGEST_JUMP = 10
# Ours: where more than this share of a file (and more than these) jumps to and fro, it may hold two boats; then
# nothing is left out.
MOST_JUMPING, FEW_JUMPING = 0.05, 3
_CELLS = 4_000_000
_PLACE_STEPS, _DEPTH_STEPS, _TIME_STEPS = 1e7, 1e3, 1e3


class Cleaned(NamedTuple):
    """`used` marks the soundings (n,) that passed; `left_out` lists those of reading and of cleaning."""

    used: np.ndarray
    left_out: LeftOut
    cleaning: Cleaning
    problems: tuple[Problem, ...]


def clean(soundings: Soundings, x_m: np.ndarray, y_m: np.ndarray, water: MultiPolygon, rules: SoundingRules) -> Cleaned:
    """Test all soundings, (`x_m`, `y_m`) being their places in metres, and say what became of each."""
    reason = np.zeros(len(soundings.depth_m), dtype=np.int8)
    reasons = _reasons(rules)
    for number, rejected in _tests(soundings, x_m, y_m, water, rules, reason):
        reason[rejected] = number
    counts = np.bincount(reason, minlength=len(reasons) + 1)
    left_out = with_left_out(soundings, reason, reasons)
    cleaning = Cleaning(
        read=len(reason) + sum(soundings.rejected.values()),
        kept=int(counts[0]),
        counts=dict(soundings.rejected) | {why: int(n) for why, n in zip(reasons, counts[1:], strict=True) if n},
        examples=_examples(left_out),
        skipped=tuple(_skipped(soundings, rules)),
    )
    return Cleaned(reason == 0, left_out, cleaning, tuple(_problems(cleaning, reasons)))


def _reasons(rules: SoundingRules) -> tuple[str, ...]:
    """Return the reasons in words, in the order of the tests."""
    return (
        say("measure-reason-copy"),
        say("measure-reason-land", metres=rules.land_tolerance_m),
        say("measure-reason-jump", speed=rules.fastest_mps),
        say("measure-reason-spike"),
    )


def cleaning_words(cleaning: Cleaning) -> str:
    """Say in a sentence or two how many soundings are used and why the others are not."""
    counts = sorted(cleaning.counts.items(), key=lambda item: (-item[1], item[0]))
    reasons = "; ".join(say("measure-reason-count", reason=why, count=grouped_words(n)) for why, n in counts)
    facts = {"read": grouped_words(cleaning.read), "kept": grouped_words(cleaning.kept)}
    if not reasons:
        return " ".join([say("measure-cleaned-all", **facts), *cleaning.skipped])
    return " ".join([say("measure-cleaned", reasons=reasons, list=LIST_FILE, **facts), *cleaning.skipped])


def _tests(soundings, x, y, water, rules, reason) -> Iterator[tuple[int, np.ndarray]]:
    """Yield (reason, places rejected) one test after another; `reason` shows each what is still there."""
    if "duplicates" in rules.clean:
        yield 1, np.flatnonzero(copies(soundings.lon_deg, soundings.lat_deg, soundings.depth_m, soundings.time_s))
    if "land" in rules.clean:
        here = np.flatnonzero(reason == 0)
        yield 2, here[on_land(x[here], y[here], water, rules.land_tolerance_m)]
    file = np.zeros(len(x), dtype=np.int16) if soundings.file is None else soundings.file
    found = True
    while found:
        if "jumps" in rules.clean:
            here = np.flatnonzero(reason == 0)
            yield 3, here[jumps(x[here], y[here], soundings.time_s[here], file[here], rules.fastest_mps)]
        found = False
        if "spikes" in rules.clean:
            here = np.flatnonzero(reason == 0)
            rejected = here[spikes(x[here], y[here], soundings.depth_m[here], soundings.line[here])]
            # Without the spikes the boat's way is another: it is tested again, until nothing more is found.
            found = bool(len(rejected)) and "jumps" in rules.clean
            yield 4, rejected


def copies(lon_deg: np.ndarray, lat_deg: np.ndarray, depth_m: np.ndarray, time_s: np.ndarray) -> np.ndarray:
    """Mark all but the first of soundings with the same place (1e-7 degrees), depth (1 mm) and time (1 ms).

    Soundings without a time are copies of each other where place and depth are the same.
    """
    steps = (_PLACE_STEPS, _PLACE_STEPS, _DEPTH_STEPS, _TIME_STEPS)
    values = (lon_deg, lat_deg, depth_m, np.where(np.isnan(time_s), -1.0, time_s))
    keys = [np.round(value * step).astype(np.int64) for value, step in zip(values, steps, strict=True)]
    mixed = np.zeros(len(depth_m), dtype=np.uint64)
    for key in keys:
        mixed = (mixed ^ key.view(np.uint64)) * np.uint64(0x9E3779B97F4A7C15)
        mixed ^= mixed >> np.uint64(29)
    # Sorting one mixed number is many times faster than four keys; only those that share it are compared in full.
    ordered = np.sort(mixed)
    shared = np.flatnonzero(np.isin(mixed, np.unique(ordered[1:][ordered[1:] == ordered[:-1]])))
    order = shared[np.lexsort((shared, *(key[shared] for key in keys)))]
    same = np.all([key[order[1:]] == key[order[:-1]] for key in keys], axis=0)
    again = np.zeros(len(depth_m), dtype=bool)
    again[order[1:][same]] = True
    return again


def on_land(x_m: np.ndarray, y_m: np.ndarray, water: MultiPolygon, tolerance_m: float) -> np.ndarray:
    """Mark the places farther than `tolerance_m` from the water.

    The default tolerance of 5 m is what IHO S-44 Ed 6.1.0 lets a position of Order 1a be off at no depth (95 %).
    """
    # A buffer of less than a millimetre is lost in rounding, and with it the water.
    allowed = water.buffer(tolerance_m) if tolerance_m >= 0.001 else water
    west, south, east, north = allowed.bounds
    cell_m = max(2.0, float(np.sqrt((east - west) * (north - south) / _CELLS)))
    shape = (int((north - south) / cell_m) + 1, int((east - west) / cell_m) + 1)
    # A place is nearer than this to its cell's centre: where the centre is that far inside, it is inside for certain.
    surely = raster_polygon(allowed.buffer(-0.7072 * cell_m), west, south, cell_m, shape)
    land = np.ones(len(x_m), dtype=bool)
    known = np.flatnonzero((x_m >= west) & (x_m <= east) & (y_m >= south) & (y_m <= north))
    col, row = (np.rint((v[known] - v0) / cell_m).astype(np.int64) for v, v0 in ((x_m, west), (y_m, south)))
    sure = surely[np.minimum(row, shape[0] - 1), np.minimum(col, shape[1] - 1)]
    land[known[sure]] = False
    open_ = known[~sure]
    shapely.prepare(allowed)
    land[open_] = ~shapely.intersects_xy(allowed, x_m[open_], y_m[open_])
    return land


def jumps(x_m: np.ndarray, y_m: np.ndarray, time_s: np.ndarray, file: np.ndarray, fastest_mps: float) -> np.ndarray:
    """Mark the few soundings that lie off the boat's way, too far to be reached and left again in the time.

    The way is cut wherever two soundings in turn are farther apart than the boat can go; a short piece between two
    that fit each other without it, or a lone sounding at the end, jumps. A way that jumps and stays is left as it is.
    """
    left = np.isfinite(time_s)
    found = True
    while found:
        at = np.flatnonzero(left)
        rejected = at[_off_the_way(x_m[at], y_m[at], time_s[at], file[at], fastest_mps)]
        left[rejected] = False
        found = bool(len(rejected))
    jumping = np.isfinite(time_s) & ~left
    files = int(file.max()) + 1 if len(file) else 0
    count = np.bincount(file[jumping], minlength=files)
    believed = count <= np.maximum(FEW_JUMPING, MOST_JUMPING * np.bincount(file, minlength=files))
    return jumping & believed[file] if files else jumping


def _off_the_way(x, y, time_s, file, fastest_mps: float) -> np.ndarray:
    """Places of one round of jumps, in the arrays given."""

    def too_far(a: np.ndarray, b: np.ndarray) -> np.ndarray:
        seconds = np.maximum(np.abs(time_s[b] - time_s[a]), _TIME_STEP_S)
        return (np.hypot(x[b] - x[a], y[b] - y[a]) > fastest_mps * seconds) & (file[a] == file[b])

    place = np.arange(len(x))
    cut = too_far(place[:-1], place[1:])
    if not cut.any():
        return place[:0]
    starts = np.flatnonzero(np.r_[True, cut | (file[1:] != file[:-1])])
    sizes = np.diff(np.r_[starts, len(x)])
    last = starts + sizes - 1
    piece_file, none = file[starts], -1
    joined = np.r_[False, piece_file[1:] == piece_file[:-1]]
    before, after = np.r_[0, sizes[:-1]] * joined, np.r_[sizes[1:] * joined[1:], 0]
    jumping = np.zeros(len(starts), dtype=bool)
    inner = np.flatnonzero((before > 0) & (after > 0))
    fits = ~too_far(last[inner - 1], starts[np.minimum(inner + 1, len(starts) + none)])
    few = (sizes[inner] <= LONGEST_JUMP) & (before[inner] + after[inner] > 2 * sizes[inner])
    jumping[inner] = fits & few
    jumping |= (sizes == 1) & ((before == 0) != (after == 0)) & (np.maximum(before, after) >= 3)
    return np.flatnonzero(np.repeat(jumping, sizes))


def with_left_out(soundings: Soundings, reason: np.ndarray, reasons: tuple[str, ...]) -> LeftOut:
    """List what is left out here, after what was before (`soundings.left_out`), by file and line.

    `reason` (n,) counts `reasons` from 1; 0 is kept.
    """
    files = soundings.files or ("soundings",)
    file = np.zeros(len(reason), dtype=np.int16) if soundings.file is None else soundings.file
    row = np.zeros(len(reason), dtype=np.int32) if soundings.row is None else soundings.row
    listed, more = [], []
    for number, why in enumerate(reasons, start=1):
        for which, name in enumerate(files):
            places = np.flatnonzero((reason == number) & (file == which))
            listed.append(places[:LISTED_AT_MOST])
            more += [(name, why, len(places) - LISTED_AT_MOST)] if len(places) > LISTED_AT_MOST else []
    at = np.concatenate(listed)
    ours = LeftOut(
        file=file[at],
        row=row[at],
        lon_deg=soundings.lon_deg[at],
        lat_deg=soundings.lat_deg[at],
        depth_m=soundings.depth_m[at],
        time_s=soundings.time_s[at],
        reason=reason[at] - 1,
        files=files,
        reasons=reasons,
        unlisted=tuple(more),
    )
    every = ours if soundings.left_out is None else joined_left_out([soundings.left_out, ours])
    order = np.lexsort((every.row, every.file))
    names = ("file", "row", "lon_deg", "lat_deg", "depth_m", "time_s", "reason")
    return replace(every, **{name: getattr(every, name)[order] for name in names})


def _examples(left_out: LeftOut) -> dict[str, tuple[tuple[str, int, float], ...]]:
    examples = {}
    for number, why in enumerate(left_out.reasons):
        first = np.flatnonzero(left_out.reason == number)[:3]
        if len(first):
            rows = zip(left_out.file[first], left_out.row[first], left_out.depth_m[first], strict=True)
            examples[why] = tuple((left_out.files[file], int(row), float(depth_m)) for file, row, depth_m in rows)
    return examples


def _skipped(soundings: Soundings, rules: SoundingRules) -> Iterator[str]:
    off = [say("measure-test", test=test) for test in TESTS if test not in rules.clean]
    if off:
        tests = reduce(lambda one, other: say("measure-or", one=one, other=other), off)
        yield say("measure-not-tested", tests=tests)
    untimed = int(np.isnan(soundings.time_s).sum())
    if "jumps" in rules.clean and untimed:
        yield say("measure-untimed", count=grouped_words(untimed))


def _problems(cleaning: Cleaning, reasons: tuple[str, ...]) -> Iterator[Problem]:
    for number, why in enumerate(reasons):
        count = cleaning.counts.get(why, 0)
        if not count:
            continue
        file, row, depth_m = cleaning.examples[why][0]
        where = say("measure-line", file=file, row=row) if row else file
        doubtful = number == _ON_LAND and count > cleaning.read / 2
        message = "measure-fault-left-out-half" if doubtful else "measure-fault-left-out"
        facts = {"count": grouped_words(count), "depth": number_words(depth_m, 2), "list": LIST_FILE}
        yield Problem("soundings", "bad_row", say(message, reason=why, where=where, **facts))
