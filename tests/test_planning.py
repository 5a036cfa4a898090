"""A field plan from a survey folder, and after it is flown, what remains."""

from __future__ import annotations

import csv
import shutil
from datetime import date

import gpxpy
import pytest
from conftest import DEMO
from photo_factory import exif_block, gps_tags, jpeg, picture, put, xmp
from pypdf import PdfReader

from atlasgen.config import Settings
from atlasgen.errors import InputFault, OutputRefused
from atlasgen.model import LonLat
from atlasgen.planning import launch_point, plan, variation_at
from atlasgen.report import plan_report

pytestmark = pytest.mark.slow
# Of the demo's drone, as its survey.toml says.
TAKEOFF_M = 4.0


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


def flown(folder, stations, survey):
    """Copy a survey, and add what the drone would bring home from some stations; its clock and its pose are true."""
    shutil.copytree(survey, folder)
    plain = picture(4000, 3000)
    for number, station in enumerate(stations):
        pose = (
            f'drone:RelativeAltitude="{station.height_m - TAKEOFF_M:+.2f}" drone:GimbalRollDegree="+0.00" '
            f'drone:GimbalYawDegree="{(station.heading_deg_true + 180) % 360 - 180:+.2f}" '
            f'drone:GimbalPitchDegree="{station.pitch_deg:+.2f}"'
        )
        (lat, south), (lon, west) = (_dms(station.lonlat.lat_deg), _dms(station.lonlat.lon_deg))
        exif = exif_block(
            {"Make": "Tarnwing", "Model": "TW-2"},
            {"DateTimeOriginal": f"2026:04:20 10:{number:02d}:00", "FocalLengthIn35mmFilm": 24},
            gps_tags(lat, "S" if south else "N", lon, "W" if west else "E"),
        )
        put(folder / "photos", f"flown_{number:02d}.jpg", jpeg(exif, xmp(pose), plain))
    return folder


def _dms(degrees):
    """Return degrees, minutes and seconds as Exif writes them, and whether they are negative."""
    whole = round(abs(degrees) * 36_000_000)
    return ((whole // 36_000_000, 1), (whole // 600_000 % 60, 1), (whole % 600_000, 10_000)), degrees < 0


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
    again = plan(flown(tmp_path / "survey", done, survey), tmp_path / "plan", workers=1)
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
