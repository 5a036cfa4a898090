"""write/taking_over: files of the edition before that stand in the new one too."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

import pytest

from atlasgen.model.memory import Former
from atlasgen.write import taking_over
from atlasgen.write.taking_over import file_sha256, stamp_of, taken_over

BYTES = b"a picture"
SHA256 = hashlib.sha256(BYTES).hexdigest()
NAME = "photos/p.jpg"


@pytest.fixture
def before(tmp_path: Path) -> Path:
    """Return a former edition with one picture."""
    (tmp_path / "before" / "photos").mkdir(parents=True)
    (tmp_path / "before" / NAME).write_bytes(BYTES)
    return tmp_path / "before"


def _unread(path: Path) -> str:
    raise AssertionError(f"{path} was read")


def _no_links(*_: object) -> None:
    raise OSError(1, "no second names here")


def test_a_file_as_the_last_build_left_it_is_not_read(before, tmp_path, monkeypatch):
    """Its stamp tells; it is one file with two names, in folders that are made for it."""
    monkeypatch.setattr(taking_over, "file_sha256", _unread)
    former = Former(before, {NAME: stamp_of(before / NAME)})
    assert taken_over(former, NAME, tmp_path / "new", SHA256)
    assert (tmp_path / "new" / NAME).samefile(before / NAME)


def test_a_file_with_another_stamp_is_judged_by_its_bytes(before, tmp_path):
    """Touched and the same: taken. Changed, even to the same length: not taken, and nothing is made."""
    former = Former(before, {NAME: stamp_of(before / NAME)})
    os.utime(before / NAME, ns=(1, 1))
    assert taken_over(former, NAME, tmp_path / "new", SHA256)
    (tmp_path / "new" / NAME).unlink()
    (before / NAME).write_bytes(BYTES[::-1])
    assert not taken_over(former, NAME, tmp_path / "new", SHA256)
    assert not (tmp_path / "new" / NAME).exists()


def test_a_file_that_is_not_there_is_not_taken(before, tmp_path):
    """Nor does its absence stop anything."""
    assert not taken_over(Former(before), "photos/other.jpg", tmp_path / "new", SHA256)


def test_a_new_file_gives_way_to_the_one_before(before, tmp_path):
    """The name then leads to the old file, in one step; nothing is left beside it."""
    (tmp_path / "new" / "photos").mkdir(parents=True)
    (tmp_path / "new" / NAME).write_bytes(BYTES)
    assert taken_over(Former(before), NAME, tmp_path / "new", SHA256)
    assert (tmp_path / "new" / NAME).samefile(before / NAME)
    assert [path.name for path in (tmp_path / "new" / "photos").iterdir()] == ["p.jpg"]


def test_where_files_have_one_name_only_a_copy_is_made(before, tmp_path, monkeypatch):
    """A new file that stands there already stays."""
    monkeypatch.setattr(os, "link", _no_links)
    (tmp_path / "new" / "photos").mkdir(parents=True)
    assert taken_over(Former(before), NAME, tmp_path / "new", SHA256)
    assert file_sha256(tmp_path / "new" / NAME) == SHA256
    assert not (tmp_path / "new" / NAME).samefile(before / NAME)
