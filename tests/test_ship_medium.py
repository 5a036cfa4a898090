"""ship/medium: the file system of a card and the room on it."""

from __future__ import annotations

from pathlib import Path

import pytest

from atlasgen.ship import medium as module
from atlasgen.ship.medium import Medium, medium_of

_TABLE = """/dev/sda1 / ext4 rw 0 0
/dev/sdb1 /media/my\\040card vfat rw,utf8 0 0
"""


def test_the_file_system_is_that_of_the_nearest_mount(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """The mount table's escapes are undone and the deepest mount counts (proc(5))."""
    table = tmp_path / "mounts"
    card = tmp_path / "my card"
    card.mkdir()
    table.write_text(_TABLE.replace("/media/my\\040card", str(card).replace(" ", "\\040")))
    monkeypatch.setattr(module, "_MOUNTS", table)
    found = medium_of(card / "not" / "there yet")
    assert (found.system, found.is_fat, found.cluster_bytes) == ("vfat", True, 32_768)
    assert medium_of(tmp_path).system == "ext4"
    assert medium_of(tmp_path).is_fat is False
    assert found.free_bytes > 0


def test_an_unknown_file_system_is_held_to_the_narrowest_limits(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Without a mount table the system is not known, and neither is it said not to be FAT."""
    monkeypatch.setattr(module, "_MOUNTS", tmp_path / "none")
    assert medium_of(tmp_path).system == "not known"
    assert medium_of(tmp_path).is_fat is None


def test_room_is_counted_in_whole_clusters():
    """One byte takes a cluster, an empty file none."""
    assert Medium("vfat", True, 0, 4096).needed_bytes([1, 4096, 4097, 0]) == 4096 * 4
