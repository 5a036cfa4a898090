"""The sample atlas with a depth grid of its own: a bed that falls from the bank, a hump, a blank, and true notes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import shapely
from sample_atlas import WATER, lonlat, make_sample_atlas

from atlasgen.compose.bed_words import break_sentences
from atlasgen.compose.notes import depth_sentences
from atlasgen.measure.depth_model import drawn_lines
from atlasgen.measure.profiles import reach_profiles
from atlasgen.measure.shown import at_shown_stage
from atlasgen.model import (
    Atlas,
    ComposeRules,
    DepthBand,
    DepthGrid,
    Isobath,
    Known,
    MeasureRules,
    Note,
    Reach,
    Sentence,
)
from atlasgen.model.wording import language, say
from atlasgen.place.geo import Projection
from atlasgen.units import FOOT_M, DepthUnit, level_words

CELL_M = 10.0
TARGETS_M = tuple(feet * FOOT_M for feet in (5, 10, 20))


def make_grid() -> DepthGrid:
    """Depths of the sample lake: 1 in 10 off the bank, waves in it, a hump, nothing known round one place."""
    west, south, east, north = WATER.bounds
    x, y = np.meshgrid(np.arange(west, east, CELL_M), np.arange(south, north, CELL_M))
    places = shapely.points(x, y)
    off_m = shapely.distance(places, WATER.boundary)
    depth = 0.1 * off_m + 0.3 * np.sin(x / 37) * np.cos(y / 29)
    depth -= 6.0 * np.exp(-((x + 300) ** 2 + (y + 280) ** 2) / 900)
    unknown = ~shapely.contains(WATER, places) | (np.hypot(x - 420, y + 255) < 60)
    bound = np.where(x > 200, 2.0, 0.4)
    return DepthGrid(np.where(unknown, np.nan, depth), np.zeros_like(x), float(west), float(south), CELL_M, 25.0, bound)


def told_at(known: Known, stage_m: float) -> Known:
    """Return what is known, told for a level, as the whole job does."""
    return at_shown_stage(
        known, WATER, lambda: np.empty((0, 3)), None, tied=True, rules=MeasureRules(shown_stage_m=stage_m)
    )


def rules_at(stage_m: float, unit: DepthUnit = "feet") -> ComposeRules:
    """Return the words' rules for a level."""
    shown = say("page-depths-below", level=level_words(stage_m, unit)) if stage_m else ""
    return ComposeRules("Sample", "1", depth_unit=unit, shown=shown)


def depth_words_of(known: Known, reach: Reach, stage_m: float, unit: DepthUnit = "feet") -> tuple[Sentence, ...]:
    """Return the depth note of a reach."""
    return depth_sentences(known.reach_depth[reach.id], 4321, rules_at(stage_m, unit), known.profiles[reach.id])


def make_level_atlas(stage_m: float = 0.0, unit: DepthUnit = "feet") -> Atlas:
    """Build it for a level of the water, metres above full, in the language now spoken."""
    atlas = make_sample_atlas()
    grid = make_grid()
    isobaths, bands = drawn_lines(grid, WATER, np.empty((0, 3)), MeasureRules())
    profiles = reach_profiles(
        atlas.placed.reaches, WATER, grid, Projection(atlas.survey.crs_metric), TARGETS_M, out_to_m=60.0
    )
    at_full = replace(atlas.known, grid=grid, isobaths=isobaths, bands=bands, profiles=profiles)
    known = told_at(at_full, stage_m)
    reaches = {reach.id: reach for reach in atlas.placed.reaches}
    pages = tuple(replace(page, notes=_notes(known, reaches[page.reaches[0]], stage_m, unit)) for page in atlas.pages)
    layers = replace(
        atlas.layers,
        isobaths=tuple(
            Isobath(i.depth_m, i.label, i.major, tuple(map(lonlat, i.lines)), tuple(map(lonlat, i.doubtful)))
            for i in known.isobaths
        ),
        bands=tuple(DepthBand(b.from_m, b.to_m, b.shade, lonlat(b.area)) for b in known.bands),
        dry=None if known.dry is None else lonlat(known.dry),
    )
    below = rules_at(stage_m, unit).depths_below
    survey = replace(atlas.survey, depths_below=below, depth_unit=unit, language=language())
    return replace(atlas, survey=survey, known=known, layers=layers, pages=pages)


def _notes(known: Known, reach: Reach, stage_m: float, unit: DepthUnit) -> tuple[Note, ...]:
    profile, rules = known.profiles[reach.id], rules_at(stage_m, unit)
    bed = break_sentences(profile, rules) if profile else ()
    notes = [Note("depth", "Depth", depth_words_of(known, reach, stage_m, unit))]
    layers = (Sentence("The air photo shows the bed as dry ground out to the 11.8 ft line."),)
    return (*notes, *([Note("bed", "The bed off this bank", bed)] if bed else []), Note("layers", "Older", layers))
