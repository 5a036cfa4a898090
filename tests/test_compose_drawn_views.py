"""How far a map draws a view: whole where the frame ends, else to the last bank it shows."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, box

from atlasgen.compose.drawn_views import OPEN_WATER_M, drawn_view, farthest_seen_m
from atlasgen.compose.shore_lines import ShoreLines
from atlasgen.model import PointM, Ring
from atlasgen.model.views import Stretch, View

# A square of 1000 m, walked from its south-west corner: east bank is 1000 to 2000 m along.
SQUARE = LineString([(-500, -500), (500, -500), (500, 500), (-500, 500), (-500, -500)])
LINES = ShoreLines([Ring("S", SQUARE, False)])
HERE = PointM(0.0, 0.0)
# A frame that looks east, 90 degrees wide, from the near edge at 40 m to a range of 3000 m.
FAN = Polygon([(40, -40), (3000, -3000), (3000, 3000), (40, 40)])


def stretch(from_m: float, to_m: float) -> Stretch:
    return Stretch("S", from_m, to_m, 500.0, 60.0, 8.0, 9.0, 1.0)


def view(footprint, *stretches: Stretch, horizon: bool = True) -> View:
    return View("p-1", footprint, horizon, 3000.0, None, stretches, ())


def test_a_line_is_cut_with_its_bends():
    """From 900 to 1100 m along runs round the south-east corner."""
    assert list(LINES.line("S", 900, 1100).coords) == [(400, -500), (500, -500), (500, -400)]
    assert LINES.points("S", [0, 1500, 3999]).tolist() == [[-500, -500], [500, 0], [-500, -499]]


@given(st.floats(0, 3990), st.floats(0.01, 4000))
def test_a_cut_line_is_as_long_as_its_chainages_say(from_m, length_m):
    """Whatever the stretch, as long as it ends on the ring."""
    to_m = min(from_m + length_m, 4000)
    assert math.isclose(LINES.line("S", from_m, to_m).length, to_m - from_m, abs_tol=1e-6)


def test_the_farthest_place_counts_not_the_nearest():
    """A bank from straight ahead (500 m) to the corner (707.1 m, the diagonal of 500 by 500)."""
    assert farthest_seen_m([stretch(1500, 2000)], HERE, LINES) == pytest.approx(500 * math.sqrt(2))
    assert farthest_seen_m([stretch(1480, 1520)], HERE, LINES) == pytest.approx(math.hypot(500, 20))


def test_a_view_with_the_horizon_ends_just_behind_what_it_shows():
    """Not 3 km of triangle: 4 % and 4 m behind the corner at 707 m, and nothing that it shows is cut off."""
    shown = stretch(1000, 2000)
    drawn = drawn_view(view(FAN, shown), HERE, LINES)
    far_m = max(math.hypot(x, y) for x, y in drawn.exterior.coords)
    assert far_m == pytest.approx(500 * math.sqrt(2) * 1.04 + 4, rel=0.002)
    assert drawn.buffer(0.01).covers(LINES.line("S", 1000, 2000))
    assert FAN.buffer(0.01).covers(drawn)


def test_a_view_of_open_water_makes_no_claim():
    """No bank in it: drawn for 200 m."""
    drawn = drawn_view(view(FAN), HERE, LINES)
    assert max(Point(xy).distance(Point(HERE)) for xy in drawn.exterior.coords) == pytest.approx(OPEN_WATER_M)


def test_a_frame_that_ends_by_itself_is_drawn_whole():
    """Looking down, the frame is the claim."""
    frame = box(-60, -40, 60, 40)
    assert drawn_view(view(frame, stretch(1400, 1410), horizon=False), HERE, LINES) == frame


def test_a_frame_over_the_water_has_no_outline():
    """Nothing of the water is in the frame: nothing is drawn; nor where all that is lies beyond what it shows."""
    assert drawn_view(view(Polygon(), stretch(1400, 1500)), HERE, LINES).is_empty
    beyond = Polygon([(900, -100), (3000, -300), (3000, 300), (900, 100)])
    assert drawn_view(view(beyond, stretch(1480, 1520)), HERE, LINES).is_empty
