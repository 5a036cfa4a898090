"""publishing: what has not changed is not made again, and the bytes are those of a clean build."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace

import pytest
from click.testing import CliRunner
from PIL import Image
from pond import make_pond, photograph

from atlasgen.cli import main
from atlasgen.model import LonLat
from atlasgen.publishing import publish
from atlasgen.ship.verify import verify_edition
from atlasgen.write import images

_PLACES = [(i, j) for i in range(-18, 19) for j in range(-9, 10)]
_ROWS = [f"{-96.4 + 0.0002 * i:.6f},{-31.6 + 0.0001 * j:.6f},{2 + 0.3 * abs(j):.2f}" for i, j in _PLACES]
_SOUNDINGS = "\n".join(["lon,lat,depth_m", *_ROWS, ""])


@pytest.fixture
def plain(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Make a pond with one photo, and a cache of its own that takes every file for settled."""
    monkeypatch.setenv("ATLASGEN_CACHE", str(tmp_path / "cache"))
    monkeypatch.setattr("atlasgen.cache._SETTLED_NS", -3_600_000_000_000)
    return make_pond(tmp_path / "pond")


@pytest.fixture
def survey(plain: Path) -> Path:
    """Add soundings and two more photos."""
    folder = plain
    (folder / "soundings.csv").write_text(_SOUNDINGS)
    with (folder / "survey.toml").open("a") as file:
        file.write('\n[soundings]\ndepth_unit = "metres"\ndepth_positive = "down"\n')
    places = [LonLat(-96.4015, -31.6008), LonLat(-96.3985, -31.6007)]
    photograph(
        folder, [SimpleNamespace(height_m=40.0, heading_deg_true=20.0, pitch_deg=-30.0, lonlat=at) for at in places]
    )
    return folder


def _files(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def _stamps(folder: Path) -> dict[str, tuple[int, int]]:
    found = [path for path in folder.rglob("*") if path.is_file()]
    return {path.relative_to(folder).as_posix(): (path.stat().st_ino, path.stat().st_mtime_ns) for path in found}


def _counted(monkeypatch: pytest.MonkeyPatch, target: str) -> list[object]:
    """Note the first argument of every call of a function."""
    module, name = target.rsplit(".", 1)
    calls: list[object] = []
    real: Callable = getattr(__import__(module, fromlist=[name]), name)

    def noted(first, *rest, **options):
        calls.append(first)
        return real(first, *rest, **options)

    monkeypatch.setattr(target, noted)
    return calls


def _repaint(path: Path) -> None:
    with Image.open(path) as picture:
        facts = {name: picture.info[name] for name in ("exif", "xmp")}
        picture.load()
    picture.paste((200, 30, 30), (100, 100, 400, 400))
    picture.save(path, quality=90, **facts)


def _swap(folder: Path) -> None:
    one, other = folder / "photos" / "flown_00.jpg", folder / "photos" / "flown_01.jpg"
    one.rename(folder / "photos" / "x")
    other.rename(one)
    (folder / "photos" / "x").rename(other)


def _other_photos(folder: Path) -> None:
    (folder / "photos" / "flown_02.jpg").unlink()
    at = LonLat(-96.4, -31.5992)
    photograph(folder, [SimpleNamespace(height_m=30.0, heading_deg_true=180.0, pitch_deg=-40.0, lonlat=at)])
    heads, row = "file,blur,heading_deg,caption", "flown_01.jpg,100 100 900 900,75,The old jetty"
    (folder / "corrections.csv").write_text(f"{heads}\n{row}\n")


def _other_water(folder: Path) -> None:
    (folder / "soundings.csv").write_text(_SOUNDINGS.replace(",3.20", ",4.90"))
    (folder / "stage.csv").write_text("date,stage_m\n2026-04-19,-0.5\n2026-04-21,-0.6\n")
    ring = [[-96.41, -31.61], [-96.4, -31.61], [-96.4, -31.59], [-96.41, -31.59], [-96.41, -31.61]]
    geometry = {"type": "Polygon", "coordinates": [ring]}
    place = {"type": "Feature", "properties": {"name": "Mill arm"}, "geometry": geometry}
    (folder / "places.geojson").write_text(json.dumps(place))


def _other_settings(folder: Path) -> None:
    text = (folder / "survey.toml").read_text().replace("Millpond", "Tarn")
    text = text.replace("[shore]", "[shore]\nreach_length_m = 140")
    (folder / "survey.toml").write_text(text + '[units]\ndepth = "metres"\n')


# One after the other, each on what the last has left.
CHANGES: tuple[Callable[[Path], object], ...] = (
    lambda survey: _repaint(survey / "photos" / "flown_01.jpg"),
    _swap,
    _other_photos,
    _other_water,
    _other_settings,
)


def test_a_rebuild_gives_the_bytes_of_a_clean_build(survey: Path, tmp_path: Path):
    """Whatever has changed, every file is the same as if nothing had been remembered."""
    publish(survey, tmp_path / "atlas", workers=1)
    for number, change in enumerate(CHANGES):
        change(survey)
        publish(survey, tmp_path / "atlas", workers=1)
        publish(survey, tmp_path / "clean", workers=1, anew=True)
        assert _files(tmp_path / "atlas") == _files(tmp_path / "clean"), f"change {number}"


def test_nothing_changed_is_nothing_written(plain: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """No file of the edition is touched, and nothing is built; the report is that of the build."""
    first = publish(plain, tmp_path / "atlas", workers=1)
    before = _stamps(tmp_path / "atlas")
    builds = _counted(monkeypatch, "atlasgen.publishing.build")
    again = publish(plain, tmp_path / "atlas", workers=1)
    assert (builds, _stamps(tmp_path / "atlas")) == ([], before)
    assert again == f"Nothing has changed since this edition was built; nothing was written.\n\n{first}"


def test_an_edition_that_was_touched_is_put_right(survey: Path, tmp_path: Path):
    """It is built again and is what it was; without the cache, which may go at any time, too."""
    out = tmp_path / "atlas"
    publish(survey, out, workers=1)
    before = _files(out)
    one, other, *_ = sorted((out / "photos").iterdir())
    one.write_bytes(one.read_bytes()[:-1] + b"x")
    other.unlink()
    (out / "notes.txt").write_text("x")
    publish(survey, out, workers=1)
    assert _files(out) == before
    shutil.rmtree(out)
    shutil.rmtree(tmp_path / "cache")
    assert not publish(survey, out, workers=1).startswith("Nothing has changed")
    assert _files(out) == before


def test_one_changed_photo_is_the_only_one_made_again(survey: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """One is read, one is prepared, one view worked out; depths and layout are those of the last build."""
    out = tmp_path / "atlas"
    publish(survey, out, workers=1)
    before = _stamps(out)
    _repaint(survey / "photos" / "flown_01.jpg")
    read = _counted(monkeypatch, "atlasgen.read.survey.run_all")
    calls = {
        name: _counted(monkeypatch, name)
        for name in (
            "atlasgen.place.sight.see_photos", "atlasgen.measure.survey.model_depths", "atlasgen.write.book.lay_out",
        )
    }  # fmt: skip
    made: list[int] = []

    def derive_all(pool, function, jobs, *_):
        made.append(len(jobs))
        return [images.derive(job) for job in jobs]

    monkeypatch.setattr("atlasgen.write.pictures.run_all", derive_all)
    publish(survey, out, workers=1)
    assert (len(read), made) == (1, [1])
    assert [len(photos) for photos in calls["atlasgen.place.sight.see_photos"]] == [1]
    assert calls["atlasgen.measure.survey.model_depths"] == []
    assert calls["atlasgen.write.book.lay_out"] == []
    after = _stamps(out)
    same = {name for name in before if after.get(name) == before[name]}
    assert sum(name.startswith("photos/") for name in same) == 2
    assert {"audit/reaches.csv", "drawings/sources.svg", "assets/leaflet/leaflet.js"} <= same
    assert not any(name.endswith(".pdf") for name in same)


def test_no_picture_is_in_the_cache(plain: Path, tmp_path: Path):
    """What was blurred later on cannot lie there unblurred."""
    publish(plain, tmp_path / "atlas", workers=1)
    (cache,) = (tmp_path / "cache").iterdir()
    data = cache.read_bytes()
    for path in (*(tmp_path / "atlas" / "photos").iterdir(), *(plain / "photos").iterdir()):
        scan = path.read_bytes()
        assert scan[len(scan) // 2 : len(scan) // 2 + 40] not in data


def test_a_file_written_a_moment_ago_is_read_again(plain: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """It could be written once more within the same tick of the clock: no edition stands on it yet."""
    monkeypatch.setattr("atlasgen.cache._SETTLED_NS", 3_600_000_000_000)
    publish(plain, tmp_path / "atlas", workers=1)
    builds = _counted(monkeypatch, "atlasgen.publishing.build")
    publish(plain, tmp_path / "atlas", workers=1)
    assert len(builds) == 1


def test_other_choices_are_another_edition(plain: Path, tmp_path: Path):
    """With another level given on the command line the edition of the level before does not stand."""
    reports = [publish(plain, tmp_path / "atlas", workers=1, stage_m=stage_m) for stage_m in (None, -0.5, -0.5)]
    assert [report.startswith("Nothing has changed") for report in reports] == [False, False, True]


def test_the_command_spares_or_does_not(plain: Path, tmp_path: Path):
    """A second build says that nothing has changed, `--anew` builds; both verify whole."""
    arguments = ["build", str(plain), "--out", str(tmp_path / "atlas"), "-q", "--workers", "1"]
    outputs = [CliRunner().invoke(main, [*arguments, *more]).output for more in ([], [], ["--anew"])]
    assert [text.startswith("Nothing has changed") for text in outputs] == [False, True, False]
    assert verify_edition(tmp_path / "atlas").whole


@pytest.mark.parametrize("how", ["a pattern", "a linked folder"])
def test_inputs_outside_the_survey_are_looked_at_each_time(plain: Path, tmp_path: Path, how: str):
    """Their changes do not show in the survey's own folder, so no edition stands on them."""
    outside = tmp_path / "records"
    outside.mkdir()
    (outside / "stage.csv").write_text("date,stage_m\n2026-04-19,-0.5\n2026-04-21,-0.6\n")
    where = "../records/stage.csv"
    if how == "a linked folder":
        (plain / "records").symlink_to(outside)
        where = "records/stage.csv"
    settings = plain / "survey.toml"
    settings.write_text(f'{settings.read_text()}[files]\nstage = "{where}"\n')
    publish(plain, tmp_path / "atlas", workers=1)
    before = json.loads((tmp_path / "atlas" / "atlas.json").read_text())["photos"][0]["stage_m"]
    (outside / "stage.csv").write_text("date,stage_m\n2026-04-19,-2.5\n2026-04-21,-2.6\n")
    publish(plain, tmp_path / "atlas", workers=1)
    after = json.loads((tmp_path / "atlas" / "atlas.json").read_text())["photos"][0]["stage_m"]
    assert after - before == pytest.approx(-2.0)
