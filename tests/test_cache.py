"""cache: results kept on disk between builds."""

from __future__ import annotations

import sqlite3
import stat
from pathlib import Path

import pytest

from atlasgen import cache
from atlasgen.cache import opened, place_of


class _Made:
    """Counts how often something is made."""

    def __init__(self, value: object = "made") -> None:
        self.value, self.count = value, 0

    def __call__(self) -> object:
        self.count += 1
        return self.value


def _asked(path: Path, made: _Made, parts: object = ("a", 1)) -> object:
    with opened(path) as memory:
        return memory.remember("kind", parts, made)


def test_a_result_is_made_once(tmp_path: Path):
    """The next build finds it by what it was made from; other parts and other kinds are other results."""
    path, made = tmp_path / "new" / "c.sqlite", _Made({"depth": 1.5})
    assert [_asked(path, made) for _ in range(3)] == [{"depth": 1.5}] * 3
    assert made.count == 1
    _asked(path, made, ("a", 2))
    with opened(path) as memory:
        memory.remember("other", ("a", 1), made)
    assert made.count == 3


def test_another_program_makes_everything_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Code, templates and libraries are part of every key."""
    path, made = tmp_path / "c.sqlite", _Made()
    _asked(path, made)
    monkeypatch.setattr(cache, "program", lambda: "another")
    _asked(path, made)
    assert made.count == 2


@pytest.mark.parametrize(
    "damage",
    [
        "UPDATE results SET value = substr(value, 2)",
        "UPDATE results SET value = x'00'",
        "UPDATE results SET sha256 = 'x'",
        "UPDATE results SET value = x'80056e'",
        "DROP TABLE results",
        "ALTER TABLE results RENAME COLUMN value TO other",
    ],
)
def test_a_damaged_entry_is_made_anew(tmp_path: Path, damage: str):
    """Its own hash tells it; the entry is whole again afterwards."""
    path, made = tmp_path / "c.sqlite", _Made()
    _asked(path, made)
    with sqlite3.connect(path) as database:
        database.execute(damage)
    database.close()
    assert _asked(path, made) == "made"
    assert made.count == 2


@pytest.mark.parametrize("keep_bytes", [0, 10, 100, 5000])
def test_a_damaged_file_is_begun_anew(tmp_path: Path, keep_bytes: int):
    """Cut short or overwritten, it costs time and nothing else."""
    path, made = tmp_path / "c.sqlite", _Made()
    _asked(path, made)
    path.write_bytes(path.read_bytes()[:keep_bytes] + b"\xff" * 3000)
    assert _asked(path, made) == "made"
    _asked(path, made)
    assert made.count == 2


def test_every_flipped_byte_is_found_or_does_no_harm(tmp_path: Path):
    """Whatever byte of the file is altered, the answer is the right one."""
    path, made = tmp_path / "c.sqlite", _Made(list(range(50)))
    _asked(path, made)
    whole = path.read_bytes()
    for at in range(0, len(whole), 97):
        path.write_bytes(whole[:at] + bytes([whole[at] ^ 0x55]) + whole[at + 1 :])
        assert _asked(path, made) == list(range(50)), at


def test_a_cache_that_cannot_be_had_is_done_without(tmp_path: Path):
    """A file in the folder's place, or another build that holds it, only costs time."""
    (tmp_path / "file").write_text("x")
    made = _Made()
    assert _asked(tmp_path / "file" / "c.sqlite", made) == "made"
    path = tmp_path / "c.sqlite"
    _asked(path, made)
    holder = sqlite3.connect(path)
    holder.execute("BEGIN EXCLUSIVE")
    assert _asked(path, made) == "made"
    holder.close()
    assert _asked(path, _Made("not asked for")) == "made"


def test_what_a_build_did_not_ask_for_is_forgotten(tmp_path: Path):
    """The cache never outgrows one build."""
    path, made = tmp_path / "c.sqlite", _Made()
    _asked(path, made, "old")
    with opened(path) as memory:
        memory.remember("kind", "new", made)
        memory.drop_unused()
    _asked(path, made, "new")
    assert made.count == 2
    _asked(path, made, "old")
    assert made.count == 3


def test_only_what_is_lacking_is_made(tmp_path: Path):
    """Results in the order of the parts; what is not to be kept, or cannot be brought back, is made each time."""
    asked: list[list[int]] = []

    def run(parts: list[object], **options) -> list[object]:
        def make(numbers: list[int]) -> list[object]:
            asked.append(list(numbers))
            return [f"made {parts[number]}" for number in numbers]

        with opened(tmp_path / "c.sqlite") as memory:
            return memory.mapped("kind", parts, make, **options)

    assert run(["a", "b", None], keep=lambda value: value != "made b") == ["made a", "made b", "made None"]
    assert run(["b", "a", "c"]) == ["made b", "made a", "made c"]
    assert run(["a", "b", "c"], restore=lambda number, value: number != 1) == ["made a", "made b", "made c"]
    assert asked == [[0, 1, 2], [0, 2], [1]]


def test_it_belongs_to_the_user_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Nobody else can read or plant entries; each survey has a file of its own."""
    monkeypatch.setenv("ATLASGEN_CACHE", str(tmp_path / "cache"))
    path = place_of(tmp_path / "lake")
    assert path.parent == tmp_path / "cache"
    assert path != place_of(tmp_path / "other lake")
    _asked(path, _Made())
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700
