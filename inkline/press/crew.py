"""The processes that share the work of a build, or of several builds one after another.

Each opens its own workshop from the recipe, so nothing but recipes, names, files and finished
pictures travels. Processes are started afresh and not split off, which is the one way that works
alike on all platforms; that takes a second each, so they stay for the next kit.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing.connection import wait as wait_for_handles
from typing import TypeVar

from inkline.errors import WorkError
from inkline.kit.recipe.model import Recipe
from inkline.press.shop import Workshop

J = TypeVar("J")
R = TypeVar("R")
Task = Callable[[Workshop, J], R]
"""A function of a module, so that another process can find it by name."""

_here: dict[int, Workshop] = {}
"""The workshop of this process, if it is one of a crew, by the number of the crew that it works
for."""


class Crew:
    """Does tasks one after another in this process, with the workshop that is open anyway."""

    def __init__(self, shop: Workshop) -> None:
        self.shop = shop

    def results(self, task: Task[J, R], jobs: Sequence[J]) -> Iterator[R]:
        """What `task` makes of each of `jobs`, as soon as it is there, in no fixed order."""
        return (task(self.shop, job) for job in jobs)


class ParallelCrew(Crew):
    """Does tasks in several processes; the jobs that come first are begun first.

    Attributes:
        pool: the processes, which may have worked for another crew before.
        number: the crew's own.
    """

    def __init__(self, shop: Workshop, pool: ProcessPoolExecutor, *, number: int) -> None:
        super().__init__(shop)
        self.pool, self.number = pool, number

    def results(self, task: Task[J, R], jobs: Sequence[J]) -> Iterator[R]:
        """What `task` makes of each of `jobs`, as soon as it is there, in no fixed order.

        Raises:
            WorkError: the system stopped one of the processes.
        """
        try:
            with _interruptions_held():  # this starts the processes
                whose = (self.number, self.shop.recipe)
                waiting: set[Future[R]] = {
                    self.pool.submit(_done_here, whose, task, job) for job in jobs
                }
            while waiting:
                done, waiting = wait(waiting, return_when=FIRST_COMPLETED)
                yield from (future.result() for future in done)
        except BrokenProcessPool as problem:
            raise WorkError(
                "one of the drawing processes was stopped by the system, perhaps for want of "
                "memory; "
                "what was finished is kept, and --workers 1 needs least"
            ) from problem


class Staff:
    """Makes the crews of one kit after another, all from the same processes; made by `hired_staff`."""

    def __init__(self, workers: int) -> None:
        self.workers = workers
        self.pool: ProcessPoolExecutor | None = None
        self.n_crews = 0

    def crew(self, shop: Workshop, *, n_jobs: int) -> Crew:
        """A crew for `n_jobs` jobs of `shop`: this process alone where one worker, or one job, is all there is."""
        if min(self.workers, n_jobs) <= 1:
            return Crew(shop)
        if self.pool is None:
            context = multiprocessing.get_context("spawn")
            self.pool = ProcessPoolExecutor(
                self.workers, mp_context=context, initializer=_begin_here
            )
        self.n_crews += 1
        return ParallelCrew(shop, self.pool, number=self.n_crews)


@contextmanager
def hired_staff(workers: int) -> Iterator[Staff]:
    """A staff of up to `workers` processes, each started when there is work for it; sent home at the end, whatever happens."""
    staff = Staff(workers)
    try:
        yield staff
    finally:
        if staff.pool is not None:
            staff.pool.shutdown(cancel_futures=True)


@contextmanager
def _interruptions_held() -> Iterator[None]:
    """Hold back an interruption from the keyboard till the end of the with statement.

    It goes to every process of a terminal. This one must not leave off halfway through starting
    another; one that is started here blocks it for good, where the system can, or it would show
    where in its imports it was.
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    held: list[int] = []
    handler = signal.signal(signal.SIGINT, lambda number, _: held.append(number))
    try:
        with _blocked_for_children():
            yield
    finally:
        signal.signal(signal.SIGINT, handler)
        if held:
            signal.raise_signal(signal.SIGINT)


@contextmanager
def _blocked_for_children() -> Iterator[None]:
    """Block interruptions in this thread, and so in the processes that it starts."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _begin_here() -> None:
    """Make this process one of a crew: the parent alone answers to an interruption, and none outlives it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_leave_with, args=(parent.sentinel,), daemon=True).start()


def _leave_with(sentinel: int) -> None:
    """End this process when the parent's `sentinel` says that the parent has ended, killed or not."""
    wait_for_handles([sentinel])
    os._exit(1)


def _done_here(whose: tuple[int, Recipe], task: Task[J, R], job: J) -> R:
    """Do a job of the crew that `whose` numbers, in a workshop for its recipe; that of the crew before is closed."""
    number, recipe = whose
    if number not in _here:
        _here.clear()
        _here[number] = Workshop(recipe)
    return task(_here[number], job)
