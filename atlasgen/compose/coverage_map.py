"""The map of side-scan coverage: the water by class as textures, and the gaps by number."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from atlasgen.compose.drawing import ToLonLat, frame_filling
from atlasgen.compose.legend import Entry, legend, legend_height_mm, plate, plate_paper
from atlasgen.compose.sheet import Sheet
from atlasgen.compose.textures import TEXTURED, texture
from atlasgen.model import Drawing, PointM, Ring
from atlasgen.model.sonar import SONAR_CLASSES, Holiday, SonarClass, SonarCoverage
from atlasgen.model.wording import say
from atlasgen.units import DistanceUnit, area_words, percent_words

# So many gaps carry their number on the map; the table has them all. Ours.
_NUMBERED = 30


def coverage_map(
    id: str,
    sonar: SonarCoverage,
    numbers: Mapping[str, int],
    *,
    water: Any,
    rings: Sequence[Ring],
    to_lonlat: ToLonLat,
    distance_unit: DistanceUnit,
    width_mm: float = 170.0,
    height_mm: float = 190.0,
) -> Drawing:
    """Return the whole lake by class of coverage; `numbers` are those of the gaps in the table. All metric."""
    entries = [_entry(name, sonar) for name in SONAR_CLASSES if sonar.area_m2.get(name)]
    foot_mm = legend_height_mm(entries, width_mm)
    frame = frame_filling(water.bounds, width_mm, height_mm - foot_mm, margin_mm=9.0)
    sheet = Sheet(frame, water, rings)
    for name in TEXTURED:
        if name in sonar.area:
            sheet.put("ground", texture(name, frame.cut_area(sonar.area[name])))
    sheet.shore("shore-thin")
    sheet.furniture(distance_unit, to_lonlat)
    for holiday in sonar.holidays[:_NUMBERED]:
        _number(sheet, holiday, numbers[holiday.id])
    sheet.put("legend", legend(entries, (0.0, frame.height_mm), width_mm))
    return sheet.finish(id, coverage_alt(sonar, distance_unit), to_lonlat, foot_mm)


def coverage_alt(sonar: SonarCoverage, unit: DistanceUnit) -> str:
    """Tell the map in words: area and share of each class, and how many gaps there are."""
    parts = [_amount(name, sonar, unit) for name in SONAR_CLASSES if sonar.area_m2.get(name)]
    gaps = len(sonar.holidays)
    alt = say("sonar-map-alt", classes="; ".join(parts))
    return f"{alt} {say('sonar-map-gaps', count=gaps)}" if gaps else alt


def class_words(name: SonarClass) -> str:
    """Return what a class of coverage is called."""
    return say("sonar-class", kind=name)


def _amount(name: SonarClass, sonar: SonarCoverage, unit: DistanceUnit) -> str:
    whole = sum(sonar.area_m2.values())
    share = percent_words(sonar.area_m2[name] / whole)
    return f"{class_words(name)}, {area_words(sonar.area_m2[name], unit)}, {share}"


def _entry(name: SonarClass, sonar: SonarCoverage) -> Entry:
    share = percent_words(sonar.area_m2[name] / sum(sonar.area_m2.values()))
    words = f"{class_words(name)}: {share}"
    return Entry(words, texture=name) if name in TEXTURED else Entry(words, area="water")


def _number(sheet: Sheet, holiday: Holiday, number: int) -> None:
    """Write a gap's number inside it, where the paper is free."""
    inside = holiday.area.representative_point()
    at = sheet.frame.point_mm(PointM(inside.x, inside.y))
    paper = plate_paper(f"{number}", at)
    if sheet.board.is_free(paper):
        sheet.board.write(paper)
        sheet.put("names", plate(f"{number}", at))
