"""The changes between two editions in words: groups of rows that text, HTML page and chapter all lay out."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from atlasgen.compose.bed_words import feature_name
from atlasgen.compose.changes_depth_words import coverage_group, depth_groups
from atlasgen.compose.changes_parts import Group, Row, how_far, reach_words
from atlasgen.compose.changes_photo_words import photo_groups
from atlasgen.compose.words import lonlat_words, page_range
from atlasgen.model import LonLat
from atlasgen.model.changes import Changes, FeatureRef, FileChanges, PartChange, ReachKind, ReachState
from atlasgen.model.wording import say
from atlasgen.units import DepthUnit, count_words, depth_words, percent_words

_REACHES: tuple[ReachKind, ...] = ("shown", "lost", "other")


class Heading(NamedTuple):
    """What stands above the groups: the two editions and whether anything differs at all."""

    title: str
    editions: str
    lead: str


def heading(changes: Changes) -> Heading:
    """Return the title, the editions, and in one sentence how much changed."""
    old, new = changes.old, changes.new
    editions = say("changes-editions", old=old.edition, new=new.edition)
    if changes.nothing:
        lead = say("changes-nothing-nor-files" if changes.files else "changes-nothing")
    elif changes.nothing_said:
        lead = say("changes-nothing-said")
    else:
        lead = _totals(changes)
    return Heading(new.title, editions, lead)


def _totals(changes: Changes) -> str:
    counts = (
        (len(changes.photos_added), "added"),
        (len(changes.photos_removed), "removed"),
        (len(changes.photos_replaced), "replaced"),
        (len(changes.photos_moved), "moved"),
    )
    told = ", ".join(say("changes-photo-count", count=count_words(n), what=what) for n, what in counts if n)
    shown = sum(state.kind == "shown" for state in changes.reach_states)
    lost = sum(state.kind == "lost" for state in changes.reach_states)
    depths = sum(len(tile.changes) for tile in changes.depths)
    return say(
        "changes-totals",
        photos=told or say("changes-photos-same"),
        shown=count_words(shown),
        lost=count_words(lost),
        depths=count_words(depths),
    )


def groups(changes: Changes) -> tuple[Group, ...]:
    """Return every group of changes that holds anything, in the order of the question a reader asks first."""
    made = (
        _facts(changes),
        _not_compared(changes),
        *photo_groups(changes),
        *_reach_groups(changes),
        *depth_groups(changes),
        coverage_group(changes),
        *_feature_groups(changes),
        _parts(changes),
        _pages(changes),
        _notes(changes),
    )
    return tuple(group for group in made if group.rows)


def file_groups(files: FileChanges) -> tuple[Group, ...]:
    """Return how the files of the editions and of their surveys differ."""
    program = [Row(say("changes-program"), _from_to(files.old_made_with, files.new_made_with))]
    made = (
        Group("files", say("changes-files"), say("changes-files-lead"),
              (*(program if files.old_made_with != files.new_made_with else ()),
               *_names(files.added, "added"), *_names(files.removed, "removed"), *_names(files.altered, "altered"))),
        Group("inputs", say("changes-inputs"), say("changes-inputs-lead"),
              (*_names(files.inputs_added, "added"), *_names(files.inputs_removed, "removed"),
               *_names(files.inputs_altered, "altered"))),
    )  # fmt: skip
    return tuple(group for group in made if group.rows)


def _names(names: tuple[str, ...], word: str) -> Iterator[Row]:
    return (Row(name, say("changes-file", what=word)) for name in names)


def _from_to(old: str | None, new: str | None) -> str:
    return " → ".join(value or say("changes-not-stated") for value in (old, new))


def _facts(changes: Changes) -> Group:
    rows = tuple(Row(f"{f.what[:1].upper()}{f.what[1:]}", _from_to(f.old, f.new)) for f in changes.facts)
    return Group("facts", say("changes-facts"), "", rows)


def _not_compared(changes: Changes) -> Group:
    rows = tuple(Row(f"{n.what[:1].upper()}{n.what[1:]}", n.why) for n in changes.not_compared)
    return Group("not-compared", say("changes-not-compared"), say("changes-not-compared-lead"), rows)


def _reach_groups(changes: Changes) -> Iterator[Group]:
    for kind in _REACHES:
        rows = tuple(_state_row(state, changes) for state in changes.reach_states if state.kind == kind)
        lead = "" if kind == "other" else say("changes-reaches-lead", kind=kind)
        yield Group(f"reaches-{kind}", say("changes-reaches", kind=kind), lead, rows)
    new = tuple(Row(reach_words(r), how_far(r.length_m, changes), r.page) for r in changes.reaches_new)
    yield Group("reaches-new", say("changes-reaches-new"), say("changes-reaches-new-lead"), new)
    old = tuple(Row(reach_words(r), how_far(r.length_m, changes)) for r in changes.reaches_retired)
    yield Group("reaches-retired", say("changes-reaches-retired"), say("changes-reaches-retired-lead"), old)
    numbers = tuple(
        Row(reach_words(r.new), say("changes-was-reach", old=r.old.id, share=percent_words(r.share)), r.new.page)
        for r in changes.reaches_renumbered
    )
    yield Group("reaches-renumbered", say("changes-reaches-renumbered"), "", numbers)
    drawn = tuple(
        Row(reach_words(r.new), say("changes-middle-off", distance=how_far(r.moved_m, changes)), r.new.page)
        for r in changes.reaches_redrawn
    )
    yield Group("reaches-redrawn", say("changes-reaches-redrawn"), say("changes-reaches-redrawn-lead"), drawn)


def _state_row(state: ReachState, changes: Changes) -> Row:
    old, new = (how_far(m, changes) if m else say("changes-none") for m in (state.old_shown_m, state.new_shown_m))
    states = " → ".join(say("changes-state", state=name) for name in (state.old_state, state.new_state))
    if old != new:
        states = say("changes-state-row", states=states, old=old, new=new)
    elif state.new_shown_m:
        states = say("changes-state-row-same", states=states, length=new)
    return Row(reach_words(state.new), states, state.new.page)


def _feature_groups(changes: Changes) -> Iterator[Group]:
    unit = changes.new.depth_unit
    for name, title, found in (
        ("features-new", say("changes-features-new"), changes.features_new),
        ("features-gone", say("changes-features-gone"), changes.features_gone),
    ):
        yield Group(name, title, "", tuple(_feature_row(feature, unit, name) for feature in found))
    rows = tuple(
        Row(_feature(c.new), f"{_feature_depth(c.old, unit)} → {_feature_depth(c.new, unit)}", c.new.page)
        for c in changes.features_changed
    )
    yield Group("features-changed", say("changes-features"), say("changes-features-lead"), rows)


def _feature(feature: FeatureRef) -> str:
    return feature_name(feature.id, first=True)


def _feature_row(feature: FeatureRef, unit: DepthUnit, name: str) -> Row:
    facts = {"depth": _feature_depth(feature, unit), "at": lonlat_words(LonLat(feature.lon, feature.lat))}
    off = say("changes-feature-off", reach=feature.reach, **facts) if feature.reach else ""
    words = off or say("changes-feature", **facts)
    return Row(_feature(feature), words, feature.page if name == "features-new" else None)


def _feature_depth(feature: FeatureRef, unit: DepthUnit) -> str:
    hollow = feature.kind in ("hole", "channel")
    return say("bed-greatest" if hollow else "bed-least", depth=depth_words(feature.depth_m, unit))


def _parts(changes: Changes) -> Group:
    rows = tuple(Row(say("changes-part", kind=p.kind, name=p.name), _part(p)) for p in changes.parts)
    return Group("parts", say("changes-parts"), "", rows)


def _part(part: PartChange) -> str:
    facts = "; ".join(f"{fact.what}: {_from_to(fact.old, fact.new)}" for fact in part.facts)
    return facts or say("changes-part-state", state=part.state)


def _pages(changes: Changes) -> Group:
    rows = [
        Row(
            f"{page.title} ({page.reach})",
            say("changes-page-new") if page.old is None else say("changes-page-gone", page=page.old),
            page.new,
        )
        for page in changes.pages
        if page.old is None or page.new is None
    ]
    moved = [(page.old, page.new) for page in changes.pages if page.old is not None and page.new is not None]
    return Group("pages", say("changes-pages"), "", (*rows, *_renumbered(sorted(moved))))


def _renumbered(moved: list[tuple[int, int]]) -> Iterator[Row]:
    """Tell pages that follow one another, before and now, in one row."""
    runs: list[list[tuple[int, int]]] = []
    for old, new in moved:
        if runs and runs[-1][-1] == (old - 1, new - 1):
            runs[-1].append((old, new))
        else:
            runs.append([(old, new)])
    for run in runs:
        before, now = (page_range([pair[part] for pair in run]) for part in (0, 1))
        page = run[0][1] if len(run) == 1 else None
        yield Row(f"{now[:1].upper()}{now[1:]}", say("changes-were-pages", count=len(run), pages=before), page)


def _notes(changes: Changes) -> Group:
    rows = tuple(Row(f"{n.title}: {n.heading}", "", n.page, n.old or "", n.new or "") for n in changes.notes)
    return Group("notes", say("changes-notes"), say("changes-notes-lead"), rows)
