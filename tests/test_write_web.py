"""The offline atlas as files: whole, local, deterministic, and safe against words from outside."""

from __future__ import annotations

import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest
from sample_atlas import HOSTILE, make_sample_atlas, write_sample_pictures
from sample_turn import LOOKS, SET_PAGE, make_turned_atlas
from script_data import read_data

from atlasgen.model import Layers, Tile
from atlasgen.write.web import CONTENT_POLICY, LIBRARY_FILES, write_web
from atlasgen.write.webwords import anchor

# Elements that HTML never closes (HTML Living Standard, 13.1.2 Void elements).
VOID = {"meta", "link", "img", "br", "input"}


def quiet(step: str, done: int, total: int) -> None:
    """Show nothing."""


def files_of(out: Path) -> dict[str, bytes]:
    return {path.relative_to(out).as_posix(): path.read_bytes() for path in sorted(out.rglob("*")) if path.is_file()}


class Document(HTMLParser):
    """What index.html says, element by element."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str]]] = []
        self.open: list[str] = []
        self.inline: list[str] = []
        self.text: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.elements.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.elements.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.text.append(data)
        if self.open and self.open[-1] in ("script", "style") and data.strip():
            self.inline.append(data)

    def values(self, name: str) -> list[str]:
        return [attributes[name] for _, attributes in self.elements if name in attributes]


@pytest.fixture(scope="module")
def atlas():
    return make_sample_atlas()


@pytest.fixture(scope="module")
def out(atlas, tmp_path_factory):
    folder = tmp_path_factory.mktemp("atlas")
    write_sample_pictures(atlas, folder)
    write_web(atlas, folder, quiet)
    return folder


@pytest.fixture(scope="module")
def document(out):
    return Document((out / "index.html").read_text(encoding="utf-8"))


def test_equal_atlases_give_equal_bytes(atlas, out, tmp_path):
    """Written again from an atlas made again, no byte differs."""
    write_sample_pictures(atlas, tmp_path)
    write_web(make_sample_atlas(), tmp_path, quiet)
    assert files_of(out) == files_of(tmp_path)


def test_nothing_points_outside_the_folder(out, document):
    """No address on a network in anything we write; only XML's own names of SVG and GPX look like one."""
    for name, content in files_of(out).items():
        if name.startswith(("assets/leaflet/", "assets/fonts/", "photos/", "thumbs/")):
            continue
        found = set(re.findall(rb"(?:https?:)?//[\w.-]+\.[a-z]{2,}[^\s\"'<)]*", content))
        assert found <= {b"http://www.w3.org/2000/svg", b"http://www.topografix.com/GPX/1/1"}, name
    for link in document.values("href") + document.values("src"):
        assert link.startswith("#") or link == "data:," or not re.match(r"[a-z]+:|//", link)


def test_the_library_is_the_package_byte_for_byte(out):
    """Left as published, so that anyone can check it; its notice of copyright is in it."""
    import js_lib_leaflet

    package = Path(js_lib_leaflet.__file__).parent / "static" / "js_lib_leaflet"
    for name in LIBRARY_FILES:
        assert (package / name).read_bytes() == (out / "assets" / "leaflet" / name).read_bytes()
    assert b"(c) 2010-2023 Vladimir Agafonkin" in (out / "assets" / "leaflet" / "leaflet.js").read_bytes()
    assert "SIL OPEN FONT LICENSE" in (out / "assets" / "fonts" / "LICENSE.txt").read_text(encoding="utf-8")


def test_every_file_that_is_named_is_there(out, document):
    """Links, images, scripts, styles, and what the styles name in turn."""
    for link in document.values("href") + document.values("src"):
        if not link.startswith(("#", "data:")):
            assert (out / link).is_file(), link
    for sheet in (out / "assets").rglob("*.css"):
        for target in re.findall(r"url\(\"?([^)#\"]+)\"?\)", sheet.read_text(encoding="utf-8")):
            assert (sheet.parent / target).is_file(), f"{sheet.name}: {target}"


def test_every_address_leads_somewhere_and_is_there_once(atlas, document):
    """Ids are unique, every link within the page has its target, and every page, photo, reach and tile an address."""
    ids = document.values("id")
    assert len(set(ids)) == len(ids)
    assert {link[1:].split("?")[0] for link in document.values("href") if link.startswith("#")} <= set(ids)
    for attribute in ("aria-labelledby",):
        assert set(document.values(attribute)) <= set(ids)
    wanted = [page.id for page in atlas.pages] + [
        anchor("photo", figure.photo) for p in atlas.pages for figure in p.figures
    ]
    wanted += [anchor("reach", reach.id) for reach in atlas.placed.reaches]
    wanted += [anchor("tile", tile.id) for tile in atlas.placed.tiles]
    assert set(wanted) <= set(ids)


def test_the_policy_is_strict_and_the_page_keeps_it(document):
    """No inline script or style, no handler in an attribute (Content Security Policy Level 3)."""
    metas = [attributes for tag, attributes in document.elements if tag == "meta"]
    assert metas[1]["content"] == CONTENT_POLICY
    assert metas[1]["http-equiv"] == "Content-Security-Policy"
    assert "unsafe" not in CONTENT_POLICY
    assert document.inline == []
    assert document.values("style") == []
    assert not [name for _, attributes in document.elements for name in attributes if name.startswith("on")]
    assert "style" not in {tag for tag, _ in document.elements}
    assert all(attributes["src"].startswith("assets/") for tag, attributes in document.elements if tag == "script")


def test_no_script_uses_what_fails_from_a_file(out):
    """fetch, XMLHttpRequest, modules, workers and eval either fail on file:// or break the policy."""
    for script in (out / "assets" / "js").glob("*.js"):
        text = script.read_text(encoding="utf-8")
        for barred in (
            "fetch(",
            "XMLHttpRequest",
            "Worker",
            "import ",
            "eval(",
            "new Function",
            "innerHTML",
        ):
            assert barred not in text, f"{script.name}: {barred}"


def test_words_from_outside_are_escaped(out, document):
    """A caption, a file name and a title with markup are text: they are read back letter by letter."""
    text = (out / "index.html").read_text(encoding="utf-8")
    assert "<script>alert" not in text
    assert "<b>file" not in text
    whole = "".join(document.text)
    assert HOSTILE in whole
    assert "photos/broken <b>file</b>.jpg" in whole
    assert "Sample <Lake> & Reservoir" in whole


def test_without_a_script_every_page_is_there_in_reading_order(atlas, document):
    """Titles, captions, notes; thumbs know their size and wait until they are looked at."""
    pages = [
        attributes["id"] for tag, attributes in document.elements if tag == "article" and "data-page" in attributes
    ]
    by_tile = [page.id for tile in atlas.placed.tiles for page in atlas.pages if page.tile == tile.id]
    assert by_tile == pages
    whole = "".join(document.text)
    for page in atlas.pages:
        assert page.title in whole
        for sentence in (sentence for note in page.notes for sentence in note.sentences):
            assert sentence.text in whole
        for figure in page.figures:
            assert figure.caption in whole
            assert figure.how in whole
    images = [attributes for tag, attributes in document.elements if tag == "img"]
    assert all({"width", "height", "alt", "src"} <= set(image) and image["loading"] == "lazy" for image in images)
    thumbs = {image["src"]: (image["width"], image["height"]) for image in images if image["src"].startswith("thumbs/")}
    sizes = {f"thumbs/{p.photo}.jpg": (str(p.thumb_width_px), str(p.thumb_height_px)) for p in atlas.pictures.values()}
    assert sizes == thumbs


def test_what_is_usual_and_what_is_missing_is_said(atlas, document):
    """Cautions, how to read, methods, what was left out and why, what was not supplied."""
    whole = "".join(document.text)
    for text in (*atlas.cautions, *atlas.how_to_read, *atlas.methods, *(p.message for p in atlas.left_out)):
        assert text in whole
    assert "survey.toml: passes: not supplied." in whole


def test_the_book_is_linked_only_if_it_is_there(atlas, out, tmp_path):
    """A link to nothing is worse than none."""
    assert 'href="atlas.pdf"' not in (out / "index.html").read_text(encoding="utf-8")
    write_sample_pictures(atlas, tmp_path)
    (tmp_path / "atlas.pdf").write_bytes(b"%PDF-1.7\n")
    write_web(atlas, tmp_path, quiet)
    assert 'href="atlas.pdf"' in (tmp_path / "index.html").read_text(encoding="utf-8")


def test_eight_hundred_photographs_make_a_page_of_moderate_size(atlas, tmp_path):
    """Four hundred pages of two photographs: under 3 MB, every photograph with an address."""
    many = with_pages(atlas, 400)
    write_web(many, tmp_path, quiet)
    index = tmp_path / "index.html"
    assert index.stat().st_size < 3_000_000
    assert len(re.findall(r'<li class="figure"', index.read_text(encoding="utf-8"))) == 800


def with_pages(atlas, count: int):
    """Return the sample with its second page, of two photographs, repeated under new ids."""
    first = atlas.pages[1]
    pages, pictures = [], {}
    for number in range(1, count + 1):
        names = [f"q-{number:05d}{letter}" for letter in "ab"]
        figures = tuple(replace(f, photo=n) for f, n in zip(first.figures, names, strict=True))
        pictures |= {n: replace(atlas.pictures[f.photo], photo=n) for f, n in zip(first.figures, names, strict=True)}
        pages.append(
            replace(
                first,
                number=number,
                id=f"page-{number:03d}",
                figures=figures,
                previous=number - 1 or None,
                next=number + 1 if number < count else None,
            )
        )
    return replace(atlas, pages=tuple(pages), pictures=pictures)


def test_an_atlas_of_almost_nothing_still_stands(atlas, tmp_path):
    """No soundings, no photographs: the page says so, and nothing fails."""
    bare = replace(
        atlas,
        pages=(),
        pictures={},
        placed=replace(atlas.placed, photos=()),
        known=replace(
            atlas.known,
            reach_depth={reach.id: None for reach in atlas.placed.reaches},
            reach_coverage={},
            reach_state={reach.id: "none" for reach in atlas.placed.reaches},
        ),
        layers=Layers(atlas.layers.water, atlas.layers.reaches, (), (), (), (), (), ()),
    )
    write_web(bare, tmp_path, quiet)
    text = (tmp_path / "index.html").read_text(encoding="utf-8")
    assert "No depths were supplied with this survey." in text
    assert "Nobody has sounded the water off this bank: its depth is not known." in text
    assert "0 photographs on 0 pages" in text
    assert all(reach["depth"] is None and reach["share"] is None for reach in read_data(tmp_path)["reaches"])


def test_a_sheet_may_be_called_anything(atlas, tmp_path):
    """Sheets of the crew's are named in words: their address is percent-encoded (RFC 3986), their name escaped."""
    named = Tile("Sheet 3 <north> & arm/é", "North <arm>", atlas.placed.tiles[0].area, atlas.placed.tiles[0].bounds_deg)
    tiles = (named, atlas.placed.tiles[1])
    pages = tuple(replace(page, tile=named.id) if page.tile == "16/1/1" else page for page in atlas.pages)
    renamed = replace(atlas, placed=replace(atlas.placed, tiles=tiles), pages=pages, tile_drawings={})
    write_web(renamed, tmp_path, quiet)
    text = (tmp_path / "index.html").read_text(encoding="utf-8")
    assert 'id="tile-Sheet%203%20%3Cnorth%3E%20%26%20arm/%C3%A9"' in text
    assert "Tile North &lt;arm&gt;" in text


@pytest.fixture(scope="module")
def turned(tmp_path_factory):
    """Write the sample with a set on one page; return (folder, its document, the set's page)."""
    atlas, folder = make_turned_atlas(), tmp_path_factory.mktemp("turned")
    write_sample_pictures(atlas, folder)
    write_web(atlas, folder, quiet)
    return folder, Document((folder / "index.html").read_text(encoding="utf-8")), atlas.pages[SET_PAGE - 1]


def test_a_set_shows_its_compass_once_with_all_its_photos(turned):
    """One compass in the whole document, in it each photo once where it stands, and the rose over them last."""
    folder, document, page = turned
    figures = [attributes for tag, attributes in document.elements if attributes.get("class") == "turn-compass"]
    assert [figure["aria-label"] for figure in figures] == [page.compass.drawing.alt]
    pictures = [attributes for tag, attributes in document.elements if tag == "image"]
    names = ("x", "y", "width", "height")
    shown = [(picture["href"], *(float(picture[name]) for name in names)) for picture in pictures[:-1]]
    assert shown == [
        (f"thumbs/{t.photo}.jpg", t.x_mm, t.y_mm, t.width_mm, t.height_mm) for t in page.compass.thumbnails
    ]
    assert pictures[-1]["class"] == "turn-rose"
    assert all((folder / picture["href"]).is_file() for picture in pictures)
    assert page.compass.caption in "".join(document.text)


def test_each_photo_of_a_compass_leads_to_its_figure_and_says_what_it_looks_at(turned):
    """A link for each, by keyboard too, named by number and words; words from outside stay words."""
    _, document, page = turned
    links = {
        attributes["aria-label"]: attributes["href"]
        for tag, attributes in document.elements
        if tag == "a" and attributes.get("aria-label", "").startswith("Photo ")
    }
    wanted = {
        f"Photo {n}: {words}": f"#{anchor('photo', f.photo)}"
        for n, (f, words) in enumerate(zip(page.figures, LOOKS, strict=True), 1)
    }
    assert links == wanted
    assert {link[1:] for link in links.values()} <= set(document.values("id"))


def test_a_page_without_a_set_has_no_compass(document):
    """Neither the figure nor the class that makes room for it."""
    classes = " ".join(document.values("class")).split()
    assert {"turn", "turn-compass", "has-turn"}.isdisjoint(classes)
