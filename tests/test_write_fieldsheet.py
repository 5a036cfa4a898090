"""The field sheet as other readers of PDF find it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pypdf
import pytest
from sample_plan import hand_plan, hand_rings, hand_run
from sample_scene import scene_places, scene_water, to_lonlat

from atlasgen.compose.plan_maps import PlanGround, plan_drawings
from atlasgen.write.fieldsheet import SheetFacts, Variation, variation_words, write_field_sheet

GROUND = PlanGround(scene_water(), hand_rings(), to_lonlat, "metric", scene_places())
EAST = Variation(3.2, "WMM-2025")
FACTS = SheetFacts("Quillmere Reservoir", "2026.1", "spring 2026", "The crew", dated=date(2026, 5, 4), variation=EAST)


def write(plan, folder, facts=FACTS):
    """Write the sheet, return its path."""
    target = folder / "field_sheet.pdf"
    write_field_sheet(plan, plan_drawings(plan, GROUND, facts.paper), facts, target, work=folder)
    return target


def pages_of(path):
    """Text of each page, white space single."""
    return [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(path).pages]


@pytest.fixture(scope="module")
def sheet(tmp_path_factory):
    return write(hand_plan(), tmp_path_factory.mktemp("sheet"))


def test_a_page_for_the_plan_and_one_for_each_run(sheet):
    """Three pages, each with its name."""
    pages = pages_of(sheet)
    assert [page.split(" ")[0] for page in pages] == ["Field", "Run", "Run"]


def test_every_page_says_that_it_is_no_clearance(sheet):
    """And the runs' pages, which go into the field alone, whom to keep away from."""
    pages = pages_of(sheet)
    assert all("The plan is a proposal, not a flight clearance." in page for page in pages)
    assert all("Keep away from people, boats, birds and private homes." in page for page in pages)


def test_the_first_page_sums_up(sheet):
    """What is shown of what is missing, the bound, what is left and beyond."""
    first = pages_of(sheet)[0]
    assert "4 stations in 2 runs from the slipway show 320 m of the 440 m of shore" in first
    assert "Of the 57 stations tried, no choice could do with fewer." in first
    assert "120 m 1 hidden by land from every station tried" in first
    assert "B-01" in first


def test_a_row_tells_all_that_the_camera_needs(sheet):
    """Place, leg, height, heading, pitch, shore, reaches."""
    plan = hand_plan()
    lon, lat = plan.stations[0].lonlat
    row = f"1 −{-lat:.5f}, −{-lon:.5f} 30 m W 40 m 068° ENE 065° 20° 80 m S-0001…0002"
    assert row in pages_of(sheet)[1]


def test_a_compass_is_told_what_it_is_off(sheet, tmp_path):
    """Magnetic is true less the easterly variation; west is added, and over north it begins again."""
    assert "Variation 3.2° E at the launch point (World Magnetic Model 2025, 4 May 2026)." in pages_of(sheet)[1]
    assert (EAST.magnetic(68.0), EAST.magnetic(1.0)) == pytest.approx((64.8, 357.8))
    west = replace(FACTS, variation=Variation(-14.0, "WMM-2025", "2031.0 is outside the magnetic model's years."))
    words = "Variation 14.0° W at the launch point (World Magnetic Model 2025, 4 May 2026). 2031.0 is outside the"
    assert variation_words(west).startswith(words)
    page = pages_of(write(hand_plan(), tmp_path, west))[1]
    assert "068° ENE 082° 20°" in page
    assert "outside the magnetic model’s years" in page or "outside the magnetic model's years" in page
    assert "no date is known" in variation_words(replace(FACTS, dated=None))


def test_without_a_variation_there_are_no_magnetic_headings(tmp_path):
    """Unknown is said, never taken as none."""
    page = pages_of(write(hand_plan(), tmp_path, replace(FACTS, variation=None)))[1]
    assert "068° ENE – 20°" in page
    assert "The variation of the compass is not known: there are no magnetic headings." in page


def test_heights_above_the_limit_are_marked(tmp_path):
    """In the row, under the table and in the cautions."""
    pages = pages_of(write(hand_plan(runs=(hand_run(1, 2, height_m=125.0),), beyond=()), tmp_path))
    assert "125 m !" in pages[1]
    assert "! is above 120 m (the commonly published limit is 120 m or 400 ft above ground): check" in pages[1]
    assert "Stations R1-01, R1-02 are above 120 m" in pages[0]


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("count", [1, 14, 17, 20, 24])
def test_a_full_run_stays_on_its_page(tmp_path, paper, count):
    """However many stations a run holds, with a map as tall as may be, and heights to check."""
    plan = hand_plan(runs=(hand_run(1, count, north_m=60.0, height_m=125.0),), beyond=(), left=())
    path = write(plan, tmp_path, replace(FACTS, paper=paper))
    assert len(pages_of(path)) == 2
    box = pypdf.PdfReader(path).pages[0].mediabox
    expected = {"a4": (595, 842), "letter": (612, 792)}[paper]
    assert (round(box.width), round(box.height)) == expected


def test_names_are_printed_and_never_run(tmp_path):
    """Markup of the typesetter, signs that it lacks and control signs are only text."""
    facts = replace(FACTS, title='#panic("x") $1$ *Lake* \u0007湖', crew="[#eval]")
    first = pages_of(write(hand_plan(), tmp_path, facts))[0]
    assert '#panic("x") $1$ *Lake* ☐' in first


def test_imperial_readers_get_feet(tmp_path):
    """40 m are 131 ft."""
    plan = hand_plan()
    drawings = plan_drawings(plan, replace(GROUND, unit="imperial"))
    target = tmp_path / "sheet.pdf"
    write_field_sheet(plan, drawings, replace(FACTS, unit="imperial"), target, work=tmp_path)
    assert "131 ft" in pages_of(target)[1]


def test_an_empty_plan_says_so(tmp_path):
    """Nothing missing, and nothing that can be flown, are different things."""
    none = hand_plan(runs=(), beyond=(), left=(), missing_m=0.0, claimed_m=0.0, lower_bound=0, candidates=0)
    assert "No shore is missing: nothing need be flown." in pages_of(write(none, tmp_path))[0]
    stuck = hand_plan(runs=(), beyond=(), claimed_m=0.0, lower_bound=0, candidates=0)
    assert "no station that can be flown would show any of it" in pages_of(write(stuck, tmp_path))[0]


def test_the_sheet_is_tagged_titled_and_the_same_bytes_twice(sheet, tmp_path):
    """PDF/UA-1 asks for tags, a title and alt texts (ISO 14289-1); nothing is left in the work folder."""
    reader = pypdf.PdfReader(sheet)
    assert reader.metadata.title == "Quillmere Reservoir, field plan"
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert write(hand_plan(), tmp_path).read_bytes() == sheet.read_bytes()
    assert [path.name for path in tmp_path.iterdir()] == ["field_sheet.pdf"]
