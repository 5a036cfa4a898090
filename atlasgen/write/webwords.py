"""The words of the web atlas that no page carries: bare shores, tiles, and the audit in short."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot
from urllib.parse import quote

from atlasgen.compose.landmark_words import landmark_sentences
from atlasgen.compose.notes import shown_sentences
from atlasgen.compose.pages import photos_of_reaches
from atlasgen.compose.survey import reach_title
from atlasgen.model import (
    Atlas,
    Note,
    Page,
    Problem,
    Reach,
    ReachCoverage,
    ReachDepth,
    Ring,
    Sentence,
    ShoreState,
    StateTotal,
    SurveyFacts,
    Tile,
)
from atlasgen.model.wording import say
from atlasgen.units import depth_words, distance_words, percent_words

SHOWN: tuple[ShoreState, ...] = ("well", "poorly")


@dataclass(frozen=True, slots=True)
class Neighbour:
    """A page near a bare shore: `way` in words, such as `240 m further along`."""

    page: Page
    way: str


@dataclass(frozen=True, slots=True)
class BareReach:
    """A reach that is on no page, told as a page is told."""

    reach: Reach
    title: str
    subtitle: str
    tile: str
    notes: tuple[Note, ...]
    neighbours: tuple[Neighbour, ...]


@dataclass(frozen=True, slots=True)
class TileRow:
    """One tile of the list and the audit, with the pages on it; lengths in words."""

    tile: Tile
    pages: tuple[Page, ...]
    photos: int
    has_shore: bool
    shore: str
    photographed: str
    share: str


def anchor(prefix: str, name: str) -> str:
    """Make an id that is an address as well: `tile-16/1/1`; blanks and the like are percent-encoded."""
    return f"{prefix}-{quote(name, safe='/-._~')}"


def tile_rows(atlas: Atlas) -> tuple[TileRow, ...]:
    """Tell every tile, in reading order."""
    photos: dict[str, int] = {}
    for page in atlas.pages:
        photos[page.tile] = photos.get(page.tile, 0) + len(page.figures)
    totals = {total.name: total for total in atlas.known.audit.totals.by_tile}
    return tuple(_tile_row(atlas, tile, photos.get(tile.id, 0), totals.get(tile.id)) for tile in atlas.placed.tiles)


def photographed_share(atlas: Atlas) -> str:
    """Return the share of the shore that some photograph shows, in words."""
    return _share_words(_lengths_m(atlas.known.audit.totals.total))


def bare_reaches(atlas: Atlas) -> tuple[BareReach, ...]:
    """Tell every reach that is on no page, along the shore from the start point."""
    shown = {reach_id for page in atlas.pages for reach_id in page.reaches}
    by_id = {reach.id: reach for reach in atlas.placed.reaches}
    labels = {tile.id: tile.label for tile in atlas.placed.tiles}
    placed = [(page, by_id[page.reaches[0]]) for page in atlas.pages if page.reaches]
    rings = {ring.id: ring for ring in atlas.placed.rings}
    photographs = _photograph_notes(atlas)
    return tuple(
        BareReach(
            reach,
            reach_title(reach),
            _subtitle(reach, rings[reach.ring], atlas.survey),
            labels.get(reach.tile, reach.tile),
            (
                photographs.get(reach.id) or _photographs((Sentence(say("web-bare-no-photograph"), True),)),
                *close_notes(reach, atlas),
                *reach_notes(
                    atlas.known.reach_depth.get(reach.id), atlas.known.reach_coverage.get(reach.id), atlas.survey
                ),
            ),
            nearest_pages(reach, placed, rings[reach.ring].line.length, atlas.survey),
        )
        for reach in atlas.placed.reaches
        if reach.id not in shown
    )


def _photograph_notes(atlas: Atlas) -> dict[str, Note]:
    """Say of each reach that photos show how much of it is shown and on which pages, as its own page would."""
    where = {figure.photo: (page.number, figure.number) for page in atlas.pages for figure in page.figures}
    return {
        reach: _photographs(shown_sentences(atlas.known.audit.reaches[reach], [where[p] for p in photos]))
        for reach, photos in photos_of_reaches(atlas.placed.photos, atlas.known.views).items()
    }


def close_notes(reach: Reach, atlas: Atlas) -> tuple[Note, ...]:
    """Say which landmarks lie near a shore that has no page, as a page would."""
    sentences = landmark_sentences(reach, atlas.placed.landmarks, atlas.survey.distance_unit)
    return (Note("close", say("note-heading", topic="close"), sentences),) if sentences else ()


def _photographs(sentences: tuple[Sentence, ...]) -> Note:
    return Note("photographs", say("web-bare-photographs"), sentences)


def reach_notes(depth: ReachDepth | None, coverage: ReachCoverage | None, survey: SurveyFacts) -> tuple[Note, ...]:
    """Say what is known of the water off a shore that has no page."""
    return (
        Note("depth", say("web-bare-depth"), tuple(_depth_sentences(depth, survey))),
        Note("coverage", say("web-bare-coverage"), tuple(_coverage_sentences(coverage, survey))),
    )


def nearest_pages(
    reach: Reach, placed: Sequence[tuple[Page, Reach]], ring_m: float, survey: SurveyFacts
) -> tuple[Neighbour, ...]:
    """Return the next page back and the next one on along this ring; where it has none, the closest as the crow flies.

    `placed` pairs each page with its first reach; `ring_m` is the length of the ring, which closes on itself.
    """
    here_m = _middle_m(reach)
    ahead = [((_middle_m(other) - here_m) % ring_m, page) for page, other in placed if other.ring == reach.ring]
    if not ahead:
        return _closest_page(reach, placed, survey)
    on_m, on = min(ahead, key=lambda pair: pair[0])
    back_m, back = min(((ring_m - away_m, page) for away_m, page in ahead), key=lambda pair: pair[0])
    unit = survey.distance_unit
    before = Neighbour(back, say("web-bare-back", distance=distance_words(back_m, unit)))
    after = Neighbour(on, say("web-bare-on", distance=distance_words(on_m, unit)))
    if back is on:
        return (before if back_m < on_m else after,)
    return (before, after)


def problem_groups(problems: Sequence[Problem]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Group messages by what kind of problem they are, kinds in alphabetical order, messages as met."""
    groups: dict[str, list[str]] = {}
    for problem in problems:
        groups.setdefault(say("problem-kind", code=problem.code), []).append(problem.words)
    return tuple((name, tuple(groups[name])) for name in sorted(groups))


def _tile_row(atlas: Atlas, tile: Tile, photos: int, total: StateTotal | None) -> TileRow:
    lengths_m, unit = _lengths_m(total), atlas.survey.distance_unit
    pages = tuple(page for page in atlas.pages if page.tile == tile.id)
    shore, photographed = (distance_words(length_m, unit) for length_m in lengths_m)
    return TileRow(tile, pages, photos, lengths_m[0] > 0, shore, photographed, _share_words(lengths_m))


def _lengths_m(total: StateTotal | None) -> tuple[float, float]:
    """Return the length of all and of the photographed shore, metres; a tile of open water has no total."""
    if total is None:
        return 0.0, 0.0
    return total.length_m, sum(total.lengths_m[state] for state in SHOWN)


def _share_words(lengths_m: tuple[float, float]) -> str:
    shore_m, seen_m = lengths_m
    return percent_words(seen_m / shore_m) if shore_m else say("web-no-shore")


def _subtitle(reach: Reach, ring: Ring, survey: SurveyFacts) -> str:
    away = distance_words(reach.from_m, survey.distance_unit)
    start = _island_start(ring) if ring.island else survey.start_name
    if reach.from_m < 1:
        return say("web-bare-subtitle-start", reach=reach.id, start=start)
    return say("web-bare-subtitle", reach=reach.id, distance=away, start=start)


def _island_start(ring: Ring) -> str:
    return say("web-bare-island-start", island=ring.name or say("web-bare-island"))


def _middle_m(reach: Reach) -> float:
    return (reach.from_m + reach.to_m) / 2


def _closest_page(reach: Reach, placed: Sequence[tuple[Page, Reach]], survey: SurveyFacts) -> tuple[Neighbour, ...]:
    here = reach.line.interpolate(0.5, normalized=True)
    found: tuple[float, Page] | None = None
    for page, other in placed:
        there = other.line.interpolate(0.5, normalized=True)
        away_m = hypot(there.x - here.x, there.y - here.y)
        if found is None or away_m < found[0]:
            found = (away_m, page)
    if found is None:
        return ()
    away = distance_words(found[0], survey.distance_unit)
    return (Neighbour(found[1], say("web-bare-across", distance=away)),)


def _depth_sentences(depth: ReachDepth | None, survey: SurveyFacts) -> list[Sentence]:
    if depth is None or not depth.soundings or depth.shallowest_m is None or depth.deepest_m is None:
        return [Sentence(say("web-bare-unsounded"))]
    off = distance_words(depth.off_bank_m, survey.distance_unit)
    shallow, deep = (depth_words(value, survey.depth_unit) for value in (depth.shallowest_m, depth.deepest_m))
    below = (survey.depths_below or survey.datum) if depth.reduced else say("web-bare-day-level")
    sentences = [
        Sentence(say("web-bare-soundings", distance=off, count=depth.soundings)),
        Sentence(say("web-bare-range", shallow=shallow, deep=deep, level=below), True),
    ]
    if not depth.reduced:
        sentences.append(Sentence(say("web-bare-not-reduced")))
    return sentences


def _coverage_sentences(coverage: ReachCoverage | None, survey: SurveyFacts) -> list[Sentence]:
    if coverage is None or coverage.share_near_sounding is None:
        return [Sentence(say("web-bare-closeness-unknown"))]
    near = distance_words(coverage.near_sounding_m, survey.distance_unit)
    share = percent_words(coverage.share_near_sounding)
    sentences = [Sentence(say("web-bare-closeness", share=share, distance=near))]
    reasons = ", ".join(f"{reason} ({percent_words(part)})" for reason, part in coverage.reasons)
    if reasons:
        sentences.append(Sentence(say("web-bare-reasons", reasons=reasons)))
    return sentences
