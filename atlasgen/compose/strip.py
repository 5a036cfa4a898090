"""The strip chart: the shoreline pulled straight along its chainage, and what is known of each bank below each other.

Read it from left to right with the water on the right hand: the outer shore first, then the islands.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from shapely import MultiLineString, box, unary_union

from atlasgen.compose.drawing import line, text
from atlasgen.compose.legend import Entry, legend, legend_height_mm, state_name
from atlasgen.compose.lettering import RISE, Board, text_box, text_width_mm
from atlasgen.compose.strip_lanes import TICK_MM, Lane, lanes_of, state_styles
from atlasgen.compose.strip_layout import Span, StripShore, lay_out, shore_in_a_row_m
from atlasgen.compose.strip_words import (
    AXIS_MM,
    numbers_along,
    place_names,
    reasons_along,
    ring_names,
    runs_along,
    strip_alt,
)
from atlasgen.model import Drawing, Shape
from atlasgen.model.states import SHORE_STATES
from atlasgen.model.wording import say

_WORD_MM = 2.3
_NAME_SIZE_MM = 2.5
_LONG_M = 4000.0  # a ring longer than this may go on in a second row
_GUTTER_MM = 32.0
_RIGHT_MM = 4.0
_NAMES_MM = 6.8  # two lines of names over a row
_TILES_MM = 3.2
_ROW_GAP_MM = 1.6


def strip_chart(
    id: str, shore: StripShore, *, width_mm: float = 170.0, height_mm: float = 235.0
) -> tuple[Drawing, ...]:
    """Return the whole shore as strips, one drawing for each page-sized block of rows; none where there is no shore.

    Parameters
    ----------
    id
        Of the first drawing; those after it are `ID-2` and so on.
    height_mm
        The most that a drawing takes; a block with fewer rows is lower.
    """
    if not len(shore.pieces.from_m):
        return ()
    lanes, entries = lanes_of(shore), _entries(shore)
    foot_mm = legend_height_mm(entries, width_mm)
    row_mm = _row_height_mm(lanes)
    on_a_page = max(1, int((height_mm - foot_mm + _ROW_GAP_MM) / (row_mm + _ROW_GAP_MM)))
    rows = _rows(shore, width_mm, on_a_page)
    blocks = [rows[n : n + on_a_page] for n in range(0, len(rows), on_a_page)]
    return tuple(
        _block(f"{id}-{number}" if number > 1 else id, shore, block, lanes, entries, width_mm, len(blocks))
        for number, block in enumerate(blocks, 1)
    )


def _rows(shore: StripShore, width_mm: float, on_a_page: int) -> list[list[Span]]:
    plot_mm = width_mm - _GUTTER_MM - _RIGHT_MM
    lengths_m = [shore.ring_length_m(ring) for ring in range(len(shore.pieces.rings))]
    least_mm = [_words_room_mm(shore, ring, length) for ring, length in enumerate(lengths_m)]
    row_m = shore_in_a_row_m(lengths_m, least_mm, shore.distance_unit, plot_mm, on_a_page)
    return lay_out(lengths_m, least_mm, row_m, _GUTTER_MM, plot_mm)


def _words_room_mm(shore: StripShore, ring: int, length_m: float) -> float:
    """Room that a ring's name and its length in words take."""
    name = shore.ring_name(ring, continued=length_m > _LONG_M) or shore.ring_name(ring)
    return max(text_width_mm(name, _NAME_SIZE_MM), text_width_mm(say("strip-round", length="0.00 km"), TICK_MM))


def _entries(shore: StripShore) -> list[Entry]:
    used = set(shore.states.aerial.state.tolist()) | set(shore.states.shore.state.tolist())
    entries = [
        Entry(state_name(state), lines=state_styles(state))
        for number, state in enumerate(SHORE_STATES)
        if number in used
    ]
    return [*entries, Entry(say("key-photo-limit"), lines=("strip-limit",))]


def _row_height_mm(lanes: Sequence[Lane]) -> float:
    return _NAMES_MM + _TILES_MM + sum(lane.height_mm + lane.gap_mm for lane in lanes) + AXIS_MM


def _block(
    id: str,
    shore: StripShore,
    rows: Sequence[Sequence[Span]],
    lanes: Sequence[Lane],
    entries: Sequence[Entry],
    width_mm: float,
    blocks: int,
) -> Drawing:
    """One page's rows with the legend below them."""
    row_mm = _row_height_mm(lanes) + _ROW_GAP_MM
    below_mm = row_mm * len(rows) - _ROW_GAP_MM + 2.0
    height_mm = round(below_mm + legend_height_mm(entries, width_mm), 2)
    shapes: tuple[Shape, ...] = ()
    for top_mm, spans in ((number * row_mm, spans) for number, spans in enumerate(rows)):
        # A board for each row: what stands in one cannot touch another, and few things are quick to compare.
        board = Board(box(0, top_mm, width_mm, top_mm + row_mm), 0.1)
        shapes += _row(shore, spans, lanes, top_mm, board)
    shapes += legend(entries, (0.0, below_mm), width_mm)
    spans = [span for row in rows for span in row]
    return Drawing(id, width_mm, height_mm, shapes, strip_alt(shore, spans, blocks))


def _row(
    shore: StripShore, spans: Sequence[Span], lanes: Sequence[Lane], top_mm: float, board: Board
) -> tuple[Shape, ...]:
    """One row: names and tiles over the lanes, numbers along the shore under them."""
    tiles_mm, y = top_mm + _NAMES_MM, top_mm + _NAMES_MM + _TILES_MM
    foot_mm = top_mm + _row_height_mm(lanes) - AXIS_MM
    words = ring_names(shore, spans, tiles_mm - 0.4, board) + place_names(shore, spans, tiles_mm - 0.4, board)
    tile_words, borders = _tiles(shore, spans, tiles_mm, foot_mm, board)
    shapes: tuple[Shape, ...] = ()
    for lane in lanes:
        shapes += _lane_words(lane, y)
        for span in spans:
            shapes += lane.draw(span, y, board)
        if lane.empty_where_none:
            shapes += reasons_along(shore, spans, y + lane.height_mm / 2, board)
        y += lane.height_mm + lane.gap_mm
    for span in spans:
        shapes += numbers_along(span, foot_mm, shore.distance_unit, board)
    cut = borders.difference(unary_union(board.written)) if board.written else borders
    return line("strip-tile", cut) + shapes + words + tile_words


def _lane_words(lane: Lane, top_mm: float) -> tuple[Shape, ...]:
    """Write the lane's name, and its few numbers close to the lane."""
    middle = top_mm + lane.height_mm / 2 + RISE * _WORD_MM / 2
    shapes: tuple[Shape, ...] = (text("strip-lane", lane.name, (0.0, middle), _WORD_MM),)
    for words, share in lane.ticks:
        # The first and the last number stand inside their lane, clear of the lane above and below.
        y = top_mm + RISE * TICK_MM + (1 - share) * (lane.height_mm - RISE * TICK_MM)
        shapes += (text("tick-y", words, (_GUTTER_MM - 1.2, y), TICK_MM),)
    return shapes


def _tiles(
    shore: StripShore, spans: Iterable[Span], top_mm: float, foot_mm: float, board: Board
) -> tuple[tuple[Shape, ...], MultiLineString]:
    """Tile labels where the tile's shore has room for them, and the borders between tiles."""
    shapes: tuple[Shape, ...] = ()
    borders = []
    for span in spans:
        for tile, from_m, to_m in runs_along(shore, span, lambda reach: reach.tile):
            left, right = span.x(from_m), span.x(to_m)
            borders += [x for x in (left, right) if span.left_mm < x < span.right_mm]
            label = shore.tile_labels.get(tile, tile)
            at = ((left + right) / 2, top_mm + 0.6 + RISE * TICK_MM)
            paper = text_box(label, at, TICK_MM)
            if text_width_mm(label, TICK_MM) + 1.2 <= right - left and board.is_free(paper):
                board.take(paper)
                shapes += (text("tile", label, at, TICK_MM),)
    return shapes, MultiLineString([[(x, top_mm), (x, foot_mm)] for x in sorted(set(borders))])
