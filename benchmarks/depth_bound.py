"""How honest the bound of a depth is: `python benchmarks/depth_bound.py [FOLDER ...]`.

Each tenth of a lake's survey lines in turn is kept from everything: model and bound are made of the other lines, and
the kept soundings are set against both. Printed are, for the demo and for every lake of the folders given: survey
lines, soundings tried, the share of them inside the bound (asked for: 95 %), the median bound at them, and the RMS
error of the model beside that of a plain linear interpolation (scipy's LinearNDInterpolator, no shoreline, no cell
medians) at the same places.

A lake is a subfolder with a table of soundings (CSV; columns lon or x, lat or y, depth, depth_m or z; rows whose status
column says V are left out; a column `file` tells the lines) and, if there is one, a shoreline (GeoJSON, degrees).
Without a shoreline the water is the soundings' hull and 300 m more: a bank that nobody knows must not count as depth
zero beside the soundings.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pandas as pd
import shapely
from scipy.interpolate import LinearNDInterpolator
from shapely import MultiPolygon

from atlasgen.config import read_settings
from atlasgen.measure.depth import build_grid, depth_at
from atlasgen.measure.legs import folds_of, survey_lines
from atlasgen.measure.preparation import Prepared, prepare_soundings
from atlasgen.measure.survey import level_lookup
from atlasgen.measure.uncertainty import bound_at, fit_bound, with_bound
from atlasgen.model import Soundings
from atlasgen.model.quality import SoundingRules
from atlasgen.pipeline import silent
from atlasgen.place.geo import Projection
from atlasgen.place.survey import place_survey
from atlasgen.read.survey import read_survey
from atlasgen.units import FOOT_M

DEMO = Path(__file__).resolve().parents[1] / "demo_photos"
PARTS, RELIEF_WITHIN_M, HULL_M = 10, 25.0, 300.0
_LON, _LAT, _DEPTH = ("lon", "x"), ("lat", "y"), ("depth_m", "depth", "z")


@dataclass(frozen=True)
class Lake:
    """Metric water and the prepared soundings in it."""

    name: str
    water: MultiPolygon
    x: np.ndarray
    y: np.ndarray
    depth_m: np.ndarray
    line: np.ndarray


def main() -> None:
    """Print a line for each lake."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("folders", nargs="*", type=Path, help="folders whose subfolders are lakes")
    parser.add_argument("--feet", nargs="*", default=[], help="names of the lakes whose depths are in feet")
    parser.add_argument(
        "--deepest",
        nargs="*",
        default=[],
        metavar="LAKE=METRES",
        help="leave out what is deeper than that",
    )
    options = parser.parse_args()
    deepest = {name: float(metres) for name, metres in (pair.split("=") for pair in options.deepest)}
    print("lake                  lines  held out  inside  median bound m  RMS model m  RMS linear m")
    print(row(demo()), flush=True)
    for folder in options.folders:
        for lake in lakes(folder, options.feet, deepest):
            print(row(lake), flush=True)


def demo() -> Lake:
    """Read, place and prepare the demo's soundings as a build does."""
    settings = read_settings(DEMO)
    with ThreadPoolExecutor(2) as executor:
        survey = read_survey(DEMO, settings.read_rules(), executor, silent)
    placed = place_survey(survey, settings.place_rules(), level_lookup(survey.stage), silent)
    projection, rules = Projection(placed.crs_metric), settings.measure_rules().soundings
    ready = prepare_soundings(survey.soundings, survey.stage, placed.water, projection, rules)
    return _lake("demo", placed.water, ready)


def lakes(folder: Path, in_feet: list[str], deepest: dict[str, float]) -> Iterator[Lake]:
    """Read every subfolder that holds a table of soundings."""
    for place in sorted(path for path in folder.iterdir() if path.is_dir()):
        tables = [table for path in sorted(place.glob("*.csv")) if (table := _table(path)) is not None]
        if tables:
            unit_m = FOOT_M if place.name in in_feet else 1.0
            table = tables[0][tables[0].depth * unit_m <= deepest.get(place.name, np.inf)]
            yield _real(place, table, unit_m)


def _table(path: Path) -> pd.DataFrame | None:
    """Longitude, latitude, depth and line, or None where the columns or the values are others."""
    rows = pd.read_csv(path)
    columns = [next((name for name in names if name in rows), None) for names in (_LON, _LAT, _DEPTH)]
    if None in columns or rows[columns[0]].abs().max() > 180 or rows[columns[1]].abs().max() > 90:
        return None
    flags = [name for name in rows if name.endswith("_status")]
    rows = rows[~(rows[flags] == "V").any(axis=1)] if flags else rows
    line = pd.factorize(rows["file"])[0] if "file" in rows else 0
    table = pd.DataFrame({"lon": rows[columns[0]], "lat": rows[columns[1]], "depth": rows[columns[2]], "line": line})
    return table.dropna().assign(depth=lambda given: given.depth.abs())


def _real(place: Path, table: pd.DataFrame, unit_m: float) -> Lake:
    lon, lat, depth = table.lon.to_numpy(), table.lat.to_numpy(), table.depth.to_numpy() * unit_m
    proj = f"+proj=aeqd +lat_0={np.median(lat)} +lon_0={np.median(lon)} +datum=WGS84 +units=m +no_defs"
    projection, line = Projection(proj), table.line.to_numpy(dtype=np.int64)
    shorelines = sorted(place.glob("*.geojson"))
    if shorelines:
        features = shapely.from_geojson(shorelines[0].read_text(encoding="utf-8"))
        water = projection.to_metric(_multi(shapely.union_all(shapely.get_parts(features))))
    else:
        hull = shapely.concave_hull(shapely.multipoints(np.column_stack(projection.points(lon, lat))), 0.2)
        water = _multi(hull.buffer(HULL_M))
    zeros = np.zeros(len(lon), dtype=np.int64)
    time = np.full(len(lon), np.nan)
    given = Soundings(lon, lat, depth, time, line, (place.name,), {}, zeros.astype(np.int16), zeros + 1, (0.0,))
    ready = prepare_soundings(given, None, water, projection, SoundingRules())
    return _lake(place.name + ("" if shorelines else " (hull)"), water, ready)


def _multi(area: shapely.geometry.base.BaseGeometry) -> MultiPolygon:
    return MultiPolygon([part for part in shapely.get_parts(area) if part.geom_type == "Polygon"])


def _lake(name: str, water: MultiPolygon, ready: Prepared) -> Lake:
    used = ready.used
    return Lake(name, water, ready.x_m[used], ready.y_m[used], ready.depth_m[used], ready.line[used])


def row(lake: Lake) -> str:
    """Try every tenth of the lines and put the figures in one line."""
    lines = survey_lines(lake.x, lake.y, lake.line)
    whole = build_grid(lake.x, lake.y, lake.depth_m, lake.water, None, RELIEF_WITHIN_M, lake.line)
    fold = folds_of(lines, PARTS)
    tried = [part for number in np.unique(fold) if (part := _tried(lake, fold == number, whole.cell_m)) is not None]
    count = np.unique(lines).size
    if not tried:
        return f"{lake.name:<22}{count:>5}  no bound: too few survey lines or soundings to leave any out"
    error, linear, bound = np.concatenate(tried, axis=1)
    inside = (np.abs(error) <= bound).mean()
    rms, plain = (float(np.sqrt(np.mean(values**2))) for values in (error, linear))
    return (
        f"{lake.name:<22}{count:>5}{error.size:>10,}{inside:>8.1%}{np.median(bound):>16.2f}{rms:>13.3f}{plain:>14.3f}"
    )


def _tried(lake: Lake, held: np.ndarray, cell_m: float) -> np.ndarray | None:
    """Error of the model, error of the plain interpolation, and the bound, (3, n), where all three are known."""
    kept = ~held
    x, y, depth = lake.x[kept], lake.y[kept], lake.depth_m[kept]
    bound = fit_bound(x, y, depth, lake.water, cell_m, RELIEF_WITHIN_M, lake.line[kept])
    grid = build_grid(x, y, depth, lake.water, cell_m, np.inf)
    if bound is None or grid is None:
        return None
    grid, _ = with_bound(grid, lake.water, bound)
    at_x, at_y, at_depth = lake.x[held], lake.y[held], lake.depth_m[held]
    linear = LinearNDInterpolator(np.column_stack([x, y]), depth)(at_x, at_y)
    figures = np.stack([depth_at(grid, at_x, at_y) - at_depth, linear - at_depth, bound_at(grid, at_x, at_y)])
    return figures[:, np.isfinite(figures).all(axis=0)]


if __name__ == "__main__":
    main()
