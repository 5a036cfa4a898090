"""The audit as a map: every metre of the shore in its state, by colour and by the pattern of its line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from shapely import LineString

from atlasgen.compose.drawing import Frame, ToLonLat, area, frame_filling, line, text
from atlasgen.compose.furniture import name_beside
from atlasgen.compose.legend import Entry, legend, legend_height_mm, state_name
from atlasgen.compose.map_words import size_words
from atlasgen.compose.sheet import Sheet
from atlasgen.compose.shore_lines import ShoreLines
from atlasgen.compose.tile_labels import label_tiles
from atlasgen.model import Drawing, NamedArea, Ring, Shape
from atlasgen.model.states import SHORE_STATES, AuditRules, ShoreAudit, ShoreState, StateStretch, StateTotal
from atlasgen.model.wording import say
from atlasgen.units import DistanceUnit, distance_words, number_words

# The bank is drawn this wide about the shoreline, the paper's edge beyond the lake leaves it room.
BAND_MM = 1.9
_MARGIN_MM = 9.0
_SAID = 3
# Lengths are written beside so many stretches, if these are long enough to be found; ours.
_WRITTEN = 8
_LEAST_WRITTEN_MM = 4.0
_WORDS_MM = 2.4
_LIMITS = ("gsd", "angle", "age")


def state_map(
    id: str,
    stretches: Sequence[StateStretch],
    total: StateTotal,
    *,
    water: Any,
    rings: Sequence[Ring],
    to_lonlat: ToLonLat,
    distance_unit: DistanceUnit,
    tiles: Sequence[NamedArea] = (),
    places: Sequence[NamedArea] = (),
    width_mm: float = 170.0,
    height_mm: float = 205.0,
) -> Drawing:
    """Return the whole lake with each metre of shore in its state; the legend gives each state's length.

    `water`, `tiles` (named by label) and `places` are metric.
    """
    entries = [*_entries(total, distance_unit)]
    foot_mm = legend_height_mm(entries, width_mm)
    frame = frame_filling(water.bounds, width_mm, height_mm - foot_mm, margin_mm=_MARGIN_MM)
    sheet = Sheet(frame, water, rings)
    sheet.put("ground", area("audit-water", sheet.ground.water))
    sheet.board.take(sheet.ground.shore.buffer(BAND_MM / 2 + 0.3))
    sheet.put("reach", band_shapes(frame, stretches, ShoreLines(rings)))
    sheet.furniture(distance_unit, to_lonlat)
    sheet.put("names", _gap_words(sheet, stretches, ShoreLines(rings), distance_unit))
    label_tiles(sheet, tiles, {})
    sheet.places(places, beside=True)
    sheet.put("legend", legend(entries, (0.0, frame.height_mm), width_mm))
    return sheet.finish(id, state_alt(stretches, total, frame, distance_unit), to_lonlat, foot_mm)


def band_shapes(frame: Frame, stretches: Sequence[StateStretch], lines: ShoreLines) -> tuple[Shape, ...]:
    """Draw the shore as a band in ink filled by state; what has no photograph stays open, as on the strip chart."""
    drawn = {state: frame.cut_lines(_lines_of(state, stretches, lines)) for state in SHORE_STATES}
    everything = frame.cut_lines([lines.line(s.ring, s.from_m, s.to_m) for s in stretches])
    shapes = line("audit-edge", everything) + line("audit-bed", everything)
    for state in reversed(SHORE_STATES):
        for style in band_styles(state)[2:]:
            shapes += line(style, drawn[state])
    return shapes


def band_styles(state: ShoreState) -> tuple[str, ...]:
    """Return the styles of the lines that show a state, from the bottom up."""
    ground = ("audit-edge", "audit-bed")
    # Gaps of a broken band must not look like bank without a photograph.
    pale = ("audit-poorly-bed",) if state == "poorly" else ()
    return ground if state == "none" else (*ground, *pale, f"audit-{state}")


def _gap_words(
    sheet: Sheet, stretches: Sequence[StateStretch], lines: ShoreLines, unit: DistanceUnit
) -> tuple[Shape, ...]:
    """Write beside each of the longest stretches without a photograph how long it is."""
    shapes: tuple[Shape, ...] = ()
    for stretch in _longest_bare(stretches, _WRITTEN):
        drawn = sheet.frame.cut_lines([lines.line(stretch.ring, stretch.from_m, stretch.to_m)])
        words = distance_words(stretch.length_m, unit)
        if drawn.length >= _LEAST_WRITTEN_MM:
            middle = drawn.interpolate(0.5, normalized=True).buffer(BAND_MM / 2)
            name = name_beside(words, middle, sheet.frame.paper, sheet.board, _WORDS_MM)
            shapes += (text("reason", words, name.at, _WORDS_MM),) if name else ()
    return shapes


def _longest_bare(stretches: Sequence[StateStretch], most: int) -> list[StateStretch]:
    bare = (stretch for stretch in stretches if stretch.state == "none")
    return sorted(bare, key=lambda s: (-s.length_m, s.ring, s.from_m))[:most]


def _lines_of(state: ShoreState, stretches: Sequence[StateStretch], lines: ShoreLines) -> list[LineString]:
    """Lines of the stretches in a state; those that follow each other are one, so that a pattern runs on."""
    found: list[tuple[str, float, float]] = []
    for stretch in (s for s in stretches if s.state == state):
        if found and found[-1][0] == stretch.ring and math.isclose(found[-1][2], stretch.from_m, abs_tol=1e-6):
            found[-1] = (stretch.ring, found[-1][1], stretch.to_m)
        else:
            found.append((stretch.ring, stretch.from_m, stretch.to_m))
    return [lines.line(*run) for run in found]


def _entries(total: StateTotal, unit: DistanceUnit) -> list[Entry]:
    return [
        Entry(_amount("state-length", total, state, unit), lines=band_styles(state))
        for state in SHORE_STATES
        if total.lengths_m[state]
    ]


def _amount(message: str, total: StateTotal, state: ShoreState, unit: DistanceUnit) -> str:
    length, percent = distance_words(total.lengths_m[state], unit), number_words(total.percent[state], 1)
    return say(message, state=state_name(state), length=length, percent=percent)


def state_words(audit: ShoreAudit, unit: DistanceUnit) -> tuple[str, ...]:
    """Say when a bank counts as shown well, which limits fail where it does not, and why some cannot be shown."""
    rules = audit.pieces.rules
    return tuple(filter(None, (_rules_words(rules), _failed_words(audit.stretches, unit), _reason_words(audit, unit))))


def _rules_words(rules: AuditRules) -> str:
    return say("state-rules", gsd=rules.gsd_limit_cm, angle=rules.angle_limit_deg, days=rules.age_limit_days)


def _failed_words(stretches: Sequence[StateStretch], unit: DistanceUnit) -> str:
    """Say how much of the poorly shown shore breaks each limit; a metre may break several."""
    poorly = [stretch for stretch in stretches if stretch.state == "poorly"]
    parts = []
    for limit in _LIMITS:
        length_m = math.fsum(stretch.length_m for stretch in poorly if limit in stretch.failed)
        if length_m:
            parts.append(say("state-failed", limit=limit, length=distance_words(length_m, unit)))
    several = any(len(stretch.failed) > 1 for stretch in poorly)
    message = "state-failed-several" if several else "state-failed-all"
    return say(message, parts=", ".join(parts)) if parts else ""


def _reason_words(audit: ShoreAudit, unit: DistanceUnit) -> str:
    parts = []
    for reason in audit.pieces.reasons:
        length_m = math.fsum(s.length_m for s in audit.stretches if s.state == "cannot" and s.reason == reason)
        if length_m:
            parts.append(say("state-reason", reason=reason, length=distance_words(length_m, unit)))
    return say("state-reasons", reasons="; ".join(parts)) if parts else ""


def state_alt(stretches: Sequence[StateStretch], total: StateTotal, frame: Frame, unit: DistanceUnit) -> str:
    """Tell the map in words: how much of the shore is in each state, and where the longest stretches without are."""
    states = [_amount("state-length-said", total, state, unit) for state in SHORE_STATES if total.lengths_m[state]]
    longest = [
        say("state-gap", length=distance_words(s.length_m, unit), start=distance_words(s.from_m, unit), ring=s.ring)
        for s in _longest_bare(stretches, _SAID)
    ]
    length, size = distance_words(total.length_m, unit), size_words(frame, unit)
    told = say("state-map", size=size, length=length, states="; ".join(states))
    return f"{told} {say('state-gaps', gaps='; '.join(longest))}" if longest else told
