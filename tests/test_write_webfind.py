"""What the page is told of each bank, against atlas.json and against banks whose answers are plain."""

from __future__ import annotations

import numpy as np
import pytest
from find_scene import make_find_atlas, profile_of
from lakes import island_lake, projection, square_lake
from sample_atlas import make_sample_atlas

from atlasgen.place.shore import build_rings, cut_reaches
from atlasgen.write.measured import depths_each_metre
from atlasgen.write.tables import atlas_document
from atlasgen.write.webfind import faces_tenths, find_data


def _faces(water) -> dict[str, set[int]]:
    found: dict[str, set[int]] = {}
    for reach in cut_reaches(build_rings(water, None), 50, projection(), lambda _: "", lambda _: ""):
        found.setdefault(reach.name, set()).add(faces_tenths(reach))
    return found


def test_a_bank_faces_over_its_water() -> None:
    """The north bank of a square lake faces south; the north shore of a square island faces north."""
    assert _faces(square_lake()) == {
        "north bank": {1800},
        "east bank": {2700},
        "south bank": {0},
        "west bank": {900},
    }
    island = _faces(island_lake())
    shores = {name: island[name] for name in ("north shore", "east shore", "south shore", "west shore")}
    assert shores == {"north shore": {0}, "east shore": {900}, "south shore": {1800}, "west shore": {2700}}


def test_depths_of_each_metre_end_where_the_water_does() -> None:
    """Centimetres; what is not known is None; the far bank at 4.5 m leaves 0 to 4 m."""
    profile = profile_of("S-1", np.array([0.0, 0.504, 1.0061, np.nan, 2.0, 2.5, 3.0]), far_bank_m=4.5)
    assert depths_each_metre(profile) == [0.0, 0.5, 1.01, None, 2.0]


def test_a_profile_that_meets_no_far_bank_keeps_its_last_metre() -> None:
    """0 to 3 m."""
    assert depths_each_metre(profile_of("S-1", np.array([0.0, 0.5, 1.0, 1.5]))) == [0.0, 0.5, 1.0, 1.5]


def test_the_page_is_told_what_atlas_json_tells() -> None:
    """Facing, slope, breaks, relief and which kinds of photographs show a bank, to the last digit."""
    atlas = make_find_atlas()
    found, document = find_data(atlas), atlas_document(atlas)
    profiles = {row["reach"]: row for row in document["profiles"]}
    features = {row["id"]: row for row in document["relief"]}
    for i, row in enumerate(document["reaches"]):
        profile = profiles.get(row["id"])
        assert found["faces"][i] == round(row["faces_deg"] * 10)
        assert document["tiles"][found["tile"][i]]["id"] == row["tile"]
        shown = [row[kind]["well"] + row[kind]["poorly"] > 0 for kind in ("aerial_m", "shore_m")]
        assert found["shown"][i] == shown[0] + 2 * shown[1]
        assert found["stations"][i] == (len(profile["depths_m"]) if profile else 0)
        slope = profile and profile["slope_word"]
        assert (found["slopes"][found["slope"][i]] if found["slope"][i] >= 0 else None) == slope
        steepest = profile and profile["steepest"]
        told = steepest and [steepest["from_m"], steepest["to_m"], found["slopes"].index(steepest["word"])]
        assert found["breaks"][i] == told
        near = [
            (found["kinds"].index(feature["kind"]), item["edge_m"], feature["greatest_depth_m"], name)
            for name, feature in features.items()
            for item in feature["reaches"]
            if item["reach"] == row["id"]
        ]
        assert sorted(zip(*[iter(found["relief"][i])] * 4, strict=True)) == sorted(near)
    assert {-1, 1, 4} <= set(found["slope"])
    assert set(found["shown"]) == {0, 1, 2, 3}


def test_a_lake_without_depths_has_rows_without_stations() -> None:
    """Nothing is made up: no profile, no slope, no break."""
    found = find_data(make_sample_atlas())
    assert (found["columns"], set(found["stations"]), set(found["slope"])) == (0, {0}, {-1})
    assert set(map(str, found["breaks"])) == {"None"}
    assert found["slopeOver"] is None


def test_every_reach_has_its_place_in_every_column() -> None:
    """All columns are as long as the shore has reaches."""
    atlas = make_find_atlas()
    found = find_data(atlas)
    columns = ("faces", "tile", "shown", "slope", "breaks", "relief", "stations", "closed")
    assert {len(found[name]) for name in columns} == {len(atlas.placed.reaches)}
    assert found["faces"] == pytest.approx([reach.faces_deg * 10 for reach in atlas.placed.reaches], abs=0.6)
