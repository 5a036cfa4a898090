"""What the commands print: short tables and sentences for a person at a terminal."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from pathlib import Path

from atlasgen.model import Atlas, AuditRules, Problem, ShoreState, StateStretch, StateTotal
from atlasgen.model.fieldplan import FieldPlan
from atlasgen.model.states import SHORE_STATES
from atlasgen.model.wording import say
from atlasgen.units import DistanceUnit, area_words, count_words, distance_words

_SHOWN_OF_A_KIND = 5
_STATE_WORDS = {
    "well": "seen well",
    "poorly": "seen poorly",
    "near": "near only",
    "none": "none",
    "cannot": "cannot be",
}


def check_report(atlas: Atlas) -> str:
    """Say what is usable, what is not, and what to do, most serious first."""
    unused = [p for p in atlas.problems if p.level == "fault"]
    notes = [p for p in atlas.problems if p.level == "note"]
    parts = [
        _summary(atlas),
        _personal(atlas),
        _problem_list("Left out, and why", atlas.left_out),
        _problem_list("Inputs that could not be used", unused),
        _problem_list("Used, but look at this", notes),
    ]
    if not atlas.problems:
        parts.append("Nothing to mend.")
    return "\n\n".join(part for part in parts if part)


def _personal(atlas: Atlas) -> str:
    """List what the photos carry of persons, by kind; their places stand on the pages, unless they are private."""
    kinds = Counter(kind for photo in atlas.placed.photos for kind in photo.source.personal)
    if not kinds:
        return ""
    rows = "\n".join(
        f"  {kind:<28} in {count} photo{'s' if count != 1 else ''}" for kind, count in sorted(kinds.items())
    )
    return f"Personal metadata in the photos; none of it goes into the published pictures\n{rows}"


def _summary(atlas: Atlas) -> str:
    facts, placed, known = atlas.survey, atlas.placed, atlas.known
    sources = Counter(photo.position_from for photo in placed.photos)
    headed = sum(photo.heading_deg_true is not None for photo in placed.photos)
    staged = sum(stage is not None for stage in known.stage_of_photo_m.values())
    from_words = ", ".join(f"{count} from {name}" for name, count in sorted(sources.items()))
    shore = distance_words(facts.shore_m, facts.distance_unit)
    islands = sum(ring.island for ring in placed.rings)
    rows = (
        ("photos placed", f"{len(placed.photos)}" + (f" ({from_words})" if from_words else "")),
        ("left out", f"{len(atlas.left_out)}"),
        ("direction known", f"{headed} of {len(placed.photos)}"),
        ("water level known", f"{staged} of {len(placed.photos)}"),
        ("water", f"{area_words(facts.water_m2, facts.distance_unit)}, {shore} of shore, islands: {islands}"),
        ("reaches", f"{len(placed.reaches)} on {len(placed.tiles)} tiles"),
        ("soundings used", f"{known.soundings_used:,}" if known.soundings_used else "none"),
        ("landmarks", _landmarks(atlas)),
        ("pages", f"{len(atlas.pages)}"),
    )
    head = f"{facts.title}, edition {facts.edition}"
    return "\n".join([head, *(f"  {name:<18} {value}" for name, value in rows)])


def _landmarks(atlas: Atlas) -> str:
    """Count the crew's landmarks, hazards apart: a file that is not found would else pass unseen."""
    marks = atlas.placed.landmarks
    hazards = sum(mark.kind == "hazard" for mark in marks)
    return f"{len(marks)}, hazards: {hazards}" if marks else "none"


def _problem_list(heading: str, problems: Iterable[Problem]) -> str:
    by_code: dict[str, list[Problem]] = defaultdict(list)
    for problem in problems:
        by_code[problem.code].append(problem)
    lines = []
    for code, items in by_code.items():
        lines.append(f"  {say('problem-kind', code=code)} ({len(items)})")
        lines += [f"    {item.words}" for item in items[:_SHOWN_OF_A_KIND]]
        if len(items) > _SHOWN_OF_A_KIND:
            lines.append(f"    and {len(items) - _SHOWN_OF_A_KIND} more, all listed in the atlas")
    return "\n".join([f"{heading}:", *lines]) if lines else ""


def _book_lines(atlas: Atlas, out: Path) -> list[str]:
    """Name the files of the book, and those that no parting at tiles could bring under the limit."""
    files = sorted(out.glob("atlas*.pdf"), key=lambda file: (len(file.name), file.name))
    lines = [f"{'The book:' if i == 0 else '':<12}{file}" for i, file in enumerate(files)]
    limit = atlas.survey.volume_mb
    over = [file for file in files if limit and file.stat().st_size > limit * 1e6]
    return lines + [
        f"{file.name} has {file.stat().st_size / 1e6:.1f} MB, more than book.volume_mb ({limit:g}): it is one tile, "
        "which is not parted. Choose a smaller photos.profile, or raise the limit."
        for file in over
    ]


def build_report(atlas: Atlas, out: Path) -> str:
    """Say what was published and where to look first."""
    unused = sum(p.level == "fault" for p in atlas.problems)
    lines = [_summary(atlas), "", f"Open first: {out / 'index.html'}", *_book_lines(atlas, out)]
    if atlas.left_out or unused:
        told = f"{len(atlas.left_out)} files left out, {unused} inputs not used"
        lines.append(f"{told}: the reasons are in the atlas, in atlas.json and in `atlasgen check`.")
    lines.append("Not for navigation.")
    return "\n".join(lines)


def audit_report(atlas: Atlas) -> str:
    """Say in ten seconds how much shore is shown, how well, and where the longest gaps are."""
    unit, audit = atlas.survey.distance_unit, atlas.known.audit
    names = [state for state in SHORE_STATES if audit.totals.total.lengths_m[state] or state != "cannot"]
    lines = [f"{atlas.survey.title}, edition {atlas.survey.edition}: what the photographs show of the shore", ""]
    lines.append(f"  {'':<22}{'shore':>9}" + "".join(f"{_STATE_WORDS[name]:>15}" for name in names))
    for total in (*audit.totals.by_ring, audit.totals.total):
        cells = "".join(f"{_share(total, name, unit):>15}" for name in names)
        lines.append(f"  {_ring_words(total.name, atlas)[:21]:<22}{distance_words(total.length_m, unit):>9}{cells}")
    gaps = sorted((s for s in audit.stretches if s.state == "none"), key=lambda s: -s.length_m)[:_SHOWN_OF_A_KIND]
    if gaps:
        lines += ["", "Longest stretches that no photograph shows:"]
        lines += [f"  {distance_words(gap.length_m, unit):>8}  {_stretch_words(gap, atlas)}" for gap in gaps]
    return "\n".join([*lines, "", _limits_words(audit.pieces.rules)])


def _share(total: StateTotal, name: ShoreState, unit: DistanceUnit) -> str:
    return f"{distance_words(total.lengths_m[name], unit)} {total.percent[name]:3.0f} %"


def _limits_words(rules: AuditRules) -> str:
    return (
        f"Well: some photo shows it with {rules.gsd_limit_cm:g} cm a pixel or finer, at {rules.angle_limit_deg:g}° to "
        f"the bank or more, and within {rules.age_limit_days:g} days of the newest photo. The angle is the one in "
        "space between the line of sight and the run of the bank: 90° square on or from straight above, 0° along the "
        "bank, below 0° from behind at a low height. Near: a photo is tied to the reach but is not known to show it."
    )


def _stretch_words(stretch: StateStretch, atlas: Atlas) -> str:
    reaches = [
        reach.id
        for reach in atlas.placed.reaches
        if reach.ring == stretch.ring and reach.to_m > stretch.from_m and reach.from_m < stretch.to_m
    ]
    where = f"{stretch.from_m:.0f} to {stretch.to_m:.0f} m along ring {stretch.ring}"
    return f"{where}, reach {reaches[0]}" if len(reaches) == 1 else f"{where}, reaches {reaches[0]} to {reaches[-1]}"


def _ring_words(name: str, atlas: Atlas) -> str:
    rings = {ring.id: ring for ring in atlas.placed.rings}
    if name not in rings:
        return "in all"
    return f"island {name}" if rings[name].island else f"{rings[name].name} ({name})"


def plan_report(plan: FieldPlan, out: Path) -> str:
    """Say how much a field day would close, in how many runs, and what is left and why."""
    lines = [
        f"{len(plan.stations)} stations in {len(plan.runs)} runs, to close {count_words(round(plan.claimed_m))} m of "
        f"{count_words(round(plan.missing_m))} m that are not seen well."
    ]
    for run in plan.runs:
        minutes, flown = f"{run.time_s / 60:.0f} min", f"{count_words(round(run.length_m))} m"
        lines.append(f"  run {run.number}: {len(run.stations)} stations, {minutes}, {flown} flown")
    left: dict[str, float] = defaultdict(float)
    for item in plan.left:
        left[item.why] += item.span.length_m
    lines += [f"  not closed, {length_m:.0f} m: {why}" for why, length_m in sorted(left.items())]
    if plan.beyond:
        lines.append(f"  {len(plan.beyond)} stations are beyond one battery and in no run")
    lines.append(f"Print first: {out / 'field_sheet.pdf'}")
    lines.append("A proposal, not a flight clearance: local rules, your licence and the day decide.")
    return "\n".join(lines)
