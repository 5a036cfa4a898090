"""Candidate stations on lakes checked by hand: where they stand, what they are credited with, and why not."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from lakes import square_lake
from sample_plan import index_of
from shapely import MultiPolygon, box

from atlasgen.measure.stations import (
    choose,
    missing_pieces,
    plan_camera,
    seer,
    spans_of,
    try_stations,
    with_margin,
    within_limits,
)
from atlasgen.model import PointM
from atlasgen.model.fieldplan import Aim, PlanRules, ShoreSpan
from atlasgen.model.views import SeenMetres, ViewRules

RULES = PlanRules(launch=PointM(0, 0), aims=(Aim(40, -20),), standoffs_m=(90.0,))
# The ring of the square starts at its north-west corner and runs east: its north bank is the first 1000 m.
NORTH = ShoreSpan("S", 400.0, 600.0)
WHY_COARSE = "seen only coarser than the limit"
WHY_HIDDEN = "hidden by land from every station tried"
WHY_SLANTING = "seen only at a lower angle to the bank than the limit"
WHY_NO_STATION = "no place over the water at the distances tried"


@pytest.fixture(scope="module")
def square():
    return index_of(square_lake())


@pytest.fixture(scope="module")
def tried(square):
    return try_stations(missing_pieces([NORTH], square), square, square_lake(), RULES)


def seen_of(pieces, distance_m=90.0, angle_deg=90.0, gsd_cm=4.0):
    many = np.ones(len(pieces))
    return SeenMetres(np.asarray(pieces, int), distance_m * many, angle_deg * many, gsd_cm * many)


def test_spans_and_pieces_are_the_same_shore(square):
    """200 m of 2 m pieces are 100 pieces, and they join to the span they came from."""
    missing = missing_pieces([NORTH], square)
    assert missing.sum() == 100
    assert spans_of(np.flatnonzero(missing), square) == (NORTH,)


def test_spans_of_two_rings_do_not_join(square):
    """Pieces that follow by number only are two spans, and no pieces are none."""
    assert (ShoreSpan("S", 0.0, 2.0), ShoreSpan("S", 4.0, 6.0)) == spans_of(np.array([0, 2]), square)
    assert spans_of(np.empty(0, int), square) == ()


def test_stations_stand_off_the_bank_over_water_and_look_at_it(tried, square):
    """Square to the north bank at 90 m: y is 410 and the heading north; the skewed ones are turned by 35°."""
    cameras = [candidate.camera for candidate in tried.candidates]
    assert all(shapely.contains_xy(square_lake(), *camera.at) for camera in cameras)
    ahead = [camera for camera in cameras if abs((camera.heading_deg + 180) % 360 - 180) < 1e-6]
    assert {410.0} == {round(camera.at.y_m, 6) for camera in ahead}
    assert {0.0, 35.0, 325.0} == {round(camera.heading_deg % 360, 6) % 360 for camera in cameras}


def test_all_of_an_open_bank_is_shown_and_few_stations_do(tried, square):
    """200 m at 90 m off, with 57° of the lens counted: 98 m a frame ahead, so three; skewed frames are wider: two."""
    weight = np.where(missing_pieces([NORTH], square), 2.0, 0.0)
    chosen = choose(tried.candidates, weight)
    shown = np.unique(np.concatenate([tried.candidates[number].pieces for number in chosen]))
    assert weight.sum() == weight[shown].sum()
    assert 2 <= len(chosen) <= 3
    assert set(tried.why_not.tolist()) == {""}


def test_a_credited_piece_is_still_shown_when_the_pose_is_off(tried, square):
    """Turned, pitched and moved by two sigmas at once, the frame still holds all but a little of what is credited."""
    see = seer(square, ViewRules())
    for candidate in tried.candidates[::7]:
        at = candidate.camera.at
        off = replace(
            candidate.camera,
            at=PointM(at.x_m + 4, at.y_m),
            heading_deg=candidate.camera.heading_deg - 4,
            pitch_deg=candidate.camera.pitch_deg + 2,
        )
        kept = np.isin(candidate.pieces, see(off).piece)
        assert kept.mean() >= 0.97


def test_a_narrowed_lens_keeps_the_angle_of_a_pixel():
    """Half the tangent, half the pixels, so that the GSD stays what it is."""
    camera = plan_camera(PointM(0, 0), Aim(40, -20), 0.0, RULES)
    narrow = with_margin(camera, RULES)
    assert narrow.pixel_tangent == pytest.approx(camera.pixel_tangent, rel=1e-3)
    assert 2 * 6 < camera.hfov_deg - narrow.hfov_deg < 2 * 8


def test_limits_count_with_room_for_the_position():
    """At 40 m a position 4 m off makes a pixel a tenth coarser and turns the line of sight by 5.7°."""
    sharp, coarse = seen_of([0], 40.0, 25.8, 9.0), seen_of([0], 40.0, 25.6, 9.2)
    assert [bool(x[0]) for x in within_limits(sharp, RULES, 2.0)] == [True, True]
    assert [bool(x[0]) for x in within_limits(coarse, RULES, 2.0)] == [False, False]
    assert [bool(x[0]) for x in within_limits(coarse, RULES)] == [True, True]


@pytest.mark.parametrize(
    ("changes", "angle_deg", "gsd_cm", "why"),
    [({}, 90.0, 50.0, WHY_COARSE), ({}, 5.0, 4.0, WHY_SLANTING), ({}, -40.0, 4.0, WHY_SLANTING)],
)
def test_why_not_names_the_limit_that_failed(square, changes, angle_deg, gsd_cm, why):
    """Too coarse wherever it is seen, or fine enough and too slanting."""
    missing = missing_pieces([NORTH], square)
    pieces = np.flatnonzero(missing)
    tried = try_stations(
        missing, square, square_lake(), replace(RULES, **changes), lambda _: seen_of(pieces, 90.0, angle_deg, gsd_cm)
    )
    assert ({why}, ()) == (set(tried.why_not[missing].tolist()), tried.candidates)


def test_why_not_says_hidden_where_stations_stand_and_see_nothing(square):
    """There was water to stand over, and nothing in view."""
    missing = missing_pieces([NORTH], square)
    tried = try_stations(missing, square, square_lake(), RULES, lambda _: seen_of([]))
    assert {WHY_HIDDEN} == set(tried.why_not[missing].tolist())


def test_why_not_says_that_there_is_nowhere_to_stand():
    """A pond of 20 m has no water 90 m off its bank."""
    pond = MultiPolygon([box(-10, -10, 10, 10)])
    index = index_of(pond)
    tried = try_stations(np.ones(len(index.ring), bool), index, pond, RULES)
    assert ({WHY_NO_STATION}, ()) == (set(tried.why_not.tolist()), tried.candidates)


def test_a_second_aim_is_tried_only_where_the_first_fails():
    """The pond again, with a steeper camera close by: 20 m across, seen from 5 m off and 40 m up."""
    pond = MultiPolygon([box(-10, -10, 10, 10)])
    index = index_of(pond)
    rules = replace(RULES, aims=(Aim(40, -20), Aim(40, -70)), standoffs_m=(8.0, 90.0))
    tried = try_stations(np.ones(len(index.ring), bool), index, pond, rules)
    assert {-70} == {candidate.camera.pitch_deg for candidate in tried.candidates}
    assert {""} == set(tried.why_not.tolist())
