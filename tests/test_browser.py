"""The offline atlas in a real browser: from a file, no network, by pointer, finger, keyboard and without a script."""

from __future__ import annotations

import shutil

import pytest
from browser import DESKTOP, PHONE, SIZES, visit
from sample_atlas import HOSTILE, make_sample_atlas, write_sample_pictures

from atlasgen.write.web import write_web

pytestmark = pytest.mark.browser
# axe may not fetch style sheets by itself: the page's policy forbids it, and it reads them from the document as well.
RULES = {"resultTypes": ["violations"], "preload": False}
PLACES = ("#start", "#page-004", "#reach-S-0001", "#tile-16/1/1", "#list")


@pytest.fixture(scope="module")
def atlas():
    return make_sample_atlas()


@pytest.fixture(scope="module")
def index(atlas, tmp_path_factory):
    out = tmp_path_factory.mktemp("atlas")
    write_sample_pictures(atlas, out)
    write_web(atlas, out, lambda step, done, total: None)
    return out / "index.html"


def chosen(page) -> str:
    """Return the id of the page, reach or tile that shows beside the map; empty for the start."""
    return page.evaluate("(document.querySelector('.page.chosen, .tile.chosen') || {id: ''}).id")


def click_on_map(page, lon_deg: float, lat_deg: float) -> None:
    """Click where a place lies on the map."""
    page.evaluate("document.activeElement.blur()")
    x, y = page.evaluate(
        "([lon, lat]) => { const p = lake.map.latLngToContainerPoint([lat, lon]);"
        " const b = lake.map.getContainer().getBoundingClientRect(); return [p.x + b.left, p.y + b.top]; }",
        [lon_deg, lat_deg],
    )
    page.mouse.click(x, y)


@pytest.mark.parametrize("size", SIZES, ids=["phone", "desktop"])
def test_it_opens_from_a_file_with_a_map_and_without_a_word_from_the_console(chromium, index, size):
    """A double click must do: the lake is drawn, and nothing is asked of any network."""
    with visit(chromium, index, size) as tab:
        tab.go()
        drawn = (
            "Array.from(document.querySelectorAll('.lake canvas')).map(c => c.getContext('2d')"
            ".getImageData(0, 0, c.width, c.height).data.some(v => v > 0))"
        )
        assert tab.page.evaluate(drawn) == [True, True]
        assert tab.page.locator("#start").is_visible()
        assert "Source Sans Pro" in tab.page.evaluate("[...document.fonts].filter(f => f.status == 'loaded')[0].family")


@pytest.mark.parametrize("size", SIZES, ids=["phone", "desktop"])
def test_a_station_a_bank_and_a_tile_answer_a_click(chromium, index, atlas, size):
    """A click takes the photo if one is near, else the bank, else the tile."""
    with visit(chromium, index, size) as tab:
        tab.go()
        photo = atlas.placed.photos[0]
        click_on_map(tab.page, *photo.lonlat)
        assert ("#photo-" + photo.id, "page-001") == (tab.hash(), chosen(tab.page))
        tab.go()
        click_on_map(tab.page, *atlas.placed.reaches[7].midpoint)
        assert (tab.hash(), chosen(tab.page)) == ("#reach-S-0008", "reach-S-0008")
        tab.go()
        west, _, _, north = atlas.placed.tiles[0].bounds_deg
        click_on_map(tab.page, west + 0.0008, north - 0.0004)
        assert (tab.hash(), chosen(tab.page)) == ("#tile-16/1/1", "tile-16/1/1")


@pytest.mark.parametrize("size", SIZES, ids=["phone", "desktop"])
def test_a_page_shows_one_large_photograph_its_words_and_its_drawings(chromium, index, size):
    """Only the chosen photograph is loaded large, and only once it is chosen."""
    with visit(chromium, index, size) as tab:
        asked = []
        tab.page.on("request", lambda r: asked.append(r.url.rsplit("/", 2)[-2:]))
        tab.go("#page-004")
        tab.until("document.querySelector('.figure.chosen img').src.includes('/photos/')")
        tab.page.wait_for_load_state("networkidle")
        assert [name for name in asked if name[0] == "photos"] == [["photos", "p-0000000007.jpg"]]
        page = tab.page.locator(".page.chosen")
        assert page.locator("h3").inner_text() == "East arm, north bank"
        assert page.locator(".words .note").count() == 4
        assert page.get_by_text("82 % of this water is within 25 m of a sounding.").is_visible()
        page.locator(".drawing").last.scroll_into_view_if_needed()
        tab.until("[...document.querySelectorAll('.page.chosen .drawing')].every(i => i.naturalWidth)")
        page.locator("summary").first.click()
        assert page.get_by_text("Direction from EXIF, true.").first.is_visible()


@pytest.mark.parametrize("size", SIZES, ids=["phone", "desktop"])
def test_another_photograph_of_the_page_takes_its_place(chromium, index, size):
    """A thumb is a link to the photo's own address, and Back returns."""
    with visit(chromium, index, size) as tab:
        tab.go("#page-004")
        tab.page.locator(".page.chosen .frame").nth(3).click()
        assert tab.hash() == "#photo-p-000000000a"
        assert tab.page.locator(".figure.chosen .number").inner_text() == "4"
        tab.page.go_back()
        assert (tab.hash(), tab.page.locator(".figure.chosen .number").inner_text()) == ("#page-004", "1")


def test_the_shore_is_walked_by_links_keys_and_strip(chromium, index):
    """Next and previous follow the shore; the straightened shore is a slider, reach by reach."""
    with visit(chromium, index) as tab:
        tab.go("#page-003")
        tab.page.locator(".page.chosen [rel=next]").click()
        assert chosen(tab.page) == "page-004"
        tab.page.keyboard.press("ArrowRight")
        assert chosen(tab.page) == "page-005"
        tab.page.keyboard.press("ArrowLeft")
        tab.page.keyboard.press("ArrowLeft")
        assert chosen(tab.page) == "page-003"
        assert tab.page.locator("[data-said]").inner_text() == (
            "Page 3. East arm, north bank. Photograph 1 of 3. What it shows is not outlined: it is a sample."
        )
        tab.page.locator("[role=slider]").focus()
        tab.page.keyboard.press("ArrowRight")
        assert tab.hash() == "#reach-S-0011"
        assert tab.page.locator("[role=slider]").get_attribute("aria-valuetext").endswith("no photograph")
        tab.page.keyboard.press("Escape")
        assert (chosen(tab.page), tab.page.locator("#start").is_visible()) == ("", True)


def test_a_finger_pulls_along_the_strip(chromium, index, atlas):
    """Pressing at the far left shows the first reach, at the far right the last."""
    with visit(chromium, index, PHONE) as tab:
        tab.go()
        box = tab.page.locator("[role=slider]").bounding_box()
        y = box["y"] + box["height"] / 2
        tab.page.mouse.move(box["x"] + 12, y)
        tab.page.mouse.down()
        assert tab.hash() == "#reach-S-0001"
        tab.page.mouse.move(box["x"] + box["width"] - 14, y, steps=5)
        tab.page.mouse.up()
        assert "#reach-" + atlas.placed.reaches[-1].id == tab.hash()


def test_a_swipe_turns_the_page(chromium, index):
    """A quick stroke to the left is the next page; a stroke down is none."""
    swipe = """([dx, dy]) => { const room = document.getElementById('pages');
      const touch = (x, y) => [new Touch({identifier: 1, target: room, clientX: x, clientY: y})];
      room.dispatchEvent(new TouchEvent('touchstart', {touches: touch(200, 500), bubbles: true}));
      room.dispatchEvent(new TouchEvent('touchend', {changedTouches: touch(200 + dx, 500 + dy), bubbles: true})); }"""
    with visit(chromium, index, PHONE) as tab:
        tab.go("#page-002")
        tab.page.evaluate(swipe, [-120, 10])
        assert chosen(tab.page) == "page-003"
        tab.page.evaluate(swipe, [-70, 160])
        assert chosen(tab.page) == "page-003"
        tab.page.evaluate(swipe, [120, -10])
        assert chosen(tab.page) == "page-002"


def test_a_bare_shore_says_so_with_depth_and_the_nearest_pages(chromium, index):
    """No photograph is an answer too."""
    with visit(chromium, index) as tab:
        tab.go("#reach-S-0001")
        bare = tab.page.locator(".page.chosen")
        assert bare.get_by_text("No photograph of this stretch is in the atlas.").is_visible()
        assert bare.get_by_text("The shallowest is 3 ft, the deepest 18 ft below full supply level.").is_visible()
        assert bare.get_by_text("82 % of this water is within 25 m of a sounding.").is_visible()
        bare.get_by_role("link", name="Page 1,").click()
        assert chosen(tab.page) == "page-001"


def test_a_tile_shows_its_pages_and_leads_to_them(chromium, index, atlas):
    """From a page to its tile, from the tile to another page."""
    with visit(chromium, index) as tab:
        tab.go("#page-001")
        tab.page.locator(".page.chosen .tile-link").click()
        assert chosen(tab.page) == "tile-16/2/1"
        pages = [page for page in atlas.pages if page.tile == "16/2/1"]
        assert tab.page.locator(".tile.chosen .page:visible").count() == len(pages)
        tab.page.locator(".tile.chosen .page h3 a").nth(1).click()
        assert chosen(tab.page) == "page-002"


@pytest.mark.parametrize(("question", "first"), [("deep", "Depth"), ("sure", "How well surveyed")])
def test_a_question_puts_its_answer_first(chromium, index, question, first):
    """The view changes the map, the key, and which words stand on top."""
    with visit(chromium, index) as tab:
        tab.go("#page-003")
        before = tab.page.screenshot(clip={"x": 0, "y": 60, "width": 800, "height": 560})
        tab.page.locator(f"[data-question={question}]").click()
        assert before != tab.page.screenshot(clip={"x": 0, "y": 60, "width": 800, "height": 560})
        tops = tab.page.locator(".page.chosen h4").evaluate_all(
            "all => all.map(h => [h.getBoundingClientRect().top, h.textContent]).sort((a, b) => a[0] - b[0])"
        )
        assert first == tops[0][1]
        assert tab.page.locator(f".key-words[data-for={question}]").is_visible()
        assert tab.page.locator(f"[data-question={question}]").get_attribute("aria-pressed") == "true"


def test_an_address_that_is_no_place_of_ours_opens_the_beginning(chromium, index):
    """Headings and other parts carry ids that look like places; none of them is an error."""
    with visit(chromium, index, DESKTOP) as tab:
        for anchor in ("#page-001-title", "#tile-title-1", "#photo-none", "#reach-none", "#page-", "#%E0%A4%A"):
            tab.go(anchor)
            assert chosen(tab.page) == "", anchor
        assert tab.complaints == []


def test_the_list_holds_all_pages_and_leads_back_to_the_map(chromium, index, atlas):
    """The list is the same document, laid out whole."""
    with visit(chromium, index) as tab:
        tab.go("#page-002")
        tab.page.locator("a[data-question=find]").click()
        tab.page.locator("#find a[href='#list']").click()
        assert len(atlas.pages) == tab.page.locator(".page[data-page]:visible").count()
        assert not tab.page.locator(".lake").is_visible()
        tab.page.locator("#page-005 .frame").first.click()
        assert (tab.hash(), chosen(tab.page)) == ("#photo-p-000000000b", "page-005")
        tab.page.go_back()
        assert tab.hash() == "#list"
        tab.page.locator("button[data-question=there]").click()
        assert chosen(tab.page) == "page-005"


def test_the_sheet_of_a_phone_grows_and_shrinks(chromium, index):
    """Tap the handle for all of the page, for all of the map, and for both again; or drag it."""
    with visit(chromium, index, PHONE) as tab:
        tab.go("#page-001")
        sheet = tab.page.locator("#pages")
        half = sheet.bounding_box()["height"]
        handle = tab.page.locator(".handle")
        handle.click()
        assert sheet.bounding_box()["height"] > 1.5 * half
        handle.click()
        assert sheet.bounding_box()["height"] < 0.5 * half
        handle.click()
        assert half == sheet.bounding_box()["height"]
        box = handle.bounding_box()
        tab.page.mouse.move(box["x"] + box["width"] / 2, box["y"] + 20)
        tab.page.mouse.down()
        tab.page.mouse.move(box["x"] + box["width"] / 2, box["y"] + 120, steps=4)
        tab.page.mouse.up()
        assert sheet.bounding_box()["height"] < 0.5 * half


def test_only_the_page_asked_for_costs_anything(chromium, index, atlas):
    """Other pages lie folded, as text, until they are asked for; the list has them all."""
    count = "document.querySelectorAll('.page[data-page]').length"
    with visit(chromium, index) as tab:
        tab.go()
        assert tab.page.evaluate(count) == 0
        tab.go(f"#{atlas.pages[1].id}")
        tab.until("document.querySelector('.page.chosen') !== null")
        assert tab.page.evaluate(count) == 1
        tab.go("#list")
        tab.until("!document.querySelector('noscript[data-leaf]')")
        assert tab.page.evaluate(count) == len(atlas.pages)


def test_where_a_script_is_missing_the_list_stands_in(chromium, index, atlas, tmp_path):
    """A file that was lost on the way to the device costs the map, not the pages."""
    folder = shutil.copytree(index.parent, tmp_path / "lost")
    (folder / "assets" / "data.js").unlink()
    context = chromium.new_context()
    page = context.new_page()
    page.goto((folder / "index.html").as_uri())
    page.wait_for_selector(f"#{atlas.pages[-1].id} .caption")
    assert page.locator(".page[data-page]").count() == len(atlas.pages)
    assert page.locator(".needs-js:visible").count() == 0
    context.close()


def test_without_a_script_the_list_is_all_there(chromium, index, atlas):
    """Titles, captions, notes and thumbs need no script, and links jump within the page."""
    with visit(chromium, index, PHONE, java_script_enabled=False) as tab:
        tab.go("#page-003")
        for figure in (figure for page in atlas.pages for figure in page.figures):
            assert tab.page.locator(f"#photo-{figure.photo}").get_by_text(figure.caption, exact=True).is_visible()
        assert not tab.page.locator(".lake").is_visible()
        assert tab.page.get_by_text("Local rules and licensed practice decide.").is_visible()
        assert tab.page.locator("#page-003").bounding_box()["y"] < 200


def test_words_from_outside_stay_words(chromium, index):
    """A caption with markup is shown letter by letter; the visit fails on any dialog."""
    with visit(chromium, index) as tab:
        tab.go("#photo-p-0000000003")
        assert tab.page.locator(".figure.chosen .caption span").inner_text() == HOSTILE
        assert tab.page.evaluate("[...document.scripts].filter(s => !s.src).length") == 0


def test_the_policy_holds_against_what_slips_in(chromium, index):
    """Even a script that did get into the page would not run: no inline script, no request."""
    with visit(chromium, index) as tab:
        tab.go()
        tab.page.evaluate(
            "document.body.insertAdjacentHTML('beforeend',"
            ' \'<img id=x src="data:image/png,none" onerror="window.hit=1">\')'
        )
        tab.until("document.getElementById('x').complete")
        assert tab.page.evaluate("window.hit") is None
        assert any("Content Security Policy" in text for text in tab.complaints)
        tab.complaints.clear()


@pytest.mark.parametrize("size", SIZES, ids=["phone", "desktop"])
@pytest.mark.parametrize("theme", ["light", "dark"])
def test_no_serious_barrier_is_found(chromium, index, size, theme):
    """axe-core's rules (WCAG 2.x A and AA and best practice): nothing serious or critical, at any place."""
    from axe_playwright_python.sync_playwright import Axe

    with visit(chromium, index, size, color_scheme=theme) as tab:
        found = []
        for place in PLACES:
            tab.go(place)
            for violation in Axe().run(tab.page, options=RULES).response["violations"]:
                if violation["impact"] in ("serious", "critical"):
                    found.append((place, violation["id"], [node["target"] for node in violation["nodes"]][:3]))
        assert found == []


@pytest.mark.parametrize("size", SIZES, ids=["phone", "desktop"])
def test_what_a_thumb_must_hit_is_large_enough(chromium, index, size):
    """Buttons and navigation are at least 44 px high (WCAG 2.2, 2.5.5 Target Size (Enhanced))."""
    targets = (
        ".questions button, .questions a, .zoom button, .along a, .handle, .close, .doors a, summary, .strip-slider"
    )
    with visit(chromium, index, size) as tab:
        small = []
        for place in PLACES[:3]:
            tab.go(place)
            for target in tab.page.locator(targets).all():
                box = target.bounding_box() if target.is_visible() else None
                if box and box["height"] < 43.5:
                    small.append((place, target.inner_text(), box["height"]))
        assert small == []


def test_nothing_spills_over_the_edge_of_a_phone(chromium, index):
    """No sideways scrolling, even with letters twice as large (WCAG 2.2, 1.4.4 Resize Text)."""
    with visit(chromium, index, PHONE) as tab:
        for place in PLACES:
            for percent in (100, 200):
                tab.go(place)
                tab.page.evaluate(f"document.documentElement.style.fontSize = '{percent}%'")
                widths = tab.page.evaluate("['html', '#pages'].map(q => document.querySelector(q).scrollWidth)")
                assert max(widths) <= PHONE[0], (place, percent, widths)


def test_the_page_prints_without_controls(chromium, index):
    """On paper: the photograph and the words, no map buttons, no strip."""
    with visit(chromium, index, DESKTOP) as tab:
        tab.go("#page-001")
        tab.page.emulate_media(media="print")
        tab.page.locator(".page.chosen .figure.chosen img").wait_for()
        for part in (".questions", ".strip", ".lake", ".sheet-bar", ".along"):
            assert tab.page.locator(f"{part}:visible").count() == 0


def test_a_low_map_keeps_its_room_for_the_lake(chromium, index):
    """Beside a half-open sheet two buttons stand down its side; a lower sheet brings "closer" and "farther" back."""
    buttons = "[...document.querySelectorAll('.zoom button')]"
    shown = f"{buttons}.filter(b => b.offsetHeight).map(b => b.dataset.zoom || 'here')"
    with visit(chromium, index, PHONE) as tab:
        tab.go()
        assert tab.page.evaluate(shown) == ["lake", "here"]
        box, lake = tab.page.locator(".zoom").bounding_box(), tab.page.locator(".lake").bounding_box()
        assert box["y"] >= lake["y"]
        assert box["y"] + box["height"] <= lake["y"] + lake["height"]
        assert tab.page.evaluate("lake.map.latLngToContainerPoint([ATLAS.bounds[1], ATLAS.bounds[2]]).x") <= box["x"]
        for size in ("tall", "low"):
            tab.page.locator(".handle").click()
            tab.until(f"document.documentElement.dataset.sheet == '{size}'")
        assert tab.page.evaluate(shown) == ["in", "out", "lake", "here"]
        assert min(tab.page.locator(".zoom button").first.bounding_box()[side] for side in ("width", "height")) >= 44
