"""compose/chart_edition: the chart that survey.toml states against the atlas."""

from __future__ import annotations

from datetime import date

from atlasgen.compose.chart_edition import chart_mismatches, chart_problems
from atlasgen.model import ChartEdition
from atlasgen.model.sonar import SourceRow

_CHART = ChartEdition("2026.1", date(2026, 5, 30), "Full supply  level")


def _source(last: date) -> SourceRow:
    return SourceRow("soundings", "a.csv", "", (date(2026, 3, 1), last), 1, 1.0, 1.0, 1.0, 1.0)


def test_a_chart_of_the_same_edition_and_datum_agrees():
    """Case and spacing do not matter; soundings of the chart's own day are on it."""
    assert list(chart_mismatches(_CHART, "2026.1", "full supply level", date(2026, 5, 30))) == []


def test_each_disagreement_names_both_sides():
    """Edition, datum and date are told one by one, with what chart and atlas say."""
    found = list(chart_mismatches(_CHART, "2026.2", "low water", date(2026, 6, 1)))
    assert len(found) == 3
    for words, (chart, atlas) in zip(
        found, [("2026.1", "2026.2"), ("Full supply  level", "low water"), ("2026-05-30", "2026-06-01")], strict=True
    ):
        assert chart in words
        assert atlas in words


def test_the_build_tells_a_mismatch_as_a_fault():
    """The last day of any soundings counts; without a stated chart there is nothing to tell."""
    problems = chart_problems(_CHART, "2026.1", "full supply level", [_source(date(2026, 7, 1))])
    assert [(p.subject, p.code, p.level) for p in problems] == [("survey.toml", "chart", "fault")]
    assert chart_problems(None, "x", "y", [_source(date(2026, 7, 1))]) == ()
