"""Work spread over processes: in order, with progress, and going on when a worker dies."""

from __future__ import annotations

import os
import sys
from concurrent.futures import BrokenExecutor, Executor, Future, ThreadPoolExecutor

import pytest
from worker_jobs import Order, die_elsewhere, work

from atlasgen.errors import InputFault
from atlasgen.model import Problem
from atlasgen.workers import Pool, aside, pool, run_all


def orders(count: int, **acts: str) -> list[Order]:
    """Return `count` jobs; `acts` such as `n3="die"` change single ones."""
    return [Order(f"{n}.jpg", n, acts.get(f"n{n}", "double")) for n in range(count)]


def silent(name: str, done: int, total: int) -> None:
    """Take no notice."""


class Counted(Executor):
    """Runs nothing before it is asked for a result, and remembers how many calls waited at most."""

    def __init__(self) -> None:
        self.waiting = self.most = 0

    def submit(self, function, /, *args, **kwargs):
        """Count the call as waiting until its result is asked for."""
        self.waiting += 1
        self.most = max(self.most, self.waiting)
        future = Future()
        future.result = lambda timeout=None: self._run(function, *args)
        return future

    def _run(self, function, *args):
        self.waiting -= 1
        return function(*args)


def test_results_come_in_the_order_of_the_jobs_with_progress():
    """Twenty jobs on two processes; progress counts every one, in order."""
    told = []
    with pool(2) as opened:
        results = run_all(opened, work, orders(20), lambda *step: told.append(step), "reading")
    assert results == [2 * n for n in range(20)]
    assert told == [("reading", n, 20) for n in range(1, 21)]


def test_no_jobs_no_results():
    """An empty photos folder."""
    with ThreadPoolExecutor(1) as executor:
        assert run_all(executor, work, [], silent, "reading") == []


def test_a_worker_that_dies_costs_its_own_job_only():
    """Three of forty jobs end their process; each becomes a problem, the other 37 are done, progress is whole."""
    told = []
    jobs = orders(40, n3="die", n4="die", n39="die")
    with pool(2) as opened:
        results = run_all(opened, work, jobs, lambda *step: told.append(step), "reading")
    dead = {n for n, result in enumerate(results) if isinstance(result, Problem)}
    assert dead == {3, 4, 39}
    assert [result for n, result in enumerate(results) if n not in dead] == [2 * n for n in range(40) if n not in dead]
    assert (results[3].subject, results[3].code, results[3].level) == ("3.jpg", "damaged", "left_out")
    assert results[3].message.startswith("3.jpg: the process that worked on this photo was ended from outside.")
    assert told == [("reading", n, 40) for n in range(1, 41)]


def test_workers_are_other_processes_set_for_one_thread_each():
    """Spawned, light, and with libvips held to one thread."""
    with pool(1) as opened:
        ((threads, process, has_numpy),) = run_all(opened, work, orders(1, n0="describe"), silent, "reading")
    assert (threads, has_numpy, process != os.getpid()) == ("1", False, True)


def test_an_error_of_the_machine_goes_up():
    """A full disk is not one photo's fault: the build must stop."""
    with pool(1) as opened, pytest.raises(OSError, match="No space left"):
        run_all(opened, work, orders(3, n1="raise"), silent, "writing")


def test_another_engines_executor_may_take_the_pools_place():
    """Anything with the interface of concurrent.futures; no more than a few jobs wait in it at a time."""
    counted = Counted()
    assert run_all(counted, work, orders(500), silent, "reading") == [2 * n for n in range(500)]
    assert counted.most == 32


def test_a_foreign_executor_that_breaks_is_told_not_renewed():
    """Only our own processes can be started anew."""

    class Broken(Counted):
        def submit(self, function, /, *args, **kwargs):
            raise BrokenExecutor("gone")

    with pytest.raises(BrokenExecutor, match="gone"):
        run_all(Broken(), work, orders(2), silent, "reading")


def test_a_pool_that_breaks_at_once_every_time_comes_to_an_end(monkeypatch):
    """Processes that cannot start must not be started for ever: every job becomes a problem."""

    def refuse(self, function, /, *args, **kwargs):
        raise BrokenExecutor("cannot start")

    with pool(1) as opened:
        monkeypatch.setattr(Pool, "submit", refuse)
        results = run_all(opened, work, orders(3), silent, "reading")
    assert [result.code for result in results] == ["damaged"] * 3


def test_a_job_that_never_ends_costs_its_own_job_only():
    """Two of nine hang, one of them right after the other; each is told by name, and the rest are done."""
    with Pool(2, patience_s=5) as opened:
        run_all(opened, work, orders(2), silent, "warming up")
        results = run_all(opened, work, orders(9, n2="hang", n3="hang"), silent, "reading")
    hung = {n for n, result in enumerate(results) if isinstance(result, Problem)}
    assert hung == {2, 3}
    assert results[2].message.startswith("2.jpg: it was not read within 5 seconds.")
    assert [results[n] for n in range(9) if n not in hung] == [2 * n for n in range(9) if n not in hung]


@pytest.mark.skipif(sys.platform != "linux", reason="the bound on a worker's memory holds on Linux")
def test_a_worker_may_not_swell():
    """What asks for 64 GiB is refused in its own process."""
    with pool(1) as opened:
        assert run_all(opened, work, orders(1, n0="swell"), silent, "reading") == ["refused"]


def test_a_call_beside_the_rest_is_answered_when_it_is_waited_for():
    """By another process; whatever it raised is raised then."""
    with pool(1) as opened:
        answer, fault = aside(opened, work, Order("a", 4)), aside(opened, work, Order("b", 1, "raise"))
        where = aside(opened, work, Order("c", 1, "describe"))
        assert answer() == 8
        with pytest.raises(OSError, match="No space left"):
            fault()
        assert where()[1] != os.getpid()


def test_a_call_whose_process_died_is_made_here():
    """And so is one that is begun after that; a fault of the survey comes through as it is, from wherever."""
    with pool(1) as opened:
        first = aside(opened, die_elsewhere, os.getpid())
        assert first() == os.getpid()
        assert aside(opened, work, Order("a", 3))() == 6
    with pool(1) as opened, pytest.raises(InputFault, match=r"a\.jpg: cut\. Expected a whole JPEG\."):
        aside(opened, _refuse, "a.jpg")()


def _refuse(file: str) -> None:
    raise InputFault(file, "cut", "a whole JPEG", "Copy it again.")
