"""write/since and read/previous: the edition before, its ids and what changed since, through a whole build."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from types import SimpleNamespace

import pypdf
import pytest
from pond import make_pond, photograph

from atlasgen.errors import InputFault
from atlasgen.model import LonLat
from atlasgen.pipeline import build
from atlasgen.read.previous import read_previous
from atlasgen.ship.verify import verify_edition

_LAKE = (-96.41, -31.61, -96.39, -31.59)


@pytest.fixture(scope="module")
def editions(tmp_path_factory) -> Path:
    """Build an edition, and one after it: the start moved, a photo added, a title page of another edition."""
    top = tmp_path_factory.mktemp("since")
    survey = make_pond(top / "survey")
    build(survey, top / "old", workers=1)
    shutil.copy(top / "old" / "atlas.json", survey / "previous_atlas.json")
    text = (survey / "survey.toml").read_text()
    text = text.replace('edition = "1"', 'edition = "2"').replace("[-96.4, -31.5989]", "[-96.3958, -31.6]")
    (survey / "survey.toml").write_text(text)
    at = LonLat(-96.402, -31.5993)
    photograph(survey, [SimpleNamespace(height_m=40.0, heading_deg_true=180.0, pitch_deg=-30.0, lonlat=at)])
    build(survey, top / "new", workers=1)
    return top


def _reaches(editions: Path, name: str) -> dict[str, list[float]]:
    document = json.loads((editions / name / "atlas.json").read_text())
    return {reach["id"]: reach["midpoint"] for reach in document["reaches"]}


def test_ids_lie_where_they_lay(editions: Path):
    """Counted from another place, nearly every id is within 60 m of where it was."""
    old, new = _reaches(editions, "old"), _reaches(editions, "new")
    both = set(old) & set(new)
    assert len(both) >= len(old) - 2
    for name in both:
        east_m = (old[name][0] - new[name][0]) * 94_800
        north_m = (old[name][1] - new[name][1]) * 110_900
        assert (east_m**2 + north_m**2) ** 0.5 < 60, name


def test_book_and_atlas_tell_what_changed(editions: Path):
    """The chapter stands in both, names the edition before, and its pages lead somewhere."""
    text = " ".join(page.extract_text() for page in pypdf.PdfReader(editions / "new" / "atlas.pdf").pages)
    page = (editions / "new" / "index.html").read_text()
    for words in ("Changes since edition 1", "flown_01.jpg"):
        assert words in " ".join(text.split())
        assert words in page
    assert verify_edition(editions / "new").whole
    assert "Changes since" not in (editions / "old" / "index.html").read_text()


def test_the_renumbering_is_told(editions: Path):
    """It is a note of the edition, with the ids."""
    document = json.loads((editions / "new" / "atlas.json").read_text())
    (told,) = [problem for problem in document["problems"] if problem["code"] == "renumbered"]
    assert "keep the id of the edition before" in told["message"]


@pytest.mark.parametrize("text", ["", "[]", "{", '{"survey": 1}', "[" * 5000])
def test_what_is_no_atlas_is_told_and_not_used(tmp_path: Path, text: str):
    """The message names the file and the next step."""
    (tmp_path / "p.json").write_text(text)
    with pytest.raises(InputFault, match=r"previous: .*Copy atlas.json from the edition before"):
        read_previous(tmp_path / "p.json", "previous", _LAKE)


def test_another_lake_is_refused(editions: Path):
    """Its ids would mean nothing here."""
    with pytest.raises(InputFault, match="the lake of 'Millpond' lies elsewhere"):
        read_previous(editions / "old" / "atlas.json", "previous", (10.0, 50.0, 10.1, 50.1))
    document, problems = read_previous(editions / "old" / "atlas.json", "previous", _LAKE)
    assert (document["survey"]["edition"], problems) == ("1", [])
