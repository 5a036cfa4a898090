"""The changes between two editions as text, as one HTML page that needs nothing else, and as JSON."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Iterator
from dataclasses import asdict

from atlasgen.compose.changes_parts import Group, Row
from atlasgen.compose.changes_words import file_groups, groups, heading
from atlasgen.model.changes import Changes
from atlasgen.model.wording import language
from atlasgen.resources import resource
from atlasgen.write.spoken import say_html

FORMAT = "atlasgen changes 1"
_MOST_ROWS = 20  # of each kind, on a terminal


def changes_text(changes: Changes) -> str:
    """Return the changes for a terminal: grouped, at most 20 of each kind, no control characters."""
    head = heading(changes)
    lines = [f"{head.title}. {head.editions}.", head.lead]
    for group in _all_groups(changes):
        lines += ["", f"{group.title} ({len(group.rows):,})"]
        lines += [f"  {line}" for row in group.rows[:_MOST_ROWS] for line in _lines(row)]
        if len(group.rows) > _MOST_ROWS:
            lines.append(f"  and {len(group.rows) - _MOST_ROWS:,} more: see --html")
    return "\n".join(_printable(line) for line in lines)


def changes_html(changes: Changes) -> str:
    """Return the changes as one page: everything, no script, nothing from elsewhere, every word escaped."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    environment = Environment(
        loader=FileSystemLoader(resource("templates", "compare")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    css = resource("templates", "compare", "report.css").read_text(encoding="utf-8")
    return environment.get_template("report.html").render(
        css=css,
        policy=f"default-src 'none'; style-src 'sha256-{_digest(css)}'; base-uri 'none'; form-action 'none'",
        head=heading(changes),
        groups=_all_groups(changes),
        edition=changes.new.edition,
        say=say_html,
        language=language(),
    )


def changes_json(changes: Changes) -> str:
    """Return every change for machines: the fields of `Changes`, metres and degrees, null for what is not known."""
    document = {"format": FORMAT, "nothing": changes.nothing, **asdict(changes)}
    return json.dumps(document, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _all_groups(changes: Changes) -> tuple[Group, ...]:
    return (*groups(changes), *(file_groups(changes.files) if changes.files else ()))


def _lines(row: Row) -> Iterator[str]:
    page = "" if row.page is None else f" (page {row.page})"
    yield f"{row.what}{page}: {row.words}" if row.words else f"{row.what}{page}"
    for word, sentence in (("before", row.old), ("now", row.new)):
        if sentence:
            yield f"  {word}: {sentence}"


def _printable(line: str) -> str:
    """Leave out what could steer a terminal: names and captions come from outside."""
    return "".join(sign if sign.isprintable() or sign == "\N{NO-BREAK SPACE}" else " " for sign in line)


def _digest(css: str) -> str:
    return base64.b64encode(hashlib.sha256(css.encode()).digest()).decode()
