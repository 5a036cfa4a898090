"""The maps: a page's locator, a chart tile, the whole lake, and how each part was surveyed. All inputs are metric."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby
from typing import Any

import shapely
from shapely import LineString, MultiPoint, Point, box

from atlasgen.compose.drawing import Frame, ToLonLat, dots, frame_around, frame_filling, line
from atlasgen.compose.legend import STATES, Entry, legend, legend_height_mm, sign_entries, state_name
from atlasgen.compose.map_words import locator_alt, overview_alt, source_alt, tile_alt
from atlasgen.compose.page_chips import chips_on
from atlasgen.compose.sheet import Sheet
from atlasgen.compose.tile_labels import label_tiles
from atlasgen.compose.views import viewed
from atlasgen.model import DepthBand, Drawing, Isobath, NamedArea, Photo, Reach, Ring, Shape, ShoreState, View
from atlasgen.model.landmarks import Landmark
from atlasgen.model.wording import say
from atlasgen.units import DepthUnit, DistanceUnit

# A camera farther from the reach than this is shown by an arrow; the map would otherwise lose the reach. Ours.
FAR_M = 600.0
_LEAST_WIDTH_M = 250.0
_BANK_M = 45.0  # water and land shown about the reach at least
_CAMERA_MM = 0.9


def _dry() -> Entry:
    return Entry(say("key-dry"), texture="dry")


def _low_water() -> Entry:
    return Entry(say("key-low-water"), lines=("low-water",))


def locator_map(
    id: str,
    *,
    page_reaches: tuple[Reach, ...],
    photos: tuple[tuple[int, Photo], ...],
    water: Any,
    rings: Sequence[Ring],
    isobaths: Sequence[Isobath],
    bands: Sequence[DepthBand],
    to_lonlat: ToLonLat,
    distance_unit: DistanceUnit,
    depth_unit: DepthUnit,
    sounding_points: tuple[Any, Any] | None = None,
    waterlines: Sequence[Any] = (),
    dry: Any = None,
    not_surveyed: Sequence[NamedArea] = (),
    tile_edges: Sequence[NamedArea] = (),
    places: Sequence[NamedArea] = (),
    landmarks: Sequence[Landmark] = (),
    views: Mapping[str, View] | None = None,
    far_m: float = FAR_M,
    width_mm: float = 84.0,
    height_mm: float = 62.0,
) -> Drawing:
    """Return the map beside a page's photos: its reach, its cameras, and the water between.

    `photos` are (number on the page, photo); areas of `not_surveyed`, `tile_edges` (named by tile label) and `places`
    are metric; `sounding_points` are x and y arrays, shown as dots where there is no depth model. `views` by photo id.
    """
    bank = shapely.unary_union([reach.line for reach in page_reaches])
    away = [(number, photo, _distance_m(photo, bank)) for number, photo in photos]
    near = [(number, photo) for number, photo, distance_m in away if distance_m <= far_m]
    frame = _locator_frame(page_reaches, bank, near, width_mm, height_mm)
    sheet = Sheet(frame, water, rings, isobaths=isobaths, bands=bands, dry=dry, depth_unit=depth_unit)
    sheet.reaches(page_reaches)
    sheet.cameras(near, to_lonlat)
    sheet.far_cameras([item for item in away if item[2] > far_m], distance_unit)
    sheet.shore()
    shown = viewed(photos, views or {})
    sheet.views(shown)
    is_seen = sheet.seen(shown, rings)
    signs = sheet.landmarks(landmarks)
    sheet.furniture(distance_unit, to_lonlat)
    sheet.not_surveyed(not_surveyed)
    sheet.tiles(tile_edges)
    sheet.places(places)
    sheet.unknowns()
    sheet.depths()
    sheet.soundings(sounding_points)
    entries = _locator_entries(sheet.has("views"), is_seen)
    entries += [_low_water()] if sheet.waterlines(waterlines) else []
    entries += [_dry()] if not sheet.ground.dry.is_empty else []
    entries += signs
    sheet.put("legend", legend(entries, (0.0, frame.height_mm), width_mm))
    alt = locator_alt(page_reaches, away, bank, frame, sheet.levels, distance_unit, depth_unit, views=views or {})
    return sheet.finish(id, alt, to_lonlat, legend_height_mm(entries, width_mm))


def _locator_entries(is_framed: bool, is_seen: bool) -> list[Entry]:
    entries = [Entry(say("key-reach"), lines=("reach",))]
    entries += [Entry(say("key-shore-shown"), lines=("seen",))] if is_seen else []
    return entries + ([Entry(say("key-water-in-frame"), frame=True)] if is_framed else [])


def _distance_m(photo: Photo, bank: Any) -> float:
    return float(bank.distance(Point(photo.point.x_m, photo.point.y_m)))


def _locator_frame(
    reaches: Iterable[Reach], bank: Any, near: Iterable[tuple[int, Photo]], width_mm: float, height_mm: float
) -> Frame:
    stations = MultiPoint([(photo.point.x_m, photo.point.y_m) for _, photo in near])
    bounds = shapely.unary_union([box(*bank.buffer(_BANK_M).bounds), stations]).bounds
    toward = _mean_bearing_deg(reach.faces_deg for reach in reaches)
    return frame_around(bounds, width_mm, height_mm, least_m=_LEAST_WIDTH_M, margin_mm=5.0, toward_deg=toward)


def _mean_bearing_deg(bearings: Iterable[float]) -> float:
    turns = [math.radians(bearing) for bearing in bearings]
    return math.degrees(math.atan2(sum(map(math.sin, turns)), sum(map(math.cos, turns)))) % 360


def tile_map(
    id: str,
    *,
    tile: NamedArea,
    photos: Sequence[tuple[int, Photo]],
    water: Any,
    rings: Sequence[Ring],
    isobaths: Sequence[Isobath],
    bands: Sequence[DepthBand],
    to_lonlat: ToLonLat,
    distance_unit: DistanceUnit,
    depth_unit: DepthUnit,
    reaches: Sequence[Reach] = (),
    states: Mapping[str, ShoreState] | None = None,
    not_surveyed: Sequence[NamedArea] = (),
    tile_edges: Sequence[NamedArea] = (),
    places: Sequence[NamedArea] = (),
    landmarks: Sequence[Landmark] = (),
    sounding_points: tuple[Any, Any] | None = None,
    waterlines: Sequence[Any] = (),
    dry: Any = None,
    width_mm: float = 170.0,
    height_mm: float = 170.0,
) -> Drawing:
    """Return one chart tile with its cameras; `photos` are (number of the page that prints it, photo)."""
    entries = _state_entries(reaches, states or {})
    entries += [Entry(say("key-camera-page"), dot="camera-small", plate="12")] if photos else []
    entries += [_low_water()] if any(edge.intersects(tile.area) for edge in waterlines) else []
    entries += [_dry()] if dry is not None and dry.intersects(tile.area) else []
    entries += sign_entries(landmarks, tile.area)
    foot_mm = legend_height_mm(entries, width_mm)
    frame = frame_filling(tile.area.bounds, width_mm, height_mm - foot_mm, margin_mm=6.0)
    sheet = Sheet(frame, water, rings, isobaths=isobaths, bands=bands, dry=dry, depth_unit=depth_unit)
    sheet.waterlines(waterlines)
    sheet.put("reach", state_shapes(frame, reaches, states or {}))
    inside = [(page, photo) for page, photo in photos if _is_inside(frame, photo)]
    sheet.put("cameras", _small_cameras(sheet, [photo for _, photo in inside]))
    sheet.shore()
    sheet.put("cameras", chips_on(frame, inside, sheet.board))
    sheet.landmarks([mark for mark in landmarks if tile.area.covers(Point(mark.point))])
    sheet.furniture(distance_unit, to_lonlat)
    sheet.not_surveyed(not_surveyed)
    sheet.tiles((tile, *(other for other in tile_edges if other.name != tile.name)))
    sheet.places(places, beside=True)
    sheet.unknowns()
    sheet.depths()
    sheet.soundings(sounding_points)
    sheet.put("legend", legend(entries, (0.0, frame.height_mm), width_mm))
    alt = tile_alt(tile, inside, frame, sheet.levels, distance_unit, depth_unit)
    return sheet.finish(id, alt, to_lonlat, foot_mm)


def _is_inside(frame: Frame, photo: Photo) -> bool:
    return frame.paper.buffer(-1.0).covers(Point(frame.point_mm(photo.point)))


def _small_cameras(sheet: Sheet, photos: Iterable[Photo]) -> tuple[Shape, ...]:
    stations = [sheet.frame.point_mm(photo.point) for photo in photos]
    sheet.board.take(*(Point(station).buffer(_CAMERA_MM * 0.6) for station in stations))
    return dots("camera-small", stations, _CAMERA_MM)


def overview_map(
    id: str,
    *,
    water: Any,
    rings: Sequence[Ring],
    reaches: Sequence[Reach],
    states: Mapping[str, ShoreState],
    photos: Sequence[Photo],
    tiles: Sequence[NamedArea],
    pages_of_tile: Mapping[str, str],
    to_lonlat: ToLonLat,
    distance_unit: DistanceUnit,
    bands: Sequence[DepthBand] = (),
    dry: Any = None,
    places: Sequence[NamedArea] = (),
    landmarks: Sequence[Landmark] = (),
    width_mm: float = 170.0,
    height_mm: float = 190.0,
) -> Drawing:
    """Return the whole lake: tiles with the pages that show them, the state of each reach, every camera.

    `tiles` are metric and named by label; `pages_of_tile` gives the words under a label, such as `pages 3–9`.
    """
    entries = _state_entries(reaches, states)
    entries += [Entry(say("key-camera"), dot="camera-small")] if photos else []
    entries += [Entry(say("key-tile"), lines=("tile-edge",))] if tiles else []
    entries += [_dry()] if dry is not None and not dry.is_empty else []
    entries += sign_entries(landmarks)
    foot_mm = legend_height_mm(entries, width_mm)
    frame = frame_filling(water.bounds, width_mm, height_mm - foot_mm, margin_mm=14.0)
    sheet = Sheet(frame, water, rings, bands=bands, dry=dry)
    sheet.shore("shore-thin")
    sheet.board.take(sheet.ground.shore.buffer(0.8))
    sheet.put("reach", state_shapes(frame, reaches, states))
    sheet.landmarks(landmarks, named=False)
    sheet.furniture(distance_unit, to_lonlat)
    label_tiles(sheet, tiles, pages_of_tile, MultiPoint([frame.point_mm(photo.point) for photo in photos]))
    sheet.put("cameras", _small_cameras(sheet, photos))
    sheet.places(places, beside=True)
    sheet.put("legend", legend(entries, (0.0, frame.height_mm), width_mm))
    alt = overview_alt(reaches, states, photos, tiles, pages_of_tile, frame, distance_unit)
    return sheet.finish(id, alt, to_lonlat, foot_mm)


def state_shapes(frame: Frame, reaches: Iterable[Reach], states: Mapping[str, ShoreState]) -> tuple[Shape, ...]:
    """Draw the shore as a strip, filled by how well each reach is photographed: colour and pattern say the same."""
    runs = [
        (state, _run_line(run)) for (_, state), run in groupby(reaches, lambda r: (r.ring, states.get(r.id, "none")))
    ]
    everything = frame.cut_lines([run for _, run in runs])
    shapes = line("state-edge", everything) + line("state-bed", everything)
    for state in ("near", "poorly", "well"):
        shapes += line(f"state-{state}", frame.cut_lines([run for name, run in runs if name == state]))
    return shapes


def _run_line(run: Iterable[Reach]) -> LineString:
    """One line along neighbouring reaches, so that a pattern runs on across their ends."""
    return LineString([xy for reach in run for xy in reach.line.coords])


def _state_entries(reaches: Iterable[Reach], states: Mapping[str, ShoreState]) -> list[Entry]:
    used = {states.get(reach.id, "none") for reach in reaches}
    return [Entry(state_name(state), lines=_strip_styles(state)) for state in STATES if state in used]


def _strip_styles(state: str) -> tuple[str, ...]:
    filled = () if state == "none" else (f"state-{state}",)
    return ("state-edge", "state-bed", *filled)


def source_diagram(
    id: str,
    *,
    water: Any,
    rings: Sequence[Ring],
    sounding_lines: Sequence[LineString],
    pass_lines: Sequence[LineString],
    not_surveyed: Sequence[NamedArea],
    to_lonlat: ToLonLat,
    distance_unit: DistanceUnit,
    places: Sequence[NamedArea] = (),
    bounds_m: Sequence[float] | None = None,
    width_mm: float = 170.0,
    height_mm: float = 120.0,
) -> Drawing:
    """Return the map of how each part was surveyed: runs of the boats, and what was left out and why. All metric.

    `bounds_m` (west, south, east, north) is the ground to show; None is the whole lake.
    """
    here = box(*(bounds_m or water.bounds))
    runs = [line for line in sounding_lines if line.intersects(here)]
    passes = [line for line in pass_lines if line.intersects(here)]
    closed = [area for area in not_surveyed if area.area.intersects(here)]
    entries = _source_entries(runs, passes, closed)
    foot_mm = legend_height_mm(entries, width_mm)
    margin_mm = 11.0 if bounds_m is None else 1.0
    frame = frame_filling(bounds_m or water.bounds, width_mm, height_mm - foot_mm, margin_mm=margin_mm)
    sheet = Sheet(frame, water, rings)
    sheet.put_lines("soundings", [("sounding-line", frame.cut_lines(sounding_lines))])
    sheet.put_lines("soundings", [("pass-line", frame.cut_lines(pass_lines))])
    sheet.shore("shore-thin")
    sheet.furniture(distance_unit, to_lonlat)
    sheet.not_surveyed(not_surveyed)
    sheet.places(places, beside=True)
    sheet.put("legend", legend(entries, (0.0, frame.height_mm), width_mm))
    cut = [[line.intersection(here) for line in lines] for lines in (runs, passes)]
    alt = source_alt(cut[0], cut[1], closed, water.intersection(here), distance_unit)
    return sheet.finish(id, alt, to_lonlat, foot_mm)


def _source_entries(soundings: Sequence[Any], passes: Sequence[Any], closed: Sequence[NamedArea]) -> list[Entry]:
    entries = [Entry(say("key-soundings"), lines=("sounding-line",))] if soundings else []
    entries += [Entry(say("key-pass"), lines=("pass-line",))] if passes else []
    entries += [Entry(say("key-not-surveyed"), hatch=True)] if closed else []
    return [*entries, Entry(say("key-no-soundings"), area="water")]
