"""Vector files -> geometries on WGS 84 (longitude first) with their fields, through GDAL.

Any format and any coordinate system that GDAL and PROJ know. A file without a coordinate system is taken for
WGS 84 where its numbers can be degrees, and that is said; otherwise it is refused.
"""

from __future__ import annotations

import warnings
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model import Problem
from atlasgen.model.wording import say

if TYPE_CHECKING:
    from pyproj import CRS

WGS84 = "EPSG:4326"
_SIDECARS = frozenset(
    {".shx", ".dbf", ".prj", ".cpg", ".sbn", ".sbx", ".qix", ".qpj", ".qmd", ".xml", ".wal", ".shm", ".gfs"}
    | {".gpkg-wal", ".gpkg-shm", ".gpkg-journal"}
)


class Layer(NamedTuple):
    """One layer: geometries (2-D, not empty, WGS 84), and fields by lower-case name, one value for each geometry."""

    name: str
    geometries: np.ndarray
    fields: Mapping[str, np.ndarray]


def without_sidecars(paths: Iterable[Path]) -> list[Path]:
    """Leave out the files that only accompany another, such as a Shapefile's .dbf and .prj."""
    return [path for path in paths if path.suffix.lower() not in _SIDECARS]


def read_layers(path: Path, name: str) -> tuple[list[Layer], list[Problem]]:
    """Read every layer that holds a geometry.

    Raises
    ------
    InputFault
        Not there, in no format GDAL knows, without any geometry, or with coordinates that cannot be what they say.
    """
    problems: list[Problem] = []
    layers = []
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        for layer_name in _layer_names(path, name):
            layer, crs, lost = _read_layer(path, name, layer_name)
            if lost:
                problems.append(_note(name, say("input-features-without-shape", count=lost)))
            if len(layer.geometries):
                placed, said = _to_wgs84(layer.geometries, crs, name)
                layers.append(layer._replace(geometries=placed))
                problems += said
    problems += [_note(name, text) for text in sorted({_said(str(item.message)) for item in caught})]
    if not layers:
        raise InputFault(name, say("input-no-shapes"), say("input-shapes-in-it"), say("input-export-layer"))
    return layers, problems


def _note(name: str, text: str) -> Problem:
    return Problem(name, "geometry", f"{name}: {text}")


def _said(warning: str) -> str:
    """Put GDAL's usual warning into our words."""
    if warning.startswith("Non closed ring"):
        return say("input-ring-closed")
    return say("input-gdal-says", warning=warning)


def _layer_names(path: Path, name: str) -> list[str]:
    import pyogrio

    if not path.exists():
        raise InputFault(name, say("input-not-there"), say("input-vector-formats"), say("input-check-files"))
    if path.is_file() and not path.stat().st_size:
        raise InputFault(name, say("input-is-empty"), say("input-vector-formats"), say("input-export-layer"))
    try:
        return [str(layer) for layer, _ in pyogrio.list_layers(path)]
    except (RuntimeError, OSError, ValueError) as error:
        raise _unreadable(path, name, error) from None


def _unreadable(path: Path, name: str, error: Exception) -> InputFault:
    # GDAL names the file by the machine's own path; a reader knows it by the survey's.
    text = str(error).replace(str(path), path.name).split("; It might help")[0].rstrip(".")
    step = say("input-copy-shapefile") if path.suffix.lower() == ".shp" else say("input-export-layer")
    return InputFault(name, text or type(error).__name__, say("input-vector-formats"), step)


def _read_layer(path: Path, name: str, layer: str) -> tuple[Layer, str | None, int]:
    """Return the layer as stored, its CRS, and how many features have no shape."""
    import pyogrio
    import shapely

    try:
        meta, _, wkb, values = pyogrio.raw.read(path, layer=layer, force_2d=True, datetime_as_string=True)
        # A ring that was left open is closed; whether the shape is sound is looked at later.
        shapes = shapely.from_wkb(wkb if wkb is not None else [], on_invalid="fix")
    except (RuntimeError, OSError, ValueError, shapely.errors.ShapelyError) as error:
        raise _unreadable(path, name, error) from None
    there = ~(shapely.is_missing(shapes) | shapely.is_empty(shapes))
    fields = (
        {str(key).lower(): value[there] for key, value in zip(meta["fields"], values, strict=True)}
        if len(shapes)
        else {}
    )
    return Layer(layer, shapes[there], fields), meta["crs"], int((~there).sum())


def _to_wgs84(shapes: np.ndarray, crs_text: str | None, name: str) -> tuple[np.ndarray, list[Problem]]:
    import shapely
    from pyproj import CRS, Transformer

    bounds = shapely.total_bounds(shapes)
    in_degrees = bool(np.abs(bounds[[0, 2]]).max() <= 180 and np.abs(bounds[[1, 3]]).max() <= 90)
    problems = []
    if crs_text is None:
        if not in_degrees:
            raise _no_crs(name, bounds)
        said = say("input-wgs84-taken", file=name)
        problems = [Problem(name, "ambiguous", said)]
    crs = _known(crs_text or WGS84, name)
    if crs.is_geographic != in_degrees:
        raise _contradiction(name, crs.name, crs.is_geographic, bounds)
    if not crs.equals(CRS.from_epsg(4326), ignore_axis_order=True):
        to_lonlat = Transformer.from_crs(crs, WGS84, always_xy=True)
        shapes = shapely.transform(shapes, lambda xy: np.column_stack(to_lonlat.transform(xy[:, 0], xy[:, 1])))
        if not np.isfinite(shapely.get_coordinates(shapes)).all():
            raise InputFault(
                name, say("input-outside-crs", crs=crs.name), say("input-inside-crs"), say("input-is-crs-right")
            )
    return shapes, problems


def _known(text: str, name: str) -> CRS:
    """Return the coordinate system; a drawing's own plane, tied to no place on earth, is refused."""
    from pyproj import CRS
    from pyproj.exceptions import CRSError

    try:
        crs = CRS.from_user_input(text)
    except CRSError:
        crs = None
    if crs is None or not (crs.is_geographic or crs.is_projected):
        raise InputFault(
            name,
            say("input-no-place-on-earth", crs=f"{crs.name if crs else text[:80]!r}"),
            say("input-a-known-crs"),
            say("input-export-wgs84"),
        )
    return crs


def _extent(bounds: np.ndarray) -> str:
    west, south, east, north = bounds
    return f"x {west:.10g} to {east:.10g}, y {south:.10g} to {north:.10g}"


def _no_crs(name: str, bounds: np.ndarray) -> InputFault:
    return InputFault(
        name,
        say("input-no-crs-no-degrees", extent=_extent(bounds)),
        say("input-states-crs"),
        say("input-export-or-prj"),
    )


def _contradiction(name: str, crs: str, geographic: bool, bounds: np.ndarray) -> InputFault:
    if geographic and abs(bounds[[1, 3]]).max() <= 180 and abs(bounds[[0, 2]]).max() <= 90:
        step = say("input-are-swapped")
    else:
        step = say("input-is-crs-wrong")
    expected = say("input-lonlat-within") if geographic else say("input-coordinates-of", crs=f"{crs}")
    return InputFault(name, say("input-crs-but-runs", crs=f"{crs}", extent=_extent(bounds)), expected, step)
