"""What a step may ask to be spared: results of the last build, found by what they were made from.

The rooms know only this; `cache` keeps the results on disk. Whatever is remembered must follow from `parts` alone.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple, Protocol, TypeVar

Value = TypeVar("Value")


class Stamp(NamedTuple):
    """What tells a file that was not written to: its size, times of writing and change, and number."""

    size_bytes: int
    written_ns: int
    changed_ns: int
    number: int


@dataclass(frozen=True, slots=True)
class Former:
    """The edition before: its folder, and the stamps of its files by name as the last build left them."""

    folder: Path
    stamps: Mapping[str, Stamp] = field(default_factory=dict)


class Memory(Protocol):
    """Gives a result back if it was made from the same parts by the same program, else has it made."""

    @property
    def settled_before_ns(self) -> int:
        """Time before which a file must have been written last for its time stamp to stand for its contents."""

    def former(self, folder: Path) -> Former:
        """Return the edition that stands in a folder, as the last build left it."""

    def remember(self, kind: str, parts: Any, make: Callable[[], Value]) -> Value:
        """Return `make()`, or what it returned for these parts before."""

    def mapped(
        self,
        kind: str,
        parts: Sequence[Any],
        make: Callable[[list[int]], Sequence[Any]],
        *,
        keep: Callable[[Any], bool] = bool,
        restore: Callable[[int, Any], bool] = lambda number, value: True,
    ) -> list[Any]:
        """Return one result for each of `parts`; `make` gets the numbers of those that are not known.

        Parts that are None are made each time. A result is kept for later if `keep` says so, and one that is known
        counts only if `restore` can bring back whatever belongs to it.
        """


class NoMemory:
    """Remembers nothing: everything is made anew."""

    settled_before_ns = 0

    def former(self, folder: Path) -> Former:
        """Return the folder, of which nothing is known."""
        return Former(folder)

    def remember(self, kind: str, parts: Any, make: Callable[[], Value]) -> Value:
        """Return `make()`."""
        return make()

    def mapped(
        self, kind: str, parts: Sequence[Any], make: Callable[[list[int]], Sequence[Any]], **_: Hashable
    ) -> list[Any]:
        """Return `make` of all."""
        return list(make(list(range(len(parts)))))


ANEW = NoMemory()
