"""Sources: RFC 7946 section 3.1.6 (rings, p. 9); IOGP Guidance Note 7-2 (British National Grid point) through PROJ."""

from __future__ import annotations

import json

import numpy as np
import pyogrio
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pyproj import Transformer
from shapely import LineString, MultiPoint, Point, Polygon, box

from atlasgen.errors import InputFault
from atlasgen.read.layers import read_layers, without_sidecars
from atlasgen.read.vectors import read_areas, read_water

# A lake of 0.01 degree with an island, and the ring of RFC 7946 section 3.1.6 moved to it.
LAKE = box(9.0, 45.0, 9.01, 45.01)
ISLAND = box(9.004, 45.004, 9.006, 45.006)
WATER = LAKE - ISLAND


def save(path, shapes, crs="EPSG:4326", driver="GeoJSON", **fields):
    """Write shapes with their fields through GDAL."""
    shapes = np.array(shapes, dtype=object)
    columns = [np.array(values, dtype=object) for values in fields.values()]
    kinds = {shape.geom_type for shape in shapes}
    pyogrio.raw.write(
        path,
        shapely.to_wkb(shapes),
        columns,
        list(fields),
        geometry_type=kinds.pop() if len(kinds) == 1 else "Unknown",
        crs=crs,
        driver=driver,
    )
    return path


def geojson(path, coordinates, kind="Polygon"):
    """Write one feature by hand."""
    feature = {"type": "Feature", "properties": {}, "geometry": {"type": kind, "coordinates": coordinates}}
    path.write_text(json.dumps({"type": "FeatureCollection", "features": [feature]}), encoding="utf-8")
    return path


def water_of(path):
    """Return the water, its problems dropped."""
    return read_water(path, "shoreline.x")[0]


@pytest.mark.parametrize(("driver", "suffix"), [("GeoJSON", "geojson"), ("GPKG", "gpkg"), ("ESRI Shapefile", "shp")])
def test_a_lake_with_an_island_is_read_from_any_format(tmp_path, driver, suffix):
    """The island stays a hole, and nothing is said."""
    water, problems = read_water(save(tmp_path / f"s.{suffix}", [WATER], driver=driver), f"s.{suffix}")
    assert shapely.equals(WATER, water)
    assert [len(part.interiors) for part in water.geoms] == [1]
    assert problems == []


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=8)
@given(st.booleans(), st.booleans())
def test_the_direction_of_rings_does_not_matter(tmp_path, outer_back, inner_back):
    """RFC 7946 section 3.1.6 asks for one direction and tells readers to bear the other."""
    outer, inner = list(LAKE.exterior.coords), list(ISLAND.exterior.coords)
    rings = [outer[::-1] if outer_back else outer, inner[::-1] if inner_back else inner]
    assert shapely.equals(WATER, water_of(geojson(tmp_path / "s.geojson", rings)))


def test_a_projected_file_is_brought_to_longitude_and_latitude(tmp_path):
    """EPSG:27700, 577274.99 E 69740.50 N, is 50 deg 30 min N, 0 deg 30 min E on OSGB36 (Guidance Note 7-2)."""
    shape = box(577274.99, 69740.50, 577374.99, 69840.50)
    water = water_of(save(tmp_path / "s.gpkg", [shape], crs="EPSG:27700", driver="GPKG"))
    to_osgb36 = Transformer.from_crs("EPSG:4326", "EPSG:4277", always_xy=True)
    corners = np.column_stack(to_osgb36.transform(*shapely.get_coordinates(water).T))
    assert pytest.approx(0.0, abs=1e-6) == np.abs(corners - (0.5, 50.5)).max(axis=1).min()


def test_a_shapefile_without_prj_in_degrees_is_taken_for_wgs_84_and_said(tmp_path):
    """Its sidecar .prj is gone."""
    path = save(tmp_path / "s.shp", [LAKE], driver="ESRI Shapefile")
    path.with_suffix(".prj").unlink()
    water, (problem,) = read_water(path, "s.shp")
    assert shapely.equals(LAKE, water)
    assert "states no coordinate system" in problem.message


def test_a_shapefile_without_prj_in_metres_is_refused(tmp_path):
    """The message gives the numbers and the next step."""
    path = save(tmp_path / "s.shp", [box(500000, 4500000, 500100, 4500100)], crs="EPSG:32632", driver="ESRI Shapefile")
    path.with_suffix(".prj").unlink()
    with pytest.raises(InputFault, match=r"s.shp: states no coordinate system.*4500000.*\.prj"):
        read_water(path, "s.shp")


def test_metres_called_wgs_84_are_refused(tmp_path):
    """4,500,000 is no latitude."""
    with pytest.raises(InputFault, match=r"4500000.*Is the coordinate system wrong\?"):
        read_water(save(tmp_path / "s.geojson", [box(500000, 4500000, 500100, 4500100)]), "s.geojson")


def test_degrees_called_a_projection_are_refused(tmp_path):
    """They would be a lake of a centimetre."""
    with pytest.raises(InputFault, match="WGS 84 / UTM zone 32N, but runs x 9 to 9"):
        read_water(save(tmp_path / "s.gpkg", [LAKE], crs="EPSG:32632", driver="GPKG"), "s.gpkg")


def test_a_drawing_without_a_place_on_earth_is_refused(tmp_path):
    """An engineering system ties to nothing."""
    crs = 'LOCAL_CS["site grid",UNIT["metre",1]]'
    with pytest.raises(InputFault, match="no place on earth"):
        read_water(save(tmp_path / "s.gpkg", [box(500, 500, 600, 600)], crs=crs, driver="GPKG"), "s.gpkg")


def test_latitude_first_is_recognised_where_it_can_be(tmp_path):
    """-93.7 cannot be a latitude."""
    with pytest.raises(InputFault, match="longitude and latitude swapped"):
        read_water(save(tmp_path / "s.geojson", [box(49.66, -93.74, 49.67, -93.73)]), "s.geojson")


def test_a_shape_across_the_180th_meridian_is_refused(tmp_path):
    """RFC 7946 section 3.1.9 has such shapes cut; atlasgen has no map for them."""
    shapes = [box(179.9, -17.0, 180.0, -16.9), box(-180.0, -17.0, -179.9, -16.9)]
    with pytest.raises(InputFault, match="180th meridian"):
        read_water(save(tmp_path / "s.geojson", shapes), "s.geojson")


def test_polygons_that_touch_or_overlap_are_one_water(tmp_path):
    """Two halves make a lake; a pond apart stays apart, the largest first."""
    halves = [box(9.2, 45, 9.201, 45.001), box(9.0, 45.0, 9.006, 45.01), box(9.005, 45.0, 9.01, 45.01)]
    water = water_of(save(tmp_path / "s.geojson", halves))
    assert len(water.geoms) == 2
    assert shapely.equals(LAKE, water.geoms[0])


def test_a_polygon_inside_another_is_said(tmp_path):
    """It may be an island that was not cut out."""
    water, (problem,) = read_water(save(tmp_path / "s.geojson", [LAKE, ISLAND]), "s.geojson")
    assert shapely.equals(LAKE, water)
    assert "islands" in problem.message


def test_lines_become_rings_and_inner_rings_islands(tmp_path):
    """A pond on the island is water again; the lake's shore comes in two pieces whose ends nearly meet."""
    ring = list(LAKE.exterior.coords)
    nearly = (ring[2][0] + 5e-6, ring[2][1])
    pond = box(9.0045, 45.0045, 9.005, 45.005)
    shapes = [LineString(ring[:3]), LineString([nearly, *ring[3:]]), ISLAND.exterior, pond.exterior]
    water, problems = read_water(save(tmp_path / "s.geojson", [LineString(s.coords) for s in shapes]), "s.geojson")
    assert WATER.area + pond.area == pytest.approx(water.area, rel=1e-6)
    assert not water.contains(Point(9.0055, 45.0055))
    assert water.contains(pond.centroid)
    assert [problem.code for problem in problems] == ["geometry"]


def test_a_line_that_does_not_close_is_refused_with_its_gap(tmp_path):
    """0.002 degrees of latitude at 45 N are 222 m (WGS 84)."""
    line = LineString([(9, 45), (9.01, 45), (9.01, 45.01), (9, 45.01), (9, 45.002)])
    with pytest.raises(InputFault, match="222 m are missing"):
        read_water(save(tmp_path / "s.geojson", [line]), "s.geojson")


def test_chance_loops_of_a_track_are_no_shoreline(tmp_path):
    """A line that crosses itself once and runs on does not bound a lake."""
    line = LineString([(9, 45), (9.001, 45.001), (9.001, 45), (9, 45.001), (9.05, 45.05)])
    with pytest.raises(InputFault, match="does not close"):
        read_water(save(tmp_path / "s.geojson", [line]), "s.geojson")


def test_a_broken_ring_is_mended_and_named(tmp_path):
    """A bow tie keeps both its triangles: half of the square's area."""
    bow = Polygon([(9, 45), (9.01, 45.01), (9.01, 45), (9, 45.01)])
    water, (problem,) = read_water(save(tmp_path / "s.geojson", [bow]), "s.geojson")
    assert pytest.approx(water.area) == 0.5e-4
    assert (problem.code, "Self-intersection" in problem.message) == ("geometry", True)


def test_an_open_ring_is_closed_and_said(tmp_path):
    """GeoJSON asks first = last; some writers forget."""
    water, (problem,) = read_water(geojson(tmp_path / "s.geojson", [list(LAKE.exterior.coords)[:-1]]), "s.geojson")
    assert shapely.equals(LAKE, water)
    assert "open ring was closed" in problem.message


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "is empty"),
        ("{", "not recognized"),
        ('{"type": "FeatureCollection", "features": []}', "holds no shapes"),
        ('{"type": "Feature", "properties": {}, "geometry": null}', "holds no shapes"),
        ('{"type": "Point", "coordinates": [9, 45]}', "points only"),
        ('{"type": "Polygon", "coordinates": [[[9, 45], [9, 45.01]]]}', "bounds no water"),
    ],
)
def test_what_holds_no_water_is_refused(tmp_path, text, says):
    """The file is called by its name in the survey folder, never by the machine's path."""
    path = tmp_path / "s.geojson"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputFault, match=says) as fault:
        read_water(path, "in/s.geojson")
    assert str(fault.value).startswith("in/s.geojson: ")
    assert str(tmp_path) not in str(fault.value)


def test_a_hole_without_points_is_no_hole(tmp_path):
    """GEOS 3.14.1 calls such a polygon valid and crashes when it compares it."""
    water = water_of(geojson(tmp_path / "s.geojson", [list(LAKE.exterior.coords), []]))
    assert shapely.equals(LAKE, water)


def test_empty_and_pointlike_lines_bound_nothing(tmp_path):
    """Beside a ring they are not used; alone they bound no water."""
    spot = [[9, 45], [9, 45]]
    ring = [list(xy) for xy in LAKE.exterior.coords]
    assert shapely.equals(LAKE, water_of(geojson(tmp_path / "s.geojson", [[], spot, ring], "MultiLineString")))
    with pytest.raises(InputFault, match="points only"):
        read_water(geojson(tmp_path / "t.geojson", [spot], "MultiLineString"), "t.geojson")


def test_a_file_that_is_not_there_is_refused(tmp_path):
    """The next step names survey.toml."""
    with pytest.raises(InputFault, match=r"is not there.*survey\.toml"):
        read_water(tmp_path / "none.geojson", "none.geojson")


def test_a_truncated_geopackage_is_refused(tmp_path):
    """A copy that broke off."""
    path = save(tmp_path / "s.gpkg", [LAKE], driver="GPKG")
    path.write_bytes(path.read_bytes()[:5000])
    with pytest.raises(InputFault, match=r"s\.gpkg"):
        read_water(path, "s.gpkg")


def test_only_one_layer_may_hold_the_shoreline(tmp_path):
    """Points beside it are said; two polygon layers are not chosen between."""
    path = tmp_path / "s.gpkg"
    for layer, shape in (("water", LAKE), ("buoys", Point(9.005, 45.005))):
        pyogrio.raw.write(
            path, shapely.to_wkb(np.array([shape])), [], [], geometry_type=shape.geom_type, crs="EPSG:4326",
            driver="GPKG", layer=layer, append=path.exists(),
        )  # fmt: skip
    _, (problem,) = read_water(path, "s.gpkg")
    assert "layer water was read, buoys not" in problem.message
    pyogrio.raw.write(
        path, shapely.to_wkb(np.array([ISLAND])), [], [], geometry_type="Polygon", crs="EPSG:4326", driver="GPKG",
        layer="old", append=True,
    )  # fmt: skip
    with pytest.raises(InputFault, match="several layers"):
        read_water(path, "s.gpkg")


def test_areas_carry_the_first_filled_field_as_their_name(tmp_path):
    """`reason` goes before `why`, whatever the case; kind is read beside."""
    path = save(
        tmp_path / "n.geojson", [LAKE, ISLAND], Why=["weed", "timber"], REASON=["too shallow", None], kind=["a", ""]
    )
    areas, problems = read_areas(path, "n.geojson", ("reason", "why", "name"))
    assert [(area.name, area.kind) for area in areas] == [("too shallow", "a"), ("timber", "")]
    assert problems == []


def test_numbers_name_sheets_without_a_decimal(tmp_path):
    """Sheet 7, not sheet 7.0."""
    path = tmp_path / "n.geojson"
    pyogrio.raw.write(
        path, shapely.to_wkb(np.array([LAKE])), [np.array([7.0])], ["no"], geometry_type="Polygon", crs="EPSG:4326",
        driver="GeoJSON",
    )  # fmt: skip
    assert read_areas(path, "n.geojson", ("no",))[0][0].name == "7"


def test_places_may_be_points_and_closed_lines_areas(tmp_path):
    """A point stays a point; with polygons_only it is left out and said."""
    ring = LineString(ISLAND.exterior.coords)
    path = save(tmp_path / "p.geojson", [Point(9.001, 45.001), ring], name=["the ramp", "the island"])
    areas, _ = read_areas(path, "p.geojson", ("name",))
    assert [(a.name, a.area.geom_type) for a in areas] == [("the ramp", "Point"), ("the island", "Polygon")]
    areas, (problem,) = read_areas(path, "p.geojson", ("name",), polygons_only=True)
    assert [area.name for area in areas] == ["the island"]
    assert "the ramp is a Point" in problem.message


def test_an_area_that_collapses_is_left_out_and_said(tmp_path):
    """Its ring runs to and fro."""
    flat = Polygon([(9, 45), (9.01, 45), (9.005, 45)])
    areas, problems = read_areas(save(tmp_path / "p.geojson", [flat], name=["weed"]), "p.geojson", ("name",))
    assert areas == ()
    assert "weed has no area; left out" in problems[-1].message


def test_nameless_areas_are_said(tmp_path):
    """One of two has no name."""
    _, (problem,) = read_areas(save(tmp_path / "p.geojson", [LAKE, ISLAND], name=["x", None]), "p.geojson", ("name",))
    assert "1 of 2 shapes have no name" in problem.message


def test_features_without_a_shape_are_said(tmp_path):
    """The others are read."""
    path = tmp_path / "p.geojson"
    features = [
        {"type": "Feature", "properties": {}, "geometry": g} for g in (None, json.loads(shapely.to_geojson(LAKE)))
    ]
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features}), encoding="utf-8")
    layers, (problem,) = read_layers(path, "p.geojson")
    assert len(layers[0].geometries) == 1
    assert "1 feature without a shape" in problem.message


def test_sidecars_are_no_inputs(tmp_path):
    """shoreline.* matches all parts of a Shapefile; one of them is the file."""
    save(tmp_path / "s.shp", [MultiPoint([(9, 45)])], driver="ESRI Shapefile")
    assert [path.name for path in without_sidecars(sorted(tmp_path.iterdir()))] == ["s.shp"]


@pytest.mark.parametrize("vertex", [[-1e302, 45.005], [9.005, 1e999], [9.005, 90.5]])
def test_a_vertex_off_the_globe_is_named_even_in_an_island(tmp_path, vertex):
    """The bounds of a polygon are those of its outer ring; found by damaging files at random."""
    lake = [list(p) for p in LAKE.exterior.coords]
    island = [[9.004, 45.004], vertex, [9.006, 45.006], [9.004, 45.004]]
    with pytest.raises(InputFault, match=r"a vertex at .* Expected degrees on the globe"):
        water_of(geojson(tmp_path / "s.geojson", [lake, island]))
