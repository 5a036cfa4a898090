"""Repeat photographs, on geometry made by hand: two stations, one bank, two days."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from sample_atlas import make_sample_atlas
from shapely import Polygon

from atlasgen.measure.repeats import find_repeats, shared_shore_m, turn_between_deg
from atlasgen.model import Measured, PointM
from atlasgen.model.repeats import RepeatRules
from atlasgen.model.views import Stretch, View

RULES = RepeatRules()
FIRST = make_sample_atlas().placed.photos[0]


def shot(name: str, x_m: float = 0.0, y_m: float = 0.0, *, heading: float = 0.0, days: float = 0, up_m: float = 60.0):
    """Return a photo at a place; the bank lies 100 m north of the first."""
    return replace(
        FIRST,
        id=name,
        point=PointM(x_m, y_m),
        heading_deg_true=Measured(heading % 360, "EXIF, true", 2.0),
        taken=FIRST.taken + timedelta(days=days),
        height_above_water_m=Measured(up_m, "a sample"),
    )


def view(name: str, from_m: float = 0.0, to_m: float = 100.0, off_m: float = 100.0, ring: str = "S") -> View:
    stretch = Stretch(ring, from_m, to_m, off_m, 80.0, 5.0, 6.0, 1.0)
    return View(name, Polygon(), False, 3000.0, None, (stretch,), ())


def pairs(*shots, views=None, stages=None):
    """Return what is found; every photo shows the same 100 m unless told otherwise."""
    seen = {one.id: view(one.id) for one in shots} | (views or {})
    levels = {one.id: -0.5 - 0.5 * number for number, one in enumerate(shots)} if stages is None else stages
    return find_repeats(shots, seen, levels, RULES)


def test_the_same_bank_at_another_level_is_a_pair():
    """3 m east and 4 m north is 5 m apart; the water fell by half a metre."""
    (pair,) = pairs(shot("p-a", heading=358), shot("p-b", 3, 4, heading=4, days=30))
    assert (pair.earlier, pair.later, pair.apart_m, pair.turn_deg, pair.days) == ("p-a", "p-b", 5.0, 6.0, 30)
    assert (pair.level_m, pair.shared_m, pair.shared_share) == (-0.5, 100.0, 1.0)
    assert (pair.other("p-a"), pair.other("p-b")) == ("p-b", "p-a")


def test_the_earlier_comes_first_however_they_are_listed():
    """Order in the survey is the shore's, not the calendar's."""
    (pair,) = pairs(shot("p-a", days=30), shot("p-b"))
    assert (pair.earlier, pair.later, pair.level_m) == ("p-b", "p-a", 0.5)


@pytest.mark.parametrize(
    ("x_m", "up_m", "found"),
    [(15, 60, 1), (15.1, 60, 0), (0, 75, 1), (0, 75.1, 0), (9, 72, 1), (9.1, 72.1, 0)],
)
def test_stations_are_within_a_share_of_the_distance_to_the_bank(x_m, up_m, found):
    """100 m off, 15 m is the limit, straight up as well; 9 and 12 are 15."""
    assert len(pairs(shot("p-a"), shot("p-b", x_m, days=30, up_m=up_m))) == found


@pytest.mark.parametrize(("off_m", "x_m", "found"), [(4, 5, 1), (4, 5.1, 0), (900, 30, 1), (900, 30.1, 0)])
def test_near_enough_and_too_far_hold_whatever_the_distance(off_m, x_m, found):
    """5 m is always near enough, more than 30 m never."""
    seen = {name: view(name, off_m=off_m) for name in ("p-a", "p-b")}
    assert len(pairs(shot("p-a"), shot("p-b", x_m, days=30), views=seen)) == found


@pytest.mark.parametrize(("heading", "found"), [(20, 1), (21, 0), (-20, 1), (-21, 0), (180, 0)])
def test_the_cameras_look_the_same_way(heading, found):
    """20 degrees either way, over north as well."""
    assert len(pairs(shot("p-a", heading=0), shot("p-b", heading=heading, days=30))) == found


def test_half_of_the_shore_is_in_both():
    """Of 100 m and 100 m the half must be common; of 100 m and 250 m more than 100 m would have to be."""
    a, b = shot("p-a"), shot("p-b", days=30)
    assert len(pairs(a, b, views={"p-b": view("p-b", 50, 150)})) == 1
    assert pairs(a, b, views={"p-b": view("p-b", 51, 151)}) == ()
    assert pairs(a, b, views={"p-b": view("p-b", 0, 250)}) == ()
    assert pairs(a, b, views={"p-b": view("p-b", ring="A")}) == ()


def test_something_must_have_changed():
    """A tenth of a metre of water, or a fortnight; of an unknown level only the days are told."""
    a = shot("p-a")
    assert pairs(a, shot("p-b", days=1), stages={"p-a": -1.0, "p-b": -1.09}) == ()
    assert len(pairs(a, shot("p-b", days=1), stages={"p-a": -1.0, "p-b": -1.1})) == 1
    assert pairs(a, shot("p-b", days=13), stages={}) == ()
    (pair,) = pairs(a, shot("p-b", days=14), stages={"p-a": -1.0, "p-b": None})
    assert pair.level_m is None


def test_what_is_not_known_makes_no_pair():
    """Without direction, time or view nobody can say that it is the same bank again."""
    a, b = shot("p-a"), shot("p-b", days=30)
    assert pairs(a, replace(b, heading_deg_true=None)) == ()
    assert pairs(a, replace(b, taken=None)) == ()
    assert find_repeats((a, b), {"p-a": view("p-a")}, {}, RULES) == ()
    assert pairs(a, b, views={"p-b": replace(view("p-b"), any_heading=True)}) == ()


def test_of_one_day_the_nearest_alike_is_taken():
    """Three frames of one April day: the one that stands nearest; another day makes a pair of its own."""
    march = shot("p-m")
    april = [shot("p-x", 9, days=30), shot("p-y", 2, days=30), shot("p-z", 5, days=30)]
    may = shot("p-n", 4, days=60)
    found = pairs(march, *april, may, stages={})
    assert [(pair.earlier, pair.later) for pair in found if "p-m" in (pair.earlier, pair.later)] == [
        ("p-m", "p-y"),
        ("p-m", "p-n"),
    ]


def test_the_order_of_the_photos_is_no_matter():
    """Same photos, same pairs."""
    shots = [shot("p-a"), shot("p-b", 3, days=30), shot("p-c", 1, days=60)]
    told = {(pair.earlier, pair.later) for pair in pairs(*shots, stages={})}
    assert told == {(pair.earlier, pair.later) for pair in pairs(*shots[::-1], stages={})}
    assert len(told) == 3


def test_shared_shore_is_added_up_ring_by_ring():
    """10 to 30 and 50 to 90 against 20 to 60: 10 and 10 m; the island counts for itself."""
    one = [*view("", 10, 30).stretches, *view("", 50, 90).stretches, *view("", 0, 5, ring="A").stretches]
    other = [*view("", 20, 60).stretches, *view("", 3, 9, ring="A").stretches]
    assert shared_shore_m(one, other) == 22
    assert turn_between_deg(350, 15) == 25
