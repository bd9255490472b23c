"""The process in which an easel draws, so that the page answers while it does."""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import signal
import sys
import threading
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Any

from inkline.desk.easel import Easel
from inkline.errors import InklineError, WorkError

_LONGEST_S = 120.0
"""A picture that takes longer is given up, and the process with it."""


_COPY = "fork"
_LETS_GO = getattr(signal, "SIGUSR1", None)
"""Tells the process to let go of a picture; where there is none, each is drawn to its end."""
_STALE, _READY = 0, 1
"""What both processes see: the number of the call that nobody waits for, and whether it listens."""


class StaleError(InklineError):
    """A picture was let go before it was drawn, since nobody waits for it any more."""


class EaselProcess:
    """An easel in a process of its own, begun anew where it comes to an end.

    Calls wait for one another. All is as in `Easel`, whose methods `call` names.

    Args:
        nice: by how much it lets other processes go first, where the system knows of that.
    """

    def __init__(self, *, nice: int = 0) -> None:
        self._nice = nice
        self._lock = threading.Lock()
        self._process: BaseProcess | None = None
        self._pipe: Connection | None = None
        self._is_over = False
        self._seen: Any = None
        self._n_calls = self._current = 0

    def start(self) -> None:
        """Begin the process, so that the first call need not wait for it."""
        with self._lock:
            self._begin()

    def call(self, method: str, *arguments: Any) -> Any:
        """What the easel's `method` gives.

        Raises:
            InklineError: as the method.
            StaleError: `drop` was called meanwhile.
            WorkError: the process came to an end, twice, or takes too long.
        """
        with self._lock:
            for _ in range(2):
                if self._is_over:
                    break
                with contextlib.suppress(EOFError, OSError):
                    return self._asked(method, arguments)
                self._end()
        raise WorkError("the process that draws came to an end; the recipe is as it was")

    @property
    def pid(self) -> int | None:
        """The process, while there is one."""
        process = self._process
        return None if process is None else process.pid

    def drop(self) -> None:
        """Let go of the picture that is being drawn, if there is one."""
        pid, current, seen = self.pid, self._current, self._seen
        if _LETS_GO is not None and pid is not None and current and seen is not None:
            seen[_STALE] = current
            if seen[_READY]:
                with contextlib.suppress(OSError):
                    os.kill(pid, _LETS_GO)

    def stop(self) -> None:
        """End the process, whatever it does; nothing is drawn any more."""
        self._is_over = True
        process = self._process
        if process is not None:
            process.kill()
            process.join()

    def _asked(self, method: str, arguments: tuple[Any, ...]) -> Any:
        pipe = self._begin()
        self._n_calls += 1
        pipe.send((self._n_calls, method, arguments))
        self._current = self._n_calls
        try:
            if not pipe.poll(_LONGEST_S):
                self._end()
                raise WorkError(f"this took longer than {_LONGEST_S:g} s and was given up")
            answer = pipe.recv()
        finally:
            self._current = 0
        if isinstance(answer, Exception):
            raise answer
        return answer

    def _begin(self) -> Connection:
        if self._pipe is not None and self._process is not None and self._process.is_alive():
            return self._pipe
        way = _way_to_start()
        context: Any = multiprocessing.get_context(way)
        here, there = multiprocessing.Pipe()
        self._seen = context.Array("Q", 2, lock=False)
        other_end = here if way == _COPY else None
        self._process = context.Process(
            target=_draw_for, args=(there, self._nice, self._seen, other_end), daemon=True
        )
        self._process.start()
        there.close()
        self._pipe = here
        return here

    def _end(self) -> None:
        process, pipe = self._process, self._pipe
        self._process = self._pipe = None
        if process is not None:
            process.kill()
            process.join()
        if pipe is not None:
            pipe.close()


def _way_to_start() -> str:
    """How a process is begun: as a copy with all modules loaded, where that is safe.

    Only Linux's own libraries bear it, and only before this process has several threads; an easel
    that is begun anew loads its modules again.
    """
    return _COPY if sys.platform == "linux" and threading.active_count() == 1 else "spawn"


def _draw_for(pipe: Connection, nice: int, seen: Any, other_end: Connection | None) -> None:
    """Answer what comes through `pipe` until it is closed.

    A copy has the pipe's other end too, and lets it go: else it would wait for itself for ever.
    """
    if other_end is not None:
        other_end.close()
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the page's own process ends this one
    if nice and sys.platform != "win32":
        os.nice(nice)
    easel, now = Easel(), 0

    def let_go(*_: object) -> None:
        if easel.is_drawing and seen[_STALE] == now:
            raise StaleError("nobody waits for this picture any more")

    if _LETS_GO is not None:
        signal.signal(_LETS_GO, let_go)
        seen[_READY] = 1
    with contextlib.suppress(EOFError, OSError):
        while True:
            now, method, arguments = pipe.recv()
            try:
                answer = getattr(easel, method)(*arguments)
            except InklineError as error:
                answer = error
            except (ArithmeticError, LookupError, TypeError, ValueError) as error:
                answer = WorkError(f"this could not be drawn: {error}")
            pipe.send(answer)
