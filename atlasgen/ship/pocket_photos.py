"""The photographs of the pocket edition, made again so that as much of them as possible goes into a given room."""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, field
from pathlib import Path

from atlasgen.errors import InputFault
from atlasgen.model import Problem, Progress
from atlasgen.ship.holders import opened
from atlasgen.workers import run_all
from atlasgen.write.edition import MANIFEST

_LARGEST_PX, _SMALLEST_PX = 1600, 320
_BEST_QUALITY, _LEAST_QUALITY = 80, 45
_STEPS = 32
_SAMPLE = 24
# An estimate that is over by no more than this is tried all the same: it may be wrong by as much.
_DOUBT = 1.03


@dataclass(frozen=True, slots=True)
class Step:
    """One size of all photographs: long edge in pixels, and quality of WebP."""

    long_edge_px: int
    quality: int


def _step(number: int) -> Step:
    down = number / (_STEPS - 1)
    edge = _LARGEST_PX * (_SMALLEST_PX / _LARGEST_PX) ** down
    return Step(round(edge / 4) * 4, round(_BEST_QUALITY + (_LEAST_QUALITY - _BEST_QUALITY) * down))


# From the best to the smallest; edges shrink by equal shares, so that each step saves about an eighth.
LADDER = tuple(_step(number) for number in range(_STEPS))


@dataclass(frozen=True, slots=True)
class PhotoJob:
    """One photograph of an edition to make again; `file` is its name there."""

    atlas: Path
    file: str
    step: Step


@dataclass(frozen=True, slots=True)
class Small:
    """A photograph made again: its WebP bytes and its long edge."""

    data: bytes = field(repr=False)
    long_edge_px: int


def make_small(job: PhotoJob) -> Small | Problem:
    """Make one photograph again, without metadata; a pure function of the edition and the job."""
    try:
        with opened(job.atlas, MANIFEST) as holder, holder.open(job.file) as file:
            return _encoded(file.read(), job.step)
    except Exception as error:  # a decoder's complaints are of many kinds
        return Problem(job.file, "damaged", f"cannot be read ({error})", "left_out")


def _encoded(jpeg: bytes, step: Step) -> Small:
    from PIL import Image

    with Image.open(io.BytesIO(jpeg), formats=["JPEG"]) as source:
        scale = min(1.0, step.long_edge_px / max(source.size))
        width, height = (max(1, round(edge * scale)) for edge in source.size)
        size = (width, height)
        source.draft("RGB", size)
        image = source.convert("RGB").resize(size, Image.Resampling.LANCZOS, reducing_gap=3.0)
    # What the file said beside the picture would be written on.
    image.info = {}
    stream = io.BytesIO()
    image.save(stream, "WEBP", quality=step.quality, method=4)
    return Small(stream.getvalue(), max(size))


class Darkroom:
    """Makes photographs of an edition again in worker processes, each at one step only once."""

    def __init__(self, atlas: Path, executor: Executor, progress: Progress) -> None:
        self.atlas, self.executor, self.progress = atlas, executor, progress
        self._made: dict[tuple[str, Step], Small] = {}

    def at(self, files: Sequence[str], step: Step, doing: str) -> dict[str, Small]:
        """Return the photographs at one step, by file.

        Raises
        ------
        InputFault
            One of them cannot be read.
        """
        wanted = [file for file in files if (file, step) not in self._made]
        jobs = [PhotoJob(self.atlas, file, step) for file in wanted]
        for file, result in zip(wanted, run_all(self.executor, make_small, jobs, self.progress, doing), strict=True):
            if isinstance(result, Problem):
                raise InputFault(file, result.message, "a whole photograph", "Verify the edition, or build it again.")
            self._made[file, step] = result
        return {file: self._made[file, step] for file in files}

    def forget(self, step: Step) -> None:
        """Drop what was made at a step that turned out too large."""
        self._made = {key: small for key, small in self._made.items() if key[1] != step}


def best_step(
    room: Darkroom, files: Sequence[str], weight: Callable[[Mapping[str, Small]], int], most_bytes: int
) -> Step | None:
    """Return the best step at which all photographs fit, which then are made; None if the smallest is too large.

    `weight` tells what the finished page weighs with the photographs it is given. A sample spread over the files says
    where to begin; what decides is the weight of all.
    """
    sample = files[:: -(-len(files) // _SAMPLE) or 1]
    empty = weight({})

    def estimate(number: int) -> float:
        of_sample = weight(room.at(sample, LADDER[number], "choosing a size")) - empty
        return empty + of_sample * len(files) / max(1, len(sample))

    first = _first(lambda number: estimate(number) <= most_bytes * _DOUBT)
    for step in LADDER[first:]:
        if weight(room.at(files, step, f"photos at {step.long_edge_px:,} px")) <= most_bytes:
            return step
        if step != LADDER[-1]:  # the smallest may still be wanted, with some left out
            room.forget(step)
    return None


def _first(holds: Callable[[int], bool]) -> int:
    """Return the first step for which something holds that holds for all later ones; the last if it never does."""
    if holds(0):  # a small atlas has all the room it wants
        return 0
    low, high = 1, _STEPS - 1
    while low < high:
        middle = (low + high) // 2
        if holds(middle):
            high = middle
        else:
            low = middle + 1
    return low
