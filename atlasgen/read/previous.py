"""The atlas.json of the edition before, from which ids are carried on and changes are told."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pydantic import ValidationError

from atlasgen.errors import InputFault
from atlasgen.model import Problem
from atlasgen.model.wording import say
from atlasgen.read.edition_shape import ATLAS, MOST_BYTES, first_fault, lie_apart
from atlasgen.units import grouped_words

Bounds = tuple[float, float, float, float]


def read_previous(path: Path, name: str, lake: Bounds) -> tuple[dict[str, Any], list[Problem]]:
    """Read it; `lake` is west, south, east, north of this survey's water in degrees.

    Raises
    ------
    InputFault
        It is no atlas.json, or that of another lake.
    """
    if (size := path.stat().st_size) > MOST_BYTES:
        raise InputFault(
            name,
            say("input-bytes", count=grouped_words(size)),
            say("input-at-most", most=grouped_words(MOST_BYTES)),
            say("input-copy-previous"),
        )
    try:
        document: dict[str, Any] = ATLAS.validate_json(path.read_bytes(), strict=True)
    except ValidationError as error:
        raise InputFault(name, *first_fault(error), say("input-copy-previous")) from None
    if lie_apart(document["survey"]["bounds"], lake):
        title = document["survey"]["title"]
        raise InputFault(
            name, say("input-other-lake", title=f"{title!r}"), say("input-this-lake"), say("input-copy-previous")
        )
    return document, []
