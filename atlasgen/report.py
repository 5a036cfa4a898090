"""What the commands print: short tables and sentences for a person at a terminal."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from pathlib import Path

from atlasgen.model import PROBLEM_CODES, Atlas, Gap, Problem
from atlasgen.units import area_words, distance_words

_SHOWN_OF_A_KIND = 5


def check_report(atlas: Atlas) -> str:
    """Say what is usable, what is not, and what to do, most serious first."""
    unused = [p for p in atlas.problems if p.level == "fault"]
    notes = [p for p in atlas.problems if p.level == "note"]
    parts = [
        _summary(atlas),
        _problem_list("Left out, and why", atlas.left_out),
        _problem_list("Inputs that could not be used", unused),
        _problem_list("Used, but look at this", notes),
    ]
    if not atlas.problems:
        parts.append("Nothing to mend.")
    return "\n\n".join(part for part in parts if part)


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
        ("pages", f"{len(atlas.pages)}"),
    )
    head = f"{facts.title}, edition {facts.edition}"
    return "\n".join([head, *(f"  {name:<18} {value}" for name, value in rows)])


def _problem_list(heading: str, problems: Iterable[Problem]) -> str:
    by_code: dict[str, list[Problem]] = defaultdict(list)
    for problem in problems:
        by_code[problem.code].append(problem)
    lines = []
    for code, items in by_code.items():
        lines.append(f"  {PROBLEM_CODES.get(code, code)} ({len(items)})")
        lines += [f"    {item.words}" for item in items[:_SHOWN_OF_A_KIND]]
        if len(items) > _SHOWN_OF_A_KIND:
            lines.append(f"    and {len(items) - _SHOWN_OF_A_KIND} more, all listed in the atlas")
    return "\n".join([f"{heading}:", *lines]) if lines else ""


def build_report(atlas: Atlas, out: Path) -> str:
    """Say what was published and where to look first."""
    unused = sum(p.level == "fault" for p in atlas.problems)
    lines = [_summary(atlas), "", f"Open first: {out / 'index.html'}", f"The book:   {out / 'atlas.pdf'}"]
    if atlas.left_out or unused:
        told = f"{len(atlas.left_out)} files left out, {unused} inputs not used"
        lines.append(f"{told}: the reasons are in the atlas, in atlas.json and in `atlasgen check`.")
    lines.append("Not for navigation.")
    return "\n".join(lines)


def audit_report(atlas: Atlas) -> str:
    """Say in ten seconds how much shore has a photo near it, and where the longest gaps are."""
    unit = atlas.survey.distance_unit
    lines = [f"{atlas.survey.title}, edition {atlas.survey.edition}: photos along the shore", ""]
    lines.append(f"  {'':<24}{'shore':>9}{'near a photo':>15}{'none':>9}{'none, %':>9}")
    audit = atlas.known.audit
    for total in (*audit.by_ring, audit.total):
        near_m, none_m = total.lengths_m["near"], total.lengths_m["none"]
        share = none_m / total.length_m if total.length_m else 0.0
        cells = [distance_words(value, unit) for value in (total.length_m, near_m, none_m)]
        lines.append(
            f"  {_ring_words(total.name, atlas)[:23]:<24}{cells[0]:>9}{cells[1]:>15}{cells[2]:>9}{share:>9.0%}"
        )
    gaps = sorted(atlas.known.gaps, key=lambda gap: -gap.length_m)[:_SHOWN_OF_A_KIND]
    if gaps:
        lines += ["", "Longest stretches without a photo:"]
        lines += [f"  {distance_words(gap.length_m, unit):>8}  {_gap_words(gap)}" for gap in gaps]
    lines += ["", "Near means that a photo is tied to the reach; whether it shows the bank is not worked out yet."]
    return "\n".join(lines)


def _ring_words(name: str, atlas: Atlas) -> str:
    rings = {ring.id: ring for ring in atlas.placed.rings}
    if name not in rings:
        return "in all"
    return f"island {name}" if rings[name].island else f"{rings[name].name} ({name})"


def _gap_words(gap: Gap) -> str:
    first, last = gap.reaches[0], gap.reaches[-1]
    return f"reach {first}" if first == last else f"reaches {first} to {last}"
