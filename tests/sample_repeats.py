"""The sample atlas with a repeat: the photo of its page 2 again five weeks later, with half a metre less water."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from sample_views import make_seen_atlas

from atlasgen.compose.repeat_words import repeat_notes
from atlasgen.model import Atlas, ComposeRules
from atlasgen.model.repeats import RepeatPair


def make_repeated_atlas() -> Atlas:
    """Return the sample whose photos 1 (page 1) and 2 (page 2) are a pair."""
    atlas = make_seen_atlas()
    first, second = atlas.placed.photos[:2]
    again = replace(second, taken=second.taken + timedelta(days=35))
    pair = RepeatPair(first.id, again.id, 5.0, 3.0, 90.0, 0.9, -0.5, 35)
    photos = (first, again, *atlas.placed.photos[2:])
    stages_m = dict(atlas.known.stage_of_photo_m) | {again.id: -0.93}
    where = {figure.photo: (page.number, figure.number) for page in atlas.pages for figure in page.figures}
    taken = {photo.id: photo.taken for photo in photos}
    by_id = {photo.id: photo for photo in photos}
    pages = []
    for page in atlas.pages:
        here = [by_id[figure.photo] for figure in page.figures]
        notes = repeat_notes(here, (pair,), taken, where, ComposeRules("Sample", "1"))
        pages.append(replace(page, notes=(*page.notes, *notes)))
    known = replace(atlas.known, repeats=(pair,), stage_of_photo_m=stages_m)
    return replace(atlas, placed=replace(atlas.placed, photos=photos), known=known, pages=tuple(pages))
