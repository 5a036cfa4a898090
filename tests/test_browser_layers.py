"""Pictures of the bed and coverage in the offline atlas: chosen, blinked, faded, absent, and told where tapped."""

from __future__ import annotations

import shutil

import pytest
from axe_playwright_python.sync_playwright import Axe
from browser import SIZES, launched, visit
from picture_scene import CHART, PHOTO, RELIEF, make_picture_atlas, water_points
from sample_atlas import lonlat, write_sample_pictures

from atlasgen.pipeline import silent
from atlasgen.write.web import write_web

pytestmark = pytest.mark.browser
# axe may not fetch style sheets by itself: the page's policy forbids it, and it reads them from the document as well.
RULES = {"preload": False}


@pytest.fixture(scope="module")
def edition(tmp_path_factory):
    """Write the scene's web atlas once."""
    source, out = tmp_path_factory.mktemp("survey"), tmp_path_factory.mktemp("edition")
    atlas = make_picture_atlas(source, out)
    write_sample_pictures(atlas, out)
    write_web(atlas, out, silent)
    return out


@pytest.fixture(scope="module")
def index(edition):
    """Return the page to open."""
    return edition / "index.html"


@pytest.fixture(scope="module")
def browser():
    """One browser for all tests of this file."""
    with launched() as browser:
        yield browser


def shown(tab) -> list[str]:
    """Return the folders of the pictures whose tiles are to be seen."""
    return tab.page.evaluate(
        "[...document.querySelectorAll('.picture:not(.unseen-picture) img')]"
        ".filter(i => i.complete && i.naturalWidth).map(i => i.getAttribute('src').split('/')[1])"
        ".filter((name, i, all) => all.indexOf(name) === i)"
    )


def door(tab) -> str:
    return tab.page.inner_text("[data-picture=words]")


def said(tab) -> str:
    return tab.page.inner_text("[data-said]")


def tap(tab, point) -> None:
    """Touch the map at a place of the lake, metric."""
    at = lonlat(point)
    # In the middle of the map, where no button stands on it.
    tab.page.evaluate(f"lake.map.panTo([{at.y}, {at.x}], {{animate: false}})")
    x, y = tab.page.evaluate(
        f"(p => [p.x, p.y])(lake.map.latLngToContainerPoint([{at.y}, {at.x}])"
        ".add(L.point(lake.map.getContainer().getBoundingClientRect().x,"
        " lake.map.getContainer().getBoundingClientRect().y)))"
    )
    tab.page.mouse.click(x, y)


@pytest.mark.parametrize("size", SIZES)
def test_a_chosen_picture_lies_on_the_map_and_in_the_address(browser, index, size):
    """Chosen from the row; named in the row, the key and the address; a bookmark brings it back."""
    with visit(browser, index, size) as tab:
        tab.go()
        assert shown(tab) == []
        tab.page.click("[data-picture=door]")
        tab.page.select_option("[data-picture=shown]", PHOTO)
        tab.until("document.querySelectorAll('.picture img').length > 0")
        tab.until("[...document.querySelectorAll('.picture img')].every(i => i.complete && i.naturalWidth)")
        assert shown(tab) == [PHOTO]
        assert door(tab) == "Low water, 18 April 2020"
        assert tab.hash() == f"#?picture={PHOTO}"
        key = tab.page.text_content(".key-words[data-for=there] [data-key=picture]")
        assert key == " Air photo, 18 April 2020; the water stood 11.8 ft below full."
        tab.page.click("[data-question=sure]")
        under = tab.page.text_content(".key-words[data-for=sure] [data-key=picture]")
        assert under.endswith("touch the water to read how it was surveyed, or choose no picture.")
        tab.go(f"#start?picture={CHART}&strength=40")
        tab.until("document.querySelectorAll('.picture img').length > 0")
        assert door(tab) == "The valley before"
        assert tab.page.evaluate("document.querySelector('.picture').style.opacity") == "0.4"
        assert "Not for navigation" in tab.page.inner_text("[data-picture=told]")


@pytest.mark.parametrize("size", SIZES)
def test_blink_flips_two_pictures_at_one_view_by_hand(browser, index, size):
    """By the button and by the key B; each press flips once, says what is shown, and moves nothing."""
    with visit(browser, index, size) as tab:
        tab.go(f"#start?picture={PHOTO}&blink={RELIEF}")
        tab.until("document.querySelectorAll('.picture img').length > 0")
        view = tab.page.evaluate("[lake.map.getCenter().lat, lake.map.getCenter().lng, lake.map.getZoom()]")
        for press in (lambda: tab.page.click("[data-picture=blink]"), lambda: tab.page.keyboard.press("b")):
            press()
            tab.until("document.querySelectorAll('.picture:not(.unseen-picture) img').length > 0")
            told = door(tab)
            assert said(tab).startswith(f"Now shown: {told}.")
            tab.page.wait_for_timeout(60)
            assert door(tab) == told
        assert door(tab) == "Low water, 18 April 2020"
        assert view == tab.page.evaluate("[lake.map.getCenter().lat, lake.map.getCenter().lng, lake.map.getZoom()]")
        tab.page.keyboard.press("b")
        tab.until(f"location.hash.includes('picture={RELIEF}')")
        tab.until("[...document.querySelectorAll('.picture:not(.unseen-picture) img')].every(i => i.naturalWidth)")
        assert shown(tab) == [RELIEF]


def test_the_key_can_be_switched_off_and_is_not_taken_from_fields(browser, index):
    """A letter typed into a field is the field's; a reader who dictates can switch the key off (WCAG 2.1.4)."""
    with visit(browser, index) as tab:
        tab.go()
        tab.page.click("[data-picture=door]")
        tab.page.focus("[data-picture=shown]")
        tab.page.keyboard.press("b")
        assert door(tab) == "No picture"
        tab.page.uncheck("[data-picture=key]")
        tab.page.focus("[data-picture=blink]")
        tab.page.keyboard.press("b")
        assert door(tab) == "No picture"


def test_where_a_picture_is_absent_the_map_says_so(browser, index):
    """Half of the view: said. All of it: said in the row, with a way there."""
    with visit(browser, index) as tab:
        tab.go()
        tab.page.click("[data-picture=door]")
        tab.page.select_option("[data-picture=shown]", PHOTO)
        assert "In part of this view: no air photo here" in said(tab)
        assert tab.page.is_hidden("[data-picture=told]")
        tab.page.evaluate("lake.map.setView([-31.5022, -96.395], 18, {animate: false})")
        tab.until("!document.querySelector('[data-picture=told]').hidden")
        assert tab.page.inner_text("[data-picture=told]").startswith("Low water, 18 April 2020 lies elsewhere.")
        tab.page.click("[data-picture=told] button")
        tab.until("document.querySelector('[data-picture=told]').hidden")
        assert tab.page.evaluate("lake.map.getCenter().lng") < -96.4


def test_the_ink_stays_after_a_zoom_without_animation(browser, index):
    """Stations, names and the words for what is absent are drawn anew, for readers who want no motion too."""
    with visit(browser, index) as tab:
        tab.go("#start?picture=" + PHOTO)
        tab.page.evaluate("lake.map.setView([-31.5022, -96.3985], 17, {animate: false})")
        tab.page.wait_for_timeout(60)
        drawn = tab.page.evaluate(
            "(canvas => canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height).data.some(v => v > 0))"
            "(document.querySelector('.leaflet-ink-pane canvas'))"
        )
        assert drawn


def test_a_missing_tile_is_said_and_never_a_broken_image(browser, edition, tmp_path):
    """Files lost on a device leave an empty place and a sentence."""
    copy = tmp_path / "copy"
    shutil.copytree(edition, copy)
    shutil.rmtree(copy / "layers" / CHART)
    with visit(browser, copy / "index.html") as tab:
        tab.go(f"#start?picture={CHART}")
        tab.until("document.querySelector('[data-picture=told]').textContent.includes('missing on this device')")
        assert tab.page.evaluate("document.querySelectorAll('.picture img').length") == 0
        tab.complaints[:] = [text for text in tab.complaints if "NOT_FOUND" not in text]


def test_an_address_that_names_no_picture_is_said(browser, index):
    """Nothing is guessed."""
    with visit(browser, index) as tab:
        tab.go("#start?picture=moon&strength=900")
        tab.until("!document.querySelector('[data-address-told]').hidden")
        told = tab.page.inner_text("[data-address-told]")
        assert "“moon” in the address is no picture of this atlas." in told
        assert "“900” in the address is no strength from 20 to 100." in told
        assert door(tab) == "No picture"


def test_coverage_is_that_of_the_model_at_two_hundred_places(browser, index):
    """The class that the page finds is the one the area of the model has there."""
    with visit(browser, index) as tab:
        tab.go()
        places = water_points(200)
        found = [
            tab.page.evaluate(f"lake.coverClassAt({at.y}, {at.x})") for at in (lonlat(point) for point, _ in places)
        ]
        assert found == [name for _, name in places]


WORDS = {
    "twice": "Two passes of the side-scan sonar saw this place.",
    "fine": "The side-scan sonar saw this place once, finely.",
    "coarse": "pass p-7 was run too fast for its range",
    "depth_only": "Depths were sounded here, but there is no sonar picture.",
    "not_surveyable": "reason given: weed",
    "none": "Neither depths nor a sonar picture are known here. Take it that there may be a hazard.",
}


@pytest.mark.parametrize("size", SIZES)
def test_touching_the_water_says_how_it_was_surveyed_there(browser, index, size):
    """Each class in its words, with depth, bound, nearest sounding and a way to the nearest bank."""
    with visit(browser, index, size) as tab:
        tab.go()
        tab.page.click("[data-question=sure]")
        tab.page.evaluate("lake.sheet('low')")
        tab.page.wait_for_timeout(300)
        for name, words in WORDS.items():
            point = next(point for point, found in water_points(60, inner_m=25) if found == name)
            tap(tab, point)
            tab.until("document.documentElement.dataset.shown === 'spot'")
            tab.until(f"document.getElementById('spot').textContent.includes({words!r})")
            assert tab.hash().startswith("#spot--31.")
            tab.page.evaluate("lake.sheet('low')")
        assert "The nearest bank: reach S-" in tab.page.inner_text("#spot")
        tab.page.evaluate("lake.go('spot--31.50252,-96.40400')")
        text = tab.page.inner_text("#spot").replace("\u00a0", " ")
        assert "A sounding lies within 15 m." in text
        assert "below full supply level, give or take 1 ft. Not for navigation." in text


def test_a_place_has_an_address_and_leads_to_its_pictures(browser, index):
    """A bookmark opens it; its pictures are shown from there; a place on land is no place in the water."""
    with visit(browser, index) as tab:
        tab.go("#spot--31.50280,-96.39650")
        tab.until("document.documentElement.dataset.shown === 'spot'")
        assert "no air photo here" in tab.page.inner_text("#spot")
        tab.page.click("#spot button >> text=The valley before")
        tab.until(f"location.hash.includes('picture={CHART}')")
        tab.go("#spot--31.49000,-96.39650")
        assert tab.page.evaluate("document.documentElement.dataset.shown") == "start"


@pytest.mark.parametrize("size", SIZES)
def test_no_fault_of_access(browser, index, size):
    """The accessibility engine finds nothing with the row open and a place shown; targets are large enough."""
    with visit(browser, index, size) as tab:
        tab.go(f"#spot--31.50280,-96.39650?picture={PHOTO}")
        tab.page.click("[data-question=sure]")
        tab.page.click("[data-picture=door]")
        parts = [[".pictures"], ["#spot"], [".key"]]
        found = Axe().run(tab.page, context={"include": parts}, options=RULES).response["violations"]
        grave = [one for one in found if one["impact"] in ("serious", "critical")]
        assert [(one["id"], one["nodes"][0]["html"][:200]) for one in grave] == []
        heights = tab.page.evaluate(
            "[...document.querySelectorAll('.pictures button, .pictures select, .pictures input[type=range]')]"
            ".filter(n => n.offsetHeight).map(n => n.offsetHeight)"
        )
        assert min(heights) >= 44
