"""The lanes of a strip chart: how well each bank is photographed, by how many, how finely, when; and its water."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import groupby
from typing import Any

import numpy as np
from shapely import LineString, MultiLineString, MultiPolygon, Polygon, box

from atlasgen.compose.drawing import area, line, nice_step, text
from atlasgen.compose.lettering import RISE, Board, text_box, text_width_mm
from atlasgen.compose.strip_layout import Span, StripShore
from atlasgen.model import Shape
from atlasgen.model.states import SHORE_STATES, PieceStates, ShoreState
from atlasgen.model.wording import number_text, say
from atlasgen.units import DEPTH_UNIT_M, distance_words, month_words

STATE_MM = 2.8
TICK_MM = 2.1
_WATER_SHADE = 0.35
_LOW_MM, _MID_MM, _HIGH_MM = 3.0, 5.0, 5.6
_GAP_MM = 1.5
# Two numbers of an axis this close to each other would touch.
_APART_MM = 2.5
_DAY_S = 86_400.0
_ROUND_CM = tuple(m * 10.0**power for power in range(-1, 4) for m in (1, 2, 5))


@dataclass(frozen=True, slots=True)
class Lane:
    """One line of facts along the shore; `ticks` are words and how far up the lane they stand, 0 to 1.

    `draw` takes a span, the lane's top in mm and the board. `empty_where_none`: nothing is drawn where no photo is.
    """

    name: str
    height_mm: float
    ticks: tuple[tuple[str, float], ...]
    draw: Callable[[Span, float, Board], tuple[Shape, ...]]
    gap_mm: float = _GAP_MM
    empty_where_none: bool = False


def lanes_of(shore: StripShore) -> tuple[Lane, ...]:
    """Return the lanes that the facts at hand fill, from the top down."""
    photographed = bool(shore.states.all.photos.any())
    lanes = [
        state_lane(say("strip-lane-air"), shore, shore.states.aerial, gap_mm=0.9),
        state_lane(say("strip-lane-shore"), shore, shore.states.shore),
        _count_lane(shore),
    ]
    lanes += [_detail_lane(shore)] if photographed else []
    lanes += [_newest_lane(shore)] if np.isfinite(shore.states.all.newest_s).any() else []
    depth_m, coverage = _known_values(shore.depth_m), _known_values(shore.coverage)
    lanes += [] if depth_m is None else [_depth_lane(shore, depth_m)]
    lanes += [] if coverage is None else [_coverage_lane(shore, coverage)]
    return tuple(lanes)


def _known_values(values: np.ndarray | None) -> np.ndarray | None:
    """Return values by piece if any of them is known, else None."""
    return None if values is None or not np.isfinite(values).any() else values


def state_lane(name: str, shore: StripShore, states: PieceStates, gap_mm: float = _GAP_MM) -> Lane:
    """Return the lane of photo states, colour and pattern as in its legend."""

    def draw(span: Span, top_mm: float, board: Board) -> tuple[Shape, ...]:
        edges, piece = span.columns(shore.pieces)
        return _state_band(edges, states.state[piece], top_mm + STATE_MM / 2)

    return Lane(name, STATE_MM, (), draw, gap_mm)


def _state_band(edges_mm: np.ndarray, state: np.ndarray, y_mm: float) -> tuple[Shape, ...]:
    """Draw a band of states."""
    left, right = float(edges_mm[0]), float(edges_mm[-1])
    shapes = line("strip-bed", LineString([(left, y_mm), (right, y_mm)]))
    for number, name in enumerate(SHORE_STATES):
        runs = MultiLineString([[(a, y_mm), (b, y_mm)] for a, b in _runs(edges_mm, state == number)])
        for style in state_styles(name)[2:]:
            shapes += line(style, runs)
    # A drawn frame stays even on a coarse screen, where the rim of a thick line is lost on one side.
    frame = box(left, y_mm - STATE_MM / 2, right, y_mm + STATE_MM / 2)
    return shapes + line("strip-axis", frame)


def state_styles(state: ShoreState) -> tuple[str, ...]:
    """Return the styles of the lines that show a state, from the bottom up."""
    ground = ("strip-edge", "strip-bed")
    if state == "none":
        return ground
    # Gaps of a broken band must not look like bank without a photograph.
    pale = ("strip-poorly-bed",) if state == "poorly" else ()
    return (*ground, *pale, f"strip-{state}")


def _runs(edges_mm: np.ndarray, chosen: np.ndarray) -> Iterator[tuple[float, float]]:
    """Left and right of each run of chosen columns."""
    turns = np.flatnonzero(np.diff(np.concatenate([[False], chosen, [False]]).astype(int)))
    yield from ((float(edges_mm[a]), float(edges_mm[b])) for a, b in zip(turns[::2], turns[1::2], strict=True))


def _dashes(edges_mm: np.ndarray, y_mm: np.ndarray) -> MultiLineString:
    """Return a level line for each run of columns of one known height; without uprights, which would shout."""
    starts = np.flatnonzero(np.concatenate([[True], y_mm[1:] != y_mm[:-1]]) & np.isfinite(y_mm))
    ends = [start + int(np.argmax(np.append(y_mm[start:] != y_mm[start], True))) for start in starts]
    return MultiLineString(
        [[(edges_mm[a], y_mm[a]), (edges_mm[b], y_mm[a])] for a, b in zip(starts, ends, strict=True)]
    )


def _steps(edges_mm: np.ndarray, y_mm: np.ndarray) -> list[LineString]:
    """Return the outline of columns, one line for each run of known heights."""
    found = []
    for is_known, run in groupby(range(len(y_mm)), lambda n: bool(np.isfinite(y_mm[n]))):
        if is_known:
            columns = list(run)
            xs = np.repeat(edges_mm[columns[0] : columns[-1] + 2], 2)[1:-1]
            found.append(LineString(np.column_stack([xs, np.repeat(y_mm[columns], 2)])).simplify(0.005))
    return found


def _filled(outlines: Iterable[LineString], base_mm: float) -> MultiPolygon:
    """Return the areas between outlines and a level."""
    areas = []
    for outline in outlines:
        first, last = outline.coords[0], outline.coords[-1]
        shape = Polygon([(first[0], base_mm), *outline.coords, (last[0], base_mm)]).buffer(0)
        areas += [part for part in getattr(shape, "geoms", [shape]) if part.area > 0]
    return MultiPolygon(areas)


def _rules(span: Span, *heights_mm: float, style: str = "grid") -> tuple[Shape, ...]:
    return line(style, MultiLineString([[(span.left_mm, y), (span.right_mm, y)] for y in heights_mm]))


def _count_lane(shore: StripShore) -> Lane:
    """How many photos show each bank, as a skyline; where none can be taken, the reason stands in its place."""
    photos = shore.states.all.photos
    most = max(2, int(photos.max(initial=0)))
    top = math.ceil(most / nice_step(most, 4)) * nice_step(most, 4) if most > 4 else most
    height = _MID_MM

    def draw(span: Span, top_mm: float, board: Board) -> tuple[Shape, ...]:
        edges, piece = span.columns(shore.pieces)
        base = top_mm + height
        up = np.where(photos[piece] > 0, base - photos[piece] / top * height, np.nan)
        outline = _steps(edges, up)
        filled = _filled(outline, base)
        board.take(*filled.geoms)
        return _rules(span, base) + area("strip-photos", filled) + line("strip-camera", MultiLineString(outline))

    ticks = (("0", 0.0), (f"{top:.0f}", 1.0))
    return Lane(say("strip-lane-count"), height, ticks, draw, empty_where_none=True)


def _detail_lane(shore: StripShore) -> Lane:
    """Finest GSD on a logarithmic axis, finer is higher, with the limit across."""
    gsd_cm, limit_cm, height = shore.states.all.best_gsd_cm, shore.states.rules.gsd_limit_cm, _HIGH_MM
    known = gsd_cm[np.isfinite(gsd_cm) & (gsd_cm > 0)]
    fine, coarse = min(known.min(), limit_cm / 2), min(max(known.max(), limit_cm * 2), limit_cm * 100)

    def share(value_cm: Any) -> Any:
        low, high = np.log(coarse * 1.1), np.log(fine / 1.1)
        return np.clip((np.log(value_cm) - low) / (high - low), 0, 1)

    def draw(span: Span, top_mm: float, board: Board) -> tuple[Shape, ...]:
        edges, piece = span.columns(shore.pieces)
        base = top_mm + height
        finest = _dashes(edges, base - share(gsd_cm[piece]) * height)
        limit = _rules(span, float(base - share(limit_cm) * height), style="strip-limit")
        return _rules(span, base) + limit + line("strip-level", finest)

    rounds = [cm for cm in _ROUND_CM if fine <= cm <= coarse]
    ticks = _spread([limit_cm, *rounds[:1], *rounds[-1:], *rounds], share, height)
    words = tuple((number_text(cm), float(share(cm))) for cm in ticks)
    return Lane(say("strip-lane-detail"), height, words, draw)


def _spread(wanted: Sequence[float], share: Callable[[Any], Any], height_mm: float) -> list[float]:
    """Return the wanted values whose words have room, those that come first having the first say."""
    kept: list[float] = []
    for value in wanted:
        if all(abs(share(value) - share(other)) * height_mm >= _APART_MM for other in kept):
            kept.append(value)
    return kept


def _newest_lane(shore: StripShore) -> Lane:
    """When the newest photo of each bank was taken, between the months of the oldest of these and of the newest."""
    newest_s, height = shore.states.all.newest_s, _MID_MM
    known = newest_s[np.isfinite(newest_s)]
    low_s, high_s = _month_start_s(float(known.min())), _month_end_s(float(known.max()))
    limit_s = (shore.states.reference_s or high_s) - shore.states.rules.age_limit_days * _DAY_S

    def share(time_s: Any) -> Any:
        return (time_s - low_s) / (high_s - low_s)

    def draw(span: Span, top_mm: float, board: Board) -> tuple[Shape, ...]:
        edges, piece = span.columns(shore.pieces)
        base = top_mm + height
        newest = _dashes(edges, base - share(newest_s[piece]) * height)
        limit = _rules(span, base - share(limit_s) * height, style="strip-limit") if low_s < limit_s < high_s else ()
        return _rules(span, base) + limit + line("strip-level", newest)

    words = [_month_words(low_s), _month_words(float(known.max()))]
    ticks = tuple(zip(words, (0.0, 1.0), strict=True)) if words[0] != words[1] else ((words[0], 0.5),)
    return Lane(say("strip-lane-newest"), height, ticks, draw)


def _month_start_s(time_s: float) -> float:
    return datetime.fromtimestamp(time_s, UTC).replace(day=1, hour=0, minute=0, second=0, microsecond=0).timestamp()


def _month_end_s(time_s: float) -> float:
    return _month_start_s((datetime.fromtimestamp(_month_start_s(time_s), UTC) + timedelta(days=32)).timestamp())


def _month_words(time_s: float) -> str:
    return month_words(datetime.fromtimestamp(time_s, UTC))


def month_span_words(times_s: np.ndarray) -> str:
    """Return the months from the first to the last time: `Apr 2025 to May 2026`, or one month."""
    first, last = (_month_words(float(time_s)) for time_s in (np.nanmin(times_s), np.nanmax(times_s)))
    return first if first == last else say("strip-months", first=first, last=last)


def _depth_lane(shore: StripShore, depth_m: np.ndarray) -> Lane:
    """Depth off the bank, hanging from the water's surface; open where it is not known."""
    unit_m, height = DEPTH_UNIT_M[shore.depth_unit], _HIGH_MM
    deepest = max(float(np.nanmax(depth_m)) / unit_m, 1.0)
    step = nice_step(deepest, 4)
    bottom = math.ceil(deepest / step - 1e-9) * step
    name = say("strip-lane-depth", distance=distance_words(shore.off_bank_m, shore.distance_unit))

    def draw(span: Span, top_mm: float, board: Board) -> tuple[Shape, ...]:
        edges, piece = span.columns(shore.pieces)
        bed = _steps(edges, top_mm + np.clip(depth_m[piece] / (bottom * unit_m), 0, 1) * height)
        unknown = _unknown_words(_runs(edges, ~np.isfinite(depth_m[piece])), top_mm + height / 2, board)
        water = area("bed-water", _filled(bed, top_mm), _WATER_SHADE)
        rules = _rules(span, top_mm, style="strip-place")
        return water + rules + line("strip-depth", MultiLineString(bed)) + unknown

    return Lane(name, height, ((say("units-length", number=number_text(bottom), unit=shore.depth_unit), 0.0),), draw)


def _unknown_words(runs: Iterable[tuple[float, float]], y_mm: float, board: Board) -> tuple[Shape, ...]:
    """Say `not known` in each run that has room for it."""
    words = say("words-not-known")
    shapes: tuple[Shape, ...] = ()
    for left, right in runs:
        at = ((left + right) / 2, y_mm + RISE * TICK_MM / 2)
        paper = text_box(words, at, TICK_MM)
        if right - left >= text_width_mm(words, TICK_MM) + 2 and board.is_free(paper):
            board.write(paper)
            shapes += (text("note", words, at, TICK_MM),)
    return shapes


def _coverage_lane(shore: StripShore, coverage: np.ndarray) -> Lane:
    """How much of the water off each bank is surveyed, as a share of the lane's height."""
    height = _LOW_MM

    def draw(span: Span, top_mm: float, board: Board) -> tuple[Shape, ...]:
        edges, piece = span.columns(shore.pieces)
        base = top_mm + height
        filled = _filled(_steps(edges, base - coverage[piece] * height), base)
        frame = line("grid", box(span.left_mm, top_mm, span.right_mm, base))
        return frame + area("strip-sounded", filled)

    return Lane(say("strip-lane-sounded"), height, (("100 %", 1.0),), draw)
