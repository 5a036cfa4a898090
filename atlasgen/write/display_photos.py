"""Photos for viewers with little memory: no more pixels than a page shows, baseline JPEG, sRGB without a profile."""

from __future__ import annotations

import io
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from PIL import Image, ImageCms

# As many dots as a screen or an office printer shows of a photograph; common practice, no source.
DISPLAY_DPI = 150
_QUALITY = 80


def printed_widths_pt(marks: Iterable[Mapping[str, Any]]) -> dict[str, float]:
    """Return the widest that each photo is printed, points, by the templates' name for it."""
    widths: dict[str, float] = {}
    for mark in marks:
        if mark["kind"] == "photo":
            widths[mark["photo"]] = max(mark["width_pt"], widths.get(mark["photo"], 0.0))
    return widths


def display_bytes(size_bytes: int, width_px: int, widest_mm: float) -> int:
    """Return about what a photo will weigh at display size, at most `widest_mm` wide."""
    return round(size_bytes * min(1.0, widest_mm / 25.4 * DISPLAY_DPI / width_px) ** 2)


def display_copy(photo: Path, width_pt: float, target: Path) -> Path:
    """Write a photo as large as it is printed; never more pixels than it has."""
    with Image.open(photo) as picture:
        picture.load()
        plain = _in_srgb(picture)
        width = min(plain.width, round(width_pt / 72 * DISPLAY_DPI))
        size = (width, max(1, round(plain.height * width / plain.width)))
        shown = plain if size == plain.size else plain.resize(size, Image.Resampling.LANCZOS)
        target.parent.mkdir(parents=True, exist_ok=True)
        shown.save(target, "JPEG", quality=_QUALITY, progressive=False, icc_profile=None)
    return target


def _in_srgb(picture: Image.Image) -> Image.Image:
    """Return a grey or sRGB picture: an old viewer may not know the profile's version."""
    mode = "L" if picture.mode == "L" else "RGB"
    profile = picture.info.get("icc_profile")
    if not profile or mode == "L":
        return picture.convert(mode)
    try:
        source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        return ImageCms.profileToProfile(
            picture, source, ImageCms.createProfile("sRGB"), outputMode="RGB"
        ) or picture.convert(mode)
    except (ImageCms.PyCMSError, OSError):
        return picture.convert(mode)
