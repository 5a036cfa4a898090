"""The pictures of the bed of an edition: cut, told, spared if nothing changed, and left out if they cannot be read."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from picture_scene import CHART, PHOTO, RELIEF, chart_fit, cut_scene, make_picture_atlas
from sample_atlas import WATER
from shapely import Point, box

import atlasgen.write.bed_pictures as module
from atlasgen.cache import opened
from atlasgen.measure.registration import to_ground
from atlasgen.model.memory import Former
from atlasgen.model.wording import speaking
from atlasgen.place.geo import Projection
from atlasgen.write.bed_picture_data import picture_data, picture_rows
from atlasgen.write.bed_pictures import scan_transform


@pytest.fixture(scope="module")
def survey(tmp_path_factory) -> Path:
    return tmp_path_factory.mktemp("survey")


@pytest.fixture(scope="module")
def edition(tmp_path_factory) -> Path:
    return tmp_path_factory.mktemp("edition")


@pytest.fixture(scope="module")
def atlas(survey, edition):
    """Cut the scene once."""
    return make_picture_atlas(survey, edition)


def tree(folder: Path) -> dict[str, bytes]:
    """Return all files below a folder by name."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_each_picture_has_a_folder_named_by_what_it_is(atlas, edition):
    """Names are ours, so that any system can hold them; every file is one of the tiles told."""
    assert [picture.id for picture in atlas.bed_pictures] == [RELIEF, PHOTO, CHART]
    told = {
        f"{picture.folder}/{tile.zoom}/{tile.x}/{tile.y}.webp": tile.size_bytes
        for picture in atlas.bed_pictures
        for tile in picture.tiles
    }
    assert {name: len(data) for name, data in tree(edition).items()} == told


def test_two_cuts_are_the_same_files(atlas, survey, edition, tmp_path):
    """Same input, same bytes."""
    pictures, problems = cut_scene(atlas, survey, tmp_path)
    assert problems == []
    assert pictures == atlas.bed_pictures
    assert tree(tmp_path) == tree(edition)


def test_where_a_picture_is_absent_is_the_water_it_does_not_show(atlas):
    """The photo ends at the middle of the lake, the chart covers it, the relief lacks the blank of the depths."""
    metric = Projection(atlas.placed.crs_metric).to_metric
    absent = {picture.id: metric(picture.absent) for picture in atlas.bed_pictures}
    assert absent[CHART].area < 1
    assert absent[PHOTO].symmetric_difference(WATER.intersection(box(0, -900, 900, 900))).area < 0.005 * WATER.area
    blank = Point(420, -255).buffer(60)
    assert absent[RELIEF].intersection(blank).area > 0.7 * blank.area
    assert absent[RELIEF].difference(blank.buffer(30)).area < 0.02 * WATER.area


def test_a_fitted_scan_lies_where_its_control_points_say():
    """The transform of the tiles is the fit's own, column and row downwards."""
    fit = chart_fit()
    a, b, c, d, e, f = scan_transform(fit)
    col, row = np.array([10.0, 700.0, 333.0]), np.array([20.0, 5.0, 290.0])
    ours = np.column_stack([a * col + b * row + c, d * col + e * row + f])
    assert np.allclose(ours, to_ground(fit, np.column_stack([col, row])))


def test_the_facts_say_what_each_picture_is(atlas):
    """Kind, date, zooms, how far a scan is out, and how the relief was made."""
    relief, photo, chart = picture_rows(atlas)
    assert (photo["kind"], photo["date"], photo["file"], photo["folder"]) == (
        "air photo", "2020-04-18", "low.tif", f"layers/{PHOTO}",
    )  # fmt: skip
    assert photo["out_by_m"] is None
    assert chart["fitted"]
    assert 0.5 < chart["out_by_m"] < 5
    assert relief["method"]["sun_azimuth_deg"] == 315
    assert relief["method"]["exaggeration"] >= 1
    assert relief["zooms"][0] <= relief["zooms"][1]


@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("en", ["Shaded relief", "Low water, 18 April 2020", "Not for navigation."]),
        ("de", ["Schummerung", "Low water, 18.\N{NO-BREAK SPACE}April 2020", "Nicht zur Navigation."]),
    ],
)
def test_the_map_gets_words_in_the_readers_language(atlas, language, words):
    """Names, what each is, and the caution of an old chart."""
    with speaking(language):
        relief, photo, chart = picture_data(atlas, (0, 0))
    assert [relief["name"], photo["name"]] == words[:2]
    assert chart["caution"].endswith(words[2])
    assert photo["caution"] == relief["caution"] == ""


def test_what_has_not_changed_is_taken_over_and_not_cut_again(atlas, survey, edition, tmp_path, monkeypatch):
    """The second build links the tiles of the first; a tile that was touched has its picture cut anew."""
    cuts = []
    real = module.cut_tiles
    monkeypatch.setattr(module, "cut_tiles", lambda source, *rest: (cuts.append(source.file), real(source, *rest))[1])
    with opened(tmp_path / "cache.sqlite") as memory:
        first, second, third = (tmp_path / name for name in ("first", "second", "third"))
        cut_scene(atlas, survey, first, memory=memory)
        assert len(cuts) == 3
        pictures, _ = cut_scene(atlas, survey, second, memory=memory, former=Former(first))
        assert len(cuts) == 3
        assert pictures == atlas.bed_pictures
        assert tree(second) == tree(edition)
        next((second / "layers" / CHART).rglob("*.webp")).unlink()
        cut_scene(atlas, survey, third, memory=memory, former=Former(second))
        assert cuts[3:] == ["valley.png"]
        assert tree(third) == tree(edition)


def test_a_picture_that_vanished_is_told_and_the_others_are_cut(atlas, survey, edition, tmp_path):
    """A file gone or damaged since it was read: a problem that names it."""
    (tmp_path / "valley.png").write_bytes((survey / "valley.png").read_bytes()[:900])
    pictures, problems = cut_scene(atlas, tmp_path, tmp_path / "out")
    assert [picture.id for picture in pictures] == [RELIEF]
    assert sorted((problem.subject, problem.code) for problem in problems) == [
        ("low.tif", "unusable"),
        ("valley.png", "unusable"),
    ]
    assert not any(str(tmp_path) in problem.message for problem in problems)
    assert sorted(path.name for path in (tmp_path / "out" / "layers").iterdir()) == [RELIEF]


def test_zooms_left_away_for_a_budget_are_said_with_the_key(atlas, survey, tmp_path):
    """The message names file, size, what is shown, and what to change."""
    _, problems = cut_scene(atlas, survey, tmp_path, tiles_mb=0.004)
    told = {problem.subject: problem.message for problem in problems}
    assert sorted(told) == ["low.tif", "valley.png"]
    assert "more than 0.004 MB" in told["valley.png"]
    assert "Raise layer.tiles_mb in survey.toml" in told["valley.png"]


def test_without_depths_there_is_no_relief_and_looking_writes_nothing(atlas, survey, tmp_path):
    """`check` reads the pictures and leaves no file."""
    bare = replace(atlas, known=replace(atlas.known, grid=None))
    pictures, problems = cut_scene(bare, survey, tmp_path / "out")
    assert [picture.id for picture in pictures] == [PHOTO, CHART]
    assert cut_scene(atlas, survey, None) == ((), [])
    assert problems == []
