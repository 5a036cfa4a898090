"""Paper, dark and sunlight in a real browser: chosen, kept, drawn, free of barriers, and readable at twice the size."""

from __future__ import annotations

import pytest
from browser import DESKTOP, PHONE, SIZES, visit
from sample_atlas import make_sample_atlas, write_sample_pictures

from atlasgen.write.web import write_web

pytestmark = pytest.mark.browser
THEMES = ("paper", "dark", "sunlight")
GROUND = {"paper": "rgb(255, 255, 255)", "dark": "rgb(25, 28, 29)", "sunlight": "rgb(255, 255, 255)"}


@pytest.fixture(scope="module")
def index(tmp_path_factory):
    out = tmp_path_factory.mktemp("themes")
    write_sample_pictures(make_sample_atlas(), out)
    write_web(make_sample_atlas(), out, lambda step, done, total: None)
    return out / "index.html"


def theme(page) -> str:
    return page.evaluate("document.documentElement.dataset.theme")


def pick(page, light: str) -> None:
    """Choose a light as a reader does."""
    page.locator(".light summary").click()
    page.locator(f".light input[value={light}]").check()
    page.keyboard.press("Escape")


@pytest.mark.parametrize("size", SIZES, ids=["phone", "desktop"])
def test_the_light_is_chosen_and_kept(chromium, index, size):
    """The colours change at once, on the map too, and the device remembers."""
    with visit(chromium, index, size) as tab:
        tab.go("#page-002")
        seen = []
        for light in THEMES:
            pick(tab.page, light)
            assert theme(tab.page) == light
            assert tab.page.evaluate("getComputedStyle(document.body).backgroundColor") == GROUND[light]
            seen.append(tab.page.evaluate("lake.colour('camera') + lake.tint(0.5) + lake.weight()"))
            tab.go("#page-002")
            assert theme(tab.page) == light
        assert len(set(seen)) == 3
        pick(tab.page, "device")
        tab.page.emulate_media(color_scheme="dark")
        tab.until("document.documentElement.dataset.theme === 'dark'")


def test_the_device_is_followed_unless_a_light_is_chosen(chromium, index):
    """Dark by night, the most contrast where the device asks for more; a choice outweighs both."""
    with visit(chromium, index, PHONE, color_scheme="dark") as tab:
        tab.go()
        assert theme(tab.page) == "dark"
        tab.page.emulate_media(color_scheme="light", contrast="more")
        tab.until("document.documentElement.dataset.theme === 'sunlight'")
        pick(tab.page, "paper")
        tab.page.emulate_media(color_scheme="dark")
        assert theme(tab.page) == "paper"


def test_storage_that_is_closed_does_no_harm(chromium, index):
    """Some browsers keep nothing for files: the choice then holds until the page is left."""
    with visit(chromium, index) as tab:
        tab.page.add_init_script(
            "Object.defineProperty(window, 'localStorage', { get() { throw new Error('closed'); } })"
        )
        tab.go("#page-002")
        pick(tab.page, "sunlight")
        assert theme(tab.page) == "sunlight"
        assert tab.page.locator(".page.chosen").is_visible()


@pytest.mark.parametrize("light", THEMES)
def test_the_keyboard_can_be_followed(chromium, index, light):
    """Every stop of the Tab key shows a ring of at least 3 px, the link that skips to the pages first."""
    with visit(chromium, index, DESKTOP) as tab:
        tab.go("#page-002")
        pick(tab.page, light)
        tab.go()
        stops = []
        for _ in range(24):
            tab.page.keyboard.press("Tab")
            stops.append(
                tab.page.evaluate(
                    "(() => { const e = document.activeElement, s = getComputedStyle(e);"
                    " return [e === document.body ? 'BODY' : e.textContent.trim(), s.outlineStyle,"
                    " parseFloat(s.outlineWidth)]; })()"
                )
            )
        assert stops[0][0] == "Skip to the pages"
        assert [stop for stop in stops if stop[0] != "BODY" and (stop[1] == "none" or stop[2] < 3)] == []


def test_colours_set_by_the_device_leave_the_question_asked_in_sight(chromium, index):
    """With forced colours the mark of the question asked differs from the others'."""
    with visit(chromium, index, DESKTOP, forced_colors="active") as tab:
        tab.go("#page-002")
        marks = tab.page.locator(".questions > *").evaluate_all(
            "all => all.map(one => getComputedStyle(one).borderBottomColor)"
        )
        assert marks[0] not in marks[1:]


# Letters of twice the size: no word may lie outside the screen, or be cut off by the box that holds it.
CUT_OFF = """() => {
  const words = 'h1, h2, h3, h4, p, li, a, button, summary, label, b, span, figcaption';
  return [...document.querySelectorAll(words)].filter(one => one.checkVisibility() && one.textContent.trim()
    && !one.closest('.unseen, .scroll, .leaflet-container, svg')).filter(one => {
    const box = one.getBoundingClientRect(), style = getComputedStyle(one);
    const hides = style.overflowX !== 'visible' && one.scrollWidth > one.clientWidth + 1
      || style.overflowY === 'hidden' && one.scrollHeight > one.clientHeight + 1;
    return style.clipPath === 'none' && (box.left < -1 || box.right > innerWidth + 1 || hides);
  }).map(one => one.tagName + ' ' + one.className + ': ' + one.textContent.trim().slice(0, 40));
}"""


@pytest.mark.parametrize("light", ["paper", "sunlight"])
def test_nothing_is_cut_off_with_letters_of_twice_the_size(chromium, index, light):
    """WCAG 2.2, 1.4.4 Resize Text, on a phone 360 px wide."""
    with visit(chromium, index, PHONE) as tab:
        for place in ("#start", "#page-004", "#reach-S-0001", "#tile-16/1/1", "#list"):
            tab.go(place)
            if place == "#start":
                pick(tab.page, light)
            tab.page.evaluate("document.documentElement.style.fontSize = '200%'")
            assert tab.page.evaluate(CUT_OFF) == [], place
            low = tab.page.locator(".questions").bounding_box()
            assert low["y"] + low["height"] <= PHONE[1] + 1
            assert tab.page.locator("#pages").bounding_box()["height"] > 150
