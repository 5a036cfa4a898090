"""A field plan from a survey folder, and after it is flown, what remains."""

from __future__ import annotations

import csv
import shutil

import gpxpy
import pytest
from conftest import DEMO
from pypdf import PdfReader

from atlasgen.config import Settings
from atlasgen.errors import InputFault, OutputRefused
from atlasgen.planning import launch_point, plan
from atlasgen.report import plan_report

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def survey(tmp_path_factory):
    """Give the demo's shore with its sharpest photos only, so that gaps are left to plan for."""
    folder = tmp_path_factory.mktemp("plan") / "survey"
    (folder / "photos").mkdir(parents=True)
    for name in ("shoreline.geojson", "survey.toml", "stage.csv", "places.geojson"):
        shutil.copy(DEMO / name, folder)
    for path in sorted((DEMO / "photos" / "drone" / "day 1").glob("*.JPG")):
        shutil.copy(path, folder / "photos")
    return folder


def test_a_plan_is_written_for_people_and_instruments(survey, tmp_path):
    """Every station in every file, the sheet with a page a run, the cautions in words."""
    made = plan(survey, tmp_path / "plan", workers=1)
    assert 0 < made.claimed_m <= made.missing_m
    left_m = sum(item.span.length_m for item in made.left)
    assert made.claimed_m + left_m == pytest.approx(made.missing_m, abs=1.0)
    with (tmp_path / "plan" / "plan.csv").open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == len(made.stations) + len(made.beyond)
    gpx = gpxpy.parse((tmp_path / "plan" / "plan.gpx").read_text(encoding="utf-8"))
    assert len(gpx.routes) == len(made.runs)
    sheet = PdfReader(tmp_path / "plan" / "field_sheet.pdf")
    assert len(sheet.pages) >= len(made.runs)
    text = " ".join(page.extract_text() for page in sheet.pages)
    assert "not a flight clearance" in " ".join(text.split())
    assert "not a flight clearance" in plan_report(made, tmp_path)
    again = plan(survey, tmp_path / "plan", workers=1)
    assert again == made


def test_a_plan_never_lands_among_foreign_files(survey, tmp_path):
    """Nor inside the survey."""
    (tmp_path / "precious.txt").write_text("mine")
    for folder in (tmp_path, survey / "plan"):
        with pytest.raises(OutputRefused):
            plan(survey, folder, workers=1)


def test_a_plan_needs_a_place_to_start_from():
    """The launch point, else the start of the shoreline; without both the message says what to set."""
    bare = {"survey": {"title": "A", "edition": "1"}}
    with pytest.raises(InputFault, match=r"plan\.launch is not set"):
        launch_point(Settings.model_validate(bare))
    assert launch_point(Settings.model_validate(bare | {"shore": {"start": [1, 2]}})) == (1, 2)
