"""Per-photo work spread over processes, in order, and proof against one that dies.

Any executor with the interface of `concurrent.futures` can take the place of the process pool.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import BrokenExecutor, Executor, Future, ProcessPoolExecutor
from contextlib import contextmanager
from typing import Any, TypeVar

from atlasgen.errors import fault_text
from atlasgen.model import Problem, Progress

JobT = TypeVar("JobT")
ResultT = TypeVar("ResultT")

# In flight in an executor of which nothing is known.
_IN_FLIGHT = 32


class Pool(Executor):
    """Spawned processes that can be made anew when one has died and taken the others along."""

    def __init__(self, workers: int) -> None:
        self.workers = workers
        self._processes = _start(workers)

    def submit(self, function: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        """Pass one call to a worker."""
        return self._processes.submit(function, *args, **kwargs)

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """Wait for what runs; see `concurrent.futures`."""
        self._processes.shutdown(wait=wait, cancel_futures=cancel_futures)

    def renew(self) -> None:
        """Start new processes; what was in flight is lost."""
        self.shutdown(cancel_futures=True)
        self._processes = _start(self.workers)


@contextmanager
def pool(workers: int) -> Iterator[Pool]:
    """Start `workers` processes, at once, so that they come up while the caller imports what is heavy."""
    opened = Pool(workers)
    try:
        yield opened
    finally:
        opened.shutdown(cancel_futures=True)


def _start(workers: int) -> ProcessPoolExecutor:
    # Spawned, not forked: the parent may hold threads and locks of the libraries it has loaded.
    processes = ProcessPoolExecutor(workers, multiprocessing.get_context("spawn"), initializer=_begin)
    for _ in range(workers):
        processes.submit(_begin)
    return processes


def _begin() -> None:
    """Set up a worker: one thread for pictures, and Ctrl-C left to the parent, which tells the workers to stop."""
    os.environ["VIPS_CONCURRENCY"] = "1"
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def run_all(
    executor: Executor, function: Callable[[JobT], ResultT], jobs: Sequence[JobT], progress: Progress, name: str
) -> list[ResultT | Problem]:
    """Map `function` over `jobs`; results in the order of the jobs, `progress(name, done, total)` after each.

    A job whose worker dies (killed for want of memory, a fault inside a decoder) becomes a `Problem` about its `file`;
    the others are done in new processes. Only some jobs wait in the executor at a time, so that a crash or Ctrl-C
    costs little.

    Raises
    ------
    Exception
        Whatever `function` raises: a defect of it, or an error of the whole machine such as a full disk.
    """
    results: dict[int, ResultT | Problem] = {}
    waiting, flying = deque(range(len(jobs))), dict[int, Future[ResultT]]()
    most = 2 * executor.workers + 2 if isinstance(executor, Pool) else _IN_FLIGHT

    def done(number: int, result: ResultT | Problem) -> None:
        results[number] = result
        progress(name, len(results), len(jobs))

    try:
        while waiting or flying:
            try:
                while waiting and len(flying) < most:
                    flying[waiting[0]] = executor.submit(function, jobs[waiting[0]])
                    waiting.popleft()
                # The oldest first, so that the results are told in the order of the jobs.
                number = next(iter(flying))
                done(number, flying[number].result())
                del flying[number]
            except BrokenExecutor:
                if not isinstance(executor, Pool):
                    raise
                # A pool that breaks before anything is in flight must not be renewed for ever: take one job along.
                suspects, flying = list(flying) or [waiting.popleft()], {}
                executor.renew()
                for number in suspects:
                    done(number, _alone(executor, function, jobs[number]))
    finally:
        for future in flying.values():
            future.cancel()
    return [results[number] for number in range(len(jobs))]


def _alone(pool: Pool, function: Callable[[JobT], ResultT], job: JobT) -> ResultT | Problem:
    """Run one suspect by itself: if the pool breaks now, this job broke it."""
    try:
        return pool.submit(function, job).result()
    except BrokenExecutor:
        pool.renew()
        file = str(getattr(job, "file", job))
        message = fault_text(
            file,
            "the process that worked on this photo was ended from outside",
            "a photo that can be read in the memory there is",
            "Leave it out in corrections.csv, or save it anew as JPEG.",
        )
        return Problem(file, "damaged", message, "left_out")
