"""A histogram: counts as upright bars on one axis, for the chapter on how well soundings agree."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from shapely import LineString, MultiLineString, box

from atlasgen.compose.drawing import area, line, nice_step, text
from atlasgen.compose.lettering import RISE, text_width_mm
from atlasgen.model import Drawing, Shape
from atlasgen.units import decimal_text

_TICK_MM = 2.3
_LINE_MM = 3.2
_LEFT_MM, _RIGHT_MM, _TOP_MM, _BOTTOM_MM = 12.0, 6.0, 6.5, 10.5
# A hairline of paper between bars, so that equal neighbours can be told apart.
_APART_MM = 0.25


def histogram(
    id: str,
    edges: Sequence[float],
    counts: Sequence[int],
    axis: str,
    alt: str,
    *,
    marks: Sequence[tuple[float, str]] = (),
    width_mm: float = 150.0,
    height_mm: float = 62.0,
) -> Drawing:
    """Draw counts[i] from edges[i] to edges[i + 1]; edges ascend.

    `axis` names what runs to the right, with its unit; `marks` are places on it worth an upright line and a word,
    drawn where they lie within the edges. The first and last bin may hold more than lies between their edges; the
    caller says so in words.
    """
    right = width_mm - _RIGHT_MM
    bottom = height_mm - _BOTTOM_MM - _LINE_MM * (len(_axis_lines(axis, right - _LEFT_MM)) - 1)
    low, high, most = edges[0], edges[-1], max(max(counts, default=0), 1)

    def x(value: float) -> float:
        return _LEFT_MM + (right - _LEFT_MM) * (value - low) / (high - low)

    def y(count: float) -> float:
        return bottom - (bottom - _TOP_MM) * count / most

    shapes = _count_axis(most, y, right)
    for (start, end), count in zip(pairwise(edges), counts, strict=True):
        if count:
            shapes += area("bar", box(x(start) + _APART_MM, y(count), x(end) - _APART_MM, bottom))
    shapes += _value_axis(edges, x, bottom, right)
    shapes += _axis_words(axis, (_LEFT_MM + right) / 2, right - _LEFT_MM, height_mm)
    shapes += _marks([mark for mark in marks if low <= mark[0] <= high], x, bottom)
    return Drawing(id, width_mm, height_mm, shapes, alt)


def _axis_lines(words: str, width_mm: float) -> list[str]:
    """Break the axis's words after a semicolon or a comma where one line has no room for them."""
    if text_width_mm(words, _TICK_MM) <= width_mm:
        return [words]
    parts = words.replace("; ", ";\n", 1) if ";" in words else words.replace(", ", ",\n", 1)
    return parts.split("\n")


def _axis_words(words: str, middle: float, width_mm: float, height_mm: float) -> tuple[Shape, ...]:
    lines = _axis_lines(words, width_mm)
    foot = [height_mm - 1.2 - _LINE_MM * n for n in range(len(lines) - 1, -1, -1)]
    return tuple(text("tick", line, (middle, y), _TICK_MM) for line, y in zip(lines, foot, strict=True))


def _count_axis(most: int, y, right: float) -> tuple[Shape, ...]:
    """Hairlines at round counts, whole numbers only."""
    step = max(1, round(nice_step(most, 5)))
    counts = range(0, most + 1, step)
    shapes = line("grid", MultiLineString([LineString([(_LEFT_MM, y(c)), (right, y(c))]) for c in counts]))
    for count in counts:
        shapes += (text("tick-y", f"{count}", (_LEFT_MM - 1.4, y(count) + RISE * _TICK_MM / 2), _TICK_MM),)
    return shapes


def _value_axis(edges: Sequence[float], x, bottom: float, right: float) -> tuple[Shape, ...]:
    step = nice_step(edges[-1] - edges[0], 8)
    first, last = round(edges[0] / step + 0.4999), round(edges[-1] / step - 0.4999)
    values = [k * step for k in range(first, last + 1)]
    marks = [LineString([(x(v), bottom), (x(v), bottom + 1)]) for v in values]
    shapes = line("axis", MultiLineString([LineString([(_LEFT_MM, bottom), (right, bottom)]), *marks]))
    for value in values:
        words = decimal_text(f"{value:g}").replace("-", "−")
        shapes += (text("tick", words, (x(value), bottom + 1.6 + RISE * _TICK_MM), _TICK_MM),)
    return shapes


def _marks(marks: Sequence[tuple[float, str]], x, bottom: float) -> tuple[Shape, ...]:
    """Upright lines with their words above; words that would touch are left to the text."""
    shapes: tuple[Shape, ...] = ()
    taken = -1.0
    for value, words in sorted(marks):
        shapes += line("strip-limit", LineString([(x(value), _TOP_MM - 1.5), (x(value), bottom)]))
        half = text_width_mm(words, _TICK_MM) / 2
        if x(value) - half > taken + 1:
            shapes += (text("tick", words, (x(value), _TOP_MM - 2.4), _TICK_MM),)
            taken = x(value) + half
    return shapes
