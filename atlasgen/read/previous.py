"""The atlas.json of the edition before, from which ids are carried on and changes are told."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pydantic import ValidationError

from atlasgen.errors import InputFault
from atlasgen.model import Problem
from atlasgen.read.edition_shape import ATLAS, MOST_BYTES, first_fault, lie_apart

Bounds = tuple[float, float, float, float]
_STEP = "Copy atlas.json from the edition before."


def read_previous(path: Path, name: str, lake: Bounds) -> tuple[dict[str, Any], list[Problem]]:
    """Read it; `lake` is west, south, east, north of this survey's water in degrees.

    Raises
    ------
    InputFault
        It is no atlas.json, or that of another lake.
    """
    if (size := path.stat().st_size) > MOST_BYTES:
        raise InputFault(name, f"has {size:,} bytes", f"at most {MOST_BYTES:,}", _STEP)
    try:
        document: dict[str, Any] = ATLAS.validate_json(path.read_bytes(), strict=True)
    except ValidationError as error:
        raise InputFault(name, *first_fault(error), _STEP) from None
    if lie_apart(document["survey"]["bounds"], lake):
        title = document["survey"]["title"]
        raise InputFault(name, f"the lake of {title!r} lies elsewhere", "an edition of this lake", _STEP)
    return document, []
