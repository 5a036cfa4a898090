"""Today's level and the one depth, in a real browser: the same depths and the same words as the program's own."""

from __future__ import annotations

from io import BytesIO

import numpy as np
import pytest
from browser import PHONE, visit
from level_scene import depth_words_of, make_level_atlas, told_at
from PIL import Image
from sample_atlas import write_sample_pictures

from atlasgen.measure.depth import depth_at
from atlasgen.measure.drying import at_stage
from atlasgen.measure.isobaths import band_edges
from atlasgen.place.geo import Projection
from atlasgen.units import FOOT_M
from atlasgen.write.web import write_web

pytestmark = pytest.mark.browser
DOWN_M = -6 * FOOT_M
NOTE = "(document.querySelector('.page.chosen .note-depth p:not(.level-said)') || {textContent: ''}).textContent"


@pytest.fixture(scope="module")
def atlas():
    return make_level_atlas()


def written(atlas, folder):
    write_sample_pictures(atlas, folder)
    write_web(atlas, folder, lambda step, done, total: None)
    return folder / "index.html"


@pytest.fixture(scope="module")
def index(atlas, tmp_path_factory):
    return written(atlas, tmp_path_factory.mktemp("level"))


@pytest.fixture(scope="module")
def desk(chromium, index):
    """Open the atlas once for tests that set what they need themselves."""
    with visit(chromium, index) as tab:
        tab.go()
        yield tab.page


def set_level(page, value: str) -> None:
    """Open the row and type a height."""
    page.locator("button[data-question=deep]").click()
    if page.locator("#level-set").is_hidden():
        page.locator("[data-opens=level-set]").click()
    page.locator("[data-lake-height]").fill(value)


def colours(page, lon_deg: float, lat_deg: float) -> set[tuple[int, int, int]]:
    """Return the colours that stand about a place of the map, seen close by."""
    x, y = page.evaluate(
        "([lon, lat]) => { lake.map.setView([lat, lon], 18, {animate: false});"
        " const p = lake.map.latLngToContainerPoint([lat, lon]);"
        " const m = lake.map.getContainer().getBoundingClientRect(); return [p.x + m.left, p.y + m.top]; }",
        [lon_deg, lat_deg],
    )
    page.wait_for_timeout(60)
    shot = page.screenshot(clip={"x": round(x) - 8, "y": round(y) - 8, "width": 16, "height": 16})
    pixels = np.asarray(Image.open(BytesIO(shot)).convert("RGB")).reshape(-1, 3)
    return {tuple(pixel) for pixel in pixels.tolist()}


def test_a_thousand_random_depths_are_the_models_own(desk, atlas):
    """At three levels, known and unknown alike; cells travel as whole centimetres, so half of one is the most."""
    draw, grid = np.random.default_rng(7), atlas.known.grid
    rows, cols = grid.depth_m.shape
    x = grid.x0_m + draw.uniform(-1, cols, 1000) * grid.cell_m
    y = grid.y0_m + draw.uniform(-1, rows, 1000) * grid.cell_m
    lon, lat = Projection(atlas.survey.crs_metric).lonlats(x, y)
    for stage_m in (0.0, DOWN_M, 0.43):
        asked = [lat.tolist(), lon.tolist(), stage_m]
        found = desk.evaluate(
            "([lat, lon, s]) => lat.map((_, i) => { const d = lake.depthAt(lat[i], lon[i], s);"
            " return Number.isNaN(d) ? null : d; })",
            asked,
        )
        wanted = depth_at(at_stage(grid, stage_m), x, y)
        got = np.array([np.nan if value is None else value for value in found])
        assert np.array_equal(np.isnan(wanted), np.isnan(got))
        assert np.nanmax(np.abs(wanted - got)) <= 0.005 + 1e-6
    assert 300 < int(np.isfinite(wanted).sum()) < 900


def test_notes_are_worded_as_the_program_words_them(chromium, index, atlas):
    """The depth note of a page at a level is the one an edition for that level prints; not one depth stays behind."""
    reaches = {reach.id: reach for reach in atlas.placed.reaches}
    levels = {feet: told_at(atlas.known, feet * FOOT_M) for feet in (-6.0, -2.3, -14.0, 1.5)}
    with visit(chromium, index) as tab:
        tab.go(f"#{atlas.pages[0].id}")
        for page in atlas.pages[:4]:
            for feet, known in levels.items():
                tab.page.evaluate("hash => lake.takeAddress(hash)", f"#?level={feet}")
                wanted = depth_words_of(known, reaches[page.reaches[0]], feet * FOOT_M)
                assert tab.page.evaluate(NOTE) == " ".join(sentence.text for sentence in wanted)
            tab.page.keyboard.press("ArrowRight")
        said = tab.page.locator(".page.chosen .level-said").inner_text()
        assert said == (
            "Depths for the lake 1.5 ft above full, as you set it. Ground that is flooded above full was not measured."
        )


def test_tints_part_the_water_at_the_same_depths(desk):
    """The bands of a level have the edges that an edition for it would have."""
    depths_m = [0.05, 0.4, 3.0, 7.7, 14.2, 30.48, 61.0]
    found = desk.evaluate("all => all.map(lake.bandEdges)", depths_m)
    assert [pytest.approx(band_edges(depth_m, "feet")) for depth_m in depths_m] == found


def test_lines_of_equal_depth_lie_where_the_depth_is(desk, atlas):
    """Every corner of every line, read back from the model, has the line's depth; closed lines close."""
    desk.evaluate("lake.takeAddress('#?level=-6')")
    lines = desk.evaluate("lake.isobaths().map(i => [i.value, i.points])")
    projection, grid = Projection(atlas.survey.crs_metric), atlas.known.grid
    assert [value for value, _ in lines][:3] == [1, 2, 3]
    for feet, parts in lines:
        places = np.concatenate([np.array(part) for part in parts])
        depth = depth_at(at_stage(grid, DOWN_M), *projection.points(places[:, 1], places[:, 0]))
        # Places that rounding puts a hair beyond the last known cell have none.
        assert np.isfinite(depth).mean() > 0.8
        assert np.nanmax(np.abs(depth - feet * FOOT_M)) < 0.02


def test_a_level_is_typed_stepped_kept_and_taken_back(chromium, index):
    """The address holds it, a reload and other pages keep it, Back does not undo it, one tap returns to full."""
    with visit(chromium, index) as tab:
        tab.go("#page-003")
        printed = tab.page.evaluate(NOTE)
        set_level(tab.page, "4.6")
        assert tab.hash() == "#page-003?level=-4.6"
        tab.page.locator("[data-lake='-1']").click()
        assert tab.hash() == "#page-003?level=-5.1"
        tab.page.reload()
        assert tab.page.locator("[data-level-words]").text_content() == "5.1 ft below full"
        assert tab.page.evaluate(NOTE) != printed
        tab.page.locator(".page.chosen [rel=next]").click()
        assert tab.hash() == "#page-004?level=-5.1"
        set_level(tab.page, "3")
        tab.page.go_back()
        assert tab.hash() == "#page-003?level=-3"
        tab.page.locator("[data-lake-full]").click()
        assert (tab.hash(), tab.page.evaluate(NOTE)) == ("#page-003", printed)
        assert tab.page.locator(".level-said, .level-old, .level-then").count() == 0


def test_an_address_with_nonsense_says_so_and_keeps_the_rest(chromium, index):
    """What cannot be set is named and left out, what can be set is; the sentence goes with the next place."""
    with visit(chromium, index) as tab:
        tab.go("#page-003?level=-4&lit=9-3&bait=worm")
        told = tab.page.locator("[data-address-told]")
        assert told.inner_text() == (
            "“lit=9-3” in the address is no depth band. It is left out. "
            "The address asks for “bait”, which this atlas does not have."
        )
        assert tab.hash() == "#page-003?level=-4"
        tab.page.locator(".page.chosen [rel=next]").click()
        assert (tab.hash(), told.is_hidden()) == ("#page-004?level=-4", True)
        tab.page.evaluate("lake.go('page-005?lit=6-9')")
        assert tab.hash() == "#page-005?level=-4&lit=6-9"
        tab.page.go_back()
        assert tab.hash() == "#page-004?level=-4&lit=6-9"


def test_every_word_of_depth_follows_or_says_that_it_does_not(chromium, index):
    """Drawings, older pictures, photo, key, strip and list: none is silently wrong."""
    with visit(chromium, index) as tab:
        tab.go("#page-003?level=-6")
        page = tab.page.locator(".page.chosen")
        assert page.locator(".note-layers .level-old").inner_text() == "The lines below are for the lake at full."
        tab.page.evaluate("ATLAS.told.pages[3].depth = null; lake.takeAddress('#?level=-6')")
        depth = page.locator(".note-depth p").all_inner_texts()
        assert depth[0] == "The lines below are for the lake at full."
        assert len(depth) == 2
        told = page.locator(".drawn").all_inner_texts()
        assert set(told) == {"Drawn for the lake at full; today the water stands 6.0 ft lower."}
        assert len(told) == page.locator(".drawing").count()
        assert page.locator(".figure.chosen .level-then").inner_text() == (
            "The water then: 1.4 ft below full, 4.6 ft higher than today."
        )
        tab.page.locator("button[data-question=deep]").click()
        key = tab.page.locator(".key-words[data-for=deep]").inner_text()
        assert "below the water standing 6.0 ft below full" in key
        assert "is dry at that level" in key
        strip_m = tab.page.evaluate("[...new Set(ATLAS.reaches.map(r => r.depth))]")
        assert strip_m == [pytest.approx(2.1 + DOWN_M)]
        tab.page.locator("a[data-question=find]").click()
        tab.page.locator("#find a[href='#list']").click()
        assert "not for today's level" in tab.page.locator(".level-list").inner_text()
        tab.go("#reach-S-0001?level=-6")
        bare = tab.page.locator(".page.chosen .note-depth")
        assert (
            "The shallowest is dry, the deepest 12 ft below the water standing 6.0 ft below full." in bare.inner_text()
        )


def test_a_level_that_nothing_bears_out_is_not_taken(chromium, index, atlas):
    """Lower than the deepest depth, or higher than the land was measured: said, and held at the limit."""
    deepest = int(np.ceil(np.nanmax(atlas.known.grid.depth_m) / FOOT_M - 1e-9))
    with visit(chromium, index) as tab:
        tab.go()
        set_level(tab.page, "500")
        assert tab.hash() == f"#?level=-{deepest}"
        assert f"No depth of more than {deepest} ft is known" in tab.page.locator(".level-hint").inner_text()
        tab.page.locator("[data-lake-side]").select_option("1")
        assert tab.hash() == "#?level=6"
        assert "the land there was not measured" in tab.page.locator(".level-hint").inner_text()


def test_one_depth_is_lit_and_the_rest_is_grey(chromium, index, atlas):
    """Pixels on the map: hatched water colour where it is that deep today, grey where it is not; off by one tap."""
    grid = atlas.known.grid
    depth = grid.depth_m + DOWN_M
    row, col = (values[len(values) // 2] for values in np.nonzero((depth > 7 * FOOT_M) & (depth < 8 * FOOT_M)))
    deep_row, deep_col = np.unravel_index(np.nanargmax(depth), depth.shape)
    project = Projection(atlas.survey.crs_metric).lonlats
    places = [
        project(grid.x0_m + c * grid.cell_m, grid.y0_m + r * grid.cell_m) for r, c in ((row, col), (deep_row, deep_col))
    ]
    with visit(chromium, index) as tab:
        tab.go("#start?level=-6&lit=6-9")
        lit, rest = (colours(tab.page, float(lon), float(lat)) for lon, lat in places)
        # The hatching's own colour is mixed with its ground where a line is fine.
        assert (143, 196, 210) in lit
        assert any(max(np.abs(np.subtract(colour, (29, 79, 96)))) < 12 for colour in lit)
        assert (220, 218, 212) in rest
        assert (143, 196, 210) not in rest
        assert "6 to 9 ft. All else is grey, dotted where it is dry." in (
            tab.page.locator(".key-words[data-for=deep]").text_content()
        )
        tab.page.locator("[data-opens=level-lit]").click()
        tab.page.locator("[data-lit='1']").click()
        assert tab.hash() == "#start?level=-6&lit=9-12"
        tab.page.locator("[data-lit-from]").fill("3")
        assert tab.hash() == "#start?level=-6&lit=3-12"
        tab.page.locator("[data-lit-off]").click()
        assert tab.hash() == "#start?level=-6"


def test_what_nobody_sounded_is_not_drawn_dry(desk, atlas):
    """A lake far down: ground that is known to be dry is dotted sand, the blank of the model stays as it was."""
    lon, lat = Projection(atlas.survey.crs_metric).lonlats(np.array([420.0, 0.0]), np.array([-255.0, -115.0]))
    desk.evaluate("lake.takeAddress('#?level=-30')")
    blank, bank = (colours(desk, float(lon[i]), float(lat[i])) for i in (0, 1))
    assert (227, 211, 168) in bank
    assert blank == {(223, 233, 234)}


def test_the_controls_are_reachable_large_enough_and_named(chromium, index):
    """axe-core finds nothing; every control is at least 44 px, in a narrow window, and worked by keyboard."""
    from axe_playwright_python.sync_playwright import Axe

    with visit(chromium, index, PHONE) as tab:
        tab.go("#page-003?level=-6&lit=6-9")
        for row in ("level-lit", "level-set"):
            tab.page.locator(f"[data-opens={row}]").focus()
            tab.page.keyboard.press("Enter")
            for box in tab.page.locator(f"#{row} :is(button, input, select)").all():
                place = box.bounding_box()
                assert min(place["width"], place["height"]) >= 44
                assert 0 <= place["x"] <= place["x"] + place["width"] <= PHONE[0]
        found = Axe().run(tab.page, options={"resultTypes": ["violations"], "preload": False}).response["violations"]
        assert [v["id"] for v in found if v["impact"] in ("serious", "critical")] == []
        tab.page.locator("[data-lake-height]").focus()
        tab.page.keyboard.press("ArrowUp")
        assert tab.hash() == "#page-003?level=-6.1&lit=6-9"


def test_an_edition_for_another_level_begins_there(chromium, tmp_path):
    """Its printed words stand until another level is set; full is then another level."""
    lower = make_level_atlas(stage_m=DOWN_M)
    with visit(chromium, written(lower, tmp_path)) as tab:
        tab.go("#page-003")
        tab.page.locator("button[data-question=deep]").click()
        assert tab.page.locator("[data-level-words]").text_content() == "6.0 ft below full"
        assert tab.page.evaluate("[lake.ownWater(), document.querySelectorAll('.level-said').length]") == [False, 0]
        tab.page.locator("[data-opens=level-set]").click()
        tab.page.locator("[data-lake-full]").click()
        assert tab.hash() == "#page-003?level=0"
        full = make_level_atlas()
        reach = next(r for r in full.placed.reaches if r.id == full.pages[2].reaches[0])
        assert tab.page.evaluate(NOTE) == " ".join(s.text for s in depth_words_of(full.known, reach, 0.0))
