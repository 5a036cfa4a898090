"""Every photo is on exactly one page, one to four a page, in order along the shore."""

from __future__ import annotations

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_atlas import make_sample_atlas

from atlasgen.compose.pages import page_groups, split_evenly

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
    groups = page_groups(photos, REACHES)
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
        page_groups([dataclasses.replace(PHOTO, reach="X-1")], REACHES)
