"""Contour files: every line with its value, and what the field's name tells."""

from __future__ import annotations

import numpy as np
import pyogrio
import pytest
import shapely

from atlasgen.errors import InputFault
from atlasgen.read.contours import read_contours

LINES = [
    shapely.LineString([(9.0, 45.0), (9.01, 45.0)]),
    shapely.MultiLineString([[(9.0, 45.01), (9.01, 45.01)], [(9.02, 45.01), (9.03, 45.01)]]),
    shapely.box(9.0, 45.0, 9.001, 45.001),
]


def save(path, shapes=LINES, **fields):
    columns = [np.array(values) for values in fields.values()]
    pyogrio.raw.write(
        path, shapely.to_wkb(np.array(shapes, dtype=object)), columns, list(fields),
        geometry_type="Unknown", crs="EPSG:4326", driver="GeoJSON",
    )  # fmt: skip
    return path


def read(path, field=None):
    return read_contours(path, "depth_contours.geojson", field)


def test_every_part_has_its_features_value(tmp_path):
    """A line, a line of two parts, and a polygon's outline: four lines."""
    given, problems = read(save(tmp_path / "c.geojson", depth_ft=[5.0, 10.0, 15.0], label=["a", "b", "c"]))
    assert sorted(given.values) == [5.0, 10.0, 10.0, 15.0]
    assert {line.geom_type for line in given.lines} == {"LineString"}
    assert (given.field, given.unit, given.shows) == ("depth_ft", "feet", "depth")
    assert problems == []


@pytest.mark.parametrize(
    ("field", "unit", "shows"),
    [
        ("ELEV_M", "metres", "elevation"), ("Depth", None, "depth"), ("CONTOUR", None, None), ("z", None, None),
        ("isobath_m", "metres", "depth"),
    ],
)  # fmt: skip
def test_the_fields_name_tells_what_it_can(tmp_path, field, unit, shows):
    """And no more: a bare `contour` tells neither."""
    given, _ = read(save(tmp_path / "c.geojson", **{field: [1.0, 2.0, 3.0]}))
    assert (given.unit, given.shows) == (unit, shows)


def test_the_crews_word_goes_first(tmp_path):
    """A field of an unusual name, as text with a decimal comma."""
    given, problems = read(save(tmp_path / "c.geojson", depth=[1.0, 2.0, 3.0], linje=["1,5", "3,0", "none"]), "Linje")
    assert sorted(given.values) == [1.5, 3.0, 3.0]
    assert "1 lines without a number in 'linje' were left out" in problems[-1].message


@pytest.mark.parametrize(
    ("fields", "field", "words"),
    [
        ({"colour": [1.0, 2.0, 3.0]}, None, "fields colour. Expected lines with a field"),
        ({"depth": [1.0, 2.0, 3.0], "elev": [1.0, 2.0, 3.0]}, None, "elev and depth may both hold the values"),
        (
            {"depth": [1.0, 2.0, 3.0]},
            "tiefe",
            "no field 'tiefe'. Expected one of depth. Name it as depth.contours_field",
        ),
        ({"depth": ["a", "b", "c"]}, None, "field 'depth' holds no numbers"),
    ],
)
def test_what_cannot_be_told_is_refused_with_the_next_step(tmp_path, fields, field, words):
    """Never a guess."""
    with pytest.raises(InputFault, match=r"depth_contours\.geojson") as fault:
        read(save(tmp_path / "c.geojson", **fields), field)
    assert words in str(fault.value)


def test_points_are_no_contours(tmp_path):
    """Soundings by mistake."""
    points = [shapely.Point(9, 45), shapely.Point(9.1, 45)]
    with pytest.raises(InputFault, match="holds no lines"):
        read(save(tmp_path / "c.geojson", points, depth=[1.0, 2.0]))
