"""The plan's maps: what stands where, and what they say to those who cannot see them."""

from __future__ import annotations

import pytest
from sample_plan import LAUNCH, hand_plan, hand_rings, hand_run
from sample_scene import scene_places, scene_water, to_lonlat

from atlasgen.compose.plan_maps import PlanGround, leg_words, plan_drawings, row_mm, span_line
from atlasgen.model import PointM
from atlasgen.model.fieldplan import ShoreSpan
from atlasgen.write.svg import to_svg

GROUND = PlanGround(scene_water(), hand_rings(), to_lonlat, "metric", scene_places())


@pytest.fixture(scope="module")
def drawings():
    return plan_drawings(hand_plan(), GROUND)


def words_of(drawing):
    return [shape.text for shape in drawing.shapes if shape.kind == "text"]


def test_there_is_a_map_for_the_lake_and_one_for_each_run(drawings):
    """In the order of the runs, as wide as the sheet's type."""
    assert [drawings.overview.id, *(d.id for d in drawings.runs)] == ["plan", "run-01", "run-02"]
    assert {d.width_mm for d in (drawings.overview, *drawings.runs)} == {178.0}


def test_a_run_map_numbers_its_stations_and_names_the_launch(drawings):
    """Numbers as in the table; the launch point by its name."""
    words = words_of(drawings.runs[0])
    assert [word for word in words if word in ("1", "2", "3", "4")] == ["1", "2", "3"]
    assert "the slipway" in words


def test_stations_look_where_the_plan_says(drawings):
    """A pointer for each, 68° clockwise from true north; the paper's north differs by the convergence only."""
    turns = [shape.turn_deg for shape in drawings.runs[0].shapes if shape.kind == "wedge"]
    assert len(turns) == 3
    assert turns == pytest.approx([68.0] * 3, abs=0.2)


def test_the_overview_shows_runs_and_what_is_left(drawings):
    """Run numbers on plates, the missing shore that is left as a bank without a photograph."""
    words = words_of(drawings.overview)
    assert {"1", "2", "missing shore that is left"} <= set(words)
    assert "state-bed" in {shape.style for shape in drawings.overview.shapes}


def test_alt_texts_tell_the_run_leg_by_leg(drawings):
    """Each station by distance and direction from the one before."""
    assert drawings.runs[0].alt == (
        "Map of run 1 from the slipway, north up. Station 1 is 30 m west on, looking east. "
        "Station 2 is 25 m west on, looking east. Station 3 is 25 m west on, looking east."
    )
    assert "Run 2: 1 station" in drawings.overview.alt
    assert "120 m of missing shore is left." in drawings.overview.alt


def test_a_span_is_cut_from_its_ring_by_chainage():
    """120 m long, on the ring it names."""
    line = span_line(ShoreSpan("S", 400, 520), hand_rings())
    assert line.length == pytest.approx(120)
    assert hand_rings()[0].line.distance(line) < 1e-6


def test_legs_in_words():
    """Three to the east and four to the north are five to the north-east."""
    assert leg_words(PointM(0, 0), PointM(300, 400), "metric") == "500 m north-east"


def test_many_stations_leave_less_room_for_the_map():
    """24 rows and a map fit where three rows and a taller one do."""
    long = plan_drawings(hand_plan(runs=(hand_run(1, 24, north_m=40.0),)), GROUND)
    short = plan_drawings(hand_plan(runs=(hand_run(1, 3, north_m=320.0),)), GROUND)
    assert long.runs[0].height_mm < short.runs[0].height_mm
    assert row_mm(3) > row_mm(24) == pytest.approx(4.9)


def test_a_plan_without_runs_is_drawn():
    """Only the lake and what is left."""
    drawings = plan_drawings(hand_plan(runs=(), beyond=()), GROUND)
    assert drawings.runs == ()
    assert "0 runs" in drawings.overview.alt


def test_drawings_are_the_same_twice(drawings):
    """And every style they use is in the style sheet."""
    assert drawings == plan_drawings(hand_plan(), GROUND)
    assert all(to_svg(drawing) for drawing in (drawings.overview, *drawings.runs))


def test_launch_lies_where_it_is(drawings):
    """The dark dot of the run's map stands at the launch point's place between the map's corners."""
    drawing = drawings.runs[0]
    (dot,) = [shape for shape in drawing.shapes if shape.kind == "dot" and shape.style == "bed"]
    west, east = drawing.corners[3].lon_deg, drawing.corners[2].lon_deg
    share = (to_lonlat(LAUNCH).lon_deg - west) / (east - west)
    assert dot.points[0][0][0] == pytest.approx(share * drawing.width_mm, abs=0.05)
