"""Which shores are photographed."""

from __future__ import annotations

from datetime import UTC, datetime
from fractions import Fraction
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString

from atlasgen.measure.audit import STATES, audit_table, gaps, reach_states
from atlasgen.model import Reach

MAY, JUNE = datetime(2026, 5, 1, tzinfo=UTC), datetime(2026, 6, 1, tzinfo=UTC)


def shore(lengths: list[float], ring: str = "shore", tiles: str = "ab") -> list[Reach]:
    """Reaches one after the other along a straight line, in tiles by turns."""
    found, at = [], 0.0
    for number, length in enumerate(lengths):
        line = LineString([(at, 0), (at + length, 0)])
        tile = tiles[number % len(tiles)]
        found.append(Reach(f"{ring}-{number}", ring, at, at + length, line, None, 0.0, tile, ""))
        at += length
    return found


def photo(taken: datetime | None) -> SimpleNamespace:
    return SimpleNamespace(taken=taken)


def test_a_linked_reach_is_near_and_any_other_none():
    """One photo on the second of three reaches."""
    reaches = shore([100, 100, 50])
    states = reach_states(reaches, {"p1": "shore-1", "p2": "shore-1"})
    assert states == {"shore-0": "none", "shore-1": "near", "shore-2": "none"}


def test_a_row_tells_photos_and_the_newest_of_them():
    """Photos without a time count, but cannot be the newest."""
    reaches = shore([100, 50.126])
    states = reach_states(reaches, {"p": "shore-1"})
    table = audit_table(reaches, states, {"shore-1": [photo(MAY), photo(None), photo(JUNE)]})
    first, second = table.rows
    assert (second.from_m, second.to_m, second.length_m) == (100.0, 150.13, 50.13)
    assert (second.photos, second.newest, second.state, second.tile) == (3, JUNE, "near", "b")
    assert (first.photos, first.newest, first.state, first.tile) == (0, None, "none", "a")


def test_totals_by_ring_by_tile_and_in_all():
    """Two rings, two tiles, by hand."""
    reaches = shore([100, 100]) + shore([50], ring="island")
    states = reach_states(reaches, {"p": "shore-0", "q": "island-0"})
    table = audit_table(reaches, states, {"shore-0": [photo(MAY)], "island-0": [photo(MAY)]})
    assert [(total.name, total.length_m) for total in table.by_ring] == [("shore", 200.0), ("island", 50.0)]
    assert [(total.name, total.length_m) for total in table.by_tile] == [("a", 150.0), ("b", 100.0)]
    assert (table.total.reaches, table.total.photos, table.total.length_m) == (3, 2, 250.0)
    assert table.total.lengths_m == {"well": 0.0, "poorly": 0.0, "near": 150.0, "none": 100.0}
    assert table.total.percent == {"well": 0.0, "poorly": 0.0, "near": 60.0, "none": 40.0}


def test_thirds_add_up_to_a_hundred():
    """Three equal reaches in three states: the odd tenth goes to one of them."""
    reaches = shore([100, 100, 100])
    states = {"shore-0": "well", "shore-1": "near", "shore-2": "none"}
    percent = audit_table(reaches, states, {}).total.percent
    assert sorted(percent.values()) == [0.0, 33.3, 33.3, 33.4]


def test_no_reaches_make_an_empty_table():
    """No shore, no percent."""
    table = audit_table([], {}, {})
    assert (table.rows, table.by_ring, table.by_tile, table.total.length_m) == ((), (), (), 0.0)
    assert {0.0} == set(table.total.percent.values())
    assert gaps([], {}) == ()


lengths = st.lists(st.floats(0.5, 300), min_size=1, max_size=12)


@given(lengths, lengths, st.lists(st.sampled_from(STATES), min_size=24, max_size=24))
def test_lengths_partition_exactly(outer, island, states):
    """Rows, states, rings, tiles and the whole are the same centimetres, counted as fractions."""
    reaches = shore(outer) + shore(island, ring="island", tiles="bc")
    table = audit_table(reaches, dict(zip((reach.id for reach in reaches), states, strict=False)), {})

    def hundredths(value: float) -> Fraction:
        return Fraction(f"{value:.2f}")

    whole = hundredths(table.total.length_m)
    assert whole == sum(hundredths(row.length_m) for row in table.rows)
    assert whole == sum(hundredths(total.length_m) for total in table.by_ring)
    assert whole == sum(hundredths(total.length_m) for total in table.by_tile)
    for total in (*table.by_ring, *table.by_tile, table.total):
        assert hundredths(total.length_m) == sum(map(hundredths, total.lengths_m.values()))
        assert pytest.approx(100.0, abs=1e-9) == sum(total.percent.values())
    assert pytest.approx(sum(outer) + sum(island), abs=0.02) == table.total.length_m


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
