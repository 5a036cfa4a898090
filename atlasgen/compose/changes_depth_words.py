"""What became of depths and coverage between two editions, by tile, in words."""

from __future__ import annotations

from collections.abc import Iterator

from atlasgen.compose.changes_parts import Group, Row, reach_words
from atlasgen.model.changes import Changes, CoverageChange, DepthChange, TileDepths
from atlasgen.units import depth_words, distance_words, percent_words, rise_words

_DEPTHS = (
    "A depth counts as changed only if it differs by more than the bounds of both editions leave open. Each tile is "
    "told with its largest change; the changes follow, the largest first."
)
_COVERAGE = "The share of the water off each bank that lies near a sounding, where it differs by a percent or more."
_UNKNOWN = "What was not known is no depth of nought."


def depth_groups(changes: Changes) -> Iterator[Group]:
    """Give the depths by tile, every one that changed, and what became known."""
    yield Group("depth-tiles", "Depths, by tile", _DEPTHS, tuple(_tile(tile, changes) for tile in changes.depths))
    found = sorted(
        (change for tile in changes.depths for change in tile.changes), key=lambda c: (-abs(c.deeper_m), c.reach.id)
    )
    yield Group("depths", "Depths, bank by bank", "", tuple(_depth(change, changes) for change in found))
    known = tuple(
        Row(reach_words(k.reach),
            f"{_listed(k.what)}: {'was not known, is known now' if k.known_now else 'was known, is not known now'}",
            k.reach.page)
        for k in changes.depths_known
    )  # fmt: skip
    yield Group("depths-known", "Depths known now, or not any more", _UNKNOWN, known)


def coverage_group(changes: Changes) -> Group:
    """Return the coverage, tile by tile and within each the reaches, the largest change first."""
    rows = []
    for tile in changes.coverage:
        largest = tile.changes[0]
        middle = "" if tile.median is None else f", median {_signed(tile.median)}"
        count = f"{len(tile.changes)} reach{'es' if len(tile.changes) != 1 else ''} changed"
        words = f"{count}{middle}; the largest at {largest.reach.id}: {_shares(largest)}"
        rows.append(Row(f"Tile {tile.label}", words, largest.reach.page))
    return Group("coverage", "How well surveyed, by tile", _COVERAGE, tuple(rows))


def _tile(tile: TileDepths, changes: Changes) -> Row:
    largest, unit = tile.changes[0], changes.new.depth_unit
    way = "" if abs(tile.median_m) < 0.005 else " deeper" if tile.median_m > 0 else " shallower"
    words = (
        f"{len(tile.changes)} of {tile.compared} depths changed; over all of them the median is "
        f"{rise_words(abs(tile.median_m), unit)}{way}; the largest at {largest.reach.id}, {_which(largest, changes)}: "
        f"{_deeper(largest, changes)}"
    )
    return Row(f"Tile {tile.label}", words, largest.reach.page)


def _depth(change: DepthChange, changes: Changes) -> Row:
    unit = changes.new.depth_unit
    depths = f"{depth_words(change.old_m, unit)} → {depth_words(change.new_m, unit)}"
    allowed = f"the bounds leave {rise_words(change.allowed_m, unit)} open"
    words = f"{_which(change, changes)}: {depths}, {_deeper(change, changes)} ({allowed})"
    return Row(reach_words(change.reach), words, change.reach.page)


def _which(change: DepthChange, changes: Changes) -> str:
    if change.distance_m is None:
        return f"{change.what} of the soundings"
    return f"{distance_words(change.distance_m, changes.new.distance_unit)} out"


def _deeper(change: DepthChange, changes: Changes) -> str:
    way = "deeper" if change.deeper_m > 0 else "shallower"
    return f"{rise_words(abs(change.deeper_m), changes.new.depth_unit)} {way}"


def _shares(change: CoverageChange) -> str:
    return " → ".join("not known" if s is None else percent_words(s) for s in (change.old_share, change.new_share))


def _signed(share: float) -> str:
    return f"{share * 100:+.0f} %" if abs(share) >= 0.005 else "unchanged"


def _listed(what: tuple[str, ...]) -> str:
    words = ", ".join(what)
    return f"{words[:1].upper()}{words[1:]}"
