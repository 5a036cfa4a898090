"""The chapter on the bed: every hump, ridge, hole, channel and ledge, with the pages it lies off."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from atlasgen.compose.words import lonlat_words, pages_cell
from atlasgen.model import ComposeRules, Known, Page, Placed, Sentence
from atlasgen.model.chapters import Cell, Chapter, Column, Paragraph, Table
from atlasgen.model.relief import ReliefFeature, ReliefNear
from atlasgen.units import compass_words, count_words, depth_words, distance_words, rise_words

TITLE = "What stands on the bed"
_LEAD = (
    "Humps, ridges, holes, channels and ledges that the soundings bear: each differs from the bed around it by more "
    "than the errors of the soundings could make. What is narrower than the distance between the boat's lines may be "
    "missing here."
)
_COLUMNS = (
    Column("Feature", 0.85),
    Column("Where", 2.1),
    Column("Depth", 1.2),
    Column("Height", 0.7, numbers=True),
    Column("Size", 1.6),
    Column("How sure", 0.65),
    Column("Pages", 0.75),
)
_NO_BREAK = "\N{NO-BREAK SPACE}"
_KINDS = ("hump", "ridge", "hole", "channel", "ledge")


def relief_chapter(known: Known, placed: Placed, pages: Sequence[Page], rules: ComposeRules) -> Chapter | None:
    """Tell every feature of the bed; None if there is no depth model."""
    if known.grid is None:
        return None
    blocks: list[Paragraph | Table] = [Paragraph((Sentence(_LEAD), Sentence(_count(known.relief))))]
    if known.relief:
        blocks.append(
            Table("", _COLUMNS, tuple(_row(feature, known, placed, pages, rules) for feature in known.relief))
        )
    return Chapter("relief", TITLE, tuple(blocks))


def _count(features: Sequence[ReliefFeature]) -> str:
    if not features:
        return "None was found in this lake."
    counts = [(sum(f.kind == kind for f in features), kind) for kind in _KINDS]
    parts = [f"{count_words(n)} {kind}{'s' if n != 1 else ''}" for n, kind in counts if n]
    return f"Found: {', '.join(parts)}."


def _row(
    feature: ReliefFeature, known: Known, placed: Placed, pages: Sequence[Page], rules: ComposeRules
) -> tuple[Cell, ...]:
    return (
        Cell(f"{feature.id[:1].upper()}{feature.id[1:]}"),
        Cell(_where(feature, known, placed, rules)),
        Cell(_depth(feature, rules)),
        Cell(rise_words(feature.height_m, rules.depth_unit)),
        Cell(_size(feature, rules)),
        Cell(feature.confidence),
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
        return f"out in the lake, at {lonlat}"
    item, reach_id = min(found, key=lambda pair: (pair[0].distance_m, pair[1]))
    reach = next(reach for reach in placed.reaches if reach.id == reach_id)
    name = f"{reach.place}, {reach.name}" if reach.place else reach.name
    far = distance_words(item.distance_m, rules.distance_unit)
    return f"{far} {compass_words(item.bearing_deg, 8)} of {name} ({reach.id}), at {lonlat}"


def _depth(feature: ReliefFeature, rules: ComposeRules) -> str:
    least, greatest = (depth_words(m, rules.depth_unit) for m in (feature.least_depth_m, feature.greatest_depth_m))
    if feature.kind in ("hump", "ridge"):
        words = f"least {least}"
    elif feature.kind == "ledge":
        words = f"from {least} down to {greatest}"
    else:
        words = f"greatest {greatest}"
    bound = "" if feature.bound_m is None else rise_words(feature.bound_m, rules.depth_unit).replace(" ", _NO_BREAK)
    return f"{words}, ±{_NO_BREAK}{bound}" if bound else words


def _size(feature: ReliefFeature, rules: ComposeRules) -> str:
    long, wide = (distance_words(m, rules.distance_unit) for m in (feature.length_m, feature.width_m))
    if feature.bearing_deg is None:
        return f"{long} across"
    ways = f"{compass_words(feature.bearing_deg, 4)}–{compass_words(feature.bearing_deg + 180, 4)}"
    if round(feature.bearing_deg / 45) % 2:
        ways = f"{compass_words(feature.bearing_deg, 8)} to {compass_words(feature.bearing_deg + 180, 8)}"
    return f"{long} long, {wide} wide, running {ways}" if feature.kind != "ledge" else f"{long} long, running {ways}"
