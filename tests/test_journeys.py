"""An angler's eight journeys through the built demo: from the file, no network, phone and desktop, two browsers."""

from __future__ import annotations

import json

import pytest
from browser import DESKTOP, PHONE
from reading import reading

pytestmark = [pytest.mark.browser, pytest.mark.slow]
CHOSEN = "document.querySelector('.page.chosen .figure.chosen')"
# Brings a place of the lake to the middle of the map and says where that is in the window.
_MIDDLE = """(() => { lake.map.setView(%s, %d, {animate: false}); const p = lake.map.latLngToContainerPoint(%s);
const box = lake.map.getContainer().getBoundingClientRect(); return [p.x + box.left, p.y + box.top]; })()"""


@pytest.fixture(
    scope="module",
    params=[(name, size) for name in ("chromium", "firefox") for size in (PHONE, DESKTOP)],
    ids=lambda way: f"{way[0]} {way[1][0]} px",
)
def reader(request, demo_build):
    name, size = request.param
    with reading(name, demo_build[0] / "index.html", size) as opened:
        yield opened


@pytest.fixture(scope="module")
def document(demo_build):
    return json.loads((demo_build[0] / "atlas.json").read_bytes())


def tap_on_map(reader, at: str, zoom: int = 16) -> None:
    """Touch a place, given as an expression for [lat, lon]."""
    x, y = reader.js(_MIDDLE % (at, zoom, at))
    reader.wait(60)
    reader.tap_at(x, y)


def test_what_does_the_bank_look_like_there(reader):
    """One tap from the map to the photograph, one from the photograph to the next along the shore, two side by side."""
    reader.go()
    reader.js("lake.sheet('low')")
    reader.wait(400)
    bank = "lake.reachById.get(ATLAS.reaches.find(r => r.shownBy.length > 8 && r.pages.length).id)"
    tap_on_map(reader, f"{bank}.points[Math.floor({bank}.points.length / 2)]", 18)
    reader.until(f"!!{CHOSEN}")
    reader.js("lake.sheet('half')")
    assert reader.sees(".page.chosen .figure.chosen .frame img")
    assert reader.js("lake.map.getBounds().isValid() && lake.chosen.photo !== null")
    before = reader.js("lake.chosen.photo")
    reader.tap(".figure.chosen .walk [data-does=after]")
    reader.until(f"lake.chosen.photo !== {json.dumps(before)}")
    reader.go("#page-004")
    reader.js(
        "[...document.querySelectorAll('.page.chosen button')]"
        ".find(b => b.textContent.includes('Lay another of this bank beside it')).click()"
    )
    reader.until("document.querySelector('dialog.beside').open")
    assert reader.js("document.querySelectorAll('dialog.beside .beside-panes img').length") == 2
    reader.press("Escape")
    reader.until("!document.querySelector('dialog.beside').open")


def test_where_can_i_reach_six_to_nine_feet(reader, document):
    """The sentence is filled in; list, map, strip and address answer; every answer leads to its bank."""
    reader.go("#find")
    reader.type("[data-ask=from]", "6")
    reader.type("[data-ask=to]", "9")
    reader.choose("[data-ask=within]", "15")
    reader.until("lake.asking() && location.hash.includes('depth=6-9')")
    fits = reader.js("lake.answers().map(r => r.id)")
    assert 0 < len(fits) < len(document["reaches"])
    assert reader.text("[data-asked]").startswith(f"{len(fits)} banks fit")
    assert reader.js("document.querySelectorAll('.answers a').length") > 0
    assert reader.js("performance.getEntriesByName('atlas-filter').at(-1).duration") < 100
    reader.tap(".answers a")
    reader.until(f"location.hash.startsWith('#reach-{fits[0]}?depth=6-9')")
    kept = reader.js("location.hash")
    reader.go(kept)
    reader.until("lake.asking()")
    assert reader.js("lake.answers().map(r => r.id)") == fits


def test_the_lake_is_down_today(reader):
    """Typed once: the page's note and the address follow; the photo's own level stays beside it."""
    reader.go("#page-010")
    printed = reader.text(".page.chosen .note-depth p")
    reader.tap("button[data-question=deep]")
    reader.tap("[data-opens=level-set]")
    reader.type("[data-lake-height]", "6")
    reader.until("location.hash.includes('level=-6')")
    assert reader.text("[data-level-words]") == "6.0 ft below full"
    reader.tap("button[data-question=there]")
    reader.until("document.querySelector('.page.chosen .level-said, .page.chosen .level-old') !== null")
    assert reader.text(".page.chosen .note-depth") != printed
    assert "below full" in reader.text(".page.chosen .figure.chosen .caption")


def test_light_up_just_this_depth(reader):
    """One band stands out, the key says which, and the rest goes grey."""
    reader.go()
    reader.tap("button[data-question=deep]")
    reader.tap("[data-opens=level-lit]")
    reader.type("[data-lit-from]", "6")
    reader.type("[data-lit-to]", "9")
    reader.until("location.hash.includes('lit=6-9')")
    assert "6 to 9" in reader.text("[data-key=ramp]")
    assert "6 to 9" in reader.text("[data-lit-words]")


def test_where_am_i(reader):
    """Refused by the device: said in plain words; a typed position gives distance and bearing to what is chosen."""
    reader.go("#page-002")
    reader.tap("[data-here]")
    reader.until("document.querySelector('[data-here-state]').textContent.includes('did not say where you are')")
    reader.tap("[data-here-type]")
    reader.type("#here-typed", "31.6049 S 96.3979 W")
    reader.press("Enter")
    reader.until("document.querySelector('[data-here-words]').textContent.includes('To photo 1 on page 2')")
    assert "°" in reader.text("[data-here-words]")
    assert "navigation" in reader.text(".here-caution")
    assert reader.js("!location.hash.includes('31.6') && !JSON.stringify(localStorage).includes('31.6')")
    reader.tap("[data-here-stop]")
    assert reader.js("lake.herePlace()") is None


def test_can_i_trust_this_blank(reader):
    """Touching water says how it was surveyed there, or why it was not, and where to read on."""
    reader.go()
    reader.tap("button[data-question=sure]")
    reader.js("lake.sheet('low')")
    assert "boat sounded" in reader.text(".key-words[data-for=sure]")
    tap_on_map(
        reader,
        "(() => { const at = ATLAS.closed.find(c => c.name.startsWith('weed')).at; return [at[1], at[0]]; })()",
        18,
    )
    reader.until("document.documentElement.dataset.shown === 'spot'")
    assert "reason given" in reader.text("#spot")
    assert "nearest bank" in reader.text("#spot")


def test_take_it_with_me(reader):
    """A note on a bank outlives the visit and goes into a GPX file and back."""
    reader.go("#page-005")
    reader.tap(".page.chosen .marking summary")
    reader.type(".page.chosen .marking input[type=text]", "Evening, north wind")
    reader.press("Enter")
    reader.until("lake.marks.list().length === 1")
    reader.go("#marks")
    reader.until("lake.marks.list().length === 1")
    assert "Evening, north wind" in reader.text(".marks-list")
    gpx = reader.js("lake.gpxOf(lake.marks.list())")
    assert gpx.count("<wpt ") == 1
    assert "<desc>Evening, north wind</desc>" in gpx
    reader.js("lake.marks.remove(lake.marks.list()[0].id)")


def test_ramps_hazards_and_places_are_found(reader):
    """The crew's words come with the place, and the map goes there."""
    reader.go("#find")
    reader.type("#search-words", "drowned fe")
    reader.until("document.querySelector('#search-found [role=option]') !== null")
    reader.press("Enter")
    reader.until("location.hash.startsWith('#landmark-')")
    assert "Posts and wire" in reader.text(".landmark.chosen")
    assert reader.js(
        "lake.map.getBounds().contains((m => [m.at[1], m.at[0]])(lake.landmarkById.get(lake.chosen.landmark)))"
    )
