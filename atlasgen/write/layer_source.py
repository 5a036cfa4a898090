"""Reads any part of a picture of the bed as RGBA of eight bits: photos, scans with palettes, mosaics of one band."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from atlasgen.read.history import IMAGE_DRIVERS
from atlasgen.read.rasters import first_that_opens

if TYPE_CHECKING:
    from rasterio import DatasetReader
    from rasterio.windows import Window

# A look over the whole picture, for its stretch and for where it shows anything, takes so many pixels a side.
OVERVIEW_PX = 600
# Values beyond these shares of an overview are drawn white and black where a band is not of eight bits. Ours.
_STRETCH = (0.02, 0.98)


class Affine6(NamedTuple):
    """Leads from column and row to map places: x = a col + b row + c, y = d col + e row + f."""

    a: float
    b: float
    c: float
    d: float
    e: float
    f: float


@dataclass(frozen=True, slots=True)
class LayerSource:
    """A picture on disk and where it lies: `transform` leads to places of `crs` (WKT or PROJ text), x before y.

    `stretch` are the values drawn black and white; None where they are bytes already, or colours of a palette.
    """

    path: Path
    file: str
    crs: str
    transform: Affine6
    width_px: int
    height_px: int
    stretch: tuple[float, float] | None = None


@contextmanager
def opened(path: Path) -> Iterator[DatasetReader]:
    """Open a picture with the formats allowed; where it lies is told by `LayerSource`, not by the file."""
    import warnings

    import rasterio
    from rasterio.errors import NotGeoreferencedWarning

    with warnings.catch_warnings():
        warnings.simplefilter("ignore", NotGeoreferencedWarning)
        # A small cache is enough, every part is read once a zoom. A JPEG that ends early would otherwise be half grey.
        environment = rasterio.Env(GDAL_CACHEMAX=64, GDAL_ERROR_ON_LIBJPEG_WARNING=True)
        with environment, first_that_opens(path, IMAGE_DRIVERS) as dataset:
            _refuse_cut_short(path, dataset.driver)
            yield dataset


def _refuse_cut_short(path: Path, driver: str) -> None:
    """Refuse a PNG without its last chunk, which GDAL reads as if the rest were blank."""
    from rasterio.errors import RasterioIOError

    with path.open("rb") as file:
        file.seek(max(path.stat().st_size - 64, 0))
        if driver == "PNG" and b"IEND" not in file.read():
            raise RasterioIOError("the file ends early")


def stretch_of(dataset: DatasetReader) -> tuple[float, float] | None:
    """Return the values to draw black and white; None for bytes."""
    if dataset.dtypes[0] == "uint8":
        bits = dataset.tags(1, ns="IMAGE_STRUCTURE").get("NBITS")
        return None if bits is None or bits == "8" or _palette(dataset) else (0.0, float(2 ** int(bits) - 1))
    bands = _colour_bands(dataset)
    values = dataset.read(bands, out_shape=(len(bands), *_overview(dataset)), masked=True).astype("float64")
    known = values.compressed()
    known = known[np.isfinite(known)]
    low, high = np.quantile(known, _STRETCH).tolist() if known.size else (0.0, 1.0)
    return low, max(high, low + 1e-9)


def shown_mask(dataset: DatasetReader) -> np.ndarray:
    """Return where a picture shows anything, True or False, on a coarse grid over the whole of it."""
    return dataset.dataset_mask(out_shape=_overview(dataset)) > 0


def read_rgba(dataset: DatasetReader, source: LayerSource, window: Window, shape: tuple[int, int]) -> np.ndarray:
    """Read a window of a picture, thinned to `shape` (rows, columns): (4, rows, columns) of bytes, last alpha."""
    from rasterio.enums import Resampling

    alpha = dataset.dataset_mask(window=window, out_shape=shape)
    if palette := _palette(dataset):
        index = dataset.read(1, window=window, out_shape=shape)
        table = np.array([palette.get(value, (0, 0, 0, 0)) for value in range(256)], dtype=np.uint8)
        colours = table[index].transpose(2, 0, 1)
        return np.concatenate([colours[:3], np.minimum(colours[3:], alpha[None])])
    bands = _colour_bands(dataset)
    values = dataset.read(bands, window=window, out_shape=(len(bands), *shape), resampling=Resampling.average)
    grey = _bytes(values, source.stretch)
    known = alpha if values.dtype.kind in "iub" else np.where(np.isfinite(values).all(axis=0), alpha, 0)
    return np.concatenate([np.broadcast_to(grey, (3, *shape)), known[None].astype(np.uint8)])


def _overview(dataset: DatasetReader) -> tuple[int, int]:
    thinned = max(1.0, max(dataset.shape) / OVERVIEW_PX)
    return max(1, round(dataset.height / thinned)), max(1, round(dataset.width / thinned))


def _palette(dataset: DatasetReader) -> dict[int, tuple[int, int, int, int]] | None:
    return dataset.colormap(1) if dataset.colorinterp[0].name == "palette" else None


def _colour_bands(dataset: DatasetReader) -> list[int]:
    """Return red, green and blue, or the one band there is; two bands are a grey one and its alpha."""
    colours = [band for band, kind in enumerate(dataset.colorinterp, 1) if kind.name != "alpha"]
    return colours[:3] if len(colours) >= 3 else colours[:1] or [1]


def _bytes(values: np.ndarray, stretch: tuple[float, float] | None) -> np.ndarray:
    if stretch is None:
        return values
    low, high = stretch
    with np.errstate(invalid="ignore"):
        part = np.clip((np.nan_to_num(values.astype("float32")) - low) / (high - low), 0, 1)
    return np.rint(255 * part).astype(np.uint8)
