"""Per-photo work spread over processes, in order, and proof against one that dies.

Any executor with the interface of `concurrent.futures` can take the place of the process pool. A worker has limits on
memory and on the time of one job, so that a file that swells or never ends costs itself only.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import BrokenExecutor, Executor, Future, ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from typing import Any, TypeVar

from atlasgen.errors import fault_text
from atlasgen.model import Problem, Progress
from atlasgen.model.wording import language, say, speak

try:
    import resource
except ImportError:  # not a POSIX system: a worker's memory is then not bounded
    resource = None  # type: ignore[assignment]

JobT = TypeVar("JobT")
ResultT = TypeVar("ResultT")

# In flight in an executor of which nothing is known.
_IN_FLIGHT = 32
# The largest photos allowed take some seconds; a network drive may be slow. What takes longer than this has no end.
PATIENCE_S = 120.0
# A photo of 250 megapixels is decoded in under 3 GB (measured); ours, and never more than half of the machine.
_MOST_MEMORY_BYTES = 6 * 2**30


class Pool(Executor):
    """Spawned processes that can be made anew when one has died, taken the others along, or does not come back."""

    def __init__(self, workers: int, patience_s: float = PATIENCE_S) -> None:
        self.workers, self.patience_s = workers, patience_s
        self._open()

    def _open(self) -> None:
        before = set(multiprocessing.active_children())
        self._processes = _start(self.workers)
        self._children = set(multiprocessing.active_children()) - before

    def submit(self, function: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        """Pass one call to a worker."""
        return self._processes.submit(function, *args, **kwargs)

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """Wait for what runs; see `concurrent.futures`."""
        self._processes.shutdown(wait=wait, cancel_futures=cancel_futures)

    def renew(self) -> None:
        """Start new processes; what was in flight is lost, and what still runs is ended."""
        for child in self._children:
            child.kill()
        self.shutdown(cancel_futures=True)
        self._open()


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
    spawn, spoken = multiprocessing.get_context("spawn"), (language(),)
    processes = ProcessPoolExecutor(workers, spawn, initializer=_begin, initargs=spoken)
    for _ in range(workers):
        processes.submit(_begin, *spoken)
    return processes


def _begin(spoken: str) -> None:
    """Set up a worker: language, one thread for pictures, bounded memory; Ctrl-C is left to the parent."""
    speak(spoken)
    os.environ["VIPS_CONCURRENCY"] = "1"
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if resource:
        _, hard = resource.getrlimit(resource.RLIMIT_DATA)
        bound = memory_bound_bytes()
        resource.setrlimit(resource.RLIMIT_DATA, (bound if hard < 0 else min(bound, hard), hard))


def memory_bound_bytes() -> int:
    """Return how much memory one worker may take for itself: half of the machine's, within 1 and 6 GiB."""
    machine_bytes = os.sysconf("SC_PHYS_PAGES") * os.sysconf("SC_PAGE_SIZE")
    return max(2**30, min(_MOST_MEMORY_BYTES, machine_bytes // 2))


def run_all(
    executor: Executor, function: Callable[[JobT], ResultT], jobs: Sequence[JobT], progress: Progress, name: str
) -> list[ResultT | Problem]:
    """Map `function` over `jobs`; results in the order of the jobs, `progress(name, done, total)` after each.

    A job whose worker dies (killed for want of memory, a fault inside a decoder) or does not come back in time becomes
    a `Problem` about its `file`; the others are done in new processes. Only some jobs wait in the executor at a time,
    so that a crash or Ctrl-C costs little.

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
                answer = _awaited(executor, flying[number], jobs[number])
                del flying[number]
                if isinstance(answer, _Hung):
                    waiting.extendleft(reversed(flying))
                    flying = {}
                done(number, answer.problem if isinstance(answer, _Hung) else answer)
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


def aside(executor: Executor, function: Callable[..., ResultT], *args: Any) -> Callable[[], ResultT]:
    """Begin a call in another process; what is returned waits for its result, or raises what it raised.

    If that process dies, for want of memory say, the call is made here: so it must bear being begun twice.
    """
    try:
        future = executor.submit(function, *args)
    except BrokenExecutor:
        return partial(function, *args)

    def wait() -> ResultT:
        try:
            return future.result()
        except BrokenExecutor:
            return function(*args)

    return wait


@dataclass(frozen=True)
class _Hung:
    """A job that did not come back, and its processes with it."""

    problem: Problem


def _awaited(executor: Executor, future: Future[ResultT], job: Any) -> ResultT | _Hung:
    """Wait for one result; past the pool's patience its processes are ended and made anew."""
    if not isinstance(executor, Pool):
        return future.result()
    try:
        return future.result(timeout=executor.patience_s)
    except TimeoutError:
        if future.done():  # the job's own error of that name
            raise
    executor.renew()
    return _Hung(
        _given_up(job, say("photo-too-slow", seconds=f"{executor.patience_s:g}"), say("photo-a-photo-that-opens"))
    )


def _alone(pool: Pool, function: Callable[[JobT], ResultT], job: JobT) -> ResultT | Problem:
    """Run one suspect by itself: if the pool breaks now, this job broke it."""
    try:
        result = _awaited(pool, pool.submit(function, job), job)
        return result.problem if isinstance(result, _Hung) else result
    except BrokenExecutor:
        pool.renew()
        return _given_up(job, say("photo-worker-ended"), say("photo-a-photo-for-memory"))


def _given_up(job: Any, why: str, expected: str) -> Problem:
    file = str(getattr(job, "file", job))
    message = fault_text(file, why, expected, say("photo-leave-or-save"))
    return Problem(file, "damaged", message, "left_out")
