"""Units and how numbers are rounded for readers. Inside atlasgen everything is metres, seconds and degrees.

Whatever returns words returns them in the language now spoken, with its decimal sign.

1 ft = 0.3048 m exactly and 1 mile = 1609.344 m (NIST Handbook 44, Appendix C); 1 knot = 1852/3600 m/s and
1 fathom = 6 ft by definition.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta, timezone
from functools import cache
from typing import Literal
from zoneinfo import ZoneInfo

from atlasgen.model.wording import decimal_text, language, say

FOOT_M = 0.3048
MEGABYTE = 1_000_000
MILE_M = 1609.344
FATHOM_M = 6 * FOOT_M
KNOT_MPS = 1852 / 3600
ACRE_M2 = 4046.8564224

_OFFSET = re.compile(r"^UTC(?:([+-])(\d{1,2}):?([0-5]\d)?)?$")

DepthUnit = Literal["feet", "metres"]
DistanceUnit = Literal["metric", "imperial"]

# As it stands behind a number.
DEPTH_SHORT = {"feet": "ft", "metres": "m"}
DEPTH_UNIT_M = {"metres": 1.0, "feet": FOOT_M, "fathoms": FATHOM_M}
_POINTS = (
    "north",
    "north-north-east",
    "north-east",
    "east-north-east",
    "east",
    "east-south-east",
    "south-east",
    "south-south-east",
    "south",
    "south-south-west",
    "south-west",
    "west-south-west",
    "west",
    "west-north-west",
    "north-west",
    "north-north-west",
)
# English as the sentences are: without a comma before the last.
_LIST_LOCALES = {"en": "en_GB"}
# Guards the floor below against binary noise: 12 ft is 3.6576000000000004 m on some paths.
_EPSILON = 1e-9


def depth_number(depth_m: float, unit: DepthUnit) -> float:
    """Depth in the reader's unit, rounded toward shallower: whole feet, or tenths of a metre.

    A depth above the datum (negative: it dries) also rounds toward shallower, that is, to the larger height.
    """
    step = 1.0 if unit == "feet" else 0.1
    value = depth_m / DEPTH_UNIT_M[unit]
    return round(math.floor(value / step + _EPSILON) * step, 1)


def depth_words(depth_m: float, unit: DepthUnit) -> str:
    """Depth with its unit, `12 ft` or `3.6 m`; ground above the level is `dry`."""
    number = depth_number(depth_m, unit)
    if number < 0:
        return say("units-dry")
    return length_words(number_words(number, 0 if unit == "feet" else 1), unit)


def rise_words(height_m: float, unit: DepthUnit) -> str:
    """Height of a step in the bed or a bound of depth, one decimal: `3.4 ft`, `1.0 m`."""
    return length_words(number_words(height_m / DEPTH_UNIT_M[unit], 1), unit)


def level_words(stage_m: float, unit: DepthUnit) -> str:
    """Stage against the datum in words: `1.4 ft below full`, `at full`."""
    places = 1 if unit == "feet" else 2
    size = round(abs(stage_m) / DEPTH_UNIT_M[unit], places)
    if size == 0:
        return say("units-at-full")
    height = length_words(number_words(size, places), unit)
    return say("units-below-full" if stage_m < 0 else "units-above-full", height=height)


def distance_words(distance_m: float, unit: DistanceUnit) -> str:
    """Distance for reading: two figures that matter, never more than the data bear."""
    if unit == "metric":
        if distance_m < 995:
            return length_words(_two_figures(distance_m), "metres")
        return length_words(number_words(distance_m / 1000, 1), "kilometres")
    feet = distance_m / FOOT_M
    if feet < 995:
        return length_words(_two_figures(feet), "feet")
    return length_words(number_words(distance_m / MILE_M, 1), "miles")


def set_words(length_m: float, unit: DistanceUnit) -> str:
    """Return a length that was set, as it was set: `25 m`, or `82 ft` to three figures."""
    if unit == "metric":
        return length_words(decimal_text(f"{length_m:g}"), "metres")
    return length_words(decimal_text(f"{float(f'{length_m / FOOT_M:.3g}'):g}"), "feet")


def height_words(height_m: float, unit: DistanceUnit) -> str:
    """Height of a camera, whole metres or feet; tenths below 10."""
    value, name = (height_m, "metres") if unit == "metric" else (height_m / FOOT_M, "feet")
    return length_words(number_words(value, 1 if abs(value) < 10 else 0), name)


def area_words(area_m2: float, unit: DistanceUnit) -> str:
    """Area in hectares or acres, three figures; below a tenth of a hectare in square metres or square yards."""
    if 0 < area_m2 < 1000:
        small = (area_m2, "square-metres") if unit == "metric" else (area_m2 / (3 * FOOT_M) ** 2, "square-yards")
        return say("units-area", number=_two_figures(small[0]), unit=small[1])
    value, name = (area_m2 / 10_000, "hectares") if unit == "metric" else (area_m2 / ACRE_M2, "acres")
    return say("units-area", number=number_words(value, 1 if value < 100 else 0), unit=name)


def volume_words(volume_m3: float, unit: DistanceUnit) -> str:
    """Volume in cubic metres, millions of them from a million on, or in acre-feet; three figures."""
    if unit == "metric" and volume_m3 >= 1e6:
        millions = decimal_text(f"{volume_m3 / 1e6:#.3g}".rstrip("."))
        return say("units-volume", number=millions, unit="million-cubic-metres")
    cubic = (volume_m3, "cubic-metres") if unit == "metric" else (volume_m3 / (ACRE_M2 * FOOT_M), "acre-feet")
    step = 10 ** max(len(f"{cubic[0]:.0f}") - 3, 0)
    return say("units-volume", number=count_words(round(cubic[0] / step) * step), unit=cubic[1])


def compass_words(bearing_deg: float, points: Literal[4, 8, 16] = 16) -> str:
    """Name the nearest of 4, 8 or 16 compass points: 68 -> `east-north-east`."""
    return say("units-compass", point=compass_point(bearing_deg, points))


def compass_point(bearing_deg: float, points: Literal[4, 8, 16] = 16) -> str:
    """Return the same as a key to choose words by, whatever the language."""
    step = 360 / points
    return _POINTS[int((bearing_deg % 360) / step + 0.5) % points * (16 // points)]


def percent_words(share: float) -> str:
    """Percent that never says all or nothing unless it is so."""
    percent = share * 100
    if 0 < percent < 1:
        return say("units-under-one-percent")
    if 99 < percent < 100:
        return say("units-over-99-percent")
    return say("units-percent", number=number_words(percent))


def number_words(value: float, places: int = 0) -> str:
    """Return a number with so many decimals."""
    return decimal_text(f"{value:.{places}f}")


def listing(parts: Sequence[str]) -> str:
    """Join words as a sentence does: `a`, `a and b`, `a, b and c`."""
    from babel.lists import format_list

    return format_list(parts, locale=_LIST_LOCALES.get(language(), language()))


def count_words(count: int) -> str:
    """Count with its thousands spaced, never broken across lines: 12 345."""
    return f"{count:,}".replace(",", "\N{NO-BREAK SPACE}")


def grouped(count: int) -> str:
    """Return a count with its thousands grouped as the language does: 12,345."""
    from babel.numbers import format_decimal

    return format_decimal(count, locale=language())


def grouped_words(count: int) -> str:
    """Count within a sentence, its thousands grouped as the language does: `12,345`."""
    from babel.numbers import format_decimal

    return format_decimal(count, locale=language())


def fixed_offset(zone: str) -> timedelta | None:
    """Return the offset of `UTC`, `UTC+05:00` or `UTC-3`, None for anything else."""
    match = _OFFSET.match(zone)
    if not match:
        return None
    sign, hours, minutes = match.groups()
    offset = timedelta(hours=int(hours or 0), minutes=int(minutes or 0))
    return -offset if sign == "-" else offset


def zone_offset(zone: str) -> timedelta | ZoneInfo:
    """Return a fixed offset for `UTC±HH:MM`, else the named zone."""
    offset = fixed_offset(zone)
    return ZoneInfo(zone) if offset is None else offset


def local_time(when: datetime, zone: timedelta | ZoneInfo) -> datetime:
    """Return an aware time as the clocks of a zone show it."""
    return when.astimezone(timezone(zone) if isinstance(zone, timedelta) else zone)


def date_words(day: date, month: Literal["%B", "%b"] = "%B") -> str:
    """`4 March 2026`, or `4 Mar 2026`."""
    name = _months(language(), "wide" if month == "%B" else "abbreviated")[day.month]
    return say("units-date", day=day.day, month=name, year=day.year)


def month_words(day: date) -> str:
    """`Mar 2026`."""
    return say("units-month", month=_months(language(), "abbreviated")[day.month], year=day.year)


@cache
def _months(name: str, width: Literal["wide", "abbreviated"]) -> Mapping[int, str]:
    from babel.dates import get_month_names

    return get_month_names(width, locale=name)


def length_words(number: str, unit: str) -> str:
    """Return a number that is already written with its unit: metres, kilometres, feet or miles."""
    return say("units-length", number=number, unit=unit)


def _two_figures(value: float) -> str:
    if value < 10:
        return f"{value:.0f}"
    step = 10 ** (math.floor(math.log10(value)) - 1)
    return f"{round(value / step) * step:.0f}"
