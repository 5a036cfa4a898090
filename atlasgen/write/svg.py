"""A Drawing as SVG: one style sheet for book and web, plain SVG 1.1 that a print engine and a browser draw alike.

Each element carries presentation attributes, which any renderer reads, and a class `m-STYLE`, through which a page's
own style sheet may restyle it: CSS rules win over presentation attributes (CSS Cascade, SVG 1.1 section 6.4).
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from itertools import groupby, pairwise
from typing import Any
from xml.sax.saxutils import escape, quoteattr

from atlasgen.model import Drawing, Shape
from atlasgen.model.memory import Memory
from atlasgen.resources import resource

SHADES = 40  # steps of the depth tint; each is a class `m-shade-N`
_POINTER_HALF = 0.4  # half width of a wedge's base as a share of its length
_GROUP = {"area": "areas", "line": "lines", "dot": "dots", "wedge": "wedges", "text": "texts"}
# What XML 1.0 does not allow, and the marks that turn the direction of text.
_FORBIDDEN = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]|[\u202a-\u202e\u2066-\u2069]")


def remembered_svg(drawing: Drawing, memory: Memory, *, opaque: bool = False) -> str:
    """Return `to_svg` of a drawing, or what it was for the same drawing before."""
    return memory.remember("svg", (drawing, opaque), lambda: to_svg(drawing, opaque=opaque))


def to_svg(drawing: Drawing, *, opaque: bool = False) -> str:
    """Return a standalone SVG document, the same bytes for the same drawing.

    Parameters
    ----------
    drawing
        What to draw; sizes in mm.
    opaque
        Write tints as the solid colours they are on white paper, for viewers without transparency; a tint that would
        hide the lines under it is left out, and its edge stays.

    Raises
    ------
    ValueError
        A shape's style is not in the style sheet.
    """
    title_id = re.sub(r"[^A-Za-z0-9_-]", "-", f"{drawing.id}-title")
    width, height = _number(drawing.width_mm), _number(drawing.height_mm)
    body = "".join(_group(list(run), opaque) for _, run in groupby(drawing.shapes, key=_look))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}" '
        f'role="img" aria-labelledby="{title_id}"><title id="{title_id}">{_clean(drawing.alt)}</title>{body}</svg>\n'
    )


@cache
def style_sheet() -> Mapping[str, Any]:
    """Return templates/map/style.json."""
    return json.loads(resource("templates", "map", "style.json").read_text(encoding="utf-8"))


@cache
def shade_colours() -> tuple[str, ...]:
    """Return the depth tint from shallow to deep, SHADES + 1 colours: the named ramp mixed with white."""
    ramp = json.loads(resource("templates", "map", "depth_ramp.json").read_text(encoding="utf-8"))
    samples = [tuple(int(s[i : i + 2], 16) for i in (1, 3, 5)) for s in ramp["samples"]]
    return tuple(_tint(samples, i / SHADES, ramp["white_share"]) for i in range(SHADES + 1))


def _tint(samples: Sequence[tuple[int, ...]], share: float, white: float) -> str:
    at = share * (len(samples) - 1)
    low = min(int(at), len(samples) - 2)
    mixed = [a + (b - a) * (at - low) for a, b in zip(samples[low], samples[low + 1], strict=True)]
    return "#" + "".join(f"{round(255 * white + value * (1 - white)):02x}" for value in mixed)


def _shade_index(shade: float | None) -> int | None:
    return None if shade is None else round(min(1.0, max(0.0, shade)) * SHADES)


def _look(shape: Shape) -> tuple[str, str, int | None, float]:
    return (shape.kind, shape.style, _shade_index(shape.shade), shape.size_mm if shape.kind == "text" else 0.0)


def _look_of(kind: str, name: str, shade: int | None, opaque: bool = False) -> dict[str, str]:
    """Presentation attributes of a style."""
    sheet = style_sheet()
    spec = sheet[_GROUP[kind]].get(name)
    if spec is None:
        known = ", ".join(sorted(sheet[_GROUP[kind]]))
        raise ValueError(f"style {name!r} of a {kind}. Expected one of {known}. Add it to templates/map/style.json.")
    look = {"fill": _colour(spec.get("fill"), shade), "stroke": _colour(spec.get("stroke"), shade)}
    look |= _line_look(spec) if "stroke" in spec else {}
    look |= _text_look(spec) if kind == "text" else {}
    if kind == "area":
        look["fill-rule"] = "evenodd"
    if "fill_opacity" in spec and opaque:
        look["fill"] = "none" if spec.get("over_lines") else _on_white(look["fill"], spec["fill_opacity"])
    elif "fill_opacity" in spec:
        look["fill-opacity"] = _number(spec["fill_opacity"])
    return {key: value for key, value in look.items() if value}


def _on_white(colour: str, opacity: float) -> str:
    """Return the solid colour that a tint is on white paper."""
    parts = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    return "#" + "".join(f"{round(255 + (part - 255) * opacity):02x}" for part in parts)


def _colour(name: str | None, shade: int | None) -> str:
    if name == "shade":
        return shade_colours()[shade or 0]
    return style_sheet()["palette"][name] if name else "none"


def _line_look(spec: Mapping[str, Any]) -> dict[str, str]:
    dash = " ".join(_number(d) for d in spec.get("dash_mm", ()))
    cap = spec.get("cap", "")
    return {
        "stroke-width": _number(spec["width_mm"]),
        "stroke-linejoin": "round",
        "stroke-linecap": cap,
        "stroke-dasharray": dash,
    }


def _text_look(spec: Mapping[str, Any]) -> dict[str, str]:
    look = {"font-family": style_sheet()["face"], "text-anchor": spec.get("anchor", "middle")}
    look["font-weight"] = str(spec["weight"]) if spec["weight"] != 400 else ""
    look["font-style"] = "italic" if spec.get("italic") else ""
    if "halo" in spec:
        look |= {"stroke": _colour(spec["halo"], None), "stroke-width": _number(spec["halo_mm"])}
        look |= {"stroke-linejoin": "round", "paint-order": "stroke"}
    return look


def _group(shapes: Sequence[Shape], opaque: bool) -> str:
    """Neighbouring shapes of one look as one element, their look written once."""
    first = shapes[0]
    kind, name, shade, _ = _look(first)
    classes = f"m-{kind}-{name}" + (f" m-shade-{shade}" if shade is not None else "")
    attributes = {"class": classes} | _look_of(kind, name, shade, opaque)
    if kind == "text":
        attributes["font-size"] = _number(first.size_mm)
    written = "".join(f" {key}={quoteattr(value)}" for key, value in attributes.items())
    if kind == "text":
        return f"<g{written}>{''.join(_text(s) for s in shapes)}</g>"
    if kind == "dot":
        return f"<g{written}>{''.join(_dots(s) for s in shapes)}</g>"
    path = "".join(_wedge(s) if kind == "wedge" else _path(s) for s in shapes)
    return f'<path{written} d="{path}"/>'


def _path(shape: Shape) -> str:
    close = "z" if shape.kind == "area" else ""
    return "".join(_run(part) + close for part in shape.points)


def _run(points: Sequence[tuple[float, float]]) -> str:
    """One run of points as relative moves in hundredths of a mm, which is exact and short."""
    whole = [(round(x * 100), round(y * 100)) for x, y in points]
    moves = [_pair(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(whole)]
    return f"M{_pair(*whole[0])}" + ("l" + "".join(_spaced(moves)) if moves else "")


def _pair(x: int, y: int) -> str:
    right = _hundredths(y)
    return _hundredths(x) + (right if right.startswith("-") else " " + right)


def _spaced(pairs: Sequence[str]) -> Iterable[str]:
    return (pair if i == 0 or pair.startswith("-") else " " + pair for i, pair in enumerate(pairs))


def _hundredths(value: int) -> str:
    return _number(value / 100)


def _number(value: float) -> str:
    """At most three decimals, no trailing zeros, no zero before the point: 0.50 is `.5`."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    if text in ("-0", ""):
        return "0"
    return text.replace("0.", ".", 1) if text.startswith(("0.", "-0.")) else text


def _dots(shape: Shape) -> str:
    r = _number(shape.size_mm / 2)
    return "".join(f'<circle cx="{_number(p[0][0])}" cy="{_number(p[0][1])}" r="{r}"/>' for p in shape.points)


def _wedge(shape: Shape) -> str:
    """Triangle with its base centred on the point and its tip `size_mm` away, turned clockwise from up."""
    from math import cos, radians, sin

    (x, y), size, turn = shape.points[0][0], shape.size_mm, radians(shape.turn_deg)
    corners = [(-size * _POINTER_HALF, 0.0), (0.0, -size), (size * _POINTER_HALF, 0.0)]
    return _run([(x + u * cos(turn) - v * sin(turn), y + u * sin(turn) + v * cos(turn)) for u, v in corners]) + "z"


def _text(shape: Shape) -> str:
    x, y = (_number(v) for v in shape.points[0][0])
    turn = f' transform="rotate({_number(shape.turn_deg)} {x} {y})"' if shape.turn_deg else ""
    return f'<text x="{x}" y="{y}"{turn}>{_clean(shape.text)}</text>'


def _clean(words: str) -> str:
    """Words as XML text: what XML forbids is dropped, white space is one space, markup is escaped."""
    return escape(" ".join(_FORBIDDEN.sub("", words).split()))
