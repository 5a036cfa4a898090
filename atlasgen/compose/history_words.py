"""What a page says of the crew's layers: how deep an image looks, and by how much an old chart is out."""

from __future__ import annotations

import math

import numpy as np

from atlasgen.measure.registration import out_by_m
from atlasgen.model import ComposeRules, PointM, Sentence
from atlasgen.model.history import Departure, HistoricLayer, ScanFit
from atlasgen.model.wording import say
from atlasgen.units import (
    DEPTH_UNIT_M,
    count_words,
    date_words,
    decimal_text,
    distance_words,
    length_words,
    level_words,
    rise_words,
)


def layer_sentences(layer: HistoricLayer, at: PointM, rules: ComposeRules) -> tuple[Sentence, ...]:
    """Say of one layer what a reader at a place of it must know."""
    if layer.kind == "historic chart":
        return (_chart(layer, at, rules),)
    if layer.kind == "sonar mosaic":
        return (Sentence(say("layers-mosaic-here", name=_name(layer))),)
    return _image(layer, rules)


def table_rows(fit: ScanFit, rules: ComposeRules) -> list[tuple[str, str, str]]:
    """Return name, misfit east and misfit north of every control point, in words."""
    return [
        (name, _signed(east, rules), _signed(north, rules))
        for name, (east, north) in zip(fit.names, fit.residuals_m.tolist(), strict=True)
    ]


def looks_words(looks_m: float, rules: ComposeRules) -> str:
    """Return the depth of a waterline with one decimal, toward shallower: it is a level, not a sounding."""
    value = math.floor(10 * looks_m / DEPTH_UNIT_M[rules.depth_unit] + 1e-6) / 10
    return length_words(decimal_text(f"{value:g}"), rules.depth_unit)


def fit_words(fit: ScanFit, rules: ComposeRules) -> str:
    """Say how a scan was laid on the ground, and how well."""
    how = {"count": count_words(len(fit.names)), "kind": fit.kind}
    if fit.sigma_m is None:
        return say("layers-fit-unchecked", **how)
    worst = int(np.hypot(*fit.residuals_m.T).argmax())
    worst_m = float(np.hypot(*fit.residuals_m[worst]))
    errors = {"rmse": _metres(fit.rmse_m, rules), "worst": _metres(worst_m, rules)}
    return say("layers-fit", point=fit.names[worst], **errors, **how)


def departure_words(departure: Departure, looks: str, rules: ComposeRules) -> str:
    """Say how far an image's own waterline lies from the model's."""
    if departure.compared_m <= 0:
        return say("layers-waterline-not-compared")
    return say(
        "layers-waterline-compared",
        length=distance_words(departure.compared_m, rules.distance_unit),
        depth=looks,
        half=_metres(departure.median_m, rules),
        most=_metres(departure.p95_m, rules),
    )


def _chart(layer: HistoricLayer, at: PointM, rules: ComposeRules) -> Sentence:
    out = None if layer.fit is None else out_by_m(layer.fit, np.array([at]))
    if out is None:
        return Sentence(say("layers-chart-here-unchecked", name=_name(layer)))
    return Sentence(say("layers-chart-here", name=_name(layer), out=_metres(float(out[0]), rules)))


def _image(layer: HistoricLayer, rules: ComposeRules) -> tuple[Sentence, ...]:
    who = {"kind": layer.kind.replace(" ", "-"), "name": _name(layer)}
    if layer.stage_m is None:
        return (Sentence(say("layers-image-no-level", why=layer.stage_from, **who)),)
    level = level_words(layer.stage_m, rules.depth_unit)
    if layer.looks_m is None:
        return (Sentence(say("layers-image-no-dry-bed", level=level, **who)),)
    looks = looks_words(layer.looks_m, rules)
    first = Sentence(say("layers-image-dry-to", level=level, depth=looks, **who), strong=True)
    if layer.departure is None:
        return (first,)
    return (first, Sentence(departure_words(layer.departure, looks, rules)))


def _name(layer: HistoricLayer) -> str:
    if layer.date:
        return say("layers-name-dated", title=layer.title, day=date_words(layer.date))
    return say("layers-name", title=layer.title)


def _metres(value_m: float, rules: ComposeRules) -> str:
    """Return a distance with a tenth where it is small: a misfit of 0.4 m is not 0 m."""
    if rules.distance_unit == "metric" and value_m < 10:
        return rise_words(value_m, "metres")
    return distance_words(value_m, rules.distance_unit)


def _signed(value_m: float, rules: ComposeRules) -> str:
    return f"{'−' if value_m < 0 else '+'}{_metres(abs(value_m), rules)}"
