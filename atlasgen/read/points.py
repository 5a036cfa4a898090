"""Points of a vector file -> a table, so that they are read as any other soundings."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model import Problem
from atlasgen.model.wording import say
from atlasgen.read.columns import SOUNDING_ROLES, heading_of
from atlasgen.read.layers import read_layers
from atlasgen.read.table import Table
from atlasgen.units import grouped_words


def read_points(path: Path, name: str) -> tuple[Table, list[Problem]]:
    """Read single points and their fields; longitude and latitude come from the shapes, on WGS 84.

    Raises
    ------
    InputFault
        The file cannot be read, or no layer, or more than one, holds points.
    """
    import shapely

    layers, problems = read_layers(path, name)
    holding = [layer for layer in layers if (shapely.get_type_id(layer.geometries) == 0).any()]
    if len(holding) != 1:
        found = say("input-points-in-layers", count=len(holding)) if holding else say("input-no-points")
        raise InputFault(name, found, say("input-one-layer-of-points"), say("input-save-soundings"))
    layer = holding[0]
    are_points = shapely.get_type_id(layer.geometries) == 0
    if not are_points.all():
        said = say("input-no-point-shapes", file=name, count=grouped_words(int((~are_points).sum())))
        problems.append(Problem(name, "geometry", said))
    # Positions come from the shapes: fields that repeat them would only be in doubt.
    places = {*SOUNDING_ROLES["lon"], *SOUNDING_ROLES["lat"]}
    fields = {key: value[are_points] for key, value in layer.fields.items() if heading_of(key).base not in places}
    points = layer.geometries[are_points]
    columns = (shapely.get_x(points), shapely.get_y(points), *(_cells(value) for value in fields.values()))
    rows = len(points)
    return Table(name, ("lon", "lat", *fields), columns, np.zeros(rows, dtype=bool), np.arange(rows) + 1), problems


def _cells(values: np.ndarray) -> np.ndarray:
    if values.dtype.kind in "iufb":
        return values.astype(float)
    return np.array(["" if value is None else str(value) for value in values], dtype=object)
