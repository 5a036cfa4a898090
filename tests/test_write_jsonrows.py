"""write.jsonrows: JSON with one entry a line."""

from __future__ import annotations

import json

import pytest

from atlasgen.write.jsonrows import json_rows


def test_it_says_the_same_and_has_a_line_for_each_entry():
    """Nothing is lost between the lines, whatever the words hold."""
    document = {"name": "Ü “lake”\n", "rows": [{"a": [1, 2.5, None]}, [], "x"], "of": {"é": True}, "none": [], "no": {}}
    text = json_rows(document)
    assert json.loads(text) == document
    assert text.splitlines()[2:6] == ['"rows": [', ' {"a": [1, 2.5, null]},', " [],", ' "x"']
    assert text.endswith("}\n")


def test_a_number_without_a_sign_in_json_is_refused():
    """NaN and infinity would make a file that no other reader takes."""
    with pytest.raises(ValueError, match="JSON"):
        json_rows({"rows": [float("nan")]})
