"""Publishable pictures: two upright sRGB JPEGs of each photo, with nothing of the camera's metadata left in them.

libvips decodes JPEG, PNG, TIFF and WebP, Pillow the rest, and everything where libvips cannot be loaded. The photo is
decoded once; the small picture is made from the large one.
"""

from __future__ import annotations

import hashlib
import io
import logging
import math
import os
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Any, NamedTuple

from atlasgen.model import LonLat, Picture, Problem
from atlasgen.model.wording import say
from atlasgen.write.blurring import stored_boxes
from atlasgen.write.labelling import labelled

if TYPE_CHECKING:
    from PIL import Image

_LOADERS = {
    "JPEG": "jpegload_buffer",
    "PNG": "pngload_buffer",
    "TIFF": "tiffload_buffer",
    "WebP": "webpload_buffer",
}
_PILLOW_NAMES = {"HEIC": "HEIF", "AVIF": "AVIF", "WebP": "WEBP"}
# libvips' own default accepts half a file. JPEG is tried at its strictest first, since a hole in the middle of a scan
# is only a warning to libjpeg; at "truncated" libvips passes half a TIFF, at "error" it does not.
_STRICTNESS = {"JPEG": ("warning", "truncated")}
_OTHER_STRICTNESS = ("error",)
# libjpeg's warnings that mean lost picture. Its others (stray bytes before the end, odd scan parameters) come from
# healthy cameras. What a hole leaves that decodes to the end all the same, no decoder can tell: JPEG has no checksum.
_DAMAGE = re.compile(
    r"premature end|bad huffman code|bad arithmetic code|instead of rst|extraneous bytes before marker 0xd[0-7]",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class ImageJob:
    """One photo to publish: where from, where to, and what is to be written into it.

    `large` None decodes only and writes nothing. `blur` are rectangles (left, top, width, height) of the upright photo;
    `sha256` is that of the file as it was read before, "" to take it as it is.
    `large_px` and `small_px` are long edges, `quality` is that of JPEG; `format` and `orientation` are those of
    `PhotoFile`. What `caption`, `copyright` and `position` hold is written into both pictures.
    """

    source: Path
    file: str
    photo: str
    orientation: int
    large: Path | None
    small: Path | None
    large_px: int
    small_px: int
    caption: str
    copyright: str
    format: str
    blur: tuple[tuple[int, int, int, int], ...] = ()
    sha256: str = ""
    quality: int = 82
    position: LonLat | None = None


class _Pair(NamedTuple):
    """Sizes of both pictures, upright, and their JPEG bytes; None where the photo was only to be decoded."""

    large_size: tuple[int, int]
    small_size: tuple[int, int]
    large: bytes | None = None
    small: bytes | None = None


class _Undecodable(Exception):
    """The picture cannot be published; the text says why."""


def derive(job: ImageJob) -> Picture | Problem:
    """Make both pictures of one photo; a pure function of file and job, same bytes every time.

    A picture that is cut short or cannot be decoded is a `Problem` of level `left_out`.

    Raises
    ------
    OSError
        A picture cannot be written (a full disk is not the photo's fault).
    """
    try:
        data = job.source.read_bytes()
    except OSError as error:
        message = say("image-unreadable", file=job.file, why=error.strerror or "")
        return Problem(job.file, "unreadable", message, "left_out")
    if job.sha256 and hashlib.sha256(data).hexdigest() != job.sha256:
        return Problem(job.file, "unreadable", say("image-changed", file=job.file), "left_out")
    try:
        pair = _pair(data, job)
    except Exception as error:
        # Whatever a decoder makes of a bad file, the other photos are still to be published.
        message = say("image-damaged", file=job.file, why=_why(error))
        return Problem(job.file, "damaged", message, "left_out")
    for path, picture in ((job.large, pair.large), (job.small, pair.small)):
        if path is not None and picture is not None:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(picture)
    hashes = (hashlib.sha256(picture).hexdigest() if picture else "" for picture in (pair.large, pair.small))
    return Picture(job.photo, *pair.large_size, *pair.small_size, *hashes)


def fitted(width_px: int, height_px: int, long_px: int) -> tuple[int, int]:
    """Size with the long edge at most `long_px`, never larger than it was, no edge under one pixel."""
    scale = min(1.0, long_px / max(width_px, height_px))
    return max(1, math.floor(width_px * scale + 0.5)), max(1, math.floor(height_px * scale + 0.5))


def _why(error: Exception) -> str:
    lines = [line.strip() for line in str(error).splitlines() if line.strip()]
    # libvips puts the operation first and the reason last.
    return lines[-1] if lines else type(error).__name__


def _pair(data: bytes, job: ImageJob) -> _Pair:
    vips = _vips()
    return _by_vips(vips, data, job) if vips and job.format in _LOADERS else _by_pillow(data, job)


def _upright(size: tuple[int, int], orientation: int) -> tuple[int, int]:
    return size[::-1] if orientation >= 5 else size


@cache
def _vips() -> ModuleType | None:
    """Return libvips' binding set for a worker: one thread, no cache; None where the library cannot be loaded."""
    os.environ.setdefault("VIPS_CONCURRENCY", "1")
    # Warnings about photos are told in our own words, as problems.
    logging.getLogger("pyvips").setLevel(logging.CRITICAL)
    try:
        import pyvips
    except (ImportError, OSError):
        return None
    pyvips.cache_set_max(0)
    return pyvips


def _by_vips(vips: ModuleType, data: bytes, job: ImageJob) -> _Pair:
    for strictness in _STRICTNESS.get(job.format, _OTHER_STRICTNESS):
        try:
            return _vips_pair(vips, data, job, strictness)
        except vips.Error as error:
            text = str(error)
            if strictness != "warning" or _DAMAGE.search(text):
                raise _Undecodable(text) from error
    raise _Undecodable("no decoder takes it")


def _vips_pair(vips: ModuleType, data: bytes, job: ImageJob, strictness: str) -> _Pair:
    load = getattr(vips.Image, _LOADERS[job.format])
    options: dict[str, Any] = {"access": "sequential", "fail_on": strictness}
    header = load(data, **options)
    size = (header.width, header.height)
    large_size, small_size = fitted(*size, job.large_px), fitted(*size, job.small_px)
    # Decoding at an eighth, a quarter or a half costs a fraction; it must still leave the larger picture whole.
    if job.format == "JPEG":
        options["shrink"] = _shrink(max(size), max(large_size) if job.large else 1)
    image = load(data, **options)
    _check_pixels(image)
    if job.large is None:
        image.avg()
        return _Pair(_upright(large_size, job.orientation), _upright(small_size, job.orientation))
    if image.hasalpha():
        image = _vips_srgb(vips, image).flatten(background=255)
    # Later steps need the pixels more than once, and the file must be read once.
    large = _vips_srgb(vips, _vips_resized(image, large_size)).copy_memory()
    for left, top, width, height in stored_boxes(job.blur, size, large_size, job.orientation):
        mean = [large.extract_area(left, top, width, height).extract_band(band).avg() for band in range(large.bands)]
        large = large.draw_rect(mean, left, top, width, height, fill=True)
    small = _vips_resized(large, small_size)
    turned = [_vips_turned(picture, job.orientation) for picture in (large, small)]
    sizes = [(picture.width, picture.height) for picture in turned]
    return _Pair(sizes[0], sizes[1], *(_label(_vips_jpeg(picture, job.quality), job) for picture in turned))


def _shrink(source_px: int, target_px: int) -> int:
    return next(shrink for shrink in (8, 4, 2, 1) if source_px // shrink >= target_px or shrink == 1)


def _check_pixels(image: Any) -> None:
    """Refuse measurements stored as a picture; showing them would need a choice that is not ours to make."""
    if image.interpretation in ("lab", "labs", "labq", "xyz", "scrgb"):
        return
    if image.format not in ("uchar", "ushort") or image.bands > 5:
        raise _Undecodable(f"{image.bands} bands of {image.format} numbers, not a colour picture")


def _vips_resized(image: Any, size: tuple[int, int]) -> Any:
    if (image.width, image.height) == size:
        return image
    return image.resize(size[0] / image.width, vscale=size[1] / image.height, kernel="lanczos3")


def _vips_srgb(vips: ModuleType, image: Any) -> Any:
    """8-bit sRGB; a profile is applied only where one is embedded, since assuming one costs time for nothing."""
    if image.get_typeof("icc-profile-data"):
        try:
            return image.icc_transform("srgb", embedded=True)
        except vips.Error:
            # A profile for another kind of picture, or a broken one: the plain numbers are the better guess.
            image = image.copy()
            image.remove("icc-profile-data")
    if image.interpretation == "cmyk":
        return image.icc_transform("srgb", input_profile="cmyk")
    return image.colourspace("srgb")


def _vips_turned(image: Any, orientation: int) -> Any:
    """Upright picture for an Exif orientation (TIFF 6.0 tag 274)."""
    turns = {3: "rot180", 4: "rot180", 5: "rot90", 6: "rot90", 7: "rot270", 8: "rot270"}
    if orientation in turns:
        image = getattr(image, turns[orientation])()
    return image.fliphor() if orientation in (2, 4, 5, 7) else image


def _vips_jpeg(image: Any, quality: int) -> bytes:
    # The resolution of the source would otherwise be carried along, and it means nothing after resizing.
    plain = image.copy(xres=72 / 25.4, yres=72 / 25.4)
    return plain.jpegsave_buffer(Q=quality, subsample_mode="on", interlace=False, keep="none")


def _by_pillow(data: bytes, job: ImageJob) -> _Pair:
    from PIL import Image

    if job.format == "HEIC":
        import pillow_heif

        pillow_heif.register_heif_opener()
    # The limit on pixels is the survey's own and was checked when the photo was read.
    Image.MAX_IMAGE_PIXELS = None
    name = _PILLOW_NAMES.get(job.format, job.format)
    with Image.open(io.BytesIO(data), formats=[name]) as source:
        source_size = source.size
        large_size, small_size = fitted(*source.size, job.large_px), fitted(*source.size, job.small_px)
        if job.format == "JPEG":
            source.draft("RGB", large_size if job.large else (1, 1))
        source.load()
        if job.large is None:
            return _Pair(_upright(large_size, job.orientation), _upright(small_size, job.orientation))
        image = _pillow_srgb(source)
    large = image.resize(large_size, Image.Resampling.LANCZOS, reducing_gap=3.0)
    for left, top, width, height in stored_boxes(job.blur, source_size, large_size, job.orientation):
        box = (left, top, left + width, top + height)
        large.paste(large.crop(box).resize((1, 1), Image.Resampling.BOX).resize((width, height)), box)
    small = large.resize(small_size, Image.Resampling.LANCZOS, reducing_gap=3.0)
    turned = [_pillow_turned(picture, job.orientation) for picture in (large, small)]
    pictures = (_label(_pillow_jpeg(picture, job.quality), job) for picture in turned)
    return _Pair(turned[0].size, turned[1].size, *pictures)


def _pillow_srgb(source: Image.Image) -> Image.Image:
    from PIL import Image, ImageCms

    profile, image = source.info.get("icc_profile"), source
    if image.mode == "F":
        raise _Undecodable("decimal numbers, not a colour picture")
    if image.mode.startswith("I"):
        # convert() would clip 16 bits to 255 instead of scaling them.
        image = image.convert("I").point([value >> 8 for value in range(65536)], "L")
    if image.has_transparency_data:
        over = image.convert("RGBA")
        image = Image.alpha_composite(Image.new("RGBA", over.size, "white"), over).convert("RGB")
    if profile and image.mode in ("RGB", "L", "CMYK"):
        try:
            embedded = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            converted = ImageCms.profileToProfile(image, embedded, ImageCms.createProfile("sRGB"), outputMode="RGB")
            return converted or image.convert("RGB")
        except (ImageCms.PyCMSError, OSError):
            pass
    return image.convert("RGB")


def _pillow_turned(image: Image.Image, orientation: int) -> Image.Image:
    from PIL.Image import Transpose

    turns = {
        2: Transpose.FLIP_LEFT_RIGHT,
        3: Transpose.ROTATE_180,
        4: Transpose.FLIP_TOP_BOTTOM,
        5: Transpose.TRANSPOSE,
        6: Transpose.ROTATE_270,
        7: Transpose.TRANSVERSE,
        8: Transpose.ROTATE_90,
    }
    return image.transpose(turns[orientation]) if orientation in turns else image


def _pillow_jpeg(image: Image.Image, quality: int) -> bytes:
    # Pillow writes a comment and a profile that it finds here.
    image.info = {}
    stream = io.BytesIO()
    image.save(stream, "JPEG", quality=quality, subsampling="4:2:0", progressive=False)
    return stream.getvalue()


def _label(jpeg: bytes, job: ImageJob) -> bytes:
    return labelled(jpeg, job.caption, job.copyright, job.position)
