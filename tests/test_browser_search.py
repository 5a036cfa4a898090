"""Search and landmarks in a real browser: by keyboard, forgiving of case, accents and word order, and to the place."""

from __future__ import annotations

import pytest
from browser import DESKTOP, PHONE, serious_faults, visit
from sample_atlas import HOSTILE
from sample_here import here_atlas

pytestmark = pytest.mark.browser
BOX = "#search-words"
OPEN = "#find"  # where the box stands
FOUND = "Array.from(document.querySelectorAll('#search-found li span')).map(node => node.textContent)"


@pytest.fixture(scope="module")
def index(tmp_path_factory):
    return here_atlas(tmp_path_factory)


@pytest.fixture(scope="module")
def desk(chromium, index):
    with visit(chromium, index, DESKTOP) as tab:
        tab.go(OPEN)
        yield tab


def asked(tab, words: str) -> list[str]:
    if not tab.page.locator(BOX).is_visible():
        tab.go(OPEN)
    tab.page.locator(BOX).fill(words)
    return tab.page.evaluate(FOUND)


@pytest.mark.parametrize("words", ["Châtelet point", "chatelet", "POINT châ", "point, Chat"])
def test_case_accents_and_order_do_not_matter(desk, words):
    """The name of a place with an accent, as a reader types it."""
    assert asked(desk, words)[0] == "Châtelet point"


@pytest.mark.parametrize(
    ("words", "first"),
    [
        ("north ramp", "North ramp"),
        ("east arm", "East arm"),
        ("S-0012", "Reach S-0012, "),
        ("page 3", "Page 3, East arm, north bank"),
        ("b 1", "Tile B 1"),
        ("frame 003", "Frame 003.jpg"),
        ("parking", "Parking"),
        ("<script>", HOSTILE[:80]),
    ],
)
def test_every_kind_is_found_best_first(desk, words, first):
    """Landmarks, waters, reaches, pages, tiles and photographs; what stands in a name is text."""
    found = asked(desk, words)
    assert found[0].startswith(first)


def test_beginnings_come_before_middles(desk):
    """`ram` begins the ramp and stands in the middle of every photograph's name, `Frame`."""
    found = asked(desk, "ram")
    assert found[0] == "North ramp"
    assert all("Frame" in name for name in found[1:])
    assert len(found) > 1


def test_the_keyboard_walks_the_list_and_opens_the_place(desk):
    """Arrow, Enter: the hazard opens, the map shows it; Escape closes the list and then empties the box."""
    desk.go(OPEN)
    page = desk.page
    page.locator(BOX).focus()
    page.keyboard.type("fence")
    assert page.locator(BOX).get_attribute("aria-expanded") == "true"
    page.keyboard.press("ArrowDown")
    active = page.locator(BOX).get_attribute("aria-activedescendant")
    assert page.locator(f"#{active}").get_attribute("aria-selected") == "true"
    page.keyboard.press("Enter")
    assert desk.hash().startswith("#landmark-l-")
    assert page.evaluate("document.activeElement.textContent").strip() == "Drowned fence"
    inside = "lake.map.getBounds().contains((m => [m.at[1], m.at[0]])(lake.landmarkById.get(lake.chosen.landmark)))"
    assert page.evaluate(inside)
    assert page.locator(".landmark.chosen strong").text_content() == "Posts and wire; dry when 6 ft down."
    desk.go(OPEN)
    page.locator(BOX).fill("fence")
    page.keyboard.press("Escape")
    assert (page.locator("#search-found").is_hidden(), page.locator(BOX).input_value()) == (True, "fence")
    page.keyboard.press("Escape")
    assert page.locator(BOX).input_value() == ""
    assert desk.hash() == OPEN


def test_what_is_not_there_is_said(desk):
    """In words, with what was asked for."""
    assert asked(desk, "nowhere at all") == []
    assert "nowhere at all" in desk.page.locator("[data-search-none]").text_content()


def test_open_search_and_landmark_are_accessible(chromium, index):
    """Nothing serious to axe-core on a phone; options are large enough for a thumb."""
    with visit(chromium, index, PHONE) as tab:
        tab.go(OPEN)
        asked(tab, "n")
        assert serious_faults(tab) == []
        heights = tab.page.evaluate("Array.from(document.querySelectorAll('#search-found li'), n => n.offsetHeight)")
        assert min(heights) >= 44
        tab.page.locator("#search-found li").first.click()
        assert serious_faults(tab) == []


def test_a_tap_on_a_sign_opens_the_landmark(chromium, index):
    """On the map of a phone, at the ramp."""
    with visit(chromium, index, PHONE) as tab:
        tab.go()
        where = tab.page.evaluate(
            "(() => { const m = ATLAS.landmarks.find(m => m.kind === 'ramp');"
            "lake.map.setView([m.at[1], m.at[0]], 17, {animate: false});"
            "const p = lake.map.latLngToContainerPoint([m.at[1], m.at[0]]), b = lake.map.getContainer()"
            ".getBoundingClientRect(); return [p.x + b.left, p.y + b.top]; })()"
        )
        tab.page.touchscreen.tap(*where)
        tab.until("document.documentElement.dataset.shown === 'landmark'")
        assert tab.page.locator(".landmark.chosen h3").text_content().strip() == "North ramp"
