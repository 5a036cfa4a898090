"""What is found on generated bottoms: all that is there and nothing else, by boat runs and noise as a survey has."""

from __future__ import annotations

import bathymetry
import numpy as np
import pytest
import shapely

from atlasgen.measure.depth import build_grid
from atlasgen.measure.relief import SCALES_M, find_relief
from atlasgen.measure.terrain import relief_index
from atlasgen.model import DepthGrid
from atlasgen.place.geo import Projection

PROJECTION = Projection("+proj=aeqd +lat_0=45 +lon_0=-30 +datum=WGS84 +units=m +no_defs")
WATER = bathymetry.pond(600.0)
REACHES = bathymetry.reaches_of(WATER, 100.0)


def found_on(bottom, noise_m: float = 0.05, spacing_m: float = 20.0, seed: int = 3, off_bank_m: float = 3.0):
    """Find the relief of depths sounded along runs of one spacing, with the sounder's noise."""
    x, y, line = bathymetry.runs(off_bank_m, off_bank_m, 600 - off_bank_m, 600 - off_bank_m, spacing_m, 2.5)
    depth = bottom(x, y) + np.random.default_rng(seed).normal(0, noise_m, x.size)
    grid = build_grid(x, y, depth, WATER, 5.0, 25.0, line)
    return find_relief(grid, x, y, REACHES, PROJECTION, line)


def flat(x, y):
    """Six metres deep, a bank 30 m wide all round."""
    to_bank = np.minimum.reduce([x, y, 600 - x, 600 - y])
    return 6 * np.minimum(to_bank / 30, 1)


def bump(x, y, at, height_m, radius_m):
    """Round and smooth: full height at its centre, none at its radius."""
    away = np.hypot(x - at[0], y - at[1]) / radius_m
    return np.where(away < 1, height_m * np.cos(np.minimum(away, 1) * np.pi / 2) ** 2, 0.0)


def kinds(features):
    return sorted(feature.kind for feature in features)


@pytest.mark.parametrize("seed", range(3))
def test_a_plane_gives_nothing(seed):
    """A bed that slopes evenly, sounded with noise, 60 m and more off the banks: not one feature."""
    assert found_on(lambda x, y: 2 + 0.02 * x + 0.01 * y, seed=seed, off_bank_m=60.0) == ()


@pytest.mark.parametrize("seed", range(3))
def test_a_noisy_plane_gives_nothing(seed):
    """The same with six times the noise."""
    assert found_on(lambda x, y: 2 + 0.02 * x + 0.01 * y, noise_m=0.3, seed=seed, off_bank_m=60.0) == ()


def test_a_low_hump_on_a_flat_bed_counts():
    """30 cm high and 60 m across, which a fixed limit of half a metre would miss."""
    found = found_on(lambda x, y: flat(x, y) - bump(x, y, (300, 300), 0.3, 30), spacing_m=10)
    (hump,) = [feature for feature in found if feature.kind == "hump"]
    assert hump.id == "hump 1"
    assert np.hypot(hump.point.x_m - 300, hump.point.y_m - 300) <= 15
    assert hump.least_depth_m == pytest.approx(5.7, abs=0.1)
    assert 0.15 <= hump.height_m <= 0.4
    assert hump.outline.contains(shapely.Point(300, 300))
    assert hump.soundings >= 5
    assert hump.at == PROJECTION.lonlat(hump.point)


def test_the_same_hump_in_noise_is_no_feature():
    """With 30 cm of noise nobody can tell it."""
    found = found_on(lambda x, y: flat(x, y) - bump(x, y, (300, 300), 0.3, 30), noise_m=0.3, spacing_m=10)
    assert "hump" not in kinds(found)


def rough(x, y):
    """Waves of 15 cm in all directions, 12 to 40 m long."""
    rng = np.random.default_rng(8)
    waves = sum(
        np.sin(x * np.cos(turn) * k + y * np.sin(turn) * k + phase)
        for turn, k, phase in zip(
            rng.uniform(0, 2 * np.pi, 12), 2 * np.pi / rng.uniform(12, 40, 12), rng.uniform(0, 6, 12), strict=True
        )
    )
    return 6 + 0.15 * waves / 6**0.5


def test_on_a_rough_bed_all_that_is_told_is_there():
    """1.5 m above waves of 15 cm: one hump; of the waves some, none of them surely, and none that the bed lacks."""

    def bottom(x, y):
        return rough(x, y) - bump(x, y, (300, 300), 1.5, 40)

    found = found_on(bottom)
    (hump,) = [feature for feature in found if feature.kind in ("hump", "hole")]
    assert np.hypot(hump.point.x_m - 300, hump.point.y_m - 300) <= 15
    assert all(feature.confidence != "good" for feature in found if feature is not hump)
    x, y = np.meshgrid(np.arange(2.5, 600, 5), np.arange(2.5, 600, 5))
    indices = [relief_index(bottom(x, y), 5.0, *ring) for ring in SCALES_M]
    for feature in found:
        inside = shapely.contains_xy(feature.outline, x, y)
        sign = 1 if feature.kind in ("hump", "ridge") else -1
        assert max(np.nanmax(sign * index[inside]) for index in indices) >= feature.height_m / 2


def test_a_hole_is_a_hump_upside_down():
    """Two metres deeper, 60 m across."""
    found = found_on(lambda x, y: flat(x, y) + bump(x, y, (200, 350), 2.0, 30))
    (hole,) = [feature for feature in found if feature.kind == "hole"]
    assert hole.greatest_depth_m == pytest.approx(8.0, abs=0.5)
    assert np.hypot(hole.point.x_m - 200, hole.point.y_m - 350) <= 15


def test_a_channel_runs_where_it_runs():
    """A trough 1.5 m deep and 20 m wide, north and south through the lake: one channel, bearing 0, some 500 m long."""
    found = found_on(lambda x, y: flat(x, y) + 1.5 * np.exp(-(((x - 300) / 9) ** 2)) * (flat(x, y) >= 6))
    (channel,) = [feature for feature in found if feature.kind == "channel"]
    assert min(channel.bearing_deg, 180 - channel.bearing_deg) < 3
    assert 400 <= channel.length_m <= 620
    assert 8 <= channel.width_m <= 30
    assert channel.confidence == "good"
    assert "hole" not in kinds(found)


def test_a_bar_is_a_ridge():
    """The trough upside down, west and east."""
    found = found_on(lambda x, y: flat(x, y) - 1.5 * np.exp(-(((y - 300) / 9) ** 2)) * (flat(x, y) >= 6), spacing_m=10)
    ridges = [feature for feature in found if feature.kind == "ridge"]
    assert {"ridge"} == {feature.kind for feature in found} - {"hole", "channel"}
    assert sum(ridge.length_m for ridge in ridges) > 400
    assert all(abs(ridge.bearing_deg - 90) < 15 for ridge in ridges)


def test_a_ledge_has_top_and_foot():
    """From 3 m to 6 m within 10 m along a line north and south."""
    found = found_on(lambda x, y: 3 + 3 * np.clip((x - 300) / 10, 0, 1))
    ledges = [feature for feature in found if feature.kind == "ledge"]
    (ledge,) = [one for one in ledges if abs(one.point.x_m - 305) < 10]
    assert ledge.least_depth_m == pytest.approx(3.0, abs=0.3)
    assert ledge.greatest_depth_m == pytest.approx(6.0, abs=0.3)
    assert ledge.height_m == pytest.approx(3.0, abs=0.4)
    assert min(ledge.bearing_deg, 180 - ledge.bearing_deg) < 5
    assert ledge.length_m > 400


def test_few_soundings_make_no_feature():
    """A hump that one run of three sounded cells crosses is left out; beside it nothing is known."""
    depth = np.full((60, 60), 6.0)
    depth[28:33, 28:33] = 4.0
    grid = DepthGrid(depth, np.zeros(depth.shape), 0.0, 0.0, 5.0, 25.0, np.full(depth.shape, 0.1))
    few = np.array([145.0, 150.0, 155.0])
    assert find_relief(grid, few, np.full(3, 150.0), (), PROJECTION) == ()
    many = np.arange(130.0, 175.0, 5)
    x, y = (values.ravel() for values in np.meshgrid(many, many))
    (hump,) = [f for f in find_relief(grid, x, y, (), PROJECTION) if f.kind == "hump"]
    assert (hump.least_depth_m, hump.bound_m) == (4.0, pytest.approx(0.1))


def test_what_stands_out_where_nobody_sounded_is_no_feature():
    """A top 2 m high on a foot 1.2 m high, depths good to 0.9 m: only the top stands out, so it must be sounded."""
    depth = np.full((60, 60), 6.0)
    depth[26:35, 26:35] = 4.8
    depth[28:33, 28:33] = 4.0
    grid = DepthGrid(depth, np.zeros(depth.shape), 0.0, 0.0, 5.0, 25.0, np.full(depth.shape, 0.9))
    x, y = (values.ravel() for values in np.meshgrid(np.arange(0.0, 300, 5), np.arange(0.0, 300, 5)))
    (hump,) = find_relief(grid, x, y, (), PROJECTION)
    assert (hump.kind, hump.soundings) == ("hump", 81)
    foot = (np.abs(x - 150) > 10) | (np.abs(y - 150) > 10)
    assert find_relief(grid, x[foot], y[foot], (), PROJECTION) == ()


def test_what_the_bound_explains_is_no_feature():
    """The same hump where depths are good to three metres only."""
    depth = np.full((60, 60), 6.0)
    depth[28:33, 28:33] = 4.0
    grid = DepthGrid(depth, np.zeros(depth.shape), 0.0, 0.0, 5.0, 25.0, np.full(depth.shape, 3.0))
    many = np.arange(100.0, 205.0, 5)
    x, y = (values.ravel() for values in np.meshgrid(many, many))
    assert find_relief(grid, x, y, (), PROJECTION) == ()


def test_features_are_counted_in_the_order_of_the_shore():
    """Two humps: the one nearer to the shore's first reaches is hump 1, whichever is higher."""
    two = [(120, 300, 1.0), (480, 300, 2.0)]
    found = found_on(lambda x, y: flat(x, y) - sum(bump(x, y, (a, b), h, 35) for a, b, h in two))
    humps = [feature for feature in found if feature.kind == "hump"]
    order = [REACHES[int(shapely.STRtree([r.line for r in REACHES]).nearest(shapely.Point(h.point)))] for h in humps]
    assert [hump.id for hump in humps] == ["hump 1", "hump 2"]
    assert [REACHES.index(reach) for reach in order] == sorted(REACHES.index(reach) for reach in order)
