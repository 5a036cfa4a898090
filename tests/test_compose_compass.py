"""A set's compass: thumbnails stand where the camera looked, apart, numbered as the figures; gaps stay open."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta
from itertools import combinations

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from sample_atlas import make_sample_atlas
from shapely import LineString, Point, Polygon, box

from atlasgen.compose.compass import WIDTH_MM, compass, gaps_words
from atlasgen.compose.lettering import text_box
from atlasgen.model import Compass, Measured, PointM, TurnAround
from atlasgen.place.turnarounds import find_turnarounds
from atlasgen.units import compass_words

BASE = make_sample_atlas().placed.photos[0]
EIGHTHS = tuple(range(0, 360, 45))


def turn_of(headings, width: float = 60.0) -> TurnAround:
    photos = [
        replace(
            BASE,
            id=f"p-{number:02d}",
            point=PointM(0.0, 0.0),
            taken=BASE.taken + timedelta(seconds=5 * number),
            heading_deg_true=Measured(float(heading), "EXIF, true", 2.0),
            hfov_deg=Measured(width, "35 mm equivalent"),
        )
        for number, heading in enumerate(headings)
    ]
    (found,) = find_turnarounds(photos)
    return found


def drawn(turn: TurnAround, aspect: float = 4 / 3) -> Compass:
    words = [compass_words(heading) for heading in turn.headings_deg_true]
    return compass("compass-001", turn, [aspect] * len(words), words, "Eight photographs.")


def papers(made: Compass) -> list[Polygon]:
    return [box(t.x_mm, t.y_mm, t.x_mm + t.width_mm, t.y_mm + t.height_mm) for t in made.thumbnails]


def bearings(made: Compass) -> list[float]:
    """Bearing of each thumbnail's middle from the middle of the drawing, the paper stretched to a square.

    Thumbnails are wider than high; stretched, a place in a corner is at 45 degrees.
    """
    half_w = max(abs(p.centroid.x - WIDTH_MM / 2) for p in papers(made))
    half_h = max(abs(p.centroid.y - made.drawing.height_mm / 2) for p in papers(made))
    offsets = [
        ((p.centroid.x - WIDTH_MM / 2) / half_w, (made.drawing.height_mm / 2 - p.centroid.y) / half_h)
        for p in papers(made)
    ]
    return [math.degrees(math.atan2(x, y)) % 360 for x, y in offsets]


def shapes_of(made: Compass, kind: str, style: str):
    return [shape for shape in made.drawing.shapes if (shape.kind, shape.style) == (kind, style)]


def test_eight_directions_stand_at_their_eight_places():
    """North above, east to the right, and so on round; each photo has the words given for it."""
    made = drawn(turn_of(EIGHTHS))
    assert bearings(made) == pytest.approx(EIGHTHS, abs=0.1)
    assert [t.words for t in made.thumbnails] == [compass_words(heading) for heading in EIGHTHS]
    assert (made.set, made.drawing.id, made.drawing.width_mm) == ("T-01", "compass-001", WIDTH_MM)


def test_numbers_are_those_of_the_figures():
    """Thumbnails count from 1 in the order of the set, as the page's figures do; plates say the same."""
    turn = turn_of((90, 135, 180, 225, 270, 315, 0, 45))
    made = drawn(turn)
    assert [(t.number, t.photo) for t in made.thumbnails] == list(enumerate(turn.photos, 1))
    plates = shapes_of(made, "text", "chip")
    assert [plate.text for plate in plates] == [str(number) for number in range(1, 9)]
    at = [Point(plate.points[0][0]) for plate in plates]
    assert [paper.contains(spot) for paper, spot in zip(papers(made), at, strict=True)] == [True] * 8
    assert [dot.text for dot in shapes_of(made, "text", "camera-number")] == [plate.text for plate in plates]
    assert [round(w.turn_deg) for w in shapes_of(made, "wedge", "camera")] == list(turn.headings_deg_true)


HEADINGS = st.lists(st.integers(0, 359), min_size=4, max_size=24, unique=True).map(
    lambda headings: [0, 90, 180, 270, *(h for h in headings if h % 90)]
)


@given(HEADINGS, st.sampled_from([0.6, 1.0, 4 / 3, 1.5, 16 / 9, 3.0]))
def test_thumbnails_neither_overlap_nor_leave_the_drawing(headings, aspect):
    """Whatever the number and the shape: apart from each other, clear of the rose, of the shape they were given."""
    made = drawn(turn_of(headings), aspect)
    found = papers(made)
    assert [(a, b) for (a, p), (b, q) in combinations(enumerate(found, 1), 2) if p.intersects(q)] == []
    assert box(-0.01, -0.01, WIDTH_MM + 0.01, made.drawing.height_mm + 0.01).contains(shapely.unary_union(found))
    assert [t.width_mm / t.height_mm for t in made.thumbnails] == [pytest.approx(aspect, rel=0.01)] * len(found)
    (ring,) = shapes_of(made, "area", "strip-photos")
    rose = shapely.union_all([Polygon(part) for part in ring.points])
    assert min(paper.distance(rose) for paper in found) > 0


@given(HEADINGS)
def test_thumbnails_go_round_in_the_order_of_their_headings(headings):
    """Clockwise from the first: a photo never stands beyond one that looks farther round."""
    made = drawn(turn_of(headings))
    turns = [(bearing - bearings(made)[0]) % 360 for bearing in bearings(made)]
    assert turns == sorted(turns)


def test_leaders_join_each_thumbnail_to_its_heading_on_the_rim():
    """A photo that does not look at the middle of its place is tied to where it looks."""
    turn = turn_of((10, 70, 130, 190, 250, 310))
    made = drawn(turn)
    leaders = [LineString(part) for shape in shapes_of(made, "line", "leader") for part in shape.points]
    assert len(leaders) == 6
    for leader, paper, heading in zip(leaders, papers(made), turn.headings_deg_true, strict=True):
        (x, y), end = leader.coords[0], Point(leader.coords[-1])
        assert paper.distance(end) < 0.02
        assert _bearing(made, x, y) == pytest.approx(heading, abs=0.2)


def _bearing(made: Compass, x: float, y: float) -> float:
    return math.degrees(math.atan2(x - WIDTH_MM / 2, made.drawing.height_mm / 2 - y)) % 360


def test_a_gap_is_open_on_the_rim_and_in_the_ring_of_thumbnails():
    """From 165 round to 330 nothing was photographed: the band stops, a dashed rim goes on, words stand there."""
    made = drawn(turn_of((0, 45, 90, 135)))
    rose = shapely.union_all([Polygon(part) for s in shapes_of(made, "area", "strip-photos") for part in s.points])
    (rim,) = [LineString(part) for shape in shapes_of(made, "line", "known-edge") for part in shape.points]
    assert [_bearing(made, *rim.coords[i]) for i in (0, -1)] == [pytest.approx(turn, abs=0.2) for turn in (165, 330)]
    assert rim.intersection(rose).length == pytest.approx(0, abs=0.05)
    said = [s.points[0][0] for s in shapes_of(made, "text", "unknown")]
    # Of the eight places, those at 180, 225, 270 and 315 are free, and all lie in the gap.
    assert len(said) == 4
    assert all(165 <= _bearing(made, x, y) <= 330 for x, y in said)
    covered = box(0, 0, WIDTH_MM, made.drawing.height_mm)
    written = [text_box("not photographed", at, 4.0) for at in said]
    assert all(covered.contains(paper) and not paper.intersects(shapely.union_all(papers(made))) for paper in written)


def test_a_whole_circle_has_no_gap():
    """The band is closed, nothing is dashed, nothing is said to be missing."""
    made = drawn(turn_of(EIGHTHS))
    assert shapes_of(made, "line", "known-edge") + shapes_of(made, "text", "unknown") == []
    assert made.drawing.alt.endswith("Together they show the whole circle.")


def test_the_alt_text_says_what_each_photo_looks_at_and_what_is_missing():
    """Who cannot see the picture gets the directions in its order, and the gap clockwise with its width."""
    assert drawn(turn_of((0, 45, 90, 135))).drawing.alt == (
        "Compass, north up, with 4 photographs round it, each where the camera looked: 1 north; 2 north-east; "
        "3 east; 4 south-east. Not photographed, clockwise: from south-south-east round to north-north-west (165°)."
    )


def test_two_gaps_are_both_said():
    """Four photos of 60 degrees at right angles leave four gaps of 30."""
    words = gaps_words(turn_of((0, 90, 180, 270)))
    assert words.count("(30°)") == 4
    assert words.startswith("Not photographed, clockwise: from north-north-east round to east-north-east (30°) and ")


def test_close_numbers_are_left_off_the_rose():
    """Dots that would cover each other are none; the plates on the thumbnails remain."""
    made = drawn(turn_of((0, 4, 90, 180, 270)))
    assert shapes_of(made, "text", "camera-number") == []
    assert len(shapes_of(made, "text", "chip")) == 5
