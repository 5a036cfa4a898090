"""Headings are common practice in several languages, no source."""

from __future__ import annotations

import numpy as np
import pytest

from atlasgen.errors import InputFault
from atlasgen.read.columns import SOUNDING_ROLES, Heading, Table, find_columns, heading_of, lonlat_columns

SETTING = "soundings.columns"


def table_of(*headings, rows=((1.0, 2.0, 3.0),), has_header=True):
    """Make a table of numbers, one row after the other."""
    data = np.array(rows, dtype=float)
    none = np.zeros(len(data), dtype=bool)
    return Table("s.csv", headings, tuple(data.T), none, np.arange(len(data)) + 2, has_header=has_header)


@pytest.mark.parametrize(
    ("text", "base", "unit"),
    [
        ("Depth (ft)", "depth", "feet"),
        ("depth_ft", "depth", "feet"),
        ("DepthFt", "depth", "feet"),
        ("Depth [m]", "depth", "metres"),
        ("dep_m", "dep", "metres"),
        ("Tiefe (cm)", "tiefe", "cm"),
        ("Profondit\u00e0", "profondita", None),
        ("speed_kn", "speed", "knots"),
        ("Latitude (\u00b0)", "latitude", "degrees"),
        ("m", "m", None),
        ("pos_status", "pos_status", None),
    ],
)
def test_a_heading_is_taken_apart_from_its_unit(text, base, unit):
    """Brackets, an ending or a capital part the unit."""
    assert Heading(base, unit) == heading_of(text)


@pytest.mark.parametrize(
    "headings",
    [("lon", "lat", "depth_m"), ("Longitude", "Latitude", "Water Depth"), ("X", "Y", "Z"),
     ("L\u00e4ngengrad", "Breitengrad", "Tiefe"), ("Easting", "Northing", "profondeur")],
)  # fmt: skip
def test_usual_headings_are_known(headings):
    """Longitude, latitude and depth in this order."""
    found, problems = find_columns(table_of(*headings), SOUNDING_ROLES)
    assert found == {"lon": 0, "lat": 1, "depth": 2}
    assert problems == []


def test_a_telling_heading_goes_before_a_bare_letter():
    """`depth` is read, `z` beside it is not."""
    found, _ = find_columns(table_of("z", "y", "depth"), SOUNDING_ROLES)
    assert found["depth"] == 2


def test_two_depth_columns_are_said_and_metres_taken():
    """Loggers write the same depth in two units."""
    found, (problem,) = find_columns(table_of("depth_ft", "lat", "depth_m"), SOUNDING_ROLES, {}, SETTING)
    assert found["depth"] == 2
    assert "soundings.columns.depth" in problem.message


def test_a_named_column_goes_before_its_heading():
    """By heading, whatever the case, or by place from 1."""
    table = table_of("lon", "lat", "echo")
    assert find_columns(table, SOUNDING_ROLES, {"depth": "Echo"}, SETTING)[0]["depth"] == 2
    assert find_columns(table, SOUNDING_ROLES, {"depth": "3"}, SETTING)[0]["depth"] == 2


def test_a_named_column_that_is_not_there_is_refused():
    """The message names the key and what there is."""
    with pytest.raises(InputFault, match=r"soundings.columns.depth names.*'lon', 'lat', 'echo'"):
        find_columns(table_of("lon", "lat", "echo"), SOUNDING_ROLES, {"depth": "depht"}, SETTING)


def test_latitude_in_metres_is_refused_and_explained():
    """The message names column, range, what is allowed and soundings.crs."""
    table = table_of("longitude", "latitude", rows=[(614345.9, 5073093.2), (614384.2, 5073000.2)])
    with pytest.raises(InputFault) as fault:
        lonlat_columns(table, True, "EPSG:4326", {}, SETTING)
    for part in ("'latitude'", "5073000.2 to 5073093.2", "-90 to 90", "soundings.crs"):
        assert part in str(fault.value)


def test_swapped_headings_are_read_right_and_said():
    """-93.7 is no latitude, and 49.7 may be one."""
    table = table_of("lon", "lat", rows=[(49.66, -93.74), (49.67, -93.75)])
    lon, lat, (problem,) = lonlat_columns(table, True, "EPSG:4326", {}, SETTING)
    assert (lon, lat) == (1, 0)
    assert "other way round" in problem.message


def test_degrees_in_a_projected_system_are_refused():
    """Otherwise the whole lake would lie within metres of the projection's origin."""
    table = table_of("x", "y", rows=[(-91.53, 45.8), (-91.52, 45.8)])
    with pytest.raises(InputFault, match="look like degrees"):
        lonlat_columns(table, False, "EPSG:32615", {}, SETTING)


def test_eastings_are_preferred_in_a_projected_system():
    """A file may carry both."""
    table = table_of("lon", "lat", "x", "y", rows=[(-91.53, 45.8, 614345.9, 5073093.2)])
    assert lonlat_columns(table, False, "EPSG:32615", {}, SETTING)[:2] == (2, 3)


def test_a_table_without_positions_is_refused():
    """The message lists the headings there are."""
    with pytest.raises(InputFault, match="'a', 'b', 'depth', none of them for longitude and latitude"):
        lonlat_columns(table_of("a", "b", "depth"), True, "EPSG:4326", {}, SETTING)
