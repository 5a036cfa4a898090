"""The state of each metre of shoreline, and what adds up from it."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from fractions import Fraction
from itertools import pairwise
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box

from atlasgen.measure.shore_states import (
    failed_limits,
    photo_columns,
    reason_of_pieces,
    shore_states,
    sightings,
    state_stretches,
)
from atlasgen.measure.shore_totals import label_of, reach_summaries, state_totals
from atlasgen.model import Reach
from atlasgen.model.states import SHORE_STATES, AuditRules, PhotoColumns, Sightings
from atlasgen.model.views import SeenMetres

DAY = datetime(2026, 6, 1, 9, tzinfo=UTC)
RULES = AuditRules(gsd_limit_cm=10, angle_limit_deg=20, age_limit_days=100, reference=DAY)


def lake(*reach_lengths: float, island: float = 0.0, piece_m: float = 2.0, tiles: str = "ab"):
    """Reaches along a shore of one ring, perhaps an island of one reach, and their pieces."""
    reaches, at = [], 0.0
    for number, length in enumerate(reach_lengths):
        tile = tiles[number % len(tiles)]
        reaches.append(Reach(f"S-{number}", "S", at, at + length, None, None, 0.0, tile, ""))
        at += length
    if island:
        reaches.append(Reach("A-0", "A", 0.0, island, None, None, 0.0, "a", ""))
    counts = [max(1, int(np.ceil(reach.length_m / piece_m - 1e-9))) for reach in reaches]
    edges = [np.linspace(reach.from_m, reach.to_m, count + 1) for reach, count in zip(reaches, counts, strict=True)]
    pieces = SimpleNamespace(
        rings=("S", "A") if island else ("S",),
        ring=np.repeat([reach.ring == "A" for reach in reaches], counts).astype(int),
        reach=np.repeat(np.arange(len(reaches)), counts),
        from_m=np.concatenate([edge[:-1] for edge in edges]),
        to_m=np.concatenate([edge[1:] for edge in edges]),
    )
    return reaches, pieces


def photos(*rows: tuple[datetime | None, str, int]) -> PhotoColumns:
    """Return columns from rows of (taken, kind, number of the linked reach)."""
    return PhotoColumns(
        np.array([np.nan if taken is None else taken.timestamp() for taken, _, _ in rows], float),
        np.array([kind == "aerial" for _, kind, _ in rows], bool),
        np.array([reach for _, _, reach in rows], int),
    )


def seen(*rows: tuple[int, int, float, float]) -> Sightings:
    """Return sightings from rows of (piece, photo, gsd, angle)."""
    piece, photo, gsd, angle = np.array(rows, float).reshape(-1, 4).T
    return Sightings(piece.astype(int), photo.astype(int), gsd, angle)


def names(states) -> list[str]:
    return [SHORE_STATES[state] for state in states.state]


def test_one_photo_must_keep_all_three_limits():
    """By hand: well; two photos that break one limit each are poorly; each limit alone; all; near; none elsewhere."""
    _, pieces = lake(12, 2)
    columns = photos((DAY, "aerial", 0), (DAY - timedelta(days=101), "aerial", 0), (None, "shore", 0))
    rows = [
        (0, 0, 10.0, 20.0),  # at both limits: kept
        (1, 0, 12.0, 50.0),  # too coarse
        (1, 1, 4.0, 50.0),  # fine, but too old
        (2, 0, 5.0, -60.0),  # from behind
        (3, 2, 5.0, 60.0),  # no time
        (4, 1, 30.0, 3.0),  # everything
    ]
    states = shore_states(pieces, columns, seen(*rows), RULES).all
    assert names(states) == ["well", "poorly", "poorly", "poorly", "poorly", "near", "none"]
    assert [failed_limits(value) for value in states.failed.tolist()] == [
        (), ("age",), ("angle",), ("age",), ("gsd", "angle", "age"), (), (),
    ]  # fmt: skip
    assert states.photos.tolist() == [1, 2, 1, 1, 1, 0, 0]
    assert pytest.approx([10, 4, 5, 5, 30, np.nan, np.nan], nan_ok=True) == states.best_gsd_cm
    assert states.newest_s[1] == DAY.timestamp()
    assert np.isnan(states.newest_s[3])


def test_the_best_photo_breaks_fewest_limits_then_is_finest():
    """Two limits at 3 cm lose against one at 15 cm; of two with one broken limit the finer tells which."""
    _, pieces = lake(4)
    columns = photos((DAY, "shore", 0), (DAY - timedelta(days=200), "shore", 0))
    rows = [(0, 1, 3.0, 5.0), (0, 0, 15.0, 60.0), (1, 0, 15.0, 60.0), (1, 1, 9.0, 60.0)]
    states = shore_states(pieces, columns, seen(*rows), RULES).all
    assert [failed_limits(value) for value in states.failed.tolist()] == [("gsd",), ("age",)]


def test_each_kind_has_its_own_states():
    """An aerial photo shows the first piece; a shore photo is linked and shows nothing."""
    _, pieces = lake(4, 2)
    columns = photos((DAY, "aerial", 0), (DAY, "shore", 1))
    states = shore_states(pieces, columns, seen((0, 0, 5.0, 60.0)), RULES)
    assert names(states.all) == ["well", "near", "near"]
    assert names(states.aerial) == ["well", "near", "none"]
    assert names(states.shore) == ["none", "none", "near"]


def test_age_counts_from_the_newest_photo_unless_stated():
    """101 days before the newest is too old; without any time nothing is fresh."""
    _, pieces = lake(4)
    rules = AuditRules(age_limit_days=100)
    columns = photos((DAY - timedelta(days=101), "shore", 0), (DAY, "shore", 0))
    both = seen((0, 0, 5.0, 60.0), (1, 1, 5.0, 60.0))
    states = shore_states(pieces, columns, both, rules)
    assert names(states.all) == ["poorly", "well"]
    assert states.reference_s == DAY.timestamp()
    undated = shore_states(pieces, photos((None, "shore", 0)), seen((0, 0, 5.0, 60.0)), rules)
    assert names(undated.all) == ["poorly", "near"]
    assert undated.reference_s is None


def test_what_cannot_be_photographed_stands_apart_with_its_reason():
    """The second of three pieces lies in a polygon; the photo that shows it is counted all the same."""
    _, pieces = lake(6)
    middles = np.array([[1.0, 0], [3.0, 0], [5.0, 0]])
    why, reasons = reason_of_pieces(middles, [("intake, no flying", box(2, -1, 4, 1)), ("nesting", box(3, -1, 3.5, 1))])
    assert (why.tolist(), reasons) == ([-1, 0, -1], ("intake, no flying", "nesting"))
    shows = seen((1, 0, 5.0, 60.0))
    states = shore_states(pieces, photos((DAY, "shore", 0)), shows, RULES, why, reasons)
    assert names(states.all) == ["near", "cannot", "near"]
    assert states.all.photos.tolist() == [0, 1, 0]
    stretch = state_stretches(pieces, states, shows)[1]
    assert (stretch.state, stretch.reason, stretch.photos) == ("cannot", "intake, no flying", 1)


def test_neighbours_in_one_state_are_one_stretch():
    """Two photos, three pieces well; a poorly piece; then a new ring, though its state is the same."""
    _, pieces = lake(10, island=4)
    columns = photos((DAY, "aerial", 0), (DAY - timedelta(days=1), "aerial", 0))
    shows = seen(
        (0, 0, 5, 60), (1, 0, 4, 60), (1, 1, 6, 60), (2, 1, 6, 60), (3, 0, 50, 60), (4, 0, 5, 60), (5, 0, 5, 60)
    )  # fmt: skip
    states = shore_states(pieces, columns, shows, RULES)
    found = state_stretches(pieces, states, shows)
    assert [(s.ring, s.from_m, s.to_m, s.state, s.failed, s.photos) for s in found] == [
        ("S", 0, 6, "well", (), 2),
        ("S", 6, 8, "poorly", ("gsd",), 1),
        ("S", 8, 10, "well", (), 1),
        ("A", 0, 2, "well", (), 1),
        ("A", 2, 4, "none", (), 0),
    ]
    assert (found[0].best_gsd_cm, found[0].newest) == (4.0, DAY)
    assert (found[-1].best_gsd_cm, found[-1].newest, found[-1].length_m) == (None, None, 2.0)


def test_columns_and_sightings_from_the_rooms_before():
    """A photo linked to no reach, one without a time, one that shows nothing."""
    reaches, _ = lake(4, 4)
    placed = [
        SimpleNamespace(taken=DAY, kind="aerial", reach="S-1"),
        SimpleNamespace(taken=None, kind="shore", reach=""),
    ]
    columns = photo_columns(placed, reaches)
    assert (columns.aerial.tolist(), columns.reach.tolist()) == ([True, False], [1, -1])
    assert columns.taken_s[0] == DAY.timestamp()
    assert np.isnan(columns.taken_s[1])
    metres = SeenMetres(np.array([1, 2]), np.array([9.0, 9]), np.array([60.0, 70]), np.array([3.0, 4]))
    table = sightings([None, metres, SeenMetres(*(np.empty(0, t) for t in (int, float, float, float)))])
    assert [column.tolist() for column in table] == [[1, 2], [1, 1], [3.0, 4.0], [60.0, 70.0]]
    assert [len(column) for column in sightings([None])] == [0, 0, 0, 0]


def test_a_reach_in_one_word():
    """The best state that half of it is in, or better; what cannot be photographed is left aside."""

    def lengths(*metres):
        return dict(zip(SHORE_STATES, metres, strict=True))

    assert label_of(lengths(50, 0, 0, 50, 0)) == "well"
    assert label_of(lengths(40, 20, 0, 40, 0)) == "poorly"
    assert label_of(lengths(10, 20, 30, 40, 0)) == "near"
    assert label_of(lengths(0, 20, 20, 60, 0)) == "none"
    assert label_of(lengths(6, 0, 0, 4, 90)) == "well"
    assert label_of(lengths(0, 0, 0, 0, 100)) == "cannot"


def test_a_reach_is_summed_from_its_pieces():
    """Of 10 m, 4 m are seen well by one photo, 2 m poorly by another."""
    reaches, pieces = lake(10, 4)
    columns = photos((DAY, "aerial", 0), (DAY - timedelta(days=3), "shore", 0))
    shows = seen((0, 0, 5, 60), (1, 0, 4, 60), (2, 1, 40, 60))
    first, second = reach_summaries(reaches, pieces, shore_states(pieces, columns, shows, RULES), shows)
    assert first.lengths_m == {"well": 4, "poorly": 2, "near": 4, "none": 0, "cannot": 0}
    assert first.aerial_m["well"] == 4
    assert first.shore_m == {"well": 0, "poorly": 2, "near": 8, "none": 0, "cannot": 0}
    assert (first.state, first.photos, first.best_gsd_cm, first.newest) == ("poorly", 2, 4.0, DAY)
    assert (second.state, second.photos, second.best_gsd_cm, second.newest) == ("none", 0, None, None)


def test_totals_in_percent_count_what_cannot_be_photographed():
    """25 of 100 m cannot be: 50 m well are half of all."""
    reaches, _ = lake(100)
    lengths = {"S-0": {"well": 50.0, "poorly": 0.0, "near": 0.0, "none": 25.0, "cannot": 25.0}}
    total = state_totals(reaches, lengths).total
    assert total.percent == {"well": 50.0, "poorly": 0.0, "near": 0.0, "none": 25.0, "cannot": 25.0}


reach_lengths = st.lists(st.floats(0.5, 40), min_size=1, max_size=5)
photo_rows = st.lists(
    st.tuples(
        st.one_of(st.none(), st.integers(0, 300).map(lambda days: DAY - timedelta(days=days))),
        st.sampled_from(["aerial", "shore"]),
        st.integers(-1, 4),
        st.lists(st.tuples(st.integers(0, 60), st.floats(0.1, 100), st.floats(-90, 90)), max_size=25),
    ),
    max_size=6,
)


def drawn(lengths, rows, island):
    """Return a lake, its photos and what they show; sightings past the last piece are dropped."""
    reaches, pieces = lake(*lengths, island=island)
    columns = photos(*((taken, kind, min(reach, len(reaches) - 1)) for taken, kind, reach, _ in rows))
    once = {(p, n): (p, n, gsd, angle) for n, row in enumerate(rows) for p, gsd, angle in row[3]}
    return reaches, pieces, columns, seen(*(row for (p, _), row in once.items() if p < len(pieces.ring)))


@given(reach_lengths, photo_rows, st.sampled_from([0.0, 7.3]), st.integers(0, 60))
def test_states_partition_the_shore(lengths, rows, island, shut):
    """Every reach is its states to a micrometre, every total is its rows to the centimetre, for each kind."""
    reaches, pieces, columns, shows = drawn(lengths, rows, island)
    why = np.where(np.arange(len(pieces.ring)) == shut, 0, -1)
    shore = shore_states(pieces, columns, shows, RULES, why, ("closed",))
    summaries = reach_summaries(reaches, pieces, shore, shows)

    def hundredths(value: float) -> Fraction:
        return Fraction(f"{value:.2f}")

    for kind in ("lengths_m", "aerial_m", "shore_m"):
        by_reach = {summary.reach: getattr(summary, kind) for summary in summaries}
        for reach in reaches:
            assert abs(sum(by_reach[reach.id].values()) - reach.length_m) < 1e-6
        totals = state_totals(reaches, by_reach)
        whole = hundredths(totals.total.length_m)
        for parts in (totals.by_ring, totals.by_tile):
            assert whole == sum(hundredths(part.length_m) for part in parts)
            for state in SHORE_STATES:
                assert hundredths(totals.total.lengths_m[state]) == sum(hundredths(p.lengths_m[state]) for p in parts)
        assert whole == sum(hundredths(length) for row in totals.rows_m.values() for length in row.values())
        assert pytest.approx(100.0, abs=1e-9) == sum(totals.total.percent.values())


@given(reach_lengths, photo_rows, st.sampled_from([0.0, 7.3]))
def test_stretches_are_the_pieces_joined(lengths, rows, island):
    """Stretches fill each ring in order, no two that meet are alike, and each is what its pieces are."""
    _, pieces, columns, shows = drawn(lengths, rows, island)
    shore = shore_states(pieces, columns, shows, RULES)
    found = state_stretches(pieces, shore, shows)
    for a, b in pairwise(found):
        assert b.from_m == (a.to_m if a.ring == b.ring else 0.0)
        assert a.ring != b.ring or (a.state, a.failed) != (b.state, b.failed)
    for n in range(len(pieces.ring)):
        (stretch,) = [
            s for s in found if s.ring == pieces.rings[pieces.ring[n]] and s.from_m <= pieces.from_m[n] < s.to_m
        ]
        assert stretch.state == SHORE_STATES[shore.all.state[n]]
        assert stretch.photos >= shore.all.photos[n]


@given(reach_lengths, photo_rows, st.integers(0, 6))
def test_more_photos_never_make_a_state_worse(lengths, rows, fewer):
    """Against a stated day: with more photos no piece and no reach has a worse state, a coarser GSD or an older one."""
    reaches, pieces, columns, shows = drawn(lengths, rows, 0.0)
    keep = shows.photo < fewer
    less = Sightings(*(column[keep] for column in shows))
    some = PhotoColumns(*(column[:fewer] for column in columns))
    before, after = shore_states(pieces, some, less, RULES), shore_states(pieces, columns, shows, RULES)
    for old, new in ((before.all, after.all), (before.aerial, after.aerial), (before.shore, after.shore)):
        assert (new.state <= old.state).all()
        assert (new.photos >= old.photos).all()
        assert not (new.best_gsd_cm > old.best_gsd_cm).any()
        assert not (new.newest_s < old.newest_s).any()
    pairs = zip(
        reach_summaries(reaches, pieces, before, less), reach_summaries(reaches, pieces, after, shows), strict=True
    )
    assert all(SHORE_STATES.index(new.state) <= SHORE_STATES.index(old.state) for old, new in pairs)


@given(reach_lengths, photo_rows, st.integers(0, 6))
def test_more_photos_never_reduce_what_is_seen(lengths, rows, fewer):
    """Without a stated day a newer photo makes others old, yet what was seen is still seen."""
    _, pieces, columns, shows = drawn(lengths, rows, 0.0)
    keep = shows.photo < fewer
    some = PhotoColumns(*(column[:fewer] for column in columns))
    before = shore_states(pieces, some, Sightings(*(column[keep] for column in shows)), AuditRules())
    after = shore_states(pieces, columns, shows, AuditRules())
    assert not ((before.all.state <= 1) & (after.all.state > 1)).any()


@given(reach_lengths, photo_rows)
def test_states_equal_those_of_a_plain_loop(lengths, rows):
    """The same rules written piece by piece, photo by photo."""
    _, pieces, columns, shows = drawn(lengths, rows, 0.0)
    states = shore_states(pieces, columns, shows, RULES).all
    for n in range(len(pieces.ring)):
        verdicts = []
        for p, photo, gsd, angle in zip(*shows, strict=True):
            if p == n:
                taken_s = columns.taken_s[photo]
                late = not taken_s >= DAY.timestamp() - 100 * 86400
                broken = tuple(name for name, bad in (("gsd", gsd > 10), ("angle", angle < 20), ("age", late)) if bad)
                verdicts.append((len(broken), gsd, broken))
        linked = pieces.reach[n] in columns.reach.tolist()
        expected = "well" if any(not v[0] for v in verdicts) else "poorly" if verdicts else "near" if linked else "none"
        assert expected == SHORE_STATES[states.state[n]]
        if expected == "poorly":
            best = [v[2] for v in verdicts if v[:2] == min(verdicts)[:2]]
            assert failed_limits(int(states.failed[n])) in best
