"""The pocket edition in a real browser: from one file, nothing else within reach, with and without a script."""

from __future__ import annotations

import re
from pathlib import Path

import gpxpy
import pytest
from browser import visit
from sample_atlas import HOSTILE
from sample_pocket import make_small_edition, quick

from atlasgen.ship.pocket import write_pocket
from atlasgen.ship.pocket_page import page_words

pytestmark = pytest.mark.browser
SIZES = ((390, 844), (1280, 800))
both_sizes = pytest.mark.parametrize("size", SIZES, ids=["phone", "desktop"])
PHOTOS = 12


@pytest.fixture(scope="module")
def page(tmp_path_factory):
    """Return the one file, alone in its folder."""
    target = tmp_path_factory.mktemp("phone") / "lake.html"
    with quick():
        edition = make_small_edition(tmp_path_factory.mktemp("edition") / "atlas")
        write_pocket(edition, target, 25_000_000, lambda step, done, total: None)
    return target


def asked_of(tab):
    """Keep what the page asks for beyond what it holds."""
    asked = []
    tab.page.on("request", lambda r: r.url.startswith("data:") or asked.append(r.url.split("#")[0]))
    return asked


@both_sizes
def test_without_a_script_all_photos_words_and_drawings_are_there(chromium, page, size):
    """A viewer that runs nothing shows the whole list: photos as wide as there is room, one below the other."""
    with visit(chromium, page, size, java_script_enabled=False) as tab:
        asked = asked_of(tab)
        tab.go()
        photos = tab.page.locator(".figure img")
        widths = photos.evaluate_all("all => all.map(i => i.naturalWidth && i.getBoundingClientRect().width)")
        assert len(widths) == PHOTOS
        assert min(widths) > 0.4 * min(size[0], 1088)
        assert tab.page.get_by_text(HOSTILE, exact=True).is_visible()
        assert tab.page.locator(".page .profile-drawing").first.is_visible()
        assert tab.page.locator("#pocket").get_by_text("This is the pocket edition of").is_visible()
        assert asked == [page.as_uri()]
        tab.go("#pocket")
        assert abs(tab.page.locator("#pocket").bounding_box()["y"]) < 100


@both_sizes
def test_with_a_script_the_map_and_every_picture_show(chromium, page, size):
    """The lake is drawn, a photo chosen from a bank's row shows, and the compass has its pictures; nothing is asked."""
    with visit(chromium, page, size) as tab:
        asked = asked_of(tab)
        tab.go()
        drawn = (
            "Array.from(document.querySelectorAll('.lake canvas')).map(c => c.getContext('2d')"
            ".getImageData(0, 0, c.width, c.height).data.some(v => v > 0))"
        )
        assert tab.page.evaluate(drawn) == [True, True]
        assert tab.page.evaluate("[...document.fonts].some(f => f.status == 'loaded')")
        tab.go("#page-005")
        tab.until("document.querySelector('.figure.chosen img').naturalWidth == 240")
        assert tab.page.locator(".figure.chosen img").is_visible()
        tab.page.locator(".page.chosen [rel=prev]").click()
        assert tab.hash() == "#page-004"
        pictures = tab.page.locator(".page.chosen image[data-picture]")
        hrefs = pictures.evaluate_all("all => all.map(i => i.getAttribute('href').slice(0, 16))")
        assert hrefs == ["data:image/webp;"] * 4
        pictures.nth(2).click()
        tab.until("location.hash.startsWith('#photo-')")
        assert tab.page.locator(".figure.chosen .number").inner_text() == "3"
        assert asked == [page.as_uri()] * 2


def test_the_chosen_photograph_fills_the_screen_and_leaves_it_again(chromium, page):
    """A second tap on it opens it large with its caption; Esc, and a button, return to the same page."""
    with visit(chromium, page, SIZES[0]) as tab:
        tab.go("#page-005")
        large = tab.page.locator("dialog.viewer")
        for leave in (lambda: tab.page.keyboard.press("Escape"), lambda: large.locator("[data-does=close]").click()):
            tab.page.locator(".figure.chosen .frame").click()
            assert large.bounding_box() == {"x": 0, "y": 0, "width": 390, "height": 844}
            assert large.locator("img").evaluate("i => i.naturalWidth") == 240
            assert large.locator("p b").inner_text() == "1"
            leave()
            assert not large.is_visible()
            assert tab.hash() == "#page-005"


def test_a_viewer_that_keeps_no_addresses_is_no_hindrance(chromium, page):
    """Some viewers let a page change nothing of its address; the pages turn all the same."""
    with visit(chromium, page) as tab:
        tab.go("#page-001")
        tab.page.evaluate(
            "() => { history.pushState = history.replaceState = () => { throw new DOMException('no'); }; }"
        )
        for number in (2, 3):
            tab.page.keyboard.press("ArrowRight")
            assert tab.page.locator(".page.chosen").get_attribute("data-page") == str(number)
        tab.page.keyboard.press("Escape")
        assert tab.page.locator("#start").is_visible()


def test_photographs_left_out_leave_words_and_no_fault(chromium, page, tmp_path):
    """A page's later photographs may be words in the list and on their page."""
    small = tmp_path / "lake.html"
    first, *others = re.split('<img src="data:image/webp[^>]*>', page.read_text(encoding="utf-8"))
    picture = re.search('<img src="data:image/webp[^>]*>', page.read_text(encoding="utf-8")).group()
    small.write_text(first + picture + page_words("en").left_out.join(others), encoding="utf-8", newline="\n")
    with visit(chromium, small, SIZES[0]) as tab:
        tab.go("#list")
        words = tab.page.get_by_text("This photograph is only in the full atlas.")
        assert words.count() == PHOTOS - 1
        assert words.first.is_visible()
        gone = tab.page.locator(".frame:has(.left-out)").first.get_attribute("data-photo")
        tab.go(f"#photo-{gone}")
        assert tab.page.locator(".figure.chosen .left-out").is_visible()
        tab.page.locator(".figure.chosen .frame").click()
        assert not tab.page.locator("dialog.viewer").is_visible()


def test_search_the_readers_place_and_marks_work_in_one_file(chromium, page):
    """A bank is found by its id; a typed position is marked, kept over a reload and saved as GPX."""
    with visit(chromium, page, SIZES[0], accept_downloads=True) as tab:
        tab.go("#find")
        tab.page.locator("#search-words").fill("s-0005")
        tab.page.keyboard.press("Enter")
        assert tab.hash() == "#reach-S-0005"
        tab.page.locator("[data-here]").click()
        tab.page.locator("[data-here-type]").click()
        tab.page.locator("#here-typed").fill("31.503 S 96.402 W")
        tab.page.keyboard.press("Enter")
        tab.page.locator("[data-here-mark]").click()
        tab.page.locator("#marks-name").fill("Perch")
        tab.page.keyboard.press("Enter")
        tab.go("#marks")
        with tab.page.expect_download() as waiting:
            tab.page.locator("[data-marks-save=gpx]").click()
        (point,) = gpxpy.parse(Path(waiting.value.path()).read_text(encoding="utf-8")).waypoints
        assert (point.name, point.latitude, point.longitude) == ("Perch", -31.503, -96.402)
