"""What the map is told: packed small, whole, and unknown where it is not known."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_atlas import make_sample_atlas
from sample_views import make_seen_atlas
from script_data import read_script
from shapely import LineString, MultiPolygon, Polygon

from atlasgen.compose.drawn_views import drawn_view
from atlasgen.compose.shore_lines import ShoreLines
from atlasgen.model import NamedArea
from atlasgen.place.geo import Projection
from atlasgen.write.datascript import data_script
from atlasgen.write.packing import MICRO, pack_line
from atlasgen.write.webdata import map_data


@pytest.fixture(scope="module")
def atlas():
    return make_sample_atlas()


@pytest.fixture(scope="module")
def data(atlas):
    return map_data(atlas)


def unpack(packed: list[int], origin: list[int]) -> list[tuple[float, float]]:
    """Do what js/unpack.js does, in words of its own."""
    x, y = origin
    points = []
    for dx, dy in zip(packed[::2], packed[1::2], strict=True):
        x, y = x + dx, y + dy
        points.append((x / MICRO, y / MICRO))
    return points


def test_data_cannot_leave_its_script():
    """Neither a closing tag nor the line separators of JSON that old readers of scripts choke on."""
    held = {"name": "</script><!--\u2028\u2029é 'it\\'s'", "told": "</script>'", "photos": [], "reaches": []}
    text = data_script(held)
    assert "<" not in text
    assert text.isascii()
    assert read_script(text) == held


def test_what_the_first_view_does_not_draw_waits_as_text(atlas, data):
    """Views, depth lines and notes come after; put together they are what was to be sent."""
    text = data_script(data)
    first, later = text.split("\nvar ATLAS_LATER = ")
    assert read_script(text) == json.loads(json.dumps(data))
    for name in ("isobaths", "told", "view", "shownBy"):
        assert f'"{name}"' not in first
        assert f"\n{name}: '" in later


def test_the_map_draws_what_the_atlas_holds(atlas, data):
    """Photos, reaches, tiles and states arrive whole; unknown stays null."""
    assert [photo.id for photo in atlas.placed.photos] == [photo["id"] for photo in data["photos"]]
    assert atlas.page_of_photo() == {photo["id"]: photo["page"] for photo in data["photos"]}
    assert [photo["heading"] for photo in data["photos"] if photo["id"] == "p-0000000006"] == [None]
    assert {r.id: atlas.known.reach_state[r.id] for r in atlas.placed.reaches} == {
        r["id"]: r["state"] for r in data["reaches"]
    }
    assert [closed["name"] for closed in data["closed"]] == ["weed"]
    assert data["offBank"] == "depth 10 m off"
    place = atlas.placed.photos[0].lonlat
    assert pytest.approx(list(place), abs=1e-6) == data["photos"][0]["at"]


def test_the_lake_drawn_is_the_lake_to_a_metre_and_a_bit(atlas, data):
    """Simplified to 1 m and rounded to a millionth of a degree: the outline strays less than 1.2 m."""
    rings = [unpack(ring, data["origin"]) for ring in data["water"][0]]
    drawn = MultiPolygon([Polygon(rings[0], rings[1:])])
    assert drawn.boundary.hausdorff_distance(atlas.layers.water.boundary) * 111_320 < 1.2


def test_water_without_a_depth_band_is_drawn_as_unknown(atlas, data):
    """Bands and the unknown together make up the water (areas in square degrees)."""

    def area(areas) -> float:
        rings = [[unpack(ring, data["origin"]) for ring in rings] for rings in areas]
        return sum(Polygon(r[0], r[1:]).area for r in rings)

    known = sum(area(band["area"]) for band in data["bands"])
    assert pytest.approx(area(data["water"]), rel=0.01) == known + area(data["unsounded"])
    assert area(data["unsounded"]) > 0


@given(st.lists(st.tuples(st.integers(-180 * MICRO, 180 * MICRO), st.integers(-85 * MICRO, 85 * MICRO)), min_size=2))
def test_packing_loses_nothing_at_its_grain(points):
    """Whole millionths of a degree come back as they were."""
    origin = (12_345_678, -9_876_543)
    packed = pack_line([(x / MICRO, y / MICRO) for x, y in points], origin)
    assert points == [(round(x * MICRO), round(y * MICRO)) for x, y in unpack(packed, list(origin))]


def test_a_place_may_be_a_polygon_of_any_shape(atlas):
    """Its name is put inside it, even in a horseshoe, whose centre is outside."""
    horseshoe = Polygon([(0, 0), (3, 0), (3, 3), (2, 3), (2, 1), (1, 1), (1, 3), (0, 3)])
    layers = replace(atlas.layers, places=(NamedArea("Horseshoe", horseshoe),))
    at = map_data(replace(atlas, layers=layers))["places"][0]["at"]
    assert horseshoe.contains(LineString([at, (at[0] + 1e-9, at[1])]))


def test_views_arrive_whole_or_with_a_reason():
    """Each photo has its outline and the metres it shows, or says why it has none."""
    seen = make_seen_atlas()
    views, sent = seen.known.views, map_data(seen)
    for photo in sent["photos"]:
        if photo["id"] in views.without:
            assert (photo["noView"], "view" in photo) == ("its direction is not known", False)
        else:
            view = views.views[photo["id"]]
            assert photo["view"]["seen"] == round(view.seen_m)
            stretches = list(zip(*[iter(photo["view"]["shore"])] * 3, strict=True))
            assert sum(to_m - from_m for _, from_m, to_m in stretches) == pytest.approx(view.seen_m, abs=6 * 8)
    assert {photo["id"] for photo in sent["photos"] if "noView" in photo} == set(views.without)


def test_each_reach_is_told_which_photos_show_it():
    """The same photos as their views name, percent and distance beside them."""
    seen = make_seen_atlas()
    sent = map_data(seen)
    told = {
        (reach["id"], sent["photos"][n]["id"]): (percent, off_m)
        for reach in sent["reaches"]
        for n, percent, off_m in zip(*[iter(reach["shownBy"])] * 3, strict=True)
    }
    wanted = {
        (one.reach, view.photo): (one.share, one.distance_m)
        for view in seen.known.views.views.values()
        for one in view.reaches
    }
    assert told.keys() == wanted.keys()
    assert told
    for pair, (percent, off_m) in told.items():
        share, distance_m = wanted[pair]
        assert abs(percent - 100 * share) <= 1
        assert (percent == 100) == (share == 1)
        assert off_m == round(distance_m)


def test_an_outline_is_the_view_to_half_a_percent_of_its_size():
    """Simplified and rounded, it covers what `drawn_view` does."""
    seen = make_seen_atlas()
    sent, lines, projection = map_data(seen), ShoreLines(seen.placed.rings), Projection(seen.placed.crs_metric)
    points = {photo.id: photo.point for photo in seen.placed.photos}
    for photo in (photo for photo in sent["photos"] if "view" in photo):
        (ring,) = photo["view"]["area"]
        drawn = projection.to_metric(Polygon(unpack(ring, sent["origin"])))
        wanted = drawn_view(seen.known.views.views[photo["id"]], points[photo["id"]], lines)
        assert drawn.symmetric_difference(wanted).area < 0.01 * wanted.area


def test_views_cost_little():
    """Under half a kilobyte a photo as text: 800 photos add less than 400 kB."""
    seen = make_seen_atlas()
    sent = map_data(seen)
    whole = len(data_script(sent))
    for photo in sent["photos"]:
        photo.pop("view", None)
    for reach in sent["reaches"]:
        del reach["shownBy"]
    assert (whole - len(data_script(sent))) / len(sent["photos"]) < 500


def test_doubtful_parts_of_a_depth_line_are_told_apart(atlas, data):
    """What is drawn broken is packed beside what is drawn whole; together they are the line."""
    first, *others = atlas.layers.isobaths
    broken = replace(first, lines=first.lines[1:], doubtful=first.lines[:1])
    told = map_data(replace(atlas, layers=replace(atlas.layers, isobaths=(broken, *others))))["isobaths"][0]
    whole = data["isobaths"][0]
    assert (told["doubtful"] + told["lines"], told["doubtful"] == []) == (whole["lines"], False)
    assert whole["doubtful"] == []
