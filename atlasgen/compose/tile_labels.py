"""The tile grid of an overview: borders, and in each tile its label and the pages that show it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import shapely
from shapely import MultiPoint, box

from atlasgen.compose.drawing import as_lines, text
from atlasgen.compose.lettering import RISE, text_width_mm
from atlasgen.compose.sheet import Sheet
from atlasgen.model import NamedArea, Shape

_LABEL_MM = 3.4
_PAGES_MM = 2.5
_LINE_MM = _PAGES_MM * 1.25
_EDGE_MM = 1.6
_STEPS = 16
# A label keeps this far from a camera where it can.
_OFF_CAMERA_MM = 0.7
_NONE = MultiPoint()


def label_tiles(
    sheet: Sheet, tiles: Sequence[NamedArea], pages_of_tile: Mapping[str, str], cameras: Any = _NONE
) -> None:
    """Draw the grid, each border once, and write label and pages in each tile.

    Best on land, else on water; off the `cameras` (mm) where it can, else over one: an index must name every tile.
    Where nothing has room the pages are left out before the label.
    """
    edges = as_lines(shapely.unary_union([sheet.frame.cut_lines([tile.area.boundary]) for tile in tiles]))
    sheet.put_lines("tiles", [("tile-edge", as_lines(shapely.line_merge(edges)))])
    sheet.board.take(edges.buffer(0.2))
    for tile in tiles:
        inside = sheet.frame.cut_area(tile.area)
        if not inside.is_empty:
            sheet.put("names", _tile_label(tile.name, pages_of_tile.get(tile.name, ""), inside, sheet, cameras))


def _tile_label(label: str, pages: str, inside: Any, sheet: Sheet, cameras: Any) -> tuple[Shape, ...]:
    """Try the pages in as few lines as the tile is wide for, then a line for each run of pages, then none."""
    x0, _, x1, _ = inside.bounds
    widths = (x1 - x0 - 2 * _EDGE_MM, 0.0)
    tried = list(dict.fromkeys(tuple(_lines(pages, width)) for width in widths)) if pages else []
    for lines in [*tried, ()]:
        paper = _room(label, lines, inside, sheet, cameras)
        if paper is not None:
            sheet.board.write(paper)
            return _written(label, lines, paper)
    return ()


def _lines(pages: str, width_mm: float) -> list[str]:
    """Break `pages 3–5, 9, 12` at spaces into lines of at most a width, if a word allows."""
    lines: list[str] = []
    for part in pages.split():
        joined = f"{lines[-1]} {part}" if lines else part
        if lines and text_width_mm(joined, _PAGES_MM) <= width_mm:
            lines[-1] = joined
        else:
            lines.append(part)
    return lines


def _room(label: str, lines: Sequence[str], inside: Any, sheet: Sheet, cameras: Any) -> Any:
    """Return the best paper for label and lines, None where all is taken."""
    width = max(text_width_mm(label, _LABEL_MM), *(text_width_mm(line, _PAGES_MM) for line in lines), 0.0)
    height = RISE * _LABEL_MM + (_LINE_MM * len(lines) or 0.3)
    papers = [box(x, y, x + width, y + height) for x, y in _corners_then_rows(inside, width, height)]
    free = [paper for paper in papers if sheet.board.is_free(paper, apart_mm=0.4)]
    wet = sheet.ground.water

    def rank(paper: Any) -> tuple[bool, bool]:
        return (paper.distance(cameras) < _OFF_CAMERA_MM, paper.intersects(wet))

    return min(free, key=rank, default=None)


def _written(label: str, lines: Sequence[str], paper: Any) -> tuple[Shape, ...]:
    x0, y, x1, _ = paper.bounds
    middle, baseline = (x0 + x1) / 2, y + RISE * _LABEL_MM
    below = (
        text("tile-pages", words, (middle, baseline + _LINE_MM * n), _PAGES_MM) for n, words in enumerate(lines, 1)
    )
    return (text("tile", label, (middle, baseline), _LABEL_MM), *below)


def _corners_then_rows(inside: Any, width: float, height: float) -> Iterable[tuple[float, float]]:
    """Top left corners to try: the tile's own corners first, then a grid over it."""
    x0, y0, x1, y1 = inside.bounds
    left, right, top, bottom = x0 + _EDGE_MM, x1 - width - _EDGE_MM, y0 + _EDGE_MM, y1 - height - _EDGE_MM
    if right < left or bottom < top:
        return
    yield from ((left, top), (right, top), (left, bottom), (right, bottom))
    for j in range(_STEPS + 1):
        for i in range(_STEPS + 1):
            yield (left + (right - left) * i / _STEPS, top + (bottom - top) * j / _STEPS)
