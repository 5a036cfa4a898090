"""The depth grid in the page: packed without loss, in its place on the earth, and with words that stand."""

from __future__ import annotations

import base64
import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from level_scene import make_level_atlas
from sample_atlas import make_sample_atlas

from atlasgen.model import DepthGrid, Isobath, ReachDepth
from atlasgen.model.wording import speaking
from atlasgen.place.geo import Projection
from atlasgen.write.webdepths import filled, retold_bare, retold_page, slotted, told_depths
from atlasgen.write.webgrid import (
    POWERS,
    cropped,
    grid_data,
    grid_mapping,
    packed_depths,
    packed_runs,
    varints,
    why_no_levels,
)


@pytest.fixture(scope="module")
def atlas():
    return make_level_atlas()


@pytest.fixture(scope="module")
def told(atlas):
    return told_depths(atlas)


def numbers(text: str) -> list[int]:
    """Read packed numbers, in words of its own."""
    found, value, place = [], 0, 0
    for byte in base64.b64decode(text):
        value |= (byte & 127) << (7 * place)
        place = place + 1 if byte & 128 else 0
        if not byte & 128:
            found.append(value)
            value = 0
    return found


def unpacked(known: str, depths: str, shape: tuple[int, int]) -> np.ndarray:
    """Read a packed grid, cell by cell; NaN where not known."""
    mask = np.repeat(np.arange(len(numbers(known))) % 2 == 1, numbers(known)).reshape(shape)
    cm, left = np.zeros(shape, dtype=int), iter(numbers(depths))
    for row, col in zip(*np.nonzero(mask), strict=True):
        west, south = col > 0 and mask[row, col - 1], row > 0 and mask[row - 1, col]
        corner = row > 0 and col > 0 and mask[row - 1, col - 1]
        guess = cm[row, col - 1] if west else cm[row - 1, col] if south else 0
        if west and south and corner:
            guess = cm[row, col - 1] + cm[row - 1, col] - cm[row - 1, col - 1]
        code = next(left)
        cm[row, col] = guess + (-(code + 1) // 2 if code % 2 else code // 2)
    return np.where(mask, cm / 100, np.nan)


def test_numbers_go_in_groups_of_seven_bits():
    """300 is 10 0101100 in binary: the low seven bits with the mark that more follow, then 2."""
    assert varints(np.array([0, 127, 128, 300])) == bytes([0, 127, 0x80, 1, 0xAC, 2])


@settings(max_examples=40)
@given(arrays(float, (4, 5), elements=st.one_of(st.just(np.nan), st.floats(-30, 300).map(lambda v: round(v, 2)))))
def test_a_grid_comes_back_to_the_centimetre(depth_m):
    """Whatever is known and whatever is not."""
    back = unpacked(packed_runs(np.isfinite(depth_m)), packed_depths(depth_m), depth_m.shape)
    assert np.array_equal(np.rint(depth_m * 100), np.rint(back * 100), equal_nan=True)


def test_a_grid_is_cut_to_what_is_known():
    """Its first cell moves with it."""
    depth = np.full((5, 6), np.nan)
    depth[2, 3], depth[3, 4] = 1.0, 2.0
    part = cropped(DepthGrid(depth, np.zeros((5, 6)), 100.0, 200.0, 5.0, 25.0, depth))
    assert (part.depth_m.shape, part.x0_m, part.y0_m, part.bound_m.shape) == ((2, 2), 115.0, 210.0, (2, 2))


def read_mapping(terms, u, v, middle, half) -> list[np.ndarray]:
    """Return both values of a mapping at normalised places: sums of powers, in words of its own."""
    return [
        m + h * sum(a * u**i * v**j for a, (i, j) in zip(row, POWERS, strict=True))
        for row, m, h in zip(terms, middle, half, strict=True)
    ]


def mapping_error_cells(grid: DepthGrid, projection: Projection) -> float:
    """Return by how much of a cell the mapping is out at worst, either way, on 101 by 101 places."""
    mapping = grid_mapping(grid, projection)
    rows, cols = grid.depth_m.shape
    col, row = (part.ravel() for part in np.meshgrid(np.linspace(-2, cols + 1, 101), np.linspace(-2, rows + 1, 101)))
    lon, lat = projection.lonlats(grid.x0_m + col * grid.cell_m, grid.y0_m + row * grid.cell_m)
    middle, half = mapping.middle, mapping.half
    u, v, p, q = ((values - m) / h for values, m, h in zip((col, row, lon, lat), middle, half, strict=True))
    x, y = projection.points(*read_mapping(mapping.forward, u, v, middle[2:], half[2:]))
    forth = np.hypot((x - grid.x0_m) / grid.cell_m - col, (y - grid.y0_m) / grid.cell_m - row)
    to_col, to_row = read_mapping(mapping.back, p, q, middle[:2], half[:2])
    return float(max(forth.max(), np.hypot(to_col - col, to_row - row).max()))


@pytest.mark.parametrize(("lat_deg", "size", "cell_m"), [(-31.5, 400, 5.0), (68.0, 4000, 5.0), (5.0, 1000, 50.0)])
def test_cells_are_placed_to_within_a_thousandth_of_a_cell(lat_deg, size, cell_m):
    """A tenth would do; measured against PROJ, on lakes of 2, 20 and 50 km."""
    crs = f"+proj=aeqd +lat_0={lat_deg} +lon_0=-96.4 +datum=WGS84 +units=m"
    far_m = -size * cell_m / 2
    wide = np.broadcast_to(0.0, (size, size))
    grid, projection = DepthGrid(wide, wide, far_m, far_m, cell_m, 25.0), Projection(crs)
    assert mapping_error_cells(grid, projection) < 0.001


def test_the_page_gets_grid_and_doubt(atlas):
    """The sample's grid arrives whole; where its bound is over half the heavy interval the lines are in doubt."""
    data, grid = grid_data(atlas), cropped(atlas.known.grid)
    back = unpacked(data["known"], data["depths"], grid.depth_m.shape)
    assert (data["rows"], data["cols"]) == grid.depth_m.shape
    assert np.array_equal(np.isfinite(back), np.isfinite(grid.depth_m))
    assert np.nanmax(np.abs(back - grid.depth_m)) <= 0.005 + 1e-9
    runs = numbers(data["doubt"])
    doubt = np.repeat(np.arange(len(runs)) % 2 == 1, runs).reshape(grid.depth_m.shape)
    assert np.array_equal(doubt, np.nan_to_num(grid.bound_m) > 5 * 0.3048)


def test_without_heavy_lines_the_deepest_line_stands_for_their_interval(atlas):
    """A shallow lake: half of its deepest line, so rather more doubt than less."""
    lines = (Isobath(0.3048, "1", False, ()), Isobath(0.6096, "2", False, ()))
    bound = np.full(atlas.known.grid.depth_m.shape, 0.31)
    shallow = replace(atlas.known, isobaths=lines, grid=replace(atlas.known.grid, bound_m=bound))
    assert grid_data(replace(atlas, known=shallow))["doubt"]
    deeper = replace(shallow, isobaths=(*lines, Isobath(3.048, "10", True, ())))
    assert grid_data(replace(atlas, known=deeper))["doubt"] == ""


def test_it_is_said_why_no_level_can_be_set(atlas):
    """No model, or depths that no record ties to full; nothing is packed then."""
    assert why_no_levels(atlas) == ""
    without = make_sample_atlas()
    assert grid_data(without) == {"why": why_no_levels(without)}
    assert why_no_levels(without).startswith("There is no depth model in this survey")
    depth = ReachDepth(40, 3, 1.0, 2.0, 3.0, (), False)
    loose = replace(atlas, known=replace(atlas.known, reach_depth={"S-0001": depth}))
    assert why_no_levels(loose).startswith("The depths are below the water of the survey day")


def test_every_note_can_be_told_again(atlas, told):
    """Filled with its own depths each note is the page's own: none falls back on words for the printed level."""
    assert len(told["pages"]) == len(atlas.pages)
    notes = [note for where in ("pages", "bare") for place in told[where].values() for note in place.values()]
    assert None not in notes
    assert told["reached"]["depths"] == pytest.approx([1.524, 3.048, 6.096])
    assert told["reached"]["texts"][-1] == "It is 5 ft deep {0} out, 10 ft deep {1} out and 20 ft deep {2} out."


@pytest.mark.parametrize("stage_m", [0.0, -0.75])
def test_every_note_can_be_told_again_in_german(stage_m):
    """With decimal commas, in metres, and with where depths are reached: as in English, none falls back."""
    with speaking("de"):
        told = told_depths(make_level_atlas(stage_m, "metres"))
    notes = [note for where in ("pages", "bare") for place in told[where].values() for note in place.values()]
    assert None not in notes
    assert [text for text in told["texts"] if re.search(r"2\d{4}|[02]\.\d", text)] == []
    slots = [re.findall(r"\{(\d)\}", text) for text in told["reached"]["texts"]]
    assert slots == [[], ["0"], ["0"], ["0", "1"], ["0"], ["0", "1"], ["0", "1"], ["0", "1", "2"]]


def test_a_telltale_is_found_by_its_own_words():
    """Longer numbers that begin alike do not occur, and other numbers stay."""
    text = "20000,0 m bei 5 m, 20001,0 m bei 10 m"
    assert slotted(text, ["20000,0 m", "20001,0 m"]) == ("{0} bei 5 m, {1} bei 10 m", (0, 1))
    assert slotted("no depth", []) == ("no depth", ())


def test_slots_stand_where_depths_stood(atlas, told):
    """The template of a bare shore, by hand, and one depth in hundredths of a millimetre, rounded down."""
    reach = next(reach for reach in told["bare"])
    note = retold_bare(atlas, reach)["depth"]
    assert note.lines[1].words == ("The shallowest is {0}, the deepest {1} below {level}.",)
    assert filled(note, "feet", "the brim")[1].text.endswith("below the brim.")
    packed = told["bare"][reach]["depth"]["depths"]
    assert [0 <= depth_m * 1e5 - whole < 1 for depth_m, whole in zip(note.depths_m, packed, strict=True)] == [True] * 2


def test_a_note_that_is_not_ours_is_not_told_again(atlas):
    """A sentence that the page words otherwise would be silently wrong: it is left to a plain line."""
    page = atlas.pages[0]
    reach = next(reach for reach in atlas.placed.reaches if reach.id == page.reaches[0])
    notes = [replace(note, sentences=note.sentences[:1] * 2) for note in page.notes if note.topic == "depth"]
    assert retold_page(atlas, reach, notes) == {"depth": None}


def test_the_level_of_the_edition_is_taken_off(atlas, told):
    """Depths in the page are below the datum, whatever level the edition is told for; a foot is 0.3048 m."""
    lower = make_level_atlas(stage_m=-0.3048)
    below = told_depths(lower)["pages"]["1"]
    assert told["pages"]["1"]["depth"]["depths"] == pytest.approx(below["depth"]["depths"], abs=1)
    assert None not in below.values()
    assert grid_data(lower)["depths"] == grid_data(atlas)["depths"]
