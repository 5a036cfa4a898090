"""What became of the photos between two editions, in words."""

from __future__ import annotations

from collections.abc import Iterator

from atlasgen.compose.changes_parts import Group, Row, how_far
from atlasgen.model.changes import Changes, LeftOutChange, PhotoRef, PhotoReplaced, PhotoShift

_BECAUSE = {
    "same name": "other contents under the same name",
    "same place and time": "taken at the same place and time",
}


def photo_groups(changes: Changes) -> Iterator[Group]:
    """Give the groups about photos."""
    added = tuple(Row(p.file, f"shows {p.reach}", p.page) for p in changes.photos_added)
    yield Group("photos-added", "Photos added", "", added)
    removed = tuple(Row(p.file, f"was on page {p.page}, {p.reach}") for p in changes.photos_removed)
    yield Group("photos-removed", "Photos removed", "", removed)
    replaced = tuple(Row(r.new.file, _replaced(r, changes), r.new.page) for r in changes.photos_replaced)
    yield Group("photos-replaced", "Photos replaced", "", replaced)
    moved = tuple(Row(m.new.file, "; ".join(_shift(m.shift, m.old, m.new, changes)), m.new.page)
                  for m in changes.photos_moved)  # fmt: skip
    lead = "The same pictures; where they were taken from or which way they look is told otherwise."
    yield Group("photos-moved", "Photos moved", lead, moved)
    renamed = tuple(Row(p.new.file, f"was {p.old.file}", p.new.page) for p in changes.photos_renamed)
    yield Group("photos-renamed", "Photos under another file name", "", renamed)
    captions = tuple(Row(p.new.file, "", p.new.page, p.old.caption, p.new.caption) for p in changes.captions)
    yield Group("captions", "Captions that say something else", "", captions)
    yield Group("left-out", "Photos left out", "", tuple(_left_out(item) for item in changes.left_out))


def _replaced(item: PhotoReplaced, changes: Changes) -> str:
    old, new = item.old, item.new
    place = [] if old.file == new.file else [f"in the place of {old.file}"]
    return "; ".join([*place, _BECAUSE[item.because], *_shift(item.shift, old, new, changes)])


def _shift(shift: PhotoShift, old: PhotoRef, new: PhotoRef, changes: Changes) -> Iterator[str]:
    if shift.moved_m is not None:
        yield f"stands {how_far(shift.moved_m, changes)} off"
    if shift.turned_deg is not None:
        size_deg = abs(shift.turned_deg)
        turn = f"{size_deg:.0f}" if size_deg >= 10 else f"{size_deg:.2g}"
        yield f"looks {turn}° farther {'right' if shift.turned_deg > 0 else 'left'}"
    if shift.heading:
        yield f"its direction is {shift.heading}"
    if shift.reach and old.reach != new.reach:
        yield f"now with {new.reach}, was with {old.reach}"
    elif shift.reach:
        yield f"nearest to {new.nearest}, was {old.nearest}"


def _left_out(item: LeftOutChange) -> Row:
    if item.new_why is None:
        return Row(item.file, "not left out any more; was: " + (item.old_why or "no reason given"))
    return Row(item.file, item.new_why if item.old_why is None else f"for another reason: {item.new_why}")
