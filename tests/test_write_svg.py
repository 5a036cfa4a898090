"""SVG text: valid, safe, small, the same twice, and readable in print and on screen."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest
from defusedxml.ElementTree import fromstring
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.model import Drawing, Shape
from atlasgen.resources import resource
from atlasgen.write.svg import SHADES, shade_colours, style_sheet, to_svg

NS = "{http://www.w3.org/2000/svg}"
SQUARE = ((1.0, 1.0), (9.5, 1.0), (9.5, 9.25), (1.0, 9.25))


def drawing(*shapes: Shape, alt: str = "A map.") -> Drawing:
    return Drawing("map-1", 84.0, 62.0, shapes, alt)


def points_of(path: str) -> list[list[tuple[float, float]]]:
    """Read a path of M, relative l and z back into points: an independent reading of the grammar (SVG 1.1, 8.3)."""
    runs = []
    for run in re.findall(r"M[^M]*", path):
        numbers = [float(n) for n in re.findall(r"-?(?:\d+\.?\d*|\.\d+)", run)]
        points = [(numbers[0], numbers[1])]
        for dx, dy in zip(numbers[2::2], numbers[3::2], strict=True):
            points.append((points[-1][0] + dx, points[-1][1] + dy))
        runs.append(points)
    return runs


def test_the_frame_is_in_millimetres():
    """Width and height say mm; the view box counts in the same."""
    root = fromstring(to_svg(drawing()))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("84mm", "62mm", "0 0 84 62")


def test_those_who_cannot_see_it_are_told():
    """role="img" with a title that it names by id."""
    root = fromstring(to_svg(drawing(alt="Map of reach S-0001.")))
    title = root.find(f"{NS}title")
    assert (root.get("role"), title.text) == ("img", "Map of reach S-0001.")
    assert root.get("aria-labelledby") == title.get("id") == "map-1-title"


coordinate = st.integers(-200_000, 200_000).map(lambda n: n / 100)


@given(st.lists(st.lists(st.tuples(coordinate, coordinate), min_size=2, max_size=20), min_size=1, max_size=4))
def test_a_path_reads_back_exactly(runs):
    """Relative hundredths lose nothing, however long the line."""
    shape = Shape("line", "shore", tuple(tuple(run) for run in runs))
    path = fromstring(to_svg(drawing(shape))).find(f"{NS}path").get("d")
    for written, run in zip(points_of(path), runs, strict=True):
        assert written == [pytest.approx(point, abs=1e-6) for point in run]


HOSTILE = [
    '<script>alert("1")</script>',
    "a & b ]]> <!-- x --> &lt;",
    "nul \x00 bell \x07 escape \x1b vt \x0b",
    "lone \ud800 surrogate, \ufffe and \uffff",
    "turned \u202etxt.exe\u202c and \u2066isolated\u2069",
    "line\nbreak\tand tab",
    "'single' \"double\"",
]


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_words_are_only_words(words):
    """A caption is text whatever it holds: still valid XML (defusedxml), no new element, no forbidden character."""
    shape = Shape("text", "place", (((5.0, 5.0),),), text=words, size_mm=2.8)
    svg = to_svg(replace(drawing(shape, alt=words), id=f'"><x {words}'))
    root = fromstring(svg.encode("utf-8"))
    assert {e.tag.removeprefix(NS) for e in root.iter()} == {"svg", "title", "g", "text"}
    shown = root.find(f".//{NS}text").text
    assert not re.search("[\x00-\x1f\ud800-\udfff\ufffe\uffff\u202a-\u202e\u2066-\u2069]", shown)
    assert shown.split()[0] == words.split()[0].replace("\u202e", "")


@given(st.text(max_size=60))
def test_any_text_makes_valid_xml(words):
    """No string at all breaks the document."""
    shape = Shape("text", "place", (((5.0, 5.0),),), text=words, size_mm=2.8)
    root = fromstring(to_svg(drawing(shape, alt=words)).encode("utf-8"))
    assert [element.tag for element in root] == [f"{NS}title", f"{NS}g"]


def test_the_look_is_on_the_element_and_in_its_class():
    """Attributes for print, a class for a page with a style sheet of its own."""
    shape = Shape("line", "isobath", (SQUARE,))
    path = fromstring(to_svg(drawing(shape))).find(f"{NS}path")
    assert (path.get("class"), path.get("stroke"), path.get("stroke-width")) == ("m-line-isobath", "#1d4f60", ".15")


def test_neighbours_of_one_look_are_one_element():
    """Two lines of one style share their attributes; a style between them keeps the order."""
    a, b = Shape("line", "isobath", (SQUARE,)), Shape("line", "shore", (SQUARE,))
    assert len(fromstring(to_svg(drawing(a, a))).findall(f"{NS}path")) == 1
    assert len(fromstring(to_svg(drawing(a, b, a))).findall(f"{NS}path")) == 3


def test_a_wedge_points_where_it_is_turned():
    """Turned 90 degrees from up its tip lies to the right by its length."""
    svg = fromstring(to_svg(drawing(Shape("wedge", "camera", (((10.0, 20.0),),), size_mm=3.0, turn_deg=90.0))))
    (corners,) = points_of(svg.find(f"{NS}path").get("d"))
    assert max(corners) == pytest.approx((13.0, 20.0))


def test_dots_are_circles_of_their_diameter():
    """Each part of a dot shape is one circle."""
    root = fromstring(to_svg(drawing(Shape("dot", "sounding", (((1.0, 2.0),), ((3.0, 4.0),)), size_mm=0.35))))
    circles = root.findall(f".//{NS}circle")
    assert [(c.get("cx"), c.get("cy"), c.get("r")) for c in circles] == [("1", "2", ".175"), ("3", "4", ".175")]


def test_an_unknown_style_is_named_with_those_that_exist():
    """A slip in a style name is told at once, with the file to mend."""
    with pytest.raises(ValueError, match=r"'isobaht' of a line.*isobath.*style\.json"):
        to_svg(drawing(Shape("line", "isobaht", (SQUARE,))))


# --- colour -------------------------------------------------------------------------------------------------------


def luminance(colour: str) -> float:
    """Relative luminance: WCAG 2.2, definitions (threshold 0.04045 since May 2021)."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a: str, b: str) -> float:
    """Contrast ratio: WCAG 2.2, definitions."""
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize(
    ("colour", "ratio"), [("#767676", 4.54), ("#0000ff", 8.59), ("#ffff00", 1.07), ("#000000", 21)]
)
def test_the_contrast_formula_gives_the_published_ratios(colour, ratio):
    """Ratios on white as printed with WCAG's own examples."""
    assert contrast(colour, "#ffffff") == pytest.approx(ratio, abs=0.005)


PALETTE = style_sheet()["palette"]


@pytest.mark.parametrize("ink", ["ink", "water"])
@pytest.mark.parametrize("ground", [*shade_colours(), PALETTE["land"], PALETTE["paper"]])
def test_words_read_on_every_tint(ink, ground):
    """WCAG 2.2 SC 1.4.3: 4.5 to 1 for text, not rounded up."""
    assert contrast(PALETTE[ink], ground) >= 4.5


@pytest.mark.parametrize("ground", [*shade_colours(), PALETTE["land"], PALETTE["paper"]])
def test_cameras_and_reaches_stand_out_on_every_tint(ground):
    """WCAG 2.2 SC 1.4.11: 3 to 1 for what must be seen to understand."""
    assert contrast(PALETTE["camera"], ground) >= 3.0


def test_small_words_in_other_colours_read_where_they_stand():
    """White on vermilion plates, vermilion and soft text on white, soft text on land."""
    assert contrast(PALETTE["paper"], PALETTE["camera"]) >= 4.5
    assert contrast(PALETTE["soft"], PALETTE["paper"]) >= 4.5
    assert contrast(PALETTE["soft"], PALETTE["land"]) >= 4.5
    soft = {name for name, look in style_sheet()["texts"].items() if look["fill"] == "soft"}
    assert soft == {"unknown", "tick", "tick-y", "note"}  # none of them is ever written on a tint


@pytest.mark.parametrize("state", ["state-well", "state-poorly", "state-near"])
def test_states_stand_out_on_the_white_of_their_strip(state):
    """3 to 1, and the patterns differ, so that grey print tells them apart too."""
    assert contrast(PALETTE[state], PALETTE["paper"]) >= 3.0
    looks = [style_sheet()["lines"][s] for s in ("state-well", "state-poorly", "state-near")]
    assert len({(look["width_mm"], tuple(look.get("dash_mm", ()))) for look in looks}) == 3


def test_deeper_is_darker_all_the_way():
    """The lightened ramp keeps the order of the one it comes from."""
    levels = [luminance(colour) for colour in shade_colours()]
    assert levels == sorted(levels, reverse=True)
    assert len(set(shade_colours())) == SHADES + 1


@pytest.mark.parametrize(
    ("row", "rgb"),
    [
        (20, (0.83310566, 0.93573198, 0.71446311)),
        (74, (0.41040452, 0.77018443, 0.64147423)),
        (128, (0.28253107, 0.55645275, 0.61852942)),
    ],
)
def test_the_ramp_is_the_published_one(row, rgb):
    """Rows of deep-rgb.txt of cmocean (Thyng et al. 2016, True colors of oceanography, Oceanography 29(3))."""
    ramp = json.loads(resource("templates", "map", "depth_ramp.json").read_text(encoding="utf-8"))
    sample = ramp["samples"][ramp["rows"].index(row)]
    assert [int(sample[i : i + 2], 16) for i in (1, 3, 5)] == [round(v * 255) for v in rgb]


def test_weights_are_fine():
    """Lines as proofed: 0.15 mm, 0.3 mm and 0.4 mm."""
    lines = style_sheet()["lines"]
    assert [lines[s]["width_mm"] for s in ("isobath", "isobath-major", "shore")] == [0.15, 0.3, 0.4]


def test_in_the_book_words_are_text_in_the_right_face(tmp_path: Path):
    """The print engine draws the SVG with words as text in the atlas's own face, tagged and archivable."""
    import font_source_sans_pro
    import typst
    from pypdf import PdfReader

    shapes = (
        Shape("area", "depth", (SQUARE,), shade=0.5),
        Shape("text", "place", (((30.0, 20.0),),), text="Heron Bay", size_mm=2.8, turn_deg=-20.0),
        Shape("text", "isobath-major", (((50.0, 20.0),),), text="24", size_mm=2.2),
    )
    (tmp_path / "map.svg").write_text(to_svg(drawing(*shapes)), encoding="utf-8")
    source = '#set document(title: "t")\n#set text(lang: "en")\n#image("map.svg", width: 84mm, alt: "A map.")\n'
    (tmp_path / "book.typ").write_text(source, encoding="utf-8")
    faces = str(Path(font_source_sans_pro.__file__).parent / "files")
    compiler = typst.Compiler(
        str(tmp_path / "book.typ"), root=str(tmp_path), ignore_system_fonts=True, font_paths=[faces]
    )
    pdf, warnings = compiler.compile_with_warnings(format="pdf", pdf_standards=["ua-1", "a-2a"])
    assert warnings == []
    (tmp_path / "book.pdf").write_bytes(pdf)
    page = PdfReader(tmp_path / "book.pdf").pages[0]
    written = re.sub(r"\s", "", page.extract_text())
    assert sorted(written) == sorted("HeronBay24")
    assert {"SourceSansPro-It", "SourceSansPro-Semibold"} <= _faces(pdf)


def _faces(pdf: bytes) -> set[str]:
    """Names of the embedded fonts, without the subset's tag."""
    import io

    import pikepdf

    with pikepdf.open(io.BytesIO(pdf)) as document:
        names = [str(o.FontName) for o in document.objects if isinstance(o, pikepdf.Dictionary) and "/FontName" in o]
    return {name.split("+")[-1] for name in names}
