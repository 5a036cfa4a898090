"""One small offline atlas for the tests of search, of the reader's own place and of marks: depths and landmarks."""

from __future__ import annotations

from pathlib import Path

from level_scene import make_level_atlas
from PIL import Image
from sample_landmarks import with_landmarks

from atlasgen.write.web import write_web

_WRITTEN: list[Path] = []


def here_atlas(tmp_path_factory) -> Path:
    """Write it once for all the tests of a process; return its index.html."""
    if not _WRITTEN:
        _WRITTEN.append(write_here_atlas(tmp_path_factory.mktemp("here")))
    return _WRITTEN[0]


def write_here_atlas(folder: Path) -> Path:
    """Write it into a folder; return its index.html."""
    atlas = with_landmarks(make_level_atlas())
    for kind in ("photos", "thumbs"):
        (folder / kind).mkdir(parents=True, exist_ok=True)
        for photo in atlas.pictures:
            Image.new("RGB", (64, 48), "#8fb0c8").save(folder / kind / f"{photo}.jpg")
    write_web(atlas, folder, lambda step, done, total: None)
    return folder / "index.html"
