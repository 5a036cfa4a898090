"""The map of the audit: each metre in its state, by colour and by pattern, and the same in words."""

from __future__ import annotations

import json
import math

import pytest
from sample_views import make_seen_atlas
from shapely import LineString, MultiLineString, STRtree

from atlasgen.compose.legend import state_name
from atlasgen.compose.lettering import text_box
from atlasgen.compose.state_map import band_styles, state_map, state_words
from atlasgen.model.states import SHORE_STATES
from atlasgen.place.geo import Projection
from atlasgen.resources import resource
from atlasgen.units import distance_words
from atlasgen.write.svg import to_svg

ATLAS = make_seen_atlas()
AUDIT, DRAWING = ATLAS.known.audit, ATLAS.state_map
STYLES = json.loads(resource("templates", "map", "style.json").read_text(encoding="utf-8"))


def on_the_map(style: str) -> MultiLineString:
    """Return the lines of a style above the legend, mm."""
    foot_mm = max(y for s in DRAWING.shapes if s.style == "frame" for part in s.points for _, y in part)
    parts = [part for s in DRAWING.shapes if s.kind == "line" and s.style == style for part in s.points]
    return MultiLineString([part for part in parts if max(y for _, y in part) < foot_mm])


def metres_per_mm() -> float:
    """Measure the scale on the ground between the map's upper corners."""
    projection = Projection(ATLAS.placed.crs_metric)
    west, east = (projection.point(corner) for corner in DRAWING.corners[:2])
    return math.dist(west, east) / DRAWING.width_mm


@pytest.mark.parametrize("state", [state for state in SHORE_STATES if state not in ("none", "near")])
def test_each_state_is_drawn_in_its_length(state):
    """Millimetres of each style, at the map's own scale, are the audit's metres."""
    drawn_m = on_the_map(band_styles(state)[-1]).length * metres_per_mm()
    assert drawn_m == pytest.approx(AUDIT.totals.total.lengths_m[state], rel=0.01)
    assert drawn_m > 100


def test_all_of_the_shore_is_drawn_and_what_is_bare_stays_open():
    """The band is as long as the shore; its filled parts leave out as much as has no photograph."""
    total = AUDIT.totals.total
    band_m = on_the_map("audit-edge").length * metres_per_mm()
    assert band_m == pytest.approx(total.length_m, rel=0.01)
    filled = sum(on_the_map(f"audit-{state}").length for state in ("well", "poorly", "near", "cannot"))
    assert band_m - filled * metres_per_mm() == pytest.approx(total.lengths_m["none"], rel=0.03)


def test_a_state_is_drawn_where_it_is():
    """The middle of each longer stretch lies on a line of its style, and on none of another's."""
    projection = Projection(ATLAS.placed.crs_metric)
    north_west = projection.point(DRAWING.corners[0])
    rings = {ring.id: ring.line for ring in ATLAS.placed.rings}
    for stretch in (s for s in AUDIT.stretches if s.length_m > 20 and s.state in ("well", "poorly", "cannot")):
        at = rings[stretch.ring].interpolate((stretch.from_m + stretch.to_m) / 2)
        scale = metres_per_mm()
        here = LineString([((at.x - north_west.x_m) / scale, (north_west.y_m - at.y) / scale)] * 2)
        near = {state for state in ("well", "poorly", "cannot") if on_the_map(f"audit-{state}").distance(here) < 0.05}
        assert near == {stretch.state}


def test_states_differ_without_their_colours():
    """Width and dashes alone tell the five apart, and the gaps of a broken band are not white."""
    sheet = STYLES["lines"]
    patterns = {
        tuple((sheet[s]["width_mm"], tuple(sheet[s].get("dash_mm", ()))) for s in band_styles(state))
        for state in SHORE_STATES
    }
    assert len(patterns) == len(SHORE_STATES)
    assert sheet["audit-poorly-bed"]["stroke"] != "paper"


def test_the_legend_says_every_state_with_its_length():
    """In words, with kilometres and percent of all shore."""
    legend = [shape.text for shape in DRAWING.shapes if shape.style == "legend"]
    total = AUDIT.totals.total
    used = [state for state in SHORE_STATES if total.lengths_m[state]]
    assert legend == [
        f"{state_name(state)}: {distance_words(total.lengths_m[state], 'metric')}, {total.percent[state]:.1f} %"
        for state in used
    ]


def test_the_longest_gaps_are_written_beside_them_and_in_the_alt():
    """What is to be done next can be read off."""
    longest = max((s for s in AUDIT.stretches if s.state == "none"), key=lambda s: s.length_m)
    words = distance_words(longest.length_m, "metric")
    assert words in [shape.text for shape in DRAWING.shapes if shape.style == "reason"]
    assert f"Longest without a photograph: {words} from" in DRAWING.alt
    assert all(state_name(state) in DRAWING.alt for state in SHORE_STATES if AUDIT.totals.total.lengths_m[state])


def test_the_words_name_limits_failures_and_reasons():
    """How well is well, what failed, and what cannot be photographed."""
    rules, failed, reasons = state_words(AUDIT, "metric")
    assert "10 cm a pixel or finer, at 20° to the run of the bank or more" in rules
    for limit, words in (("gsd", "too coarse"), ("angle", "seen too slantwise")):
        length_m = sum(s.length_m for s in AUDIT.stretches if s.state == "poorly" and limit in s.failed)
        assert f"{distance_words(length_m, 'metric')} is {words}" in failed
    assert "too old" not in failed
    cannot_m = AUDIT.totals.total.lengths_m["cannot"]
    assert reasons.endswith(f"private garden, {distance_words(cannot_m, 'metric')}.")


@pytest.mark.parametrize("unit", ["metric", "imperial"])
def test_nothing_collides_and_all_is_on_the_paper(unit):
    """No words over words or over the band; every style is known; drawn again it is the same."""
    ground = {"water": ATLAS.placed.water, "rings": ATLAS.placed.rings, "distance_unit": unit}
    first, second = (
        state_map(
            "states",
            AUDIT.stretches,
            AUDIT.totals.total,
            to_lonlat=Projection(ATLAS.placed.crs_metric).lonlat,
            **ground,
        )
        for _ in range(2)
    )
    assert to_svg(first) == to_svg(second)
    texts = [shape for shape in first.shapes if shape.kind == "text"]
    papers = [text_box(s.text, s.points[0][0], s.size_mm, s.style, s.turn_deg).buffer(-0.1) for s in texts]
    assert all(a == b for a, b in STRtree(papers).query(papers, "intersects").T.tolist())
    assert all(0 <= x <= first.width_mm and 0 <= y <= first.height_mm
               for s in first.shapes for part in s.points for x, y in part)  # fmt: skip
