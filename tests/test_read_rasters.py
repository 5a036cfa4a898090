"""Rasters in every state that survey folders hold them; files are written by rasterio itself."""

from __future__ import annotations

import math
import warnings

import numpy as np
import pytest
import rasterio
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pyproj import CRS, Transformer
from raster_files import NORTH_M, UTM, WEST_M, raster_file

from atlasgen.errors import InputFault
from atlasgen.model import PROBLEM_CODES
from atlasgen.read.rasters import read_raster, read_rasters, widened

SLOPE = np.arange(12, dtype=np.float32).reshape(3, 4)


def read(path, **more):
    raster, problems = read_raster(path, path.name, **more)
    assert {problem.code for problem in problems} <= set(PROBLEM_CODES)
    return raster, [problem.message for problem in problems]


def fault_of(path, **more) -> str:
    with pytest.raises(InputFault) as caught:
        read_raster(path, path.name, **more)
    assert path.name in str(caught.value)
    assert "Expected" in str(caught.value)
    return str(caught.value)


def test_a_plain_raster_is_read_as_it_is(tmp_path):
    """Values, place, system and nothing else are known of a file that says nothing else."""
    raster, said = read(raster_file(tmp_path / "a.tif", SLOPE))
    np.testing.assert_array_equal(raster.values, SLOPE)
    assert raster.values.dtype == np.float32
    assert raster.transform == (10, 0, WEST_M, 0, -10, NORTH_M)
    assert CRS.from_wkt(raster.crs).to_epsg() == 32714
    assert (raster.file, raster.unit, raster.unit_m, raster.vertical) == ("a.tif", None, None, None)
    assert said == []


def test_what_is_marked_as_missing_is_missing(tmp_path):
    """No-data value of whole numbers, NaN and infinity of fractions."""
    whole, said = read(raster_file(tmp_path / "a.tif", np.array([[7, -1], [3, 4]], np.int16), nodata=-1))
    assert whole.values.tolist() == [[7, pytest.approx(math.nan, nan_ok=True)], [3, 4]]
    broken, _ = read(raster_file(tmp_path / "b.tif", np.array([[np.nan, np.inf], [3, 4]], np.float32)))
    assert np.isnan(broken.values).tolist() == [[True, True], [False, False]]
    assert said == []


@pytest.mark.parametrize("value", [-9999.0, -32768.0, 3.4e38])
def test_missing_cells_that_nobody_marked_are_told(tmp_path, value):
    """Surveyors' figures for nothing are not taken for depths of kilometres, and that is said."""
    raster, said = read(raster_file(tmp_path / "a.tif", np.array([[1, value], [2, 3]], np.float32)))
    assert np.isnan(raster.values).sum() == 1
    assert len(said) == 1
    assert "does not mark as no data" in said[0]


def test_scale_offset_and_unit_are_applied_and_kept_apart(tmp_path):
    """2140 steps of a decimetre and 1 m are 215 of the file's unit; the no-data value is a stored one."""
    path = raster_file(
        tmp_path / "a.tif", np.array([[2140, -1]], np.int16), nodata=-1, scales=(0.1,), offsets=(1.0,), units=("ft",)
    )
    raster, said = read(path)
    assert raster.values[0, 0] == pytest.approx(215.0)
    assert np.isnan(raster.values[0, 1])
    assert (raster.unit, raster.unit_m) == ("ft", 0.3048)
    assert said == []


@pytest.mark.parametrize(
    ("word", "metres"), [("metre", 1.0), ("Foot_US", 1200 / 3937), ("US survey foot", 1200 / 3937), ("fathom", 1.8288)]
)
def test_units_are_known_by_their_usual_words(tmp_path, word, metres):
    """1 US survey foot is 1200/3937 m (NIST Handbook 44, Appendix C), a fathom 6 ft."""
    assert read(raster_file(tmp_path / "a.tif", SLOPE, units=(word,)))[0].unit_m == pytest.approx(metres, rel=1e-12)


def test_an_unknown_unit_is_told_and_not_guessed(tmp_path):
    """The word is kept, its length is not known."""
    raster, said = read(raster_file(tmp_path / "a.tif", SLOPE, units=("smoot",)))
    assert (raster.unit, raster.unit_m) == ("smoot", None)
    assert "'smoot'" in said[0]


@pytest.mark.parametrize(
    ("crs", "vertical", "unit_m"),
    [("EPSG:32714+5773", "EGM96 height", 1.0), ("EPSG:4979", "ellipsoid", None), ("EPSG:4326", None, None)],
)
def test_what_heights_count_from_is_read_off_the_system(tmp_path, crs, vertical, unit_m):
    """A compound system names it; three-dimensional coordinates are above the ellipsoid; others do not say."""
    transform = rasterio.Affine(0.001, 0, -96.4, 0, -0.001, -31.6) if crs != "EPSG:32714+5773" else None
    raster, _ = read(raster_file(tmp_path / "a.tif", SLOPE, crs=crs, transform=transform))
    assert (raster.vertical, raster.unit_m) == (vertical, unit_m)
    assert len(CRS.from_wkt(raster.crs).axis_info) == 2


def test_a_turned_grid_keeps_its_turn(tmp_path):
    """All six figures of the transform are kept, so that a cell's middle is where rasterio puts it."""
    transform = rasterio.Affine.translation(WEST_M, NORTH_M) * rasterio.Affine.rotation(30) * rasterio.Affine.scale(5)
    raster, _ = read(raster_file(tmp_path / "a.tif", SLOPE, transform=transform))
    a, b, c, d, e, f = raster.transform
    assert (a * 2.5 + b * 1.5 + c, d * 2.5 + e * 1.5 + f) == pytest.approx(transform * (2.5, 1.5))


def test_only_the_part_near_the_lake_is_read(tmp_path):
    """From a raster of 400 by 400 cells a few tens remain, with the values and places that they have in the whole."""
    values = np.arange(160_000, dtype=np.float32).reshape(400, 400)
    path = raster_file(tmp_path / "a.tif", values)
    lon, lat = Transformer.from_crs(UTM, "EPSG:4326", always_xy=True).transform(WEST_M + 1005, NORTH_M - 2005)
    part, _ = read(path, around=widened((lon, lat, lon, lat), 50.0))
    assert 100 <= part.values.size <= 400
    column, row = round((part.transform[2] - WEST_M) / 10), round((NORTH_M - part.transform[5]) / 10)
    height, width = part.values.shape
    np.testing.assert_array_equal(part.values, values[row : row + height, column : column + width])
    assert column <= 100 < column + width
    assert row <= 200 < row + height


def test_too_many_cells_are_averaged_and_told(tmp_path):
    """At most 100 cells of 40 by 30: 4 by 4 become one, and a slope stays the same slope."""
    x = np.arange(40, dtype=np.float32)[None] + np.zeros((32, 1), np.float32)
    raster, said = read(raster_file(tmp_path / "a.tif", x, nodata=-1), most_cells=100)
    assert raster.values.shape == (8, 10)
    assert raster.values[3].tolist() == pytest.approx([4 * k + 1.5 for k in range(10)])
    assert (raster.transform[0], raster.transform[4]) == (40, -40)
    assert "4 by 4 of them become one" in said[0]


def test_unmarked_missing_cells_are_not_averaged_into_others(tmp_path):
    """Of each 4 by 4 one is picked, so that each value is one of the file."""
    values = np.full((40, 40), 214, np.float32)
    values[:, ::3] = -9999
    raster, said = read(raster_file(tmp_path / "a.tif", values), most_cells=100)
    assert np.unique(raster.values[np.isfinite(raster.values)]).tolist() == [214]
    assert "does not mark as no data" in said[1]


def test_a_part_of_absurd_size_is_refused(tmp_path):
    """100,000 by 100,000 cells in a file of a few kilobytes are not unpacked."""
    profile = {"driver": "GTiff", "count": 1, "height": 100_000, "width": 100_000, "dtype": "uint8", "crs": UTM}
    transform = rasterio.Affine(10, 0, WEST_M, 0, -10, NORTH_M)
    path = tmp_path / "bomb.tif"
    with rasterio.open(path, "w", transform=transform, sparse_ok=True, tiled=True, compress="deflate", **profile):
        pass
    assert "at most 2,000,000,000 cells" in fault_of(path)


def test_more_bands_than_one_are_told(tmp_path):
    """The first is read."""
    raster, said = read(raster_file(tmp_path / "a.tif", np.stack([SLOPE, SLOPE + 100]), photometric="MINISBLACK"))
    np.testing.assert_array_equal(raster.values, SLOPE)
    assert "holds 2 bands; the first is read" in said[0]


def test_an_alpha_band_is_a_mask(tmp_path):
    """What is transparent is missing, and the alpha band is not counted as one of values."""
    alpha = np.array([[0, 255, 255, 255], [255] * 4, [255] * 4], np.uint8)
    raster, said = read(raster_file(tmp_path / "a.tif", np.stack([SLOPE.astype(np.uint8), alpha]), alpha="YES"))
    assert np.isnan(raster.values).sum() == 1
    assert said == []


def test_a_raster_without_a_system_is_refused_unless_one_is_given(tmp_path):
    """With a system from outside it is used, and said."""
    path = raster_file(tmp_path / "a.tif", SLOPE, crs=None)
    assert "names no coordinate system" in fault_of(path)
    raster, said = read(path, crs=UTM)
    assert CRS.from_wkt(raster.crs).to_epsg() == 32714
    assert "EPSG:32714 is used" in said[0]
    assert "no-such" in fault_of(path, crs="no-such")


LOCAL = 'LOCAL_CS["a site grid",UNIT["metre",1]]'


@pytest.mark.parametrize(
    ("values", "more", "words"),
    [
        (np.zeros((3, 4, 4), np.uint8), {"photometric": "RGB"}, "a coloured picture"),
        (SLOPE.astype(np.complex64), {}, "values of type complex64"),
        (np.full((3, 3), np.nan, np.float32), {}, "no cell holds a value"),
        (SLOPE, {"crs": LOCAL}, "a site grid"),
        (SLOPE, {"transform": rasterio.Affine.identity()}, "not placed on Earth"),
    ],
)
def test_what_cannot_be_heights_is_refused(tmp_path, values, more, words):
    """Pictures, complex numbers, nothing at all, site grids, grids without a place."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", rasterio.errors.NotGeoreferencedWarning)
        path = raster_file(tmp_path / "a.tif", values, **more)
    assert words in fault_of(path)


def test_a_raster_far_from_the_lake_is_refused(tmp_path):
    """Nothing of it lies around the place asked for, be it a degree or half the globe away."""
    path = raster_file(tmp_path / "a.tif", SLOPE)
    for lon, lat in ((-95.0, -31.6), (84.0, 60.0)):
        assert "does not reach the lake" in fault_of(path, around=(lon, lat, lon + 0.01, lat + 0.01))


def test_missing_and_foreign_files_are_faults(tmp_path):
    """No file, text, and a file that only points to another (VRT) end in words, not in a trace."""
    assert "not found" in fault_of(tmp_path / "none.tif")
    (tmp_path / "text.tif").write_text("no raster at all\n", encoding="utf-8")
    assert "cannot be read" in fault_of(tmp_path / "text.tif")
    vrt = '<VRTDataset rasterXSize="1" rasterYSize="1"><VRTRasterBand dataType="Byte" band="1"/></VRTDataset>'
    (tmp_path / "a.tif").write_text(vrt, encoding="utf-8")
    assert "cannot be read" in fault_of(tmp_path / "a.tif")


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=40, deadline=None)
@given(cut=st.floats(0, 0.999), flip=st.integers(0, 3000))
def test_a_damaged_file_is_a_fault_or_is_read(tmp_path, cut, flip):
    """Cut anywhere or with a byte turned over, it never ends in anything but a raster or an InputFault."""
    rng = np.random.default_rng(1)
    whole = raster_file(tmp_path / "whole.tif", rng.normal(0, 1, (40, 40)).astype(np.float32), compress="deflate")
    data = bytearray(whole.read_bytes())
    data[flip % len(data)] ^= 0xFF
    for name, spoilt in (("cut.tif", whole.read_bytes()[: int(cut * len(data))]), ("flip.tif", bytes(data))):
        path = tmp_path / name
        path.write_bytes(spoilt)
        rasters, problems = read_rasters([(path, name)], None)
        assert [raster.values.dtype for raster in rasters] + [p.level for p in problems if p.level == "fault"] in (
            [np.float32],
            ["fault"],
        )


def test_one_bad_file_of_several_does_not_spoil_the_others(tmp_path):
    """It becomes a problem, and the rest are read in their order."""
    good = raster_file(tmp_path / "b.tif", SLOPE)
    lon, lat = Transformer.from_crs(UTM, "EPSG:4326", always_xy=True).transform(WEST_M + 20, NORTH_M - 15)
    files = [(tmp_path / "a.tif", "a.tif"), (good, "b.tif")]
    rasters, problems = read_rasters(files, widened((lon, lat, lon, lat), 100.0))
    assert [raster.file for raster in rasters] == ["b.tif"]
    assert [(problem.subject, problem.level) for problem in problems] == [("a.tif", "fault")]


def test_bounds_are_widened_by_metres():
    """At 60 degrees a degree of longitude is half as long: 1105 m are 0.01 degrees north, 0.02 east."""
    assert widened((10, 60, 10, 60), 1105.0) == pytest.approx((9.98, 59.99, 10.02, 60.01))
    assert widened((0, -90, 1, 90), 1000.0)[1::2] == (-90, 90)
