"""place/former: reach ids that stay from edition to edition."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from shapely import MultiPolygon, Point, Polygon

from atlasgen.model import LonLat, PointM, Reach
from atlasgen.place.former import with_former_ids
from atlasgen.place.geo import Projection
from atlasgen.place.shore import build_rings, cut_reaches

_PROJECTION = Projection("+proj=aeqd +lat_0=-31.6 +lon_0=-96.4 +datum=WGS84 +units=m +no_defs")


def _reaches(water: Polygon, start: PointM | None = None) -> tuple[Reach, ...]:
    rings = build_rings(MultiPolygon([water]), start)
    return cut_reaches(rings, 100.0, _PROJECTION, lambda at: "", lambda at: "")


def _document(reaches: tuple[Reach, ...]) -> dict:
    rows = [{"id": r.id, "line": [list(p) for p in _PROJECTION.to_lonlat(r.line).coords]} for r in reaches]
    return {"reaches": rows}


def _lake(radius_m: float = 400.0, shift_m: float = 0.0, island: tuple[float, float] | None = None) -> Polygon:
    turns = np.linspace(0, 2 * np.pi, 241)[:-1]
    shore = [(radius_m * np.sin(t) + shift_m, radius_m * np.cos(t)) for t in turns]
    return Polygon(shore, [Point(island).buffer(40).exterior] if island else [])


def test_without_a_previous_edition_ids_are_counted_along_the_shore():
    """Nothing is matched and nothing told."""
    reaches = _reaches(_lake())
    assert with_former_ids(reaches, None, _PROJECTION) == (reaches, ())


def test_an_unchanged_shore_keeps_every_id_and_says_nothing():
    """The ids are the plain ones."""
    reaches = _reaches(_lake(island=(0, 100)))
    assert with_former_ids(reaches, _document(reaches), _PROJECTION) == (reaches, ())


def test_a_bank_keeps_its_id_when_the_start_moves_and_the_shore_is_redrawn():
    """Counted from the south instead of the north and drawn 5 m wider: each id lies where it lay, within 60 m."""
    old = _reaches(_lake())
    new, (told,) = with_former_ids(_reaches(_lake(405.0, 2.0), PointM(0.0, -405.0)), _document(old), _PROJECTION)
    before = {reach.id: reach.line.centroid for reach in old}
    apart_m = [before[reach.id].distance(reach.line.centroid) for reach in new if reach.id in before]
    assert len(apart_m) >= len(new) - 1
    assert max(apart_m) < 60
    assert (told.code, told.level) == ("renumbered", "note")
    assert "keep the id of the edition before" in told.message


def test_a_new_island_gets_ids_that_nothing_had():
    """Of two islands the first met is now another: its old neighbour keeps A, the new one takes numbers after it."""
    old = _reaches(_lake(island=(0.0, -200.0)))
    both = Polygon(_lake().exterior, [Point(0, 200).buffer(40).exterior, Point(0, -200).buffer(40).exterior])
    new, (told,) = with_former_ids(_reaches(both), _document(old), _PROJECTION)
    ids = [reach.id for reach in new]
    assert len(set(ids)) == len(ids)
    by_place = {reach.id: reach.line.centroid.y for reach in new if reach.id[0] in "AB"}
    old_ids = {reach.id for reach in old if reach.ring == "A"}
    assert all(by_place[name] < 0 for name in old_ids)
    assert all(y > 0 for name, y in by_place.items() if name not in old_ids)
    assert "are new" in told.message


def test_a_bank_that_is_gone_leaves_its_id_unused():
    """A filled arm's ids are told and not given to anybody else."""
    old = _reaches(_lake(island=(0, 100)))
    new, (told,) = with_former_ids(_reaches(_lake()), _document(old), _PROJECTION)
    assert not {reach.id for reach in new} & {reach.id for reach in old if reach.ring == "A"}
    assert "are no longer given (A-0001" in told.message


def test_an_older_document_without_lines_is_no_help():
    """Ids are then counted as ever."""
    reaches = _reaches(_lake())
    rows = {"reaches": [{"id": reach.id} for reach in reaches]}
    named, told = with_former_ids(reaches, rows, _PROJECTION)
    assert (named, told) == (reaches, ())
    assert replace(named[0], midpoint=LonLat(0, 0)).id == "S-0001"
