"""Where rectangles that must not be readable lie in a picture as it is stored and shrunk.

What lies in them is replaced by its mean colour: three numbers, from which nothing of it can be brought back.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

Box = tuple[int, int, int, int]
# Resizing spreads a pixel over its neighbours; so much of the published picture is taken along on every side.
_MARGIN_PX = 4


def stored_boxes(
    boxes: Sequence[Box], stored_size: tuple[int, int], target_size: tuple[int, int], orientation: int
) -> Iterator[Box]:
    """Return rectangles of the upright photo as (left, top, width, height) in the picture of `target_size`.

    Parameters
    ----------
    boxes
        Left, top, width and height in pixels of the upright photo.
    stored_size, target_size
        Width and height of the photo as stored (before `orientation`, Exif 274) and of that picture made smaller.
    """
    scale_x, scale_y = target_size[0] / stored_size[0], target_size[1] / stored_size[1]
    for left, top, width, height in boxes:
        corners = [_stored(x, y, stored_size, orientation) for x, y in ((left, top), (left + width, top + height))]
        (west, east), (north, south) = (sorted(values) for values in zip(*corners, strict=True))
        x0 = max(0, math.floor(west * scale_x) - _MARGIN_PX)
        y0 = max(0, math.floor(north * scale_y) - _MARGIN_PX)
        x1 = min(target_size[0], math.ceil(east * scale_x) + _MARGIN_PX)
        y1 = min(target_size[1], math.ceil(south * scale_y) + _MARGIN_PX)
        if x1 > x0 and y1 > y0:
            yield x0, y0, x1 - x0, y1 - y0


def _stored(x: float, y: float, size: tuple[int, int], orientation: int) -> tuple[float, float]:
    """Take a point of the upright photo back to the photo as stored (TIFF 6.0 tag 274)."""
    width, height = size
    places = {
        2: (width - x, y),
        3: (width - x, height - y),
        4: (x, height - y),
        5: (y, x),
        6: (y, height - x),
        7: (width - y, height - x),
        8: (width - y, x),
    }
    return places.get(orientation, (x, y))
