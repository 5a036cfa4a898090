"""Pairs for the screen: places in the list of photos, and words."""

from __future__ import annotations

from dataclasses import replace

from sample_repeats import make_repeated_atlas

from atlasgen.write.webdata import map_data


def test_pairs_point_at_photos_and_carry_their_words():
    """Each photo tells its day and level; a pair tells how alike its two are."""
    atlas = make_repeated_atlas()
    data = map_data(atlas)
    (pair,) = data["repeats"]["pairs"]
    assert [data["photos"][place]["id"] for place in pair["photos"]] == ["p-0000000001", "p-0000000002"]
    assert (pair["apart"], pair["turn"]) == (5.0, 3.0)
    assert "both show 90 m of the same bank" in pair["words"]
    assert [photo["when"] for photo in data["photos"][:2]] == [
        "4 Mar 2026, 1.4 ft below full",
        "8 Apr 2026, 3.1 ft below full",
    ]


def test_a_day_that_is_not_known_is_not_told():
    """No day, no tag."""
    atlas = make_repeated_atlas()
    photos = tuple(replace(photo, taken=None) for photo in atlas.placed.photos)
    data = map_data(replace(atlas, placed=replace(atlas.placed, photos=photos)))
    assert {photo["when"] for photo in data["photos"]} == {""}
