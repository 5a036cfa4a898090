"""Kill a build at many points of its run; the edition before it must stay whole, and the next build must be as new.

By hand, all points of the bar:

    python tests/killing.py --kills 200
"""

from __future__ import annotations

import argparse
import hashlib
import multiprocessing
import os
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from pond import make_pond

from atlasgen.pipeline import build
from atlasgen.publishing import publish
from atlasgen.ship.verify import verify_edition


class Round(NamedTuple):
    """What one kill left: when it fell, whether it cut the build off, and the faults found afterwards."""

    after_s: float
    cut_off: bool
    faults: list[str]


def digests(folder: Path) -> dict[str, str]:
    """Return the SHA-256 of every file below a folder by its name."""
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest() for path in files}


Build = Callable[[Path, Path], object]


def _plain(survey: Path, out: Path) -> None:
    build(survey, out, workers=1)


def _remembering(survey: Path, out: Path) -> None:
    publish(survey, out, workers=1)


def _child(job: Build, survey: Path, out: Path) -> None:
    os.setsid()  # its workers die with it
    job(survey, out)


def _killed_build(job: Build, survey: Path, out: Path, after_s: float) -> bool:
    """Start a build in a process of its own and kill it with all its workers; tell whether that cut it off."""
    child = multiprocessing.get_context("fork").Process(target=_child, args=(job, survey, out))
    child.start()
    child.join(after_s)
    cut_off = child.is_alive()
    try:
        os.killpg(child.pid, signal.SIGKILL)
    except ProcessLookupError:
        child.kill()
    child.join()
    return cut_off


def kill_rounds(folder: Path, kills: int) -> list[Round]:
    """Kill `kills` builds of a changed survey over an earlier edition, spread evenly over the length of one build.

    Every other build keeps its results in a cache, which is killed with it and used by the next.
    """
    cache = folder / "cache"
    os.environ["ATLASGEN_CACHE"] = str(cache)
    survey, out, first, second = (folder / name for name in ("survey", "out", "first", "second"))
    make_pond(survey)
    build(survey, first, workers=1)
    settings = survey / "survey.toml"
    settings.write_text(settings.read_text().replace('edition = "1"', 'edition = "2"'))
    start = time.perf_counter()
    build(survey, second, workers=1)
    length_s = time.perf_counter() - start
    before, after = digests(first), digests(second)
    rounds = []
    for number in range(kills):
        shutil.rmtree(out, ignore_errors=True)
        shutil.copytree(first, out)
        shutil.rmtree(cache, ignore_errors=True)
        job = (_plain, _remembering)[number % 2]
        after_s = length_s * (number + 0.5) / kills
        cut_off = _killed_build(job, survey, out, after_s)
        faults = [] if digests(out) in (before, after) else ["the edition is neither the old nor the new one"]
        faults += [f"{finding.file} is {finding.state}" for finding in verify_edition(out).findings]
        job(survey, out)
        faults += [] if digests(out) == after else ["the next build differs from an undisturbed one"]
        rounds.append(Round(after_s, cut_off, faults))
    return rounds


def main() -> int:
    """Kill from the command line; the exit code is 1 if anything was lost."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--kills", type=int, default=200)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        rounds = kill_rounds(Path(folder), asked.kills)
    lost = [one for one in rounds if one.faults]
    for one in lost:
        sys.stdout.write(f"{one.after_s:.3f} s: {'; '.join(one.faults)}\n")
    cut = sum(one.cut_off for one in rounds)
    sys.stdout.write(f"{len(rounds)} kills, {cut} of them before the end; {len(rounds) - len(lost)} left all whole\n")
    return bool(lost)


if __name__ == "__main__":
    sys.exit(main())
