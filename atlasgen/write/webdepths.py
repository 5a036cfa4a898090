"""The sentences that hold depths, with slots for the depths: so that a page can tell them for another level.

Nothing is worded here. Each note is made anew by the very functions that made it for the page, from facts whose depths
are tell-tale numbers; these become slots. A note counts only if, filled with its own depths, it is the one that stands
on the page, letter by letter; where it is not, the page says for which level its note is told.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import compress, product
from typing import Any

import numpy as np

from atlasgen.compose.bed_words import break_sentences, profile_sentences, relief_sentences
from atlasgen.compose.notes import depth_sentences
from atlasgen.model import Atlas, ComposeRules, Note, Reach, ReachDepth, Sentence
from atlasgen.model.memory import ANEW, Memory
from atlasgen.model.relief import DepthReached, ProfilePoint, ReachProfile
from atlasgen.model.wording import say
from atlasgen.units import DEPTH_UNIT_M, MILE_M, DepthUnit, depth_words, distance_words
from atlasgen.write.webgrid import packed_depths, packed_runs
from atlasgen.write.webwords import reach_notes

# Tell-tale depths, in the reader's unit: deeper than any lake on earth. They are found by their words, in any language.
_TELLTALE = 20_000
# Tell-tale distances, in hundreds of metres or tenths of a mile: a hundred and one, and so on.
_FAR = 1001
_SLOT = re.compile(r"\{(\d+)\}")
_LEVEL = "{level}"
# Whole feet and tenths of feet are whole hundredths of a millimetre: so no depth rounds to the deeper foot.
_PER_METRE = 100_000
# Fine enough that distances off the bank, read off a gentle slope, round as the program's own.
_PROFILE_PER_METRE = 10_000
_SPREAD = ("shallowest_m", "median_m", "deepest_m")
# Which of these may be dry: a deeper one never without the shallower.
_DRY = ((False, False, False), (True, False, False), (True, True, False), (True, True, True))


@dataclass(frozen=True, slots=True)
class Line:
    """A sentence with slots `{0}`, `{1}`, ... for the depths of its note and `{level}` for the level they are below.

    `words` has one text, or four, by how many of the note's first three depths are dry. `differs`: it is told only
    where its two depths differ in words.
    """

    strong: bool
    words: tuple[str, ...]
    differs: bool = False


@dataclass(frozen=True, slots=True)
class Told:
    """A note as lines and the depths for their slots, below the level the edition is told for.

    `reached`: it ends with where depths are first reached off the bank, which is found from the profile.
    """

    lines: tuple[Line, ...]
    depths_m: tuple[float, ...]
    reached: bool = False


@dataclass
class _Slots:
    """The depths put away so far; each was replaced by the tell-tale number of its place."""

    unit: DepthUnit
    depths_m: list[float] = field(default_factory=list)
    ranges: set[tuple[int, ...]] = field(default_factory=set)

    def put(self, depth_m: float | None) -> float | None:
        """Put a depth away and return its tell-tale."""
        if depth_m is None:
            return None
        self.depths_m.append(depth_m)
        return self._telltale(len(self.depths_m) - 1)

    def _telltale(self, number: int) -> float:
        return (_TELLTALE + number) * DEPTH_UNIT_M[self.unit]

    def all_of(self, values: Any, names: Iterable[str]) -> Any:
        """Return a value with the depths of these names put away."""
        return replace(values, **{name: self.put(getattr(values, name)) for name in names})

    def station(self, point: ProfilePoint) -> ProfilePoint:
        """Return a station with its depths put away; the last two are a range."""
        hidden = self.all_of(point, ("depth_m", "shallowest_m", "deepest_m"))
        self.ranges.add((len(self.depths_m) - 2, len(self.depths_m) - 1))
        return hidden

    def line(self, sentence: Sentence) -> Line:
        """Return a sentence with its tell-tales as slots."""
        words = [depth_words(self._telltale(number), self.unit) for number in range(len(self.depths_m))]
        text, numbers = slotted(sentence.text, words)
        return Line(sentence.strong, (text,), numbers in self.ranges)

    def told(self, sentences: Iterable[Sentence]) -> Told:
        """Return sentences as a note with slots."""
        return Told(tuple(self.line(sentence) for sentence in sentences), tuple(self.depths_m))


def slotted(text: str, telltales: Sequence[str]) -> tuple[str, tuple[int, ...]]:
    """Return a text with the words of tell-tales as slots, `{0}` for the first of them, and the slots in order."""
    if not telltales:
        return text, ()
    parts = re.split("|".join(f"({re.escape(words)})" for words in telltales), text)
    pieces = [part for part in parts if part is not None]
    numbers = {words: number for number, words in enumerate(telltales)}
    found = tuple(numbers[piece] for piece in pieces if piece in numbers)
    return "".join(f"{{{numbers[piece]}}}" if piece in numbers else piece for piece in pieces), found


def told_depths(atlas: Atlas, memory: Memory = ANEW) -> dict[str, Any]:
    """Return for data.js what pages and bare shores say of depths, by page number or reach id and by note.

    A note that cannot be told for another level is None. `texts` holds each text once.
    """
    known = atlas.known
    measured = (known.reach_depth, known.reach_coverage, known.profiles, known.relief, known.relief_near)
    levels = (known.shown_stage_m, known.soundings_used, atlas.survey)
    notes = [[note for note in page.notes if note.topic in _MAKERS] for page in atlas.pages]
    pages = [(page.number, page.reaches) for page in atlas.pages]
    reaches = [reach.id for reach in atlas.placed.reaches]
    return memory.remember("told", (measured, levels, notes, pages, reaches), lambda: _told_depths(atlas))


def _told_depths(atlas: Atlas) -> dict[str, Any]:
    texts: dict[str, int] = {}
    reaches = {reach.id: reach for reach in atlas.placed.reaches}
    on_page = {reach for page in atlas.pages for reach in page.reaches}
    paged = [(page, reaches[page.reaches[0]]) for page in atlas.pages if page.reaches]
    stage_m = atlas.known.shown_stage_m
    pages = {str(page.number): retold_page(atlas, reach, page.notes) for page, reach in paged}
    bare = {reach: retold_bare(atlas, reach) for reach in reaches if reach not in on_page}
    return {
        "datum": atlas.survey.datum,
        "pages": {number: _packed(notes, stage_m, texts) for number, notes in pages.items()},
        "bare": {reach: _packed(notes, stage_m, texts) for reach, notes in bare.items()},
        "profiles": {
            str(page.number): _packed_profile(profile, stage_m)
            for page, reach in paged
            if (profile := atlas.known.profiles.get(reach.id)) and profile.reached
        },
        "reached": _reached(atlas),
        "texts": list(texts),
    }


def retold_page(atlas: Atlas, reach: Reach, notes: Sequence[Note]) -> dict[str, Told | None]:
    """Return the notes of a page that hold depths; None for one that cannot be told for another level."""
    found: dict[str, Told | None] = {}
    for note in notes:
        if note.topic in _MAKERS:
            told = _MAKERS[note.topic](atlas, reach)
            profile = atlas.known.profiles.get(reach.id) if told.reached else None
            found[note.topic] = told if _stands(atlas, told, profile, note.sentences) else None
    return found


def retold_bare(atlas: Atlas, reach_id: str) -> dict[str, Told | None]:
    """Return the same of a shore without a page of its own."""
    depth, coverage = atlas.known.reach_depth.get(reach_id), atlas.known.reach_coverage.get(reach_id)
    slots = _Slots(atlas.survey.depth_unit)
    hidden = depth and slots.all_of(depth, ("shallowest_m", "deepest_m"))
    told = slots.told(reach_notes(hidden, coverage, replace(atlas.survey, depths_below=_LEVEL))[0].sentences)
    stands = reach_notes(depth, coverage, atlas.survey)[0].sentences
    return {"depth": told if _stands(atlas, told, None, stands) else None}


def filled(told: Told, unit: DepthUnit, level: str) -> list[Sentence]:
    """Fill a note with its own depths, as the page does with others; without where depths are reached."""
    words = [depth_words(depth_m, unit) for depth_m in told.depths_m]
    found = []
    for line in told.lines:
        text = line.words[words[:3].count(say("units-dry")) if len(line.words) > 1 else 0]
        slots = [words[int(number)] for number in _SLOT.findall(text)]
        if not (line.differs and slots[0] == slots[1]):
            text = _SLOT.sub(lambda slot: words[int(slot[1])], text)
            found.append(Sentence(text.replace(_LEVEL, level), line.strong))
    return found


def _stands(atlas: Atlas, told: Told, profile: ReachProfile | None, sentences: Sequence[Sentence]) -> bool:
    """Tell whether a note, filled, is what the page says."""
    level = atlas.survey.depths_below or atlas.survey.datum
    reached = profile_sentences(replace(profile, stations=()), _rules(atlas)) if profile else ()
    return [*filled(told, atlas.survey.depth_unit, level), *reached] == list(sentences)


def _rules(atlas: Atlas) -> ComposeRules:
    survey = atlas.survey
    return ComposeRules(
        survey.title, survey.edition, depth_unit=survey.depth_unit, distance_unit=survey.distance_unit, shown=_LEVEL
    )


def _depth_note(atlas: Atlas, reach: Reach) -> Told:
    depth, profile = atlas.known.reach_depth.get(reach.id), atlas.known.profiles.get(reach.id)
    plain = _depth_once(atlas, depth, profile, _DRY[0])
    if depth is None or not depth.soundings:
        return plain
    variants = [_depth_once(atlas, depth, profile, dry) for dry in _DRY]
    spread = Line(plain.lines[0].strong, tuple(variant.lines[0].words[0] for variant in variants))
    return replace(plain, lines=(spread, *plain.lines[1:]))


def _depth_once(atlas: Atlas, depth: ReachDepth | None, profile: ReachProfile | None, dry: Sequence[bool]) -> Told:
    slots, used, rules = _Slots(atlas.survey.depth_unit), atlas.known.soundings_used, _rules(atlas)
    if depth is not None:
        hidden = slots.all_of(depth, _SPREAD)
        at = () if profile else tuple((out_m, slots.put(depth_m)) for out_m, depth_m in depth.profile_m)
        depth = replace(hidden, profile_m=at or depth.profile_m, **dict.fromkeys(compress(_SPREAD, dry), -1.0))
    if profile is None:
        return slots.told(depth_sentences(depth, used, rules))
    asked = profile.reached
    profile = replace(profile, stations=tuple(slots.station(point) for point in profile.stations), reached=())
    told = slots.told(depth_sentences(depth, used, rules, profile))
    # It would be told if a depth were reached: so it must be told wherever one is.
    hit = replace(profile, reached=tuple(replace(item, distance_m=1.0) for item in asked))
    return replace(told, reached=len(depth_sentences(depth, used, rules, hit)) > len(told.lines))


def _bed_note(atlas: Atlas, reach: Reach) -> Told:
    known, slots, rules = atlas.known, _Slots(atlas.survey.depth_unit), _rules(atlas)
    profile, near = known.profiles.get(reach.id), known.relief_near.get(reach.id, ())
    fall: tuple[Sentence, ...] = ()
    if profile is not None:
        steepest = profile.steepest and slots.all_of(profile.steepest, ("top_m", "foot_m"))
        fall = break_sentences(replace(profile, steepest=steepest), rules)
    by_id = {feature.id: feature for feature in known.relief}
    hidden = {n.feature: slots.all_of(by_id[n.feature], ("least_depth_m", "greatest_depth_m")) for n in near}
    return slots.told((*fall, *relief_sentences(near, hidden, rules)))


_MAKERS = {"depth": _depth_note, "bed": _bed_note}


def _reached(atlas: Atlas) -> dict[str, Any]:
    """Return the depths whose distance off the bank is told, and the sentence for each set of them, none first."""
    profile = next((profile for profile in atlas.known.profiles.values() if profile and profile.reached), None)
    if profile is None:
        return {"depths": [], "texts": []}
    depths_m, rules = [item.depth_m for item in profile.reached], _rules(atlas)
    step_m = 100.0 if rules.distance_unit == "metric" else MILE_M / 10
    far_m = [(_FAR + number) * step_m for number in range(len(depths_m))]
    telltales, texts = [distance_words(out_m, rules.distance_unit) for out_m in far_m], []
    for hit in product((False, True), repeat=len(depths_m)):
        items = tuple(DepthReached(depth_m, far_m[n]) for n, depth_m in enumerate(compress(depths_m, hit)))
        told = "".join(s.text for s in profile_sentences(replace(profile, stations=(), reached=items), rules))
        texts.append(slotted(told, telltales)[0])
    return {"depths": depths_m, "texts": texts}


def _packed(notes: Mapping[str, Told | None], stage_m: float, texts: dict[str, int]) -> dict[str, Any]:
    return {topic: told and _packed_note(told, stage_m, texts) for topic, told in notes.items()}


def _packed_note(told: Told, stage_m: float, texts: dict[str, int]) -> dict[str, Any]:
    """Pack a note: depths below the datum in hundredths of a millimetre, texts by their number."""
    return {
        "depths": [math.floor((depth_m - stage_m) * _PER_METRE + 1e-3) for depth_m in told.depths_m],
        "lines": [
            [int(line.strong), int(line.differs), *(texts.setdefault(text, len(texts)) for text in line.words)]
            for line in told.lines
        ],
        "reached": told.reached,
    }


def _packed_profile(profile: ReachProfile, stage_m: float) -> dict[str, Any]:
    """Pack the bottom off a bank as one row of a depth grid, and how far out its points lie."""
    depth_m = np.array([[np.nan if p.depth_m is None else p.depth_m - stage_m for p in profile.points]])
    out_m = np.array([[point.distance_m for point in profile.points]])
    return {
        "count": depth_m.size,
        "known": packed_runs(np.isfinite(depth_m)),
        "depths": packed_depths(depth_m, _PROFILE_PER_METRE),
        "out": packed_depths(out_m),
    }
