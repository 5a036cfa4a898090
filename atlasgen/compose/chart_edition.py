"""The chart edition that the atlas ships with, held against the atlas: what does not agree, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from atlasgen.model import ChartEdition, Problem
from atlasgen.model.sonar import SourceRow


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
    step = "Mend survey.toml, then build again."
    if _plain(chart.edition) != _plain(edition):
        yield f"chart.edition: the chart is {chart.edition!r}, the atlas {edition!r}. Expected one edition. {step}"
    if _plain(chart.datum) != _plain(datum):
        yield (
            f"chart.datum: the chart's depths are below {chart.datum!r}, the atlas's below {datum!r}. "
            f"Expected one datum. {step}"
        )
    if sounded_to and sounded_to > chart.date:
        yield (
            f"chart.date: the chart is of {chart.date}, the atlas holds soundings to {sounded_to}. "
            f"Expected a chart made after them. {step}"
        )


def _plain(text: str) -> str:
    return " ".join(text.split()).casefold()
