"""Words for shores without a photograph and for tiles."""

from __future__ import annotations

from dataclasses import replace

import pytest
from sample_atlas import make_sample_atlas

from atlasgen.model import ReachCoverage, ReachDepth, ReachSeen, View, Views
from atlasgen.write.webwords import bare_reaches, reach_notes, tile_rows


@pytest.fixture(scope="module")
def atlas():
    return make_sample_atlas()


def test_a_bare_reach_names_the_pages_to_either_side(atlas):
    """Reach 1 lies between the last page of the ring and the first, 100 m reaches counted from middle to middle."""
    ring_m = atlas.placed.rings[0].line.length
    step_m = atlas.placed.reaches[0].length_m
    first = bare_reaches(atlas)[0]
    assert first.reach.id == "S-0001"
    assert [near.page.number for near in first.neighbours] == [5, 1]
    assert f"{round(2 * step_m / 10) * 10} m further along the shore" == first.neighbours[1].way
    back_m = ring_m - 20 * step_m
    assert f"{back_m / 1000:.1f} km back along the shore" == first.neighbours[0].way


def test_an_island_without_a_page_names_the_closest_across_the_water(atlas):
    """No way along the shore leads there."""
    without = replace(atlas, pages=atlas.pages[:5])
    island = [item for item in bare_reaches(without) if item.reach.ring == "A"]
    assert len(island) == sum(reach.ring == "A" for reach in atlas.placed.reaches)
    assert all(len(item.neighbours) == 1 and item.neighbours[0].way.endswith("across the water") for item in island)
    assert island[0].subtitle == "reach A-0001, at the start point of Sample Island"


def test_a_reach_without_a_page_names_the_pages_whose_photos_show_it(atlas):
    """It stands on no page of its own, yet it is in a photograph: nobody may say that it is in none."""
    bare, other = (item.reach.id for item in bare_reaches(atlas)[:2])
    photo, states = atlas.placed.photos[1], atlas.known.audit.reaches[bare]
    seen = ReachSeen(bare, 1.0, 80.0, 60.0, 5.0, 1.0)
    view = View(photo.id, None, False, 3000, 5.0, (), (seen,))
    shown = replace(states, lengths_m=dict.fromkeys(states.lengths_m, 0.0) | {"well": 100.0})
    audit = replace(atlas.known.audit, reaches={**atlas.known.audit.reaches, bare: shown})
    known = replace(atlas.known, audit=audit, views=Views({photo.id: view}, {}))
    first, second = bare_reaches(replace(atlas, known=known))[:2]
    assert said(first.notes).startswith("All of this reach is shown in some photograph. It is also seen on page 2")
    assert (second.reach.id, second.notes[0].sentences[0].text) == (
        other,
        "No photograph of this stretch is in the atlas.",
    )


def test_tiles_count_every_photograph_once(atlas):
    """The rows of the audit add up to the atlas."""
    rows = tile_rows(atlas)
    assert sum(len(page.figures) for page in atlas.pages) == sum(row.photos for row in rows)
    assert [row.tile.label for row in rows] == ["A 1", "B 1"]


def said(notes) -> str:
    return " ".join(sentence.text for note in notes for sentence in note.sentences)


def test_unknown_depth_and_coverage_are_said(atlas):
    """Nothing known is told as nothing known, never as nought."""
    for depth in (None, ReachDepth(40, 0, None, None, None, (), False)):
        words = said(reach_notes(depth, None, atlas.survey))
        assert "its depth is not known" in words
        assert "How closely this water was sounded is not known." in words
        assert " 0 " not in words


def test_depths_not_reduced_are_marked_so(atlas):
    """Without a stage record the reader must know that the water may have stood lower."""
    depth = ReachDepth(40, 1, 1.9, 1.9, 1.9, (), False)
    words = said(reach_notes(depth, ReachCoverage(40, 4000, 25, 0.999, 3.0), atlas.survey))
    assert "1 sounding was taken." in words
    # 1.9 m is 6.23 ft: rounded toward the shallower.
    assert "The shallowest is 6 ft, the deepest 6 ft below the water on the day." in words
    assert "These depths are not corrected for the water level of the day." in words
    assert "over 99 % of this water" in words
