"""What soundings cost as they grow many: `python benchmarks/ten_million_soundings.py --soundings 10000000`.

A lake is drawn (seeded), as large as lines 20 m apart with a sounding every half metre make it, and sounded into a CSV
file by a process of its own. Five stages of a build are run on it one after the other, and each is set against the bare
library call it rests on, on the same input: its CPU seconds, those of the call, and the ratio of the two. Ratios travel
from machine to machine, seconds do not. The largest resident memory of the process is read after each stage, before any
bare call is made.

read        read_soundings                  pandas.read_csv of the same file
cleaned     prepare_soundings               numpy.lexsort by place and depth
gridded     build_grid                      startinpy inserting the cell medians and the bank
contoured   draw_isobaths                   contourpy tracing the same depths
profiled    off_bank and reach_profiles     shapely.STRtree of the soundings, asked for those off each bank
"""

from __future__ import annotations

import argparse
import multiprocessing
import resource
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import contourpy
import numpy as np
import pandas
import shapely
import startinpy
from shapely import MultiPolygon, Polygon

from atlasgen.measure.depth import build_grid, used_soundings
from atlasgen.measure.isobaths import draw_isobaths, isobath_depths
from atlasgen.measure.offbank import bank_water, off_bank
from atlasgen.measure.preparation import Prepared, prepare_soundings
from atlasgen.measure.profiles import reach_profiles
from atlasgen.model import DepthGrid, LonLat, Reach
from atlasgen.model.quality import SoundingRules
from atlasgen.place.geo import Projection
from atlasgen.place.shore import build_rings, cut_reaches
from atlasgen.read.soundings import read_soundings

PROJECTION = Projection("+proj=aeqd +lat_0=-31.5 +lon_0=-96.4 +datum=WGS84 +units=m +no_defs")
SPACING_M, ALONG_M, SPEED_MPS = 20.0, 0.5, 2.0
NEAR_M, OFF_BANK_M = 25.0, 40.0
_RULES: dict[str, Any] = {
    "columns": dict.fromkeys(("lon", "lat", "depth", "time")),
    "crs": "EPSG:4326",
    "depth_unit": None,
    "depth_positive": None,
    "zone": "UTC",
    "no_data": (),
}


class Stage(NamedTuple):
    """CPU seconds of one stage and the resident memory at its end."""

    name: str
    cpu_s: float
    peak_mb: float


def main() -> None:
    """Run the stages, then the bare calls, and print the table."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--soundings", type=int, default=10_000_000)
    wanted = parser.parse_args().soundings
    water = lake(wanted)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "sounder.csv"
        # In another process, so that what drawing takes does not count as the program's memory.
        child = multiprocessing.Process(target=write_soundings, args=(water, path))
        child.start()
        child.join()
        report(path, water)


def report(path: Path, water: MultiPolygon) -> None:
    """Run everything on one file of soundings and print what it cost."""
    stages, made = run(path, water)
    soundings = made["read"][0]
    print(f"{len(soundings.depth_m):,} soundings, {water.area / 1e6:.1f} km2, grid {made['gridded'].depth_m.shape}")
    print("stage         CPU s  bare call s   ratio   peak MB")
    for stage, bare in zip(stages, bare_calls(path, made, water), strict=True):
        bare_s = cpu_seconds(bare)[0]
        ratio = stage.cpu_s / bare_s
        print(f"{stage.name:<11}{stage.cpu_s:>8.1f}{bare_s:>13.2f}{ratio:>8.1f}{stage.peak_mb:>10.0f}", flush=True)


def lake(soundings: int) -> MultiPolygon:
    """Return a lake of arms and bays whose area takes about that many soundings."""
    radius = np.sqrt(soundings * SPACING_M * ALONG_M / np.pi)
    turn = np.linspace(0, 2 * np.pi, 2000, endpoint=False)
    wave = sum(np.sin(k * turn + 1.7 * k) / k for k in (2, 3, 5, 9, 17, 31))
    r = radius * (1 + 0.18 * wave)
    return MultiPolygon([Polygon(np.column_stack([r * np.cos(turn), r * np.sin(turn)])).buffer(0)])


def write_soundings(water: MultiPolygon, path: Path) -> None:
    """Sound the lake to and fro, in lines from west to east and back, to 5 cm, into a CSV file."""
    draw = np.random.default_rng(1)
    west, south, east, north = water.bounds
    lines = [_line(water, west, east, y, number) for number, y in enumerate(np.arange(south, north, SPACING_M))]
    x, y = np.concatenate(lines, axis=1)
    line = np.repeat(np.arange(len(lines)), [part.shape[1] for part in lines])
    depth = np.maximum(_bed(draw, x, y) + draw.normal(0, 0.05, x.size), 0.3)
    lon, lat = PROJECTION.lonlats(x, y)
    time_s = np.arange(x.size) * ALONG_M / SPEED_MPS + 300.0 * line
    time = np.datetime64("2026-03-10T14:00:00.000") + (1000 * time_s).astype("timedelta64[ms]")
    table = pandas.DataFrame({"lon": lon, "lat": lat, "depth_m": depth, "time": np.datetime_as_string(time)})
    table["lon"], table["lat"] = table["lon"].round(8), table["lat"].round(8)
    table["depth_m"] = table["depth_m"].round(2)
    table["time"] += "Z"
    table.to_csv(path, index=False)


def _line(water: MultiPolygon, west: float, east: float, y: float, number: int) -> np.ndarray:
    x = np.arange(west, east, ALONG_M)[:: -1 if number % 2 else 1]
    at = np.stack([x, y + 2 * np.sin(x / 90)])
    shapely.prepare(water)
    return at[:, shapely.contains_xy(water, *at)]


def _bed(draw: np.random.Generator, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    bed = np.full(x.size, 9.0)
    for length in np.geomspace(40, 1500, 12):
        heading, phase = draw.uniform(0, 2 * np.pi, 2)
        bed += 0.0025 * length * np.sin(2 * np.pi * (x * np.cos(heading) + y * np.sin(heading)) / length + phase)
    return bed


def run(path: Path, water: MultiPolygon) -> tuple[list[Stage], dict[str, Any]]:
    """Run the five stages; what each made comes back under its name."""
    stages: list[Stage] = []
    made: dict[str, Any] = {}

    def stage(name: str, call: Callable[[], Any]) -> Any:
        seconds, made[name] = cpu_seconds(call)
        stages.append(Stage(name, seconds, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024))
        return made[name]

    given, _ = stage("read", lambda: read_soundings([(path, path.name)], **_RULES))
    ready = stage("cleaned", lambda: prepare_soundings(given, None, water, PROJECTION, SoundingRules()))
    used = ready.used
    x, y, depth = ready.x_m[used], ready.y_m[used], ready.depth_m[used]
    grid = stage("gridded", lambda: build_grid(x, y, depth, water, None, NEAR_M, ready.line[used]))
    made["rests on"] = used_soundings(x, y, depth, water, grid.cell_m)
    stage("contoured", lambda: draw_isobaths(grid, depths_of(grid), made["rests on"]))
    made["reaches"] = cut_reaches(build_rings(water, None), 100.0, PROJECTION, _nowhere, _nowhere)
    stage("profiled", lambda: _profiled(made["reaches"], water, ready, grid))
    return stages, made


def depths_of(grid: DepthGrid) -> list[tuple[float, str, bool]]:
    """Return the depths of an angler's chart: each foot to 30 ft, each third below."""
    return isobath_depths(float(np.nanmax(grid.depth_m)), "feet", 1, 30, 3, 10)


def _profiled(reaches: tuple[Reach, ...], water: MultiPolygon, ready: Prepared, grid: DepthGrid) -> tuple:
    off = off_bank(reaches, water, ready.x_m, ready.y_m, ready.depth_m, grid, OFF_BANK_M, ready.reduced)
    return off, reach_profiles(reaches, water, grid, PROJECTION)


def _nowhere(_: LonLat) -> str:
    return ""


def bare_calls(path: Path, made: dict[str, Any], water: MultiPolygon) -> list[Callable[[], Any]]:
    """Return the library calls that the stages rest on, ready to run on the same input."""
    ready, grid, soundings = made["cleaned"], made["gridded"], made["rests on"]
    bank = shapely.get_coordinates(shapely.segmentize(shapely.boundary(water), grid.cell_m))
    points = np.vstack([soundings, np.c_[bank, np.zeros(len(bank))]])
    strips = bank_water(made["reaches"], water, OFF_BANK_M)
    return [
        lambda: pandas.read_csv(path),
        lambda: np.lexsort((ready.depth_m, ready.y_m, ready.x_m)),
        lambda: startinpy.DT().insert(points),
        lambda: _traced(grid),
        lambda: shapely.STRtree(shapely.points(ready.x_m, ready.y_m)).query(strips, predicate="intersects"),
    ]


def _traced(grid: DepthGrid) -> list:
    generator = contourpy.contour_generator(z=np.ma.masked_invalid(grid.depth_m))
    return [generator.lines(depth) for depth, _, _ in depths_of(grid)]


def cpu_seconds(call: Callable[[], Any]) -> tuple[float, Any]:
    """Return the CPU seconds of this process during a call, and what it gave."""
    start = time.process_time()
    made = call()
    return time.process_time() - start, made


if __name__ == "__main__":
    main()
