"""Layers beside the survey: an air photo of the lake drawn down, a scanned map from before the dam, a sonar mosaic.

All are invented like all the rest. The air photo lies a little off, as such images do; the map is turned, scaled and
drawn by hand, so its control points fit to a few metres only.
"""

from __future__ import annotations

import json
import math
from pathlib import Path

import contourpy
import numpy as np
import rasterio
from PIL import Image, ImageDraw
from rasterio.transform import from_origin
from shapely import LineString

from demo_photos.make.cover import canopy, cover_colour, ground_colour, trees
from demo_photos.make.frame import SEED, Grid, to_lonlat
from demo_photos.make.sonar import write_mosaic
from demo_photos.make.terrain import DAM_Y_M, TRACK, height_at

# The air photo: how far the lake was down, and how far the image lies east and north of where it should.
LOW_STAGE_M, LOW_OFF_M = -3.6, (1.8, -1.2)
LOW = Grid(-480.0, -320.0, 1.5, 640)
_METRIC = "+proj=tmerc +lat_0=-31.6 +lon_0=-96.4 +k=1 +ellps=WGS84 +units=m"
_WATER = np.array([0.055, 0.10, 0.105])
_SUN = np.array([-0.45, 0.5, 0.74])

# The map of the valley: where it lies, its turn, metres to a pixel, and the places that can be told on both.
MAP = Grid(-1000.0, -1700.0, 10.0, 341)
_MAP_PX, _FRAME_PX, _MAP_MARGIN_PX, _TURN_DEG, _METRES_PER_PX = (1000, 1500), 40, 60, 3.4, 2.4
_PAPER, _INK, _BROWN, _RED = (236, 226, 200), (60, 50, 40), (150, 105, 60), (160, 60, 40)
_CONTROL = (
    ("track bend", -330.0, 330.0), ("track north", 300.0, 480.0), ("island top", 150.0, 330.0),
    ("south hill", -190.0, -470.0), ("east spur", 560.0, -420.0), ("west spur", -620.0, -300.0),
)  # fmt: skip
_CONTROL_SIGMA_M = 5.0


def write_layers(out: Path) -> None:
    """Write the layers, the control points and the waterline into `out`/layers; the passes are in `out` already."""
    folder = out / "layers"
    folder.mkdir(parents=True, exist_ok=True)
    _write_low_water(folder / "low_water.tif")
    (folder / "low_water_line.geojson").write_text(waterline_geojson(), encoding="utf-8")
    valley_map().save(folder / "valley_map.png", optimize=True)
    (folder / "valley_map_points.csv").write_text(control_csv(), encoding="utf-8")
    write_mosaic(out, folder / "sonar_mosaic.tif")


def low_water() -> np.ndarray:
    """Colours of the air photo, (n, n, 3) uint8, north at the top."""
    x, y = LOW.mesh()
    ground = height_at(x.ravel(), y.ravel()).reshape(x.shape)
    colour = ground_colour(LOW, ground.astype(np.float32))
    cover = canopy(LOW, trees().near(LOW))
    cover_colour(cover, LOW, colour)
    top = np.where(ground > LOW_STAGE_M, ground + cover.top_m, LOW_STAGE_M)
    colour *= _light(top, LOW.cell_m)[..., None]
    under = np.clip((LOW_STAGE_M - ground) / 0.6, 0, 1)[..., None]
    colour = np.where(under > 0, colour * (1 - under) * 0.6 + _WATER * under + 0.02, colour)
    return (255 * np.clip(1.35 * colour, 0, 1) ** (1 / 2.2)).astype(np.uint8)[::-1]


def _light(top: np.ndarray, cell_m: float) -> np.ndarray:
    gy, gx = np.gradient(top, cell_m)
    up = 1 / np.sqrt(1 + gx**2 + gy**2)
    return np.clip((-gx * _SUN[0] - gy * _SUN[1] + _SUN[2]) * up / _SUN[2], 0.35, 1.5)


def _write_low_water(path: Path) -> None:
    west = LOW.x0_m - LOW.cell_m / 2 + LOW_OFF_M[0]
    north = LOW.y0_m + (LOW.n - 0.5) * LOW.cell_m + LOW_OFF_M[1]
    profile = {"driver": "GTiff", "width": LOW.n, "height": LOW.n, "count": 3, "dtype": "uint8", "crs": _METRIC}
    packed = {"compress": "jpeg", "photometric": "ycbcr", "jpeg_quality": 75, "tiled": True}
    with rasterio.open(
        path, "w", transform=from_origin(west, north, LOW.cell_m, LOW.cell_m), **profile, **packed
    ) as to:
        to.write(np.moveaxis(low_water(), 2, 0))


def waterline_geojson() -> str:
    """Draw the water's edge as a person would on the air photo: off by what that is, and by an unsure hand."""
    rng = np.random.default_rng([SEED, 711])
    x, y = LOW.mesh()
    ground = height_at(x.ravel(), y.ravel()).reshape(x.shape)
    features = []
    for line in contourpy.contour_generator(x=LOW.xs, y=LOW.ys, z=ground).lines(LOW_STAGE_M):
        drawn = np.asarray(LineString(line).simplify(1.5).coords)
        if len(drawn) < 12:
            continue
        drawn = drawn + LOW_OFF_M + rng.normal(0, 0.7, drawn.shape)
        lonlat = [[round(lon, 7), round(lat, 7)] for lon, lat in zip(*to_lonlat(*drawn.T), strict=True)]
        geometry = {"type": "LineString", "coordinates": lonlat}
        features.append({"type": "Feature", "properties": {"name": "water's edge"}, "geometry": geometry})
    return json.dumps({"type": "FeatureCollection", "features": features}) + "\n"


def valley_map() -> Image.Image:
    """Draw the scanned map: height lines of the valley before the dam, the river, the track, on yellowed paper."""
    image = Image.new("RGB", _MAP_PX, _PAPER)
    pen = ImageDraw.Draw(image)
    contours = contourpy.contour_generator(x=MAP.xs, y=MAP.ys, z=_ground_before_the_dam())
    for level in range(-24, 40, 4):
        for line in contours.lines(level):
            _stroke(pen, line, _BROWN, 2 if level % 20 == 0 else 1)
    _stroke(pen, np.array(TRACK, float), _RED, 3)
    for number, (_, east, north) in enumerate(_CONTROL, 1):
        col, row = to_pixel(np.array([[east, north]]))[0]
        pen.ellipse((col - 4, row - 4, col + 4, row + 4), outline=_INK, width=2)
        pen.text((col + 7, row - 6), str(number), fill=_INK)
    inner = (_FRAME_PX, _FRAME_PX, _MAP_PX[0] - _FRAME_PX, _MAP_PX[1] - _FRAME_PX - 30)
    sheet = Image.new("RGB", _MAP_PX, _PAPER)
    sheet.paste(image.crop(inner), inner[:2])
    pen = ImageDraw.Draw(sheet)
    pen.rectangle(inner, outline=_INK, width=3)
    pen.text((40, _MAP_PX[1] - 55), "Ambrellow valley before the dam (invented). Heights every 4 m.", fill=_INK)
    return sheet.quantize(16, dither=Image.Dither.NONE)


def _ground_before_the_dam() -> np.ndarray:
    """Heights on `MAP`; under the dam they run straight from its upper to its lower foot."""
    x, y = MAP.mesh()
    ground = height_at(x.ravel(), y.ravel()).reshape(x.shape)
    kept = np.flatnonzero(np.abs(MAP.ys - DAM_Y_M) > 80)
    return np.column_stack([np.interp(MAP.ys, MAP.ys[kept], column[kept]) for column in ground.T])


def _stroke(pen: ImageDraw.ImageDraw, line: np.ndarray, colour: tuple[int, int, int], width: int) -> None:
    pen.line([tuple(point) for point in to_pixel(line)], fill=colour, width=width)


def to_pixel(xy_m: np.ndarray) -> np.ndarray:
    """Column and row on the map of places in the metric frame."""
    turn = math.radians(_TURN_DEG)
    east, north = (xy_m - (MAP.x0_m, MAP.y0_m)).T / _METRES_PER_PX
    right = east * math.cos(turn) - north * math.sin(turn) + _MAP_MARGIN_PX + 90
    up = east * math.sin(turn) + north * math.cos(turn) + _MAP_MARGIN_PX
    return np.column_stack([right, _MAP_PX[1] - up])


def control_csv() -> str:
    """Places found on the map and on the ground; the old surveyor's own error is in the first."""
    rng = np.random.default_rng([SEED, 713])
    lines = ["name,col_px,row_px,lon,lat"]
    for name, east, north in _CONTROL:
        col, row = to_pixel(np.array([[east, north]]) + rng.normal(0, _CONTROL_SIGMA_M, (1, 2)))[0]
        lon, lat = to_lonlat(east, north)
        lines.append(f"{name},{col:.0f},{row:.0f},{lon:.7f},{lat:.7f}")
    return "\n".join(lines) + "\n"
