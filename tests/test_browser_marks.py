"""Marks in a real browser: kept, changed, taken back, saved as GPX and GeoJSON, brought in again, and never lost."""

from __future__ import annotations

import io
import json
from pathlib import Path

import geopandas
import gpxpy
import pytest
from browser import DESKTOP, PHONE, serious_faults, visit
from sample_atlas import HOSTILE
from sample_here import here_atlas

pytestmark = pytest.mark.browser
KEY = "atlasgen marks: Sample <Lake> & Reservoir"
NAMES = "lake.marks.list().map(mark => mark.name)"
BROUGHT = "document.querySelector('[data-marks-brought]').textContent"
PLACE = {"kind": "place", "ref": "", "name": "Perch", "note": "", "at": [-31.503, -96.402]}


@pytest.fixture(scope="module")
def index(tmp_path_factory):
    return here_atlas(tmp_path_factory)


@pytest.fixture(scope="module")
def tab(chromium, index):
    with visit(chromium, index, DESKTOP, accept_downloads=True) as tab:
        tab.go()
        yield tab


@pytest.fixture
def fresh(tab):
    """Empty the store and open the panel."""
    tab.page.evaluate("localStorage.clear()")
    tab.go("#marks")
    return tab


def saved(tab, kind: str) -> tuple[str, str]:
    """Press the button; return the file's name and its text."""
    with tab.page.expect_download() as waiting:
        tab.page.locator(f"[data-marks-save={kind}]").click()
    return waiting.value.suggested_filename, Path(waiting.value.path()).read_text(encoding="utf-8")


def bring(tab, name: str, text: str) -> str:
    """Choose a file; return what the panel says of it."""
    tab.page.evaluate("document.querySelector('[data-marks-brought]').textContent = ''")
    payload = {"name": name, "mimeType": "application/octet-stream", "buffer": text.encode()}
    tab.page.locator("[data-marks-file]").set_input_files(payload)
    tab.until(f"{BROUGHT} !== ''")
    return tab.page.evaluate(BROUGHT)


def gpx(*waypoints: str) -> str:
    return f'<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="x">{"".join(waypoints)}</gpx>'


def wpt(lat: float, lon: float, inside: str = "") -> str:
    return f'<wpt lat="{lat}" lon="{lon}">{inside}</wpt>'


def test_a_page_keeps_marks_on_bank_and_photograph_over_a_reload(fresh):
    """By keyboard: open, choose, write, keep; the note is there after the atlas is opened anew."""
    page = fresh.page
    fresh.go("#page-003")
    page.locator(".marking summary").press("Enter")
    page.locator(".marking select").select_option(label="Page 3, photo 2")
    page.locator(".marking input[type=text]").fill("Evening")
    page.keyboard.press("Enter")
    assert "“Page 3, photo 2” is marked." in page.locator(".marking [role=status]").text_content()
    assert fresh.hash() == "#page-003"
    fresh.go("#marks")
    assert page.evaluate("lake.marks.list().map(m => [m.kind, m.name, m.note])") == [
        ["photo", "Page 3, photo 2", "Evening"]
    ]
    at = page.evaluate("lake.marks.list()[0].at")
    station = page.evaluate("ATLAS.photos.find(p => p.page === 3 && p.number === 2).at")
    assert at == [station[1], station[0]]
    page.locator(".marks-list small a").click()
    assert fresh.hash().startswith("#photo-p-")


def test_landmarks_can_be_marked_and_any_place_of_the_map(fresh):
    """From the landmark's own sheet; and with the keyboard at the middle of the map."""
    page = fresh.page
    fresh.go("#landmark-" + page.evaluate("ATLAS.landmarks.find(m => m.name === 'Drowned fence').id"))
    page.locator(".marking summary").click()
    page.locator(".marking button").click()
    fresh.go("#marks")
    page.locator("[data-marks-pick]").click()
    page.keyboard.press("Enter")
    page.keyboard.type("Weed edge")
    page.keyboard.press("Enter")
    kinds = page.evaluate("lake.marks.list().map(m => [m.kind, m.name])")
    assert kinds == [["landmark", "Drowned fence"], ["place", "Weed edge"]]
    assert "below full supply level" in page.locator(".marks-list li").last.text_content()


def test_a_mark_is_edited_removed_and_taken_back(fresh):
    """Undo puts it where it stood; Escape leaves the form without a change."""
    page = fresh.page
    page.evaluate(
        "names => { for (const name of names) lake.marks.make({kind: 'place', name, at: [-31.503, -96.402]}); }",
        ["A", "B", "C"],
    )
    page.get_by_role("button", name="Edit: B").click()
    page.locator("#marks-name").fill("Bee <b>")
    page.locator("#marks-note").fill("two\nlines")
    page.locator("[data-marks-keep]").click()
    assert page.evaluate(NAMES) == ["A", "Bee <b>", "C"]
    page.get_by_role("button", name="Edit: A").click()
    page.locator("#marks-name").fill("never")
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Remove: Bee <b>").click()
    assert page.evaluate(NAMES) == ["A", "C"]
    page.keyboard.press("Enter")  # the button "Undo" has the focus
    assert page.evaluate(NAMES) == ["A", "Bee <b>", "C"]
    assert page.locator(".marks-list b").count() == 0


def test_gpx_reads_back_with_an_independent_reader(fresh):
    """Gpxpy; every letter of a hostile name, the note as description, depth as comment; the order of the schema."""
    page = fresh.page
    note = HOSTILE + " ]]> \u20ac \U0001f41f"
    page.evaluate("mark => lake.marks.make(mark)", {**PLACE, "name": HOSTILE[:80], "note": note})
    name, text = saved(fresh, "gpx")
    assert name == "Sample-Lake-Reservoir-marks.gpx"
    (point,) = gpxpy.parse(text).waypoints
    assert (point.latitude, point.longitude) == (-31.503, -96.402)
    assert (point.name, point.description, point.type) == (HOSTILE[:80].strip(), note, "place")
    assert "below full supply level" in point.comment
    assert point.time is not None
    tags = [part.split(">")[0] for part in text.split("<wpt")[1].split("<")[1:] if not part.startswith("/")]
    # wptType of the GPX 1.1 schema: a sequence, so the order counts (from memory).
    assert tags == [tag for tag in ("time", "name", "cmt", "desc", "src", "type") if tag in tags]


def test_geojson_reads_back_in_a_gis(fresh):
    """Geopandas through GDAL: longitude first (RFC 7946), note and kind as fields."""
    fresh.page.evaluate("mark => lake.marks.make(mark)", {**PLACE, "note": "Grüße"})
    _, text = saved(fresh, "geojson")
    frame = geopandas.read_file(io.StringIO(text))
    assert frame.crs.to_epsg() == 4326
    (row,) = frame.to_dict("records")
    assert (row["geometry"].x, row["geometry"].y) == (-96.402, -31.503)
    assert (row["name"], row["note"], row["kind"]) == ("Perch", "Grüße", "place")


@pytest.mark.parametrize("kind", ["gpx", "geojson"])
def test_what_is_saved_comes_back_the_same(fresh, kind):
    """Export, empty, import: names, notes, kinds, references and places; once more adds nothing."""
    page = fresh.page
    reach = "reach-" + page.evaluate("ATLAS.reaches[11].id")
    marks = [
        {**PLACE, "note": "a & b"},
        {"kind": "reach", "ref": reach, "name": "Bank", "note": "", "at": [-31.502, -96.4]},
    ]
    page.evaluate("marks => lake.marks.add(marks)", marks)
    _, text = saved(fresh, kind)
    page.evaluate("for (const mark of lake.marks.list()) lake.marks.remove(mark.id)")
    assert bring(fresh, f"x.{kind}", text) == "2 marks were brought in."
    back = page.evaluate(
        "lake.marks.list().map(m => ({kind: m.kind, ref: m.ref, name: m.name, note: m.note, at: m.at}))"
    )
    assert back == marks
    assert bring(fresh, f"x.{kind}", text) == "No new marks. 2 stood here already and were joined."
    assert len(page.evaluate(NAMES)) == 2


def test_chosen_points_stations_and_landmarks_go_into_the_file(fresh):
    """An unticked mark stays out; a page's stations and ticked landmarks come in."""
    page = fresh.page
    page.evaluate("mark => { lake.marks.make(mark); lake.marks.make({...mark, name: 'Out'}); }", PLACE)
    page.get_by_role("checkbox", name="Take along: Out").uncheck()
    page.locator(".marks-more summary").click()
    page.get_by_role("checkbox", name="Drowned fence, Hazard").check()
    page.evaluate("lake.go('page-003')")
    page.locator(".marking summary").click()
    page.locator(".marking input[type=checkbox]").check()
    page.evaluate("lake.go('marks')")
    assert page.locator("[data-marks-chosen]").text_content() == "1 mark is ticked; landmarks and stations: 4."
    _, text = saved(fresh, "gpx")
    names = [point.name for point in gpxpy.parse(text).waypoints]
    assert names == ["Perch", "Drowned fence", "Page 3, photo 1", "Page 3, photo 2", "Page 3, photo 3"]


def test_files_that_cannot_be_used_are_told_and_change_nothing(fresh):
    """Entities, broken XML, other XML, other JSON, words, nothing, far too much."""
    for name, text, said in (
        ("a.gpx", '<!DOCTYPE g [<!ENTITY a "aa"><!ENTITY b "&a;&a;">]>' + gpx(), "declares a document type"),
        ("b.gpx", "<gpx><wpt", "no sound GPX"),
        ("c.gpx", "<html/>", "no sound GPX"),
        ("d.json", '{"type": "Point", "coordinates": [1, 2]}', "no sound GeoJSON"),
        ("e.json", '{"type": "FeatureCollection", "features": "x"}', "no sound GeoJSON"),
        ("f.txt", "lat,lon", "neither GPX nor GeoJSON"),
        ("g.gpx", gpx(), "no waypoints"),
    ):
        assert said in bring(fresh, name, text), name
    assert fresh.page.evaluate(NAMES) == []
    assert fresh.page.evaluate("[5e6, 5e6 + 1].map(lake.marksFileTooLarge)") == [False, True]
    # Chromium's own note on broken XML carries a style, which the page's policy refuses.
    fresh.complaints[:] = [words for words in fresh.complaints if "inline style" not in words and "csp:" not in words]


def test_what_a_file_holds_besides_good_points_is_counted(fresh):
    """Off the lake, no position, wrong types, HTML in a name, a twin with another note, a strange reference."""
    page = fresh.page
    page.evaluate("mark => lake.marks.make(mark)", {**PLACE, "note": "mine"})
    text = gpx(
        wpt(-31.503, -96.402, "<name>Perch</name><desc>theirs</desc>"),
        wpt(48.1, 11.5, "<name>Far</name>"),
        wpt(-131, -96.4),
        '<wpt lat="here" lon="-96.4"/>',
        "<wpt/>",
        wpt(
            -31.501,
            -96.401,
            "<name>&lt;img src=x onerror=alert(1)&gt;</name><link href='#page-evil'/><type>reach</type>",
        ),
    )
    said = bring(fresh, "x.gpx", text)
    assert said == (
        "1 mark was brought in. 1 stood here already and were joined. 1 lie more than 10 km from this lake and were "
        "left out. 3 have no usable position and were left out."
    )
    assert page.evaluate("lake.marks.list().map(m => [m.name, m.note, m.kind, m.ref])") == [
        ["Perch", "mine / theirs", "place", ""],
        ["<img src=x onerror=alert(1)>", "", "place", ""],
    ]
    assert page.locator("#marks img").count() == 0
    points = [{"type": "Point", "coordinates": at} for at in (["a", 1], [-96.4, -31.5])]
    features = [None, 7, *({"geometry": point, "properties": {"name": {"x": 1}}} for point in points)]
    odd = {"type": "FeatureCollection", "features": features}
    assert "3 have no usable position" in bring(fresh, "x.json", json.dumps(odd))
    assert page.evaluate(NAMES)[-1] == "Mark without a name"


@pytest.mark.parametrize("stood", ["{broken", "[]"])
def test_damaged_marks_are_put_aside_not_erased(fresh, stood):
    """What stood there is kept under another key, letter by letter, and the reader is told; new marks are stored."""
    page = fresh.page
    page.evaluate("([key, text]) => localStorage.setItem(key, text)", [KEY, stood])
    fresh.go("#marks")
    assert "put aside" in page.locator("[data-marks-told]").text_content()
    page.evaluate("mark => lake.marks.make(mark)", PLACE)
    fresh.go("#marks")
    assert page.evaluate(NAMES) == ["Perch"]
    assert page.evaluate("key => localStorage.getItem(key)", f"{KEY} (put aside 1)") == stood


def test_a_half_damaged_store_keeps_its_good_marks(fresh):
    """One mark of two has no place: the other stays, the whole is put aside."""
    page = fresh.page
    stood = json.dumps({"format": "marks 1", "marks": [{**PLACE, "id": "a"}, {"name": "lost", "at": "x"}]})
    page.evaluate("([key, text]) => localStorage.setItem(key, text)", [KEY, stood])
    fresh.go("#marks")
    assert page.evaluate(NAMES) == ["Perch"]
    assert page.evaluate("key => localStorage.getItem(key)", f"{KEY} (put aside 1)") == stood


def test_a_newer_store_is_left_alone(fresh):
    """A program that does not know a format does not write over it."""
    page = fresh.page
    stood = '{"format": "marks 2", "marks": 7}'
    page.evaluate("([key, text]) => localStorage.setItem(key, text)", [KEY, stood])
    fresh.go("#marks")
    page.evaluate("mark => lake.marks.make(mark)", PLACE)
    assert page.evaluate(NAMES) == ["Perch"]
    assert page.evaluate("key => localStorage.getItem(key)", KEY) == stood
    assert "newer edition" in page.locator("[data-marks-told]").text_content()


@pytest.mark.parametrize(("method", "said"), [("setItem", "full"), ("getItem", "store nothing")])
def test_where_nothing_can_be_stored_marks_last_this_visit(chromium, index, method, said):
    """Store full, or blocked: it is said, marks are there and can be saved as a file."""
    with visit(chromium, index, PHONE) as tab:
        tab.page.add_init_script(
            f"Storage.prototype.{method} = function () {{ throw new DOMException('no', 'QuotaExceededError'); }};"
        )
        tab.go("#marks")
        tab.page.evaluate("mark => { lake.marks.make(mark); lake.marks.make({...mark, name: 'Two'}); }", PLACE)
        assert tab.page.evaluate(NAMES) == ["Perch", "Two"]
        assert said in tab.page.locator("[data-marks-told]").text_content()


def test_two_tabs_do_not_undo_each_other(fresh):
    """The second tab adds; the first, which knows nothing of it, adds as well: both stand there."""
    other = fresh.page.context.new_page()
    other.goto(fresh.url)
    other.evaluate("mark => lake.marks.make(mark)", {**PLACE, "name": "Other"})
    fresh.page.evaluate("mark => lake.marks.make(mark)", PLACE)
    other.close()
    assert sorted(fresh.page.evaluate(NAMES)) == ["Other", "Perch"]


def test_the_panel_is_accessible_and_leads_to_the_place(chromium, index):
    """Axe-core on a phone, targets for a thumb, and a tap on the pennant that opens its mark."""
    with visit(chromium, index, PHONE) as tab:
        tab.go("#marks")
        tab.page.evaluate("mark => lake.marks.make(mark)", {**PLACE, "note": "n"})
        tab.page.get_by_role("button", name="Edit: Perch").click()
        assert serious_faults(tab) == []
        heights = tab.page.evaluate(
            "Array.from(document.querySelectorAll('#marks :is(button, input, textarea, .marks-tick)'), n => "
            "n.closest('label') ? n.closest('label').offsetHeight : n.offsetHeight).filter(h => h)"
        )
        assert min(heights) >= 44
        tab.page.keyboard.press("Escape")
        tab.go()
        x, y = tab.page.evaluate(
            "(() => { lake.map.setView([-31.503, -96.402], 17, {animate: false}); const p = "
            "lake.map.latLngToContainerPoint([-31.503, -96.402]), b = lake.map.getContainer().getBoundingClientRect();"
            "return [p.x + b.left + 5, p.y + b.top - 9]; })()"
        )
        tab.page.mouse.click(x, y)
        tab.until("document.documentElement.dataset.shown === 'marks'")
        assert tab.page.locator(".marks-list .shown a").first.text_content() == "Perch"
