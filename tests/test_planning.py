"""A field plan from a survey folder, and after it is flown, what remains."""

from __future__ import annotations

import csv
import shutil
from datetime import date

import gpxpy
import pytest
from pond import make_pond, photograph
from pypdf import PdfReader

from atlasgen.config import Settings
from atlasgen.errors import InputFault, OutputRefused
from atlasgen.model import LonLat
from atlasgen.planning import launch_point, plan, variation_at
from atlasgen.report import plan_report

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def survey(tmp_path_factory):
    """Give a pond with gaps left to plan for."""
    return make_pond(tmp_path_factory.mktemp("plan") / "survey")


@pytest.fixture(scope="module")
def first(survey, tmp_path_factory):
    """Plan once for all tests."""
    return plan(survey, tmp_path_factory.mktemp("first") / "plan", workers=1)


def test_a_plan_is_written_for_people_and_instruments(survey, first, tmp_path):
    """Every station in every file, the sheet with a page a run, the cautions in words; and twice the same."""
    made = plan(survey, tmp_path / "plan", workers=1)
    assert made == first
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
    assert "World Magnetic Model 2025" in " ".join(text.split())


def metres(stations):
    """Whole metres of shore that stations claim, as (ring, metre)."""
    spans = [span for station in stations for span in station.shows]
    return {(span.ring, metre) for span in spans for metre in range(round(span.from_m), round(span.to_m))}


def test_after_half_of_the_plan_is_flown_the_rest_remains(survey, first, tmp_path):
    """What the flown stations claimed is missing no more, and the new plan goes where the others would have gone."""
    done, undone = first.stations[::2], first.stations[1::2]
    assert len(done) >= 2
    assert undone
    closed, open_still = metres(done), metres(undone) - metres(done)
    shutil.copytree(survey, tmp_path / "survey")
    photograph(tmp_path / "survey", done)
    again = plan(tmp_path / "survey", tmp_path / "plan", workers=1)
    shrunk_m = first.missing_m - again.missing_m
    # Stations are credited with less than they show, so more may be closed, but not all of the others' part.
    assert 0.95 * len(closed) <= shrunk_m <= len(closed) + 0.6 * len(open_still)
    asked = metres(again.stations)
    assert len(asked & closed) <= 0.05 * len(closed)
    assert len(asked & open_still) >= 0.9 * (len(open_still) - (shrunk_m - len(closed)))
    assert len(again.stations) < len(first.stations)


def test_the_variation_of_the_launch_point():
    """WMM-2025 at 2025.0, 80° N 0° E, at sea level: 1.28° E (NOAA's test values for the model)."""
    found = variation_at(LonLat(0, 80), date(2025, 1, 1))
    assert (found.model, found.warning) == ("WMM-2025", None)
    assert found.east_deg == pytest.approx(1.28, abs=0.01)
    assert "outside the magnetic model's years" in variation_at(LonLat(0, 80), date(2031, 1, 1)).warning
    assert variation_at(LonLat(0, 80), None) == found


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
