"""What atlasgen says each demo photo shows, against what its renderer drew: `python benchmarks/shore_seen.py`.

The answer sheet of the demo (tests/data/demo_truth.json) holds, for each photo, the stretches of shoreline to which a
ray from the true camera passes free of ground, trees, shrubs and boulders. Shares are lengths in both answers over
lengths in either (intersection over union). Three columns:

recorded  from the pose that the file holds, with the device's errors: what a reader of the atlas gets
true      from the pose that the renderer used: what the method itself is good for, without a survey's errors
errors    atlasgen's answer for the one pose against its answer for the other: what the errors alone cost

Bars: recorded at least 0.90 in the median and 0.75 for each photo.
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
from atlasgen.model import LonLat, Measured, Photo, Placed
from atlasgen.model.views import ViewRules
from atlasgen.pipeline import silent
from atlasgen.place.geo import Projection
from atlasgen.place.seen import seen_metres, view_of
from atlasgen.place.shore_index import ShoreIndex, shore_index
from atlasgen.place.survey import place_survey
from atlasgen.read.survey import read_survey

CHECKOUT = Path(__file__).resolve().parents[1]
MEDIAN_BAR, LEAST_BAR = 0.90, 0.75
# The answer sheet asks at points this far apart; each stands for the metre before and the metre after it.
STEP_M = 2.0


class Row(NamedTuple):
    """One photo: shares, and lengths of shoreline in metres."""

    file: str
    kind: str
    recorded: float
    true_pose: float
    pose_alone: float
    seen_m: float
    drawn_m: float


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
    placed, stage_m = _placed(survey_dir)
    projection = Projection(placed.crs_metric)
    shore = shore_index(placed.water, placed.rings, placed.reaches, projection)
    drawn = drawn_pieces(survey_dir, answers, shore, projection)
    truths = {answer["file"]: answer for answer in answers["photos"]}
    rows = []
    for photo in placed.photos:
        if photo.source.file not in drawn:
            continue
        recorded = _seen(photo, shore, rules, stage_m[photo.id])
        true = _seen(_truly_posed(photo, truths[photo.source.file], projection), shore, rules, stage_m[photo.id])
        if recorded is not None and true is not None:
            rows.append(_row(photo, recorded, true, drawn[photo.source.file], shore.to_m - shore.from_m))
    return sorted(rows, key=lambda row: row.recorded)


def _placed(survey_dir: Path) -> tuple[Placed, dict[str, float | None]]:
    settings = read_settings(survey_dir)
    with ThreadPoolExecutor(2) as executor:
        survey = read_survey(survey_dir, settings.read_rules(), executor, silent)
    level = level_lookup(survey.stage)
    placed = place_survey(survey, settings.place_rules(), level, silent)
    return placed, {photo.id: level(photo.taken) for photo in placed.photos}


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


def _seen(photo: Photo, shore: ShoreIndex, rules: ViewRules, stage_m: float | None) -> np.ndarray | None:
    view = view_of(photo, shore, rules, stage_m)
    if view is None:
        return None
    seen = np.zeros(len(shore.xy_m), bool)
    seen[seen_metres(photo, view, shore, stage_m).piece] = True
    return seen


def _row(photo: Photo, recorded: np.ndarray, true: np.ndarray, drawn: np.ndarray, length_m: np.ndarray) -> Row:
    def share(one: np.ndarray, other: np.ndarray) -> float:
        either = length_m[one | other].sum()
        return float(length_m[one & other].sum() / either) if either else 1.0

    return Row(
        file=photo.source.file,
        kind=photo.kind,
        recorded=share(recorded, drawn),
        true_pose=share(true, drawn),
        pose_alone=share(recorded, true),
        seen_m=float(length_m[recorded].sum()),
        drawn_m=float(length_m[drawn].sum()),
    )


def table(rows: list[Row]) -> str:
    """Set the rows as text, with the medians, the least, and whether the bars are met."""
    lines = ["recorded     true   errors  seen m drawn m  photo"]
    for row in rows:
        shares = " ".join(f"{share:8.3f}" for share in row[2:5])
        lines.append(f"{shares} {row.seen_m:7.0f} {row.drawn_m:7.0f}  {row.file} ({row.kind})")
    all_shares = np.array([row[2:5] for row in rows])
    for word, figures in (("median", np.median(all_shares, axis=0)), ("least", all_shares.min(axis=0))):
        lines.append(" ".join(f"{figure:8.3f}" for figure in figures) + f"   {word} of {len(rows)} photos")
    median, under = float(np.median(all_shares[:, 0])), int((all_shares[:, 0] < LEAST_BAR).sum())
    lines.append(f"bars: median {'met' if median >= MEDIAN_BAR else 'missed'}, {under} photos under {LEAST_BAR:g}")
    return "\n".join(lines)


if __name__ == "__main__":
    main()
