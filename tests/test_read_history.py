"""Reading layers: georeferenced images, scans with control points, drawn waterlines."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import rasterio
from PIL import Image
from rasterio.transform import from_origin

from atlasgen.model.history import LayerRule
from atlasgen.read.history import files_of, read_history

POINTS = "name,col_px,row_px,lon,lat\nmill,0,0,-96.40,-31.59\ndam,99,0,-96.39,-31.59\nford,0,59,-96.40,-31.60\n"


def scan(folder: Path, points: str = POINTS) -> LayerRule:
    """Write a scan of 100 x 60 pixels and its table of control points."""
    Image.new("L", (100, 60)).save(folder / "old.png")
    (folder / "old.csv").write_text(points, encoding="utf-8")
    return LayerRule("old.png", "historic chart", "Old chart", control="old.csv")


def geotiff(folder: Path, name: str = "low.tif") -> None:
    """10 x 20 pixels of 5 m in UTM zone 14 S."""
    profile = {"driver": "GTiff", "width": 20, "height": 10, "count": 3, "dtype": "uint8", "crs": "EPSG:32714"}
    with rasterio.open(folder / name, "w", transform=from_origin(746000, 6500000, 5, 5), **profile) as image:
        image.write(np.zeros((3, 10, 20), np.uint8))


def test_a_georeferenced_image_says_where_it_lies(tmp_path: Path) -> None:
    """Its outline in degrees is as far across as its pixels are on the ground: 100 m by 50 m."""
    from pyproj import Geod

    geotiff(tmp_path)
    (layer,), problems = read_history(tmp_path, [LayerRule("low.tif", "air photo", "Low water")])
    assert problems == []
    assert (layer.width_px, layer.height_px) == (20, 10)
    area, _ = Geod(ellps="WGS84").geometry_area_perimeter(layer.outline)
    assert abs(area) == pytest.approx(5000, rel=2e-3)


def test_a_scan_has_its_control_points(tmp_path: Path) -> None:
    """Columns by name, points in the order of the table."""
    (layer,), problems = read_history(tmp_path, [scan(tmp_path)])
    assert problems == []
    assert layer.outline is None
    assert layer.control.names == ("mill", "dam", "ford")
    assert layer.control.row_px.tolist() == [0, 0, 59]


def test_a_point_outside_the_scan_is_left_out_by_name(tmp_path: Path) -> None:
    """A column of 990 in a scan of 100: the point and its line are named, the others are kept."""
    (layer,), (problem,) = read_history(tmp_path, [scan(tmp_path, POINTS.replace("dam,99,", "dam,990,"))])
    assert layer.control.names == ("mill", "ford")
    assert "dam (line 3)" in problem.message


@pytest.mark.parametrize(
    ("rule", "said"),
    [
        (LayerRule("gone.tif", "air photo", "x"), "gone.tif: is not there"),
        (LayerRule("plain.png", "air photo", "x"), "control points"),
        (LayerRule("text.tif", "air photo", "x"), "an image that GDAL reads"),
        (LayerRule("plain.png", "historic chart", "x", control="gone.csv"), "gone.csv"),
        (LayerRule("plain.png", "historic chart", "x", control="few.csv"), "col_px"),
    ],
)
def test_a_faulty_layer_is_told_and_the_next_one_is_read(tmp_path: Path, rule: LayerRule, said: str) -> None:
    """Not there, not placed, not an image, no table, wrong columns."""
    Image.new("L", (10, 10)).save(tmp_path / "plain.png")
    (tmp_path / "text.tif").write_text("no image", encoding="utf-8")
    (tmp_path / "few.csv").write_text("a,b\n1,2\n", encoding="utf-8")
    layers, (problem,) = read_history(tmp_path, [rule, scan(tmp_path)])
    assert [layer.rule.file for layer in layers] == ["old.png"]
    assert said in problem.message
    assert problem.level == "fault"
    assert str(tmp_path) not in problem.message


def test_a_drawn_waterline_may_be_lines_or_areas(tmp_path: Path) -> None:
    """The edge of an area counts as its line."""
    geotiff(tmp_path)
    square = "[[[-96.4,-31.6],[-96.399,-31.6],[-96.399,-31.599],[-96.4,-31.6]]]"
    (tmp_path / "line.geojson").write_text(
        '{"type":"FeatureCollection","features":[{"type":"Feature","properties":{},"geometry":'
        f'{{"type":"Polygon","coordinates":{square}}}}}]}}',
        encoding="utf-8",
    )
    rule = LayerRule("low.tif", "air photo", "Low water", waterline="line.geojson")
    (layer,), problems = read_history(tmp_path, [rule])
    assert problems == []
    assert len(layer.waterline.geoms) == 1
    assert files_of([rule, rule]) == ["low.tif", "line.geojson"]
