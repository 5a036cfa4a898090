"""How photos are called in what is published: a crew's folder may bear a person's name.

It is done once, on the finished atlas, so that every output follows; what `check` tells the crew keeps the true paths.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from atlasgen.model import Atlas, Photo, Problem
from atlasgen.model.wording import say, speaking, spoken_here

_END = "\0"


def as_published(atlas: Atlas, inputs: Mapping[str, str]) -> tuple[Atlas, dict[str, str]]:
    """Return the atlas and the inputs' hashes with photos called as `photos.names` asks.

    `paths` leaves all as it is; `names` keeps the last part of a path, with the id where two photos share it; `none`
    calls a published photo by its id and numbers the files left out.
    """
    if atlas.survey.photo_names == "paths":
        return atlas, dict(inputs)
    names = public_names(atlas)
    problems = _renamed(atlas.problems, names, keep_last=atlas.survey.photo_names == "names")
    photos = tuple(_photo(photo, names) for photo in atlas.placed.photos)
    renamed = replace(
        atlas,
        placed=replace(atlas.placed, photos=photos, left_out=(), problems=()),
        problems=problems,
        left_out=tuple(problem for problem in problems if problem.level == "left_out"),
    )
    return renamed, {names.get(name, name): sha256 for name, sha256 in inputs.items()}


def comparable(document: Mapping[str, Any], choice: str) -> dict[str, Any]:
    """Return an atlas.json, perhaps of an edition that told more, with photos called as `photos.names` asks now.

    With `none`, files left out are not compared: their numbers mean nothing from one edition to the next.
    """
    if choice == "paths":
        return dict(document)
    with speaking(spoken_here(document["survey"].get("language"))):
        return _comparable(document, choice)


def _comparable(document: Mapping[str, Any], choice: str) -> dict[str, Any]:
    bare = choice == "none"
    photos = [{**p, "file": photo_name(p["id"]) if bare else _last(p["file"])} for p in document["photos"]]
    rows = [] if bare else [r for r in document["left_out"] if not r["why"].startswith(_no_folder(r["file"]))]
    files = [row["file"] for row in (*document["photos"], *rows)]
    spoken = _Spoken({file: _last(file) for file in files}, keep_last=True)
    left_out = [{**row, "file": _last(row["file"]), "why": spoken.renamed(row["why"])} for row in rows]
    return {**document, "photos": photos, "left_out": left_out}


def _no_photo(name: str) -> str:
    """Return how `read` begins what it says of a line of the crew's that belongs to no photo."""
    return say("input-corrections-for", file=name, found=_END).partition(_END)[0]


def _no_folder(name: str) -> str:
    """Return how `read` begins what it says of a folder that it cannot open."""
    closed = say("photo-folder-closed", error=_END)
    return say("fault-line", file=name, value=closed, expected="").partition(_END)[0]


def public_names(atlas: Atlas) -> dict[str, str]:
    """Return what each photo and each file left out is called, by its path below the survey folder."""
    ids = {photo.source.file: photo.id for photo in atlas.placed.photos}
    others = sorted({problem.subject for problem in atlas.left_out} - set(ids))
    marks = ids | {name: say("published-left-out", number=number) for number, name in enumerate(others, 1)}
    folders = dict.fromkeys((p.subject for p in atlas.left_out if _is_folder(p)), say("published-a-folder"))
    if atlas.survey.photo_names == "none":
        return {name: photo_name(mark) if name in ids else mark for name, mark in marks.items()} | folders
    lasts = Counter(_last(name) for name in marks)
    return {n: _last(n) if lasts[_last(n)] == 1 else f"{_last(n)} ({mark})" for n, mark in marks.items()} | folders


def photo_name(mark: str) -> str:
    """Return what a photo is called where it has no other name than its id."""
    return say("published-photo", id=mark)


def _photo(photo: Photo, names: Mapping[str, str]) -> Photo:
    return replace(photo, source=replace(photo.source, file=names[photo.source.file], problems=()))


def _is_folder(problem: Problem) -> bool:
    return problem.message.startswith(_no_folder(problem.subject))


def _folded(text: str) -> str:
    """Return small letters, as many as there were: folded wholly, `ß` would become two."""
    return "".join(low if len(low := letter.lower()) == 1 else letter for letter in text)


def _last(name: str) -> str:
    return name.rpartition("/")[2]


def _renamed(problems: Iterable[Problem], names: Mapping[str, str], *, keep_last: bool) -> tuple[Problem, ...]:
    """Call photos by their new names in subjects and messages; two that become alike are told once."""
    spoken = _Spoken(names, keep_last=keep_last)
    unique: dict[Problem, None] = {}
    for problem in problems:
        subject, message = names.get(problem.subject, problem.subject), problem.message
        if message.startswith(_no_photo(problem.subject)):
            subject = _last(problem.subject) if keep_last else say("published-a-file")
        if subject != problem.subject:
            message = message.replace(problem.subject, subject)
        unique[replace(problem, subject=subject, message=spoken.renamed(message))] = None
    return tuple(unique)


class _Spoken:
    """Finds photos in sentences: by their paths, and by the ends of these, since corrections.csv may use either.

    With `keep_last` a bare name may stay; else it is found where it looks like a file's name and not like a word.
    """

    def __init__(self, names: Mapping[str, str], *, keep_last: bool) -> None:
        ends: dict[str, set[str]] = {}
        for name, word in names.items():
            parts = _folded(name).split("/")
            for start in range(len(parts)):
                end = "/".join(parts[start:])
                if "/" in end or (not keep_last and re.search(r"\w\.\w{2,}$", end)):
                    ends.setdefault(end, set()).add(word)
        self._words = {end: min(words) if len(words) == 1 else say("published-a-file") for end, words in ends.items()}
        self._lengths = sorted({len(end) for end in ends}, reverse=True)
        # A short common start finds the few places worth a look: one pattern of all names takes a minute for 5,000.
        starts = "|".join(sorted({re.escape(end[:4]) for end in ends})) or "(?!)"
        self._start = re.compile(rf"(?<![\w/.])(?:{starts})", re.IGNORECASE)

    def renamed(self, message: str) -> str:
        """Return a sentence with every photo in it called by its new name."""
        parts, done = [], 0
        for found in self._start.finditer(message):
            start = found.start()
            end = self._end(message, start) if start >= done else None
            if end is not None:
                parts += [message[done:start], self._words[_folded(message[start:end])]]
                done = end
        return "".join((*parts, message[done:]))

    def _end(self, message: str, start: int) -> int | None:
        """Return where the longest name that begins at `start` ends; None where none does."""
        for length in self._lengths:
            end = start + length
            if _folded(message[start:end]) in self._words and not re.match(r"[\w/]", message[end : end + 1]):
                return end
        return None
