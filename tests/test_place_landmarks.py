"""Landmarks on a square lake: their shore, their tile, and what is not published."""

from __future__ import annotations

import pytest
from lakes import projection, square_lake
from shapely import box

from atlasgen.model import NamedArea, PointM, Problem
from atlasgen.model.landmarks import LandmarkRow
from atlasgen.place.landmarks import place_landmarks
from atlasgen.place.shore import build_rings, cut_reaches

REACHES = cut_reaches(build_rings(square_lake(), None), 100, projection(), lambda _: "", lambda _: "")


def row(x_m: float, y_m: float, kind: str = "hazard", name: str = "Stumps", number: int = 2, **rest) -> LandmarkRow:
    return LandmarkRow("landmarks.csv", number, projection().lonlat(PointM(x_m, y_m)), kind, name, **rest)


def placed(*rows: LandmarkRow, private=None, treat: str = "hide"):
    areas = [NamedArea(treat, projection().to_lonlat(private))] if private is not None else []
    return place_landmarks(rows, areas, REACHES, square_lake(), projection(), lambda at: "tile")


def test_a_landmark_knows_its_bank_and_its_tile():
    """30 m out from the north bank of the square, 170 m along it."""
    (mark,), problems = placed(row(-330, 470))
    assert (mark.reach, mark.over_water, mark.tile, problems) == ("S-0002", True, "tile", ())
    assert (mark.distance_to_shore_m, mark.chainage_m) == (pytest.approx(30), pytest.approx(170))


def test_landmarks_stand_in_the_order_of_the_shore():
    """Whatever the order of the rows."""
    marks, _ = placed(row(540, 120, name="East"), row(-330, 470, name="North"))
    assert [mark.name for mark in marks] == ["North", "East"]


def test_an_id_outlives_other_rows():
    """It is made of what the landmark is and where, so that it stays when a row is added before it."""
    (alone,), _ = placed(row(540, 120, name="East"))
    both, _ = placed(row(-330, 470, name="North"), row(540, 120, name="East", number=3))
    assert alone.id == both[1].id


def test_the_same_row_twice_is_shown_once_and_told():
    """The second row is named."""
    marks, (problem,) = placed(row(0, 0), row(0, 0, number=3))
    assert len(marks) == 1
    assert problem.message == "landmarks.csv: row 3: says what an earlier row says. It is shown once."


def test_far_from_the_lake_is_told_without_the_place():
    """Half a kilometre from the bank is near enough, two and a half are not."""
    marks, (problem,) = placed(row(0, 1000, "parking"), row(0, 3000, "parking", number=3))
    assert len(marks) == 1
    assert "row 3: 2.5 km from the lake. Expected at most 2 km" in problem.message


@pytest.mark.parametrize("treat", ["hide", "round"])
def test_a_private_area_keeps_its_landmarks_but_not_a_hazard_on_the_water(treat):
    """Neither a name nor a word of the row reaches a message; a hazard on land is as private as a jetty."""
    told = Problem("landmarks.csv", "bad_row", "landmarks.csv: row 2: kind 'the crew's own house'.")
    rows = (row(0, 540, "place", "A home", problems=(told,)), row(0, 470, number=3), row(0, 530, number=4))
    marks, problems = placed(*rows, private=box(-60, 440, 60, 600), treat=treat)
    assert [(mark.kind, mark.over_water) for mark in marks] == [("hazard", True)]
    assert [problem.message for problem in problems] == [
        f"landmarks.csv: row {number}: lies in an area that the crew keeps private. It is not published."
        for number in (2, 4)
    ]
