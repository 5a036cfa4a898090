"""A survey whose every word attacks, built whole: the words stand where they belong, letter by letter, and do nothing.

The browser's part is in `test_browser_hostile.py`.
"""

from __future__ import annotations

import csv
import getpass
import io
import json
import re
import shutil
import socket
import sqlite3
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree as ET

import gpxpy
import pikepdf
import pytest
from conftest import CHECKOUT
from hostile_survey import EVALUATED, FORMULA, HOME, HOST, PRINTED, SHORT, USER, built_once, make_hostile, words
from lakes import projection
from sample_plan import LAUNCH, hand_plan, hand_rings

from atlasgen.config import read_settings
from atlasgen.errors import SettingsFault
from atlasgen.model.fieldplan import PlanRules
from atlasgen.model.text import plain_text
from atlasgen.ship.verify import verify_edition
from atlasgen.write.planfiles import write_plan_files

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(sys.platform == "win32", reason="Windows lets no file have a name of this kind"),
]
# Addresses in the files, by how they begin, and why each is no request: none stands where a program would ask it.
NAMES_OF_FORMATS = {
    "http://www.w3.org/": "names of SVG and RDF",
    "http://ns.adobe.com/": "names within XMP",
    "http://www.topografix.com/GPX/1/1": "the name of GPX",
    "http://purl.org/dc/": "names within XMP (Dublin Core)",
    "http://www.aiim.org/": "names within XMP (PDF/A, PDF/UA)",
    "http://www.geopackage.org/spec": "the name of an extension, in the standard's own table",
    "http://scripts.sil.org/OFL": "the licence of the typeface",
    "http://www.adobe.com/": "the makers of the typeface, in its licence and its name table",
    "https://bugs.chromium.org/": "a comment in the map library's style sheet",
    "https://bugzilla.mozilla.org/": "a comment in the map library's style sheet",
    "https://leafletjs.com": "a link of the map library, which the atlas leaves out",
    "http://evil.example/": "an attack of this very survey, as text",
}
# The faces are copied byte for byte, with their maker's signature: the certificates name those who issued them.
OF_A_SIGNATURE = re.compile(rb"https?://[a-z.-]*(verisign|thawte|symc[bd]|symantec|symauth)\.com")
ASKS = re.compile(
    rb"\bfetch\s*\(|XMLHttpRequest|sendBeacon|WebSocket|importScripts|EventSource|\bimport\s*\(|RTCPeer|serviceWorker"
)


@pytest.fixture(scope="module")
def top(tmp_path_factory):
    """Give the folder that holds the survey, the atlas and the card."""
    return built_once(tmp_path_factory)


@pytest.fixture(scope="module")
def atlas(top):
    return top / "atlas"


def texts(value) -> list[str]:
    """Every string in a JSON document, keys too."""
    if isinstance(value, dict):
        return [text for item in value.items() for text in texts(item)]
    if isinstance(value, list | tuple):
        return [text for item in value for text in texts(item)]
    return [value] if isinstance(value, str) else []


def squeezed(text: str) -> str:
    """Text without blanks and places to break."""
    return re.sub(r"[\s\u200b]", "", text)


def inner_parts(name: str, data: bytes):
    """Give a file as it is, and also what is packed within it: streams and values of a PDF, rows of a GeoPackage."""
    yield name, data
    if name.endswith(".pdf"):
        with pikepdf.open(io.BytesIO(data)) as pdf:
            for part in pdf.objects:
                if isinstance(part, pikepdf.Stream):
                    yield name, _inflated(part)
                yield name, repr(part).encode()


def _inflated(stream) -> bytes:
    try:
        return stream.read_bytes()
    except pikepdf.PdfError:  # a picture stays a JPEG, which has been looked at as it is
        return stream.read_raw_bytes()


def rows_of(path: Path) -> dict[str, list]:
    """Read every table of a GeoPackage, those of its own housekeeping too."""
    with sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True) as base:
        names = [name for (name,) in base.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        plain = [name for name in names if not name.startswith("rtree_")]
        return {name: base.execute(f'SELECT * FROM "{name}"').fetchall() for name in plain}


def everything(folder: Path):
    """Give name and bytes of all that is in a folder, plain and unpacked."""
    for path in sorted(p for p in folder.rglob("*") if p.is_file()):
        yield from inner_parts(path.relative_to(folder).as_posix(), path.read_bytes())
        if path.suffix == ".gpkg":
            yield from ((f"{path.name} {name}", repr(rows).encode()) for name, rows in rows_of(path).items())


def test_the_edition_is_whole(atlas):
    """Every file against the manifest, and every reference."""
    assert verify_edition(atlas).findings == ()


def test_what_the_crew_may_not_write_is_refused_by_its_key(tmp_path):
    """An edition is part of file names and addresses; a title of invisible signs is none."""
    folder = make_hostile(tmp_path / "survey")
    text = (folder / "survey.toml").read_text(encoding="utf-8")
    bad = text.replace('edition = "1"', f"edition = {json.dumps(SHORT)}", 1)
    (folder / "survey.toml").write_text(re.sub(r"(?m)^title = .*$", r'title = "\\u202e\\u0007"', bad, count=1))
    with pytest.raises(SettingsFault) as fault:
        read_settings(folder)
    assert [key for key, _ in fault.value.faults] == ["survey.title", "survey.edition"]
    assert 'expected letters, digits, ".", "-" or "_"' in str(fault.value)


def test_nothing_is_evaluated_anywhere(atlas):
    """Neither template nor typesetter multiplies; the book's text is looked at as a reader would take it out."""
    assert [name for name, data in everything(atlas) if EVALUATED.encode() in data] == []
    assert [name for name, data in everything(atlas) if b"root:x:0" in data] == []


def test_each_word_stands_in_the_data_letter_by_letter(atlas):
    """In atlas.json; marks that turn the writing, control signs and half characters alone are gone."""
    found = texts(json.loads((atlas / "atlas.json").read_text(encoding="utf-8")))
    for mark in PRINTED:
        said = plain_text(words(mark, 70))
        if mark in ("Ti1", "Ly8"):
            said = f"{mark} {SHORT}"
        assert any(said in text for text in found), mark
    steering = re.compile("[\u0000-\u001f\u007f\u202a-\u202e\u2066-\u2069\ud800-\udfff]")
    spoken = [p["caption"] for p in json.loads((atlas / "atlas.json").read_text())["photos"]]
    assert [text for text in spoken if steering.search(text)] == []


def test_the_data_keep_to_their_schema(atlas):
    """shared/atlas.schema.json, JSON Schema 2020-12."""
    import jsonschema

    schema = json.loads((CHECKOUT / "shared" / "atlas.schema.json").read_text(encoding="utf-8"))
    document = json.loads((atlas / "atlas.json").read_text(encoding="utf-8"))
    assert list(jsonschema.Draft202012Validator(schema).iter_errors(document)) == []


def test_the_book_is_sound_and_shows_the_words_as_words(atlas):
    """Qpdf finds no fault, pdftotext reads it, and what a typesetter would run is printed."""
    for tool in ("qpdf", "pdftotext"):
        if not shutil.which(tool):
            pytest.skip(f"{tool} is not installed")
    checked = subprocess.run(["qpdf", "--check", atlas / "atlas.pdf"], capture_output=True, text=True, check=False)
    assert (checked.returncode, "WARNING" in checked.stdout + checked.stderr) == (0, False)
    command = ["pdftotext", "-raw", atlas / "atlas.pdf", "-"]
    text = squeezed(subprocess.run(command, capture_output=True, text=True, check=True).stdout)
    for mark in ("Ti1", "Se2", "Cr3", "Co4", "Da5", "St6", "Ly8", "Pl1", "Ns2", "Wy5", "Pa6", "Ca7", "Tx1", "Lo8"):
        assert f"{mark}\"'><script>window" in text, mark
    assert '`*_#import"/etc/passwd":*;#(777*1000003)$777*1000003$@label]#{777*1000003}#panic(){{777*1000003}}' in text
    assert "w" * 20 in text
    assert EVALUATED not in text


def test_the_geopackage_opens_and_holds_the_words(atlas):
    """By the library that a GIS uses too."""
    import pyogrio

    for name, _ in pyogrio.list_layers(atlas / "atlas.gpkg"):
        assert len(pyogrio.raw.read(atlas / "atlas.gpkg", layer=name)[2]) > 0, name
    (reason,) = [row[2] for row in rows_of(atlas / "atlas.gpkg")["not_surveyed"]]
    # GDAL ends a text at its first NUL.
    assert reason == plain_text(words("Ns2").partition("\0")[0])


def test_no_cell_of_a_table_is_a_formula(atlas):
    """OWASP, "CSV Injection": nothing but a number begins with = + - @ or a tab; a file, a place and a sheet tried."""
    tables = [path.read_text(encoding="utf-8") for path in (atlas / "audit").glob("*.csv")]
    assert len(tables) == 2
    cells = [cell for table in tables for row in csv.reader(io.StringIO(table, newline="")) for cell in row]
    risky = [cell for cell in cells if cell[:1] in tuple("=+-@\t\r\n") and cell]
    assert [cell for cell in risky if not re.fullmatch(r"-?[\d.]+", cell)] == []
    assert any(cell.startswith("'=snd") for cell in cells)
    assert f"'{FORMULA}" in cells


class Tags(HTMLParser):
    """Collects what of a page could run or ask."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag, attrs) -> None:
        if tag in ("iframe", "object", "embed", "base", "form", "applet", "style", "portal"):
            self.found.append(tag)
        for name, value in attrs:
            asks = name in ("src", "srcset", "href", "action", "data", "poster", "xlink:href", "background")
            outside = asks and re.match(r"\s*(https?:|//|javascript:|vbscript:|file:)", value or "", re.IGNORECASE)
            rel = name == "rel" and set((value or "").split()) & {"preconnect", "dns-prefetch", "prefetch", "manifest"}
            refresh = name == "http-equiv" and value == "refresh"
            if outside or rel or refresh or name.startswith("on") or name in ("ping", "srcdoc", "style", "manifest"):
                self.found.append(f"{tag} {name}={value}")


def test_no_page_holds_what_could_run_or_ask(top):
    """Of the atlas and of the card's read-me: no foreign tag, no handler, no address to the outside."""
    pages = [*(top / "atlas").rglob("*.html"), top / "card" / "READ ME FIRST.html"]
    assert len(pages) == 2
    for page in pages:
        tags = Tags()
        tags.feed(page.read_text(encoding="utf-8"))
        # The read-me stands alone on the card: one style sheet of ours within it, which no word of the survey enters.
        assert tags.found == (["style"] if page.parent.name == "card" else []), page.name


def test_no_drawing_holds_what_could_run_or_ask(atlas):
    """Shapes and text alone."""
    drawings = [ET.parse(path).getroot() for path in (atlas / "drawings").glob("*.svg")]
    assert len(drawings) > 5
    parts = [part for root in drawings for part in root.iter()]
    names = {part.tag.rpartition("}")[2] for part in parts}
    assert names & {"script", "foreignObject", "image", "use", "a", "animate", "set", "style", "iframe"} == set()
    assert [key for part in parts for key in part.attrib if key.startswith("on") or "href" in key] == []


def test_no_script_can_ask_a_network(atlas):
    """No script of the atlas knows a way to; `connect-src 'none'` would forbid it besides."""
    scripts = list(atlas.rglob("*.js"))
    assert {path.name for path in scripts} >= {"first.js", "data.js", "atlas.js", "start.js"}
    assert [path.name for path in scripts if ASKS.search(path.read_bytes())] == []


def test_every_address_in_any_file_is_the_name_of_something(top):
    """Nothing in a file, packed or plain, leads anywhere: see NAMES_OF_FORMATS for each and its reason."""
    allowed = tuple(name.encode() for name in NAMES_OF_FORMATS)
    found = set()
    for name, data in everything(top / "card"):
        for match in re.finditer(rb"https?:/+[\w.:-]+[^\s\"'<>]{0,40}", data):
            signed = name.endswith(".ttf") and OF_A_SIGNATURE.match(match[0])
            if not signed and not match[0].startswith(allowed):
                found.add((name, match[0]))
    assert found == set()


def test_no_file_tells_where_by_whom_or_on_what_it_was_made(top):
    """No path of this machine, no user, no host, in any file or stream; the true names too, where they are no words."""
    true = [name for name in (getpass.getuser(), socket.gethostname()) if len(name) > 5 and name != "localhost"]
    secret = [str(top.parent), top.name, str(CHECKOUT), str(Path.home()) + "/", USER, HOST, HOME, *true]
    forms = [form for word in secret for form in (word.encode(), word.encode("utf-16-le"), word.encode("utf-16-be"))]
    assert [(name, form) for name, data in everything(top / "card") for form in forms if form in data] == []


def test_a_plan_with_such_names_can_be_read_by_other_programs(tmp_path):
    """GPX, KML and GeoJSON parse and hold the words as they are; no cell of the tables is a formula."""
    title, launch = words("Ti1"), words("La7")
    made = hand_plan(rules=PlanRules(launch=LAUNCH, launch_name=launch))
    write_plan_files(made, tmp_path, title=title, rings=hand_rings(), projection=projection())
    gpx = gpxpy.parse((tmp_path / "plan.gpx").read_text(encoding="utf-8"))
    kml = "".join(ET.parse(tmp_path / "plan.kml").getroot().itertext())
    shapes = "".join(texts(json.loads((tmp_path / "plan.geojson").read_text(encoding="utf-8"))))
    points = "".join(f"{point.name} {point.description}" for point in gpx.waypoints)
    for text, said in ((gpx.name, title), (points, launch), (kml, title), (kml, launch), (shapes, title)):
        # XML has no form for the signs behind the first NUL.
        assert said.partition("\0")[0] in text
    tables = [path.read_text(encoding="utf-8") for path in tmp_path.glob("*.csv")]
    cells = [cell for table in tables for row in csv.reader(io.StringIO(table, newline="")) for cell in row]
    assert [c for c in cells if c.startswith(("=", "+", "-", "@")) and not re.fullmatch(r"-?[\d.]+", c)] == []
