"""Publishable pictures: upright, sRGB, of the right size, nothing of the camera left in them, damaged ones told."""

from __future__ import annotations

import io
import random
from dataclasses import replace
from functools import cache
from pathlib import Path

import exifread
import piexif
import pytest
from hypothesis import given
from hypothesis import strategies as st
from photo_factory import COLOURS, exif_block, gps_tags, heic, jpeg, picture, png, put, xmp
from PIL import Image, ImageChops, ImageCms, ImageOps, ImageStat

from atlasgen.model import Picture, Problem
from atlasgen.write import images
from atlasgen.write.images import ImageJob, derive, fitted


def job(tmp_path: Path, data: bytes, kind: str = "JPEG", **changes) -> ImageJob:
    """Write a source file and ask for both pictures of it."""
    source = put(tmp_path, "source", data)
    plain = ImageJob(
        source, "shore/a.jpg", "p1", 1, tmp_path / "large/p1.jpg", tmp_path / "small/p1.jpg", 300, 100, "", "", kind
    )
    return replace(plain, **changes)


def encoded(image: Image.Image, kind: str, **options) -> bytes:
    """Return an image as Pillow writes it."""
    stream = io.BytesIO()
    image.save(stream, kind, **options)
    return stream.getvalue()


def corners(image: Image.Image) -> list[tuple[int, ...]]:
    """Return the middle of each quarter, left to right and top to bottom."""
    width, height = image.size
    return [image.getpixel((width * x // 4, height * y // 4)) for y in (1, 3) for x in (1, 3)]


def near(found, wanted, tolerance: int = 12) -> bool:
    """Whether colours agree to what JPEG compression leaves."""
    return all(
        abs(a - b) <= tolerance for one, two in zip(found, wanted, strict=True) for a, b in zip(one, two, strict=True)
    )


@pytest.fixture(params=["vips", "pillow"])
def engine(request, monkeypatch):
    """Run a test with libvips, and again as on a machine without it."""
    if request.param == "pillow":
        monkeypatch.setattr(images, "_vips", lambda: None)
    elif images._vips() is None:
        pytest.skip("libvips cannot be loaded here")
    return request.param


SOURCES = {
    "JPEG": lambda image: encoded(image, "JPEG", quality=95),
    "PNG": lambda image: encoded(image, "PNG"),
    "TIFF": lambda image: encoded(image, "TIFF"),
    "WebP": lambda image: encoded(image, "WEBP", quality=95),
    "AVIF": lambda image: encoded(image, "AVIF", quality=95),
    "HEIC": lambda image: heic(image=image),
}


@pytest.mark.parametrize("kind", SOURCES)
def test_both_sizes_of_every_format(tmp_path, engine, kind):
    """A 1200 x 800 photo of each format becomes 300 x 200 and 100 x 67, with its colours where they were."""
    ask = job(tmp_path, SOURCES[kind](picture(1200, 800)), kind)
    assert derive(ask) == Picture("p1", 300, 200, 100, 67)
    for path, size in ((ask.large, (300, 200)), (ask.small, (100, 67))):
        with Image.open(path) as made:
            assert (made.format, made.mode, made.size) == ("JPEG", "RGB", size)
            assert near(corners(made), COLOURS)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_pictures_come_out_upright(tmp_path, engine, orientation):
    """Each Exif orientation, against Pillow's own exif_transpose of the same file (TIFF 6.0 tag 274)."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    data = encoded(picture(600, 400), "JPEG", exif=exif, quality=95)
    upright = ImageOps.exif_transpose(Image.open(io.BytesIO(data)))
    ask = job(tmp_path, data, orientation=orientation)
    made = derive(ask)
    assert (made.width_px, made.height_px) == ((200, 300) if orientation >= 5 else (300, 200))
    with Image.open(ask.large) as large, Image.open(ask.small) as small:
        assert near(corners(large), corners(upright))
        assert near(corners(small), corners(upright))


def test_a_photo_looks_the_same_in_all_eight_orientations(tmp_path, engine):
    """The same scene stored eight ways, without loss, gives pictures that differ by no more than compression does."""
    scene = Image.effect_noise((64, 48), 90).resize((640, 480), Image.Resampling.BICUBIC).convert("RGB")
    scene.paste(picture(160, 120), (40, 30))
    undo = {2: 0, 3: 3, 4: 1, 5: 5, 6: 2, 7: 6, 8: 4}  # Pillow's Transpose that stores the scene as the tag says
    made = {}
    for orientation in range(1, 9):
        stored = scene if orientation == 1 else scene.transpose(Image.Transpose(undo[orientation]))
        ask = job(tmp_path / str(orientation), encoded(stored, "PNG"), "PNG", orientation=orientation)
        derive(ask)
        made[orientation] = Image.open(ask.large).copy()
    for picture_ in made.values():
        assert picture_.size == made[1].size
        assert max(ImageStat.Stat(ImageChops.difference(picture_, made[1])).mean) < 1.0


def test_a_small_photo_is_never_enlarged(tmp_path, engine):
    """60 x 40 stays 60 x 40 in both."""
    assert derive(job(tmp_path, jpeg())) == Picture("p1", 60, 40, 60, 40)


@given(st.integers(1, 20_000), st.integers(1, 20_000), st.integers(100, 6000))
def test_fitted_sizes(width, height, long_px):
    """The long edge is the smaller of what it was and what is allowed; the shape is kept to half a pixel."""
    fit = fitted(width, height, long_px)
    assert max(fit) == min(max(width, height), long_px)
    scale = max(fit) / max(width, height)
    assert abs(min(fit) - min(width, height) * scale) <= 0.5 or min(fit) == 1


def test_nothing_of_the_camera_is_left(tmp_path, engine):
    """No position, no camera, no XMP, no comment, no thumbnail, no profile; caption and copyright as given."""
    block = exif_block({"Make": b"Invented", "Orientation": 1}, {"UserComment": b"secret"}, gps_tags())
    data = jpeg(block, xmp('drone:RelativeAltitude="+39.80"'), picture(600, 400), comment=b"secret note")
    ask = job(tmp_path, data, caption="Döck at dawn", copyright="© 2026 A. Crew")
    derive(ask)
    for path in (ask.large, ask.small):
        raw = path.read_bytes()
        assert [word in raw for word in (b"Invented", b"secret", b"drone", b"ICC_PROFILE", b"http")] == [False] * 5
        told = piexif.load(raw)
        assert told["0th"] == {
            piexif.ImageIFD.ImageDescription: "Döck at dawn".encode(),
            piexif.ImageIFD.Copyright: "© 2026 A. Crew".encode(),
        }
        assert (told["Exif"], told["GPS"], told["1st"], told["thumbnail"]) == ({}, {}, {}, None)
        tags = exifread.process_file(io.BytesIO(raw))
        assert sorted(tags) == ["Image Copyright", "Image ImageDescription"]


def test_without_words_there_is_no_exif_at_all(tmp_path, engine):
    """Neither caption nor copyright: not even an empty block."""
    ask = job(tmp_path, jpeg())
    derive(ask)
    assert b"Exif" not in ask.large.read_bytes()


def test_jpegs_are_baseline_with_halved_colour(tmp_path, engine):
    """Start of frame 0 (not progressive) and 2x2 sampling of the first component (ITU-T T.81 B.2.2)."""
    ask = job(tmp_path, jpeg(image=picture(600, 400), progressive=True))
    derive(ask)
    raw = ask.large.read_bytes()
    frame = raw.index(b"\xff\xc0")
    assert b"\xff\xc2" not in raw
    assert raw[frame + 11 : frame + 19 : 3] == b"\x22\x11\x11"


def test_same_input_same_bytes(tmp_path, engine):
    """Two runs write the same files."""
    ask = job(tmp_path, jpeg(image=picture(600, 400)), caption="Mill")
    again = replace(ask, large=tmp_path / "again.jpg", small=tmp_path / "again_small.jpg")
    assert derive(ask) == derive(again)
    assert ask.large.read_bytes() == again.large.read_bytes()
    assert ask.small.read_bytes() == again.small.read_bytes()


@pytest.mark.parametrize(
    ("image", "kind", "wanted"),
    [
        (Image.new("L", (60, 40), 90), "PNG", (90, 90, 90)),
        (Image.new("1", (60, 40), 1), "PNG", (255, 255, 255)),
        (Image.new("I;16", (60, 40), 32768), "PNG", (128, 128, 128)),
        (Image.new("I;16", (60, 40), 32768), "TIFF", (128, 128, 128)),
        (Image.new("RGBA", (60, 40), (255, 0, 0, 0)), "PNG", (255, 255, 255)),
        (Image.new("RGBA", (60, 40), (0, 0, 255, 128)), "PNG", (127, 127, 255)),
        (Image.new("LA", (60, 40), (0, 255)), "PNG", (0, 0, 0)),
        (picture().quantize(8).crop((0, 0, 20, 10)), "PNG", COLOURS[0]),
        (Image.new("CMYK", (60, 40), (0, 255, 255, 0)), "TIFF", None),
        (Image.new("CMYK", (60, 40), (0, 255, 255, 0)), "JPEG", None),
    ],
    ids=["grey", "bits", "16 png", "16 tiff", "clear", "half clear", "grey alpha", "palette", "cmyk tiff", "cmyk jpeg"],
)
def test_every_kind_of_pixel_becomes_srgb(tmp_path, engine, image, kind, wanted):
    """Grey, 16 bits scaled and not clipped, alpha over white, palettes; inks come out red, how red is the profile's."""
    ask = job(tmp_path, encoded(image, kind), kind)
    assert isinstance(derive(ask), Picture)
    with Image.open(ask.large) as made:
        red, green, blue = made.getpixel((5, 5))
        assert made.mode == "RGB"
        if wanted is None:
            assert red > 200
            assert max(green, blue) < 80
        else:
            assert near([(red, green, blue)], [wanted], 3)


def test_an_srgb_profile_changes_nothing(tmp_path, engine):
    """An sRGB profile changes nothing, and is not written."""
    plain = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    colour = Image.new("RGB", (60, 40), (180, 90, 60))
    ask = job(tmp_path, encoded(colour, "PNG", icc_profile=plain), "PNG")
    derive(ask)
    assert near([Image.open(ask.large).getpixel((5, 5))], [(180, 90, 60)], 4)


def swapped_profile() -> bytes:
    """Return an sRGB profile whose red and green primaries are exchanged, so that its effect cannot be missed."""
    raw = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    red, green = raw.index(b"rXYZ"), raw.index(b"gXYZ")
    raw[red : red + 4], raw[green : green + 4] = b"gXYZ", b"rXYZ"
    return bytes(raw)


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "TIFF"])
def test_a_profile_with_exchanged_primaries_exchanges_red_and_green(tmp_path, engine, kind):
    """The numbers are red, the profile says that red means green: the picture is green."""
    red = Image.new("RGB", (60, 40), (230, 20, 20))
    ask = job(tmp_path, encoded(red, kind, icc_profile=swapped_profile()), kind)
    derive(ask)
    assert near([Image.open(ask.large).getpixel((5, 5))], [(20, 230, 20)], 12)


@pytest.mark.parametrize("profile", [b"no profile at all", b"\x00" * 200])
def test_a_broken_profile_does_not_cost_the_photo(tmp_path, engine, profile):
    """The plain numbers are used."""
    ask = job(tmp_path, encoded(picture(), "JPEG", icc_profile=profile, quality=95))
    assert isinstance(derive(ask), Picture)
    with Image.open(ask.large) as made:
        assert near(corners(made), COLOURS)


NOISE = Image.effect_noise((320, 240), 60).convert("RGB")


@cache
def noise_file(kind: str) -> bytes:
    """Return a file that a cut in the middle must hurt; made once, since AVIF and HEIC are slow to write."""
    return SOURCES[kind](NOISE)


@pytest.mark.parametrize("check_only", [False, True])
@pytest.mark.parametrize("kind", SOURCES)
def test_half_a_file_is_damaged(tmp_path, engine, kind, check_only):
    """Every format cut in the middle gives a problem, nothing is written, and the message names file and step."""
    data = noise_file(kind)
    ask = job(tmp_path, data[: len(data) // 2], kind, **({"large": None, "small": None} if check_only else {}))
    problem = derive(ask)
    assert isinstance(problem, Problem)
    assert (problem.subject, problem.code, problem.level) == ("shore/a.jpg", "damaged", "left_out")
    assert problem.message.startswith("shore/a.jpg: the picture is cut short or damaged (")
    assert problem.message.endswith("Expected a whole picture. Copy it again from the card, or leave it out.")
    assert not (tmp_path / "large").exists()


def test_a_jpeg_that_lacks_only_its_end_is_damaged(tmp_path, engine):
    """The end marker and a few bytes gone: a copy that was broken off."""
    assert derive(job(tmp_path, SOURCES["JPEG"](NOISE)[:-40])).code == "damaged"


@pytest.mark.parametrize(("restarts", "hole"), [(0, b""), (1, bytes(400)), (1, b"A" * 400)])
def test_a_hole_in_the_scan_is_damaged(tmp_path, restarts, hole):
    """Bytes lost in the middle, and bytes overwritten between restart markers; libjpeg only warns of either."""
    data = encoded(NOISE, "JPEG", quality=80, restart_marker_rows=restarts)
    middle = len(data) // 2
    lost = len(hole) or len(data) // 4
    assert derive(job(tmp_path, data[:middle] + hole + data[middle + lost :])).code == "damaged"


def test_stray_bytes_that_healthy_cameras_leave_are_no_damage(tmp_path, engine):
    """Zeros before the end marker, and a preview after it: decoders warn or do not care, the photo is whole."""
    data = SOURCES["JPEG"](picture(600, 400))
    padded = data[:-2] + bytes(12) + data[-2:] + data
    assert derive(job(tmp_path, padded)) == Picture("p1", 300, 200, 100, 67)


@pytest.mark.parametrize("kind", SOURCES)
def test_noise_is_a_problem_and_never_an_error(tmp_path, engine, kind):
    """Bytes of no format, whatever format was announced."""
    noise = random.Random(7).randbytes(3000)
    assert derive(job(tmp_path, noise, kind)).code == "damaged"


def test_decimal_numbers_are_refused_rather_than_shown_somehow(tmp_path, engine):
    """A TIFF of heights or reflectances is a measurement, not a photo."""
    problem = derive(job(tmp_path, encoded(Image.new("F", (60, 40), 0.5), "TIFF"), "TIFF"))
    assert problem.code == "damaged"
    assert "not a colour picture" in problem.message


def test_check_decodes_and_writes_nothing(tmp_path, engine):
    """The same answer as a build would give, and no file."""
    data = jpeg(image=picture(1200, 800))
    built = derive(job(tmp_path, data, orientation=6))
    checked = derive(job(tmp_path / "check", data, orientation=6, large=None, small=None))
    assert checked == built
    assert [path.name for path in (tmp_path / "check").iterdir()] == ["source"]


def test_a_photo_that_went_away_is_told(tmp_path):
    """Taken off the card between reading and publishing."""
    gone = replace(job(tmp_path, jpeg()), source=tmp_path / "gone.jpg")
    assert derive(gone).code == "unreadable"


def test_a_disk_that_cannot_be_written_is_not_the_photos_fault(tmp_path):
    """A file stands where the folder should be: the error goes up, and no photo is called damaged."""
    put(tmp_path, "large", b"in the way")
    with pytest.raises(OSError, match="large"):
        derive(job(tmp_path, jpeg()))


def test_a_wide_panorama_keeps_at_least_one_pixel(tmp_path, engine):
    """3000 x 4 at a long edge of 100 would round to nothing."""
    made = derive(job(tmp_path, encoded(Image.new("RGB", (3000, 4), "red"), "PNG"), "PNG"))
    assert (made.thumb_width_px, made.thumb_height_px) == (100, 1)


def test_png_metadata_is_left_behind_too(tmp_path, engine):
    """Text chunks and Exif of a PNG do not travel."""
    ask = job(tmp_path, png(exif_block(gps=gps_tags()), xmp()), "PNG")
    derive(ask)
    assert [word in ask.large.read_bytes() for word in (b"Exif", b"xmpmeta")] == [False, False]
