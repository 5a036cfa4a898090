"""Reads a survey folder as a whole: required inputs stop the build, optional ones become problems."""

from __future__ import annotations

import glob
import hashlib
import re
from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import Executor
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar

from atlasgen.errors import InputFault, MissingInput, fault_text
from atlasgen.model import Correction, PhotoFile, Problem, Progress, ReadRules, SonarPass, Survey
from atlasgen.model.history import LayerFile
from atlasgen.model.landmarks import LandmarkRow
from atlasgen.model.memory import ANEW, Memory
from atlasgen.model.rasters import Raster
from atlasgen.model.wording import say
from atlasgen.read.contours import read_contours
from atlasgen.read.corrections import read_corrections
from atlasgen.read.history import files_of, read_history
from atlasgen.read.landmarks import read_landmarks
from atlasgen.read.passes import read_passes
from atlasgen.read.photos import PhotoJob, file_stamp, list_photos, read_job
from atlasgen.read.previous import read_previous
from atlasgen.read.rasters import Bounds, read_raster, read_rasters, widened
from atlasgen.read.soundings import read_soundings
from atlasgen.read.stage import read_stage
from atlasgen.read.tracks import read_tracks
from atlasgen.read.vectors import read_areas, read_water, without_sidecars
from atlasgen.workers import run_all

Value = TypeVar("Value")
Named = list[tuple[Path, str]]

# What the pages lack when an optional input is not there, in the crew's words.
_LACKED = ("soundings", "stage", "passes", "not_surveyed", "places", "tracks")
# Land farther from the lake is not looked up: from there on the hilltops are higher than what stands before them.
_LAND_M = 450.0
# What is larger is read anew each time, so that the memory of a build stays small beside its survey.
_REMEMBERED_BYTES = 20_000_000
# A file that consists of the names of others says nothing by its bytes.
_NAMES_OTHERS = ".vrt"
_NO_PASSES: tuple[SonarPass, ...] = ()
_NO_WORD: dict[str, Correction] = {}
_NO_LANDMARKS: tuple[LandmarkRow, ...] = ()


class _Reader:
    """Collects problems and input hashes while the parts of a folder are read."""

    def __init__(self, folder: Path, rules: ReadRules, memory: Memory) -> None:
        self.folder, self.rules, self.memory = folder, rules, memory
        self.problems: list[Problem] = []
        self.inputs: dict[str, str] = {}
        self.written: dict[str, tuple[int, int]] = {}

    def find(self, key: str) -> Named:
        """Return the files of one kind of input, sorted, with their names in the survey folder."""
        found = {path for pattern in self.rules.files[key] for path in self.folder.glob(pattern)}
        files = sorted((path, path.relative_to(self.folder).as_posix()) for path in without_sidecars(found))
        return [(path, name) for path, name in files if not path.is_dir() and self._can_be_read(path, name)]

    def _can_be_read(self, path: Path, name: str) -> bool:
        """Note a file's hash; one that is no regular file (reading a pipe never ends) or cannot be read is told."""
        try:
            if not path.is_file():
                raise OSError(0, say("input-pipe-or-link"))
            self.written[name] = _written(path)
            self.inputs[name] = _sha256(path)
        except OSError as error:
            words = fault_text(
                name, say("input-unread", error=f"{error.strerror}"), say("input-a-file"), say("input-not-used")
            )
            self.problems.append(Problem(name, "unusable", words, "fault"))
            return False
        return True

    def refuse_changed(self, files: Named) -> None:
        """Raise `InputFault` for a file that another program wrote to while it was read."""
        for path, name in files:
            if not path.is_file() or _written(path) != self.written[name]:
                step = say("input-wait")
                raise InputFault(name, say("input-changed"), say("input-a-lasting-file"), step)

    def read(self, key: str, files: Named, read: Callable[[Named], Value]) -> Value:
        """Read files, or remember what was read of them: it follows from them, the rules, and what was found before."""
        own = {path for path, _ in files}
        beside = {other for path in own for other in path.parent.glob(f"{glob.escape(path.stem)}.*") if other.is_file()}
        weight = sum(path.stat().st_size for path in own | beside)
        if weight > _REMEMBERED_BYTES or any(path.suffix.lower() == _NAMES_OTHERS for path in own):
            return read(files)
        held = [(path.name, _sha256(path)) for path in sorted(beside - own)]
        found = [(name, self.inputs[name]) for name in self.written]
        names = [name for _, name in files]
        return self.memory.remember("input", (key, names, self.rules, found, held), lambda: read(files))

    def optional(self, key: str, read: Callable[[Named], tuple[Value, Iterable[Problem]]], empty: Value) -> Value:
        """Read an optional input; what is absent or faulty is told, and the job goes on without it."""
        files = self.find(key)
        if not files:
            if key in _LACKED:
                words = say("input-missing", files=", ".join(self.rules.files[key]), input=key)
                self.problems.append(Problem(key, "missing", words))
            return empty
        try:
            value, problems = self.read(key, files, read)
            self.refuse_changed(files)
        except InputFault as fault:
            self.problems.append(Problem(fault.file, "unusable", f"{fault} {say('input-not-used')}", "fault"))
            return empty
        except OSError as error:
            words = fault_text(", ".join(name for _, name in files), error.strerror, say("input-lasting-files"))
            self.problems.append(Problem(key, "unusable", f"{words} {say('input-not-used')}", "fault"))
            return empty
        self.problems += problems
        return value


def read_survey(
    folder: Path, rules: ReadRules, executor: Executor, progress: Progress, memory: Memory = ANEW
) -> Survey:
    """Read everything a survey folder holds; photos whose files are as the last build read them are not read again.

    Raises
    ------
    MissingInput, InputFault
        The folder, its photos folder or its shoreline cannot be used.
    """
    reader = _Reader(folder, rules, memory)
    shoreline = _read_shoreline(reader)
    photos = _read_photos(reader, executor, progress)
    parts = _read_tables(reader, progress) | {
        "elevation": _read_elevations(reader, shoreline.bounds),
        "depth_raster": _read_depth_raster(reader, shoreline.bounds),
        "depth_contours": reader.optional(
            "depth_contours", lambda files: read_contours(*files[0], rules.contours_field), None
        ),
        "previous": reader.optional("previous", lambda files: read_previous(*files[0], shoreline.bounds), None),
    }
    corrections, unused = match_corrections(parts.pop("corrections"), photos)
    return Survey(
        photos=photos,
        shoreline=shoreline,
        corrections=corrections,
        problems=(*reader.problems, *unused),
        inputs=reader.inputs,
        **parts,
    )


def _read_shoreline(reader: _Reader) -> Any:
    patterns = ", ".join(reader.rules.files["shoreline"])
    files = reader.find("shoreline")
    if not files and reader.problems:
        raise InputFault(patterns, reader.problems[-1].message, say("input-a-readable-file"))
    if not files:
        raise MissingInput(str(reader.folder / patterns), say("input-put-outline"))
    if len(files) > 1:
        names = ", ".join(name for _, name in files)
        raise InputFault(patterns, names, say("input-one-file"), say("input-name-shoreline"))
    water, problems = reader.read("shoreline", files, lambda files: read_water(*files[0]))
    reader.refuse_changed(files)
    reader.problems += problems
    return water


def _read_photos(reader: _Reader, executor: Executor, progress: Progress) -> tuple[PhotoFile, ...]:
    """Read every photo's own facts; a file that is no photo, or a second copy, becomes a problem."""
    (top,) = reader.rules.files["photos"]
    if not (reader.folder / top).is_dir():
        raise MissingInput(str(reader.folder / top), say("input-put-photos"))
    names, problems = list_photos(reader.folder / top)
    jobs = [PhotoJob(reader.folder / top / name, f"{top}/{name}", reader.rules.largest_megapixels) for name in names]

    def read(numbers: list[int]) -> list[PhotoFile | Problem]:
        return run_all(executor, read_job, [jobs[number] for number in numbers], progress, "reading photos")

    parts = [file_stamp(job, reader.memory.settled_before_ns) for job in jobs]
    results = reader.memory.mapped("photo", parts, read, keep=lambda result: isinstance(result, PhotoFile))
    reader.problems += [replace(p, subject=f"{top}/{p.subject}") for p in problems]
    reader.problems += [result for result in results if isinstance(result, Problem)]
    photos, copies = _without_copies(result for result in results if isinstance(result, PhotoFile))
    reader.problems += copies
    reader.inputs.update((photo.file, photo.sha256) for photo in photos)
    return photos


def _without_copies(photos: Iterable[PhotoFile]) -> tuple[tuple[PhotoFile, ...], list[Problem]]:
    """Keep the first of photos that are the same byte for byte."""
    first: dict[str, PhotoFile] = {}
    problems = []
    for photo in photos:
        kept = first.setdefault(photo.sha256, photo)
        if kept is not photo:
            words = say("input-same-bytes", file=photo.file, other=kept.file)
            problems.append(Problem(photo.file, "duplicate", words, "left_out"))
    return tuple(first.values()), problems


def _read_tables(reader: _Reader, progress: Progress) -> dict[str, Any]:
    rules, outages = reader.rules, reader.find("outages")
    progress("reading soundings and records", 0, 0)
    return {
        "soundings": reader.optional("soundings", lambda files: read_soundings(files, **_sounding_rules(rules)), None),
        "passes": reader.optional(
            "passes", lambda files: read_passes(files, outages[0] if outages else None, rules.zone), _NO_PASSES
        ),
        "stage": reader.optional(
            "stage", lambda files: read_stage(*files[0], rules.zone, rules.full_supply_elevation_m), None
        ),
        "track": reader.optional("tracks", read_tracks, None),
        "corrections": reader.optional("corrections", lambda files: read_corrections(*files[0], rules.zone), _NO_WORD),
        "not_surveyed": reader.optional("not_surveyed", _areas("reason", "why", "name", polygons_only=True), ()),
        "no_photo": reader.optional("no_photo", _areas("reason", "why", "name", polygons_only=True), ()),
        "sonar_coverage": reader.optional("sonar_coverage", _areas("pass", "name", polygons_only=True), ()),
        "places": reader.optional("places", _areas("name"), ()),
        "sheets": reader.optional("sheets", _areas(rules.sheet_name, polygons_only=True), ()),
        "private": reader.optional("private", _areas("treat", "treatment", "kind", polygons_only=True), ()),
        "landmarks": reader.optional("landmarks", read_landmarks, _NO_LANDMARKS),
        "layers": _read_layers(reader),
    }


def _read_elevations(reader: _Reader, lake: Bounds) -> tuple[Raster, ...]:
    return reader.optional("elevation", lambda files: read_rasters(files, widened(lake, _LAND_M)), ())


def _read_depth_raster(reader: _Reader, lake: Bounds) -> Raster | None:
    def read(files: Named) -> tuple[Raster, list[Problem]]:
        if len(files) > 1:
            names = ", ".join(name for _, name in files)
            raise InputFault("depth_raster", names, say("input-one-file"), say("input-name-raster"))
        return read_raster(*files[0], around=lake)

    return reader.optional("depth_raster", read, None)


def _read_layers(reader: _Reader) -> tuple[LayerFile, ...]:
    layers, problems = read_history(reader.folder, reader.rules.layers)
    reader.problems += problems
    there = [name for name in files_of(reader.rules.layers) if (reader.folder / name).is_file()]
    reader.inputs.update((name, _sha256(reader.folder / name)) for name in there)
    return layers


def _areas(*fields: str, polygons_only: bool = False) -> Callable[[Named], Any]:
    return lambda files: read_areas(*files[0], fields, polygons_only=polygons_only)


def _sounding_rules(rules: ReadRules) -> dict[str, Any]:
    return {
        "columns": rules.sounding_columns,
        "crs": rules.sounding_crs,
        "depth_unit": rules.depth_unit,
        "depth_positive": rules.depth_positive,
        "zone": rules.sounding_zone,
        "no_data": rules.no_data,
    }


def match_corrections(
    corrections: Mapping[str, Correction], photos: Iterable[PhotoFile]
) -> tuple[dict[str, Correction], list[Problem]]:
    """Tie each correction to one photo: by its path, by its path below the photos folder, or by a bare unique name."""
    by_name: dict[str, list[str]] = {}
    for photo in photos:
        parts = photo.file.split("/")
        for i in range(len(parts)):
            by_name.setdefault("/".join(parts[i:]).casefold(), []).append(photo.file)
    matched, problems = {}, []
    for name, correction in sorted(corrections.items()):
        files = by_name.get(re.sub(r"^\./|\\", "/", name).lstrip("/").casefold(), [])
        if len(files) == 1:
            matched[files[0]] = correction
        else:
            found = say("input-photos-so-called", count=len(files), files=", ".join(files))
            words = say("input-corrections-for", file=name, found=found if files else say("input-no-such-photo"))
            problems.append(Problem(name, "unused", words))
    return matched, problems


def _written(path: Path) -> tuple[int, int]:
    """Return what changes when a file is written to: its size and time."""
    stat = path.stat()
    return stat.st_size, stat.st_mtime_ns


def _sha256(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
