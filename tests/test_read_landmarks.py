"""The crew's landmarks: what is read of a table and of a vector file, and what is told of rows that cannot be used."""

from __future__ import annotations

import json

import pytest

from atlasgen.errors import InputFault
from atlasgen.model import LonLat
from atlasgen.read.landmarks import LONGEST, read_landmarks

HEAD = "lon,lat,name,kind,words\n"


def read(tmp_path, text: str, name: str = "landmarks.csv"):
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return read_landmarks([(path, name)])


def test_a_table_gives_place_kind_name_and_words(tmp_path):
    """One row, all cells, as written."""
    (mark,), problems = read(tmp_path, HEAD + '-96.4,-31.6,North ramp,ramp,"Concrete, two lanes"\n')
    assert (mark.lonlat, mark.kind, mark.name) == (LonLat(-96.4, -31.6), "ramp", "North ramp")
    assert (mark.words, mark.row, problems) == ("Concrete, two lanes", 2, [])


@pytest.mark.parametrize(
    ("said", "kind"),
    [("Boat Ramp", "ramp"), ("slipway", "ramp"), ("car_park", "parking"), ("STUMPS", "hazard"), ("jetty", "place")],
)
def test_the_trades_own_names_are_understood(tmp_path, said, kind):
    """Whatever the case; common practice, no source."""
    (mark,), _ = read(tmp_path, f"{HEAD}-96.4,-31.6,A,{said},\n")
    assert (mark.kind, mark.problems) == (kind, ())


@pytest.mark.parametrize("said", ["pontoon", ""])
def test_an_unknown_kind_is_told_and_kept_as_other(tmp_path, said):
    """Nothing is dropped for a word that is not known; the message names the row, the word and what is allowed."""
    (mark,), _ = read(tmp_path, f"{HEAD}-96.4,-31.6,A,{said},\n")
    assert mark.kind == "other"
    (told,) = mark.problems
    assert f"row 2: kind {said!r}. Expected one of hazard, ramp, access, parking, place, other." in told.message


@pytest.mark.parametrize(
    ("lon", "lat", "told"),
    [
        ("here", "-31.6", "row 2: lon 'here'. Expected degrees, -180 to 180"),
        ("-96.4", "-131.6", "row 2: lat '-131.6'. Expected degrees, -90 to 90"),
        ("", "-31.6", "row 2: lon ''"),
        ("nan", "-31.6", "row 2: lon 'nan'"),
    ],
)
def test_a_row_without_a_position_is_told_and_left_out(tmp_path, lon, lat, told):
    """Of the two cells only the bad one is repeated: the messages are published."""
    marks, (problem,) = read(tmp_path, f"{HEAD}{lon},{lat},A,ramp,\n")
    assert marks == ()
    assert told in problem.message


def test_long_texts_are_cut_and_told(tmp_path):
    """A name has to fit the map."""
    (mark,), _ = read(tmp_path, f"{HEAD}-96.4,-31.6,{'n' * 300},place,\n")
    assert len(mark.name) == LONGEST["name"]
    assert "name of 300 letters. Expected at most 80" in mark.problems[0].message


def test_points_of_a_vector_file_are_read_and_other_shapes_told(tmp_path):
    """Several points of one feature are several landmarks; a line has no one place."""
    point = {"type": "MultiPoint", "coordinates": [[-96.4, -31.6], [-96.41, -31.6]]}
    line = {"type": "LineString", "coordinates": [[-96.4, -31.6], [-96.41, -31.6]]}
    features = [
        {"type": "Feature", "properties": {"name": "Stumps", "type": "hazard", "note": "Mind"}, "geometry": point},
        {"type": "Feature", "properties": {"name": "Line", "type": "hazard", "note": None}, "geometry": line},
    ]
    text = json.dumps({"type": "FeatureCollection", "features": features})
    marks, problems = read(tmp_path, text, "landmarks.geojson")
    assert [(mark.name, mark.kind, mark.words) for mark in marks] == [("Stumps", "hazard", "Mind")] * 2
    assert [p.message for p in problems] == [
        "landmarks.geojson: row 2: a LineString. Expected a point. It is left out."
    ]


def test_a_table_without_positions_is_refused(tmp_path):
    """It names the headings that are there and those that are asked for."""
    with pytest.raises(InputFault, match="columns lon and lat"):
        read(tmp_path, "name,kind\nA,ramp\n")
