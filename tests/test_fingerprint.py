"""fingerprint: values told apart by what they hold."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point

from atlasgen.fingerprint import Fingerprints
from atlasgen.model import LonLat, PointM

_VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text() | st.binary(max_size=99),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=3), inner, max_size=4),
    max_leaves=12,
)


@dataclass(frozen=True)
class _Fact:
    name: str
    depth_m: float | None


@dataclass(frozen=True)
class _Other:
    name: str
    depth_m: float | None


def of(value: object) -> str:
    """Take one fingerprint."""
    return Fingerprints().of(value)


@given(_VALUES)
def test_the_same_contents_have_the_same_fingerprint(value):
    """Also a second time, when it is known, and of a copy."""
    taker = Fingerprints()
    assert taker.of(value) == taker.of(value) == of(value)


@given(_VALUES, _VALUES)
def test_other_contents_have_another(one, other):
    """Values whose Python text differs are never taken for one another."""
    if repr(one) != repr(other) and one != other:
        assert of(one) != of(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (1, 1.0), (1, True), ("1", 1), (0.0, -0.0), (b"a", "a"), ([], None), ("", None), (["ab"], ["a", "b"]),
        (_Fact("a", 1.0), _Fact("a", 2.0)), (_Fact("a", 1.0), _Other("a", 1.0)), (_Fact("a", None), _Fact("a", 0.0)),
        (Point(1, 2), Point(2, 1)), (LineString([(0, 0), (1, 1)]), LineString([(1, 1), (0, 0)])),
        (np.zeros(4), np.zeros((2, 2))), (np.zeros(4), np.zeros(4, np.float32)), (np.zeros(2), np.array([0, 1.0])),
        (date(2026, 1, 1), datetime(2026, 1, 1)),
        (datetime(2026, 1, 1, tzinfo=UTC), datetime(2026, 1, 1)),
        (timedelta(hours=1), timedelta(hours=2)), (ZoneInfo("Etc/GMT-5"), ZoneInfo("Etc/GMT-6")),
        ({"a": 1}, {"a": 2}), ({"a": 1}, {"b": 1}), ({1, 2}, {1, 3}), (LonLat(1.0, 2.0), LonLat(2.0, 1.0)),
    ],
)  # fmt: skip
def test_values_that_look_alike_are_told_apart(one, other):
    """Types, order, shapes, signs and zones count."""
    assert of(one) != of(other)


def test_order_counts_where_it_means_something():
    """Not in mappings and sets, but in lists; tuple and list of the same are the same."""
    assert of({"a": 1, "b": 2}) == of({"b": 2, "a": 1})
    assert of({3, 1, 2}) == of({2, 3, 1})
    assert of([1, 2]) != of([2, 1])
    assert of((1, 2)) == of([1, 2])


def test_a_list_that_changes_is_taken_anew():
    """Only what cannot change is known again by its identity."""
    taker, values = Fingerprints(), [1]
    before = taker.of(values)
    values.append(2)
    assert taker.of(values) != before


def test_another_process_takes_the_same():
    """Nothing of the process, its seed for hashes or its addresses is in it."""
    value = (_Fact("é", None).name, 1.5, {"b": 1, "a": {2, 1}}, PointM(1.0, 2.0))
    code = (
        "from atlasgen.fingerprint import Fingerprints; from atlasgen.model import PointM;"
        "print(Fingerprints().of(('é', 1.5, {'a': {1, 2}, 'b': 1}, PointM(1.0, 2.0))))"
    )
    done = subprocess.run([sys.executable, "-X", "utf8", "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == of(value)


def test_what_has_no_contents_is_refused():
    """A function or an array of objects would be known by nothing but its address."""
    for value in (len, np.array([object()]), object()):
        with pytest.raises(TypeError, match="no fingerprint of"):
            of(value)
    assert of(replace(_Fact("a", 1.0), depth_m=2.0)) == of(_Fact("a", 2.0))


def test_a_value_may_be_known_by_what_it_was_made_from():
    """Then its contents are not looked at; an equal value that was made another way goes by its contents."""
    fingerprints, learned = Fingerprints(), _Fact("bank", 1.5)
    by_contents = of((learned, 1))
    fingerprints.learn(learned, "made so")
    assert fingerprints.of((learned, 1)) != by_contents
    assert fingerprints.of((_Fact("bank", 1.5), 1)) == by_contents


def test_parts_of_a_tuple_are_known_apart():
    """Each by its place; and again in another process, since the name says all."""
    one, other = (_Fact("a", 1.0), _Fact("a", 1.0)), (_Fact("a", 1.0), _Fact("a", 1.0))
    first, second = Fingerprints(), Fingerprints()
    first.learn(one, "made so")
    second.learn(other, "made so")
    assert first.of(one[0]) != first.of(one[1])
    assert [first.of(part) for part in one] == [second.of(part) for part in other]
