"""Photographs in a real browser: first on a phone, walked along the shore, filling the screen, beside one another."""

from __future__ import annotations

import pytest
from browser import DESKTOP, PHONE, SIZES, visit
from sample_atlas import write_sample_pictures
from sample_repeats import make_repeated_atlas
from sample_turn import SET_PAGE, make_turned_atlas

from atlasgen.write.web import write_web

pytestmark = pytest.mark.browser
both_sizes = pytest.mark.parametrize("size", SIZES, ids=["phone", "desktop"])
BELOW = "[...document.querySelectorAll('.strip')].map(one => one.getBoundingClientRect().top)[0]"


def write(make, folder):
    write_sample_pictures(make(), folder)
    write_web(make(), folder, lambda step, done, total: None)
    return folder / "index.html"


@pytest.fixture(scope="module")
def index(tmp_path_factory):
    return write(make_repeated_atlas, tmp_path_factory.mktemp("repeats"))


@pytest.fixture(scope="module")
def turned(tmp_path_factory):
    return write(make_turned_atlas, tmp_path_factory.mktemp("turned"))


def tap_bank(tab, reach_id: str) -> None:
    """Tap the middle of a reach on the map."""
    x, y = tab.page.evaluate(
        "id => { const all = lake.reachById.get(id).points, i = Math.floor((all.length - 1) / 2);"
        " const middle = [0, 1].map(axis => (all[i][axis] + all[i + 1][axis]) / 2);"
        " lake.map.setView(middle, 18, {animate: false}); const p = lake.map.latLngToContainerPoint(middle),"
        " b = lake.map.getContainer().getBoundingClientRect(); return [p.x + b.left, p.y + b.top]; }",
        reach_id,
    )
    tab.page.touchscreen.tap(x, y)


def seen_whole(tab) -> bool:
    """Tell whether the large photograph stands on the screen, all of it."""
    box = tab.page.locator(".page.chosen .figure.chosen .frame").bounding_box()
    sheet = tab.page.locator("#pages").bounding_box()
    return sheet["y"] <= box["y"] and box["y"] + box["height"] <= tab.page.evaluate(BELOW) + 1


def test_a_tap_on_a_bank_shows_its_best_photograph_at_once(chromium, index):
    """On a phone, without scrolling: of a bank with a page, and of one that another page's photograph shows best."""
    with visit(chromium, index, PHONE) as tab:
        tab.go()
        shown = tab.page.evaluate(
            "ATLAS.reaches.filter(r => r.shownBy.length).map(r => [r.id, lake.shownBy(r)[0].photo.id, r.pages.length])"
        )
        own, other = (next(one for one in shown if bool(one[2]) is has) for has in (True, False))
        for reach, photo, _ in (own, other):
            tab.go()
            tap_bank(tab, reach)
            tab.until("!!document.querySelector('.page.chosen .figure.chosen')")
            assert tab.hash() == f"#reach-{reach}"
            assert tab.page.locator(".figure.chosen .frame").get_attribute("data-photo") == photo
            assert seen_whole(tab)


def test_a_page_has_its_title_photograph_and_buttons_above_the_fold_of_a_phone(chromium, index):
    """The title stands in the sheet's bar; what is to be pressed is at least 44 px either way."""
    with visit(chromium, index, PHONE) as tab:
        tab.go("#page-003")
        assert seen_whole(tab)
        title = tab.page.locator(".page.chosen h3").bounding_box()
        frame = tab.page.locator(".figure.chosen .frame").bounding_box()
        assert title["y"] + title["height"] <= frame["y"] + 1
        for button in tab.page.locator(".figure.chosen .walk button").all():
            box = button.bounding_box()
            assert min(box["width"], box["height"]) >= 44
            assert box["y"] + box["height"] <= frame["y"] + frame["height"] + 1


def test_buttons_walk_along_the_shore_photograph_by_photograph(chromium, index):
    """Through the photographs of a page, on to the next, and back again; the button keeps the keyboard."""
    with visit(chromium, index, DESKTOP) as tab:
        tab.go("#page-002")
        after = tab.page.locator(".walk [data-does=after]")
        after.click()
        assert tab.page.locator(".figure.chosen .number").inner_text() == "2"
        after.click()
        assert tab.page.locator(".page.chosen").get_attribute("id") == "page-003"
        assert tab.page.evaluate("document.activeElement.dataset.does") == "after"
        tab.page.locator(".walk [data-does=before]").click()
        assert tab.hash() == "#photo-p-0000000003"
        tab.go("#page-001")
        tab.page.locator(".walk [data-does=before]").click()
        assert tab.page.locator("[data-said]").inner_text() == "This is the first page."


def drag(tab, selector: str, across: float, kind: str = "touch") -> None:
    """Pull with one finger, by the browser's own events."""
    tab.page.locator(selector).first.evaluate(
        "(node, [across, kind]) => { const b = node.getBoundingClientRect(), x = b.left + b.width / 2,"
        " y = b.top + b.height / 2; const send = (name, dx) => node.dispatchEvent(new PointerEvent(name,"
        " {bubbles: true, isPrimary: true, pointerId: 7, pointerType: kind, clientX: x + dx, clientY: y}));"
        " node.setPointerCapture = () => {}; send('pointerdown', 0); send('pointermove', across / 2);"
        " send('pointermove', across); send('pointerup', across); }",
        [across, kind],
    )


def test_a_finger_on_the_photograph_walks_along_the_shore(chromium, index):
    """To the left is on, to the right is back; a short or a steep pull is nothing; with still pictures as well."""
    with visit(chromium, index, PHONE) as tab:
        tab.go("#page-001")
        drag(tab, ".figure.chosen .frame", -20)
        assert tab.page.locator(".page.chosen").get_attribute("id") == "page-001"
        drag(tab, ".figure.chosen .frame", -120)
        assert tab.page.locator(".page.chosen").get_attribute("id") == "page-002"
        drag(tab, ".figure.chosen .frame", 120)
        assert tab.page.locator(".page.chosen").get_attribute("id") == "page-001"


@both_sizes
def test_a_photograph_fills_the_screen(chromium, index, size):
    """It comes closer by keys and wheel, walks, says where it looks, keeps the keyboard, and goes back."""
    with visit(chromium, index, size) as tab:
        tab.go("#page-002")
        tab.page.locator(".figure.chosen .frame").click()
        viewer = tab.page.locator("dialog.viewer")
        assert viewer.bounding_box() == {"x": 0, "y": 0, "width": size[0], "height": size[1]}
        heading = tab.page.evaluate("lake.photoById.get('p-0000000002').heading")
        looks = viewer.locator(".looks")
        assert looks.get_attribute("aria-label").startswith(f"The camera looked {round(heading)}°")
        assert looks.locator("g").get_attribute("transform") == f"rotate({heading:g} 20 20)"
        assert viewer.locator(".viewer-words .number").inner_text() == "1"
        tab.page.keyboard.press("+")
        tab.page.keyboard.press("ArrowRight")
        moved = viewer.locator("img").evaluate("i => i.style.transform")
        assert "scale(1.6)" in moved
        assert "translate(-60px" in moved
        tab.page.keyboard.press("0")
        tab.page.keyboard.press("ArrowRight")
        assert viewer.locator(".viewer-words .number").inner_text() == "2"
        for _ in range(12):
            tab.page.keyboard.press("Tab")
            inside = "document.activeElement === document.body || !!document.activeElement.closest('dialog.viewer')"
            assert tab.page.evaluate(inside)
        tab.page.keyboard.press("Escape")
        assert not viewer.is_visible()
        assert tab.hash() == "#photo-p-0000000003"
        assert tab.page.evaluate("document.activeElement.dataset.photo") == "p-0000000003"


def test_two_fingers_bring_a_photograph_closer(chromium, index):
    """What lies between the fingers stays between them."""
    with visit(chromium, index, PHONE) as tab:
        tab.go("#page-002")
        tab.page.locator(".walk [data-does=large]").click()
        tab.page.locator(".viewer-stage").evaluate(
            "node => { node.setPointerCapture = () => {}; const send = (name, id, x) => node.dispatchEvent("
            "new PointerEvent(name, {pointerId: id, pointerType: 'touch', clientX: x, clientY: 200}));"
            " send('pointerdown', 1, 150); send('pointerdown', 2, 210);"
            " send('pointermove', 1, 120); send('pointermove', 2, 240); }"
        )
        moved = tab.page.locator(".viewer img").evaluate("i => new DOMMatrix(i.style.transform).a")
        assert moved == pytest.approx(2.0)
        box = tab.page.locator(".viewer-buttons button").all()
        assert min(min(b.bounding_box()["width"], b.bounding_box()["height"]) for b in box) >= 44


@both_sizes
def test_a_repeat_is_flipped_in_one_place_by_press_and_key(chromium, index, size):
    """Both stand where the other stood; date, level and how alike they are stay in words; nothing moves by itself."""
    with visit(chromium, index, size) as tab:
        tab.go("#page-001")
        door = tab.page.get_by_role("button", name="The same bank on 8 Apr 2026, 3.1 ft below full: flip the two")
        door.click()
        box = tab.page.locator("dialog.beside")
        when = box.locator("figure:not(.under) [data-when]")
        places = [pane.bounding_box() for pane in box.locator("figure img").all()]
        assert places[0] == places[1]
        assert when.all_inner_texts() == ["4 Mar 2026, 1.4 ft below full"]
        box.locator("[data-does=other]").click()
        assert when.all_inner_texts() == ["8 Apr 2026, 3.1 ft below full"]
        tab.page.keyboard.press("ArrowLeft")
        assert when.all_inner_texts() == ["4 Mar 2026, 1.4 ft below full"]
        assert box.locator("[data-told]").inner_text().startswith("Stations 5 m apart on the map, directions 3° apart")
        assert "at most 30 m apart" in box.locator("[data-told]").inner_text()
        box.locator("[data-does=flip]").click()
        first, second = [pane.bounding_box() for pane in box.locator("figure").all()]
        assert (first["y"] + first["height"] <= second["y"]) if size == PHONE else (first["y"] == second["y"])
        tab.page.keyboard.press("Escape")
        assert tab.page.evaluate("document.activeElement.textContent").startswith("The same bank on 8 Apr 2026")


def test_another_photograph_of_the_bank_is_chosen_to_lie_beside(chromium, index):
    """The second is any that shows this reach; its page is one step away."""
    with visit(chromium, index, DESKTOP) as tab:
        tab.go("#page-004")
        tab.page.get_by_role("button", name="Lay another of this bank beside it").click()
        box, reach = tab.page.locator("dialog.beside"), tab.page.evaluate("lake.chosen.reaches[0]")
        shows = tab.page.evaluate("id => lake.shownBy(lake.reachById.get(id)).map(one => one.photo.id)", reach)
        mine = tab.page.evaluate("lake.chosen.photo")
        offered = box.locator("[data-choose]").evaluate_all("all => all.map(one => one.dataset.choose)")
        assert offered == [photo for photo in shows if photo != mine]
        box.locator("[data-choose]").last.click()
        assert box.locator("[data-choose]").last.get_attribute("aria-pressed") == "true"
        box.locator("figure").nth(1).locator("[data-where]").click()
        assert tab.hash() == f"#photo-{offered[-1]}"
        assert not box.is_visible()


@both_sizes
def test_a_set_is_pulled_round_and_the_map_looks_along(chromium, turned, size):
    """By finger and by key; the strip has no end; where nothing was photographed it says so."""
    with visit(chromium, turned, size) as tab:
        tab.go(f"#page-{SET_PAGE:03d}")
        strip = tab.page.locator(".pano")
        assert strip.is_visible()
        now = "Number(document.querySelector('.pano').getAttribute('aria-valuenow'))"
        start = tab.page.evaluate(now)
        first = tab.page.evaluate("lake.chosen.photo")
        assert abs(start - tab.page.evaluate("lake.photoById.get(lake.chosen.photo).heading")) <= 1
        strip.focus()
        for _ in range(6):
            tab.page.keyboard.press("ArrowRight")
        assert tab.page.evaluate(now) == (start + 30) % 360
        for _ in range(72):
            tab.page.keyboard.press("ArrowRight")
        assert tab.page.evaluate(now) == (start + 30) % 360
        said = set()
        for _ in range(36):
            tab.page.keyboard.press("ArrowRight")
            tab.page.keyboard.press("ArrowRight")
            said.add(strip.get_attribute("aria-valuetext").split(", ")[1])
        assert "not photographed" in said
        assert len(said) > 2
        assert tab.page.locator(".pano-gap").first.inner_text() == "not photographed"
        drag(tab, ".pano", -200, "mouse")
        tab.until("location.hash.startsWith('#photo-') || lake.chosen.photo === null")
        assert tab.page.evaluate("lake.chosen.photo") != first or tab.page.evaluate(now) != start


def test_a_page_goes_to_paper_clean(chromium, index, tmp_path):
    """Read back from the PDF: title, notes, caution and address as text, the photograph, and no control."""
    import pypdfium2

    with visit(chromium, index, DESKTOP) as tab:
        tab.go("#page-002")
        tab.until("document.querySelector('.figure.chosen img').src.includes('/photos/')")
        tab.page.pdf(path=tmp_path / "page.pdf", format="A4")
    document = pypdfium2.PdfDocument(tmp_path / "page.pdf")
    assert len(document) == 1
    text = " ".join(document[0].get_textpage().get_text_range().split())
    for words in ("East arm, north bank", "82 % of this water", "Levels change: look before you run.", "#page-002"):
        assert words in text
    for control in ("What is there?", "Close", "Light", "Lay another", "page 3"):
        assert control not in text
    kinds = [item.type for item in document[0].get_objects(max_depth=4)]
    assert kinds.count(pypdfium2.raw.FPDF_PAGEOBJ_IMAGE) >= 1


def test_without_a_script_a_phone_shows_each_photograph_as_wide_as_the_page(chromium, index):
    """A link arrives at its page, and the words stand below the picture, not beside it."""
    with visit(chromium, index, PHONE, java_script_enabled=False) as tab:
        tab.go("#page-004")
        assert abs(tab.page.locator("#page-004").bounding_box()["y"]) < 120
        for picture in tab.page.locator("#page-004 .figure img").all():
            assert picture.bounding_box()["width"] > 300
        assert not tab.page.locator(".viewer, .beside, .light, .print-address").first.is_visible()


# axe may not fetch style sheets by itself: the page's policy forbids it, and it reads them from the document as well.
STANDARD = {
    "resultTypes": ["violations"],
    "preload": False,
    "runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
}


@pytest.mark.parametrize(("light", "size"), [("paper", PHONE), ("dark", DESKTOP), ("sunlight", PHONE)])
def test_no_barrier_is_found_on_any_screen_of_photographs(chromium, index, turned, light, size):
    """axe-core's rules for WCAG 2.2 A and AA: a page, the light, the screen filled, two photographs, a set."""
    from axe_playwright_python.sync_playwright import Axe

    found = []

    def look(tab, screen: str) -> None:
        for fault in Axe().run(tab.page, options=STANDARD).response["violations"]:
            found.append((screen, fault["id"], [(n["target"], n["html"][:90]) for n in fault["nodes"]][:3]))

    keep = f"try {{ localStorage.setItem('atlas-light', '{light}'); }} catch (error) {{}}"
    with visit(chromium, index, size) as tab:
        tab.page.add_init_script(keep)
        tab.go("#page-001")
        assert tab.page.evaluate("document.documentElement.dataset.theme") == light
        tab.page.locator(".light summary").click()
        look(tab, "page and light")
        tab.page.keyboard.press("Escape")
        tab.page.locator(".walk [data-does=large]").click()
        look(tab, "viewer")
        tab.page.keyboard.press("Escape")
        tab.page.locator(".besides .door").first.click()
        tab.page.locator(".beside [data-does=flip]").click()
        look(tab, "beside")
    with visit(chromium, turned, size) as tab:
        tab.page.add_init_script(keep)
        tab.go(f"#page-{SET_PAGE:03d}")
        look(tab, "set")
    assert found == []
