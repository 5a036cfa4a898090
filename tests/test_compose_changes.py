"""What changed between two editions: each kind once, with what is expected worked out by hand."""

from __future__ import annotations

import copy
import itertools
import math
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyproj import Geod
from sample_editions import STEP_DEG, depth, edition, feature, page, photo, reach

from atlasgen.compose import changes_relief
from atlasgen.compose.changes import differences
from atlasgen.compose.changes_chapter import changes_chapter
from atlasgen.compose.changes_words import groups, heading
from atlasgen.model.changes import FactChange, LeftOutChange, NotCompared, PartChange
from atlasgen.model.chapters import Table
from atlasgen.place.geo import geodesic_m

# One second of arc of latitude at the equator: 30.715 m (WGS 84: 110 574.3 m for the first degree, NGA TR8350.2).
METRES_PER_LAT_DEG = 110_574.3


@pytest.fixture
def pair():
    """Return two equal editions to alter, and what compares them."""
    old, new = edition(), edition()
    return SimpleNamespace(old=old, new=new, compare=lambda: differences(old, new))


def told(changes, name):
    return [(row.what, row.words) for group in groups(changes) if group.id == name for row in group.rows]


def test_nothing_changed_is_said_plainly(pair):
    """No difference, no group, one sentence."""
    changes = pair.compare()
    assert changes.nothing
    assert groups(changes) == ()
    assert heading(changes).lead == "Nothing changed: the two editions say the same."


def test_a_photo_added_and_one_removed(pair):
    """By their bytes; the removed one with its page in the older edition."""
    pair.new["photos"] = [photo(1), photo(3, page=2, reach="S-0002", lat=0.0021)]
    changes = pair.compare()
    assert [p.file for p in changes.photos_added] == ["photos/3.jpg"]
    assert [(p.file, p.page) for p in changes.photos_removed] == [("photos/2.jpg", 2)]
    assert changes.photos_replaced == ()


def test_a_photo_replaced_under_its_name_or_at_its_place_and_time(pair):
    """Other bytes under the same name; other name and bytes taken in the same second at the same place."""
    pair.new["photos"] = [
        photo(1, id="p-7", sha256="7" * 64),
        photo(2, id="p-8", sha256="8" * 64, file="photos/mended.jpg", lat=0.002 + 1 / METRES_PER_LAT_DEG),
    ]
    changes = pair.compare()
    assert [(r.old.file, r.new.file, r.because) for r in changes.photos_replaced] == [
        ("photos/1.jpg", "photos/1.jpg", "same name"),
        ("photos/2.jpg", "photos/mended.jpg", "same place and time"),
    ]
    assert (changes.photos_added, changes.photos_removed) == ((), ())
    assert [r.shift.moved_m for r in changes.photos_replaced] == [None, 1.0]


@pytest.mark.parametrize(
    "other", [{"lat": 0.002 + 3 / METRES_PER_LAT_DEG}, {"taken": "2026-03-10T10:00:05Z"}, {"taken": None}]
)
def test_three_metres_or_seconds_apart_is_another_photo(pair, other):
    """Nor is one replaced whose time is not known."""
    pair.new["photos"][1] = photo(2, id="p-8", sha256="8" * 64, file="photos/other.jpg") | other
    changes = pair.compare()
    assert (len(changes.photos_added), len(changes.photos_removed), changes.photos_replaced) == (1, 1, ())


def test_a_photo_moved_by_metres_and_degrees(pair):
    """10 m north and 350 degrees after 90: 100 degrees to the left."""
    pair.new["photos"][0] |= {"lat": STEP_DEG + 10 / METRES_PER_LAT_DEG, "heading_deg_true": 350.0}
    changes = pair.compare()
    (moved,) = changes.photos_moved
    assert (moved.shift.moved_m, moved.shift.turned_deg, moved.shift.heading) == (10.0, -100.0, None)
    assert told(changes, "photos-moved") == [("photos/1.jpg", "stands 10 m off; looks 100° farther left")]


def test_rounding_is_no_move(pair):
    """A centimetre and a hundredth of a degree are how positions are told."""
    pair.new["photos"][0] |= {"lat": STEP_DEG + 1e-7, "heading_deg_true": 90.01}
    assert pair.compare().nothing


def test_a_direction_known_now_is_no_turn(pair):
    """None is not north."""
    pair.old["photos"][0]["heading_deg_true"] = None
    (moved,) = pair.compare().photos_moved
    assert (moved.shift.turned_deg, moved.shift.heading) == (None, "known now")
    assert told(pair.compare(), "photos-moved") == [("photos/1.jpg", "its direction is known now")]


def test_a_photo_on_the_page_of_another_reach(pair):
    """Its place is the same; the reach that it shows is told otherwise."""
    pair.new["photos"][0]["page"] = 2
    assert told(pair.compare(), "photos-moved") == [("photos/1.jpg", "now with S-0002, was with S-0001")]


def test_a_file_renamed_and_a_caption_reworded(pair):
    """Each with both editions' words."""
    pair.new["photos"][0] |= {"file": "photos/ramp.jpg", "caption": "The ramp."}
    changes = pair.compare()
    assert [(p.old.file, p.new.file) for p in changes.photos_renamed] == [("photos/1.jpg", "photos/ramp.jpg")]
    assert [(p.old.caption, p.new.caption) for p in changes.captions] == [
        ("Looking east at reach S-0001.", "The ramp.")
    ]


def test_photos_left_out(pair):
    """New, no longer, and for another reason."""
    pair.old["left_out"].append({"file": "b.jpg", "code": "too_far", "why": "far"})
    pair.new["left_out"] = [
        {"file": "b.jpg", "code": "excluded", "why": "blurred"},
        {"file": "c.jpg", "code": "excluded", "why": "thumb"},
    ]
    assert pair.compare().left_out == (
        LeftOutChange("c.jpg", None, "thumb"),
        LeftOutChange("photos/9.jpg", "cut short", None),
        LeftOutChange("b.jpg", "far", "blurred"),
    )


def test_reaches_newly_shown_lost_and_otherwise(pair):
    """From none to poorly is shown, from well to near is lost, from well to poorly neither."""
    for number, state in ((0, "near"), (1, "poorly"), (2, "poorly")):
        pair.new["reaches"][number] |= {"photographed": state, "lengths_m": {state: 110.57}}
    changes = pair.compare()
    rows = [(s.kind, s.new.id, s.old_state, s.new_state, s.old_shown_m, s.new_shown_m) for s in changes.reach_states]
    assert rows == [
        ("shown", "S-0003", "none", "poorly", 0.0, 110.57),
        ("lost", "S-0001", "well", "near", 110.57, 0.0),
        ("other", "S-0002", "well", "poorly", 110.57, 110.57),
    ]  # fmt: skip


@pytest.mark.parametrize("lines", [True, False])
def test_reaches_renumbered_new_and_retired(pair, lines):
    """The second bank is called otherwise, the third is gone, a fourth has come; with lines and without."""
    pair.new["reaches"] = [reach(1), reach(2, id="S-0009"), reach(4)]
    pair.new["photos"][1] |= {"reach": "S-0009", "caption": "Looking east at reach S-0009."}
    pair.new["pages"][1]["reaches"] = ["S-0009"]
    if not lines:
        for row in (*pair.old["reaches"], *pair.new["reaches"]):
            del row["line"]
    changes = pair.compare()
    assert [(r.old.id, r.new.id, r.share) for r in changes.reaches_renumbered] == [("S-0002", "S-0009", 1.0)]
    assert [r.id for r in changes.reaches_new] == ["S-0004"]
    assert [r.id for r in changes.reaches_retired] == ["S-0003"]
    assert (changes.photos_moved, changes.captions, changes.notes) == ((), (), ())
    assert [n.what for n in changes.not_compared] == ([] if lines else ["the lines of the reaches"])


def test_a_reach_that_kept_its_id_with_another_bank(pair):
    """60 m to the side is farther than a redrawn shore; its own length is still about the same place."""
    east_deg = 60 / 111_319.5  # of longitude at the equator, WGS 84
    pair.new["reaches"][2] |= {"line": [[east_deg, 0.003], [east_deg, 0.004]], "midpoint": [east_deg, 0.0035]}
    changes = pair.compare()
    assert [(r.new.id, r.moved_m) for r in changes.reaches_redrawn] == [("S-0003", 60.0)]
    assert (changes.reaches_new, changes.reaches_retired) == ((), ())


def test_an_id_given_to_a_bank_elsewhere_is_not_the_same_reach(pair):
    """Farther than its own length away there is nothing to compare."""
    pair.new["reaches"][2] = reach(9, id="S-0003", photographed="none")
    changes = pair.compare()
    assert [r.id for r in changes.reaches_new] == ["S-0003"]
    assert [r.id for r in changes.reaches_retired] == ["S-0003"]
    assert changes.reach_states == ()


def test_depths_beyond_the_bounds_by_tile(pair):
    """At 10 m both bounds are 0.4 m, together 0.566: 0.6 m is a change, 0.5 m is not; at 5 m 0.424 m."""
    pair.new["reaches"][0]["depth"] = depth(2.0, 4.5, [[5.0, 0.5], [10.0, 3.6]])
    (tile,) = pair.compare().depths
    assert (tile.tile, tile.label, tile.compared, tile.not_judged) == ("t1", "A 1", 12, 0)
    assert [(c.reach.id, c.what, c.distance_m, round(c.deeper_m, 3), c.allowed_m) for c in tile.changes] == [
        ("S-0001", "station", 10.0, 0.6, 0.566),
        ("S-0001", "station", 5.0, -0.5, 0.424),
    ]
    assert tile.median_m == 0.0
    assert told(pair.compare(), "depth-tiles") == [
        ("Tile A 1", "2 of 12 depths changed; over all of them the median is 0.0 m; the largest at S-0001, 10 m out: "
         "0.6 m deeper"),
    ]  # fmt: skip


def test_the_median_takes_the_widest_bound_of_its_reach(pair):
    """0.6 m more than 0.566 of the two widest bounds, 0.4 m each."""
    pair.new["reaches"][0]["depth"]["median_m"] = 4.6
    (tile,) = pair.compare().depths
    assert [(c.what, c.allowed_m) for c in tile.changes] == [("median", 0.566)]


def test_depths_without_a_bound_are_not_judged(pair):
    """They are counted, not called changed."""
    pair.new["profiles"] = []
    pair.new["reaches"][0]["depth"]["profile_m"] = [[5.0, 9.0], [10.0, 3.0]]
    changes = pair.compare()
    assert changes.depths == ()
    assert changes.not_compared == (NotCompared("1 depth that differs", "no bound is stated in one of the editions"),)


def test_what_was_not_known_is_known_now(pair):
    """And the other way round; neither is a change of depth."""
    pair.old["reaches"][0]["depth"] = depth(None, None, [[5.0, None], [10.0, 3.0]])
    pair.new["reaches"][1]["depth"] = None
    changes = pair.compare()
    assert changes.depths == ()
    assert [(k.reach.id, k.known_now, k.what) for k in changes.depths_known] == [
        ("S-0001", True, ("the soundings off the bank", "5 m out")),
        ("S-0002", False, ("the soundings off the bank", "5 m out", "10 m out")),
    ]


def test_other_levels_are_said_and_no_depth_is_compared(pair):
    """Drawn down by 1.4 m all depths are less, and nothing of the bed has changed."""
    pair.new["survey"] |= {"shown_stage_m": -1.4, "depths_below": "a level 1.40 m below full"}
    pair.new["reaches"][0]["depth"] = depth(0.6, 2.6, [[5.0, -0.4], [10.0, 1.6]])
    pair.new["relief"][0]["least_depth_m"] = 1.6
    changes = pair.compare()
    assert changes.not_compared[0].what == "depths"
    assert changes.not_compared[0].why == (
        "the older edition tells them below full supply level, the newer below a level 1.40 m below full"
    )
    assert (changes.depths, changes.depths_known, changes.features_changed) == ((), (), ())
    assert changes.facts == (
        FactChange("depths told below", "full supply level", "a level 1.40 m below full"),
    )  # fmt: skip


def test_a_level_that_an_older_edition_does_not_state_is_the_datum(pair):
    """Editions from before levels could be chosen are compared."""
    del pair.old["survey"]["depths_below"], pair.old["survey"]["shown_stage_m"], pair.old["survey"]["chart"]
    assert pair.compare().nothing


def test_other_widths_and_ties_are_not_compared(pair):
    """Another width of water off the bank, another meaning of near, depths tied to the datum in one edition only."""
    for row in pair.new["reaches"]:
        row["depth"] = row["depth"] | {"off_bank_m": 60.0, "median_m": 9.0}
        row["coverage"] = row["coverage"] | {"near_sounding_m": 10.0, "share_near_sounding": 0.1}
    pair.new["reaches"][2]["depth"] |= {"reduced": False, "profile_m": [[5.0, 9.0]]}
    changes = pair.compare()
    assert [(n.what, n.why) for n in changes.not_compared] == [
        ("the soundings off each bank",
         "the older edition takes the water within 40 m of the bank, the newer the water within 60 m of the bank"),
        ("the depths off 1 reach", "one of the editions does not tie them to its datum"),
        ("coverage", "the older edition takes near as within 25 m, the newer near as within 10 m"),
    ]  # fmt: skip
    assert (changes.depths, changes.coverage) == ((), ())


def test_coverage_by_tile_the_largest_first(pair):
    """From 90 to 40 percent; from not known to all; half a percent is none."""
    for number, (before, now) in enumerate(((0.9, 0.4), (None, 1.0), (0.9, 0.905))):
        pair.old["reaches"][number]["coverage"]["share_near_sounding"] = before
        pair.new["reaches"][number]["coverage"]["share_near_sounding"] = now
    (tile,) = pair.compare().coverage
    assert [(c.reach.id, c.old_share, c.new_share) for c in tile.changes] == [
        ("S-0001", 0.9, 0.4), ("S-0002", None, 1.0),
    ]  # fmt: skip
    assert (tile.compared, tile.median) == (2, -0.2475)


def test_features_of_the_bed(pair):
    """One keeps its place under another name, one comes, one goes, one is shallower by more than 0.424 m."""
    pair.old["relief"] = [feature("hump 1", 0.0025), feature("hump 2", 0.0035), feature("hump 3", 0.0045)]
    pair.new["relief"] = [
        feature("hump 4", 0.0025 + 20 / METRES_PER_LAT_DEG),
        feature("hole 1", 0.0035, kind="hole"),
        feature("hump 2", 0.0045, least_depth_m=2.5),
    ]
    changes = pair.compare()
    assert [f.id for f in changes.features_new] == ["hole 1"]
    assert [f.id for f in changes.features_gone] == ["hump 2"]
    assert [(f.old.id, f.new.id, f.old.depth_m, f.new.depth_m) for f in changes.features_changed] == [
        ("hump 3", "hump 2", 3.0, 2.5)
    ]
    assert told(changes, "features-new") == [("Hole 1", "greatest 6.0 m off S-0002, at 0.00350, -0.00100")]


def test_thousands_of_features_are_paired_by_their_neighbours(pair, monkeypatch):
    """Humps 111 m apart, each found 10 m farther north: three thousand distances are measured, not nine million."""
    measured = []
    monkeypatch.setattr(changes_relief, "geodesic_m", lambda a, b: measured.append(1) or geodesic_m(a, b))
    for document, north_m, depth_m in ((pair.old, 0, 3.0), (pair.new, 10, 2.0)):
        document["survey"]["bounds"] = [-0.03, 0.0, 0.03, 0.05]
        document["relief"] = [
            feature(
                f"hump {number}",
                0.0,
                at={"lon": (column - 30) * STEP_DEG, "lat": row * STEP_DEG + north_m / METRES_PER_LAT_DEG},
                least_depth_m=depth_m,
            )
            for number, (row, column) in enumerate(itertools.product(range(50), range(60)))
        ]
    changes = pair.compare()
    assert (changes.features_new, changes.features_gone) == ((), ())
    assert [(f.old.id, f.new.id) for f in changes.features_changed] == [(f"hump {n}",) * 2 for n in range(3000)]
    assert len(measured) == 3000


def test_features_are_paired_as_by_every_distance(pair):
    """Of all pairs near enough by pyproj's geodesics the nearest first, among long ridges and short, at 60° north."""
    draw = np.random.default_rng(5)
    for document, letter in ((pair.old, "a"), (pair.new, "b")):
        document["survey"]["bounds"] = [10.0, 60.0, 10.1, 60.05]
        document["relief"] = [
            feature(
                f"{letter}{number}",
                0.0,
                kind=str(draw.choice(["hump", "ridge", "hole"])),
                at={"lon": round(10 + draw.uniform(0, 0.1), 6), "lat": round(60 + draw.uniform(0, 0.05), 6)},
                length_m=round(float(draw.choice([30, 300, 1500]) * draw.uniform(0.5, 1)), 1),
            )
            for number in range(200)
        ]
    near = []
    for old, new in itertools.product(pair.old["relief"], pair.new["relief"]):
        *_, apart_m = Geod(ellps="WGS84").inv(old["at"]["lon"], old["at"]["lat"], new["at"]["lon"], new["at"]["lat"])
        limit_m = max(50, 0.25 * (old["length_m"] + new["length_m"]))
        if old["kind"] == new["kind"] and apart_m <= limit_m:
            near.append((apart_m, old["id"], new["id"]))
    taken: set[str] = set()
    for _, old_id, new_id in sorted(near):
        if not {old_id, new_id} & taken:
            taken |= {old_id, new_id}
    assert 100 < len(taken) < 400
    changes = pair.compare()
    left = [f.id for f in (*changes.features_gone, *changes.features_new)]
    assert left == [row["id"] for row in (*pair.old["relief"], *pair.new["relief"]) if row["id"] not in taken]


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (("poorly", 110.57), ("well", 110.57), "shown poorly → shown well; 110 m of its bank in photos, as before"),
        (("poorly", 40.0), ("well", 110.57), "shown poorly → shown well; 40 m → 110 m of its bank in photos"),
        (("none", 0.0), ("near", 0.0), "not shown → not known to be shown"),
    ],
)
def test_a_bank_shown_otherwise_says_what_changed(pair, old, new, words):
    """A length that stayed is no change, and of none there is nothing to say."""
    for document, (state, length_m) in ((pair.old, old), (pair.new, new)):
        lengths_m = {state: length_m} if state == "well" else {"poorly": length_m}
        document["reaches"][0] |= {"photographed": state, "lengths_m": lengths_m}
    assert told(pair.compare(), "reaches-other") == [("East bank (S-0001)", words)]


def test_facts_layers_and_sources(pair):
    """Chart and units as the survey states them; a layer gone, a source with other dates."""
    pair.new["survey"] |= {
        "edition": "2",
        "units": {"depth": "feet", "distance": "metric"},
        "chart": {"edition": "2", "date": "2027-01-01", "datum": "full supply level"},
    }
    pair.new["layers"] = []
    pair.new["sources"][0]["dates"] = ["2027-03-10", "2027-03-10"]
    changes = pair.compare()
    assert [(f.what, f.old, f.new) for f in changes.facts] == [
        ("edition", "1", "2"),
        ("unit of depths", "metres", "feet"),
        ("chart edition", None, "2"),
        ("date of the chart", None, "2027-01-01"),
        ("datum of the chart", None, "full supply level"),
    ]
    assert changes.parts == (
        PartChange("layer", "layers/old.tif", "gone"),
        PartChange("source", "basin.csv", "changed", (FactChange("dates", "2026-03-10 to 2026-03-11", "2027-03-10"),)),
    )
    assert ("Chart edition", "not stated → 2") in told(changes, "facts")


def test_depths_are_told_in_the_newer_editions_unit(pair):
    """3 m is 9 ft and 3.6 m is 11 ft, toward the shallower; 0.6 m are 2.0 ft."""
    pair.new["survey"]["units"] = {"depth": "feet", "distance": "imperial"}
    pair.new["reaches"][0]["depth"]["profile_m"] = [[5.0, 1.0], [10.0, 3.6]]
    assert told(pair.compare(), "depths") == [
        ("East bank (S-0001)", "33 ft out: 9 ft → 11 ft, 2.0 ft deeper (the bounds leave 1.9 ft open)")
    ]


def test_sentences_of_notes_before_and_now(pair):
    """The one that changed, beside what it was; one that came, one that went."""
    pair.new["pages"][0]["notes"] = ["Depth: Shallowest 1.5 m. See page 2.", "Water level: Not known."]
    pair.new["pages"][1]["notes"] = []
    assert [(n.page, n.heading, n.old, n.new) for n in pair.compare().notes] == [
        (1, "Depth", "Shallowest 2.0 m.", "Shallowest 1.5 m."),
        (1, "Water level", None, "Not known."),
        (2, "Depth", "Shallowest 2.0 m.", None),
    ]


def test_a_page_number_alone_rewords_nothing(pair):
    """A new page before the others moves them on; their notes refer to the same pages as before."""
    pair.new["pages"] = [
        page(1) | {"reaches": ["S-0003"]},
        page(2, "Depth: Shallowest 2.0 m. See page 3.") | {"reaches": ["S-0001"]},
        page(3, "Depth: Shallowest 2.0 m.") | {"reaches": ["S-0002"]},
    ]
    for row in pair.new["photos"]:
        row["page"] += 1
    changes = pair.compare()
    assert [(p.old, p.new, p.reach) for p in changes.pages] == [
        (None, 1, "S-0003"), (1, 2, "S-0001"), (2, 3, "S-0002"),
    ]  # fmt: skip
    assert (changes.notes, changes.photos_moved) == ((), ())
    assert told(changes, "pages") == [("East bank (S-0003)", "new"), ("Pages 2–3", "were pages 1–2")]


def test_the_same_words_that_lead_to_another_page_are_not_reworded(pair):
    """Page 2 is another bank's now; that pages moved is told, the sentence stands as it stood."""
    pair.new["pages"].insert(1, page(2) | {"reaches": ["S-0003"]})
    pair.new["pages"][2]["number"] = 3
    pair.new["photos"][1]["page"] = 3
    changes = pair.compare()
    assert changes.notes == ()
    assert [(p.old, p.new, p.reach) for p in changes.pages] == [(None, 2, "S-0003"), (2, 3, "S-0002")]


def test_the_chapter_leads_to_the_newer_pages(pair):
    """Rows lead to pages, long groups say how many more there are."""
    pair.new["survey"]["edition"] = "2"
    pair.new["photos"] += [photo(n, page=2, reach="S-0002") for n in range(3, 9)]
    chapter = changes_chapter(pair.compare(), most_rows=4)
    assert (chapter.id, chapter.title) == ("changes", "Changes since edition 1")
    table = next(b for b in chapter.blocks if isinstance(b, Table) and b.caption == "Photos added")
    assert [(row[0].text, row[2].text, row[2].page) for row in table.rows] == [
        (f"photos/{n}.jpg", "2", 2) for n in (3, 4, 5, 6)
    ]
    assert all(len(row) == len(b.columns) for b in chapter.blocks if isinstance(b, Table) for row in b.rows)
    assert "And 2 more; atlasgen compare lists them all." in str(chapter.blocks)


numbers = st.floats(0.1, 30.0)
maybe = st.none() | numbers


@given(data=st.data())
def test_an_edition_does_not_differ_from_itself(data):
    """Whatever is known of it and whatever is not."""
    document = edition()
    for row in document["reaches"]:
        row["depth"] = data.draw(st.none() | st.builds(depth, maybe, maybe, st.just([[5.0, data.draw(maybe)]])))
        row["coverage"] = data.draw(st.none() | st.just(row["coverage"]))
        row["photographed"] = data.draw(st.sampled_from(["well", "poorly", "near", "none", "cannot"]))
    for row in document["photos"]:
        row["heading_deg_true"] = data.draw(st.none() | st.floats(0, 359.99))
        row["caption"] = data.draw(st.text(max_size=30))
    document["pages"][0]["notes"] = data.draw(st.lists(st.text(max_size=60), max_size=4))
    assert differences(document, copy.deepcopy(document)).nothing


@given(first_m=numbers, second_m=numbers, bounds_m=st.tuples(st.floats(0.1, 3), st.floats(0.1, 3)))
def test_a_depth_changes_both_ways_or_neither(first_m, second_m, bounds_m):
    """Swapping the editions turns deeper into shallower, and the bounds decide alike."""
    pair = edition(), edition()
    for document, depth_m, bound_m in zip(pair, (first_m, second_m), bounds_m, strict=True):
        document["reaches"][0]["depth"] = depth(None, None, [[5.0, depth_m]])
        document["profiles"][0]["stations"] = [{"distance_m": 5.0, "bound_m": bound_m}]
    ways = [[c.deeper_m for tile in differences(a, b).depths for c in tile.changes] for a, b in (pair, pair[::-1])]
    changed = abs(second_m - first_m) > round(math.hypot(*bounds_m), 3)
    assert ways == ([[second_m - first_m], [first_m - second_m]] if changed else [[], []])
