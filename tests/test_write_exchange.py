"""Two folders in each other's place, in one step."""

from __future__ import annotations

import sys

import pytest

from atlasgen.write.exchange import exchange


@pytest.mark.skipif(sys.platform != "linux", reason="renameat2 is a call of Linux")
def test_two_folders_change_places(tmp_path):
    """Each has the other's contents; nothing else appears."""
    for name in ("old", "new"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "what").write_text(name)
    assert exchange(tmp_path / "old", tmp_path / "new")
    assert (tmp_path / "old" / "what").read_text() == "new"
    assert (tmp_path / "new" / "what").read_text() == "old"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["new", "old"]


def test_what_is_not_there_stays_not_there(tmp_path):
    """No exchange with nothing, and the one folder is left alone."""
    (tmp_path / "old").mkdir()
    assert not exchange(tmp_path / "old", tmp_path / "new")
    assert [path.name for path in tmp_path.iterdir()] == ["old"]
