"""An edition of the sample atlas as a publisher would have it, with photos that do not shrink to nothing."""

from __future__ import annotations

import io
from concurrent.futures import Executor, Future
from contextlib import contextmanager
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from sample_atlas import write_sample_pictures
from sample_turn import make_turned_atlas

from atlasgen.ship import pocket, pocket_page
from atlasgen.ship.pocket_fonts import fitted_face
from atlasgen.write.web import write_web


def make_small_edition(folder: Path) -> Path:
    """Write what the pocket edition is made from: page, pictures, a list of files, and companions to leave behind."""
    atlas = make_turned_atlas()
    write_sample_pictures(atlas, folder)
    for number, photo in enumerate(sorted(folder.glob("photos/*.jpg"))):
        photo.write_bytes(textured(number))
    (folder / "audit").mkdir()
    for name in ("atlas.pdf", "atlas.json", "audit/reaches.csv"):
        (folder / name).write_bytes(b"")
    write_web(atlas, folder, lambda step, done, total: None)
    (folder / "manifest.json").write_text("{}", encoding="utf-8")
    return folder


def textured(seed: int) -> bytes:
    """Return a JPEG of 240 by 180 pixels that is different all over, as grass and waves are; it says who took it."""
    rows = np.random.default_rng(seed).integers(0, 255, (200, 260, 3), dtype="uint8")
    image = Image.fromarray(rows).resize((240, 180), Image.Resampling.BICUBIC)
    exif = Image.Exif()
    exif[0x013B] = "A. Person"  # Artist, TIFF 6.0
    stream = io.BytesIO()
    image.save(stream, "JPEG", quality=80, exif=exif)
    return stream.getvalue()


class Inline(Executor):
    """Runs each job at once, in this process."""

    def submit(self, function, /, *args, **kwargs):
        """Run a job and return its result."""
        future = Future()
        future.set_result(function(*args, **kwargs))
        return future


@contextmanager
def inline_pool(workers):
    """Stand in for the pool of processes, which a test need not pay for."""
    yield Inline()


# The same three faces for the same letters, again and again: made once.
cached_face = cache(fitted_face)


@contextmanager
def quick():
    """Make pocket editions without processes and with faces made once."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pocket, "pool", inline_pool)
        patch.setattr(pocket_page, "fitted_face", cached_face)
        yield
