"""Templates and shared files are found wherever the package is."""

from __future__ import annotations

import pytest

from atlasgen.resources import resource


@pytest.mark.parametrize("parts", [("templates", "web"), ("templates", "book"), ("shared", "atlas.schema.json")])
def test_resources_are_found(parts):
    """In a checkout, an editable install and a wheel."""
    assert resource(*parts).exists()


def test_a_broken_installation_is_told():
    """Not a bare traceback of pathlib."""
    with pytest.raises(FileNotFoundError, match="not part of this installation"):
        resource("templates", "nothing.txt")
