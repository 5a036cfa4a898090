"""The outside of a photo file: what it is, how large the picture is, and where its Exif and XMP blocks lie.

Type is told by the first bytes, never by the name. JPEG, PNG and TIFF are walked here, block by block, so that a
damaged block costs itself and not the photo; HEIC, AVIF and WebP are opened by Pillow and pillow-heif.
Layouts: ITU-T T.81 annex B and Exif (JPEG), PNG third edition, TIFF 6.0, ISO/IEC 14496-12 `ftyp`.
"""

from __future__ import annotations

import io
import re
import struct
import zlib
from collections.abc import Iterator
from dataclasses import dataclass

from atlasgen.model.wording import say
from atlasgen.read.tiff import read_tags

_EXIF = b"Exif\x00\x00"
# Some programs damage the beginning of this name, or leave it out and write the packet alone.
_XMP = b"ns.adobe.com/xap/1.0/\x00"
_XMP_BARE = (b"<?xpacket", b"<x:xmpmeta")
_PNG_XMP = b"XML:com.adobe.xmp\x00"
# A text chunk that swells past this is a bomb, not a caption.
_LARGEST_TEXT = 16_000_000

_KNOWN = [
    (b"\xff\xd8\xff", "JPEG"),
    (b"\x89PNG\r\n\x1a\n", "PNG"),
    (b"II*\x00", "TIFF"),
    (b"MM\x00*", "TIFF"),
    (b"II+\x00", "TIFF"),
    (b"MM\x00+", "TIFF"),
]
_OTHERS = [
    (b"%PDF", "pdf"),
    (b"PK\x03\x04", "zip"),
    (b"GIF8", "gif"),
    (b"BM", "bmp"),
    (b"8BPS", "layered"),
    (b"\x00\x00\x00\x0cJXL ", "jpeg-xl"),
    (b"\xff\x0a", "jpeg-xl"),
    (b"\x00\x00\x00\x0cjP  ", "a JPEG 2000 picture"),
    (b"FUJIFILM", "raw"),
    (b"IIRO", "raw"),
    (b"IIU\x00", "raw"),
    (b"\x1a\x45\xdf\xa3", "film"),
    (b"RIFF", "sound"),
    (b"\x1f\x8b", "archive"),
    (b"7z\xbc\xaf", "archive"),
    (b"<?xml", "xml"),
    (b"<svg", "svg"),
]
_HEIF_BRANDS = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"}
_AVIF_BRANDS = {b"avif", b"avis"}


@dataclass(frozen=True, slots=True)
class Container:
    """What the file's outside says. `exif` is a TIFF block; `upright`: the decoder turns the picture itself."""

    format: str
    width_px: int
    height_px: int
    exif: bytes | None = None
    xmp: bytes | None = None
    upright: bool = False


def kind_of(head: bytes) -> tuple[str | None, str]:
    """Tell a file by its first 64 bytes: the format that can be published, or None, and a key of `photo-kind`."""
    for magic, name in _KNOWN:
        if head.startswith(magic):
            return (None, "raw") if head[8:10] == b"CR" else (name, name.lower())
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return "WebP", "webp"
    if head[4:8] == b"ftyp":
        return _kind_of_ftyp(head)
    for magic, words in _OTHERS:
        if head.startswith(magic):
            return None, words
    if not head:
        return None, "empty"
    return None, "text" if re.fullmatch(rb"[\t\n\r\x20-\x7e\x80-\xff]*", head) else "unknown"


def _kind_of_ftyp(head: bytes) -> tuple[str | None, str]:
    size = min(max(struct.unpack(">L", head[:4])[0], 16), len(head))
    brands = {head[8:12], *(head[at : at + 4] for at in range(16, size, 4))}
    if brands & _AVIF_BRANDS:
        return "AVIF", "avif"
    if brands & _HEIF_BRANDS:
        return "HEIC", "heic"
    return None, "raw" if head[8:12] == b"crx " else "film"


def open_container(data: bytes, kind: str) -> Container:
    """Find the size and the metadata blocks of a whole file of a known `kind`; nothing is decoded.

    Raises
    ------
    ValueError
        No picture size can be found.
    """
    walk = {"JPEG": _jpeg, "PNG": _png, "TIFF": _tiff}.get(kind)
    return walk(data) if walk else _by_pillow(data, kind)


def _segments(data: bytes) -> Iterator[tuple[int, bytes]]:
    """Walk the marker segments up to the start of the scan; a segment that runs past the end is given as it is."""
    at = 2
    while at + 4 <= len(data):
        if data[at] != 0xFF:
            # Stray bytes between segments: find the next marker, as decoders do.
            at = data.find(b"\xff", at)
            if at < 0:
                return
            continue
        marker = data[at + 1]
        if marker == 0xFF:
            at += 1
        elif marker in (0x00, 0x01) or 0xD0 <= marker <= 0xD8:
            at += 2
        elif marker in (0xD9, 0xDA):
            return
        else:
            size = max(struct.unpack_from(">H", data, at + 2)[0], 2)
            yield marker, data[at + 4 : at + 2 + size]
            at += 2 + size


def _jpeg(data: bytes) -> Container:
    size: tuple[int, int] | None = None
    exif: list[bytes] = []
    xmp: bytes | None = None
    for marker, body in _segments(data):
        if 0xC0 <= marker <= 0xCF and marker not in (0xC4, 0xC8, 0xCC):
            height_px, width_px = struct.unpack_from(">HH", body, 1) if len(body) >= 5 else (0, 0)
            size = size or ((width_px, height_px) if len(body) >= 5 else None)
        elif marker == 0xE1 and body.startswith(_EXIF):
            # A block over 64 KB goes on in the next segment; a second block of its own begins with a TIFF header.
            part = body[len(_EXIF) :]
            if not exif or part[:2] not in (b"II", b"MM"):
                exif.append(part)
        elif marker == 0xE1 and (_XMP in body[:64] or body.startswith(_XMP_BARE)):
            xmp = xmp or body.rpartition(_XMP)[2]
    if size is None:
        raise ValueError(say("photo-ends-before-size"))
    return Container("JPEG", size[0], size[1], b"".join(exif) or None, xmp)


def _png(data: bytes) -> Container:
    size: tuple[int, int] | None = None
    exif: bytes | None = None
    xmp: bytes | None = None
    at = 8
    while at + 8 <= len(data):
        length, name = struct.unpack_from(">L4s", data, at)
        body = data[at + 8 : at + 8 + length]
        if name == b"IHDR" and len(body) >= 8:
            size = (int.from_bytes(body[:4]), int.from_bytes(body[4:8]))
        elif name == b"eXIf":
            exif = exif or body.removeprefix(_EXIF)
        elif name == b"iTXt" and body.startswith(_PNG_XMP):
            xmp = xmp or _png_text(body[len(_PNG_XMP) :])
        at += 12 + length
    if size is None:
        raise ValueError(say("photo-ends-before-size"))
    return Container("PNG", size[0], size[1], exif, xmp)


def _png_text(rest: bytes) -> bytes | None:
    """Text of an iTXt chunk after its keyword: flag, method, language, translated keyword, text."""
    parts = rest[2:].split(b"\x00", 2)
    if len(parts) < 3:
        return None
    if not rest[0]:
        return parts[2]
    try:
        return zlib.decompressobj().decompress(parts[2], _LARGEST_TEXT)
    except zlib.error:
        return None


def _tiff(data: bytes) -> Container:
    tags = read_tags(data).main
    width, height = (tags[tag].numbers() if tag in tags else () for tag in (256, 257))
    if not width or not height:
        raise ValueError(say("photo-no-size-tags"))
    # DNGVersion, or a first picture that is only a preview: publishing it would pass a thumbnail off as the photo.
    preview = tags[254].numbers() if 254 in tags else ()
    if 50706 in tags or (preview and int(preview[0] or 0) & 1):
        return Container("raw", 0, 0)
    xmp = tags[700].data if 700 in tags else None
    return Container("TIFF", int(width[0] or 0), int(height[0] or 0), data, xmp)


def _by_pillow(data: bytes, kind: str) -> Container:
    from PIL import Image

    if kind == "HEIC":
        import pillow_heif

        pillow_heif.register_heif_opener()
    # The limit on pixels is the survey's own, checked before anything is decoded.
    Image.MAX_IMAGE_PIXELS = None
    try:
        with Image.open(io.BytesIO(data), formats=["HEIF" if kind == "HEIC" else kind]) as picture:
            exif = (picture.info.get("exif") or b"").removeprefix(_EXIF)
            xmp = picture.info.get("xmp")
            return Container(kind, *picture.size, exif or None, xmp or None, upright=kind == "HEIC")
    except Exception as error:
        raise ValueError(say("photo-header-unread")) from error
