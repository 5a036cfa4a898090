"""The documents cannot drift from the program."""

from __future__ import annotations

import re
import subprocess
import tomllib

import click
import pytest
from click.testing import CliRunner
from conftest import CHECKOUT

from atlasgen import __version__
from atlasgen.cli import main

README = (CHECKOUT / "README.md").read_text(encoding="utf-8")
COMMANDS = sorted(main.commands)


def test_readme_names_every_command_and_no_other():
    """The table of commands is the list of commands."""
    assert sorted(set(re.findall(r"^\| `atlasgen (\w+)", README, re.M))) == COMMANDS


@pytest.mark.parametrize("name", COMMANDS)
def test_readme_names_every_option(name):
    """Every option of every command stands in README."""
    options = [p.opts[-1] for p in main.commands[name].params if isinstance(p, click.Option)]
    assert [option for option in options if option not in README] == []


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_answers_help_with_an_example(name):
    """`--help` ends with a line to copy."""
    result = CliRunner().invoke(main, [name, "--help"])
    assert result.exit_code == 0
    assert f"Example: atlasgen {name} " in result.output


def test_settings_are_explained_where_readme_says():
    """Every section and key of survey.toml stands in the starter file."""
    from atlasgen.config import Settings

    starter = (CHECKOUT / "templates" / "new" / "survey.toml").read_text(encoding="utf-8")
    for name, field in Settings.model_fields.items():
        assert f"[{name}]" in starter
        section = field.annotation if hasattr(field.annotation, "model_fields") else field.annotation.__args__[0]
        assert [key for key in section.model_fields if not re.search(rf"^#? ?{key} = ", starter, re.M)] == []


def test_ci_runs_the_readmes_own_test_command():
    """What README promises is what is checked."""
    script = (CHECKOUT / ".ci" / "run").read_text(encoding="utf-8")
    pick = re.search(r"command=\$\((.*)\)", script).group(1)
    picked = subprocess.run(["bash", "-c", pick], cwd=CHECKOUT, capture_output=True, text=True, check=True).stdout
    assert picked.strip().endswith(".venv-test/bin/pytest")
    assert picked.strip() in README


def test_versions_agree():
    """Pyproject and package say the same."""
    project = tomllib.loads((CHECKOUT / "pyproject.toml").read_text(encoding="utf-8"))
    assert project["project"]["version"] == __version__


def test_pictures_of_readme_exist():
    """No broken picture."""
    assert [p for p in re.findall(r"!\[.*?\]\((.*?)\)", README) if not (CHECKOUT / p).is_file()] == []


def test_the_cautions_stand_where_a_reader_starts():
    """README, and the program's own help."""
    assert "not for navigation" in README
    assert "not for navigation" in CliRunner().invoke(main, ["--help"]).output
