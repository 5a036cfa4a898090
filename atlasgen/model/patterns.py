"""Messages of Project Fluent (https://projectfluent.org/fluent/guide) as plain parts, ready to be filled with facts.

Only what a sentence needs: text, facts, selects on a fact, and messages and terms within one another, which are put in
here once. So filling is quick, and the browser fills the same parts. A line break in a words file is a blank.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from fluent.syntax import ast


@dataclass(frozen=True, slots=True)
class Fact:
    """Where a fact goes."""

    name: str


@dataclass(frozen=True, slots=True)
class Choice:
    """Parts chosen by a fact: by its word, its very number, or its plural category; else the form named `other`."""

    fact: str
    forms: Mapping[str, Pattern]
    other: str


Part = str | Fact | Choice
Pattern = tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class Maker:
    """Makes patterns; `message` and `term` find what a message refers to."""

    message: Callable[[str], ast.Message]
    term: Callable[[str], ast.Term]

    def of(self, node: ast.Message | ast.Term) -> Pattern:
        """Return the pattern of a message.

        Raises
        ------
        ValueError
            It has no value, or holds what is not used here: functions, attributes of messages.
        """
        if not isinstance(node.value, ast.Pattern):
            raise ValueError(f"{node.id.name} says nothing")
        return _joined(self._parts(node.value, None))

    def _parts(self, pattern: ast.Pattern, given: Mapping[str, str] | None) -> Iterable[Part]:
        """Yield the parts; `given` are the arguments inside a term, None outside, where facts stay open."""
        for element in pattern.elements:
            if isinstance(element, ast.TextElement):
                yield element.value.replace("\n", " ")
            elif isinstance(element, ast.Placeable):
                yield from self._placed(element.expression, given)

    def _placed(self, node: Any, given: Mapping[str, str] | None) -> Iterable[Part]:
        match node:
            case ast.StringLiteral() | ast.NumberLiteral():
                yield str(node.parse()["value"])
            case ast.Placeable():
                yield from self._placed(node.expression, given)
            case ast.VariableReference():
                yield Fact(node.id.name) if given is None else given[node.id.name]
            case ast.MessageReference(attribute=None):
                yield from self.of(self.message(node.id.name))
            case ast.TermReference(attribute=None):
                yield from self._parts(self.term(node.id.name).value, _arguments(node))
            case ast.SelectExpression():
                yield from self._chosen(node, given)
            case _:
                raise ValueError(f"{type(node).__name__} is not used in the words files")

    def _chosen(self, node: ast.SelectExpression, given: Mapping[str, str] | None) -> Iterable[Part]:
        forms = {_key(variant): variant for variant in node.variants}
        other = next(key for key, variant in forms.items() if variant.default)
        if not isinstance(node.selector, ast.VariableReference):
            raise ValueError("a select is by a fact")
        name = node.selector.id.name
        if given is not None:
            yield from self._parts(forms.get(given.get(name, other), forms[other]).value, given)
            return
        yield Choice(name, {key: _joined(self._parts(v.value, None)) for key, v in forms.items()}, other)


def _key(variant: ast.Variant) -> str:
    return variant.key.name if isinstance(variant.key, ast.Identifier) else variant.key.value


def _arguments(node: ast.TermReference) -> dict[str, str]:
    named = node.arguments.named if node.arguments else ()
    return {argument.name.name: str(argument.value.parse()["value"]) for argument in named}


def _joined(parts: Iterable[Part]) -> Pattern:
    """Join pieces of text that follow one another."""
    found: list[Part] = []
    for part in parts:
        if found and isinstance(part, str) and isinstance(found[-1], str):
            found[-1] += part
        else:
            found.append(part)
    return tuple(found)


def facts_of(pattern: Pattern) -> set[str]:
    """Return the names of all facts that a pattern asks for."""
    names: set[str] = set()
    for part in pattern:
        if isinstance(part, Fact):
            names.add(part.name)
        elif isinstance(part, Choice):
            names.add(part.fact)
            names.update(*(facts_of(form) for form in part.forms.values()))
    return names


def as_json(pattern: Pattern) -> list[Any]:
    """Return a pattern as the browser's `words.js` fills it."""
    return [_part_json(part) for part in pattern]


def _part_json(part: Part) -> Any:
    if isinstance(part, str):
        return part
    if isinstance(part, Fact):
        return {"fact": part.name}
    return {"by": part.fact, "forms": {key: as_json(form) for key, form in part.forms.items()}, "other": part.other}
