"""Parts a book that would be too large into volumes, at the borders of tiles."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from atlasgen.model import Atlas, Page

# What a volume weighs besides its photos, until its true weight is known: typefaces, front matter, maps. Ours.
_BESIDE_BYTES = 1_500_000
_BESIDE_A_PAGE_BYTES = 40_000


@dataclass(frozen=True, slots=True)
class Volume:
    """The pages of one file of the book: volume `number` of `count`."""

    number: int
    count: int
    pages: tuple[Page, ...]

    @property
    def file(self) -> str:
        """The file's name: `atlas.pdf`, or `atlas-2.pdf` for the second of several."""
        return "atlas.pdf" if self.count == 1 else f"atlas-{self.number}.pdf"

    def photos(self) -> set[str]:
        """Return the ids of the photos that stand on its pages."""
        return {figure.photo for page in self.pages for figure in page.figures}


def volumes_of(atlas: Atlas, most_bytes: float | None, photo_bytes: Mapping[str, int]) -> tuple[Volume, ...]:
    """Part the pages so that each volume's photos and what goes with them fit into `most_bytes`; None is one volume.

    A run of pages of one tile is never parted, so one that is larger than that is a volume of its own.
    """
    groups: list[list[Page]] = []
    weight = 0.0
    for _, run in groupby(atlas.pages, key=lambda page: page.tile):
        pages = list(run)
        adds = sum(_weight(page, photo_bytes) for page in pages)
        if not groups or (most_bytes is not None and weight + adds > most_bytes):
            groups.append([])
            weight = _BESIDE_BYTES
        groups[-1] += pages
        weight += adds
    groups = groups or [[]]
    return tuple(Volume(i, len(groups), tuple(pages)) for i, pages in enumerate(groups, 1))


def _weight(page: Page, photo_bytes: Mapping[str, int]) -> int:
    return _BESIDE_A_PAGE_BYTES + sum(photo_bytes[figure.photo] for figure in page.figures)


def smaller(
    most_bytes: float, volumes: Sequence[Volume], sizes_bytes: Iterable[int], limit_bytes: float
) -> float | None:
    """Return a narrower limit to part by, where a volume came out too large and can be parted further; else None."""
    over = [
        size / limit_bytes
        for volume, size in zip(volumes, sizes_bytes, strict=True)
        if size > limit_bytes and len({page.tile for page in volume.pages}) > 1
    ]
    return most_bytes / max(over) * 0.97 if over else None


def volume_data(volume: Volume, volumes: Sequence[Volume], labels: Mapping[str, str]) -> dict[str, Any] | None:
    """Return what the templates must know of a volume; None for a book in one."""
    if volume.count == 1:
        return None
    return {
        "number": volume.number,
        "count": volume.count,
        "pages": [page.number for page in volume.pages],
        "first": volume.number == 1,
        "last": volume.number == volume.count,
        "volume_of_page": {str(page.number): other.number for other in volumes for page in other.pages},
        "tiles": list(dict.fromkeys(labels.get(page.tile, page.tile) for page in volume.pages)),
    }
