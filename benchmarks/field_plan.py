"""How good a field plan is: `python benchmarks/field_plan.py`.

Ten lakes are drawn by chance (seeded), parts of their shore are called missing, and a plan is made for each. Printed
are the number of stations beside a proven lower bound for the same shore and the same candidates (the ratio's bar is
1.3), and what the plan closes of the metres it claims when it is flown in simulation with poses that are off (the bar
is 95 %, in the mean of the rounds; the worst round stands beside it).
"""

from __future__ import annotations

import argparse
import math
from collections.abc import Iterable

import numpy as np
import shapely
from shapely import LineString, MultiPolygon, Polygon

from atlasgen.measure.fieldplan import field_plan
from atlasgen.measure.stations import See, missing_pieces, plan_camera, seer, within_limits
from atlasgen.model import LonLat, PointM
from atlasgen.model.fieldplan import Aim, FieldPlan, PlanRules, ShoreSpan, Station
from atlasgen.model.views import ViewRules
from atlasgen.place.geo import Projection
from atlasgen.place.rays import Camera
from atlasgen.place.shore import build_rings, cut_reaches
from atlasgen.place.shore_index import ShoreIndex, shore_index

PROJECTION = Projection("+proj=aeqd +lat_0=-31.5 +lon_0=-96.4 +datum=WGS84 +units=m +no_defs")
RATIO_BAR, CLOSED_BAR = 1.3, 0.95


def main() -> None:
    """Plan for every lake and print the table."""
    options = _options()
    print("lake  shore km  missing m  closable m  candidates  stations  bound  ratio  runs  closed, mean  worst")
    rows = [_measure(seed, options.rounds) for seed in range(1, options.lakes + 1)]
    ratios, closed = zip(*rows, strict=True)
    print(f"largest ratio {max(ratios):.3f} (bar {RATIO_BAR}), least closed {min(closed):.1%} (bar {CLOSED_BAR:.0%})")
    raise SystemExit(max(ratios) > RATIO_BAR or min(closed) < CLOSED_BAR)


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--lakes", type=int, default=10)
    parser.add_argument("--rounds", type=int, default=20, help="simulated flights of each plan")
    return parser.parse_args()


def _measure(seed: int, rounds: int) -> tuple[float, float]:
    water = lake(seed)
    shore = index_of(water)
    missing = missing_spans(shore, seed)
    plan = plan_for(water, shore, missing)
    shares = rehearse(plan, shore, seer(shore, ViewRules()), rounds)
    ratio, mean = len(plan.stations) / max(plan.lower_bound, 1), sum(shares) / len(shares)
    shore_km = sum(reach.length_m for reach in shore.reaches) / 1000
    print(
        f"{seed:4d}{shore_km:10.1f}{plan.missing_m:11.0f}{plan.claimed_m:12.0f}{plan.candidates:12d}"
        f"{len(plan.stations):10d}{plan.lower_bound:7d}{ratio:7.3f}{len(plan.runs):6d}{mean:14.1%}{min(shares):7.1%}",
        flush=True,
    )
    return ratio, mean


def plan_for(water: MultiPolygon, shore: ShoreIndex, missing: Iterable[ShoreSpan]) -> FieldPlan:
    """Plan with the default rules, launching from the first reach's bank."""
    x, y = shore.reaches[0].line.coords[0]
    rules = PlanRules(launch=PointM(x, y), launch_name="the slipway")
    return field_plan(tuple(missing), shore, water, PROJECTION, rules)


def station_camera(station: Station, shore: ShoreIndex, rules: PlanRules) -> Camera:
    """Return the camera that a station asks for, its heading the map's."""
    heading = station.heading_deg_true - float(shore.north_deg([station.at])[0])
    return plan_camera(station.at, Aim(station.height_m, station.pitch_deg), heading, rules)


def rehearse(plan: FieldPlan, shore: ShoreIndex, see: See, rounds: int = 20, seed: int = 1) -> tuple[float, ...]:
    """Fly the plan `rounds` times with poses that are off at random; the share of the claimed metres closed each time.

    Errors are normal with the standard uncertainties of the rules; a metre is closed when any photograph shows it
    within the limits, without any margin.
    """
    draw = np.random.default_rng(seed)
    cameras = [station_camera(station, shore, plan.rules) for station in plan.stations]
    claimed = missing_pieces([span for station in plan.stations for span in station.shows], shore)
    metres = np.where(claimed, shore.to_m - shore.from_m, 0.0)
    shares = []
    for _ in range(rounds):
        closed = np.zeros(len(metres), bool)
        for camera in cameras:
            seen = see(_off(camera, plan.rules, draw))
            fine, square = within_limits(seen, plan.rules)
            closed[seen.piece[fine & square]] = True
        shares.append(float(metres[closed].sum() / metres.sum()) if metres.any() else 1.0)
    return tuple(shares)


def _off(camera: Camera, rules: PlanRules, draw: np.random.Generator) -> Camera:
    x, y, up, turn, pitch, roll = draw.standard_normal(6).tolist()
    return Camera(
        PointM(camera.at.x_m + rules.position_sigma_m * x, camera.at.y_m + rules.position_sigma_m * y),
        max(camera.height_m + rules.height_sigma_m * up, 0.5),
        camera.heading_deg + rules.heading_sigma_deg * turn,
        camera.pitch_deg + rules.pitch_sigma_deg * pitch,
        rules.roll_sigma_deg * roll,
        camera.hfov_deg,
        camera.vfov_deg,
        camera.width_px,
        camera.height_px,
    )


def lake(seed: int, size_m: float = 450.0) -> MultiPolygon:
    """Draw a lake: a wavy basin, some arms that wander off, perhaps an island; about 3 to 6 km of shore."""
    draw = np.random.default_rng(seed)
    basin = _blob(draw, size_m, (0.0, 0.0))
    arms = [_arm(draw, size_m) for _ in range(draw.integers(1, 4))]
    water = shapely.unary_union([basin, *arms]).buffer(-12).buffer(24).buffer(-12)
    water = max(shapely.get_parts(water), key=lambda part: part.area)
    outline = Polygon(water.exterior)
    island = _blob(draw, size_m * 0.12, tuple(draw.uniform(-0.3, 0.3, 2) * size_m))
    with_island = outline.difference(island) if outline.buffer(-60).contains(island) else outline
    return MultiPolygon([with_island])


def _blob(draw: np.random.Generator, size_m: float, centre: tuple[float, ...]) -> Polygon:
    turn = np.linspace(0, 2 * np.pi, 240, endpoint=False)
    waves = sum(draw.uniform(0.3, 1) / k * np.sin(k * turn + draw.uniform(0, 6.3)) for k in (2, 3, 5, 8, 13))
    radius = size_m * (0.75 + 0.22 * waves)
    return Polygon(np.column_stack([centre[0] + radius * np.cos(turn), centre[1] + radius * np.sin(turn)])).buffer(0)


def _arm(draw: np.random.Generator, size_m: float) -> Polygon:
    heading, at = draw.uniform(0, 2 * math.pi), np.zeros(2)
    line = [at]
    for _ in range(6):
        heading += draw.normal(0, 0.5)
        at = at + size_m * 0.35 * np.array([math.cos(heading), math.sin(heading)])
        line.append(at)
    return LineString(line).buffer(draw.uniform(25, 90))


def index_of(water: MultiPolygon) -> ShoreIndex:
    """Cut the shore of a lake as the pipeline does."""
    rings = build_rings(water, None)
    reaches = cut_reaches(rings, 100.0, PROJECTION, _nowhere, _nowhere)
    return shore_index(water, rings, reaches, projection=PROJECTION)


def _nowhere(_: LonLat) -> str:
    return ""


def missing_spans(shore: ShoreIndex, seed: int, share: float = 0.5) -> tuple[ShoreSpan, ...]:
    """Call stretches of 60 to 500 m missing by chance, about `share` of every ring."""
    draw = np.random.default_rng(1000 + seed)
    spans = []
    for number, ring in enumerate(shore.rings):
        end_m, at_m = float(shore.to_m[shore.ring == number].max()), 0.0
        while at_m < end_m:
            length_m = float(draw.uniform(60, 500))
            if draw.random() < share:
                spans.append(ShoreSpan(ring, at_m, min(at_m + length_m, end_m)))
            at_m += length_m
    return tuple(spans)


if __name__ == "__main__":
    main()
