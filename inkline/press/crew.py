"""The processes that share the work of a run, or of several runs one after another.

Each opens the product for itself from its order, so nothing but orders, names, files and finished
pictures travels. On Linux they are split off one process that has imported what all of them want
and does nothing else, no threads and no files in its hands; elsewhere, where systems' libraries
don't bear that, each is started afresh, which takes a second. So they stay for the next product.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import sys
import threading
from collections.abc import Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing.connection import wait as wait_for_handles
from multiprocessing.context import BaseContext
from multiprocessing.process import BaseProcess

from inkline.errors import Action, InputError, Remedy, WorkError
from inkline.press.product import Order
from inkline.press.shop import Done, Job, Shop

_here: dict[int, Shop] = {}
"""What this process has open, if it is one of a crew, by the number of the crew."""


class Crew:
    """Makes pieces one after another in this process, of the product that is open anyway."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop

    def results(self, jobs: Sequence[Job]) -> Iterator[Done]:
        """What comes of each of `jobs`, as soon as it is there, in no fixed order."""
        return (self.shop.make(job) for job in jobs)


class ParallelCrew(Crew):
    """Makes pieces in several processes; the jobs that come first are begun first.

    Attributes:
        order: what each process opens the product from.
        several: what keeps count of the processes.
        pool: the processes, which may have worked for another crew before.
        number: the crew's own.
    """

    def __init__(
        self,
        shop: Shop,
        order: Order,
        several: Processes,
        pool: ProcessPoolExecutor,
        *,
        number: int,
    ) -> None:
        super().__init__(shop)
        self.order, self.several, self.pool, self.number = order, several, pool, number

    def results(self, jobs: Sequence[Job]) -> Iterator[Done]:
        """What comes of each of `jobs`, as soon as it is there, in no fixed order.

        Raises:
            WorkError: the system stopped one of the processes.
        """
        try:
            with _interruptions_held(), self.several.watching_starts():
                waiting: set[Future[Done]] = {
                    self.pool.submit(_made_here, self.number, self.order, job) for job in jobs
                }
            while waiting:
                done, waiting = wait(waiting, return_when=FIRST_COMPLETED)
                yield from (future.result() for future in done)
        except BrokenProcessPool as problem:
            raise WorkError(
                "one of the drawing processes was stopped by the system, perhaps for want of "
                "memory; what was finished is kept",
                remedies=(Remedy(action=Action.ONE_PROCESS),),
            ) from problem


class Processes:
    """Makes the crews of one product after another, all from the same processes."""

    def __init__(self, workers: int) -> None:
        self.workers = workers
        self.pool: ProcessPoolExecutor | None = None
        self.started: set[BaseProcess] = set()
        self.n_crews = 0

    def crew(self, shop: Shop, order: Order, *, n_jobs: int) -> Crew:
        """A crew for `n_jobs` jobs of `shop`, whose product was opened from `order`.

        It is this process alone where one worker, or one job, is all there is.
        """
        if min(self.workers, n_jobs) <= 1:
            return Crew(shop)
        if self.pool is None:
            context = _context_with(shop.product.wanted_modules)
            self.pool = ProcessPoolExecutor(
                self.workers, mp_context=context, initializer=_begin_here
            )
        self.n_crews += 1
        return ParallelCrew(shop, order, self, self.pool, number=self.n_crews)

    @contextmanager
    def watching_starts(self) -> Iterator[None]:
        """Remember the processes that start meanwhile, so that they can be ended."""
        before = set(multiprocessing.active_children())
        try:
            yield
        finally:
            self.started |= set(multiprocessing.active_children()) - before

    def close(self) -> None:
        """End the processes, which have nothing left to do."""
        if self.pool is not None:
            with _interruptions_held():
                self.pool.shutdown()

    def stop(self) -> None:
        """End the processes at once, whatever they are at; no file is in their hands."""
        if self.pool is not None:
            with _interruptions_held():
                for process in self.started:
                    process.kill()
                _end_results(self.pool)
                self.pool.shutdown(cancel_futures=True)


def _context_with(modules: Sequence[str]) -> BaseContext:
    """How processes are started here; where they are split off, with `modules` imported."""
    if not sys.platform.startswith("linux"):
        return multiprocessing.get_context("spawn")
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload([__name__, *modules])
    return context


def _end_results(pool: ProcessPoolExecutor) -> None:
    """Close our own end of the pipe that results come by, so that nobody waits there for the rest.

    A process may be killed halfway through sending one. Nothing public does this.
    """
    writer = getattr(getattr(pool, "_result_queue", None), "_writer", None)
    if writer is not None:
        writer.close()


@contextmanager
def processes(workers: int) -> Iterator[Processes]:
    """Up to `workers` processes, each started when there is work for it, ended in any case."""
    several = Processes(workers)
    try:
        yield several
    except BaseException:
        several.stop()
        raise
    several.close()


def number_of_workers(wanted: int | None) -> int:
    """How many processes to use; as many as there are cores if None.

    Raises:
        InputError: fewer than one is wanted.
    """
    if wanted is None:
        if hasattr(os, "sched_getaffinity"):
            return len(os.sched_getaffinity(0))
        return os.cpu_count() or 1
    if wanted < 1:
        raise InputError(f"at least 1 is required, not {wanted}", setting="workers")
    return wanted


@contextmanager
def _interruptions_held() -> Iterator[None]:
    """Hold back interruptions and requests to end till the end of the with statement.

    An interruption goes to every process of a terminal. This one must not leave off halfway through
    starting or ending another; one that is started here blocks it for good, where the system can,
    or it would show where in its imports it was.
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    held: list[int] = []
    numbers = (signal.SIGINT, signal.SIGTERM)
    handlers = {number: signal.getsignal(number) for number in numbers}
    heeded = {number: handler for number, handler in handlers.items() if callable(handler)}
    for heard in heeded:
        signal.signal(heard, lambda number, _: held.append(number))
    try:
        with _blocked_for_children():
            yield
    finally:
        for heard, handler in heeded.items():
            signal.signal(heard, handler)
        for number in held:
            signal.raise_signal(number)


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
    """Make this process one of a crew.

    The parent alone answers to an interruption, and no process outlives it.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_leave_with, args=(parent.sentinel,), daemon=True).start()


def _leave_with(sentinel: int) -> None:
    """End this process when the parent's `sentinel` says that the parent has ended."""
    wait_for_handles([sentinel])
    os._exit(1)


def _made_here(number: int, order: Order, job: Job) -> Done:
    """The piece that `job` asks for, made in this process for the crew `number`.

    What the crew before had open is closed.
    """
    if number not in _here:
        _here.clear()
        _here[number] = Shop(order.open())
    return _here[number].make(job)
