"""The strip chart: true to its lengths, complete, calm, and the same told in words."""

from __future__ import annotations

import json
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_strip import strip_shore
from shapely import MultiPoint, STRtree, box

from atlasgen.compose.lettering import text_box
from atlasgen.compose.strip import strip_chart
from atlasgen.compose.strip_lanes import lanes_of, month_span_words, state_styles
from atlasgen.compose.strip_layout import COLUMN_MM, Span, lay_out, number_step_m, shore_in_a_row_m
from atlasgen.model.states import SHORE_STATES
from atlasgen.resources import resource
from atlasgen.write.svg import to_svg

LEFT, PLOT = 32.0, 134.0  # the lanes on a drawing of 170 mm
WELL, POORLY, NEAR, NONE, CANNOT = range(5)


def parts(drawing, style):
    return [part for s in drawing.shapes if s.kind == "line" and s.style == style for part in s.points]


def texts(drawing, style=""):
    return [s for s in drawing.shapes if s.kind == "text" and style in ("", s.style)]


def words(drawing, style=""):
    return [s.text for s in texts(drawing, style)]


def one_km(**more):
    """Return a shore of 1 km that fills one row of 134 mm, without islands."""
    return strip_shore(1000.0, islands=(), photos=6, **more)


def with_states(shore, kind, state):
    """Return the shore with other states of one kind."""
    states = replace(getattr(shore.states, kind), state=np.asarray(state, np.int8))
    return replace(shore, states=replace(shore.states, **{kind: states}))


def test_states_are_drawn_where_they_are():
    """A kilometre: 200 m well, 100 m poorly, 300 m none, 400 m near, on 134 mm: hand-made millimetres."""
    state = np.repeat([WELL, POORLY, NONE, NEAR], [100, 50, 150, 200])
    shore = with_states(with_states(one_km(), "aerial", state), "shore", np.full(500, NONE))
    (drawing,) = strip_chart("strip", shore)
    # The first of each is the lane's, the other the legend's.
    well, poorly, near = (
        (a[0], b[0]) for a, b in (parts(drawing, f"strip-{s}")[0] for s in ("well", "poorly", "near"))
    )
    assert pytest.approx((LEFT, LEFT + 0.2 * PLOT), abs=COLUMN_MM) == well
    assert pytest.approx((LEFT + 0.2 * PLOT, LEFT + 0.3 * PLOT), abs=COLUMN_MM) == poorly
    assert pytest.approx((LEFT + 0.6 * PLOT, LEFT + PLOT), abs=COLUMN_MM) == near
    assert parts(drawing, "strip-poorly-bed") == parts(drawing, "strip-poorly")


def test_states_differ_without_their_colours():
    """Width and dashes alone tell the five states apart, and a broken band is not white in its gaps."""
    sheet = json.loads(resource("templates", "map", "style.json").read_text(encoding="utf-8"))["lines"]
    patterns = {
        state: tuple((sheet[s]["width_mm"], tuple(sheet[s].get("dash_mm", ()))) for s in state_styles(state))
        for state in SHORE_STATES
    }
    assert len(set(patterns.values())) == len(SHORE_STATES)
    assert sheet["strip-poorly-bed"]["stroke"] != "paper"


def test_a_lake_of_some_kilometres_is_one_drawing():
    """23 km and four islands: 8 km a row, three rows for the shore, one for the islands."""
    (drawing,) = strip_chart("strip", strip_shore())
    numbers = words(drawing, "tick")
    assert [w for w in numbers if w.endswith("km")][:10] == [*(f"{n} km" for n in range(9)), "8 km"]
    assert {"640 m round", "180 m round", "90 m round", "60 m round"} <= set(numbers)
    assert words(drawing, "strip-ring") == ["Shore from the wall", "Heron Island", "Little Cray", "Mast Rock"]
    assert drawing.height_mm <= 235.0


def test_a_long_shore_goes_on_on_the_next_page():
    """96 km: several drawings, none too high; a long island is named again where it goes on."""
    drawings = strip_chart("strip", strip_shore(96_300.0, islands=(("Great Holm", 9400.0),), photos=900))
    assert [d.id for d in drawings] == ["strip", "strip-2", "strip-3", "strip-4"]
    assert all(d.height_mm <= 235.0 for d in drawings)
    assert words(drawings[-1], "strip-ring") == ["Great Holm", "Great Holm, continued"]
    assert "this part of the shoreline" in drawings[1].alt
    assert "from 32 km to 64 km" in drawings[1].alt


def test_lanes_are_what_is_known():
    """No photo, no depth, no coverage: two empty lanes and the count; nothing is shown as known."""
    full = [lane.name for lane in lanes_of(one_km())]
    assert full == [
        "from the air", "from bank or boat", "number of photos", "finest, cm a pixel", "newest photo",
        "depth 20 m off", "near a sounding",
    ]  # fmt: skip
    bare = strip_shore(1000.0, islands=(), photos=0, depth_m=None, coverage=np.full(500, np.nan))
    assert [lane.name for lane in lanes_of(bare)] == full[:3]
    (drawing,) = strip_chart("strip", bare)
    assert "100 % without a photograph" in drawing.alt
    assert "pixel" not in drawing.alt


def test_no_shore_no_drawing():
    """Nothing to pull straight."""
    empty = one_km()
    for name in ("ring", "reach", "from_m", "to_m"):
        setattr(empty.pieces, name, getattr(empty.pieces, name)[:0])
    assert strip_chart("strip", empty) == ()


def test_depth_hangs_from_the_surface_and_gaps_are_said():
    """3 m on an axis of 4 m: three quarters down; what is not known is open and says so."""
    depth = np.where(np.arange(500) < 250, 3.0, np.nan)
    depth[0] = 4.0
    (drawing,) = strip_chart("strip", one_km(depth_m=depth, depth_unit="metres"))
    (top,) = {y for part in parts(drawing, "strip-place") for _, y in part if len(part) == 2}
    (bed,) = parts(drawing, "strip-depth")
    assert pytest.approx((LEFT + PLOT / 2, top + 0.75 * 5.6), abs=COLUMN_MM) == bed[-1]
    assert "4 m" in words(drawing, "tick-y")
    (note,) = [s for s in texts(drawing, "note") if s.text == "not known"]
    assert note.points[0][0][0] == pytest.approx(LEFT + 0.75 * PLOT, abs=COLUMN_MM)


def test_tiles_end_where_their_reaches_do():
    """Reaches 0 to 8 are tile A 1, the tenth is A 2: a border at 900 m, a label over the wider part."""
    (drawing,) = strip_chart("strip", one_km())
    assert {x for part in parts(drawing, "strip-tile") for x, _ in part} == {round(LEFT + 0.9 * PLOT, 2)}
    assert words(drawing, "tile") == ["A 1", "A 2"]


def test_the_reason_is_written_where_no_photograph_can_be():
    """Over a bank that cannot be photographed stands why."""
    (drawing,) = strip_chart("strip", strip_shore())
    (reason,) = [s for s in texts(drawing, "note") if s.text == "dam wall, no flying"]
    assert LEFT + 1400 * PLOT / 8000 < reason.points[0][0][0] < LEFT + 2550 * PLOT / 8000
    assert "where none can be taken" in drawing.alt


def test_the_words_tell_the_facts():
    """Half well, half none, and where the gap is."""
    shore = with_states(one_km(), "all", np.repeat([WELL, NONE], 250))
    (drawing,) = strip_chart("strip", shore)
    assert "1.0 km, pulled straight" in drawing.alt
    assert "All photographs: 50 % photographed well, 50 % without a photograph." in drawing.alt
    assert drawing.alt.endswith("Longest without a photograph: Shore from the wall 0.5 km to 1 km.")


def test_months_in_words():
    """One month once; from the first to the last else; unknown times aside."""
    may, march = 1_778_000_000.0, 1_772_500_000.0  # 2026-05-05, 2026-03-03
    assert month_span_words(np.array([may, np.nan])) == "May 2026"
    assert month_span_words(np.array([may, march])) == "Mar 2026 to May 2026"


def test_how_much_shore_a_row_holds():
    """A short lake fills one row; else as little as fits the page, from 4 to 8 km (23 km in four rows: 7); or miles."""
    assert shore_in_a_row_m([1430.0], [20.0], "metric", PLOT, 4) == 1500.0
    assert shore_in_a_row_m([15_500.0], [20.0], "metric", PLOT, 4) == 4000.0
    assert shore_in_a_row_m([23_450.0, 640.0], [20.0, 20.0], "metric", PLOT, 4) == 7000.0
    assert shore_in_a_row_m([96_000.0], [20.0], "metric", PLOT, 4) == 8000.0
    assert shore_in_a_row_m([96_000.0], [20.0], "imperial", PLOT, 4) == 5 * 1609.344
    assert number_step_m(8000 / PLOT, "metric") == 1000.0


ring_lengths = st.lists(st.floats(20, 30_000), min_size=1, max_size=8)


@given(ring_lengths, st.sampled_from([250.0, 1000.0, 4000.0, 8000.0]))
def test_rows_hold_every_ring_once(lengths, row_m):
    """Spans of a ring follow each other from 0 to its length, stay in the plot, and leave room between rings."""
    rows = lay_out(lengths, [20.0] * len(lengths), row_m, LEFT, PLOT)
    spans = [span for row in rows for span in row]
    for ring, length in enumerate(lengths):
        own = [span for span in spans if span.ring == ring]
        assert own[0].from_m == 0
        assert own[-1].to_m == length
        assert all(a.to_m == pytest.approx(b.from_m) for a, b in pairwise(own))
    for row in rows:
        assert all(LEFT <= s.left_mm < s.right_mm <= LEFT + PLOT + 1e-6 for s in row)
        assert all(b.left_mm - a.right_mm > 5 for a, b in pairwise(row))


def test_columns_show_the_pieces_of_their_part_of_the_ring():
    """A span from 600 m to 800 m, at 10 m for a millimetre: 80 columns of 2.5 m over a hundred pieces of 2 m."""
    shore = one_km()
    edges, piece = Span(0, 600.0, 800.0, 10.0, 10.0, 1000.0).columns(shore.pieces)
    assert (edges[0], edges[-1], len(piece)) == (10.0, 30.0, 80)
    assert (piece[0], piece[39], piece[40], piece[-1]) == (300, 349, 350, 399)


def strays(drawing) -> list[str]:
    """Return the words and styles of which something lies off the paper, to 0.2 mm, and words written over others."""
    paper = box(-0.2, -0.2, drawing.width_mm + 0.2, drawing.height_mm + 0.2)
    off = [s.style for s in drawing.shapes for part in s.points if not paper.covers(MultiPoint(part))]
    written = texts(drawing)
    boxes = [text_box(s.text, s.points[0][0], s.size_mm, s.style, s.turn_deg).buffer(-0.1) for s in written]
    off += [s.text for s, b in zip(written, boxes, strict=True) if b.bounds[0] < -0.2 or b.bounds[2] > paper.bounds[2]]
    return off + [written[a].text for a, b in STRtree(boxes).query(boxes, "intersects").T.tolist() if a != b]


@settings(max_examples=20, deadline=None)
@given(
    st.floats(40, 40_000),
    st.lists(st.tuples(st.sampled_from(["", "Cray", "A Rather Long Name For An Island In A Lake Nobody Knows"]),
                       st.floats(12, 6000)), max_size=5),
    st.integers(0, 60),
    st.sampled_from(["metric", "imperial"]),
)  # fmt: skip
def test_any_shore_is_drawn_without_collisions(length_m, islands, photos, unit):
    """Whatever the rings: on the paper, no word over another, and every style known to the style sheet."""
    shore = strip_shore(length_m, tuple(islands), photos, distance_unit=unit)
    for drawing in strip_chart("strip", shore):
        assert strays(drawing) == []
        assert "<svg" in to_svg(drawing)
