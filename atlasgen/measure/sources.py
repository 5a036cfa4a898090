"""The facts of the source diagram: who surveyed what, when and how well, for the lake and for each tile."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime

import numpy as np
import shapely
from shapely import LineString, MultiPolygon, STRtree

from atlasgen.measure.areas import polygons
from atlasgen.measure.coverage import run_starts
from atlasgen.model import Placed, Soundings, Tile, Zone
from atlasgen.model.memory import ANEW, Memory
from atlasgen.model.sonar import (
    MODELLED,
    OUTLINE,
    Channel,
    GivenCoverage,
    SonarCoverage,
    SonarRun,
    SourceKind,
    SourceRow,
)
from atlasgen.model.wording import say
from atlasgen.place.geo import Projection
from atlasgen.units import local_time, number_words

# Spacing is measured at points this far apart, square to the run, as far as the second figure; what is nearer than the
# third is the run itself. Ours.
_SAMPLE_M, _NEIGHBOUR_M, _ITSELF_M = 25.0, 200.0, 2.0
# Less than this of a source is an edge of its ground, not a part of the tile.
_LEAST_M2 = 1.0


@dataclass(frozen=True, slots=True)
class SoundingTracks:
    """Soundings as they were run: arrays of one length, metric, in their order; `file` is a place in `files`."""

    x_m: np.ndarray
    y_m: np.ndarray
    time_s: np.ndarray
    line: np.ndarray
    file: np.ndarray
    files: tuple[str, ...]
    near_m: float


@dataclass(frozen=True, slots=True)
class _Source:
    """One source of the whole lake: its lines with their first and last times (NaN unknown), and what it covers.

    `spacing_m` (n, 3): x and y of places along its lines, and the distance to the next line, NaN if there is none.
    """

    what: SourceKind
    name: str
    instrument: str
    lines: np.ndarray
    first_s: np.ndarray
    last_s: np.ndarray
    covered: MultiPolygon
    along_m: float | None
    words: tuple[str, ...]
    spacing_m: np.ndarray = field(default_factory=lambda: np.empty((0, 3)))


def source_tables(
    water: MultiPolygon,
    tiles: Sequence[Tile],
    tracks: SoundingTracks | None,
    runs: Sequence[SonarRun],
    given: Sequence[GivenCoverage],
    zone: Zone,
) -> tuple[tuple[SourceRow, ...], Mapping[str, tuple[SourceRow, ...]]]:
    """Rows for the lake, and rows by tile id: soundings by file, passes in their order, outlines. All metric.

    A tile's rows speak of what lies in it alone; a source that does not touch it has no row there.
    """
    sources = [*_spaced(_of_soundings(tracks, water)), *_spaced(_of_passes(runs)), *_of_outlines(given)]
    lake = tuple(_row(source, water, zone) for source in sources)
    return lake, {tile.id: _in_tile(tile, sources, water, zone) for tile in tiles}


def _in_tile(tile: Tile, sources: Sequence[_Source], water: MultiPolygon, zone: Zone) -> tuple[SourceRow, ...]:
    area = polygons(shapely.intersection(water, tile.area))
    rows = [_row(source, area, zone) for source in sources]
    return tuple(row for row in rows if row.area_m2 > _LEAST_M2 or row.length_m)


def _of_soundings(tracks: SoundingTracks | None, water: MultiPolygon) -> list[_Source]:
    if tracks is None or not len(tracks.x_m):
        return []
    starts = run_starts(tracks.x_m, tracks.y_m, tracks.line)
    ends = np.r_[starts[1:], len(tracks.x_m)]
    found = []
    for number, name in enumerate(tracks.files):
        mine = np.flatnonzero((tracks.file[starts] == number) & (ends - starts > 1))
        if mine.size:
            found.append(_sounding_source(name, tracks, [slice(starts[i], ends[i]) for i in mine], water))
    return found


def _sounding_source(name: str, tracks: SoundingTracks, runs: Sequence[slice], water: MultiPolygon) -> _Source:
    places = [np.c_[tracks.x_m[run], tracks.y_m[run]] for run in runs]
    lines = shapely.simplify(np.array([LineString(place) for place in places], dtype=object), 2.0)
    steps = np.concatenate([np.hypot(*np.diff(place, axis=0).T) for place in places])
    times = [tracks.time_s[run][np.isfinite(tracks.time_s[run])] for run in runs]
    covered = polygons(shapely.intersection(shapely.union_all(shapely.buffer(lines, tracks.near_m)), water))
    return _Source(
        "soundings",
        name,
        "",
        lines,
        np.array([time.min() if time.size else np.nan for time in times]),
        np.array([time.max() if time.size else np.nan for time in times]),
        covered,
        float(np.median(steps)),
        (),
    )


def _of_passes(runs: Sequence[SonarRun]) -> list[_Source]:
    found = []
    for run in runs:
        lines = np.array(run.line.geoms, dtype=object)
        areas = [area for swath in run.swaths for area in (swath.fine, swath.coarse, swath.unknown)]
        times = np.full(len(lines), run.from_s), np.full(len(lines), run.to_s)
        name = f"{run.name} ({run.file})" if run.file else run.name
        found.append(
            _Source("side-scan", name, run.instrument, lines, *times, polygons(areas), run.spacing_m, _pass_words(run))
        )
    return found


def _of_outlines(given: Sequence[GivenCoverage]) -> list[_Source]:
    none = np.empty(0)
    return [
        _Source(
            OUTLINE,
            outline.name,
            "",
            none.astype(object),
            none,
            none,
            outline.area,
            None,
            (say("measure-outline-quality", quality=outline.quality),),
        )
        for outline in given
    ]


def _pass_words(run: SonarRun) -> tuple[str, ...]:
    """Say what bears on the quality of a pass, plainest first."""
    words = [_fineness(run)]
    lost = [record for record in run.no_picture if record.cause == "lost_channel"]
    words += [_lost(record.channel, record.why) for record in lost if record.channel]
    if any(record.cause == "log_gap" for record in run.no_picture):
        words.append(say("measure-pauses"))
    if run.height_from.get(MODELLED):
        words.append(say("measure-height-from-model"))
    if run.height_from.get("unknown"):
        words.append(say("measure-height-not-known"))
    return (*words, say("measure-speed-from-positions")) if run.speed_computed else tuple(words)


def _fineness(run: SonarRun) -> str:
    if run.pings_on_metre is None:
        return say("measure-pass-quality", quality="unknown", pings=0)
    fine, coarse = (sum(getattr(swath, name).area for swath in run.swaths) > 0 for name in ("fine", "coarse"))
    quality = ("partly" if fine else "coarse") if coarse else "fine"
    return say("measure-pass-quality", quality=quality, pings=number_words(run.pings_on_metre, 1))


def _lost(channel: Channel, why: str) -> str:
    return say("measure-channel-lost-why" if why else "measure-channel-lost", channel=channel, why=why)


def _row(source: _Source, area: MultiPolygon, zone: Zone) -> SourceRow:
    """One source as far as it lies in an area."""
    length_m = shapely.length(shapely.intersection(source.lines, area))
    there = length_m > 0
    x, y, spacing_m = source.spacing_m.T
    shapely.prepare(area)
    spacing_m = spacing_m[shapely.contains_xy(area, x, y) & np.isfinite(spacing_m)]
    return SourceRow(
        what=source.what,
        name=source.name,
        instrument=source.instrument,
        dates=_days(source.first_s[there], source.last_s[there], zone),
        runs=int(there.sum()),
        length_m=float(length_m.sum()) if len(source.lines) else None,
        area_m2=shapely.intersection(source.covered, area).area,
        along_m=source.along_m,
        line_spacing_m=float(np.median(spacing_m)) if spacing_m.size else None,
        words=source.words,
    )


def _days(first_s: np.ndarray, last_s: np.ndarray, zone: Zone) -> tuple[date, date] | None:
    known = np.isfinite(first_s) & np.isfinite(last_s)
    if not known.any():
        return None
    ends = float(first_s[known].min()), float(last_s[known].max())
    first, last = (local_time(datetime.fromtimestamp(time_s, UTC), zone).date() for time_s in ends)
    return first, last


def _spaced(sources: Sequence[_Source]) -> list[_Source]:
    """Measure square to each run how far the next line of the same sort is, to both sides."""
    pieces = [segments for source in sources if len(segments := _segments(source.lines))]
    tree = STRtree(shapely.linestrings(np.concatenate(pieces))) if pieces else None
    return [replace(source, spacing_m=_spacings(_segments(source.lines), tree)) for source in sources]


def _segments(lines: np.ndarray) -> np.ndarray:
    """Straight pieces of lines, (n, 2, 2)."""
    places, line = shapely.get_coordinates(lines, return_index=True)
    joined = line[1:] == line[:-1]
    return np.stack([places[:-1][joined], places[1:][joined]], axis=1)


def _spacings(segments: np.ndarray, tree: STRtree | None) -> np.ndarray:
    along = segments[:, 1] - segments[:, 0]
    length_m = np.hypot(*along.T)
    count = np.maximum(np.round(length_m / _SAMPLE_M), 1).astype(int)
    owner = np.repeat(np.arange(len(segments)), count)
    if tree is None or not owner.size:
        return np.empty((0, 3))
    share = (np.arange(owner.size) - np.repeat(np.cumsum(count) - count, count) + 0.5) / count[owner]
    places = segments[owner, 0] + share[:, None] * along[owner]
    square = np.c_[-along[:, 1], along[:, 0]][owner] / np.maximum(length_m[owner], 1e-9)[:, None]
    return np.concatenate([np.c_[places, _next_line(places, side * square, tree)] for side in (1.0, -1.0)])


def _next_line(places: np.ndarray, outward: np.ndarray, tree: STRtree) -> np.ndarray:
    """Distance to the first line met on the way out from each place, NaN where there is none."""
    way = shapely.linestrings(np.stack([places + _ITSELF_M * outward, places + _NEIGHBOUR_M * outward], axis=1))
    ray, line = tree.query(way, predicate="intersects")
    away_m = shapely.distance(shapely.points(places[ray]), shapely.intersection(way[ray], tree.geometries[line]))
    nearest = np.full(len(places), np.inf)
    np.minimum.at(nearest, ray, away_m)
    return np.where(np.isfinite(nearest), nearest, np.nan)


def survey_sources(
    soundings: Soundings | None,
    x_m: np.ndarray,
    y_m: np.ndarray,
    placed: Placed,
    sonar: SonarCoverage | None,
    near_m: float,
    zone: Zone,
    memory: Memory = ANEW,
) -> tuple[tuple[SourceRow, ...], Mapping[str, tuple[SourceRow, ...]]]:
    """Do `source_tables` for a survey as it was read; `x_m`, `y_m` are the metric places of its soundings."""
    tracks = None
    if soundings is not None and len(x_m):
        file, files = soundings.file, soundings.files
        if file is None:
            file, files = np.zeros(len(x_m), dtype=int), (", ".join(soundings.files),)
        tracks = SoundingTracks(x_m, y_m, soundings.time_s, soundings.line, file, files, near_m)
    runs, given = (sonar.runs, sonar.given) if sonar else ((), ())
    projection = Projection(placed.crs_metric)
    tiles = [replace(tile, area=projection.to_metric(tile.area)) for tile in placed.tiles]
    made_of = (placed.water, tiles, tracks, runs, given, zone)
    return memory.remember("sources", made_of, lambda: source_tables(*made_of))
