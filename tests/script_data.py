"""Reads data.js back, as a browser does: the values it sets at once, with those that it leaves as text."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from atlasgen.write.datascript import LATER_OF_EACH

_TEXT = re.compile(r"(?:(\w+): )?'((?:[^'\\]|\\.)*)'")


def read_data(folder: Path) -> dict[str, Any]:
    """Return what an edition's data.js holds, in the shape of `map_data`."""
    return read_script((folder / "assets" / "data.js").read_text(encoding="ascii"))


def read_script(text: str) -> dict[str, Any]:
    """Return the data that a script text holds."""
    (_, now), *later = [(match[1], _value(match[2])) for match in _TEXT.finditer(text)]
    data = now | dict(later)
    for many, names in LATER_OF_EACH.items():
        for name in names:
            for row, value in zip(data[many], data.pop(name), strict=True):
                # A photograph has a view, or the reason why it has none.
                row |= {} if value is None and name in ("noView", "view") else {name: value}
    return data


def _value(literal: str) -> Any:
    return json.loads(re.sub(r"\\(x3c|.)", lambda match: "<" if match[1] == "x3c" else match[1], literal))
