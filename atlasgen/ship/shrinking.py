"""A bundle that is larger than it may be: what weighs how much, and what each photo profile would bring.

The sizes under other profiles are measured, not reckoned: photos spread over the edition are made again at that size
and quality, and the sample's ratio is taken for all.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence

from atlasgen.errors import OutputRefused
from atlasgen.model.rules import PROFILES
from atlasgen.ship.cargo import Item
from atlasgen.units import MEGABYTE

_SAMPLE = 12


def refuse_over_budget(items: Sequence[Item], budget_mb: float | None, folder: str) -> None:
    """Raise `OutputRefused` with what to shrink if all items weigh more than `budget_mb` million bytes."""
    whole = sum(item.size_bytes for item in items)
    if budget_mb is None or whole <= budget_mb * MEGABYTE:
        return
    lines = [f"{_mb(whole)} of atlas and chart, bundle.budget_mb allows {budget_mb:g} MB"]
    lines += [f"  {words}: {_mb(size)}" for words, size in _parts(items, folder) if size]
    lines += [f"  {line}" for line in _profiles(items, folder)]
    step = "Choose a smaller photos.profile in survey.toml and build again, or raise bundle.budget_mb."
    raise OutputRefused("bundle", "\n".join(lines), step)


def _parts(items: Sequence[Item], folder: str) -> Iterator[tuple[str, int]]:
    def weigh(*starts: str) -> int:
        return sum(item.size_bytes for item in items if item.of == "atlas" and item.name.startswith(starts))

    photos, thumbs, drawings, layers = (f"{folder}/{part}/" for part in ("photos", "thumbs", "drawings", "layers"))
    books = tuple(item.name for item in items if item.of == "atlas" and item.name.endswith(".pdf"))
    yield "the book, which holds the photos again", weigh(*books) if books else 0
    yield "photos", weigh(photos)
    yield "small pictures", weigh(thumbs)
    yield "maps and drawings", weigh(drawings)
    yield "pictures of the bed (layer.tiles_mb and relief.tiles_mb in survey.toml bound them)", weigh(layers)
    named = weigh(photos, thumbs, drawings, layers, *books)
    yield "the rest of the atlas", weigh(f"{folder}/") - named
    yield "the pocket edition", sum(item.size_bytes for item in items if item.of == "bundle")
    yield "the chart's own files, which stay as they are", sum(item.size_bytes for item in items if item.of == "chart")


def _profiles(items: Sequence[Item], folder: str) -> Iterator[str]:
    photos = [item for item in items if item.of == "atlas" and item.name.startswith(f"{folder}/photos/")]
    sample = photos[:: max(1, len(photos) // _SAMPLE)][:_SAMPLE]
    was = sum(item.size_bytes for item in sample)
    whole = sum(item.size_bytes for item in photos)
    for name, (long_px, _, quality) in PROFILES.items():
        share = sum(_size(item, long_px, quality) for item in sample) / was if was else 1.0
        if share < 0.98:
            now, then = _mb(whole), _mb(round(whole * share))
            sampled = f"measured on {len(sample)} of them; the book shrinks as much"
            yield f'with photos.profile = "{name}": photos from {now} to about {then} ({sampled})'


def _size(item: Item, long_px: int, quality: int) -> int:
    from PIL import Image

    with item.open() as file, Image.open(file) as image:
        image.thumbnail((long_px, long_px))
        stream = io.BytesIO()
        image.save(stream, "JPEG", quality=quality, subsampling="4:2:0")
    return len(stream.getvalue())


def _mb(size: int) -> str:
    return f"{size / MEGABYTE:,.1f} MB"
