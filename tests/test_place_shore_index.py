"""Pieces of the tiny lakes, by hand."""

from __future__ import annotations

import numpy as np
import pytest
from lakes import island_lake, projection, square_lake
from view_scene import index_of

from atlasgen.model import PointM
from atlasgen.place.shore import build_rings
from atlasgen.place.shore_index import PIECE_M

SQUARE, ISLAND = index_of(square_lake()), index_of(island_lake(), reach_length_m=30)


def test_pieces_cover_each_ring_without_gap_or_overlap():
    """Each begins where the one before ends, none is longer than stated, and every reach is made of whole ones."""
    for number, ring in enumerate(build_rings(island_lake(), None)):
        first, end = np.searchsorted(ISLAND.ring, [number, number + 1])
        assert (ISLAND.from_m[first], ISLAND.to_m[end - 1]) == (0, pytest.approx(ring.line.length))
        assert np.allclose(ISLAND.from_m[first + 1 : end], ISLAND.to_m[first : end - 1])
    assert (ISLAND.to_m - ISLAND.from_m).max() <= PIECE_M + 1e-9
    ends = [(r.from_m, r.to_m) for r in ISLAND.reaches]
    first, last = ISLAND.reach_first[:-1], ISLAND.reach_first[1:] - 1
    assert np.allclose(ends, np.column_stack([ISLAND.from_m[first], ISLAND.to_m[last]]))


def test_places_and_directions():
    """The square starts at its north-west corner and runs east, with the water on the right hand."""
    assert SQUARE.xy_m[0].tolist() == pytest.approx([-499, 500])
    assert SQUARE.toward[20].tolist() == pytest.approx([1, 0])
    assert SQUARE.toward[510].tolist() == pytest.approx([0, -1])
    # At a corner the bank's run is that of the chord round it.
    assert np.abs(SQUARE.toward[500]).tolist() == pytest.approx([0.67, 0.74], abs=0.05)


def test_chunks_near_a_place_hold_all_pieces_near_it():
    """No piece within the range is missed, whatever the place, and none spans two rings."""
    for at, range_m in ((PointM(0, 0), 120), (PointM(400, 450), 60), (PointM(90, -90), 1), (PointM(0, 0), 10_000)):
        found = set(ISLAND.pieces_of(ISLAND.near(at, range_m)).tolist())
        near = np.flatnonzero(np.hypot(*(ISLAND.xy_m - at).T) <= range_m)
        assert set(near.tolist()) <= found
    rings = [set(ISLAND.ring[ISLAND.pieces_of(np.array([chunk]))]) for chunk in range(len(ISLAND.chunk_first))]
    assert {len(ring) for ring in rings} == {1}


def test_norths_agree_without_a_projection():
    """The map's north is taken as true, for none or several places."""
    assert SQUARE.north_deg([PointM(0, 0), PointM(5, 5)]).tolist() == [0, 0]
    assert SQUARE.north_deg([]).tolist() == []
    assert projection().grid_bearing_to_true(0.0, PointM(0, 0)) % 360 == pytest.approx(0, abs=1e-6)
