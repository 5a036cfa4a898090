"""The chart edition that the atlas ships with, held against the atlas: what does not agree, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from atlasgen.model import ChartEdition, Problem
from atlasgen.model.sonar import SourceRow
from atlasgen.model.wording import say


def chart_problems(
    chart: ChartEdition | None, edition: str, datum: str, sources: Iterable[SourceRow]
) -> tuple[Problem, ...]:
    """Return a fault for each way in which the chart that survey.toml states is not the atlas's own."""
    last = [source.dates[1] for source in sources if source.what == "soundings" and source.dates]
    if chart is None:
        return ()
    found = chart_mismatches(chart, edition, datum, max(last, default=None))
    return tuple(Problem("survey.toml", "chart", words, "fault") for words in found)


def chart_mismatches(chart: ChartEdition, edition: str, datum: str, sounded_to: date | None) -> Iterator[str]:
    """Yield a sentence for each disagreement; `sounded_to` is the last day of the atlas's soundings, if known.

    Names are compared whatever their case and spacing. A chart cannot show what was sounded after its date.
    """
    if _plain(chart.edition) != _plain(edition):
        yield say("chart-editions-differ", chart=f"{chart.edition!r}", atlas=f"{edition!r}")
    if _plain(chart.datum) != _plain(datum):
        yield say("chart-datums-differ", chart=f"{chart.datum!r}", atlas=f"{datum!r}")
    if sounded_to and sounded_to > chart.date:
        yield say("chart-older-than-soundings", chart=f"{chart.date}", soundings=f"{sounded_to}")


def _plain(text: str) -> str:
    return " ".join(text.split()).casefold()
