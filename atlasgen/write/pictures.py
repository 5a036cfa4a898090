"""The published photos: one large and one small JPEG of each placed photo, made by the worker processes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import replace
from pathlib import Path

from atlasgen.model import Photo, Picture, Problem, Progress, WriteRules
from atlasgen.model.memory import ANEW, Former, Memory
from atlasgen.workers import run_all
from atlasgen.write.images import ImageJob, derive
from atlasgen.write.taking_over import taken_over

Boxes = tuple[tuple[int, int, int, int], ...]


def write_pictures(
    photos: Sequence[Photo],
    survey_dir: Path,
    folder: Path | None,
    rules: WriteRules,
    executor: Executor,
    progress: Progress,
    blur: Mapping[str, Boxes | None],
    memory: Memory = ANEW,
    former: Former | None = None,
) -> tuple[Mapping[str, Picture], dict[str, Problem]]:
    """Write `photos/ID.jpg` and `thumbs/ID.jpg` below `folder`, or only decode where `folder` is None.

    `blur` holds what must not be readable, by the photo's file: see `ImageJob`. What `memory` knows of is taken from
    the `former` edition, if its pictures are still as they were written there.
    Returns the pictures by photo id, and for each photo that could not be decoded the problem, by photo id.
    """
    jobs = [_job(photo, survey_dir, folder, rules, blur.get(photo.source.file) or ()) for photo in photos]
    name = "preparing photos" if folder else "decoding photos"

    def make(numbers: list[int]) -> list[Picture | Problem]:
        return run_all(executor, derive, [jobs[number] for number in numbers], progress, name)

    results = memory.mapped(
        "picture",
        [replace(job, source=Path(), large=None, small=None) if folder else None for job in jobs],
        make,
        keep=lambda result: isinstance(result, Picture),
        restore=lambda number, picture: _brought_over(picture, jobs[number].photo, folder, former),
    )
    done = {photo.id: result for photo, result in zip(photos, results, strict=True)}
    pictures = {name: result for name, result in done.items() if isinstance(result, Picture)}
    return pictures, {name: result for name, result in done.items() if isinstance(result, Problem)}


def _brought_over(picture: Picture, photo: str, folder: Path | None, former: Former | None) -> bool:
    """Bring both pictures over from the former edition; False if they are not there as they were written."""
    if former is None or folder is None:
        return False
    pairs = ((f"photos/{photo}.jpg", picture.sha256), (f"thumbs/{photo}.jpg", picture.thumb_sha256))
    return all(taken_over(former, name, folder, sha256) for name, sha256 in pairs)


def _job(photo: Photo, survey_dir: Path, folder: Path | None, rules: WriteRules, blur: Boxes) -> ImageJob:
    source = photo.source
    return ImageJob(
        source=survey_dir / source.file,
        file=source.file,
        photo=photo.id,
        orientation=source.orientation,
        large=folder / "photos" / f"{photo.id}.jpg" if folder else None,
        small=folder / "thumbs" / f"{photo.id}.jpg" if folder else None,
        large_px=rules.large_px,
        small_px=rules.small_px,
        caption=photo.caption or "" if "caption" in rules.metadata else "",
        copyright=source.copyright or rules.copyright if "copyright" in rules.metadata else "",
        format=source.format,
        blur=blur,
        sha256=source.sha256,
        quality=rules.quality,
        position=photo.lonlat if "position" in rules.metadata and not photo.is_private else None,
    )
