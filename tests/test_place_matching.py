"""Matching of reaches: redrawn, cut anew, renumbered, across a narrow inlet."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString
from shapely.affinity import translate
from shapely.ops import substring

from atlasgen.place.matching import match_lines

SHORE = LineString([(x, 40 * math.sin(x / 150)) for x in range(0, 1001, 5)])


def cut(line, borders_m, prefix="S"):
    """Cut a line at chainages into reaches S-0001 and so on."""
    return {f"{prefix}-{number:04d}": substring(line, *pair) for number, pair in enumerate(pairwise(borders_m), 1)}


def line(*points):
    return LineString(points)


def test_what_is_the_same_is_matched_wholly():
    """Every reach is itself, in the order given."""
    reaches = cut(SHORE, range(0, 1001, 100))
    assert match_lines(reaches, reaches, 25.0) == {name: (name, 1.0) for name in reaches}


def test_the_share_is_what_lies_beside():
    """Of 100 m, 70 lie beside the old reach and 30 beside the next: by hand."""
    old = {"A": line((0, 0), (100, 0)), "B": line((100, 0), (200, 0))}
    assert match_lines(old, {"N": line((30, 5), (130, 5))}, 10.0) == {"N": ("A", 0.7)}


def test_the_smaller_of_both_shares_counts():
    """A reach of 100 m cut out of one of 160 m is all of itself but only 0.625 of the old one."""
    old = {"A": line((0, 0), (160, 0))}
    assert match_lines(old, {"N": line((0, 0), (100, 0))}, 10.0) == {"N": ("A", 0.625)}


def test_less_than_half_is_no_match():
    """A third of the old one does not carry its id on, nor does a neighbour that only touches."""
    old = {"A": line((0, 0), (300, 0))}
    assert match_lines(old, {"N": line((0, 0), (100, 0))}, 10.0) == {}
    assert match_lines(old, {"N": line((300, 0), (400, 0))}, 50.0) == {}


def test_each_old_reach_is_given_once():
    """Two that want the same one: the larger share has it, and equal ones go by id."""
    old = {"A": line((0, 0), (100, 0))}
    new = {"N": line((40, 0), (140, 0)), "M": line((10, 0), (110, 0))}
    assert match_lines(old, new, 10.0) == {"M": ("A", 0.9)}
    twins = {"Q": line((0, 0), (100, 0)), "P": line((0, 0), (100, 0))}
    assert match_lines(old, twins, 10.0) == {"P": ("A", 1.0)}


def test_a_narrow_inlet_is_not_crossed():
    """Both banks lie within reach of each other; the nearer line is the same bank, whatever the names."""
    old = {"B": line((0, 0), (100, 0)), "A": line((100, 8), (0, 8))}
    new = {"A": line((0, 1), (100, 1)), "B": line((100, 9), (0, 9))}
    assert match_lines(old, new, 25.0) == {"A": ("B", 1.0), "B": ("A", 1.0)}


def test_an_island_of_one_reach_and_a_line_of_no_length():
    """A closed line matches itself redrawn; a point on the shore matches nothing."""
    ring = line(*((30 * math.cos(t / 10), 30 * math.sin(t / 10)) for t in range(63)), (30, 0))
    assert match_lines({"A": ring}, {"A": translate(ring, 2, 1)}, 10.0) == {"A": ("A", 1.0)}
    assert match_lines({"A": line((0, 0), (0, 0))}, {"A": line((0, 0), (0, 0))}, 10.0) == {}


@pytest.mark.parametrize(("old", "new"), [({}, {"A": SHORE}), ({"A": SHORE}, {}), ({}, {})])
def test_nothing_matches_nothing(old, new):
    """An edition without reaches."""
    assert match_lines(old, new, 10.0) == {}


@settings(max_examples=30)
@given(east_m=st.floats(-6, 6), north_m=st.floats(-6, 6), first=st.integers(1, 50))
def test_a_redrawn_and_renumbered_shore_keeps_its_reaches(east_m, north_m, first):
    """Moved by less than what is allowed, every reach is found again, whatever it is called now."""
    old = cut(SHORE, range(0, 1001, 100))
    new = {f"N-{first + number:04d}": translate(part, east_m, north_m) for number, part in enumerate(old.values())}
    found = match_lines(old, new, 25.0)
    assert [found[name][0] for name in new] == list(old)
    assert min(share for _, share in found.values()) > 0.85


@settings(max_examples=30)
@given(shift_m=st.floats(0, 100))
def test_a_shore_cut_anew_is_matched_one_to_one(shift_m):
    """Every inner reach has the old one that it shares most with, and none is given twice."""
    old = cut(SHORE, range(0, 1001, 100))
    new = cut(SHORE, [shift_m + at for at in range(0, 901, 100)])
    found = match_lines(old, new, 25.0)
    assert len({old_id for old_id, _ in found.values()}) == len(found)
    assert len(found) == len(new)
    expected = max(shift_m, 100 - shift_m) / 100
    assert all(share == pytest.approx(expected, abs=0.06) for _, share in found.values())


@settings(max_examples=30)
@given(names=st.permutations(range(10)))
def test_the_order_of_the_input_does_not_matter(names):
    """The same pairs, however the mappings are ordered."""
    reaches = list(cut(SHORE, range(0, 1001, 100)).items())
    mixed = dict(reaches[number] for number in names)
    assert match_lines(mixed, dict(reaches), 25.0) == match_lines(dict(reaches), mixed, 25.0)
