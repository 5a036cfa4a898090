"""Landmarks in atlas.json, in the GeoPackage and in the data of the offline atlas."""

from __future__ import annotations

import json

import jsonschema
import pyogrio
from sample_atlas import make_sample_atlas
from sample_landmarks import LANDMARKS, with_landmarks

from atlasgen.resources import resource
from atlasgen.write.landmarks import landmark_data, landmark_entries
from atlasgen.write.tables import atlas_document, geopackage_layers, write_geopackage

ATLAS = with_landmarks(make_sample_atlas())


def test_atlas_json_tells_every_landmark_by_the_schema():
    """The published schema, checked by the reference library; what the crew did not say is null."""
    document = json.loads(json.dumps(atlas_document(ATLAS), allow_nan=False))
    schema = json.loads(resource("shared", "atlas.schema.json").read_text(encoding="utf-8"))
    jsonschema.validate(document, schema, cls=jsonschema.Draft202012Validator)
    assert sorted(row["kind"] for row in document["landmarks"]) == ["hazard", "hazard", "parking", "place", "ramp"]
    (parking,) = [row for row in document["landmarks"] if row["kind"] == "parking"]
    assert (parking["name"], parking["words"], parking["over_water"]) == (None, None, False)


def test_a_gis_reads_them_as_points(tmp_path):
    """GDAL, through pyogrio; position to a tenth of a metre."""
    write_geopackage(geopackage_layers(ATLAS), tmp_path / "atlas.gpkg")
    frame = pyogrio.read_dataframe(tmp_path / "atlas.gpkg", layer="landmarks")
    assert set(frame.name.dropna()) == {name for _, _, _, name, _ in LANDMARKS if name}
    ramp = frame[frame.kind == "ramp"].iloc[0]
    assert (round(ramp.geometry.x, 6), round(ramp.geometry.y, 6)) == (round(ramp.lon, 6), round(ramp.lat, 6))


def test_the_offline_atlas_lists_hazards_first_with_their_nearest_page():
    """What can hurt comes before what is handy; the page is on the landmark's own ring."""
    kinds = [row["kind"] for row in landmark_data(ATLAS)]
    assert kinds[:2] == ["hazard", "hazard"]
    reaches = {reach.id: reach for reach in ATLAS.placed.reaches}
    for entry in landmark_entries(ATLAS):
        assert reaches[entry.page.reaches[0]].ring == reaches[entry.mark.reach].ring
