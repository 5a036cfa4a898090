"""Water by stage: against a handbook's example, a published lake, and a cone."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPolygon, Point

from atlasgen.measure.depth import build_grid
from atlasgen.measure.hypsometry import MOST_ROWS, frusta_m3, hypsometry, shoreline_development, trapezoids_m3
from atlasgen.model import DepthGrid

# Spellman, Handbook of Mathematics and Statistics for the Environment, example 20.1: acres at each foot of depth.
HANDBOOK_ACRES = (510, 460, 420, 332, 274, 201, 140, 110, 75, 30, 1)
# Water on the Web, Ice Lake morphometry, table 2: hectares at each metre from 0 to 15, and 1e5 m3 in each layer, the
# last of which runs out to nothing.
ICE_LAKE_HA = (16.6, 15.4, 14.2, 13.0, 11.8, 10.7, 9.49, 8.30, 7.11, 5.93, 4.75, 3.57, 2.38, 1.20, 0.060, 0.029, 0.0)
ICE_LAKE_LAYERS = (1.6, 1.481, 1.362, 1.244, 1.126, 1.008, 0.889, 0.771, 0.652, 0.534, 0.416, 0.297, 0.179, 0.063)
# A cone of 12.07 km2 and 20 m (example lake of outfloweR's `hypso_cone`); its volume is A z / 3.
CONE_M2, CONE_M = 12.07e6, 20.0


def square_grid(depth_m: np.ndarray, cell_m: float = 1.0) -> DepthGrid:
    return DepthGrid(depth_m, np.zeros_like(depth_m), cell_m / 2, cell_m / 2, cell_m, 25.0)


def test_shoreline_development_of_the_handbooks_lake():
    """8.6 miles of shore round 510 acres (0.7969 square miles): printed 2.72 (Spellman, example 20.1)."""
    assert pytest.approx(2.72, abs=0.005) == shoreline_development(8.6, 510 / 640)


def test_shoreline_development_of_circle_and_square():
    """1 and 2 / sqrt(pi), by the definition (Hutchinson, A Treatise on Limnology I, 1957)."""
    assert pytest.approx(1.0, abs=1e-12) == shoreline_development(2 * np.pi * 7, np.pi * 49)
    assert pytest.approx(1.128379, abs=1e-6) == shoreline_development(4.0, 1.0)


def test_frusta_of_the_handbooks_lake():
    """2288.06 acre-feet by the formula; the book prints 2274, which its own formula gives to 1 % (example 20.1)."""
    volume = frusta_m3(HANDBOOK_ACRES, np.ones(10)).sum()
    assert pytest.approx(2288.0641, abs=1e-4) == volume
    assert pytest.approx(2274, rel=0.01) == volume
    # Mean depth, volume by area: printed 4.46 ft, of the book's own sum.
    assert pytest.approx(4.46, rel=0.01) == volume / 510


def test_trapezoids_of_a_published_lake():
    """11.6e5 m3 is printed for Ice Lake, and each of its layers, by the mean of two areas; frusta give 11.596."""
    layers = trapezoids_m3(np.array(ICE_LAKE_HA) * 1e4, np.ones(16)) / 1e5
    np.testing.assert_allclose(layers, (*ICE_LAKE_LAYERS, 0.004, 0.001), atol=0.005)
    assert pytest.approx(11.622, abs=0.001) == layers.sum()
    assert pytest.approx(11.596, abs=0.001) == frusta_m3(np.array(ICE_LAKE_HA) * 1e4, np.ones(16)).sum() / 1e5


def test_frusta_of_a_cone_are_exact():
    """In slices of a metre: A z / 3 to the cubic metre; the mean of areas is an eighth of a percent too much."""
    depth = np.arange(21.0)
    areas = CONE_M2 * (1 - depth / CONE_M) ** 2
    assert pytest.approx(80_466_666.67, abs=1.0) == frusta_m3(areas, np.diff(depth)).sum()
    assert pytest.approx(80_567_250, abs=1.0) == trapezoids_m3(areas, np.diff(depth)).sum()
    assert pytest.approx(80_466_666.67, abs=1.0) == frusta_m3([CONE_M2, 0.0], [CONE_M]).sum()


def test_table_of_a_conical_lake():
    """Radius 100 m, 20 m deep, on cells of a metre: area, volume, mean depth and shore the cone's to 0.5 %."""
    x, y = np.meshgrid(np.arange(-99.5, 100), np.arange(-99.5, 100))
    depth = 20 * (1 - np.hypot(x, y) / 100)
    depth[depth < 0] = np.nan
    water = MultiPolygon([Point(0, 0).buffer(100, quad_segs=90)])
    table = hypsometry(DepthGrid(depth, np.zeros_like(depth), -99.5, -99.5, 1.0, 25.0), water, "metres")
    assert pytest.approx(np.pi * 1e4 * 20 / 3, rel=0.005) == table.volume_m3
    assert pytest.approx(20 / 3, rel=0.005) == table.mean_depth_m
    assert pytest.approx(1.0, abs=0.001) == table.shoreline_development
    assert table.trapezoid_m3 > table.volume_m3
    assert [row.stage_m for row in table.rows] == [-float(d) for d in range(21)]
    half = table.rows[10]
    assert pytest.approx(np.pi * 50**2, rel=0.01) == half.area_m2
    assert pytest.approx(np.pi * 50**2 * 10 / 3, rel=0.01) == half.volume_m3
    assert (table.rows[-1].area_m2, table.rows[-1].volume_m3) == (0.0, 0.0)


def test_known_and_unknown_water_make_up_the_lake():
    """A quarter of a pond has no depth: its area is stated, its volume is in none."""
    depth = np.full((100, 100), 4.0)
    depth[:50, :50] = np.nan
    table = hypsometry(square_grid(depth), MultiPolygon([shapely.box(0, 0, 100, 100)]), "metres")
    assert (table.lake_m2, table.modelled_m2, table.unmodelled_m2) == (1e4, 7500.0, 2500.0)
    assert pytest.approx(table.lake_m2, abs=1e-6) == table.modelled_m2 + table.unmodelled_m2
    assert pytest.approx(7500 * 4.0, rel=1e-6) == table.rows[0].area_m2 * table.deepest_m


def test_parts_of_a_sounded_lake_add_up():
    """With a bank askew to the cells and an island, too; the shore is that of the island as well."""
    island = Point(60, 40).buffer(12)
    water = MultiPolygon([Point(50, 50).buffer(48).difference(island)])
    draw = np.random.default_rng(3)
    x, y = draw.uniform(0, 60, 400), draw.uniform(0, 100, 400)
    grid = build_grid(x, y, 2 + x / 20, water, 2.0, 15.0)
    table = hypsometry(grid, water, "feet")
    assert pytest.approx(water.area) == table.lake_m2
    assert pytest.approx(water.area) == table.modelled_m2 + table.unmodelled_m2
    assert 0 < table.modelled_m2 < water.area
    assert pytest.approx(np.isfinite(grid.depth_m).sum() * 4.0, rel=0.02) == table.modelled_m2
    assert pytest.approx(water.boundary.length) == table.shoreline_m


@given(st.lists(st.floats(0, 40), min_size=1, max_size=60))
def test_less_water_at_every_lower_stage(depths):
    """Area and volume never grow downwards, there are few rows, and the last is dry."""
    depth = np.array(depths)[None, :]
    table = hypsometry(square_grid(depth), MultiPolygon([shapely.box(0, 0, len(depths), 1)]), "feet")
    areas, volumes = ([getattr(row, name) for row in table.rows] for name in ("area_m2", "volume_m3"))
    assert sorted(areas, reverse=True) == areas
    assert sorted(volumes, reverse=True) == volumes
    assert len(table.rows) <= MOST_ROWS + 1
    assert (areas[0], volumes[-1]) == (pytest.approx(len(depths)), 0.0)
    assert table.deepest_m == pytest.approx(max(depths))


def test_no_depth_no_table():
    """Nothing known, nothing said."""
    assert hypsometry(square_grid(np.full((5, 5), np.nan)), MultiPolygon([shapely.box(0, 0, 5, 5)]), "feet") is None
