"""Pages numbered anew, new and gone, and the sentences of their notes that changed."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from difflib import SequenceMatcher
from itertools import zip_longest
from typing import Any

from atlasgen.compose.changes_reaches import Edition, Pairs
from atlasgen.model.changes import NoteChange, PageChange

# In German a day of the month has a dot, and no sentence ends there.
_SENTENCE_END = {
    "en": re.compile(r"(?<=[.?!])\s+(?=[A-Z0-9“])"),
    "de": re.compile(r"(?<=[.?!])(?<!\b\d\.)(?<!\b\d\d\.)\s+(?=[A-ZÄÖÜ0-9„])"),
}
_NAMES = re.compile(r"\b(page|Seite) (\d+)|\b[A-Z]{1,3}-\d{3,}\b")
# A page's first reach, and the how manieth page of that reach it is.
_Key = tuple[str, int]


def page_pairs(old: Edition, new: Edition, pairs: Pairs) -> dict[int, int]:
    """Return the older page's number to the newer page of the same first reach; further pages of it in their order."""
    now = {key: number for number, key in _keys(new, {}).items()}
    return {number: now[key] for number, key in _keys(old, pairs.new_of).items() if key in now}


def page_changes(old: Edition, new: Edition, matched: Mapping[int, int]) -> tuple[PageChange, ...]:
    """Return the pages that are new, gone, and numbered anew, in this order."""
    known = set(matched.values())
    found = [PageChange(None, n, row["title"], row["reaches"][0]) for n, row in new.pages.items() if n not in known]
    found += [PageChange(n, None, row["title"], row["reaches"][0]) for n, row in old.pages.items() if n not in matched]
    for before, now in matched.items():
        if before != now:
            found.append(PageChange(before, now, new.pages[now]["title"], new.pages[now]["reaches"][0]))
    return tuple(found)


def in_new_words(matched: Mapping[int, int], pairs: Pairs) -> Callable[[str], str]:
    """Return what puts the newer edition's page numbers and reach ids into a sentence of the older one."""

    def name(found: re.Match[str]) -> str:
        if found.group(1):
            return f"{found.group(1)} {matched.get(int(found.group(2)), found.group(2))}"
        return pairs.new_of.get(found.group(), found.group())

    return lambda sentence: _NAMES.sub(name, sentence)


def note_changes(
    old: Edition, new: Edition, matched: Mapping[int, int], renamed: Callable[[str], str]
) -> tuple[NoteChange, ...]:
    """Compare the notes of each page by sentences; one that differs by page and reach names alone is the same."""
    found: list[NoteChange] = []
    for before, now in sorted(matched.items(), key=lambda pair: pair[1]):
        notes = [_by_heading(edition.pages[n]["notes"], edition.language) for edition, n in ((old, before), (new, now))]
        for heading in dict.fromkeys([*notes[1], *notes[0]]):
            pair = notes[0].get(heading, []), notes[1].get(heading, [])
            title = new.pages[now]["title"]
            found += [NoteChange(now, title, heading, *sentences) for sentences in _differing(*pair, renamed)]
    return tuple(found)


def _keys(edition: Edition, names: Mapping[str, str]) -> dict[int, _Key]:
    count: Counter[str] = Counter()
    found = {}
    for number, row in edition.pages.items():
        first = row["reaches"][0]
        found[number] = (names.get(first, first) if names else first, count[first])
        count[first] += 1
    return found


def _by_heading(notes: list[str], language: str) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for note in notes:
        heading, _, text = note.partition(": ")
        found.setdefault(heading, []).extend(part for part in _SENTENCE_END[language].split(text) if part)
    return found


def _differing(
    before: list[str], now: list[str], renamed: Callable[[str], str]
) -> Iterator[tuple[str | None, str | None]]:
    """Give (old, new) for each sentence that differs, in their order; one that only came or went has None beside it."""
    matcher: SequenceMatcher[Any] = SequenceMatcher(None, [renamed(part) for part in before], now, autojunk=False)
    for kind, a, b, c, d in matcher.get_opcodes():
        if kind != "equal":
            # The same words may lead to another page now; they are not reworded.
            yield from (pair for pair in zip_longest(before[a:b], now[c:d]) if pair[0] != pair[1])
