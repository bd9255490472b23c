"""Work on files that the page sends, in a process of its own with little time and memory.

A file that somebody made to do harm can then end no more than that process.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import sys
from collections.abc import Callable
from multiprocessing.connection import Connection
from typing import Any, TypeVar, cast

from inkline.errors import InklineError, InputError

if sys.platform != "win32":
    import resource

_Answer = TypeVar("_Answer")
_MOST_S = 30.0
_MOST_BYTES = 3_000_000_000
"""Addresses, not memory: libraries of numbers ask for far more of these than they use."""


def limited(
    function: Callable[..., _Answer],
    *arguments: Any,
    seconds: float = _MOST_S,
    most_bytes: int = _MOST_BYTES,
) -> _Answer:
    """What `function` of a module gives for `arguments`, worked out in a process of its own.

    Windows has no limit of memory for one process that Python could set; there only time is
    limited.

    Args:
        function: a function of a module; its arguments and what it gives can be pickled.
        arguments: what it is called with.
        seconds: how long it may take.
        most_bytes: how much address space it may take.

    Raises:
        InklineError: as the function.
        InputError: it takes longer or more, or fails in another way.
    """
    context = multiprocessing.get_context("spawn")
    here, there = context.Pipe(duplex=False)
    process = context.Process(
        target=_work, args=(there, function, arguments, seconds, most_bytes), daemon=True
    )
    process.start()
    there.close()
    try:
        if not here.poll(seconds):
            raise InputError(f"reading this took longer than {seconds:g} s and was given up")
        with contextlib.suppress(EOFError, OSError):
            answer = here.recv()
            if isinstance(answer, InklineError):
                raise answer
            return cast("_Answer", answer)
    finally:
        process.kill()
        process.join()
        here.close()
    raise InputError("this can't be read; it asks for more memory or time than a good file does")


def _work(
    pipe: Connection,
    function: Callable[..., Any],
    arguments: tuple[Any, ...],
    seconds: float,
    most_bytes: int,
) -> None:
    if sys.platform != "win32":
        resource.setrlimit(resource.RLIMIT_AS, (most_bytes, most_bytes))
        resource.setrlimit(resource.RLIMIT_CPU, (round(seconds) + 1, round(seconds) + 2))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    try:
        pipe.send(function(*arguments))
    except InklineError as error:
        pipe.send(error)
    except (ArithmeticError, LookupError, MemoryError, TypeError, ValueError, OSError):
        pipe.close()
