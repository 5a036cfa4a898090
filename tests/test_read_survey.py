"""A folder is read as a whole: required inputs stop, optional ones are told."""

from __future__ import annotations

import json
from concurrent.futures import ThreadPoolExecutor

import geopandas
import numpy as np
import pytest
import rasterio
from PIL import Image
from raster_files import raster_file
from shapely import Polygon

from atlasgen.cache import opened
from atlasgen.config import Settings
from atlasgen.errors import InputFault, MissingInput
from atlasgen.model import Correction, PhotoFile
from atlasgen.model.memory import ANEW
from atlasgen.read import survey as survey_module
from atlasgen.read.survey import match_corrections, read_survey

SQUARE = [[0.0, 0.0], [0.01, 0.0], [0.01, 0.01], [0.0, 0.01], [0.0, 0.0]]


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "photos" / "sub").mkdir(parents=True)
    Image.new("RGB", (40, 30), (9, 9, 9)).save(tmp_path / "photos" / "a.jpg")
    Image.new("RGB", (40, 30), (9, 9, 90)).save(tmp_path / "photos" / "sub" / "b.jpg")
    (tmp_path / "shoreline.geojson").write_text(json.dumps({"type": "Polygon", "coordinates": [SQUARE]}))
    return tmp_path


def read(folder, memory=ANEW, **sections):
    rules = Settings.model_validate({"survey": {"title": "A", "edition": "1"}, **sections}).read_rules()
    with ThreadPoolExecutor(1) as executor:
        return read_survey(folder, rules, executor, lambda *step: None, memory)


def test_photos_and_shoreline_are_enough(folder):
    """Everything else is told as missing, with what the pages will lack."""
    survey = read(folder)
    assert [photo.file for photo in survey.photos] == ["photos/a.jpg", "photos/sub/b.jpg"]
    missing = {p.subject for p in survey.problems if p.code == "missing"}
    assert missing == {"soundings", "stage", "passes", "not_surveyed", "places", "tracks"}
    assert set(survey.inputs) == {"photos/a.jpg", "photos/sub/b.jpg", "shoreline.geojson"}


def test_required_inputs_stop_with_the_next_step(folder):
    """No shoreline, two shorelines, no photos folder."""
    (folder / "shoreline.gpkg").write_bytes(b"x")
    with pytest.raises(InputFault, match="one file"):
        read(folder)
    (folder / "shoreline.gpkg").unlink()
    (folder / "shoreline.geojson").rename(folder / "other.geojson")
    with pytest.raises(MissingInput, match="outline"):
        read(folder)
    (folder / "other.geojson").rename(folder / "shoreline.geojson")
    with pytest.raises(MissingInput, match="photos"):
        read(folder, files={"photos": "pictures"})


def test_a_faulty_optional_input_is_told_and_the_job_goes_on(folder):
    """A stage record of nonsense costs the stage, not the atlas."""
    (folder / "stage.csv").write_text("date,stage_m\n2026-01-01,99999\n2026-01-02,99999\n")
    survey = read(folder)
    assert survey.stage is None
    assert [p.level for p in survey.problems if "stage.csv" in p.subject] == ["fault"]
    assert len(survey.photos) == 2


def test_a_second_copy_is_left_out_and_named(folder):
    """The same bytes under another name are not published twice."""
    (folder / "photos" / "z copy.jpg").write_bytes((folder / "photos" / "a.jpg").read_bytes())
    survey = read(folder)
    (told,) = [p for p in survey.problems if p.code == "duplicate"]
    assert (told.subject, told.level) == ("photos/z copy.jpg", "left_out")
    assert "photos/a.jpg" in told.message


def test_corrections_find_their_photo_by_path_or_unique_name():
    """By whole path, by path below the folder, by bare name; a name that two photos have is told."""
    photos = [PhotoFile(name, name, 1, "JPEG", 4, 3) for name in ("photos/x/a.jpg", "photos/y/a.jpg", "photos/b.JPG")]
    named = {name: Correction(name) for name in ("x/a.jpg", "b.jpg", "a.jpg", "gone.jpg")}
    matched, problems = match_corrections(named, photos)
    assert set(matched) == {"photos/x/a.jpg", "photos/b.JPG"}
    assert {p.subject: p.code for p in problems} == {"a.jpg": "unused", "gone.jpg": "unused"}


def test_zone_reaches_the_readers(folder):
    """A naive time in a table is read in the survey's zone."""
    (folder / "stage.csv").write_text("date,stage_m\n2026-01-01T12:00,-1\n2026-01-02T12:00,-2\n")
    survey = read(folder, survey={"title": "A", "edition": "1", "time_zone": "UTC+02:00"})
    assert survey.stage.time_s[0] == 1767261600


def depth_raster(folder, name: str) -> None:
    """Write a raster of 3 m deep water over the square, in metres."""
    west_to_east = rasterio.Affine(0.001, 0, 0.0, 0, -0.001, 0.01)
    values = np.full((10, 10), 3, np.float32)
    raster_file(folder / name, values, crs="EPSG:4326", transform=west_to_east, units=("metre",))


def test_a_depth_raster_is_read_under_its_own_key(folder):
    """Its values stay as they are: what they mean is told later."""
    depth_raster(folder, "depth_raster.tif")
    survey = read(folder)
    assert survey.depth_raster.file == "depth_raster.tif"
    assert survey.depth_raster.unit_m == 1.0
    assert np.unique(survey.depth_raster.values).tolist() == [3.0]
    assert "depth_raster.tif" in survey.inputs
    assert read(folder, files={"depth_raster": ["bed.tif"]}).depth_raster is None


def test_of_two_depth_rasters_none_is_used(folder):
    """Which of them is meant is the crew's to say."""
    depth_raster(folder, "depth_raster_1.tif")
    depth_raster(folder, "depth_raster_2.tif")
    survey = read(folder)
    assert survey.depth_raster is None
    (fault,) = [problem for problem in survey.problems if problem.level == "fault"]
    assert "depth_raster_1.tif, depth_raster_2.tif. Expected one file. Join them" in fault.message


def _areas(path, east_deg=0.002):
    ring = [[0.001, 0.001], [east_deg, 0.001], [east_deg, 0.002], [0.001, 0.001]]
    frame = geopandas.GeoDataFrame({"name": ["weed"]}, geometry=[Polygon(ring)], crs="EPSG:4326")
    frame.to_file(path, engine="pyogrio")


def test_an_input_that_has_not_changed_is_not_read_again(folder, monkeypatch):
    """What was read of it comes back, problems too; its own change, and one of the rules, have it read."""
    _areas(folder / "places.geojson")
    seen = []
    inner = survey_module.read_areas
    monkeypatch.setattr(survey_module, "read_areas", lambda *a, **k: seen.append(a[1]) or inner(*a, **k))
    with opened(folder / "c.sqlite") as memory:
        first, second = read(folder, memory), read(folder, memory)
        assert seen == ["places.geojson"]
        assert (first.places, first.problems) == (second.places, second.problems)
        _areas(folder / "places.geojson", east_deg=0.003)
        assert read(folder, memory).places[0].area.bounds[2] == pytest.approx(0.003)
        read(folder, memory, soundings={"depth_unit": "feet"})
    assert len(seen) == 3


def test_a_file_that_accompanies_an_input_counts_as_part_of_it(folder):
    """A Shapefile's attributes stand in its .dbf; a change of that alone shows."""
    _areas(folder / "places.shp")
    with opened(folder / "c.sqlite") as memory:
        before = read(folder, memory, files={"places": "places.shp"}).places
        table = folder / "places.dbf"
        table.write_bytes(table.read_bytes().replace(b"weed", b"reed"))
        after = read(folder, memory, files={"places": "places.shp"}).places
    assert [place.name for place in (*before, *after)] == ["weed", "reed"]


@pytest.mark.parametrize("why", ["it names other files", "it is large"])
def test_what_cannot_or_need_not_be_remembered_is_read_each_time(folder, monkeypatch, why):
    """A virtual file says nothing by its bytes; a large one would make the memory as large as the survey."""
    _areas(folder / "inside.geojson")
    name = "places.vrt" if why == "it names other files" else "inside.geojson"
    (folder / "places.vrt").write_text(
        '<OGRVRTDataSource><OGRVRTLayer name="inside"><SrcDataSource relativeToVRT="1">inside.geojson'
        "</SrcDataSource></OGRVRTLayer></OGRVRTDataSource>"
    )
    if why == "it is large":
        monkeypatch.setattr(survey_module, "_REMEMBERED_BYTES", 10)
    seen = []
    inner = survey_module.read_areas
    monkeypatch.setattr(survey_module, "read_areas", lambda *a, **k: seen.append(a[1]) or inner(*a, **k))
    with opened(folder / "c.sqlite") as memory:
        for _ in range(2):
            assert [place.name for place in read(folder, memory, files={"places": name}).places] == ["weed"]
    assert len(seen) == 2
