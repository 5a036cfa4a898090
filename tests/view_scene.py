"""Photos with a chosen pose over the tiny lakes of `lakes`, for the tests of views."""

from __future__ import annotations

from lakes import projection
from shapely import MultiPolygon

from atlasgen.model import LonLat, Measured, Photo, PhotoFile, PointM
from atlasgen.place.shore import build_rings, cut_reaches
from atlasgen.place.shore_index import ShoreIndex, shore_index

SHARP = 1e-6


def index_of(water: MultiPolygon, ground_height=None, reach_length_m: float = 100) -> ShoreIndex:
    """Return the index of a lake whose map's north is true."""
    rings = build_rings(water, None)
    reaches = cut_reaches(rings, reach_length_m, projection(), lambda _: "", lambda _: "")
    return shore_index(water, rings, reaches, ground_height=ground_height)


def photo_at(
    x_m: float,
    y_m: float,
    *,
    height_m: float | None = 2.0,
    heading_deg: float | None = 0.0,
    pitch_deg: float | None = 0.0,
    roll_deg: float | None = 0.0,
    hfov_deg: float = 90.0,
    vfov_deg: float = 60.0,
    position_sigma_m: float | None = SHARP,
    heading_sigma_deg: float | None = SHARP,
    id: str = "p-1",
    orientation: int = 1,
) -> Photo:
    """Return a photo of 4000 by 3000 pixels that is as sharp in its pose as is asked."""
    source = PhotoFile(f"{id}.jpg", "0" * 64, 1, "JPEG", 4000, 3000, orientation)

    def known(value: float | None, sigma: float | None = SHARP) -> Measured | None:
        return None if value is None else Measured(value, "test", sigma)

    return Photo(
        id=id,
        source=source,
        lonlat=LonLat(-30.0, 45.0),
        point=PointM(x_m, y_m),
        position_from="exif",
        position_how="",
        position_sigma_m=position_sigma_m,
        taken=None,
        taken_how="",
        height_above_water_m=known(height_m),
        heading_deg_true=known(heading_deg, heading_sigma_deg),
        pitch_deg=known(pitch_deg),
        roll_deg=known(roll_deg),
        hfov_deg=Measured(hfov_deg, "test"),
        vfov_deg=Measured(vfov_deg, "test"),
        kind="shore",
        reach="",
        distance_to_shore_m=0.0,
        nearest_chainage_m=0.0,
        tile="",
        over_water=True,
    )
