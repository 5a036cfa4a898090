"""wording: an atlas built in German holds no English but the survey's own names."""

from __future__ import annotations

import html
import json
import re
from pathlib import Path

import pytest
from german_pond import make_german_pond
from pond import make_pond
from pypdf import PdfReader
from script_data import read_data

from atlasgen.errors import InputFault
from atlasgen.pipeline import build

# Function words of English that are no German words; from memory.
ENGLISH = re.compile(
    r"\b(the|of|and|with|from|is|are|were|by|its|for|this|that|not|no|to|where|which|it|on|at|has|have|or|known|bank|"
    r"water|photo|photos|page|pages|depth|depths|below|above|lake|shore|bed|within|there|here|than|be|sounding)\b"
)
# One pass along the pond and back that loses a channel, with a range and a height.
_PASSES = "pass,time,lon,lat,speed_mps,range_m,height_m,sonar\n" + "".join(
    f"P1,2026-04-18T11:{i // 60:02d}:{i % 60:02d},{-96.4036 + 0.00002 * i:.6f},-31.6000,1.9,25,3,Seitensicht A\n"
    for i in range(300)
)
_OUTAGES = "pass,channel,from,to,why\nP1,port,2026-04-18T11:01:00,2026-04-18T11:02:00,Kabel lose\n"


@pytest.fixture(scope="module")
def edition(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build a pond in German, with side-scan, and with files that cannot be used."""
    folder = make_german_pond(tmp_path_factory.mktemp("german") / "pond")
    photos = folder / "photos"
    (photos / "zerbrochen.jpg").write_bytes((photos / "flown_00.jpg").read_bytes()[:20_000])
    (photos / "leer.jpg").write_bytes(b"")
    (photos / "doppelt.jpg").write_bytes((photos / "flown_00.jpg").read_bytes())
    (folder / "passes.csv").write_text(_PASSES, encoding="utf-8")
    (folder / "outages.csv").write_text(_OUTAGES, encoding="utf-8")
    (folder / "corrections.csv").write_text("file,lat,leave_out\nflown_01.jpg,95,\nfehlt.jpg,,ja\n", encoding="utf-8")
    (folder / "soundings_2.csv").write_text("lon,lat,depth_m\n-96.4,-31.6,-3\n-96.4,-31.6,0\n", encoding="utf-8")
    (folder / "elevation.tif").write_bytes(b"keine Karte")
    out = folder.parent / "atlas"
    build(folder, out, workers=1)
    return out


def _texts(document: str) -> list[str]:
    """Every text of a page, and what it says to those who cannot see it."""
    bare = re.sub(r"<(script|style)\b.*?</\1>", "", document, flags=re.DOTALL)
    named = re.findall(r'(?:alt|aria-label|title|placeholder|aria-valuetext)="([^"]*)"', bare)
    return [html.unescape(text).strip() for text in (*re.split(r"<[^>]+>", bare), *named)]


def _english(texts: list[str]) -> list[str]:
    """Texts with English in them, but for paths, file names, keys of survey.toml, and what a decoder says itself."""
    return sorted({text for text in texts if ENGLISH.search(re.sub(r"\S*\w[/.]\w\S*|\(Vips[^)]*\)", "", text))})


def test_the_offline_atlas_is_german(edition):
    """All of index.html: words, descriptions, labels."""
    document = (edition / "index.html").read_text(encoding="utf-8")
    assert '<html lang="de"' in document
    assert "Nicht zur Navigation" in document or "nicht zur Navigation" in document
    assert _english(_texts(document)) == []


def test_the_drawings_are_german(edition):
    """What is written in maps and profiles, and their descriptions."""
    texts = [text for path in sorted(edition.glob("drawings/*.svg")) for text in _texts(path.read_text("utf-8"))]
    assert _english(texts) == []


def test_the_data_of_the_scripts_is_german(edition):
    """Sentences in data.js: notes for other levels, words of the scripts."""
    found: list[str] = []

    def walk(value: object) -> None:
        if isinstance(value, str):
            found.append(value)
        elif isinstance(value, dict | list):
            for item in value.values() if isinstance(value, dict) else value:
                walk(item)

    walk(read_data(edition))
    assert _english([text for text in found if " " in text]) == []


def test_the_book_is_german(edition):
    """All text of the PDF, and what it says of its language."""
    reader = PdfReader(edition / "atlas.pdf")
    assert str(reader.trailer["/Root"]["/Lang"]).startswith("de")
    lines = [line for page in reader.pages for line in page.extract_text().splitlines()]
    assert _english(lines) == []


def test_atlas_json_says_its_language(edition):
    """The language, and notes in it."""
    document = json.loads((edition / "atlas.json").read_text(encoding="utf-8"))
    assert document["survey"]["language"] == "de"
    assert _english([note for page in document["pages"] for note in page["notes"]]) == []
    assert _english([row["why"] for row in document["left_out"]]) == []


def test_what_stops_a_build_is_told_to_the_crew_in_english(tmp_path):
    """The shoreline of a German survey is no shape."""
    folder = make_pond(tmp_path / "pond")
    (folder / "survey.toml").write_text((folder / "survey.toml").read_text() + '\n[units]\nlanguage = "de"\n')
    (folder / "shoreline.geojson").write_text('{"type": "Point", "coordinates": [-96.4, -31.6]}')
    with pytest.raises(InputFault, match="holds points only"):
        build(folder, tmp_path / "atlas", workers=1)
