"""Every sentence that a reader of an edition sees comes from here, in the language now spoken.

The sentences stand in `templates/words/LANGUAGE/MATTER.ftl` (Project Fluent) and are read when first asked for. An id
begins with its matter: `pages-...` stands in `pages.ftl` or in `pages-PART.ftl`. What the crew reads on the command
line is English and stands in the code.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from typing import Any

from fluent.syntax import FluentParser, ast

from atlasgen.model.patterns import Fact, Maker, Pattern

DEFAULT = "en"
LANGUAGES = (DEFAULT, "de")
_TERMS = "terms"
# Where an entry begins: at the line's start; what belongs to it is indented, or closes a brace.
_ENTRY = re.compile(r"^(-?[A-Za-z][\w-]*) *=", re.MULTILINE)
_spoken: ContextVar[str] = ContextVar("language", default=DEFAULT)


def language() -> str:
    """Return the language now spoken: a code of ISO 639-1."""
    return _spoken.get()


def speak(name: str) -> None:
    """Speak a language from now on; for the start of a process. See `speaking`."""
    if name not in LANGUAGES:
        raise ValueError(f"{name}: no words in this language. Expected one of {', '.join(LANGUAGES)}.")
    _spoken.set(name)


def spoken_here(name: object) -> str:
    """Return the language that an edition says it is in, if it is spoken here; else English."""
    return name if isinstance(name, str) and name in LANGUAGES else DEFAULT


@contextmanager
def speaking(name: str) -> Iterator[None]:
    """Speak a language within a block."""
    before = language()
    speak(name)
    try:
        yield
    finally:
        _spoken.set(before)


def say(name: str, /, **facts: Any) -> str:
    """Return a message with its facts in: words as they are, numbers as the language writes them, without grouping.

    Raises
    ------
    LookupError
        There is no such message, or it asks for a fact that is not given.
    """
    return "".join(parts_of(name, facts))


def parts_of(name: str, facts: Mapping[str, Any]) -> list[str]:
    """Return what `say` joins; raises as it does. A fact that is a kind of `str` stays what it is."""
    spoken: list[str] = []
    try:
        _fill(pattern_of(language(), name), facts, spoken)
    except KeyError as error:
        raise LookupError(f"{name}: the fact {error} is not given") from None
    return spoken


def number_text(value: float) -> str:
    """Return a number with at most three decimals, as the language now spoken writes it."""
    text = str(value) if isinstance(value, int) else f"{value:.3f}".rstrip("0").rstrip(".")
    return decimal_text(text)


def decimal_text(text: str) -> str:
    """Return a number written with a decimal point as the language now spoken writes it."""
    return text.replace(".", _decimal_sign(language())) if "." in text else text


@cache
def _decimal_sign(name: str) -> str:
    from babel.numbers import get_decimal_symbol

    return get_decimal_symbol(name)


@cache
def _plural(name: str) -> Any:
    from babel import Locale

    return Locale.parse(name).plural_form


def _fill(pattern: Pattern, facts: Mapping[str, Any], spoken: list[str]) -> None:
    for part in pattern:
        if isinstance(part, str):
            spoken.append(part)
        elif isinstance(part, Fact):
            value = facts[part.name]
            spoken.append(value if isinstance(value, str) else number_text(value))
        else:
            form = _form(facts[part.fact], part.forms)
            _fill(part.forms.get(form, part.forms[part.other]), facts, spoken)


def _form(value: Any, forms: Mapping[str, Pattern]) -> str:
    """Return the name of the form that a fact asks for: itself, or its plural category."""
    text = str(value)
    return text if isinstance(value, str) or text in forms else _plural(language())(value)


@cache
def pattern_of(language: str, name: str) -> Pattern:
    """Return the parts of a message in a language, or in English where it has no such message.

    A test holds that every language has all of them.

    Raises
    ------
    LookupError
        There is no such message.
    """
    if language != DEFAULT and name not in _written(language, matter_of(name)):
        language = DEFAULT
    return Maker(lambda other: _message(language, other), lambda other: _term(language, matter_of(name), other)).of(
        _message(language, name)
    )


def matter_of(name: str) -> str:
    """Return the matter of an id: what stands before its first hyphen."""
    return name.partition("-")[0]


def message_names(language: str, matter: str) -> list[str]:
    """Return the ids of a matter's messages, in the order of the words files."""
    return [name for name in _written(language, matter) if not name.startswith("-")]


def _message(language: str, name: str) -> ast.Message:
    text = _written(language, matter_of(name)).get(name)
    if text is None:
        raise LookupError(f"{name}: no such message in templates/words/{language}")
    return _parsed(text)


def _term(language: str, matter: str, name: str) -> ast.Term:
    return _parsed({**_written(language, _TERMS), **_written(language, matter)}[f"-{name}"])


def _parsed(text: str) -> Any:
    entry = FluentParser().parse_entry(text)
    if isinstance(entry, ast.Junk):
        raise ValueError(f"not Project Fluent: {text.strip()[:80]!r}")
    return entry


@cache
def _written(language: str, matter: str) -> dict[str, str]:
    """Return messages and terms of one matter by id, as they are written; a term's id begins with a hyphen.

    Each is parsed when it is asked for: a build uses a few hundred of them, a rebuild fewer.
    """
    from atlasgen.resources import resource

    folder, found = resource("templates", "words", language), dict[str, str]()
    for path in sorted({*folder.glob(f"{matter}.ftl"), *folder.glob(f"{matter}-*.ftl")}):
        text = path.read_text(encoding="utf-8")
        starts = list(_ENTRY.finditer(text))
        ends = [match.start() for match in starts[1:]] + [len(text)]
        found |= {match[1]: text[match.start() : end] for match, end in zip(starts, ends, strict=True)}
    return found
