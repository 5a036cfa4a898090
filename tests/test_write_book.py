"""The book, reopened with readers that had no part in making it: pypdf, pdfium, qpdf and GDAL."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from dataclasses import replace
from datetime import date
from pathlib import Path

import pikepdf
import pypdf
import pypdfium2
import pytest
from books import write_book
from PIL import Image
from sample_atlas import HOSTILE, make_sample_atlas, write_sample_pictures
from sample_turn import LOOKS, SET_PAGE, make_turned_atlas

from atlasgen.model import Note, Problem, Sentence
from atlasgen.resources import resource
from atlasgen.write.book import map_share
from atlasgen.write.book_data import document_date
from atlasgen.write.book_text import BREAK, LACKING, Printable, shorten
from atlasgen.write.typeset import LayoutFault, lay_out_pdf

REACH_PAGES = 6
FOOT_MM = 17.0  # bottom margin of templates/book/style.typ


def build(atlas, folder: Path) -> Path:
    """Write the sample's pictures and the book into `folder`."""
    write_sample_pictures(atlas, folder)
    (file,) = write_book(atlas, folder)
    return file


@pytest.fixture(scope="module")
def sample():
    return make_sample_atlas()


@pytest.fixture(scope="module")
def book(sample, tmp_path_factory):
    """Build the sample's book once."""
    return build(sample, tmp_path_factory.mktemp("book"))


@pytest.fixture(scope="module")
def hard(sample, tmp_path_factory):
    """Build a book of everything that makes a page difficult; return (atlas, file)."""
    atlas = make_it_hard(sample)
    return atlas, build(atlas, tmp_path_factory.mktemp("hard"))


def with_sizes(atlas, sizes):
    """Give photos other pixel sizes: {photo: (width, height)}."""
    changed = {p: replace(atlas.pictures[p], width_px=w, height_px=h) for p, (w, h) in sizes.items()}
    return replace(atlas, pictures={**atlas.pictures, **changed})


def make_it_hard(atlas):
    """Upright, tiny and very wide photos, endless words and notes, scripts that the typeface lacks."""
    first, second, third, fourth, fifth, sixth = atlas.pages
    endless = tuple(Sentence(f"Sentence {i} of a note without end about this bank and its bed.") for i in range(150))
    long_caption = tuple(replace(f, caption=f"{f.caption} {HOSTILE * 6}") for f in fourth.figures)
    pages = (
        replace(first, notes=(*first.notes, Note("x", "Longer", endless[:12]))),
        second,
        replace(third, notes=(*third.notes, Note("x", "Longer", endless[:12]))),
        replace(fourth, title="T" * 300, figures=long_caption, notes=(*fourth.notes, Note("x", "Endless", endless))),
        replace(fifth, title=HOSTILE, subtitle="w" * 2000, notes=(Note("x", "H" * 300, (Sentence("x" * 2000),)),)),
        replace(sixth, title="שלום 😀 日本", subtitle="\u202ereversed\x07\x00bell"),
    )
    sizes = {first.figures[0].photo: (1200, 1600), third.figures[0].photo: (900, 1600)}
    sizes |= {fifth.figures[0].photo: (500, 375), sixth.figures[0].photo: (3000, 600)}
    name = "photos/" + "a_very_long-name." * 60 + "jpg"
    left_out = (*atlas.left_out, Problem(name, "damaged", "y" * 900, "left_out"))
    return replace(with_sizes(atlas, sizes), pages=pages, left_out=left_out)


def texts(file: Path) -> list[str]:
    """Text of each page as pdfium extracts it: one line, without break marks."""
    with pypdfium2.PdfDocument(file) as pdf:
        found = []
        for i in range(len(pdf)):
            page = pdf[i]
            found.append(" ".join(page.get_textpage().get_text_range().replace(BREAK, "").split()))
        return found


def labels(file: Path) -> list[str]:
    return pypdf.PdfReader(file).page_labels


def squeezed(text: str) -> str:
    """Text without any white space or break marks: lines end where they like."""
    return re.sub(rf"[\s{BREAK}\ufffe\u00ad]", "", text)


def images_of(file: Path) -> list[tuple[int, tuple[float, float], bytes]]:
    """(page, size in points from the placement matrix, raw JPEG) of every photo drawn, as pdfium finds them."""
    found = []
    with pypdfium2.PdfDocument(file) as pdf:
        for number in range(len(pdf)):
            page = pdf[number]
            for item in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_IMAGE], max_depth=5):
                a, b, c, d, _, _ = item.get_matrix().get()
                raw = bytes(item.get_data(decode_simple=False))
                assert (b, c) == (0, 0), "photos stand upright"
                found.append((number, (a, d), raw))
    return found


def test_front_pages_are_roman_and_reach_pages_carry_their_own_number(book, sample):
    """Both readers see i, ii, iii…, then 1 to N, and the back matter counting on."""
    seen = labels(book)
    front = seen.index("1")
    assert seen[:6] == ["i", "ii", "iii", "iv", "v", "vi"]
    assert [str(n) for n in range(1, len(seen) - front + 1)] == seen[front:]
    with pypdfium2.PdfDocument(book) as pdf:
        assert seen == [pdf.get_page_label(i) for i in range(len(pdf))]
    for page in sample.pages:
        assert page.title in texts(book)[front + page.number - 1]


def test_page_one_lies_on_the_right(book):
    """In a bound book odd numbers are right-hand pages, counted from the cover (common practice, no source)."""
    assert labels(book).index("1") % 2 == 0


def test_every_note_and_caption_is_real_text_on_its_page(book, sample):
    """Pypdf finds each sentence on the page it belongs to, with markup of other languages as plain signs."""
    front = labels(book).index("1")
    reader = pypdf.PdfReader(book)
    for page in sample.pages:
        printed = squeezed(reader.pages[front + page.number - 1].extract_text())
        for words in [s.text for n in page.notes for s in n.sentences] + [f.caption for f in page.figures]:
            assert squeezed(words) in printed
    assert squeezed(HOSTILE) in squeezed(reader.pages[front + 1].extract_text())


def links_of(file: Path) -> dict[int, set[int]]:
    """Page index to the indexes of the pages that its links lead to, as pypdf resolves them."""
    reader = pypdf.PdfReader(file)
    found: dict[int, set[int]] = {}
    for i, page in enumerate(reader.pages):
        for item in page.get("/Annots", []):
            link = item.get_object()
            goal = link.get("/Dest") or link["/A"]["/D"]
            goal = reader.named_destinations[goal].dest_array if isinstance(goal, str) else goal
            found.setdefault(i, set()).add(reader.get_page_number(goal[0].get_object()))
    return found


def test_links_lead_where_they_say(book, sample):
    """Neighbours, tile, map index, contents and the list of photographs are linked both ways."""
    links, seen = links_of(book), texts(book)
    front = labels(book).index("1")
    tiles = next(i for i, text in enumerate(seen) if "Tiles and their pages" in text)
    map_of = {
        tile.id: next(i for i, text in enumerate(seen) if text.startswith(f"Tile {tile.label}"))
        for tile in sample.placed.tiles
    }
    contents = next(i for i, text in enumerate(seen) if text.startswith("Contents"))
    listing = next(i for i, text in enumerate(seen) if text.startswith("List of photographs"))
    for page in sample.pages:
        at = front + page.number - 1
        beside = {front + n - 1 for n in (page.previous, page.next) if n}
        assert beside | {map_of[page.tile]} <= links[at]
        assert at in links[map_of[page.tile]]
        assert at in links[contents]
        assert at in links[listing]
    assert {front, front + 3, front + 4, front + 5, *map_of.values()} <= links[tiles]


def test_outline_has_tiles_with_their_pages(book):
    """The bookmarks name the sections in order, and each tile once, at its map, with its pages below."""
    reader = pypdf.PdfReader(book)
    flat: list[tuple[int, str, str]] = []

    def walk(items, depth):
        for item in items:
            if isinstance(item, list):
                walk(item, depth + 1)
            else:
                flat.append((depth, item.title, reader.page_labels[reader.get_destination_page_number(item)]))

    walk(reader.outline, 0)
    assert flat[0] == (0, "Cover", "i")
    assert [title for depth, title, _ in flat if depth == 0 and title.startswith("Tile ")] == ["Tile A 1", "Tile B 1"]
    # Page 5 is of A 1, pages 1 to 4 and the island's, 6, are of tile B 1.
    assert [label for depth, _, label in flat if depth == 1] == ["5", "1", "2", "3", "4", "6"]
    assert [title for _, title, _ in flat[-5:]] == [
        "The shore pulled straight",
        "Shores without photographs",
        "List of photographs",
        "Files left out, and why",
        "Colophon",
    ]


def test_photos_are_in_the_book_byte_for_byte(book, sample):
    """Every photo stands on its page and its stream is the prepared JPEG, not a second compression."""
    front = labels(book).index("1")
    drawn = {(number, raw) for number, _, raw in images_of(book)}
    for page in sample.pages:
        for figure in page.figures:
            prepared = (book.parent / "photos" / f"{figure.photo}.jpg").read_bytes()
            assert (front + page.number - 1, prepared) in drawn


def test_photos_are_neither_stretched_nor_printed_too_coarsely(book, hard):
    """Side ratio as in the file within 0.1 %, and 200 dots per inch or 60 mm (the rule stated in the colophon)."""
    coarse = []
    for file in (book, hard[1]):
        for _, (width_pt, height_pt), raw in images_of(file):
            width_px, height_px = pypdfium_size(raw)
            assert width_px / height_px == pytest.approx(width_pt / height_pt, rel=1e-3)
            dpi = width_px / (width_pt / 72)
            if dpi < 199.9:
                coarse.append(max(width_pt, height_pt) / 72 * 25.4)
    assert [edge_mm for edge_mm in coarse if edge_mm > 60.01] == []


def pypdfium_size(raw: bytes) -> tuple[int, int]:
    """Width and height that a JPEG's own header states."""
    from io import BytesIO

    with Image.open(BytesIO(raw)) as picture:
        return picture.size


def test_a_small_file_is_printed_small_and_says_so(sample, tmp_path):
    """300 pixels at the least width of 60 mm are 127 dots per inch, and the caption tells it."""
    atlas = with_sizes(sample, {sample.pages[0].figures[0].photo: (300, 225)})
    file = build(atlas, tmp_path)
    front = labels(file).index("1")
    (size,) = [size for page, size, _ in images_of(file) if page == front]
    assert size[0] == pytest.approx(60 / 25.4 * 72, abs=0.01)
    assert "printed at 127 dots per inch" in texts(file)[front]


def test_nothing_private_is_left_in_the_book(sample, tmp_path):
    """Exif of a photo does not reach the file."""
    write_sample_pictures(sample, tmp_path)
    photo = sample.pages[0].figures[0].photo
    with Image.open(tmp_path / "photos" / f"{photo}.jpg") as picture:
        exif = picture.getexif()
        exif[0x013B] = "Private Person"
        picture.load()
        picture.save(tmp_path / "photos" / f"{photo}.jpg", exif=exif)
    assert b"Private Person" in (tmp_path / "photos" / f"{photo}.jpg").read_bytes()
    write_book(sample, tmp_path)
    assert b"Private Person" not in (tmp_path / "atlas.pdf").read_bytes()


def test_grey_photos_keep_their_tone(sample, tmp_path):
    """A grey JPEG prints grey: pdfium renders its tone within the rounding of a colour profile."""
    write_sample_pictures(sample, tmp_path)
    photo = tmp_path / "photos" / f"{sample.pages[0].figures[0].photo}.jpg"
    Image.new("L", (1600, 1200), 90).save(photo)
    write_book(sample, tmp_path)
    front = labels(tmp_path / "atlas.pdf").index("1")
    with pypdfium2.PdfDocument(tmp_path / "atlas.pdf") as pdf:
        tone = pdf[front].render(scale=0.5).to_pil().convert("RGB").getpixel((150, 100))
    assert all(abs(channel - 90) <= 3 for channel in tone)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_page_stays_one_page_whatever_it_holds(sample, tmp_path, paper):
    """Hard pages neither spill over nor run into the foot; what does not fit is told and stands further back."""
    atlas = make_it_hard(sample)
    atlas = replace(atlas, survey=replace(atlas.survey, paper=paper))
    file = build(atlas, tmp_path)
    seen, front, printed = labels(file), labels(file).index("1"), texts(file)
    assert [str(n) for n in range(1, REACH_PAGES + 1)] == seen[front : front + REACH_PAGES]
    assert printed[front + REACH_PAGES].startswith("The shore pulled straight")
    for number in range(REACH_PAGES):
        assert foot_only(file, front + number)
    assert "More notes on this bank are on page" in printed[front + 3]
    continued = next(text for text in printed if text.startswith("Notes continued"))
    assert "page 4" in continued
    assert squeezed("Sentence 149 of a note without end") in squeezed("".join(printed))


def foot_only(file: Path, number: int) -> bool:
    """Tell whether the bottom margin of a page holds the running foot and nothing else."""
    with pypdfium2.PdfDocument(file) as pdf:
        page = pdf[number]
        text = page.get_textpage().get_text_bounded(bottom=-1000, top=FOOT_MM / 25.4 * 72 - 1)
    words = "Sample <Lake> & Reservoir, edition 2026.1 not for navigation; levels change, look before you run"
    expected = set(words.split()) | {labels(file)[number]}
    return expected == set(text.split())


def test_text_without_a_glyph_is_shown_as_missing_and_said(hard):
    """Scripts that the typeface lacks print as boxes, control signs not at all, and the colophon tells it."""
    printed = texts(hard[1])
    page = printed[labels(hard[1]).index("6")]
    assert f"{LACKING * 4} {LACKING} {LACKING * 2}" in page
    assert "reversed bell" in page
    assert "The typeface lacks" in printed[-1]


def test_long_file_names_wrap_and_lose_nothing(hard):
    """A name of a thousand signs is printed whole, within the page."""
    atlas, file = hard
    printed = squeezed("".join(texts(file)))
    for problem in atlas.left_out:
        assert squeezed(problem.subject) in printed
    assert "y" * 900 in printed
    with pypdfium2.PdfDocument(file) as pdf:
        for page in pdf:
            beyond = page.get_textpage().get_text_bounded(left=page.get_width() - 28)
            assert beyond.strip() == ""


def test_a_cut_caption_is_told_and_whole_in_the_list(hard):
    """Captions over the limit end with an ellipsis and a page number; the list of photographs has them whole."""
    atlas, file = hard
    printed = texts(file)
    assert "All of this caption is in the list of photographs" in printed[labels(file).index("4")]
    assert squeezed(atlas.pages[3].figures[0].caption) in squeezed("".join(printed))


def test_no_profile_is_said(book):
    """A page whose bank no depth model reaches says so in a quiet line."""
    front = labels(book).index("1")
    told = "No depth model reaches this bank, so no profile is drawn."
    assert [told in text for text in texts(book)[front : front + 6]] == [False, True, False, False, False, False]


def test_empty_lists_say_so(sample, tmp_path):
    """Nothing left out, every reach photographed, no photograph at all: each is a sentence, not a blank."""
    known = replace(sample.known, reach_state={r.id: "near" for r in sample.placed.reaches}, gaps=())
    atlas = replace(sample, pages=(), left_out=(), problems=(), known=known, methods=())
    printed = " ".join(texts(build(atlas, tmp_path)))
    assert "No file was left out." in printed
    assert "Every reach of the shore has at least one photograph." in printed
    assert "This edition holds no photographs." in printed
    assert "No method notes came with this edition." in printed


def test_inputs_that_could_not_be_used_are_named(sample, tmp_path):
    """A fault of an optional input stands with the files left out."""
    fault = Problem("stage.csv", "bad_row", "stage.csv: no row could be used.", "fault")
    printed = " ".join(texts(build(replace(sample, problems=(*sample.problems, fault)), tmp_path)))
    assert "Other inputs that could not be used" in printed
    assert "stage.csv no row could be used." in printed


def test_stretches_without_photos_are_listed(book):
    """Neighbouring reaches without a photo are one line: reaches 4 and 5 of the sample, 0.30 to 0.50 km."""
    (page,) = [text for text in texts(book) if "No photograph shows more than half" in text]
    assert "S-0004 – S-0005 0.30 km 0.50 km 200 m B 1" in page


def test_same_input_same_bytes(book, sample, tmp_path):
    """A second build in another folder is the same file."""
    assert book.read_bytes() == build(sample, tmp_path).read_bytes()


def test_nothing_is_left_beside_the_book(book):
    """Files on the way are gone; only the pictures, the book and the empty work folder remain."""
    assert sorted(p.name for p in book.parent.iterdir()) == ["atlas.pdf", "photos", "thumbs", "work"]
    assert list((book.parent / "work").iterdir()) == []


def test_a_failed_build_leaves_the_previous_book(sample, tmp_path):
    """A photo that cannot be carried stops the build before the old book is touched."""
    write_sample_pictures(sample, tmp_path)
    (tmp_path / "atlas.pdf").write_bytes(b"previous")
    photo = tmp_path / "photos" / f"{sample.pages[0].figures[0].photo}.jpg"
    photo.write_bytes(photo.read_bytes()[:-500])
    with pytest.raises(ValueError, match="ends early"):
        write_book(sample, tmp_path)
    assert (tmp_path / "atlas.pdf").read_bytes() == b"previous"


def test_a_template_that_cannot_be_laid_out_is_told(tmp_path, sample):
    """What the typesetter says reaches the error, warnings too: an unknown typeface is only a warning to it."""
    (tmp_path / "faces").mkdir()
    (tmp_path / "book.typ").write_text('#set document(title: "t", date: none)\n#set text(font: "Nowhere")\nx')
    with pytest.raises(LayoutFault, match=r"document date|unknown font"):
        lay_out_pdf(tmp_path, "book.typ", tmp_path / "x.pdf", date(2026, 3, 4))


def test_metadata_says_what_the_book_is(book):
    """Title, author, language and dates, the same in both readers; PDF/A-2a and PDF/UA-1 stated in XMP."""
    reader = pypdf.PdfReader(book)
    info = reader.metadata
    assert (info.title, info.author) == ("Sample <Lake> & Reservoir, edition 2026.1", "Sample crew")
    assert date(2026, 3, 4) == info.creation_date.date() == info.modification_date.date()
    assert reader.trailer["/Root"]["/Lang"].startswith("en")
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    with pypdfium2.PdfDocument(book) as pdf:
        assert info.title == pdf.get_metadata_dict()["Title"]
    with pikepdf.open(book) as pdf:
        xmp = pdf.open_metadata()
        # ISO 19005-2, 6.6.4 and ISO 14289-1, clause 5: how a file says what it conforms to.
        assert (xmp["pdfaid:part"], xmp["pdfaid:conformance"], xmp["pdfuaid:part"]) == ("2", "A", "1")


def test_every_picture_and_drawing_has_words_for_those_who_cannot_see_it(book, sample):
    """Each Figure of the structure tree carries Alt (ISO 14289-1, 7.3), and every photo's own text is among them."""
    with pikepdf.open(book) as pdf:
        found = [
            str(item.get("/Alt", "")) for item in structure(pdf.Root.StructTreeRoot) if item.get("/S") == "/Figure"
        ]
    assert all(found)
    assert {f.alt for page in sample.pages for f in page.figures} <= set(found)
    assert {page.locator.alt for page in sample.pages} <= set(found)


def structure(item):
    """Yield every element below the root of a structure tree."""
    kids = item.get("/K", [])
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            yield kid
            yield from structure(kid)


@pytest.mark.skipif(not shutil.which("qpdf"), reason="qpdf is not installed")
def test_qpdf_finds_nothing_to_complain_of(book, hard):
    """An independent reader checks syntax, cross references and streams."""
    for file in (book, hard[1]):
        result = subprocess.run(["qpdf", "--check", str(file)], capture_output=True, text=True, check=False)
        assert (result.returncode, result.stderr) == (0, "")


def gdal_reads_pdf() -> bool:
    """Tell whether gdalinfo is here with its PDF driver."""
    if not shutil.which("gdalinfo"):
        return False
    formats = subprocess.run(["gdalinfo", "--formats"], capture_output=True, text=True, check=True).stdout
    return bool(re.search(r"^\s+PDF ", formats, re.MULTILINE))


@pytest.mark.skipif(not gdal_reads_pdf(), reason="gdalinfo with the PDF driver is not installed")
def test_maps_carry_their_place(book):
    """GDAL reads the map of page 1 back to the metric rectangle it was drawn from, within 1 mm on the ground."""
    physical = labels(book).index("1") + 1
    command = ["gdalinfo", "-json", f"PDF:{physical}:{book}"]
    info = json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)
    neat = [float(n) for n in re.findall(r"-?\d+\.?\d*", info["metadata"][""]["NEATLINE"])]
    drawn = {(-760, 40), (760, 40), (760, -756), (-760, -756)}
    assert drawn == {(round(x, 3) + 0.0, round(y, 3) + 0.0) for x, y in zip(neat[::2], neat[1::2], strict=True)}


def test_a_key_below_a_map_is_no_part_of_its_frame(sample):
    """The sample's map is 84 by 44 mm; with 11 mm of key below, it takes four fifths of the drawing."""
    drawing = sample.pages[0].locator
    assert map_share(drawing) == pytest.approx(1.0, abs=1e-3)
    assert map_share(replace(drawing, height_mm=55.0)) == pytest.approx(0.8, abs=1e-3)


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2, definition of relative luminance)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_text_colours_stand_out_and_are_those_of_the_maps():
    """Each colour that sets text has a contrast of 4.5 to 1 on white (WCAG 2.2, 1.4.3)."""
    style = resource("templates", "book", "style.typ").read_text(encoding="utf-8")
    colours = dict(re.findall(r'#let (\w+) = rgb\("(#\w{6})"\)', style))
    palette = json.loads(resource("templates", "map", "style.json").read_text(encoding="utf-8"))["palette"]
    for name in ("ink", "water", "camera", "soft"):
        assert (luminance("#ffffff") + 0.05) / (luminance(colours[name]) + 0.05) >= 4.5
        assert palette[name] == colours[name]


def test_no_word_of_the_table_is_unused():
    """Every key of words.json stands in a template."""
    folder = resource("templates", "book")
    templates = " ".join(p.read_text(encoding="utf-8") for p in sorted(folder.glob("*.typ")))
    words = json.loads((folder / "words.json").read_text(encoding="utf-8"))
    by_loop = {"legend", "count", "gaps", "photos", "left_out", "colophon", "joins"}
    used = {f"{part}.{key}" for part, keys in words.items() if part not in by_loop - {"gaps"} for key in keys}
    assert set() == {name for name in used if name.partition(".")[2] not in templates}


def test_the_date_is_the_surveys_or_a_stated_one(sample):
    """survey.toml first, then SOURCE_DATE_EPOCH, then the newest photo; the clock is never asked."""
    undated = replace(sample, survey=replace(sample.survey, dated=None))
    nothing = replace(undated, placed=replace(sample.placed, photos=()))
    assert date(2026, 3, 4) == document_date(sample, "0")
    assert date(2001, 9, 9) == document_date(undated, "1000000000")
    assert date(2026, 3, 4) == document_date(undated, None)
    assert date(1970, 1, 1) == document_date(nothing, "soon")


def test_printable_keeps_what_the_typeface_has():
    """Accents are composed, spaces joined, non-breaking spaces kept; the rest is counted."""
    printable = Printable()
    assert printable.text("e\u0301 ±2\u00a0m →  “x”\n") == "é ±2\u00a0m → “x”"
    assert printable.lacking == 0
    assert printable.text("a\ufe0f\u202e日\U0010ffff") == f"a{LACKING * 2}"
    assert printable.lacking == 2


def test_a_number_stays_with_its_unit():
    """No line ends between them; other spaces are left alone."""
    assert Printable().text("7 ft at 10 m, 82 % of 3 metres") == "7\u00a0ft at 10\u00a0m, 82\u00a0% of 3 metres"


def test_long_words_can_break_and_short_ones_cannot():
    """After a slash or an underscore first, and at the latest after 24 signs."""
    printable = Printable()
    assert printable.text("photos/a_name.jpg") == "photos/a_name.jpg"
    pieces = printable.text("photos/" + "x" * 60 + "_end.jpg").split(BREAK)
    assert pieces[0] == "photos/"
    assert max(map(len, pieces)) <= 24


def test_shorten_cuts_at_a_word():
    """The ellipsis counts; nothing is cut that fits."""
    assert [shorten("one two three", 13), shorten("one two three", 12)] == ["one two three", "one two…"]


@pytest.fixture(scope="module")
def turned(tmp_path_factory):
    """Build a book with a set on one page; return (file, index of the page, the page)."""
    atlas = make_turned_atlas()
    file = build(atlas, tmp_path_factory.mktemp("turned"))
    return file, labels(file).index(str(SET_PAGE)), atlas.pages[SET_PAGE - 1]


def test_a_set_is_printed_as_one_compass_with_all_its_photos(turned):
    """Each photo of the set stands on the page once, byte for byte, at its place on the compass."""
    file, at, page = turned
    raws = [raw for number, _, raw in images_of(file) if number == at]
    wanted = [(file.parent / "photos" / f"{thumb.photo}.jpg").read_bytes() for thumb in page.compass.thumbnails]
    assert raws == wanted
    placed = lower_left_pt(file, at)
    left, bottom, scale = _fit(page.compass.thumbnails, placed)
    for thumb, (x, y) in zip(page.compass.thumbnails, placed, strict=True):
        assert x == pytest.approx(left + scale * thumb.x_mm, abs=0.05)
        assert y == pytest.approx(bottom - scale * (thumb.y_mm + thumb.height_mm), abs=0.05)


def lower_left_pt(file: Path, number: int) -> list[tuple[float, float]]:
    """Lower left corners of the photos on a page, points from the page's own."""
    with pypdfium2.PdfDocument(file) as pdf:
        page = pdf[number]
        items = page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_IMAGE], max_depth=5)
        return [(item.get_bounds()[0], item.get_bounds()[1]) for item in items]


def _fit(thumbs, placed) -> tuple[float, float, float]:
    """Left and top of the drawing and points for each of its millimetres, from the first and the third photo."""
    (x0, y0), (_, y2) = placed[0], placed[2]
    foot = [thumb.y_mm + thumb.height_mm for thumb in thumbs]
    scale = (y0 - y2) / (foot[2] - foot[0])
    return x0 - scale * thumbs[0].x_mm, y0 + scale * foot[0], scale


def test_a_set_is_told_in_one_caption_and_a_line_for_each_photo(turned, book):
    """The caption of the set once, each photo's number and words; what they share is not said again for each."""
    file, at, page = turned
    printed = squeezed(texts(file)[at])
    assert printed.count(squeezed(page.compass.caption)) == 1
    for number, words in enumerate(LOOKS, 1):
        assert printed.count(squeezed(f"{number} {words}")) == 1
    assert squeezed(page.figures[0].caption) not in printed
    # The same page without a set has no such words.
    assert squeezed(page.compass.caption) not in squeezed("".join(texts(book)))


def test_a_set_with_long_notes_is_printed_smaller_on_one_page(turned, tmp_path):
    """Its lines then stand beside it; nothing spills, nothing is lost."""
    _, _, page = turned
    atlas = make_turned_atlas()
    long = Note("depth", "Depth", tuple(Sentence(f"Sentence {n} of a long note on this bank.") for n in range(60)))
    pages = [replace(p, notes=(*p.notes, long)) if p.number == SET_PAGE else p for p in atlas.pages]
    file = build(replace(atlas, pages=tuple(pages)), tmp_path)
    at = labels(file).index(str(SET_PAGE))
    assert foot_only(file, at)
    widths = [size[0] / 72 * 25.4 for number, size, _ in images_of(file) if number == at]
    assert len(widths) == 4
    assert all(w < t.width_mm * 0.75 for w, t in zip(widths, page.compass.thumbnails, strict=True))
    printed = squeezed(texts(file)[at])
    assert all(squeezed(f"{n} {words}") in printed for n, words in enumerate(LOOKS, 1))
    assert squeezed("Sentence 59 of a long note") in squeezed("".join(texts(file)))
