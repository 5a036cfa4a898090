"""From degrees to the lake's own metres and back; the only module where the two coordinate types meet."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, TypeVar

import numpy as np
import shapely
from pyproj import Geod, Transformer

from atlasgen.errors import InputFault
from atlasgen.model import LonLat, PointM

if TYPE_CHECKING:
    from shapely import MultiPolygon
    from shapely.geometry.base import BaseGeometry

G = TypeVar("G", bound="BaseGeometry")

_WGS84 = Geod(ellps="WGS84")
# Step for carrying a grid direction onto the ellipsoid: long against rounding (1e-9 m), short against curvature.
_STEP_M = 10.0


@lru_cache(maxsize=32)
def _forward(crs_text: str) -> Transformer:
    return Transformer.from_crs("EPSG:4326", crs_text, always_xy=True)


@lru_cache(maxsize=32)
def _backward(crs_text: str) -> Transformer:
    return Transformer.from_crs(crs_text, "EPSG:4326", always_xy=True)


@dataclass(frozen=True, slots=True)
class Projection:
    """A metric projection centred on one lake: azimuthal equidistant on WGS 84.

    Chosen by distortion. Over a lake of 50 by 50 km its worst scale error is 5.2 ppm, at the corners, whatever the
    latitude; transverse Mercator has 7.7 ppm on the same lake (from PROJ's Tissot factors, which the tests measure
    again). Transverse Mercator is better only on a long lake that runs north and south (0.3 against 2.7 ppm for
    10 by 50 km), and 2.7 ppm is 3 mm in a kilometre: not worth a choice that could flip between two editions.
    The distance from the centre is the geodesic itself. The centre is rounded to 4 decimals (about 10 m), so that a
    redrawn shore leaves the coordinates as they were.
    """

    crs_text: str

    @classmethod
    def for_lake(cls, water_lonlat: MultiPolygon) -> Projection:
        """Centre a projection on the middle of the water's bounds.

        Raises
        ------
        InputFault
            The water is empty, outside ±180 and ±90 degrees, or crosses the 180th meridian.
        """
        west, south, east, north = water_lonlat.bounds
        if not (-180 <= west <= east <= 180 and -90 <= south <= north <= 90):
            found = f"bounds {west:g}, {south:g}, {east:g}, {north:g}"
            raise InputFault("shoreline", found, "longitudes -180 to 180 and latitudes -90 to 90", "Is its CRS right?")
        if east - west > 180:
            raise InputFault("shoreline", f"{east - west:.1f}° wide", "a lake that does not cross the 180th meridian")
        lon, lat = round((west + east) / 2, 4), round((south + north) / 2, 4)
        # Adding 0.0 turns -0.0 into 0.0, which would print another text for the same place.
        return cls(f"+proj=aeqd +lat_0={lat + 0.0} +lon_0={lon + 0.0} +datum=WGS84 +units=m +no_defs")

    def points(self, lon_deg: np.ndarray, lat_deg: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Arrays of degrees to arrays (x east, y north) in metres."""
        x, y = _forward(self.crs_text).transform(np.asarray(lon_deg, float), np.asarray(lat_deg, float))
        return x, y

    def lonlats(self, x_m: np.ndarray, y_m: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Arrays of metres to arrays (lon, lat) in degrees."""
        lon, lat = _backward(self.crs_text).transform(np.asarray(x_m, float), np.asarray(y_m, float))
        return lon, lat

    def point(self, at: LonLat) -> PointM:
        """One place to metres."""
        x, y = self.points(np.array([at.lon_deg]), np.array([at.lat_deg]))
        return PointM(float(x[0]), float(y[0]))

    def lonlat(self, at: PointM) -> LonLat:
        """One place to degrees."""
        lon, lat = self.lonlats(np.array([at.x_m]), np.array([at.y_m]))
        return LonLat(float(lon[0]), float(lat[0]))

    def to_metric(self, geom: G) -> G:
        """Project a geometry in degrees, vertex by vertex."""
        return shapely.transform(geom, lambda c: np.column_stack(self.points(c[:, 0], c[:, 1])))

    def to_lonlat(self, geom: G) -> G:
        """Take a metric geometry back to degrees, vertex by vertex."""
        return shapely.transform(geom, lambda c: np.column_stack(self.lonlats(c[:, 0], c[:, 1])))

    def grid_bearings_to_true(self, bearing_deg: np.ndarray, x_m: np.ndarray, y_m: np.ndarray) -> np.ndarray:
        """Directions measured on the metric map, as true bearings, 0 to 360, at the places (`x_m`, `y_m`).

        Every bearing that leaves the room is true. Away from the centre the map's north and true north differ by
        the meridian convergence, 0.2° at 25 km east and latitude 45°. A short step along the direction is carried
        onto the ellipsoid and its azimuth measured, so that no sign convention can be mistaken.
        """
        angle = np.radians(np.asarray(bearing_deg, float))
        lon, lat = self.lonlats(x_m, y_m)
        lon_on, lat_on = self.lonlats(
            np.asarray(x_m) + _STEP_M * np.sin(angle), np.asarray(y_m) + _STEP_M * np.cos(angle)
        )
        azimuth, _, _ = _WGS84.inv(lon, lat, lon_on, lat_on)
        return np.asarray(azimuth) % 360

    def grid_bearing_to_true(self, bearing_deg: float, at: PointM) -> float:
        """Turn one direction measured on the metric map into a true bearing, 0 to 360."""
        return float(self.grid_bearings_to_true(np.array([bearing_deg]), np.array([at.x_m]), np.array([at.y_m]))[0])


def geodesic_m(a: LonLat, b: LonLat) -> float:
    """Shortest distance on the WGS 84 ellipsoid, metres (Karney 2013, through PROJ)."""
    return float(_WGS84.inv(a.lon_deg, a.lat_deg, b.lon_deg, b.lat_deg)[2])


def bearing_deg(a: LonLat, b: LonLat) -> float:
    """Return the true bearing from `a` to `b` at `a`, 0 to 360, along the geodesic."""
    return float(_WGS84.inv(a.lon_deg, a.lat_deg, b.lon_deg, b.lat_deg)[0]) % 360
