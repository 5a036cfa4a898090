"""wording: every sentence of an edition stands in the words files, whole in each language."""

from __future__ import annotations

import ast
import re
from datetime import date
from pathlib import Path
from typing import get_args

import pytest
from conftest import CHECKOUT
from fluent.runtime import FluentBundle, FluentResource
from words_elsewhere import NOT_FOR_READERS

from atlasgen.cache import opened
from atlasgen.model import patterns, wording
from atlasgen.model.changes import Because
from atlasgen.model.history import LayerKind
from atlasgen.model.relief import SlopeWord
from atlasgen.model.wording import LANGUAGES, language, say, speaking
from atlasgen.units import date_words, depth_words, listing, percent_words
from atlasgen.workers import pool
from atlasgen.write.spoken import say_html, script_words

WORDS = CHECKOUT / "templates" / "words"
FILES = sorted(WORDS.glob("*/*.ftl"))
MATTERS = sorted({path.stem.partition("-")[0] for path in FILES} - {"terms"})
IDS = sorted(name for matter in MATTERS for name in wording.message_names("en", matter))
ROOMS = ("read", "place", "measure", "compose", "write", "ship")
# Words that are codes of the model, in atlas.json as well: never shown as they are.
CODES = {code for kind in (Because, LayerKind, SlopeWord) for code in get_args(kind)} | {
    "known now",
    "not known any more",
}
COMMENTS = {
    entry.id.name: entry.comment.content
    for path in sorted((WORDS / "en").glob("*.ftl"))
    for entry in FluentResource(path.read_text(encoding="utf-8")).body
    if type(entry).__name__ == "Message" and entry.comment
}
_SENTENCE = re.compile(r"[A-Za-z]{2,} [a-z]{2,}")


def _sources() -> dict[Path, str]:
    """Everything that may name a message."""
    found = [*(CHECKOUT / "atlasgen").rglob("*.py")]
    for kind in ("html", "js", "typ", "json"):
        found += (CHECKOUT / "templates").rglob(f"*.{kind}")
    return {path: path.read_text(encoding="utf-8") for path in found}


def _facts(language: str, name: str) -> set[str]:
    return patterns.facts_of(wording.pattern_of(language, name))


def _noted(name: str) -> set[str]:
    """Facts that the comment of the English message says another language may want or leave: `$name`."""
    return set(re.findall(r"\$(\w+)", COMMENTS.get(name, "")))


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_words_files_are_fluent_and_hold_only_their_own_matter(path):
    """An id tells the file it stands in; nothing is junk, nothing stands there twice."""
    entries = FluentResource(path.read_text(encoding="utf-8")).body
    kinds = {type(entry).__name__ for entry in entries}
    assert kinds <= {"Message", "Term", "Comment", "GroupComment", "ResourceComment"}
    names = [entry.id.name for entry in entries if type(entry).__name__ == "Message"]
    matter = path.stem.partition("-")[0]
    assert [name for name in names if wording.matter_of(name) != matter] == []
    assert len(names) == len(set(names))


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_entries_taken_one_by_one_are_those_of_the_whole_file(path):
    """The library parses the whole file; the program cuts it into entries and parses each when it is asked for."""
    language, matter = path.parent.name, path.stem.partition("-")[0]
    for entry in FluentResource(path.read_text(encoding="utf-8")).body:
        if type(entry).__name__ in ("Message", "Term"):
            name = entry.id.name if type(entry).__name__ == "Message" else f"-{entry.id.name}"
            own = wording._parsed(wording._written(language, matter)[name])
            assert own.equals(entry, ignored_fields=["span", "comment", "leading_comments"]), name


@pytest.mark.parametrize("language", LANGUAGES[1:])
def test_every_language_has_every_message_with_the_same_facts(language):
    """A fact that one language needs and another does not is named in a comment in English."""
    theirs = {name for matter in MATTERS for name in wording.message_names(language, matter)}
    assert sorted(theirs ^ set(IDS)) == []
    different = {name: _facts(language, name) ^ _facts("en", name) for name in IDS}
    assert {name: facts for name, facts in different.items() if facts - _noted(name)} == {}


def test_every_message_is_used_and_every_one_that_is_named_exists():
    """Ids are written out whole where they are used, never put together."""
    text = "\n".join(_sources().values())
    quoted = set(re.findall(rf"[\"']((?:{'|'.join(MATTERS)})-[a-z0-9-]+)[\"']", text))
    within = set(re.findall(r"\{ ([a-z]+-[a-z0-9-]+) \}", "".join(path.read_text("utf-8") for path in FILES)))
    assert sorted(set(IDS) - quoted - within) == []
    asked = set(re.findall(r"\b(?:say|word|say_html)\(\s*[\"']([a-z0-9-]+)[\"']", text))
    assert sorted(asked - set(IDS)) == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_messages_are_filled_as_the_standard_says(language):
    """Checked against fluent.runtime, the reference implementation of Project Fluent for Python."""
    bundle = FluentBundle([language], use_isolating=False)
    for path in sorted((WORDS / language).glob("*.ftl")):
        bundle.add_resource(FluentResource(path.read_text(encoding="utf-8")))
    with speaking(language):
        for name in IDS:
            for value in (0, 1, 2, 7, "word", "one", "feet", "none", "south-west"):
                facts = dict.fromkeys(_facts(language, name), value)
                theirs, errors = bundle.format_pattern(bundle.get_message(name).value, facts)
                assert errors == []
                assert say(name, **facts) == theirs.replace("\n", " "), name


def test_what_is_missing_is_an_error():
    """No message, no fact: never silence, in no language."""
    with pytest.raises(LookupError, match="units-nothing"):
        say("units-nothing")
    with speaking("de"), pytest.raises(LookupError, match="height"):
        say("units-below-full")
    with pytest.raises(ValueError, match="Expected one of en, de"), speaking("xx"):
        pass


def test_numbers_dates_and_lists_follow_the_language():
    """Decimal comma and the dot of an ordinal in German (DIN 5008); English as it always was."""
    day = date(2026, 3, 4)
    told = []
    for name in LANGUAGES:
        with speaking(name):
            told.append((depth_words(3.61, "metres"), date_words(day), listing(["a", "b", "c"]), percent_words(0.001)))
    assert told == [
        ("3.6 m", "4 March 2026", "a, b and c", "under 1 %"),
        ("3,6 m", "4.\N{NO-BREAK SPACE}März 2026", "a, b und c", "unter 1 %"),
    ]
    assert language() == "en"


def test_facts_from_outside_are_escaped_in_html():
    """A message is text; only a fact that is HTML already stays so."""
    assert say_html("units-below-full", height="<b>") == "&lt;b&gt; below full"


def test_workers_speak_the_language_of_the_build():
    """A spawned process begins in English, and is told."""
    with speaking("de"), pool(1) as executor:
        assert executor.submit(say, "units-dry").result() == "trocken"


def test_nothing_remembered_in_one_language_is_told_in_another(tmp_path):
    """The language is part of what every remembered result is found by."""
    with opened(tmp_path / "cache.sqlite") as memory:
        told = []
        for name in ("en", "de", "en"):
            with speaking(name):
                told.append(memory.remember("words", (), lambda: say("units-dry")))
    assert told == ["dry", "trocken", "dry"]
    assert (memory.made, memory.spared) == (2, 1)


def test_scripts_get_every_message_of_their_matter():
    """As parts, in the language spoken."""
    with speaking("de"):
        sent = script_words()
    assert sent["language"] == "de"
    assert sorted(sent["messages"]) == [name for name in IDS if name.startswith("script-")]
    assert sent["messages"]["script-last-page"] == ["Dies ist die letzte Seite."]


def _strings(tree: ast.AST) -> list[str]:
    """Every text in code that may reach a reader: not docstrings, errors, names of progress."""
    passed: set[int] = set()
    for node in ast.walk(tree):
        function = node.func if isinstance(node, ast.Call) else None
        called = getattr(function, "id", None) or getattr(function, "attr", "")
        held = isinstance(node, ast.Raise | ast.Assert) or called in {"progress", "TypeVar"} or called.endswith("Fault")
        document = isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
        if held or document:
            passed |= {id(below) for below in ast.walk(node)}
        if called in {"remember", "mapped", "reason"}:
            passed |= {id(below) for below in ast.walk(node.args[0])}
    texts = [n for n in ast.walk(tree) if isinstance(n, ast.Constant) and isinstance(n.value, str)]
    told = [node.value for node in texts if id(node) not in passed and node.value not in CODES]
    return [text for text in told if _SENTENCE.search(text)]


# Text between tags of a template, outside its own instructions; text in a script beside what never shows.
_MARKUP = re.compile(r"{[{%#].*?[}%#]}|<(style|script)\b.*?</\1>|<[^>]*>", re.DOTALL)
_SPOKEN = re.compile(r'(?:aria-label|alt|title|placeholder)="([^"{}]*[a-z][^"{}]*)"')
_JS_TEXT = re.compile(r'"((?:[^"\\]|\\.)*)"')
_NO_WORDS = re.compile(r"use strict|^[.#\[]|\w\.\w|[:;{}()=<>]|Source Sans|^[a-z-]+(?: [a-z-]+)?$")


def test_no_sentence_stands_in_templates_or_scripts():
    """Neither between tags nor in what is read out; a script's own texts are selectors, classes and the like."""
    found = []
    for path, text in _sources().items():
        if path.suffix == ".html":
            found += [(path.name, part) for part in _MARKUP.split(text) if part and _SENTENCE.search(part)]
            found += [(path.name, part) for part in _SPOKEN.findall(text)]
        elif path.suffix == ".js":
            code = re.sub(r"^\s*//.*$|throw new Error.*$", "", text, flags=re.MULTILINE)
            texts = [part for part in _JS_TEXT.findall(code) if _SENTENCE.search(part)]
            found += [(path.name, part) for part in texts if not _NO_WORDS.search(part)]
    assert found == []


def _with_sentences() -> set[str]:
    """Files of the rooms that still hold sentences."""
    found = set()
    for room in ROOMS:
        for path in sorted((CHECKOUT / "atlasgen" / room).rglob("*.py")):
            if _strings(ast.parse(path.read_text(encoding="utf-8"))):
                found.add(path.relative_to(CHECKOUT).as_posix())
    return found


def test_no_sentence_stands_in_the_code():
    """Only what the crew reads, keys and names of formats; the list of such files is no longer than it must be."""
    found = _with_sentences()
    assert sorted(found - NOT_FOR_READERS) == [], "put these sentences into templates/words"
    assert sorted(NOT_FOR_READERS - found) == [], "no sentence left: take these off the list"


def _script_sentences(text: str) -> list[str]:
    """Strings of a script or of Typst that read like a sentence; two small words are classes of an element."""
    strings = re.findall(r'"((?:[^"\\\n]|\\.)*)"', re.sub(r"(^|\s)//[^\n]*", "", text))
    return [string for string in strings if re.search(r"\b[A-Z][a-z]+ [a-z]{2,}|[a-z]{2,} [a-z]{2,} [a-z]{2,}", string)]


def _page_sentences(text: str) -> list[str]:
    """Words of an HTML template that stand there as they are, and what they say to those who cannot see them."""
    bare = re.sub(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}|<!--.*?-->|<style>.*?</style>", " ", text, flags=re.DOTALL)
    named = re.findall(r'(?:alt|aria-label|title|placeholder|aria-valuetext)="([^"]*)"', bare)
    return [
        words.strip()
        for words in (*re.split(r"<[^>]*>", bare), *named)
        if re.search("[A-Za-z]{3}", words) and words.strip() != "SIL Open Font License"
    ]


def test_no_sentence_stands_in_the_templates():
    """Neither in pages nor in scripts nor in the book's layout."""
    found = {}
    for path, text in _sources().items():
        if path.suffix in (".js", ".typ"):
            found[path.name] = _script_sentences(text)
        elif path.suffix == ".html":
            found[path.name] = _page_sentences(text)
    assert {name: texts for name, texts in found.items() if texts} == {}
