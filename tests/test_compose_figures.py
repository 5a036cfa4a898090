"""A photo's figure and a set's compass speak of the reach shown best, across the water between, or of none."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from sample_atlas import WATER, make_sample_atlas
from shapely import Point, Polygon

from atlasgen.compose.figures import PhotoFacts, compass_of, figure_of
from atlasgen.model import ComposeRules, Measured, NamedArea, PointM, ReachSeen, View
from atlasgen.place.turnarounds import find_turnarounds

ATLAS = make_sample_atlas()
BASE = ATLAS.placed.photos[0]
REACHES = {reach.id: reach for reach in ATLAS.placed.reaches}
RULES = ComposeRules(title="A", edition="1", zone=timedelta(0))


def across_from(home: str) -> PointM:
    """Return a station 150 m off a reach, over the water."""
    middle = REACHES[home].line.interpolate(0.5, normalized=True)
    inner = WATER.buffer(-150).exterior if WATER.buffer(-150).geom_type == "Polygon" else WATER.buffer(-150).boundary
    at = inner.interpolate(inner.project(middle))
    return PointM(at.x, at.y)


def view_of(photo, *names: str) -> View:
    seen = tuple(ReachSeen(name, 0.8, 150.0, 80.0, 5.0, 1.0) for name in names)
    return View(photo.id, Polygon(), False, 3000.0, None, (), seen)


def facts(photos, views, homes, **changes) -> PhotoFacts:
    stage = {photo.id: -0.43 for photo in photos}
    known = PhotoFacts(views, REACHES, homes, stage, WATER, (NamedArea("East arm", WATER.envelope),), RULES)
    return known._replace(**changes)


def test_a_figure_speaks_of_its_home_reach_across_the_place_between():
    """The second of two reaches that it shows is its home: that one is named, and how far off it is."""
    photo = replace(BASE, point=across_from("S-0006"))
    made = figure_of(3, photo, facts([photo], {photo.id: view_of(photo, "S-0005", "S-0006")}, {photo.id: "S-0006"}))
    assert (made.number, made.photo) == (3, photo.id)
    assert " across East arm at reach S-0006, 150 m off. " in made.caption
    assert made.caption.endswith("Water 1.4 ft below full.")
    assert "reach S-0005 and S-0006" in made.alt or "reaches S-0005 and S-0006" in made.alt


def test_a_photo_without_a_view_looks_at_nothing_that_is_known():
    """Its place is told by the nearest bank, and nothing is looked across."""
    photo = replace(BASE, point=across_from("S-0006"), reach="S-0006")
    made = figure_of(1, photo, facts([photo], {}, {photo.id: "S-0006"}))
    assert "across" not in made.caption
    assert "60 m off the nearest bank, reach S-0006." in made.caption
    assert "What it shows is not known." in made.alt


def test_a_view_that_misses_the_home_reach_does_not_claim_it():
    """A set keeps its photos together: one that looks away from the page's reach is not said to look at it."""
    photo = replace(BASE, point=across_from("S-0006"))
    made = figure_of(1, photo, facts([photo], {photo.id: view_of(photo, "S-0012")}, {photo.id: "S-0006"}))
    assert " at reach S-0006" not in made.caption
    assert "reach S-0012" in made.alt


@pytest.fixture(scope="module")
def turned():
    """Six photos round one spot off reach S-0006; the fourth shows no bank."""
    at = across_from("S-0006")
    photos = [
        replace(
            BASE,
            id=f"p-{number}",
            point=at,
            taken=BASE.taken + timedelta(seconds=8 * number),
            heading_deg_true=Measured(60.0 * number, "EXIF, true", 2.0),
            source=replace(BASE.source, width_px=1600, height_px=1200, orientation=6 if number == 1 else 1),
        )
        for number in range(6)
    ]
    (turn,) = find_turnarounds(photos)
    homes = {photo.id: f"S-{5 + number:04d}" for number, photo in enumerate(photos)}
    views = {photo.id: view_of(photo, homes[photo.id]) for photo in photos}
    views["p-3"] = view_of(photos[3])
    return turn, photos, compass_of("compass-007", turn, photos, facts(photos, views, homes))


def test_a_compass_says_of_each_photo_what_it_looks_at(turned):
    """Each has its own reach, not the page's; the one that shows none says so."""
    _, photos, made = turned
    assert [t.photo for t in made.thumbnails] == [photo.id for photo in photos]
    words = [t.words for t in made.thumbnails]
    assert [word.split()[0] for word in words[:4]] == ["north", "east-north-east", "east-south-east", "south,"]
    assert words[3] == "south, no bank known to be in view"
    assert all(f"at reach S-{5 + number:04d}, 150 m off" in words[number] for number in (0, 1, 2, 4, 5))
    assert any(" across East arm at reach " in word for word in words)
    assert all(f"{number} {word}" in made.drawing.alt for number, word in enumerate(words, 1))


def test_a_compass_has_one_caption_for_all(turned):
    """Where from, how many, when, at what level, and which part of the circle is missing."""
    turn, _, made = turned
    assert made.set == turn.id
    assert made.caption == (
        "From 84 m up, 6 photographs taken turning on one spot, 60 m off the nearest bank, reach "
        f"{BASE.reach}. 4 Mar 2026, 08:37. Water 1.4 ft below full. North is up. Together they show the whole circle."
    )


def test_a_photo_held_upright_stands_upright(turned):
    """Orientation 6 (Exif 2.32: the row is the visual right side) turns 1600 by 1200 into 1200 by 1600."""
    sizes = [t.width_mm / t.height_mm for t in turned[2].thumbnails]
    assert sizes == [pytest.approx(1200 / 1600 if n == 1 else 1600 / 1200, rel=0.01) for n in range(6)]


def test_the_station_in_these_tests_is_over_water():
    """What the words above are measured on: 150 m and more of water before the bank."""
    assert WATER.contains(Point(across_from("S-0006")))
    assert REACHES["S-0006"].line.distance(Point(across_from("S-0006"))) >= 149.9
