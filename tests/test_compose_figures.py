"""A photo's figure speaks of the reach that it shows best; a set's compass says the same in fewer words."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from sample_atlas import make_sample_atlas
from shapely import box

from atlasgen.compose.figures import PhotoFacts, compass_of, figure_of
from atlasgen.model import ComposeRules, Measured, NamedArea, PointM, ReachSeen, View
from atlasgen.place.turnarounds import find_turnarounds

ATLAS = make_sample_atlas()
REACHES = {reach.id: reach for reach in ATLAS.placed.reaches}
HOME, OTHER = list(REACHES)[9], list(REACHES)[4]
WATER = box(-2000, -2000, 2000, 2000)
PLACES = (NamedArea("Cask Arm", WATER),)
BASE = replace(ATLAS.placed.photos[0], reach=OTHER)


def view_of(photo, *reaches: str, away_m: float = 210.0) -> View:
    return View(
        photo.id, None, True, 3000.0, None, (), tuple(ReachSeen(r, 1.0, away_m, 80.0, 4.0, 1.0) for r in reaches)
    )


def facts_of(photos, views, homes) -> PhotoFacts:
    rules = ComposeRules(title="A", edition="1", zone=timedelta(hours=5))
    return PhotoFacts(views, REACHES, homes, {photo.id: -0.43 for photo in photos}, WATER, PLACES, rules)


def station_off(reach: str, off_m: float) -> PointM:
    middle = REACHES[reach].line.interpolate(0.5, normalized=True)
    return PointM(middle.x, middle.y - off_m)


def test_a_caption_is_of_the_reach_shown_best_and_names_the_water_between():
    """Not of the nearest reach, nor of the page's."""
    photo = replace(BASE, point=station_off(HOME, 400.0))
    facts = facts_of([photo], {photo.id: view_of(photo, OTHER, HOME)}, {photo.id: HOME})
    figure = figure_of(2, photo, facts)
    assert (figure.number, figure.photo) == (2, photo.id)
    assert f" across Cask Arm at reach {HOME}, 210 m off." in figure.caption
    assert f" across Cask Arm at reach {HOME}, 210 m off." in figure.alt


def test_without_a_view_the_caption_keeps_to_the_nearest_bank():
    """Nothing is said to be looked at or across."""
    figure = figure_of(1, BASE, facts_of([BASE], {}, {BASE.id: OTHER}))
    assert f"60 m off the nearest bank, reach {OTHER}." in figure.caption
    assert "across" not in figure.caption
    assert "What it shows is not known." in figure.alt


def test_a_compass_gives_each_photo_its_direction_bank_and_shape():
    """Four quarters; one photo shows no bank, one is upright, one has the crew's own words."""
    photos = [
        replace(
            BASE,
            id=f"p-{number}",
            point=station_off(HOME, 400.0),
            heading_deg_true=Measured(90.0 * number, "EXIF, true", 2.0),
            taken=BASE.taken + timedelta(seconds=8 * number),
        )
        for number in range(4)
    ]
    photos[2] = replace(photos[2], source=replace(BASE.source, orientation=6), caption="The old ramp")
    views = {photo.id: view_of(photo, HOME) for photo in photos[:3]} | {photos[3].id: view_of(photos[3])}
    (turn,) = find_turnarounds(photos)
    made = compass_of("compass-001", turn, photos, facts_of(photos, views, {photo.id: HOME for photo in photos}))
    at_bank = f"across Cask Arm at reach {HOME}, 210 m off"
    assert [thumb.words for thumb in made.thumbnails] == [
        f"north {at_bank}",
        f"east {at_bank}",
        f"south {at_bank}. The old ramp.",
        "west, no bank known to be in view",
    ]
    assert [thumb.width_mm > thumb.height_mm for thumb in made.thumbnails] == [True, True, False, True]
    assert made.caption.startswith("From 84 m up, 4 photographs taken turning on one spot, 60 m off the nearest bank")
    assert all(thumb.words in made.drawing.alt for thumb in made.thumbnails)
