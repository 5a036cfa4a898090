"""Writes data.js: what the map's first view needs as one value, and all else as text that is read when asked for."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

# What no first view draws: megabytes, of a large lake. `js/unpack.js` reads each when a script first asks for it.
LATER = (
    "bands", "cover", "find", "isobaths", "passes", "relief", "repeats", "search", "soundings", "told", "unsounded",
)  # fmt: skip
# The same of each photograph and of each reach; it is carried as lists of its own, in their order.
LATER_OF_EACH = {"photos": ("noView", "stage", "view", "when"), "reaches": ("shownBy",)}


def data_script(data: Mapping[str, Any]) -> str:
    """Write `map_data` as a classic script that sets ATLAS, and ATLAS_LATER: JSON by name, None where one has nothing.

    The text is safe even inside an HTML script element and for old readers. JSON in a string is read several times as
    fast as values of the script would be.
    """
    now = {name: value for name, value in data.items() if name not in LATER}
    later = {name: data[name] for name in LATER if name in data}
    for many, names in LATER_OF_EACH.items():
        rows: Sequence[Mapping[str, Any]] = data.get(many, ())
        now[many] = [{name: value for name, value in row.items() if name not in names} for row in rows]
        later |= {name: [row.get(name) for row in rows] for name in names}
    texts = ",\n".join(f"{name}: {_literal(later[name])}" for name in sorted(later))
    return f"var ATLAS = JSON.parse({_literal(now)});\nvar ATLAS_LATER = {{\n{texts}}};\n"


def _literal(value: object) -> str:
    """Return JSON as a string of the script; ASCII takes care of U+2028 and U+2029, "<" could end a script element."""
    text = json.dumps(value, ensure_ascii=True, separators=(",", ":"), sort_keys=True, allow_nan=False)
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'").replace("<", "\\x3c") + "'"
