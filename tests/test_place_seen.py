"""What photos show of lakes that can be checked by hand, and what must hold of any lake and pose."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from lakes import cove_lake, island_lake, projection, square_lake
from pinhole import in_frame
from shapely import MultiPolygon, Polygon
from view_scene import index_of, photo_at

from atlasgen.model import Photo, PointM
from atlasgen.model.views import Stretch, View, ViewRules
from atlasgen.place.draws import _departures as departures
from atlasgen.place.draws import pose_sigmas
from atlasgen.place.footprint import horizon_m
from atlasgen.place.land import land_height_m
from atlasgen.place.rays import Camera
from atlasgen.place.seen import _stand as stand
from atlasgen.place.seen import see_photos, why_no_view
from atlasgen.place.shore import build_rings, cut_reaches
from atlasgen.place.shore_index import ShoreIndex, shore_index

RULES = ViewRules()
# Banks like walls: what a low camera sees is then what the water's outline lets it see.
WALLS = ViewRules(bank_rises_over_m=0.1)
SQUARE, ISLAND, COVES = index_of(square_lake()), index_of(island_lake()), index_of(cove_lake())
STAR_RADII = [620, 420, 700, 500, 380, 660, 450, 720, 520, 400, 640]


def star_lake(turn_deg: float = 0.0) -> MultiPolygon:
    angles = np.linspace(0, 2 * math.pi, len(STAR_RADII), endpoint=False) + math.radians(turn_deg)
    outline = [(r * math.sin(a), r * math.cos(a)) for r, a in zip(STAR_RADII, angles, strict=True)]
    return MultiPolygon([Polygon(outline, [[(0.25 * x, 0.25 * y) for x, y in outline]])])


STAR = index_of(star_lake())
# Large enough for the coarser sight lines of far shores, and for chunks that are looked at as one.
WIDE = index_of(MultiPolygon([shapely.affinity.scale(part, 3.5, 3.5, origin=(0, 0)) for part in star_lake(7).geoms]))
POSES = st.fixed_dictionaries(
    {
        "x_m": st.floats(-300, 300),
        "y_m": st.floats(160, 340),
        "height_m": st.floats(1, 120),
        "heading_deg": st.floats(0, 360),
        "pitch_deg": st.floats(-90, 20),
        "roll_deg": st.floats(-30, 30),
        "heading_sigma_deg": st.floats(0, 15),
        "position_sigma_m": st.floats(0, 8),
    }
)


def seen(photo: Photo, shore: ShoreIndex, stage_m: float | None = None, rules: ViewRules = RULES) -> View:
    return see_photos([photo], shore, rules, {photo.id: stage_m})[0].views[photo.id]


def pieces_seen(photo: Photo, shore: ShoreIndex, rules: ViewRules = RULES) -> list[int]:
    (metres,) = see_photos([photo], shore, rules)[1]
    return metres.piece.tolist()


def places(photo: Photo, shore: ShoreIndex, rules: ViewRules = RULES) -> np.ndarray:
    """Middles of the pieces seen, (n, 2); a piece is 2 m long on these lakes."""
    return shore.xy_m[pieces_seen(photo, shore, rules)]


def pieces_of(stretch: Stretch, shore: ShoreIndex) -> list[int]:
    """Numbers of the pieces that lie in a stretch, to a micrometre."""
    inside = (shore.from_m >= stretch.from_m - 1e-6) & (shore.to_m <= stretch.to_m + 1e-6)
    return np.flatnonzero(inside & (shore.ring == shore.rings.index(stretch.ring))).tolist()


def chainages(view: View, ring: str = "S") -> list[tuple[float, float]]:
    return [(stretch.from_m, stretch.to_m) for stretch in view.stretches if stretch.ring == ring]


def test_the_north_bank_from_the_middle_of_the_square():
    """Ninety degrees wide from the middle, looking north: the north bank from corner to corner, and no more."""
    view = seen(photo_at(0, 0), SQUARE)
    (stretch,) = view.stretches
    assert (stretch.ring, stretch.from_m, stretch.to_m) == ("S", 0.0, 1000.0)
    assert stretch.distance_m == pytest.approx(500, abs=0.01)
    # Mean over the bank of the angle whose tangent is 500 / x: pi/4 + ln(2)/2; the corners are rounded over 10 m.
    assert stretch.angle_deg == pytest.approx(math.degrees(math.pi / 4 + math.log(2) / 2), abs=0.5)
    # 500 m deep everywhere along it: 2 x 500 m over 4000 pixels.
    assert (stretch.gsd_cm, stretch.middle_gsd_cm) == pytest.approx((25, 25), abs=1e-3)
    assert stretch.probability == pytest.approx(1, abs=0.01)


def test_reaches_of_the_north_bank():
    """Its ten reaches of 100 m, each whole; the nearest ones square on."""
    view = seen(photo_at(0, 0), SQUARE)
    assert [reach.reach for reach in view.reaches] == [f"S-{n:04d}" for n in range(1, 11)]
    assert [reach.share for reach in view.reaches] == [1.0] * 10
    assert view.reaches[4].angle_deg == pytest.approx(math.degrees(math.atan2(500, 50)), abs=0.2)
    assert view.reaches[0].distance_m == pytest.approx(math.hypot(401, 500), abs=0.01)


def test_a_view_over_the_start_of_the_ring_is_two_stretches():
    """Looking north-west at the corner where the ring starts: half of the north bank, half of the west bank."""
    assert chainages(seen(photo_at(0, 0, heading_deg=315), SQUARE)) == [(0.0, 500.0), (3500.0, 4000.0)]


def test_a_true_heading_is_turned_to_the_map():
    """East of the projection's middle true north leans; the same true heading covers another piece of the bank."""
    water = square_lake()
    far = MultiPolygon([shapely.affinity.translate(water.geoms[0], 40_000, 0)])
    rings = build_rings(far, None)
    reaches = cut_reaches(rings, 100, projection(), lambda _: "", lambda _: "")
    shore = shore_index(far, rings, reaches, projection())
    at = PointM(40_000, 0)
    (turn_deg,) = shore.north_deg([at])
    assert turn_deg == pytest.approx(projection().grid_bearing_to_true(0.0, at), abs=1e-9)
    assert 0.3 < abs(turn_deg) < 0.5
    narrow = photo_at(40_000, 0, heading_deg=0.0, hfov_deg=2.0)
    from_m, to_m = chainages(seen(narrow, shore))[0]
    assert (from_m + to_m) / 2 == pytest.approx(500 - 500 * math.tan(math.radians(turn_deg)), abs=2)


def test_an_island_hides_what_lies_behind_it_from_a_boat():
    """From 200 m south of the island: its south shore; past its corners the banks from x = 400 on, and the sides."""
    photo = photo_at(0, -300)
    view = seen(photo, ISLAND, rules=WALLS)
    # The last 2 m and 1/200 of a sight line cannot hide its goal, which lets a little of the island's sides in.
    assert sum(s.length_m for s in view.stretches if s.ring == "A") == pytest.approx(204, abs=8)
    x, y = places(photo, ISLAND, WALLS).T
    assert 2 * (y == 500).sum() == pytest.approx(200, abs=12)
    assert np.abs(x[y == 500]).min() == pytest.approx(400, abs=6)
    assert 2 * (x == 500).sum() == pytest.approx(300, abs=4)


def test_a_low_bank_is_looked_over_at_its_edge():
    """Eyes at 2 m pass over the island's corners where the bank has not risen to them yet."""
    photo = photo_at(0, -300)
    over, walled = seen(photo, ISLAND), seen(photo, ISLAND, rules=WALLS)
    assert 20 < over.seen_m - walled.seen_m < 120
    assert set(pieces_seen(photo, ISLAND, WALLS)) <= set(pieces_seen(photo, ISLAND))


def test_a_high_camera_looks_over_the_island():
    """200 m up, the sight line over its far bank is steeper than the bank: seen, and from behind."""
    photo = photo_at(0, -300, height_m=200, pitch_deg=-20)
    view = seen(photo, ISLAND)
    x, y = places(photo, ISLAND).T
    assert 2 * ((y == 500) & (np.abs(x) < 400)).sum() == 800
    assert 2 * (y == 100).sum() == pytest.approx(200, abs=4)
    # 200 m down and 400 m on, square to the bank: (200 - 400) over the whole way of 447 m.
    behind = [
        r.angle_deg for r in view.reaches if r.reach in ("A-0007", "A-0008", "A-0003", "A-0004") and r.share > 0.9
    ]
    assert min(behind) == pytest.approx(math.degrees(math.asin(-200 / math.hypot(200, 400))), abs=0.5)


def test_a_middling_camera_sees_over_the_island_but_not_its_far_bank():
    """60 m up the sight line falls 15 in 100 at the far bank, which rises 24 in 100 before it."""
    photo = photo_at(0, -300, height_m=60, pitch_deg=-10)
    x, y = places(photo, ISLAND).T
    assert 2 * ((y == 100) & (np.abs(x) < 90)).sum() == 0
    assert 2 * ((y == 500) & (np.abs(x) < 400)).sum() == 800


def test_known_ground_stands_in_the_way_of_a_high_camera():
    """An island that is known to be 120 m high hides from 200 m up what it did not hide before."""
    peak = index_of(island_lake(), ground_height=lambda x, y: np.full(np.shape(x), 120.0))
    low = index_of(island_lake(), ground_height=lambda x, y: np.full(np.shape(x), np.nan))
    photo = photo_at(0, -300, height_m=200, pitch_deg=-20)
    assert seen(photo, low).stretches == seen(photo, ISLAND).stretches
    x, y = places(photo, peak).T
    assert ((y == 500) & (np.abs(x) < 150)).sum() == 0


def test_a_point_hides_the_cove_behind_it():
    """From the west end of the north bank the cove's west side is out of sight, its east side in sight."""
    photo = photo_at(-450, 300, heading_deg=60)
    x, y = places(photo, COVES, WALLS).T
    assert ((x == -100) & (y > 505)).sum() == 0
    # The line past the cove's west corner (-100, 500) climbs 200 in 350 and meets x = 100 at y = 614.
    assert 2 * ((x == 100) & (y > 500)).sum() == pytest.approx(114, abs=8)


def test_land_at_ones_elbow_hides_nothing():
    """A station that its receiver puts 10 m behind the bank still sees over the water."""
    assert seen(photo_at(0, -510), SQUARE).seen_m > 900


def test_beyond_the_range_nothing_is_seen():
    """The bank is 500 m away."""
    assert seen(photo_at(0, 0), SQUARE, rules=replace(RULES, range_m=499)).stretches == ()
    assert seen(photo_at(0, 0), SQUARE, rules=replace(RULES, range_m=501)).seen_m == pytest.approx(62, abs=4)


def test_the_shore_stands_higher_when_the_water_is_drawn_down():
    """The upper edge of the frame is level: a shoreline 3 m above the water is over it for a camera at 2 m."""
    photo = photo_at(0, 0, pitch_deg=-30)
    # Along the upper edge a frame of 90 degrees, held 30 down, is 2 x 40.9 degrees wide: 866 m of bank 500 m away.
    assert seen(photo, SQUARE, stage_m=0.0).seen_m == pytest.approx(866, abs=4)
    assert seen(photo, SQUARE, stage_m=-3.0).seen_m == 0
    assert seen(photo, SQUARE, stage_m=None).stretches == seen(photo, SQUARE, stage_m=0.0).stretches


def test_a_portrait_file_that_is_stored_lying_down():
    """Orientation 6: the upright picture is 3000 pixels wide, and its pixels are that much wider."""
    lying, upright = photo_at(0, 0), photo_at(0, 0, orientation=6)
    assert seen(upright, SQUARE).stretches[0].gsd_cm == pytest.approx(seen(lying, SQUARE).stretches[0].gsd_cm * 4 / 3)


@pytest.mark.parametrize(
    ("unknown", "why"),
    [
        ({"heading_deg": None}, "its direction is not known"),
        ({"height_m": None}, "its height above the water is not known"),
        ({"height_m": -1.0}, "its height above the water is given as -1 m"),
        ({"pitch_deg": None}, "it is not known how far it looked down"),
        (
            {"heading_deg": None, "pitch_deg": -76, "vfov_deg": 20},
            "its direction is not known, and it leaned too far from straight down to do without",
        ),
    ],
)
def test_without_a_pose_there_is_no_view_but_a_reason(unknown, why):
    """Nothing is guessed: no view, and words."""
    photo = photo_at(0, 0, **unknown)
    found, (metres, _) = see_photos([photo, photo_at(0, 0, id="p-2")], SQUARE, RULES)
    assert metres is None
    assert (why_no_view(photo), dict(found.without), list(found.views)) == (why, {"p-1": why}, ["p-2"])


def test_straight_down_needs_no_heading():
    """100 m over the north bank, 60 degrees the narrow way: 57.7 m of bank to both sides, however it was turned."""
    view = seen(photo_at(0, 500, height_m=100, heading_deg=None, pitch_deg=-90), SQUARE)
    assert view.any_heading
    assert view.seen_m == pytest.approx(2 * 57.735, abs=4)
    assert view.footprint.area == pytest.approx(math.pi * 57.735**2, rel=1e-2)
    for heading_deg in (0, 33, 90):
        turned = seen(photo_at(0, 500, height_m=100, heading_deg=heading_deg, pitch_deg=-90), SQUARE)
        assert turned.seen_m >= view.seen_m


def test_the_doubtful_edge_of_a_frame_has_the_lower_probability():
    """A compass good to 10 degrees: the middle of the bank is in nearly all draws, its ends in about half."""
    view = seen(photo_at(0, 0, heading_sigma_deg=10), SQUARE)
    shares = [reach.probability for reach in view.reaches]
    assert view.seen_m == pytest.approx(1000, abs=60)
    assert shares[4] == pytest.approx(1, abs=1e-9)
    assert 0.5 <= min(shares[1], shares[-2]) < 0.9


def test_the_same_photo_has_the_same_view_and_views_come_together():
    """Draws are told by the photo's id; one by one or all at once is the same."""
    photos = [photo_at(20 * n, 0, heading_sigma_deg=8, id=f"p-{n}") for n in range(4)]
    stages = {"p-2": -1.0}
    together, _ = see_photos(photos, ISLAND, RULES, stages)
    assert list(together.views.values()) == [seen(photo, ISLAND, stages.get(photo.id)) for photo in photos]


@settings(max_examples=60, deadline=None)
@given(POSES)
def test_stretches_and_reaches_are_the_same_metres(pose):
    """Stretches do not overlap, reaches add up to them to a micrometre, and the pieces are those of the stretches."""
    photo = photo_at(**pose)
    views, (metres,) = see_photos([photo], STAR, RULES)
    view = views.views[photo.id]
    lengths = {reach.id: reach.length_m for reach in STAR.reaches}
    by_reach = sum(reach.share * lengths[reach.reach] for reach in view.reaches)
    by_piece = (STAR.to_m - STAR.from_m)[metres.piece].sum()
    assert (by_reach, by_piece) == pytest.approx((view.seen_m, view.seen_m), abs=1e-6)
    assert (np.diff(metres.piece) > 0).all()
    assert metres.piece.tolist() == sorted(n for stretch in view.stretches for n in pieces_of(stretch, STAR))
    assert all(0 < reach.share <= 1 and 0.5 <= reach.probability <= 1 for reach in view.reaches)
    for ring in STAR.rings:
        ends = [end for stretch in chainages(view, ring) for end in stretch]
        assert ends == sorted(ends)
    if view.stretches:
        assert min(s.distance_m for s in view.stretches) == pytest.approx(metres.distance_m.min())
        assert min(s.gsd_cm for s in view.stretches) == pytest.approx(metres.gsd_cm.min())


@settings(max_examples=30, deadline=None)
@given(POSES, st.floats(0, 360))
def test_a_turned_world_has_turned_answers(pose, turn_deg):
    """Lake, station and heading turned together: the same metres are seen, but for the odd piece on an edge."""
    turned_lake = index_of(star_lake(turn_deg))
    x, y, a = pose["x_m"], pose["y_m"], math.radians(turn_deg)
    there = {"x_m": x * math.cos(a) + y * math.sin(a), "y_m": y * math.cos(a) - x * math.sin(a)}
    turned = photo_at(**(pose | there | {"heading_deg": pose["heading_deg"] + turn_deg}))
    still = photo_at(**pose)
    back = np.array([[math.cos(a), math.sin(a)], [-math.sin(a), math.cos(a)]])
    one = shapely.MultiPoint(places(still, STAR))
    other = shapely.MultiPoint(places(turned, turned_lake) @ back)
    stray = sum(shapely.get_num_coordinates(p.difference(q.buffer(4))) for p, q in ((one, other), (other, one)))
    assert stray <= 8 + 0.03 * len(one.geoms)


@settings(max_examples=20, deadline=None)
@given(st.lists(POSES, min_size=1, max_size=5))
def test_more_photos_never_reduce_what_is_seen(poses):
    """The shore seen in all photos grows with each; no photo changes another's view."""
    photos = [photo_at(**pose, id=f"p-{n}") for n, pose in enumerate(poses)]
    whole, metres = see_photos(photos, STAR, RULES)
    pieces: set[int] = set()
    for number, photo in enumerate(photos, 1):
        views, some = see_photos(photos[:number], STAR, RULES)
        assert whole.views[photo.id] == views.views[photo.id]
        more = {piece for one in some for piece in one.piece.tolist()}
        assert more >= pieces
        pieces = more
    assert pieces == {piece for one in metres for piece in one.piece.tolist()}


def plainly_seen(photo: Photo, shore: ShoreIndex, rules: ViewRules) -> np.ndarray:
    """Numbers of the pieces seen, by the rules as they are written down: piece by piece, and draw by draw.

    No chunks, no cone, no early ends. Sight lines run in the middle of strips; a strip is a cell wide at the farthest
    place that the widened cone of the frame can hold.
    """
    sigmas = pose_sigmas(photo)
    held = Camera(
        photo.point, photo.height_above_water_m.value, photo.heading_deg_true.value, photo.pitch_deg.value,
        photo.roll_deg.value, photo.hfov_deg.value, photo.vfov_deg.value, 4000, 3000,
    )  # fmt: skip
    margin_deg = min(0.5 * max(sigmas.heading_deg, sigmas.pitch_deg, sigmas.roll_deg), 10)
    half = math.atan(math.hypot(*held.half_tangents)) + math.radians(margin_deg)
    range_m = min(rules.range_m, horizon_m(held.height_m))
    lowest = -math.radians(held.pitch_deg) - half
    farthest_m = range_m if lowest <= 0 else min(range_m, held.height_m / math.tan(lowest))
    cell_m = shore.inland.cell_m
    steps, even_to = [rules.clear_of_camera_m], max(rules.clear_of_camera_m, min(farthest_m, cell_m / 0.012))
    while steps[-1] + cell_m < even_to:
        steps.append(steps[-1] + cell_m)
    steps.append(even_to)
    while steps[-1] * 1.012 < farthest_m:
        steps.append(steps[-1] * 1.012)
    r = np.array(steps)
    strip_deg = min(max(math.degrees(cell_m / r[-1]), 0.2), 2.0)
    cameras = [
        replace(
            held,
            at=PointM(
                held.at.x_m + sigmas.position_m * (z[0] * math.sin(a) + z[1] * math.cos(a)),
                held.at.y_m + sigmas.position_m * (z[0] * math.cos(a) - z[1] * math.sin(a)),
            ),
            height_m=max(held.height_m + sigmas.height_m * z[2], 0.1),
            heading_deg=held.heading_deg + sigmas.heading_deg * z[3],
            pitch_deg=held.pitch_deg + sigmas.pitch_deg * z[4],
            roll_deg=held.roll_deg + sigmas.roll_deg * z[5],
        )
        for z in departures(stand(photo), rules.draws // 2)
        for a in (math.radians(held.heading_deg),)
    ]
    found = []
    for piece, (x, y) in enumerate(shore.xy_m.tolist()):
        away = math.hypot(x - held.at.x_m, y - held.at.y_m)
        to = np.array([x, y, 0.0]) - held.place
        if away > range_m or to @ held.axes[2] < math.cos(half) * np.linalg.norm(to):
            continue
        in_frames = [in_frame(camera, np.array([x, y, 0.0])) for camera in cameras]
        if sum(abs(across) <= 1 and abs(up) <= 1 for across, up, _ in in_frames) <= 0.5 * len(cameras):
            continue
        turn = (math.degrees(math.atan2(to[0], to[1])) - held.heading_deg + 180) % 360 - 180
        line = math.radians(held.heading_deg + (math.floor(turn / strip_deg) + 0.5) * strip_deg)
        before = r[r < away - 2 - 0.005 * away]
        at = held.at.x_m + before * math.sin(line), held.at.y_m + before * math.cos(line)
        height = land_height_m(shore.inland.at(*at), rules)
        if not len(before) or ((height - held.height_m) / before).max() <= -held.height_m / max(away, 1e-6):
            found.append(piece)
    return np.array(found)


@pytest.mark.parametrize("seed", range(24))
def test_as_a_plain_reckoning_piece_by_piece(seed):
    """Random scenes, low and high, near and far, sure and unsure: all the short cuts change no more than a rounding."""
    draw = np.random.default_rng(seed)
    shore = (STAR, ISLAND, COVES, WIDE)[seed % 4]
    low = seed % 3 == 0
    x_m, y_m = draw.uniform(-450, 450, 2) * (3 if shore is WIDE else 1)
    photo = photo_at(
        x_m, y_m, height_m=draw.uniform(1.5, 4) if low else draw.uniform(15, 130), heading_deg=draw.uniform(0, 360),
        pitch_deg=draw.uniform(-8, 3) if low else draw.uniform(-90, -5), roll_deg=draw.normal(0, 4),
        hfov_deg=draw.uniform(20, 100), vfov_deg=draw.uniform(20, 80), heading_sigma_deg=draw.choice([0.0, 4, 10]),
        position_sigma_m=draw.choice([0.0, 5]), id=f"p-{seed}",
    )  # fmt: skip
    expected = plainly_seen(photo, shore, RULES)
    found = pieces_seen(photo, shore)
    assert len(np.setxor1d(expected, found)) <= 0.002 * len(expected)


def test_the_scenes_of_the_plain_reckoning_say_something():
    """A reckoning that saw nothing, or everything, would agree with any."""
    assert 20 < len(plainly_seen(photo_at(0, 300), ISLAND, RULES)) < 1900
