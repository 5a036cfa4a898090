"""Histograms: bars as high as their counts, marks where they belong."""

from __future__ import annotations

import pytest

from atlasgen.compose.histogram import histogram


def bars(drawing) -> list[tuple[float, float, float]]:
    """Left, right and height of every bar, mm."""
    boxes = [shape.points[0] for shape in drawing.shapes if shape.style == "bar"]
    spans = [([x for x, _ in box], [y for _, y in box]) for box in boxes]
    return [(min(xs), max(xs), max(ys) - min(ys)) for xs, ys in spans]


def test_bars_are_as_high_as_their_counts() -> None:
    """Counts of 2, 4 and 0: one bar half as high as the other, none for zero."""
    (first, second) = bars(histogram("h", (0, 1, 2, 3), (2, 4, 0), "m", "alt"))
    assert first[2] * 2 == pytest.approx(second[2], abs=0.02)
    assert first[1] < second[0]


def test_a_bar_is_as_wide_as_its_bin() -> None:
    """A bin twice as wide is drawn twice as wide, less the hairline between bars."""
    (first, second) = bars(histogram("h", (0, 1, 3), (1, 1), "m", "alt"))
    assert second[1] - second[0] + 0.5 == pytest.approx(2 * (first[1] - first[0] + 0.5), abs=0.03)


def test_marks_stand_at_their_values_and_those_outside_are_left_out() -> None:
    """A mark at the middle of the axis stands half way; one beyond the last edge is not drawn."""
    drawing = histogram("h", (-1, 0, 1), (3, 3), "m", "alt", marks=((0.0, "none"), (5.0, "far")))
    (upright,) = [shape.points[0] for shape in drawing.shapes if shape.style == "strip-limit"]
    left, right = bars(drawing)
    assert upright[0][0] == pytest.approx((left[1] + right[0]) / 2, abs=0.02)
    assert "far" not in [shape.text for shape in drawing.shapes]


def test_numbers_stand_under_their_places_and_name_the_axis() -> None:
    """Round values within the edges, a true minus sign, and what they count."""
    words = [
        shape.text for shape in histogram("h", (-1, -0.5, 0, 0.5, 1), (1, 5, 5, 1), "difference, ft", "alt").shapes
    ]
    assert "−0.5" in words
    assert "difference, ft" in words


def test_no_counts_give_an_empty_axis_and_no_fault() -> None:
    """All zero: no bar, but axes."""
    drawing = histogram("h", (0, 1), (0,), "m", "alt")
    assert bars(drawing) == []
    assert any(shape.style == "axis" for shape in drawing.shapes)
