"""The changes between two editions in words: groups of rows that text, HTML page and chapter all lay out."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from atlasgen.compose.changes_depth_words import coverage_group, depth_groups
from atlasgen.compose.changes_parts import Group, Row, how_far, reach_words
from atlasgen.compose.changes_photo_words import photo_groups
from atlasgen.compose.words import page_range
from atlasgen.model.changes import Changes, FeatureRef, FileChanges, ReachKind, ReachState
from atlasgen.units import DepthUnit, count_words, depth_words, percent_words

_STATES = {
    "well": "shown well",
    "poorly": "shown poorly",
    "near": "not known to be shown",
    "none": "not shown",
    "cannot": "cannot be shown",
}
_REACHES: dict[ReachKind, tuple[str, str]] = {
    "shown": ("Banks newly shown", "No photo showed them before."),
    "lost": ("Banks no longer shown", "The older edition shows them."),
    "other": ("Banks shown otherwise", ""),
}


class Heading(NamedTuple):
    """What stands above the groups: the two editions and whether anything differs at all."""

    title: str
    editions: str
    lead: str


def heading(changes: Changes) -> Heading:
    """Return the title, the editions, and in one sentence how much changed."""
    old, new = changes.old, changes.new
    editions = f"From edition {old.edition} to edition {new.edition}"
    if changes.nothing:
        lead = "Nothing changed: the two editions say the same and their files are the same."
        lead = lead if changes.files else "Nothing changed: the two editions say the same."
    elif changes.nothing_said:
        lead = "Nothing changed in what the atlas says. Some of its files differ."
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
    told = ", ".join(f"{count_words(n)} {word}" for n, word in counts if n) or "the same"
    shown = sum(state.kind == "shown" for state in changes.reach_states)
    lost = sum(state.kind == "lost" for state in changes.reach_states)
    depths = sum(len(tile.changes) for tile in changes.depths)
    return (
        f"Photos: {told}. Banks newly shown: {count_words(shown)}, no longer shown: {count_words(lost)}. "
        f"Depths that changed by more than their bounds leave open: {count_words(depths)}."
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
    program = [Row("Program", _from_to(files.old_made_with, files.new_made_with))]
    made = (
        Group("files", "Files of the edition", "By size and SHA-256 in the manifests.",
              (*(program if files.old_made_with != files.new_made_with else ()),
               *_names(files.added, "added"), *_names(files.removed, "removed"), *_names(files.altered, "altered"))),
        Group("inputs", "Files of the survey", "What the editions were built from.",
              (*_names(files.inputs_added, "added"), *_names(files.inputs_removed, "removed"),
               *_names(files.inputs_altered, "altered"))),
    )  # fmt: skip
    return tuple(group for group in made if group.rows)


def _names(names: tuple[str, ...], word: str) -> Iterator[Row]:
    return (Row(name, word) for name in names)


def _from_to(old: str | None, new: str | None) -> str:
    return f"{old or 'not stated'} → {new or 'not stated'}"


def _facts(changes: Changes) -> Group:
    rows = tuple(Row(f"{f.what[:1].upper()}{f.what[1:]}", _from_to(f.old, f.new)) for f in changes.facts)
    return Group("facts", "What the survey says of itself", "", rows)


def _not_compared(changes: Changes) -> Group:
    rows = tuple(Row(f"{n.what[:1].upper()}{n.what[1:]}", n.why) for n in changes.not_compared)
    return Group("not-compared", "Not compared", "These say nothing of whether the lake changed.", rows)


def _reach_groups(changes: Changes) -> Iterator[Group]:
    for kind, (title, lead) in _REACHES.items():
        rows = tuple(_state_row(state, changes) for state in changes.reach_states if state.kind == kind)
        yield Group(f"reaches-{kind}", title, lead, rows)
    new = tuple(Row(reach_words(r), how_far(r.length_m, changes), r.page) for r in changes.reaches_new)
    yield Group("reaches-new", "New reaches", "No reach of the older edition is the same bank.", new)
    old = tuple(Row(reach_words(r), how_far(r.length_m, changes)) for r in changes.reaches_retired)
    yield Group("reaches-retired", "Retired reaches", "No reach of the newer edition is the same bank.", old)
    numbers = tuple(
        Row(reach_words(r.new), f"was {r.old.id}; {percent_words(r.share)} of it is the same bank", r.new.page)
        for r in changes.reaches_renumbered
    )
    yield Group("reaches-renumbered", "Reaches under another id", "", numbers)
    drawn = tuple(
        Row(reach_words(r.new), f"its middle lies {how_far(r.moved_m, changes)} off", r.new.page)
        for r in changes.reaches_redrawn
    )
    yield Group("reaches-redrawn", "Reaches with another bank", "They kept their ids; the shore was redrawn.", drawn)


def _state_row(state: ReachState, changes: Changes) -> Row:
    lengths = [how_far(m, changes) if m else "none" for m in (state.old_shown_m, state.new_shown_m)]
    words = f"{_STATES[state.old_state]} → {_STATES[state.new_state]}"
    return Row(reach_words(state.new), f"{words}; {lengths[0]} → {lengths[1]} of its bank in photos", state.new.page)


def _feature_groups(changes: Changes) -> Iterator[Group]:
    unit = changes.new.depth_unit
    for name, title, found in (
        ("features-new", "New on the bed", changes.features_new),
        ("features-gone", "No longer found on the bed", changes.features_gone),
    ):
        yield Group(name, title, "", tuple(_feature_row(feature, unit, name) for feature in found))
    rows = tuple(
        Row(_feature(c.new), f"{_feature_depth(c.old, unit)} → {_feature_depth(c.new, unit)}", c.new.page)
        for c in changes.features_changed
    )
    yield Group("features-changed", "On the bed, at another depth", "By more than the bounds leave open.", rows)


def _feature(feature: FeatureRef) -> str:
    return f"{feature.id[:1].upper()}{feature.id[1:]}"


def _feature_row(feature: FeatureRef, unit: DepthUnit, name: str) -> Row:
    near = f" off {feature.reach}" if feature.reach else ""
    words = f"{_feature_depth(feature, unit)}{near}, at {feature.lat:.5f}, {feature.lon:.5f}"
    return Row(_feature(feature), words, feature.page if name == "features-new" else None)


def _feature_depth(feature: FeatureRef, unit: DepthUnit) -> str:
    kind = "greatest" if feature.kind in ("hole", "channel") else "least"
    return f"{kind} {depth_words(feature.depth_m, unit)}"


def _parts(changes: Changes) -> Group:
    rows = tuple(
        Row(f"{p.kind.capitalize()} {p.name}",
            "; ".join(f"{f.what}: {_from_to(f.old, f.new)}" for f in p.facts) or p.state)
        for p in changes.parts
    )  # fmt: skip
    return Group("parts", "Layers and sources", "", rows)


def _pages(changes: Changes) -> Group:
    rows = [
        Row(f"{page.title} ({page.reach})", "new" if page.old is None else f"gone; it was page {page.old}", page.new)
        for page in changes.pages
        if page.old is None or page.new is None
    ]
    moved = [(page.old, page.new) for page in changes.pages if page.old is not None and page.new is not None]
    return Group("pages", "Pages", "", (*rows, *_renumbered(sorted(moved))))


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
        yield Row(f"{now[:1].upper()}{now[1:]}", f"{'were' if len(run) > 1 else 'was'} {before}", page)


def _notes(changes: Changes) -> Group:
    rows = tuple(Row(f"{n.title}: {n.heading}", "", n.page, n.old or "", n.new or "") for n in changes.notes)
    lead = "Facts behind these sentences changed. A page or reach that has another number alone is not told here."
    return Group("notes", "Notes that say something else", lead, rows)
