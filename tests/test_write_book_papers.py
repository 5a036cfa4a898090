"""The book on each paper and for each kind of viewer, reopened with readers that had no part in making it."""

from __future__ import annotations

import io
import json
import math
import re
import shutil
import subprocess
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pikepdf
import pypdf
import pypdfium2
import pytest
from books import write_book
from PIL import Image
from sample_atlas import make_sample_atlas, write_sample_pictures
from test_write_book import gdal_reads_pdf, images_of, labels, make_it_hard, squeezed, structure, texts

from atlasgen.config_publish import BookSection
from atlasgen.write.book import page_labels
from atlasgen.write.display_photos import DISPLAY_DPI, display_bytes

PT_PER_MM = 72 / 25.4
SIZES_MM = {"a4": (210, 297), "letter": (215.9, 279.4), "handheld": (105, 170)}
JARS = [
    Path(f"/usr/share/java/{name}.jar")
    for name in ("pdfbox2", "preflight", "xmpbox", "fontbox2", "commons-logging", "javax.activation", "jaxb-api")
]


def build(atlas, folder: Path, **facts) -> Path:
    """Write the sample's pictures and its book with other facts of the survey."""
    write_sample_pictures(atlas, folder)
    atlas = replace(atlas, survey=replace(atlas.survey, **facts))
    (file,) = write_book(atlas, folder)
    return file


@pytest.fixture(scope="module")
def sample():
    return make_sample_atlas()


@pytest.fixture(scope="module")
def handheld(sample, tmp_path_factory):
    return build(sample, tmp_path_factory.mktemp("handheld"), paper="handheld")


@pytest.fixture(scope="module")
def loose(sample, tmp_path_factory):
    return build(make_it_hard(sample), tmp_path_factory.mktemp("loose"), paper="letter", sides="one")


@pytest.fixture(scope="module")
def old(sample, tmp_path_factory):
    return build(sample, tmp_path_factory.mktemp("old"), viewer="old")


@pytest.fixture(scope="module", params=["handheld", "loose", "old"])
def any_book(request):
    return request.getfixturevalue(request.param)


def beyond(file: Path) -> list[tuple[int, str]]:
    """(page, what) for every letter and picture that leaves its page, or comes within 3 mm of its edge, by pdfium."""
    found = []
    edge = 3 * PT_PER_MM
    with pypdfium2.PdfDocument(file) as pdf:
        for number in range(len(pdf)):
            page = pdf[number]
            width, height = page.get_size()
            text = page.get_textpage()
            boxes = [("text", text.get_rect(i)) for i in range(text.count_rects())]
            images = page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_IMAGE])
            boxes += [("picture", item.get_bounds()) for item in images]
            for what, (left, bottom, right, top) in boxes:
                if left < edge or bottom < edge or right > width - edge or top > height - edge:
                    found.append((number, what))
    return found


def test_nothing_leaves_its_page(any_book):
    """Words and photographs keep clear of the paper's edge, on every paper."""
    assert beyond(any_book) == []


@pytest.mark.parametrize(("name", "paper"), [("handheld", "handheld"), ("loose", "letter"), ("old", "a4")])
def test_pages_have_the_size_of_their_paper(request, name, paper):
    """Width and height in either order: the strip chart's pages are turned in the hand."""
    want = sorted(edge * PT_PER_MM for edge in SIZES_MM[paper])
    with pypdfium2.PdfDocument(request.getfixturevalue(name)) as pdf:
        for page in pdf:
            assert sorted(page.get_size()) == pytest.approx(want, abs=0.05)


def test_a_reach_has_one_number_in_the_hand(handheld, sample):
    """Its pages follow each other as `4`, `4-2`; the first opens with the name, every word is on one of them."""
    seen, printed = labels(handheld), texts(handheld)
    assert seen == [pypdfium2.PdfDocument(handheld).get_page_label(i) for i in range(len(seen))]
    for page in sample.pages:
        first = seen.index(str(page.number))
        own = [i for i, label in enumerate(seen) if label.partition("-")[0] == str(page.number)]
        assert own == list(range(first, first + len(own)))
        assert printed[first].startswith(page.title)
        words = squeezed("".join(printed[first : first + len(own)]))
        for sentence in [s.text for n in page.notes for s in n.sentences] + [f.caption for f in page.figures]:
            assert squeezed(sentence) in words
    assert any(label.endswith("-2") for label in seen)


def test_the_index_tells_the_pages_that_the_outline_leads_to(handheld, sample):
    """Numbers in the list of tiles equal those of the outline's pages below each tile, on paper and in the file."""
    reader = pypdf.PdfReader(handheld)
    printed = next(text for text in texts(handheld) if "Tiles and their pages" in text)
    listed = dict(re.findall(r"Tile (\w \d) .*?pages? ([\d–, ]*\d)", printed))
    outline = reader.outline
    for at, item in enumerate(outline):
        if not isinstance(item, list) and item.title.startswith("Tile "):
            below = [reader.page_labels[reader.get_destination_page_number(kid)] for kid in outline[at + 1]]
            told = [str(page.number) for page in sample.pages if f"Tile {labels_of(sample)[page.tile]}" == item.title]
            assert below == told
            assert re.findall(r"\d+", listed[item.title.removeprefix("Tile ")]) == ends(told)


def labels_of(sample) -> dict[str, str]:
    return {tile.id: tile.label for tile in sample.placed.tiles}


def ends(numbers: list[str]) -> list[str]:
    """First and last of each run of following numbers."""
    values = [int(number) for number in numbers]
    shown = [v for v in values if v - 1 not in values or v + 1 not in values]
    return [str(v) for v in shown]


def test_loose_pages_have_their_number_at_the_right(loose):
    """Every foot's number stands right of the middle of the paper, whether odd or even."""
    with pypdfium2.PdfDocument(loose) as pdf:
        for i in range(1, len(pdf)):
            page = pdf[i]
            right = page.get_textpage().get_text_bounded(left=page.get_width() / 2, top=50, bottom=0)
            assert right.split()[-1] == labels(loose)[i]


def test_labels_come_from_what_is_printed():
    """Each physical page once, in order, as its foot has it."""
    printed = [{"kind": "folio", "page": page, "label": label} for page, label in ((4, "1"), (1, "i"), (2, "ii"))]
    assert page_labels([*printed, {"kind": "page", "page": 4}]) == ["i", "ii", "", "1"]


@pytest.mark.skipif(not gdal_reads_pdf(), reason="gdalinfo with the PDF driver is not installed")
def test_maps_carry_their_place_on_the_small_page(handheld):
    """GDAL reads the map of page 1 back to the metric rectangle it was drawn from, within 1 m on the ground."""
    command = ["gdalinfo", "-json", f"PDF:{labels(handheld).index('1') + 1}:{handheld}"]
    info = json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)
    neat = [float(n) for n in re.findall(r"-?\d+\.?\d*", info["metadata"][""]["NEATLINE"])]
    read = list(zip(neat[::2], neat[1::2], strict=True))
    for corner in ((-760, 40), (760, 40), (760, -756), (-760, -756)):
        assert min(math.dist(corner, place) for place in read) < 1


def test_a_book_for_old_viewers_uses_nothing_newer_than_pdf_1_4(old):
    """No object or cross-reference streams (PDF 1.5), nothing see-through, classical tables in the update as well."""
    data = old.read_bytes()
    assert data.startswith(b"%PDF-1.4")
    assert data.count(b"startxref") == 2
    assert b"/ObjStm" not in data
    assert b"/Type /XRef" not in data
    with pikepdf.open(old) as pdf:
        for item in pdf.objects:
            if isinstance(item, pikepdf.Dictionary | pikepdf.Stream):
                assert "/SMask" not in item
                assert item.get("/ca", 1) == item.get("/CA", 1) == 1


def test_its_photographs_are_baseline_and_no_larger_than_printed(old):
    """Each is a baseline JPEG (SOF0; ITU T.81, B.1.1.3) with at most the pixels that its size on the page shows."""
    found = images_of(old)
    assert found
    for _, _, raw in found:
        with Image.open(io.BytesIO(raw)) as picture:
            assert b"\xff\xc0" in raw
            assert "progressive" not in picture.info
            assert "icc_profile" not in picture.info
    # The cover shows one of them larger than its page does.
    largest = max(width_pt for _, (width_pt, _), _ in found)
    assert all(Image.open(io.BytesIO(raw)).width <= round(largest / 72 * DISPLAY_DPI) for _, _, raw in found)


@pytest.mark.skipif(
    not (shutil.which("java") and all(jar.exists() for jar in JARS)),
    reason="PDFBox preflight is not installed",
)
def test_an_outside_validator_finds_it_a_valid_archive_file(old):
    """Apache PDFBox's preflight holds the finished file, update and all, against PDF/A-1b (ISO 19005-1)."""
    command = ["java", "-cp", ":".join(map(str, JARS)), "org.apache.pdfbox.preflight.Validator_A1b", str(old)]
    told = subprocess.run(command, capture_output=True, text=True, check=False)
    assert "is a valid PDF/A-1b file" in told.stdout, told.stdout[:3000] + told.stderr[-2000:]


def test_an_outside_checker_finds_nothing_against_pdf_ua(handheld):
    """The package pdfua looks at catalog, language, title, structure, headings, tables and figures; no word of it."""
    pdfua = pytest.importorskip("pdfua")
    assert list(pdfua.validate(handheld).findings) == []


@pytest.mark.parametrize("name", ["handheld", "loose"])
def test_what_the_book_declares_holds_in_the_finished_file(request, name):
    """XMP, tags, language, title, embedded faces, colour intent, tab order and file id, read with two other readers."""
    file = request.getfixturevalue(name)
    reader = pypdf.PdfReader(file)
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert root["/OutputIntents"][0]["/S"] == "/GTS_PDFA1"
    assert len(reader.trailer["/ID"]) == 2
    assert not reader.is_encrypted
    assert all(page["/Tabs"] == "/S" for page in reader.pages if "/Annots" in page)
    with pikepdf.open(file) as pdf:
        fonts = [f for f in pdf.objects if isinstance(f, pikepdf.Dictionary) and f.get("/Type") == "/FontDescriptor"]
        assert fonts
        assert all({"/FontFile", "/FontFile2", "/FontFile3"} & set(font.keys()) for font in fonts)
        levels = [int(str(e.S)[2:]) for e in structure(pdf.Root.StructTreeRoot) if re.fullmatch(r"/H\d", str(e.S))]
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_a_book_for_old_viewers_has_a_limit_of_its_own():
    """25 MB a volume unless survey.toml says otherwise; any other book has none."""
    limits = [BookSection(viewer=v, volume_mb=mb).limit_mb for v, mb in (("old", None), ("old", 9), ("current", None))]
    assert limits == [25, 9, None]


def test_a_photo_at_display_size_weighs_by_its_pixels():
    """A photo of 2126 pixels printed 180 mm wide at 150 dpi has half of them each way, a quarter in all."""
    assert display_bytes(1000, 2126, 180.0) == pytest.approx(250, abs=1)
    assert display_bytes(1000, 300, 180.0) == 1000
