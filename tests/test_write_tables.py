"""atlas.json keeps its contract, and the tables say the same."""

from __future__ import annotations

import csv
import json
from dataclasses import replace

import jsonschema
import pyogrio
import pytest
from pyproj import Geod
from sample_atlas import make_sample_atlas
from sample_views import make_seen_atlas

from atlasgen.resources import resource
from atlasgen.write.tables import (
    atlas_document,
    geopackage_layers,
    write_atlas_json,
    write_geopackage,
    write_reaches_csv,
)

ATLAS = make_sample_atlas()
GEOD = Geod(ellps="WGS84")


@pytest.fixture(scope="module")
def document():
    return json.loads(json.dumps(atlas_document(ATLAS), allow_nan=False))


def test_atlas_json_follows_its_published_schema(document):
    """JSON Schema 2020-12, checked by the reference library."""
    schema = json.loads(resource("shared", "atlas.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    assert list(jsonschema.Draft202012Validator(schema).iter_errors(document)) == []


def test_unknown_is_null_and_never_zero(document):
    """The third photo of page 3 has no direction; no photo of the sample has a view, and each says why."""
    unknown = [photo["id"] for photo in document["photos"] if photo["heading_deg_true"] is None]
    assert unknown == [p.id for p in ATLAS.placed.photos if p.heading_deg_true is None]
    assert unknown
    assert {photo["reaches_seen"] for photo in document["photos"]} == {None}
    assert {photo["no_view_because"] for photo in document["photos"]} == {"it is a sample"}
    assert {reach["best_gsd_cm"] for reach in document["reaches"]} == {None}


def test_every_photo_is_on_the_page_it_says(document):
    """photos[].page and pages[].photos agree."""
    for page in document["pages"]:
        for photo in page["photos"]:
            assert next(p for p in document["photos"] if p["id"] == photo)["page"] == page["number"]
    assert len(document["photos"]) == sum(len(page["photos"]) for page in document["pages"])


def test_lengths_of_a_reach_add_up(document):
    """The states partition a reach, and the reaches of the rings make the shore."""
    for reach in document["reaches"]:
        assert sum(reach["lengths_m"].values()) == pytest.approx(reach["length_m"], abs=1e-9)
    assert sum(r["length_m"] for r in document["reaches"]) == pytest.approx(document["survey"]["shore_m"], abs=0.05)


def test_the_file_is_the_document_and_the_same_twice(tmp_path):
    """Same input, same bytes."""
    write_atlas_json(ATLAS, tmp_path / "a.json")
    write_atlas_json(make_sample_atlas(), tmp_path / "b.json")
    assert (tmp_path / "a.json").read_bytes() == (tmp_path / "b.json").read_bytes()
    assert json.loads((tmp_path / "a.json").read_text(encoding="utf-8"))["format"] == "atlas.json 1"


def test_the_geopackage_opens_elsewhere_and_is_the_same_twice(tmp_path):
    """Layers, counts and CRS as GDAL reads them back; bytes equal."""
    for name in ("a.gpkg", "b.gpkg"):
        write_geopackage(geopackage_layers(ATLAS), tmp_path / name)
    assert (tmp_path / "a.gpkg").read_bytes() == (tmp_path / "b.gpkg").read_bytes()
    path = tmp_path / "a.gpkg"
    counts = {str(name): pyogrio.read_info(path, layer=name)["features"] for name, _ in pyogrio.list_layers(path)}
    assert counts["stations"] == len(ATLAS.placed.photos)
    assert counts["reaches"] == len(ATLAS.placed.reaches)
    assert counts["tiles"] == 2
    stations = pyogrio.read_dataframe(tmp_path / "a.gpkg", layer="stations")
    assert stations.crs.to_epsg() == 4326
    assert stations.geometry.x.tolist() == pytest.approx([p.lonlat.lon_deg for p in ATLAS.placed.photos], abs=1e-9)


def test_reaches_csv_holds_every_reach(tmp_path):
    """One line a reach, lengths by state that add up, readable by a plain CSV reader."""
    write_reaches_csv(ATLAS, tmp_path / "audit" / "reaches.csv")
    with (tmp_path / "audit" / "reaches.csv").open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert [row["id"] for row in rows] == [reach.id for reach in ATLAS.placed.reaches]
    for row in rows:
        parts = [float(row[f"{name}_m"]) for name in ("well", "poorly", "near", "none", "cannot")]
        assert sum(parts) == pytest.approx(float(row["length_m"]), abs=1e-9)
        for kind in ("aerial", "shore"):
            parts = [float(row[f"{kind}_{name}_m"]) for name in ("well", "poorly", "near", "none", "cannot")]
            assert sum(parts) == pytest.approx(float(row["length_m"]), abs=1e-9)
    total = ATLAS.known.audit.totals.total.length_m
    assert sum(float(row["length_m"]) for row in rows) == pytest.approx(total, abs=1e-6)
    assert {row["state"] for row in rows} == {"near", "none"}


def test_what_each_kind_of_photo_shows_stands_in_atlas_json():
    """Lengths by state for each kind add up to the reach; neither kind shows more than both together."""
    document = json.loads(json.dumps(atlas_document(make_seen_atlas()), allow_nan=False))
    schema = json.loads(resource("shared", "atlas.schema.json").read_text(encoding="utf-8"))
    assert list(jsonschema.Draft202012Validator(schema).iter_errors(document)) == []
    for reach in document["reaches"]:
        for kind in ("aerial_m", "shore_m"):
            assert sum(reach[kind].values()) == pytest.approx(reach["length_m"], abs=1e-9)
            assert reach[kind]["well"] <= reach["lengths_m"]["well"] + 0.011
    assert sum(reach["aerial_m"]["well"] for reach in document["reaches"]) > 0
    assert sum(reach["shore_m"]["well"] for reach in document["reaches"]) > 0


@pytest.fixture(scope="module")
def seen_gpkg(tmp_path_factory):
    path = tmp_path_factory.mktemp("gpkg") / "a.gpkg"
    write_geopackage(geopackage_layers(make_seen_atlas()), path)
    return path


def test_the_geopackage_says_what_each_photo_covers_and_shows(seen_gpkg):
    """Footprints true to area, and seen shore true to length (geodesic, GeographicLib through PROJ)."""
    views = make_seen_atlas().known.views.views
    covered = pyogrio.read_dataframe(seen_gpkg, layer="views").set_index("photo")
    assert sorted(covered.index) == sorted(p for p, view in views.items() if not view.footprint.is_empty)
    for photo, row in covered.iterrows():
        area_m2 = abs(GEOD.geometry_area_perimeter(row.geometry)[0])
        assert area_m2 == pytest.approx(views[photo].footprint.area, rel=1e-4)
        assert row.shore_seen_m == pytest.approx(views[photo].seen_m, abs=0.01)
        assert bool(row.includes_horizon) == views[photo].includes_horizon
    shore = pyogrio.read_dataframe(seen_gpkg, layer="views_shore")
    assert len(shore) == sum(len(view.stretches) for view in views.values())
    lengths_m = [GEOD.geometry_length(line) for line in shore.geometry]
    assert lengths_m == pytest.approx(shore.length_m.tolist(), rel=1e-4, abs=0.001)


def test_the_geopackage_holds_every_metre_in_its_state(seen_gpkg):
    """Stretches by state add up to the shore; a poor one says why, and one that cannot be as well."""
    states = pyogrio.read_dataframe(seen_gpkg, layer="shore_states")
    total = make_seen_atlas().known.audit.totals.total
    assert states.length_m.sum() == pytest.approx(total.length_m, abs=0.1)
    assert sum(GEOD.geometry_length(line) for line in states.geometry) == pytest.approx(total.length_m, rel=1e-4)
    for state, rows in states.groupby("state"):
        assert rows.length_m.sum() == pytest.approx(total.lengths_m[state], abs=0.2)
    poorly = states[states.state == "poorly"]
    assert set(poorly.failed) <= {"gsd", "angle", "gsd, angle"}
    assert (poorly.photos > 0).all()
    assert set(states[states.state == "cannot"].reason) == {"private garden"}
    assert states[states.state == "none"].best_gsd_cm.isna().all()
    (reason,) = pyogrio.read_dataframe(seen_gpkg, layer="no_photo").reason
    assert reason == "private garden"


def test_the_geopackage_with_views_is_the_same_twice(seen_gpkg, tmp_path):
    """Same input, same bytes."""
    write_geopackage(geopackage_layers(make_seen_atlas()), tmp_path / "b.gpkg")
    assert seen_gpkg.read_bytes() == (tmp_path / "b.gpkg").read_bytes()


def test_doubtful_depth_lines_stand_beside_the_sure_ones(tmp_path):
    """Each line's parts that are in doubt are a feature of their own; none is lost."""
    first, *others = ATLAS.layers.isobaths
    broken = replace(first, lines=first.lines[1:], doubtful=first.lines[:1])
    atlas = replace(ATLAS, layers=replace(ATLAS.layers, isobaths=(broken, *others)))
    write_geopackage(geopackage_layers(atlas), tmp_path / "a.gpkg")
    rows = pyogrio.read_dataframe(tmp_path / "a.gpkg", layer="isobaths")
    drawn = sum(line.length for isobath in ATLAS.layers.isobaths for line in isobath.lines)
    assert sum(line.length for line in rows.geometry) == pytest.approx(drawn)
    assert rows[rows.doubtful.astype(bool)].label.tolist() == [first.label]
