"""Lint, format and types hold in every run of the tests."""

from __future__ import annotations

import subprocess
import sys

import pytest
from conftest import CHECKOUT


@pytest.mark.parametrize(
    "words",
    [("ruff", "check", "."), ("ruff", "format", "--check", "."), ("mypy", "--no-error-summary")],
    ids=["lint", "format", "types"],
)
def test_the_code_is_in_order(words):
    """`ruff check`, `ruff format --check` and `mypy` have nothing to say."""
    done = subprocess.run([sys.executable, "-m", *words], cwd=CHECKOUT, capture_output=True, text=True)
    assert (done.returncode, done.stderr[-2000:]) == (0, ""), done.stdout[-4000:]
