"""The story of a field plan: work the survey out as `check` does, find what is missing, plan, write."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Literal

from atlasgen.config import SETTINGS_FILE, Settings, read_settings
from atlasgen.errors import InputFault, OutputRefused
from atlasgen.model import Atlas, LonLat, Progress
from atlasgen.model.fieldplan import FieldPlan, PlanRules, ShoreSpan
from atlasgen.model.wording import say, speaking
from atlasgen.pipeline import check, silent

if TYPE_CHECKING:
    from atlasgen.place.geo import Projection
    from atlasgen.write.fieldsheet import Variation

_OURS = "plan.csv"


def plan(survey_dir: Path, out: Path, *, workers: int = 2, progress: Progress = silent) -> FieldPlan:
    """Plan the next field day and write its files and its field sheet into the folder `out`.

    Raises
    ------
    AtlasgenError
        The survey cannot be worked out, no launch point is set, or `out` holds something that is not a plan.
    """
    from atlasgen.measure.fieldplan import field_plan, seer
    from atlasgen.place.geo import Projection
    from atlasgen.place.shore_index import shore_index

    settings = read_settings(survey_dir)
    launch = launch_point(settings)
    _refuse_foreign(out, survey_dir)
    atlas = check(survey_dir, workers=workers, progress=progress)
    projection = Projection(atlas.placed.crs_metric)
    shore = shore_index(
        atlas.placed.water, atlas.placed.rings, atlas.placed.reaches, projection, atlas.known.land_height
    )
    missing = [
        ShoreSpan(stretch.ring, stretch.from_m, stretch.to_m)
        for stretch in atlas.known.audit.stretches
        if stretch.state not in ("well", "cannot")
    ]
    progress("choosing stations", 0, 0)
    with speaking(settings.units.language):
        rules = plan_rules(settings, launch, projection)
    made = field_plan(missing, shore, atlas.placed.water, projection, rules, seer(shore, settings.view_rules()))
    progress("writing the plan", 0, 0)
    with speaking(settings.units.language):
        write_plan(made, atlas, projection, out)
    return made


def launch_point(settings: Settings) -> LonLat:
    """Return where the boat or the drone starts from: `plan.launch`, else the start of the shoreline."""
    found = settings.plan.launch or settings.shore.start
    if found is None:
        step = "Set it in survey.toml under [plan] (or `start` under [shore])."
        raise InputFault(SETTINGS_FILE, "plan.launch is not set", "[longitude, latitude]", step)
    return LonLat(*found)


def plan_rules(settings: Settings, launch: LonLat, projection: Projection) -> PlanRules:
    """Return the rules of a plan: its limits are the audit's, so that what it closes is closed for the audit too."""
    rules = settings.plan.rules(projection.point(launch))
    return replace(
        rules,
        launch_name=settings.plan.launch_name or settings.shore.start_name or say("sheet-launch"),
        gsd_limit_cm=settings.audit.gsd_limit_cm,
        angle_limit_deg=settings.audit.angle_limit_deg,
    )


def _refuse_foreign(out: Path, survey_dir: Path) -> None:
    inside = survey_dir.resolve() in (out.resolve(), *out.resolve().parents)
    if inside or (out.exists() and (not out.is_dir() or (any(out.iterdir()) and not (out / _OURS).is_file()))):
        why = "is inside the survey folder" if inside else "exists and is not a plan"
        raise OutputRefused(str(out), why, "Choose another folder for --out.")


def variation_at(launch: LonLat, dated: date | None) -> Variation:
    """Return what a compass is off at the launch point on a day, by the World Magnetic Model."""
    from atlasgen.place.camera import magnetic_to_true
    from atlasgen.write.fieldsheet import Variation

    found = magnetic_to_true(0.0, launch, 0.0, datetime.combine(dated, time(12), UTC) if dated else None)
    return Variation(found.declination_deg, found.model, found.warning if dated else None)


def write_plan(made: FieldPlan, atlas: Atlas, projection: Projection, out: Path) -> None:
    """Write the files for instruments and the printed field sheet."""
    from atlasgen.compose.plan_maps import PlanGround, plan_drawings
    from atlasgen.write.fieldsheet import SheetFacts, write_field_sheet
    from atlasgen.write.planfiles import write_plan_files

    facts, placed = atlas.survey, atlas.placed
    places = tuple(replace(place, area=projection.to_metric(place.area)) for place in atlas.layers.places)
    unit = facts.distance_unit
    write_plan_files(made, out, title=facts.title, rings=placed.rings, projection=projection, unit=unit)
    ground = PlanGround(placed.water, placed.rings, projection.lonlat, unit, places)
    variation = variation_at(made.launch, facts.dated)
    # A sheet for the field wants room for a map and a table: it is never smaller than A4.
    paper: Literal["a4", "letter"] = "letter" if facts.paper == "letter" else "a4"
    sheet = SheetFacts(facts.title, facts.edition, facts.season, facts.crew, unit, paper, facts.dated, variation)
    with TemporaryDirectory() as work:
        drawings = plan_drawings(made, ground, paper)
        write_field_sheet(made, drawings, sheet, out / "field_sheet.pdf", work=Path(work))
