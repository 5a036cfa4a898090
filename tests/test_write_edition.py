"""An edition is staged, swapped in whole, listed and verified."""

from __future__ import annotations

import subprocess
import sys

import pytest

from atlasgen.errors import OutputRefused
from atlasgen.ship.verify import verify_edition
from atlasgen.write.edition import is_edition, staged, write_manifest


def publish(out, survey, text="one", fail=False):
    with staged(out, survey) as folder:
        (folder / "index.html").write_text(text)
        (folder / "photos").mkdir()
        (folder / "photos" / "a.jpg").write_bytes(b"a" * 100)
        write_manifest(folder, {"shoreline.geojson": "0" * 64})
        if fail:
            raise RuntimeError("cut off")


@pytest.fixture
def survey(tmp_path):
    folder = tmp_path / "survey"
    folder.mkdir()
    (folder / "survey.toml").write_text("kept")
    return folder


def test_a_whole_edition_takes_its_place_and_verifies(tmp_path, survey):
    """Nothing is left beside it."""
    out = tmp_path / "atlas"
    publish(out, survey)
    assert is_edition(out)
    assert (verify_edition(out).files, verify_edition(out).findings) == (2, ())
    assert sorted(path.name for path in tmp_path.iterdir()) == ["atlas", "survey"]


def test_a_build_that_fails_leaves_the_former_edition(tmp_path, survey):
    """Interrupted means as it was."""
    out = tmp_path / "atlas"
    publish(out, survey)
    with pytest.raises(RuntimeError):
        publish(out, survey, "two", fail=True)
    assert (out / "index.html").read_text() == "one"
    assert (verify_edition(out).files, verify_edition(out).findings) == (2, ())
    publish(out, survey, "two")
    assert (out / "index.html").read_text() == "two"


def test_an_edition_cut_off_between_the_two_renames_comes_back(tmp_path, survey):
    """The former edition is found under its hidden name and restored by the next build, even one that fails."""
    out = tmp_path / "atlas"
    publish(out, survey)
    out.rename(tmp_path / ".atlas.previous")
    with pytest.raises(RuntimeError):
        publish(out, survey, "two", fail=True)
    assert (out / "index.html").read_text() == "one"


@pytest.mark.parametrize("where", ["survey", "survey/out", "."])
def test_out_and_survey_never_lie_inside_each_other(tmp_path, survey, where):
    """The survey's own files are never at risk."""
    with pytest.raises(OutputRefused, match="inside each other"):
        publish(tmp_path / where, survey)
    assert (survey / "survey.toml").read_text() == "kept"


def test_a_foreign_folder_and_a_file_are_refused(tmp_path, survey):
    """Only an atlas, an empty folder or nothing is replaced."""
    foreign = tmp_path / "holiday"
    foreign.mkdir()
    (foreign / "precious.txt").write_text("mine")
    with pytest.raises(OutputRefused, match="is not an atlas"):
        publish(foreign, survey)
    assert (foreign / "precious.txt").read_text() == "mine"
    with pytest.raises(OutputRefused, match="is a file"):
        publish(foreign / "precious.txt", survey)


def test_two_builds_of_one_output_are_kept_apart(tmp_path, survey):
    """A second process is refused while the first one builds."""
    out = tmp_path / "atlas"
    code = (
        "import sys; from pathlib import Path; from atlasgen.write.edition import staged\n"
        "from atlasgen.errors import OutputRefused\n"
        "try:\n    with staged(Path(sys.argv[1]), Path(sys.argv[2])): pass\n"
        "except OutputRefused as e: print(e)\n"
    )
    with staged(out, survey) as folder:
        write_manifest(folder, {})
        done = subprocess.run([sys.executable, "-c", code, str(out), str(survey)], capture_output=True, text=True)
    assert "another atlasgen is building it" in done.stdout
    assert is_edition(out)
