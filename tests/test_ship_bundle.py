"""ship/bundle: the atlas beside its chart."""

from __future__ import annotations

import json
import os
import shutil
import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner
from pond import make_pond

from atlasgen.cli import main
from atlasgen.errors import InputFault, MissingInput, OutputRefused
from atlasgen.pipeline import build
from atlasgen.ship import bundle as module
from atlasgen.ship.bundle import bundle
from atlasgen.ship.medium import Medium
from atlasgen.ship.verify import verify_edition

_CHART = '\n[chart]\nedition = "1"\ndate = 2026-05-30\ndatum = "full supply level"\n'


def silent(*_: object) -> None:
    """Show nothing."""


@pytest.fixture(scope="module")
def editions(tmp_path_factory) -> Path:
    """Build the pond with its chart stated, and once with a budget it cannot keep; the survey is there too."""
    top = tmp_path_factory.mktemp("bundle")
    survey = make_pond(top / "survey")
    for name, more in (("plain", ""), ("whole", _CHART), ("tight", _CHART + "[bundle]\nbudget_mb = 0.5\n")):
        text = (survey / "survey.toml").read_text().split("\n[chart]")[0]
        (survey / "survey.toml").write_text(text + more)
        build(survey, top / name, workers=1)
    chart = top / "chart"
    (chart / "CHARTS" / "North arm").mkdir(parents=True)
    (chart / "CHARTS" / "North arm" / "B.idx").write_bytes(bytes(range(256)))
    (chart / "start.bin").write_bytes(os.urandom(1000))
    return top


def _bundle(editions: Path, target: Path, name: str = "whole", chart: str = "chart", **options):
    return bundle(editions / name, editions / chart, target, progress=silent, **options)


def test_the_chart_is_copied_byte_for_byte_beside_the_atlas(editions: Path, tmp_path: Path):
    """Every file of both is there under its own name, and the card verifies whole."""
    done = _bundle(editions, tmp_path / "card")
    for source, below in ((editions / "chart", ""), (editions / "whole", "atlas")):
        for path in (p for p in source.rglob("*") if p.is_file()):
            assert (tmp_path / "card" / below / path.relative_to(source)).read_bytes() == path.read_bytes()
    assert done.written == done.files
    assert done.removed == 0
    assert verify_edition(tmp_path / "card").whole
    assert _bundle(editions, tmp_path / "card").written == 0


def test_verify_finds_what_is_wrong_with_the_chart_on_the_card(editions: Path, tmp_path: Path):
    """The chart's files and the read-me are compared too; what is the card owner's is nobody's business."""
    _bundle(editions, tmp_path)
    (tmp_path / "holiday.jpg").write_bytes(b"theirs")
    (tmp_path / "start.bin").unlink()
    path = tmp_path / "CHARTS" / "North arm" / "B.idx"
    path.write_bytes(path.read_bytes()[::-1])
    found = {(finding.file, finding.state) for finding in verify_edition(tmp_path).findings}
    assert found == {("start.bin", "missing"), ("CHARTS/North arm/B.idx", "altered")}


def test_a_zip_holds_the_same_and_is_the_same_each_time(editions: Path, tmp_path: Path):
    """Two zips are equal byte for byte, verify whole, and a foreign file in the way is refused."""
    one, two = (_bundle(editions, tmp_path / name, as_zip=True).target for name in ("a.zip", "b"))
    assert two == tmp_path / "b" / "Millpond_1.zip"
    assert one.read_bytes() == two.read_bytes()
    assert verify_edition(one).whole
    card = tmp_path / "card"
    _bundle(editions, card)
    with zipfile.ZipFile(one) as archive:
        assert sorted(archive.namelist()) == sorted(
            p.relative_to(card).as_posix() for p in card.rglob("*") if p.is_file()
        )
    _bundle(editions, one, as_zip=True)
    (tmp_path / "other.zip").write_text("theirs")
    with pytest.raises(OutputRefused, match="no bundle of ours"):
        _bundle(editions, tmp_path / "other.zip", as_zip=True)


def test_the_read_me_says_what_a_customer_needs(editions: Path, tmp_path: Path):
    """What is there, how to open it, level and dates, what was not surveyed, and every caution; both files alike."""
    _bundle(editions, tmp_path)
    raw = (tmp_path / "READ ME FIRST.txt").read_bytes()
    text = " ".join(raw.decode("utf-8-sig").split())
    page = " ".join((tmp_path / "READ ME FIRST.html").read_text().split())
    assert raw.startswith(b"\xef\xbb\xbf")
    assert raw.count(b"\n") == raw.count(b"\r\n")
    document = json.loads((tmp_path / "atlas" / "atlas.json").read_text())
    for words in (
        "double-click index.html", "Depths are below full supply level", "20 April 2026",
        "No depths were supplied: nothing is known of the bed.", "in no photograph", *document["cautions"],
    ):  # fmt: skip
        assert words in text
        assert words in page
    assert "edition 1 of 30 May 2026" in text


def test_an_atlas_without_a_stated_chart_is_refused(editions: Path, tmp_path: Path):
    """The message says where to state it."""
    with pytest.raises(InputFault, match=r"survey.toml: the atlas was built without a \[chart\]"):
        _bundle(editions, tmp_path / "card", "plain")
    assert not (tmp_path / "card").exists()


def test_a_chart_of_another_edition_is_refused_by_both_names(editions: Path, tmp_path: Path, monkeypatch):
    """Whatever the atlas says is held against what the chart is said to be."""
    document = json.loads((editions / "whole" / "atlas.json").read_text())
    document["survey"]["chart"]["edition"] = "2031.7"
    monkeypatch.setattr(module, "_whole_document", lambda atlas: document)
    with pytest.raises(InputFault, match=r"the chart is '2031.7', the atlas '1'"):
        _bundle(editions, tmp_path / "card")


def test_an_atlas_that_is_not_whole_is_not_shipped(editions: Path, tmp_path: Path):
    """One altered byte is enough."""
    shutil.copytree(editions / "whole", tmp_path / "atlas")
    page = tmp_path / "atlas" / "index.html"
    page.write_bytes(page.read_bytes() + b" ")
    with pytest.raises(InputFault, match=r"is not whole: index.html has"):
        bundle(tmp_path / "atlas", editions / "chart", tmp_path / "card", progress=silent)


def test_over_the_budget_it_says_what_to_shrink(editions: Path, tmp_path: Path):
    """Parts with their sizes, and what a smaller profile would bring, measured."""
    with pytest.raises(OutputRefused) as refusal:
        _bundle(editions, tmp_path / "card", "tight")
    text = str(refusal.value)
    assert "bundle.budget_mb allows 0.5 MB" in text
    assert "the chart's own files, which stay as they are: 0.0 MB" in text
    assert 'with photos.profile = "pocket": photos from' in text
    assert 'profile = "full"' not in text
    assert not (tmp_path / "card").exists()


def test_a_card_that_is_too_small_is_told_before_a_byte_is_written(editions: Path, tmp_path: Path, monkeypatch):
    """With what is needed and what is free."""
    monkeypatch.setattr(module, "medium_of", lambda target: Medium("vfat", True, 1000, 32_768))
    with pytest.raises(OutputRefused, match=r"bytes are needed, 1,000 are free"):
        _bundle(editions, tmp_path / "card")
    with pytest.raises(OutputRefused, match=r"bytes are needed, 1,000 are free"):
        _bundle(editions, tmp_path / "x.zip", as_zip=True)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("is_fat", [True, None])
def test_names_that_a_card_cannot_hold_are_refused_there_and_warned_of_elsewhere(
    editions: Path, tmp_path: Path, monkeypatch, is_fat
):
    """A chart's file called aux cannot lie on FAT; in a folder of this machine it can, and a warning is given."""
    shutil.copytree(editions / "chart", tmp_path / "chart")
    (tmp_path / "chart" / "aux").write_text("x")
    done = bundle(editions / "whole", tmp_path / "chart", tmp_path / "here", progress=silent)
    assert done.warnings == ("aux: is the name of a device on some systems",)
    monkeypatch.setattr(module, "medium_of", lambda target: Medium("vfat", is_fat, 10**12, 32_768))
    with pytest.raises(OutputRefused, match=r"aux: is the name of a device"):
        bundle(editions / "whole", tmp_path / "chart", tmp_path / "card", progress=silent)


def test_a_chart_that_wants_our_places_is_refused(editions: Path, tmp_path: Path):
    """Also if it differs by capitals alone."""
    shutil.copytree(editions / "chart", tmp_path / "chart")
    (tmp_path / "chart" / "ATLAS").mkdir()
    (tmp_path / "chart" / "ATLAS" / "x").write_text("x")
    with pytest.raises(InputFault, match=r"the chart: holds ATLAS"):
        bundle(editions / "whole", tmp_path / "chart", tmp_path / "card", progress=silent)


def test_nothing_may_lie_inside_the_other(editions: Path):
    """Nor may atlas or chart be missing or empty."""
    with pytest.raises(OutputRefused, match="lie inside each other"):
        _bundle(editions, editions / "chart" / "card")
    with pytest.raises(MissingInput, match="holds the chart edition's own files"):
        _bundle(editions, editions / "card", chart="none")
    with pytest.raises(MissingInput, match="Build it first"):
        _bundle(editions, editions / "card", name="chart")


def test_the_command_says_what_it_did(editions: Path, tmp_path: Path):
    """With the pocket edition, and with a message where it is refused."""
    arguments = ["bundle", str(editions / "whole"), "--chart", str(editions / "chart"), "-q", "--to"]
    done = CliRunner().invoke(main, [*arguments, str(tmp_path / "card")])
    assert done.exit_code == 0
    assert "read back and whole" in done.output
    assert "as they were: 0" in done.output
    refused = CliRunner().invoke(main, [*arguments, str(editions / "whole" / "card")])
    assert refused.exit_code == 1
    assert "Nothing was changed" in refused.output
