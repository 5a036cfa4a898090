"""What photographs show, in a real browser: outlines on the map and links beside it, held against atlas.json."""

from __future__ import annotations

import json

import pytest
from browser import SIZES, visit
from sample_atlas import write_sample_pictures
from sample_views import make_seen_atlas
from script_data import read_data

from atlasgen.write.tables import atlas_document
from atlasgen.write.web import write_web

pytestmark = pytest.mark.browser
both_sizes = pytest.mark.parametrize("size", SIZES, ids=["phone", "desktop"])


@pytest.fixture(scope="module")
def index(tmp_path_factory):
    out = tmp_path_factory.mktemp("views")
    write_sample_pictures(make_seen_atlas(), out)
    write_web(make_seen_atlas(), out, lambda step, done, total: None)
    return out / "index.html"


@pytest.fixture(scope="module")
def document():
    return json.loads(json.dumps(atlas_document(make_seen_atlas())))


@pytest.fixture(scope="module")
def data(index):
    return read_data(index.parent)


def outlined(page) -> list[str]:
    """Return the photos outlined on the map, from the bottom up."""
    return page.locator("path.view").evaluate_all("all => all.map(path => path.dataset.photo)")


def corners(page, photo: str) -> int:
    """Count the points of a photo's outline as it stands in the page."""
    path = page.locator(f'path.view[data-photo="{photo}"]').get_attribute("d")
    return path.count("M") + path.count("L")


def showing(document, reach: str) -> set[str]:
    """Return the photos that atlas.json says show a reach."""
    return {
        photo["id"] for photo in document["photos"] if reach in {seen["reach"] for seen in photo["reaches_seen"] or ()}
    }


def most_shown(document) -> str:
    return max(document["reaches"], key=lambda reach: len(showing(document, reach["id"])))["id"]


@both_sizes
def test_a_photo_outlines_what_it_shows(chromium, index, data, document, size):
    """One outline with the points of the data, in sight, and the shore it shows, in the metres of atlas.gpkg."""
    photo = next(p for p in data["photos"] if p["id"] == "p-000000000c")
    view = make_seen_atlas().known.views.views[photo["id"]]
    with visit(chromium, index, size) as tab:
        tab.go("#photo-" + photo["id"])
        assert outlined(tab.page) == [photo["id"]]
        assert corners(tab.page, photo["id"]) == len(photo["view"]["area"][0]) / 2
        (seen,) = tab.page.locator("path.seen").all()
        assert (seen.get_attribute("data-photo"), int(seen.get_attribute("data-metres"))) == (
            photo["id"],
            round(view.seen_m),
        )
        assert seen.get_attribute("d").count("M") == len(photo["view"]["shore"]) / 3
        inside = (
            "() => { const a = document.querySelector('path.view').getBoundingClientRect();"
            " const b = lake.map.getContainer().getBoundingClientRect();"
            " return a.left >= b.left && a.right <= b.right && a.top >= b.top && a.bottom <= b.bottom; }"
        )
        assert tab.page.evaluate(inside)
        told = tab.page.locator("[data-said]").inner_text()
        assert told.endswith("It shows 800 m of bank on 10 reaches, outlined on the map.")
        listed = tab.page.locator(".note-shows .doors a").evaluate_all("all => all.map(a => a.hash.slice(7))")
        seen_in_json = next(p for p in document["photos"] if p["id"] == photo["id"])["reaches_seen"]
        assert listed == [one["reach"] for one in seen_in_json]


@both_sizes
def test_a_reach_outlines_all_photos_that_show_it(chromium, index, document, size):
    """The outlines, the marked stations and the links are the photos that atlas.json names, best first."""
    reach = most_shown(document)
    wanted = showing(document, reach)
    assert len(wanted) > 1
    ranked = [p for p in next(r for r in document["reaches"] if r["id"] == reach)["photos"] if p in wanted]
    with visit(chromium, index, size) as tab:
        tab.go("#reach-" + reach)
        assert outlined(tab.page)[::-1] == ranked
        stations = tab.page.locator("path.view-station").evaluate_all("all => all.map(path => path.dataset.photo)")
        assert set(stations) == wanted
        links = tab.page.locator(".note-shown-by ol a")
        assert links.evaluate_all("all => all.map(a => a.dataset.view)") == ranked
        told = tab.page.locator("[data-said]").inner_text()
        assert told.endswith(f"Reach {reach}: {len(wanted)} photographs show it, outlined on the map.")
        links.first.click()
        assert (tab.hash(), outlined(tab.page)) == ("#photo-" + ranked[0], [ranked[0]])


def test_every_reach_outlines_what_atlas_json_says(chromium, index, document):
    """None too many, none too few, along the whole shore."""
    with visit(chromium, index) as tab:
        tab.go()
        for reach in document["reaches"]:
            tab.page.evaluate("id => lake.go(lake.anchor('reach', id))", reach["id"])
            assert set(outlined(tab.page)) == showing(document, reach["id"])


def test_a_link_shows_its_own_view_while_the_keyboard_is_on_it(chromium, index, document):
    """Tab along the list: the one pointed at is drawn strong, with its shore; leaving it brings all back."""
    reach = most_shown(document)
    with visit(chromium, index) as tab:
        tab.go("#reach-" + reach)
        links = tab.page.locator(".note-shown-by ol a")
        links.nth(0).focus()
        tab.page.keyboard.press("Tab")
        photo = links.nth(1).get_attribute("data-view")
        assert tab.page.locator("path.view.view-main").get_attribute("data-photo") == photo
        assert tab.page.locator("path.seen").get_attribute("data-photo") == photo
        tab.page.evaluate("document.activeElement.blur()")
        assert tab.page.locator("path.view-main, path.seen").count() == 0
        links.nth(1).focus()
        tab.page.keyboard.press("Enter")
        assert tab.hash() == "#photo-" + photo


def test_a_photo_without_a_view_outlines_nothing_and_says_why(chromium, index):
    """Not known is not drawn."""
    with visit(chromium, index) as tab:
        tab.go("#photo-p-0000000006")
        assert outlined(tab.page) == []
        shows = tab.page.locator(".note-shows p").inner_text()
        assert shows == "What it shows is not outlined: its direction is not known."


def test_the_lake_and_the_tiles_outline_nothing(chromium, index):
    """What was outlined goes when something else is chosen."""
    with visit(chromium, index) as tab:
        tab.go("#photo-p-000000000c")
        tab.page.keyboard.press("Escape")
        assert outlined(tab.page) == []
        tab.page.evaluate("lake.go('tile-16/1/1')")
        assert outlined(tab.page) == []
        assert tab.page.locator(".shows").count() == 0


@both_sizes
@pytest.mark.parametrize("theme", ["light", "dark"])
def test_no_serious_barrier_is_found_with_views(chromium, index, document, size, theme):
    """axe-core's rules with outlines and lists shown: nothing serious or critical; links high enough for a thumb."""
    from axe_playwright_python.sync_playwright import Axe

    options = {"resultTypes": ["violations"], "preload": False}
    with visit(chromium, index, size, color_scheme=theme) as tab:
        for place in ("#photo-p-000000000c", "#reach-" + most_shown(document)):
            tab.go(place)
            found = Axe().run(tab.page, options=options).response["violations"]
            assert [v["id"] for v in found if v["impact"] in ("serious", "critical")] == []
            heights = tab.page.locator(
                ".shows .doors a:visible, .shows .thumbs a:visible, .shows summary:visible"
            ).evaluate_all("all => all.map(node => node.getBoundingClientRect().height)")
            assert heights
            assert min(heights) >= 43.5


def test_distances_are_written_as_in_the_book(chromium, index):
    """Two figures that matter, in either unit, as `units.distance_words` rounds them."""
    from atlasgen.units import distance_words

    values = [0.4, 3.6, 9.6, 12.4, 94, 128, 804, 994, 996, 1449, 12_345]
    with visit(chromium, index) as tab:
        tab.go()
        for unit, imperial in (("metric", "false"), ("imperial", "true")):
            tab.page.evaluate(f"ATLAS.imperial = {imperial}")
            said = tab.page.evaluate("values => values.map(lake.distanceWords)", values)
            assert said == [distance_words(value, unit) for value in values]
