"""Telling files by content, and finding size and metadata blocks in them."""

from __future__ import annotations

import io
import struct
import zlib

import pytest
from photo_factory import chunk, heic, jpeg, picture, png, raw_block, segment, xmp
from PIL import Image

from atlasgen.model.wording import say
from atlasgen.read.containers import kind_of, open_container
from atlasgen.read.tiff import read_tags

BLOCK = raw_block([(0x0112, 3, struct.pack("<H", 6))])


def saved(kind: str, **options) -> bytes:
    """Return the test picture as Pillow writes it."""
    stream = io.BytesIO()
    picture().save(stream, kind, **options)
    return stream.getvalue()


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (jpeg(), "JPEG"),
        (png(), "PNG"),
        (saved("TIFF"), "TIFF"),
        (saved("WEBP"), "WebP"),
        (saved("AVIF"), "AVIF"),
        (heic(), "HEIC"),
    ],
    ids=["jpeg", "png", "tiff", "webp", "avif", "heic"],
)
def test_pictures_are_told_by_their_first_bytes_and_measured(data, kind):
    """Files that Pillow and pillow-heif wrote."""
    assert kind_of(data[:64])[0] == kind
    container = open_container(data, kind)
    assert (container.format, container.width_px, container.height_px) == (kind, 60, 40)


@pytest.mark.parametrize(
    ("head", "words"),
    [
        (b"", "an empty file"),
        (b"%PDF-1.7", "a PDF document"),
        (b"PK\x03\x04", "a zip archive or office document"),
        (b"GIF89a", "a GIF picture"),
        (b"just some words\n", "plain text"),
        (b"\x00\x00\x00\x18ftypqt  \x00\x00\x00\x00qt  ", "a film"),
        (b"\x00\x00\x00\x18ftypcrx \x00\x00\x00\x00crx ", "a camera raw file"),
        (b"II*\x00\x10\x00\x00\x00CR\x02\x00", "a camera raw file"),
        (b"RIFF\x00\x00\x00\x00AVI ", "sound or film"),
        (b"\x00\x01\x02\x03\x04", "of no known type"),
    ],
)
def test_other_files_are_named_in_words(head, words):
    """What the crew finds in its folder, said so that they know it again."""
    kind, name = kind_of(head)
    assert (kind, say("photo-kind", kind=name)) == (None, words)


def test_a_heic_that_gives_another_brand_first_is_still_heic():
    """Major brand mif1, heic among the compatible ones (ISO/IEC 14496-12 ftyp)."""
    assert kind_of(b"\x00\x00\x00\x1cftypmif1\x00\x00\x00\x00mif1heicmiaf")[0] == "HEIC"


@pytest.mark.parametrize("make", [jpeg, png, heic], ids=["jpeg", "png", "heic"])
def test_metadata_blocks_are_found(make):
    """Exif and XMP in JPEG segments, in PNG chunks behind the pixels, in a HEIC box."""
    data = make(BLOCK, xmp('drone:CameraYaw="7"'))
    container = open_container(data, kind_of(data[:64])[0])
    assert container.exif[:4] == b"II*\x00"
    assert b'CameraYaw="7"' in container.xmp


def test_metadata_of_tiff_webp_and_avif():
    """A TIFF is its own Exif block and holds XMP in tag 700; WebP and AVIF carry both as Pillow reads them."""
    packet = xmp('drone:CameraYaw="7"')
    tiff = open_container(saved("TIFF", tiffinfo={700: packet}), "TIFF")
    others = [
        open_container(saved(name, exif=b"Exif\x00\x00" + BLOCK, xmp=packet), kind)
        for name, kind in (("WEBP", "WebP"), ("AVIF", "AVIF"))
    ]
    assert [b"CameraYaw" in container.xmp for container in (tiff, *others)] == [True, True, True]
    assert tiff.exif[:2] == b"II"
    assert [read_tags(container.exif).main[0x0112].numbers() for container in others] == [(6,), (6,)]


def test_compressed_xmp_text_in_png_is_read_and_a_bomb_is_not():
    """The iTXt chunk may be deflated; what swells past the limit is cut there."""
    keyword = b"XML:com.adobe.xmp\x00\x01\x00\x00\x00"
    head, foot = png()[:33], png()[33:]
    good = head + chunk(b"iTXt", keyword + zlib.compress(xmp())) + foot
    bomb = head + chunk(b"iTXt", keyword + zlib.compress(bytes(40_000_000))) + foot
    assert open_container(good, "PNG").xmp == xmp()
    assert len(open_container(bomb, "PNG").xmp) == 16_000_000


def test_an_exif_block_over_two_segments_is_joined_and_a_second_block_is_not():
    """64 KB is the most a segment holds; a second block of its own does not belong to the first."""
    plain = jpeg()
    parts = [segment(0xE1, b"Exif\x00\x00" + part) for part in (BLOCK[:20], BLOCK[20:], b"II*\x00second")]
    container = open_container(plain[:2] + b"".join(parts) + plain[2:], "JPEG")
    assert container.exif == BLOCK


def test_extended_xmp_and_a_damaged_name_are_tolerated():
    """The extension segment is passed over; a packet is known even where its name was damaged."""
    plain, packet = jpeg(), xmp('drone:CameraYaw="7"')
    front = segment(0xE1, b"http://ns.adobe.com/xmp/extension/\x00" + bytes(60))
    front += segment(0xE1, b"XMP\x00://ns.adobe.com/xap/1.0/\x00" + packet)
    assert open_container(plain[:2] + front + plain[2:], "JPEG").xmp == packet


def test_bytes_between_segments_do_not_hide_the_size():
    """Fill bytes and stray bytes stand before markers in some files, and decoders pass over them."""
    plain = jpeg()
    assert open_container(plain[:2] + b"\xff\xff\xff\x00stray" + plain[2:], "JPEG").width_px == 60


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (jpeg()[:30], "JPEG"),
        (b"\xff\xd8\xff", "JPEG"),
        (png()[:12], "PNG"),
        (raw_block([]), "TIFF"),
        (heic()[:200], "HEIC"),
    ],
    ids=["jpeg", "three bytes", "png", "tiff", "heic"],
)
def test_a_file_that_ends_before_its_size_is_refused(data, kind):
    """There is nothing to publish; the words name no address in memory."""
    with pytest.raises(ValueError, match=r"^it|^its header cannot be read$"):
        open_container(data, kind)


def test_a_raw_file_in_tiff_clothing_is_not_published_by_its_thumbnail():
    """DNGVersion, or a first picture that calls itself a reduced one (TIFF 6.0 tag 254)."""
    size = [(256, 4, struct.pack("<L", 160)), (257, 4, struct.pack("<L", 120))]
    dng = raw_block([*size, (50706, 1, b"\x01\x04\x00\x00")])
    preview = raw_block([(254, 4, struct.pack("<L", 1)), *size])
    assert [open_container(data, "TIFF").format for data in (dng, preview, raw_block(size))] == ["raw", "raw", "TIFF"]


def test_heic_is_turned_by_its_decoder():
    """A phone's HEIC comes upright out of the decoder, so its orientation must not be applied again."""
    stream = io.BytesIO()
    exif = Image.Exif()
    exif[0x0112] = 6
    heic()
    picture().save(stream, "HEIF", exif=exif.tobytes())
    container = open_container(stream.getvalue(), "HEIC")
    assert (container.upright, container.width_px, container.height_px) == (True, 40, 60)
