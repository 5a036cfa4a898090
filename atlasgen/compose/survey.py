"""The room's way in: puts everything that is known on pages and maps."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

import numpy as np
from shapely import MultiPolygon

from atlasgen.compose.book_maps import book_maps
from atlasgen.compose.captions import day_words
from atlasgen.compose.chapters import make_chapters
from atlasgen.compose.chart_edition import chart_problems
from atlasgen.compose.charts import reach_profile
from atlasgen.compose.figures import PhotoFacts, compass_of, figures_of
from atlasgen.compose.lake import Lake
from atlasgen.compose.landmark_words import hazard_caution
from atlasgen.compose.map_parts import overview_parts, state_parts, survey_parts, tile_parts
from atlasgen.compose.mapping import locator_map, overview_map, source_diagram, tile_map
from atlasgen.compose.notes import page_notes
from atlasgen.compose.pages import home_reaches, keep_sets_together, page_groups, photos_of_reaches
from atlasgen.compose.repeat_words import repeat_notes
from atlasgen.compose.state_map import state_map, state_words
from atlasgen.compose.strip import strip_chart
from atlasgen.compose.strip_layout import StripShore
from atlasgen.compose.words import cautions, how_to_read
from atlasgen.model import (
    Atlas,
    ComposeRules,
    Drawing,
    Known,
    Layers,
    NamedArea,
    Page,
    Photo,
    Picture,
    Placed,
    Problem,
    Progress,
    Reach,
    ReachDepth,
    Survey,
    SurveyFacts,
)
from atlasgen.model.layer_tiles import LayerTiles
from atlasgen.model.memory import ANEW, Memory
from atlasgen.model.wording import language, say
from atlasgen.place.geo import Projection
from atlasgen.place.turnarounds import find_turnarounds
from atlasgen.units import distance_words, level_words

# The strip chart's depth is the one a long cast from the bank reaches; one of the stations of every reach. Ours.
STRIP_OFF_BANK_M = 20.0


def compose_atlas(
    survey: Survey,
    placed: Placed,
    known: Known,
    pictures: Mapping[str, Picture],
    rules: ComposeRules,
    progress: Progress,
    memory: Memory = ANEW,
    bed_pictures: tuple[LayerTiles, ...] = (),
) -> Atlas:
    """Make the atlas: pages, maps, notes, lists; everything that book, web and tables are written from."""
    rules = _shown_rules(known, rules)
    ground = _ground(survey, placed, known, rules, memory)
    pages = _pages(ground, progress)
    problems = _problems(survey, placed, known, rules)
    tiles, shore = _tile_drawings(ground, pages, progress), _strip_shore(ground)
    return Atlas(
        survey=_facts(survey, placed, rules),
        placed=placed,
        known=known,
        layers=_layers(survey, ground),
        pages=pages,
        overview=ground.draw(overview_map, "overview", **overview_parts(ground, pages)),
        source_diagram=ground.draw(source_diagram, "sources", **survey_parts(ground)),
        tile_drawings=tiles,
        strips=strip_chart("strip", shore),
        state_map=ground.draw(state_map, "states", **state_parts(ground)),
        state_words=state_words(known.audit, rules.distance_unit),
        pictures=pictures,
        left_out=tuple(p for p in problems if p.level == "left_out"),
        problems=problems,
        how_to_read=_how_to_read(known, placed, rules),
        cautions=(*cautions(), hazard_caution(placed.landmarks)),
        methods=known.methods,
        turnarounds=ground.sets,
        chapters=make_chapters(known, placed, pages, rules, memory),
        bed_pictures=bed_pictures,
        book_maps=book_maps(ground, pages, tiles, shore),
    )


def _shown_rules(known: Known, rules: ComposeRules) -> ComposeRules:
    """Name the level that depths are told from, where it is not the datum."""
    if not known.shown_stage_m:
        return rules
    return replace(rules, shown=say("page-depths-below", level=level_words(known.shown_stage_m, rules.depth_unit)))


def _ground(survey: Survey, placed: Placed, known: Known, rules: ComposeRules, memory: Memory) -> Lake:
    projection = Projection(placed.crs_metric)
    soundings = None if known.isobaths else survey.soundings
    xy = projection.points(soundings.lon_deg, soundings.lat_deg) if soundings is not None else None
    places = tuple(replace(place, area=projection.to_metric(place.area)) for place in survey.places)
    return Lake(
        projection,
        placed,
        known,
        rules,
        places=places,
        tiles=tuple(NamedArea(tile.label, projection.to_metric(tile.area)) for tile in placed.tiles),
        not_surveyed=tuple(NamedArea(reason, area) for reason, area in known.not_surveyed),
        soundings_xy=xy,
        facts=_photo_facts(placed, known, places, rules),
        sets=find_turnarounds(placed.photos),
        memory=memory,
    )


def _photo_facts(placed: Placed, known: Known, places: Sequence[NamedArea], rules: ComposeRules) -> PhotoFacts:
    views, reaches = known.views, {reach.id: reach for reach in placed.reaches}
    homes = home_reaches(placed.photos, placed.reaches, views)
    return PhotoFacts(views.views, reaches, homes, known.stage_of_photo_m, placed.water, places, rules)


def _pages(ground: Lake, progress: Progress) -> tuple[Page, ...]:
    placed, homes = ground.placed, keep_sets_together(ground.facts.homes, ground.sets)
    groups = page_groups(placed.photos, placed.reaches, homes, ground.sets)
    where = {p.id: (page, n) for page, (_, photos, _, _) in enumerate(groups, 1) for n, p in enumerate(photos, 1)}
    shown = _shown(ground, where)
    taken, known = {photo.id: photo.taken for photo in placed.photos}, ground.known
    pages = []
    for number, (reach, photos, part, parts) in enumerate(groups, 1):
        progress("composing pages", number, len(groups))
        page = _page(number, len(groups), reach, photos, (part, parts), shown.get(reach.id, ()), ground)
        again = repeat_notes(photos, known.repeats, taken, where, ground.rules, known.former_repeats)
        pages.append(replace(page, notes=(*page.notes, *again)))
    return tuple(pages)


def _shown(ground: Lake, where: Mapping[str, tuple[int, int]]) -> dict[str, list[tuple[str, int, int]]]:
    """Photos that show each reach, best first: (photo id, page, number there)."""
    return {
        reach: [(photo, *where[photo]) for photo in photos]
        for reach, photos in photos_of_reaches(ground.placed.photos, ground.known.views).items()
    }


def _page(
    number: int,
    count: int,
    reach: Reach,
    photos: Sequence[Photo],
    part: tuple[int, int],
    shown: Sequence[tuple[str, int, int]],
    ground: Lake,
) -> Page:
    known, rules = ground.known, ground.rules
    numbered = tuple(enumerate(photos, 1))
    here = {photo.id for photo in photos}
    days = {photo.id: day_words(photo.taken, rules.zone) for photo in photos}
    elsewhere = [(page, n) for photo, page, n in shown if photo not in here]
    turn = next((turn for turn in ground.sets if turn.photos[0] in here), None)
    return Page(
        number=number,
        id=f"page-{number:03d}",
        title=reach_title(reach),
        subtitle=_subtitle(reach, part, ground, turned=turn is not None),
        reaches=(reach.id,),
        tile=reach.tile,
        figures=figures_of(numbered, ground.facts, ground.memory),
        locator=ground.draw(
            locator_map,
            f"locator-{number:03d}",
            page_reaches=(reach,),
            photos=numbered,
            views={photo.id: view for photo in photos if (view := known.views.views.get(photo.id))},
            **ground.depths(),
        ),
        profile=_profile(number, reach, photos, ground),
        notes=page_notes(reach, photos, known, days, elsewhere, rules, ground.placed.landmarks),
        previous=number - 1 if number > 1 else None,
        next=number + 1 if number < count else None,
        compass=compass_of(f"compass-{number:03d}", turn, photos, ground.facts) if turn else None,
    )


def reach_title(reach: Reach) -> str:
    """Return a reach's plain name: `East arm, north bank`, or `North bank` where no named place holds it."""
    if reach.place:
        return say("page-title", place=reach.place, bank=reach.name)
    return f"{reach.name[:1].upper()}{reach.name[1:]}"


def _subtitle(reach: Reach, part: tuple[int, int], ground: Lake, *, turned: bool) -> str:
    ring = next(ring for ring in ground.placed.rings if ring.id == reach.ring)
    middle = distance_words((reach.from_m + reach.to_m) / 2, ground.rules.distance_unit)
    if ring.island:
        where = say("page-on-island", reach=reach.id, island=ring.id)
    else:
        where = say("page-on-shore", reach=reach.id, distance=middle, start=ground.rules.start_name)
    if part[1] > 1:
        where = say("page-part", where=where, part=part[0], parts=part[1])
    return say("page-turned", where=where) if turned else where


def _profile(number: int, reach: Reach, photos: Sequence[Photo], ground: Lake) -> Drawing | None:
    """Draw the profile with the stage of the photos, where they agree on one to the centimetre."""
    profile = ground.known.profiles.get(reach.id)
    if profile is None:
        return None
    stages = {ground.known.stage_of_photo_m.get(photo.id) for photo in photos}
    known_m = [stage for stage in stages if stage is not None]
    one = known_m[0] if len(known_m) == len(stages) and max(known_m) - min(known_m) < 0.01 else None
    rules = ground.rules
    made_of = (f"profile-{number:03d}", profile, one, rules.depth_unit, rules.distance_unit)
    datum, stage_m = _level_name(ground), ground.known.shown_stage_m
    return ground.memory.remember(
        "profile", (made_of, datum, stage_m), lambda: reach_profile(*made_of, datum=datum, shown_stage_m=stage_m)
    )


def _level_name(ground: Lake) -> str:
    """Return the level that depths are told from as a drawing names it."""
    if not ground.rules.shown:
        return ground.rules.datum
    return say("page-level-name", level=level_words(ground.known.shown_stage_m, ground.rules.depth_unit))


def _strip_shore(ground: Lake) -> StripShore:
    """Return what the strip chart draws: photos, depth and soundings along the shore."""
    placed, known, audit = ground.placed, ground.known, ground.known.audit
    depth = [_depth_at(known.reach_depth.get(reach.id), STRIP_OFF_BANK_M) for reach in placed.reaches]
    coverage = [known.reach_coverage[reach.id].share_near_sounding for reach in placed.reaches]
    by_piece = audit.shore.reach
    return StripShore(
        audit.shore,
        placed.reaches,
        audit.pieces,
        ring_names={ring.id: ring.name for ring in placed.rings},
        tile_labels={tile.id: tile.label for tile in placed.tiles},
        depth_m=np.array(depth, float)[by_piece] if known.grid is not None else None,
        coverage=np.array(coverage, float)[by_piece] if known.soundings_used else None,
        off_bank_m=STRIP_OFF_BANK_M,
        depth_unit=ground.rules.depth_unit,
        distance_unit=ground.rules.distance_unit,
    )


def _depth_at(depth: ReachDepth | None, off_bank_m: float) -> float | None:
    return dict(depth.profile_m).get(off_bank_m) if depth else None


def _tile_drawings(ground: Lake, pages: Sequence[Page], progress: Progress) -> dict[str, Drawing]:
    """Draw every tile that has a page."""
    page_of = {figure.photo: page.number for page in pages for figure in page.figures}
    used = {page.tile for page in pages}
    drawings = {}
    shown = [(tile, area) for tile, area in zip(ground.placed.tiles, ground.tiles, strict=True) if tile.id in used]
    for number, (tile, area) in enumerate(shown, 1):
        progress("drawing tiles", number, len(shown))
        parts = tile_parts(ground, tile.id, area, page_of)
        drawings[tile.id] = ground.draw(tile_map, f"tile-{number:03d}", **parts)
    return drawings


def _layers(survey: Survey, ground: Lake) -> Layers:
    known, to_lonlat = ground.known, ground.projection.to_lonlat
    return Layers(
        water=survey.shoreline,
        reaches={reach.id: to_lonlat(reach.line) for reach in ground.placed.reaches},
        isobaths=tuple(
            replace(i, lines=tuple(map(to_lonlat, i.lines)), doubtful=tuple(map(to_lonlat, i.doubtful)))
            for i in known.isobaths
        ),
        bands=tuple(replace(band, area=to_lonlat(band.area)) for band in known.bands),
        dry=to_lonlat(known.dry) if known.dry is not None and not known.dry.is_empty else None,
        sounding_lines=tuple(to_lonlat(line) for line in known.sounding_lines),
        pass_lines=tuple(to_lonlat(line) for line in known.pass_lines),
        not_surveyed=tuple(replace(area, area=to_lonlat(area.area)) for area in ground.not_surveyed),
        places=survey.places,
        no_photo=survey.no_photo,
    )


def _facts(survey: Survey, placed: Placed, rules: ComposeRules) -> SurveyFacts:
    days = [photo.taken for photo in placed.photos if photo.taken]
    west, south, east, north = survey.shoreline.bounds
    return SurveyFacts(
        title=rules.title,
        edition=rules.edition,
        season=rules.season,
        crew=rules.crew,
        copyright=rules.copyright,
        datum=rules.datum,
        depths_below=rules.depths_below,
        depth_unit=rules.depth_unit,
        distance_unit=rules.distance_unit,
        time_zone=rules.zone_name,
        crs_metric=placed.crs_metric,
        bounds_deg=(west, south, east, north),
        start_name=rules.start_name,
        tile_scheme=rules.tile_scheme,
        paper=rules.paper,
        dated=max(days).date() if days else None,
        water_m2=float(MultiPolygon(placed.water).area),
        shore_m=math.fsum(ring.line.length for ring in placed.rings),
        chart=rules.chart,
        budget_mb=rules.budget_mb,
        volume_mb=rules.volume_mb,
        photo_names=rules.photo_names,
        language=language(),
        sides=rules.sides,
        viewer=rules.viewer,
    )


def _how_to_read(known: Known, placed: Placed, rules: ComposeRules) -> tuple[str, ...]:
    coverage = next(iter(known.reach_coverage.values()))
    reach = placed.reaches[0]
    return how_to_read(
        rules.depths_below,
        rules.depth_unit,
        distance_words(coverage.off_bank_m, rules.distance_unit),
        distance_words(reach.length_m, rules.distance_unit),
        rules.start_name,
    )


def _problems(survey: Survey, placed: Placed, known: Known, rules: ComposeRules) -> tuple[Problem, ...]:
    """Return every problem of the job, photos left out first, each once, sorted by file."""
    chart = chart_problems(rules.chart, rules.edition, rules.datum, known.sources)
    everything: Iterable[Problem] = (*survey.problems, *placed.left_out, *placed.problems, *known.problems, *chart)
    unique = dict.fromkeys(everything)
    ranks = {"left_out": 0, "fault": 1, "note": 2}
    return tuple(sorted(unique, key=lambda p: (ranks[p.level], p.subject, p.code, p.message)))
