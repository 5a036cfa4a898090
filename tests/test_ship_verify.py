"""Verify: whole, missing, altered, extra, hostile; in a folder, on a card, in a zip; every bit counts."""

from __future__ import annotations

import hashlib
import json
import random
import shutil
import sqlite3
import zipfile
from contextlib import closing

import pytest
from click.testing import CliRunner
from pond import make_pond

from atlasgen.cli import main
from atlasgen.errors import InputFault, MissingInput
from atlasgen.pipeline import build
from atlasgen.ship.verify import verify_edition
from atlasgen.write.edition import MANIFEST, manifest_hash, write_manifest


@pytest.fixture(scope="module")
def published(tmp_path_factory):
    """Return the edition of the pond, which no test may touch."""
    folder = tmp_path_factory.mktemp("verify")
    build(make_pond(folder / "survey"), folder / "atlas", workers=1)
    return folder / "atlas"


@pytest.fixture
def atlas(published, tmp_path):
    return shutil.copytree(published, tmp_path / "atlas")


def zipped(folder, path, top=""):
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for file in sorted(folder.rglob("*")):
            if file.is_file():
                archive.write(file, top + file.relative_to(folder).as_posix())
    return path


def states(path):
    return [(finding.file, finding.state) for finding in verify_edition(path).findings]


def test_a_real_edition_is_whole_wherever_it_lies(atlas, tmp_path):
    """As a folder, on a card beside other files, and in a zip with and without a folder in it."""
    card = tmp_path / "card"
    shutil.copytree(atlas, card / "atlas")
    (card / "CHART.BIN").write_bytes(b"opaque")
    places = [atlas, card, zipped(atlas, tmp_path / "a.zip"), zipped(atlas, tmp_path / "b.zip", "atlas/")]
    assert [verify_edition(place).findings for place in places] == [(), (), (), ()]
    assert len({verify_edition(place).files for place in places}) == 1


@pytest.mark.parametrize("form", ["folder", "zip"])
def test_missing_altered_and_extra_are_told_by_name(atlas, tmp_path, form):
    """In the order of the manifest, the extra ones last."""
    photo = next((atlas / "photos").iterdir())
    photo.write_bytes(photo.read_bytes()[:-1] + b"?")
    (atlas / "index.html").unlink()
    (atlas / "new.txt").write_text("x")
    path = atlas if form == "folder" else zipped(atlas, tmp_path / "a.zip")
    assert states(path) == [
        ("index.html", "missing"), (f"photos/{photo.name}", "altered"), ("new.txt", "extra"),
    ]  # fmt: skip


def test_a_thousand_flipped_bits_are_a_thousand_findings(atlas):
    """Anywhere, the manifest among it: by turns any byte as likely as any other, and any file."""
    files = sorted(path for path in atlas.rglob("*") if path.is_file())
    draw, found = random.Random(1), 0
    rows = {row["file"]: row for row in json.loads((atlas / MANIFEST).read_bytes())["files"]}
    for number in range(1000):
        weights = [path.stat().st_size for path in files] if number % 2 else [1] * len(files)
        path = draw.choices(files, weights)[0]
        whole = bytearray(path.read_bytes())
        at = draw.randrange(len(whole) * 8)
        whole[at // 8] ^= 1 << at % 8
        if path.name == MANIFEST:
            path.write_bytes(whole)
            found += _is_noticed(atlas)
            whole[at // 8] ^= 1 << at % 8
            path.write_bytes(whole)
        else:
            # What verifying compares, without hashing all other files a thousand times.
            found += hashlib.sha256(whole).hexdigest() != rows[path.relative_to(atlas).as_posix()]["sha256"]
    assert found == 1000


def _is_noticed(atlas):
    try:
        return not verify_edition(atlas).whole
    except (InputFault, MissingInput):
        return True


def test_every_bit_of_a_manifest_counts(tmp_path):
    """All of them, white space too."""
    (tmp_path / "index.html").write_text("one")
    write_manifest(tmp_path, {"shoreline.geojson": "0" * 64})
    whole = (tmp_path / MANIFEST).read_bytes()
    assert json.loads(whole)["self_sha256"] == manifest_hash(whole)
    for bit in range(len(whole) * 8):
        flipped = bytearray(whole)
        flipped[bit // 8] ^= 1 << bit % 8
        (tmp_path / MANIFEST).write_bytes(flipped)
        assert _is_noticed(tmp_path), bit


def test_a_reference_that_leads_nowhere_is_told(atlas):
    """A link of the page and a page of a photo, in files that the manifest lists as they are."""
    page = atlas / "index.html"
    page.write_text(page.read_text().replace("</body>", '<a href="gone.html">x</a><a href="#nowhere">y</a></body>'))
    document = json.loads((atlas / "atlas.json").read_text())
    document["photos"][0]["page"] = 99
    (atlas / "atlas.json").write_text(json.dumps(document))
    write_manifest(atlas, {})
    assert [(f.file, f.state, f.words) for f in verify_edition(atlas).findings] == [
        ("index.html", "broken link", "gone.html is not there"),
        ("index.html", "broken link", "#nowhere is on no page"),
        (
            "atlas.json",
            "broken link",
            f"photo {document['photos'][0]['id']} is said to be on page 99, which is not there",
        ),
    ]


def test_a_link_of_the_book_that_leads_nowhere_is_told(atlas):
    """Its page taken out."""
    import pikepdf

    with pikepdf.open(atlas / "atlas.pdf", allow_overwriting_input=True) as pdf:
        linked = [note for page in pdf.pages for note in page.get("/Annots", [])]
        assert len(linked) > 3
        del pdf.pages[-1]
        pdf.save()
    write_manifest(atlas, {})
    findings = verify_edition(atlas).findings
    assert {(f.file, f.state) for f in findings} == {("atlas.pdf", "broken link")}


def test_a_geopackage_that_refers_to_nothing_or_cannot_be_opened_is_told(atlas):
    """A station on a page that is not there; a file of zeros."""
    with closing(sqlite3.connect(atlas / "atlas.gpkg")) as database:
        # The triggers of the spatial index call functions that only a GIS brings along.
        for (trigger,) in database.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            database.execute(f'DROP TRIGGER "{trigger}"')
        database.execute("UPDATE stations SET page = 77")
        database.commit()
    write_manifest(atlas, {})
    (finding,) = verify_edition(atlas).findings
    assert (finding.file, finding.state) == ("atlas.gpkg", "broken link")
    assert "refers to page 77, which is not in atlas.json" in finding.words
    (atlas / "atlas.gpkg").write_bytes(bytes(4096))
    write_manifest(atlas, {})
    assert "cannot be opened" in verify_edition(atlas).findings[0].words


@pytest.mark.parametrize("name", ["../out.txt", "/etc/out", "C:/out", "a/../../out", "..\\out"])
def test_a_zip_with_names_that_lead_out_is_refused(atlas, tmp_path, name):
    """And nothing of it is written anywhere."""
    path = zipped(atlas, tmp_path / "a.zip")
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr(name, "x")
    with pytest.raises(InputFault, match="names inside the zip"):
        verify_edition(path)


def test_a_zip_that_hides_a_second_file_of_a_name_is_refused(atlas, tmp_path):
    """One would be verified and the other unpacked."""
    path = zipped(atlas, tmp_path / "a.zip")
    with zipfile.ZipFile(path, "a") as archive, pytest.warns(UserWarning, match="Duplicate name"):
        archive.writestr("index.html", "other")
    with pytest.raises(InputFault, match="each once"):
        verify_edition(path)


def test_a_damaged_member_and_a_damaged_zip_are_told(atlas, tmp_path):
    """A flipped byte in the stored picture; a zip cut in half."""
    path = tmp_path / "a.zip"
    photo = next((atlas / "photos").iterdir())
    with zipfile.ZipFile(path, "w") as archive:
        for file in sorted(p for p in atlas.rglob("*") if p.is_file()):
            archive.write(file, file.relative_to(atlas).as_posix())
    data = path.read_bytes()
    at = data.rindex(photo.read_bytes()) + 5000  # the book holds the same picture
    path.write_bytes(data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :])
    assert states(path) == [(f"photos/{photo.name}", "altered")]
    path.write_bytes(data[: len(data) // 2])
    with pytest.raises(InputFault, match="a folder or a zip of an atlas"):
        verify_edition(path)


def test_nothing_there_and_two_atlases_are_told(atlas, tmp_path):
    """It asks for one of them."""
    with pytest.raises(MissingInput):
        verify_edition(tmp_path / "no.zip")
    shutil.copytree(atlas, tmp_path / "second")
    with pytest.raises(InputFault, match="holds 2 atlases"):
        verify_edition(tmp_path)


def test_a_manifest_cannot_send_us_out_of_its_folder(tmp_path):
    """Names above it are refused; what is no manifest is told."""
    (tmp_path / MANIFEST).write_text(json.dumps({"files": [{"file": "../secret", "bytes": 1, "sha256": "0"}]}))
    with pytest.raises(InputFault, match="names inside the folder"):
        verify_edition(tmp_path)
    (tmp_path / MANIFEST).write_text("{")
    with pytest.raises(InputFault, match="cannot be read"):
        verify_edition(tmp_path)


def test_the_command_says_it_in_words_and_for_machines(atlas):
    """Exit code 0 and 1; JSON that says the same."""
    result = CliRunner().invoke(main, ["verify", str(atlas)])
    assert (result.exit_code, "every reference leads somewhere.\nNobody signed it." in result.output) == (0, True)
    (atlas / "index.html").unlink()
    result = CliRunner().invoke(main, ["verify", str(atlas), "--json"])
    told = json.loads(result.output)
    assert (result.exit_code, told["whole"], told["findings"][0]["state"]) == (1, False, "missing")
