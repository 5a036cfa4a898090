"""JPEGs as the book carries them: whole, without metadata, and tiny stand-ins to lay it out with."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from PIL import Image

from atlasgen.errors import InputFault

# Within entropy-coded data a marker is FF and anything but 00 (a stuffed FF), RST0-7 or a fill FF (ITU T.81, B.1.1).
_MARKER = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]")
_SOI, _EOI, _SOS = 0xD8, 0xD9, 0xDA
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
_ICC, _ADOBE, _JFIF = b"ICC_PROFILE\x00", b"Adobe", b"JFIF\x00"
# Segments that say how the picture is to be decoded or coloured; every other APPn and all comments are dropped.
_KEPT_APPLICATION_DATA = {0xE0: _JFIF, 0xE2: _ICC, 0xEE: _ADOBE}


class JpegFrame(NamedTuple):
    """What the frame header of a JPEG says (ITU T.81, B.2.2)."""

    width_px: int
    height_px: int
    components: int


def stand_in(index: int, photo: Path, *, plain: bool = False) -> bytes:
    """Return a JPEG of 8 by 8 pixels, unlike every other index's by its comment.

    It has the photo's colour components and, unless `plain`, its colour profile, so the layout declares the right
    colour space.
    """
    with Image.open(photo) as picture:
        mode, profile = ("L" if picture.mode == "L" else "RGB"), picture.info.get("icc_profile")
    profile = None if plain else profile
    buffer = io.BytesIO()
    Image.new(mode, (8, 8)).save(buffer, "JPEG", comment=f"stand-in {index}".encode(), icc_profile=profile)
    return buffer.getvalue()


def strip_jpeg(jpeg: bytes) -> bytes:
    """Return the JPEG without metadata (Exif, XMP, IPTC, comments, anything after its end); pixels untouched.

    Raises
    ------
    ValueError
        It is not a whole JPEG.
    """
    kept = [b"\xff\xd8"]
    for marker, segment in _segments(jpeg):
        application = 0xE0 <= marker <= 0xEF
        wanted = segment[4:].startswith(_KEPT_APPLICATION_DATA.get(marker, b"\x00never")) if application else True
        if wanted and marker != 0xFE:
            kept.append(segment)
    return b"".join(kept)


def jpeg_frame(jpeg: bytes) -> JpegFrame:
    """Return size and number of components.

    Raises
    ------
    ValueError
        It is not a whole JPEG.
    """
    for marker, segment in _segments(jpeg):
        if marker in _FRAMES and len(segment) >= 10:
            return JpegFrame(int.from_bytes(segment[7:9]), int.from_bytes(segment[5:7]), segment[9])
    raise ValueError("no frame header")


def _segments(jpeg: bytes) -> Iterator[tuple[int, bytes]]:
    """Yield `(marker, the whole segment)` up to EOI; entropy-coded data goes with its SOS."""
    if not jpeg.startswith(b"\xff\xd8"):
        raise ValueError("does not begin like a JPEG")
    at = 2
    while at + 2 <= len(jpeg):
        marker, end = jpeg[at + 1], at + 2
        if jpeg[at] != 0xFF:
            raise ValueError(f"no marker at byte {at}")
        if marker == 0xFF:  # a fill byte
            at += 1
            continue
        if marker == _EOI:
            yield marker, jpeg[at:end]
            return
        end += int.from_bytes(jpeg[end : end + 2])
        if marker == _SOS:
            following = _MARKER.search(jpeg, end)
            end = following.start() if following else len(jpeg)
        yield marker, jpeg[at:end]
        at = end
    raise ValueError("ends early")


def readable_jpeg(photo: Path) -> tuple[bytes, JpegFrame]:
    """Return a photo's JPEG without metadata, and what its header says.

    Raises
    ------
    InputFault
        It is not a JPEG that a PDF can carry.
    """
    try:
        jpeg = strip_jpeg(photo.read_bytes())
        frame = jpeg_frame(jpeg)
    except ValueError as error:
        raise InputFault(photo.name, str(error), "a whole JPEG", "Prepare the photos again.") from None
    if frame.components not in (1, 3):
        raise InputFault(photo.name, f"{frame.components} colour components", "1 (grey) or 3 (colour)")
    return jpeg, frame
