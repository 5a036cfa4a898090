"""Turn-around sets: what makes one, what does not, and that neither order nor a turned world changes it."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from sample_atlas import make_sample_atlas

from atlasgen.model import Measured, Photo, PointM
from atlasgen.place.turnarounds import (
    FARTHEST_APART_M,
    LEAST_PHOTOS,
    LONGEST_PAUSE_S,
    STEEP_DEG,
    find_turnarounds,
    gaps_between,
)

BASE = make_sample_atlas().placed.photos[0]
EIGHTHS = tuple(range(0, 360, 45))


def shot(number: int, heading: float | None, *, at=(0.0, 0.0), every_s: float = 10.0, width: float = 60.0, **changes):
    """Return one photo of a turn: the `number`th, `every_s` after the one before."""
    settings = {
        "id": f"p-{number:02d}",
        "point": PointM(*map(float, at)),
        "taken": BASE.taken + timedelta(seconds=every_s * number),
        "heading_deg_true": None if heading is None else Measured(heading, "EXIF, true", 2.0),
        "hfov_deg": Measured(width, "35 mm equivalent"),
        **changes,
    }
    return replace(BASE, **settings)


def turn(headings=EIGHTHS, **changes) -> list[Photo]:
    return [shot(number, heading, **changes) for number, heading in enumerate(headings)]


def ids(photos) -> list[tuple[str, ...]]:
    return [found.photos for found in find_turnarounds(photos)]


def test_eight_photos_round_the_circle_are_a_set():
    """Clockwise from north, the whole circle covered, first and last by time."""
    (found,) = find_turnarounds(turn((90, 135, 180, 225, 270, 315, 0, 45)))
    assert found.id == "T-01"
    assert found.headings_deg_true == EIGHTHS
    assert found.photos == ("p-06", "p-07", "p-00", "p-01", "p-02", "p-03", "p-04", "p-05")
    assert found.widths_deg == (60.0,) * 8
    assert (found.last - found.first).total_seconds() == 70
    assert (found.covered_deg, found.gaps_deg) == (360.0, ())
    assert (found.point, found.lonlat, found.reach) == ((0, 0), BASE.lonlat, BASE.reach)


def test_a_heading_little_west_of_north_counts_as_north():
    """A drone that starts at 357 has turned to north, not almost round to it; one at 340 has not."""
    (near,) = find_turnarounds(turn((357, 45, 90, 180)))
    assert near.headings_deg_true == (357, 45, 90, 180)
    (far,) = find_turnarounds(turn((340, 45, 90, 180)))
    assert far.headings_deg_true == (45, 90, 180, 340)


def test_four_photos_are_the_fewest():
    """Four at right angles are a set; three are not."""
    assert LEAST_PHOTOS == 4
    assert len(ids(turn((0, 90, 180, 270)))) == 1
    assert ids(turn((0, 120, 240), width=100)) == []


@pytest.mark.parametrize(("step", "sets"), [(40, 1), (39, 0)])
def test_together_they_look_over_half_the_circle(step, sets):
    """Four of 60 degrees, 40 apart, cover 3 x 40 + 60 = 180 degrees; 39 apart, 177: a panorama of one bank."""
    assert len(ids(turn([10 + step * i for i in range(4)]))) == sets


@pytest.mark.parametrize(("pause_s", "sets"), [(LONGEST_PAUSE_S, 1), (LONGEST_PAUSE_S + 1, 0)])
def test_a_set_is_taken_without_a_long_pause(pause_s, sets):
    """Up to 60 seconds from one to the next."""
    assert len(ids(turn(every_s=pause_s))) == sets


def test_a_long_pause_makes_two_sets():
    """Two turns over one spot, ten minutes apart, are two; numbered in the order they were taken."""
    later = [replace(p, id=f"q{p.id}", taken=p.taken + timedelta(minutes=10)) for p in turn()]
    found = find_turnarounds([*later, *turn()])
    assert [(one.id, one.photos[0]) for one in found] == [("T-01", "p-00"), ("T-02", "qp-00")]


@pytest.mark.parametrize(
    ("sigma_m", "apart_m", "sets"),
    # Twice the combined sigma of two stations, 2 x 1.5 x sqrt(2) = 4.24 m; and never more than 15 m.
    [(1.5, 4.2, 1), (1.5, 4.3, 0), (50.0, FARTHEST_APART_M, 1), (50.0, FARTHEST_APART_M + 0.1, 0), (None, 14.1, 1)],
)
def test_stations_agree_within_their_uncertainty(sigma_m, apart_m, sets):
    """The last four stood a little off the first four: neither half alone looks over half the circle."""
    headings = (0, 45, 90, 135, 180, 225, 270, 315)
    places = [(0.0, 0.0)] * 4 + [(apart_m, 0.0)] * 4
    photos = [
        shot(i, heading, at=at, width=40.0, position_sigma_m=sigma_m)
        for i, (heading, at) in enumerate(zip(headings, places, strict=True))
    ]
    assert len(ids(photos)) == sets


def test_a_boat_that_drifts_on_is_not_one_station():
    """Each is within 12 m of the one before, but the first and the last are 84 m apart."""
    assert ids([shot(i, heading, at=(12.0 * i, 0)) for i, heading in enumerate(EIGHTHS)]) == []


def test_a_drone_that_climbs_is_not_one_station():
    """Heights as well as stations agree; where no height is known, stations decide."""
    climbing = [
        replace(p, height_above_water_m=Measured(40.0 + 12 * i, "barometer", 1.0)) for i, p in enumerate(turn())
    ]
    assert ids(climbing) == []
    assert len(ids([replace(p, height_above_water_m=None) for p in climbing])) == 1


@pytest.mark.parametrize(
    "change", [{"heading_deg_true": None}, {"taken": None}, {"pitch_deg": Measured(STEEP_DEG, "")}]
)
def test_unknown_directions_and_times_are_in_no_set(change):
    """Nor are photos that look steeply down; the others make a set without them."""
    photos = turn()
    assert ids([replace(p, **change) for p in photos]) == []
    (rest,) = ids([replace(photos[3], **change), *photos[:3], *photos[4:]])
    assert rest == tuple(p.id for p in photos if p.id != "p-03")


def test_two_cameras_make_two_sets():
    """A second camera on the same bank turns for itself; a set never mixes them."""
    second = [replace(p, id=f"q{p.id}", source=replace(p.source, camera="Second")) for p in turn()]
    assert ids([*turn((0, 90)), *second[2:4]]) == []
    assert ids([*turn(), *second]) == [tuple(p.id for p in turn()), tuple(p.id for p in second)]


def test_the_station_is_the_one_nearest_the_middle():
    """Of stations at 0, 1, 2 and 6 m, the mean is 2.25 m: the third stands for all, with its reach."""
    at = [(0, 0), (1, 0), (2, 0), (6, 0)]
    photos = [shot(i, 90.0 * i, at=place, reach=f"S-{i:04d}") for i, place in enumerate(at)]
    (found,) = find_turnarounds(photos)
    assert (found.point, found.reach) == ((2, 0), "S-0002")


@pytest.mark.parametrize(
    ("arcs", "gaps"),
    [
        ([], ((0, 360),)),
        ([(10, 350)], ((350, 10),)),  # a gap over north
        ([(-30, 30)], ((30, 330),)),
        ([(0, 90), (180, 270)], ((90, 180), (270, 0))),
        ([(300, 420), (100, 200)], ((60, 100), (200, 300))),  # an arc over north
        ([(0, 180), (180.4, 360)], ()),  # a sliver
        ([(0, 300), (20, 40), (310, 360)], ((300, 310),)),  # one arc within another
        ([(5, 365)], ()),
    ],
)
def test_gaps_are_what_no_arc_covers(arcs, gaps):
    """By hand, over north and within each other."""
    assert gaps_between(arcs) == gaps


HEADINGS = st.lists(st.integers(0, 719).map(lambda half: half / 2), min_size=2, max_size=12, unique=True)


@given(HEADINGS, st.integers(20, 100))
def test_covered_and_gaps_make_the_whole_circle(headings, width):
    """Counted a second way: bearings every quarter of a degree that lie in no frame."""
    found = find_turnarounds(turn(headings, width=float(width)))
    assume(found)
    bearings = [b / 4 + 0.125 for b in range(1440)]
    bare = sum(all(abs((b - h + 180) % 360 - 180) > width / 2 for h in headings) for b in bearings) / 4
    gaps = math.fsum((end - start) % 360 for start, end in found[0].gaps_deg)
    # Gaps of half a degree and less count as covered, one for each photo at the most.
    assert gaps <= bare + 0.25 * len(headings)
    assert gaps >= bare - 0.75 * len(headings)
    assert found[0].covered_deg == pytest.approx(360 - gaps)


@given(st.randoms(use_true_random=False))
def test_the_order_of_the_photos_is_no_matter(shuffler: random.Random):
    """Two sets and a lone photo, in any order."""
    later = [replace(p, id=f"q{p.id}", taken=p.taken + timedelta(hours=1)) for p in turn(EIGHTHS[:6])]
    photos = [*turn(), *later, shot(99, 10, at=(500, 0))]
    mixed = list(photos)
    shuffler.shuffle(mixed)
    assert find_turnarounds(mixed) == find_turnarounds(photos)


@given(HEADINGS, st.integers(0, 359))
def test_a_turned_world_gives_turned_answers(headings, by_deg):
    """Turn all stations and headings: the same photos, headings and gaps turned, as much covered."""
    places = [(3 * math.sin(i), 2 * math.cos(2 * i)) for i in range(len(headings))]
    photos = [shot(i, h, at=at) for i, (h, at) in enumerate(zip(headings, places, strict=True))]
    turned = [_turned(photo, by_deg) for photo in photos]
    before, after = find_turnarounds(photos), find_turnarounds(turned)
    assert [set(one.photos) for one in after] == [set(one.photos) for one in before]
    for one, other in zip(before, after, strict=True):
        was = dict(zip(one.photos, one.headings_deg_true, strict=True))
        now = dict(zip(other.photos, other.headings_deg_true, strict=True))
        assert now == {name: (heading + by_deg) % 360 for name, heading in was.items()}
        assert other.covered_deg == pytest.approx(one.covered_deg)
        wanted = sorted(((a + by_deg) % 360, (b + by_deg) % 360) for a, b in one.gaps_deg)
        assert sorted(other.gaps_deg) == [pytest.approx(gap) for gap in wanted]
        assert other.point == pytest.approx(_turn_point(one.point, by_deg), abs=1e-9)


def _turn_point(point, by_deg: float) -> PointM:
    """Turn clockwise about the origin."""
    sin, cos = math.sin(math.radians(by_deg)), math.cos(math.radians(by_deg))
    return PointM(point[0] * cos + point[1] * sin, -point[0] * sin + point[1] * cos)


def _turned(photo: Photo, by_deg: float) -> Photo:
    heading = Measured((photo.heading_deg_true.value + by_deg) % 360, "EXIF, true", 2.0)
    return replace(photo, point=_turn_point(photo.point, by_deg), heading_deg_true=heading)
