"""The sample atlas with a turn-around set: the four photos of its page 4 as one compass."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from sample_atlas import make_sample_atlas

from atlasgen.compose.compass import compass
from atlasgen.model import Atlas, Measured
from atlasgen.place.turnarounds import find_turnarounds

SET_PAGE = 4
LOOKS = (
    "north at the dam",
    'east at <b>"Heron" & co</b> #x',
    "south across East arm at reach S-0015, 60 m off",
    "west",
)


def make_turned_atlas() -> Atlas:
    """Return the sample whose fourth page shows a set: four photos at right angles, 30 degrees open between."""
    atlas = make_sample_atlas()
    page = atlas.pages[SET_PAGE - 1]
    by_id = {photo.id: photo for photo in atlas.placed.photos}
    first = by_id[page.figures[0].photo]
    photos = [
        replace(
            by_id[figure.photo],
            point=first.point,
            kind=first.kind,
            height_above_water_m=first.height_above_water_m,
            taken=first.taken + timedelta(seconds=8 * number),
            heading_deg_true=Measured(90.0 * number, "EXIF, true", 2.0),
            hfov_deg=Measured(60.0, "35 mm equivalent"),
        )
        for number, figure in enumerate(page.figures)
    ]
    (turn,) = find_turnarounds(photos)
    aspects = [photo.source.width_px / photo.source.height_px for photo in photos]
    caption = "From 84 m up, 4 photographs taken turning on one spot. North is up."
    made = compass(f"compass-{page.number:03d}", turn, aspects, LOOKS, caption)
    pages = [replace(page, compass=made) if other is page else other for other in atlas.pages]
    return replace(atlas, pages=tuple(pages))
