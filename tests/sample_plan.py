"""Field plans for tests: one worked out on a tiny lake, one made by hand on an invented one."""

from __future__ import annotations

from functools import cache

from lakes import projection
from sample_scene import scene_rings, to_lonlat
from shapely import MultiPolygon

from atlasgen.model import PointM
from atlasgen.model.fieldplan import FieldPlan, Left, PlanRules, Run, ShoreSpan, Station
from atlasgen.place.shore import build_rings, cut_reaches
from atlasgen.place.shore_index import ShoreIndex, shore_index

LAUNCH = PointM(330.0, 0.0)


def index_of(water: MultiPolygon) -> ShoreIndex:
    """Return the shore index of a metric lake around (0, 0), its ring from the north-west corner."""
    rings = build_rings(water, None)
    reaches = cut_reaches(rings, 100.0, projection(), lambda at: "", lambda at: "")
    return shore_index(water, rings, reaches, projection=projection())


def hand_station(run: int, number: int, at: PointM, **changes) -> Station:
    """Return a station 40 m up that looks east-north-east at a span of its own."""
    from_m = 100.0 * number + 1000 * (run - 1)
    values = {
        "run": run,
        "number": number,
        "at": at,
        "lonlat": to_lonlat(at),
        "height_m": 40.0,
        "heading_deg_true": 68.0,
        "pitch_deg": -20.0,
        "shows": (ShoreSpan("S", from_m, from_m + 80),),
        "new_m": 80.0,
        "distance_m": 90.0,
        "gsd_cm": 4.2,
        "reaches": (f"S-{number:04d}", f"S-{number + 1:04d}"),
    }
    return Station(**values | changes)


def hand_run(number: int, count: int, *, north_m: float = 0.0, **changes) -> Run:
    """Return a run of `count` stations in a row to the west, or to the north by `north_m` each."""
    places = [PointM(300.0 - 25 * i * (not north_m), north_m * i) for i in range(count)]
    stations = tuple(hand_station(number, i, at, **changes) for i, at in enumerate(places, 1))
    return Run(number, stations, 1234.0, 514.0, 80.0, 600.0)


@cache
def hand_plan(**changes) -> FieldPlan:
    """Two runs of three and one stations, one station beyond reach, one span left."""
    beyond = hand_station(0, 1, PointM(-900.0, -300.0))
    values = {
        "rules": PlanRules(launch=LAUNCH, launch_name="the slipway"),
        "launch": to_lonlat(LAUNCH),
        "runs": (hand_run(1, 3), hand_run(2, 1)),
        "beyond": (beyond,),
        "left": (Left(ShoreSpan("S", 400.0, 520.0), "hidden by land from every station tried"),),
        "missing_m": 440.0,
        "claimed_m": 320.0,
        "lower_bound": 4,
        "candidates": 57,
    }
    return FieldPlan(**values | changes)


def hand_rings():
    """Return the rings that the spans of the hand-made plan lie on."""
    return scene_rings()
