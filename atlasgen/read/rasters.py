"""Rasters of one quantity (elevations, depths): GeoTIFF and the other georeferenced grids that GDAL reads.

What a file leaves open stays open in the value: a unit or a vertical datum that is not stated is None, and whoever
uses the raster must say what was made of it. Missing cells are those that the file marks (no-data value, mask, alpha),
those that are no numbers, and, said apart, values that surveyors' programs use for "nothing here" without marking it.
"""

from __future__ import annotations

import warnings
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from atlasgen.errors import InputFault
from atlasgen.model import Problem
from atlasgen.model.rasters import Raster
from atlasgen.model.wording import say
from atlasgen.units import FATHOM_M, FOOT_M, grouped_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from pyproj import CRS
    from rasterio import Affine, DatasetReader

Bounds = tuple[float, float, float, float]

# Grids that hold values and a place. Pictures are left out, and so are formats that point to other files or servers.
_DRIVERS = (
    "GTiff", "AAIGrid", "GSAG", "GSBG", "GS7BG", "HFA", "ENVI", "EHdr", "SRTMHGT", "DTED", "USGSDEM", "BAG", "SAGA",
    "netCDF",
)  # fmt: skip
# Ours: 16 million cells are 64 MB as float32 and show 4 km at 1 m. What is larger is averaged down to this; reading
# more than the second figure to do so would take minutes.
MOST_CELLS = 16_000_000
REFUSED_CELLS = 2_000_000_000
# Written for "nothing here" by surveying programs that then forget to mark it (common practice, no source); no land
# and no bed on Earth lies there. Beyond the last figure there is no number of metres or feet either.
_UNMARKED = (-9999.0, -32767.0, -32768.0, -99999.0)
_ABSURD = 1e6
# Words for units as GDAL, EPSG and surveying programs write them. US survey foot: 1200/3937 m (NIST Handbook 44,
# Appendix C).
_UNIT_M = {
    1.0: ("m", "meter", "meters", "metre", "metres"),
    0.1: ("dm", "decimetre", "decimetres", "decimeter", "decimeters"),
    0.01: ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
    0.001: ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    FOOT_M: ("ft", "foot", "feet", "international foot", "foot (international)"),
    1200 / 3937: ("us survey foot", "ussurveyfoot", "foot_us", "us-ft", "ftus", "us foot"),
    FATHOM_M: ("fathom", "fathoms"),
}
_WORDS_M = {word: metres for metres, words in _UNIT_M.items() for word in words}
# Cells kept around the asked bounds, so that straight lines between cells reach up to them.
_MARGIN_CELLS = 2


class _Window(NamedTuple):
    """First column, first row, columns and rows of the part that is read."""

    column: int
    row: int
    width: int
    height: int


def read_raster(
    path: Path, name: str, *, around: Bounds | None = None, crs: str | None = None, most_cells: int = MOST_CELLS
) -> tuple[Raster, list[Problem]]:
    """Read the first band of a raster.

    Parameters
    ----------
    name
        What the file is called in messages.
    around
        West, south, east, north in degrees (WGS 84): only cells within, and a few beyond, are read.
    crs
        Used, and said, where the file names no coordinate system; anything PROJ understands.
    most_cells
        A part with more cells is averaged to about this many, which is said; one is picked of each group where the
        file marks no missing cells.

    Returns
    -------
        The raster, and what was met.

    Raises
    ------
    InputFault
        Not there, damaged, no grid of numbers, without a place on Earth, not near `around`, or absurdly large.
    """
    problems: list[Problem] = []
    with _opened(path, name) as dataset:
        _refuse_unusable(dataset, name)
        system, said = _system(dataset, name, crs)
        problems += said
        window = _window(dataset, name, system, around)
        thinned, said = _thinning(window, name, most_cells)
        problems += said
        values, said = _values(dataset, name, window, thinned)
        problems += said
        unit, unit_m, said = _unit(dataset, name, system)
        problems += said
        transform = _moved(dataset.transform, window, values.shape)
    horizontal, vertical = _split(system)
    return Raster(name, values, transform, horizontal, unit, unit_m, vertical), problems


def read_rasters(files: Iterable[tuple[Path, str]], around: Bounds | None) -> tuple[tuple[Raster, ...], list[Problem]]:
    """Read several rasters, in the order given; one that cannot be used becomes a problem, and the others are read."""
    rasters, problems = [], []
    for path, name in files:
        try:
            raster, said = read_raster(path, name, around=around)
        except InputFault as fault:
            problems.append(Problem(name, "unusable", f"{fault} {say('input-raster-not-used')}", "fault"))
        else:
            rasters.append(raster)
            problems += said
    return tuple(rasters), problems


def widened(bounds: Bounds, margin_m: float) -> Bounds:
    """Widen bounds in degrees by about so many metres to each side (a degree of latitude is 110.6 km or more)."""
    west, south, east, north = bounds
    high = margin_m / 110_500
    wide = high / max(np.cos(np.radians(max(abs(south), abs(north)))), 0.01)
    return (west - float(wide), max(south - high, -90.0), east + float(wide), min(north + high, 90.0))


@contextmanager
def _opened(path: Path, name: str) -> Iterator[DatasetReader]:
    """Open with the formats allowed; whatever GDAL objects to while it is open is a fault of the file."""
    import rasterio
    from rasterio.errors import NotGeoreferencedWarning, RasterioError

    if not path.is_file():
        raise InputFault(name, say("input-not-found"), say("input-a-raster"), say("input-put-it-there"))
    try:
        with warnings.catch_warnings():
            # Told by `_refuse_unusable` in words of our own.
            warnings.simplefilter("ignore", NotGeoreferencedWarning)
            with rasterio.Env(), first_that_opens(path, _DRIVERS) as dataset:
                yield dataset
    except (RasterioError, OSError, ValueError) as error:
        if isinstance(error, InputFault):
            raise
        reason = str(error.__cause__ or error).strip().rstrip(".").replace(str(path), name)
        raise InputFault(
            name,
            say("input-unread", error=reason or type(error).__name__),
            say("input-whole-geotiff"),
            say("input-export-geotiff"),
        ) from None


def first_that_opens(path: Path, drivers: Iterable[str]) -> DatasetReader:
    """Open with the first driver that knows the file; what a driver that nearly did says beats "not recognized".

    Raises
    ------
    RasterioIOError
        None of them takes it.
    """
    import rasterio
    from rasterio.errors import RasterioIOError

    failures = []
    for driver in drivers:
        try:
            return rasterio.open(path, driver=driver)
        except RasterioIOError as error:
            failures.append(str(error))
    raise RasterioIOError(
        next((text for text in failures if "not recognized" not in text), say("input-no-such-format"))
    )


def _refuse_unusable(dataset: DatasetReader, name: str) -> None:
    if dataset.count == 0:
        raise InputFault(name, say("input-no-band"), say("input-one-band"), say("input-export-band"))
    if "complex" in dataset.dtypes[0]:
        raise InputFault(
            name,
            say("input-values-of-type", type=dataset.dtypes[0]),
            say("input-plain-numbers"),
            say("input-export-geotiff"),
        )
    meaning = dataset.colorinterp[0].name
    if meaning in ("red", "palette"):
        raise InputFault(name, say("input-coloured"), say("input-grid"), say("input-export-values"))
    if dataset.transform.is_identity or dataset.transform.is_degenerate:
        placed = say("input-placed-by-points") if dataset.gcps[0] else say("input-not-placed")
        raise InputFault(name, placed, say("input-raster-with-place"), say("input-warp-it"))


def _system(dataset: DatasetReader, name: str, given: str | None) -> tuple[CRS, list[Problem]]:
    """Coordinate system of the file, or the one given for files that name none."""
    from pyproj import CRS
    from pyproj.exceptions import CRSError

    said = []
    words = dataset.crs.to_wkt() if dataset.crs else given
    if not words:
        raise InputFault(name, say("input-names-no-crs"), say("input-raster-that-does"), say("input-set-crs"))
    try:
        system = CRS.from_user_input(words)
    except CRSError as error:
        raise InputFault(
            name,
            say("input-crs-error", crs=f"{words[:80]!r}", error=f"{error}")[:300],
            say("input-one-proj-knows"),
            say("input-export-geotiff"),
        ) from None
    if not dataset.crs:
        said.append(Problem(name, "ambiguous", say("input-crs-from-survey", crs=given)))
    horizontal = system.sub_crs_list[0] if system.is_compound else system
    if not (horizontal.is_geographic or horizontal.is_projected):
        raise InputFault(
            name,
            say("input-crs-named", crs=f"{system.name!r}"),
            say("input-degrees-or-projection"),
            say("input-warp-to-named"),
        )
    return system, said


def _split(system: CRS) -> tuple[str, str | None]:
    """WKT of the horizontal part, and the name of what heights count from."""
    if system.is_compound:
        flat, upright = system.sub_crs_list[:2]
        return flat.to_wkt(), upright.name
    if len(system.axis_info) == 3:
        return system.to_2d().to_wkt(), "ellipsoid"
    return system.to_wkt(), None


def _window(dataset: DatasetReader, name: str, system: CRS, around: Bounds | None) -> _Window:
    """Cells that hold `around` and a margin, cut at the raster's edge."""
    from pyproj import Transformer

    whole = _Window(0, 0, dataset.width, dataset.height)
    if around is None:
        return whole
    flat = system.sub_crs_list[0] if system.is_compound else system
    west, south, east, north = around
    x, y = np.meshgrid(np.linspace(west, east, 9), np.linspace(south, north, 9))
    x, y = Transformer.from_crs("EPSG:4326", flat, always_xy=True).transform(x.ravel(), y.ravel())
    column, row = ~dataset.transform * (np.asarray(x), np.asarray(y))
    near = np.isfinite(column) & np.isfinite(row)
    if not near.any():
        raise InputFault(name, say("input-not-reaching"), say("input-covering"), say("input-is-its-crs-right"))
    first = np.floor([column[near].min(), row[near].min()]) - _MARGIN_CELLS
    last = np.ceil([column[near].max(), row[near].max()]) + _MARGIN_CELLS
    size = (dataset.width, dataset.height)
    (c0, r0), (c1, r1) = np.clip(first, 0, size).astype(int).tolist(), np.clip(last, 0, size).astype(int).tolist()
    if c1 <= c0 or r1 <= r0:
        raise InputFault(name, say("input-not-reaching"), say("input-covering"), say("input-is-its-crs-right"))
    return _Window(c0, r0, c1 - c0, r1 - r0)


def _thinning(window: _Window, name: str, most_cells: int) -> tuple[int, list[Problem]]:
    """How many cells, to each side, are averaged into one."""
    cells = window.width * window.height
    size = f"{window.width} by {window.height} cells"
    if cells > REFUSED_CELLS:
        raise InputFault(
            name,
            size,
            say("input-at-most-cells", count=grouped_words(REFUSED_CELLS)),
            say("input-cut-raster"),
        )
    if cells <= most_cells:
        return 1, []
    thinned = int(np.ceil(np.sqrt(cells / most_cells)))
    words = say("input-cells-thinned", size=size, most=grouped_words(most_cells), by=thinned)
    return thinned, [Problem(name, "too_large", words)]


def _values(dataset: DatasetReader, name: str, window: _Window, thinned: int) -> tuple[np.ndarray, list[Problem]]:
    """Read the band with scale and offset applied, NaN where nothing is known."""
    from rasterio.enums import Resampling
    from rasterio.windows import Window

    shape = (-(-window.height // thinned), -(-window.width // thinned))
    band = dataset.read(
        1,
        window=Window(window.column, window.row, window.width, window.height),
        out_shape=shape,
        # Where missing cells may not be marked, an average would mix their figures into the others.
        resampling=Resampling.average if thinned > 1 and dataset.nodata is not None else Resampling.nearest,
        masked=True,
    )
    # Damaged files hold patterns of bits that are no numbers; numpy warns of them, here they are missing cells.
    with np.errstate(invalid="ignore", over="ignore"):
        raw = np.asarray(band.filled(0) if band.dtype.kind in "iub" else band.filled(np.nan), np.float64)
        known = ~np.ma.getmaskarray(band) & np.isfinite(raw)
        absurd = np.abs(raw) > _ABSURD * max(1.0, 1 / abs(dataset.scales[0] or 1))
    unmarked = known & (np.isin(raw, _UNMARKED) | absurd)
    problems = _said_of_bands(dataset, name)
    if unmarked.any():
        words = ", ".join(f"{value:g}" for value in np.unique(raw[unmarked])[:3].tolist())
        text = say("input-unmarked", count=grouped_words(int(unmarked.sum())), value=words)
        problems.append(Problem(name, "ambiguous", text))
    known &= ~unmarked
    if not known.any():
        raise InputFault(name, say("input-no-cell"), say("input-values-near"), say("input-does-it-cover"))
    values = np.where(known, raw * dataset.scales[0] + dataset.offsets[0], np.nan)
    return values.astype(np.float32), problems


def _said_of_bands(dataset: DatasetReader, name: str) -> list[Problem]:
    """Say when there are more bands of values than the one that is read; a last alpha band is a mask."""
    bands = [colour.name for colour in dataset.colorinterp].count("alpha")
    if dataset.count - bands <= 1:
        return []
    return [Problem(name, "ambiguous", say("input-bands", count=dataset.count - bands))]


def _unit(dataset: DatasetReader, name: str, system: CRS) -> tuple[str | None, float | None, list[Problem]]:
    """Return the unit in the file's word and in metres: the band's own, else that of the vertical coordinate system."""
    word = (dataset.units[0] or "").strip()
    if not word and system.is_compound:
        axis = system.sub_crs_list[1].axis_info[0]
        return axis.unit_name, float(axis.unit_conversion_factor), []
    if not word:
        return None, None, []
    unit_m = _WORDS_M.get(word.casefold())
    if unit_m is not None:
        return word, unit_m, []
    return (
        word,
        None,
        [Problem(name, "ambiguous", say("input-raster-unit", unit=f"{word!r}"))],
    )


def _moved(
    transform: Affine, window: _Window, shape: tuple[int, ...]
) -> tuple[float, float, float, float, float, float]:
    """Carry the transform over to the window and its thinned cells."""
    a, b, c, d, e, f = transform[:6]
    across, down = window.width / shape[1], window.height / shape[0]
    corner_x, corner_y = a * window.column + b * window.row + c, d * window.column + e * window.row + f
    return (a * across, b * down, corner_x, d * across, e * down, corner_y)
