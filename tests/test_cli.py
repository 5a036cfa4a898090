"""The commands: exit codes, messages, what they leave alone."""

from __future__ import annotations

import subprocess
import sys

import pytest
from click.testing import CliRunner
from pond import make_pond

from atlasgen import __version__
from atlasgen.cli import main


def run(*words):
    return CliRunner().invoke(main, [str(word) for word in words])


def test_version_and_wrong_usage():
    """Version 0, wrong usage 2."""
    assert run("--version").output == f"atlasgen, version {__version__}\n"
    assert run("build").exit_code == 2
    assert run("nonsense").exit_code == 2


def test_help_is_quick_to_load():
    """Nothing heavy is imported for `--help`."""
    code = (
        "import sys, atlasgen.cli; print([m for m in ('numpy', 'shapely', 'geopandas', 'scipy') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_new_makes_a_folder_once(tmp_path):
    """A second time it is refused, and nothing is overwritten."""
    folder = tmp_path / "lake"
    assert run("new", folder).exit_code == 0
    (folder / "survey.toml").write_text("mine")
    again = run("new", folder)
    assert again.exit_code == 1
    assert "exists and is not empty" in again.output
    assert (folder / "survey.toml").read_text() == "mine"


def test_a_new_folder_checks_up_to_what_it_lacks(tmp_path):
    """Straight after `new`, `check` says what to add first: the shoreline."""
    run("new", tmp_path / "lake")
    result = run("check", tmp_path / "lake", "--quiet", "--workers", 1)
    assert result.exit_code == 1
    assert "shoreline" in result.output
    assert "Traceback" not in result.output


@pytest.mark.parametrize("command", ["check", "audit"])
def test_a_folder_that_is_not_there(tmp_path, command):
    """One line, the next step in it, exit code 1."""
    result = run(command, tmp_path / "nowhere", "--quiet")
    assert result.exit_code == 1
    assert result.output.startswith("atlasgen: ")
    assert "atlasgen new" in result.output


def test_verify_says_whole_or_what_is_wrong(tmp_path):
    """Exit code 0 and 1."""
    out = tmp_path / "atlas"
    assert run("build", make_pond(tmp_path / "survey"), "--out", out, "--quiet", "--workers", 1).exit_code == 0
    assert run("verify", out).exit_code == 0
    (out / "atlas.json").write_text("{}")
    result = run("verify", out)
    assert result.exit_code == 1
    assert result.output.startswith("altered: atlas.json: has 2 bytes instead of")


def test_check_and_audit_write_nothing_but_what_is_asked_for(tmp_path):
    """Readable, complete, and nothing is written beside what was asked for."""
    survey = make_pond(tmp_path / "survey")
    (survey / "photos" / "note.jpg").write_text("no picture")
    before = sorted(path.as_posix() for path in survey.rglob("*"))
    checked = run("check", survey, "--quiet", "--workers", 2)
    assert checked.exit_code == 0, checked.output
    assert "Left out, and why:" in checked.output
    audited = run("audit", survey, "--quiet", "--workers", 2, "--csv", tmp_path / "reaches.csv")
    assert audited.exit_code == 0, audited.output
    assert "seen well" in audited.output
    assert (
        (tmp_path / "reaches.csv")
        .read_text(encoding="utf-8")
        .startswith("id,ring,name,place,tile,from_m,to_m,length_m,state")
    )
    assert sorted(path.as_posix() for path in survey.rglob("*")) == before


def test_strict_fails_and_publishes_nothing(tmp_path):
    """One file that is no picture is enough."""
    survey = make_pond(tmp_path / "survey")
    (survey / "photos" / "note.jpg").write_text("no picture")
    result = run("build", survey, "--out", tmp_path / "atlas", "--strict", "--quiet", "--workers", 2)
    assert result.exit_code == 1
    assert "--strict" in result.output
    assert not (tmp_path / "atlas").exists()
