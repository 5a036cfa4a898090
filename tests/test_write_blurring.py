"""Rectangles that must not be readable: the right place for every orientation, and nothing left of what was there."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image, ImageOps

from atlasgen.model import Picture
from atlasgen.write import images
from atlasgen.write.blurring import stored_boxes
from atlasgen.write.images import ImageJob, derive

BOX = (300, 120, 160, 100)


def photo(orientation):
    """Make a photo of 800 x 600 upright, noise all over, stored as `orientation` wants it."""
    noise = np.random.default_rng(1).integers(0, 256, (75, 100, 3), dtype=np.uint8).repeat(8, 0).repeat(8, 1)
    upright = Image.fromarray(noise)
    undo = {2: 2, 3: 3, 4: 4, 5: 5, 6: 8, 7: 7, 8: 6}
    exif = Image.Exif()
    exif[274] = undo.get(orientation, 1)
    stream = io.BytesIO()
    upright.save(stream, "JPEG", quality=95, exif=exif)
    stored = ImageOps.exif_transpose(Image.open(stream))
    out = io.BytesIO()
    stored.save(out, "JPEG", quality=95)
    return upright, out.getvalue()


def published(tmp_path, data, orientation, **more):
    (tmp_path / "a.jpg").write_bytes(data)
    sizes = {"large_px": 800, "small_px": 400}
    files = {"large": tmp_path / "large.jpg", "small": tmp_path / "small.jpg"}
    job = ImageJob(
        source=tmp_path / "a.jpg", file="a.jpg", photo="p-1", orientation=orientation, caption="", copyright="",
        format="JPEG", **sizes, **files, **more,
    )  # fmt: skip
    assert isinstance(derive(job), Picture)
    return [np.asarray(Image.open(path).convert("RGB"), dtype=float) for path in files.values()]


@pytest.mark.parametrize("decoder", ["vips", "pillow"])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_nothing_is_left_in_the_rectangle_and_all_around_it_is(tmp_path, monkeypatch, decoder, orientation):
    """In both pictures: inside one colour, uncorrelated with what was there; outside as without blurring."""
    if decoder == "pillow":
        monkeypatch.setattr(images, "_vips", lambda: None)
    upright, data = photo(orientation)
    blurred = published(tmp_path, data, orientation, blur=(BOX,))
    plain = published(tmp_path, data, orientation)
    original = np.asarray(upright, dtype=float)
    left, top, width, height = BOX
    for shrink, (hidden, seen) in enumerate(zip(blurred, plain, strict=True), 1):
        rows, cols = slice(top // shrink, (top + height) // shrink), slice(left // shrink, (left + width) // shrink)
        truth = original[::shrink, ::shrink][rows, cols]
        # JPEG's ringing at the edge of the flat box reaches a few grey values into it, and nothing of the picture.
        assert hidden[rows, cols].std(axis=(0, 1)).max() < 6
        assert np.corrcoef(seen[rows, cols].ravel(), truth.ravel())[0, 1] > 0.9
        assert abs(np.corrcoef(hidden[rows, cols].ravel(), truth.ravel())[0, 1]) < 0.2
        far = np.ones(hidden.shape[:2], dtype=bool)
        far[
            (top - 60) // shrink : (top + height + 60) // shrink, (left - 60) // shrink : (left + width + 60) // shrink
        ] = 0
        assert np.abs(hidden - seen)[far].max() == 0


def test_rectangles_are_cut_to_the_picture():
    """Half outside, wholly outside, and all of it."""
    size = (800, 600)
    assert list(stored_boxes([(700, 500, 500, 500)], size, size, 1)) == [(696, 496, 104, 104)]
    assert list(stored_boxes([(900, 700, 10, 10)], size, size, 1)) == []
    assert list(stored_boxes([(0, 0, 800, 600)], size, (400, 300), 1)) == [(0, 0, 400, 300)]


def test_a_photo_that_changed_since_it_was_read_is_not_published(tmp_path):
    """Its words and its place were those of other bytes."""
    (tmp_path / "a.jpg").write_bytes(photo(1)[1])
    job = ImageJob(
        source=tmp_path / "a.jpg", file="a.jpg", photo="p-1", orientation=1, caption="", copyright="", format="JPEG",
        large_px=80, small_px=40, large=tmp_path / "l.jpg", small=tmp_path / "s.jpg", sha256="0" * 64,
    )  # fmt: skip
    assert "a.jpg: it changed while the atlas was made." in derive(job).message
    assert not (tmp_path / "l.jpg").exists()
