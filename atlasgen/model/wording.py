"""Every sentence that a reader of an edition sees comes from here, in the language now spoken.

The sentences stand in `templates/words/LANGUAGE/MATTER.ftl` (Project Fluent) and are read when first asked for. An id
begins with its matter: `pages-...` stands in `pages.ftl` or in `pages-PART.ftl`. What the crew reads on the command
line is English and stands in the code.
"""

from __future__ import annotations

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
    if language != DEFAULT and name not in messages(language, matter_of(name)):
        language = DEFAULT
    return Maker(lambda other: _message(language, other), lambda other: _term(language, matter_of(name), other)).of(
        _message(language, name)
    )


def matter_of(name: str) -> str:
    """Return the matter of an id: what stands before its first hyphen."""
    return name.partition("-")[0]


def _message(language: str, name: str) -> ast.Message:
    try:
        return messages(language, matter_of(name))[name]
    except KeyError:
        raise LookupError(f"{name}: no such message in templates/words/{language}") from None


def _term(language: str, matter: str, name: str) -> ast.Term:
    return {**_entries(language, _TERMS), **_entries(language, matter)}[f"-{name}"]


@cache
def messages(language: str, matter: str) -> dict[str, ast.Message]:
    """Return the messages of a matter by id, as they stand in the words files."""
    return {name: entry for name, entry in _entries(language, matter).items() if not name.startswith("-")}


@cache
def _entries(language: str, matter: str) -> dict[str, Any]:
    """Return messages and terms of one matter; a term's id begins with a hyphen."""
    from atlasgen.resources import resource

    folder, found = resource("templates", "words", language), {}
    for path in sorted({*folder.glob(f"{matter}.ftl"), *folder.glob(f"{matter}-*.ftl")}):
        for entry in FluentParser().parse(path.read_text(encoding="utf-8")).body:
            if isinstance(entry, ast.Junk):
                raise ValueError(f"{path.name}: not Project Fluent: {(entry.content or '').strip()[:80]!r}")
            if isinstance(entry, ast.Message | ast.Term):
                found[f"-{entry.id.name}" if isinstance(entry, ast.Term) else entry.id.name] = entry
    return found
