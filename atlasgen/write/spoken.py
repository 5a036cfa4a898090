"""Words for what renders them itself: the HTML templates, and the scripts of the web atlas."""

from __future__ import annotations

from typing import Any

from markupsafe import Markup

from atlasgen.model.patterns import as_json
from atlasgen.model.wording import DEFAULT, language, messages, parts_of, pattern_of

_SCRIPT = "script"


def say_html(name: str, /, **facts: Any) -> Markup:
    """Return a message as HTML: its own words and plain facts escaped, facts that are `Markup` as they are.

    Raises LookupError as `say` does.
    """
    return Markup("").join(parts_of(name, facts))


def script_words() -> dict[str, Any]:
    """Return the language now spoken and every message of the matter `script`, as `words.js` fills them."""
    found = {name: as_json(pattern_of(language(), name)) for name in messages(DEFAULT, _SCRIPT)}
    return {"language": language(), "messages": found}
