"""Sight lines against a march over the exact shoreline, step by step."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from lakes import cove_lake, island_lake
from view_scene import index_of

from atlasgen.model import PointM
from atlasgen.model.views import ViewRules
from atlasgen.place.hidden import sight_lines, spots
from atlasgen.place.land import land_height_m
from atlasgen.place.rays import Camera
from atlasgen.place.shore_index import ShoreIndex

LAKES = {lake.__name__: (lake(), index_of(lake())) for lake in (cove_lake, island_lake)}
RULES = ViewRules()


def camera(x_m: float, y_m: float, height_m: float) -> Camera:
    return Camera(PointM(x_m, y_m), height_m, 0, 0, 0, 90, 60, 4000, 3000)


def open_to(held: Camera, shore: ShoreIndex, pieces: np.ndarray, shore_up_m: float) -> np.ndarray:
    """Tell which pieces no land hides."""
    places = spots(held, shore.xy_m[pieces])
    return sight_lines(held, shore, places, places.away_m.max(initial=0.0), shore_up_m, RULES).show(places)


def marched(held: Camera, water, xy: np.ndarray, shore_up_m: float) -> bool:
    """Walk one sight line in steps of 0.5 m; shapely tells how far inland each is."""
    away = float(np.hypot(*(xy - held.place[:2])))
    r = np.arange(RULES.clear_of_camera_m, away - 2 - 0.005 * away, 0.5)
    x, y = (held.place[:2, None] + (xy - held.place[:2])[:, None] * r / away).tolist()
    inland = shapely.distance(shapely.points(x, y), water.boundary)
    inland = np.where(shapely.contains_xy(water, x, y), -inland, inland)
    sight = held.height_m + (shore_up_m - held.height_m) * r / away - shore_up_m
    return bool((land_height_m(inland, RULES) <= sight + 1e-9).all())


@pytest.mark.parametrize(
    ("name", "x_m", "y_m", "height_m", "shore_up_m"),
    [
        ("cove_lake", -450, 300, 2, 0),
        ("cove_lake", -450, 450, 6, 1.5),
        ("island_lake", 0, -300, 2, 1.5),
        ("island_lake", 0, -300, 60, 0),
        ("island_lake", -200, 420, 25, 1),
    ],
)
def test_as_a_march_over_the_exact_shoreline(name, x_m, y_m, height_m, shore_up_m):
    """Every tenth piece is decided alike, but for the odd one; not asked of banks looked along at under 5 degrees."""
    water, shore = LAKES[name]
    held, pieces = camera(x_m, y_m, height_m), np.arange(0, len(shore.xy_m), 10)
    d = shore.xy_m[pieces] - held.place[:2]
    across = np.abs(d[:, 0] * shore.toward[pieces, 1] - d[:, 1] * shore.toward[pieces, 0]) / np.hypot(*d.T)
    pieces = pieces[across > math.sin(math.radians(5))]
    expected = np.array([marched(held, water, xy, shore_up_m) for xy in shore.xy_m[pieces]])
    found = open_to(held, shore, pieces, shore_up_m)
    assert 0 < expected.mean() < 1
    assert (found != expected).mean() <= 0.01


def test_all_is_open_close_to_the_camera():
    """Nothing but what is nearer than the land that hides nothing."""
    _, shore = LAKES["island_lake"]
    near = np.flatnonzero(np.hypot(*(shore.xy_m - (0, 500)).T) < 14)
    assert open_to(camera(0, 500, 2), shore, near, 0.0).all()
    assert open_to(camera(0, 500, 2), shore, near[:0], 0.0).tolist() == []


def test_the_higher_the_camera_the_more_is_open():
    """Rising over one place, what was open stays open."""
    _, shore = LAKES["island_lake"]
    pieces = np.arange(len(shore.xy_m))
    before = open_to(camera(0, -300, 2), shore, pieces, 0.0)
    for height_m in (10, 40, 150, 600):
        after = open_to(camera(0, -300, height_m), shore, pieces, 0.0)
        assert (after | ~before).all()
        before = after
    assert before.mean() > 0.9
