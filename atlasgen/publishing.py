"""Publish a survey: rebuild what has changed since the last time, and nothing if nothing has.

A standing edition is one that was built of the same inputs, by the same program, with the same choices, and whose
files are as that build left them. Files are told by size, times and number, not read again.
"""

from __future__ import annotations

import os
import tomllib
from collections.abc import Iterator
from pathlib import Path, PurePath
from typing import Any

from atlasgen.cache import Cache, opened, place_of
from atlasgen.model import Progress
from atlasgen.model.memory import ANEW, Memory, Stamp
from atlasgen.pipeline import build, silent
from atlasgen.write.taking_over import stamp_of

_UNCHANGED = "Nothing has changed since this edition was built; nothing was written.\n\n"
# What stands for a folder, or for a file that cannot be asked.
_NO_STAMP = Stamp(0, 0, 0, 0)
Named = tuple[str, Stamp]


def publish(
    survey_dir: Path,
    out: Path,
    *,
    strict: bool = False,
    stage_m: float | None = None,
    workers: int = 2,
    anew: bool = False,
    progress: Progress = silent,
) -> str:
    """Build the edition of a survey into `out`, sparing what the last build of it has done; return the report.

    `anew` uses nothing of the last build. Raises as `build` does.
    """
    if anew:
        return _built(survey_dir, out, strict, stage_m, workers, progress, ANEW)
    with opened(place_of(survey_dir)) as memory:
        choices = (str(out.resolve()), strict, stage_m, os.environ.get("SOURCE_DATE_EPOCH"))
        made_of = (choices, _inputs(survey_dir, memory.settled_before_ns))
        if report := _standing(memory, made_of, out):
            return _UNCHANGED + report
        report = _built(survey_dir, out, strict, stage_m, workers, progress, memory)
        if made_of[1] is not None:
            memory.keep("edition", made_of, report)
        memory.left(out, _stamps(out))
        memory.drop_unused()
    return report


def _built(
    survey_dir: Path, out: Path, strict: bool, stage_m: float | None, workers: int, progress: Progress, memory: Memory
) -> str:
    from atlasgen.report import build_report

    atlas = build(survey_dir, out, strict=strict, stage_m=stage_m, workers=workers, progress=progress, memory=memory)
    return build_report(atlas, out)


def _standing(memory: Cache, made_of: Any, out: Path) -> str | None:
    """Return the report of the edition in `out` if it stands, None if it is to be built."""
    if made_of[1] is None:
        return None
    report = memory.recall("edition", made_of)
    return report if report and memory.former(out).stamps == dict(_stamps(out)) else None


def _inputs(survey_dir: Path, settled_before_ns: int) -> tuple[Named, ...] | None:
    """Return the stamps of every file of a survey; None where they do not tell all.

    So it is while a file is so new that it may change without a trace, and where inputs lie outside the folder.
    """
    if _leads_out(survey_dir):
        return None
    stamps = tuple(_stamps(survey_dir))
    return stamps if all(max(stamp.written_ns, stamp.changed_ns) < settled_before_ns for _, stamp in stamps) else None


def _leads_out(survey_dir: Path) -> bool:
    """Whether survey.toml names anything outside the survey, or a folder of it is a link."""
    try:
        table = tomllib.loads((survey_dir / "survey.toml").read_text(encoding="utf-8-sig"))
    except (OSError, ValueError):
        return True
    named = [PurePath(text) for text in _texts([table.get("files"), table.get("layer")])]
    if any(path.is_absolute() or ".." in path.parts for path in named):
        return True
    return any((Path(top) / name).is_symlink() for top, folders, _ in os.walk(survey_dir) for name in folders)


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict | list):
        for item in value.values() if isinstance(value, dict) else value:
            yield from _texts(item)


def _stamps(folder: Path) -> list[Named]:
    """Return the stamps of all that lies below a folder, sorted by name; a folder's own tell what is listed anyway."""
    found = []
    for top, folders, files in os.walk(folder):
        within = Path(top).relative_to(folder)
        found += [((within / name).as_posix(), _NO_STAMP) for name in folders]
        found += [((within / name).as_posix(), _stamp(Path(top) / name)) for name in files]
    return sorted(found)


def _stamp(path: Path) -> Stamp:
    try:
        return stamp_of(path)
    except OSError:
        return _NO_STAMP
