"""Comparing published editions: read from folder, card and zip, told as text, page and JSON, faults by name."""

from __future__ import annotations

import json
import re
import shutil
import zipfile
from types import SimpleNamespace

import pytest
from click.testing import CliRunner
from pond import make_pond, photograph
from sample_editions import edition, photo

from atlasgen.cli_compare import compare
from atlasgen.compose.changes import differences
from atlasgen.errors import InputFault, MissingInput
from atlasgen.model import LonLat
from atlasgen.pipeline import build
from atlasgen.ship.compare import compare_editions, read_atlas
from atlasgen.ship.verify import verify_edition
from atlasgen.write.changes_report import changes_html


@pytest.fixture(scope="module")
def editions(tmp_path_factory):
    """Return two editions of the pond: one of three photos replaced, one removed."""
    folder = tmp_path_factory.mktemp("compare")
    survey = make_pond(folder / "survey")
    photograph(
        survey,
        [
            SimpleNamespace(height_m=40.0, heading_deg_true=90.0, pitch_deg=-20.0, lonlat=LonLat(-96.4, -31.6)),
            SimpleNamespace(height_m=40.0, heading_deg_true=180.0, pitch_deg=-20.0, lonlat=LonLat(-96.398, -31.6)),
        ],
    )
    build(survey, folder / "old", workers=1)
    (survey / "photos" / "flown_02.jpg").unlink()
    mended = survey / "photos" / "flown_01.jpg"
    mended.write_bytes(mended.read_bytes() + b"\x00")
    settings = survey / "survey.toml"
    settings.write_text(settings.read_text().replace('edition = "1"', 'edition = "2"'))
    build(survey, folder / "new", workers=1)
    return folder / "old", folder / "new"


def run(*words):
    return CliRunner().invoke(compare, [str(word) for word in words])


def written(folder, document, manifest=None):
    """Write no more of an edition than a comparison reads."""
    folder.mkdir(parents=True)
    text = document if isinstance(document, str) else json.dumps(document)
    (folder / "atlas.json").write_text(text, encoding="utf-8")
    (folder / "manifest.json").write_text(json.dumps(manifest or {"files": []}))
    return folder


def test_text_page_and_json_tell_the_same(editions, tmp_path):
    """One photo replaced, one removed, its bank no longer shown; exit code 0."""
    result = run(*editions, "--html", tmp_path / "out" / "c.html", "--json", tmp_path / "c.json")
    assert result.exit_code == 0, result.output
    assert result.output.startswith("Millpond. From edition 1 to edition 2.\nPhotos: 1 removed, 1 replaced. ")
    document = json.loads((tmp_path / "c.json").read_text(encoding="utf-8"))
    assert (document["format"], document["nothing"]) == ("atlasgen changes 1", False)
    assert [p["file"] for p in document["photos_removed"]] == ["photos/flown_02.jpg"]
    assert [(p["new"]["file"], p["because"]) for p in document["photos_replaced"]] == [
        ("photos/flown_01.jpg", "same name")
    ]
    assert document["files"]["inputs_removed"] == ["photos/flown_02.jpg"]
    assert "photos/flown_01.jpg" in document["files"]["inputs_altered"]
    assert "atlas.json" in document["files"]["altered"]
    page = (tmp_path / "out" / "c.html").read_text(encoding="utf-8")
    for words in ("Photos removed", "photos/flown_02.jpg", "Photos replaced", "other contents under the same name"):
        assert words in result.output
        assert words in page


def test_only_what_differs_is_told(editions):
    """Reaches, pages' places and the photo that stayed are the same in both."""
    changes = compare_editions(*editions)
    assert (changes.photos_added, changes.photos_moved, changes.photos_renamed) == ((), (), ())
    assert (changes.reaches_new, changes.reaches_retired, changes.reaches_renumbered) == ((), (), ())
    assert {state.kind for state in changes.reach_states} <= {"lost", "other"}
    assert [fact.what for fact in changes.facts] == ["edition"]
    assert changes.not_compared == ()


def test_an_atlas_read_for_a_later_build_compares_with_a_whole_document(editions):
    """What a comparison passes over makes no difference."""
    old, _ = editions
    assert differences(read_atlas(old), json.loads((old / "atlas.json").read_text(encoding="utf-8"))).nothing


def test_an_edition_against_itself_in_a_zip_and_on_a_card(editions, tmp_path):
    """Nothing changed, wherever they lie; reading leaves them whole."""
    old, _ = editions
    shutil.copytree(old, tmp_path / "card" / "atlas")
    with zipfile.ZipFile(tmp_path / "a.zip", "w") as archive:
        for name in ("atlas.json", "manifest.json"):
            archive.write(old / name, f"atlas/{name}")
    for other in (old, tmp_path / "card", tmp_path / "a.zip"):
        result = run(old, other)
        assert result.exit_code == 0, result.output
        assert "Nothing changed: the two editions say the same and their files are the same." in result.output
    assert verify_edition(old).whole


def test_files_alone_that_differ(tmp_path):
    """The atlas says the same; the style sheet and the program do not."""
    manifests = (
        {"made_with": f"atlasgen {n}", "inputs": {}, "files": [{"file": "a.css", "sha256": str(n) * 64}]}
        for n in (1, 2)
    )
    old, new = (written(tmp_path / str(n), edition(), manifest) for n, manifest in enumerate(manifests))
    result = run(old, new)
    assert "Nothing changed in what the atlas says. Some of its files differ." in result.output
    assert "Program: atlasgen 1 → atlasgen 2" in result.output
    assert "a.css: altered" in result.output
    document = json.loads(run(old, new, "--json", "-").output)
    assert (document["nothing"], document["files"]["altered"]) == (False, ["a.css"])


def test_words_from_outside_stay_words(tmp_path):
    """Markup in a caption is escaped in the page, what steers a terminal is left out of the text."""
    hostile = edition()
    hostile["photos"][0]["caption"] = "<script>alert(1)</script>\x1b[2J\n& \u202edrawkcab"
    hostile["survey"]["title"] = "<img src=x onerror=alert(1)>"
    old, new = written(tmp_path / "old", edition()), written(tmp_path / "new", hostile)
    page = changes_html(compare_editions(old, new))
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in page
    assert re.findall(r"<(?:script|img|iframe|link)\b", page) == []
    text = run(old, new).output
    assert [sign for sign in ("\x1b", "\u202e") if sign in text] == []
    assert "now: <script>alert(1)</script> [2J & " in text


def test_the_page_needs_nothing_else(tmp_path):
    """No address but those within it, and a policy that lets only its own style in."""
    other = edition() | {"photos": []}
    page = changes_html(compare_editions(written(tmp_path / "old", edition()), written(tmp_path / "new", other)))
    assert re.findall(r'(?:src|href)="([^#"][^"]*)"', page) == []
    assert "default-src &#39;none&#39;; style-src &#39;sha256-" in page
    anchors, ids = re.findall(r'href="#([^"]*)"', page), re.findall(r'id="([^"]*)"', page)
    assert set(anchors) <= set(ids)
    assert len(ids) == len(set(ids))


def test_text_is_short_and_says_what_is_left(tmp_path):
    """Twenty of each kind; the page and the JSON have them all."""
    many = edition()
    many["photos"] += [photo(2, id=f"p-9{n:02d}", sha256=f"{n:064x}", file=f"photos/more {n:02d}.jpg", taken=None)
                       for n in range(25)]  # fmt: skip
    old, new = written(tmp_path / "old", edition()), written(tmp_path / "new", many)
    text = run(old, new, "--html", tmp_path / "c.html").output
    assert text.count("photos/more ") == 20
    assert "  and 5 more: see --html" in text
    assert (tmp_path / "c.html").read_text(encoding="utf-8").count("photos/more ") == 25


@pytest.mark.parametrize(
    ("damage", "words"),
    [
        (lambda d: "{", "is damaged"),
        (lambda d: "[" * 100_000, "is damaged"),
        (lambda d: d | {"format": "atlas.json 9"}, "format is 'atlas.json 9'. Expected 'atlas.json 1'"),
        (lambda d: {k: v for k, v in d.items() if k != "profiles"}, "does not say profiles"),
        (lambda d: d | {"photos": [photo(1, lat=123.0)]}, "photos.0.lat is '123.0'. Expected less than or equal to 90"),
        (lambda d: json.dumps(d | {"photos": [photo(1, lat=float("nan"))]}), "photos.0.lat is 'nan'"),
        (lambda d: d | {"pages": [{"number": 1, "title": "", "reaches": [], "notes": []}]}, "pages.0.reaches is '[]'"),
    ],
)
def test_a_damaged_edition_is_told_by_file_and_place(tmp_path, damage, words):
    """Exit code 1, one message: file, value, what is allowed, the next step."""
    old, new = written(tmp_path / "old", edition()), written(tmp_path / "new", damage(edition()))
    result = run(old, new)
    assert result.exit_code == 1
    assert result.output.startswith(f"atlasgen: {new}: atlas.json: ")
    assert words in result.output
    assert "atlasgen verify" in result.output


def test_what_is_missing_is_said(tmp_path):
    """No edition there; a manifest without its atlas.json."""
    old = written(tmp_path / "old", edition())
    with pytest.raises(MissingInput, match=r"nowhere.*Is this the folder or the zip of an atlas\?"):
        compare_editions(old, tmp_path / "nowhere")
    new = written(tmp_path / "new", edition())
    (new / "atlas.json").unlink()
    with pytest.raises(InputFault, match=r"atlas\.json: cannot be read"):
        compare_editions(old, new)


def test_two_lakes_are_not_compared(tmp_path):
    """Both are named."""
    other = edition()
    other["survey"] |= {"title": "Farpool", "bounds": [10.0, 0.0, 10.1, 0.1]}
    with pytest.raises(InputFault, match="“Reedmere” and “Farpool” lie apart"):
        compare_editions(written(tmp_path / "old", edition()), written(tmp_path / "new", other))


def test_wrong_usage():
    """One edition alone is nothing to compare."""
    assert run("only").exit_code == 2
