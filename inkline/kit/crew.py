"""The processes that share the work of a build.

Each opens its own workshop from the recipe, so nothing but names, files and finished pictures travels. Processes are started
afresh and not split off, which is the one way that works alike on all platforms.
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
from inkline.kit.recipe_model import Recipe
from inkline.kit.workshop import Workshop

J = TypeVar("J")
R = TypeVar("R")
Task = Callable[[Workshop, J], R]
"""A function of a module, so that another process can find it by name."""

_here: list[Workshop] = []
"""The workshop of this process, if it is one of a crew."""


class Crew:
    """Does tasks one after another in this process, with the workshop that is open anyway."""

    def __init__(self, shop: Workshop) -> None:
        self.shop = shop

    def results(self, task: Task[J, R], jobs: Sequence[J]) -> Iterator[R]:
        """What `task` makes of each of `jobs`, as soon as it is there, in no fixed order."""
        return (task(self.shop, job) for job in jobs)


class ParallelCrew(Crew):
    """Does tasks in several processes; the jobs that come first are begun first."""

    def __init__(self, shop: Workshop, pool: ProcessPoolExecutor) -> None:
        super().__init__(shop)
        self.pool = pool

    def results(self, task: Task[J, R], jobs: Sequence[J]) -> Iterator[R]:
        """What `task` makes of each of `jobs`, as soon as it is there, in no fixed order.

        Raises:
            WorkError: the system stopped one of the processes.
        """
        try:
            with _interruptions_held():  # this starts the processes
                waiting: set[Future[R]] = {self.pool.submit(_done_here, task, job) for job in jobs}
            while waiting:
                done, waiting = wait(waiting, return_when=FIRST_COMPLETED)
                yield from (future.result() for future in done)
        except BrokenProcessPool as problem:
            raise WorkError(
                "one of the drawing processes was stopped by the system, perhaps for want of memory; "
                "what was finished is kept, and --workers 1 needs least"
            ) from problem


@contextmanager
def hired_crew(shop: Workshop, *, workers: int) -> Iterator[Crew]:
    """A crew of `workers` processes, or of this process alone for 1; sent home at the end, whatever happens."""
    if workers == 1:
        yield Crew(shop)
        return
    context = multiprocessing.get_context("spawn")
    pool = ProcessPoolExecutor(workers, mp_context=context, initializer=_open_here, initargs=(shop.recipe,))
    try:
        yield ParallelCrew(shop, pool)
    finally:
        pool.shutdown(cancel_futures=True)


@contextmanager
def _interruptions_held() -> Iterator[None]:
    """Hold back an interruption from the keyboard till the end of the with statement.

    It goes to every process of a terminal. This one must not leave off halfway through starting another; one that is started
    here blocks it for good, where the system can, or it would show where in its imports it was.
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


def _open_here(recipe: Recipe) -> None:
    """Make this process one of a crew: the parent alone answers to an interruption, and none outlives it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_leave_with, args=(parent.sentinel,), daemon=True).start()
    _here[:] = [Workshop(recipe)]


def _leave_with(sentinel: int) -> None:
    """End this process when the parent's `sentinel` says that the parent has ended, killed or not."""
    wait_for_handles([sentinel])
    os._exit(1)


def _done_here(task: Task[J, R], job: J) -> R:
    return task(_here[0], job)
