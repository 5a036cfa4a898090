"""The field plan as a whole: from missing shore to runs, with what is left and why."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
from shapely import LineString

from atlasgen.measure.cover import least_sets, whole_bound
from atlasgen.measure.runs import order_runs, run_length_m, run_time_s, within_reach
from atlasgen.measure.stations import (
    Candidate,
    See,
    Tried,
    choose,
    missing_pieces,
    seer,
    spans_of,
    true_heading_deg,
    try_stations,
)
from atlasgen.model import PointM
from atlasgen.model.fieldplan import FieldPlan, Left, PlanRules, Run, ShoreSpan, Station
from atlasgen.model.views import ViewRules
from atlasgen.model.wording import say
from atlasgen.place.geo import Projection
from atlasgen.place.shore_index import ShoreIndex

if TYPE_CHECKING:
    from shapely import MultiPolygon


def field_plan(
    missing: Sequence[ShoreSpan],
    shore: ShoreIndex,
    water: MultiPolygon,
    projection: Projection,
    rules: PlanRules,
    see: See | None = None,
) -> FieldPlan:
    """Plan the next field day.

    Parameters
    ----------
    missing
        What the audit found not seen well.
    water
        Metric.
    see
        What a camera shows; without it, what `place.seen` says with the default `ViewRules`.
    """
    look = see or seer(shore, ViewRules())
    wanted = missing_pieces(missing, shore)
    weight_m = np.where(wanted, shore.to_m - shore.from_m, 0.0)
    tried = try_stations(wanted, shore, water, rules, look)
    near = [c for c in tried.candidates if within_reach(c.camera.at, rules)]
    far = [c for c in tried.candidates if not within_reach(c.camera.at, rules)]
    flown = [near[number] for number in choose(near, weight_m)]
    claimed = _shown(flown, len(wanted))
    beyond = [far[number] for number in choose(far, np.where(claimed, 0.0, weight_m))]
    orders = order_runs([candidate.camera.at for candidate in flown], rules)
    maker = _Maker(shore, projection, look, weight_m)
    runs = tuple(_run(n, [flown[i] for i in order], maker, water, rules) for n, order in enumerate(orders, 1))
    return FieldPlan(
        rules=rules,
        launch=projection.lonlat(rules.launch),
        runs=runs,
        beyond=tuple(maker.station(candidate, 0, n) for n, candidate in enumerate(beyond, 1)),
        left=_left(wanted & ~claimed, tried, _shown(far, len(wanted)), shore),
        missing_m=float(weight_m.sum()),
        claimed_m=float(weight_m[claimed].sum()),
        lower_bound=whole_bound(least_sets([candidate.pieces for candidate in near], len(wanted))),
        candidates=len(near),
    )


def _shown(candidates: Sequence[Candidate], count: int) -> np.ndarray:
    shown = np.zeros(count, bool)
    for candidate in candidates:
        shown[candidate.pieces] = True
    return shown


def _left(left: np.ndarray, tried: Tried, beyond: np.ndarray, shore: ShoreIndex) -> tuple[Left, ...]:
    """Spans that the runs do not close, each with its reason, in the order of the shore."""
    why = np.where(beyond, say("plan-why-beyond"), tried.why_not)
    found = [
        Left(span, str(reason))
        for reason in np.unique(why[left])
        for span in spans_of(np.flatnonzero(left & (why == reason)), shore)
    ]
    return tuple(sorted(found, key=lambda item: (shore.rings.index(item.span.ring), item.span.from_m)))


class _Maker:
    """Makes stations in the order of flight, and keeps what has been shown by those before."""

    def __init__(self, shore: ShoreIndex, projection: Projection, see: See, weight_m: np.ndarray) -> None:
        self.shore, self.projection, self.see, self.weight_m = shore, projection, see, weight_m
        self.shown = np.zeros(len(weight_m), bool)

    def station(self, candidate: Candidate, run: int, number: int) -> Station:
        camera, pieces = candidate.camera, candidate.pieces
        new_m = float(self.weight_m[pieces[~self.shown[pieces]]].sum())
        self.shown[pieces] = True
        seen = self.see(camera)
        credited = np.isin(seen.piece, pieces)
        return Station(
            run=run,
            number=number,
            at=camera.at,
            lonlat=self.projection.lonlat(camera.at),
            height_m=camera.height_m,
            heading_deg_true=round(true_heading_deg(camera, self.shore), 1) % 360,
            pitch_deg=camera.pitch_deg,
            shows=spans_of(pieces, self.shore),
            new_m=new_m,
            distance_m=float(seen.distance_m[credited].min(initial=math.inf)),
            gsd_cm=float(seen.gsd_cm[credited].max(initial=0.0)),
            reaches=tuple(self.shore.reaches[n].id for n in dict.fromkeys(self.shore.reach[pieces].tolist())),
        )


def _run(number: int, candidates: Sequence[Candidate], maker: _Maker, water: MultiPolygon, rules: PlanRules) -> Run:
    places = [candidate.camera.at for candidate in candidates]
    length_m = run_length_m(places, rules.launch)
    return Run(
        number=number,
        stations=tuple(maker.station(candidate, number, n) for n, candidate in enumerate(candidates, 1)),
        length_m=length_m,
        time_s=run_time_s(length_m, len(places), rules),
        over_land_m=_over_land_m([rules.launch, *places, rules.launch], water),
        farthest_m=max(math.dist(rules.launch, place) for place in places),
    )


def _over_land_m(way: Sequence[PointM], water: MultiPolygon) -> float:
    """Return the length of a way over land, leg by leg: one flown out and back counts twice."""
    return sum(float(LineString(leg).difference(water).length) for leg in pairwise(way))
