"""The tile grid of an overview: borders, and in each tile its label and the pages that show it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import shapely
from shapely import box

from atlasgen.compose.drawing import as_lines, text
from atlasgen.compose.lettering import RISE, Board, text_width_mm
from atlasgen.compose.sheet import Sheet
from atlasgen.model import NamedArea, Shape

_LABEL_MM = 3.4
_PAGES_MM = 2.5


def label_tiles(sheet: Sheet, tiles: Sequence[NamedArea], pages_of_tile: Mapping[str, str]) -> None:
    """Draw the grid, each border once, and write label and pages where the tile has room."""
    edges = as_lines(shapely.unary_union([sheet.frame.cut_lines([tile.area.boundary]) for tile in tiles]))
    sheet.put_lines("tiles", [("tile-edge", as_lines(shapely.line_merge(edges)))])
    sheet.board.take(edges.buffer(0.2))
    for tile in tiles:
        pages = pages_of_tile.get(tile.name, "")
        inside = sheet.frame.cut_area(tile.area)
        sheet.put("names", _tile_label(tile.name, pages, inside, sheet.ground.water, sheet.board))


def _tile_label(label: str, pages: str, inside: Any, water: Any, board: Board) -> tuple[Shape, ...]:
    width = max(text_width_mm(label, _LABEL_MM), text_width_mm(pages, _PAGES_MM))
    height = RISE * _LABEL_MM + (_PAGES_MM * 1.25 if pages else 0.3)
    papers = [box(x, y, x + width, y + height) for x, y in _corners_then_rows(inside, width, height)]
    on_land = [paper for paper in papers if not paper.intersects(water)]
    for paper in on_land + papers:
        if board.is_free(paper, apart_mm=0.4):
            x, y = paper.bounds[:2]
            board.write(paper)
            baseline, middle = y + RISE * _LABEL_MM, x + width / 2
            below = (text("tile-pages", pages, (middle, y + height - 0.5), _PAGES_MM),) if pages else ()
            return (text("tile", label, (middle, baseline), _LABEL_MM), *below)
    return ()


def _corners_then_rows(inside: Any, width: float, height: float) -> Iterable[tuple[float, float]]:
    """Top left corners to try: the tile's own corners first, then a grid over it."""
    if inside.is_empty:
        return
    x0, y0, x1, y1 = inside.bounds
    left, right, top, bottom = x0 + 1.6, x1 - width - 1.6, y0 + 1.6, y1 - height - 1.6
    if right < left or bottom < top:
        return
    yield from ((left, top), (right, top), (left, bottom), (right, bottom))
    steps = 8
    for j in range(steps + 1):
        for i in range(steps + 1):
            yield (left + (right - left) * i / steps, top + (bottom - top) * j / steps)
