"""The chart edition that an atlas ships with, as the crew states it; its files are never opened."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class ChartEdition:
    """What survey.toml says of the chart: its edition, its date, and the datum of its depths."""

    edition: str
    date: date
    datum: str
