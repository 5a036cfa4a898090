"""What every room uses: coordinate types, a measured value, a problem."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, NamedTuple

from atlasgen.model.text import visible

Level = Literal["note", "left_out", "fault"]

# Called as progress(step in words, done, total); `total` 0 where it is not known.
Progress = Callable[[str, int, int], None]


class LonLat(NamedTuple):
    """A place on WGS 84, degrees, longitude first."""

    lon_deg: float
    lat_deg: float


class PointM(NamedTuple):
    """A place in the lake's own metric projection, x east, y north."""

    x_m: float
    y_m: float


@dataclass(frozen=True, slots=True)
class Measured:
    """A value that knows where it came from; `sigma` is its standard uncertainty in its own unit, None if unknown."""

    value: float
    source: str
    sigma: float | None = None
    assumed: bool = False


@dataclass(frozen=True, slots=True)
class Problem:
    """Something that was met and told instead of crashing.

    `subject` is the file (relative to the survey folder) or the key; `code` one of PROBLEM_CODES; `message` names
    value, what is allowed and the next step. `level`: `note` (used, but said), `left_out` (a photo that is not
    published), `fault` (an optional input that could not be used).
    """

    subject: str
    code: str
    message: str
    level: Level = "note"

    @property
    def words(self) -> str:
        """The message with its subject in front, unless it begins with it; what is not text is written out."""
        told = self.message if self.message.startswith(self.subject) else f"{self.subject}: {self.message}"
        return visible(told)


PROBLEM_CODES = {
    "not_an_image": "not a photo atlasgen can read",
    "damaged": "the picture is cut short or damaged",
    "too_large": "the picture is larger than allowed",
    "unreadable": "the file could not be opened",
    "duplicate": "the same bytes as another photo",
    "no_position": "no position could be found",
    "too_far": "too far from the lake",
    "excluded": "left out by the crew",
    "bad_metadata": "metadata that cannot be right",
    "no_time": "no usable time",
    "clock": "camera clock disagrees",
    "no_heading": "direction unknown",
    "ambiguous": "can be read in more than one way",
    "geometry": "a shape that had to be repaired",
    "bad_row": "rows that could not be used",
    "unusable": "a file that could not be used",
    "missing": "an input that is not there",
    "unused": "an input that nothing refers to",
    "no_stage": "water level unknown",
    "renumbered": "reach ids carried on from the edition before",
    "chart": "the chart edition and the atlas do not agree",
    "magnetic": "outside the magnetic model's years",
}
