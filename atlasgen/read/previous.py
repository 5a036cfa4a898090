"""The atlas.json of the edition before, from which ids are carried on and changes are told."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pydantic import ValidationError

from atlasgen.errors import InputFault
from atlasgen.model import Problem
from atlasgen.read.edition_shape import ATLAS, first_fault

Bounds = tuple[float, float, float, float]
# As `atlasgen compare` has it: what says it is larger is no atlas.json.
_MOST_BYTES = 2**29
_STEP = "Copy atlas.json from the edition before."


def read_previous(path: Path, name: str, lake: Bounds) -> tuple[dict[str, Any], list[Problem]]:
    """Read it; `lake` is west, south, east, north of this survey's water in degrees.

    Raises
    ------
    InputFault
        It is no atlas.json, or that of another lake.
    """
    if (size := path.stat().st_size) > _MOST_BYTES:
        raise InputFault(name, f"has {size:,} bytes", f"at most {_MOST_BYTES:,}", _STEP)
    try:
        document: dict[str, Any] = ATLAS.validate_json(path.read_bytes(), strict=True)
    except ValidationError as error:
        raise InputFault(name, *first_fault(error), _STEP) from None
    west, south, east, north = document["survey"]["bounds"]
    if west > lake[2] or lake[0] > east or south > lake[3] or lake[1] > north:
        title = document["survey"]["title"]
        raise InputFault(name, f"the lake of {title!r} lies elsewhere", "an edition of this lake", _STEP)
    return document, []
