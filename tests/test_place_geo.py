"""Reference values: geographiclib's test set (Karney 2013), GDA Technical Manual, IOGP Guidance Note 7-2, PROJ."""

from __future__ import annotations

import math

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st
from lakes import CENTRE_LAT_DEG, CENTRE_LON_DEG, in_degrees, island_lake, projection, square_lake
from pyproj import Geod, Proj, Transformer
from shapely import LineString, MultiPolygon, Point, box

from atlasgen.errors import InputFault
from atlasgen.model import LonLat, PointM
from atlasgen.place.geo import Projection, bearing_deg, geodesic_m


def _dms(degrees: float, minutes: float, seconds: float) -> float:
    return degrees + minutes / 60 + seconds / 3600


# GeographicLib, example of Geodesic; geographiclib test_geodesic.py rows 1, 2 and GeodSolve0.
GEODESICS = [
    ((40.6, -73.8), (51.6, -0.5), 5551759.400, 51.198883, 1e-3, 1e-6),
    ((35.60777, -139.44815), (-11.17491, -69.95921), 8935244.5604818305, 111.098748429560326, 1e-6, 1e-9),
    ((55.52454, 106.05087), (77.03196, 197.18234), 4105086.1713924406, 22.020059880982801, 1e-6, 1e-9),
    ((40.6, -73.8), (49.01666667, 2.55), 5853226, 53.47022, 0.5, 5e-6),
]


@pytest.mark.parametrize(("a", "b", "distance_m", "azimuth_deg", "within_m", "within_deg"), GEODESICS)
def test_geodesics_of_the_reference_set(a, b, distance_m, azimuth_deg, within_m, within_deg) -> None:
    """Distance and bearing are the published ones (latitude first in the sources)."""
    start, end = LonLat(a[1], a[0]), LonLat(b[1], b[0])
    assert geodesic_m(start, end) == pytest.approx(distance_m, abs=within_m)
    assert bearing_deg(start, end) == pytest.approx(azimuth_deg, abs=within_deg)


def test_flinders_peak_to_buninyong() -> None:
    """GDA Technical Manual (ICSM), on GRS80; the same library calls on that ellipsoid."""
    lat1, lon1 = -_dms(37, 57, 3.72030), _dms(144, 25, 29.52440)
    lat2, lon2 = -_dms(37, 39, 10.15610), _dms(143, 55, 35.38390)
    azimuth, back, distance_m = Geod(ellps="GRS80").inv(lon1, lat1, lon2, lat2)
    assert distance_m == pytest.approx(54972.271, abs=1e-3)
    assert azimuth % 360 == pytest.approx(_dms(306, 52, 5.37), abs=0.01 / 3600)
    assert back % 360 == pytest.approx(_dms(127, 10, 25.07), abs=0.01 / 3600)
    # WGS 84 and GRS80 differ in flattening by 1e-10: the project's own call gives the same.
    assert geodesic_m(LonLat(lon1, lat1), LonLat(lon2, lat2)) == pytest.approx(54972.271, abs=2e-3)


def test_nearly_east_west_line() -> None:
    """GeodePy's extra case, on GRS80."""
    lat, lon1, lon2 = -29.85, 140 + 43 / 60, 140 + 46 / 60
    azimuth, back, distance_m = Geod(ellps="GRS80").inv(lon1, lat, lon2, lat)
    assert distance_m == pytest.approx(4831.553, abs=1e-3)
    assert azimuth % 360 == pytest.approx(_dms(90, 0, 44.80), abs=0.01 / 3600)
    assert back % 360 == pytest.approx(_dms(269, 59, 15.20), abs=0.01 / 3600)


def test_area_and_perimeter_by_the_same_library() -> None:
    """Geographiclib's Planimeter0, and a square degree at the equator, computed with geographiclib."""
    geod = Geod(ellps="WGS84")
    area_m2, around_m = geod.polygon_area_perimeter([0, 90, 180, 270], [89, 89, 89, 89])
    assert around_m == pytest.approx(631819.8745, abs=1e-4)
    assert area_m2 == pytest.approx(24952305678, abs=1)
    area_m2, around_m = geod.polygon_area_perimeter([0, 1, 1, 0], [0, 0, 1, 1])
    assert around_m == pytest.approx(443770.917, abs=1e-3)
    assert area_m2 == pytest.approx(12308778361.47, abs=0.1)


A, B = LonLat(-90, 45), LonLat(-89.99, 45)


def _from_segment(at: LonLat) -> tuple[float, float]:
    """Distance to, and distance along, the straight shore A-B in the lake's projection."""
    plane = Projection.for_lake(MultiPolygon([box(-90, 44.995, -89.99, 45.005)]))
    shore, place = LineString([plane.point(A), plane.point(B)]), Point(plane.point(at))
    return shore.distance(place), shore.project(place)


def test_distance_to_a_shore() -> None:
    """Equals geographiclib's line search, and is not the Web Mercator distance, 314.865 m."""
    distance_m, along_m = _from_segment(LonLat(-89.995, 45.002))
    assert distance_m == pytest.approx(222.2514, abs=2e-3)
    assert along_m == pytest.approx(394.234, abs=2e-3)
    assert geodesic_m(A, B) == pytest.approx(788.468, abs=2e-3)
    web = Transformer.from_crs("EPSG:4326", "EPSG:3857", always_xy=True)
    naive = LineString([web.transform(*A), web.transform(*B)]).distance(Point(web.transform(-89.995, 45.002)))
    assert naive == pytest.approx(314.865, abs=1e-3)


def test_distance_beyond_the_end_of_a_shore() -> None:
    """The end is nearest."""
    beyond = LonLat(-89.985, 45.001)
    assert _from_segment(beyond)[0] == pytest.approx(409.595, abs=2e-3)
    assert bearing_deg(beyond, B) == pytest.approx(-105.741 % 360, abs=1e-3)


def test_distances_are_on_the_ellipsoid() -> None:
    """One degree of longitude at 45° is 78846.335 m on WGS 84; a sphere is 0.28 % off."""
    plane = Projection.for_lake(MultiPolygon([box(0, 44.9, 1, 45.1)]))
    # Along the parallel, which a straight line between the ends would cut short.
    lon = np.linspace(0, 1, 1001)
    x, y = plane.points(lon, np.full(1001, 45.0))
    along_m = np.hypot(np.diff(x), np.diff(y)).sum()
    assert along_m == pytest.approx(78846.335, rel=1e-5)
    assert abs(along_m - 78626.296) > 200


# IOGP Guidance Note 7-2, GeographicLib GeoConvert, GeodePy.
PROJECTED = [
    ("EPSG:4277", "EPSG:27700", 0.5, 50.5, 577274.99, 69740.50, 0.02),
    ("EPSG:4326", "EPSG:3857", -_dms(100, 20, 0), _dms(24, 22, 54.433), -11169055.58, 2800000.00, 0.01),
    ("EPSG:4326", "EPSG:32638", 44.4, 33.3, 444140.54, 3684706.36, 0.01),
    ("EPSG:4283", "EPSG:28355", _dms(144, 25, 29.5244), -_dms(37, 57, 3.7203), 273741.2966, 5796489.777, 1e-3),
    ("EPSG:4283", "EPSG:28355", _dms(143, 55, 35.3839), -_dms(37, 39, 10.1561), 228854.0513, 5828259.038, 1e-3),
    ("EPSG:4258", "EPSG:3035", 5, 50, 3962799.45, 2999718.85, 0.01),
]


@pytest.mark.parametrize(("source", "target", "lon_deg", "lat_deg", "x_m", "y_m", "within_m"), PROJECTED)
def test_the_projection_library(source, target, lon_deg, lat_deg, x_m, y_m, within_m) -> None:
    """Same library, same call (`always_xy`), published values: axes and units are as atlasgen takes them."""
    found = Transformer.from_crs(source, target, always_xy=True).transform(lon_deg, lat_deg)
    assert found == pytest.approx((x_m, y_m), abs=within_m)


def test_scale_and_convergence_of_a_reference_point() -> None:
    """Flinders Peak in MGA94 zone 55: point scale 1.00023056, convergence 1°35'03.65" (its sign is a choice)."""
    factors = Proj("EPSG:28355").get_factors(_dms(144, 25, 29.5244), -_dms(37, 57, 3.7203))
    assert factors.meridional_scale == pytest.approx(1.00023056, abs=1e-8)
    assert abs(factors.meridian_convergence) == pytest.approx(_dms(1, 35, 3.65), abs=0.01 / 3600)


def test_web_mercator_back_and_the_ellipsoidal_trap() -> None:
    """IOGP Guidance Note 7-2; EPSG:3395 gives another northing for the same place."""
    back = Transformer.from_crs("EPSG:3857", "EPSG:4326", always_xy=True).transform(-11169055.58, 2810000.00)
    assert back == pytest.approx((-_dms(100, 20, 0), _dms(24, 27, 48.889)), abs=0.001 / 3600)
    other = Transformer.from_crs("EPSG:4326", "EPSG:3395", always_xy=True)
    assert other.transform(-_dms(100, 20, 0), _dms(24, 22, 54.433))[1] == pytest.approx(2782367.06, abs=0.01)


def _worst_ppm(crs_text: str, half_m: tuple[float, float]) -> float:
    proj = Proj(crs_text)
    x, y = np.meshgrid(np.linspace(-half_m[0], half_m[0], 11), np.linspace(-half_m[1], half_m[1], 11))
    factors = proj.get_factors(*proj(x.ravel(), y.ravel(), inverse=True))
    return 1e6 * max(np.abs(factors.tissot_semimajor - 1).max(), np.abs(factors.tissot_semiminor - 1).max())


@pytest.mark.parametrize("lat_deg", [0, 45, 70])
def test_distortion_over_a_50_km_lake(lat_deg) -> None:
    """The figures that the choice of projection rests on, from PROJ's Tissot factors."""
    equidistant = f"+proj=aeqd +lat_0={lat_deg} +lon_0=-30 +datum=WGS84"
    mercator = f"+proj=tmerc +lat_0={lat_deg} +lon_0=-30 +datum=WGS84"
    assert _worst_ppm(equidistant, (25_000, 25_000)) == pytest.approx(5.2, abs=0.2)
    assert _worst_ppm(mercator, (25_000, 25_000)) == pytest.approx(7.7, abs=0.1)
    assert _worst_ppm(equidistant, (5_000, 25_000)) == pytest.approx(2.7, abs=0.1)
    assert _worst_ppm(mercator, (5_000, 25_000)) == pytest.approx(0.3, abs=0.05)


def test_the_projection_is_centred_on_the_lake() -> None:
    """The text says what and where, to 4 decimals."""
    found = Projection.for_lake(MultiPolygon([box(-30.123456, 44.0, -30.0, 45.00001)]))
    assert found.crs_text == "+proj=aeqd +lat_0=44.5 +lon_0=-30.0617 +datum=WGS84 +units=m +no_defs"


def test_a_redrawn_shore_keeps_the_projection() -> None:
    """A metre more of shore is the same projection."""
    first = Projection.for_lake(MultiPolygon([box(-30.1, 44.9, -29.9, 45.1)]))
    second = Projection.for_lake(MultiPolygon([box(-30.1, 44.9, -29.89999, 45.10001)]))
    assert first == second


def test_a_lake_at_zero_has_no_minus_zero() -> None:
    """-0.0 would be another text for the same place."""
    found = Projection.for_lake(MultiPolygon([box(-1.00001, -1.00001, 1, 1)]))
    assert "lat_0=0.0 +lon_0=0.0 " in found.crs_text


@pytest.mark.parametrize(
    ("area", "words"),
    [
        (box(500_000, 4_000_000, 501_000, 4_001_000), "Is its CRS right?"),
        (box(-179.9, 10, 179.9, 11), "180th meridian"),
        (box(0, 0, 0, 0).buffer(0), "bounds nan"),
    ],
)
def test_a_lake_that_cannot_be_is_refused(area, words) -> None:
    """Metres taken for degrees, the 180th meridian, and nothing at all."""
    with pytest.raises(InputFault, match=r".*shoreline") as caught:
        Projection.for_lake(MultiPolygon([area]) if not area.is_empty else MultiPolygon())
    assert words in str(caught.value)


@given(st.floats(-25_000, 25_000), st.floats(-25_000, 25_000))
def test_there_and_back(x_m, y_m) -> None:
    """A point survives the way to degrees and back within a micrometre.

    PROJ takes whatever lies within 1e-10 radians (0.64 mm) of the centre for the centre itself.
    """
    plane = projection()
    back = plane.point(plane.lonlat(PointM(x_m, y_m)))
    at_the_centre = max(abs(x_m), abs(y_m)) < 1e-3
    assert back == pytest.approx((x_m, y_m), abs=1e-3 if at_the_centre else 1e-6)


def test_geometries_there_and_back() -> None:
    """Islands and parts survive."""
    water = island_lake()
    assert projection().to_metric(in_degrees(water)).equals_exact(water, 1e-6)
    assert in_degrees(square_lake()).centroid.coords[0] == pytest.approx((CENTRE_LON_DEG, CENTRE_LAT_DEG), abs=1e-6)


def test_a_point_is_what_its_name_says() -> None:
    """East is x, north is y, and the centre is 0, 0."""
    plane = projection()
    assert plane.point(LonLat(CENTRE_LON_DEG, CENTRE_LAT_DEG)) == pytest.approx((0, 0), abs=1e-9)
    east, north = plane.point(LonLat(CENTRE_LON_DEG + 0.01, CENTRE_LAT_DEG)), plane.point(LonLat(CENTRE_LON_DEG, 45.01))
    assert east.x_m == pytest.approx(788.468, abs=2e-3)
    assert north.x_m == pytest.approx(0, abs=1e-9)
    assert north.y_m > 1111


@given(st.floats(-25_000, 25_000), st.floats(-25_000, 25_000), st.floats(0, 359.9))
def test_bearings_that_leave_the_room_are_true(x_m, y_m, grid_deg) -> None:
    """Geographiclib sees the same direction between the point and one 20 m along the grid direction."""
    plane = projection()
    on = PointM(x_m + 20 * math.sin(math.radians(grid_deg)), y_m + 20 * math.cos(math.radians(grid_deg)))
    (lon, lat), (lon_on, lat_on) = plane.lonlat(PointM(x_m, y_m)), plane.lonlat(on)
    expected = Geodesic.WGS84.Inverse(lat, lon, lat_on, lon_on)["azi1"]
    found = plane.grid_bearing_to_true(grid_deg, PointM(x_m, y_m))
    assert (found - expected + 180) % 360 - 180 == pytest.approx(0, abs=2e-4)


def test_convergence_has_the_right_sign_and_size() -> None:
    """East of the centre, in the north, true bearings are larger than the grid's, by Δλ·sin φ, as on any such map."""
    at = PointM(25_000.0, 0.0)
    by_hand_deg = (projection().lonlat(at).lon_deg - CENTRE_LON_DEG) * math.sin(math.radians(45))
    assert projection().grid_bearing_to_true(90.0, at) == pytest.approx(90 + by_hand_deg, abs=0.01)
    assert projection().grid_bearing_to_true(0.0, PointM(0.0, 0.0)) % 360 == pytest.approx(0, abs=1e-6)
