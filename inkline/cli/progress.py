"""Showing how far a run is and how long it still takes, by what it has taken so far.

On a terminal that is one line, drawn again and again; elsewhere a few plain lines, or nothing.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager

import click

from inkline.cli.sentences import time_in_words
from inkline.progress import Listener, Step

_LABEL = "Drawing"
_LEAST_SHARE = 0.05
"""Of the work, from which the rest is told: the first picture waits for all that is imported."""
_SHORT_S = 3.0
"""A rest of so many seconds is over before it is read."""
_FEW, _LINES = 6, 4


@contextmanager
def build_progress() -> Iterator[Listener]:
    """A listener that shows a bar with names and times left, or writes a few lines elsewhere."""
    if not sys.stdout.isatty():
        yield FewLines()
        return
    from rich.progress import (  # noqa: PLC0415 - slow to import, and of no use without a terminal
        BarColumn,
        Progress,
        TextColumn,
    )

    columns = (
        TextColumn(_LABEL),
        BarColumn(),
        TextColumn("{task.description}"),
    )
    with Progress(*columns, transient=True) as progress:
        task, pace = progress.add_task("", total=None), Pace()
        yield lambda step: progress.update(
            task, total=1.0, completed=step.share, description=_line_of_step(step, pace.left(step))
        )


class FirstWords:
    """Says lines once: before the first step of a run is heard, or when asked if none was."""

    def __init__(self, lines: Callable[[], Iterable[str]]) -> None:
        self._lines = lines
        self._are_said = False

    def before(self, listener: Listener) -> Listener:
        """`listener`, with the lines said before it hears its first step."""

        def hear(step: Step) -> None:
            self.say()
            listener(step)

        return hear

    def say(self) -> None:
        """Say the lines, unless they have been said."""
        if not self._are_said:
            self._are_said = True
            for line in self._lines():
                click.echo(line)


class Pace:
    """How long a run still takes, from the share of its work that is done and the time it took.

    Of several runs, one after another, each is measured from the end of the one before.
    """

    def __init__(self) -> None:
        """Begin to measure."""
        self._start = self._last = time.monotonic()
        self._done = 0

    def left(self, step: Step) -> float | None:
        """Seconds till the end of the run; None as long as too little is done to tell."""
        if step.done <= self._done:
            self._start = self._last
        self._done, self._last = step.done, time.monotonic()
        if step.share < _LEAST_SHARE:
            return None
        return (self._last - self._start) * (1.0 / step.share - 1.0)


class FewLines:
    """Writes a line for a step now and then: the first, the last, and at each quarter of the work.

    Where there are few steps, each has one.
    """

    def __init__(self) -> None:
        """Begin to measure."""
        self._pace, self._quarters = Pace(), -1

    def __call__(self, step: Step) -> None:
        """Write a line if one is due."""
        quarters = int(_LINES * step.share)
        is_last = step.done == step.total
        if step.total > _FEW and quarters == self._quarters and not is_last:
            return
        self._quarters = quarters
        click.echo(_line_of_step(step, self._pace.left(step)))


def _line_of_step(step: Step, seconds: float | None) -> str:
    """What is done, of how much, what it was, and how long the rest takes, if that is worth it."""
    line = f"{step.done} of {step.total}  {step.name}"
    if seconds is None or seconds < _SHORT_S:
        return line
    return f"{line}, {time_in_words(seconds)} to go"
