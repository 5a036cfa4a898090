"""The whole job on the demo, against its answer sheet."""

from __future__ import annotations

import hashlib
import json
import os
import shutil

import numpy as np
import pytest
from conftest import CHECKOUT, DEMO
from geographiclib.geodesic import Geodesic
from pond import make_pond

from atlasgen.pipeline import build, check

TRUTH = json.loads((CHECKOUT / "tests" / "data" / "demo_truth.json").read_text(encoding="utf-8"))
ANSWERS = {photo["file"]: photo for photo in TRUTH["photos"]}
SIGMA = TRUTH["sigma"]
# A normal error beyond four sigmas comes once in 16,000: none among sixty photos.
SIGMAS = 4.0

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def document(demo_build):
    out, _ = demo_build
    return json.loads((out / "atlas.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def photos(document):
    return {photo["file"]: photo for photo in document["photos"]}


def turn(a_deg, b_deg):
    return abs((a_deg - b_deg + 180) % 360 - 180)


def test_every_file_is_on_a_page_or_left_out_for_the_right_reason(document, photos):
    """None lost, none twice: the files of the folder, the pages and the left-out list are one partition."""
    expected = {name: answer["expected"] for name, answer in ANSWERS.items()}
    expected |= {other["file"]: other["expected"] for other in TRUTH["other_files"]}
    on_disk = {p.relative_to(DEMO).as_posix() for p in (DEMO / "photos").rglob("*") if p.is_file()}
    assert on_disk == set(expected)
    told = {row["file"]: row["code"] for row in document["left_out"]}
    assert told | dict.fromkeys(photos, "page") == expected
    shown = [photo for page in document["pages"] for photo in page["photos"]]
    assert sorted(shown) == sorted(photo["id"] for photo in photos.values())
    assert len(document["left_out"]) == len(told)


def test_positions_are_true_within_the_noise_the_demo_adds(photos):
    """EXIF, XMP, track and corrections; the answer sheet's sigma is for each axis."""
    for name, photo in photos.items():
        answer = ANSWERS[name]
        allowed_m = SIGMAS * SIGMA["position_m_each_axis"][answer["device"]]
        assert photo["position_from"] == answer["position_from"], name
        away_m = Geodesic.WGS84.Inverse(photo["lat"], photo["lon"], answer["lat"], answer["lon"])["s12"]
        assert away_m < allowed_m + (5 if photo["position_from"] == "track" else 0), name


def test_times_are_true_whatever_the_cameras_clock(photos):
    """Clock off by minutes, GPS time, offsets: all end at the true time."""
    for name, photo in photos.items():
        taken = np.datetime64(photo["taken"].rstrip("Z"))
        off_s = abs((taken - np.datetime64(ANSWERS[name]["taken_utc"].rstrip("Z"))) / np.timedelta64(1, "s"))
        assert off_s <= 1, name


def test_headings_heights_and_lenses_are_true_within_the_noise(photos):
    """Magnetic headings turned to true; no heading stays unknown; heights above the water of the day."""
    for name, photo in photos.items():
        answer = ANSWERS[name]
        if answer["heading_recorded"] is None and photo["position_from"] != "corrections":
            assert photo["heading_deg_true"] is None, name
        elif photo["heading_deg_true"] is not None:
            # A gimbal straight down has no heading to speak of.
            steep = answer["pitch_deg"] < -80
            allowed_deg = SIGMAS * SIGMA["heading_deg"][answer["device"]]
            assert steep or turn(photo["heading_deg_true"], answer["heading_deg_true"]) < allowed_deg, name
        assert photo["kind"] == answer["kind"], name
        if answer["kind"] == "aerial":
            allowed_m = SIGMAS * SIGMA["height_m"][answer["device"]]
            assert abs(photo["height_above_water_m"] - answer["height_above_water_m"]) < allowed_m, name
            assert abs(photo["hfov_deg"] - answer["hfov_deg"]) < 0.5, name
            assert abs(photo["vfov_deg"] - answer["vfov_deg"]) < 0.5, name


def test_levels_are_those_of_the_record(photos):
    """Stage on the day, to the millimetre, interpolated between records."""
    for name, photo in photos.items():
        assert photo["stage_m"] == pytest.approx(ANSWERS[name]["stage_m"], abs=0.02), name


def test_nearest_reach_equals_a_brute_force_geodesic_search(demo_build, photos):
    """Every vertex-to-vertex piece of the shoreline, sampled each metre, on the ellipsoid (GeographicLib)."""
    _, atlas = demo_build
    lines = atlas.layers.reaches
    for photo in photos.values():
        near = {reach: _geodesic_to(line, photo["lon"], photo["lat"]) for reach, line in lines.items()}
        best = min(near.values())
        assert near[photo["reach"]] < best + 0.01, photo["file"]
        assert photo["distance_to_shore_m"] == pytest.approx(best, abs=0.6), photo["file"]


def _geodesic_to(line, lon, lat):
    """Distance to a line in degrees: exact for the best of the dense samples."""
    coords = np.asarray(line.segmentize(1e-5).coords)
    flat = np.hypot((coords[:, 0] - lon) * np.cos(np.radians(lat)), coords[:, 1] - lat)
    at = coords[int(flat.argmin())]
    return Geodesic.WGS84.Inverse(lat, lon, at[1], at[0])["s12"]


def digests(folder):
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    return {p.relative_to(folder).as_posix(): hashlib.sha256(p.read_bytes()).hexdigest() for p in files}


def test_the_same_input_gives_the_same_bytes(demo_build, tmp_path):
    """Another place, another number of workers, the same folder to the byte."""
    out, _ = demo_build
    elsewhere = shutil.copytree(DEMO, tmp_path / "survey", ignore=shutil.ignore_patterns("make", "__pycache__"))
    build(elsewhere, tmp_path / "again", workers=1)
    assert digests(tmp_path / "again") == digests(out)


def test_readme_explains_every_output(demo_build):
    """Every file a build writes at its top is in the table of outputs; asked here, where the demo is built."""
    out, _ = demo_build
    readme = (CHECKOUT / "README.md").read_text(encoding="utf-8")
    assert [path.name for path in sorted(out.iterdir()) if path.name not in readme] == []


def test_nothing_of_this_machine_is_in_the_output(demo_build):
    """No path, no user, no host name in any file."""
    out, _ = demo_build
    words = [str(CHECKOUT).encode(), str(out.parent).encode(), b"/" + os.uname().nodename.encode() + b"/"]
    for path in sorted(out.rglob("*")):
        if path.is_file():
            data = path.read_bytes()
            assert [word for word in words if word in data] == [], path.name


def test_a_survey_without_anything_else_is_an_atlas_too(tmp_path):
    """Two photos and a shoreline: everything else is said to be unknown."""
    survey = tmp_path / "survey"
    (survey / "photos").mkdir(parents=True)
    shutil.copy(DEMO / "shoreline.geojson", survey)
    for name in sorted(name for name, answer in ANSWERS.items() if answer["position_from"] == "exif")[:2]:
        shutil.copy(DEMO / name, survey / "photos")
    (survey / "survey.toml").write_text('[survey]\ntitle = "Bare"\nedition = "1"\n')
    atlas = build(survey, tmp_path / "atlas", workers=1)
    notes = " ".join(s.text for page in atlas.pages for note in page.notes for s in note.sentences)
    assert "No soundings were supplied. The depth here is not known." in notes
    assert "is not known" in notes
    assert (tmp_path / "atlas" / "atlas.pdf").stat().st_size > 10_000


def test_a_survey_of_nothing_usable_still_says_so(tmp_path):
    """No photo survives: an atlas without pages, and the reasons in it."""
    survey = tmp_path / "survey"
    (survey / "photos").mkdir(parents=True)
    shutil.copy(DEMO / "shoreline.geojson", survey)
    (survey / "photos" / "a.jpg").write_text("no picture")
    (survey / "survey.toml").write_text('[survey]\ntitle = "Nothing"\nedition = "1"\n')
    atlas = build(survey, tmp_path / "atlas", workers=1)
    assert [p.code for p in atlas.left_out] == ["not_an_image"]
    assert atlas.pages == ()
    assert (tmp_path / "atlas" / "atlas.pdf").stat().st_size > 5_000


def test_check_writes_nothing(tmp_path):
    """Reading leaves no trace in the survey folder nor beside it."""
    survey = make_pond(tmp_path / "survey")
    before = digests(tmp_path)
    assert len(check(survey, workers=1).placed.photos) == 1
    assert digests(tmp_path) == before
