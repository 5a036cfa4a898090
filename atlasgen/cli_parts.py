"""What the commands share: their arguments, progress on stderr, errors of ours as one message."""

from __future__ import annotations

import errno
import os
import sys
from collections.abc import Callable
from contextlib import contextmanager
from functools import wraps
from pathlib import Path
from typing import Any

import click

from atlasgen.errors import AtlasgenError
from atlasgen.model import Progress
from atlasgen.model.text import visible

# What a disk answers that is full or may not be written to; everything else would be a defect of ours.
_FULL = {errno.ENOSPC, errno.EFBIG, getattr(errno, "EDQUOT", errno.ENOSPC)}
_OF_THE_DISK = _FULL | {errno.EROFS, errno.EACCES, errno.EPERM, errno.EIO}

SURVEY = click.argument("survey", type=click.Path(file_okay=False, path_type=Path))
QUIET = click.option("-q", "--quiet", is_flag=True, help="Show no progress.")
STRICT = click.option("--strict", is_flag=True, help="Fail if any problem is met, however small.")
WORKERS = click.option(
    "--workers", type=click.IntRange(1, 64), default=os.cpu_count() or 2, show_default="one for each core",
    help="Processes that read and prepare photos.",
)  # fmt: skip


def told(command: Callable[..., Any]) -> Callable[..., Any]:
    """Turn an error of ours into its message on stderr and exit code 1."""

    @wraps(command)
    def run(*args: Any, **kwargs: Any) -> Any:
        try:
            return command(*args, **kwargs)
        except AtlasgenError as error:
            click.echo(f"atlasgen: {visible(str(error), lines=True)}", err=True)
            sys.exit(1)
        except OSError as error:
            if error.errno not in _OF_THE_DISK:
                raise
            click.echo(f"atlasgen: {visible(_disk_words(error))}", err=True)
            sys.exit(1)

    return run


def _disk_words(error: OSError) -> str:
    where = f"{error.filename}: " if error.filename else ""
    step = "Make room" if error.errno in _FULL else "Choose a place that can be written to, or put the disk right"
    return f"{where}{error.strerror}. Nothing of an earlier edition was changed. {step}, then start again."


@contextmanager
def progress_lines(quiet: bool):
    """Give a progress function: a moving bar on a terminal, one line a step elsewhere, nothing when quiet."""
    if quiet:
        yield lambda step, done, total: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, TextColumn, TimeElapsedColumn
    from rich.progress import Progress as Bars

    console = Console(stderr=True)
    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn())
    if not console.is_terminal:
        yield _plain_lines()
        return
    with Bars(*columns, console=console) as bars:
        tasks: dict[str, Any] = {}

        def show(step: str, done: int, total: int) -> None:
            if step not in tasks:
                tasks[step] = bars.add_task(step, total=total or None)
            bars.update(tasks[step], completed=done, total=total or None)

        yield show


def _plain_lines() -> Progress:
    seen: set[str] = set()

    def show(step: str, done: int, total: int) -> None:
        if step not in seen:
            seen.add(step)
            click.echo(f"{step} …" if not total else f"{step} ({total:,}) …", err=True)

    return show
