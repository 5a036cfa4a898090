"""Laying scans on the ground, against published transformations."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from atlasgen.errors import InputFault
from atlasgen.measure.registration import fit_scan, out_by_m, to_ground, to_scan

# Test points of the Catalan mapping institute's sheet for the similarity ED50 to ETRS89 (H2D_v8), zone 31, as quoted in
# a public note; the first is also the example of IOGP Guidance Note 7-2, EPSG method 9621.
ED50_M = np.array([[300000, 4500000], [315000, 4740000], [520000, 4680000], [420000, 4600000]], float)
ETRS89_M = np.array(
    [[299905.060, 4499796.515], [314906.904, 4739796.774], [519906.767, 4679795.125], [419906.005, 4599795.760]]
)
NAMES = ("1", "2", "3", "4")


def _pixels(xy: np.ndarray) -> np.ndarray:
    """Rows of a scan count down, so a published pair of grids becomes a scan by turning the sign of northings."""
    return xy * (1.0, -1.0)


def test_similarity_equals_the_published_fit() -> None:
    """Scale 1.00000155 within 5e-9, turn 1.56503 seconds within 1e-4, RMS of a coordinate 0.16 mm."""
    fit = fit_scan("s", "similarity", NAMES, _pixels(ED50_M), ETRS89_M)
    scale, turn_rad = np.hypot(*fit.matrix[:, 0]), np.arctan2(fit.matrix[1, 0], fit.matrix[0, 0])
    assert scale == pytest.approx(1.00000155, abs=5e-9)
    assert abs(np.degrees(turn_rad)) * 3600 == pytest.approx(1.56503, abs=1e-4)
    assert np.sqrt((fit.residuals_m**2).mean()) == pytest.approx(0.16e-3, abs=0.005e-3)
    assert np.abs(fit.residuals_m).max() < 1e-3


def test_similarity_moves_the_guidance_notes_point() -> None:
    """IOGP Guidance Note 7-2, similarity: 300000 E 4500000 N becomes 299905.060, 4499796.515."""
    fit = fit_scan("s", "similarity", NAMES, _pixels(ED50_M), ETRS89_M)
    assert to_ground(fit, _pixels(ED50_M[:1])) == pytest.approx(np.array([[299905.060, 4499796.515]]), abs=1e-3)


def test_affine_recovers_the_guidance_notes_parameters() -> None:
    """IOGP Guidance Note 7-2, affine (EPSG 9624), old Jamaica grid: 553900, 482500 becomes 251190.497, 175146.067."""
    matrix = np.array([[0.304794369, 1.5417425e-5], [-1.5417425e-5, 0.304794369]])
    shift = np.array([82357.457, 28091.324])
    feet = np.array([[500000, 400000], [620000, 410000], [510000, 560000], [600000, 550000]], float)
    fit = fit_scan("s", "affine", NAMES, _pixels(feet), feet @ matrix.T + shift)
    assert to_ground(fit, _pixels(np.array([[553900.0, 482500.0]]))) == pytest.approx(
        np.array([[251190.497, 175146.067]]), abs=1e-3
    )
    assert fit.matrix == pytest.approx(matrix, abs=1e-12)
    assert fit.rmse_m == pytest.approx(0, abs=1e-6)


def test_affine_is_linear_least_squares() -> None:
    """The residuals are those of numpy's own solution with a column of ones."""
    rng = np.random.default_rng(7)
    px, xy = rng.uniform(0, 4000, (9, 2)), rng.uniform(0, 900, (9, 2))
    fit = fit_scan("s", "affine", tuple("abcdefghi"), px, xy)
    ones = np.c_[px, np.ones(9)]
    expected = xy - ones @ np.linalg.lstsq(ones, xy, rcond=None)[0]
    assert fit.residuals_m == pytest.approx(expected, abs=1e-9)


@given(st.floats(0.1, 5), st.floats(-np.pi, np.pi), st.integers(0, 2**16))
def test_a_similar_scan_is_fitted_exactly(scale: float, turn: float, seed: int) -> None:
    """A scan turned, scaled and moved is found again, and to_scan is the way back."""
    px = np.random.default_rng(seed).uniform(0, 3000, (5, 2))
    up = px * (1, -1)
    turned = scale * np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    xy = up @ turned.T + (4000.0, -2500.0)
    fit = fit_scan("s", "similarity", tuple("abcde"), px, xy)
    assert fit.rmse_m == pytest.approx(0, abs=1e-6)
    assert to_scan(fit, to_ground(fit, px)) == pytest.approx(px, abs=1e-6)


def test_what_a_place_is_out_by_matches_a_simulation() -> None:
    """Over 4,000 noisy control sets a new point's distance from the fit has the RMS that out_by_m says."""
    rng = np.random.default_rng(1)
    px = np.array([[0, 0], [1000, 0], [0, 1000], [1000, 1000], [500, 300]], float)
    place_px, sigma_m = np.array([[1800.0, 1500.0]]), 3.0
    away, said = [], []
    for _ in range(4000):
        xy = px * (1, -1) + rng.normal(0, sigma_m, px.shape)
        fit = fit_scan("s", "similarity", tuple("abcde"), px, xy)
        new = place_px * (1, -1) + rng.normal(0, sigma_m, (1, 2))
        away.append(((new - to_ground(fit, place_px)) ** 2).sum())
        said.append(out_by_m(fit, new)[0] ** 2)
    assert np.sqrt(np.mean(said)) == pytest.approx(np.sqrt(np.mean(away)), rel=0.05)


def test_as_many_points_as_needed_leave_the_error_unknown() -> None:
    """Two points always fit a similarity; nothing is left to tell how well."""
    fit = fit_scan("s", "similarity", ("a", "b"), np.array([[0, 0], [100, 0]]), np.array([[0, 0], [300, 10.0]]))
    assert fit.sigma_m is None
    assert out_by_m(fit, np.array([[0.0, 0.0]])) is None


@pytest.mark.parametrize(
    ("kind", "px"),
    [
        ("similarity", [[5, 5]]),
        ("affine", [[0, 0], [9, 9]]),
        ("affine", [[0, 0], [5, 5], [9, 9]]),
        ("similarity", [[3, 3], [3, 3]]),
    ],
)
def test_points_that_cannot_fix_the_scan_are_refused(kind: str, px: list[list[int]]) -> None:
    """Too few points, points on a line, points in one place: the message names the file and what is needed."""
    px = np.array(px, float)
    with pytest.raises(InputFault, match=r"chart\.csv"):
        fit_scan("chart.csv", kind, tuple("abc"[: len(px)]), px, px)
