"""The depth profile: true to its numbers, honest about gaps, round at its ticks."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString

from atlasgen.compose.charts import depth_profile, reach_profile
from atlasgen.compose.lettering import text_box
from atlasgen.model import Drawing, PointM
from atlasgen.model.relief import Break, ProfilePoint, ReachProfile

PROFILE = ((0, 0.0), (10, 1.2), (20, 2.4), (30, None), (40, 4.8), (50, 5.4))
LEFT, RIGHT, TOP, BOTTOM = 10.0, 80.0, 5.0, 34.5  # the plot on a drawing of 84 by 40 mm


def profile(points=PROFILE, stage_m=None, depth="metres", distance="metric", **more) -> Drawing:
    return depth_profile("profile", points, stage_m, depth, distance, **more)


def lines(drawing, style):
    return [part for s in drawing.shapes if s.kind == "line" and s.style == style for part in s.points]


def words(drawing, style=""):
    return [s.text for s in drawing.shapes if s.kind == "text" and style in ("", s.style)]


def test_the_bed_stands_at_its_depths():
    """0 m at the top, 6 m at the bottom of the plot, 0 to 50 m across: hand-made millimetres."""
    first, second = lines(profile(), "bed")
    assert first == ((10.0, 5.0), (24.0, 10.9), (38.0, 16.8))
    assert second == ((66.0, 28.6), (80.0, 31.55))


def test_a_gap_is_left_open_and_said():
    """Nothing is drawn from 20 m to 40 m; the words stand there."""
    drawing = profile()
    for style in ("bed-water", "bed-ground"):
        for shape in (s for s in drawing.shapes if s.style == style):
            xs = [x for part in shape.points for x, _ in part]
            assert max(xs) <= 38.0 or min(xs) >= 66.0
    (note,) = [s for s in drawing.shapes if s.text == "not known"]
    assert 38.0 < note.points[0][0][0] < 66.0
    assert "Not known from 20 m to 40 m." in drawing.alt


def test_no_depth_no_drawing():
    """All unknown, no points, or no distance at all."""
    assert profile(((5, None), (10, None))) is None
    assert profile(()) is None
    assert profile(((0, 1.0),)) is None


@pytest.mark.parametrize(
    ("depth", "distance", "depths", "distances"),
    [
        ("metres", "metric", ["0", "2", "4", "6 m"], ["bank", "10", "20", "30", "40", "50 m"]),
        ("feet", "metric", ["0", "5", "10", "15", "20 ft"], ["bank", "10", "20", "30", "40", "50 m"]),
        ("feet", "imperial", ["0", "5", "10", "15", "20 ft"], ["bank", "50", "100", "150 ft"]),
    ],
)
def test_ticks_are_round_in_the_readers_unit(depth, distance, depths, distances):
    """5.4 m is 17.7 ft and 50 m is 164 ft: the axis ends at 20 ft; the last tick names the unit."""
    drawing = profile(depth=depth, distance=distance)
    assert words(drawing, "tick-y") == depths
    assert words(drawing, "tick") == distances


def test_the_days_water_level_stands_below_the_datum():
    """0.43 m below full: a dashed line below the datum, the tint ends there, and the words say so."""
    drawing = profile(stage_m=-0.43, depth="feet", datum="full supply level")
    (stage,), (datum,) = lines(drawing, "stage"), lines(drawing, "datum")
    assert stage[0][1] > datum[0][1]
    water = min(y for s in drawing.shapes if s.style == "bed-water" for part in s.points for _, y in part)
    assert water == stage[0][1]
    assert set(words(drawing, "level-name")) == {"full supply level", "water that day, 1.4 ft below full"}
    assert drawing.alt.endswith("The water that day was 1.4 ft below full.")


def test_an_unknown_level_is_not_drawn():
    """No stage, no stage line, no word of it."""
    drawing = profile(stage_m=None)
    assert lines(drawing, "stage") == []
    assert "that day" not in drawing.alt


def test_a_lone_depth_is_a_dot():
    """Between two unknown neighbours nothing can be joined."""
    drawing = profile(((5, None), (10, 2.0), (20, None)))
    assert lines(drawing, "bed") == []
    assert [s.kind for s in drawing.shapes if s.style == "bed"] == ["dot"]


def test_a_bank_that_dries_is_told_as_dry():
    """A metre above the level is no negative depth."""
    drawing = profile(((0, -1.0), (10, 1.0)), depth="feet")
    assert drawing.alt.startswith("Depth off the bank: dry at the bank, 3 ft at 10 m.")
    assert "−2" in words(drawing, "tick-y")


def test_depths_in_words_round_toward_the_shallower():
    """2.4 m is 7.87 ft and is said as 7 ft."""
    assert "7 ft at 20 m" in profile(depth="feet").alt


def test_points_out_of_order_are_the_same_drawing():
    """Distance, not the order of the rows, makes the profile."""
    assert profile(PROFILE[::-1]) == profile()


BREAK = Break(15.0, 2.6, 0.28, 10.0, 20.0, 1.2, 4.0, "steep")
WITH_BREAK = ((0, 0.0), (10, 1.2), (20, 4.0), (30, 4.2), (40, 4.4), (50, 4.5))


def test_the_bound_is_shaded_about_the_bed():
    """Half a metre to both sides from 10 m on, closing at the bank, which is at zero by definition."""
    drawing = profile(WITH_BREAK, bounds={10: 0.5, 20: 0.5, 30: 0.5, 40: 0.5, 50: 0.5})
    (shade,) = [s for s in drawing.shapes if s.style == "bed-bound"]
    upper, lower = lines(drawing, "bound-edge")
    bed = lines(drawing, "bed")[0]
    assert upper[0] == lower[0] == bed[0]
    half = bed[1][1] - upper[1][1]
    assert lower[1][1] - bed[1][1] == pytest.approx(half, abs=0.02)
    assert half == pytest.approx(0.5 / 6 * (BOTTOM - TOP), abs=0.02)
    assert set(shade.points[0]) <= {*upper, *lower}
    assert "95 % bound" in words(drawing, "bound-name")
    assert "95 in 100 such depths are within 0.5 m of the truth." in drawing.alt


def test_no_bound_no_shading():
    """A profile without bounds says nothing of them."""
    assert "bed-bound" not in {shape.style for shape in profile().shapes}
    assert "of the truth" not in profile().alt


def test_the_worst_bound_is_said():
    """2.0 m at 50 m out, the others 0.3 m."""
    alt = profile(WITH_BREAK, bounds={10: 0.3, 20: 0.3, 30: 0.3, 40: 0.3, 50: 2.0}, depth="feet").alt
    assert "95 in 100 such depths are within 1.0 ft of the truth; the worst here, at 50 m, within 6.6 ft." in alt


def test_the_break_is_marked_at_its_depth_and_distance():
    """Ring at 15 m out and 2.6 m deep; 8 ft because depths round toward the shallower."""
    drawing = profile(WITH_BREAK, steepest=BREAK, depth="feet")
    (ring,) = [s for s in drawing.shapes if s.style == "break"]
    assert ring.points[0][0][0] == pytest.approx(LEFT + (RIGHT - LEFT) * 15 / 50, abs=0.01)
    assert words(drawing, "break-name") == ["break: 8 ft at 15 m"]
    assert "Steepest break: from 3 ft down to 13 ft between 10 m and 20 m from the bank, steep, 1 in 4." in drawing.alt


def reach(**more) -> ReachProfile:
    points = tuple(ProfilePoint(out, depth, 0.2 if depth else None) for out, depth in WITH_BREAK)
    given = {"reach": "S-0001", "rays": 5, "start": PointM(0, 0), "bearing_deg": 0.0, "points": points, "stations": ()}
    given |= {"reached": (), "steepest": None, "slope": None, "slope_over_m": 20.0, "slope_word": None}
    return ReachProfile(**(given | {"sounded_from_m": 10.0, "far_bank_m": None} | more))


def test_the_profile_of_a_reach_is_drawn_with_what_it_knows():
    """Its bound, its break or the words that there is none, and the name of the level."""
    drawing = reach_profile("p", reach(), -0.5, "metres", "metric", stage_name="water on 14 April 2026")
    assert "No marked break." in drawing.alt
    assert drawing.alt.endswith("The water on 14 April 2026 was 0.50 m below full.")
    assert "water on 14 April 2026, 0.50 m below full" in words(drawing, "level-name")
    assert lines(drawing, "bound-edge")
    marked = reach_profile("p", reach(steepest=BREAK), None, "metres", "metric")
    assert words(marked, "break-name") == ["break: 2.6 m at 15 m"]
    banks = (ProfilePoint(0.0, 0.0), ProfilePoint(10.0, None), ProfilePoint(20.0, 0.0))
    assert reach_profile("p", reach(points=banks), None, "metres", "metric") is None


depths = st.one_of(st.none(), st.floats(-2, 60))


@given(
    st.lists(depths, min_size=2, max_size=25),
    st.one_of(st.none(), st.floats(-8, 2)),
    st.sampled_from(["feet", "metres"]),
    st.sampled_from(["metric", "imperial"]),
    st.one_of(st.none(), st.floats(0.05, 9)),
    st.booleans(),
)
def test_any_profile_stays_in_its_frame_without_collisions(values, stage_m, depth, distance, bound_m, broken):
    """Every point on the paper, every number finite, no word over another, the bed or a level line."""
    points = tuple((5.0 * i, value) for i, value in enumerate(values))
    known = [point for point in points if point[1] is not None]
    bounds = {out: bound_m for out, _ in known} if bound_m else None
    steepest = None
    if broken and len(known) > 1:
        (near, top_m), (far, foot_m) = known[0], known[-1]
        middle = ((near + far) / 2, (top_m + foot_m) / 2)
        steepest = Break(*middle, 0.1, near, far, top_m, foot_m, "moderate")
    drawing = profile(points, stage_m, depth, distance, datum="full supply level", bounds=bounds, steepest=steepest)
    if drawing is None:
        assert all(value is None for value in values)
        return
    for shape in drawing.shapes:
        for x, y in (point for part in shape.points for point in part):
            assert math.isfinite(x)
            assert -0.01 <= x <= 84.01
            assert -0.01 <= y <= 40.01
    texts = [s for s in drawing.shapes if s.kind == "text"]
    papers = [text_box(s.text, s.points[0][0], s.size_mm, s.style, s.turn_deg).buffer(-0.1) for s in texts]
    assert not any(a.intersects(b) for a, b in combinations(papers, 2))
    drawn = [LineString(part) for style in ("bed", "datum", "stage") for part in lines(drawing, style)]
    inside = [
        p for s, p in zip(texts, papers, strict=True) if s.style in ("level-name", "note", "break-name", "bound-name")
    ]
    assert not any(line.intersects(paper) for line in drawn for paper in inside)
