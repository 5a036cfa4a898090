"""The published photos: one large and one small JPEG of each placed photo, made by the worker processes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from concurrent.futures import Executor
from pathlib import Path

from atlasgen.model import Photo, Picture, Problem, Progress, WriteRules
from atlasgen.workers import run_all
from atlasgen.write.images import ImageJob, derive

Boxes = tuple[tuple[int, int, int, int], ...]


def write_pictures(
    photos: Sequence[Photo],
    survey_dir: Path,
    folder: Path | None,
    rules: WriteRules,
    executor: Executor,
    progress: Progress,
    blur: Mapping[str, Boxes | None],
) -> tuple[Mapping[str, Picture], dict[str, Problem]]:
    """Write `photos/ID.jpg` and `thumbs/ID.jpg` below `folder`, or only decode where `folder` is None.

    `blur` holds what must not be readable, by the photo's file: see `ImageJob`.
    Returns the pictures by photo id, and for each photo that could not be decoded the problem, by photo id.
    """
    jobs = [_job(photo, survey_dir, folder, rules, blur.get(photo.source.file) or ()) for photo in photos]
    results = run_all(executor, derive, jobs, progress, "preparing photos" if folder else "decoding photos")
    done = {photo.id: result for photo, result in zip(photos, results, strict=True)}
    pictures = {name: result for name, result in done.items() if isinstance(result, Picture)}
    return pictures, {name: result for name, result in done.items() if isinstance(result, Problem)}


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
