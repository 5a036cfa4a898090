"""Maps of a field plan: the whole lake with its runs, and each run with its stations in the order of flight."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product
from typing import Any, Literal

import shapely
from shapely import LineString, Point
from shapely.ops import substring

from atlasgen.compose.drawing import Frame, ToLonLat, dots, frame_filling, line, text
from atlasgen.compose.legend import Entry, legend, legend_height_mm, plate, plate_paper
from atlasgen.compose.lettering import baseline_below, text_box
from atlasgen.compose.sheet import Sheet
from atlasgen.measure.stations import plan_camera, planned_photo
from atlasgen.model import Drawing, NamedArea, Photo, PointM, Ring, Shape
from atlasgen.model.fieldplan import Aim, FieldPlan, PlanRules, Run, ShoreSpan, Station
from atlasgen.model.wording import say
from atlasgen.units import DistanceUnit, compass_words, distance_words

# Width of the sheet's type area, and what its page has left for a map and the rows of its table, mm.
_PAPER = {"a4": (178.0, 198.0), "letter": (183.9, 180.0)}
_LEAST_ROW_MM, _MOST_ROW_MM, _ROWS_MM = 4.9, 7.0, 100.0
_TALLEST_MM, _LOWEST_MM, _OVERVIEW_MM = 140.0, 70.0, 120.0
_LEAST_WIDTH_M = 300.0
_MARGIN_MM = 9.0
_LAUNCH_MM = 2.6
_LAUNCH_TEXT_MM = 2.6
_STATION_MM = 0.9
# What is still to be photographed is drawn as the audit draws a bank without a photograph.
_LEFT_STYLES = ("state-edge", "state-bed")


@dataclass(frozen=True, slots=True)
class PlanGround:
    """What the maps of a plan stand on; all metric. `places` are named parts of the lake."""

    water: Any
    rings: tuple[Ring, ...]
    to_lonlat: ToLonLat
    unit: DistanceUnit = "metric"
    places: tuple[NamedArea, ...] = ()


@dataclass(frozen=True, slots=True)
class PlanDrawings:
    """The whole lake, and the runs in their order."""

    overview: Drawing
    runs: tuple[Drawing, ...]


def plan_drawings(plan: FieldPlan, ground: PlanGround, paper: Literal["a4", "letter"] = "a4") -> PlanDrawings:
    """Draw the maps of a plan for a field sheet on this paper."""
    width_mm, room_mm = _PAPER[paper]
    needed_mm = [row_mm(len(run.stations)) * len(run.stations) for run in plan.runs]
    heights = [min(_TALLEST_MM, max(_LOWEST_MM, room_mm - rows_mm)) for rows_mm in needed_mm]
    runs = tuple(run_map(run, plan, ground, width_mm, tall) for run, tall in zip(plan.runs, heights, strict=True))
    return PlanDrawings(plan_overview(plan, ground, width_mm, _OVERVIEW_MM), runs)


def row_mm(stations: int) -> float:
    """Return the height of a row in a run's table: roomy for cold fingers where there are few."""
    return max(_LEAST_ROW_MM, min(_MOST_ROW_MM, _ROWS_MM / max(stations, 1)))


def span_line(span: ShoreSpan, rings: Iterable[Ring]) -> LineString:
    """Return a span's line, metric."""
    ring = next(ring for ring in rings if ring.id == span.ring)
    return substring(ring.line, span.from_m, span.to_m)


def run_map(run: Run, plan: FieldPlan, ground: PlanGround, width_mm: float, height_mm: float) -> Drawing:
    """Return the map of one run: its legs, its stations numbered in order, their views and the shore they show."""
    shown = [span_line(span, ground.rings) for station in run.stations for span in station.shows]
    legs = _legs([run], plan)
    entries = [
        Entry(say("plan-key-shore"), lines=("reach",)),
        Entry(say("plan-key-leg"), lines=("leader",)),
        Entry(say("plan-key-station"), dot="camera"),
    ]
    foot_mm = legend_height_mm(entries, width_mm)
    middle = shapely.GeometryCollection([*shown, *legs]).envelope
    bounds = middle.union(middle.centroid.buffer(_LEAST_WIDTH_M / 2)).bounds
    frame = frame_filling(bounds, width_mm, height_mm - foot_mm, margin_mm=_MARGIN_MM)
    sheet = Sheet(frame, ground.water, ground.rings)
    sheet.put("reach", line("reach-halo", frame.cut_lines(shown)) + line("reach", frame.cut_lines(shown)))
    sheet.put_lines("views", [("leader", frame.cut_lines(legs))])
    # The launch point takes its paper before the dots, so that none stands on it.
    sheet.put("cameras", _launch(sheet, plan))
    sheet.cameras([(s.number, _photo(s, plan.rules)) for s in run.stations], ground.to_lonlat)
    sheet.board.take(*(leg.buffer(0.3) for leg in shapely.get_parts(frame.cut_lines(legs))))
    sheet.shore()
    sheet.furniture(ground.unit, ground.to_lonlat)
    sheet.places(ground.places, beside=True)
    sheet.put("legend", legend(entries, (0.0, frame.height_mm), width_mm))
    return sheet.finish(f"run-{run.number:02d}", _run_alt(run, plan, ground.unit), ground.to_lonlat, foot_mm)


def plan_overview(plan: FieldPlan, ground: PlanGround, width_mm: float, height_mm: float) -> Drawing:
    """Return the map of the whole plan: every run's legs with its number, the shore they show, and what is left."""
    shown = [span_line(span, ground.rings) for station in plan.stations for span in station.shows]
    left = [span_line(item.span, ground.rings) for item in plan.left]
    entries = _overview_entries(plan)
    foot_mm = legend_height_mm(entries, width_mm)
    bounds = shapely.GeometryCollection([ground.water, *_legs(plan.runs, plan)]).bounds
    frame = frame_filling(bounds, width_mm, height_mm - foot_mm, margin_mm=7.0)
    sheet = Sheet(frame, ground.water, ground.rings)
    sheet.shore("shore-thin")
    cut = frame.cut_lines(left)
    sheet.put("reach", tuple(shape for style in _LEFT_STYLES for shape in line(style, cut)))
    sheet.put("reach", line("reach", frame.cut_lines(shown)))
    sheet.put_lines("views", [("leader", frame.cut_lines(_legs(plan.runs, plan)))])
    sheet.put("cameras", _launch(sheet, plan) + _small_stations(sheet, plan))
    for run in plan.runs:
        sheet.put("cameras", _run_plate(sheet, run, frame))
    sheet.furniture(ground.unit, ground.to_lonlat)
    sheet.places(ground.places, beside=True)
    sheet.put("legend", legend(entries, (0.0, frame.height_mm), width_mm))
    return sheet.finish("plan", _overview_alt(plan, ground.unit), ground.to_lonlat, foot_mm)


def _overview_entries(plan: FieldPlan) -> list[Entry]:
    entries = [Entry(say("plan-key-shown"), lines=("reach",))] if plan.runs else []
    entries += [Entry(say("plan-key-station-run"), dot="camera-small", plate="2")] if plan.runs else []
    entries += [Entry(say("plan-key-left"), lines=_LEFT_STYLES)] if plan.left else []
    return entries


def _legs(runs: Iterable[Run], plan: FieldPlan) -> list[LineString]:
    launch = plan.rules.launch
    return [LineString([launch, *(station.at for station in run.stations), launch]) for run in runs]


def _photo(station: Station, rules: PlanRules) -> Photo:
    """Return the station as the photo it asks for, so that the maps draw it as they draw every camera."""
    camera = plan_camera(station.at, Aim(station.height_m, station.pitch_deg), 0.0, rules)
    return planned_photo(camera, station.heading_deg_true, station.lonlat)


def _launch(sheet: Sheet, plan: FieldPlan) -> tuple[Shape, ...]:
    """Mark the launch point, with its name where there is room."""
    at = sheet.frame.point_mm(plan.rules.launch)
    sheet.board.take(Point(at).buffer(_LAUNCH_MM / 2 + 0.4))
    mark = dots("camera-halo", [at], _LAUNCH_MM + 0.8) + dots("bed", [at], _LAUNCH_MM)
    name = plan.rules.launch_name
    for away, turn in product((1.0, 1.6, 2.4, 3.4), (90, 270, 0, 180, 45, 315, 135, 225)):
        words = _beside(name, at, turn, away)
        paper = text_box(name, words, _LAUNCH_TEXT_MM)
        if sheet.board.is_free(paper, apart_mm=0.3):
            sheet.board.write(paper)
            return (*mark, text("tile", name, words, _LAUNCH_TEXT_MM))
    return mark


def _beside(words: str, at: tuple[float, float], turn_deg: float, away: float) -> tuple[float, float]:
    """Baseline of words that stand clear of a dot on one side of it."""
    half_mm = text_box(words, (0, 0), _LAUNCH_TEXT_MM).bounds[2]
    x = at[0] + math.sin(math.radians(turn_deg)) * (half_mm + _LAUNCH_MM * away)
    return baseline_below((x, at[1] - math.cos(math.radians(turn_deg)) * _LAUNCH_MM * 1.4 * away), _LAUNCH_TEXT_MM)


def _small_stations(sheet: Sheet, plan: FieldPlan) -> tuple[Shape, ...]:
    places = [sheet.frame.point_mm(station.at) for station in plan.stations]
    sheet.board.take(*(Point(place).buffer(_STATION_MM * 0.6) for place in places))
    return dots("camera-small", places, _STATION_MM)


def _run_plate(sheet: Sheet, run: Run, frame: Frame) -> tuple[Shape, ...]:
    """Write a run's number near the middle of its stations, on the first free paper about them."""
    stations = [frame.point_mm(station.at) for station in run.stations]
    middle = stations[len(stations) // 2]
    words = str(run.number)
    spots = [_ring_spot(at, radius, turn) for radius in (3.0, 4.5, 6.0) for at in [middle, *stations]
             for turn in range(0, 360, 45)]  # fmt: skip
    free = (spot for spot in spots if sheet.board.is_free(plate_paper(words, spot), apart_mm=0.3))
    spot = next(free, middle)
    sheet.board.write(plate_paper(words, spot), 0.0)
    return plate(words, spot)


def _ring_spot(at: tuple[float, float], radius: float, turn_deg: float) -> tuple[float, float]:
    angle = math.radians(turn_deg)
    return at[0] + radius * math.sin(angle), at[1] - radius * math.cos(angle)


def _run_alt(run: Run, plan: FieldPlan, unit: DistanceUnit) -> str:
    """Say the run in words: each station by distance and direction from the one before."""
    way = [plan.rules.launch, *(station.at for station in run.stations)]
    stations = [
        say(
            "plan-map-station",
            number=station.number,
            leg=leg_words(before, station.at, unit),
            way=compass_words(station.heading_deg_true, 8),
        )
        for before, station in zip(way, run.stations, strict=False)
    ]
    return say("plan-map-run", run=run.number, launch=plan.rules.launch_name, stations=" ".join(stations))


def leg_words(before: PointM, at: PointM, unit: DistanceUnit) -> str:
    """Say a leg's length and direction: `120 m north-east`."""
    turn = math.degrees(math.atan2(at.x_m - before.x_m, at.y_m - before.y_m))
    return say("plan-leg", distance=distance_words(math.dist(before, at), unit), way=compass_words(turn, 8))


def _overview_alt(plan: FieldPlan, unit: DistanceUnit) -> str:
    launch, launch_name = plan.rules.launch, plan.rules.launch_name
    runs = [
        say(
            "plan-map-first",
            run=run.number,
            stations=say("plan-stations", count=len(run.stations)),
            leg=leg_words(launch, run.stations[0].at, unit),
            launch=launch_name,
        )
        for run in plan.runs
    ]
    told = say("plan-map", count=len(plan.runs), runs=" ".join(runs))
    left_m = sum(item.span.length_m for item in plan.left)
    return say("plan-map-left", map=told, length=distance_words(left_m, unit)) if left_m else told
