"""Layers that the crew gives beside its own survey: images of the drawn-down lake and historic charts."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Literal

from atlasgen.model.layer_tiles import DEFAULT_TILES_MB

if TYPE_CHECKING:
    import numpy as np
    from shapely import MultiLineString, MultiPolygon, Polygon

LayerKind = Literal["air photo", "satellite image", "historic chart", "sonar mosaic"]
# Kinds that show the edge of the water, and the picture that a sonar made.
IMAGES: tuple[LayerKind, ...] = ("air photo", "satellite image")
MOSAIC: LayerKind = "sonar mosaic"
FitKind = Literal["similarity", "affine"]


@dataclass(frozen=True, slots=True)
class LayerRule:
    """One `[[layer]]` of survey.toml; file names are relative to the survey folder, `tiles_mb` what tiles may weigh."""

    file: str
    kind: LayerKind
    title: str
    date: date | None = None
    stage_m: float | None = None
    control: str | None = None
    fit: FitKind = "similarity"
    waterline: str | None = None
    tiles_mb: float = DEFAULT_TILES_MB


@dataclass(frozen=True, slots=True)
class ControlPoints:
    """Points known in a scan and on the ground: `col_px` to the right and `row_px` down from the top left corner."""

    names: tuple[str, ...]
    col_px: np.ndarray
    row_px: np.ndarray
    lon_deg: np.ndarray
    lat_deg: np.ndarray


@dataclass(frozen=True, slots=True)
class LayerFile:
    """A layer as its files tell it. `outline` (WGS 84) where the file itself says where it lies."""

    rule: LayerRule
    width_px: int
    height_px: int
    outline: Polygon | None = None
    control: ControlPoints | None = None
    waterline: MultiLineString | None = None


@dataclass(frozen=True, slots=True)
class ScanFit:
    """A scan laid on the ground by least squares; centred, so that far-off origins cost no digits.

    A place (`col`, `row`) of the scan lies at `centre_m` + `matrix` x ((col, -row) - `centre_px`), metric.
    `residuals_m` (n, 2) is ground minus fit at each control point, `rmse_m` the root of the mean squared length of
    these. `sigma_m`, the standard error of one coordinate of one control point, allows for what the fit itself used
    up; it is None where nothing is left over, so that the points cannot check each other. `spread` (k, k) gives the
    share of it that a place inherits (see `measure.registration.out_by_m`).
    """

    kind: FitKind
    names: tuple[str, ...]
    centre_px: np.ndarray
    centre_m: np.ndarray
    matrix: np.ndarray
    residuals_m: np.ndarray
    rmse_m: float
    sigma_m: float | None
    spread: np.ndarray


@dataclass(frozen=True, slots=True)
class Departure:
    """How far an image's own waterline lies from the model's depth line of that stage.

    `compared_m` of its `length_m` lie where the model knows the depth; of these, half lie within `median_m` and 95 %
    within `p95_m` of the model's line.
    """

    length_m: float
    compared_m: float
    median_m: float
    p95_m: float


@dataclass(frozen=True, slots=True)
class HistoricLayer:
    """A layer placed on the lake. Geometry is metric.

    `stage_m` is None where neither survey.toml nor the stage record tells it. `looks_m`: the image shows the bed dry
    out to this depth below datum; None for charts, for images at or above the datum, and where the stage is unknown.
    `waterline` is the model's depth line there. `reaches` are those it covers.
    """

    file: str
    kind: LayerKind
    title: str
    date: date | None
    stage_m: float | None
    stage_from: str
    area: MultiPolygon
    fit: ScanFit | None
    looks_m: float | None
    waterline: MultiLineString | None
    departure: Departure | None
    reaches: tuple[str, ...]
