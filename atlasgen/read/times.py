"""Times as files write them -> seconds since 1970 UTC; NaN where a cell tells no moment.

Read: ISO 8601 (`2026-05-01 14:03:20.5`, with or without `Z` or an offset), `20260501`, `2026/05/01`, day-first with
full stops (`01.05.2026`, common practice, no source), day or month first with `/` or `-` where some value of the
column settles which, am/pm, and numbers of seconds or milliseconds since 1970. A time without a zone is read in the
zone given. What had to be assumed comes back in words.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from atlasgen.model import Problem, Zone
from atlasgen.model.wording import say
from atlasgen.units import grouped_words

if TYPE_CHECKING:
    import pandas as pd


_AWARE = r"[T ]\d{1,2}:?\d\d.*(?:Z|[+-]\d\d(?::?\d\d)?)$"
_DATE_ALONE = r"^(?:\d{4}-\d{1,2}-\d{1,2}|\d{8})$"
_ISO = r"^(?:\d{4}-\d{1,2}-\d{1,2}(?:$|[T ])|\d{8}(?:$|[T ]))"
_CLOCK_ALONE = r"^\d{1,2}:\d\d(?::\d\d(?:[.,]\d+)?)?$"
_PARTS = r"^(?P<a>\d{1,2})(?P<sep>[./-])(?P<b>\d{1,2})(?P=sep)(?P<year>\d{4}|\d{2})(?P<rest>[ T,].*)?$"
_HALF_DAY = (
    r"^(?P<day>[\d-]{8,10})[T ]+(?P<hour>\d{1,2}):(?P<min>\d\d)(?P<sec>:\d\d(?:\.\d+)?)?"
    r"\s*(?P<half>[AaPp])\.?[Mm]\.?$"
)
# Seconds since 1970 between 1998 and 2096; a thousand times that is milliseconds. Outside, a number is no time.
_EPOCH_S = (0.9e9, 4.0e9)


class Times(NamedTuple):
    """`time_s` with NaN where unknown; `notes` are (code, sentence)."""

    time_s: np.ndarray
    notes: tuple[tuple[str, str], ...]

    def problems(self, name: str) -> list[Problem]:
        """Return what was assumed, for the file of that name."""
        return [Problem(name, code, f"{name}: {text}") for code, text in self.notes]


def times_utc(cells: np.ndarray | Sequence[str], zone: Zone, *, date_hour: int | None = None) -> Times:
    """Read a column of times.

    Parameters
    ----------
    cells
        Texts, or numbers of seconds or milliseconds since 1970.
    zone
        For times that name none.
    date_hour
        Local hour that a date alone stands for; None: a date alone is no moment (NaN).
    """
    cells = np.asarray(cells)
    if cells.dtype.kind in "iuf":
        numbers = cells.astype(float)
        if not _are_dates(numbers):
            return _from_numbers(numbers)
        cells = np.array([f"{number:.0f}" if np.isfinite(number) else "" for number in numbers], dtype=object)
    import pandas as pd

    texts = pd.Series(cells, dtype="object").fillna("").astype(str).str.strip()
    numbers = pd.to_numeric(texts, errors="coerce").to_numpy(dtype=float)
    if len(numbers) and np.isfinite(numbers).sum() > len(numbers) / 2 and not texts.str.match(_ISO).any():
        return _from_numbers(numbers)
    iso, notes = _to_iso(texts)
    return _from_iso(iso, zone, date_hour, notes)


def moment(text: str, zone: Zone) -> datetime | None:
    """One cell -> aware UTC datetime, or None."""
    time_s = times_utc([text], zone).time_s[0]
    return None if np.isnan(time_s) else datetime.fromtimestamp(float(time_s), tz=UTC)


def joined(dates: Iterable[str], clocks: Iterable[str]) -> np.ndarray:
    """Put a date column and a time-of-day column together; a clock such as 193232 becomes 19:32:32."""
    clock_of = re.compile(r"^(\d\d)(\d\d)(\d\d(?:\.\d+)?)$")
    times = [clock_of.sub(r"\1:\2:\3", clock.strip()) for clock in clocks]
    return np.array([f"{day.strip()} {clock}".strip() for day, clock in zip(dates, times, strict=True)], dtype=object)


def _are_dates(numbers: np.ndarray) -> bool:
    """Whether numbers are dates such as 20260501."""
    finite = numbers[np.isfinite(numbers)]
    return len(finite) > 0 and bool(((finite > 19000100) & (finite < 21000000) & (finite % 1 == 0)).all())


def _from_numbers(numbers: np.ndarray) -> Times:
    finite = numbers[np.isfinite(numbers)]
    for divisor, unit in ((1.0, "seconds"), (1000.0, "milliseconds")):
        low, high = _EPOCH_S[0] * divisor, _EPOCH_S[1] * divisor
        if len(finite) and low < np.median(finite) < high:
            time_s = np.where((numbers > low) & (numbers < high), numbers / divisor, np.nan)
            return Times(time_s, (("ambiguous", say("input-times-since", unit=unit)),))
    note = ("no_time", say("input-times-no-seconds"))
    return Times(np.full(len(numbers), np.nan), (note,) if len(finite) else ())


def _to_iso(texts: pd.Series) -> tuple[pd.Series, list[tuple[str, str]]]:
    """Rewrite the other forms as ISO 8601; what cannot be settled becomes empty, and is said."""
    texts = texts.str.replace(r"^(\d{4})[/.](\d{1,2})[/.](\d{1,2})", r"\1-\2-\3", regex=True)
    notes = []
    odd = ~texts.str.match(_ISO)
    if odd.any():
        rewritten, note = _from_parts(texts[odd])
        texts = texts.copy()
        texts[odd] = rewritten
        notes += [note] if note else []
    halves = texts.str.match(_HALF_DAY)
    if halves.any():
        texts[halves] = texts[halves].str.replace(_HALF_DAY, _hour_of_24, regex=True)
    return texts, notes


def _hour_of_24(match: re.Match[str]) -> str:
    hour = int(match["hour"]) % 12 + (12 if match["half"] in "Pp" else 0)
    return f"{match['day']} {hour:02}:{match['min']}{match['sec'] or ':00'}"


def _from_parts(texts: pd.Series) -> tuple[pd.Series, tuple[str, str] | None]:
    parts = texts.str.extract(_PARTS)
    first, second = (parts[key].astype("float64") for key in ("a", "b"))
    if parts["a"].isna().all():
        clocks = texts.str.match(_CLOCK_ALONE).sum()
        note = ("no_time", say("input-times-without-date", count=grouped_words(clocks))) if clocks else None
        return texts.where(texts == "", ""), note
    # Dots write the day first; with slashes or hyphens only a number above 12 tells.
    day_first = (parts["sep"].dropna() == ".").all() or bool((first > 12).any())
    month_first = not (parts["sep"].dropna() == ".").all() and bool((second > 12).any())
    if day_first == month_first:
        example = texts[parts["a"].notna()].iloc[0]
        said = say("input-two-dates", example=f"{example!r}")
        return texts.where(texts == "", ""), ("no_time", said)
    day, month = (parts["a"], parts["b"]) if day_first else (parts["b"], parts["a"])
    year = parts["year"].where(parts["year"].str.len() == 4, "20" + parts["year"])
    rest = parts["rest"].fillna("").str.replace(r"^[ T,]+", " ", regex=True)
    order = "day" if day_first else "month"
    iso = year + "-" + month.str.zfill(2) + "-" + day.str.zfill(2) + rest
    return iso.fillna(""), ("ambiguous", say("input-dates-order", first=order))


def _from_iso(texts: pd.Series, zone: Zone, date_hour: int | None, notes: list[tuple[str, str]]) -> Times:
    import pandas as pd

    readable = texts.where(texts.str.match(_ISO), None)
    stamps = pd.to_datetime(readable, format="ISO8601", errors="coerce", utc=True)
    naive_s = _seconds(stamps)
    date_alone = texts.str.match(_DATE_ALONE).to_numpy(dtype=bool) & np.isfinite(naive_s)
    naive_s[date_alone] += np.nan if date_hour is None else date_hour * 3600
    aware = texts.str.contains(_AWARE).to_numpy(dtype=bool)
    if not aware.all():
        naive_s[~aware], twice = _to_utc(naive_s[~aware], zone)
        if twice:
            said = say("input-hour-repeated", count=grouped_words(twice))
            notes = [*notes, ("ambiguous", said)]
    return Times(naive_s, tuple(notes))


def _seconds(stamps: pd.Series) -> np.ndarray:
    values = stamps.dt.tz_convert(None).to_numpy().astype("datetime64[us]")
    return np.where(np.isnat(values), np.nan, values.astype(np.int64) / 1e6)


def _to_utc(local_s: np.ndarray, zone: Zone) -> tuple[np.ndarray, int]:
    """Local wall time (as if UTC) -> UTC seconds, and how many could be read twice (end of summer time)."""
    if isinstance(zone, timedelta):
        return local_s - zone.total_seconds(), 0
    import pandas as pd

    index = pd.DatetimeIndex((local_s * 1e6).round().astype("datetime64[us]"))
    sides = []
    for summer in (True, False):
        chosen = np.full(len(index), summer)
        zoned = index.tz_localize(zone, ambiguous=chosen, nonexistent="shift_forward")
        sides.append(_seconds(pd.Series(zoned)))
    return sides[0], int((np.abs(sides[0] - sides[1]) > 0).sum())
