"""Scale bar, north arrow, room for words, names, depth lines and their labels, legend."""

from __future__ import annotations

import json
from itertools import combinations, pairwise
from pathlib import Path

import font_source_sans_pro
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageFont
from sample_scene import scene_isobaths
from shapely import LineString, Point, box

from atlasgen.compose.depth_lines import LEAST_APART_MM, label_levels, levels_on, typical_gap_mm
from atlasgen.compose.drawing import Frame
from atlasgen.compose.furniture import name_beside, north_arrow, place_name, scale_and_north, scale_bar, scale_length
from atlasgen.compose.ground import level_lines
from atlasgen.compose.legend import Entry, legend, legend_height_mm
from atlasgen.compose.lettering import END_STYLES, START_STYLES, Board, text_box, text_width_mm
from atlasgen.model import Isobath
from atlasgen.resources import resource
from atlasgen.units import FOOT_M, MILE_M

FACES = Path(font_source_sans_pro.__file__).parent / "files"
PAPER = box(0, 0, 84, 62)


@pytest.mark.parametrize(
    ("metres_per_mm", "unit", "length_m", "words"),
    [
        (5.0, "metric", 100.0, "100 m"),
        (12.5, "metric", 200.0, "200 m"),
        (50.0, "metric", 1000.0, "1 km"),
        (3.0, "imperial", 200 * FOOT_M, "200 ft"),
        (20.0, "imperial", 1000 * FOOT_M, "1000 ft"),
        (30.0, "imperial", 0.25 * MILE_M, "0.25 mi"),
        (40.0, "imperial", 0.5 * MILE_M, "0.5 mi"),
        (100.0, "imperial", MILE_M, "1 mi"),
    ],
)
def test_scale_lengths_are_round_in_the_readers_unit(metres_per_mm, unit, length_m, words):
    """The longest round length within 24 mm; a foot is 0.3048 m and a mile 1609.344 m (NIST Handbook 44, App. C)."""
    assert scale_length(metres_per_mm, unit) == (pytest.approx(length_m), words)


@given(st.floats(0.5, 500), st.sampled_from(["metric", "imperial"]))
def test_a_scale_bar_fits_and_is_no_stub(metres_per_mm, unit):
    """Between 8 mm and 24 mm long at any scale."""
    length_m, _ = scale_length(metres_per_mm, unit)
    assert 8.0 <= length_m / metres_per_mm <= 24.0 + 1e-6


def test_the_bar_is_as_long_as_it_says():
    """100 m at 5 m to the mm is 20 mm of line."""
    bar, zero, whole = scale_bar((10, 50), 20.0, "100 m")
    xs = [x for part in bar.points for x, _ in part]
    assert max(xs) - min(xs) == pytest.approx(20.0)
    assert (zero.text, whole.text) == ("0", "100 m")


def test_the_arrow_points_to_true_north():
    """Where grid north lies 10 degrees east of true north, true north is 10 degrees anticlockwise of up."""
    outline = north_arrow((20, 20), 10.0)[1]
    tip = min(outline.points[0], key=lambda p: p[1])
    assert tip[0] < 20
    assert (tip[0] - 20) / (tip[1] - 20) == pytest.approx(0.1763, abs=0.01)


def test_furniture_goes_to_the_corner_where_it_covers_least():
    """With three corners taken, the fourth is used, and all of it lies inside the frame."""
    frame, board = Frame(0, 310, 5.0, 84, 62), Board(PAPER)
    board.take(box(0, 0, 50, 30), box(50, 0, 84, 30), box(0, 32, 50, 62))
    shapes = scale_and_north(frame, board, "metric", 0.0, "depths in feet", PAPER)
    for shape in shapes:
        assert all(x > 45 and y > 40 and x < 84 and y < 62 for part in shape.points for x, y in part)
    assert not board.is_free(Point(70, 55).buffer(0.5))


LETTERS = st.text("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPRSTUVW 0123456789'.-éüñ", min_size=1, max_size=24)


@given(LETTERS, st.sampled_from(["Regular", "It", "Semibold"]))
def test_words_never_need_more_room_than_was_kept_for_them(words, face):
    """The face itself, read by FreeType through Pillow, is the reference; at most a third too much is kept."""
    font = ImageFont.truetype(FACES / f"SourceSansPro-{face}.otf", 1000)
    actual = font.getlength(words)
    kept = text_width_mm(words, 1000)
    assert actual <= kept + 1
    assert kept <= actual * 1.35 + 60


def test_the_style_sheet_and_the_placing_agree_where_words_stand():
    """A style anchored at its start or end in one place is so in the other."""
    sheet = json.loads(resource("templates", "map", "style.json").read_text(encoding="utf-8"))["texts"]
    assert {name for name, look in sheet.items() if look.get("anchor") == "start"} == START_STYLES
    assert {name for name, look in sheet.items() if look.get("anchor") == "end"} == END_STYLES


def test_turned_words_turn_clockwise():
    """At 90 degrees clockwise a word that is centred runs downward from above its point to below it."""
    paper = text_box("Bay", (10, 10), 3.0, turn_deg=90)
    assert paper.bounds[3] - paper.bounds[1] == pytest.approx(text_width_mm("Bay", 3.0))
    assert paper.centroid.x > 10  # what rises above the baseline now lies to the right of it


def test_a_board_keeps_words_apart():
    """Paper once taken is not free, nor is paper outside the frame or too near."""
    board = Board(PAPER)
    board.take(box(10, 10, 20, 20))
    assert not board.is_free(box(19, 19, 25, 25))
    assert not board.is_free(box(20.2, 10, 25, 20), apart_mm=0.5)
    assert board.is_free(box(20.6, 10, 25, 20), apart_mm=0.5)
    assert not board.is_free(box(80, 10, 84, 20))
    assert board.overlap_mm2(box(15, 15, 25, 25)) == pytest.approx(25)


def test_a_name_lies_inside_its_water_along_its_length():
    """A long arm at 30 degrees carries its name along it, all of it on the water."""
    arm = LineString([(10, 50), (70, 15.4)]).buffer(4)
    name = place_name("East arm", arm, Board(PAPER), LineString())
    assert arm.covers(name.paper)
    assert name.turn_deg == pytest.approx(-30, abs=2)


def test_a_name_crosses_no_line_if_it_need_not():
    """With a line through the middle of the water, the name stands beside it."""
    bay, contour = box(5, 5, 60, 40), LineString([(5, 22), (60, 22)])
    name = place_name("Heron Bay", bay, Board(PAPER), contour)
    assert not name.paper.intersects(contour)


def test_a_name_without_room_is_left_out_or_put_on_land():
    """Water 2 mm wide cannot hold a name; beside it, the name covers no water."""
    creek = box(40, 10, 42, 50)
    land, board = PAPER.difference(creek.buffer(0.4)), Board(PAPER)
    assert place_name("Mill Creek", creek, board, LineString()) is None
    name = name_beside("Mill Creek", creek, land, board)
    assert land.covers(name.paper)
    assert name.paper.distance(creek) < 3
    assert name_beside("Mill Creek", creek, creek, board) is None


def ladder(step_m: float, count: int, gap_m: float, *, unit_m: float = FOOT_M) -> tuple[Isobath, ...]:
    """Parallel depth lines `gap_m` apart, each `step_m` (in units) deeper."""
    return tuple(
        Isobath(k * step_m * unit_m, f"{k * step_m:g}", k % 5 == 0, (LineString([(0, k * gap_m), (420, k * gap_m)]),))
        for k in range(1, count + 1)
    )


def drawn_depths(isobaths, unit="feet"):
    return [level.label for level in levels_on(Frame(0, 310, 5.0, 84, 62), isobaths, unit)]


def test_lines_that_can_be_told_apart_all_stay():
    """2 mm apart: nothing is left out."""
    assert drawn_depths(ladder(2, 6, 10)) == ["2", "4", "6", "8", "10", "12"]


def test_crowded_lines_are_thinned_to_a_rounder_interval():
    """0.6 mm apart every 2 ft: every 10 ft is kept at 3 mm; 4 ft would be 1.2 mm, too close."""
    assert drawn_depths(ladder(2, 15, 3)) == ["10", "20", "30"]
    assert drawn_depths(ladder(2, 10, 4)) == ["4", "8", "12", "16", "20"]
    assert drawn_depths(ladder(0.5, 8, 3, unit_m=1.0), "metres") == ["2", "4"]


def test_thinned_lines_of_the_scene_are_far_enough_apart():
    """At 1 : 25 000 the sample lake keeps a round interval whose lines can be told apart."""
    levels = levels_on(Frame(-1000, 500, 25.0, 100, 44), scene_isobaths(), "feet")
    values = [level.value for level in levels]
    assert typical_gap_mm(levels) >= LEAST_APART_MM or len(values) < 2
    assert len({round(b - a, 6) for a, b in pairwise(values)}) <= 1


def test_depth_labels_lie_along_their_lines_upright_and_apart():
    """Each label's middle is on its own line, no label is upside down, none covers another or a taken place."""
    levels = levels_on(Frame(-1000, 500, 8.0, 170, 110), scene_isobaths(), "feet")
    board, camera = Board(box(0, 0, 170, 110)), Point(60, 50).buffer(4)
    board.take(camera)
    labels = label_levels(levels, board)
    by_label = {level.label: level.lines for level in levels}
    assert len(labels) > 5
    for label in labels:
        assert by_label[label.words].distance(label.paper.centroid) < 0.35
        assert -90 <= label.turn_deg <= 90
        assert not label.paper.intersects(camera)
    assert all(not a.paper.intersects(b.paper) for a, b in combinations(labels, 2))


def test_where_no_line_is_heavy_the_thin_ones_are_labelled():
    """A shallow lake with two lines still says how deep they are."""
    levels = levels_on(Frame(0, 310, 5.0, 84, 62), ladder(2, 2, 60), "feet")
    assert sorted(label.words for label in label_levels(levels, Board(PAPER))) == ["2", "4"]


def half_doubtful() -> tuple[Isobath, ...]:
    """Three lines 12 mm apart, 420 m long: the first sure, the second broken from half way, the third broken."""
    first, _, third = (bath.lines[0] for bath in ladder(5, 3, 60))
    west, east = LineString([(0, 120), (210, 120)]), LineString([(210, 120), (420, 120)])
    lines = (((first,), ()), ((west,), (east,)), ((), (third,)))
    return tuple(
        Isobath(k * 5 * FOOT_M, f"{k * 5}", True, sure, broken) for k, (sure, broken) in enumerate(lines, start=1)
    )


def test_doubtful_parts_are_drawn_broken_and_no_part_is_lost():
    """What is drawn whole and what is drawn broken add up to the three lines of 84 mm."""
    levels = levels_on(Frame(0, 310, 5.0, 84, 62), half_doubtful(), "feet")
    drawn = {style: lines.length for style, lines in level_lines(levels)}
    assert drawn == pytest.approx(
        {"isobath": 0, "isobath-doubtful": 0, "isobath-major": 84 + 42, "isobath-major-doubtful": 42 + 84}
    )


def test_depths_stand_on_sure_parts_where_there_are_any():
    """The second line is named in its sure half; the third, broken all along, is named all the same."""
    levels = levels_on(Frame(0, 310, 5.0, 84, 62), half_doubtful(), "feet")
    labels = {label.words: label for label in label_levels(levels, Board(PAPER))}
    assert set(labels) == {"5", "10", "15"}
    assert labels["10"].paper.bounds[2] <= 42


def test_a_speck_is_not_drawn():
    """A closed line of less than 2 mm round is left out, an open one of the same length is not."""
    speck = LineString(box(200, 150, 202, 152).exterior.coords)
    stub = LineString([(0, 100), (8, 100)])
    assert drawn_depths((Isobath(3.0, "10", True, (speck,)),)) == []
    assert drawn_depths((Isobath(3.0, "10", True, (stub,)),)) == ["10"]


def test_a_legend_wraps_and_tells_its_height():
    """Two entries that do not fit beside each other make two rows, inside the height that was asked for."""
    entries = [Entry("sonar pass", lines=("pass-line",)), Entry("not surveyed, with the reason", hatch=True)]
    assert legend_height_mm(entries, 170) < legend_height_mm(entries, 60)
    height = legend_height_mm(entries, 60)
    shapes = legend(entries, (0, 100), 60)
    assert max(y for s in shapes for part in s.points for _, y in part) <= 100 + height
    assert [s.text for s in shapes if s.kind == "text"] == [e.words for e in entries]
    assert legend_height_mm([], 60) == 0


def test_no_lines_make_no_labels():
    """A map without depth lines is no special case."""
    assert label_levels((), Board(PAPER)) == ()
    assert typical_gap_mm(()) == float("inf")
