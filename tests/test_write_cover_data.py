"""How the water was surveyed, as the map carries it: classes, causes, and steps of distance and bound."""

from __future__ import annotations

import base64
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from picture_scene import make_picture_atlas
from sample_atlas import WATER, make_sample_atlas
from shapely import box

from atlasgen.compose.coverage_classes import coverage_classes
from atlasgen.write.cover_data import BLOCK, NEAR_M, cover_data, packed_steps


def unpacked(text: str) -> list[int]:
    """Read numbers in groups of seven bits, the lowest first."""
    found, value, place = [], 0, 0
    for byte in base64.b64decode(text):
        value |= (byte & 127) << place
        place += 7
        if byte < 128:
            found.append(value)
            value = place = 0
    return found


@given(arrays(float, (4, 6), elements=st.floats(0, 200)), arrays(bool, (4, 6)))
def test_steps_are_never_smaller_than_what_they_stand_for(values, known):
    """Run by run they give back the smallest step that holds every value of a block; beyond the last there is none."""
    runs = unpacked(packed_steps(values, known, NEAR_M))
    steps = np.repeat(np.array(runs[::2], dtype=int), runs[1::2])
    blocks = [(row, col) for row in range(0, 4, BLOCK) for col in range(0, 6, BLOCK)]
    parts = [(np.s_[row : row + BLOCK, col : col + BLOCK]) for row, col in blocks]
    largest = [values[part][known[part]].max() for part in parts if known[part].any()]
    assert len(steps) == len(largest)
    assert (np.array([*NEAR_M, np.inf])[steps] >= largest).all()
    assert ((np.array([0.0, *NEAR_M])[steps] < largest) | (steps == 0)).all()


def test_with_side_scan_the_classes_are_its_own(tmp_path):
    """All of the water, shared out, and each gap with its cause."""
    atlas = make_picture_atlas(tmp_path, None)
    found = coverage_classes(atlas.known, WATER)
    assert list(found) == ["twice", "fine", "coarse", "not_surveyable", "depth_only", "none"]
    assert sum(area.area for area in found.values()) == pytest.approx(WATER.area, rel=1e-6)
    data = cover_data(atlas, (0, 0))
    assert data["sideScan"]
    assert ["weed" in gap["words"] for gap in data["gaps"]] == [True, False]
    assert data["near"]
    assert data["bound"]


def test_without_side_scan_there_is_water_with_depths_and_water_without():
    """What the crew could not survey is a class of its own where no depth is known, with its reason."""
    atlas = make_sample_atlas()
    assert set(coverage_classes(atlas.known, WATER)) <= {"depth_only", "none"}
    weed = WATER.intersection(box(-650, -300, -500, -200))
    known = replace(atlas.known, bands=(), not_surveyed=(("weed", weed),))
    found = coverage_classes(known, WATER)
    assert found["not_surveyable"].area == pytest.approx(weed.area, rel=1e-6)
    assert found["none"].area == pytest.approx(WATER.area - weed.area, rel=1e-6)
    data = cover_data(replace(atlas, known=known), (0, 0))
    assert not data["sideScan"]
    assert [gap["words"] for gap in data["gaps"]] == ["weed"]
    assert data["near"] == data["bound"] == ""
