"""Cuts one picture of the bed into the web atlas's tiles, zoom after zoom, as far as its budget goes.

Work is done in blocks of tiles, each a pure function of the picture and its place, so that memory is bounded by the
block, whatever the picture's size, and blocks can be spread over processes.
"""

from __future__ import annotations

import hashlib
import io
import shutil
from collections.abc import Sequence
from concurrent.futures import Executor
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from atlasgen.errors import fault_text
from atlasgen.model import Problem, Progress
from atlasgen.model.layer_tiles import TileFile
from atlasgen.workers import run_all
from atlasgen.write.layer_source import LayerSource, opened, read_rgba
from atlasgen.write.tile_scheme import CRS, TILE_PX, blocks, mercator, pixel_m, tile_bounds_m, tiles_over, whole_zoom

if TYPE_CHECKING:
    from shapely import MultiPolygon

# Four by four tiles are 4 MB of pixels; of the source at most four times as many are read at once. Ours.
BLOCK = 4
_MARGIN_PX = 3
# WebP: of lossy at this quality and lossless the smaller is taken; photos want the one, scans and charts the other.
_QUALITY = 80
_NEXT = "Export it again as GeoTIFF or PNG, or take its [[layer]] out of survey.toml."


@dataclass(frozen=True, slots=True)
class BlockJob:
    """A block of tiles to cut: `wanted` are (column, row), within `columns` and `rows`; None as `folder` only reads."""

    source: LayerSource
    zoom: int
    columns: range
    rows: range
    wanted: frozenset[tuple[int, int]]
    folder: Path | None

    @property
    def file(self) -> str:
        """What the picture is called in messages."""
        return self.source.file


def cut_tiles(
    source: LayerSource,
    region: MultiPolygon,
    finest: int,
    least: int,
    budget_bytes: float,
    folder: Path | None,
    executor: Executor,
    progress: Progress,
) -> tuple[TileFile, ...] | Problem:
    """Cut a picture from the zoom at which all of it is one tile to `finest`, or as far as the budget goes.

    Parameters
    ----------
    region
        Where tiles are wanted, WGS 84.
    least
        The coarsest zoom that the map can show.
    budget_bytes
        What the tiles may weigh together; the coarsest zoom is cut whatever it weighs.
    folder
        Gets the files ZOOM/X/Y.webp; with None only the coarsest zoom is read and nothing is written.

    Returns
    -------
        The files, by zoom, column and row, or why the picture cannot be read.
    """
    tiles: list[TileFile] = []
    coarsest = min(whole_zoom(region.bounds, least), finest)
    for zoom in range(coarsest, (finest if folder else coarsest) + 1):
        found = _cut_zoom(source, region, zoom, folder, executor, progress)
        if isinstance(found, Problem):
            return found
        if tiles and sum(tile.size_bytes for tile in (*tiles, *found)) > budget_bytes:
            shutil.rmtree(folder / str(zoom)) if folder and found else None
            break
        tiles += found
    return tuple(tiles)


def _cut_zoom(
    source: LayerSource, region: MultiPolygon, zoom: int, folder: Path | None, executor: Executor, progress: Progress
) -> list[TileFile] | Problem:
    jobs = list(block_jobs(source, region, zoom, folder))
    found: list[TileFile] = []
    for result in run_all(executor, cut_block, jobs, progress, f"cutting {source.file}"):
        if isinstance(result, Problem):
            return result if result.code == "unusable" else _given_up(source.file)
        found += result
    return sorted(found, key=lambda tile: (tile.x, tile.y))


def _given_up(file: str) -> Problem:
    """Say of a picture what `run_all` says of a photo: its process was ended, or did not come back."""
    why = "the process that cut it was ended from outside or did not come back in time"
    message = fault_text(file, why, "a picture that can be read in the memory and time there is", _NEXT)
    return Problem(file, "unusable", message, "fault")


def block_jobs(source: LayerSource, region: MultiPolygon, zoom: int, folder: Path | None) -> Sequence[BlockJob]:
    """Return the blocks of one zoom that hold a tile touching the region."""
    import shapely

    flat = shapely.transform(region, lambda lonlat: np.array([mercator(*place) for place in lonlat.tolist()]))
    shapely.prepare(flat)
    jobs = []
    for columns, rows in blocks(*tiles_over(region.bounds, zoom), BLOCK):
        places = [(x, y) for x in columns for y in rows]
        boxes = shapely.box(*np.array([tile_bounds_m(zoom, x, y) for x, y in places]).T)
        touched = shapely.intersects(flat, boxes).tolist()
        wanted = frozenset(place for place, touches in zip(places, touched, strict=True) if touches)
        if wanted:
            jobs.append(BlockJob(source, zoom, columns, rows, wanted, folder))
    return jobs


def cut_block(job: BlockJob) -> tuple[TileFile, ...] | Problem:
    """Cut one block; a picture that cannot be read there is a `Problem`.

    Raises
    ------
    OSError
        A tile cannot be written.
    """
    from rasterio.errors import RasterioError

    try:
        pixels = block_pixels(job)
    except (RasterioError, ValueError, MemoryError) as error:
        reason = str(error.__cause__ or error).replace(str(job.source.path), job.file).strip().rstrip(".")
        why = f"the picture cannot be read ({reason or type(error).__name__})"
        return Problem(job.file, "unusable", f"{fault_text(job.file, why, 'a whole picture', _NEXT)}", "fault")
    if pixels is None:
        return ()
    tiles = []
    for x, y in sorted(job.wanted):
        col, row = TILE_PX * (x - job.columns.start), TILE_PX * (y - job.rows.start)
        tile = pixels[:, row : row + TILE_PX, col : col + TILE_PX]
        if tile[3].any():
            tiles.append(_written(encoded(tile), job, x, y))
    return tuple(tiles)


def block_pixels(job: BlockJob) -> np.ndarray | None:
    """Return a block's pixels (4, rows, columns) in the web's projection; None where the picture does not reach it."""
    from rasterio import Affine
    from rasterio.enums import Resampling
    from rasterio.warp import reproject

    west, _, _, north = tile_bounds_m(job.zoom, job.columns.start, job.rows.start)
    size, shape = pixel_m(job.zoom), (TILE_PX * len(job.rows), TILE_PX * len(job.columns))
    to = Affine(size, 0, west, 0, -size, north)
    window = _window(job.source, to, shape)
    if window is None:
        return None
    # At most two pixels of the source to one of the tile: the rest is thinned while it is read.
    thinned = [max(1.0, have / (2 * want)) for have, want in ((window.height, shape[0]), (window.width, shape[1]))]
    read = (max(1, round(window.height / thinned[0])), max(1, round(window.width / thinned[1])))
    with opened(job.source.path) as dataset:
        pixels = read_rgba(dataset, job.source, window, read)
    step = Affine.scale(window.width / read[1], window.height / read[0])
    from_ = Affine(*job.source.transform) * Affine.translation(window.col_off, window.row_off) * step
    cut = np.zeros((4, *shape), dtype=np.uint8)
    reproject(
        pixels, cut, src_transform=from_, src_crs=job.source.crs, dst_transform=to, dst_crs=CRS,
        resampling=Resampling.bilinear, src_alpha=4, dst_alpha=4, num_threads=1,
    )  # fmt: skip
    return cut


def _window(source: LayerSource, to, shape: tuple[int, int]):
    """Return the part of the source under a block, None where there is none."""
    from pyproj import Transformer
    from rasterio import Affine
    from rasterio.windows import Window

    col, row = np.meshgrid(np.linspace(0, shape[1], 9), np.linspace(0, shape[0], 9))
    x, y = to * (col.ravel(), row.ravel())
    x, y = Transformer.from_crs(CRS, source.crs, always_xy=True).transform(x, y)
    col, row = ~Affine(*source.transform) * (np.asarray(x), np.asarray(y))
    there = np.isfinite(col) & np.isfinite(row)
    if not there.any():
        return None
    margin = _MARGIN_PX * max(1.0, float(np.ptp(col[there])) / shape[1], float(np.ptp(row[there])) / shape[0])
    first = np.floor(np.array([col[there].min(), row[there].min()]) - margin)
    last = np.ceil(np.array([col[there].max(), row[there].max()]) + margin)
    whole = (source.width_px, source.height_px)
    (c0, r0), (c1, r1) = (np.clip(ends, 0, whole).astype(int).tolist() for ends in (first, last))
    return Window(c0, r0, c1 - c0, r1 - r0) if c1 > c0 and r1 > r0 else None


def encoded(pixels: np.ndarray) -> bytes:
    """Return a tile (4, rows, columns) as WebP, lossy or lossless, whichever is smaller."""
    from PIL import Image

    clear = bool((pixels[3] == 255).all())
    image = Image.fromarray(np.ascontiguousarray(pixels[: 3 if clear else 4].transpose(1, 2, 0)))
    return min((_webp(image, lossless=False, quality=_QUALITY), _webp(image, lossless=True, quality=20)), key=len)


def _webp(image, *, lossless: bool, quality: int) -> bytes:
    # Without loss, quality is effort: at these it takes a quarter of the time and gives up 7 % (measured).
    stream = io.BytesIO()
    image.save(stream, "WEBP", lossless=lossless, quality=quality, method=2 if lossless else 4)
    return stream.getvalue()


def _written(data: bytes, job: BlockJob, x: int, y: int) -> TileFile:
    if job.folder is not None:
        path = job.folder / str(job.zoom) / str(x) / f"{y}.webp"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    return TileFile(job.zoom, x, y, len(data), hashlib.sha256(data).hexdigest())
