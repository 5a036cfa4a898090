"""Stretches of shore without a photo."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString

from atlasgen.measure.gaps import gaps
from atlasgen.model import Reach


def shore(lengths: list[float], ring: str = "shore", tiles: str = "ab") -> list[Reach]:
    """Reaches one after the other along a straight line, in tiles by turns."""
    found, at = [], 0.0
    for number, length in enumerate(lengths):
        line = LineString([(at, 0), (at + length, 0)])
        tile = tiles[number % len(tiles)]
        found.append(Reach(f"{ring}-{number}", ring, at, at + length, line, None, 0.0, tile, ""))
        at += length
    return found


def reach_states(reaches: list[Reach], links: dict[str, str]) -> dict[str, str]:
    """`near` where a photo is linked, else `none`."""
    linked = set(links.values())
    return {reach.id: "near" if reach.id in linked else "none" for reach in reaches}


def test_no_shore_has_no_gaps():
    """Nothing in, nothing out."""
    assert gaps([], {}) == ()


lengths = st.lists(st.floats(0.5, 300), min_size=1, max_size=12)


def test_neighbouring_reaches_without_photos_are_one_gap():
    """none, none, near, none, near: two gaps, with their lines."""
    reaches = shore([100, 50, 100, 30, 20])
    first, second = gaps(reaches, reach_states(reaches, {"p": "shore-2", "q": "shore-4"}))
    assert (
        first.ring,
        first.from_m,
        first.to_m,
        first.length_m,
        first.reaches,
    ) == ("shore", 0.0, 150.0, 150.0, ("shore-0", "shore-1"))
    assert list(first.line.coords) == [(0, 0), (100, 0), (150, 0)]
    assert (second.from_m, second.to_m, second.reaches) == (250.0, 280.0, ("shore-3",))


def test_a_gap_runs_on_over_the_rings_start():
    """The last and the first reach are neighbours: one gap, from 200 m over the start to 100 m."""
    (gap,) = gaps(reaches := shore([100, 100, 50]), reach_states(reaches, {"p": "shore-1"}))
    assert (gap.from_m, gap.to_m, gap.length_m, gap.reaches) == (200.0, 100.0, 150.0, ("shore-2", "shore-0"))


def test_a_ring_without_photos_is_one_gap_and_rings_do_not_mix():
    """The whole island from 0 to its length; the shore's own gap does not run on into it."""
    reaches = shore([100, 100]) + shore([40, 40], ring="island")
    found = gaps(reaches, reach_states(reaches, {"p": "shore-0"}))
    assert [(gap.ring, gap.from_m, gap.to_m) for gap in found] == [("shore", 100.0, 200.0), ("island", 0.0, 80.0)]


@given(lengths, st.lists(st.booleans(), min_size=12, max_size=12))
def test_gaps_are_all_the_shore_without_photos(sizes, linked):
    """No gap touches another, and together they are the length in state `none`."""
    reaches = shore(sizes)
    links = {f"p{n}": reach.id for n, (reach, link) in enumerate(zip(reaches, linked, strict=False)) if link}
    found = gaps(reaches, reach_states(reaches, links))
    bare = [reach for reach in reaches if reach.id not in links.values()]
    assert sorted(reach.id for reach in bare) == sorted(name for gap in found for name in gap.reaches)
    assert pytest.approx(sum(reach.length_m for reach in bare)) == sum(gap.length_m for gap in found)
    ends = {gap.to_m % reaches[-1].to_m for gap in found}
    assert len(found) == 1 or not ends & {gap.from_m for gap in found}
