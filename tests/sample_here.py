"""One small offline atlas for the tests of search, of the reader's own place and of marks: depths and landmarks."""

from __future__ import annotations

from pathlib import Path

from level_scene import make_level_atlas
from sample_atlas import write_sample_pictures
from sample_landmarks import with_landmarks

from atlasgen.write.web import write_web


def write_here_atlas(folder: Path) -> Path:
    """Write it into a folder; return its index.html."""
    atlas = with_landmarks(make_level_atlas())
    write_sample_pictures(atlas, folder)
    write_web(atlas, folder, lambda step, done, total: None)
    return folder / "index.html"
