"""Depths and coverage off each reach, compared between two editions and told by tile.

A depth counts as changed only if it differs by more than the bounds of both editions leave open: each bound holds for
95 of 100 places, and for the difference of two independent values they add up as the root of their squares (JCGM
100:2008, 5.1.2). The median and the shallowest of the soundings off a bank take the widest bound of its profile.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import median
from typing import Any, NamedTuple

from atlasgen.compose.changes_reaches import Edition, Pairs
from atlasgen.model.changes import (
    CoverageChange,
    DepthChange,
    DepthKind,
    DepthKnown,
    NotCompared,
    ReachRef,
    TileCoverage,
    TileDepths,
)
from atlasgen.model.wording import say
from atlasgen.units import DistanceUnit, distance_words, number_words, set_words

# Shares are told in whole percent.
_SHARE_STEP = 0.01


class _Depth(NamedTuple):
    """One depth off a reach in both editions, with their bounds; None is not known."""

    what: DepthKind
    distance_m: float | None
    old_m: float | None
    new_m: float | None
    allowed_m: float | None


@dataclass(frozen=True, slots=True)
class DepthChanges:
    """What became of the depths, and what of them could not be compared."""

    tiles: tuple[TileDepths, ...]
    known: tuple[DepthKnown, ...]
    not_compared: tuple[NotCompared, ...]
    levels_agree: bool = True


def depth_changes(old: Edition, new: Edition, pairs: Pairs) -> DepthChanges:
    """Compare the depths off every reach that both editions have, if they count from the same level."""
    levels = [_level(edition.document["survey"]) for edition in (old, new)]
    if levels[0] != levels[1]:
        return DepthChanges((), (), (NotCompared(say("changes-what-depths"), _level_words(*levels)),), False)
    unit = new.document["survey"]["units"]["distance"]
    width_words = _widths_words(old, new, "depth", unit)
    found = {
        name: tuple(_depths_of(old, new, old_id, name, soundings=width_words is None))
        for name, old_id in pairs.old_of.items()
        if _same_tie(old.rows[old_id]["depth"], new.rows[name]["depth"])
    }
    known = [item for name, depths in found.items() for item in _known(new.reaches[name], depths, unit)]
    told = [NotCompared(say("changes-what-soundings"), width_words)] if width_words else []
    told += _untied(len(pairs.old_of) - len(found)) + _unjudged(depth for depths in found.values() for depth in depths)
    return DepthChanges(_by_tile(found, new), tuple(known), tuple(told))


def coverage_changes(old: Edition, new: Edition, pairs: Pairs) -> tuple[tuple[TileCoverage, ...], list[NotCompared]]:
    """Compare the share of the water off each reach that lies near a sounding, if both mean the same by it."""
    unit = new.document["survey"]["units"]["distance"]
    if words := _widths_words(old, new, "coverage", unit):
        return (), [NotCompared(say("changes-what-coverage"), words)]
    by_tile: dict[str | None, list[CoverageChange]] = defaultdict(list)
    for name, old_id in pairs.old_of.items():
        shares = _share(old.rows[old_id]), _share(new.rows[name])
        by_tile[new.rows[name]["tile"]].append(CoverageChange(new.reaches[name], *shares))
    tiles = [tile for name, rows in by_tile.items() if (tile := _tile_coverage(name, rows, new)).changes]
    return tuple(sorted(tiles, key=lambda t: (-_coverage_size(t.changes[0]), t.tile or ""))), []


def _level(survey: Mapping[str, Any]) -> tuple[str, str, float]:
    """Return what depths count from; editions that do not say their level tell depths below the datum."""
    return survey["datum"], survey.get("depths_below") or survey["datum"], survey.get("shown_stage_m") or 0.0


def _level_words(old: tuple[str, str, float], new: tuple[str, str, float]) -> str:
    texts = [level[1] for level in (old, new)]
    if texts[0] == texts[1]:
        signed = [f"{'+' if level[2] >= 0 else '-'}{number_words(abs(level[2]), 2)}" for level in (old, new)]
        texts = [
            say("changes-level", below=level[1], datum=level[0], level=metres)
            for level, metres in zip((old, new), signed, strict=True)
        ]
    return say("changes-why-levels", old=texts[0], new=texts[1])


def _widths_words(old: Edition, new: Edition, key: str, unit: DistanceUnit) -> str | None:
    """Say so if the editions take in other widths of water off the bank, or mean other distances by near."""
    for name in ("off_bank_m", "near_sounding_m"):
        values = [_stated(edition, key, name) for edition in (old, new)]
        if None not in values and values[0] != values[1]:
            before, now = (set_words(value, unit) for value in values if value is not None)
            wide = name == "off_bank_m"
            return say("changes-why-widths" if wide else "changes-why-near", old=before, new=now)
    return None


def _stated(edition: Edition, key: str, name: str) -> float | None:
    found = (row[key][name] for row in edition.rows.values() if row[key] and name in row[key])
    return next(found, None)


def _same_tie(old: Mapping[str, Any] | None, new: Mapping[str, Any] | None) -> bool:
    """Tell whether both depths off a reach are tied to the datum or neither is; where there are none, nothing is."""
    return old is None or new is None or old["reduced"] == new["reduced"]


def _untied(count: int) -> list[NotCompared]:
    what = say("changes-what-untied", count=count)
    return [NotCompared(what, say("changes-why-untied"))] if count else []


def _unjudged(depths: Iterable[_Depth]) -> list[NotCompared]:
    count = sum(depth.allowed_m is None and _both(depth) and depth.old_m != depth.new_m for depth in depths)
    what = say("changes-what-unjudged", count=count)
    return [NotCompared(what, say("changes-why-unjudged"))] if count else []


def _both(depth: _Depth) -> bool:
    return depth.old_m is not None and depth.new_m is not None


def _depths_of(old: Edition, new: Edition, old_id: str, new_id: str, soundings: bool) -> Iterator[_Depth]:
    """Give each depth that both editions tell of a reach: of its soundings, and at the stations of its profile."""
    before, now = old.rows[old_id]["depth"], new.rows[new_id]["depth"]
    bounds = old.bounds.get(old_id, {}), new.bounds.get(new_id, {})
    if soundings and (before or now):
        widest = _root(*(max(b.values(), default=None) for b in bounds))
        kinds: tuple[DepthKind, ...] = ("median", "shallowest")
        for what in kinds:
            old_m, new_m = (depth[f"{what}_m"] if depth else None for depth in (before, now))
            yield _Depth(what, None, old_m, new_m, widest)
    stations = [dict(map(tuple, depth["profile_m"])) if depth else None for depth in (before, now)]
    at = [set(s) for s in stations if s is not None]
    for distance_m in sorted(set.intersection(*at)) if at else []:
        old_m, new_m = (s[distance_m] if s is not None else None for s in stations)
        yield _Depth("station", distance_m, old_m, new_m, _root(*(b.get(distance_m) for b in bounds)))


def _root(old_m: float | None, new_m: float | None) -> float | None:
    return None if old_m is None or new_m is None else round(math.hypot(old_m, new_m), 3)


def _known(reach: ReachRef, depths: Sequence[_Depth], unit: DistanceUnit) -> Iterator[DepthKnown]:
    for now in (True, False):
        rows = [depth for depth in depths if not _both(depth) and (depth.new_m if now else depth.old_m) is not None]
        what = [say("changes-off-the-bank")] if any(depth.what == "median" for depth in rows) else []
        what += [_out(d.distance_m, unit) for d in rows if d.distance_m is not None]
        if what:
            yield DepthKnown(reach, now, tuple(what))


def _out(distance_m: float, unit: DistanceUnit) -> str:
    return say("changes-out", distance=distance_words(distance_m, unit))


def _by_tile(found: Mapping[str, Sequence[_Depth]], new: Edition) -> tuple[TileDepths, ...]:
    by_tile: dict[str | None, list[tuple[str, _Depth]]] = defaultdict(list)
    for name, depths in found.items():
        by_tile[new.rows[name]["tile"]] += [(name, depth) for depth in depths if _both(depth)]
    tiles = [_tile_depths(tile, rows, new) for tile, rows in by_tile.items()]
    changed = [tile for tile in tiles if tile.changes]
    return tuple(sorted(changed, key=lambda t: (-abs(t.changes[0].deeper_m), t.tile or "")))


def _tile_depths(tile: str | None, rows: Sequence[tuple[str, _Depth]], new: Edition) -> TileDepths:
    judged = [(name, depth) for name, depth in rows if depth.allowed_m is not None]
    changes = [
        DepthChange(new.reaches[name], depth.what, depth.distance_m, depth.old_m, depth.new_m, depth.allowed_m)
        for name, depth in judged
        if depth.old_m is not None and depth.new_m is not None and depth.allowed_m is not None
        and abs(depth.new_m - depth.old_m) > depth.allowed_m
    ]  # fmt: skip
    deeper_m = [depth.new_m - depth.old_m for _, depth in judged if depth.new_m is not None and depth.old_m is not None]
    changes.sort(key=lambda c: (-abs(c.deeper_m), c.reach.id, c.distance_m or 0.0, c.what))
    middle_m = round(median(deeper_m), 3) if deeper_m else 0.0
    return TileDepths(tile, _label(new, tile), len(judged), len(rows) - len(judged), middle_m, tuple(changes))


def _label(new: Edition, tile: str | None) -> str:
    return next((row["label"] for row in new.document["tiles"] if row["id"] == tile), tile or say("changes-no-tile"))


def _share(row: Mapping[str, Any]) -> float | None:
    return row["coverage"]["share_near_sounding"] if row["coverage"] else None


def _tile_coverage(tile: str | None, rows: Sequence[CoverageChange], new: Edition) -> TileCoverage:
    changes = [row for row in rows if (row.old_share is None) != (row.new_share is None) or _coverage_changed(row)]
    changes.sort(key=lambda row: (-_coverage_size(row), row.reach.id))
    both = [row.new_share - row.old_share for row in rows if row.new_share is not None and row.old_share is not None]
    return TileCoverage(tile, _label(new, tile), len(both), round(median(both), 4) if both else None, tuple(changes))


def _coverage_changed(row: CoverageChange) -> bool:
    return _coverage_size(row) >= _SHARE_STEP


def _coverage_size(row: CoverageChange) -> float:
    if row.old_share is None or row.new_share is None:
        return 0.0
    # Rounded, since a step of exactly one percent is told and 0.8 - 0.79 falls short of it in binary.
    return round(abs(row.new_share - row.old_share), 4)
