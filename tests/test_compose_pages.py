"""Every photo is on exactly one page, one to four a page, in order along the shore."""

from __future__ import annotations

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_atlas import make_sample_atlas

from atlasgen.compose.pages import home_reaches, keep_sets_together, page_groups, split_evenly
from atlasgen.model import ReachSeen, TurnAround, View, Views

ATLAS = make_sample_atlas()
PHOTO = ATLAS.placed.photos[0]
REACHES = ATLAS.placed.reaches


@given(st.lists(st.tuples(st.integers(0, 5), st.floats(0, 100)), max_size=40))
def test_none_lost_none_twice_and_in_order(places):
    """Whatever the photos, each is on one page and pages follow the shore."""
    photos = [
        dataclasses.replace(PHOTO, id=f"p-{i}", reach=REACHES[r].id, nearest_chainage_m=r * 100 + m)
        for i, (r, m) in enumerate(places)
    ]
    groups = page_groups(photos, REACHES, {photo.id: photo.reach for photo in photos})
    shown = [photo.id for _, group, _, _ in groups for photo in group]
    assert sorted(shown) == sorted(photo.id for photo in photos)
    assert all(1 <= len(group) <= 4 for _, group, _, _ in groups)
    chainages = [photo.nearest_chainage_m for _, group, _, _ in groups for photo in group]
    assert chainages == sorted(chainages)
    assert all(photo.reach == reach.id for reach, group, _, _ in groups for photo in group)


@pytest.mark.parametrize(("count", "sizes"), [(0, []), (1, [1]), (4, [4]), (5, [2, 3]), (8, [4, 4]), (9, [3, 3, 3])])
def test_pages_are_even(count, sizes):
    """Five photos make a two and a three, never a four and a lonely one."""
    assert [len(part) for part in split_evenly(list(range(count)), 4)] == sizes


def test_a_photo_tied_to_nothing_is_a_defect():
    """It must not vanish in silence."""
    with pytest.raises(KeyError, match="X-1"):
        page_groups([PHOTO], REACHES, {PHOTO.id: "X-1"})


def test_a_photo_stands_with_the_bank_it_shows_best():
    """Not the nearest reach nor the longest share, but the one that fills most of the picture."""
    far = ReachSeen(REACHES[9].id, 1.0, 400.0, 80.0, 40.0, 1.0)
    close = ReachSeen(REACHES[4].id, 0.6, 60.0, 70.0, 5.0, 1.0)
    edge_on = ReachSeen(REACHES[5].id, 1.0, 60.0, 2.0, 5.0, 1.0)
    view = View(PHOTO.id, None, False, 3000, 5.0, (), (far, close, edge_on))
    assert home_reaches([PHOTO], REACHES, Views({PHOTO.id: view}, {})) == {PHOTO.id: REACHES[4].id}


def test_a_photo_that_shows_no_bank_stands_with_the_nearest():
    """No view, or a view of water alone."""
    water = View(PHOTO.id, None, False, 3000, 5.0, (), ())
    assert home_reaches([PHOTO], REACHES, Views({}, {PHOTO.id: "no direction"})) == {PHOTO.id: PHOTO.reach}
    assert home_reaches([PHOTO], REACHES, Views({PHOTO.id: water}, {})) == {PHOTO.id: PHOTO.reach}


def a_set(name: str, reach: str, photos: tuple[str, ...]) -> TurnAround:
    headings = tuple(360.0 * i / len(photos) for i in range(len(photos)))
    widths = (70.0,) * len(photos)
    return TurnAround(
        name, photos, headings, widths, PHOTO.point, PHOTO.lonlat, reach, PHOTO.taken, PHOTO.taken, 360.0, ()
    )


def test_a_set_has_one_page_to_itself_at_its_station():
    """Six photos that show six banks stand together, clockwise, after the two others of the station's reach."""
    photos = [dataclasses.replace(PHOTO, id=f"p-{i}", nearest_chainage_m=float(i)) for i in range(8)]
    turn = a_set("T-01", REACHES[3].id, ("p-5", "p-2", "p-7", "p-0", "p-3", "p-6"))
    shown_best = {photo.id: REACHES[i].id for i, photo in enumerate(photos)} | {
        "p-1": REACHES[3].id,
        "p-4": REACHES[3].id,
    }
    groups = page_groups(photos, REACHES, keep_sets_together(shown_best, [turn]), [turn])
    assert [(reach.id, [p.id for p in here], part, parts) for reach, here, part, parts in groups] == [
        (REACHES[3].id, ["p-1", "p-4"], 1, 2),
        (REACHES[3].id, list(turn.photos), 2, 2),
    ]


@given(st.lists(st.integers(0, 5), min_size=12, max_size=30), st.integers(0, 5), st.randoms(use_true_random=False))
def test_sets_lose_no_photo_and_take_none_twice(places, station, random):
    """Whatever stands around them; the order of the photos is no matter."""
    photos = [dataclasses.replace(PHOTO, id=f"p-{i:02d}", reach=REACHES[r].id) for i, r in enumerate(places)]
    sets = [a_set(f"T-0{k}", REACHES[station].id, tuple(f"p-{i:02d}" for i in range(k * 6, k * 6 + 6))) for k in (0, 1)]
    homes = keep_sets_together({photo.id: photo.reach for photo in photos}, sets)
    groups = page_groups(photos, REACHES, homes, sets)
    assert sorted(p.id for _, here, _, _ in groups for p in here) == [photo.id for photo in photos]
    assert all(turn.photos in [tuple(p.id for p in here) for _, here, _, _ in groups] for turn in sets)
    random.shuffle(photos)
    assert page_groups(photos, REACHES, homes, sets) == groups
