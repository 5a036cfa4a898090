"""What became of depths and coverage between two editions, by tile, in words."""

from __future__ import annotations

from collections.abc import Iterator

from atlasgen.compose.changes_parts import Group, Row, reach_words
from atlasgen.model.changes import Changes, CoverageChange, DepthChange, TileDepths
from atlasgen.model.wording import say
from atlasgen.units import depth_words, distance_words, percent_words, rise_words


def depth_groups(changes: Changes) -> Iterator[Group]:
    """Give the depths by tile, every one that changed, and what became known."""
    tiles = tuple(_tile(tile, changes) for tile in changes.depths)
    yield Group("depth-tiles", say("changes-depth-tiles"), say("changes-depth-tiles-lead"), tiles)
    found = sorted(
        (change for tile in changes.depths for change in tile.changes), key=lambda c: (-abs(c.deeper_m), c.reach.id)
    )
    yield Group("depths", say("changes-depths"), "", tuple(_depth(change, changes) for change in found))
    known = tuple(
        Row(
            reach_words(k.reach),
            say("changes-depth-known" if k.known_now else "changes-depth-unknown", depths=_listed(k.what)),
            k.reach.page,
        )
        for k in changes.depths_known
    )
    yield Group("depths-known", say("changes-depths-known"), say("changes-depths-known-lead"), known)


def coverage_group(changes: Changes) -> Group:
    """Return the coverage, tile by tile and within each the reaches, the largest change first."""
    rows = []
    for tile in changes.coverage:
        largest = tile.changes[0]
        facts = {"count": len(tile.changes), "reach": largest.reach.id, "shares": _shares(largest)}
        if tile.median is None:
            words = say("changes-coverage-tile", **facts)
        else:
            words = say("changes-coverage-tile-median", median=_signed(tile.median), **facts)
        rows.append(Row(say("changes-tile", tile=tile.label), words, largest.reach.page))
    return Group("coverage", say("changes-coverage"), say("changes-coverage-lead"), tuple(rows))


def _tile(tile: TileDepths, changes: Changes) -> Row:
    largest, unit = tile.changes[0], changes.new.depth_unit
    median = rise_words(abs(tile.median_m), unit)
    words = say(
        "changes-depth-tile",
        count=len(tile.changes),
        compared=tile.compared,
        median=median if abs(tile.median_m) < 0.005 else _way(median, tile.median_m),
        reach=largest.reach.id,
        which=_which(largest, changes),
        change=_deeper(largest, changes),
    )
    return Row(say("changes-tile", tile=tile.label), words, largest.reach.page)


def _depth(change: DepthChange, changes: Changes) -> Row:
    unit = changes.new.depth_unit
    depths = f"{depth_words(change.old_m, unit)} → {depth_words(change.new_m, unit)}"
    words = say(
        "changes-depth",
        which=_which(change, changes),
        depths=depths,
        change=_deeper(change, changes),
        allowed=rise_words(change.allowed_m, unit),
    )
    return Row(reach_words(change.reach), words, change.reach.page)


def _which(change: DepthChange, changes: Changes) -> str:
    if change.distance_m is None:
        return say("changes-of-the-soundings", which=change.what)
    return say("changes-out", distance=distance_words(change.distance_m, changes.new.distance_unit))


def _deeper(change: DepthChange, changes: Changes) -> str:
    return _way(rise_words(abs(change.deeper_m), changes.new.depth_unit), change.deeper_m)


def _way(height: str, deeper_m: float) -> str:
    return say("changes-deeper" if deeper_m > 0 else "changes-shallower", height=height)


def _shares(change: CoverageChange) -> str:
    shares = (change.old_share, change.new_share)
    return " → ".join(say("changes-not-known") if share is None else percent_words(share) for share in shares)


def _signed(share: float) -> str:
    return f"{share * 100:+.0f} %" if abs(share) >= 0.005 else say("changes-unchanged")


def _listed(what: tuple[str, ...]) -> str:
    words = ", ".join(what)
    return f"{words[:1].upper()}{words[1:]}"
