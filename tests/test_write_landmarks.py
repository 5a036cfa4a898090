"""Landmarks in atlas.json, in the GeoPackage and in the data of the offline atlas."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import geopandas
import jsonschema
import pytest
from sample_landmarks import with_landmarks
from sample_views import make_viewed_atlas

from atlasgen.write.landmarks import landmark_data, landmark_rows
from atlasgen.write.tables import atlas_document, write_geopackage

SCHEMA = Path(__file__).parents[1] / "shared" / "atlas.schema.json"
