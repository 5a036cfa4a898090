"""What atlasgen says each demo photo shows, against what its renderer drew: `python benchmarks/shore_seen.py`.

The answer sheet of the demo (tests/data/demo_truth.json) holds, for each photo, the stretches of shoreline to which a
ray from the true camera passes free of ground, trees, shrubs and boulders. Shares are lengths in both answers over
lengths in either (intersection over union). Five columns:

recorded  from the pose that the file holds, with the device's errors as the demo states them, over the land as
          elevation.tif tells it: what a reader of the atlas gets
stand-in  the same without elevation.tif: what a reader gets where no elevations are supplied
rough     over the elevations, with every device's errors as large as those of the phones (2 m on each axis, 2 degrees,
          1 m of height): the same draws, made larger
true      over the elevations from the pose that the renderer used: what the method is good for, without errors
errors    atlasgen's answer for the recorded pose against its answer for the true one: what the errors alone cost

A pose is complete when position, heading, pitch and height were all recorded or stated and none assumed; of the others
the table says what was assumed. Bars: recorded at least 0.90 in the median and 0.75 for each photo.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

import numpy as np
import shapely
from pyproj import Transformer

from atlasgen.config import read_settings
from atlasgen.measure.survey import level_lookup
from atlasgen.model import LonLat, Measured, Photo, Placed, PointM
from atlasgen.model.views import ViewRules
from atlasgen.pipeline import silent
from atlasgen.place.elevation import known_land
from atlasgen.place.geo import Projection
from atlasgen.place.seen import see_photos
from atlasgen.place.shore_index import ShoreIndex, shore_index
from atlasgen.place.survey import place_survey
from atlasgen.read.survey import read_survey

CHECKOUT = Path(__file__).resolve().parents[1]
MEDIAN_BAR, LEAST_BAR = 0.90, 0.75
# The answer sheet asks at points this far apart; each stands for the metre before and the metre after it.
STEP_M = 2.0


class Row(NamedTuple):
    """One photo: shares, lengths of shoreline in metres, and which parts of its pose were assumed."""

    file: str
    kind: str
    recorded: float
    stand_in: float
    rough: float
    true_pose: float
    pose_alone: float
    seen_m: float
    drawn_m: float
    assumed: tuple[str, ...]


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--survey", type=Path, default=CHECKOUT / "demo_photos")
    parser.add_argument("--answers", type=Path, default=CHECKOUT / "tests" / "data" / "demo_truth.json")
    options = parser.parse_args()
    rows = compare(options.survey, json.loads(options.answers.read_text(encoding="utf-8")), ViewRules())
    print(table(rows))


def compare(survey_dir: Path, answers: Mapping, rules: ViewRules) -> list[Row]:
    """Compare every photo that has a view with its answer, poorest first."""
    placed, stage_m, shore, bare = _looked_over(survey_dir, rules)
    projection = Projection(placed.crs_metric)
    drawn = drawn_pieces(survey_dir, answers, shore, projection)
    truths = {answer["file"]: answer for answer in answers["photos"]}
    rows = []
    for photo in placed.photos:
        if photo.source.file not in drawn:
            continue
        truth, at_m = truths[photo.source.file], stage_m[photo.id]
        true = _truly_posed(photo, truth, projection)
        rough = _roughly_posed(photo, true, truth["device"], answers["sigma"], projection)
        seen = [_seen(posed, shore, rules, at_m) for posed in (photo, rough, true)]
        if all(pieces is not None for pieces in seen):
            parts = (*seen, _seen(photo, bare, rules, at_m), drawn[photo.source.file])
            rows.append(_row(photo, *parts, shore.to_m - shore.from_m))
    return sorted(rows, key=lambda row: row.recorded)


def _looked_over(survey_dir: Path, rules: ViewRules) -> tuple[Placed, dict[str, float | None], ShoreIndex, ShoreIndex]:
    """Place the survey; return it, the stages by photo, and the shore with its elevations and without."""
    settings = read_settings(survey_dir)
    with ThreadPoolExecutor(2) as executor:
        survey = read_survey(survey_dir, settings.read_rules(), executor, silent)
    level = level_lookup(survey.stage)
    placed = place_survey(survey, settings.place_rules(), level, silent)
    projection = Projection(placed.crs_metric)
    bare = shore_index(placed.water, placed.rings, placed.reaches, projection)
    land = known_land(survey.elevation, settings.elevation_rules(), placed.water, bare.inland, projection, rules)
    stages = {photo.id: level(photo.taken) for photo in placed.photos}
    return placed, stages, replace(bare, ground_height=land.height), bare


def drawn_pieces(
    survey_dir: Path, answers: Mapping, shore: ShoreIndex, projection: Projection
) -> dict[str, np.ndarray]:
    """For each photo of the answer sheet, which pieces of the shore index its picture shows."""
    to_frame = Transformer.from_crs("EPSG:4326", answers["frame"], always_xy=True)
    water = json.loads((survey_dir / "shoreline.geojson").read_text(encoding="utf-8"))["features"][0]["geometry"]
    parts = water["coordinates"] if water["type"] == "Polygon" else water["coordinates"][0]
    lines = [shapely.LineString(np.column_stack(to_frame.transform(*np.array(part)[:, :2].T))) for part in parts]
    places = shapely.points(*to_frame.transform(*projection.lonlats(*shore.xy_m.T)))
    ring = np.argmin([shapely.distance(line, places) for line in lines], axis=0)
    chainage = np.choose(ring, [shapely.line_locate_point(line, places) for line in lines])
    found = {}
    for photo in answers["photos"]:
        shown = np.zeros(len(places), bool)
        for part in photo["visible"]:
            begin, end = part["from_m"] - STEP_M / 2, part["to_m"] - STEP_M / 2
            shown |= (ring == part["ring"]) & (begin <= chainage) & (chainage < end)
        found[photo["file"]] = shown
    return found


def _truly_posed(photo: Photo, truth: Mapping, projection: Projection) -> Photo:
    at = LonLat(truth["lon"], truth["lat"])

    def sure(value: float) -> Measured:
        return Measured(value, "answer sheet", 0.0)

    return replace(
        photo,
        lonlat=at,
        point=projection.point(at),
        position_sigma_m=0.0,
        height_above_water_m=sure(truth["height_above_water_m"]),
        heading_deg_true=sure(truth["heading_deg_true"]) if photo.heading_deg_true else None,
        pitch_deg=sure(truth["pitch_deg"]),
        roll_deg=sure(truth["roll_deg"]),
    )


def _roughly_posed(photo: Photo, true: Photo, device: str, sigma: Mapping, projection: Projection) -> Photo:
    """Make what the device recorded as wrong as a phone would have; what it did not record stays as it is."""

    def times(key: str) -> float:
        return sigma[key]["phone"] / sigma[key][device]

    lonlat, point = photo.lonlat, photo.point
    if photo.position_from in ("exif", "xmp"):
        k = times("position_m_each_axis")
        point = PointM(*(t + k * (p - t) for t, p in zip(true.point, photo.point, strict=True)))
        lonlat = projection.lonlat(point)
    heading, height = photo.heading_deg_true, photo.height_above_water_m
    if heading and true.heading_deg_true and photo.position_from != "corrections":
        off = (heading.value - true.heading_deg_true.value + 180) % 360 - 180
        heading = replace(heading, value=true.heading_deg_true.value + times("heading_deg") * off)
    if height and true.height_above_water_m and device == "drone":
        off = height.value - true.height_above_water_m.value
        height = replace(height, value=true.height_above_water_m.value + times("height_m") * off)
    return replace(photo, lonlat=lonlat, point=point, heading_deg_true=heading, height_above_water_m=height)


def _seen(photo: Photo, shore: ShoreIndex, rules: ViewRules, stage_m: float | None) -> np.ndarray | None:
    _, (metres,) = see_photos([photo], shore, rules, {photo.id: stage_m})
    if metres is None:
        return None
    seen = np.zeros(len(shore.xy_m), bool)
    seen[metres.piece] = True
    return seen


def _row(
    photo: Photo,
    recorded: np.ndarray,
    rough: np.ndarray,
    true: np.ndarray,
    stand_in: np.ndarray,
    drawn: np.ndarray,
    length_m: np.ndarray,
) -> Row:
    def share(one: np.ndarray, other: np.ndarray) -> float:
        either = length_m[one | other].sum()
        return float(length_m[one & other].sum() / either) if either else 1.0

    parts = {"pitch": photo.pitch_deg, "height": photo.height_above_water_m, "heading": photo.heading_deg_true}
    return Row(
        file=photo.source.file,
        kind=photo.kind,
        recorded=share(recorded, drawn),
        stand_in=share(stand_in, drawn),
        rough=share(rough, drawn),
        true_pose=share(true, drawn),
        pose_alone=share(recorded, true),
        seen_m=float(length_m[recorded].sum()),
        drawn_m=float(length_m[drawn].sum()),
        assumed=tuple(name for name, value in parts.items() if value is None or value.assumed),
    )


def table(rows: list[Row]) -> str:
    """Set the rows as text, with the medians, the least, and whether the bars are met."""
    lines = ["recorded stand-in    rough     true   errors  seen m drawn m  photo"]
    for row in rows:
        shares = " ".join(f"{share:8.3f}" for share in row[2:7])
        pose = f"; {' and '.join(row.assumed)} assumed" if row.assumed else ""
        lines.append(f"{shares} {row.seen_m:7.0f} {row.drawn_m:7.0f}  {row.file} ({row.kind}{pose})")
    complete = [row for row in rows if not row.assumed]
    for word, some in ((f"all {len(rows)} photos", rows), (f"the {len(complete)} with a complete pose", complete)):
        shares = np.array([row[2:7] for row in some])
        for name, figures in (
            ("median", np.median(shares, axis=0)), ("least", shares.min(axis=0)), ("under", (shares < LEAST_BAR).sum(0))
        ):  # fmt: skip
            texts = (f"{figure:8d}" if name == "under" else f"{figure:8.3f}" for figure in figures)
            limit = f" {LEAST_BAR:g}" if name == "under" else ""
            lines.append(" ".join(texts) + f"   {name}{limit}, {word}")
    median, under = float(np.median([row.recorded for row in rows])), sum(row.recorded < LEAST_BAR for row in rows)
    lines.append(f"bars: median {'met' if median >= MEDIAN_BAR else 'missed'}, {under} photos under {LEAST_BAR:g}")
    return "\n".join(lines)


if __name__ == "__main__":
    main()
