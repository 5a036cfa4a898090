"""A survey whose every word attacks, in a real browser: nothing runs, nothing is asked for, no complaint is made."""

from __future__ import annotations

import sys
from contextlib import contextmanager

import pytest
from browser import DESKTOP, LOCAL, chromium_path
from hostile_survey import MARKUP, RUN, built_once
from reading import reading

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(sys.platform == "win32", reason="Windows lets no file have a name of this kind"),
]
# Whatever runs, at whatever time and in whatever frame, is counted; so is what the page's policy had to stop.
WATCH = """
window.__stopped = [];
document.addEventListener("securitypolicyviolation", (e) => window.__stopped.push(e.violatedDirective + e.blockedURI));
"""


@pytest.fixture(scope="module")
def top(tmp_path_factory):
    return built_once(tmp_path_factory)


@pytest.fixture(scope="module")
def driver():
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        yield playwright


@pytest.fixture(scope="module")
def chromium(driver):
    browser = driver.chromium.launch(executable_path=chromium_path(), args=["--no-sandbox"])
    yield browser
    browser.close()


def counted(page) -> list[str]:
    """Return what the page itself has counted."""
    return page.evaluate("[...(window.__stopped || []), ...('__ran' in window ? ['it ran'] : [])]")


@contextmanager
def watched(browser, below, size=DESKTOP):
    """Give a tab that may open files below a folder and nothing else, and the list of what it did amiss.

    Complaints, requests elsewhere, dialogs and further tabs are told as they come; what ran or was stopped, on leaving.
    """
    told: list[str] = []
    context = browser.new_context(viewport={"width": size[0], "height": size[1]}, reduced_motion="reduce")
    context.add_init_script(WATCH)
    page = context.new_page()
    home = below.as_uri()

    def route(route) -> None:
        url = route.request.url
        if url.startswith((home, "data:", "about:")):
            route.continue_()
        else:
            told.append(f"asked for {url}")
            route.abort()

    context.route("**/*", route)
    page.on("request", lambda r: r.url.startswith(LOCAL) or told.append(f"asked for {r.url}"))
    page.on("console", lambda m: m.type in ("error", "warning") and told.append(m.text))
    page.on("pageerror", lambda e: told.append(str(e)))
    page.on("dialog", lambda d: (told.append(f"dialog: {d.message}"), d.dismiss()))
    context.on("page", lambda other: other is page or told.append(f"opened {other.url}"))
    try:
        yield page, told
        told += counted(page)
    finally:
        context.close()


def test_the_watch_would_see_a_run(chromium, tmp_path):
    """On a page that does run it: else the tests below could not fail."""
    (tmp_path / "bad.html").write_text(f"<img src=x onerror={RUN}>", encoding="utf-8")
    page = chromium.new_page()
    page.goto((tmp_path / "bad.html").as_uri())
    page.wait_for_function("'__ran' in window")
    assert counted(page) == ["it ran"]
    page.close()


def test_every_page_tile_photo_and_part_is_opened_and_nothing_runs(chromium, top):
    """By the atlas's own addresses, with all that unfolds unfolded and all that is pressed pressed."""
    with watched(chromium, top / "atlas") as (page, told):
        page.goto((top / "atlas" / "index.html").as_uri())
        page.evaluate("lake.unfoldAll(document)")
        places = page.evaluate(
            "[...new Set([...document.querySelectorAll('a[href^=\"#\"]')].map(a => a.hash).concat("
            "[...document.querySelectorAll('.page[id], .tile[id], .figure[id]')].map(e => '#' + e.id)))]"
        )
        assert sum(place.startswith("#photo-") for place in places) >= 4
        assert any(place.startswith("#tile-Sh4") for place in places)
        page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true; })")
        for place in places:
            page.evaluate("place => { location.hash = place; }", place)
        page.evaluate("document.querySelectorAll('button[data-question]').forEach(b => b.click())")
        page.evaluate(
            "document.querySelectorAll('*').forEach(e => ['mouseover', 'focus', 'error', 'load', 'toggle']"
            ".forEach(name => e.dispatchEvent(new Event(name))))"
        )
        page.wait_for_load_state("networkidle")
    assert told == []


def test_the_pocket_edition_is_opened_bank_by_bank_and_nothing_runs(chromium, top):
    """One file with everything in it, its scripts and styles too."""
    with watched(chromium, top / "card") as (page, told):
        page.goto((top / "card" / "pocket.html").as_uri())
        page.evaluate("lake.unfoldAll(document)")
        places = page.evaluate("[...new Set([...document.querySelectorAll('a[href^=\"#\"]')].map(a => a.hash))]")
        assert sum(place.startswith(("#page-", "#tile-", "#reach-")) for place in places) > 5
        page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true; })")
        for place in places:
            page.evaluate("place => { location.hash = place; }", place)
        page.wait_for_load_state("networkidle")
    assert told == []


def test_attacks_put_into_the_address_and_every_box_stay_words(chromium, top):
    """What a reader is made to paste, or what a link to a card holds."""
    with watched(chromium, top / "atlas") as (page, told):
        page.goto((top / "atlas" / "index.html").as_uri())
        for attack in MARKUP:
            page.evaluate(
                "attack => { document.querySelectorAll('input:not([type=file]), textarea')"
                ".forEach(box => { box.value = attack;"
                " ['input', 'change'].forEach(n => box.dispatchEvent(new Event(n, { bubbles: true }))); });"
                " location.hash = attack; location.hash = encodeURIComponent(attack);"
                " location.hash = 'photo-' + attack; location.hash = 'reach-' + encodeURIComponent(attack); }",
                attack,
            )
        page.wait_for_load_state("networkidle")
    assert told == []


def test_every_drawing_and_the_cards_read_me_are_opened_alone(chromium, top):
    """As a file manager would, where no policy of the atlas holds."""
    drawings = sorted((top / "atlas" / "drawings").glob("*.svg"))
    assert len(drawings) > 5
    with watched(chromium, top) as (page, told):
        for path in (*drawings, top / "card" / "READ ME FIRST.html"):
            page.goto(path.as_uri())
            assert page.evaluate("'__ran' in window || window.__stopped.length") in (False, 0), path.name
            assert page.evaluate("document.querySelector('parsererror')") is None, path.name
    assert told == []


def test_another_browser_runs_nothing_either(top):
    """Firefox: the pages one after the other; a request elsewhere fails on leaving."""
    with reading("firefox", top / "atlas" / "index.html", DESKTOP) as reader:
        reader.go()
        pages = reader.js("ATLAS.pages.map(page => page.id)")
        for page in pages:
            reader.js(f"(() => {{ location.hash = {page!r}; return true; }})()")
            reader.until(f"document.querySelector('.page.chosen').id === {page!r}")
        assert len(pages) > 1
        assert reader.js("'__ran' in window") is False
