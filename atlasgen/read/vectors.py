"""Shoreline and named areas: polygons on WGS 84.

The water is the union of the file's polygons, or, where it holds lines only, of the rings those lines form: a ring
inside another is an island, one inside an island is water again. Which way a ring runs never matters (RFC 7946
section 3.1.6 asks for a direction but tells readers not to reject the other).
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model import NamedArea, Problem
from atlasgen.model.wording import say
from atlasgen.read.layers import Layer, read_layers, without_sidecars
from atlasgen.read.metadata import clean_text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from shapely import Geometry, LineString, MultiPolygon, Polygon

__all__ = ["read_areas", "read_water", "without_sidecars"]

# Ends of lines nearer than this are one point: about a metre, finer than any shoreline was drawn. Ours.
_SAME_END_DEG = 1e-5
_KIND_FIELDS = ("kind", "type", "class")


def read_water(path: Path, name: str) -> tuple[MultiPolygon, list[Problem]]:
    """Read the water at full supply level, islands as holes, the largest part first.

    Raises
    ------
    InputFault
        Nothing in the file bounds any water, it cannot be read, or it spans more than half the globe.
    """
    layers, problems = read_layers(path, name)
    layer, said = _layer_with(layers, name)
    problems += said
    _refuse_antimeridian(layer.geometries, name)
    polygons, said = _sound_polygons(layer.geometries, name)
    problems += said
    lines = [] if polygons else _parts(layer.geometries, "LineString")
    if lines:
        polygons, said = _polygons_of_lines(lines, name)
        problems += said
    return _union(polygons, name, problems), problems


def read_areas(
    path: Path, name: str, name_fields: tuple[str, ...], *, polygons_only: bool = False
) -> tuple[tuple[NamedArea, ...], list[Problem]]:
    """Read named shapes in the file's order.

    `name_fields` are the fields that may hold the name (or the reason), the first that is filled wins; kind comes
    from `kind`, `type` or `class`. A closed line becomes a polygon. A place may be a point or an open line: its
    `NamedArea.area` is then that Point or LineString (or Multi of these) itself. With `polygons_only` such shapes
    are left out and said.

    Raises
    ------
    InputFault
        The file cannot be read, holds no shapes, or spans more than half the globe.
    """
    layers, problems = read_layers(path, name)
    areas: list[NamedArea] = []
    for layer in layers:
        _refuse_antimeridian(layer.geometries, name)
        names, kinds = _field(layer, name_fields), _field(layer, _KIND_FIELDS)
        for shape, label, kind in zip(layer.geometries, names, kinds, strict=True):
            area, said = _area(shape, name)
            problems += said
            if area is None:
                problems.append(_note(name, say("input-no-area", shape=label or say("input-a-shape"))))
            elif polygons_only and area.geom_type not in ("Polygon", "MultiPolygon"):
                problems.append(
                    _note(name, say("input-not-an-area", shape=label or say("input-a-shape"), kind=area.geom_type))
                )
            else:
                areas.append(NamedArea(label, area, kind))
    nameless = sum(not area.name for area in areas)
    if nameless:
        fields = " or ".join(name_fields)
        words = say("input-shapes-without", file=name, count=nameless, shapes=len(areas), fields=fields)
        problems.append(Problem(name, "missing", words))
    return tuple(areas), problems


def _note(name: str, text: str) -> Problem:
    return Problem(name, "geometry", f"{name}: {text}")


def _field(layer: Layer, wanted: Sequence[str]) -> list[str]:
    """Return for each shape the first filled of the wanted fields, as text."""
    columns = [layer.fields[key.lower()] for key in wanted if key.lower() in layer.fields]
    found = []
    for row in range(len(layer.geometries)):
        texts = (_text(column[row]) for column in columns)
        found.append(next((text for text in texts if text), ""))
    return found


def _text(value: object) -> str:
    if value is None or (isinstance(value, float) and np.isnan(value)):
        return ""
    # A whole number in a field of floats: sheet 7, not sheet 7.0.
    return f"{value:.0f}" if isinstance(value, float) and value.is_integer() else clean_text(str(value)) or ""


def _area(shape: Geometry, name: str) -> tuple[Geometry | None, list[Problem]]:
    """Return the sound polygons of a shape, a point or line as it is, and None where nothing of it is left."""
    from shapely import MultiPolygon, Polygon

    if shape.geom_type == "LineString" and shape.is_closed and len(shape.coords) > 3:
        shape = Polygon(shape)
    polygons, problems = _sound_polygons(np.array([shape], dtype=object), name)
    if not polygons:
        return (None if shape.geom_type.endswith(("Polygon", "Collection")) else shape), problems
    return (polygons[0] if len(polygons) == 1 else MultiPolygon(polygons)), problems


def _layer_with(layers: list[Layer], name: str) -> tuple[Layer, list[Problem]]:
    """Choose the one layer with polygons, or where there is none, the one with lines."""
    for kind, word in (("Polygon", "polygons"), ("LineString", "lines")):
        holding = [layer for layer in layers if _parts(layer.geometries, kind)]
        if len(holding) > 1:
            names = ", ".join(layer.name for layer in holding)
            value = say("input-in-several-layers", what=word, layers=names)
            raise InputFault(name, value, say("input-shoreline-in-one"), say("input-save-alone"))
        if holding:
            return holding[0], _unused(holding[0], layers, word, name)
    raise InputFault(name, say("input-points-only"), say("input-polygons-or-lines"), say("input-draw-as-area"))


def _unused(chosen: Layer, layers: list[Layer], word: str, name: str) -> list[Problem]:
    kind = {"polygons": ("Polygon", "MultiPolygon", "GeometryCollection"), "lines": ("LineString", "MultiLineString")}
    other = [layer.name for layer in layers if layer is not chosen]
    odd = sum(shape.geom_type not in kind[word] for shape in chosen.geometries)
    problems = []
    if other:
        problems.append(_note(name, say("input-layer-read", layer=chosen.name, others=", ".join(other))))
    if odd:
        problems.append(_note(name, say("input-odd-shapes", count=odd, what=word)))
    return problems


def _refuse_antimeridian(shapes: np.ndarray, name: str) -> None:
    import shapely

    # Vertex by vertex, since the bounds of a polygon are those of its outer ring alone.
    vertices = shapely.get_coordinates(shapes)
    off = ~((np.abs(vertices) <= (360, 90)).all(axis=1))
    if off.any():
        lon, lat = vertices[off][0]
        raise InputFault(
            name,
            say("input-vertex-at", lon=f"{lon:.6g}", lat=f"{lat:.6g}"),
            say("input-on-globe"),
            say("input-draw-vertex"),
        )
    west, east = (vertices[:, 0].min(), vertices[:, 0].max()) if len(vertices) else (0.0, 0.0)
    if east - west > 180:
        raise InputFault(
            name,
            say("input-longitudes-run", west=f"{west:.6g}", east=f"{east:.6g}"),
            say("input-less-than-180"),
            say("input-across-180"),
        )


def _parts(shapes: np.ndarray, kind: str) -> list[Geometry]:
    """Return the single parts of one kind that are not empty, also those inside collections."""
    import shapely

    parts = shapely.get_parts(shapes)
    while any(part.geom_type.startswith("Multi") or part.geom_type == "GeometryCollection" for part in parts):
        parts = shapely.get_parts(parts)
    return [part for part in parts if part.geom_type == kind and part.length > 0]


def _sound_polygons(shapes: np.ndarray, name: str) -> tuple[list[Polygon], list[Problem]]:
    """Return all polygons, the broken ones mended (their areas kept) and named."""
    import shapely

    sound, problems = [], []
    for number, part in enumerate(_parts(shapes, "Polygon"), start=1):
        # A hole without points counts as valid, but GEOS 3.14.1 crashes on it in `covers`.
        polygon = shapely.Polygon(part.exterior, [ring for ring in part.interiors if not ring.is_empty])
        if polygon.is_valid:
            sound.append(polygon)
            continue
        why = shapely.is_valid_reason(polygon)
        mended = shapely.make_valid(polygon, method="structure", keep_collapsed=False)
        pieces = [part for part in _parts(np.array([mended], dtype=object), "Polygon") if part.area > 0]
        sound += pieces
        kept = say("input-parts-kept", count=len(pieces)) if pieces else say("input-nothing-left")
        problems.append(_note(name, say("input-polygon-mended", number=number, why=why, kept=kept)))
    return sound, problems


def _union(polygons: list[Polygon], name: str, problems: list[Problem]) -> MultiPolygon:
    import shapely

    if not polygons:
        raise InputFault(name, say("input-bounds-no-water"), say("input-one-polygon"), say("input-draw-shoreline"))
    inside = _swallowed(polygons)
    if inside:
        problems.append(Problem(name, "ambiguous", say("input-polygons-inside", file=name, count=inside)))
    merged = shapely.unary_union(polygons) if len(polygons) > 1 else polygons[0]
    parts = [shapely.orient_polygons(part) for part in _parts(np.array([merged], dtype=object), "Polygon")]
    return shapely.MultiPolygon(sorted(parts, key=lambda part: (-part.area, part.bounds)))


def _swallowed(polygons: list[Polygon]) -> int:
    import shapely

    tree = shapely.STRtree(polygons)
    inner, outer = tree.query(polygons, predicate="covered_by")
    return len({int(i) for i, o in zip(inner, outer, strict=True) if i != o})


def _polygons_of_lines(lines: list[LineString], name: str) -> tuple[list[Polygon], list[Problem]]:
    """Close the lines into rings and read them even-odd: water, island, pond on the island."""
    import shapely

    noded = shapely.unary_union(_joined_ends(lines))
    faces, cuts, dangles, _ = shapely.polygonize_full([noded])
    polygons = list(faces.geoms)
    # Loops that a wandering track makes by chance are no shoreline.
    if not polygons or dangles.length + cuts.length > noded.length / 10:
        raise _open_lines(lines, name)
    loose = len(dangles.geoms) + len(cuts.geoms)
    problems = [_note(name, say("input-lines-closed", lines=len(lines), rings=len(polygons)))]
    if loose:
        problems.append(_note(name, say("input-loose-lines", count=loose)))
    holes = [shapely.Polygon(hole) for face in polygons for hole in face.interiors]
    depth = [sum(hole.contains(face.representative_point()) for hole in holes) for face in polygons]
    return [face for face, inside in zip(polygons, depth, strict=True) if inside % 2 == 0], problems


def _joined_ends(lines: list[LineString]) -> list[LineString]:
    """Move each line's ends onto the first end that lies within `_SAME_END_DEG`."""
    import shapely

    ends = shapely.points([line.coords[at] for line in lines for at in (0, -1)])
    near = shapely.STRtree(ends).query(ends, predicate="dwithin", distance=_SAME_END_DEG)
    first = np.arange(len(ends))
    np.minimum.at(first, near[0], near[1])
    joined = []
    for number, line in enumerate(lines):
        coords = [ends[first[2 * number]].coords[0], *line.coords[1:-1], ends[first[2 * number + 1]].coords[0]]
        if len(set(coords)) > 1:
            joined.append(shapely.LineString(coords))
    return joined


def _open_lines(lines: list[LineString], name: str) -> InputFault:
    import shapely
    from pyproj import Geod

    # The joined ends may leave nothing of a line shorter than the tolerance.
    merged = shapely.line_merge(shapely.MultiLineString(_joined_ends(lines) or lines))
    longest = max(shapely.get_parts(merged), key=lambda line: line.length)
    (west, south), (east, north) = longest.coords[0], longest.coords[-1]
    gap_m = Geod(ellps="WGS84").inv(west, south, east, north)[2]
    return InputFault(
        name,
        say(
            "input-line-open",
            start=f"lon {west:.6f} lat {south:.6f}",
            end=f"lon {east:.6f} lat {north:.6f}",
            metres=f"{gap_m:.0f}",
        ),
        say("input-polygon-or-ring"),
        say("input-close-line"),
    )
