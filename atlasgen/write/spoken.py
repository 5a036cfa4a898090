"""Words for what renders them itself: the HTML templates, and the scripts of the web atlas."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from markupsafe import Markup

from atlasgen.model.patterns import as_json, facts_of
from atlasgen.model.wording import DEFAULT, language, messages, parts_of, pattern_of, say

_SCRIPT = "script"


def say_html(name: str, /, **facts: Any) -> Markup:
    """Return a message as HTML: its own words and plain facts escaped, facts that are `Markup` as they are.

    Raises LookupError as `say` does.
    """
    return Markup("").join(parts_of(name, facts))


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
    """Return the language now spoken and every message of the matter `script`, as `words.js` fills them."""
    found = {name: as_json(pattern_of(language(), name)) for name in messages(DEFAULT, _SCRIPT)}
    return {"language": language(), "messages": found}
