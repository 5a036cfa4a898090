"""The four maps over an invented lake: what is on them, that nothing collides, and that unknown stays unknown."""

from __future__ import annotations

from collections import Counter
from itertools import combinations

import numpy as np
import pytest
import shapely
from sample_scene import (
    scene_bands,
    scene_isobaths,
    scene_not_surveyed,
    scene_pass_lines,
    scene_photo,
    scene_places,
    scene_reaches,
    scene_rings,
    scene_sounding_lines,
    scene_tiles,
    scene_water,
    to_lonlat,
)
from shapely import LineString, MultiPolygon, Point, Polygon, box

from atlasgen.compose.cameras import DOT_MM, paper_heading_deg
from atlasgen.compose.lettering import text_box
from atlasgen.compose.mapping import locator_map, overview_map, source_diagram, tile_map
from atlasgen.compose.words import page_range
from atlasgen.model import Drawing, LonLat, Measured, NamedArea, PointM, ReachSeen, Stretch, View
from atlasgen.write.svg import to_svg

GROUND = {"water": scene_water(), "rings": scene_rings(), "to_lonlat": to_lonlat, "distance_unit": "metric"}
DEPTHS = {"isobaths": scene_isobaths(), "bands": scene_bands(), "depth_unit": "feet"}
NO_DEPTHS = {"isobaths": (), "bands": (), "depth_unit": "feet"}
AROUND = {"tile_edges": scene_tiles(), "places": scene_places(), "not_surveyed": scene_not_surveyed()}
LINES_THAT_GIVE_WAY = {"isobath", "isobath-major", "tile-edge", "hatch", "sounding-line", "pass-line"}


def locator(index: int, photos, **changes) -> Drawing:
    settings = {**GROUND, **DEPTHS, **AROUND, **changes}
    return locator_map("locator", page_reaches=(scene_reaches()[index],), photos=photos, **settings)


MAP_MM = 62  # height of a locator's map; its legend stands below


def view_of(photo, reach, *, range_m: float = 140.0) -> View:
    """Look at a reach: all of it seen, and the water from 20 m off out to the bank within the photo's width."""
    halves = np.radians(photo.heading_deg_true.value + np.array([-1, 1]) * photo.hfov_deg.value / 2)
    (x0, y0), (x1, y1) = np.column_stack([np.sin(halves), np.cos(halves)])
    x, y = photo.point
    ends = [
        (x + m * dx, y + m * dy) for m, dx, dy in ((20, x0, y0), (range_m, x0, y0), (range_m, x1, y1), (20, x1, y1))
    ]
    stretch = Stretch(reach.ring, reach.from_m, reach.to_m, 60.0, 80.0, 4.0, 4.0, 1.0)
    seen = ReachSeen(reach.id, 1.0, 60.0, 80.0, 4.0, 1.0)
    return View(photo.id, Polygon(ends), False, 3000.0, 4.0, (stretch,), (seen,))


def views_of(photos) -> dict[str, View]:
    """Give views to those whose direction is known, each of its own reach."""
    reaches = {reach.id: reach for reach in scene_reaches()}
    return {p.id: view_of(p, reaches[p.reach]) for _, p in photos if p.heading_deg_true is not None}


def four_photos(index: int):
    """Two from one station, one without direction, one that looks away."""
    reach = scene_reaches()[index]
    return (
        (1, scene_photo(reach, 1, off_m=90, heading=10)),
        (2, scene_photo(reach, 2, off_m=88, along_m=3, heading=-40)),
        (3, scene_photo(reach, 3, off_m=40, along_m=-60, heading=None)),
        (4, scene_photo(reach, 4, off_m=150, along_m=80, heading=160)),
    )


def shapes_of(drawing: Drawing, kind: str, style: str = ""):
    return [s for s in drawing.shapes if s.kind == kind and style in ("", s.style)]


def papers(drawing: Drawing) -> list[tuple[str, Polygon]]:
    """Return the paper under each word, a little less than it takes, so that mere neighbours do not count."""
    found = []
    for shape in shapes_of(drawing, "text"):
        paper = text_box(shape.text, shape.points[0][0], shape.size_mm, shape.style, shape.turn_deg)
        found.append((shape.text, paper.buffer(-0.1, join_style="mitre")))
    return found


def drawn_lines(drawing: Drawing, styles) -> list[LineString]:
    """Lines of some styles on the map itself, without the samples in a legend below it."""
    foot = max(y for part in shapes_of(drawing, "line", "frame")[0].points for _, y in part)
    lines = [LineString(p) for s in shapes_of(drawing, "line") if s.style in styles for p in s.points]
    return [line for line in lines if line.bounds[1] < foot]


def on_map(drawing: Drawing, style: str):
    """Shapes of a style on the map itself, without their samples in the legend."""
    return [s for s in drawing.shapes if s.style == style and min(y for part in s.points for _, y in part) < MAP_MM]


EVERY_REACH = range(0, len(scene_reaches()), 7)


@pytest.mark.parametrize("index", EVERY_REACH)
def test_on_a_locator_no_word_covers_another_or_leaves_the_frame(index):
    """All along the shore: words on the map or in the legend below, clear of each other and of the cameras' dots."""
    drawing = locator(index, four_photos(index), views=views_of(four_photos(index)))
    words = papers(drawing)
    legend = {s.text for s in shapes_of(drawing, "text", "legend")}
    assert legend == {"this reach", "shore shown", "water in frame"}
    foot = box(0, MAP_MM, 84, drawing.height_mm)
    astray = [t for t, paper in words if not (foot if t in legend else box(0, 0, 84, MAP_MM)).covers(paper)]
    assert astray == []
    # The question mark may stand close to its own dot.
    clashes = [(a, b) for (a, p), (b, q) in combinations(words, 2) if p.intersects(q)]
    assert [pair for pair in clashes if "?" not in pair] == []
    numbers = {s.text for s in shapes_of(drawing, "text") if s.style.startswith("camera-number")}
    dots = [Point(s.points[0][0]).buffer(s.size_mm / 2) for s in drawing.shapes if s.kind == "dot" and s.size_mm > 2.5]
    covered = [text for text, paper in words if text not in numbers | {"?"} and any(paper.intersects(d) for d in dots)]
    assert covered == []


@pytest.mark.parametrize("index", EVERY_REACH)
def test_on_a_locator_thin_lines_stop_short_of_words(index):
    """Labels are clear of depth lines, hatching and tile borders, and of the shore and the reach altogether."""
    drawing = locator(index, four_photos(index))
    written = [(t, p.buffer(-0.1)) for t, p in papers(drawing) if not t.isdigit() or len(t) > 1]
    thin = shapely.MultiLineString(drawn_lines(drawing, LINES_THAT_GIVE_WAY))
    crossing = [text for text, paper in written if text != "?" and thin.intersection(paper).length > 0.05]
    assert crossing == []
    heavy = shapely.MultiLineString(drawn_lines(drawing, {"reach"}))
    assert [text for text, paper in written if heavy.intersects(paper)] == []


@pytest.mark.parametrize("index", EVERY_REACH)
def test_cameras_stand_apart_and_inside(index):
    """Four dots, none over another, all in the frame, whatever the stations."""
    drawing = locator(index, four_photos(index))
    at = [s.points[0][0] for s in drawing.shapes if s.style == "camera-halo"]
    assert len(at) == 4
    assert min(np.hypot(a[0] - b[0], a[1] - b[1]) for a, b in combinations(at, 2)) >= DOT_MM
    assert all(DOT_MM / 2 <= x <= 84 - DOT_MM / 2 and DOT_MM / 2 <= y <= 62 - DOT_MM / 2 for x, y in at)


def test_a_locator_holds_its_reach_and_all_near_cameras():
    """The whole reach in vermilion, of the length it has at the map's scale."""
    reach = scene_reaches()[5]
    drawing = locator(5, four_photos(5))
    metres_per_mm = 420 / 84  # 1 : 5000, the round scale that holds cameras 150 m off
    drawn = sum(line.length for line in drawn_lines(drawing, {"reach"}))
    assert drawn * metres_per_mm == pytest.approx(reach.length_m, rel=0.01)


def test_corners_are_the_ground_that_is_shown():
    """The camera's place between the corners is where its dot stands on the paper."""
    photo = scene_photo(scene_reaches()[5], 1, off_m=60)
    drawing = locator(5, ((1, photo),))
    nw, _, se, _ = drawing.corners
    (dot,) = shapes_of(drawing, "dot", "camera")
    x = 84 * (photo.lonlat.lon_deg - nw.lon_deg) / (se.lon_deg - nw.lon_deg)
    y = 62 * (nw.lat_deg - photo.lonlat.lat_deg) / (nw.lat_deg - se.lat_deg)
    assert dot.points[0][0] == pytest.approx((x, y), abs=0.05)


def test_unknown_direction_is_a_hollow_dot_with_a_question_mark():
    """No pointer and no tint; a known one has both, where what it shows was worked out."""
    unknown = locator(5, ((1, scene_photo(scene_reaches()[5], 1, heading=None)),))
    assert Counter(s.style for s in unknown.shapes if s.kind in ("wedge", "dot")) == {
        "camera-halo": 1,
        "camera-unknown": 1,
    }
    assert [s.text for s in shapes_of(unknown, "text", "camera-query")] == ["?"]
    assert shapes_of(unknown, "area", "view") == []
    photos = ((1, scene_photo(scene_reaches()[5], 1, heading=0)),)
    known = locator(5, photos, views=views_of(photos))
    assert len(shapes_of(known, "wedge", "camera")) == 1
    assert len(on_map(known, "view")) == 1
    assert shapes_of(known, "text", "camera-query") == []


def test_a_photo_without_a_view_has_a_pointer_but_no_tint():
    """What a photo shows is never drawn as a guess: no view, no tint, no shore shown, nothing in the legend."""
    drawing = locator(5, ((1, scene_photo(scene_reaches()[5], 1)),), views={})
    assert len(shapes_of(drawing, "wedge", "camera")) == 1
    assert {s.style for s in drawing.shapes} & {"view", "view-edge", "view-side", "seen", "seen-end"} == set()
    assert [s.text for s in shapes_of(drawing, "text", "legend")] == ["this reach"]
    assert "What it shows is not known." in drawing.alt


def test_the_words_of_a_locator_name_the_shore_shown():
    """Length and reach, so that who cannot see the tint knows as much."""
    photos = ((1, scene_photo(scene_reaches()[5], 1, heading=0)),)
    alt = locator(5, photos, views=views_of(photos)).alt
    assert f"It shows {scene_reaches()[5].length_m:.0f} m of shore, reach S-0006." in alt


def test_the_waters_edge_at_low_water_is_drawn_and_named():
    """A line across the map stands in the legend; one that misses the map is neither drawn nor named."""
    middle = scene_reaches()[5].line.interpolate(0.5, normalized=True)
    across = LineString([(middle.x - 4000, middle.y + 10), (middle.x + 4000, middle.y + 10)])
    drawing = locator(5, (), waterlines=(across,), places=(), tile_edges=(), not_surveyed=())
    on_paper = shapely.MultiLineString(drawn_lines(drawing, {"low-water"}))
    words = shapely.unary_union([paper for _, paper in papers(drawing)])
    # From edge to edge, less what the scale bar's and the north arrow's words take.
    assert 60 < on_paper.length <= 84
    assert {round(y, 2) for line in on_paper.geoms for _, y in line.coords} == {on_paper.bounds[1]}
    assert on_paper.intersection(words).length == 0
    assert "water's edge at low water" in [s.text for s in shapes_of(drawing, "text", "legend")]
    beyond = locator(5, (), waterlines=(shapely.affinity.translate(across, 0, 5000),))
    assert drawn_lines(beyond, {"low-water"}) == []
    assert "water's edge at low water" not in [s.text for s in shapes_of(beyond, "text", "legend")]


def test_a_chart_tile_names_the_waters_edge_at_low_water_too():
    """The tile's legend has it where the line crosses the tile, not where it is elsewhere."""
    tile, settings = scene_tiles()[1], {**GROUND, **DEPTHS}
    middle = tile.area.centroid
    across = LineString([(middle.x - 200, middle.y), (middle.x + 200, middle.y)])
    drawing = tile_map("tile", tile=tile, photos=(), waterlines=(across,), **settings)
    assert drawn_lines(drawing, {"low-water"}) != []
    assert "water's edge at low water" in [s.text for s in shapes_of(drawing, "text", "legend")]
    elsewhere = shapely.affinity.translate(across, 0, 9000)
    bare = tile_map("tile", tile=tile, photos=(), waterlines=(elsewhere,), **settings)
    assert "water's edge at low water" not in [s.text for s in shapes_of(bare, "text", "legend")]


def test_headings_are_turned_from_true_north_to_the_paper():
    """Where grid north lies 2 degrees east of true north, true 90 is 88 on the paper."""

    def leaning(point: PointM) -> LonLat:
        angle = np.radians(2.0)
        east = point.x_m * np.cos(angle) + point.y_m * np.sin(angle)
        north = -point.x_m * np.sin(angle) + point.y_m * np.cos(angle)
        return LonLat(east / 111_000, north / 111_000)

    photo = scene_photo(scene_reaches()[5], 1, heading_deg_true=Measured(90.0, "EXIF, true"))
    assert paper_heading_deg(photo, leaning) == pytest.approx(88.0, abs=0.01)


def test_a_camera_far_away_is_an_arrow_with_its_distance():
    """1.5 km off: the map keeps to the reach, the edge says where and how far."""
    reach = scene_reaches()[20]
    far = scene_photo(reach, 9, off_m=1500, along_m=0, heading=0)
    drawing = locator(20, ((1, scene_photo(reach, 1, off_m=60)), (2, far)))
    assert [s.text for s in shapes_of(drawing, "text", "camera-far")] == ["1.5 km"]
    (arrow,) = shapes_of(drawing, "wedge", "far")
    assert arrow.turn_deg == pytest.approx(reach.faces_deg, abs=12)
    assert "Camera 2 stood 1.5 km" in drawing.alt
    nw, _, se, _ = drawing.corners
    assert (nw.lat_deg - se.lat_deg) * 111_000 < 700


def test_without_a_depth_model_the_soundings_are_dots():
    """Single soundings are shown where that is all there is; with a model they are not."""
    points = shapely.get_coordinates([line.segmentize(3) for line in scene_sounding_lines()])
    given = (points[:, 0], points[:, 1])
    bare = locator(12, (), **NO_DEPTHS, sounding_points=given)
    (dots,) = shapes_of(bare, "dot", "sounding")
    assert len(dots.points) > 50
    assert shapes_of(bare, "area", "depth") == []
    assert "No depth lines here." in bare.alt
    assert shapes_of(locator(12, (), sounding_points=given), "dot", "sounding") == []
    assert shapes_of(locator(12, (), **NO_DEPTHS, sounding_points=([], [])), "dot", "sounding") == []


def test_water_without_known_depth_is_blank_and_said():
    """Where the model stops, no tint; a thin outline and the words."""
    west = box(-2000, -2000, -250, 2000)
    bands = tuple(
        type(b)(b.from_m, b.to_m, b.shade, MultiPolygon([p for p in parts if p.geom_type == "Polygon"]))
        for b in scene_bands()
        if (parts := list(shapely.get_parts(b.area.intersection(west))))
    )
    middles = [r.line.interpolate(0.5, normalized=True) for r in scene_reaches()]
    index = min(range(len(middles)), key=lambda i: abs(middles[i].x + 280))
    drawing = locator(index, (), bands=bands, isobaths=(), places=(), tile_edges=())
    assert "depth not known" in [s.text for s in shapes_of(drawing, "text", "unknown")]
    assert shapes_of(drawing, "line", "known-edge")


def test_not_surveyed_water_is_hatched_with_its_reason():
    """The crew's reason stands in the hatching or beside it."""
    index = min(
        range(len(scene_reaches())), key=lambda i: scene_reaches()[i].line.distance(scene_not_surveyed()[0].area)
    )
    drawing = locator(index, ())
    assert "weed" in [s.text for s in shapes_of(drawing, "text", "reason")]
    assert shapes_of(drawing, "line", "hatch")


def test_the_words_of_a_locator_say_what_it_shows():
    """Reach, size, each camera's place and direction, and the depths."""
    alt = locator(5, four_photos(5)).alt
    assert alt.startswith("Map of reach S-0006, about 420 m by 310 m, north up. Camera 1 stood 90 m south-east of it,")
    assert "Camera 3 stood" in alt
    assert "direction unknown" in alt
    assert alt.endswith("ft.")
    assert "about 0.3 mi by 0.2 mi" in locator(5, four_photos(5), distance_unit="imperial").alt


@pytest.mark.parametrize("index", EVERY_REACH)
def test_a_locator_is_small_and_the_same_twice(index):
    """Under 60 kB of SVG, and equal bytes for equal input."""
    first = to_svg(locator(index, four_photos(index)))
    assert len(first.encode()) < 60_000
    assert first == to_svg(locator(index, four_photos(index)))


def test_a_page_of_two_reaches_without_photos():
    """Nothing but the shore: still a map, and it names both reaches."""
    reaches = scene_reaches()[3:5]
    drawing = locator_map("two", page_reaches=reaches, photos=(), **GROUND, **NO_DEPTHS)
    assert "reaches S-0004, S-0005" in drawing.alt
    assert len(drawn_lines(drawing, {"reach"})) == 1  # neighbours are one line


STATES = {r.id: ("well", "near", "none", "poorly")[(i // 5) % 4] for i, r in enumerate(scene_reaches())}
PHOTOS = tuple((i + 1, scene_photo(r, i + 1)) for i, r in enumerate(scene_reaches()[::4]))


def overview(**changes) -> Drawing:
    pages = {tile.name: f"pages {3 + 5 * i}–{7 + 5 * i}" for i, tile in enumerate(scene_tiles())}
    settings = {
        "reaches": scene_reaches(),
        "states": STATES,
        "photos": [p for _, p in PHOTOS],
        "tiles": scene_tiles(),
        "pages_of_tile": pages,
        "places": scene_places(),
        "bands": scene_bands(),
        **changes,
    }
    return overview_map("overview", **GROUND, **settings)


def test_an_overview_names_each_tile_with_its_pages():
    """All six labels and page ranges, none over another word."""
    drawing = overview()
    assert [s.text for s in shapes_of(drawing, "text", "tile")] == [tile.name for tile in scene_tiles()]
    assert len(shapes_of(drawing, "text", "tile-pages")) == 6
    words = papers(drawing)
    assert [(a, b) for (a, p), (b, q) in combinations(words, 2) if p.intersects(q)] == []
    assert "A 1: pages 3–7" in drawing.alt


def test_an_overview_draws_all_of_the_shore_by_state():
    """The strip under the states is the whole shore; the filled parts are the reaches of each state."""
    drawing = overview()
    west, _, east, _ = scene_water().bounds
    scale = (east - west) / (170 - 28)  # the lake fills the width between margins of 14 mm
    whole = sum(line.length for line in drawn_lines(drawing, {"state-edge"})) * scale
    assert whole == pytest.approx(sum(ring.line.length for ring in scene_rings()), rel=0.01)
    for state in ("well", "poorly", "near"):
        drawn = sum(line.length for line in drawn_lines(drawing, {f"state-{state}"}))
        wanted = sum(r.length_m for r in scene_reaches() if STATES[r.id] == state)
        assert drawn * scale == pytest.approx(wanted, rel=0.01)


def test_an_overview_explains_only_what_it_shows():
    """Two states, two entries; no cameras, no entry for them."""
    near_or_none = {r.id: "near" if i % 2 else "none" for i, r in enumerate(scene_reaches())}
    words = [s.text for s in shapes_of(overview(states=near_or_none, photos=[]), "text", "legend")]
    assert words == ["a camera stood near; it may not show this bank", "no photograph", "chart tile"]


def test_an_overview_fits_the_height_it_is_given():
    """A wide lake makes a low map; a tall one stays within the page."""
    assert overview().height_mm < 130
    tall = shapely.affinity.rotate(scene_water(), 90, origin=(0, 0))
    settings = {"reaches": (), "states": {}, "photos": (), "tiles": (), "pages_of_tile": {}}
    drawing = overview_map("tall", **{**GROUND, "water": tall, "rings": ()}, **settings)
    assert drawing.height_mm <= 190


def test_a_tile_map_gives_each_page_one_plate():
    """Each page with a camera inside is named once, beside its cameras."""
    settings = {**GROUND, **DEPTHS, **AROUND}
    drawing = tile_map("tile", tile=scene_tiles()[1], photos=PHOTOS, reaches=scene_reaches(), states=STATES, **settings)
    plates = [s.text for s in shapes_of(drawing, "text", "chip")]
    inside = [str(n) for n, p in PHOTOS if scene_tiles()[1].area.contains(Point(p.point.x_m, p.point.y_m))]
    assert set(inside) <= set(plates)
    assert len(set(plates[:-1])) == len(plates[:-1])  # the last is the sample in the legend
    assert "Map of tile B 1" in drawing.alt
    words = [(t, p) for t, p in papers(drawing)]
    assert [(a, b) for (a, p), (b, q) in combinations(words, 2) if p.intersects(q)] == []


def test_a_source_diagram_shows_runs_and_reasons():
    """Lines of their full length, hatching with reasons, and a legend of four signs."""
    runs = {"sounding_lines": scene_sounding_lines(), "pass_lines": scene_pass_lines()}
    drawing = source_diagram("sources", **GROUND, **runs, not_surveyed=scene_not_surveyed(), places=scene_places())
    west, _, east, _ = scene_water().bounds
    scale = (east - west) / (170 - 22)
    drawn = sum(line.length for line in drawn_lines(drawing, {"sounding-line"})) * scale
    assert drawn == pytest.approx(sum(line.length for line in scene_sounding_lines()), rel=0.04)
    assert {s.text for s in shapes_of(drawing, "text", "reason")} == {"weed", "standing timber"}
    assert len(shapes_of(drawing, "text", "legend")) == 4
    assert "56 sounding lines of 18.4 km in all, 2 sonar passes" in drawing.alt
    assert "standing timber (5.3 ha)" in drawing.alt


def test_a_source_diagram_of_nothing_says_so():
    """No soundings, no passes, nothing marked: said in words, and the legend keeps to what is there."""
    drawing = source_diagram("sources", **GROUND, sounding_lines=(), pass_lines=(), not_surveyed=())
    assert "no sounding lines, no sonar passes. No part is marked as not surveyed." in drawing.alt
    assert [s.text for s in shapes_of(drawing, "text", "legend")] == ["water without soundings"]


def test_hostile_names_do_not_break_a_map():
    """Names without room, without letters or full of markup are placed or left out, never a crash."""
    lake = box(-1000, -600, 1500, 500)
    names = [NamedArea(name, lake) for name in ("", " ", "<script>alert(1)</script>", "x" * 300, "湖", "\u202eevil")]
    svg = to_svg(locator(5, four_photos(5), places=names, tile_edges=names, not_surveyed=names[:3]))
    assert "<script" not in svg


@pytest.mark.parametrize(
    ("pages", "words"),
    [([4], "page 4"), ([3, 4, 5], "pages 3–5"), ([3, 4, 8], "pages 3–4, 8")],
)
def test_page_ranges_in_words(pages, words):
    """Runs are joined, single pages stand alone."""
    assert page_range(pages) == words
