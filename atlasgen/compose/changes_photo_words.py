"""What became of the photos between two editions, in words."""

from __future__ import annotations

from collections.abc import Iterator

from atlasgen.compose.changes_parts import Group, Row, how_far
from atlasgen.model.changes import Changes, LeftOutChange, PhotoRef, PhotoReplaced, PhotoShift
from atlasgen.model.wording import say
from atlasgen.units import decimal_text


def photo_groups(changes: Changes) -> Iterator[Group]:
    """Give the groups about photos."""
    added = tuple(Row(p.file, say("changes-shows", reach=p.reach), p.page) for p in changes.photos_added)
    yield Group("photos-added", say("changes-photos-added"), "", added)
    removed = tuple(Row(p.file, say("changes-was-on", page=p.page, reach=p.reach)) for p in changes.photos_removed)
    yield Group("photos-removed", say("changes-photos-removed"), "", removed)
    replaced = tuple(Row(r.new.file, _replaced(r, changes), r.new.page) for r in changes.photos_replaced)
    yield Group("photos-replaced", say("changes-photos-replaced"), "", replaced)
    moved = tuple(Row(m.new.file, "; ".join(_shift(m.shift, m.old, m.new, changes)), m.new.page)
                  for m in changes.photos_moved)  # fmt: skip
    yield Group("photos-moved", say("changes-photos-moved"), say("changes-photos-moved-lead"), moved)
    renamed = tuple(
        Row(p.new.file, say("changes-was-file", file=p.old.file), p.new.page) for p in changes.photos_renamed
    )
    yield Group("photos-renamed", say("changes-photos-renamed"), "", renamed)
    captions = tuple(Row(p.new.file, "", p.new.page, p.old.caption, p.new.caption) for p in changes.captions)
    yield Group("captions", say("changes-captions"), "", captions)
    yield Group("left-out", say("changes-left-out"), "", tuple(_left_out(item) for item in changes.left_out))


def _replaced(item: PhotoReplaced, changes: Changes) -> str:
    old, new = item.old, item.new
    place = [] if old.file == new.file else [say("changes-in-place-of", file=old.file)]
    because = say("changes-because", because=item.because.replace(" ", "-"))
    return "; ".join([*place, because, *_shift(item.shift, old, new, changes)])


def _shift(shift: PhotoShift, old: PhotoRef, new: PhotoRef, changes: Changes) -> Iterator[str]:
    if shift.moved_m is not None:
        yield say("changes-stands-off", distance=how_far(shift.moved_m, changes))
    if shift.turned_deg is not None:
        size_deg = abs(shift.turned_deg)
        turn = f"{size_deg:.0f}" if size_deg >= 10 else f"{size_deg:.2g}"
        side = "right" if shift.turned_deg > 0 else "left"
        yield say("changes-looks-farther", degrees=decimal_text(turn), side=side)
    if shift.heading:
        yield say("changes-direction", became=shift.heading.replace(" ", "-"))
    if shift.reach and old.reach != new.reach:
        yield say("changes-now-with", new=new.reach, old=old.reach)
    elif shift.reach:
        yield say("changes-now-nearest", new=new.nearest, old=old.nearest)


def _left_out(item: LeftOutChange) -> Row:
    if item.new_why is None:
        why = item.old_why or say("changes-no-reason")
        return Row(item.file, say("changes-not-left-out", why=why))
    return Row(item.file, item.new_why if item.old_why is None else say("changes-other-reason", why=item.new_why))
