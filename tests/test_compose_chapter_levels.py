"""The chapters on levels and on the bed: rows as their facts, the unknown said."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
from shapely import LineString, MultiPolygon, box

from atlasgen.compose.chapter_levels import levels_chapter
from atlasgen.compose.chapter_relief import relief_chapter
from atlasgen.model import ComposeRules, DepthGrid, LonLat, PointM, Reach, Ring
from atlasgen.model.depths import Hypsometry, StageWater
from atlasgen.model.relief import ReliefFeature, ReliefNear
from atlasgen.place.geo import Projection

RULES = ComposeRules(title="Lake", edition="1", depth_unit="metres")
TABLE = Hypsometry(
    (StageWater(0.0, 1.8e6, 1.45e7), StageWater(-5.0, 8e5, 4.5e5)),
    2e6,
    1.8e6,
    2e5,
    1.45e7,
    1.46e7,
    8.0,
    25.0,
    9000,
    1.8,
)


WATER = MultiPolygon([box(-96.402, -31.602, -96.398, -31.598)])
PROJECTION = Projection.for_lake(WATER)
METRIC = PROJECTION.to_metric(WATER)


def lake(**changes: object) -> SimpleNamespace:
    """Return a bed that falls evenly eastward to 20 m, with photos at two levels."""
    west = METRIC.bounds[0]
    x = np.arange(west, -west + 1, 5.0)
    depth = np.tile((x - west) / 20, (91, 1))
    grid = DepthGrid(depth, np.zeros_like(depth), west, -225.0, 5.0, 25.0)
    return SimpleNamespace(
        **{"hypsometry": TABLE, "grid": grid, "grid_at_datum": None, "stage_of_photo_m": {"a": -1.5, "b": None}}
        | changes
    )


PLACED = SimpleNamespace(
    water=METRIC,
    rings=(Ring("S", LineString(METRIC.geoms[0].exterior.coords), False),),
    crs_metric=PROJECTION.crs_text,
)


def test_what_falls_dry_is_drawn_dry_and_told() -> None:
    """1.5 m down on a bed that falls a metre in 20 m, 30 m of it is dry along the whole bank."""
    _, _, words, drawing, half, _ = levels_chapter(lake(), PLACED, (), RULES).blocks
    assert words.heading == "With the water 1.50 m below full"
    assert half.heading == "With the water 5.00 m below full"
    bounds = METRIC.bounds
    dry_ha = 30 * (bounds[3] - bounds[1]) / 10_000
    assert f"{dry_ha:.1f} ha of the bed has fallen dry" in drawing.alt
    assert any(shape.style == "dry" for shape in drawing.shapes)


def texts(table) -> list[list[str]]:
    return [[cell.text for cell in row] for row in table.rows]


def test_every_level_has_its_area_and_volume() -> None:
    """Area in hectares, volume in cubic metres, the share of the full volume."""
    words, table, *_ = levels_chapter(lake(), PLACED, (), RULES).blocks
    assert texts(table) == [
        ["at full", "180 ha", "14.5 million m³", "100 %"],
        ["5.00 m below full", "80.0 ha", "450\N{NO-BREAK SPACE}000 m³", "3 %"],
    ]
    assert "For 20.0 ha, 10 % of the lake, no depth is known" in " ".join(s.text for s in words.sentences)


def test_without_depths_there_is_no_such_chapter() -> None:
    """Nothing is known of the volume."""
    assert levels_chapter(lake(hypsometry=None), None, (), RULES) is None


def hump(name: str = "hump 1") -> ReliefFeature:
    return ReliefFeature(
        name, "hump", PointM(40, 0), LonLat(-96.4, -31.6), 2.0, 4.0, 1.2, 400.0, 30.0, 20.0, 45.0, 40, 0.3, 0.1, "good",
        box(30, -10, 50, 10),
    )  # fmt: skip


def bed(near: dict) -> SimpleNamespace:
    return SimpleNamespace(grid=object(), relief=(hump(),), relief_near=near)


def test_a_feature_leads_to_the_pages_it_lies_off() -> None:
    """Page 4 is about the reach it lies off, and its cell leads there."""
    reach = Reach("S-0001", "S", 0, 100, LineString([(0, -50), (0, 50)]), LonLat(0, 0), 90.0, "t", "east bank", "Arm")
    pages = [SimpleNamespace(number=4, reaches=("S-0001",)), SimpleNamespace(number=5, reaches=("S-0002",))]
    facts = bed({"S-0001": (ReliefNear("hump 1", 30.0, 40.0, 90.0),)})
    _, table = relief_chapter(facts, SimpleNamespace(reaches=(reach,)), pages, RULES).blocks
    (row,) = table.rows
    assert row[1].text.startswith("40 m east of Arm, east bank (S-0001)")
    assert row[2].text.replace("\N{NO-BREAK SPACE}", " ") == "least 2.0 m, ± 0.3 m"
    assert row[4].text == "30 m long, 20 m wide, running north-east to south-west"
    assert (row[-1].text, row[-1].page) == ("4", 4)


def test_a_feature_in_mid_lake_says_so() -> None:
    """No bank within reach: no page, and its position tells where."""
    _, table = relief_chapter(bed({}), SimpleNamespace(reaches=()), (), RULES).blocks
    (row,) = table.rows
    assert row[1].text == "out in the lake, at -31.60000, -96.40000"
    assert (row[-1].text, row[-1].page) == ("none near", None)


def test_a_bed_without_features_says_so() -> None:
    """None found is a finding."""
    facts = SimpleNamespace(grid=object(), relief=(), relief_near={})
    (words,) = relief_chapter(facts, None, (), RULES).blocks
    assert words.sentences[-1].text == "None was found in this lake."
