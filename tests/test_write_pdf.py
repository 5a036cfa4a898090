"""The finishing of the book: what happens to JPEGs, and what is refused."""

from __future__ import annotations

import io
import struct
from pathlib import Path

import pikepdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageCms

from atlasgen.errors import InputFault
from atlasgen.write.binding import bind
from atlasgen.write.jpeg import jpeg_frame, stand_in, strip_jpeg
from atlasgen.write.pdf import Finishing, finished

NOTHING = Finishing((), (), (), "EPSG:4326")


def jpeg(mode="RGB", size=(48, 32), **options) -> bytes:
    """Make a small picture with a diagonal ramp, so that a changed pixel shows."""
    picture = Image.linear_gradient("L").resize(size).convert(mode)
    buffer = io.BytesIO()
    picture.save(buffer, "JPEG", **options)
    return buffer.getvalue()


def segment(marker: int, content: bytes) -> bytes:
    """Build one marker segment; the length counts itself (ITU T.81, B.1.1.4)."""
    return struct.pack(">BBH", 0xFF, marker, len(content) + 2) + content


def with_segments(data: bytes, *segments: bytes) -> bytes:
    """Put segments right after SOI."""
    return data[:2] + b"".join(segments) + data[2:]


def scan_of(data: bytes) -> bytes:
    """Everything from the first start of scan on."""
    return data[data.index(b"\xff\xda") :]


def test_metadata_is_dropped_and_the_rest_kept_byte_for_byte():
    """Exif, XMP, IPTC, other makers' segments and comments go; JFIF, tables and the scan stay as they are."""
    plain = jpeg()
    private = [
        segment(0xE1, b"Exif\x00\x00private"),
        segment(0xE1, b"http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta/>"),
        segment(0xED, b"Photoshop 3.0\x00private"),
        segment(0xE2, b"MPF\x00private"),
        segment(0xEB, b"private"),
        segment(0xFE, b"private comment"),
    ]
    assert plain == strip_jpeg(with_segments(plain, *private))


def test_anything_after_the_end_is_dropped():
    """Some cameras append a second picture or notes after EOI."""
    assert jpeg() == strip_jpeg(jpeg() + b"\x00private trailer\xff\xd9")


def test_colour_profile_and_colour_transform_are_kept():
    """APP2 with an ICC profile (ICC.1, annex B.4) and APP14 of Adobe change how a picture looks."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    profiled = jpeg(icc_profile=profile)
    adobe = segment(0xEE, b"Adobe\x00\x64\x00\x00\x00\x00\x01")
    kept = strip_jpeg(with_segments(profiled, adobe))
    assert profile == Image.open(io.BytesIO(kept)).info["icc_profile"]
    assert Image.open(io.BytesIO(kept)).info["adobe_transform"] == 1


@pytest.mark.parametrize("options", [{}, {"progressive": True}, {"restart_marker_blocks": 2}, {"optimize": True}])
@pytest.mark.parametrize("mode", ["RGB", "L"])
def test_pixels_are_the_same_to_an_independent_decoder(mode, options):
    """Pillow (libjpeg) decodes the stripped file to the same pixels, whatever the kind of JPEG."""
    data = jpeg(mode, **options)
    stripped = strip_jpeg(with_segments(data, segment(0xE1, b"Exif\x00\x00private")))
    assert Image.open(io.BytesIO(data)).tobytes() == Image.open(io.BytesIO(stripped)).tobytes()
    assert scan_of(data) == scan_of(stripped)


@pytest.mark.parametrize(("mode", "components"), [("L", 1), ("RGB", 3), ("CMYK", 4)])
def test_frame_tells_size_and_components(mode, components):
    """Width before height, as Pillow has it, though the file has height first."""
    assert (48, 32, components) == jpeg_frame(jpeg(mode))


@given(st.binary(max_size=200) | st.binary(max_size=60).map(lambda junk: jpeg(size=(8, 8))[:300] + junk))
def test_broken_bytes_are_refused_or_read_but_nothing_else(data):
    """Whatever a file holds, the answer is a whole JPEG or ValueError."""
    try:
        whole = strip_jpeg(data)
    except ValueError:
        whole = b"refused\xff\xd9"
    assert whole.endswith(b"\xff\xd9")


def test_a_cut_file_is_refused():
    """Half a picture is not a picture."""
    with pytest.raises(ValueError, match="ends early"):
        strip_jpeg(jpeg()[:-20])


def test_stand_ins_differ_and_match_the_photo_in_kind(tmp_path):
    """Each index has bytes of its own; a grey photo has a grey stand-in, so that the colour space is right."""
    (tmp_path / "grey.jpg").write_bytes(jpeg("L"))
    made = [stand_in(i, tmp_path / "grey.jpg") for i in range(300)]
    assert len(set(made)) == 300
    with Image.open(io.BytesIO(made[7])) as picture:
        assert picture.mode == "L"


def laid_out(folder: Path, photos: dict[str, bytes]) -> tuple[Path, dict[bytes, Path]]:
    """Make a one-page PDF that draws a stand-in for each photo; return it and the photos by stand-in."""
    by_stand_in, pdf = {}, pikepdf.new()
    page = pdf.add_blank_page()
    drawn = pikepdf.Dictionary()
    for i, (name, data) in enumerate(sorted(photos.items())):
        (folder / name).write_bytes(data)
        small = stand_in(i, folder / name)
        by_stand_in[small] = folder / name
        stream = pikepdf.Stream(pdf, small, Filter=pikepdf.Name.DCTDecode)
        stream.Subtype, stream.Width, stream.Height = pikepdf.Name.Image, 8, 8
        drawn[f"/Im{i}"] = stream
    page.obj.Resources = pikepdf.Dictionary(XObject=drawn)
    pdf.Root.MarkInfo = pikepdf.Dictionary(Marked=True, Suspects=False)
    pdf.save(folder / "laid_out.pdf")
    return folder / "laid_out.pdf", by_stand_in


def bound(file: Path, target: Path, photos: dict[bytes, Path]) -> str:
    """Finish a layout and put the photos in."""
    return bind(finished(file.read_bytes(), photos.keys(), NOTHING), photos, target)


def test_streams_are_exchanged_under_their_own_names(tmp_path):
    """Each drawn image holds the bytes of its own photo, with that photo's size."""
    photos = {f"{i}.jpg": jpeg(size=(40 + i, 30)) for i in range(5)}
    file, by_stand_in = laid_out(tmp_path, photos)
    bound(file, tmp_path / "book.pdf", by_stand_in)
    with pikepdf.open(tmp_path / "book.pdf") as pdf:
        images = pdf.pages[0].Resources.XObject
        assert [photos[f"{i}.jpg"] for i in range(5)] == [images[f"/Im{i}"].read_raw_bytes() for i in range(5)]
        assert [(40 + i, 30) for i in range(5)] == [(int(im.Width), int(im.Height)) for _, im in sorted(images.items())]


def test_a_layout_that_lost_a_photo_is_refused(tmp_path):
    """A book that leaves out a photo without a word must not come to be."""
    file, by_stand_in = laid_out(tmp_path, {"0.jpg": jpeg()})
    with pytest.raises(ValueError, match="1 of 2 photos are not in the laid-out book"):
        bound(file, tmp_path / "book.pdf", {**by_stand_in, b"0": tmp_path / "0.jpg"})


@pytest.mark.parametrize(
    ("data", "message"),
    [(jpeg("CMYK"), "4 colour components. Expected 1 .grey. or 3 .colour."), (jpeg()[:-9], "ends early")],
)
def test_a_photo_that_the_book_cannot_carry_is_named(tmp_path, data, message):
    """The message names the file and what is allowed."""
    file, by_stand_in = laid_out(tmp_path, {"0.jpg": data})
    with pytest.raises(InputFault, match=f"0.jpg: {message}"):
        bound(file, tmp_path / "book.pdf", by_stand_in)
