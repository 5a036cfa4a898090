"""Cutting a picture of the bed into tiles: where its pixels land, what is written, what a budget leaves away."""

from __future__ import annotations

import io
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest
import rasterio
from PIL import Image
from pyproj import Transformer
from rasterio import Affine
from shapely import box

from atlasgen.model import Problem
from atlasgen.pipeline import silent
from atlasgen.write.layer_source import Affine6, LayerSource, opened, read_rgba, shown_mask, stretch_of
from atlasgen.write.layer_tiles import cut_tiles, encoded
from atlasgen.write.tile_scheme import HALF_M, TILE_PX, pixel_m

UTM = "EPSG:32614"
WEST_M, NORTH_M, SIZE_M = 560_000.0, 3_500_000.0, 2.0
ROWS = COLS = 300  # 600 m


def lonlat_bounds():
    """Return where the pictures of these tests lie, WGS 84."""
    to = Transformer.from_crs(UTM, "EPSG:4326", always_xy=True)
    return box(*to.transform_bounds(WEST_M, NORTH_M - ROWS * SIZE_M, WEST_M + COLS * SIZE_M, NORTH_M))


def write_image(path: Path, bands: np.ndarray, **profile) -> LayerSource:
    """Write a GeoTIFF of bands (count, rows, columns)."""
    to = Affine(SIZE_M, 0, WEST_M, 0, -SIZE_M, NORTH_M)
    profile = {"driver": "GTiff", "count": len(bands), "dtype": bands.dtype, "crs": UTM, "transform": to} | profile
    with rasterio.open(path, "w", width=bands.shape[2], height=bands.shape[1], **profile) as file:
        file.write(bands)
    with opened(path) as dataset:
        place = Affine6(*to[:6])
        return LayerSource(path, path.name, UTM, place, dataset.width, dataset.height, stretch_of(dataset))


def cut(source: LayerSource, folder: Path | None, *, finest: int = 17, budget: float = 1e9, region=None):
    """Cut with threads in the place of processes."""
    with ThreadPoolExecutor(2) as executor:
        return cut_tiles(source, region or lonlat_bounds(), finest, 8, budget, folder, executor, silent)


def mosaic(folder: Path, zoom: int) -> tuple[np.ndarray, int, int]:
    """Lay the tiles of one zoom together: RGBA, and the pixel column and row of its corner in the whole world."""
    files = {(int(p.parent.name), int(p.stem)): p for p in (folder / str(zoom)).rglob("*.webp")}
    x0, y0 = (min(values) for values in zip(*files, strict=True))
    x1, y1 = (max(values) for values in zip(*files, strict=True))
    whole = np.zeros((TILE_PX * (y1 - y0 + 1), TILE_PX * (x1 - x0 + 1), 4), dtype=np.uint8)
    for (x, y), path in files.items():
        tile = np.asarray(Image.open(path).convert("RGBA"))
        whole[TILE_PX * (y - y0) :, TILE_PX * (x - x0) :][:TILE_PX, :TILE_PX] = tile
    return whole, x0 * TILE_PX, y0 * TILE_PX


@pytest.mark.parametrize("zoom", [15, 16, 17])
def test_a_mark_lands_at_its_place_within_one_pixel(tmp_path, zoom):
    """A bright square of three pixels on grey, at a known place of the map, is found there in the tiles."""
    bands = np.full((3, ROWS, COLS), 90, dtype=np.uint8)
    bands[0, 219:222, 77:80] = 255
    source = write_image(tmp_path / "photo.tif", bands)
    cut(source, tmp_path / "tiles", finest=zoom)
    whole, col0, row0 = mosaic(tmp_path / "tiles", zoom)
    bright = np.clip(whole[..., 0].astype(float) - 100, 0, None)
    row, col = np.indices(bright.shape)
    found = np.array([(col * bright).sum(), (row * bright).sum()]) / bright.sum() + 0.5 + (col0, row0)
    x, y = Transformer.from_crs(UTM, "EPSG:3857", always_xy=True).transform(
        WEST_M + 78.5 * SIZE_M, NORTH_M - 220.5 * SIZE_M
    )
    wanted = np.array([x + HALF_M, HALF_M - y]) / pixel_m(zoom)
    assert np.abs(found - wanted).max() < 1.0


def test_nothing_is_written_where_the_picture_shows_nothing(tmp_path):
    """Tiles beyond the picture and within its empty half are left away; half-empty ones are clear there."""
    bands = np.full((4, ROWS, COLS), 120, dtype=np.uint8)
    bands[3] = np.where(np.arange(COLS) < 150, 255, 0)
    source = write_image(tmp_path / "mosaic.tif", bands, photometric="RGB", alpha="yes")
    region = box(*lonlat_bounds().buffer(0.005).bounds)
    tiles = cut(source, tmp_path / "tiles", region=region)
    written = sorted(path.relative_to(tmp_path / "tiles").as_posix() for path in (tmp_path / "tiles").rglob("*.webp"))
    assert written == sorted(f"{tile.zoom}/{tile.x}/{tile.y}.webp" for tile in tiles)
    assert 4 < sum(tile.zoom == 17 for tile in tiles) <= 12
    whole, _, _ = mosaic(tmp_path / "tiles", 17)
    shown = whole[..., 3] > 127
    ground_m = pixel_m(17) * np.cos(np.radians(lonlat_bounds().centroid.y))
    assert shown.sum() * ground_m**2 == pytest.approx(300 * 600, rel=0.01)
    assert abs(whole[shown][:, :3].astype(int) - 120).max() <= 3


def test_the_finest_zooms_give_way_to_the_budget(tmp_path):
    """What does not fit is not left behind; the coarsest zoom is always there."""
    noise = np.random.default_rng(1).integers(0, 255, (3, ROWS // 2, COLS // 2), dtype=np.uint8)
    source = write_image(tmp_path / "noise.tif", noise)
    whole = cut(source, tmp_path / "whole")
    weight = {zoom: sum(t.size_bytes for t in whole if t.zoom <= zoom) for zoom in {tile.zoom for tile in whole}}
    less = cut(source, tmp_path / "less", budget=weight[16] + 10)
    assert max(tile.zoom for tile in less) == 16
    assert less == tuple(tile for tile in whole if tile.zoom <= 16)
    assert {path.name for path in (tmp_path / "less").iterdir()} == {f"{z}" for z in weight if z <= 16}
    assert {tile.zoom for tile in cut(source, tmp_path / "least", budget=1)} == {min(weight)}


def test_two_cuts_are_the_same_bytes(tmp_path):
    """Hashes and sizes stand for the files, and do not change from run to run."""
    noise = np.random.default_rng(2).integers(0, 255, (1, ROWS, COLS), dtype=np.uint8)
    source = write_image(tmp_path / "grey.tif", noise)
    assert cut(source, tmp_path / "one", finest=16) == cut(source, tmp_path / "two", finest=16)


def test_a_palette_becomes_its_colours(tmp_path):
    """A scan with a palette is not averaged by the numbers of its colours."""
    bands = np.where(np.arange(COLS) < 150, 0, 200)[None, None].repeat(ROWS, 1).astype(np.uint8)
    source = write_image(tmp_path / "scan.tif", bands, photometric="palette")
    with rasterio.open(source.path, "r+") as file:
        file.write_colormap(1, {0: (250, 240, 220, 255), 200: (30, 60, 90, 255)})
    with opened(source.path) as dataset:
        rgba = read_rgba(dataset, source, rasterio.windows.Window(0, 0, COLS, ROWS), (ROWS, COLS))
    assert rgba[:, 5, 5].tolist() == [250, 240, 220, 255]
    assert rgba[:, 5, 290].tolist() == [30, 60, 90, 255]


def test_values_of_a_mosaic_are_stretched_and_its_gaps_are_clear(tmp_path):
    """A mosaic of floats is drawn from its 2nd to its 98th percentile; NaN shows nothing."""
    values = np.linspace(-40, 10, COLS, dtype=np.float32)[None, None].repeat(ROWS, 1)
    values[0, :, :30] = np.nan
    source = write_image(tmp_path / "sonar.tif", values, nodata=np.nan)
    with opened(source.path) as dataset:
        rgba = read_rgba(dataset, source, rasterio.windows.Window(0, 0, COLS, ROWS), (ROWS, COLS))
        assert not shown_mask(dataset)[:, :25].any()
    assert not rgba[3, :, :30].any()
    assert rgba[0, 0, 32] == 0
    assert rgba[0, 0, 299] == 255
    assert int(rgba[0, 0, 165]) == pytest.approx(127, abs=4)


def test_of_lossy_and_lossless_the_smaller_is_taken():
    """Flat colours are smaller without loss, and then exact; noise with it."""
    flat = np.full((4, TILE_PX, TILE_PX), 255, dtype=np.uint8)
    flat[:3, :, 100:] = np.array([10, 60, 80])[:, None, None]
    assert (np.asarray(Image.open(io.BytesIO(encoded(flat)))) == flat[:3].transpose(1, 2, 0)).all()
    noise = np.random.default_rng(3).integers(0, 255, (4, TILE_PX, TILE_PX), dtype=np.uint8)
    noise[3] = 255
    assert len(encoded(noise)) < noise[:3].size / 3


def test_a_picture_that_cannot_be_read_is_a_problem(tmp_path):
    """A file cut short, and one that vanished after it was looked at, are told by name."""
    noise = np.random.default_rng(4).integers(0, 255, (3, ROWS, COLS), dtype=np.uint8)
    source = write_image(tmp_path / "short.tif", noise, compress="deflate")
    data = source.path.read_bytes()
    source.path.write_bytes(data[: len(data) // 2])
    for _ in range(2):
        found = cut(source, tmp_path / "tiles")
        assert isinstance(found, Problem)
        assert found.subject == "short.tif"
        assert "cannot be read" in found.message
        assert str(tmp_path) not in found.message
        source.path.unlink(missing_ok=True)


def test_nothing_is_written_when_only_looking(tmp_path):
    """`check` reads the coarsest zoom."""
    noise = np.random.default_rng(5).integers(0, 255, (3, ROWS, COLS), dtype=np.uint8)
    source = write_image(tmp_path / "photo.tif", noise)
    tiles = cut(source, None)
    assert len({tile.zoom for tile in tiles}) == 1
    assert [path.name for path in tmp_path.iterdir()] == ["photo.tif"]
