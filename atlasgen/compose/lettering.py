"""How much room words take, and what of the paper is already taken, so that nothing written covers anything else."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Any

import shapely
from shapely import Polygon

# Advance widths of the atlas's face in thousandths of the type size, the widest of its regular, italic and semibold,
# rounded up to 20. Source: `hmtx` table of Source Sans Pro (PyPI font-source-sans-pro 0.0.1). Kerning is left out:
# room is rather over- than underestimated.
_ADVANCE = (
    (220, " \u00a0"),
    (280, "',.:;ijl|·ìíîï’‘‚"),
    (320, "!fIÌÍÎÏ"),
    (360, "()-[]{}/\\°"),
    (380, "rt²³¹"),
    (460, "*s?z«»"),
    (480, "cç–"),
    (500, '"J_vxy„“”'),
    (520, "#$+0123456789<=>−FLY^e~×Ýèéêë÷"),
    (540, "EVZagkÈÉÊËàáâãäå"),
    (560, "ASTX`hnouÀÁÂÃÄÅñòóôõöøùúûü"),
    (600, "bdpqBCKPR"),
    (640, "&DGß"),
    (680, "NUHOQÑÒÓÔÕÖØÙÚÛÜ"),
    (760, "Mw©"),
    (840, "Wæ¼½¾—Æ"),
    (880, "%m@"),
    (980, "…"),
)
_WIDTH_OF = {letter: width for width, letters in _ADVANCE for letter in letters}
_UNKNOWN_WIDTH = 700  # a letter of another script
_WIDE_WIDTH = 1000  # East Asian and pictures

# Share of the type size: figures and capitals rise this far above the baseline; tails, which figures have not, hang
# this far below it.
RISE, TAIL = 0.68, 0.22

# Where words stand against their point; every other style is centred on it. The style sheet says the same.
START_STYLES = frozenset({"legend", "furniture-left", "strip-lane", "strip-ring"})
END_STYLES = frozenset({"tick-y", "level-name"})


def text_width_mm(words: str, size_mm: float) -> float:
    """Return the room that a line of words takes, mm, rather more than less."""
    return _advance(words) * size_mm / 1000


# Asked for the same words at hundreds of places: a name of a thousand letters would take seconds.
@lru_cache(maxsize=4096)
def _advance(words: str) -> int:
    return sum(_letter_width(letter) for letter in words)


def _letter_width(letter: str) -> int:
    return _WIDTH_OF.get(letter, _WIDE_WIDTH if ord(letter) > 0x2E7F else _UNKNOWN_WIDTH)


def text_box(words: str, at: tuple[float, float], size_mm: float, style: str = "", turn_deg: float = 0.0) -> Polygon:
    """Return the paper that words cover when their baseline stands at a point, turned clockwise about it."""
    width = text_width_mm(words, size_mm)
    left = 0.0 if style in START_STYLES else -width if style in END_STYLES else -width / 2
    tail = 0.0 if words.isdigit() else TAIL
    return turned_box(at, left, -RISE * size_mm, left + width, tail * size_mm, turn_deg)


def turned_box(
    at: tuple[float, float], left: float, top: float, right: float, bottom: float, turn_deg: float
) -> Polygon:
    """Return a box given from a point, mm, turned clockwise about that point."""
    c, s = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    return Polygon([(at[0] + x * c - y * s, at[1] + x * s + y * c) for x, y in corners])


def baseline_below(centre: tuple[float, float], size_mm: float, turn_deg: float = 0.0) -> tuple[float, float]:
    """Return where the baseline must stand so that figures are centred on a point."""
    drop = RISE * size_mm / 2
    angle = math.radians(turn_deg)
    return (centre[0] - drop * math.sin(angle), centre[1] + drop * math.cos(angle))


class Board:
    """What is on the paper already, so that it is not written on; `margin_mm` keeps words off the frame's edge.

    `written` is the paper under words: thin lines stop short of it, so that words need no halo.
    """

    def __init__(self, paper: Polygon, margin_mm: float = 0.8) -> None:
        self._inside = paper.buffer(-margin_mm, join_style="mitre")
        self._taken: list[Any] = []
        self.written: list[Any] = []

    def take(self, *geometries: Any) -> None:
        """Mark paper as taken."""
        self._taken += [g for g in geometries if not g.is_empty]

    def write(self, paper: Any, around_mm: float = 0.3) -> None:
        """Take paper for words and keep thin lines off it."""
        self._taken.append(paper)
        self.written.append(paper.buffer(around_mm, join_style="mitre") if around_mm else paper)

    def is_free(self, geometry: Any, *, apart_mm: float = 0.0) -> bool:
        """Tell whether a shape lies inside the frame and off everything taken, by at least `apart_mm`."""
        if not self._inside.covers(geometry):
            return False
        if not self._taken:
            return True
        if apart_mm:
            return not bool(shapely.dwithin(self._taken, geometry, apart_mm).any())
        return not bool(shapely.intersects(self._taken, geometry).any())

    def overlap_mm2(self, geometry: Any) -> float:
        """Return how much of a shape's paper is taken already."""
        hit = [g for g in self._taken if g.intersects(geometry)]
        return float(shapely.unary_union(hit).intersection(geometry).area) if hit else 0.0
