"""What a page says of the crew's layers: how deep an image looks, and by how much an old chart is out."""

from __future__ import annotations

import math

import numpy as np

from atlasgen.measure.registration import out_by_m
from atlasgen.model import ComposeRules, PointM, Sentence
from atlasgen.model.history import Departure, HistoricLayer, ScanFit
from atlasgen.units import DEPTH_SHORT, DEPTH_UNIT_M, count_words, date_words, distance_words, level_words


def layer_sentences(layer: HistoricLayer, at: PointM, rules: ComposeRules) -> tuple[Sentence, ...]:
    """Say of one layer what a reader at a place of it must know."""
    if layer.kind == "historic chart":
        return (_chart(layer, at, rules),)
    if layer.kind == "sonar mosaic":
        return (Sentence(f"The sonar mosaic {_name(layer)} covers this bank; how well it was recorded is not known."),)
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
    return f"{value:g} {DEPTH_SHORT[rules.depth_unit]}"


def fit_words(fit: ScanFit, rules: ComposeRules) -> str:
    """Say how a scan was laid on the ground, and how well."""
    how = f"Laid on the ground by {count_words(len(fit.names))} control points ({fit.kind}, least squares)"
    if fit.sigma_m is None:
        return f"{how}; no point is left over to check it, so how far it is out is not known."
    worst = int(np.hypot(*fit.residuals_m.T).argmax())
    worst_m = float(np.hypot(*fit.residuals_m[worst]))
    return (
        f"{how}: RMSE {_metres(fit.rmse_m, rules)}, the worst point {fit.names[worst]} with {_metres(worst_m, rules)}."
    )


def departure_words(departure: Departure, looks: str, rules: ComposeRules) -> str:
    """Say how far an image's own waterline lies from the model's."""
    if departure.compared_m <= 0:
        return "Its own waterline runs where no depth is known, so it could not be compared."
    return (
        f"Over {distance_words(departure.compared_m, rules.distance_unit)} its own waterline was compared with the "
        f"{looks} line: half of it lies within {_metres(departure.median_m, rules)}, 95 % within "
        f"{_metres(departure.p95_m, rules)}."
    )


def _chart(layer: HistoricLayer, at: PointM, rules: ComposeRules) -> Sentence:
    text = f"The historic chart {_name(layer)} covers this bank."
    out = None if layer.fit is None else out_by_m(layer.fit, np.array([at]))
    if out is None:
        text += " By how much it is out here is not known."
    else:
        text += f" It is out by about {_metres(float(out[0]), rules)} here."
    return Sentence(f"{text} It is old: take no depth from it.")


def _image(layer: HistoricLayer, rules: ComposeRules) -> tuple[Sentence, ...]:
    who = f"The {layer.kind} {_name(layer)}"
    if layer.stage_m is None:
        return (Sentence(f"{who} covers this bank. The water level then is not known: {layer.stage_from}."),)
    if layer.looks_m is None:
        return (Sentence(f"{who} covers this bank. It was taken {_level(layer, rules)} and shows no dry bed."),)
    looks = looks_words(layer.looks_m, rules)
    first = Sentence(
        f"{who}, taken with the water {level_words(layer.stage_m, rules.depth_unit)}, shows the bed as dry ground out "
        f"to the {looks} line.",
        strong=True,
    )
    if layer.departure is None:
        return (first,)
    return (first, Sentence(departure_words(layer.departure, looks, rules)))


def _level(layer: HistoricLayer, rules: ComposeRules) -> str:
    return f"with the water {level_words(layer.stage_m or 0.0, rules.depth_unit)}"


def _name(layer: HistoricLayer) -> str:
    return f"“{layer.title}”" + (f" of {date_words(layer.date)}" if layer.date else "")


def _metres(value_m: float, rules: ComposeRules) -> str:
    """Return a distance with a tenth where it is small: a misfit of 0.4 m is not 0 m."""
    if rules.distance_unit == "metric" and value_m < 10:
        return f"{value_m:.1f} m"
    return distance_words(value_m, rules.distance_unit)


def _signed(value_m: float, rules: ComposeRules) -> str:
    return f"{'−' if value_m < 0 else '+'}{_metres(abs(value_m), rules)}"
