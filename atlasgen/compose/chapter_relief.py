"""The chapter on the bed: every hump, ridge, hole, channel and ledge, with the pages it lies off."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from atlasgen.compose.bed_words import feature_name
from atlasgen.compose.words import lonlat_words, pages_cell
from atlasgen.model import ComposeRules, Known, Page, Placed, Sentence
from atlasgen.model.chapters import Cell, Chapter, Column, Paragraph, Table
from atlasgen.model.relief import ReliefFeature, ReliefNear
from atlasgen.model.wording import say
from atlasgen.units import compass_words, count_words, depth_words, distance_words, rise_words

_NO_BREAK = "\N{NO-BREAK SPACE}"
_KINDS = ("hump", "ridge", "hole", "channel", "ledge")


def relief_chapter(known: Known, placed: Placed, pages: Sequence[Page], rules: ComposeRules) -> Chapter | None:
    """Tell every feature of the bed; None if there is no depth model."""
    if known.grid is None:
        return None
    lead = Paragraph((Sentence(say("relief-lead")), Sentence(_count(known.relief))))
    blocks: list[Paragraph | Table] = [lead]
    if known.relief:
        rows = tuple(_row(feature, known, placed, pages, rules) for feature in known.relief)
        blocks.append(Table("", _columns(), rows))
    return Chapter("relief", say("relief-title"), tuple(blocks))


def _columns() -> tuple[Column, ...]:
    return (
        Column(say("relief-column-feature"), 0.85),
        Column(say("relief-column-where"), 2.1),
        Column(say("relief-column-depth"), 1.2),
        Column(say("relief-column-height"), 0.7, numbers=True),
        Column(say("relief-column-size"), 1.6),
        Column(say("relief-column-sure"), 0.65),
        Column(say("relief-column-pages"), 0.75),
    )


def _count(features: Sequence[ReliefFeature]) -> str:
    if not features:
        return say("relief-none")
    counts = [(sum(f.kind == kind for f in features), kind) for kind in _KINDS]
    parts = [say("relief-count", count=n, number=count_words(n), kind=kind) for n, kind in counts if n]
    return say("relief-found", features=", ".join(parts))


def _row(
    feature: ReliefFeature, known: Known, placed: Placed, pages: Sequence[Page], rules: ComposeRules
) -> tuple[Cell, ...]:
    return (
        Cell(feature_name(feature.id, first=True)),
        Cell(_where(feature, known, placed, rules)),
        Cell(_depth(feature, rules)),
        Cell(rise_words(feature.height_m, rules.depth_unit)),
        Cell(_size(feature, rules)),
        Cell(say("relief-sure", sure=feature.confidence)),
        pages_cell(_pages_of(feature.id, known.relief_near, pages)),
    )


def _pages_of(feature: str, near: Mapping[str, Sequence[ReliefNear]], pages: Sequence[Page]) -> list[int]:
    beside = {reach for reach, found in near.items() if any(item.feature == feature for item in found)}
    return [page.number for page in pages if beside & set(page.reaches)]


def _where(feature: ReliefFeature, known: Known, placed: Placed, rules: ComposeRules) -> str:
    """Name the nearest bank, how far off it and which way from it."""
    found = [
        (item, reach) for reach, items in known.relief_near.items() for item in items if item.feature == feature.id
    ]
    lonlat = lonlat_words(feature.at)
    if not found:
        return say("relief-out-in-lake", at=lonlat)
    item, reach_id = min(found, key=lambda pair: (pair[0].distance_m, pair[1]))
    reach = next(reach for reach in placed.reaches if reach.id == reach_id)
    name = f"{reach.place}, {reach.name}" if reach.place else reach.name
    far = distance_words(item.distance_m, rules.distance_unit)
    way = compass_words(item.bearing_deg, 8)
    return say("relief-where", distance=far, way=way, bank=name, reach=reach.id, at=lonlat)


def _depth(feature: ReliefFeature, rules: ComposeRules) -> str:
    least, greatest = (depth_words(m, rules.depth_unit) for m in (feature.least_depth_m, feature.greatest_depth_m))
    if feature.kind in ("hump", "ridge"):
        words = say("bed-least", depth=least)
    elif feature.kind == "ledge":
        words = say("relief-from-to", top=least, foot=greatest)
    else:
        words = say("bed-greatest", depth=greatest)
    bound = "" if feature.bound_m is None else rise_words(feature.bound_m, rules.depth_unit).replace(" ", _NO_BREAK)
    return f"{words}, ±{_NO_BREAK}{bound}" if bound else words


def _size(feature: ReliefFeature, rules: ComposeRules) -> str:
    long, wide = (distance_words(m, rules.distance_unit) for m in (feature.length_m, feature.width_m))
    if feature.bearing_deg is None:
        return say("relief-across", size=long)
    ways = f"{compass_words(feature.bearing_deg, 4)}–{compass_words(feature.bearing_deg + 180, 4)}"
    if round(feature.bearing_deg / 45) % 2:
        start, end = (compass_words(feature.bearing_deg + turn, 8) for turn in (0, 180))
        ways = say("relief-ways", start=start, end=end)
    if feature.kind == "ledge":
        return say("relief-long", length=long, ways=ways)
    return say("relief-long-wide", length=long, width=wide, ways=ways)
