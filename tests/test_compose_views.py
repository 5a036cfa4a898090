"""What photos show, on a map: a footprint is the view's, cut at the frame; shore is drawn where it is seen."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from sample_atlas import make_sample_atlas
from shapely import LineString, Point, Polygon, box
from shapely.affinity import translate
from shapely.ops import substring

from atlasgen.compose.drawing import Frame
from atlasgen.compose.lettering import Board
from atlasgen.compose.views import (
    NUMBER_MM,
    OFF_SHORE_MM,
    SeenRun,
    footprint_shapes,
    frame_on_water,
    seen_runs,
    seen_shapes,
    viewed,
)
from atlasgen.model import PointM, Ring, Stretch, View

BASE = make_sample_atlas().placed.photos[0]
# A map of 400 m by 300 m at 5 m a millimetre. Water south of y = 200, so that the shore is a straight line.
FRAME = Frame(0.0, 300.0, 5.0, 80.0, 60.0)
WATER = box(-2000, -2000, 2000, 200)
WATER_MM = FRAME.to_mm(WATER)
SHORE = Ring("S", LineString([(-500, 200), (900, 200)]), False)  # its chainage is x + 500


def photo(number: int = 1, *, at=(200, 60), kind: str = "aerial"):
    return replace(BASE, id=f"p-{number}", point=PointM(*map(float, at)), kind=kind)


def stretch(from_m: float, to_m: float, ring: str = "S") -> Stretch:
    return Stretch(ring, float(from_m), float(to_m), 100.0, 80.0, 4.0, 4.0, 1.0)


def view(number: int, footprint=None, *stretches: Stretch) -> View:
    return View(f"p-{number}", footprint or Polygon(), False, 3000.0, 4.0, stretches, ())


def items(*views: View, **changes):
    photos = [(n, photo(n, **changes)) for n in range(1, len(views) + 1)]
    return viewed(photos, {one.photo: one for one in views})


def board() -> Board:
    return Board(FRAME.paper)


def parts(shapes, style: str) -> list:
    return [part for shape in shapes if shape.style == style for part in shape.points]


def lines(shapes, style: str) -> shapely.MultiLineString:
    return shapely.MultiLineString(parts(shapes, style))


def test_photos_without_a_view_are_not_drawn():
    """Their numbers do not move up: a page's third photo stays the third."""
    photos = [(n, photo(n)) for n in (1, 2, 3)]
    assert [(item.number, item.photo.id) for item in viewed(photos, {"p-3": view(3), "p-1": view(1)})] == [
        (1, "p-1"),
        (3, "p-3"),
    ]


def test_a_footprint_on_paper_is_the_views_own():
    """100 m by 60 m of water at 5 m a millimetre are 20 mm by 12 mm, from (150, 100) on the ground: 30 mm, 40 mm."""
    (item,) = items(view(1, box(150, 40, 250, 100)))
    assert frame_on_water(item, FRAME, WATER_MM).equals(box(30, 40, 50, 52))
    (tint,) = parts(footprint_shapes([item], FRAME, WATER_MM, board()), "view")
    assert Polygon(tint).equals(box(30, 40, 50, 52))


@given(
    st.lists(st.tuples(st.integers(-400, 800), st.integers(-300, 600)), min_size=3, max_size=6, unique=True),
)
def test_a_footprint_on_paper_is_cut_at_the_frame_and_at_the_bank(corners):
    """Any footprint: on the ground, what is drawn is footprint, map and water together, and no more."""
    footprint = shapely.MultiPoint(corners).convex_hull
    if footprint.geom_type != "Polygon":
        footprint = box(100, 100, 150, 150)
    (item,) = items(view(1, footprint))
    wanted = footprint.intersection(box(*FRAME.bounds_m)).intersection(WATER).area
    assert frame_on_water(item, FRAME, WATER_MM).area * 5**2 == pytest.approx(wanted, abs=0.01)


def test_a_low_camera_sees_no_water_behind_land():
    """A spit 50 m before the camera hides the water behind it; from the air it does not."""
    spit = box(100, 110, 300, 120)
    water = FRAME.to_mm(WATER.difference(spit))
    footprint = box(190, 60, 210, 190)  # 20 m wide, from the camera north past the spit
    (high,) = items(view(1, footprint))
    (low,) = items(view(1, footprint), kind="shore")
    assert frame_on_water(high, FRAME, water).area * 25 == pytest.approx(20 * 120, rel=1e-6)
    assert frame_on_water(low, FRAME, water).area * 25 == pytest.approx(20 * 50, rel=1e-3)
    assert FRAME.to_mm(box(190, 60, 210, 110)).buffer(0.01).covers(frame_on_water(low, FRAME, water))


def test_land_beside_a_low_camera_hides_nothing():
    """Within 15 m a station is not better known than the bank it stands on."""
    (low,) = items(view(1, box(190, 70, 210, 150)), at=(200, 60), kind="shore")
    near = FRAME.to_mm(WATER.difference(box(100, 55, 300, 70)))
    assert frame_on_water(low, FRAME, near).area * 25 == pytest.approx(20 * 80, rel=1e-3)


def test_edges_are_drawn_where_the_frame_ends_not_where_the_bank_or_the_map_does():
    """A footprint over bank and map edge: only its own two sides on the water are lines."""
    (item,) = items(view(1, box(300, 100, 500, 260)))  # cut at x = 400 by the map, at y = 200 by the bank
    edge = lines(footprint_shapes([item], FRAME, WATER_MM, board()), "view-edge")
    # The west side is 100 m and the south side 100 m: 20 mm each, less the 0.05 mm beside bank and map edge.
    assert edge.length == pytest.approx(40, abs=0.25)
    assert edge.distance(LineString([(80, 0), (80, 60)])) == pytest.approx(0.05, abs=0.01)


def test_a_frame_away_from_its_station_is_joined_to_it():
    """Two lines to the near corners, as the sides of the picture; none where there are too many to tell apart."""
    footprint = Polygon([(190, 100), (175, 160), (225, 160), (210, 100)])
    sides = lines(footprint_shapes(items(view(1, footprint)), FRAME, WATER_MM, board()), "view-side")
    station = FRAME.point_mm(PointM(200.0, 60.0))
    assert sorted(part.coords[0] for part in sides.geoms) == [pytest.approx(station)] * 2
    assert sorted(part.coords[-1] for part in sides.geoms) == [pytest.approx((38, 40)), pytest.approx((42, 40))]
    many = items(*(view(n, footprint) for n in range(1, 6)))
    assert parts(footprint_shapes(many, FRAME, WATER_MM, board()), "view-side") == []


def test_a_footprint_off_the_map_draws_nothing():
    """Nor does an empty one, of a camera that looks over the water."""
    shapes = footprint_shapes(items(view(1, box(900, 0, 950, 50)), view(2)), FRAME, WATER_MM, board())
    assert [s for s in shapes if s.style in ("view", "view-edge")] == []


def test_runs_are_cut_where_another_photo_begins_or_ends():
    """Photo 1 shows 100 to 300, photo 2 shows 200 to 400, of another ring 0 to 50: four runs."""
    found = seen_runs(items(view(1, None, stretch(100, 300)), view(2, None, stretch(200, 400), stretch(0, 50, "A"))))
    assert found == (
        SeenRun("A", 0.0, 50.0, (2,)),
        SeenRun("S", 100.0, 200.0, (1,)),
        SeenRun("S", 200.0, 300.0, (1, 2)),
        SeenRun("S", 300.0, 400.0, (2,)),
    )


SPANS = st.lists(
    st.tuples(st.integers(1, 4), st.integers(0, 300), st.integers(1, 120)).map(lambda s: (s[0], s[1], s[1] + s[2])),
    max_size=10,
)


@given(SPANS)
def test_runs_say_of_every_metre_who_shows_it(spans):
    """Counted a second way, metre by metre; neighbouring runs differ, none overlap."""
    shown = items(*(view(n, None, *(stretch(a, b) for m, a, b in spans if m == n)) for n in range(1, 5)))
    runs = seen_runs(shown)
    for metre in range(0, 421):
        middle = metre + 0.5
        wanted = tuple(sorted({n for n, a, b in spans if a < middle < b}))
        assert [run.numbers for run in runs if run.from_m < middle < run.to_m] == ([wanted] if wanted else [])
    touching = [(a, b) for a, b in pairwise(runs) if a.to_m == b.from_m]
    assert all(a.numbers != b.numbers for a, b in touching)


def drawn(*views: View, rings=(SHORE,)):
    return seen_shapes(seen_runs(items(*views)), rings, FRAME, WATER_MM, board())


def test_seen_shore_is_drawn_where_the_stretches_say():
    """From chainage 600 to 800, x 100 to 300 on the ground: a line of 40 mm on the land, 1.5 mm off the shore."""
    along = lines(drawn(view(1, None, stretch(600, 800))), "seen")
    shore_y = FRAME.point_mm(PointM(0.0, 200.0))[1]
    assert along.bounds == pytest.approx((20, shore_y - OFF_SHORE_MM, 60, shore_y - OFF_SHORE_MM), abs=0.02)
    assert along.length == pytest.approx(40, abs=0.05)


@given(st.integers(520, 880), st.integers(15, 400))
def test_of_any_stretch_its_part_on_the_map_is_drawn(from_m, length_m):
    """The line's feet on the shore are the stretch, cut at the map's edge (chainages 500 to 900)."""
    along = lines(drawn(view(1, None, stretch(from_m, from_m + length_m))), "seen")
    left, right = (from_m - 500) / 5, min(from_m + length_m - 500, 400) / 5
    assert (along.bounds[0], along.bounds[2]) == pytest.approx((left, right), abs=0.05)


def test_ends_are_barred_on_the_map_but_not_at_its_edge():
    """A bar says that no more is seen; where the map's edge cuts, nothing is known to end."""
    whole = parts(drawn(view(1, None, stretch(600, 800))), "seen-end")
    assert len(whole) == 2
    assert all(LineString(bar).length == pytest.approx(OFF_SHORE_MM + 0.5, abs=0.05) for bar in whole)
    assert sorted(round(bar[0][0]) for bar in whole) == [20, 60]
    assert len(parts(drawn(view(1, None, stretch(800, 1200))), "seen-end")) == 1
    assert parts(drawn(view(1, None, stretch(0, 1400))), "seen-end") == []


def test_the_numbers_of_the_photos_stand_behind_the_line():
    """`1`, then `1 2` where both show it; on the land side, clear of the line and of each other."""
    shapes = drawn(view(1, None, stretch(550, 750)), view(2, None, stretch(650, 850)))
    said = [(s.text, s.points[0][0], s.size_mm) for s in shapes if s.style == "seen-number"]
    assert [words for words, _, _ in said] == ["1", "1 2", "2"]
    line_y = FRAME.point_mm(PointM(0.0, 200.0))[1] - OFF_SHORE_MM
    assert all(y < line_y and size == NUMBER_MM for _, (_, y), size in said)
    assert [round(x / 10) for _, (x, _), _ in said] == [2, 4, 6]  # over the middles, at 20, 40 and 60 mm


def test_a_short_run_or_a_full_paper_has_no_number():
    """The line stays; a number that would cover something is left off."""
    short = drawn(view(1, None, stretch(600, 610)))
    assert parts(short, "seen") != []
    assert [s for s in short if s.style == "seen-number"] == []
    taken = board()
    taken.take(translate(FRAME.paper, 0, -41.6))  # all the land
    full = seen_shapes(seen_runs(items(view(1, None, stretch(600, 800)))), (SHORE,), FRAME, WATER_MM, taken)
    assert parts(full, "seen") != []
    assert [s for s in full if s.style == "seen-number"] == []


def test_on_a_spit_too_narrow_for_a_line_beside_it_the_shore_itself_is_drawn():
    """A tongue of land 10 m wide, 2 mm on paper, has no room 1.5 mm off both its shores."""
    spit = LineString([(195, 150), (195, 60), (205, 60), (205, 150)])
    water = FRAME.to_mm(WATER.difference(box(195, 60, 205, 200)))
    run = SeenRun("S", 0.0, spit.length, (1,))
    along = lines(seen_shapes([run], (Ring("S", spit, False),), FRAME, water, board()), "seen")
    assert along.hausdorff_distance(FRAME.to_mm(substring(spit, 0, spit.length))) < 0.02


def test_the_line_keeps_room_on_the_board():
    """What is written later stays clear of it."""
    sheet = board()
    seen_shapes(seen_runs(items(view(1, None, stretch(600, 800)))), (SHORE,), FRAME, WATER_MM, sheet)
    line_y = FRAME.point_mm(PointM(0.0, 200.0))[1] - OFF_SHORE_MM
    assert not sheet.is_free(Point(40, line_y).buffer(0.2))
    assert sheet.is_free(Point(10, line_y).buffer(0.2))
