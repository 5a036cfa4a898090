"""Values of the model as JSON values."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from sample_atlas import make_sample_atlas

from atlasgen.model import LonLat
from atlasgen.write.measured import measured_document, measured_layers, plain


@dataclass(frozen=True)
class Thing:
    """A value as the model has them."""

    size_m: float
    when: datetime | None
    names: tuple[str, ...]


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (math.nan, None),
        (1.23456, 1.235),
        (True, True),
        (7, 7),
        (datetime(2026, 3, 4, 12, tzinfo=timezone(timedelta(hours=-6))), "2026-03-04T18:00:00Z"),
        (date(2026, 3, 4), "2026-03-04"),
        (LonLat(-96.4, -31.6), {"lon": -96.4, "lat": -31.6}),
        ({"a": (1.0, None)}, {"a": [1.0, None]}),
        (
            Thing(2.00049, datetime(2026, 1, 1, tzinfo=UTC), ("x",)),
            {"size_m": 2.0, "when": "2026-01-01T00:00:00Z", "names": ["x"]},
        ),
    ],
)  # fmt: skip
def test_values_become_plain(value: object, expected: object) -> None:
    """No NaN, times in UTC, places by name, tuples as lists."""
    assert plain(value) == expected


def test_what_is_left_out_is_left_out_at_the_top_only() -> None:
    """Geometry is not for JSON."""
    assert list(plain(Thing(1.0, None, ()), leave=("when",))) == ["size_m", "names"]


def test_a_lake_of_which_nothing_is_measured_says_so() -> None:
    """Null and empty, not zero, and no layer of the GeoPackage with rows."""
    document = measured_document(make_sample_atlas())
    assert document["side_scan"] is None
    assert document["relief"] == document["sources"] == document["layers"] == []
    assert [name for name, (rows, _) in measured_layers(make_sample_atlas()).items() if rows] == []
