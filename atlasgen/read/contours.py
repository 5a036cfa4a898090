"""Lines of equal depth that the crew supplies -> their shapes and what each stands for."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model import Problem
from atlasgen.model.rasters import DepthContours
from atlasgen.model.wording import say
from atlasgen.read.columns import SOUNDING_ROLES, heading_of
from atlasgen.read.layers import Layer, read_layers
from atlasgen.units import grouped_words

# Usual names of the field, most telling first; common practice, no source.
_ELEVATIONS = ("elevation", "elev", "altitude", "alt", "height", "bed_elevation")
_DEPTHS = ("isobath", "contour_depth", *SOUNDING_ROLES["depth"])
_NEITHER = ("contour", "value", "level", "label")


def read_contours(path: Path, name: str, field: str | None) -> tuple[DepthContours, list[Problem]]:
    """Read every line of a vector file; outlines of polygons count as lines.

    Parameters
    ----------
    field
        The field that holds the values, in any case of letters; None to find it among the usual names.

    Raises
    ------
    InputFault
        The file cannot be read, holds no lines, or no field of numbers can be told to hold their values.
    """
    layers, problems = read_layers(path, name)
    lines, values, chosen = [], [], ""
    for layer in layers:
        shapes, of_feature = _lines(layer)
        if len(shapes):
            chosen = _field(layer, name, field)
            lines.append(shapes)
            values.append(_numbers(layer.fields[chosen])[of_feature])
    if not lines:
        raise InputFault(name, say("input-no-lines"), say("input-lines-with-field"), say("input-export-contours"))
    all_lines, all_values = np.concatenate(lines), np.concatenate(values)
    known = np.isfinite(all_values)
    if not known.any():
        raise InputFault(
            name,
            say("input-field-no-numbers", field=f"{chosen!r}"),
            say("input-lines-with-field"),
            say("input-name-field"),
        )
    if not known.all():
        count = grouped_words(int((~known).sum()))
        said = say("input-lines-without-number", file=name, count=count, field=f"{chosen!r}")
        problems.append(Problem(name, "geometry", said))
    unit, shows = _told(chosen)
    return DepthContours(name, all_lines[known], all_values[known], chosen, unit, shows), problems


def _lines(layer: Layer) -> tuple[np.ndarray, np.ndarray]:
    """Return the single lines of a layer, and the feature that each belongs to."""
    import shapely

    shapes, feature = shapely.get_parts(layer.geometries, return_index=True)
    kinds = shapely.get_type_id(shapes)
    outlines = np.where(kinds == 3, shapely.boundary(shapes), shapes)
    lines, part = shapely.get_parts(outlines[(kinds == 1) | (kinds == 3)], return_index=True)
    return lines, feature[(kinds == 1) | (kinds == 3)][part]


def _field(layer: Layer, name: str, wanted: str | None) -> str:
    fields = list(layer.fields)
    if wanted is not None:
        if wanted.casefold() not in fields:
            value, expected = say("input-no-field", field=f"{wanted!r}"), say("input-one-of", names=", ".join(fields))
            raise InputFault(name, value, expected, say("input-name-field"))
        return wanted.casefold()
    # A field that says what it holds goes before one that may hold anything.
    found = _of_those(fields, (*_ELEVATIONS, *_DEPTHS)) or _of_those(fields, _NEITHER)
    if not found:
        seen = say("input-fields", fields=", ".join(fields)) if fields else say("input-no-fields")
        raise InputFault(name, seen, say("input-lines-with-field"), say("input-name-field"))
    if len(found) > 1:
        both = " and ".join(found)
        raise InputFault(name, say("input-both-fields", fields=both), say("input-one-field"), say("input-name-field"))
    return found[0]


def _of_those(fields: list[str], names: tuple[str, ...]) -> list[str]:
    ranked = [(names.index(base), key) for key in fields if (base := heading_of(key).base) in names]
    return [key for _, key in sorted(ranked)]


def _numbers(values: np.ndarray) -> np.ndarray:
    def number(value: object) -> float:
        try:
            return float(str(value).replace(",", "."))
        except ValueError:
            return float("nan")

    return values.astype(float) if values.dtype.kind in "iuf" else np.array([number(value) for value in values])


def _told(field: str) -> tuple[Literal["metres", "feet"] | None, Literal["depth", "elevation"] | None]:
    base, unit = heading_of(field)
    shows: Literal["depth", "elevation"] | None = None
    if base in _ELEVATIONS:
        shows = "elevation"
    elif base in _DEPTHS and base != "z":
        shows = "depth"
    return ("metres" if unit == "metres" else "feet" if unit == "feet" else None), shows
