"""Makes small test photos with chosen Exif and XMP; every value in them is invented."""

from __future__ import annotations

import io
import struct
import zlib
from pathlib import Path

import piexif
from PIL import Image

COLOURS = ((220, 30, 30), (30, 200, 40), (40, 60, 220), (240, 230, 60))
XMP_HEAD = (
    '<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
    '<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" '
    'xmlns:exif="http://ns.adobe.com/exif/1.0/" xmlns:photoshop="http://ns.adobe.com/photoshop/1.0/" '
    'xmlns:drone="http://drones.example/1.0/" xmlns:cam="http://maker.example/camera/1.0/" '
)
XMP_FOOT = "</rdf:Description></rdf:RDF></x:xmpmeta>"


def picture(width_px: int = 60, height_px: int = 40) -> Image.Image:
    """Make four plain quarters: red, green over blue, yellow, so that every turn and mirroring is told apart."""
    image = Image.new("RGB", (width_px, height_px))
    for number, colour in enumerate(COLOURS):
        corner = (number % 2 * width_px // 2, number // 2 * height_px // 2)
        image.paste(colour, (*corner, corner[0] + width_px // 2, corner[1] + height_px // 2))
    return image


def xmp(attributes: str = "", elements: str = "") -> bytes:
    """Make an XMP packet with the given attributes and elements; the prefixes of XMP_HEAD are declared."""
    return f"{XMP_HEAD}{attributes}>{elements}{XMP_FOOT}".encode()


def rationals(*parts: tuple[int, int]) -> tuple[tuple[int, int], ...]:
    """Return rationals as piexif takes them."""
    return parts


def gps_tags(lat=((37, 1), (57, 1), (37203, 10000)), lat_ref="S", lon=((144, 1), (25, 1), (0, 1)), lon_ref="E", **more):
    """Make a GPS directory for piexif; `more` are tag names of piexif.GPSIFD."""
    tags = {"GPSLatitude": lat, "GPSLatitudeRef": lat_ref, "GPSLongitude": lon, "GPSLongitudeRef": lon_ref, **more}
    return {getattr(piexif.GPSIFD, name): value for name, value in tags.items() if value is not None}


def exif_block(main: dict | None = None, exif: dict | None = None, gps: dict | None = None) -> bytes:
    """Make an Exif block from its TIFF header on; keys are piexif's tag names or numbers."""
    named = {
        "0th": {getattr(piexif.ImageIFD, k) if isinstance(k, str) else k: v for k, v in (main or {}).items()},
        "Exif": {getattr(piexif.ExifIFD, k) if isinstance(k, str) else k: v for k, v in (exif or {}).items()},
        "GPS": gps or {},
    }
    return piexif.dump(named)[6:]


def raw_block(entries: list[tuple[int, int, bytes]], order: str = "<", pointer: int | None = None) -> bytes:
    """Make a TIFF block of one directory from `(tag, type, bytes)`, for what no well-behaved library would write.

    With `pointer` the directory hangs on that tag (Exif or GPS) of an otherwise empty main one.
    """
    sizes = {1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 7: 1, 10: 8, 12: 8, 129: 1}
    start = 8 if pointer is None else 26
    end = start + 2 + 12 * len(entries) + 4
    rows, values = b"", b""
    for tag, kind, data in entries:
        rows += struct.pack(f"{order}HHL", tag, kind, len(data) // sizes[kind])
        rows += data.ljust(4, b"\x00") if len(data) <= 4 else struct.pack(f"{order}L", end + len(values))
        values += data if len(data) > 4 else b""
    head = (b"II" if order == "<" else b"MM") + struct.pack(f"{order}HL", 42, 8)
    main = b"" if pointer is None else struct.pack(f"{order}HHHLLL", 1, pointer, 4, 1, start, 0)
    return head + main + struct.pack(f"{order}H", len(entries)) + rows + bytes(4) + values


def segment(marker: int, body: bytes) -> bytes:
    """Make one JPEG segment."""
    return struct.pack(">BBH", 0xFF, marker, len(body) + 2) + body


def jpeg(exif: bytes | None = None, packet: bytes | None = None, image: Image.Image | None = None, **save) -> bytes:
    """Make a JPEG with an Exif block and an XMP packet in front."""
    stream = io.BytesIO()
    (image or picture()).save(stream, "JPEG", quality=90, **save)
    front = segment(0xE1, b"Exif\x00\x00" + exif) if exif else b""
    front += segment(0xE1, b"http://ns.adobe.com/xap/1.0/\x00" + packet) if packet else b""
    return stream.getvalue()[:2] + front + stream.getvalue()[2:]


def chunk(name: bytes, body: bytes) -> bytes:
    """Make one PNG chunk."""
    return struct.pack(">L", len(body)) + name + body + struct.pack(">L", zlib.crc32(name + body))


def png(exif: bytes | None = None, packet: bytes | None = None, image: Image.Image | None = None) -> bytes:
    """Make a PNG with the metadata chunks after the pixels, where some programs put them."""
    stream = io.BytesIO()
    (image or picture()).save(stream, "PNG")
    extra = chunk(b"eXIf", exif) if exif else b""
    extra += chunk(b"iTXt", b"XML:com.adobe.xmp\x00\x00\x00\x00\x00" + packet) if packet else b""
    return stream.getvalue()[:-12] + extra + stream.getvalue()[-12:]


def heic(exif: bytes | None = None, packet: bytes | None = None, image: Image.Image | None = None) -> bytes:
    """Make a HEIC picture, as phones write."""
    import pillow_heif

    pillow_heif.register_heif_opener()
    stream = io.BytesIO()
    extra = {"exif": b"Exif\x00\x00" + exif} if exif else {}
    (image or picture()).save(stream, "HEIF", quality=90, **extra, **({"xmp": packet} if packet else {}))
    return stream.getvalue()


def put(folder: Path, name: str, data: bytes) -> Path:
    """Write a file, folders and all."""
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
    return path
