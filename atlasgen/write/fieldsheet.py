"""The printed field sheet: the whole plan on the first page, then a page to tick off for each run."""

from __future__ import annotations

import json
import math
import shutil
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any, Literal

from atlasgen.compose.plan_maps import PlanDrawings, row_mm
from atlasgen.compose.plan_words import check_height, is_high, left_words, minutes_words, plan_cautions, reckoning_words
from atlasgen.model import Drawing, PointM
from atlasgen.model.fieldplan import FieldPlan, Run, Station
from atlasgen.model.wording import language, say
from atlasgen.resources import resource
from atlasgen.units import (
    DistanceUnit,
    compass_point,
    count_words,
    date_words,
    decimal_text,
    distance_words,
    height_words,
    number_words,
)
from atlasgen.write.book_text import Printable, copy_faces
from atlasgen.write.spoken import fill_words
from atlasgen.write.svg import to_svg
from atlasgen.write.typeset import lay_out_pdf

# Five decimals of a degree are a metre: as near as a craft holds its place.
_DIGITS = 5
# PDF/A asks for a date even where none is known.
_NO_DATE = date(1970, 1, 1)


@dataclass(frozen=True, slots=True)
class SheetFacts:
    """The survey's own words for the sheet's heads and feet; `dated` is the day it is made for, if known.

    `variation` is what a compass is off at the launch point on that day; without it no magnetic headings are printed.
    """

    title: str
    edition: str
    season: str = ""
    crew: str = ""
    unit: DistanceUnit = "metric"
    paper: Literal["a4", "letter"] = "a4"
    dated: date | None = None
    variation: Variation | None = None


@dataclass(frozen=True, slots=True)
class Variation:
    """What a compass is off: degrees, east positive; the model that says so, and what to say of it, if anything."""

    east_deg: float
    model: str
    warning: str | None = None

    def magnetic(self, heading_deg_true: float) -> float:
        """Return what a compass shows when the camera looks along a true heading."""
        return (heading_deg_true - self.east_deg) % 360


def write_field_sheet(plan: FieldPlan, drawings: PlanDrawings, facts: SheetFacts, target: Path, *, work: Path) -> None:
    """Write the sheet; `target` appears when it is whole.

    Parameters
    ----------
    work
        A folder for files on the way; a folder `sheet` is made in it and removed again.

    Raises
    ------
    LayoutFault
        The template could not be laid out; a defect of atlasgen, whatever the survey holds.
    """
    folder = work / "sheet"
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(resource("templates", "plan"), folder)
    try:
        copy_faces(folder / "faces")
        printable = Printable()
        data = sheet_data(plan, facts, printable)
        _put_drawings(data, drawings, folder / "drawings", printable)
        fill_words(folder / "words.json")
        (folder / "data.json").write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8")
        part = target.with_name(f".{target.name}.part")
        lay_out_pdf(folder, "sheet.typ", part, facts.dated or _NO_DATE)
        part.replace(target)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def sheet_data(plan: FieldPlan, facts: SheetFacts, printable: Printable) -> dict[str, Any]:
    """Return what the template prints, every string fit for the typeface."""
    day = facts.dated
    return {
        "language": language(),
        "title": printable.text(facts.title),
        "edition": printable.text(say("sheet-edition", title=facts.title, edition=facts.edition)),
        "season": printable.text(facts.season),
        "crew": printable.line(facts.crew),
        "paper": facts.paper,
        "date": [day.year, day.month, day.day] if day else None,
        "summary": printable.text(_summary(plan, facts.unit)),
        "bound": _bound(plan),
        "runs": [_run(run, plan, facts, printable) for run in plan.runs],
        "beyond": [_beyond(station, plan, facts.unit) for station in plan.beyond],
        "left": [list(row) for row in left_words(plan, facts.unit)],
        "cautions": [printable.text(caution) for caution in plan_cautions(plan, facts.unit)],
        "variation": printable.text(variation_words(facts)),
        "reckoning": [printable.text(words) for words in reckoning_words(plan.rules, facts.unit)],
    }


def _summary(plan: FieldPlan, unit: DistanceUnit) -> str:
    missing = distance_words(plan.missing_m, unit)
    if not plan.missing_m:
        return say("sheet-nothing-missing")
    if not plan.runs:
        return say("sheet-nothing-flown", missing=missing)
    facts = {
        "stations": len(plan.stations),
        "runs": len(plan.runs),
        "launch": plan.rules.launch_name,
        "missing": missing,
    }
    if plan.missing_m - plan.claimed_m < 0.5:
        return say("sheet-summary-all", **facts)
    return say("sheet-summary", claimed=distance_words(plan.claimed_m, unit), **facts)


def _bound(plan: FieldPlan) -> str:
    if not plan.runs:
        return ""
    tried = count_words(plan.candidates)
    if len(plan.stations) <= plan.lower_bound:
        return say("sheet-bound-reached", tried=tried)
    return say("sheet-bound", tried=tried, least=plan.lower_bound)


def variation_words(facts: SheetFacts) -> str:
    """Say what a compass is off at the launch point, by which model and for which day."""
    if facts.variation is None:
        return say("sheet-no-variation")
    east_deg, warning = facts.variation.east_deg, facts.variation.warning
    model = facts.variation.model.replace("WMM-", "World Magnetic Model ")
    words = say(
        "sheet-variation",
        degrees=number_words(abs(east_deg), 1),
        side="east" if east_deg >= 0 else "west",
        model=model,
        day=date_words(facts.dated) if facts.dated else say("sheet-no-date"),
    )
    return f"{words} {warning[:1].upper()}{warning[1:]}" if warning else words


def _run(run: Run, plan: FieldPlan, facts: SheetFacts, printable: Printable) -> dict[str, Any]:
    unit = facts.unit
    way = [plan.rules.launch, *(station.at for station in run.stations)]
    legs = [_leg(before, at, unit) for before, at in pairwise(way)]
    name = printable.text(plan.rules.launch_name)
    return {
        "number": run.number,
        "count": str(len(run.stations)),
        "length": distance_words(run.length_m, unit),
        "time": minutes_words(run.time_s),
        "battery": say("sheet-share", percent=round(run.time_s / plan.rules.battery_s * 100)),
        "farthest": distance_words(run.farthest_m, unit),
        "over_land": _over_land(run, unit) or say("sheet-none-over-land"),
        "facts": say("sheet-facts", stations=len(run.stations), launch=name),
        "beside": ", ".join(
            part
            for part in (
                say("sheet-about", time=minutes_words(run.time_s)),
                distance_words(run.length_m, unit),
                say("sheet-over-land", distance=_over_land(run, unit)) if _over_land(run, unit) else "",
            )
            if part
        ),
        "high": _high(run, plan, unit),
        "row_mm": row_mm(len(run.stations)),
        "stations": [_station(s, leg, plan, facts) for s, leg in zip(run.stations, legs, strict=True)],
    }


def _high(run: Run, plan: FieldPlan, unit: DistanceUnit) -> str:
    flagged = any(is_high(station, plan.rules) for station in run.stations)
    return say("sheet-high", check=check_height(plan.rules, unit)) if flagged else ""


def _over_land(run: Run, unit: DistanceUnit) -> str:
    return distance_words(run.over_land_m, unit) if run.over_land_m >= 5 else ""


def _leg(before: PointM, at: PointM, unit: DistanceUnit) -> str:
    turn = math.degrees(math.atan2(at.x_m - before.x_m, at.y_m - before.y_m))
    return f"{distance_words(math.dist(before, at), unit)} {_point(turn)}"


def _station(station: Station, leg: str, plan: FieldPlan, facts: SheetFacts) -> dict[str, Any]:
    unit, true_deg = facts.unit, station.heading_deg_true
    return {
        "number": str(station.number),
        "position": _position(station),
        "leg": leg,
        "height": height_words(station.height_m, unit),
        "high": is_high(station, plan.rules),
        "heading": f"{_whole(true_deg)} {_point(true_deg)}",
        "magnetic": _whole(facts.variation.magnetic(true_deg)) if facts.variation else "–",
        "pitch": decimal_text(f"{-station.pitch_deg:g}°").replace("-", "−"),
        "shows": distance_words(station.shows_m, unit),
        "reaches": _reaches(station.reaches),
    }


def _whole(bearing_deg: float) -> str:
    return f"{round(bearing_deg) % 360:03d}°"


def _point(bearing_deg: float) -> str:
    return "".join(say("sheet-point", point=word) for word in compass_point(bearing_deg).split("-"))


def _position(station: Station) -> str:
    lon, lat = station.lonlat
    return f"{lat:.{_DIGITS}f}, {lon:.{_DIGITS}f}".replace("-", "−")


def _reaches(reaches: Sequence[str]) -> str:
    """Ids with runs of neighbours drawn together, the ring said once: `S-0001, 0067…0069`."""
    runs: list[list[str]] = []
    for reach in sorted(reaches):
        if runs and _follows(runs[-1][-1], reach):
            runs[-1].append(reach)
        else:
            runs.append([reach])
    words, ring = [], ""
    for run in runs:
        (this, number), end = run[0].rsplit("-", 1), run[-1].rsplit("-", 1)[1]
        first = number if this == ring else run[0]
        words.append(first if len(run) == 1 else f"{first}…{end}")
        ring = this
    return ", ".join(words)


def _follows(before: str, reach: str) -> bool:
    (ring, number), (other, after) = before.rsplit("-", 1), reach.rsplit("-", 1)
    return ring == other and int(after) == int(number) + 1


def _beyond(station: Station, plan: FieldPlan, unit: DistanceUnit) -> dict[str, str]:
    return {
        "name": station.name,
        "position": _position(station),
        "distance": distance_words(math.dist(station.at, plan.rules.launch), unit),
        "reaches": _reaches(station.reaches),
    }


def _put_drawings(data: dict[str, Any], drawings: PlanDrawings, folder: Path, printable: Printable) -> None:
    """Write the drawings, and what the template must know of each into the data."""
    folder.mkdir()
    data["overview"] = _put_drawing(drawings.overview, folder, printable)
    for run, drawing in zip(data["runs"], drawings.runs, strict=True):
        run["drawing"] = _put_drawing(drawing, folder, printable)


def _put_drawing(drawing: Drawing, folder: Path, printable: Printable) -> dict[str, Any]:
    (folder / f"{drawing.id}.svg").write_text(to_svg(drawing), encoding="utf-8")
    return {
        "name": drawing.id,
        "width_mm": drawing.width_mm,
        "height_mm": drawing.height_mm,
        "alt": printable.line(drawing.alt),
    }
