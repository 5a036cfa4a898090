"""Words for what renders them itself: the HTML templates, and the scripts of the web atlas."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from markupsafe import Markup

from atlasgen.model.patterns import as_json, facts_of
from atlasgen.model.wording import DEFAULT, decimal_text, language, message_names, parts_of, pattern_of, say

_SCRIPT = "script"
_NUMBER_AND_UNIT = re.compile(r"(\d) (?=(?:ft|m|km|mi|ha|acres|%)(?:\W|$))")


def say_html(name: str, /, **facts: Any) -> Markup:
    """Return a message as HTML: its own words and plain facts escaped, facts that are `Markup` as they are.

    Raises LookupError as `say` does.
    """
    return Markup("").join(parts_of(name, facts))


def together(text: str) -> str:
    """Return a text, HTML as HTML, whose numbers stand on one line with their units, as DIN 5008 has it."""
    return type(text)(_NUMBER_AND_UNIT.sub("\\1\N{NO-BREAK SPACE}", text))


def kept_together(value: Any) -> Any:
    """Do so for whatever a template puts into a page."""
    return together(value) if isinstance(value, str) else value


def open_words(ids: Any) -> Any:
    """Return lists and mappings of ids with the messages in the ids' places, their facts open: `{page}`.

    For templates of the printer, which put the facts in themselves. A message that chooses by a fact cannot be open.
    """
    if isinstance(ids, Mapping):
        return {key: open_words(below) for key, below in ids.items()}
    if isinstance(ids, list):
        return [open_words(below) for below in ids]
    return say(ids, **{fact: f"{{{fact}}}" for fact in facts_of(pattern_of(language(), ids))})


def fill_words(path: Path) -> None:
    """Put the messages into a JSON file of ids, such as the templates of the printer read; see `open_words`."""
    ids = json.loads(path.read_text(encoding="utf-8"))
    path.write_text(json.dumps(open_words(ids), ensure_ascii=False), encoding="utf-8")


def script_words() -> dict[str, Any]:
    """Return the language now spoken, its decimal sign and every message of `script`, as `words.js` fills them."""
    found = {name: as_json(pattern_of(language(), name)) for name in message_names(DEFAULT, _SCRIPT)}
    return {"language": language(), "decimal": decimal_text("."), "messages": found}
