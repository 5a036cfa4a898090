"""Layers on the lake: how deep an image of low water looks, and how far its waterline is from the model's."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest
import shapely
from shapely import LineString, MultiLineString, MultiPolygon, box

from atlasgen.measure.drawdown import place_layers
from atlasgen.model import DepthGrid, LonLat, Reach, StageRecord
from atlasgen.model.history import ControlPoints, LayerFile, LayerRule
from atlasgen.place.geo import Projection

LAKE = MultiPolygon([box(-96.402, -31.602, -96.398, -31.598)])
PROJECTION = Projection.for_lake(LAKE)
NO_ZONE = timedelta()


def plane() -> DepthGrid:
    """Return a bed that falls evenly eastward: depth in metres is a tenth of the way east of x = -150 m."""
    x = np.arange(-150.0, 151.0, 2.0)
    depth = np.tile((x + 150) / 10, (101, 1))
    return DepthGrid(depth, np.zeros_like(depth), -150.0, -100.0, 2.0, 25.0)


def reach(name: str, x_m: float) -> Reach:
    return Reach(name, "S", 0, 10, LineString([(x_m, -5), (x_m, 5)]), LonLat(0, 0), 90.0, "t", name)


def image(**changes: object) -> LayerFile:
    rule = LayerRule("low.tif", "air photo", "Low water", **{"date": date(2019, 11, 3), "stage_m": -5.0} | changes)
    outline = PROJECTION.to_lonlat(box(-140, -90, 60, 90))
    return LayerFile(rule, 400, 360, outline)


def placed(file: LayerFile, record: StageRecord | None = None):
    return place_layers([file], [reach("in", 0.0), reach("out", 100.0)], plane(), record, NO_ZONE, PROJECTION)


def test_an_image_of_low_water_looks_down_to_the_line_of_its_stage() -> None:
    """Five metres down, the water's edge is the 5 m line, here the meridian at x = -100 m."""
    (layer,), problems = placed(image())
    assert problems == []
    assert layer.looks_m == 5.0
    assert shapely.get_coordinates(layer.waterline)[:, 0] == pytest.approx(-100.0, abs=0.5)
    assert layer.reaches == ("in",)


def test_the_stage_comes_from_the_record_where_survey_toml_gives_none() -> None:
    """Noon of the day lies half way between two readings."""
    day = datetime(2019, 11, 3, 12, tzinfo=UTC).timestamp()
    record = StageRecord(np.array([day - 86400, day + 86400]), np.array([-2.0, -4.0]), "stage.csv")
    (layer,), _ = placed(image(stage_m=None), record)
    assert layer.looks_m == pytest.approx(3.0)
    assert "stage.csv" in layer.stage_from


@pytest.mark.parametrize(
    ("changes", "stage_m"),
    [({"stage_m": None}, None), ({"stage_m": None, "date": None}, None), ({"stage_m": 0.4}, 0.4)],
)
def test_without_a_drawdown_nothing_is_said_of_the_bed(changes: dict[str, object], stage_m: float | None) -> None:
    """An unknown stage stays unknown; water above full shows no bed."""
    (layer,), _ = placed(image(**changes))
    assert (layer.stage_m, layer.looks_m, layer.waterline) == (stage_m, None, None)


def test_a_waterline_eight_metres_off_departs_by_eight_metres() -> None:
    """The image's own edge runs at x = -92 m, the model's 5 m line at -100 m; beyond the model nothing is compared."""
    own = MultiLineString([[(-92, -80), (-92, 80)]])
    file = image()
    file = LayerFile(file.rule, 400, 360, file.outline, None, PROJECTION.to_lonlat(own))
    (layer,), _ = placed(file)
    assert layer.departure.median_m == pytest.approx(8.0, abs=0.3)
    assert layer.departure.p95_m == pytest.approx(8.0, abs=0.3)
    assert layer.departure.compared_m == pytest.approx(160.0, abs=2.0)


def test_a_scan_lies_where_its_control_points_put_it() -> None:
    """Half a metre to a pixel: 400 x 360 pixels cover 200 m x 180 m."""
    col, row = np.array([0.0, 400, 0, 400]), np.array([0.0, 0, 360, 360])
    lon, lat = PROJECTION.lonlats(-100 + col / 2, 90 - row / 2)
    control = ControlPoints(("a", "b", "c", "d"), col, row, lon, lat)
    file = LayerFile(LayerRule("c.png", "historic chart", "Old chart", control="c.csv"), 400, 360, None, control)
    (layer,), problems = placed(file)
    assert problems == []
    assert layer.area.bounds == pytest.approx((-100, -90, 100, 90), abs=1e-3)
    assert layer.fit.rmse_m == pytest.approx(0, abs=1e-3)
    assert layer.looks_m is None


def test_control_points_that_cannot_fix_a_scan_leave_it_out_and_say_so() -> None:
    """One point is no fit; the table of points is named."""
    control = ControlPoints(("a",), np.array([1.0]), np.array([1.0]), np.array([-96.4]), np.array([-31.6]))
    file = LayerFile(LayerRule("c.png", "historic chart", "Old chart", control="c.csv"), 400, 360, None, control)
    layers, (problem,) = placed(file)
    assert layers == ()
    assert (problem.subject, problem.level) == ("c.csv", "fault")
