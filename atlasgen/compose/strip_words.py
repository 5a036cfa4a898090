"""What is written along a strip chart: names over it, numbers under it, reasons in it, and all of it in words."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import groupby, pairwise

import numpy as np
from shapely import LineString, MultiLineString

from atlasgen.compose.drawing import line, text
from atlasgen.compose.lettering import RISE, Board, text_box, text_width_mm
from atlasgen.compose.strip_lanes import TICK_MM, month_span_words
from atlasgen.compose.strip_layout import AXIS_UNIT_M, Span, StripShore, number_step_m
from atlasgen.model import Reach, Shape
from atlasgen.model.states import SHORE_STATES, PieceStates
from atlasgen.model.wording import number_text, say
from atlasgen.units import DistanceUnit, count_words, distance_words, number_words, percent_words

AXIS_MM = 4.6
_NAME_MM = 2.5
_LINE_MM = 3.2  # from one line of names to the next
_STEPS = 12  # places along its shore where a name is tried
_LONGEST_GAPS = 3


def runs_along(shore: StripShore, span: Span, key: Callable[[Reach], str]) -> Iterator[tuple[str, float, float]]:
    """Yield what neighbouring reaches share, and from where to where the span shows it, in order."""
    own = (reach for reach in shore.reaches if reach.ring == shore.pieces.rings[span.ring])
    for value, run in groupby(own, key):
        members = list(run)
        from_m, to_m = max(span.from_m, members[0].from_m), min(span.to_m, members[-1].to_m)
        if to_m > from_m + 1e-6:
            yield value, from_m, to_m


def ring_names(shore: StripShore, spans: Sequence[Span], rule_mm: float, board: Board) -> tuple[Shape, ...]:
    """Name each ring where it starts, above the names of waters if one of these begins there."""
    runs = [run for span in spans for run in _places_mm(shore, span)]
    shapes: tuple[Shape, ...] = ()
    for span in spans:
        name = shore.ring_name(span.ring, continued=span.from_m > 0)
        if name:
            right = span.left_mm + text_width_mm(name, _NAME_MM)
            over_a_place = any(a < right + 1 and b > span.left_mm for _, a, b in runs)
            at = (span.left_mm, _baselines_mm(rule_mm)[over_a_place])
            paper = text_box(name, at, _NAME_MM, "strip-ring")
            if board.is_free(paper):
                board.take(paper.buffer(0.8))
                shapes += (text("strip-ring", name, at, _NAME_MM),)
    return shapes


def place_names(shore: StripShore, spans: Sequence[Span], rule_mm: float, board: Board) -> tuple[Shape, ...]:
    """Write over the shore of each named water its name, with a rule along that shore."""
    ends = (min(span.left_mm for span in spans), max(span.right_mm for span in spans))
    shapes: tuple[Shape, ...] = ()
    for name, left, right in (run for span in spans for run in _places_mm(shore, span)):
        rule = [(left, rule_mm + 0.5), (left, rule_mm), (right, rule_mm), (right, rule_mm + 0.5)]
        shapes += line("strip-place", LineString(rule)) + _name_over(name, (left, right), ends, rule_mm, board)
    return shapes


def _baselines_mm(rule_mm: float) -> tuple[float, float]:
    """Two lines of names over a rule, the nearer first."""
    return rule_mm - 1.0, rule_mm - 1.0 - _LINE_MM


def _places_mm(shore: StripShore, span: Span) -> Iterator[tuple[str, float, float]]:
    """Named waters along a span, and the left and right of their shore on the paper."""
    for name, from_m, to_m in runs_along(shore, span, lambda reach: reach.place):
        left, right = span.x(from_m) + 0.3, span.x(to_m) - 0.3
        if name and right > left:
            yield name, left, right


def _name_over(
    name: str, shore_mm: tuple[float, float], ends_mm: tuple[float, float], rule_mm: float, board: Board
) -> tuple[Shape, ...]:
    """Write a name over the middle of its shore, else as near to it as there is room between the row's ends."""
    half = text_width_mm(name, _NAME_MM) / 2
    middle, reach = sum(shore_mm) / 2, max((shore_mm[1] - shore_mm[0]) / 2, half)
    low = ends_mm[0] + half
    places = np.clip(middle + np.linspace(-reach, reach, 2 * _STEPS + 1), low, max(ends_mm[1] - half, low))
    for x in sorted(places.tolist(), key=lambda x: abs(x - middle)):
        for baseline in _baselines_mm(rule_mm):
            paper = text_box(name, (x, baseline), _NAME_MM)
            if board.is_free(paper, apart_mm=0.7):
                board.take(paper)
                return (text("place", name, (x, baseline), _NAME_MM),)
    return ()


def reasons_along(shore: StripShore, spans: Sequence[Span], y_mm: float, board: Board) -> tuple[Shape, ...]:
    """Write why a bank cannot be photographed at a height where nothing is drawn there, if the words have room."""
    shapes: tuple[Shape, ...] = ()
    for span in spans:
        edges, piece = span.columns(shore.pieces)
        reason = shore.states.reason[piece]
        starts = np.flatnonzero(np.diff(reason, prepend=-2))
        for start, end in zip(starts, [*starts[1:], len(reason)], strict=True):
            words = shore.states.reasons[reason[start]] if reason[start] >= 0 else ""
            at = ((float(edges[start]) + float(edges[end])) / 2, y_mm + RISE * TICK_MM / 2)
            paper = text_box(words, at, TICK_MM)
            if words and board.is_free(paper, apart_mm=0.3):
                board.write(paper)
                shapes += (text("note", words, at, TICK_MM),)
    return shapes


def numbers_along(span: Span, y_mm: float, unit: DistanceUnit, board: Board) -> tuple[Shape, ...]:
    """Rule the foot of a span with ticks and numbers; a ring too short for numbers is told in words."""
    baseline = y_mm + 1.7 + RISE * TICK_MM
    axis = [LineString([(span.left_mm, y_mm), (span.right_mm, y_mm)])]
    step_m = number_step_m(span.metres_per_mm, unit)
    if span.whole and span.ring_length_m < 2 * step_m:
        ends = [LineString([(x, y_mm), (x, y_mm + 1.1)]) for x in (span.left_mm, span.right_mm)]
        return line("strip-axis", MultiLineString(axis + ends)) + _round_words(span, baseline, unit, board)
    small_m = step_m / (4 if f"{step_m / AXIS_UNIT_M[unit][0]:e}".startswith("2") else 5)
    axis += [_tick(span, at_m, y_mm, 0.6) for at_m in _round_chainages(span, small_m)]
    axis += [_tick(span, at_m, y_mm, 1.1) for at_m in _round_chainages(span, step_m)]
    shapes = line("strip-axis", MultiLineString(axis))
    for at_m in _round_chainages(span, step_m):
        words = chainage_words(at_m, unit)
        at = (span.x(at_m), baseline)
        paper = text_box(words, at, TICK_MM)
        if board.is_free(paper, apart_mm=0.8):
            board.take(paper)
            shapes += (text("tick", words, at, TICK_MM),)
    return shapes


def _round_words(span: Span, baseline_mm: float, unit: DistanceUnit, board: Board) -> tuple[Shape, ...]:
    """Tell the length of a short ring under it, or beside that place if it is taken."""
    words = say("strip-round", length=distance_words(span.ring_length_m, unit))
    half = text_width_mm(words, TICK_MM) / 2
    for x in (max((span.left_mm + span.right_mm) / 2, span.left_mm + half), span.right_mm + half + 1.0):
        paper = text_box(words, (x, baseline_mm), TICK_MM)
        if board.is_free(paper, apart_mm=0.8):
            board.take(paper)
            return (text("tick", words, (x, baseline_mm), TICK_MM),)
    return ()


def _tick(span: Span, at_m: float, y_mm: float, long_mm: float) -> LineString:
    return LineString([(span.x(at_m), y_mm), (span.x(at_m), y_mm + long_mm)])


def _round_chainages(span: Span, step_m: float) -> list[float]:
    """Round chainages within a span, and the ring's end if it ends here."""
    first, last = math.ceil((span.from_m - 1e-6) / step_m), math.floor((span.to_m + 1e-6) / step_m)
    found = [number * step_m for number in range(first, last + 1)]
    ends_here = abs(span.to_m - span.ring_length_m) < 1e-6 and last * step_m < span.to_m - 1e-6
    return [*found, span.to_m] if ends_here else found


def chainage_words(at_m: float, unit: DistanceUnit) -> str:
    """Return a chainage as it is numbered along the shore: `3.4 km`."""
    unit_m, short = AXIS_UNIT_M[unit]
    return f"{number_text(round(at_m / unit_m, 2))} {short}"


def strip_alt(shore: StripShore, spans: Sequence[Span], blocks: int) -> str:
    """Tell what the chart shows, for those who cannot see it: how much in which state, by kind, and the gaps."""
    unit, states = shore.distance_unit, shore.states
    shown = _shown(shore, spans)
    length_m = float((shore.pieces.to_m - shore.pieces.from_m)[shown].sum())
    rings = dict.fromkeys(span.ring for span in spans)
    chart = "strip-chart" if blocks == 1 else "strip-chart-part"
    parts = [
        say(chart, length=distance_words(length_m, unit), rings=_rings_words(shore, spans, rings)),
        say("strip-all", shares=_states_words(shore, states.all, shown)),
        say("strip-aerial", shares=_states_words(shore, states.aerial, shown)),
        say("strip-shore", shares=_states_words(shore, states.shore, shown)),
    ]
    return " ".join(parts + _facts_words(states.all, shown) + _gaps_words(shore, shown))


def _shown(shore: StripShore, spans: Sequence[Span]) -> np.ndarray:
    """Pieces whose middles the spans show."""
    pieces, found = shore.pieces, np.zeros(len(shore.pieces.ring), bool)
    middle = (pieces.from_m + pieces.to_m) / 2
    for span in spans:
        found |= (pieces.ring == span.ring) & (middle >= span.from_m) & (middle < span.to_m + 1e-6)
    return found


def _rings_words(shore: StripShore, spans: Sequence[Span], rings: dict[int, None]) -> str:
    said = []
    for ring in list(rings)[:6]:
        own = [span for span in spans if span.ring == ring]
        ends = [chainage_words(at, shore.distance_unit) for at in (own[0].from_m, own[-1].to_m)]
        said.append(say("strip-ring", ring=_ring_said(shore, ring), start=ends[0], end=ends[1]))
    more, words = len(rings) - len(said), ", ".join(said)
    return say("strip-rings-more", rings=words, count=more) if more else words


def _ring_said(shore: StripShore, ring: int) -> str:
    return shore.ring_name(ring) or say("strip-ring-plain", ring=shore.pieces.rings[ring])


def _states_words(shore: StripShore, states: PieceStates, shown: np.ndarray) -> str:
    length_m = (shore.pieces.to_m - shore.pieces.from_m)[shown]
    metres = np.bincount(states.state[shown], length_m, len(SHORE_STATES))
    shares = metres / max(metres.sum(), 1e-9)
    return ", ".join(
        say("state-share", state=state, share=percent_words(float(share)))
        for state, share in zip(SHORE_STATES, shares, strict=True)
        if share > 0
    )


def _facts_words(states: PieceStates, shown: np.ndarray) -> list[str]:
    seen = shown & (states.photos > 0)
    if not seen.any():
        return []
    most, finest_cm = int(states.photos[seen].max()), float(np.nanmin(states.best_gsd_cm[seen]))
    words = [say("strip-most", count=count_words(most), gsd=number_words(finest_cm, 1))]
    if np.isfinite(states.newest_s[seen]).any():
        words.append(say("strip-newest", months=month_span_words(states.newest_s[seen])))
    return words


def _gaps_words(shore: StripShore, shown: np.ndarray) -> list[str]:
    """Name the longest stretches without a photograph."""
    bare = shown & (shore.states.all.state == SHORE_STATES.index("none"))
    turns = np.diff(np.concatenate([[0], np.where(bare, shore.pieces.ring + 1, 0), [0]]))
    edges = np.flatnonzero(turns)
    runs = [(a, b) for a, b in pairwise(edges) if bare[a]]
    longest = sorted(runs, key=lambda run: -(shore.pieces.to_m[run[1] - 1] - shore.pieces.from_m[run[0]]))
    said = []
    for a, b in longest[:_LONGEST_GAPS]:
        name = _ring_said(shore, int(shore.pieces.ring[a]))
        start, end = (
            chainage_words(at, shore.distance_unit) for at in (shore.pieces.from_m[a], shore.pieces.to_m[b - 1])
        )
        said.append(say("strip-gap", ring=name, start=start, end=end))
    return [say("strip-gaps", gaps="; ".join(said))] if said else []
