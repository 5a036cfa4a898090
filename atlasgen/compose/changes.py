"""What changed between two editions of one lake, worked out from what their atlas.json say."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from atlasgen.compose.changes_depth import coverage_changes, depth_changes
from atlasgen.compose.changes_notes import in_new_words, note_changes, page_changes, page_pairs
from atlasgen.compose.changes_photos import left_out_changes, photo_changes
from atlasgen.compose.changes_reaches import Edition, lines_words, pair_reaches, reach_states
from atlasgen.compose.changes_relief import feature_changes
from atlasgen.model.changes import Changes, EditionFacts, FactChange, NotCompared, PartChange, PartKind
from atlasgen.model.wording import DEFAULT, say

Document = Mapping[str, Any]
# Where a fact of the survey stands.
_FACTS = (
    *(("edition",), ("title",), ("season",), ("crew",), ("language",), ("datum",), ("depths_below",)),
    *(("units", "depth"), ("units", "distance"), ("time_zone",), ("tile_scheme",)),
    *(("chart", "edition"), ("chart", "date"), ("chart", "datum")),
)
_PARTS: tuple[tuple[PartKind, str, str, tuple[str, ...]], ...] = (
    ("layer", "layers", "file", ("title", "kind", "date", "stage_m")),
    ("source", "sources", "name", ("what", "instrument", "dates")),
)


def differences(old: Document, new: Document) -> Changes:
    """Compare two atlas.json documents of one lake (see shared/atlas.schema.json); the shape is taken for granted.

    Reaches are paired by their geometry, so that renumbering is told and everything else is compared bank by bank.
    """
    before, now = Edition(old), Edition(new)
    pairs = pair_reaches(before, now)
    pages = page_pairs(before, now, pairs)
    renamed = in_new_words(pages, pairs)
    depths = depth_changes(before, now, pairs)
    coverage, no_coverage = coverage_changes(before, now, pairs)
    photos = photo_changes(before, now, pairs, renamed)
    come, gone, of_other_depth = feature_changes(before, now, depths.levels_agree)
    lines, same_language = lines_words(before, now), before.language == now.language
    words = () if same_language else (NotCompared(say("changes-what-words"), say("changes-why-words")),)
    return Changes(
        old=edition_facts(old),
        new=edition_facts(new),
        facts=tuple(_facts(old["survey"], new["survey"])),
        not_compared=(*depths.not_compared, *no_coverage, *([NotCompared(*lines)] if lines else []), *words),
        photos_added=photos.added,
        photos_removed=photos.removed,
        photos_replaced=photos.replaced,
        photos_moved=photos.moved,
        photos_renamed=photos.renamed,
        captions=photos.captions if same_language else (),
        left_out=left_out_changes(old, new),
        reach_states=reach_states(before, now, pairs),
        reaches_new=tuple(ref for name, ref in now.reaches.items() if name not in pairs.old_of),
        reaches_retired=tuple(ref for name, ref in before.reaches.items() if name not in pairs.new_of),
        reaches_renumbered=pairs.renumbered,
        reaches_redrawn=pairs.redrawn,
        depths=depths.tiles,
        depths_known=depths.known,
        coverage=coverage,
        features_new=come,
        features_gone=gone,
        features_changed=of_other_depth,
        parts=tuple(_parts(old, new)),
        pages=page_changes(before, now, pages),
        notes=note_changes(before, now, pages, renamed) if same_language else (),
    )


def edition_facts(document: Document) -> EditionFacts:
    """Return how an edition calls itself; one that does not say its level tells depths below the datum."""
    survey = document["survey"]
    return EditionFacts(
        title=survey["title"],
        edition=survey["edition"],
        depth_unit=survey["units"]["depth"],
        distance_unit=survey["units"]["distance"],
        depths_below=survey.get("depths_below") or survey["datum"],
        shown_m=survey.get("shown_stage_m") or 0.0,
        photos=len(document["photos"]),
        reaches=len(document["reaches"]),
        pages=len(document["pages"]),
    )


def _facts(old: Document, new: Document) -> Iterator[FactChange]:
    # The level in words follows the unit of depths; it has changed only if the level itself has.
    same_level = (old["datum"], old.get("shown_stage_m") or 0.0) == (new["datum"], new.get("shown_stage_m") or 0.0)
    for path in _FACTS:
        values = [_at(survey, path) for survey in (old, new)]
        if path == ("depths_below",):
            values = ["same", "same"] if same_level else [s.get("depths_below") or s["datum"] for s in (old, new)]
        if path == ("language",):
            values = [value or DEFAULT for value in values]
        if values[0] != values[1]:
            told = [value and _value_words(path, value) for value in values]
            yield FactChange(say("changes-fact", fact="-".join(path)), *told)


def _value_words(path: tuple[str, ...], value: str) -> str:
    """Return a value that is one of a few codes in words, any other as it is."""
    coded = path[0] in ("units", "language")
    return say("changes-value", value=value) if coded else value


def _at(survey: Document, path: tuple[str, ...]) -> str | None:
    value: Any = survey
    for key in path:
        value = value.get(key) if value else None
    return value or None


def _parts(old: Document, new: Document) -> Iterator[PartChange]:
    for kind, where, key, names in _PARTS:
        before, now = ({row[key]: row for row in document[where]} for document in (old, new))
        yield from (PartChange(kind, name, "new") for name in now if name not in before)
        yield from (PartChange(kind, name, "gone") for name in before if name not in now)
        for name, row in now.items():
            facts = tuple(_part_facts(before[name], row, names)) if name in before else ()
            if facts:
                yield PartChange(kind, name, "changed", facts)


def _part_facts(old: Document, new: Document, names: tuple[str, ...]) -> Iterator[FactChange]:
    for key in names:
        values = [_words(row.get(key)) for row in (old, new)]
        if values[0] != values[1]:
            yield FactChange(say("changes-part-fact", fact=key), *values)


def _words(value: Any) -> str | None:
    if isinstance(value, list | tuple):
        return f" {say('changes-to')} ".join(dict.fromkeys(str(part) for part in value)) or None
    return None if value is None or value == "" else str(value)
