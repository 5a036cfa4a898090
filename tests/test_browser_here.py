"""The reader's own place: granted, refused, typed, tapped; distances are held against GeographicLib."""

from __future__ import annotations

import pytest
from browser import DESKTOP, PHONE, serious_faults, visit
from geographiclib.geodesic import Geodesic
from sample_here import here_atlas

pytestmark = pytest.mark.browser
AT = {"latitude": -31.5030, "longitude": -96.4020, "accuracy": 25}
GRANTED = {"geolocation": AT, "permissions": ["geolocation"]}
WORDS = "document.querySelector('[data-here-words]').textContent"
STATE = "document.querySelector('[data-here-state]').textContent"


@pytest.fixture(scope="module")
def index(tmp_path_factory):
    return here_atlas(tmp_path_factory)


@pytest.fixture(scope="module")
def desk(chromium, index):
    """Open the atlas where the device may say where it is."""
    with visit(chromium, index, DESKTOP, **GRANTED) as tab:
        tab.go()
        yield tab


def test_distances_and_bearings_are_those_of_the_ellipsoid(desk):
    """GeographicLib (Karney 2013) on pairs from metres to half the globe: within 0.05 % and a fifth of a degree."""
    pairs = [
        ((-31.5, -96.4), (-31.50004, -96.39996)),
        ((-31.5, -96.4), (-31.48, -96.43)),
        ((60.0, 25.0), (60.3, 25.9)),
        ((0.1, 179.9), (0.1, -179.9)),
        ((-31.5, -96.4), (48.1, 11.6)),
        ((80.0, 10.0), (80.0, 12.0)),
    ]
    for a, b in pairs:
        true = Geodesic.WGS84.Inverse(*a, *b)
        metres, bearing = desk.page.evaluate("([a, b]) => [lake.metresBetween(a, b), lake.bearingTo(a, b)]", [a, b])
        assert metres == pytest.approx(true["s12"], rel=5e-4)
        assert abs((bearing - true["azi1"] + 180) % 360 - 180) < 0.2
    assert desk.page.evaluate("lake.metresBetween([1, 2], [1, 2])") == 0


@pytest.mark.parametrize(
    ("text", "at"),
    [
        ("31.5994 S 96.4002 W", (-31.5994, -96.4002)),
        ("-31.5994, -96.4002", (-31.5994, -96.4002)),
        ("31,5994 S; 96,4002 W", (-31.5994, -96.4002)),
        ("-31,5994 -96,4002", (-31.5994, -96.4002)),
        ("W 96° 24.012' S 31° 35.964'", (-31.5994, -96.4002)),
        ("s31 35 57.84 w96 24 0.72", (-31.5994, -96.4002)),
        ("48° 8' 15″ N 11° 34' 30\" O", (48.1375, 11.575)),
    ],
)
def test_positions_are_read_as_they_are_written(desk, text, at):
    """Degrees, minutes, seconds; letters before or after; comma or point; the German O for east."""
    assert desk.page.evaluate("text => lake.readPosition(text)", text) == pytest.approx(at, abs=1e-9)


@pytest.mark.parametrize(
    "text",
    ["", "here", "31.5994", "91 N 10 E", "10 N 181 E", "31 60 S 96 0 W", "31.5 20 S 96 0 W", "10 N 20 N", "-31 S 96 W",
     "1 2 3", "31..5 96", "1e3 2", "31 -5 96 5", "9" * 90],
)  # fmt: skip
def test_nonsense_is_refused(desk, text):
    """Never a guess: out of range, minutes beyond 59, two latitudes, a sign beside a letter."""
    assert desk.page.evaluate("text => lake.readPosition(text)", text) is None


def test_the_device_says_where_and_the_page_how_far(chromium, index):
    """To the chosen photograph and the nearest bank, with the true bearing; stopping is one tap and leaves nothing."""
    with visit(chromium, index, PHONE, **GRANTED) as tab:
        tab.go("#page-003")
        tab.page.locator("[data-here]").tap()
        tab.until(f"{WORDS}.length > 0")
        words, photo = tab.page.evaluate(WORDS), tab.page.evaluate("lake.photoById.get(lake.chosen.photo).at")
        way = Geodesic.WGS84.Inverse(AT["latitude"], AT["longitude"], photo[1], photo[0])
        away, turn = way["s12"], round(way["azi1"] % 360)
        assert f"To photo 1 on page 3: {float(f'{away:.2g}'):.0f} m to the east ({turn:03d}° true)" in words
        assert "Nearest bank, S-00" in words
        assert "Depth on the map here: " in words
        assert "31.50300° S, 96.40200° W, to within 25 m" in words
        assert (tab.hash(), tab.page.evaluate("localStorage.length")) == ("#page-003", 0)
        card = tab.page.evaluate("document.getElementById('here').getBoundingClientRect().bottom")
        dot = tab.page.evaluate(
            "lake.map.latLngToContainerPoint(lake.herePlace()).y + lake.map.getContainer().getBoundingClientRect().top"
        )
        assert dot > card  # the place is not under the card
        tab.page.locator("[data-here-stop]").tap()
        assert tab.page.evaluate("lake.herePlace()") is None
        assert tab.page.locator("#here").is_hidden()


def test_a_refusal_is_said_in_plain_words_and_typing_serves(chromium, index):
    """Without the permission; the answer follows what is chosen next."""
    with visit(chromium, index, DESKTOP) as tab:
        tab.go()
        tab.page.locator("[data-here]").click()
        tab.until(f"{STATE}.includes('did not say where you are')")
        tab.page.locator("[data-here-type]").click()
        field = tab.page.locator("#here-typed")
        field.fill("95 N 400 E")
        field.press("Enter")
        assert "Latitude goes to 90" in tab.page.locator("[data-here-wrong]").text_content()
        field.fill("31.503 S 96.402 W")
        field.press("Enter")
        assert tab.page.locator("[data-here-wrong]").text_content() == ""
        assert "To photo" not in tab.page.evaluate(WORDS)
        tab.page.evaluate("lake.go('page-002')")
        assert "To photo 1 on page 2" in tab.page.evaluate(WORDS)


def test_a_tap_or_the_middle_of_the_map_is_taken(desk):
    """Enter takes the middle for those who have no pointer; a tap chooses nothing else."""
    desk.go()
    page = desk.page
    page.locator("[data-here]").click()
    page.locator("[data-here-tap]").click()
    page.keyboard.press("Enter")
    middle = page.evaluate("(m => [m.lat, m.lng])(lake.map.getCenter())")
    assert page.evaluate(STATE) == "The place that you tapped."
    # The map then moves so that the place stands clear of the card.
    assert page.evaluate("lake.herePlace()") == pytest.approx(middle, abs=0.02)
    page.locator("[data-here-tap]").click()
    page.mouse.click(640, 300)
    assert desk.hash() == ""
    page.locator("[data-here]").click()
    assert page.locator("#here").is_hidden()


def test_far_from_the_lake_it_is_said_and_the_map_stays(desk):
    """A position typed on another continent."""
    desk.go()
    page = desk.page
    before = page.evaluate("lake.map.getCenter().lat")
    page.locator("[data-here]").click()
    page.locator("[data-here-type]").click()
    page.locator("#here-typed").fill("48 N 11 E")
    page.locator("#here-typed").press("Enter")
    assert "You are not at this lake." in page.evaluate(WORDS)
    assert page.evaluate("lake.map.getCenter().lat") == pytest.approx(before, abs=0.02)
    page.locator("[data-here]").click()


def test_the_card_is_accessible(chromium, index):
    """Open with the typing row, on a phone; every target is large enough for a thumb."""
    with visit(chromium, index, PHONE, **GRANTED) as tab:
        tab.go()
        tab.page.locator("[data-here]").click()
        tab.page.locator("[data-here-type]").click()
        tab.until(f"{WORDS}.length > 0")
        assert serious_faults(tab) == []
        heights = tab.page.evaluate(
            "Array.from(document.querySelectorAll('#here button, #here input'), n => n.offsetHeight)"
        )
        assert min(height for height in heights if height) >= 44
