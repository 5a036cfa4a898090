"""What a card, a disk or a stranger can do to a survey: each costs one line, and nothing published is lost."""

from __future__ import annotations

import errno
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from killing import digests, kill_rounds
from photo_factory import jpeg, put
from pond import make_pond

from atlasgen.cli import main
from atlasgen.config import read_settings
from atlasgen.errors import AtlasgenError, InputFault
from atlasgen.pipeline import build, check
from atlasgen.ship.verify import verify_edition

needs_pipes = pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")


@pytest.fixture
def pond(tmp_path):
    return make_pond(tmp_path / "survey")


def told(folder: Path) -> str:
    """All that a check has to say, as one text."""
    return "\n".join(problem.message for problem in check(folder, workers=1).problems)


def test_a_killed_build_loses_nothing(tmp_path):
    """Four kills over the run; `python tests/killing.py` makes two hundred."""
    rounds = kill_rounds(tmp_path, 4)
    assert [one.faults for one in rounds] == [[], [], [], []]
    assert any(one.cut_off for one in rounds)


@needs_pipes
@pytest.mark.parametrize("name", ["soundings.csv", "stage.csv", "passes.csv", "corrections.csv", "places.geojson"])
def test_a_pipe_in_the_place_of_a_table_is_told_and_not_waited_for(pond, name):
    """Opening it would never end."""
    os.mkfifo(pond / name)
    assert f"{name}: cannot be read (not a regular file but a pipe, a device" in told(pond)


@needs_pipes
def test_pipes_links_and_devices_among_the_photos_are_each_told(pond, tmp_path):
    """A pipe, a link out of the folder, a loop of links, a link to a device; the true photo is on its page."""
    photos = pond / "photos"
    os.mkfifo(photos / "pipe.jpg")
    (tmp_path / "secret.jpg").write_bytes(b"elsewhere")
    (photos / "out.jpg").symlink_to(tmp_path / "secret.jpg")
    (photos / "loop.jpg").symlink_to(photos / "loop.jpg")
    (photos / "zero.jpg").symlink_to("/dev/zero")
    (photos / "round").symlink_to(photos)
    atlas = check(pond, workers=1)
    subjects = {problem.subject for problem in atlas.problems if problem.level == "left_out"}
    assert subjects == {f"photos/{name}" for name in ("pipe.jpg", "out.jpg", "loop.jpg", "zero.jpg")}
    assert len(atlas.pages) == 1


@needs_pipes
@pytest.mark.parametrize("name", ["survey.toml", "shoreline.geojson"])
def test_a_pipe_in_the_place_of_what_is_required_stops_with_its_name(pond, name):
    """Without waiting."""
    (pond / name).unlink()
    os.mkfifo(pond / name)
    with pytest.raises(InputFault, match=r"not a regular file"):
        check(pond, workers=1)


def test_a_table_that_changes_while_it_is_read_is_not_used(pond, monkeypatch):
    """Half of it would be the old one, half the new one."""
    from atlasgen.read import survey

    table = pond / "stage.csv"
    table.write_text("date,stage_m\n2026-01-01,0.0\n2026-06-01,-1.0\n")
    reads = survey.read_stage

    def read_and_change(path, *rest):
        result = reads(path, *rest)
        path.write_text("date,stage_m\n2026-01-01,0.0\n")
        return result

    monkeypatch.setattr(survey, "read_stage", read_and_change)
    atlas = check(pond, workers=1)
    assert "stage.csv: it changed while it was read." in "\n".join(p.message for p in atlas.problems)


def test_a_table_that_vanishes_while_it_is_read_is_told(pond, monkeypatch):
    """A card pulled out."""
    from atlasgen.read import survey

    (pond / "stage.csv").write_text("date,stage_m\n2026-01-01,0.0\n")

    def gone(path, *rest):
        raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), str(path))

    monkeypatch.setattr(survey, "read_stage", gone)
    assert "stage.csv: No such file or directory." in told(pond)


def test_captions_of_fifty_megabytes_do_not_swell_the_atlas(pond, tmp_path):
    """Out of corrections.csv; the page stays a page."""
    name = sorted(path.name for path in (pond / "photos").iterdir())[0]
    (pond / "corrections.csv").write_text(f"file,caption\n{name},{'long ' * 10_000_000}\n")
    build(pond, tmp_path / "out", workers=1)
    assert verify_edition(tmp_path / "out").findings == ()
    assert sum(path.stat().st_size for path in (tmp_path / "out").rglob("*") if path.is_file()) < 30_000_000


def test_json_a_hundred_thousand_deep_is_told(pond):
    """Neither the stack nor the build breaks."""
    (pond / "places.geojson").write_text("[" * 100_000 + "]" * 100_000)
    assert "places.geojson" in told(pond)


@pytest.mark.parametrize("entity", ["&a;&a;&a;", "&file;"])
def test_entities_in_xmp_and_gpx_are_never_unfolded(pond, entity):
    """The bomb and the file of the machine: both refused by name, the photo stays."""
    bomb = '<!ENTITY a "' + "x" * 1000 + '">' + '<!ENTITY file SYSTEM "file:///etc/passwd">'
    text = f'<?xml version="1.0"?><!DOCTYPE r [{bomb}]><gpx version="1.1"><name>{entity}</name></gpx>'
    (pond / "tracks").mkdir()
    (pond / "tracks" / "t.gpx").write_text(text)
    packet = f'<?xpacket begin=""?><!DOCTYPE r [{bomb}]><x>{entity}</x>'.encode()
    put(pond / "photos", "b.jpg", jpeg(packet=packet))
    words = told(pond)
    assert "tracks/t.gpx" in words
    assert "root:" not in words
    assert "x" * 1000 not in words


def test_a_read_only_target_is_told_and_left(pond, tmp_path, monkeypatch):
    """What the system says, where, that nothing was changed, and what to do."""
    out = tmp_path / "out"
    build(pond, out, workers=1)
    before = digests(out)

    def refuse(self, *args, **kwargs):
        raise OSError(errno.EROFS, os.strerror(errno.EROFS), str(self))

    monkeypatch.setattr(Path, "mkdir", refuse)
    result = CliRunner().invoke(main, ["build", str(pond), "--out", str(out), "-q", "--workers", "1"])
    monkeypatch.undo()
    assert result.exit_code == 1
    assert "Read-only file system. Nothing of an earlier edition was changed. Choose a place" in result.stderr
    assert digests(out) == before


_RUN = "from atlasgen.cli import main; main()"


def _tmpfs(folder: Path, size: str) -> bool:
    if sys.platform != "linux" or os.geteuid() != 0 or not shutil.which("mount"):
        return False
    folder.mkdir()
    command = ["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", str(folder)]
    return subprocess.run(command, capture_output=True, check=False).returncode == 0


def test_a_full_disk_leaves_the_edition_there_is(pond, tmp_path):
    """On a small file system of its own: the command says that the disk is full, the former edition verifies."""
    disk, made = tmp_path / "disk", tmp_path / "made"
    build(pond, made, workers=1)
    kilobytes = sum(path.stat().st_size // 1024 + 8 for path in made.rglob("*")) + 200
    if not _tmpfs(disk, f"{kilobytes}k"):
        pytest.skip("mounting a small file system needs Linux and root")
    try:
        shutil.copytree(made, disk / "out")
        before = digests(disk / "out")
        words = ["build", str(pond), "--out", str(disk / "out"), "-q"]
        done = subprocess.run([sys.executable, "-c", _RUN, *words], capture_output=True, text=True, check=False)
        assert (done.returncode, "No space left on device" in done.stderr) == (1, True)
        assert "Traceback" not in done.stderr
        assert digests(disk / "out") == before
        assert [path.name for path in disk.iterdir() if path.name.startswith(".out.building")] == []
    finally:
        subprocess.run(["umount", str(disk)], check=True)


def test_the_settings_of_a_hostile_survey_are_told_by_key(pond):
    """A thousand nested tables and a key of a megabyte."""
    (pond / "survey.toml").write_text("[" + ".".join("a" * 3 for _ in range(1000)) + "]\nx = 1\n")
    with pytest.raises(AtlasgenError, match=r"survey\.toml"):
        read_settings(pond)
    (pond / "survey.toml").write_text(f"{json.dumps('k' * 1_000_000)} = 1\n")
    with pytest.raises(AtlasgenError) as fault:
        read_settings(pond)
    assert len(str(fault.value)) < 5_000
