"""Damaged files of every kind through their readers: an answer or a message of ours, never anything else."""

from __future__ import annotations

import pytest
from fuzzing import fuzz, readers

CASES = 60


@pytest.mark.parametrize("name", sorted(readers()))
def test_no_damage_breaks_a_reader(name, tmp_path):
    """A fixed seed, a fixed number of cases; `python tests/fuzzing.py` runs more."""
    assert [crash.trace for crash in fuzz(name, CASES, 1, tmp_path)] == []


def test_a_defect_would_be_found(tmp_path, monkeypatch):
    """The harness sees what is neither an answer nor a message: a reader broken on purpose."""
    import fuzzing

    def broken(path):
        return path.read_bytes().decode("ascii")

    monkeypatch.setattr(fuzzing, "readers", lambda: {"broken": fuzzing.Reader("a.txt", broken, [b"plain words"])})
    crashes = fuzz("broken", 200, 1, tmp_path)
    assert {crash.trace.strip().splitlines()[-1].split(":")[0] for crash in crashes} == {"UnicodeDecodeError"}
    assert 10 < len(crashes) < 190
