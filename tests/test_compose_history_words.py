"""What pages say of low-water images and historic charts."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from shapely import MultiPolygon, box

from atlasgen.compose.history_words import departure_words, fit_words, layer_sentences, table_rows
from atlasgen.measure.registration import fit_scan
from atlasgen.model import ComposeRules, PointM
from atlasgen.model.history import Departure, HistoricLayer

RULES = ComposeRules(title="Lake", edition="1", depth_unit="feet")
AT = PointM(0.0, 0.0)
PIXELS = np.array([[0, 0], [100, 0], [0, 100], [100, 100]], float)


def layer(**changes: object) -> HistoricLayer:
    facts = {
        "file": "l.tif", "kind": "air photo", "title": "Low water", "date": date(2020, 4, 18), "stage_m": -5.5,
        "stage_from": "survey.toml", "area": MultiPolygon([box(-1, -1, 1, 1)]), "fit": None, "looks_m": 5.5,
        "waterline": None, "departure": None, "reaches": ("S-0001",),
    }  # fmt: skip
    return HistoricLayer(**facts | changes)


def words(**changes: object) -> str:
    return " ".join(sentence.text for sentence in layer_sentences(layer(**changes), AT, RULES))


def test_an_image_says_how_deep_it_looks() -> None:
    """18 ft down, it shows the bed out to the 18 ft line (common practice, no source)."""
    assert words() == (
        "The air photo “Low water” of 18 April 2020, taken with the water 18.0 ft below full, shows the bed as dry "
        "ground out to the 18 ft line."
    )


def test_an_image_without_a_known_level_says_so_and_why() -> None:
    """Nothing is guessed from the date alone."""
    said = words(stage_m=None, looks_m=None, stage_from="outside stage.csv: the level is unknown")
    assert "The water level then is not known: outside stage.csv" in said


def test_an_image_at_full_shows_no_bed() -> None:
    """A stage above the datum leaves nothing dry."""
    assert words(stage_m=0.1, looks_m=None).endswith("taken with the water 0.3 ft above full and shows no dry bed.")


def test_a_departure_is_told_in_half_and_ninety_five_percent() -> None:
    """Small distances keep a tenth of a metre."""
    said = departure_words(Departure(3000.0, 2400.0, 2.14, 7.05), "18 ft", RULES)
    assert said == (
        "Over 2.4 km its own waterline was compared with the 18 ft line: half of it lies within 2.1 m, 95 % within "
        "7.0 m."
    )


def test_a_chart_is_said_to_be_old_and_by_how_much_it_is_out() -> None:
    """Four corners known to a few metres; the error of a place in their middle."""
    ground = PIXELS * (2, -2) + np.array([[3, 0], [-3, 0], [0, 3], [0, -3]])
    fit = fit_scan("c.csv", "similarity", ("a", "b", "c", "d"), PIXELS, ground)
    said = words(kind="historic chart", looks_m=None, fit=fit)
    assert said.startswith("The historic chart “Low water” of 18 April 2020 covers this bank. It is out by about ")
    assert said.endswith("It is old: take no depth from it.")


def test_a_chart_whose_points_cannot_check_each_other_says_so() -> None:
    """Two points fit any similarity."""
    fit = fit_scan("c.csv", "similarity", ("a", "b"), PIXELS[:2], PIXELS[:2])
    assert "By how much it is out here is not known." in words(kind="historic chart", looks_m=None, fit=fit)
    assert "not known" in fit_words(fit, RULES)


def test_the_residuals_of_a_fit_are_all_told() -> None:
    """One row a point, signed; the sentence names RMSE and the worst point."""
    ground = PIXELS * (1, -1) + np.array([[4, 0], [0, 0], [0, 0], [0, 0]])
    fit = fit_scan("c.csv", "affine", ("mill", "dam", "ford", "oak"), PIXELS, ground)
    assert [row[0] for row in table_rows(fit, RULES)] == ["mill", "dam", "ford", "oak"]
    assert table_rows(fit, RULES)[0][1:] == ("+1.0 m", "+0.0 m")
    assert fit.rmse_m == pytest.approx(1.0)
    assert "RMSE 1.0 m, the worst point" in fit_words(fit, RULES)
