"""Lays a scanned chart on the ground from control points: similarity or affine, least squares.

Both are solved about the middle of the points: a metric origin millions of metres away would otherwise cost the last
digits of the translation (IOGP Guidance Note 7-2 gives both transformations, EPSG 9621 and 9624).
"""

from __future__ import annotations

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model.history import FitKind, ScanFit

LEAST_POINTS: dict[FitKind, int] = {"similarity": 2, "affine": 3}
# Points all on a line, or all in one place, leave the other direction open; ours: a thousandth of their spread.
_FLAT = 1e-3


def fit_scan(file: str, kind: FitKind, names: tuple[str, ...], col_row_px: np.ndarray, xy_m: np.ndarray) -> ScanFit:
    """Fit a scan to the ground.

    Parameters
    ----------
    col_row_px
        (n, 2), to the right and down from the scan's top left corner.
    xy_m
        (n, 2), the same points on the ground, metric, x east and y north.

    Raises
    ------
    InputFault
        Too few points, or points that lie on a line where an affine fit needs a triangle.
    """
    if len(names) < LEAST_POINTS[kind]:
        raise InputFault(
            file, f"{len(names)} control points", f"{LEAST_POINTS[kind]} or more", f"A {kind} fit needs them."
        )
    right_up = np.asarray(col_row_px, float) * (1.0, -1.0)
    centre_px, centre_m = right_up.mean(axis=0), np.asarray(xy_m, float).mean(axis=0)
    from_px, to_m = right_up - centre_px, xy_m - centre_m
    _check_spread(file, kind, from_px)
    design = _design(kind, from_px)
    solved = np.linalg.lstsq(design, to_m.ravel(), rcond=None)[0]
    matrix = _matrix(kind, solved)
    residuals = to_m - from_px @ matrix.T
    spare = to_m.size - (4 if kind == "similarity" else 6)
    squared = float((residuals**2).sum())
    return ScanFit(
        kind=kind,
        names=names,
        centre_px=centre_px,
        centre_m=centre_m,
        matrix=matrix,
        residuals_m=residuals,
        rmse_m=float(np.sqrt(squared / len(names))),
        sigma_m=float(np.sqrt(squared / spare)) if spare > 0 else None,
        spread=np.linalg.inv(design.T @ design),
    )


def to_ground(fit: ScanFit, col_row_px: np.ndarray) -> np.ndarray:
    """Where places of the scan (n, 2) lie on the ground, metric (n, 2)."""
    return fit.centre_m + (np.asarray(col_row_px, float) * (1.0, -1.0) - fit.centre_px) @ fit.matrix.T


def to_scan(fit: ScanFit, xy_m: np.ndarray) -> np.ndarray:
    """Where places on the ground (n, 2) lie in the scan: column and row, pixels."""
    return ((np.asarray(xy_m, float) - fit.centre_m) @ np.linalg.inv(fit.matrix).T + fit.centre_px) * (1.0, -1.0)


def out_by_m(fit: ScanFit, xy_m: np.ndarray) -> np.ndarray | None:
    """By how much the scan is out at places on the ground, metres: root mean square distance, None where unknown.

    The error of a single point of the chart and that of the fit there; the second grows away from the control points.
    """
    if fit.sigma_m is None:
        return None
    right_up = to_scan(fit, xy_m) * (1.0, -1.0) - fit.centre_px
    rows = _design(fit.kind, right_up).reshape(len(right_up), 2, -1)
    fitted = np.einsum("nik,kl,nil->n", rows, fit.spread, rows) + 2 / len(fit.names)
    return fit.sigma_m * np.sqrt(2 + fitted)


def _check_spread(file: str, kind: FitKind, from_px: np.ndarray) -> None:
    least, most = sorted(np.linalg.svd(from_px, compute_uv=False))[0], np.abs(from_px).max()
    if most == 0 or (kind == "affine" and least <= _FLAT * most):
        raise InputFault(
            file,
            "control points on one line" if most else "control points all in one place",
            "points spread over the scan",
            'Add points away from that line, or choose fit = "similarity".',
        )


def _design(kind: FitKind, from_px: np.ndarray) -> np.ndarray:
    """Rows x, y, x, y, ... of the observation equations, without the translation that centring takes out."""
    x, y = from_px.T
    if kind == "similarity":
        return np.stack([np.stack([x, -y], axis=1), np.stack([y, x], axis=1)], axis=1).reshape(-1, 2)
    none = np.zeros_like(x)
    return np.stack([np.stack([x, y, none, none], axis=1), np.stack([none, none, x, y], axis=1)], axis=1).reshape(-1, 4)


def _matrix(kind: FitKind, solved: np.ndarray) -> np.ndarray:
    if kind == "similarity":
        along, across = solved
        return np.array([[along, -across], [across, along]])
    return solved.reshape(2, 2)
