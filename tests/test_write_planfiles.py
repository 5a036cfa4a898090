"""The plan's files against the published schemas, and read back by other programs."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace

import gpxpy
import numpy as np
import pyogrio
import pytest
import shapely
from lxml import etree
from sample_plan import hand_plan, hand_rings, hand_run, hand_station
from sample_scene import CRS

from atlasgen.compose.plan_words import proposal
from atlasgen.model import PointM
from atlasgen.model.fieldplan import PlanRules
from atlasgen.place.geo import Projection
from atlasgen.write.planfiles import left_csv, plan_csv, plan_geojson, plan_gpx, plan_kml, write_plan_files

PROJECTION = Projection(CRS)
NASTY = 'Lake <b>&amp; "Weir" \u0007é ]]>'

# What GPX 1.1 asks of the elements a plan uses: names, order, types and ranges of the published schema
# (http://www.topografix.com/GPX/1/1/gpx.xsd), without its remarks and the types that no plan uses.
GPX_SCHEMA = """
<xsd:schema xmlns:xsd="http://www.w3.org/2001/XMLSchema" xmlns="http://www.topografix.com/GPX/1/1"
    targetNamespace="http://www.topografix.com/GPX/1/1" elementFormDefault="qualified">
  <xsd:element name="gpx"><xsd:complexType>
    <xsd:sequence>
      <xsd:element name="metadata" type="metadataType" minOccurs="0"/>
      <xsd:element name="wpt" type="wptType" minOccurs="0" maxOccurs="unbounded"/>
      <xsd:element name="rte" type="rteType" minOccurs="0" maxOccurs="unbounded"/>
    </xsd:sequence>
    <xsd:attribute name="version" type="xsd:string" use="required" fixed="1.1"/>
    <xsd:attribute name="creator" type="xsd:string" use="required"/>
  </xsd:complexType></xsd:element>
  <xsd:complexType name="metadataType"><xsd:sequence>
    <xsd:element name="name" type="xsd:string" minOccurs="0"/>
    <xsd:element name="desc" type="xsd:string" minOccurs="0"/>
    <xsd:element name="time" type="xsd:dateTime" minOccurs="0"/>
    <xsd:element name="keywords" type="xsd:string" minOccurs="0"/>
  </xsd:sequence></xsd:complexType>
  <xsd:complexType name="wptType">
    <xsd:sequence>
      <xsd:element name="ele" type="xsd:decimal" minOccurs="0"/>
      <xsd:element name="time" type="xsd:dateTime" minOccurs="0"/>
      <xsd:element name="magvar" type="xsd:decimal" minOccurs="0"/>
      <xsd:element name="geoidheight" type="xsd:decimal" minOccurs="0"/>
      <xsd:element name="name" type="xsd:string" minOccurs="0"/>
      <xsd:element name="cmt" type="xsd:string" minOccurs="0"/>
      <xsd:element name="desc" type="xsd:string" minOccurs="0"/>
      <xsd:element name="src" type="xsd:string" minOccurs="0"/>
      <xsd:element name="sym" type="xsd:string" minOccurs="0"/>
      <xsd:element name="type" type="xsd:string" minOccurs="0"/>
    </xsd:sequence>
    <xsd:attribute name="lat" type="latitudeType" use="required"/>
    <xsd:attribute name="lon" type="longitudeType" use="required"/>
  </xsd:complexType>
  <xsd:complexType name="rteType"><xsd:sequence>
    <xsd:element name="name" type="xsd:string" minOccurs="0"/>
    <xsd:element name="cmt" type="xsd:string" minOccurs="0"/>
    <xsd:element name="desc" type="xsd:string" minOccurs="0"/>
    <xsd:element name="src" type="xsd:string" minOccurs="0"/>
    <xsd:element name="number" type="xsd:nonNegativeInteger" minOccurs="0"/>
    <xsd:element name="type" type="xsd:string" minOccurs="0"/>
    <xsd:element name="rtept" type="wptType" minOccurs="0" maxOccurs="unbounded"/>
  </xsd:sequence></xsd:complexType>
  <xsd:simpleType name="latitudeType"><xsd:restriction base="xsd:decimal">
    <xsd:minInclusive value="-90.0"/><xsd:maxInclusive value="90.0"/>
  </xsd:restriction></xsd:simpleType>
  <xsd:simpleType name="longitudeType"><xsd:restriction base="xsd:decimal">
    <xsd:minInclusive value="-180.0"/><xsd:maxExclusive value="180.0"/>
  </xsd:restriction></xsd:simpleType>
</xsd:schema>
"""

# The same for KML 2.2 (OGC 07-147r2 and its schema, from memory): the order of a feature's parts, and a camera's.
KML_SCHEMA = """
<xsd:schema xmlns:xsd="http://www.w3.org/2001/XMLSchema" xmlns="http://www.opengis.net/kml/2.2"
    targetNamespace="http://www.opengis.net/kml/2.2" elementFormDefault="qualified">
  <xsd:element name="kml"><xsd:complexType><xsd:sequence>
    <xsd:element name="Document"><xsd:complexType><xsd:sequence>
      <xsd:element name="name" type="xsd:string"/>
      <xsd:element name="description" type="xsd:string"/>
      <xsd:element name="Style" maxOccurs="unbounded"><xsd:complexType>
        <xsd:sequence><xsd:element name="LineStyle"><xsd:complexType><xsd:sequence>
          <xsd:element name="color" type="xsd:hexBinary"/><xsd:element name="width" type="xsd:double"/>
        </xsd:sequence></xsd:complexType></xsd:element></xsd:sequence>
        <xsd:attribute name="id" type="xsd:ID"/>
      </xsd:complexType></xsd:element>
      <xsd:choice maxOccurs="unbounded">
        <xsd:element name="Placemark" type="placemark"/>
        <xsd:element name="Folder"><xsd:complexType><xsd:sequence>
          <xsd:element name="name" type="xsd:string"/>
          <xsd:element name="description" type="xsd:string" minOccurs="0"/>
          <xsd:element name="Placemark" type="placemark" maxOccurs="unbounded"/>
        </xsd:sequence></xsd:complexType></xsd:element>
      </xsd:choice>
    </xsd:sequence></xsd:complexType></xsd:element>
  </xsd:sequence></xsd:complexType></xsd:element>
  <xsd:complexType name="placemark"><xsd:sequence>
    <xsd:element name="name" type="xsd:string"/>
    <xsd:element name="description" type="xsd:string" minOccurs="0"/>
    <xsd:element name="Camera" minOccurs="0"><xsd:complexType><xsd:sequence>
      <xsd:element name="longitude" type="angle180"/>
      <xsd:element name="latitude" type="angle90"/>
      <xsd:element name="altitude" type="xsd:double"/>
      <xsd:element name="heading" type="angle360"/>
      <xsd:element name="tilt" type="anglepos180"/>
      <xsd:element name="roll" type="angle180"/>
      <xsd:element name="altitudeMode" type="mode"/>
    </xsd:sequence></xsd:complexType></xsd:element>
    <xsd:element name="styleUrl" type="xsd:anyURI" minOccurs="0"/>
    <xsd:choice>
      <xsd:element name="Point"><xsd:complexType><xsd:sequence>
        <xsd:element name="extrude" type="xsd:boolean" minOccurs="0"/>
        <xsd:element name="altitudeMode" type="mode" minOccurs="0"/>
        <xsd:element name="coordinates" type="xsd:string"/>
      </xsd:sequence></xsd:complexType></xsd:element>
      <xsd:element name="LineString"><xsd:complexType><xsd:sequence>
        <xsd:element name="extrude" type="xsd:boolean" minOccurs="0"/>
        <xsd:element name="tessellate" type="xsd:boolean" minOccurs="0"/>
        <xsd:element name="altitudeMode" type="mode" minOccurs="0"/>
        <xsd:element name="coordinates" type="xsd:string"/>
      </xsd:sequence></xsd:complexType></xsd:element>
    </xsd:choice>
  </xsd:sequence></xsd:complexType>
  <xsd:simpleType name="mode"><xsd:restriction base="xsd:string">
    <xsd:enumeration value="clampToGround"/><xsd:enumeration value="relativeToGround"/>
    <xsd:enumeration value="absolute"/>
  </xsd:restriction></xsd:simpleType>
  <xsd:simpleType name="angle90"><xsd:restriction base="xsd:double">
    <xsd:minInclusive value="-90"/><xsd:maxInclusive value="90"/>
  </xsd:restriction></xsd:simpleType>
  <xsd:simpleType name="angle180"><xsd:restriction base="xsd:double">
    <xsd:minInclusive value="-180"/><xsd:maxInclusive value="180"/>
  </xsd:restriction></xsd:simpleType>
  <xsd:simpleType name="anglepos180"><xsd:restriction base="xsd:double">
    <xsd:minInclusive value="0"/><xsd:maxInclusive value="180"/>
  </xsd:restriction></xsd:simpleType>
  <xsd:simpleType name="angle360"><xsd:restriction base="xsd:double">
    <xsd:minInclusive value="-360"/><xsd:maxInclusive value="360"/>
  </xsd:restriction></xsd:simpleType>
</xsd:schema>
"""
KML = {"k": "http://www.opengis.net/kml/2.2"}


def faults(text, schema) -> list[str]:
    """Return what is wrong with a document by a schema."""
    checked = etree.XMLSchema(etree.fromstring(schema))
    checked.validate(etree.fromstring(text.encode("utf-8")))
    return [error.message for error in checked.error_log]


def with_sea(metres=312.0):
    return hand_plan(rules=replace(hand_plan().rules, water_above_sea_m=metres))


def test_gpx_is_valid_with_and_without_elevations():
    """Against the published order of elements and ranges of values."""
    for plan in (hand_plan(), with_sea(), hand_plan(runs=(), beyond=(), left=())):
        assert faults(plan_gpx(plan, NASTY, "metric"), GPX_SCHEMA) == []


def test_the_condensed_schema_refuses_what_the_published_one_refuses():
    """A description before the name, and a latitude of 91: the check can fail."""
    text = plan_gpx(hand_plan(), "Lake", "metric")
    for wrong in (text.replace("<name>LAUNCH</name>", "<type>x</type><name>LAUNCH</name>", 1),
                  text.replace('lat="-31.5', 'lat="91.5', 1)):  # fmt: skip
        assert wrong != text
        assert len(faults(wrong, GPX_SCHEMA)) >= 1


def test_gpx_holds_every_station_and_a_route_for_each_run():
    """Read back by gpxpy: launch, four stations, one beyond; each route begins and ends at the launch."""
    plan = hand_plan()
    read = gpxpy.parse(plan_gpx(plan, NASTY, "metric"))
    assert [point.name for point in read.waypoints] == ["LAUNCH", "R1-01", "R1-02", "R1-03", "R2-01", "B-01"]
    assert [len(route.points) for route in read.routes] == [5, 3]
    for route in read.routes:
        assert [route.points[0].name, route.points[-1].name] == ["LAUNCH", "LAUNCH"]
    assert read.waypoints[1].longitude == pytest.approx(plan.stations[0].lonlat.lon_deg, abs=1e-7)
    assert read.name == 'Lake <b>&amp; "Weir" é ]]>: field plan'


def test_gpx_gives_an_elevation_only_where_the_water_level_is_known():
    """312 m of water and 40 m above it make 352 m above the sea; else there is none."""
    assert {point.elevation for point in gpxpy.parse(plan_gpx(hand_plan(), "L", "metric")).waypoints} == {None}
    elevations = [point.elevation for point in gpxpy.parse(plan_gpx(with_sea(), "L", "metric")).waypoints]
    assert elevations == [None, *[352.0] * 5]


def test_gdal_reads_the_same_points_from_gpx(tmp_path):
    """An independent reader: GDAL through pyogrio."""
    path = tmp_path / "plan.gpx"
    path.write_text(plan_gpx(hand_plan(), "L", "metric"), encoding="utf-8")
    _, _, points, _ = pyogrio.raw.read(path, layer="waypoints")
    stations = [*hand_plan().stations, *hand_plan().beyond]
    expected = [hand_plan().launch, *(station.lonlat for station in stations)]
    np.testing.assert_allclose(shapely.get_coordinates(shapely.from_wkb(points)), np.array(expected), atol=1e-7)


def test_kml_is_valid_in_both_altitude_modes():
    """Order of elements and ranges of KML 2.2."""
    for plan in (hand_plan(), with_sea()):
        assert faults(plan_kml(plan, NASTY, "metric"), KML_SCHEMA) == []


@pytest.mark.parametrize(("pitch_deg", "tilt"), [(-20.0, "70.0"), (-90.0, "0.0"), (0.0, "90.0"), (15.0, "105.0")])
def test_kml_tilt_counts_from_straight_down(pitch_deg, tilt):
    """KML 2.2: tilt 0 looks straight down, 90 at the horizon; a pitch of -20 is a tilt of 70."""
    plan = hand_plan(runs=(hand_run(1, 1, pitch_deg=pitch_deg),), beyond=())
    text = plan_kml(plan, "L", "metric")
    assert faults(text, KML_SCHEMA) == []
    assert etree.fromstring(text.encode()).xpath("//k:Camera/k:tilt/text()", namespaces=KML) == [tilt]


def test_kml_says_from_where_its_heights_count():
    """Above the viewer's ground, with a warning; or above the sea where the water's height is known."""
    for plan, mode, altitude, words in (
        (hand_plan(), "relativeToGround", "40.0", "viewer's own ground"),
        (with_sea(), "absolute", "352.0", "above sea level, with the water at 312 m"),
    ):
        root = etree.fromstring(plan_kml(plan, "L", "metric").encode())
        assert set(root.xpath("//k:Camera/k:altitudeMode/text()", namespaces=KML)) == {mode}
        assert set(root.xpath("//k:Camera/k:altitude/text()", namespaces=KML)) == {altitude}
        assert words in root.xpath("string(//k:Document/k:description)", namespaces=KML)


def test_geojson_is_read_as_it_was_written():
    """RFC 7946: longitude first, no crs member, two coordinates; each kind of feature is there."""
    plan = hand_plan()
    document = json.loads(plan_geojson(plan, NASTY, hand_rings(), PROJECTION))
    kinds = [feature["properties"]["kind"] for feature in document["features"]]
    assert kinds == ["launch", "run", "run", *["station"] * 5, "left"]
    assert "crs" not in document
    shapes = [shapely.from_geojson(json.dumps(feature["geometry"])) for feature in document["features"]]
    assert not any(shape.has_z for shape in shapes)
    assert tuple(shapes[0].coords[0]) == pytest.approx(tuple(plan.launch), abs=1e-7)
    assert PROJECTION.to_metric(shapes[-1]).length == pytest.approx(120, abs=0.1)


def test_csv_has_a_line_for_each_station_and_its_caution():
    """In the order of flight, the one beyond reach last and in no run."""
    rows = list(csv.DictReader(io.StringIO(plan_csv(hand_plan()))))
    assert [(row["name"], row["run"]) for row in rows] == [
        ("R1-01", "1"), ("R1-02", "1"), ("R1-03", "1"), ("R2-01", "2"), ("B-01", "")
    ]  # fmt: skip
    assert {row["caution"] for row in rows} == {proposal()}
    assert (rows[0]["heading_deg_true"], rows[0]["pitch_deg"]) == ("68.0", "-20.0")


def test_what_is_left_is_listed_with_its_reason():
    """One span of 120 m."""
    (row,) = csv.DictReader(io.StringIO(left_csv(hand_plan())))
    assert row == {
        "ring": "S", "from_m": "400.0", "to_m": "520.0", "length_m": "120.0",
        "why": "hidden by land from every station tried",
    }  # fmt: skip


def test_every_file_that_a_person_reads_carries_the_cautions():
    """In each of them: a proposal and no clearance; and the height where it is above the limit."""
    high = hand_plan(runs=(hand_run(1, 2, height_m=121.0),), beyond=())
    texts = (plan_gpx(high, "L", "metric"), plan_kml(high, "L", "metric"), plan_csv(high),
             plan_geojson(high, "L", hand_rings(), PROJECTION))  # fmt: skip
    for text in texts:
        assert proposal() in text
        assert (
            "above 120 m (the commonly published limit is 120 m or 400 ft above ground): check the local rule" in text
        )


def test_written_files_are_the_same_bytes_twice(tmp_path):
    """Same plan, same bytes; all five files are there."""
    options = {"title": NASTY, "rings": hand_rings(), "projection": PROJECTION}
    first = write_plan_files(hand_plan(), tmp_path / "a", **options)
    second = write_plan_files(hand_plan(), tmp_path / "b", **options)
    assert [path.name for path in first] == ["plan.gpx", "plan.kml", "plan.geojson", "plan.csv", "plan_left.csv"]
    assert [path.read_bytes() for path in first] == [path.read_bytes() for path in second]


def test_a_launch_name_cannot_break_the_files():
    """Markup, a control sign and a quote in a name are text."""
    rules = PlanRules(launch=PointM(0, 0), launch_name=NASTY)
    plan = hand_plan(rules=rules, beyond=(hand_station(0, 1, PointM(5, 5)),))
    kml, gpx = plan_kml(plan, NASTY, "metric"), plan_gpx(plan, NASTY, "metric")
    assert (faults(kml, KML_SCHEMA), faults(gpx, GPX_SCHEMA)) == ([], [])
    launch = etree.fromstring(kml.encode()).xpath("string(//k:Placemark[1]/k:description)", namespaces=KML)
    assert launch == 'Lake <b>&amp; "Weir" é ]]>'
