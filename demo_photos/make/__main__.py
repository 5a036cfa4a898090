"""Make the demo survey anew: `python -m demo_photos.make` from the checkout, or `python demo_photos/make`."""

from __future__ import annotations

import argparse
import json
import shutil
import sys
import tempfile
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from itertools import groupby
from multiprocessing import get_context
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parents[2]
if not __package__:
    sys.path.insert(0, str(CHECKOUT))

from demo_photos.make import elevation, layers, logs, troubles, truth  # noqa: E402  (the checkout must be on the path first)
from demo_photos.make.cameras import Shot, shots  # noqa: E402
from demo_photos.make.frame import LOCAL_ZONE, sun_direction  # noqa: E402
from demo_photos.make.render import Scene, picture  # noqa: E402
from demo_photos.make.world import World, country_albedo, lake_albedo  # noqa: E402

ANSWERS = "demo_truth.json"
_MADE = (
    "photos", "tracks", "shoreline.geojson", "places.geojson", "not_surveyed.geojson", "soundings_basin.csv",
    "landmarks.csv", "soundings_cask_arm.nmea", "passes.csv", "outages.csv", "stage.csv", "corrections.csv", "layers",
    "elevation.tif",
)  # fmt: skip


def _session(shot: Shot) -> str:
    """Return what shots under one sun share: month, and morning, noon or late (stages differ by 3 cm at most)."""
    local = shot.when.astimezone(LOCAL_ZONE)
    return f"{local:%Y-%m} {'morning' if local.hour < 11 else 'noon' if local.hour < 15 else 'late'}"


def _sized(shot: Shot, scale: float) -> Shot:
    return replace(shot, width_px=round(shot.width_px * scale), height_px=round(shot.height_px * scale))


def render_session(files: tuple[str, ...], out: Path, scale: float) -> list[dict]:
    """Render the shots of one session into `out`; return their answers."""
    group = [shot for shot in shots() if shot.file in files]
    middle = group[len(group) // 2]
    world = World(sun_direction(middle.when), middle.stage_m)
    answers = []
    for shot in group:
        camera = _sized(shot, scale).camera
        scene = Scene(world, world.patch(camera), shot.stage_m)
        troubles.save(shot, picture(scene, camera, shot.file), out)
        answers.append(truth.photo_answer(shot, truth.visible(scene, shot.camera)))
        sys.stderr.write(f"{shot.file}\n")
    return answers


def retag_all(survey: Path, out: Path, answers: list[dict]) -> list[dict]:
    """Write the metadata of all photos anew and keep their pictures; `answers` are those of the last rendering."""
    shown = {answer["file"]: answer["visible"] for answer in answers}
    for shot in shots():
        troubles.retag(shot, survey, out)
    return [truth.photo_answer(shot, shown[shot.file]) for shot in shots()]


def _groups(most: int) -> list[tuple[str, ...]]:
    """Files of each session, at most `most` together, so that workers share the load."""
    ordered = sorted(shots(), key=lambda shot: (_session(shot), shot.file))
    sessions = [[shot.file for shot in group] for _, group in groupby(ordered, key=_session)]
    return [tuple(files[i : i + most]) for files in sessions for i in range(0, len(files), most)]


def make(out: Path, photos: Callable[[Path], list[dict]]) -> dict:
    """Make the survey's inputs in `out`; `photos` makes the photos there and returns their answers."""
    logs.write_all(out)
    layers.write_layers(out)
    troubles.write_corrections(out)
    elevation.write(out)
    answers = photos(out)
    troubles.spoil(out)
    return truth.answer_sheet(answers)


def render_all(out: Path, scale: float, workers: int) -> list[dict]:
    """Render all photos; return their answers."""
    jobs = _groups(30)
    lake_albedo(), country_albedo()  # before the workers start, so that they share it
    if workers == 1:
        return [answer for files in jobs for answer in render_session(files, out, scale)]
    with ProcessPoolExecutor(workers, get_context("fork")) as pool:
        done = [pool.submit(render_session, files, out, scale) for files in jobs]
        return [answer for job in done for answer in job.result()]


def _publish(made: Path, survey: Path) -> None:
    """Move what was made over what was there, piece by piece."""
    for name in _MADE:
        old = survey / name
        if old.is_dir():
            shutil.rmtree(old)
        elif old.exists():
            old.unlink()
        shutil.move(made / name, old)


def main() -> None:
    """Read the command line and make the survey."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--survey", type=Path, default=CHECKOUT / "demo_photos", help="folder to fill")
    parser.add_argument("--answers", type=Path, default=CHECKOUT / "tests" / "data" / ANSWERS, help="answer sheet")
    parser.add_argument("--scale", type=float, default=1.0, help="size of the pictures, 1 as published")
    parser.add_argument("--workers", type=int, default=1, help="processes to render with")
    parser.add_argument("--tags", action="store_true", help="keep the pictures that are there, write all else anew")
    args = parser.parse_args()
    args.survey.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=args.survey.parent, prefix=".demo-") as folder:
        if args.tags:
            before = json.loads(args.answers.read_text(encoding="utf-8"))["photos"]
            sheet = make(Path(folder), lambda out: retag_all(args.survey, out, before))
        else:
            sheet = make(Path(folder), lambda out: render_all(out, args.scale, args.workers))
        _publish(Path(folder), args.survey)
    lines = json.dumps(sheet, ensure_ascii=False, indent=1)
    args.answers.write_text(lines + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
