"""A German atlas, made by the whole job, in a real browser: no English left, numbers as German writes them."""

from __future__ import annotations

import html
import re

import pytest
from browser import DESKTOP, PHONE, visit
from german_pond import make_german_pond

from atlasgen.pipeline import build

pytestmark = pytest.mark.browser
# Words that stand in almost every English sentence and in no German one.
ENGLISH = re.compile(
    r"\b(the|of|and|are|with|from|to|at|by|not|for|this|that|its|than|page|photos?graphs?|bank|reach|depth|north|south|"
    r"east|west|within|deep|below|above|known|taken|looking|where|which|without|no)\b"
)
# Names that are the same in every language.
NAMES = re.compile(
    r"SIL Open Font License|World Magnetic Model|National Map Accuracy Standards?|Bathymetric [A-Z]\w+ [A-Z]\w+"
)
# Everything that is read or read out, wherever it stands.
TEXTS = """() => {
  const found = [], names = ["aria-label", "aria-valuetext", "alt", "title", "placeholder"];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    if (!walk.currentNode.parentNode.closest("script, style, noscript")) found.push(walk.currentNode.data);
  }
  for (const node of document.querySelectorAll("*")) {
    for (const name of names) if (node.hasAttribute(name)) found.push(node.getAttribute(name));
  }
  return found.map(text => text.trim()).filter(Boolean);
}"""
RULES = {"resultTypes": ["violations"], "preload": False}


def english(texts) -> list[str]:
    """Return what is not all German."""
    return sorted({text for text in texts if ENGLISH.search(NAMES.sub("", text))})


@pytest.fixture(scope="module")
def edition(tmp_path_factory):
    folder = tmp_path_factory.mktemp("german")
    build(make_german_pond(folder / "pond"), folder / "atlas", workers=1)
    return folder / "atlas"


@pytest.fixture(scope="module")
def desk(chromium, edition):
    """Open the atlas once."""
    with visit(chromium, edition / "index.html", DESKTOP) as tab:
        tab.go()
        yield tab.page


def set_level(page, height: str) -> None:
    """Open the row and type a height below full."""
    page.locator("button[data-question=deep]").click()
    if page.locator("#level-set").is_hidden():
        page.locator("[data-opens=level-set]").click()
    page.locator("[data-lake-side]").select_option("-1")
    page.locator("[data-lake-height]").fill(height)


def test_no_english_is_left_on_the_screen(desk):
    """Neither in texts nor in what is only read out; the page says that it is German."""
    assert desk.locator("html").get_attribute("lang") == "de"
    assert english(desk.evaluate(TEXTS)) == []


def test_what_scripts_say_is_german(desk):
    """Choosing photograph, bank, tile and list: what is read out, what stands beside the map."""
    said = []
    for place in ("page-002", "reach-S-0001", "reach-S-0010", "tile-16/1/1", "list", "start"):
        desk.evaluate(f"lake.go({place!r})")
        said.append(desk.locator("[data-said]").inner_text())
    assert said[0].startswith("Seite 2. ")
    assert english(said) == []
    desk.evaluate("lake.go('page-002')")
    assert desk.locator(".note-shows h4").text_content() == "Was dieses Foto zeigt"
    assert english(desk.evaluate(TEXTS)) == []


def test_the_level_answers_with_decimal_commas(desk):
    """Half a metre and a bit below full: notes, captions, key and list follow, in German."""
    desk.evaluate("lake.go('page-002')")
    set_level(desk, "0.65")
    assert desk.locator("[data-level-words]").inner_text() == "0,65 m unter Stauziel"
    assert desk.locator(".page.chosen .level-said").inner_text().endswith("eingestellt haben: 0,65 m unter Stauziel.")
    assert "0,15 m höher als heute" in desk.locator(".page.chosen .level-then").inner_text()
    note = desk.locator(".page.chosen .note-depth").inner_text()
    assert "unter dem Wasserspiegel 0,65 m unter Stauziel" in note
    assert re.findall(r"\d\.\d", note) == []
    assert english(desk.evaluate(TEXTS)) == []
    desk.locator("[data-lake-full]").click()
    assert desk.locator("[data-level-words]").inner_text() == "am Stauziel"


def test_one_depth_answers_in_german(desk):
    """The band lit, its key, and what is read out."""
    desk.locator("button[data-question=deep]").click()
    desk.locator("[data-opens=level-lit]").click()
    desk.locator("[data-lit-from]").fill("1.5")
    assert desk.locator("[data-lit-words]").inner_text() == "1,5 bis 3 m"
    assert "1,5 bis 3 m. Alles andere ist grau" in desk.locator("[data-key=ramp]").inner_text()
    assert desk.locator("[data-said]").inner_text() == "Auf der Karte ist nur Wasser von 1,5 bis 3 m Tiefe farbig."
    desk.locator("[data-lit-off]").click()
    assert desk.locator("[data-lit-words]").inner_text() == "alle Tiefen"


def test_what_the_panels_answer_is_german(desk):
    """Find with half metres, marks, the reader's own place, light: words and lists that scripts make."""
    desk.evaluate("lake.go('find')")
    desk.locator("#pages input[type=number]:visible").first.fill("1.5")
    desk.wait_for_function("document.querySelector('#pages').innerText.includes('1,5 m')")
    assert english(desk.evaluate(TEXTS)) == []
    desk.evaluate("lake.go('marks')")
    desk.locator("[data-here]").click()
    assert english(desk.evaluate(TEXTS)) == []
    desk.locator("[data-here]").click()
    desk.evaluate("lake.go('start')")


def test_long_words_keep_to_a_phone(chromium, edition):
    """No sideways scrolling at 360 px, and the automated engine for accessibility finds nothing serious."""
    from axe_playwright_python.sync_playwright import Axe

    with visit(chromium, edition / "index.html", PHONE) as tab:
        for place in ("#start", "#page-002", "#list"):
            tab.go(place)
            widths = tab.page.evaluate("['html', '#pages'].map(q => document.querySelector(q).scrollWidth)")
            assert max(widths) <= PHONE[0], (place, widths)
            violations = Axe().run(tab.page, options=RULES).response["violations"]
            assert [v["id"] for v in violations if v["impact"] in ("serious", "critical")] == []
        set_level(tab.page, "0.65")
        spill = (
            "[...document.querySelectorAll('.level-row > *')].filter(n => n.getBoundingClientRect().right > innerWidth)"
        )
        assert tab.page.evaluate(f"{spill}.length") == 0


def test_numbers_stand_on_one_line_with_their_units(edition):
    """A space that does not break between them, as DIN 5008 has it; in all that the page itself says."""
    page = html.unescape((edition / "index.html").read_text(encoding="utf-8"))
    assert re.search(r"\d\u00a0m unter Stauziel", page)
    assert re.findall(r"\d m unter Stauziel", page) == []
