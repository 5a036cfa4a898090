"""Layers of survey.toml: images and scanned charts, with the control points and waterlines that go with them.

Control points are a table, one line a point:

    col_px, row_px   in the scan, to the right and down from its top left corner
    lon, lat         on the ground, degrees (WGS 84)
    name             as the crew calls it, optional
"""

from __future__ import annotations

import warnings
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model import Problem
from atlasgen.model.history import ControlPoints, LayerFile, LayerRule
from atlasgen.model.wording import say
from atlasgen.read.columns import find_columns
from atlasgen.read.layers import read_layers
from atlasgen.read.rasters import first_that_opens
from atlasgen.read.table import read_table

if TYPE_CHECKING:
    from shapely import MultiLineString, Polygon

_ROLES = {
    "col": ("col_px", "pixel_x", "col", "column", "px"),
    "row": ("row_px", "pixel_y", "row", "line", "py"),
    "lon": ("lon", "longitude", "lng"),
    "lat": ("lat", "latitude"),
    "name": ("name", "point", "id", "label"),
}
_NEEDED = ("col", "row", "lon", "lat")
# Pictures that hold their own pixels; formats that point to other files or servers are left out.
IMAGE_DRIVERS = (
    "GTiff", "PNG", "JPEG", "WEBP", "BMP", "GIF", "JP2OpenJPEG", "HFA", "ENVI", "EHdr", "AAIGrid", "PCIDSK", "netCDF",
)  # fmt: skip
# An outline is projected point by point along its edges, because straight edges of one projection bend in another.
_EDGE_POINTS = 21


def read_history(folder: Path, rules: Sequence[LayerRule]) -> tuple[tuple[LayerFile, ...], list[Problem]]:
    """Read the layers; one that cannot be used becomes a problem, and the others go on."""
    layers, problems = [], []
    for rule in rules:
        try:
            layer, said = _read_layer(folder, rule)
            layers.append(layer)
            problems += said
        except InputFault as fault:
            problems.append(Problem(fault.file, "unusable", f"{fault} {say('input-layer-not-used')}", "fault"))
    return tuple(layers), problems


def files_of(rules: Sequence[LayerRule]) -> list[str]:
    """Every file that the layers name, in order, once."""
    named = [name for rule in rules for name in (rule.file, rule.control, rule.waterline) if name]
    return list(dict.fromkeys(named))


def _read_layer(folder: Path, rule: LayerRule) -> tuple[LayerFile, list[Problem]]:
    width, height, outline = _image(folder / rule.file, rule.file)
    layer = LayerFile(rule, width, height, outline)
    problems: list[Problem] = []
    if rule.control:
        control, said = _control(folder / rule.control, rule.control, width, height)
        layer, problems = replace(layer, control=control), problems + said
    if layer.outline is None and layer.control is None:
        raise InputFault(
            rule.file,
            say("input-does-not-say-where"),
            say("input-georeferenced-or-points"),
            say("input-give-points"),
        )
    if rule.waterline:
        waterline, said = _waterline(folder / rule.waterline, rule.waterline)
        layer, problems = replace(layer, waterline=waterline), problems + said
    return layer, problems


def _image(path: Path, name: str) -> tuple[int, int, Polygon | None]:
    """Return width and height in pixels and, where the image is georeferenced, its outline on WGS 84."""
    from rasterio.errors import NotGeoreferencedWarning, RasterioError

    if not path.is_file():
        raise InputFault(name, say("input-not-there"), say("input-images"), say("input-check-layer"))
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", NotGeoreferencedWarning)
            with first_that_opens(path, IMAGE_DRIVERS) as image:
                width, height, crs, transform = image.width, image.height, image.crs, image.transform
    except RasterioError as error:
        text = str(error).replace(str(path), name).rstrip(".")
        raise InputFault(name, text, say("input-images"), say("input-export-it")) from None
    return width, height, _outline(width, height, crs.to_wkt(), transform, name) if crs else None


def _outline(width: int, height: int, crs: str, transform, name: str) -> Polygon:
    from pyproj import Transformer
    from shapely import Polygon

    steps = np.linspace(0, 1, _EDGE_POINTS)[:-1]
    ones, zeros = np.ones_like(steps), np.zeros_like(steps)
    col = np.concatenate([steps, ones, 1 - steps, zeros]) * width
    row = np.concatenate([zeros, steps, ones, 1 - steps]) * height
    x, y = transform * (col, row)
    lonlat = np.column_stack(Transformer.from_crs(crs, "EPSG:4326", always_xy=True).transform(x, y))
    if not np.isfinite(lonlat).all() or np.abs(lonlat[:, 1]).max() > 90:
        raise InputFault(name, say("input-outside-own-crs"), say("input-image-inside"), say("input-export-it"))
    return Polygon(lonlat)


def _control(path: Path, name: str, width: int, height: int) -> tuple[ControlPoints, list[Problem]]:
    if not path.is_file():
        raise InputFault(name, say("input-not-there"), say("input-points-table"), say("input-check-control"))
    table = read_table(path, name)
    found, problems = find_columns(table, _ROLES)
    missing = [role for role in _NEEDED if role not in found]
    if missing:
        raise InputFault(name, table.heading_words, say("input-point-columns"), say("input-name-them"))
    col, row, lon, lat = (table.numbers(found[role]) for role in _NEEDED)
    names = table.texts(found["name"]) if "name" in found else [str(i + 1) for i in range(table.rows)]
    inside = (col >= 0) & (col <= width) & (row >= 0) & (row <= height) & (np.abs(lon) <= 180) & (np.abs(lat) <= 90)
    bad = [f"{names[i]!s} (line {table.line_numbers[i]})" for i in np.flatnonzero(~inside)]
    if bad:
        words = say("input-points-not-used", file=name, points=", ".join(bad), width=width, height=height)
        problems.append(Problem(name, "bad_row", words))
    kept = np.flatnonzero(inside)
    points = ControlPoints(tuple(str(names[i]) for i in kept), col[kept], row[kept], lon[kept], lat[kept])
    return points, [*problems, *table.problems()]


def _waterline(path: Path, name: str) -> tuple[MultiLineString, list[Problem]]:
    import shapely

    layers, problems = read_layers(path, name)
    shapes = np.concatenate([layer.geometries for layer in layers])
    edges = np.where(shapely.get_dimensions(shapes) == 2, shapely.boundary(shapes), shapes)
    parts = shapely.get_parts(edges)
    lines = [part for part in parts if shapely.get_dimensions(part) == 1]
    lines = [line for part in lines for line in shapely.get_parts(part)]
    if not lines:
        raise InputFault(name, say("input-no-lines"), say("input-waterline"), say("input-draw-it"))
    return shapely.MultiLineString(lines), problems
