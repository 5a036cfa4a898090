"""What every room uses: coordinate types, a measured value, a problem."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from operator import attrgetter
from typing import Literal, NamedTuple, TypeVar

from atlasgen.model.text import visible

Kind = TypeVar("Kind")
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


def pickled_plainly(kind: type[Kind]) -> type[Kind]:
    """Let a frozen dataclass of two fields or more be pickled as a call of it.

    That takes about half the time of the dataclasses' own way, and a build keeps tens of thousands of such values.
    """
    values = attrgetter(*(field.name for field in fields(kind)))  # type: ignore[arg-type]
    kind.__reduce__ = lambda self: (kind, values(self))  # type: ignore[assignment, method-assign]
    return kind


@pickled_plainly
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


# Each has its words in the message `problem-kind`.
PROBLEM_CODES = (
    "not_an_image",
    "damaged",
    "too_large",
    "unreadable",
    "duplicate",
    "no_position",
    "too_far",
    "excluded",
    "bad_metadata",
    "no_time",
    "clock",
    "no_heading",
    "ambiguous",
    "geometry",
    "bad_row",
    "unusable",
    "missing",
    "unused",
    "no_stage",
    "renumbered",
    "chart",
    "magnetic",
)
