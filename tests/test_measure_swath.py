"""The ground of one pass, against areas worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, box
from sidescan_scene import BLIND_M, HEIGHT_M, REACH_M, RULES, area_of, lake, missing, on_ground, sonar_pass

from atlasgen.model import Outage
from atlasgen.model.sonar import SonarRules

STRAIGHT = ((20, 50), (120, 50))
ONE_SIDE = 100 * (REACH_M - BLIND_M)


def test_a_straight_pass_covers_two_strips():
    """100 m long, 12 m to each side less the blind strip of 1.820 m (70 degrees)."""
    run = on_ground(sonar_pass("a", STRAIGHT), lake())
    port, starboard = run.swaths
    assert pytest.approx(ONE_SIDE, rel=1e-6) == port.fine.area
    assert pytest.approx(ONE_SIDE, rel=1e-6) == starboard.fine.area
    # Running east, port is north.
    assert pytest.approx((20, 50 + BLIND_M, 120, 62)) == port.fine.bounds
    assert pytest.approx((20, 38, 120, 50 - BLIND_M)) == starboard.fine.bounds
    (under,) = missing(run, "under_boat")
    assert pytest.approx(100 * 2 * BLIND_M, rel=1e-6) == under.area.area
    assert (run.length_m, run.reach_m, run.speed_mps) == (100.0, REACH_M, 2.0)


def test_a_straight_pass_is_thinned_to_its_ends():
    """Fifty positions on a line say no more than two."""
    run = on_ground(sonar_pass("a", STRAIGHT), lake())
    assert shapely.get_coordinates(run.line).tolist() == [[20, 50], [120, 50]]


@pytest.mark.parametrize("seed", [1, 2])
def test_thinning_keeps_the_ground(seed):
    """A wandering, noisy pass: thinned and whole agree within the tolerance along both edges of both sides."""
    rng = np.random.default_rng(seed)
    x = np.arange(20.0, 180.0, 2.0)
    places = np.c_[x, 50 + 8 * np.sin(x / 25) + rng.normal(0, 0.2, x.size)]
    run = sonar_pass("a", places)
    thin, whole = on_ground(run, lake()), on_ground(run, lake(), SonarRules(tolerance_m=0.0))
    assert len(shapely.get_coordinates(thin.line)) < len(shapely.get_coordinates(whole.line)) / 3
    assert thin.line.hausdorff_distance(whole.line) <= RULES.tolerance_m
    apart = shapely.symmetric_difference(thin.swaths[0].fine, whole.swaths[0].fine).area
    assert apart < 2 * RULES.tolerance_m * thin.length_m


def test_a_fast_pass_is_coarse_not_missing():
    """At 13 m range and 20 m/s the pings lie 35 cm apart: 2.85 on a metre, below three."""
    run = on_ground(sonar_pass("a", STRAIGHT, speed_mps=20.0), lake())
    assert pytest.approx(1482.4 / (2 * 13 * 20)) == run.pings_on_metre
    assert area_of(run, "fine") == 0
    assert pytest.approx(2 * ONE_SIDE, rel=1e-6) == area_of(run, "coarse")


def test_one_odd_speed_makes_nothing_coarse():
    """A single spike of speed is smoothed away."""
    run = sonar_pass("a", STRAIGHT)
    run.speed_mps[20] = 29.0
    assert area_of(on_ground(run, lake()), "coarse") == 0


def test_speed_not_known_means_quality_not_known():
    """A picture all the same."""
    run = sonar_pass("a", STRAIGHT, speed_mps=2.0)
    run.speed_mps[:] = np.nan
    ground = on_ground(run, lake())
    assert (area_of(ground, "fine"), area_of(ground, "coarse"), ground.pings_on_metre) == (0, 0, None)
    assert pytest.approx(2 * ONE_SIDE, rel=1e-6) == area_of(ground, "unknown")


def test_a_lost_channel_leaves_its_strip():
    """Starboard lost from second 10.5 to 30.5, between positions: 40 m of it, while port ran on."""
    outage = Outage("starboard", 10.5, 30.5, "cable")
    run = on_ground(sonar_pass("a", STRAIGHT, outages=[outage]), lake())
    (lost,) = missing(run, "lost_channel")
    assert (lost.channel, lost.from_s, lost.to_s, lost.why) == ("starboard", 10.5, 30.5, "cable")
    assert pytest.approx((41, 38, 81, 50 - BLIND_M)) == lost.area.bounds
    assert pytest.approx(0.4 * ONE_SIDE, rel=1e-6) == lost.area.area
    assert pytest.approx(0.6 * ONE_SIDE, rel=1e-6) == area_of(run, channel="starboard")
    assert pytest.approx(ONE_SIDE, rel=1e-6) == area_of(run, channel="port")


def test_a_pause_in_the_log_is_a_gap():
    """Positions from 40 s to 50 s are missing: 20 m and more without a picture, told as a pause."""
    run = sonar_pass("a", STRAIGHT)
    kept = (run.time_s < 20) | (run.time_s > 30)
    columns = {k: getattr(run, k)[kept] for k in ("time_s", "speed_mps", "range_m", "height_above_bed_m")}
    paused = type(run)("a", lon_deg=run.lon_deg[kept], lat_deg=run.lat_deg[kept], **columns)
    ground = on_ground(paused, lake())
    (gap,) = missing(ground, "log_gap")
    assert (gap.from_s, gap.to_s) == (19.0, 31.0)
    assert pytest.approx(24 * 24) == gap.area.area
    assert pytest.approx(2 * ONE_SIDE * 0.76, rel=1e-6) == area_of(ground)


def test_height_not_known_gives_no_picture():
    """The ground within range is told instead."""
    run = sonar_pass("a", STRAIGHT)
    run.height_above_bed_m[:] = np.nan
    ground = on_ground(run, lake())
    assert (area_of(ground), ground.reach_m) == (0, None)
    (unknown,) = missing(ground, "unknown_swath")
    assert pytest.approx(100 * 26) == unknown.area.area


def test_turns_make_no_butterflies():
    """A right angle to the left: the starboard side sweeps a quarter ring, the port side overlaps itself once."""
    ground = on_ground(sonar_pass("a", ((20, 20), (80, 20), (80, 80))), lake())
    port, starboard = ground.swaths
    assert port.fine.is_valid
    assert starboard.fine.is_valid
    ring = np.pi / 4 * (REACH_M**2 - BLIND_M**2)
    assert pytest.approx(2 * 60 * (REACH_M - BLIND_M) + ring, rel=0.005) == starboard.fine.area
    # Each arm loses to the other the square between near and far.
    overlap = (REACH_M - BLIND_M) ** 2
    assert pytest.approx(2 * 60 * (REACH_M - BLIND_M) - overlap, rel=1e-6) == port.fine.area


@given(st.lists(st.tuples(st.floats(15, 185), st.floats(15, 85)), min_size=2, max_size=8, unique=True))
def test_any_track_gives_sound_ground_within_range(places):
    """Whatever the boat does: valid polygons, in the water, no farther off than the ground range."""
    ground = on_ground(sonar_pass("a", places), lake())
    for swath in ground.swaths:
        assert swath.fine.is_valid
        if not swath.fine.is_empty:
            assert shapely.union_all([line.buffer(REACH_M + 0.01, quad_segs=64) for line in ground.line.geoms]).covers(
                swath.fine
            )


@pytest.mark.parametrize("seed", [3, 4, 5])
def test_ground_agrees_with_points_tested_one_by_one(seed):
    """20,000 points of a wandering pass: seen where a strip or a wedge of the raw track holds them, by distances."""
    rng = np.random.default_rng(seed)
    x = np.linspace(20.0, 180.0, 25)
    places = np.c_[x, 50 + np.cumsum(rng.normal(0, 2.5, x.size))]
    run = sonar_pass("a", places, speed_mps=1000.0)
    ground = on_ground(replace(run, time_s=run.time_s * 500), lake(), SonarRules(tolerance_m=0.0, pings_on_metre=1e-9))
    points = rng.uniform((0, 0), (200, 100), (20000, 2))
    for swath, side in zip(ground.swaths, (1.0, -1.0), strict=True):
        seen = shapely.contains_xy(swath.fine, points)
        assert (seen != _seen(points, np.c_[run.lon_deg, run.lat_deg], side)).mean() < 1e-3


def _seen(points: np.ndarray, track: np.ndarray, side: float) -> np.ndarray:
    seen = np.zeros(len(points), dtype=bool)
    course = np.arctan2(*np.diff(track, axis=0).T[::-1])
    for start, end, angle in zip(track[:-1], track[1:], course, strict=True):
        ahead = (points - start) @ (np.cos(angle), np.sin(angle))
        out = side * (points - start) @ (-np.sin(angle), np.cos(angle))
        seen |= (ahead >= 0) & (ahead <= np.hypot(*(end - start))) & (out >= BLIND_M) & (out <= REACH_M)
    for corner, before, after in zip(track[1:-1], course[:-1], course[1:], strict=True):
        turn = (after - before + np.pi) % (2 * np.pi) - np.pi
        if turn * side < 0:
            away = points - corner
            swing = (np.arctan2(away[:, 1], away[:, 0]) - before - side * np.pi / 2 + np.pi) % (2 * np.pi) - np.pi
            within = (np.hypot(*away.T) >= BLIND_M) & (np.hypot(*away.T) <= REACH_M)
            seen |= within & (swing * turn >= 0) & (np.abs(swing) <= abs(turn))
    return seen


def test_land_hides_what_lies_behind_it():
    """A wall 6 m off the track: nothing beyond it has a picture, and that is told."""
    wall = box(60, 56, 80, 57)
    ground = on_ground(sonar_pass("a", STRAIGHT), lake(200, 100, wall))
    behind = box(60, 57, 80, 62)
    assert shapely.intersection(ground.swaths[0].fine, behind).area < 1e-6
    (hidden,) = missing(ground, "behind_land")
    assert pytest.approx(behind.area, rel=1e-6) == hidden.area.area
    assert pytest.approx(ONE_SIDE - wall.area - behind.area, rel=1e-6) == ground.swaths[0].fine.area


def test_one_wild_position_bends_nothing():
    """A jump of 90 m within a second is no way a boat makes."""
    run = sonar_pass("a", STRAIGHT)
    run.lat_deg[25] = 5.0
    ground = on_ground(run, lake())
    assert LineString(STRAIGHT).buffer(0.1).covers(ground.line)


def test_a_range_that_does_not_reach_the_bed_shows_nothing():
    """5 m above the bed with 4 m of range."""
    run = sonar_pass("a", STRAIGHT, range_m=np.full(51, 4.0))
    assert HEIGHT_M > 4.0
    assert sum(area_of(on_ground(run, lake()), quality) for quality in ("fine", "coarse", "unknown")) == 0
