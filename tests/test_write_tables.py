"""atlas.json keeps its contract, and the tables say the same."""

from __future__ import annotations

import csv
import json

import jsonschema
import pyogrio
import pytest
from sample_atlas import make_sample_atlas

from atlasgen.resources import resource
from atlasgen.write.tables import atlas_document, write_atlas_json, write_geopackage, write_reaches_csv

ATLAS = make_sample_atlas()


@pytest.fixture(scope="module")
def document():
    return json.loads(json.dumps(atlas_document(ATLAS), allow_nan=False))


def test_atlas_json_follows_its_published_schema(document):
    """JSON Schema 2020-12, checked by the reference library."""
    schema = json.loads(resource("shared", "atlas.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(document, schema, cls=jsonschema.Draft202012Validator)


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
        write_geopackage(ATLAS, tmp_path / name)
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
    total = ATLAS.known.audit.totals.total.length_m
    assert sum(float(row["length_m"]) for row in rows) == pytest.approx(total, abs=1e-6)
    assert {row["state"] for row in rows} == {"near", "none"}
