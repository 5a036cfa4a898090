"""Footprints and ground sample distances against geometry worked by hand and an independent ray cast."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from atlasgen.model import PointM
from atlasgen.place.footprint import footprint, horizon_m, nadir_circle, sure_radius_m
from atlasgen.place.rays import Camera

FAR_M = 3000.0
FOOT_M = 0.3048


def camera(height_m, pitch_deg, hfov_deg, vfov_deg, heading_deg=0.0, roll_deg=0.0, at=(0, 0), width_px=4000) -> Camera:
    return Camera(PointM(*at), height_m, heading_deg, pitch_deg, roll_deg, hfov_deg, vfov_deg, width_px, 3000)


def fov_deg(side: float, focal: float) -> float:
    return 2 * math.degrees(math.atan(side / 2 / focal))


def width_at(area, y: float) -> float:
    corners = shapely.get_coordinates(area)
    return float(np.ptp(corners[np.abs(corners[:, 1] - y) < 1e-3, 0]))


def ray_cast(held: Camera, a_side: int = 400) -> shapely.Polygon:
    """Meet the frame's border with the water, ray by ray, with SciPy's rotations and nothing of the project's."""
    t = np.linspace(-1, 1, a_side)
    edge = np.ones(a_side)
    across = np.concatenate([t, edge, t[::-1], -edge]) * math.tan(math.radians(held.hfov_deg / 2))
    up = np.concatenate([-edge, t, edge, t[::-1]]) * math.tan(math.radians(held.vfov_deg / 2))
    turned = Rotation.from_euler("ZXY", [-held.heading_deg, held.pitch_deg, held.roll_deg], degrees=True)
    d = turned.apply(np.column_stack([across, np.ones_like(across), up]))
    assert (d[:, 2] < 0).all()
    return shapely.Polygon(np.array(held.at) + d[:, :2] * (held.height_m / -d[:, 2:]))


def test_the_exact_3_4_5_case():
    """120 m up, 45 degrees down, a 24 mm lens on 36 by 24 mm: near 40, far 360 m, all in whole triangles."""
    found = footprint(camera(120, -45, fov_deg(36, 24), fov_deg(24, 24)), FAR_M)
    assert found.area.bounds == pytest.approx((-254.5584, 40, 254.5584, 360), abs=1e-3)
    assert width_at(found.area, 40) == pytest.approx(169.7056, abs=1e-3)
    assert width_at(found.area, 360) == pytest.approx(509.1169, abs=1e-3)
    # The middle of the frame meets the water 120 m ahead, 120 m below: 169.7 m away, 1.5 / 4000 a pixel.
    assert found.centre_gsd_cm == pytest.approx(100 * 120 * math.sqrt(2) * 1.5 / 4000)
    assert not found.includes_horizon


def test_the_oblique_case_by_tangents():
    """Near = H/tan(d + V/2), far = H/tan(d - V/2): 100 m up, 30 degrees down, 60 by 40 degrees."""
    found = footprint(camera(100, -30, 60, 40), FAR_M)
    assert found.area.bounds[1::2] == pytest.approx((83.910, 567.128), abs=1e-3)
    assert width_at(found.area, 100 / math.tan(math.radians(50))) == pytest.approx(141.645, abs=1e-3)
    assert width_at(found.area, 100 / math.tan(math.radians(10))) == pytest.approx(624.863, abs=1e-3)
    assert found.area.area == pytest.approx(185195.4, abs=1)


def test_straight_down_is_the_rectangle_of_the_mapping_formula():
    """GSD = H Sw / (f imW): 120 m, 13.2 by 8.8 mm, 8.8 mm, 5472 px give 3.2895 cm and 180 by 120 m."""
    held = camera(120, -90, fov_deg(13.2, 8.8), fov_deg(8.8, 8.8), width_px=5472)
    found = footprint(held, FAR_M)
    assert found.area.symmetric_difference(shapely.box(-90, -60, 90, 60)).area < 1e-6
    assert found.centre_gsd_cm == pytest.approx(3.2895, abs=1e-4)


def test_gsd_of_the_lecture_formula():
    """100 m, 36 mm sensor, 50 mm lens, 4000 px: 1.8 cm a pixel (NC State GIS-584, lecture on UAS)."""
    held = camera(100, -90, fov_deg(36, 50), fov_deg(24, 50))
    assert footprint(held, FAR_M).centre_gsd_cm == pytest.approx(1.8, abs=1e-9)


@pytest.mark.parametrize(
    ("focal_mm", "across_deg", "up_deg"), [(50, 39.60, 26.99), (24, 73.74, 53.13), (85, 23.91, 16.07)]
)
def test_width_of_the_footprint_is_that_of_the_lens(focal_mm, across_deg, up_deg):
    """Angles of a table of 36 by 24 mm lenses give footprints of 36 and 24 mm blown up by height over focal length."""
    west, south, east, north = footprint(camera(100, -90, across_deg, up_deg), FAR_M).area.bounds
    assert (east - west, north - south) == pytest.approx((3600 / focal_mm, 2400 / focal_mm), rel=1e-3)


def test_a_photo_scale_of_a_textbook():
    """152.4 mm from 1830 m is 1 : 12 008 (Wolf and Dewitt, Elements of Photogrammetry, from memory)."""
    west, _, east, _ = footprint(camera(1830, -90, fov_deg(230, 152.4), fov_deg(230, 152.4)), FAR_M).area.bounds
    assert (east - west) / 0.230 == pytest.approx(12008, rel=1e-4)


def test_a_frame_with_the_horizon_is_cut_at_the_range():
    """30 m up, 10 degrees down, 40 degrees high: near 51.962 m, far the range and nothing beyond."""
    found = footprint(camera(30, -10, 60, 40), FAR_M)
    assert found.includes_horizon
    assert found.area.bounds[1::2] == pytest.approx((51.962, FAR_M), abs=1e-3)
    assert shapely.hausdorff_distance(shapely.Point(0, 0), found.area) <= FAR_M + 1e-6


def test_a_horizon_on_the_very_edge_counts():
    """Pitch of half the field of view: the upper edge is level."""
    found = footprint(camera(30, -20, 60, 40), FAR_M)
    assert found.area.bounds[3] == pytest.approx(FAR_M)


def test_a_low_camera_is_cut_at_its_horizon():
    """0.1 m above the water sees 1.1 km and no farther, whatever the range."""
    found = footprint(camera(0.1, 0, 60, 40), 5000)
    assert found.range_m == pytest.approx(horizon_m(0.1))
    assert found.area.bounds[3] == pytest.approx(1128.8, abs=1)


def test_a_frame_full_of_sky_covers_no_water():
    """Thirty degrees up, forty high."""
    found = footprint(camera(30, 30, 60, 40), FAR_M)
    assert (found.area.is_empty, found.includes_horizon, found.centre_gsd_cm) == (True, True, None)


def test_a_frame_beyond_the_range_covers_nothing_within_it():
    """A long lens that meets the water only past the range."""
    found = footprint(camera(100, -1.2, 2, 1), 1000)
    assert (found.area.is_empty, found.includes_horizon, found.centre_gsd_cm) == (True, False, None)


def test_upside_down_covers_the_same_water():
    """A camera hung by its feet: the frame is turned by half, the water is not."""
    upright = footprint(camera(120, -45, 70, 50), FAR_M).area
    hung = footprint(camera(120, -45, 70, 50, roll_deg=180), FAR_M).area
    assert upright.symmetric_difference(hung).area < 1e-6


@pytest.mark.parametrize("pitch_deg", [-90, -60, -45])
@pytest.mark.parametrize("roll_deg", [-120, -17, 0, 9, 90])
def test_a_rolled_frame_is_that_of_an_independent_ray_cast(pitch_deg, roll_deg):
    """The border's rays, one by one, with another library's rotations, enclose the same water."""
    held = camera(80, pitch_deg, 62, 44, heading_deg=200, roll_deg=roll_deg, at=(500, -300))
    cast, found = ray_cast(held), footprint(held, 1e5).area
    assert cast.symmetric_difference(found).area < 1e-6 * cast.area


@settings(max_examples=60)
@given(
    st.floats(0.5, 400),
    st.floats(-120, 60),
    st.floats(-180, 180),
    st.floats(5, 120),
    st.floats(5, 100),
    st.floats(0, 360),
)
def test_footprints_are_sound_and_turn_with_the_world(height_m, pitch_deg, roll_deg, hfov_deg, vfov_deg, turn_deg):
    """Never beyond the range, never infinite, and turning the camera turns the water it covers."""
    still = footprint(camera(height_m, pitch_deg, hfov_deg, vfov_deg, 0.0, roll_deg), FAR_M)
    turned = footprint(camera(height_m, pitch_deg, hfov_deg, vfov_deg, turn_deg, roll_deg), FAR_M)
    assert np.isfinite(shapely.get_coordinates(still.area)).all()
    assert still.area.is_valid
    assert 0 <= still.area.area <= math.pi * FAR_M**2
    assert still.includes_horizon == turned.includes_horizon
    back = shapely.affinity.rotate(turned.area, turn_deg, origin=(0, 0))
    # The circle of the cut is a polygon with corners every 3 degrees, which do not turn along.
    cut = shapely.hausdorff_distance(shapely.Point(0, 0), still.area) > 0.99 * still.range_m
    spare = 2 * math.pi * FAR_M**2 * (1 - math.cos(math.radians(1.5))) if cut else 1e-3
    assert still.area.symmetric_difference(back).area <= spare


@pytest.mark.parametrize(("height_m", "horizon"), [(2, 5048), (10, 11288), (30, 19552), (120, 39103)])
def test_the_horizon_of_a_round_earth(height_m, horizon):
    """sqrt(2Rh + h²) with R = 6371008.8 m."""
    assert horizon_m(height_m) == pytest.approx(horizon, abs=1)


@pytest.mark.parametrize(
    ("height_ft", "miles"), [(65, 9.4), (35, 6.9), (16, 4.7), (125, 13.1), (170, 15.25), (8, 3.31)]
)
def test_seamens_horizons_are_a_tenth_longer(height_ft, miles):
    """The USCG Light List's 1.17 sqrt(feet) sea miles hold refraction, about 10 %; the cut does not."""
    assert miles * 1852 / horizon_m(height_ft * FOOT_M) == pytest.approx(1.10, abs=0.015)


def test_straight_down_is_sure_of_a_circle():
    """100 m up and 60 degrees high: 57.7 m about the foot; five degrees of lean leave tan 25."""
    held = camera(100, -90, 90, 60, at=(7, 8))
    assert sure_radius_m(held) == pytest.approx(100 * math.tan(math.radians(30)))
    assert sure_radius_m(camera(100, -85, 90, 60)) == pytest.approx(100 * math.tan(math.radians(25)))
    assert sure_radius_m(camera(100, -45, 90, 60)) == 0
    circle = nadir_circle(held, FAR_M)
    assert circle.centroid.coords[0] == pytest.approx((7, 8))
    for heading_deg in range(0, 360, 15):
        turned = footprint(camera(100, -90, 90, 60, heading_deg=heading_deg, at=(7, 8)), FAR_M).area
        assert turned.buffer(1e-6).contains(circle)


@pytest.mark.parametrize(
    ("height_m", "hfov_deg", "told"), [(0, 60, "height above water 0 m"), (-2, 60, "-2 m"), (30, 180, "180 by 40")]
)
def test_what_cannot_be_is_refused(height_m, hfov_deg, told):
    """Not above the water, or wider than a pinhole can be."""
    with pytest.raises(ValueError, match=told):
        footprint(camera(height_m, -30, hfov_deg, 40), FAR_M)
