"""Photos added, removed, replaced, moved, renamed and worded otherwise, and files left out, between two editions."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from atlasgen.compose.changes_reaches import Edition, Pairs
from atlasgen.model import LonLat
from atlasgen.model.changes import Because, LeftOutChange, PhotoMoved, PhotoPair, PhotoRef, PhotoReplaced, PhotoShift
from atlasgen.place.geo import geodesic_m

# Positions are told to 1e-7 degrees, about a centimetre, and directions to a hundredth of a degree.
_ROUNDING_M = 0.05
_ROUNDING_DEG = 0.02
# A picture saved again keeps its place and its second; two frames of a burst do not keep both. Ours.
_SAME_PLACE_M = 2.0
_SAME_TIME_S = 1.0


@dataclass(frozen=True, slots=True)
class PhotoChanges:
    """What became of the photos."""

    added: tuple[PhotoRef, ...]
    removed: tuple[PhotoRef, ...]
    replaced: tuple[PhotoReplaced, ...]
    moved: tuple[PhotoMoved, ...]
    renamed: tuple[PhotoPair, ...]
    captions: tuple[PhotoPair, ...]


def photo_changes(old: Edition, new: Edition, pairs: Pairs, in_new_words: Callable[[str], str]) -> PhotoChanges:
    """Compare the photos by their bytes, then by file name, then by place and time.

    `in_new_words` puts the new edition's ids and page numbers into an old sentence: a caption that differs by them
    alone is the same.
    """
    before, now = ({row["id"]: row for row in edition.document["photos"]} for edition in (old, new))
    was, becomes = ({name: _ref(row, ed) for name, row in rows.items()} for rows, ed in ((before, old), (now, new)))
    same = [(was[name], becomes[name]) for name in becomes if name in was]
    gone, come = ([row for name, row in a.items() if name not in b] for a, b in ((before, now), (now, before)))
    named = _paired(gone, come, _by_name)
    dated = _paired(_less(gone, (o for o, _ in named)), _less(come, (n for _, n in named)), _by_place_and_time)
    reasons: tuple[tuple[list[tuple[str, str]], Because], ...] = ((named, "same name"), (dated, "same place and time"))
    replaced = [
        PhotoReplaced(was[o], becomes[n], because, _shift(was[o], becomes[n], pairs))
        for found, because in reasons
        for o, n in found
    ]
    moved = [PhotoMoved(o, n, shift) for o, n in same if (shift := _shift(o, n, pairs)).any]
    return PhotoChanges(
        added=_sorted(becomes[row["id"]] for row in _less(come, (r.new.id for r in replaced))),
        removed=_sorted(was[row["id"]] for row in _less(gone, (r.old.id for r in replaced))),
        replaced=tuple(sorted(replaced, key=lambda r: _place(r.new))),
        moved=tuple(sorted(moved, key=lambda m: (-(m.shift.moved_m or 0), -abs(m.shift.turned_deg or 0), m.new.id))),
        renamed=tuple(PhotoPair(o, n) for o, n in same if o.file != n.file),
        captions=tuple(PhotoPair(o, n) for o, n in same if n.caption not in (o.caption, in_new_words(o.caption))),
    )


def left_out_changes(old: Mapping[str, Any], new: Mapping[str, Any]) -> tuple[LeftOutChange, ...]:
    """Compare the lists of files that were left out: new ones first, then those that are not left out any more."""
    before, now = ({row["file"]: row for row in document["left_out"]} for document in (old, new))
    found = [LeftOutChange(name, None, row["why"]) for name, row in now.items() if name not in before]
    found += [LeftOutChange(name, row["why"], None) for name, row in before.items() if name not in now]
    both = [(before[name], row) for name, row in now.items() if name in before]
    return (*found, *(LeftOutChange(o["file"], o["why"], n["why"]) for o, n in both if o["code"] != n["code"]))


def _ref(row: Mapping[str, Any], edition: Edition) -> PhotoRef:
    page = edition.pages.get(row["page"])
    return PhotoRef(
        id=row["id"],
        file=row["file"],
        page=row["page"],
        reach=page["reaches"][0] if page else row["reach"],
        nearest=row["reach"],
        tile=row["tile"],
        lon=row["lon"],
        lat=row["lat"],
        heading_deg_true=row["heading_deg_true"],
        caption=row["caption"],
    )


def _place(photo: PhotoRef) -> tuple[int, str, str]:
    return photo.page, photo.file, photo.id


def _sorted(photos: Iterable[PhotoRef]) -> tuple[PhotoRef, ...]:
    return tuple(sorted(photos, key=_place))


def _less(rows: Iterable[Mapping[str, Any]], ids: Iterable[str]) -> list[Mapping[str, Any]]:
    drop = set(ids)
    return [row for row in rows if row["id"] not in drop]


Rows = list[Mapping[str, Any]]


def _paired(
    gone: Rows, come: Rows, pairing: Callable[[Rows, Rows], list[tuple[Any, str, str]]]
) -> list[tuple[str, str]]:
    """Take the best pairs first, each photo once: (old id, new id)."""
    taken: set[tuple[str, str]] = set()
    found = []
    for _, old_id, new_id in sorted(pairing(gone, come)):
        if not {("old", old_id), ("new", new_id)} & taken:
            taken |= {("old", old_id), ("new", new_id)}
            found.append((old_id, new_id))
    return found


def _by_name(gone: Rows, come: Rows) -> list[tuple[Any, str, str]]:
    names = {row["file"]: row["id"] for row in gone}
    return [(row["file"], names[row["file"]], row["id"]) for row in come if row["file"] in names]


def _by_place_and_time(gone: Rows, come: Rows) -> list[tuple[Any, str, str]]:
    """Pair what was taken at the same second within a boat's length; buckets of a second keep this from being slow."""
    by_second: dict[int, Rows] = defaultdict(list)
    for row in gone:
        if (at_s := _seconds(row["taken"])) is not None:
            by_second[int(at_s)].append(row)
    found = []
    for row in come:
        if (at_s := _seconds(row["taken"])) is None:
            continue
        for other in (o for s in (-1, 0, 1) for o in by_second.get(int(at_s) + s, ())):
            apart_m = _apart_m(other, row)
            if apart_m <= _SAME_PLACE_M and abs((_seconds(other["taken"]) or 0) - at_s) <= _SAME_TIME_S:
                found.append((round(apart_m, 2), other["id"], row["id"]))
    return found


def _seconds(taken: str | None) -> float | None:
    try:
        return None if taken is None else datetime.fromisoformat(taken).timestamp()
    except (ValueError, OverflowError):
        return None


def _apart_m(a: Mapping[str, Any], b: Mapping[str, Any]) -> float:
    return geodesic_m(LonLat(a["lon"], a["lat"]), LonLat(b["lon"], b["lat"]))


def _shift(old: PhotoRef, new: PhotoRef, pairs: Pairs) -> PhotoShift:
    moved_m = geodesic_m(LonLat(old.lon, old.lat), LonLat(new.lon, new.lat))
    before, now = old.heading_deg_true, new.heading_deg_true
    turned_deg = None if before is None or now is None else (now - before + 180) % 360 - 180
    became = None if (before is None) == (now is None) else "known now" if before is None else "not known any more"
    return PhotoShift(
        moved_m=round(moved_m, 2) if moved_m > _ROUNDING_M else None,
        turned_deg=round(turned_deg, 2) if turned_deg is not None and abs(turned_deg) > _ROUNDING_DEG else None,
        heading=became,  # type: ignore[arg-type]
        reach=any(pairs.old_of.get(b) != a for a, b in ((old.reach, new.reach), (old.nearest, new.nearest))),
    )
